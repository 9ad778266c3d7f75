"""Which cut pieces are other than the offer that the client has said: their labels of then would be wrong.

Compared is what a label says of its piece: film, roll and strip, size, turned or not, the part of a seamed
pane; not the words. Panes of one row are alike, whichever of them stand for themselves.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from reportkit.work.pieces import SPARE

if TYPE_CHECKING:
    from reportkit.findings.cutting import CutPlanFound
    from reportkit.job.model import Job
    from reportkit.job.model.issued import CuttingWas, Issued

#: Sizes nearer than this are the same: half of a sixteenth of an inch (common practice, no source) [mm].
SAME_MM = 0.8

Sizes = list[tuple[float, float]]


def marked(plan: CutPlanFound, job: Job, was: Issued | None) -> CutPlanFound:
    """Return a plan whose pieces say whether they changed; as it is where what was sent is not known.

    Parameters
    ----------
    plan
        The plan of now.
    job
        The job.
    was
        What the client has, None where nothing was sent or it is not kept.
    """
    if was is None or was.cutting is None:
        return plan
    then = _labels(was.cutting, {pane.id: pane.id.removesuffix(f".{pane.number}") for pane in was.panes})
    rows = {pane.id: pane.row for pane in job.panes}
    rolls = []
    for number, roll in enumerate(plan.rolls):
        strips = []
        for index, strip in enumerate(roll.strips):
            pieces = tuple(
                piece.model_copy(
                    update={"changed": not _taken(then, _key(roll, number, index, piece, rows), piece)}
                )
                for piece in strip.pieces
            )
            strips.append(strip.model_copy(update={"pieces": pieces}))
        rolls.append(roll.model_copy(update={"strips": tuple(strips)}))
    return plan.model_copy(update={"rolls": tuple(rolls)})


def _labels(plan: CuttingWas, rows: Mapping[str, str]) -> dict[tuple[Any, ...], Sizes]:
    """Return the sizes of a plan's pieces by what else their labels say."""
    sizes: dict[tuple[Any, ...], Sizes] = {}
    for number, roll in enumerate(plan.rolls):
        for index, strip in enumerate(roll.strips):
            for piece in strip.pieces:
                key = _key(roll, number, index, piece, rows)
                sizes.setdefault(key, []).append((piece.width_mm, piece.length_mm))
    return sizes


def _key(roll: Any, number: int, strip: int, piece: Any, rows: Mapping[str, str]) -> tuple[Any, ...]:
    """Return what a label says of a piece beside its size; ``roll`` and ``piece`` are of now or of then."""
    pane = piece.pane.removesuffix(SPARE)
    seam = piece.seam and (piece.seam.part, piece.seam.parts)
    return (rows.get(pane, pane), piece.pane != pane, roll.film, number, strip, piece.turned, seam)


def _taken(then: dict[tuple[Any, ...], Sizes], key: tuple[Any, ...], piece: Any) -> bool:
    """Take the label of a piece of this size out of those of then; return whether there was one."""
    for size in then.get(key, ()):
        if max(abs(size[0] - piece.width_mm), abs(size[1] - piece.length_mm)) <= SAME_MM:
            then[key].remove(size)
            return True
    return False
