"""What films are, as catalogues and spec sheets describe them, and how they are sold.

They stand in ``job.yaml`` or, for many jobs, in ``_shared``. Percentages stay percentages here.
"""

from __future__ import annotations

from decimal import Decimal
from typing import Annotated, Literal

from pydantic import AfterValidator, Field, model_validator

from reportkit.base.translatable import translatable
from reportkit.job.model.about import about
from reportkit.job.model.glazings import GlassKind
from reportkit.job.model.quantities import Area
from reportkit.job.model.spectra import FilmSpectrum
from reportkit.job.model.typed import (
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

#: No film for glass is thicker [um] (common practice, no source).
THICKEST_UM = 500.0

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

    on_thickness_mm: Annotated[
        Number, Field(ge=1.5, le=12), about("the clear glass the sheet's numbers were measured on", "3")
    ] = 3.0
    on_glass: Annotated[GlassKind, about("color of that glass", "clear")] = "clear"
    on_solar_transmittance_percent: Annotated[
        Annotated[Number, Field(ge=5, le=91.7)] | None,
        about("share of the sun's energy that this bare glass passes, where the sheet tells it", "86"),
    ] = None
    conditions: Annotated[Literal["nfrc", "en"], about("the conditions of its shgc: nfrc or en", "nfrc")] = (
        "nfrc"
    )
    solar_transmittance_percent: Annotated[
        Percent | None, about("share of the sun's energy that passes", "35")
    ] = None
    solar_reflectance_glass_side_percent: Annotated[
        Percent | None, about("share sent back, light on the glass", "12")
    ] = None
    solar_reflectance_film_side_percent: Annotated[
        Percent | None, about("share sent back, light on the film; often not printed", "11")
    ] = None
    visible_transmittance_percent: Annotated[Percent, about("share of daylight that passes", "42")]
    visible_reflectance_glass_side_percent: Annotated[
        Percent | None, about("daylight sent back, light on the glass", "9")
    ] = None
    visible_reflectance_film_side_percent: Annotated[
        Percent | None, about("daylight sent back, light on the film", "9")
    ] = None
    uv_transmittance_percent: Annotated[Percent | None, about("share of ultraviolet that passes", "1")] = None
    shgc: Annotated[
        Annotated[Number, Field(ge=0, le=1)] | None,
        about("solar heat gain coefficient as the sheet prints it", "0.49"),
    ] = None
    tser_percent: Annotated[
        Percent | None, about("total solar energy rejected as the sheet prints it", "51")
    ] = None
    emissivity: Annotated[
        Number,
        Field(ge=0.02, le=0.98),
        about("of the film's own face; 0.9 unless it is a low-emissivity film", "0.9"),
    ] = 0.9


class Claims(Record):
    """What a sheet or a seller says beyond the rated values; it is checked, not computed with."""

    solar_absorptance_percent: Annotated[
        Percent | None, about("share absorbed, as the sheet prints it", "57")
    ] = None
    shading_coefficient: Annotated[
        Annotated[Number, Field(ge=0, le=1.2)] | None, about("as the sheet prints it", "0.60")
    ] = None
    light_to_solar_gain: Annotated[
        Annotated[Number, Field(ge=0, le=5)] | None, about("as the sheet prints it", "0.77")
    ] = None
    tser_sun_angle_deg: Annotated[
        Number,
        Field(ge=0, lt=90),
        about("angle of the sun at which the sheet quotes tser_percent; 0 is straight on", "0"),
    ] = 0.0
    infrared_rejected_percent: Annotated[
        Percent | None, about('"infrared rejected", as the sheet or the seller says', "90")
    ] = None
    infrared_band_nm: Annotated[
        tuple[Annotated[Amount, Field(ge=300, le=2500)], Annotated[Amount, Field(ge=300, le=2500)]],
        about("wavelengths that number is for", "[900, 1000]"),
    ] = (780.0, 2500.0)
    fading_reduced_percent: Annotated[
        Percent | None, about("fading prevented, as the sheet or the seller says", "40")
    ] = None

    @model_validator(mode="after")
    def _rising(self) -> Claims:
        if self.infrared_band_nm[0] >= self.infrared_band_nm[1]:
            raise broken(translatable("must go from a shorter to a longer wavelength"), "infrared_band_nm")
        return self


class Chart(Record):
    """The film maker's glass-compatibility chart as far as typed; what is left out is asked about."""

    max_area: Annotated[
        Annotated[Area, Field(gt=0, le=50)] | None,
        about("largest pane the film maker's chart allows", "2.5 m2"),
    ] = None
    max_side: Annotated[
        Annotated[Length, AfterValidator(between(100, 10_000))] | None,
        about("longest side it allows", "2400 mm"),
    ] = None
    max_thickness_mm: Annotated[
        Annotated[Number, Field(gt=0, le=50)] | None, about("thickest glass it allows", "6")
    ] = None
    max_altitude_m: Annotated[
        Annotated[Amount, Field(ge=0, le=6000)] | None, about("highest place above the sea it allows", "1500")
    ] = None
    max_age_years: Annotated[
        Annotated[Number, Field(ge=0, le=200)] | None, about("oldest unit it allows", "15")
    ] = None
    max_slope_deg: Annotated[
        Annotated[Number, Field(ge=0, le=90)] | None, about("largest slope from the vertical it allows", "15")
    ] = None
    max_absorptance_percent: Annotated[
        Percent | None, about("most sun that glass and film together may absorb", "60")
    ] = None
    tinted: Annotated[bool | None, about("yes if the chart allows tinted glass", "no")] = None
    laminated: Annotated[bool | None, about("yes if the chart allows laminated glass", "yes")] = None
    wired: Annotated[
        bool | None,
        about(
            "yes if the chart allows wired glass; an absorbing film inside is refused there all the same",
            "no",
        ),
    ] = None
    patterned: Annotated[
        bool | None, about("yes if the chart allows the flat face of patterned glass", "no")
    ] = None
    three_panes: Annotated[bool | None, about("yes if the chart allows units of three sheets", "no")] = None
    fogged: Annotated[bool | None, about("yes if the chart allows fogged units", "no")] = None
    plastic: Annotated[
        bool | None,
        about(
            "yes if the film is stated for panes of acrylic or polycarbonate; else it is refused there", "no"
        ),
    ] = None
    shadows: Annotated[bool | None, about("yes if the chart allows narrow or moving shadows", "no")] = None
    heaters: Annotated[
        bool | None, about("yes if the chart allows a heater or blown air close to the glass", "no")
    ] = None
    dark_frames: Annotated[bool | None, about("yes if the chart allows dark frames", "yes")] = None


class RollOffer(Record):
    """One way a film can be had: a whole roll or a pack of them, by length from a roll, or off the shelf.

    ``price`` is that of a whole roll, or of a pack of ``pack`` rolls. Without a price the entry stands for
    the rolls on the shelf alone.
    """

    width: Annotated[Length, AfterValidator(between(100, 3_500)), about("width of the roll", "1524 mm")]
    length: Annotated[
        Annotated[Length, AfterValidator(between(500, 500_000))] | None,
        about(
            "length of a whole roll; with price_per_m, the longest that can be had, in whole steps", "30.5 m"
        ),
    ] = None
    pack: Annotated[
        Whole,
        Field(ge=1, le=100),
        about(
            "whole rolls in a pack, where they are sold in packs only; price is then that of the pack", "3"
        ),
    ] = 1
    price: Annotated[
        Money | None,
        about(
            "price of the whole roll, or of the pack; left out for rolls that are only on the shelf", "480.00"
        ),
    ] = None
    price_per_m: Annotated[Money | None, about("price of one metre from the roll", "19.50")] = None
    price_per_ft: Annotated[Money | None, about("price of one foot from the roll", "6.20")] = None
    step: Annotated[
        Annotated[Length, AfterValidator(between(1, 100_000))] | None,
        about("the step in which lengths are sold", "1 m"),
    ] = None
    in_stock: Annotated[
        Whole,
        Field(ge=0, le=1000),
        about("rolls, or off-cuts of that width and length, on the shelf and already paid for", "1"),
    ] = 0
    stock_paid: Annotated[
        Money, about("what one of those on the shelf cost: it is charged by the length used", "120")
    ] = Decimal(0)

    @model_validator(mode="after")
    def _one_price(self) -> RollOffer:
        prices = [self.price, self.price_per_m, self.price_per_ft]
        count = sum(price is not None for price in prices)
        if count > 1 or (count == 0 and not self.in_stock):
            raise broken(
                translatable("must be one of price, price_per_m and price_per_ft, and only one"),
                "price",
                found=translatable("{count} of them", count=count),
                hint=None
                if count
                else translatable("rolls that are only on the shelf need none: give in_stock"),
            )
        if count == 0 and self.length is None:
            raise broken(translatable("must be given for rolls on the shelf"), "length")
        if self.price is not None and self.length is None:
            raise broken(translatable("must be given when the roll is sold whole at a price"), "length")
        if self.stock_paid and not (self.in_stock and self.length):
            hint = translatable("give in_stock and the length of a roll on the shelf")
            raise broken(
                translatable("must be left out where no roll is on the shelf"), "stock_paid", hint=hint
            )
        if self.pack > 1 and self.price is None:
            hint = translatable("give the price of a pack as price, or remove pack")
            raise broken(
                translatable("must be left out where rolls are not sold whole at a price"), "pack", hint=hint
            )
        return self


class FilmSpec(Record):
    """One film: its sheet, how it is sold, and which way it may lie."""

    id: Annotated[Id, about("short name used in compare and choice", "grey-40")]
    name: Annotated[Text, about("name for the reader", "Grey ceramic 40")] = ""
    film_class: Annotated[
        FilmClass | None,
        about(
            "dyed, metallised_reflective, dual_reflective, sputtered, ceramic, spectrally_selective, low_emissivity, exterior, clear_uv, frosted or safety; left out: not known, it may hold metal",
            "ceramic",
        ),
    ] = None
    invented: Annotated[bool, about("yes for a made-up film", "no")] = False
    side: Annotated[
        Literal["inside", "outside", "either"],
        about("inside, outside, or either: then both are compared, the outside as ID-outside", "inside"),
    ] = "inside"
    thickness_um: Annotated[
        Annotated[Number, Field(ge=10, le=THICKEST_UM)] | None,
        about(
            "thickness in micrometres (1 mil is 25.4); left out: not known, worked with as safety film", "50"
        ),
    ] = None
    tint: Annotated[
        Literal["neutral", "grey", "bronze", "silver", "blue", "green", "gold"],
        about("color seen through it", "grey"),
    ] = "neutral"
    spec: Annotated[
        Text,
        about(
            "its sheet's numbers pasted as printed, in place of rated and thickness_um or beside them; check says what was read",
            "VLT 42 %; VLR ext 9; TSET 35; SHGC 0.49",
        ),
    ] = ""
    rated: Annotated[RatedValues, about("the numbers on its sheet", "solar_transmittance_percent: 35")]
    spectrum: Annotated[
        FilmSpectrum | None,
        about("the film measured by wavelength; it is computed with in place of rated", "file: grey-40.csv"),
    ] = None
    claims: Annotated[
        Claims,
        about(
            "what the sheet or the seller says beyond the rated numbers; it is checked",
            "infrared_rejected_percent: 90",
        ),
    ] = Claims()
    chart: Annotated[
        Chart,
        about(
            "limits typed from the film maker's chart; what is left out is asked about", "max_area: 2.5 m2"
        ),
    ] = Chart()
    turn: Annotated[bool, about("no where it may only lie one way on the roll", "yes")] = True
    rolls: Annotated[
        tuple[RollOffer, ...], Field(min_length=1), about("how it can be bought", "- width: 1524 mm")
    ]
    life_years: Annotated[Number, Field(ge=1, le=40), about("how long it is expected to last", "12")] = 12.0
    priced_on: Annotated[Day | None, about("day the prices were given", "2026-03-01")] = None
    note: Annotated[Text, about("anything worth knowing", "ask the maker about laminated glass")] = ""

    @property
    def worked_um(self) -> float:
        """Thickness it is cut, fitted and dried as [um]: the thickest there is where it is not known."""
        return THICKEST_UM if self.thickness_um is None else self.thickness_um
