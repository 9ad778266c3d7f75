"""What else one could buy, and what a wish costs: other mixes of rolls, one width only, no view groups."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Any

from reportkit.base.errors import CutListError, PlanError
from reportkit.cutting.planner import plan
from reportkit.cutting.records import Piece, Plan, Roll, exact, number


@dataclass(frozen=True)
class Alternative:
    """Another way to buy, what it costs in all, and how much more than the plan [currency].

    `kind` is ``next_mix`` (without one of the rolls the plan uses), ``one_width`` or ``no_groups``.
    """

    kind: str
    label: str
    price: Decimal
    extra: Decimal
    plan: Plan


def alternatives(
    best: Plan,
    pieces: Sequence[Piece],
    rolls: Sequence[Roll],
    *,
    mode: str = "quick",
    **options: Any,
) -> tuple[Alternative, ...]:
    """Return the next cheapest mix, the cheapest single width, and what dropping the view groups saves.

    Parameters
    ----------
    best : Plan
        The plan to compare with.
    pieces, rolls : sequences of Piece and Roll
        As given to `plan`, with the same `options`.
    mode : str
        How hard to try, as for `plan`.

    Returns
    -------
    tuple of Alternative
        Those that exist; a wish that cannot be met, or changes nothing, is left out. The next mix is the
        cheapest that does without one kind of roll that the plan buys; `extra` is below 0 for a saving.
    """

    tried: dict[tuple[bool, tuple[Roll, ...]], Plan | None] = {}  # some are asked for twice

    def attempt(some_pieces: Sequence[Piece], some_rolls: Sequence[Roll]) -> Plan | None:
        key = (some_pieces is pieces, tuple(some_rolls))
        if key not in tried:
            try:
                tried[key] = plan(some_pieces, some_rolls, mode=mode, **options)
            except (CutListError, PlanError):
                tried[key] = None
        return tried[key]

    def entry(kind: str, label: str, other: Plan) -> Alternative:
        return Alternative(kind, label, other.price, other.price - best.price, other)

    def of(plan: Plan) -> str:
        counts: dict[str, int] = {}
        for cut in plan.rolls:
            counts[cut.roll.name] = counts.get(cut.roll.name, 0) + 1
        return ", ".join(name if count == 1 else f"{count} of {name}" for name, count in counts.items())

    entries = []
    bought = list(dict.fromkeys(cut.roll for cut in best.rolls if cut.price > 0))
    others = []
    for roll in bought:
        rest = [other for other in rolls if other != roll]
        other = attempt(pieces, rest) if rest else None
        if other is not None and not any(piece.piece.parts > 1 for piece in other.pieces):
            others.append(other)
    if others:
        next_best = min(others, key=lambda other: (other.price, other.used_m2))
        entries.append(entry("next_mix", of(next_best), next_best))
    widths = sorted({exact(cut.roll.width_mm) for cut in best.rolls})
    if len(widths) > 1:
        single = []
        for width in sorted({exact(roll.width_mm) for roll in rolls}):
            other = attempt(pieces, [roll for roll in rolls if exact(roll.width_mm) == width])
            if other is not None and not any(piece.piece.parts > 1 for piece in other.pieces):
                single.append((other.price, width, other))
        if single:
            _, width, other = min(single, key=lambda s: s[:2])
            entries.append(entry("one_width", f"one width only, {number(width):g} mm", other))
    if any(piece.group for piece in pieces):
        other = attempt([replace(piece, group="") for piece in pieces], rolls)
        if other is not None and other.price < best.price:
            entries.append(entry("no_groups", "view groups dropped; shade may differ side by side", other))
    return tuple(entries)
