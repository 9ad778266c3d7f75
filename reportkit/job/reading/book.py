"""``job.xlsx``: a whole job as a workbook, read into the same tree, with the same paths, as ``job.yaml``.

Each sheet but that of the panes has a row that starts with ``Field``. Below it stands a field in a row, named
as messages name it, ``rolls.1.width``, and right of the columns that explain it a column for each entry: one
for each film, one alone for the prices. An empty cell is a field not given. What the records say a field
holds (`reportkit.job.model.forms`) decides how its cell is read (`reportkit.job.reading.cells`); nothing else
about fields stands here. The panes' sheet is the survey's table (`reportkit.job.reading.workbook`).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from reportkit.base.errors import Fault
from reportkit.base.translatable import translatable
from reportkit.job.model import Job, Pane
from reportkit.job.model.about import record_in
from reportkit.job.model.forms import Form, form_of, is_clock, is_day, turns_with_units, unit_of
from reportkit.job.reading.bookfile import opened
from reportkit.job.reading.cells import as_value
from reportkit.job.reading.files import clipped
from reportkit.job.reading.survey import Row, field_of
from reportkit.job.reading.workbook import (
    LAST_COLUMN,
    LAST_ROW,
    Sheet,
    filled,
    last_filled,
    letters_of,
    read_panes,
    text_of,
    unseen,
)
from reportkit.job.reading.yamltree import Path, Tree

BOOK_FILE = "job.xlsx"
PANES = "Panes"
#: The sheets in their order, and the field of the job that each holds; None: all that have no other.
SHEETS: dict[str, str | None] = {
    "Job": None,
    "Rooms": "rooms",
    "Faces": "faces",
    "Horizons": "horizons",
    "Glass": "glazings",
    "Films": "films",
    PANES: "panes",
    "Prices": "prices",
    "Energy": "energy",
}
#: The heads of the columns that explain a field; what is right of them is filled in.
FIELD, WHAT, UNIT = HEADS = ("Field", "What it is", "Unit")


@dataclass
class Book:
    """A workbook as read: the tree of its fields, the rows of its survey, and the units it names.

    ``units`` holds for each row that names a unit its place, its field and what it names.
    """

    tree: Tree
    units: list[tuple[tuple[str, int], FieldInfo, str]] = field(default_factory=list)
    rows: list[Row] = field(default_factory=list)
    sheet: Sheet | None = None
    faults: list[Fault] = field(default_factory=list)


def sheet_of(name: str) -> str:
    """Return the sheet that holds a field of the job's top."""
    return next((title for title, held in SHEETS.items() if held == name), "Job")


def on_sheet(title: str) -> tuple[str, ...]:
    """Return the fields of the job's top that a sheet holds."""
    held = SHEETS[title]
    if held is not None:
        return (held,)
    elsewhere = {*SHEETS.values(), "decisions", "readings"}
    return tuple(name for name in Job.model_fields if name not in elsewhere)


def read_book(shown: str, data: bytes, *, panes: bool = True) -> Book | list[Fault]:
    """Return a workbook's fields and rows with every fault of its form, or why it is not read at all.

    Parameters
    ----------
    shown
        The file's name as messages show it.
    data
        The file.
    panes
        Whether it must have the sheet of the panes; one in ``_shared`` has none.
    """
    book, faults = opened(shown, data)
    if book is None:
        return faults
    by_title: dict[str, list[Any]] = {}
    for sheet in book.worksheets:
        by_title.setdefault(sheet.title.strip().casefold(), []).append(sheet)
    if panes and "job" not in by_title:
        rule = translatable("must have a sheet Job with a row that starts with {field}", field=FIELD)
        return [
            Fault(
                shown,
                0,
                "",
                rule,
                translatable("sheets {names}", names=clipped(", ".join(book.sheetnames))),
                translatable("make one to fill in with: reportkit start --workbook"),
            )
        ]
    made = Book(Tree(shown))
    made.tree.positions[()] = (f"{shown}:Job!", 0)
    for title, held in SHEETS.items():
        sheets = by_title.get(title.casefold(), [])
        if held is not None:
            made.tree.positions[(held,)] = (f"{shown}:{title}!", 0)
        if title == PANES:
            if panes:
                made.rows, more, made.sheet = read_panes(shown, sheets, PANES)
                made.faults += more
        elif sheets:
            made.faults += _read(shown, sheets[0], title, made)
    made.faults += _units(made)
    return made


@dataclass
class _Line:
    """A row of a sheet: its number, its field's path in an entry, and the field if there is one."""

    row: int
    path: Path
    field: FieldInfo | None


def _read(shown: str, sheet: Any, title: str, made: Book) -> Iterator[Fault]:
    """Put a sheet's fields into a tree, and yield the faults of its form."""
    last = last_filled(sheet)
    if last > LAST_ROW or sheet.max_column > LAST_COLUMN:
        rule = translatable(
            "must stand in the first {last_row} rows and {last_column} columns",
            last_row=LAST_ROW,
            last_column=LAST_COLUMN,
        )
        hint = translatable("delete the rows and columns beyond the table, also empty ones with a format")
        yield Fault(
            shown,
            0,
            "",
            rule,
            translatable("cells up to {cell}", cell=f"{letters_of(sheet.max_column)}{last}"),
            hint,
            sheet.title,
        )
        return
    head = next(
        (row for row in range(1, min(last, 40) + 1) if _text(sheet.cell(row, 1)) == FIELD.casefold()), 0
    )
    if not head:
        rule = translatable("must have a row that starts with {field}", field=FIELD)
        hint = translatable("below it each row starts with the name of a field")
        yield Fault(shown, 0, "", rule, None, hint, sheet.title)
        return
    explaining = {name.casefold() for name in HEADS}
    first = 1
    while _text(sheet.cell(head, first)) in explaining:
        first += 1
    many = form_of(Job.model_fields[SHEETS[title] or "site"]) is Form.GROUPS
    columns = range(first, sheet.max_column + 1) if many else (first,)
    yield from unseen(shown, sheet, head, [""] * sheet.max_column, last, first)
    lines: list[_Line] = []
    yield from _lines(shown, sheet, title, range(head + 1, last + 1), columns, lines)
    unit_at = next((n for n in range(1, first) if _text(sheet.cell(head, n)) == UNIT.casefold()), 0)
    for line in lines if unit_at else ():
        unit = str(sheet.cell(line.row, unit_at).value or "").strip()
        if unit and line.field is not None:
            made.units.append(((f"{shown}:{sheet.title}!{letters_of(unit_at)}", line.row), line.field, unit))
    held, tree = SHEETS[title], made.tree
    number = 0
    for column in columns:
        place = f"{shown}:{sheet.title}!{letters_of(column)}"
        below = sheet.iter_rows(head + 1, last, column, column)
        if many and not filled(row[0] for row in below):
            continue
        at: Path = () if held is None else (held, number) if many else (held,)
        entry = _Entry(place, at)
        for line in lines:
            yield from entry.put(line, sheet.cell(line.row, column))
        value = entry.into(tree, head)
        number += 1
        if held is None:
            tree.value |= value
        elif many:
            tree.value.setdefault(held, []).append(value)
        elif value:
            tree.value[held] = value


def _text(cell: Any) -> str:
    return str(cell.value or "").strip().casefold()


def _lines(
    shown: str, sheet: Any, title: str, rows: range, columns: range | tuple[int, ...], lines: list[_Line]
) -> Iterator[Fault]:
    """Gather the rows that name a field, and yield the faults of those that fill in something without one."""
    top: type[BaseModel] | None = Job
    if SHEETS[title] is not None:
        top, _ = record_in(Job.model_fields[str(SHEETS[title])].annotation)
    seen: dict[Path, int] = {}
    across = range(columns[0], sheet.max_column + 1)  # openpyxl looks through all cells for it
    for row in rows:
        name = str(sheet.cell(row, 1).value or "").strip()
        cells = [sheet.cell(row, column) for column in across]
        outside = [cell for cell in cells if cell.column not in columns and filled([cell])]
        for cell in outside:
            hint = translatable("write it into column {column}", column=letters_of(columns[0]))
            at = f"{sheet.title}!{cell.coordinate}"
            yield Fault(
                shown,
                row,
                name,
                translatable("must be empty: one value for each field"),
                _found(cell),
                hint,
                at,
            )
        if not name or name.startswith("#"):
            for cell in cells if not name else ():
                if filled([cell]) and cell not in outside:
                    hint = translatable("name the field in column A, or empty the cell")
                    at = f"{sheet.title}!{cell.coordinate}"
                    yield Fault(
                        shown,
                        row,
                        "",
                        translatable("must be beside the name of a field"),
                        _found(cell),
                        hint,
                        at,
                    )
            continue
        path, info = _path(top, name)
        other = sheet_of(str(path[0]))
        if SHEETS[title] is None and other != title:
            at = f"{sheet.title}!A{row}"
            yield Fault(
                shown, row, name, translatable("must stand on the sheet {other}", other=other), None, None, at
            )
            continue
        if path in seen:
            hint = translatable("keep one; the first is in row {row}", row=seen[path])
            at = f"{sheet.title}!A{row}"
            yield Fault(shown, row, name, translatable("must be a field once"), None, hint, at)
            continue
        seen[path] = row
        lines.append(_Line(row, path, info))


def _found(cell: Any) -> str:
    return clipped(getattr(cell.value, "text", None) or cell.value)


def _path(record: type[BaseModel] | None, name: str) -> tuple[Path, FieldInfo | None]:
    """Return the path that a field's name means, entries of lists counted from 0, and the field.

    A name that the records do not have keeps its words: the check of the job says so.
    """
    path: list[str | int] = []
    words = name.split(".")
    info: FieldInfo | None = None
    while words:
        word = words.pop(0)
        path.append(word)
        info = record.model_fields.get(word) if record is not None else None
        if info is None:
            return (*path, *words), None
        form = form_of(info)
        record, _ = record_in(info.annotation)
        if form is Form.MAPPING and words:  # a name may hold a point
            return (*path, ".".join(words)), None
        if words and form in (Form.GROUPS, Form.LIST):
            path.append(int(words.pop(0)) - 1 if words[0].isdecimal() else 0)
            if form is Form.LIST:
                return (*path, *words), None
    return tuple(path), info


class _Entry:
    """One column of a sheet as it is read: a room, a film, the prices."""

    def __init__(self, place: str, at: Path) -> None:
        self.place, self.at = place, at
        self.rows: dict[Path, int] = {}
        self.tree: dict[str | int, Any] = {}

    def put(self, line: _Line, cell: Any) -> Iterator[Fault]:
        """Take a cell, and yield its fault."""
        self.rows[line.path] = line.row
        whole = (*self.at, *line.path)
        name = ".".join(str(part + 1) if isinstance(part, int) else part for part in whole)
        text, rule, hint = text_of(
            cell,
            lines=True,
            percent=name.endswith("percent"),
            day=line.field is not None and is_day(line.field),
            clock=line.field is not None and is_clock(line.field),
        )
        if rule:
            yield Fault(self.place, line.row, name, rule, _found(cell), hint)
        if not text:
            return
        node = self.tree
        for part in line.path[:-1]:
            node = node.setdefault(part, {}) if isinstance(node, dict) else node
        last = line.path[-1]
        value = as_value(line.field, text)
        form = form_of(line.field) if line.field is not None else Form.VALUE
        if form in (Form.GROUP, Form.GROUPS) and isinstance(value, str):
            rule = translatable("must be empty, for what belongs to it stands in the rows below")
            hint = (
                translatable("write yes for a group without any of its fields")
                if form is Form.GROUP
                else None
            )
            yield Fault(self.place, line.row, name, rule, _found(cell), hint)
            return
        there = node.get(last) if isinstance(node, dict) else node
        if not isinstance(node, dict) or (there is not None and value != {}):
            hint = translatable("write its fields into their rows, or all of it into its own")
            yield Fault(
                self.place, line.row, name, translatable("must be told in one place"), _found(cell), hint
            )
        elif there is None:
            node[last] = value

    def into(self, tree: Tree, head: int) -> dict[str, Any]:
        """Return the fields given, and note in a tree where each stands, or would stand."""
        tree.positions[self.at] = (self.place, head)
        meant: dict[Path, Path] = {(): self.at}
        value = _dense(self.tree, (), meant)
        for path, row in self.rows.items():  # what is not given has its place, too: there it is missed
            if path[:-1] in meant:
                meant.setdefault(path, (*meant[path[:-1]], path[-1]))
                tree.positions[meant[path]] = (self.place, row)
        for path, new in meant.items():  # a group without a row of its own stands where its first field does
            below = [row for known, row in self.rows.items() if known[: len(path)] == path]
            if new not in tree.positions and below:
                tree.positions[new] = (self.place, min(below))
        return dict(value)


def _dense(node: Any, path: Path, meant: dict[Path, Path]) -> Any:
    """Return a tree with lists in place of numbered entries, and note the path that each path came to."""
    if not isinstance(node, dict):
        return node
    numbered = bool(node) and all(isinstance(name, int) for name in node)
    result = []
    for count, name in enumerate(sorted(node) if numbered else node):
        meant[*path, name] = (*meant[path], count if numbered else name)
        result.append((name, _dense(node[name], (*path, name), meant)))
    return [value for _, value in result] if numbered else dict(result)


def _units(made: Book) -> Iterator[Fault]:
    """Yield a fault where the unit that a head tells is not the one a bare number has in this job."""
    units = made.tree.value.get("units")
    if units not in ("us", "metric"):
        return
    named = list(made.units)
    for column, unit in made.sheet.units.items() if made.sheet else ():
        info = Pane.model_fields.get(field_of(column))
        if info is not None and made.sheet is not None:
            place = f"{made.tree.shown}:{made.sheet.name}!{made.sheet.letters[column]}", made.sheet.header
            named.append((place, info, unit))
    for place, info, unit in named:
        expected = unit_of("", info, units)
        if turns_with_units(info) and unit != expected:
            rule = translatable(
                "must name the unit that a bare number has in this job, {expected}", expected=expected
            )
            hint = translatable(
                "correct units on the sheet Job, or empty this cell and write a unit behind each number"
            )
            yield Fault(*place, "", rule, unit, hint)
            return  # one says it all
