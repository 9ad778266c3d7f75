"""What a job may say of its rooms' heat and of what energy costs; all of it optional.

A room without a floor area gets no balance: its temperatures, energies and money are withheld.
"""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from typing import Annotated, Literal

from pydantic import AfterValidator, Field, model_validator

from reportkit.job.quantities import Area, Power, Temperature
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

Hour = Annotated[Whole, Field(ge=0, le=24)]
Month = Annotated[Whole, Field(ge=1, le=12)]
Hours = tuple[Hour, Hour]


class Cooling(Record):
    """A room's cooling unit."""

    set_point: Annotated[Temperature, Field(ge=10, le=35)] = 25.0
    capacity: Annotated[Power, Field(gt=0, le=1e6)] | None = None
    efficiency: Annotated[Number, Field(gt=0.5, le=12)] = 3.0


class Heating(Record):
    """A room's heating and the fuel it burns."""

    set_point: Annotated[Temperature, Field(ge=5, le=28)] = 20.0
    setback: Annotated[Temperature, Field(ge=0, le=28)] | None = None
    setback_hours: Hours = (22, 6)
    capacity: Annotated[Power, Field(gt=0, le=1e6)] | None = None
    fuel: Id = "electricity"
    efficiency: Annotated[Number, Field(gt=0.1, le=12)] = 1.0


class Body(Record):
    """What a room is made of, in plain classes; a person with better numbers types those."""

    floor_area: Annotated[Area, Field(ge=2, le=20_000)]
    ceiling: Annotated[Length, AfterValidator(between(1_800, 20_000))] = Fraction(2500)
    mass: Literal["very_light", "light", "medium", "heavy", "very_heavy"] = "medium"
    walls: Literal["solid_uninsulated", "cavity_uninsulated", "some_insulation", "insulated"] = (
        "cavity_uninsulated"
    )
    wall_u_w_m2k: Annotated[Number, Field(gt=0, le=6)] | None = None
    wall_area: Annotated[Area, Field(ge=0, le=20_000)] | None = None
    roof: Literal["none", "uninsulated", "some_insulation", "insulated"] = "none"
    roof_u_w_m2k: Annotated[Number, Field(gt=0, le=6)] | None = None
    leakage: Literal["tight", "ordinary", "leaky"] = "ordinary"
    air_changes_per_h: Annotated[Number, Field(gt=0, le=20)] | None = None
    use: Literal["home", "office", "shop", "classroom"] = "home"
    occupied_hours: Hours = (7, 23)
    too_hot: Annotated[Temperature, Field(ge=15, le=40)] = 26.0
    cooling: Cooling | None = None
    heating: Heating | None = None


class TierSpec(Record):
    """A rate for the kWh of a month up to a limit; the last tier has none."""

    rate: Money
    up_to_kwh: Annotated[Amount, Field(gt=0)] | None = None


class PeriodSpec(Record):
    """Rates for certain hours. The first period that holds counts."""

    name: Text
    rate: Money | None = None
    tiers: tuple[TierSpec, ...] = ()
    months: tuple[Month, ...] = ()
    hours: Hours | None = None
    weekdays: Literal["all", "workdays", "weekends"] = "all"

    @model_validator(mode="after")
    def _one_way(self) -> PeriodSpec:
        if (self.rate is None) == (not self.tiers):
            raise broken("must have either rate or tiers", "rate")
        return self


class DemandSpec(Record):
    """A charge on the highest power of each month in certain hours."""

    name: Text
    rate_per_kw: Money
    months: tuple[Month, ...] = ()
    hours: Hours | None = None
    weekdays: Literal["all", "workdays", "weekends"] = "all"


class Electricity(Record):
    """What electricity costs: one rate, tiers, or periods."""

    rate: Money | None = None
    tiers: tuple[TierSpec, ...] = ()
    periods: tuple[PeriodSpec, ...] = ()
    demand: tuple[DemandSpec, ...] = ()
    fixed_per_month: Money = Decimal(0)
    kg_co2_per_kwh: Annotated[Number, Field(ge=0, le=3)] | None = None

    @model_validator(mode="after")
    def _one_way(self) -> Electricity:
        if sum((self.rate is not None, bool(self.tiers), bool(self.periods))) != 1:
            raise broken("must have exactly one of rate, tiers and periods", "rate")
        return self


class FuelSpec(Record):
    """A fuel that heats: its price per unit and the heat in a unit."""

    id: Id
    rate: Money
    unit: Text = "kWh"
    kwh_per_unit: Annotated[Amount, Field(gt=0, le=1e5)] | None = None
    kg_co2_per_kwh: Annotated[Number, Field(ge=0, le=3)] | None = None


class Energy(Record):
    """Prices of energy and how they are looked at over the years."""

    electricity: Electricity | None = None
    fuels: tuple[FuelSpec, ...] = ()
    growth_percent: tuple[Number, Number, Number] = (0.0, 1.0, 3.0)
    discount_percent: Percent = 3.0
    years: Annotated[Whole, Field(ge=1, le=40)] | None = None
    removal: Money = Decimal(0)
    priced_on: Day | None = None

    @model_validator(mode="after")
    def _in_order(self) -> Energy:
        if list(self.growth_percent) != sorted(self.growth_percent):
            raise broken("must rise: low, likely, high", "growth_percent")
        return self


class ShadeSpec(Record):
    """A shade to compare film with, at the user's own price for all panes."""

    kind: Literal["outside_screen", "outside_shutter", "inside_white_blind", "inside_grey_blind", "awning"]
    price: Money | None = None
    depth: Annotated[Length, AfterValidator(between(100, 6_000))] | None = None
