"""Where the windows are, the way they look, and what stands before the sky."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field, model_validator

from reportkit.job.model.about import about
from reportkit.job.model.typed import Amount, Bearing, Id, Number, Record, Text, Whole, broken


class Site(Record):
    """Where the windows are."""

    place: Annotated[Text, about("name of the place, for the reader", "Invented Bay")] = ""
    latitude: Annotated[
        Annotated[Number, Field(ge=-90, le=90)] | None, about("degrees north, negative in the south", "51.5")
    ] = None
    longitude: Annotated[
        Annotated[Number, Field(ge=-180, le=180)] | None, about("degrees east, negative in the west", "-0.12")
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


class Horizon(Record):
    """What stands before the sky: corner points of a skyline, seen from the windows."""

    id: Annotated[Id, about("short name used in faces or the survey", "hill")]
    points: Annotated[
        tuple[tuple[Bearing, Annotated[Number, Field(ge=0, le=90)]], ...],
        Field(min_length=1),
        about("corner points of the skyline: bearing and height, in degrees", "[[90, 12], [130, 20]]"),
    ]
    leafless_months: Annotated[
        tuple[Annotated[Whole, Field(ge=1, le=12)], ...],
        about("months (1 to 12) in which the trees are bare", "[12, 1, 2]"),
    ] = ()
    leafless_transmittance: Annotated[
        Number, Field(ge=0, le=1), about("share of sun that bare branches let through", "0.6")
    ] = 0.6

    @model_validator(mode="after")
    def _two_heights_at_most(self) -> Horizon:
        turns = [bearing for bearing, _ in self.points]
        thrice = next((bearing for bearing in turns if turns.count(bearing) > 2), None)
        if thrice is not None:
            hint = "two heights at one bearing are an upright edge"
            raise broken(
                "must have at most two heights at one bearing", "points", found=f"{thrice:g}", hint=hint
            )
        return self


class Face(Record):
    """One side of the building that holds panes."""

    id: Annotated[Id, about("short name used in the survey", "south")]
    name: Annotated[Text, about("name for the reader", "Garden side")] = ""
    bearing: Annotated[
        Bearing, about("the way it looks, degrees clockwise from true north (east 90, south 180)", "180")
    ]
    tilt: Annotated[Number, Field(ge=0, le=180), about("90 upright, 0 flat like a roof light", "90")] = 90.0
    horizon: Annotated[Id | None, about("the skyline before this face", "hill")] = None
