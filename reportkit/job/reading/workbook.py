"""``windows.xlsx``: the survey as a workbook, read cell by cell into the same rows as ``windows.csv``.

A workbook is an Office Open XML spreadsheet (ISO/IEC 29500). Its first row that names columns is the
header; empty rows, rows that start with ``#``, and whatever the other sheets hold are passed over.
A cell holds a text or a number. What a person could not see, or the program could not be sure of, is
refused with its sheet, row and column: formulas (their value may be old), dates (a spreadsheet turns
``5/8`` into one), merged cells, hidden rows and columns that hold something.

What is refused of the file as a whole: `reportkit.job.reading.bookfile`.
"""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, replace
from typing import Any

from reportkit.base.errors import Fault
from reportkit.base.translatable import Translatable, translatable
from reportkit.base.units import two_readings
from reportkit.job.reading.bookfile import opened
from reportkit.job.reading.cells import plain
from reportkit.job.reading.files import UNPRINTABLE, clipped
from reportkit.job.reading.survey import COLUMNS, FIRST_IN_LINE, FORM, REQUIRED, SYNONYMS, Row, row_of
from reportkit.job.reading.table import MOST_FAULTS, MOST_ROWS, cells_of, header_of, plain_heading

SHEET = "Windows"
#: The table must stand within so many rows and columns.
LAST_ROW, LAST_COLUMN = 10_000, 200
#: So many cells of a sheet are gone through; openpyxl makes each that is missing between two others.
MOST_GONE_THROUGH = 2_000_000
#: The unit at the end of a head.
_UNIT = re.compile(r"\s*\[([^\]]*)\]\s*$")


@dataclass(frozen=True)
class Sheet:
    """Where the table stands: its sheet, its header row, each column's letters by name, and units told."""

    name: str
    header: int
    letters: dict[str, str]
    #: Units that heads tell, ``width [mm]``, by column.
    units: dict[str, str] = field(default_factory=dict)

    def placed(self, fault: Fault) -> Fault:
        """Return a fault of the survey with the sheet and cell it is about."""
        if fault.cell:
            return fault
        if not fault.line:
            return replace(fault, cell=self.name)
        letters = self.letters.get(fault.field, "")
        match = re.fullmatch(r"column (\d+)", fault.field)
        if match:
            letters = letters_of(int(match[1]))
            fault = replace(fault, field="")
        hint = fault.hint
        if isinstance(hint, Translatable) and hint.template == FIRST_IN_LINE:
            hint = translatable("the first is in row {line}", **hint.values)
        return replace(fault, cell=f"{self.name}!{letters or 'row '}{fault.line}", hint=hint)


def read_workbook(shown: str, data: bytes) -> tuple[list[Row], list[Fault], Sheet | None]:
    """Return the rows of a survey's workbook, every fault of its form, and where its table stands.

    Parameters
    ----------
    shown
        The file's name as messages show it.
    data
        The file.
    """
    book, faults = opened(shown, data)
    if book is None:
        return [], faults, None
    named = [sheet for sheet in book.worksheets if sheet.title.strip().casefold() == SHEET.casefold()]
    rows, more, place = read_panes(shown, named or book.worksheets, SHEET)
    return rows, faults + more, place


def read_panes(shown: str, sheets: list[Any], named: str) -> tuple[list[Row], list[Fault], Sheet | None]:
    """Return the rows of the first sheet that has a survey's columns, the faults, and its place.

    Parameters
    ----------
    shown
        The file's name as messages show it.
    sheets
        The sheets that may hold the survey.
    named
        What its sheet is called.
    """
    table = _table(sheets)
    if table is not None:
        return _read(shown, *table)
    hint = translatable("a row that names the columns: {names}", names=", ".join(REQUIRED))
    rule = translatable("must have a sheet {named} with a row that names the columns", named=named)
    found = (
        translatable("sheets {names}", names=clipped(", ".join(sheet.title for sheet in sheets)))
        if sheets
        else None
    )
    return [], [Fault(shown, 0, "", rule, found, hint)], None


def _table(sheets: list[Any]) -> tuple[Any, int, list[str]] | None:
    """Return the sheet with the survey, the row that names its columns, and the texts there."""
    for sheet in sheets:
        best: tuple[int, int, list[str]] = (0, 0, [])
        width = min(sheet.max_column, LAST_COLUMN)
        for row in sheet.iter_rows(1, min(sheet.max_row, 40), max_col=width):
            texts = ["" if cell.value is None else str(cell.value).strip() for cell in row]
            plain = {plain_heading(_without_unit(text)) for text in texts}
            known = len({SYNONYMS.get(text, text) for text in plain} & set(COLUMNS))
            if known > max(best[0], 1):
                best = (known, row[0].row, texts)
        if best[0]:
            return sheet, best[1], best[2]
    return None


def _read(shown: str, sheet: Any, header: int, heads: list[str]) -> tuple[list[Row], list[Fault], Sheet]:
    names, heading_faults = header_of(shown, header, [_without_unit(head) for head in heads], FORM)
    there = translatable("row {header} names the columns", header=header)
    heading_faults = [
        replace(fault, hint=there) if fault.rule == "must be a column" else fault for fault in heading_faults
    ]
    width = min(sheet.max_column, LAST_COLUMN)
    letters = {name: letters_of(index) for index, name in enumerate(names, 1) if name}
    letters |= {clipped(head): letters_of(index) for index, head in enumerate(heads, 1) if head}
    matches = {name: _UNIT.search(head) for name, head in zip(names, heads, strict=False)}
    units = {name: unit[1].strip() for name, unit in matches.items() if unit}
    place = Sheet(sheet.title, header, letters, units)
    faults = [place.placed(fault) for fault in heading_faults]
    names += [""] * (width - len(names))
    last = last_filled(sheet)
    if last > LAST_ROW or sheet.max_column > LAST_COLUMN:
        rule = translatable(
            "must hold its table in the first {last_row} rows and {last_column} columns",
            last_row=LAST_ROW,
            last_column=LAST_COLUMN,
        )
        used = translatable("cells up to {cell}", cell=f"{letters_of(sheet.max_column)}{last}")
        hint = translatable("delete the rows and columns beyond the table, also empty ones with a format")
        return [], [*faults, Fault(shown, 0, "", rule, used, hint, sheet.title)], place
    faults += unseen(shown, sheet, header, names, last)
    rows: list[Row] = []
    for cells in sheet.iter_rows(header + 1, max(last, header + 1), max_col=width):
        line = cells[0].row
        if not filled(cells):
            continue
        if str(cells[0].value or "").lstrip().startswith("#"):
            continue
        if len(rows) == MOST_ROWS or len(faults) >= MOST_FAULTS:
            limit = (
                translatable("must have at most {rows} rows", rows=MOST_ROWS)
                if len(rows) == MOST_ROWS
                else translatable("must have under {faults} faults to be read on", faults=MOST_FAULTS)
            )
            faults.append(place.placed(Fault(shown, line, "", limit)))
            break
        texts, more = [], []
        for name, cell in zip(names, cells, strict=True):
            text, wrong_rule, instead = text_of(cell, lines=name == "note", percent=name.endswith("percent"))
            texts.append(text)
            if wrong_rule:
                value = cell.value
                at = f"{sheet.title}!{cell.coordinate}"
                found_text = clipped(getattr(value, "text", None) or value)
                more.append(Fault(shown, line, name.lstrip("?"), wrong_rule, found_text, instead, at))
        known, wrong = cells_of(shown, line, names, texts, "")
        faults += more + [place.placed(fault) for fault in wrong]
        rows.append(row_of(line, known, names))
    if not rows and not faults:
        rule = translatable("must have at least one {row} below its header row", row=FORM.row)
        faults.append(Fault(shown, 0, "", rule, None, None, sheet.title))
    return rows, faults, place


def filled(cells: Iterable[Any]) -> bool:
    """Return whether one of some cells holds anything."""
    return any(cell.value is not None and str(cell.value).strip() for cell in cells)


def last_filled(sheet: Any) -> int:
    """Return the last row that holds anything: thousands more may have a format alone.

    Of a sheet too large to go through it is the last row that has a cell.
    """
    if sheet.max_row * sheet.max_column > MOST_GONE_THROUGH:
        return int(sheet.max_row)
    return max((row[0].row for row in sheet.iter_rows() if filled(row)), default=0)


def unseen(
    shown: str, sheet: Any, header: int, names: list[str], last: int, first: int = 1
) -> Iterator[Fault]:
    """Yield a fault for what a reader of the sheet may not see, or cannot tell the place of.

    What an outline folds away may hold something: its sign in the margin shows it.

    Parameters
    ----------
    shown
        The file's name as messages show it.
    sheet
        The sheet.
    header, last
        The first and last row looked at.
    names
        The field of each column, for messages.
    first
        The first column looked at.
    """
    for block in sheet.merged_cells.ranges:  # only the cell at its top left holds anything
        inside = block.max_row >= header and block.max_col >= first
        if inside and filled([sheet.cell(block.min_row, block.min_col)]):
            name = names[block.min_col - 1] if block.min_col <= len(names) else ""
            at = f"{sheet.title}!{block.coord}"
            hint = translatable("unmerge it and write the value into each cell")
            yield Fault(
                shown,
                block.min_row,
                name.lstrip("?"),
                translatable("must not be a merged cell"),
                None,
                hint,
                cell=at,
            )
    for line, shape in sheet.row_dimensions.items():
        if not shape.hidden or shape.outlineLevel or not header <= line <= last:
            continue
        if filled(sheet[line][first - 1 :]):
            hint = translatable("show the row (clear the filter), or delete it")
            at = f"{sheet.title}!row {line}"
            yield Fault(
                shown, line, "", translatable("must not be hidden while it holds something"), None, hint, at
            )
    for shape in sheet.column_dimensions.values():
        if not shape.hidden or shape.outlineLevel:
            continue
        for index in range(max(shape.min or 0, first), min(shape.max or 0, len(names)) + 1):
            if filled(row[0] for row in sheet.iter_rows(header + 1, last, index, index)):
                at = f"{sheet.title}!column {letters_of(index)}"
                rule, hint = (
                    translatable("must not be hidden while it holds something"),
                    translatable("show the column, or empty it"),
                )
                yield Fault(shown, header, names[index - 1].lstrip("?"), rule, None, hint, at)


def text_of(
    cell: Any, *, lines: bool = False, percent: bool = False, day: bool = False, clock: bool = False
) -> tuple[str, str | None, str | None]:
    """Return a cell as the text a person would type, or the rule it breaks and how to mend it.

    Parameters
    ----------
    cell
        The cell.
    lines
        Whether its text keeps its lines and spaces.
    percent
        Whether the field is a number of percent: a spreadsheet keeps a 34% as .34.
    day, clock
        Whether the field is a calendar day or a time on the clock, which a spreadsheet keeps in its own way.
    """
    value = cell.value
    if value is None:
        return "", None, None
    if cell.data_type == "f":
        return (
            "",
            translatable("must be a value, not a formula"),
            translatable("copy the cell and paste it as a value"),
        )
    if cell.data_type == "e":
        return (
            "",
            translatable("must be a value, not a spreadsheet's error"),
            translatable("type the value again"),
        )
    if isinstance(value, bool):
        return "yes" if value else "no", None, None
    if day and isinstance(value, dt.datetime) and value.time() == dt.time():
        return value.date().isoformat(), None, None
    if clock and isinstance(value, dt.time):
        return value.strftime("%H:%M"), None, None
    if isinstance(value, (dt.date, dt.time, dt.timedelta)):
        hint = translatable("format the cell as text, then type it again, such as 35 5/8")
        if isinstance(value, dt.date):  # 5/8 becomes the 5th of August or the 8th of May
            hint = translatable(
                "a spreadsheet made the day {day} of what was typed: {hint}",
                day=f"{value:%Y-%m-%d}",
                hint=hint,
            )
        return "", translatable("must be a text or a number, not a date or time"), hint
    if isinstance(value, (int, float)):
        if "%" in str(cell.number_format):
            if not percent:
                return (
                    "",
                    translatable("must be a number without a percent format"),
                    translatable("format the cell as text, then type it again"),
                )
            value *= 100
        typed = f"{value:.12g}"  # a number of the sheet has one reading, which one more digit keeps
        return f"{typed}0" if two_readings(typed) else typed, None, None
    text = plain(str(value))
    if UNPRINTABLE.search(text):
        return "", translatable("must hold only signs that print"), translatable("remove the sign")
    if not lines:
        text = " ".join(text.split())
    return text, None, None


def letters_of(index: int) -> str:
    """Return the letters of a column, 1 is A."""
    letters = ""
    while index:
        index, rest = divmod(index - 1, 26)
        letters = chr(65 + rest) + letters
    return letters


def _without_unit(head: str) -> str:
    """Return a head without the unit that it tells in brackets."""
    return _UNIT.sub("", head)
