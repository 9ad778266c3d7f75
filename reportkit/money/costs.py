"""What goes into a price: film as the cut plan takes it, hours, materials, glass by area, as ``Item`` lines.

Rates are the user's own, as ``Decimal``. Not covered: buying at a discount by quantity, freight (add
an ``Item`` of the group ``other``).
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from decimal import ROUND_CEILING, Decimal
from fractions import Fraction
from typing import Literal

from reportkit.cutting.records import CutRoll, Length, exact
from reportkit.money.amounts import ONE, ZERO, decimal, offered, rounded
from reportkit.money.price import FilmLot, Item

#: Units in which film is sold by length [mm].
UNITS_MM = {"m": Fraction(1000), "ft": Fraction(3048, 10)}

#: Units in which film and glass are sold by area [mm2].
UNITS_MM2 = {"m2": Fraction(1_000_000), "ft2": Fraction(3048, 10) ** 2}

#: What film is charged by: rolls and lengths as bought, the same less the rests worth keeping, the length
#: pulled off the rolls, or the area of the pieces.
Charged = Literal["bought", "rest_credited", "length_used", "area"]

#: A roll on the shelf as ``(film, width [mm], length [mm])``.
OnShelf = tuple[str, Fraction, Fraction]


def film_items(
    rolls: Iterable[CutRoll],
    *,
    charged: Charged = "bought",
    us: bool = False,
    keep_mm: tuple[Length, Length] = (300, 300),
    shelf: Mapping[OnShelf, Decimal] | None = None,
    digits: int = 2,
    taxable: bool = True,
) -> tuple[Item, ...]:
    """Return one line per kind of roll, in the order in which the kinds first appear.

    Parameters
    ----------
    rolls
        The rolls of a cut plan.
    charged
        What film is charged by.
    us
        Whether lengths and areas of whole rolls are told in feet and square feet; film sold by length keeps
        the unit it is sold in.
    keep_mm
        Width and length from which a rest is credited [mm].
    shelf
        What a roll on the shelf cost [currency]; others there cost nothing.
    digits
        Digits of the currency's minor unit, for rates that come of a roll's price.
    taxable
        Whether the tax falls on film.

    Returns
    -------
    tuple of Item
        Whole rolls count as rolls, or as packs where they are sold in packs; lengths off one width at
        one price add up, in the unit the film is sold in, up to whole hundredths of it. Each names its lot;
        the text is the film's name. Film off the shelf is charged by the length used, or by area, at what
        it cost; where that is nothing it has no line.

    Notes
    -----
    A line is rounded once, from the quantity and the rate that are printed. A plan that prices each length
    by itself may differ from it by a minor unit. A rest is credited in hundredths down, so never for more
    than is left. By area the film between the pieces is not charged.
    """
    known = shelf or {}
    sums: dict[tuple[FilmLot, str, Decimal, bool], Fraction] = {}

    def add(lot: FilmLot, unit: str, rate: Decimal, amount: Fraction, *, credit: bool = False) -> None:
        key = (lot, unit, rate, credit)
        sums[key] = sums.get(key, Fraction(0)) + amount

    for cut in rolls:
        roll = cut.roll
        price = decimal(roll.price, f"price of {roll.film}")
        width, length = exact(roll.width_mm), exact(cut.length_mm)
        whole, way = price / roll.pack, charged
        if price == 0:  # on the shelf: the rest stays there
            whole = known.get((roll.film, width, length), ZERO)
            way = "area" if charged == "area" else "length_used"
            if whole == 0:
                continue
        elif roll.by_length:
            whole = price * Decimal(length.numerator) / length.denominator / 1000
        by_unit = roll.sold_in if roll.by_length else "ft" if us else "m"
        if roll.by_length:
            each = _rate(Fraction(price) * UNITS_MM[by_unit] / 1000)
        else:
            each = offered(_times(whole, UNITS_MM[by_unit] / length), digits)
        by_length = FilmLot(roll.film, width)
        if way == "area":
            square = "ft2" if by_unit == "ft" else "m2"
            pieces = sum(
                (p.width_mm * p.length_mm for strip in cut.strips for p in strip.pieces), Fraction(0)
            )
            rate = offered(_times(whole, UNITS_MM2[square] / (width * length)), digits)
            add(by_length, square, rate, pieces / UNITS_MM2[square])
        elif way == "length_used":
            add(by_length, by_unit, each, cut.used_mm / UNITS_MM[by_unit])
        elif roll.by_length:
            add(by_length, by_unit, each, length / UNITS_MM[by_unit])
        else:
            lot = FilmLot(roll.film, width, length, roll.pack)
            add(lot, "roll" if roll.pack == 1 else "pack", price, Fraction(1, roll.pack))
        if way == "rest_credited" and width >= exact(keep_mm[0]) and cut.left_mm >= exact(keep_mm[1]):
            add(by_length, by_unit, each, cut.left_mm / UNITS_MM[by_unit], credit=True)
    return tuple(
        Item(
            f"rest:{lot.id}" if credit else lot.id,
            "film",
            lot.film,
            _exactly(amount) if unit in ("roll", "pack") else _hundredths(amount, down=credit),
            unit,
            rate,
            taxable,
            lot,
            credit,
        )
        for (lot, unit, rate, credit), amount in sums.items()
    )


def _hundredths(amount: Fraction, *, down: bool = False) -> Decimal:
    """Return a length in hundredths, up, as it is printed: no less is bought than is needed."""
    return Decimal(math.floor(amount * 100) if down else math.ceil(amount * 100)).scaleb(-2)


def _times(price: Decimal, factor: Fraction) -> Decimal:
    return price * factor.numerator / factor.denominator


def _rate(exact: Fraction) -> Decimal:
    """Return a rate as it was typed: turned into that of a metre and back it is off by 28 figures at most."""
    rate = (Decimal(exact.numerator) / exact.denominator).quantize(Decimal("1e-9")).normalize()
    return rate.quantize(ONE) if rate == rate.to_integral_value() else rate


def _exactly(amount: Fraction) -> Decimal:
    """Return a fraction as a decimal: exact where it ends, else to the context's 28 figures."""
    value = Decimal(amount.numerator) / amount.denominator
    return value.quantize(ONE) if value == value.to_integral_value() else value


def labour_items(
    minutes: int | Decimal,
    rate_per_hour: Decimal | int | str,
    *,
    overtime: int | Decimal = 0,
    surcharge: Decimal | int | str = ZERO,
    taxable: bool = True,
    step: int = 15,
) -> tuple[Item, ...]:
    """Return the lines of labour: person-minutes, rounded up to ``step`` minutes, as hours.

    Parameters
    ----------
    minutes
        Paid person-minutes, overtime among them [min]; round a physical float up to whole minutes first.
    rate_per_hour
        [currency/h].
    overtime
        Those of them beyond the ordinary hours [min].
    surcharge
        How much more an hour of overtime costs; .5 is half as much again.
    taxable
        Whether the tax falls on labour.
    step
        Time is sold in steps of this many minutes [min].

    Returns
    -------
    tuple of Item
        Quantity in hours [h]. Overtime has a line of its own; both together are the time rounded up once.
    """
    asked, beyond = decimal(minutes, "minutes"), decimal(overtime, "overtime")
    if step < 1 or asked < 0 or not 0 <= beyond <= asked:
        raise ValueError("minutes must be 0 or more, overtime no more than that and step 1 or more")
    rate = decimal(rate_per_hour, "labour rate")
    late = _steps(beyond, step)
    rows = [("labour", "labour", _steps(asked, step) - late, rate)]
    if late:
        rows.append(("overtime", "labour, overtime", late, rate * (ONE + decimal(surcharge, "surcharge"))))
    return tuple(
        Item(id_, "labour", text, _hours(count * step), "h", each, taxable)
        for id_, text, count, each in rows
        if count or (id_ == "labour" and not late)
    )


def _steps(minutes: Decimal, step: int) -> int:
    return int((minutes / step).to_integral_value(rounding=ROUND_CEILING))


def _hours(minutes: int) -> Decimal:
    hours = rounded(Decimal(minutes) / 60, digits=4).normalize()
    return hours.quantize(ONE) if hours == hours.to_integral_value() else hours


@dataclass(frozen=True)
class Step:
    """A price for glass [currency per unit of area], up to an area [unit]; None without an end."""

    rate: Decimal
    up_to: Decimal | None = None


def area_items(
    area: Decimal, steps: Sequence[Step], *, id_: str, text: str, unit: str, taxable: bool = True
) -> tuple[Item, ...]:
    """Return glass at a price for its area: the first so many at one price, the next at another.

    Parameters
    ----------
    area
        As it is printed [unit], 0 or more.
    steps
        In rising order; the last without an end.
    id_, text
        Of the lines; the id gets the step's number, from 1.
    unit
        ``m2`` or ``ft2``.
    taxable
        Whether the tax falls on it.

    Returns
    -------
    tuple of Item
        One for each step that is reached, so that more glass never costs less; their areas sum to the area.

    Raises
    ------
    ValueError
        If the steps do not rise, or end before the area does.
    """
    ends = [step.up_to for step in steps]
    if not ends or ends[-1] is not None or any(end is None for end in ends[:-1]):
        raise ValueError("every step but the last must have an end")
    items, start = [], ZERO
    for number, step in enumerate(steps, 1):
        end = area if step.up_to is None else min(area, step.up_to)
        if step.up_to is not None and step.up_to < start:
            raise ValueError("the steps' ends must rise")
        if end > start:
            items.append(Item(f"{id_}:{number}", "area", text, end - start, unit, step.rate, taxable))
            start = end
    return tuple(items)


def in_area(square_metres: Fraction | float, unit: str) -> Decimal:
    """Return an area [m2] in hundredths of a unit, halves up, as it is printed."""
    exactly = Fraction(square_metres) * UNITS_MM2["m2"] / UNITS_MM2[unit]
    return rounded(_times(ONE, exactly), digits=2)


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
