"""Does it pay: yearly cash over one study period, net present value, payback, carbon dioxide.

Savings are sampled physical estimates in binary floating point, so a result is a range; a number
becomes ``Decimal`` money only at the edge, by ``to_money``, rounded once. Costs come from a price as
``Decimal`` and enter here as floats of the same value. Not covered: tax on savings, loans, inflation
other than what growth and discount rates hold (use both real or both nominal).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from decimal import Decimal

import numpy as np
from numpy.typing import ArrayLike

from reportkit.base.arrays import Array
from reportkit.money.amounts import rounded


def to_money(value: float, *, digits: int) -> Decimal:
    """Return a physical estimate as an amount of money, rounded half up once.

    Parameters
    ----------
    value
        [currency].
    digits
        Digits of the currency's minor unit.

    Raises
    ------
    ValueError
        If the value is infinite or nan.

    Examples
    --------
    >>> to_money(12.345, digits=2)
    Decimal('12.35')
    """
    number = float(value)
    if not math.isfinite(number):
        raise ValueError("an amount of money must be finite")
    return rounded(Decimal(repr(number)), digits=digits)


@dataclass(frozen=True)
class Plan:
    """How long money is looked at, the same for whatever is compared, and what is spent in that time.

    Parameters
    ----------
    years
        Study period, 1 to 60 [years].
    life
        After this the film is taken off and a new one fitted, 1 or more [years].
    cost
        Paid at the start, and again for each new film [currency], 0 or more.
    removal
        Taking a film off at the end of its life [currency], 0 or more.
    """

    years: int
    life: float
    cost: Decimal
    removal: Decimal = Decimal(0)

    def __post_init__(self) -> None:
        """Refuse impossible times and negative costs."""
        if not 1 <= self.years <= 60 or not self.life >= 1:
            raise ValueError(f"years must be 1 to 60 and life 1 or more, got {self.years} and {self.life}")
        if any(not isinstance(cost, Decimal) for cost in (self.cost, self.removal)):
            raise TypeError("costs must be Decimal")
        if min(self.cost, self.removal) < 0:
            raise ValueError("costs must be 0 or more")


def spending(plan: Plan) -> Array:
    """Return what is paid at the start and at the end of each year [currency], (years + 1,), positive.

    At the end of each life within the period the old film is taken off and a new one fitted, in prices of
    the start. At the end of the period the rest of the last film's life is credited, and the used part of
    its removal charged, both by straight line: a life that ends with the period pays the whole removal.

    References
    ----------
    NIST Handbook 135 (from memory): equal study periods; replacements; a residual value by straight line,
    less what disposal costs.
    """
    cost, removal = float(plan.cost), float(plan.removal)
    paid = np.zeros(plan.years + 1)
    paid[0] = cost
    replaced = math.ceil(plan.years / plan.life - 1e-9) - 1
    for number in range(1, replaced + 1):
        paid[math.ceil(number * plan.life - 1e-9)] += cost + removal
    used = min(1.0, plan.years / plan.life - replaced)
    paid[plan.years] += removal * used - cost * (1.0 - used)
    return paid


def cash(plan: Plan, saving: ArrayLike, *, price_growth: ArrayLike = 0.0) -> Array:
    """Return the yearly cash.

    Parameters
    ----------
    plan
        Times and costs.
    saving
        First year's saving [currency], heating lost already taken off; any shape (S...).
    price_growth
        Yearly growth of the energy price [-], broadcast to the saving; the first year has none.

    Returns
    -------
    array
        [currency], (years + 1, S...): year 0 is the start, each later one falls due at the year's end.
    """
    first = np.asarray(saving, dtype=float)
    growth = 1.0 + np.asarray(price_growth, dtype=float)
    flows = np.empty((plan.years + 1, *np.broadcast_shapes(first.shape, growth.shape)))
    paid = spending(plan)
    flows[0] = -paid[0]
    for year in range(1, plan.years + 1):
        flows[year] = first * growth ** (year - 1) - paid[year]
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
