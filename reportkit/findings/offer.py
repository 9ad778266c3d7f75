"""Findings of the offer: cutting, materials, labour and price of what is chosen."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from decimal import Decimal
from itertools import accumulate
from typing import TYPE_CHECKING

from reportkit.cutting.seams import part_widths
from reportkit.findings.cutting import CutPlanFound, OtherWay, RollOffered, planned
from reportkit.findings.labelled import marked
from reportkit.findings.result import Result, Text
from reportkit.study.bydays import by_day
from reportkit.study.pricing import old_prices
from reportkit.work.labour import DEFAULTS

if TYPE_CHECKING:
    from reportkit.money.price import FilmLot
    from reportkit.study import Study
    from reportkit.work.labour import Minutes
    from reportkit.work.pieces import Cut

#: Keys of the minutes' defaults that multiply a pane's time.
SLOWER = ("timber", "arch", "outside", "step_ladder", "tower", "safety_film")


class PieceSizes(Result):
    """The sizes of the film for one row of panes."""

    pane: str
    """The pane."""
    room: str
    """Its room."""
    quantity: int
    """How many pieces alike."""
    width_mm: float
    """Width to cut [mm]."""
    height_mm: float
    """Height to cut [mm]."""
    finished_width_mm: float
    """Width as fitted [mm]."""
    finished_height_mm: float
    """Height as fitted [mm]."""
    edge_gap_mm: float
    """Gap between film and frame [mm]."""
    trimmed_on_glass: bool
    """Whether it is cut over size and trimmed on the glass."""
    reduced: bool
    """Whether the least of several measurements counts."""
    widest_mm: float
    """The largest width measured [mm]."""
    tallest_mm: float
    """The largest height measured [mm]."""
    parts_mm: tuple[float, ...]
    """Widths of its parts from the left, seen from the side the film goes on [mm]; none where it is whole."""
    seams_mm: tuple[float, ...]
    """Places of its seams on the glass from the left [mm]."""


class MaterialLine(Result):
    """One line of the kit."""

    id: str
    """What."""
    quantity: Decimal
    """How much."""
    unit: str
    """In what."""
    priced: bool
    """Whether the job gives its price."""
    pack: Decimal | None = None
    """What one bottle, box or roll of it holds; null where it is not bought so."""
    packs: int | None = None
    """How many of them to bring; null where it is not bought so."""


class MinutesFound(Result):
    """A range of minutes."""

    low: float
    """At best [min]."""
    likely: float
    """Likely [min]."""
    high: float
    """At worst [min]."""


class PaneMinutesFound(Result):
    """The minutes of one row of panes."""

    pane: str
    """The pane."""
    each_min: float
    """Likely minutes for each [min]."""
    quantity: int
    """How many."""
    people: int
    """How many people it takes."""
    slowed_by: dict[str, float]
    """What multiplies its time, and by how much [1]."""


class LabourFound(Result):
    """The minutes of the work."""

    crew: int
    """How many people."""
    set_up_min: float
    """To set up [min]."""
    elapsed_min: MinutesFound
    """By the clock."""
    person_min: MinutesFound
    """Of all people together."""
    panes: tuple[PaneMinutesFound, ...]
    """Pane by pane."""


class FilmLotFound(Result):
    """The film that a line of the price buys."""

    film: str
    """The film."""
    width_mm: float
    """Width of the roll [mm]."""
    length_mm: float | None
    """Length of the roll [mm]; null where it is sold by length."""
    pack: int
    """How many rolls are sold together."""


class PriceLine(Result):
    """One line of the price."""

    id: str
    """Its key."""
    group: str
    """What kind of line it is."""
    text: Text
    """What it is for."""
    quantity: Decimal
    """How much, as printed."""
    unit: str
    """In what."""
    rate: Decimal
    """For one, as printed [currency]."""
    amount: Decimal
    """Their product [currency]."""
    lot: FilmLotFound | None = None
    """The film it buys; only for lines of film."""
    note: str = ""
    """What the fitter typed for it: the text of a line of their own, the reason of a discount."""


class OldPrices(Result):
    """Prices or rates that are over a year old."""

    what: str
    """``film`` or ``rates``."""
    film: str | None
    """The film; null for the fitter's rates."""
    dated: dt.date
    """The day they were set or given."""


class PriceFound(Result):
    """The price of the offer."""

    currency: str
    """ISO 4217."""
    lines: tuple[PriceLine, ...]
    """Line by line."""
    net: Decimal
    """Without tax [currency]."""
    tax: Decimal
    """The tax [currency]."""
    tax_name: str
    """Its name."""
    tax_fraction: Decimal
    """Its rate [1]."""
    tax_included: bool
    """Whether the rates include it."""
    total: Decimal
    """What is to pay [currency]."""
    deposit: Decimal
    """Before the work [currency]."""
    balance: Decimal
    """After the work [currency]."""
    unpriced: tuple[str, ...]
    """Materials without a price."""
    cost: Decimal = Decimal(0)
    """What the job costs the fitter, with tax where the rates include it [currency]."""
    short_of_cost: Decimal = Decimal(0)
    """By how much the price stays under that; 0 where it does not [currency]."""
    old: tuple[OldPrices, ...] = ()
    """Prices and rates that were over a year old on the day of the offer."""


def fill_pieces(study: Study) -> tuple[PieceSizes, ...]:
    """Return the size to cut and the finished size for every pane that gets film."""
    pieces = []
    for cut in study.offer.cuts:
        parts, seams = _seams(study, cut)
        pieces.append(
            PieceSizes(
                pane=cut.opening.id,
                room=cut.opening.room,
                quantity=cut.opening.quantity,
                width_mm=float(cut.width_mm),
                height_mm=float(cut.height_mm),
                finished_width_mm=float(cut.finished_width_mm),
                finished_height_mm=float(cut.finished_height_mm),
                edge_gap_mm=float(cut.edge_gap_mm),
                trimmed_on_glass=cut.trimmed_on_glass,
                reduced=cut.reduced,
                widest_mm=float(cut.opening.widest_mm),
                tallest_mm=float(cut.opening.tallest_mm),
                parts_mm=parts,
                seams_mm=seams,
            )
        )
    return tuple(pieces)


def _seams(study: Study, cut: Cut) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Return the widths of a pane's parts and the places of its seams; none where its film is whole."""
    plan = study.offer.plan
    assert plan is not None  # what is cut is planned
    parts = part_widths(plan.pieces).get(cut.opening.id, [])
    edges = accumulate(parts[:-1])
    return tuple(float(width) for width in parts), tuple(float(edge - cut.margin_mm) for edge in edges)


def fill_cutting(study: Study) -> CutPlanFound | None:
    """Return the cut plan, and what else one could buy; None where nothing is cut."""
    plan = study.offer.plan
    if plan is None:
        return None
    others = tuple(
        OtherWay(
            kind=entry.kind,
            price=entry.price,
            extra=entry.extra,
            rolls=tuple(
                RollOffered(
                    film=cut.roll.film,
                    width_mm=float(cut.roll.width_mm),
                    length_mm=float(cut.length_mm),
                    label=cut.roll.label,
                    pack=cut.roll.pack,
                )
                for cut in entry.plan.rolls
            ),
        )
        for entry in study.alternatives
    )
    when = study.schedule
    days: Sequence[Sequence[dt.date]] = ()
    if when is not None and len(when.days) > 1:
        plan, days = by_day(plan, when, tuple(pane.id for pane in study.job.panes))
    at = study.job.status.agreed
    was = None if at is None else study.loaded.issued[at]
    return marked(planned(plan, others, days), study.job, was)


def fill_materials(study: Study) -> tuple[MaterialLine, ...]:
    """Return the kit list."""
    return tuple(
        MaterialLine(
            id=line.id,
            quantity=line.quantity,
            unit=line.unit,
            priced=line.id not in study.offer.unpriced,
            pack=line.pack,
            packs=line.packs,
        )
        for line in study.offer.materials
    )


def fill_labour(study: Study) -> LabourFound:
    """Return the minutes, pane by pane and in all."""
    labour = study.offer.labour
    return LabourFound(
        crew=labour.crew,
        set_up_min=labour.set_up.likely,
        elapsed_min=_minutes(labour.elapsed),
        person_min=_minutes(labour.person),
        panes=tuple(
            PaneMinutesFound(
                pane=line.id,
                each_min=line.each.likely,
                quantity=line.quantity,
                people=line.people,
                slowed_by={key: DEFAULTS[key].value for key in SLOWER if key in line.from_defaults},
            )
            for line in labour.panes
        ),
    )


def _minutes(span: Minutes) -> MinutesFound:
    return MinutesFound(low=span.low, likely=span.likely, high=span.high)


def _lot(lot: FilmLot | None) -> FilmLotFound | None:
    if lot is None:
        return None
    return FilmLotFound(
        film=lot.film,
        width_mm=float(lot.width_mm),
        length_mm=None if lot.length_mm is None else float(lot.length_mm),
        pack=lot.pack,
    )


def fill_price(study: Study) -> PriceFound:
    """Return the price, every amount in the job's currency."""
    made = study.offer.price
    return PriceFound(
        currency=made.currency,
        lines=tuple(
            PriceLine(
                id=line.id,
                group=line.group,
                text=line.text,
                quantity=line.quantity,
                unit=line.unit,
                rate=line.rate,
                amount=line.amount,
                lot=_lot(line.lot),
                note=line.note,
            )
            for line in made.lines
        ),
        old=tuple(
            OldPrices(what=what, film=film, dated=day)
            for what, film, day in old_prices(study.job, study.chosen.films, study.job.day)
        ),
        net=made.net,
        tax=made.tax,
        tax_name=study.job.prices.tax.name,
        tax_fraction=made.tax_rate,
        tax_included=made.tax_included,
        total=made.total,
        deposit=made.deposit,
        balance=made.balance,
        unpriced=tuple(study.offer.unpriced),
        cost=made.cost,
        short_of_cost=max(made.cost - made.subtotal, Decimal(0)),
    )
