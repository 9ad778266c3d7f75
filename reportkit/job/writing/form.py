"""The survey's workbook as a form: drop-down lists of the job's own names, notes, and a paper to fill in.

One table of columns (`reportkit.job.reading.survey.COLUMNS`) makes the sheet, the notes and the lists, so
that a new column appears here by itself. The print layout is for a clip-board on a ladder: landscape, black
on white, sheets of paper side by side (the glass, then what is around it) with the pane's id and the heads on
each, rows high enough for a pencil, and empty rows below those already known.
"""

from __future__ import annotations

import io
import typing
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, Literal

from reportkit.job.model import Pane
from reportkit.job.model.about import meaning
from reportkit.job.reading.survey import COLUMNS, READINGS, REQUIRED, field_of
from reportkit.job.reading.workbook import SHEET

NOTES, LISTS = "Notes", "Lists"
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
    #: Words a cell may hold, by column.
    choices: Mapping[str, tuple[str, ...]] = field(init=False)

    def __post_init__(self) -> None:
        """Gather the words of each column."""
        object.__setattr__(self, "choices", _choices(self.names))


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
    _table(sheet, form)
    _notes(book.create_sheet(NOTES), form)
    positions = _lists(book.create_sheet(LISTS), form.choices)
    _drop_downs(sheet, form, positions)
    _paper(sheet, form)
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def _choices(names: Mapping[str, Sequence[str]]) -> dict[str, tuple[str, ...]]:
    found: dict[str, tuple[str, ...]] = {}
    for column in COLUMNS:
        if column in REFERENCES:
            found[column] = tuple(names.get(REFERENCES[column], ()))
            if column == "film":
                found[column] += ("none",)
        elif column in Pane.model_fields:
            found[column] = _words(Pane.model_fields[column].annotation)
    return {column: words for column, words in found.items() if words}


def _words(annotation: Any) -> tuple[str, ...]:
    """Return the words a field takes: those of its choice, or yes and no."""
    if annotation is bool:
        return ("yes", "no")
    if typing.get_origin(annotation) is Literal:
        return tuple(str(word) for word in typing.get_args(annotation))
    return tuple(word for part in typing.get_args(annotation) for word in _words(part))


def head(column: str) -> str:
    """Return a column's head as the form shows it: words, which wrap where the column is narrow."""
    return column.replace("_", " ")


def _write(cell: Any, text: str) -> None:
    """Put a text into a cell as a text: what starts with = must not become a formula."""
    cell.value = text
    cell.data_type = "s"


def _font(sheet: Any, **changed: Any) -> Any:
    """Return the workbook's own typeface in another size or weight."""
    from openpyxl.styles import Font

    return Font(name=sheet.parent._named_styles["Normal"].font.name, **changed)


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
    widths = _widths()
    second = COLUMNS.index(papers()[1][0]) + 1
    for place, text in zip((2, second), _remarks(form), strict=True):  # beside the id, which is repeated
        _write(sheet.cell(1, place), text)
        sheet.cell(1, place).font = _font(sheet, size=10)
        sheet.cell(1, place).alignment = Alignment(vertical="center")
    known = len(form.rows)
    lines = max(1, -(-(known + 4) // ROWS_ON_PAPER)) * ROWS_ON_PAPER
    for index, column in enumerate(COLUMNS, 1):
        letter = get_column_letter(index)
        sheet.column_dimensions[letter].width = widths[column]
        sheet.column_dimensions[letter].number_format = "@"  # a spreadsheet would turn 5/8 into a date
        top = sheet.cell(_HEAD_ROW, index)
        _write(top, head(column))
        top.font = _font(sheet, bold=True, size=10)
        top.alignment = Alignment(wrap_text=True, vertical="bottom")
        top.border = Border(left=thin, right=thin, top=thick, bottom=thick)
        top.comment = Comment(_note(column, form), "reportkit", height=120, width=260)
        for line in range(lines):
            cell = sheet.cell(_HEAD_ROW + 1 + line, index)
            text = form.rows[line].get(column, "") if line < known else ""
            if text:
                _write(cell, text)
            cell.number_format = "@"
            cell.border = box
            cell.font = _font(sheet, size=12)
            wraps = column == "note"
            cell.alignment = Alignment(vertical="center", wrap_text=wraps, shrink_to_fit=not wraps)
    sheet.row_dimensions[1].height = _REMARK_HEIGHT
    sheet.row_dimensions[_HEAD_ROW].height = _HEAD_HEIGHT
    for line in range(lines):
        sheet.row_dimensions[_HEAD_ROW + 1 + line].height = _ROW_HEIGHT
    sheet.freeze_panes = sheet.cell(_HEAD_ROW + 1, 2)
    sheet.print_area = f"A1:{get_column_letter(len(COLUMNS))}{_HEAD_ROW + lines}"


def papers() -> tuple[tuple[str, ...], ...]:
    """Return the columns on each sheet of paper, the id left out of all but the first.

    The first holds what is measured on the glass; the others are filled evenly and are no wider.
    """
    turn = COLUMNS.index(LAST_ON_FIRST) + 1
    first, rest = COLUMNS[:turn], COLUMNS[turn:]
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
    return max(float(_WIDTHS.get(column, usual)), 0.95 * max(map(len, head(column).split())))


def _widths() -> dict[str, float]:
    """Return each column's width [characters], so that all sheets of paper are equally wide."""
    first, *others = papers()
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
        _write(sheet.cell(1, index), text)
        sheet.cell(1, index).font = _font(sheet, bold=True)
        sheet.cell(1, index).alignment = Alignment(wrap_text=True, vertical="bottom")
        sheet.cell(1, index).border = Border(bottom=Side(style="medium"))
        sheet.column_dimensions[chr(64 + index)].width = width
    for line, column in enumerate(COLUMNS, 2):
        what, example = about(column)
        must = "yes" if column in REQUIRED else ""
        texts = (head(column), what, example, must, ", ".join(form.choices.get(column, ())))
        for index, text in enumerate(texts, 1):
            cell = sheet.cell(line, index)
            _write(cell, text)
            cell.alignment = Alignment(wrap_text=True, vertical="top")
            cell.border = Border(bottom=Side(style="hair"))
            if index == 1:
                cell.font = _font(sheet, bold=True)
        tallest = max(-(-len(text) // width) for text, width in zip(texts, widths, strict=True))
        sheet.row_dimensions[line].height = 16 * max(1, tallest)
    sheet.freeze_panes = "A2"
    sheet.print_title_rows = "1:1"
    _frame(sheet, form, "portrait", wide=1)


def _lists(sheet: Any, choices: Mapping[str, tuple[str, ...]]) -> dict[str, str]:
    """Write the words of each column below each other and return where they stand."""
    from openpyxl.utils import get_column_letter

    positions = {}
    for index, (column, words) in enumerate(choices.items(), 1):
        letter = get_column_letter(index)
        _write(sheet.cell(1, index), head(column))
        for line, word in enumerate(words, 2):
            _write(sheet.cell(line, index), word)
        positions[column] = f"{LISTS}!${letter}$2:${letter}${len(words) + 1}"
    sheet.sheet_state = "hidden"
    return positions


def _drop_downs(sheet: Any, form: Form, positions: Mapping[str, str]) -> None:
    from openpyxl.utils import get_column_letter
    from openpyxl.worksheet.datavalidation import DataValidation

    for column, place in positions.items():
        rule = DataValidation(type="list", formula1=place, allow_blank=True)
        rule.errorStyle = "warning"  # a new room may be found on site before job.yaml knows it
        rule.showErrorMessage = True
        rule.errorTitle = head(column)
        rule.error = "Not in the list of this job."
        if column in REFERENCES:
            rule.error += f" Add it to {REFERENCES[column]} in job.yaml, or choose from the list."
        letter = get_column_letter(COLUMNS.index(column) + 1)
        rule.add(f"{letter}{_HEAD_ROW + 1}:{letter}{_HEAD_ROW + _LISTED_ROWS}")
        sheet.add_data_validation(rule)


def _paper(sheet: Any, form: Form) -> None:
    from openpyxl.worksheet.pagebreak import Break, ColBreak

    sheet.print_title_rows = f"1:{_HEAD_ROW}"
    sheet.print_title_cols = "A:A"
    sheet.col_breaks = ColBreak()
    for part in papers()[:-1]:
        sheet.col_breaks.append(Break(id=COLUMNS.index(part[-1]) + 1))
    _frame(sheet, form, "landscape", wide=len(papers()))
    sheet.oddFooter.left.text = "Measured by ____________________  on ______________"


def _frame(sheet: Any, form: Form, orientation: str, *, wide: int) -> None:
    """Set what every printed sheet has: paper, margins, the job at its head, black on white."""
    from openpyxl.worksheet.properties import PageSetupProperties

    paper = form.paper or ("letter" if form.units == "us" else "a4")
    sheet.page_setup.paperSize = {"letter": 1, "a4": 9}[paper]  # codes of ISO/IEC 29500-1, 18.3.1.63
    sheet.page_setup.orientation = orientation
    sheet.page_setup.blackAndWhite = True
    sheet.page_setup.fitToWidth = wide
    sheet.page_setup.fitToHeight = 0
    sheet.sheet_properties.pageSetUpPr = PageSetupProperties(fitToPage=True)
    sheet.page_margins.left = sheet.page_margins.right = 0.4  # inches
    sheet.page_margins.top, sheet.page_margins.bottom = 0.75, 0.65
    sheet.page_margins.header = sheet.page_margins.footer = 0.3
    title = " ".join(form.title.split())[:90]
    sheet.oddHeader.left.text = title.replace("&", "&&")  # & starts a code there
    sheet.oddHeader.right.text = "Survey of the windows" + (" (invented)" if form.invented else "")
    sheet.oddFooter.right.text = "&A, &P of &N"
