"""Labels for cut pieces: what stands on each, and the sheets of labels they are printed on.

Sheets of labels are sold in a few sizes everywhere; the two here are the most common on their paper (common
practice, no source). A sheet of another size is not covered.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from reportkit.documents.blocks import Block


@dataclass(frozen=True)
class Sheet:
    """A sheet of labels: how many across and down, and where they lie [mm]."""

    columns: int
    rows: int
    width_mm: float
    height_mm: float
    left_mm: float
    top_mm: float
    across_mm: float
    down_mm: float

    @property
    def count(self) -> int:
        """How many labels a sheet has."""
        return self.columns * self.rows


#: By paper: three across and ten down of 2 5/8 by 1 in; three across and seven down of 63.5 by 38.1 mm.
#: ``across_mm`` and ``down_mm`` are the distances from one label's edge to the next one's.
SHEETS: dict[Literal["us-letter", "a4"], Sheet] = {
    "us-letter": Sheet(3, 10, 66.675, 25.4, 4.7625, 12.7, 69.85, 25.4),
    "a4": Sheet(3, 7, 63.5, 38.1, 7.25, 15.15, 66.0, 38.1),
}


@dataclass(frozen=True)
class Label:
    """What stands on one label.

    Parameters
    ----------
    code
        The pane.
    place
        Roll and strip it is cut from.
    size
        Width by height of the piece, upright as it hangs.
    lines
        Room, face, film and the side of the glass it goes on, what else to know.
    up
        The word beside the arrow that points to the top of the pane.
    mark
        That the piece is not what its label said before; empty where it is.
    which
        Which pane of its row, written behind the code, such as ``.2``; empty where it is the only one.
    """

    code: str
    place: str
    size: str
    lines: Sequence[str]
    up: str
    mark: str = ""
    which: str = ""


@dataclass(frozen=True)
class Labels(Block):
    """Labels in the order they are cut, on sheets of one kind.

    ``first`` is the label of the first sheet to begin at, counted along the rows from 1.
    """

    labels: Sequence[Label]
    sheet: Sheet
    first: int = 1
