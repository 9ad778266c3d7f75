"""A cut plan by itself: from a list of pieces and rolls, without a job."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from reportkit import cutting
from reportkit.base.errors import CutListError
from reportkit.job.reading.cutlist import CutList, read_cutlist


@dataclass(frozen=True)
class CutAlone:
    """A list, its plan, and what else one could buy."""

    source: CutList
    plan: cutting.Plan
    alternatives: tuple[cutting.Alternative, ...]


def cut_alone(path: Path, rolls: Sequence[str], *, table: str | None = None, stages: int = 2) -> CutAlone:
    """Plan the cutting of a list.

    Parameters
    ----------
    path
        CSV of pieces.
    rolls
        Rolls as typed, ``WIDTHxLENGTH@PRICE`` or ``WIDTH@PRICE/m``.
    table
        Longest strip the table takes, as typed; None for no limit.
    stages
        2 or 3.

    Raises
    ------
    CutListError
        If the list holds faults, or no plan exists; each with file and line.
    PlanError
        If the plan found breaks a rule.
    """
    source = read_cutlist(path, rolls, table)
    pieces = [
        cutting.Piece(
            id=row.id,
            width_mm=row.width_mm,
            length_mm=row.length_mm,
            quantity=row.quantity,
            turn=row.turn,
            group=row.group,
            seams_mm=row.seams_mm,
        )
        for row in source.pieces
    ]
    offered = [cutting.Roll(roll.width_mm, roll.length_mm, roll.price) for roll in source.rolls]
    try:
        best = cutting.plan(
            pieces,
            offered,
            table_mm=source.table_mm,
            stages=stages,
            mode="exact",
            source=source.file,
        )
    except CutListError as error:
        raise CutListError(faults=source.located(error.faults)) from error
    others = cutting.alternatives(best, pieces, offered, table_mm=source.table_mm, stages=stages)
    return CutAlone(source, best, others)
