"""``windows.csv``: the survey, one row per pane or per group of equal panes, as spreadsheets write it.

Commas, semicolons or tabs between the cells (told from the header row, or by a first line ``sep=;``),
decimal commas, inch signs (doubled inside quotation marks, or bare), a byte-order mark, empty rows,
empty columns at the right, lines that start with ``#``: all are read. What is read is text;
lengths and rules are for ``reportkit.job.models`` and ``reportkit.job.rules``.

Left and right are as seen from outside, facing the glass.
"""

from __future__ import annotations

import csv
import difflib
from dataclasses import dataclass, field
from typing import Any

from reportkit.errors import Fault
from reportkit.job.files import clipped

COLUMNS = (
    "id",
    "room",
    "face",
    "glazing",
    "quantity",
    "width",
    "width_2",
    "width_3",
    "height",
    "height_2",
    "height_3",
    "diagonal_1",
    "diagonal_2",
    "sill",
    "overhang",
    "overhang_above",
    "left_fin",
    "left_fin_away",
    "right_fin",
    "right_fin_away",
    "reveal",
    "horizon",
    "view_group",
    "frame",
    "access",
    "old_film",
    "escape",
    "collector",
    "edge",
    "shadow",
    "blind",
    "heater",
    "dark_frame",
    "fogged",
    "film",
    "photo",
    "note",
)
REQUIRED = ("id", "room", "face", "glazing", "width", "height")
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
}
#: Columns that are read together as one field of a pane.
READINGS = {
    "widths": ("width", "width_2", "width_3"),
    "heights": ("height", "height_2", "height_3"),
    "diagonals": ("diagonal_1", "diagonal_2"),
}
#: The most rows a survey may have.
MOST_ROWS = 2_000
#: After so many faults of form the rest of the survey is not read.
MOST_FAULTS = 300
_MOST_LINES_IN_A_CELL = 20


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
    lines = text.split("\n")
    start = next((number for number, line in enumerate(lines) if not _skipped(line)), None)
    if start is None:
        mend = f"the first row names the columns: {', '.join(REQUIRED)}"
        return [], [Fault(shown, 0, "", "must not be empty", None, mend)]
    separator = None
    if (
        lines[start].strip().strip('"').lower().startswith("sep=")
        and len(lines[start].strip().strip('"')) <= 5
    ):
        separator = (lines[start].strip().strip('"') + ",")[4]
        following = (n for n in range(start + 1, len(lines)) if not _skipped(lines[n]))
        start = next(following, start)
    if separator is None:
        separator = max(";,\t", key=lambda sign: (_outside_quotes(lines[start]).count(sign), sign == ","))
    names, faults = header_of(shown, start + 1, _cells(lines[start], separator) or [])
    rows: list[Row] = []
    number = start + 1
    while number < len(lines):
        first = number
        number, cells, wrong = _logical_row(shown, lines, number, separator, names)
        if wrong:
            faults.append(wrong)
        if len(faults) >= MOST_FAULTS:
            faults.append(Fault(shown, first + 1, "", f"must have under {MOST_FAULTS} faults to be read on"))
            break
        if cells is None or not any(cells) or cells[0].startswith("#"):
            continue
        if len(rows) == MOST_ROWS:
            faults.append(Fault(shown, first + 1, "", f"must have at most {MOST_ROWS} rows"))
            break
        row, more = row_of(shown, first + 1, names, cells, separator)
        faults += more
        rows.append(row)
    if not rows and not faults:
        faults.append(Fault(shown, 0, "", "must have at least one pane below its header row"))
    return rows, faults


def _skipped(line: str) -> bool:
    bare = line.strip(' \t,;"\u00a0')
    return not bare or bare.startswith("#")


def _outside_quotes(line: str) -> str:
    return "".join(line.split('"')[::2])


def _cells(line: str, separator: str) -> list[str] | None:
    try:
        rows = list(csv.reader([line], delimiter=separator, strict=True))
    except csv.Error:
        return None
    return [cell.replace("\u00a0", " ").strip() for cell in rows[0]] if rows else []


def _logical_row(
    shown: str, lines: list[str], number: int, separator: str, names: list[str]
) -> tuple[int, list[str] | None, Fault | None]:
    """Return the next line's number, the cells of this row, and a fault in its quotation marks."""
    line = lines[number]
    cells = _cells(line, separator)
    if cells is not None:
        return number + 1, cells, None
    if _skipped(line):
        return number + 1, None, None
    for last in range(number + 1, min(number + _MOST_LINES_IN_A_CELL, len(lines))):
        cells = _cells("\n".join(lines[number : last + 1]), separator)
        if cells is not None:
            whole = len(cells) <= len(names)
            if whole and all(
                "\n" not in cell for name, cell in zip(names, cells, strict=False) if name != "note"
            ):
                return last + 1, cells, None
            break
    mend = 'write 35 5/8 in, or as spreadsheets do "35 5/8"""'
    rule = "must close every quotation mark that opens a cell"
    column = _quoted_column(line, separator, names)
    return number + 1, None, Fault(shown, number + 1, column, rule, clipped(line), mend)


def _quoted_column(line: str, separator: str, names: list[str]) -> str:
    """Return the column of the first cell whose quotation marks do not pair up."""
    for name, cell in zip(names, line.split(separator), strict=False):
        if cell.strip().startswith('"') and cell.count('"') % 2:
            return name.lstrip("?")
    return ""


def header_of(shown: str, line: int, cells: list[str]) -> tuple[list[str], list[Fault]]:
    """Return the columns a header row names (one unknown or doubled starts with ``?``), and its faults."""
    names: list[str] = []
    faults: list[Fault] = []
    for cell in cells:
        plain = "_".join(cell.lower().replace("-", " ").replace("_", " ").split())
        name = SYNONYMS.get(plain, plain)
        if name and name not in COLUMNS:
            close = difflib.get_close_matches(name, [*COLUMNS, *SYNONYMS], 1, 0.6)
            meant = f"did you mean {SYNONYMS.get(close[0], close[0])}?" if close else None
            mend = meant or f"columns are {', '.join(COLUMNS)}"
            faults.append(Fault(shown, line, clipped(cell), "is not a column here", clipped(cell), mend))
            name = f"?{name}"
        elif name and name in names:
            faults.append(
                Fault(shown, line, name, "must be a column once", clipped(cell), "remove one of the two")
            )
            name = f"?{name}"
        names.append(name)
    while names and not names[-1]:
        names.pop()
    guessed = {difflib.get_close_matches(name[1:], COLUMNS, 1, 0.6)[0] for name in names
               if name.startswith("?") and difflib.get_close_matches(name[1:], COLUMNS, 1, 0.6)}  # fmt: skip
    for name in REQUIRED:
        if name not in names and name not in guessed:
            mend = "the first row names the columns, with , or ; or a tab between"
            faults.append(Fault(shown, line, name, "must be a column", None, mend))
    return names, faults


def row_of(
    shown: str, line: int, names: list[str], cells: list[str], separator: str
) -> tuple[Row, list[Fault]]:
    """Return what a row of cells says, and the faults of its form."""
    faults: list[Fault] = []
    extra = [cell for cell in cells[len(names) :] if cell]
    if extra:
        mend = "put the text of a cell between quotation marks when it holds the separator"
        if separator == ",":
            mend += "; with decimal commas, separate the cells by semicolons"
        rule = f"must have at most {len(names)} cells, one for each column"
        faults.append(Fault(shown, line, "", rule, clipped(separator.join(extra)), mend))
    found: dict[str, str] = {}
    for index, (name, cell) in enumerate(zip(names, cells, strict=False), 1):
        if not cell:
            continue
        if not name:
            mend = "name the column in the header row, or empty the cell"
            faults.append(
                Fault(shown, line, f"column {index}", "must be in a named column", clipped(cell), mend)
            )
        elif not name.startswith("?"):
            found[name] = cell
    row = Row(line, found, headed=frozenset(names))
    single = [name for name in COLUMNS if not any(name in parts for parts in READINGS.values())]
    row.raw = {name: found[name] for name in single if name in found}
    for whole, parts in READINGS.items():
        given = [part for part in parts if part in found]
        if given and (whole == "diagonals" or parts[0] in found):
            row.raw[whole] = [found[part] for part in given]
            row.columns |= {(whole, index): part for index, part in enumerate(given)}
    return row, faults
