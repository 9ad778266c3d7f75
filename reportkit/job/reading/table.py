"""A table as spreadsheets write it, read to texts with the line of every row, and every fault of its form.

Commas, semicolons or tabs between the cells (told from the header row, or by a first line ``sep=;``),
decimal commas, inch signs (doubled inside quotation marks, or bare), a byte-order mark, empty rows,
empty columns at the right, lines that start with ``#``, an apostrophe before what would be a formula: all
are read. What is read is text; what a
cell means is for the modules that know the table's `Form`.
"""

from __future__ import annotations

import csv
import difflib
from collections.abc import Mapping
from dataclasses import dataclass, field

from reportkit.base.errors import Fault
from reportkit.base.formulas import unguarded
from reportkit.base.translatable import translatable
from reportkit.job.reading.files import clipped

#: The most rows a table may have.
MOST_ROWS = 2_000
#: After so many faults of form the rest of a table is not read.
MOST_FAULTS = 300
_FIRST_THESE = translatable("mend the faults above, then check again")
_MOST_LINES_IN_A_CELL = 20


@dataclass(frozen=True)
class Form:
    """What a table looks like.

    Attributes
    ----------
    columns
        Every column it may have.
    required
        Those it must have.
    row
        What one row is, for messages.
    synonyms
        Other names under which people head the same column.
    most_rows
        The most rows it may have.
    """

    columns: tuple[str, ...]
    required: tuple[str, ...]
    row: str
    synonyms: Mapping[str, str] = field(default_factory=dict)
    most_rows: int = MOST_ROWS


@dataclass(frozen=True)
class Line:
    """One row: the line it starts in, its cells that are not empty, and the columns that are headed."""

    line: int
    cells: dict[str, str]
    headed: frozenset[str]


def read_table(shown: str, text: str, form: Form) -> tuple[list[Line], list[Fault]]:
    """Return the rows of a table and every fault of its form.

    Parameters
    ----------
    shown
        The file's name as messages show it.
    text
        The file's text, line ends as ``\\n``.
    form
        What the table looks like.
    """
    lines = text.split("\n")
    start, separator = _head(lines)
    if start is None:
        hint = translatable("the first row names the columns: {names}", names=", ".join(form.required))
        return [], [Fault(shown, 0, "", translatable("must not be empty"), None, hint)]
    names, faults = header_of(shown, start + 1, _cells(lines[start], separator) or [], form)
    rows: list[Line] = []
    number = start + 1
    while number < len(lines):
        first = number
        number, cells, wrong = _logical_row(shown, lines, number, separator, names)
        if wrong:
            faults.append(wrong)
        if len(faults) >= MOST_FAULTS:
            faults.append(
                Fault(
                    shown,
                    first + 1,
                    "",
                    translatable("must have under {faults} faults to be read on", faults=MOST_FAULTS),
                    hint=_FIRST_THESE,
                )
            )
            break
        if cells is None or not any(cells) or cells[0].startswith("#"):
            continue
        if len(rows) == form.most_rows:
            faults.append(
                Fault(
                    shown,
                    first + 1,
                    "",
                    translatable("must have at most {rows} rows", rows=form.most_rows),
                )
            )
            break
        texts, more = cells_of(shown, first + 1, names, cells, separator)
        faults += more
        rows.append(Line(first + 1, texts, frozenset(names)))
    if not rows and not faults:
        faults.append(
            Fault(
                shown,
                0,
                "",
                translatable("must have at least one {row} below its header row", row=form.row),
            )
        )
    return rows, faults


def header(text: str) -> tuple[int, list[str]]:
    """Return the line of a table's header row and its cells as typed; 0 and none where there is no row."""
    lines = text.split("\n")
    start, separator = _head(lines)
    return (0, []) if start is None else (start + 1, _cells(lines[start], separator) or [])


def plain_heading(cell: str) -> str:
    """Return the heading of a column as it is looked up: small letters, words joined by ``_``."""
    return "_".join(cell.lower().replace("-", " ").replace("_", " ").split())


def _head(lines: list[str]) -> tuple[int | None, str]:
    """Return the index of the header row, None where there is none, and what stands between cells."""
    start = next((number for number, line in enumerate(lines) if not _skipped(line)), None)
    if start is None:
        return None, ","
    first = lines[start].strip().strip('"')
    if first.lower().startswith("sep=") and len(first) <= 5:
        following = (n for n in range(start + 1, len(lines)) if not _skipped(lines[n]))
        return next(following, start), (first + ",")[4]
    return start, max(";,\t", key=lambda sign: (_outside_quotes(lines[start]).count(sign), sign == ","))


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
    return [unguarded(cell.replace("\u00a0", " ").strip()) for cell in rows[0]] if rows else []


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
    hint = translatable('write 35 5/8 in, or as spreadsheets do "35 5/8"""')
    rule = translatable("must close every quotation mark that opens a cell")
    column = _quoted_column(line, separator, names)
    return number + 1, None, Fault(shown, number + 1, column, rule, clipped(line), hint)


def _quoted_column(line: str, separator: str, names: list[str]) -> str:
    """Return the column of the first cell whose quotation marks do not pair up."""
    for name, cell in zip(names, line.split(separator), strict=False):
        if cell.strip().startswith('"') and cell.count('"') % 2:
            return name.lstrip("?")
    return ""


def header_of(shown: str, line: int, cells: list[str], form: Form) -> tuple[list[str], list[Fault]]:
    """Return the columns a header row names (one unknown or doubled starts with ``?``), and its faults."""
    names: list[str] = []
    faults: list[Fault] = []
    for cell in cells:
        plain = plain_heading(cell)
        name = form.synonyms.get(plain, plain)
        if name and name not in form.columns:
            close = difflib.get_close_matches(name, [*form.columns, *form.synonyms], 1, 0.6)
            meant = (
                translatable("did you mean {word}?", word=form.synonyms.get(close[0], close[0]))
                if close
                else None
            )
            hint = meant or translatable("columns are {names}", names=", ".join(form.columns))
            faults.append(
                Fault(shown, line, clipped(cell), translatable("is not a column here"), clipped(cell), hint)
            )
            name = f"?{name}"
        elif name and name in names:
            faults.append(
                Fault(
                    shown,
                    line,
                    name,
                    translatable("must be a column once"),
                    clipped(cell),
                    translatable("remove one of the two"),
                )
            )
            name = f"?{name}"
        names.append(name)
    while names and not names[-1]:
        names.pop()
    unknown = [name[1:] for name in names if name.startswith("?")]
    guessed = {meant for name in unknown for meant in difflib.get_close_matches(name, form.columns, 1, 0.6)}
    for name in form.required:
        if name not in names and name not in guessed:
            hint = translatable("the first row names the columns, with , or ; or a tab between")
            faults.append(Fault(shown, line, name, translatable("must be a column"), None, hint))
    return names, faults


def cells_of(
    shown: str, line: int, names: list[str], cells: list[str], separator: str
) -> tuple[dict[str, str], list[Fault]]:
    """Return the cells of a row that are not empty, by column, and the faults of the row's form."""
    faults: list[Fault] = []
    extra = [cell for cell in cells[len(names) :] if cell]
    if extra:
        hint = translatable("put the text of a cell between quotation marks when it holds the separator")
        if separator == ",":
            hint = translatable("{hint}; with decimal commas, separate the cells by semicolons", hint=hint)
        rule = translatable("must have at most {count} cells, one for each column", count=len(names))
        faults.append(Fault(shown, line, "", rule, clipped(separator.join(extra)), hint))
    texts: dict[str, str] = {}
    for index, (name, cell) in enumerate(zip(names, cells, strict=False), 1):
        if not cell:
            continue
        if not name:
            hint = translatable("name the column in the header row, or empty the cell")
            faults.append(
                Fault(
                    shown,
                    line,
                    translatable("column {index}", index=index),
                    translatable("must be in a named column"),
                    clipped(cell),
                    hint,
                )
            )
        elif not name.startswith("?"):
            texts[name] = cell
    return texts, faults
