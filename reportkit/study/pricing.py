"""The price of an offer by the job's own rates: what it costs, how it is charged, how the client reads it."""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Collection, Mapping, Sequence
from decimal import Decimal
from fractions import Fraction
from functools import partial
from typing import TYPE_CHECKING, Literal

from reportkit import cutting, money
from reportkit.base.translatable import english, joined, translatable
from reportkit.money.costs import OnShelf, Step
from reportkit.money.price import MarginKind, Shown
from reportkit.work.labour import Labour, PaneWork, overtime

if TYPE_CHECKING:
    from reportkit.job import LoadedJob
    from reportkit.job.model import FilmSpec, Job, Prices
    from reportkit.job.model.prices import AreaRate, Harder
    from reportkit.work.materials import Material

#: The pricing's words for what a margin is counted on, by the job file's words.
MARGINS: dict[str, MarginKind] = {"cost": "mark_up_on_cost", "price": "margin_on_price"}

#: What makes panes harder, as their line of the price says it.
HARDER: dict[Harder, str] = {
    "divided": english("small divided panes"),
    "old_film": english("old film off"),
    "large": english("large panes"),
    "timber": english("timber or putty"),
    "outside": english("film outside"),
    "step_ladder": english("from a step-ladder"),
    "tower": english("from a tower"),
    "safety_film": english("thick film"),
}


def price(
    loaded: LoadedJob,
    films: Mapping[str, FilmSpec],
    plan: cutting.Plan | None,
    kit: Sequence[Material],
    labour: Labour,
    glass: Sequence[tuple[PaneWork, Fraction]],
) -> tuple[money.Price, tuple[str, ...]]:
    """Return the price of an offer, and the materials that the job gives no price for.

    Parameters
    ----------
    loaded
        The job.
    films
        Every film by its id.
    plan
        How its film is cut; None where it is not.
    kit, labour
        What it takes.
    glass
        The panes with film, each with the area of all alike that counts for prices by area [m2].
    """
    from babel.numbers import get_currency_precision

    job = loaded.job
    rates, quote = job.prices, job.quote
    digits = get_currency_precision(job.currency)
    us = job.units == "us"
    by_id = {"soap": rates.soap_per_litre, "blades": rates.blade_each, "floor_sheets": rates.sheet_each}
    small, unpriced = money.material_items(
        [_priced(line) for line in kit], {name: rate for name, rate in by_id.items() if rate}
    )
    film = (
        money.film_items(
            plan.rolls,
            charged=rates.film_charged,
            us=us,
            keep_mm=plan.keep_mm,
            shelf=_shelf(films),
            digits=digits,
        )
        if plan
        else ()
    )
    costs = [*film, *small]
    rest: list[money.Item] = []
    if labour.panes:
        if rates.labour_per_hour is not None:  # nobody pays people in their own home
            costs += _labour(loaded, rates.labour_per_hour, labour)
        if rates.travel:
            travel = money.Item("travel", "other", "travel", Decimal(1), "job", rates.travel)
            costs.append(travel)
        if rates.call_out:
            rest.append(money.Item("call_out", "call_out", "call-out", Decimal(1), "job", rates.call_out))
        rest += [
            money.Item(
                f"extra:{number}", "extra", "extra", line.quantity, line.unit, line.price, note=line.text
            )
            for number, line in enumerate(quote.extras if quote else (), 1)
        ]
    charged = costs
    if rates.area_rates:
        charged = [*_by_area(rates, glass), *(item for item in costs if item.group == "other")]
    off = job.discount
    made = money.quote(
        [*charged, *rest],
        currency=job.currency,
        digits=digits,
        margin=money.Margin(MARGINS[rates.margin_on], _share(rates.margin_percent)),
        discount_share=_share(off.percent) if off and off.percent else Decimal(0),
        discount_amount=off.amount if off and off.amount else Decimal(0),
        discount_note=off.reason if off else "",
        minimum=rates.minimum_charge,
        tax=money.Tax(_share(rates.tax.percent), rates.tax.prices_include_it, rates.tax.name),
        deposit_share=_share(quote.deposit_percent if quote else 0),
        shown=_shown(
            quote.shown if quote else "lines", sum((area for _, area in glass), Fraction(0)), digits, us=us
        ),
        costs=[*costs, *rest],
    )
    return made, unpriced


def _share(percent: float) -> Decimal:
    return Decimal(str(percent)) / 100


def _priced(line: Material) -> tuple[str, str, Decimal, str]:
    """Return a material as it is priced: soap by the litre."""
    by_litre = line.unit == "ml"
    quantity = line.quantity / 1000 if by_litre else line.quantity
    return line.id, line.text, quantity, "L" if by_litre else line.unit


def _shelf(films: Mapping[str, FilmSpec]) -> dict[OnShelf, Decimal]:
    """Return what the rolls on the shelf cost that have a cost."""
    return {
        (name, entry.width, entry.length): entry.stock_paid
        for name, spec in films.items()
        for entry in spec.rolls
        if entry.in_stock and entry.length is not None and entry.stock_paid
    }


def _labour(loaded: LoadedJob, rate: Decimal, labour: Labour) -> tuple[money.Item, ...]:
    rates, how = loaded.job.prices, loaded.job.fitting
    late = 0.0
    if rates.overtime_after_hours is not None:
        day = _minutes(how.finish) - _minutes(how.start)
        late = overtime(labour.elapsed.likely, day=day, after=60 * rates.overtime_after_hours) * labour.crew
    paid = math.ceil(labour.person.likely)
    return money.labour_items(
        paid,
        rate,
        overtime=min(math.ceil(late), paid),
        surcharge=_share(rates.overtime_percent),
    )


def _minutes(clock: str) -> int:
    hours, minutes = clock.split(":")
    return 60 * int(hours) + int(minutes)


def _by_area(rates: Prices, glass: Sequence[tuple[PaneWork, Fraction]]) -> list[money.Item]:
    """Return the glass at its price by area: each pane at the first rate that fits it."""
    groups: dict[tuple[Harder, ...], list[AreaRate]] = {}
    for entry in rates.area_rates:
        groups.setdefault(entry.panes, []).append(entry)
    order = sorted(groups, key=lambda words: not words)  # the rate for all others comes last
    areas = dict.fromkeys(groups, Fraction(0))
    for work, area in glass:
        marks = harder(work)
        mine = next(words for words in order if not words or marks & set(words))
        areas[mine] += area
    items: list[money.Item] = []
    for words, steps in groups.items():
        unit = "ft2" if steps[0].per_m2 is None else "m2"
        text = english("Film supplied and fitted")
        if words:
            mind = joined(", ", [translatable(HARDER[word]) for word in words])
            text = translatable("Film supplied and fitted: {panes}", panes=mind)
        ends = [None if step.up_to is None else money.in_area(step.up_to, unit) for step in steps]
        items += money.area_items(
            money.in_area(areas[words], unit),
            [Step(step.rate, end) for step, end in zip(steps, ends, strict=True)],
            id_=":".join(["area", *words]),
            text=text,
            unit=unit,
        )
    return items


def harder(work: PaneWork) -> set[Harder]:
    """Return what makes a pane harder to fit, in the job file's words."""
    slow = set(work.slowed_by())
    difficulties: dict[Harder, bool] = {
        "divided": work.divided,
        "old_film": work.old_film,
        "large": work.large(),
        "timber": work.timber,
        "outside": work.outside,
        "step_ladder": "step_ladder" in slow,
        "tower": "tower" in slow,
        "safety_film": "safety_film" in slow,
    }
    return {word for word, holds in difficulties.items() if holds}


def _shown(way: str, area: Fraction, digits: int, *, us: bool) -> Shown:
    unit = "ft2" if us else "m2"
    glass = money.in_area(area, unit)
    if way == "area" and glass:
        return partial(money.by_area, area=glass, unit=unit, digits=digits)
    return tuple if way == "lines" else money.as_sum


#: Prices older than this on the day of an offer are said to be old [months].
OLD_MONTHS = 12


def old_prices(
    job: Job, films: Collection[str], day: dt.date
) -> list[tuple[Literal["film", "rates"], str | None, dt.date]]:
    """Return the prices that are over a year old on a day: of some films, and the job's rates.

    Parameters
    ----------
    job
        The job.
    films
        Ids of the films that count.
    day
        The day the prices are to hold on.

    Returns
    -------
    list of tuple
        ``film`` or ``rates``, the film's id or None, and the day they were set or given.
    """
    dated: list[tuple[Literal["film", "rates"], str | None, dt.date | None]] = [
        ("film", film.id, film.priced_on) for film in job.films if film.id in films
    ]
    dated.append(("rates", None, job.prices.dated))
    return [(what, film, set_on) for what, film, set_on in dated if set_on and is_old(set_on, day)]


def is_old(set_on: dt.date, day: dt.date) -> bool:
    """Return whether a price was set over `OLD_MONTHS` months before a day."""
    years, month = divmod(set_on.year * 12 + set_on.month - 1 + OLD_MONTHS, 12)
    return (years, month + 1, set_on.day) < (day.year, day.month, day.day)
