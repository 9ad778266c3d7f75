"""The job as read and checked: frozen records, lengths in millimetres, angles in degrees.

What a person may write, field by field, is exactly what these models accept; an unknown key is a
fault. Numbers that a spec sheet prints in percent are typed in percent and become shares of 1 only
in ``reportkit.study``. Reading files is done in ``reportkit.job.reader``, rules that need more than one
record (does this room exist?) in ``reportkit.job.rules``.
"""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from typing import Annotated, Literal

from pydantic import AfterValidator, Field, model_validator

from reportkit.job.approvals import Approval
from reportkit.job.building import Building
from reportkit.job.catalogue import (
    CoatingSpec,
    FilmClass,
    FilmSpec,
    GapSpec,
    GlassKind,
    GlazingSpec,
    LiteSpec,
    RatedValues,
    RollOffer,
    Strength,
)
from reportkit.job.decisions import Choice, Decision
from reportkit.job.energy import Body, Energy, ShadeSpec
from reportkit.job.readings import Reading
from reportkit.job.typed import (
    Across,
    Amount,
    Bearing,
    Clock,
    Day,
    Diagonal,
    Id,
    Length,
    Money,
    NearGlass,
    Number,
    PaneSide,
    Percent,
    Record,
    Text,
    Whole,
    between,
    broken,
)

__all__ = [
    "Approval",
    "Building",
    "Business",
    "Choice",
    "Client",
    "CoatingSpec",
    "Complaint",
    "Decision",
    "Face",
    "FilmClass",
    "FilmSpec",
    "Fitting",
    "GapSpec",
    "GlassKind",
    "GlazingSpec",
    "Horizon",
    "Job",
    "Limits",
    "LiteSpec",
    "Normals",
    "Pane",
    "Prices",
    "Quote",
    "RatedValues",
    "Record",
    "RollOffer",
    "Room",
    "Site",
    "Strength",
    "Survey",
    "Tax",
    "WeatherChoice",
]


class Site(Record):
    """Where the windows are."""

    place: Text = ""
    latitude: Annotated[Number, Field(ge=-90, le=90)] | None = None
    longitude: Annotated[Number, Field(ge=-180, le=180)] | None = None
    elevation_m: Annotated[Amount, Field(ge=-430, le=6000)] | None = None
    clock: str | None = None
    ground_albedo: Annotated[Number, Field(ge=0, le=0.9)] = 0.2


class Normals(Record):
    """Monthly means from any public table, January to December."""

    mean_c: Annotated[
        tuple[Annotated[Number, Field(ge=-75, le=45)], ...], Field(min_length=12, max_length=12)
    ]
    daily_range_k: Annotated[
        tuple[Annotated[Number, Field(ge=0, le=40)], ...], Field(min_length=12, max_length=12)
    ]
    sun_kwh_m2_day: Annotated[
        tuple[Annotated[Number, Field(ge=0, le=12)], ...], Field(min_length=12, max_length=12)
    ]
    source: Text


class WeatherChoice(Record):
    """Which weather the job is computed with."""

    use: Literal["shipped", "file", "pvgis", "normals", "clear_days"] = "clear_days"
    name: str | None = None
    file: str | None = None
    normals: Normals | None = None

    @model_validator(mode="after")
    def _complete(self) -> WeatherChoice:
        if self.use == "shipped" and not self.name:
            raise broken("must be given when use is shipped", "name", mend="such as name: miami")
        if self.use == "normals" and not self.normals:
            raise broken(
                "must be given when use is normals", "normals", mend="twelve months of three numbers"
            )
        if self.use == "file" and not self.file:
            raise broken("must be given when use is file", "file", mend="such as file: weather.epw")
        return self


class Complaint(Record):
    """What troubles the client, in their words and in ours."""

    text: Text
    kinds: Annotated[
        tuple[Literal["heat", "glare", "fading", "privacy", "bills"], ...], Field(min_length=1)
    ] = ("heat",)
    room: Id | None = None

    @model_validator(mode="after")
    def _kinds_once(self) -> Complaint:
        twice = next((kind for kind in self.kinds if self.kinds.count(kind) > 1), None)
        if twice is not None:
            raise broken("must name each kind once", "kinds", found=twice, mend="remove one of the two")
        return self


class Room(Record):
    """One room; ``heat`` is what its yearly balance needs, and without it those numbers are withheld."""

    id: Id
    name: Text = ""
    heat: Body | None = None


class Horizon(Record):
    """What stands before the sky: corner points of a skyline, seen from the windows."""

    id: Id
    points: Annotated[tuple[tuple[Bearing, Annotated[Number, Field(ge=0, le=90)]], ...], Field(min_length=1)]
    leafless_months: tuple[Annotated[Whole, Field(ge=1, le=12)], ...] = ()
    leafless_transmittance: Annotated[Number, Field(ge=0, le=1)] = 0.6

    @model_validator(mode="after")
    def _two_heights_at_most(self) -> Horizon:
        turns = [bearing for bearing, _ in self.points]
        thrice = next((bearing for bearing in turns if turns.count(bearing) > 2), None)
        if thrice is not None:
            mend = "two heights at one bearing are an upright edge"
            raise broken(
                "must have at most two heights at one bearing", "points", found=f"{thrice:g}", mend=mend
            )
        return self


class Face(Record):
    """One side of the building that holds panes."""

    id: Id
    name: Text = ""
    bearing: Bearing
    tilt: Annotated[Number, Field(ge=0, le=180)] = 90.0
    horizon: Id | None = None


class Tax(Record):
    """Sales tax or VAT on the quote."""

    name: Text = "Tax"
    percent: Percent = 0.0
    prices_include_it: bool = False


class Prices(Record):
    """The fitter's own rates. Every amount is in the job's currency."""

    labour_per_hour: Money
    margin_percent: Annotated[Number, Field(ge=0, lt=95)] = 0.0
    margin_on: Literal["price", "cost"] = "cost"
    minimum_charge: Money = Decimal(0)
    travel: Money = Decimal(0)
    soap_per_litre: Money = Decimal(0)
    blade_each: Money = Decimal(0)
    sheet_each: Money = Decimal(0)
    tax: Tax = Tax()
    dated: Day | None = None


class Client(Record):
    """Who the proposal is for."""

    name: Text
    address: tuple[Text, ...] = ()
    contact: Text = ""


class Business(Record):
    """Who the proposal is from."""

    name: Text
    address: tuple[Text, ...] = ()
    contact: Text = ""
    tax_number: Text = ""


class Quote(Record):
    """The paper side of the offer."""

    number: Text
    date: Day
    valid_until: Day | None = None
    deposit_percent: Percent = 0.0
    terms: tuple[Text, ...] = ()

    @model_validator(mode="after")
    def _ends_after_it_starts(self) -> Quote:
        if self.valid_until and self.valid_until < self.date:
            raise broken(f"must not be before date ({self.date})", "valid_until", found=str(self.valid_until))
        return self


class Survey(Record):
    """Who measured the panes, and when."""

    measured_by: Text = ""
    measured_on: Day | None = None


class Limits(Record):
    """What the client will live with, on their own glass."""

    darkest_visible_transmittance_percent: Percent = 0.0
    most_mirrored_visible_reflectance_percent: Percent = 100.0
    must_have: tuple[Literal["uv", "no_metal", "low_glare", "neutral", "inside"], ...] = ()
    budget: Money | None = None


class Fitting(Record):
    """How the film will be cut and fitted."""

    method: Literal["cut_to_size", "trim_on_glass"] = "trim_on_glass"
    edge_gap: Annotated[Length, AfterValidator(between(0, 10))] | None = None
    edge_gap_safety: Annotated[Length, AfterValidator(between(0, 10))] | None = None
    trim_allowance: Annotated[Length, AfterValidator(between(0, 150))] | None = None
    table: Annotated[Length, AfterValidator(between(300, 20_000))] | None = None
    stages: Annotated[Whole, Field(ge=2, le=3)] = 2
    fitter: Literal["trained", "first_timer"] = "trained"
    spare: bool = False
    date: Day | None = None
    start: Clock = "08:00"
    finish: Clock = "17:00"
    keep_offcut: tuple[PaneSide, PaneSide] | None = None

    @model_validator(mode="after")
    def _day_has_hours(self) -> Fitting:
        if self.finish <= self.start:
            raise broken(f"must be later than start ({self.start})", "finish", found=self.finish)
        return self


class Pane(Record):
    """One row of the survey: a pane, or several alike."""

    id: Id
    room: Id
    face: Id
    glazing: Id
    quantity: Annotated[Whole, Field(ge=1, le=500)] = 1
    widths: Annotated[tuple[PaneSide, ...], Field(min_length=1, max_length=3)]
    heights: Annotated[tuple[PaneSide, ...], Field(min_length=1, max_length=3)]
    diagonals: Annotated[tuple[Diagonal, ...], Field(max_length=2)] = ()
    sill: NearGlass | None = None
    overhang: NearGlass = Fraction(0)
    overhang_above: NearGlass = Fraction(0)
    left_fin: NearGlass = Fraction(0)
    left_fin_away: NearGlass = Fraction(0)
    right_fin: NearGlass = Fraction(0)
    right_fin_away: NearGlass = Fraction(0)
    reveal: NearGlass = Fraction(0)
    horizon: Id | None = None
    view_group: str = ""
    seam: Across = ()
    mullion: Across = ()
    frame: Literal["metal", "plastic", "timber", "putty"] = "metal"
    access: Literal["floor", "step_ladder", "tower"] = "floor"
    old_film: bool = False
    escape: bool = False
    collector: bool = False
    edge: Literal["cut", "worked", "damaged"] = "cut"
    shadow: Literal["none", "still", "moving", "narrow"] = "none"
    blind: bool = False
    heater: bool = False
    dark_frame: bool = False
    fogged: bool = False
    plastic: bool = False
    part_covered: bool = False
    film: str | None = None
    photo: Text = ""
    note: Text = ""

    @property
    def width(self) -> Fraction:
        """Smallest width read [mm]: it decides the finished size."""
        return min(self.widths)

    @property
    def height(self) -> Fraction:
        """Smallest height read [mm]."""
        return min(self.heights)

    @property
    def widest(self) -> Fraction:
        """Largest width read [mm]: it decides the blank that is cut."""
        return max(self.widths)

    @property
    def tallest(self) -> Fraction:
        """Largest height read [mm]."""
        return max(self.heights)

    @property
    def out_of_square(self) -> bool:
        """Whether the diagonals differ by more than 6 mm (common practice, no source)."""
        return len(self.diagonals) == 2 and abs(self.diagonals[0] - self.diagonals[1]) > 6


class Job(Record):
    """One job: everything the program may know about it."""

    id: Id
    title: Text = ""
    invented: bool = False
    units: Literal["us", "metric"]
    language: str = "en"
    locale: str | None = None
    currency: Annotated[str, Field(pattern=r"^[A-Z]{3}$")]
    paper: Literal["letter", "a4"] | None = None
    rating: Literal["nfrc", "en"] | None = None
    site: Site = Site()
    weather: WeatherChoice = WeatherChoice()
    complaint: Complaint
    client: Client
    business: Business
    quote: Quote
    survey: Survey = Survey()
    limits: Limits = Limits()
    recommend: Literal["most_relief", "least_heat", "best_value", "most_light", "lowest_price"] = (
        "most_relief"
    )
    building: Building = Building()
    rooms: Annotated[tuple[Room, ...], Field(min_length=1)]
    horizons: tuple[Horizon, ...] = ()
    faces: Annotated[tuple[Face, ...], Field(min_length=1)]
    glazings: Annotated[tuple[GlazingSpec, ...], Field(min_length=1)]
    films: tuple[FilmSpec, ...] = ()
    compare: tuple[str, ...] = ()
    choice: Choice = Choice()
    approvals: tuple[Approval, ...] = ()
    fitting: Fitting = Fitting()
    prices: Prices
    energy: Energy | None = None
    shades: tuple[ShadeSpec, ...] = ()
    panes: Annotated[tuple[Pane, ...], Field(min_length=1)]
    decisions: tuple[Decision, ...] = ()
    readings: tuple[Reading, ...] = ()

    def film_named(self, pane: Pane) -> str | None:
        """Return the film named for a pane, or ``none``; None where nothing is said: the nearest wins."""
        choice = self.choice
        return pane.film or choice.panes.get(pane.id) or choice.faces.get(pane.face) or choice.job
