"""From the films on the panes to an offer: pieces, rolls, materials, minutes, price."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from typing import TYPE_CHECKING, Any, Literal

from reportkit import cutting, money
from reportkit.base.errors import CutListError, Fault, JobError
from reportkit.base.translatable import translatable
from reportkit.cutting.lengths import lengths_needed
from reportkit.job.reading.defaults import SAFETY_UM
from reportkit.job.reading.messages import in_own_units
from reportkit.job.reading.sides import base_of
from reportkit.study import pricing, translate
from reportkit.work.labour import Labour, PaneWork, labour, with_own
from reportkit.work.materials import Glass, Material, materials
from reportkit.work.pieces import Cut, cut_size, pieces, within

if TYPE_CHECKING:
    from reportkit.job import LoadedJob
    from reportkit.job.model import FilmSpec, RollOffer

#: Labour's words for who fits, by the job file's words.
FITTERS: dict[str, Literal["fitter", "first_timer"]] = {"trained": "fitter", "first_timer": "first_timer"}

#: Labour's keys that each of the fitter's own minutes stands for.
OWN_MINUTES: dict[str, tuple[str, ...]] = {
    "plain": ("fitter", "fitter_many", "first_timer", "first_timer_many"),
    "large": ("large",),
    "divided": ("divided", "divided_many"),
    "old_film_per_m2": ("old_film",),
    "set_up": ("set_up",),
}

#: A pane at most this large, among at least `DIVIDED_FROM` alike, counts as one of a divided window.
DIVIDED_M2 = 0.25
DIVIDED_FROM = 4


@dataclass(frozen=True, eq=False)
class Offer:
    """What it takes to fit an option, and what it costs.

    ``plan`` is None where no pane gets film, or where ``faults`` say why the rolls cannot hold the pieces:
    then ``price`` leaves the film out and ``total`` is None. ``pieces`` and ``rolls`` are what the plan was
    made from. ``unpriced`` names materials without a price in the job.
    """

    cuts: tuple[Cut, ...]
    pieces: tuple[cutting.Piece, ...]
    rolls: tuple[cutting.Roll, ...]
    plan: cutting.Plan | None
    materials: tuple[Material, ...]
    labour: Labour
    price: money.Price
    unpriced: tuple[str, ...]
    faults: tuple[Fault, ...] = ()

    @property
    def total(self) -> Decimal | None:
        """What the client pays [currency]; None where the film cannot be cut."""
        return None if self.faults else self.price.total


#: From the film on each pane, None where it stays bare, to the offer with the quick cut plan.
QuickOffer = Callable[[tuple[str | None, ...]], Offer]


def rolls(specs: Sequence[FilmSpec]) -> list[cutting.Roll]:
    """Return every way in which some films can be had: bought whole or by length, or off the shelf."""
    offered = []
    for spec in specs:
        for entry in spec.rolls:
            bought = _bought(spec, entry)
            offered += [bought] if bought else []
            if entry.in_stock and entry.length is not None:
                offered.append(
                    cutting.Roll(
                        width_mm=entry.width,
                        length_mm=entry.length,
                        film=spec.id,
                        stock=entry.in_stock,
                        directional=not spec.turn,
                        label="shelf",
                    )
                )
    return offered


def _bought(spec: FilmSpec, entry: RollOffer) -> cutting.Roll | None:
    """Return how an entry is bought; None where its rolls are on the shelf only."""
    whole = entry.price is not None
    per_metre = entry.price_per_m
    if entry.price_per_ft is not None:
        per_metre = entry.price_per_ft / Decimal("0.3048")
    price = entry.price if whole else per_metre
    if price is None:
        return None
    return cutting.Roll(
        width_mm=entry.width,
        length_mm=entry.length if whole else None,
        price=price,
        film=spec.id,
        sold_in="m" if entry.price_per_ft is None else "ft",
        pack=entry.pack,
        step_mm=None if whole else entry.step,
        most_mm=None if whole else entry.length,
        directional=not spec.turn,
    )


def offer(
    film_by_pane: Sequence[str | None],
    loaded: LoadedJob,
    films: dict[str, FilmSpec],
    *,
    mode: Literal["quick", "exact"],
) -> Offer:
    """Return the offer for films on panes.

    Parameters
    ----------
    film_by_pane
        The film on each pane of the job, None where it stays bare.
    loaded
        The job.
    films
        Every film by its id.
    mode
        ``quick`` for a comparison, ``exact`` for the order.
    """
    job = loaded.job
    how = job.fitting
    filmed = [(pane, name) for pane, name in zip(job.panes, film_by_pane, strict=True) if name]
    used = tuple(dict.fromkeys(name for _, name in filmed))
    assert how.edge_gap is not None and how.edge_gap_safety is not None  # filled in when the job was read
    made: list[cutting.Piece] = []
    cuts: list[Cut] = []
    glass: list[tuple[PaneWork, Fraction]] = []
    for film_id in used:
        spec = films[film_id]
        had = rolls([spec])
        bought = [roll for roll in had if roll.stock is None] or had
        own = [
            within(
                cut_size(
                    translate.opening(pane),
                    edge_gap_mm=how.edge_gap_safety if spec.worked_um >= SAFETY_UM else how.edge_gap,
                    method=how.method,
                    first_timer=how.fitter == "first_timer",
                    trim_mm=how.trim_allowance,
                ),
                bought,
                table_mm=how.table,
                turn=spec.turn,
            )
            for pane, name in filmed
            if name == film_id
        ]
        cuts.extend(own)
        outside = spec.side == "outside"
        made.extend(pieces(own, film=film_id, turn=spec.turn, spare=how.spare, outside=outside))
    alike = Counter[str]()  # a pane singled out of its row is alike the others all the same
    for pane, _ in filmed:
        alike[pane.row] += pane.quantity
    for pane, name in filmed:
        spec = films[name]
        area = pane.area_mm2 / 1e6
        work = PaneWork(
            id=pane.id,
            width_mm=round(pane.width),
            height_mm=round(pane.height),
            quantity=pane.quantity,
            fill=pane.fill,
            arch=pane.fill < 1,
            timber=pane.frame in ("timber", "putty"),
            divided=area <= DIVIDED_M2 and alike[pane.row] >= DIVIDED_FROM,
            old_film=pane.old_film,
            outside=spec.side == "outside",
            access=pane.access,
            film_thickness_um=spec.worked_um,
        )
        counted = pane.area if job.prices.shapes_counted == "glass" else pane.width * pane.height
        glass.append((work, counted * pane.quantity / 1_000_000))
    had = rolls([films[name] for name in used])
    offered = [
        roll
        for roll in had
        for _ in range(lengths_needed(roll, made, table_mm=how.table) if roll.by_length else 1)
    ]
    plan = None
    faults: tuple[Fault, ...] = ()
    if made:
        try:
            plan = cutting.plan(made, offered, mode=mode, **_table(loaded))
        except CutListError:
            faults = _faults(made, offered, loaded)
    own_minutes = {
        key: value for name, value in how.minutes if value is not None for key in OWN_MINUTES[name]
    }
    minutes = labour(
        [work for work, _ in glass],
        who=FITTERS[how.fitter],
        crew=how.crew,
        defaults=with_own(own_minutes),
    )
    kit = materials(
        [Glass(work.width_mm, work.height_mm, work.quantity, work.fill) for work, _ in glass],
        outside=any(films[name].side == "outside" for name in used),
        crew=minutes.crew,
    )
    price, unpriced = pricing.price(loaded, films, plan, kit, minutes, glass)
    return Offer(tuple(cuts), tuple(made), tuple(offered), plan, kit, minutes, price, unpriced, faults)


def _faults(
    made: Sequence[cutting.Piece], offered: Sequence[cutting.Roll], loaded: LoadedJob
) -> tuple[Fault, ...]:
    """Return why the rolls of a film cannot hold its pieces, as faults of the film's field."""
    faults: list[Fault] = []
    for film in dict.fromkeys(piece.film for piece in made):
        mine = [piece for piece in made if piece.film == film]
        try:
            cutting.plan(mine, offered, mode="quick", **_table(loaded))
        except CutListError as error:
            name = base_of(film)
            file, line = loaded.rolls_at[film]
            for fault in error.faults:
                hint = fault.hint or translatable("offer more, wider or longer rolls of this film")
                wrong = Fault(file, line, f"films.{name}.rolls", fault.rule, fault.field or None, hint)
                faults.append(in_own_units(wrong, loaded.job.units))
    return tuple(faults)


def possible(made: Offer) -> Offer:
    """Return an offer, or raise `JobError` where its film cannot be cut from the rolls given."""
    if made.faults:
        raise JobError(faults=made.faults)
    return made


def alternatives(made: Offer, loaded: LoadedJob) -> tuple[cutting.Alternative, ...]:
    """Return what else one could buy for an offer, and what keeping one roll width would cost."""
    if made.plan is None:
        return ()
    return cutting.alternatives(made.plan, made.pieces, made.rolls, **_table(loaded))


def _table(loaded: LoadedJob) -> dict[str, Any]:
    how = loaded.job.fitting
    return {
        "table_mm": how.table,
        "stages": how.stages,
        "keep_mm": how.keep_offcut or (Fraction(300), Fraction(300)),
    }
