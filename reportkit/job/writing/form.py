"""The survey's workbook as a form: drop-down lists of the job's own names, notes, and a paper to fill in.

One table of columns (`reportkit.job.reading.survey.COLUMNS`) makes the sheet, the notes and the lists, so
that a new column appears here by itself. The print layout is for a clip-board on a ladder: landscape, black
on white, sheets of paper side by side (the glass, then what is around it) with the pane's id and the heads on
each, rows high enough for a pencil, and empty rows below those already known.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, Literal

from reportkit.job.model import Pane
from reportkit.job.model.about import meaning
from reportkit.job.model.forms import unit_of, words
from reportkit.job.reading.survey import COLUMNS, READINGS, REQUIRED, Row, field_of
from reportkit.job.reading.workbook import SHEET
from reportkit.job.writing.sheets import LISTS, drop_down, fold, font, frame, lists, saved, write

NOTES = "Notes"
#: Columns whose cells name an entry of the job.
REFERENCES = {
    "room": "rooms",
    "face": "faces",
    "glazing": "glazings",
    "horizon": "horizons",
    "film": "films",
}
#: The last column on the first sheet of paper: what is measured on the glass itself.
LAST_ON_FIRST = "diagonal_2"
#: Rows of the table on one sheet of paper; a form is filled up to whole sheets.
ROWS_ON_PAPER = 14
#: The drop-down lists reach so far down the sheet.
_LISTED_ROWS = 1_000
_ROW_HEIGHT, _HEAD_HEIGHT, _REMARK_HEIGHT = 30, 40, 22  # points, before the print is made to fit
_WIDTHS = {"id": 9, "room": 12, "face": 11, "glazing": 13, "quantity": 8, "film": 12, "note": 20,
           "photo": 11, "view_group": 10, "horizon": 8, "access": 9, "seam": 10, "mullion": 10}  # fmt: skip
_HEAD_ROW = 2


@dataclass(frozen=True)
class Form:
    """What a form is made for.

    Attributes
    ----------
    title
        The job, printed at the head of every sheet.
    units
        ``us`` or ``metric``: what a bare number means.
    names
        The entries a cell may name: rooms, faces, glazings, horizons, films.
    rows
        Panes already known: texts by column.
    invented
        Whether the job is made up; the form then says so.
    """

    title: str
    units: Literal["us", "metric"]
    names: Mapping[str, Sequence[str]]
    rows: Sequence[Mapping[str, str]] = ()
    invented: bool = False
    paper: Literal["letter", "a4"] | None = None
    #: Whether columns that nothing is known of, beyond those measured on the glass, are folded away.
    folded: bool = False
    #: Words a cell may hold, by column.
    choices: Mapping[str, tuple[str, ...]] = field(init=False)

    def __post_init__(self) -> None:
        """Gather the words of each column."""
        object.__setattr__(self, "choices", _choices(self.names))

    @classmethod
    def of(
        cls, raw: Mapping[str, Any], offered: Mapping[str, Sequence[str]], rows: Sequence[Row], **more: Any
    ) -> Form:
        """Return the form for a job as read, with what ``_shared`` offers beside its own entries."""
        names: dict[str, list[str]] = {}
        for kind in REFERENCES.values():
            entries = raw.get(kind)
            own = [entry.get("id") for entry in entries if isinstance(entry, dict)] if entries else []
            names[kind] = list(dict.fromkeys(str(name) for name in [*own, *offered.get(kind, ())] if name))
        return cls(
            title=": ".join(str(raw[name]) for name in ("id", "title") if raw.get(name)),
            units="us" if raw.get("units") == "us" else "metric",
            names=names,
            rows=[row.cells for row in rows],
            invented=str(raw.get("invented")).lower() in ("yes", "true"),
            paper=raw.get("paper") if raw.get("paper") in ("letter", "a4") else None,
            **more,
        )

    @property
    def columns(self) -> tuple[str, ...]:
        """The columns that are not folded away."""
        if not self.folded:
            return COLUMNS
        known = {column for row in self.rows for column in row}
        asked = {*REQUIRED, *(part for parts in READINGS.values() for part in parts), "quantity", "note"}
        return tuple(name for name in COLUMNS if name in known | asked)


def about(column: str) -> tuple[str, str]:
    """Return what a column holds, and an example."""
    return meaning(Pane.model_fields[field_of(column)])


def workbook(form: Form) -> bytes:
    """Return a form as an ``.xlsx`` workbook that `reportkit.job.reading.workbook` reads.

    Parameters
    ----------
    form
        What it is made for.

    Returns
    -------
    bytes
        Three sheets: the table, the notes, and (hidden) the lists.
    """
    import openpyxl

    book = openpyxl.Workbook()
    book.properties.creator = ""
    sheet = book.active
    sheet.title = SHEET
    _notes(book.create_sheet(NOTES), form)
    fill(sheet, form, lists(book.create_sheet(LISTS), form.choices))
    return saved(book)


def fill(sheet: Any, form: Form, positions: Mapping[str, str]) -> None:
    """Make an empty sheet the form.

    Parameters
    ----------
    sheet
        The sheet.
    form
        What it is made for.
    positions
        Where the words of a column stand, for its drop-down list.
    """
    _table(sheet, form)
    _drop_downs(sheet, positions)
    _paper(sheet, form)


def _choices(names: Mapping[str, Sequence[str]]) -> dict[str, tuple[str, ...]]:
    found: dict[str, tuple[str, ...]] = {}
    for column in COLUMNS:
        if column in REFERENCES:
            found[column] = tuple(names.get(REFERENCES[column], ()))
            if column == "film":
                found[column] += ("none",)
        elif column in Pane.model_fields:
            found[column] = words(Pane.model_fields[column].annotation)
    return {column: listed for column, listed in found.items() if listed}


def head(column: str, units: str) -> str:
    """Return a column's head as the form shows it: words that wrap where it is narrow, and the unit."""
    unit = unit_of(column, Pane.model_fields[field_of(column)], units)
    return column.replace("_", " ") + (f" [{unit}]" if unit else "")


def _remarks(form: Form) -> tuple[str, str]:
    unit = "inches (35 5/8)" if form.units == "us" else "millimetres (905)"
    return (
        "Measure the glass in sight: width at three heights, height at three places, both diagonals. "
        f"A bare number is {unit}.",
        "Left and right as seen from outside, facing the glass. Empty means none, or not known.",
    )


def _table(sheet: Any, form: Form) -> None:
    from openpyxl.comments import Comment
    from openpyxl.styles import Alignment, Border, Side
    from openpyxl.utils import get_column_letter

    thin, thick = Side(style="thin"), Side(style="medium")
    box = Border(left=thin, right=thin, top=thin, bottom=thin)
    parts = papers(form.columns)
    widths = _widths(parts)
    starts = [2, *(COLUMNS.index(part[0]) + 1 for part in parts[1:2])]
    for place, text in zip(starts, _remarks(form), strict=False):  # beside the id, which is repeated
        write(sheet.cell(1, place), text)
        sheet.cell(1, place).font = font(sheet, size=10)
        sheet.cell(1, place).alignment = Alignment(vertical="center")
    known = len(form.rows)
    lines = max(1, -(-(known + 4) // ROWS_ON_PAPER)) * ROWS_ON_PAPER
    for index, column in enumerate(COLUMNS, 1):
        letter = get_column_letter(index)
        sheet.column_dimensions[letter].width = widths.get(column, _natural(column))
        if column not in widths:
            fold(sheet.column_dimensions[letter])
        sheet.column_dimensions[letter].number_format = "@"  # a spreadsheet would turn 5/8 into a date
        top = sheet.cell(_HEAD_ROW, index)
        write(top, head(column, form.units))
        top.font = font(sheet, bold=True, size=10)
        top.alignment = Alignment(wrap_text=True, vertical="bottom")
        top.border = Border(left=thin, right=thin, top=thick, bottom=thick)
        top.comment = Comment(_note(column, form), "reportkit", height=120, width=260)
        for line in range(lines):
            cell = sheet.cell(_HEAD_ROW + 1 + line, index)
            text = form.rows[line].get(column, "") if line < known else ""
            if text:
                write(cell, text)
            cell.number_format = "@"
            cell.border = box
            cell.font = font(sheet, size=12)
            wraps = column == "note"
            cell.alignment = Alignment(vertical="center", wrap_text=wraps, shrink_to_fit=not wraps)
    sheet.row_dimensions[1].height = _REMARK_HEIGHT
    sheet.row_dimensions[_HEAD_ROW].height = _HEAD_HEIGHT
    for line in range(lines):
        sheet.row_dimensions[_HEAD_ROW + 1 + line].height = _ROW_HEIGHT
    sheet.freeze_panes = sheet.cell(_HEAD_ROW + 1, 2)
    sheet.print_area = f"A1:{get_column_letter(len(COLUMNS))}{_HEAD_ROW + lines}"


def papers(columns: Sequence[str] = COLUMNS) -> tuple[tuple[str, ...], ...]:
    """Return the columns on each sheet of paper, the id left out of all but the first.

    The first holds what is measured on the glass; the others are filled evenly and are no wider.

    Parameters
    ----------
    columns
        Those that are printed.
    """
    turn = COLUMNS.index(LAST_ON_FIRST) + 1
    first = tuple(column for column in columns if column in COLUMNS[:turn])
    rest = tuple(column for column in columns if column not in first)
    if not rest:
        return (first,)
    room = sum(map(_natural, first)) - _natural("id")
    number = -(-sum(map(_natural, rest)) // room)
    while True:
        share = sum(map(_natural, rest)) / number
        made: list[list[str]] = [[]]
        for column in rest:
            taken = sum(map(_natural, made[-1]))
            if made[-1] and taken + _natural(column) / 2 > share and len(made) < number:
                made.append([])
            made[-1].append(column)
        if all(sum(map(_natural, part)) <= room for part in made):
            return (first, *(tuple(part) for part in made))
        number += 1


def _natural(column: str) -> float:
    """Return the width a column needs [characters]: for its cells and its head's longest word."""
    usual = 8.0
    if any(column in parts for parts in READINGS.values()):
        usual = 9.5  # 1905 mm, 2' 11 5/8"
    elif column in Pane.model_fields and Pane.model_fields[column].annotation is bool:
        usual = 6.0
    return max(float(_WIDTHS.get(column, usual)), 0.95 * max(map(len, column.split("_"))))


def _widths(parts: Sequence[Sequence[str]]) -> dict[str, float]:
    """Return each printed column's width [characters], so that all sheets of paper are equally wide."""
    first, *others = parts
    widths = {name: _natural(name) for name in first}
    room = sum(widths.values()) - widths["id"]
    for part in others:
        stretch = room / sum(map(_natural, part))
        widths |= {name: round(_natural(name) * stretch, 1) for name in part}
    return widths


def _note(column: str, form: Form) -> str:
    what, example = about(column)
    lines = [what, f"Such as: {example}"]
    if column in REQUIRED:
        lines.append("Must be given.")
    if column in form.choices:
        lines.append("One of the list: " + ", ".join(form.choices[column][:12]))
    return "\n".join(lines)


def _notes(sheet: Any, form: Form) -> None:
    from openpyxl.styles import Alignment, Border, Side

    heads = ("Column", "What it holds", "Such as", "Must be given", "One of")
    widths = (16, 46, 16, 10, 34)
    sheet.row_dimensions[1].height = 32
    for index, (text, width) in enumerate(zip(heads, widths, strict=True), 1):
        write(sheet.cell(1, index), text)
        sheet.cell(1, index).font = font(sheet, bold=True)
        sheet.cell(1, index).alignment = Alignment(wrap_text=True, vertical="bottom")
        sheet.cell(1, index).border = Border(bottom=Side(style="medium"))
        sheet.column_dimensions[chr(64 + index)].width = width
    for line, column in enumerate(COLUMNS, 2):
        what, example = about(column)
        must = "yes" if column in REQUIRED else ""
        texts = (head(column, form.units), what, example, must, ", ".join(form.choices.get(column, ())))
        for index, text in enumerate(texts, 1):
            cell = sheet.cell(line, index)
            write(cell, text)
            cell.alignment = Alignment(wrap_text=True, vertical="top")
            cell.border = Border(bottom=Side(style="hair"))
            if index == 1:
                cell.font = font(sheet, bold=True)
        tallest = max(-(-len(text) // width) for text, width in zip(texts, widths, strict=True))
        sheet.row_dimensions[line].height = 16 * max(1, tallest)
    sheet.freeze_panes = "A2"
    sheet.print_title_rows = "1:1"
    frame(sheet, form, "portrait", "Survey of the windows", wide=1)


def _drop_downs(sheet: Any, positions: Mapping[str, str]) -> None:
    from openpyxl.utils import get_column_letter

    for column, place in positions.items():
        told = "Not in the list of this job."
        if column in REFERENCES:
            told += f" Add it to {REFERENCES[column]}, or choose from the list."
        letter = get_column_letter(COLUMNS.index(column) + 1)
        cells = f"{letter}{_HEAD_ROW + 1}:{letter}{_HEAD_ROW + _LISTED_ROWS}"
        drop_down(sheet, cells, place, column.replace("_", " "), told)


def _paper(sheet: Any, form: Form) -> None:
    from openpyxl.worksheet.pagebreak import Break, ColBreak

    sheet.print_title_rows = f"1:{_HEAD_ROW}"
    sheet.print_title_cols = "A:A"
    sheet.col_breaks = ColBreak()
    parts = papers(form.columns)
    for part in parts[:-1]:
        sheet.col_breaks.append(Break(id=COLUMNS.index(part[-1]) + 1))
    frame(sheet, form, "landscape", "Survey of the windows", wide=len(parts))
    sheet.oddFooter.left.text = "Measured by ____________________  on ______________"
