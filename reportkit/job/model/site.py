"""Where the windows are, the way they look, and what stands before the sky."""

from __future__ import annotations

import math
import re
from typing import Annotated, Any, Literal

from pydantic import AfterValidator, BeforeValidator, Field, model_validator

from reportkit.base.translatable import translatable
from reportkit.job.model.about import about
from reportkit.job.model.typed import (
    Amount,
    Bearing,
    Clock,
    Day,
    Id,
    Length,
    Month,
    Number,
    Record,
    Text,
    between,
    broken,
    plain_number,
)


def plain_degrees(value: Any) -> Any:
    """Return the text of a degree, or refuse one whose letters tell no sign."""
    if isinstance(value, str) and re.search(r"\d", value) and re.search(r"[^\W\d_]", value):
        raise broken(
            translatable("must be degrees with a sign, or with N or S (latitude), E or W (longitude)"),
            hint=translatable("such as 33.9 S or -33.9, 84.31 W or -84.31"),
        )
    return plain_number(value)


_Degrees = Annotated[float, BeforeValidator(plain_degrees), Field(allow_inf_nan=False)]
Latitude = Annotated[_Degrees, Field(ge=-90, le=90)]
Longitude = Annotated[_Degrees, Field(ge=-180, le=180)]


class Site(Record):
    """Where the windows are."""

    place: Annotated[Text, about("name of the place, for the reader", "Invented Bay")] = ""
    latitude: Annotated[
        Latitude | None, about("degrees north, negative in the south, or with N or S", "51.5")
    ] = None
    longitude: Annotated[
        Longitude | None, about("degrees east, negative in the west, or with E or W", "-0.12")
    ] = None
    elevation_m: Annotated[
        Annotated[Amount, Field(ge=-430, le=6000)] | None,
        about("height above the sea; left out: from a coarse map", "20"),
    ] = None
    clock: Annotated[
        str | None, about("IANA zone of the local time; left out: from the coordinates", "Europe/Lisbon")
    ] = None
    ground_albedo: Annotated[
        Number, Field(ge=0, le=0.9), about("share of sunlight the ground throws back", "0.2")
    ] = 0.2


class Tree(Record):
    """A tree or hedge before the windows: a crown without gaps, taken to reach down to the level.

    One of which any of the four is not known is told, and shades nothing.
    """

    bearing: Annotated[
        Bearing | None, about("where it stands, seen from the windows, clockwise from true north", "250")
    ] = None
    distance: Annotated[
        Annotated[Length, AfterValidator(between(500, 500_000))] | None,
        about("from the windows to its middle", "8 m"),
    ] = None
    above: Annotated[
        Annotated[Length, AfterValidator(between(100, 100_000))] | None,
        about("how far its top stands above the middle of the panes", "6 m"),
    ] = None
    width: Annotated[
        Annotated[Length, AfterValidator(between(100, 500_000))] | None, about("how wide it is", "5 m")
    ] = None
    leafless_months: Annotated[
        tuple[Month, ...], about("months (1 to 12) in which it is bare; left out: evergreen", "[12, 1, 2]")
    ] = ()

    @property
    def outline(self) -> tuple[tuple[float, float], ...]:
        """Its corners against the sky, as wide as its middle is seen: bearing, height [deg]; empty if untold."""
        if self.bearing is None or self.distance is None or self.above is None or self.width is None:
            return ()
        half = math.degrees(math.atan(self.width / 2 / self.distance))
        height = math.degrees(math.atan(self.above / self.distance))
        left, right = self.bearing - half, self.bearing + half
        return (left, 0.0), (left, height), (right, height), (right, 0.0)


class Horizon(Record):
    """What stands before the sky, seen from the windows: corner points of a skyline, trees, or both."""

    id: Annotated[Id, about("short name used in faces or the survey", "hill")]
    points: Annotated[
        tuple[tuple[Bearing, Annotated[Number, Field(ge=0, le=90)]], ...],
        about(
            "corner points of the skyline: bearing and height, in degrees; left out where only trees stand there",
            "[[90, 12], [130, 20]]",
        ),
    ] = ()
    trees: Annotated[
        tuple[Tree, ...],
        Field(max_length=20),
        about(
            "trees and hedges, each by where it stands and how large it is; one of which bearing, distance, above or width is not known is not counted",
            "- bearing: 250",
        ),
    ] = ()
    leafless_months: Annotated[
        tuple[Month, ...],
        about("months (1 to 12) in which the trees along the points are bare", "[12, 1, 2]"),
    ] = ()
    leafless_transmittance: Annotated[
        Number, Field(ge=0, le=1), about("share of sun that bare branches let through", "0.6")
    ] = 0.6

    @model_validator(mode="after")
    def _two_heights_at_most(self) -> Horizon:
        if not self.points and not self.trees:
            raise broken(translatable("must be given where no trees are"), "points")
        turns = [bearing for bearing, _ in self.points]
        thrice = next((bearing for bearing in turns if turns.count(bearing) > 2), None)
        if thrice is not None:
            hint = translatable("two heights at one bearing are an upright edge")
            raise broken(
                translatable("must have at most two heights at one bearing"),
                "points",
                found=f"{thrice:g}",
                hint=hint,
            )
        return self


class Street(Record):
    """Two points of a map along a wall, or along a street that it follows, and the side it looks to."""

    points: Annotated[
        tuple[tuple[Latitude, Longitude], ...],
        Field(min_length=2, max_length=2),
        about(
            "two points of a map along the wall or its street, each north and east in degrees; also 51.50110, -0.12310; 51.50180, -0.12290",
            "[[51.50110, -0.12310], [51.50180, -0.12290]]",
        ),
    ]
    side: Annotated[
        Literal["left", "right"],
        about("the side the face looks to, as one walks from the first point to the second", "left"),
    ]


class Grazing(Record):
    """When the sun lay along the wall: it just came on it, or just went off it."""

    date: Annotated[Day, about("the day the sun was watched", "2026-06-02")]
    time: Annotated[Clock, about("clock time at which the sun lay along the wall", "14:20")]
    sun: Annotated[
        Literal["comes", "goes"],
        about("comes where it then shone on the face, goes where it left it", "comes"),
    ]


class Compass(Record):
    """What a magnetic compass showed, held against the way the face looks."""

    reading: Annotated[Bearing, about("what the compass showed, away from cars and steel", "172")]
    date: Annotated[
        Day | None,
        about("the day it was read; left out: the day of the survey, else of the job", "2026-02-20"),
    ] = None


class Face(Record):
    """One side of the building that holds panes."""

    id: Annotated[Id, about("short name used in the survey", "south")]
    name: Annotated[Text, about("name for the reader", "Garden side")] = ""
    bearing: Annotated[
        Bearing,
        about(
            "the way it looks, degrees clockwise from true north (east 90, south 180); or street, grazing or compass",
            "180",
        ),
    ] = 0.0
    street: Annotated[
        Street | None, about("the bearing from two points of a map along the wall", "side: left")
    ] = None
    grazing: Annotated[
        Grazing | None, about("the bearing from when the sun came on the wall, or went off it", "time: 14:20")
    ] = None
    compass: Annotated[
        Compass | None,
        about("the bearing from a magnetic compass; its declination is computed", "reading: 172"),
    ] = None
    tilt: Annotated[Number, Field(ge=0, le=180), about("90 upright, 0 flat like a roof light", "90")] = 90.0
    horizon: Annotated[Id | None, about("the skyline before this face", "hill")] = None

    @model_validator(mode="after")
    def _has_a_bearing(self) -> Face:
        if "bearing" not in self.model_fields_set and not (self.street or self.grazing or self.compass):
            hint = translatable("such as 180; or tell it by street, grazing or compass (jobs/README.md)")
            raise broken(translatable("must be given"), "bearing", hint=hint)
        return self
