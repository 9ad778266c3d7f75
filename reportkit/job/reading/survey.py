"""``windows.csv``: the survey, one row per pane or per group of equal panes, as spreadsheets write it.

What is read is text (see ``reportkit.job.reading.table``); lengths and rules are for ``reportkit.job.model``
and ``reportkit.job.reading.rules``.

Left and right are as seen from outside, facing the glass.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

from reportkit.base.errors import Fault
from reportkit.base.translatable import english, translatable
from reportkit.job.model import Pane
from reportkit.job.reading.table import Form, read_table
from reportkit.job.reading.words import not_known

#: Columns that are read together as one field of a pane.
READINGS = {
    "widths": ("width", "width_2", "width_3"),
    "heights": ("height", "height_2", "height_3"),
    "diagonals": ("diagonal_1", "diagonal_2"),
}
#: The columns that are, which hold lengths alone.
MEASURED = frozenset(column for parts in READINGS.values() for column in parts)
#: Every column, in the order of a pane's fields.
COLUMNS = tuple(column for name in Pane.model_fields for column in READINGS.get(name, (name,)))
REQUIRED = tuple(
    READINGS.get(name, (name,))[0] for name, field in Pane.model_fields.items() if field.is_required()
)
#: Other names under which people head the same column.
SYNONYMS = {
    "pane": "id",
    "glass": "glazing",
    "qty": "quantity",
    "count": "quantity",
    "width_1": "width",
    "height_1": "height",
    "diagonal": "diagonal_1",
    "notes": "note",
    "picture": "photo",
    "seams": "seam",
    "mullions": "mullion",
}
#: Where a pane's id stands for the first time.
FIRST_IN_LINE = english("the first is in line {line}")
#: What the survey looks like as a table.
FORM = Form(COLUMNS, REQUIRED, translatable("pane"), SYNONYMS)


def field_of(column: str) -> str:
    """Return the field of a pane that a column is read into."""
    return next((whole for whole, parts in READINGS.items() if column in parts), column)


@dataclass
class Row:
    """One row as read: what the pane is made from, and where each part stood."""

    line: int
    cells: dict[str, str]
    raw: dict[str, Any] = field(default_factory=dict)
    columns: dict[tuple[str, int], str] = field(default_factory=dict)
    headed: frozenset[str] = frozenset()

    def column(self, loc: tuple[str | int, ...]) -> str:
        """Return the column that a path inside a pane came from."""
        if len(loc) > 1 and isinstance(loc[1], int):
            return self.columns.get((str(loc[0]), loc[1]), str(loc[0]))
        name = str(loc[0]) if loc else ""
        return READINGS[name][0] if name in READINGS else name


def read_rows(shown: str, text: str) -> tuple[list[Row], list[Fault]]:
    """Return the rows of a survey and every fault of its form.

    Parameters
    ----------
    shown
        The file's name as messages show it.
    text
        The file's text, line ends as ``\\n``.
    """
    lines, faults = read_table(shown, text, FORM)
    return [row_of(entry.line, entry.cells, entry.headed) for entry in lines], faults


def row_of(line: int, cells: Mapping[str, str], headed: Iterable[str]) -> Row:
    """Return what a row of cells says of a pane; a cell that says it is not known is an empty one."""
    cells = {name: cell for name, cell in cells.items() if not not_known(cell, text=name not in MEASURED)}
    row = Row(line, dict(cells), headed=frozenset(headed))
    single = [name for name in COLUMNS if not any(name in parts for parts in READINGS.values())]
    row.raw = {name: cells[name] for name in single if name in cells}
    for whole, parts in READINGS.items():
        given = [part for part in parts if part in cells]
        if given and (whole == "diagonals" or parts[0] in cells):
            row.raw[whole] = [cells[part] for part in given]
            row.columns |= {(whole, index): part for index, part in enumerate(given)}
    return row
