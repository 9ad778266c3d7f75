"""What energy costs, for electricity by the hour or the month and for other fuels; all of it optional."""

from __future__ import annotations

from decimal import Decimal
from typing import Annotated, Literal

from pydantic import Field, model_validator

from reportkit.base.translatable import translatable
from reportkit.base.units import UNITS_KWH
from reportkit.job.model.about import about
from reportkit.job.model.typed import (
    Amount,
    Day,
    Hours,
    Id,
    Money,
    Month,
    Number,
    Percent,
    Record,
    Text,
    Whole,
    broken,
)


class TierSpec(Record):
    """A rate for the kWh of a month up to a limit; the last tier has none."""

    rate: Annotated[Money, about("price of a kWh in this tier", "0.25")]
    up_to_kwh: Annotated[
        Annotated[Amount, Field(ge=0.1, le=1e9)] | None,
        about("the tier's upper end in a month; the last has none", "300"),
    ] = None


def _rising(tiers: tuple[TierSpec, ...]) -> None:
    """Refuse tiers that do not rise to one without a limit."""
    limits = [tier.up_to_kwh for tier in tiers]
    for number, limit in enumerate(limits):
        last = number == len(limits) - 1
        if last and limit is not None:
            hint = translatable("add a tier without up_to_kwh for what is used beyond")
            raise broken(
                translatable("must be left out in the last tier"), "tiers", number, "up_to_kwh", hint=hint
            )
        if not last and (limit is None or (number and limit <= (limits[number - 1] or 0))):
            rule = (
                translatable("must be over that of the tier above it")
                if limit is not None
                else translatable("must be given but in the last tier")
            )
            raise broken(
                rule,
                "tiers",
                number,
                "up_to_kwh",
                hint=translatable("tiers rise, and only the last has no limit"),
            )


class PeriodSpec(Record):
    """Rates for certain hours. The first period that holds counts."""

    name: Annotated[Text, about("name for the reader", "night")]
    rate: Annotated[Money | None, about("price of a kWh in these hours", "0.18")] = None
    tiers: Annotated[
        tuple[TierSpec, ...], about("or rates by the month's kWh in these hours", "- rate: 0.25")
    ] = ()
    months: Annotated[
        tuple[Month, ...], about("months (1 to 12) it holds in; left out: all", "[6, 7, 8, 9]")
    ] = ()
    hours: Annotated[
        Hours | None, about("from and to, on the 24-hour clock; left out: all day", "[14, 20]")
    ] = None
    weekdays: Annotated[
        Literal["all", "workdays", "weekends"], about("all, workdays or weekends", "workdays")
    ] = "all"

    @model_validator(mode="after")
    def _one_way(self) -> PeriodSpec:
        if (self.rate is None) == (not self.tiers):
            raise broken(
                translatable("must have either rate or tiers"),
                "rate",
                hint=translatable("keep one, take the others out"),
            )
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

    name: Annotated[Text, about("name for the reader", "summer peak")]
    rate_per_kw: Annotated[Money, about("price of a kW of the month's highest power", "9.00")]
    months: Annotated[
        tuple[Month, ...], about("months (1 to 12) it holds in; left out: all", "[6, 7, 8, 9]")
    ] = ()
    hours: Annotated[
        Hours | None, about("from and to, on the 24-hour clock; left out: all day", "[14, 20]")
    ] = None
    weekdays: Annotated[
        Literal["all", "workdays", "weekends"], about("all, workdays or weekends", "workdays")
    ] = "all"


class Electricity(Record):
    """What electricity costs: one rate, tiers, or periods."""

    rate: Annotated[Money | None, about("price of a kWh", "0.30")] = None
    tiers: Annotated[tuple[TierSpec, ...], about("rates by the month's kWh", "- rate: 0.25")] = ()
    periods: Annotated[tuple[PeriodSpec, ...], about("rates by hour, day and month", "- name: night")] = ()
    demand: Annotated[
        tuple[DemandSpec, ...], about("charges on the month's highest power", "- name: demand")
    ] = ()
    fixed_per_month: Annotated[Money, about("standing charge", "12.00")] = Decimal(0)
    kg_co2_per_kwh: Annotated[
        Annotated[Number, Field(ge=0, le=3)] | None, about("carbon dioxide for a kWh", "0.2")
    ] = None

    @model_validator(mode="after")
    def _one_way(self) -> Electricity:
        if sum((self.rate is not None, bool(self.tiers), bool(self.periods))) != 1:
            raise broken(
                translatable("must have exactly one of rate, tiers and periods"),
                "rate",
                hint=translatable("keep one, take the others out"),
            )
        _rising(self.tiers)
        if self.periods:
            always = {
                (month, hour, end) for month in range(1, 13) for hour in range(24) for end in (False, True)
            }
            left = sorted(always - set().union(*(period.slots() for period in self.periods)))
            if left:
                month, hour, end = left[0]
                found = translatable(
                    "none for month {month}, {hour}:00, {days}",
                    month=month,
                    hour=hour,
                    days=translatable("weekends") if end else translatable("workdays"),
                )
                hint = translatable("add a last period without months, hours and weekdays for all the rest")
                raise broken(
                    translatable("must have a rate for every hour of the year"),
                    "periods",
                    found=found,
                    hint=hint,
                )
        return self


class FuelSpec(Record):
    """A fuel that heats: its price per unit and the heat in a unit."""

    id: Annotated[Id, about("short name used in heating", "gas")]
    rate: Annotated[Money, about("price of a unit", "0.11")]
    unit: Annotated[Text, about("the unit it is sold in", "kWh")] = "kWh"
    kwh_per_unit: Annotated[
        Annotated[Amount, Field(ge=0.1, le=1e5)] | None,
        about("heat in a unit, where the unit is not kWh", "10.6"),
    ] = None  # a megajoule is 0.278 kWh
    kg_co2_per_kwh: Annotated[
        Annotated[Number, Field(ge=0, le=3)] | None, about("carbon dioxide for a kWh of its heat", "0.2")
    ] = None

    @model_validator(mode="after")
    def _heat_known(self) -> FuelSpec:
        if self.kwh_per_unit is None and self.unit not in UNITS_KWH:
            rule = translatable("must be given where the unit is none of {names}", names=", ".join(UNITS_KWH))
            raise broken(
                rule, "kwh_per_unit", hint=translatable("the kWh of heat in a unit, from the supplier")
            )
        return self


#: By how much energy gets dearer a year. Beyond half as much again every year for decades money ends.
Growth = Annotated[Number, Field(ge=-20, le=50)]


class Energy(Record):
    """Prices of energy and how they are looked at over the years."""

    electricity: Annotated[
        Electricity | None, about("its price: one rate, tiers, or periods", "rate: 0.30")
    ] = None
    fuels: Annotated[tuple[FuelSpec, ...], about("other fuels that heat", "- id: gas")] = ()
    growth_percent: Annotated[
        tuple[Growth, Growth, Growth], about("yearly rise of prices: low, likely, high", "[0, 1, 3]")
    ] = (0.0, 1.0, 3.0)
    discount_percent: Annotated[Percent, about("by how much money later is worth less, a year", "3")] = 3.0
    years: Annotated[
        Annotated[Whole, Field(ge=1, le=40)] | None,
        about("years every option is looked at; left out: the longest life of a film compared", "12"),
    ] = None
    removal: Annotated[Money, about("cost of taking the film off at the end of its life", "150")] = Decimal(0)
    priced_on: Annotated[Day | None, about("day the prices were read", "2026-03-01")] = None

    @model_validator(mode="after")
    def _in_order(self) -> Energy:
        if list(self.growth_percent) != sorted(self.growth_percent):
            raise broken(translatable("must rise: low, likely, high"), "growth_percent")
        return self
