"""What energy costs: flat, tiered, seasonal and time-of-use rates, demand charges, heating fuels.

A tariff is written with the user's own ``Decimal`` rates. Bills are worked out in binary floating
point over all options and samples, because the energies behind them are physical estimates; a figure
becomes money again, rounded once, only where it is printed (``reportkit.money.worth.to_money``).
A saving is a difference of two bills, so it falls in the tier and under the peak where it really
falls. Not covered: real-time prices, feed-in, ratchets over several months, minimum bills, taxes by
place (put them into the rates).
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from itertools import pairwise

import numpy as np
from numpy.typing import ArrayLike, NDArray

from reportkit.base.arrays import Array
from reportkit.money.amounts import decimal

ALL_MONTHS = frozenset(range(1, 13))
ALL_HOURS = frozenset(range(24))
ALL_DAYS = frozenset(range(7))


@dataclass(frozen=True)
class When:
    """Hours that a rate is for: months 1-12, hours 0-23 of civil time, weekdays 0 (Monday) to 6."""

    months: frozenset[int] = ALL_MONTHS
    hours: frozenset[int] = ALL_HOURS
    weekdays: frozenset[int] = ALL_DAYS

    def __post_init__(self) -> None:
        """Refuse months, hours and weekdays that no calendar has."""
        for name, all_ in (("months", ALL_MONTHS), ("hours", ALL_HOURS), ("weekdays", ALL_DAYS)):
            given = getattr(self, name)
            if not given or not given <= all_:
                raise ValueError(f"{name} must be some of {min(all_)} to {max(all_)}, got {sorted(given)}")

    def holds(self, month: ArrayLike, hour: ArrayLike, weekday: ArrayLike) -> NDArray[np.bool_]:
        """Return which of the given hours this is for, (H,)."""
        return np.asarray(
            np.isin(month, list(self.months))
            & np.isin(hour, list(self.hours))
            & np.isin(weekday, list(self.weekdays))
        )


ALWAYS = When()


@dataclass(frozen=True)
class Tier:
    """A rate [currency/kWh] up to so many kWh a month; ``up_to`` None is all the rest."""

    rate: Decimal
    up_to: float | None = None

    def __post_init__(self) -> None:
        """Refuse a float for the rate."""
        object.__setattr__(self, "rate", decimal(self.rate, "tier rate"))


@dataclass(frozen=True)
class Period:
    """Rates for certain hours; the tiers count the period's own kWh of a month."""

    name: str
    tiers: tuple[Tier, ...]
    when: When = ALWAYS

    def __post_init__(self) -> None:
        """Refuse tiers that do not rise or do not end."""
        limits = [tier.up_to for tier in self.tiers]
        if not limits or limits[-1] is not None or None in limits[:-1]:
            raise ValueError(f"{self.name}: the last tier, and only it, must have no limit")
        finite = [limit for limit in limits if limit is not None]
        if any(limit <= 0 for limit in finite) or any(b <= a for a, b in pairwise(finite)):
            raise ValueError(f"{self.name}: tier limits must be over 0 and rise, got {finite}")


@dataclass(frozen=True)
class Demand:
    """A charge on the highest power of each month in certain hours [currency/kW]."""

    name: str
    rate: Decimal
    when: When = ALWAYS

    def __post_init__(self) -> None:
        """Refuse a float for the rate."""
        object.__setattr__(self, "rate", decimal(self.rate, f"{self.name} rate"))


@dataclass(frozen=True)
class Tariff:
    """Rates by period (the first that holds counts), demand charges, a fixed charge a month."""

    name: str
    periods: tuple[Period, ...]
    demands: tuple[Demand, ...] = ()
    fixed: Decimal = Decimal(0)

    def __post_init__(self) -> None:
        """Refuse a tariff that leaves an hour of the year without a rate."""
        object.__setattr__(self, "fixed", decimal(self.fixed, "fixed charge"))
        month, weekday, hour = (
            a.ravel() for a in np.meshgrid(range(1, 13), range(7), range(24), indexing="ij")
        )
        covered = np.zeros(month.size, dtype=bool)
        for period in self.periods:
            covered |= period.when.holds(month, hour, weekday)
        if not covered.all():
            first = int(np.argmin(covered))
            raise ValueError(
                f"{self.name}: no rate for month {month[first]}, weekday {weekday[first]}, hour {hour[first]}"
            )


def flat(rate: Decimal | int | str, *, name: str = "flat") -> Tariff:
    """Return a tariff with one rate [currency/kWh]."""
    return Tariff(name, (Period(name, (Tier(decimal(rate, "rate")),)),))


@dataclass(frozen=True)
class Bins:
    """Where each hour's energy is summed so that a bill can be worked out from the sums.

    ``index`` (H,) is the bin of each hour; of each bin: ``month`` (B,), ``period`` (B,) and which
    demand charges see it, ``demand`` (B, D).
    """

    index: NDArray[np.int64]
    month: NDArray[np.int64]
    period: NDArray[np.int64]
    demand: NDArray[np.bool_]


def bins(tariff: Tariff, *, month: ArrayLike, hour: ArrayLike, weekday: ArrayLike) -> Bins:
    """Return the bins of a tariff over the hours of a year.

    Parameters
    ----------
    tariff
        The tariff.
    month, hour, weekday
        Of each hour in civil time: 1-12, 0-23, 0 (Monday) to 6, each (H,).

    Returns
    -------
    Bins
        In the order of month, period, demand.
    """
    months = np.asarray(month, dtype=np.int64)
    period = np.full(months.shape, -1, dtype=np.int64)
    for number, each in enumerate(tariff.periods):
        period[(period < 0) & each.when.holds(month, hour, weekday)] = number
    columns = [months, period]
    columns += [demand.when.holds(month, hour, weekday).astype(np.int64) for demand in tariff.demands]
    kinds, index = np.unique(np.stack(columns, axis=1), axis=0, return_inverse=True)
    return Bins(
        index=np.asarray(index, dtype=np.int64).reshape(-1),
        month=kinds[:, 0],
        period=kinds[:, 1],
        demand=kinds[:, 2:].astype(bool),
    )


def bill(
    tariff: Tariff, energy: ArrayLike, *, bins: Bins, peak: ArrayLike | None = None, base: ArrayLike = 0.0
) -> Array:
    """Return a year's bill.

    Parameters
    ----------
    tariff
        The tariff.
    energy
        Metered energy by bin [kWh], (B, ...).
    bins
        Of the same tariff.
    peak
        Highest metered power by bin [W], (B, ...); needed where there is a demand charge.
    base
        What else the meter sees, by bin [kWh], (B,) or a number for each bin; it decides the tier.

    Returns
    -------
    array
        [currency], without the bins' axis; fixed charges of twelve months are in it.

    Raises
    ------
    ValueError
        If the bins do not fit, or the peak is missing.

    Notes
    -----
    Other uses' power is not known hour by hour, so a demand charge is put on this use's own peak: a
    saving of demand is the most it can be, and the caller says so.
    """
    used = np.asarray(energy, dtype=float)
    count = bins.month.size
    if used.shape[:1] != (count,):
        raise ValueError(f"energy must have {count} bins, got shape {used.shape}")
    other = np.broadcast_to(np.asarray(base, dtype=float), (count,))
    used = used + other.reshape((count, *(1,) * (used.ndim - 1)))
    total = np.full(used.shape[1:], 12.0 * float(tariff.fixed))
    for number, period in enumerate(tariff.periods):
        for month in range(1, 13):
            rows = (bins.period == number) & (bins.month == month)
            if rows.any():
                total = total + _tiers(period, used[rows].sum(axis=0))
    for number, demand in enumerate(tariff.demands):
        if peak is None:
            raise ValueError(f"{tariff.name} has a demand charge: the peak by bin is needed")
        power = np.asarray(peak, dtype=float)
        if power.shape[:1] != (count,):
            raise ValueError(f"peak must have {count} bins, got shape {power.shape}")
        for month in range(1, 13):
            rows = bins.demand[:, number] & (bins.month == month)
            if rows.any():
                total = total + float(demand.rate) * power[rows].max(axis=0) / 1000.0
    return np.asarray(total)


def _tiers(period: Period, energy: Array) -> Array:
    cost = np.zeros(np.shape(energy))
    start = 0.0
    for tier in period.tiers:
        end = np.inf if tier.up_to is None else tier.up_to
        cost = cost + float(tier.rate) * np.clip(energy - start, 0.0, end - start)
        start = end
    return cost


@dataclass(frozen=True)
class Plant:
    """How heat moved becomes energy bought.

    ``efficiency`` [-] is heat moved over energy bought: a boiler's .9, a heat pump's or chiller's
    seasonal 3.
    """

    name: str
    efficiency: float

    def __post_init__(self) -> None:
        """Refuse an efficiency that is not over 0."""
        if not self.efficiency > 0:
            raise ValueError(f"{self.name}: efficiency must be over 0, got {self.efficiency}")


@dataclass(frozen=True)
class Fuel:
    """A fuel sold by a unit of its own: rate [currency/unit] and heat content [kWh/unit]."""

    name: str
    rate: Decimal
    kwh_per_unit: float = 1.0
    unit: str = "kWh"

    def __post_init__(self) -> None:
        """Refuse a float for the rate and a heat content that is not over 0."""
        object.__setattr__(self, "rate", decimal(self.rate, f"{self.name} rate"))
        if not self.kwh_per_unit > 0:
            raise ValueError(f"{self.name}: kwh_per_unit must be over 0, got {self.kwh_per_unit}")


def bought(heat: ArrayLike, plant: Plant, *, efficiency_factor: ArrayLike = 1.0) -> Array:
    """Return the energy bought [kWh] for heat moved [kWh]; the factor [-] samples the efficiency."""
    return np.asarray(
        np.asarray(heat, dtype=float) / (plant.efficiency * np.asarray(efficiency_factor, float))
    )


def fuel_cost(energy: ArrayLike, fuel: Fuel) -> Array:
    """Return what a fuel costs [currency] for the energy bought [kWh]."""
    return np.asarray(np.asarray(energy, dtype=float) / fuel.kwh_per_unit * float(fuel.rate))
