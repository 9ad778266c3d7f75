"""Whether an option pays: what it changes on the bills, over one period for every option, as a range.

Bills are worked out over all samples at once; a number becomes money only in the results. Film counts
with its offer, a shade with the price the user typed. Money is withheld, with the reason, where a room
is not described, where there is no year of weather, or where no energy price is given.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING

import numpy as np

from reportkit import money
from reportkit.base.arrays import Array
from reportkit.base.units import UNITS_KWH
from reportkit.job.model import DemandSpec, Energy, PeriodSpec, TierSpec

if TYPE_CHECKING:
    from reportkit.climate import Weather
    from reportkit.job import LoadedJob
    from reportkit.study.offer import Offer
    from reportkit.study.options import Option
    from reportkit.study.rooms import RoomYear


WEEKDAYS = {"all": frozenset(range(7)), "workdays": frozenset(range(5)), "weekends": frozenset((5, 6))}


@dataclass(frozen=True, eq=False)
class Used:
    """Energy bought in a year under O options and S samples [kWh].

    ``electricity`` (B, O, S) by tariff bin with its ``peak`` [W], ``fuels`` (O, S) by fuel.
    """

    electricity: Array
    peak: Array
    fuels: dict[str, Array]


@dataclass(frozen=True, eq=False)
class Worth:
    """An option's money and carbon dioxide over S samples, against doing nothing.

    ``saving`` [currency/yr] is the first year's, heating added already taken off; ``flows`` (years + 1,
    S) the yearly cash; ``npv`` and ``payback`` (S,); ``co2`` [kg/yr] saved, None without factors.
    ``cost`` is None where a shade has no price or a film cannot be cut: then only the saving is known.
    """

    saving: Array
    cost: Decimal | None
    flows: Array | None
    npv: Array | None
    payback: Array | None
    co2: Array | None
    years: int


def tariff(energy: Energy | None) -> money.Tariff:
    """Return the electricity tariff; one of rate 0 where none is given, to have the months' bins."""
    spec = energy.electricity if energy else None
    if spec is None:
        return money.flat(0)
    if spec.periods:
        periods = tuple(
            money.Period(entry.name, _tiers(entry.rate, entry.tiers), _when(entry)) for entry in spec.periods
        )
    else:
        periods = (money.Period("all", _tiers(spec.rate, spec.tiers)),)
    demands = tuple(money.Demand(entry.name, entry.rate_per_kw, _when(entry)) for entry in spec.demand)
    return money.Tariff("electricity", periods, demands, spec.fixed_per_month)


def _tiers(rate: Decimal | None, tiers: tuple[TierSpec, ...]) -> tuple[money.Tier, ...]:
    if rate is not None:
        return (money.Tier(rate),)
    return tuple(money.Tier(entry.rate, entry.up_to_kwh) for entry in tiers)


def _when(spec: PeriodSpec | DemandSpec) -> money.When:
    hours = frozenset(range(24))
    if spec.hours is not None:
        first, last = spec.hours
        hours = frozenset(
            h for h in range(24) if (first <= h < last if first <= last else h >= first or h < last)
        )
    return money.When(frozenset(spec.months) or frozenset(range(1, 13)), hours, WEEKDAYS[spec.weekdays])


def tariff_bins(rates: money.Tariff, weather: Weather) -> money.Bins:
    """Return where each hour's energy is summed."""
    times = weather.times
    return money.bins(rates, month=times.month, hour=times.hour, weekday=times.day_of_week)


def used(years: tuple[RoomYear, ...], loaded: LoadedJob) -> Used:
    """Return the energy bought by all described rooms together."""
    bodies = {room.id: room.heat for room in loaded.job.rooms}
    shape = years[0].cooling.shape
    electricity, peak = np.zeros(shape), np.zeros(shape)
    fuels: dict[str, Array] = {}
    for year in years:
        body = bodies[year.room]
        assert body is not None  # only described rooms have a year
        plant = year.inputs["plant"]
        if body.cooling:
            electricity += year.cooling / (body.cooling.efficiency * plant)
            peak += year.peak_cooling / (body.cooling.efficiency * plant)
        if body.heating:
            bought = year.heating / (body.heating.efficiency * plant)
            if body.heating.fuel == "electricity":
                electricity += bought
            else:
                known = fuels.get(body.heating.fuel, np.zeros(shape[1:]))
                fuels[body.heating.fuel] = known + bought.sum(axis=0)
    return Used(electricity, peak, fuels)


def bills(use: Used, rates: money.Tariff, bins: money.Bins, energy: Energy) -> Array:
    """Return the year's bills for every option and sample [currency], (O, S)."""
    total = money.bill(rates, use.electricity, bins=bins, peak=use.peak)
    for spec in energy.fuels:
        if spec.id in use.fuels:
            content = spec.kwh_per_unit or UNITS_KWH[spec.unit]
            fuel = money.Fuel(spec.id, spec.rate, content, spec.unit)
            total = total + money.fuel_cost(use.fuels[spec.id], fuel)
    return total


def saved_shares(cost_by_option: Array) -> list[float]:
    """Return each option's likely saving as a share of the bills now, those of option 0 [1]; 0 where none.

    ``cost_by_option`` are yearly bills, (O, S) [currency].
    """
    likely = np.median(cost_by_option, axis=1)
    return [float(1 - amount / likely[0]) if likely[0] > 0 else 0.0 for amount in likely]


def carbon(use: Used, energy: Energy) -> Array | None:
    """Return the year's carbon dioxide (O, S) [kg]; None where a factor that is needed is missing."""
    factors = {spec.id: spec.kg_co2_per_kwh for spec in energy.fuels}
    grid = energy.electricity.kg_co2_per_kwh if energy.electricity else None
    if grid is None or any(factors.get(name) is None for name in use.fuels):
        return None
    total = money.carbon_dioxide(use.electricity.sum(axis=0), grid_factor=grid)
    for name, amount in use.fuels.items():
        total = total + amount * float(factors[name] or 0.0)
    return total


def worth(
    index: int,
    option: Option,
    offer: Offer | None,
    cost_by_option: Array,
    co2_by_option: Array | None,
    loaded: LoadedJob,
    growth: Array,
) -> Worth:
    """Return an option's worth against doing nothing, which is option 0.

    Parameters
    ----------
    index
        The option's place among the options.
    option, offer
        The option, and its offer where it is film.
    cost_by_option, co2_by_option
        Yearly bills [currency] and carbon dioxide [kg], (O, S).
    loaded
        The job.
    growth
        Yearly growth of energy prices by sample [%/yr], (S,).
    """
    energy = loaded.job.energy
    assert energy is not None  # bills need prices
    saving = cost_by_option[0] - cost_by_option[index]
    co2 = None if co2_by_option is None else co2_by_option[0] - co2_by_option[index]
    years = energy.years
    assert years is not None  # filled in when the job was read
    # of several films the one that ends first: all are fitted anew together; a shade lasts the period
    life = min((spec.life_years for spec in loaded.job.films if spec.id in option.films), default=None)
    cost = option.price if option.kind == "shade" else (offer.total if offer else Decimal(0))
    if cost is None or option.cannot_go:
        return Worth(saving, None, None, None, None, co2, years)
    removal = Decimal(0) if life is None else energy.removal
    plan = money.Plan(years, years if life is None else life, cost, removal)
    flows = money.cash(plan, saving, price_growth=growth / 100)
    return Worth(
        saving,
        cost,
        flows,
        money.net_present_value(flows, discount=energy.discount_percent / 100),
        money.payback(flows),
        co2,
        years,
    )
