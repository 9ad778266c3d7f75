"""What films and glazings are, as catalogues and spec sheets describe them: frozen records.

They stand in ``job.yaml`` or, for many jobs, in ``_shared``. Percentages stay percentages here.
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import AfterValidator, Field, model_validator

from reportkit.job.quantities import Area
from reportkit.job.typed import (
    Amount,
    Day,
    Id,
    Length,
    Money,
    Number,
    Percent,
    Record,
    Text,
    Whole,
    between,
    broken,
)

GlassKind = Literal["clear", "low_iron", "grey", "bronze", "green", "blue"]
Strength = Literal["annealed", "heat_strengthened", "tempered", "laminated", "wired", "patterned"]


class LiteSpec(Record):
    """One sheet of glass in a glazing, outside first."""

    thickness_mm: Annotated[Number, Field(ge=1.5, le=30)]
    glass: GlassKind = "clear"
    strength: Strength = "annealed"
    textured: Literal["front", "back"] | None = None

    @property
    def textured_face(self) -> Literal["front", "back"] | None:
        """The face with a pattern rolled into it, the room's side of patterned glass unless told."""
        return self.textured or ("back" if self.strength == "patterned" else None)

    @model_validator(mode="after")
    def _thick_enough(self) -> LiteSpec:
        if self.strength == "laminated" and self.thickness_mm < 3:
            raise broken(
                "must be at least 3 mm for laminated glass: two sheets and what joins them",
                "thickness_mm",
                found=f"{self.thickness_mm:g}",
                mend="give the thickness of the whole pane",
            )
        return self


class GapSpec(Record):
    """The space between two sheets of a sealed unit."""

    width_mm: Annotated[Number, Field(ge=3, le=40)]
    gas: Literal["air", "argon", "krypton"] = "air"
    fill_percent: Annotated[Number, Field(gt=0, le=100)] = 100.0


class CoatingSpec(Record):
    """A factory coating, on a surface counted from outside."""

    kind: Literal["hard_low_e", "soft_low_e", "solar_control_low_e"]
    surface: Annotated[Whole, Field(ge=1, le=6)]


class GlazingSpec(Record):
    """What fills the opening: one to three sheets, the gaps between, a coating if any."""

    id: Id
    name: Text = ""
    lites: Annotated[tuple[LiteSpec, ...], Field(min_length=1, max_length=3)]
    gaps: tuple[GapSpec, ...] = ()
    coating: CoatingSpec | None = None
    year: Annotated[Whole, Field(ge=1800, le=2200)] | None = None
    note: Text = ""

    @model_validator(mode="after")
    def _fits_together(self) -> GlazingSpec:
        if len(self.gaps) != len(self.lites) - 1:
            raise broken(
                "must have one gap fewer than there are sheets of glass",
                "gaps",
                found=f"{len(self.lites)} sheets, {len(self.gaps)} gaps",
            )
        last = 2 * len(self.lites)
        if self.coating and self.coating.surface > last:
            raise broken(
                f"must be one of 1 to {last}, counted from outside",
                "coating",
                "surface",
                found=str(self.coating.surface),
            )
        if self.coating and self.coating.kind != "hard_low_e" and self.coating.surface in (1, last):
            raise broken(
                "must lie inside a sealed unit: a soft coating does not live on an open face",
                "coating",
                "surface",
                found=str(self.coating.surface),
                mend="only hard_low_e can be on an open face",
            )
        if self.coating:
            sheet, back = divmod(self.coating.surface - 1, 2)
            if self.lites[sheet].textured_face == ("back" if back else "front"):
                raise broken(
                    "must not be a textured face: coatings are put on flat glass",
                    "coating",
                    "surface",
                    found=str(self.coating.surface),
                    mend=f"read the surface again, or correct textured of sheet {sheet + 1}",
                )
        return self


FilmClass = Literal[
    "dyed",
    "metallised_reflective",
    "dual_reflective",
    "sputtered",
    "ceramic",
    "spectrally_selective",
    "low_emissivity",
    "exterior",
    "clear_uv",
    "frosted",
    "safety",
]


class RatedValues(Record):
    """A film's values as its sheet prints them, on the glass it was rated on.

    Reflectances are named by the side light comes from: the glass side, or the film's own side.
    """

    on_thickness_mm: Annotated[Number, Field(ge=1.5, le=12)] = 3.0
    on_glass: GlassKind = "clear"
    conditions: Literal["nfrc", "en"] = "nfrc"
    solar_transmittance_percent: Percent | None = None
    solar_reflectance_glass_side_percent: Percent | None = None
    solar_reflectance_film_side_percent: Percent | None = None
    visible_transmittance_percent: Percent
    visible_reflectance_glass_side_percent: Percent | None = None
    visible_reflectance_film_side_percent: Percent | None = None
    uv_transmittance_percent: Percent | None = None
    shgc: Annotated[Number, Field(ge=0, le=1)] | None = None
    tser_percent: Percent | None = None
    emissivity: Annotated[Number, Field(ge=0.02, le=0.98)] = 0.9


class Claims(Record):
    """What a sheet or a seller says beyond the rated values; it is checked, not computed with."""

    solar_absorptance_percent: Percent | None = None
    shading_coefficient: Annotated[Number, Field(ge=0, le=1.2)] | None = None
    light_to_solar_gain: Annotated[Number, Field(ge=0, le=5)] | None = None
    tser_sun_angle_deg: Annotated[Number, Field(ge=0, lt=90)] = 0.0
    infrared_rejected_percent: Percent | None = None
    infrared_band_nm: tuple[
        Annotated[Amount, Field(ge=300, le=2500)], Annotated[Amount, Field(ge=300, le=2500)]
    ] = (780.0, 2500.0)
    fading_reduced_percent: Percent | None = None

    @model_validator(mode="after")
    def _rising(self) -> Claims:
        if self.infrared_band_nm[0] >= self.infrared_band_nm[1]:
            raise broken("must go from a shorter to a longer wavelength", "infrared_band_nm")
        return self


class Chart(Record):
    """The film maker's glass-compatibility chart as far as typed; what is left out is asked about."""

    max_area: Annotated[Area, Field(gt=0, le=50)] | None = None
    max_side: Annotated[Length, AfterValidator(between(100, 10_000))] | None = None
    max_thickness_mm: Annotated[Number, Field(gt=0, le=50)] | None = None
    max_altitude_m: Annotated[Amount, Field(ge=0, le=6000)] | None = None
    max_age_years: Annotated[Number, Field(ge=0, le=200)] | None = None
    max_slope_deg: Annotated[Number, Field(ge=0, le=90)] | None = None
    max_absorptance_percent: Percent | None = None
    tinted: bool | None = None
    laminated: bool | None = None
    wired: bool | None = None
    patterned: bool | None = None
    three_panes: bool | None = None
    fogged: bool | None = None
    plastic: bool | None = None
    shadows: bool | None = None
    heaters: bool | None = None
    dark_frames: bool | None = None


class RollOffer(Record):
    """One way a film can be had: a whole roll or a pack of them, by length from a roll, or off the shelf.

    ``price`` is that of a whole roll, or of a pack of ``pack`` rolls. Without a price the entry stands for
    the rolls on the shelf alone.
    """

    width: Annotated[Length, AfterValidator(between(100, 3_500))]
    length: Annotated[Length, AfterValidator(between(500, 500_000))] | None = None
    pack: Annotated[Whole, Field(ge=1, le=100)] = 1
    price: Money | None = None
    price_per_m: Money | None = None
    price_per_ft: Money | None = None
    step: Annotated[Length, AfterValidator(between(1, 100_000))] | None = None
    in_stock: Annotated[Whole, Field(ge=0, le=1000)] = 0

    @model_validator(mode="after")
    def _one_price(self) -> RollOffer:
        prices = [self.price, self.price_per_m, self.price_per_ft]
        count = sum(price is not None for price in prices)
        if count > 1 or (count == 0 and not self.in_stock):
            raise broken(
                "must be one of price, price_per_m and price_per_ft, and only one",
                "price",
                found=f"{count} of them",
                mend=None if count else "rolls that are only on the shelf need none: give in_stock",
            )
        if count == 0 and self.length is None:
            raise broken("must be given for rolls on the shelf", "length")
        if self.price is not None and self.length is None:
            raise broken("must be given when the roll is sold whole at a price", "length")
        if self.pack > 1 and self.price is None:
            mend = "give the price of a pack as price, or remove pack"
            raise broken("must be left out where rolls are not sold whole at a price", "pack", mend=mend)
        return self


class FilmSpec(Record):
    """One film: its sheet, how it is sold, and which way it may lie."""

    id: Id
    name: Text = ""
    film_class: FilmClass
    invented: bool = False
    side: Literal["inside", "outside", "either"] = "inside"
    thickness_um: Annotated[Number, Field(ge=10, le=500)]
    tint: Literal["neutral", "grey", "bronze", "silver", "blue", "green", "gold"] = "neutral"
    rated: RatedValues
    claims: Claims = Claims()
    chart: Chart = Chart()
    turn: bool = True
    rolls: Annotated[tuple[RollOffer, ...], Field(min_length=1)]
    life_years: Annotated[Number, Field(ge=1, le=40)] = 12.0
    priced_on: Day | None = None
    note: Text = ""
