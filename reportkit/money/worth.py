"""Does it pay: yearly cash over the film's life, net present value, payback, carbon dioxide.

Savings are sampled physical estimates in binary floating point, so a result is a range; a number
becomes ``Decimal`` money only at the edge, by ``to_money``, rounded once. Costs come from a price as
``Decimal`` and enter here as floats of the same value. Not covered: tax on savings, loans, residual
value, inflation other than what growth and discount rates hold (use both real or both nominal).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from decimal import Decimal

import numpy as np
from numpy.typing import ArrayLike, NDArray

from reportkit.money.price import rounded

Array = NDArray[np.float64]


def to_money(value: float, *, digits: int) -> Decimal | None:
    """Return a physical estimate as an amount of money, rounded half up once; None for nan.

    Parameters
    ----------
    value
        [currency].
    digits
        Digits of the currency's minor unit.

    Raises
    ------
    ValueError
        If the value is infinite.

    Examples
    --------
    >>> to_money(12.345, digits=2)
    Decimal('12.35')
    """
    number = float(value)
    if math.isnan(number):
        return None
    if math.isinf(number):
        raise ValueError("an amount of money must be finite")
    return rounded(Decimal(repr(number)), digits=digits)


@dataclass(frozen=True)
class Plan:
    """How long money is looked at and what is spent in that time.

    Parameters
    ----------
    years
        Years looked at, 1 to 60.
    life
        Years until the film must be replaced, 1 or more; ``years`` or more for no replacement.
    cost
        Paid at the start [currency], 0 or more.
    replacement
        A new film after each life [currency], in prices of the start; the film's price if it is None.
    removal
        Taking the old film off, before each replacement and at the end of the years if
        ``remove_at_end`` [currency], in prices of the start.
    cost_growth
        Yearly growth of those later costs [-].
    """

    years: int
    life: int
    cost: Decimal
    replacement: Decimal | None = None
    removal: Decimal = Decimal(0)
    remove_at_end: bool = False
    cost_growth: float = 0.0

    def __post_init__(self) -> None:
        """Refuse impossible times and negative costs."""
        if not 1 <= self.years <= 60 or self.life < 1:
            raise ValueError(f"years must be 1 to 60 and life 1 or more, got {self.years} and {self.life}")
        costs = (self.cost, self.removal, *(() if self.replacement is None else (self.replacement,)))
        if any(not isinstance(cost, Decimal) for cost in costs):
            raise TypeError("costs must be Decimal")
        if any(cost < 0 for cost in costs):
            raise ValueError("costs must be 0 or more")
        if self.cost_growth <= -1:
            raise ValueError("cost_growth must be over -1")


def spending(plan: Plan) -> Array:
    """Return what is paid at the start and at the end of each year [currency], (years + 1,), positive."""
    paid = np.zeros(plan.years + 1)
    paid[0] = float(plan.cost)
    again = float(plan.cost if plan.replacement is None else plan.replacement)
    for year in range(plan.life, plan.years, plan.life):
        paid[year] += (again + float(plan.removal)) * (1.0 + plan.cost_growth) ** year
    if plan.remove_at_end:
        paid[plan.years] += float(plan.removal) * (1.0 + plan.cost_growth) ** plan.years
    return paid


def cash(plan: Plan, saving: ArrayLike, *, price_growth: ArrayLike = 0.0, fade: ArrayLike = 0.0) -> Array:
    """Return the yearly cash.

    Parameters
    ----------
    plan
        Times and costs.
    saving
        First year's saving [currency], heating lost already taken off; any shape (S...).
    price_growth
        Yearly growth of the energy price [-], broadcast to the saving; the first year has none.
    fade
        Yearly loss of the film's effect within one life [-].

    Returns
    -------
    array
        [currency], (years + 1, S...): year 0 is the start, each later one falls due at the year's end.
    """
    first = np.asarray(saving, dtype=float)
    growth, loss = 1.0 + np.asarray(price_growth, dtype=float), 1.0 - np.asarray(fade, dtype=float)
    shape = np.broadcast_shapes(first.shape, growth.shape, loss.shape)
    flows = np.empty((plan.years + 1, *shape))
    paid = spending(plan)
    flows[0] = -paid[0]
    for year in range(1, plan.years + 1):
        age = (year - 1) % plan.life
        flows[year] = first * growth ** (year - 1) * loss**age - paid[year]
    return flows


def net_present_value(flows: ArrayLike, *, discount: ArrayLike) -> Array:
    """Return the net present value.

    Parameters
    ----------
    flows
        Yearly cash [currency], (years + 1, S...), the first at the start.
    discount
        Yearly discount rate [-], over -1, broadcast to S.

    Returns
    -------
    array
        [currency], (S...).

    References
    ----------
    Sum of C_t / (1 + r)^t, t from 0; NIST Handbook 135 (from memory).
    """
    money = np.asarray(flows, dtype=float)
    rate = np.asarray(discount, dtype=float)
    if np.any(rate <= -1):
        raise ValueError("discount must be over -1")
    total = np.zeros(np.broadcast_shapes(money.shape[1:], rate.shape))
    for flow in money[::-1]:  # Horner's rule
        total = total / (1.0 + rate) + flow
    return np.asarray(total)


def cumulative(flows: ArrayLike, *, discount: ArrayLike = 0.0) -> Array:
    """Return the cash added up to each year [currency], (years + 1, S...), discounted if a rate is given."""
    money = np.asarray(flows, dtype=float)
    year = np.arange(money.shape[0]).reshape((-1, *(1,) * max(money.ndim - 1, np.ndim(discount))))
    if money.ndim - 1 < np.ndim(discount):
        money = money.reshape(
            (money.shape[0], *(1,) * (np.ndim(discount) - money.ndim + 1), *money.shape[1:])
        )
    return np.asarray(np.cumsum(money / (1.0 + np.asarray(discount, dtype=float)) ** year, axis=0))


def payback(flows: ArrayLike, *, discount: ArrayLike = 0.0) -> Array:
    """Return the years until the money is back for good.

    Parameters
    ----------
    flows
        Yearly cash [currency], (years + 1, S...).
    discount
        Yearly rate [-]; 0 gives the simple payback.

    Returns
    -------
    array
        [years], (S...), within a year by straight line; 0 where nothing was spent; infinite where the
        sum is under 0 at the end of the years. A replacement that takes the sum below 0 again starts
        the wait again. nan in, nan out.
    """
    total = cumulative(flows, discount=discount)
    below = total < 0
    years = total.shape[0] - 1
    last = years - np.argmax(below[::-1], axis=0)  # the last year with the sum below 0
    never_below = ~below.any(axis=0)
    still = below[-1]
    after = np.minimum(last + 1, years)
    low = np.take_along_axis(total, last[None], axis=0)[0]
    high = np.take_along_axis(total, after[None], axis=0)[0]
    step = np.where(high > low, high - low, 1.0)
    result = np.where(never_below, 0.0, np.where(still, np.inf, last - low / step))
    return np.where(np.isnan(total).any(axis=0), np.nan, result)


def carbon_dioxide(
    electricity: ArrayLike, fuel: ArrayLike = 0.0, *, grid_factor: ArrayLike, fuel_factor: ArrayLike = 0.0
) -> Array:
    """Return the carbon dioxide of a year's energy.

    Parameters
    ----------
    electricity, fuel
        Energy bought [kWh], or saved.
    grid_factor, fuel_factor
        [kg/kWh], the user's own, with source and year: grids differ by a factor of fifty.

    Returns
    -------
    array
        [kg].
    """
    return np.asarray(
        np.asarray(electricity, dtype=float) * np.asarray(grid_factor, dtype=float)
        + np.asarray(fuel, dtype=float) * np.asarray(fuel_factor, dtype=float)
    )


#: Carbon dioxide of burning natural gas, on the higher heating value [kg/kWh]: 53.06 kg per million Btu,
#: US EPA emission factors hub (from memory), over 293.07 kWh.
GAS_KG_PER_KWH = 53.06 / 293.07107
