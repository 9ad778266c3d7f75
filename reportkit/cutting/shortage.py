"""What is left over when rolls run out: film without end beside them shows which pieces they cannot hold."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from decimal import Decimal
from functools import reduce

from reportkit.base.errors import CutListError, Fault
from reportkit.base.translatable import translatable
from reportkit.base.units import mm_told
from reportkit.cutting.problem import rate
from reportkit.cutting.records import Piece, Plan, Roll, exact

#: How often dearer than the dearest roll offered the film without end is, so that it is the last resort.
DEARER = 1000
LABEL = "missing"


def name(pieces: Sequence[Piece], rule: str, source: str) -> None:
    """Raise `CutListError` with a fault for each pane of some pieces; do nothing where there are none."""
    if pieces:
        raise CutListError(
            faults=[Fault(source, 0, pane, rule) for pane in dict.fromkeys(piece.pane for piece in pieces)]
        )


def endless(rolls: Sequence[Roll]) -> list[Roll]:
    """Return film by length without end, one for each width and kind of the rolls offered."""
    price = Decimal(str(round(max(rate(roll) for roll in rolls) * 1000 * DEARER, 2))) or Decimal(1)
    kinds = dict.fromkeys((exact(roll.width_mm), roll.film, roll.directional) for roll in rolls)
    return [
        Roll(width, None, price, film, directional=directional, label=LABEL)
        for width, film, directional in kinds
    ]


def missing(plan: Plan, source: str) -> list[Fault]:
    """Return a fault for each pane that a plan cuts from the film without end; none where it needs none."""
    extra = [cut for cut in plan.rolls if cut.roll.label == LABEL]
    if not extra:
        return []
    more = reduce(
        lambda one, other: translatable("{one} and {other}", one=one, other=other),
        [
            translatable(
                "{length} more of film {width} wide",
                length=mm_told(cut.used_mm),
                width=mm_told(cut.roll.width_mm),
            )
            for cut in extra
        ],
    )
    left = Counter(placed.piece.pane for cut in extra for strip in cut.strips for placed in strip.pieces)
    return [
        Fault(
            source,
            0,
            pane,
            translatable("the rolls offered run out before this piece is cut"),
            None if count == 1 else translatable("{count} left over", count=count),
            translatable("{more} would do", more=more),
        )
        for pane, count in left.items()
    ]
