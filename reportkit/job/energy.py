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
from reportkit.units import UNITS_KWH

Hour = Annotated[Whole, Field(ge=0, le=24)]
Month = Annotated[Whole, Field(ge=1, le=12)]


def _span(hours: tuple[int, int]) -> tuple[int, int]:
    """Refuse hours that are none, or begin when the day is over."""
    if hours[0] == 24 or hours[0] == hours[1]:
        rule = "must be a span of the clock, from a first hour of 0 to 23 to another"
        raise broken(rule, found=f"{hours[0]}, {hours[1]}", mend="the whole day is 0, 24; a night is 22, 6")
    return hours


#: From one full hour to another, past midnight where the second is the smaller one.
Hours = Annotated[tuple[Hour, Hour], AfterValidator(_span)]


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

    @property
    def has_roof(self) -> bool:
        """Whether the room loses heat through a roof: one is named, or its U given."""
        return self.roof != "none" or self.roof_u_w_m2k is not None


class TierSpec(Record):
    """A rate for the kWh of a month up to a limit; the last tier has none."""

    rate: Money
    up_to_kwh: Annotated[Amount, Field(ge=0.1, le=1e9)] | None = None


def _rising(tiers: tuple[TierSpec, ...]) -> None:
    """Refuse tiers that do not rise to one without a limit."""
    limits = [tier.up_to_kwh for tier in tiers]
    for number, limit in enumerate(limits):
        last = number == len(limits) - 1
        if last and limit is not None:
            mend = "add a tier without up_to_kwh for what is used beyond"
            raise broken("must be left out in the last tier", "tiers", number, "up_to_kwh", mend=mend)
        if not last and (limit is None or (number and limit <= (limits[number - 1] or 0))):
            rule = (
                "must be over that of the tier above it"
                if limit is not None
                else "must be given but in the last tier"
            )
            raise broken(
                rule, "tiers", number, "up_to_kwh", mend="tiers rise, and only the last has no limit"
            )


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
        _rising(self.tiers)
        return self

    def slots(self) -> set[tuple[int, int, bool]]:
        """Return what this holds in: months, hours of the day, and whether it is a weekend."""
        first, last = self.hours or (0, 24)
        hours = range(first, last) if first < last else (*range(first, 24), *range(last))
        ends = {"all": (False, True), "workdays": (False,), "weekends": (True,)}[self.weekdays]
        return {(month, hour, end) for month in self.months or range(1, 13) for hour in hours for end in ends}


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
        _rising(self.tiers)
        if self.periods:
            always = {
                (month, hour, end) for month in range(1, 13) for hour in range(24) for end in (False, True)
            }
            left = sorted(always - set().union(*(period.slots() for period in self.periods)))
            if left:
                month, hour, end = left[0]
                found = f"none for month {month}, {hour}:00, {'weekends' if end else 'workdays'}"
                mend = "add a last period without months, hours and weekdays for all the rest"
                raise broken("must have a rate for every hour of the year", "periods", found=found, mend=mend)
        return self


class FuelSpec(Record):
    """A fuel that heats: its price per unit and the heat in a unit."""

    id: Id
    rate: Money
    unit: Text = "kWh"
    kwh_per_unit: Annotated[Amount, Field(ge=0.1, le=1e5)] | None = None  # a megajoule is 0.278 kWh
    kg_co2_per_kwh: Annotated[Number, Field(ge=0, le=3)] | None = None

    @model_validator(mode="after")
    def _heat_known(self) -> FuelSpec:
        if self.kwh_per_unit is None and self.unit not in UNITS_KWH:
            rule = f"must be given where the unit is none of {', '.join(UNITS_KWH)}"
            raise broken(rule, "kwh_per_unit", mend="the kWh of heat in a unit, from the supplier")
        return self


#: By how much energy gets dearer a year. Beyond half as much again every year for decades money ends.
Growth = Annotated[Number, Field(ge=-20, le=50)]


class Energy(Record):
    """Prices of energy and how they are looked at over the years."""

    electricity: Electricity | None = None
    fuels: tuple[FuelSpec, ...] = ()
    growth_percent: tuple[Growth, Growth, Growth] = (0.0, 1.0, 3.0)
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
