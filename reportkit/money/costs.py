"""What goes into a price: film as the cut plan buys it, hours, materials, as ``Item`` lines.

Rates are the user's own, as ``Decimal``. Not covered: buying at a discount by quantity, freight (add
an ``Item`` of the group ``other``).
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from decimal import ROUND_CEILING, Decimal
from fractions import Fraction

from reportkit.cutting.records import CutRoll
from reportkit.money.price import ONE, FilmLot, Item, decimal, rounded

#: Units in which film is sold by length [mm].
UNITS_MM = {"m": Fraction(1000), "ft": Fraction(3048, 10)}


def film_items(rolls: Iterable[CutRoll], *, taxable: bool = True) -> tuple[Item, ...]:
    """Return one line per kind of roll bought, in the order in which the kinds first appear.

    Parameters
    ----------
    rolls
        The rolls of a cut plan.
    taxable
        Whether the tax falls on film.

    Returns
    -------
    tuple of Item
        Whole rolls count as rolls, or as packs where they are sold in packs; lengths off one width at
        one price add up, in the unit the film is sold in, up to whole hundredths of it. Each names its lot;
        the text is the film's name. Film off the shelf (price 0) costs nothing and has no line.

    Notes
    -----
    A line is rounded once, from the quantity and the rate that are printed. A plan that prices each length
    by itself may differ from it by a minor unit.
    """
    kinds: dict[tuple[FilmLot, str, Decimal], Fraction] = {}
    for cut in rolls:
        roll = cut.roll
        price = decimal(roll.price, f"price of {roll.film}")
        if price == 0:
            continue
        length = None if roll.by_length else cut.length_mm
        unit: str = roll.sold_in if roll.by_length else "roll" if roll.pack == 1 else "pack"
        amount = Fraction(cut.length_mm) / UNITS_MM[unit] if roll.by_length else Fraction(1, roll.pack)
        if roll.by_length:
            price = _rate(Fraction(price) * UNITS_MM[unit] / 1000)
        key = (FilmLot(roll.film, Fraction(roll.width_mm), length, roll.pack), unit, price)
        kinds[key] = kinds.get(key, Fraction(0)) + amount
    return tuple(
        Item(
            lot.id,
            "film",
            lot.film,
            _hundredths(amount) if lot.length_mm is None else _exactly(amount),
            unit,
            price,
            taxable,
            lot,
        )
        for (lot, unit, price), amount in kinds.items()
    )


def _hundredths(amount: Fraction) -> Decimal:
    """Return a length in hundredths, up, as it is printed: no less is bought than is needed."""
    return Decimal(math.ceil(amount * 100)).scaleb(-2)


def _rate(exact: Fraction) -> Decimal:
    """Return a rate as it was typed: turned into that of a metre and back it is off by 28 figures at most."""
    rate = (Decimal(exact.numerator) / exact.denominator).quantize(Decimal("1e-9")).normalize()
    return rate.quantize(ONE) if rate == rate.to_integral_value() else rate


def _exactly(amount: Fraction) -> Decimal:
    """Return a fraction as a decimal: exact where it ends, else to the context's 28 figures."""
    value = Decimal(amount.numerator) / amount.denominator
    return value.quantize(ONE) if value == value.to_integral_value() else value


def labour_item(
    minutes: int | Decimal, rate_per_hour: Decimal | int | str, *, taxable: bool = True, step: int = 15
) -> Item:
    """Return the labour line: person-minutes, rounded up to ``step`` minutes, as hours.

    Parameters
    ----------
    minutes
        Paid person-minutes [min]; round a physical float up to whole minutes first.
    rate_per_hour
        [currency/h].
    taxable
        Whether the tax falls on labour.
    step
        Time is sold in steps of this many minutes [min].

    Returns
    -------
    Item
        Quantity in hours [h].
    """
    asked = decimal(minutes, "minutes")
    if step < 1 or asked < 0:
        raise ValueError("minutes must be 0 or more and step 1 or more")
    steps = (asked / step).to_integral_value(rounding=ROUND_CEILING)
    hours = rounded(steps * step / Decimal(60), digits=4).normalize()
    hours = hours.quantize(ONE) if hours == hours.to_integral_value() else hours
    return Item("labour", "labour", "labour", hours, "h", decimal(rate_per_hour, "labour rate"), taxable)


def material_items(
    lines: Iterable[tuple[str, str, Decimal, str]],
    rates: Mapping[str, Decimal],
    *,
    taxable: bool = True,
) -> tuple[tuple[Item, ...], tuple[str, ...]]:
    """Return a line for every material with a price, and the ids of those without one.

    Parameters
    ----------
    lines
        Id, text, quantity and unit of each material.
    rates
        The user's own price per unit by id [currency].
    taxable
        Whether the tax falls on materials.

    Returns
    -------
    items, unpriced
        Materials without a price are in no line: the caller says so in the report.
    """
    items: list[Item] = []
    unpriced: list[str] = []
    for id_, text, quantity, unit in lines:
        if id_ in rates:
            items.append(Item(id_, "materials", text, quantity, unit, rates[id_], taxable))
        else:
            unpriced.append(id_)
    return tuple(items), tuple(unpriced)
