"""Findings of what an option saves over the years: its range, what it depends on, and whether it pays."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Literal

import numpy as np
from babel.numbers import get_currency_precision

from reportkit.findings.result import Result
from reportkit.findings.rooms import Amounts, Spread, amounts, spread
from reportkit.physics.room import drivers, percentiles

if TYPE_CHECKING:
    from reportkit.study import Study
    from reportkit.study.options import Option
    from reportkit.study.worth import Worth

#: More years than any study looks at [years].
LONGEST = 1e6

Pays = Literal["pays", "does_not_pay", "cannot_tell"]


class YearsToPay(Result):
    """A range of years: eight of ten computed cases lie in it."""

    p10: float
    """One of ten is sooner [years]."""
    p50: float
    """Half are sooner [years]."""
    p90: float | None
    """One of ten is later [years]; null where that is not within the years looked at."""


class DriverFound(Result):
    """An uncertain input that the range of the saving depends on."""

    key: str
    """The input."""
    share: float
    """Its part of the range [1]."""
    correlation: float
    """Rank correlation of the input with the saving [1]."""


@dataclass(frozen=True)
class Savings:
    """An option's money, as far as it is known."""

    saving: Amounts | None = None
    years: int | None = None
    co2: Spread | None = None
    drivers: tuple[DriverFound, ...] = ()
    npv: Amounts | None = None
    payback: YearsToPay | None = None
    verdict: Pays | None = None
    cash: tuple[Amounts, ...] | None = None


def no_price(option: Option) -> str:
    """Return why an option has no price, as a reason for what is withheld."""
    if option.cannot_go:
        return "cannot_go"
    return "no_shade_price" if option.kind == "shade" else "no_plan"


def savings(study: Study, option: Option, withheld: dict[str, str]) -> Savings:
    """Return what an option saves and when it has paid; say what is withheld."""
    worth = study.worths.get(option.id)
    if worth is None:
        withheld |= dict.fromkeys(("saving_per_year", "payback_years", "npv", "co2_kg"), study.no_money)
        return Savings()
    digits = get_currency_precision(study.job.currency)
    # an input of several rooms has the same ranks in all of them; one that only some have is among them, too
    inputs = {key: values for year in study.room_years for key, values in year.inputs.items()}
    saved = Savings(
        saving=amounts(worth.saving, digits),
        years=worth.years,
        co2=None if worth.co2 is None else spread(worth.co2),
        drivers=tuple(
            DriverFound(key=driver.key, share=driver.share, correlation=driver.correlation)
            for driver in drivers(inputs, worth.saving, least=0.02)
        ),
    )
    if worth.co2 is None:
        withheld["co2_kg"] = "no_co2_factor"
    if worth.npv is None or worth.payback is None or worth.flows is None:
        withheld |= dict.fromkeys(("npv", "payback_years"), no_price(option))
        return saved
    payback = years_to_pay(worth.payback)
    if payback is None:
        withheld["payback_years"] = "not_within_years"
    return replace(
        saved,
        npv=amounts(worth.npv, digits),
        payback=payback,
        verdict=verdict(worth) if option.kind != "none" else None,
        cash=tuple(amounts(row, digits) for row in np.cumsum(worth.flows, axis=0)),
    )


def years_to_pay(years: np.ndarray) -> YearsToPay | None:
    """Return a range of years of which some may be infinite; None where half of them or more are."""
    # a percentile between a number of years and never would be nan: with a very long wait it is long
    never = 1e12
    low, middle, high = map(float, percentiles(np.where(np.isinf(years), never, years)))
    if middle > LONGEST:
        return None
    return YearsToPay(p10=low, p50=middle, p90=None if high > LONGEST else high)


def verdict(worth: Worth) -> Pays:
    """Return whether an option pays, does not, or cannot be told from its range."""
    assert worth.npv is not None
    low, _, high = percentiles(worth.npv)
    if low > 0:
        return "pays"
    return "does_not_pay" if high <= 0 else "cannot_tell"
