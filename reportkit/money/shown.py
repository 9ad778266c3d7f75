"""How the lines of a price are put before the client: one by one, as one sum, or by area.

Lines that the fitter typed for the client's eyes, the discount and the minimum charge stay lines of their
own. Nothing here changes what the job costs.
"""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

from reportkit.money.amounts import ONE, ZERO, decimal, rounded
from reportkit.money.price import Group, PriceLine

#: Groups that are put together.
TOGETHER: tuple[Group, ...] = ("film", "materials", "labour", "other", "area", "call_out")


def as_sum(lines: Sequence[PriceLine]) -> tuple[PriceLine, ...]:
    """Return the lines with one for all that is supplied and fitted.

    Parameters
    ----------
    lines
        One by one.

    Returns
    -------
    tuple of PriceLine
        Of the same sum.
    """
    due = sum((line.amount for line in lines if line.group in TOGETHER), ZERO)
    rest = tuple(line for line in lines if line.group not in TOGETHER)
    if len(rest) == len(lines):
        return rest
    return (PriceLine("all", "all", "Film supplied and fitted", ONE, "job", due, due), *rest)


def by_area(lines: Sequence[PriceLine], *, area: Decimal, unit: str, digits: int) -> tuple[PriceLine, ...]:
    """Return the lines with one for all that is supplied and fitted, at a rate for the area of the glass.

    Parameters
    ----------
    lines
        One by one.
    area
        The glass, as it is printed [unit].
    unit
        ``m2`` or ``ft2``.
    digits
        Digits of the currency's minor unit.

    Returns
    -------
    tuple of PriceLine
        The rate is rounded to the minor unit, so that it times the area as printed gives the amount; their
        sum differs from that of the lines by half a minor unit for each unit of area at most.

    Raises
    ------
    ValueError
        If the area is not over 0.
    """
    if decimal(area, "area") <= 0:
        raise ValueError(f"area must be over 0, got {area}")
    merged = as_sum(lines)
    if not merged or merged[0].group != "all":
        return merged
    rate = rounded(merged[0].amount / area, digits=digits)
    amount = rounded(area * rate, digits=digits)
    return (PriceLine("all", "all", merged[0].text, area, unit, rate, amount), *merged[1:])
