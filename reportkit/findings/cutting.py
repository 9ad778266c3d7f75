"""Findings of the cut plan: rolls, strips, pieces, and the proof."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from decimal import Decimal

from reportkit.cutting.records import Piece, Plan
from reportkit.findings.result import Result, Share, Text


class SeamPart(Result):
    """Which part of a seamed pane a piece is, and of how many."""

    part: int
    """Counted from 1, from the left edge of the pane's piece [1]."""
    parts: int
    """How many pieces the pane is made of [1]."""


class PlacedPiece(Result):
    """A piece in a strip."""

    pane: str
    """Its pane."""
    x_mm: float
    """From the roll's left edge [mm]."""
    width_mm: float
    """Across the roll [mm]."""
    length_mm: float
    """Along the roll [mm]."""
    turned: bool
    """Whether its height lies across the roll."""
    seam: SeamPart | None
    """Which part of a pane it is; null where it is whole."""
    y_mm: float = 0.0
    """From the start of its strip [mm]."""
    changed: bool | None = None
    """Whether film, size or place on the roll is not what was sent; null where that is not known."""


class StripFound(Result):
    """A strip cut across the roll."""

    y_mm: float
    """From the start of the roll [mm]."""
    length_mm: float
    """Along the roll [mm]."""
    pieces: tuple[PlacedPiece, ...]
    """From the left."""
    day: dt.date | None = None
    """The day it is cut on; null where the work is done in one, or no day is set."""


class RollFound(Result):
    """A roll, or a length of one, and what is cut from it."""

    film: str
    """Its film."""
    width_mm: float
    """Its width [mm]."""
    length_mm: float
    """Its length as bought [mm]."""
    price: Decimal
    """Its price [currency]; 0 off the shelf."""
    label: Text
    """What it is called."""
    pack: int
    """How many are sold together."""
    left_mm: float
    """What is left of its length [mm]."""
    strips: tuple[StripFound, ...]
    """From its start."""


class Offcut(Result):
    """A piece left over that is worth keeping."""

    roll: int
    """Index of its roll."""
    width_mm: float
    """Its width [mm]."""
    length_mm: float
    """Its length [mm]."""


class RollOffered(Result):
    """A roll of another way to buy."""

    film: str
    """Its film."""
    width_mm: float
    """Its width [mm]."""
    length_mm: float
    """Its length [mm]."""
    label: Text
    """What it is called."""
    pack: int
    """How many are sold together."""


class OtherWay(Result):
    """What else one could buy."""

    kind: str
    """What is different."""
    price: Decimal
    """Its price [currency]."""
    extra: Decimal
    """How much more that is [currency]."""
    rolls: tuple[RollOffered, ...]
    """What one would buy."""


class CutPlanFound(Result):
    """The cut plan and its proof."""

    rolls: tuple[RollFound, ...]
    """What is bought and how it is cut."""
    bought_m2: float
    """Film bought [m2]."""
    used_m2: float
    """Film in pieces [m2]."""
    glass_m2: float
    """Glass covered [m2]."""
    waste_fraction: Share
    """Film bought that covers no glass [1]."""
    kept_m2: float
    """Film that stays on the rolls and is worth keeping [m2]."""
    lost_fraction: Share
    """Film bought that neither covers glass nor is kept [1]."""
    price: Decimal
    """Price of the film [currency]."""
    lower_bound: Decimal
    """No plan costs less [currency]."""
    proven: bool
    """Whether no plan costs less than this one."""
    gap_fraction: float
    """How far the price lies above the bound [1]."""
    used_length_mm: float
    """Length cut off rolls [mm]."""
    film_bound_m2: float
    """No plan at this price takes less film [m2]."""
    proven_film: bool
    """Whether no plan at this price takes less film."""
    stages: int
    """Guillotine stages."""
    table_mm: float | None
    """The longest strip the table holds [mm]; null where it is not limited."""
    verdict: Text
    """The proof in words."""
    offcuts: tuple[Offcut, ...]
    """What is left over."""
    notes: tuple[Text, ...]
    """What to know when cutting."""
    alternatives: tuple[OtherWay, ...] | None = None
    """What else one could buy; left out where that was not looked for."""


def _seam(piece: Piece) -> SeamPart | None:
    """Return which part of a seamed pane a piece is; None for a whole one."""
    return SeamPart(part=piece.part, parts=piece.parts) if piece.parts > 1 else None


def planned(
    plan: Plan,
    alternatives: tuple[OtherWay, ...] | None = None,
    days: Sequence[Sequence[dt.date]] = (),
) -> CutPlanFound:
    """Return a plan as findings, with what else one could buy where that was looked for.

    ``days`` are those of each strip of each roll; empty where there are no several.
    """
    return CutPlanFound(
        rolls=tuple(
            RollFound(
                film=cut.roll.film,
                width_mm=float(cut.roll.width_mm),
                length_mm=float(cut.length_mm),
                price=cut.price,
                label=cut.roll.label,
                pack=cut.roll.pack,
                left_mm=float(cut.left_mm),
                strips=tuple(
                    StripFound(
                        y_mm=float(strip.y_mm),
                        length_mm=float(strip.length_mm),
                        day=days[number][index] if days else None,
                        pieces=tuple(
                            PlacedPiece(
                                pane=placed.piece.id,
                                x_mm=float(placed.x_mm),
                                width_mm=float(placed.width_mm),
                                length_mm=float(placed.length_mm),
                                turned=placed.turned,
                                seam=_seam(placed.piece),
                                y_mm=float(placed.y_mm),
                            )
                            for placed in strip.pieces
                        ),
                    )
                    for index, strip in enumerate(cut.strips)
                ),
            )
            for number, cut in enumerate(plan.rolls)
        ),
        bought_m2=plan.bought_m2,
        used_m2=plan.used_m2,
        glass_m2=plan.glass_m2,
        waste_fraction=plan.waste_fraction,
        kept_m2=plan.kept_m2,
        lost_fraction=plan.lost_fraction,
        price=plan.price,
        lower_bound=plan.lower_bound,
        proven=plan.proven,
        gap_fraction=plan.gap,
        used_length_mm=float(plan.used_mm),
        film_bound_m2=plan.film_bound_m2,
        proven_film=plan.proven_film,
        stages=plan.stages,
        table_mm=None if plan.table_mm is None else float(plan.table_mm),
        verdict=plan.verdict,
        offcuts=tuple(
            Offcut(roll=index, width_mm=float(width), length_mm=float(length))
            for index, width, length in plan.offcuts
        ),
        notes=tuple(plan.notes),
        alternatives=alternatives,
    )
