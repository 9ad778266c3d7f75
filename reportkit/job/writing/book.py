"""A whole job as a workbook, ``job.xlsx``, to fill in on a screen or on paper.

The records of `reportkit.job.model` make its rows, so that a new field appears here by itself: its name, what
it is, its unit, its note, a list of the words it takes or of the job's own names. What must be filled in, and
what is, shows; the rest is folded away. `reportkit.job.reading.book` reads it back to the same texts.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from reportkit.base.errors import InputError
from reportkit.job.model import Approval, Choice, Complaint, Face, Heating, Job
from reportkit.job.model.about import meaning, record_in
from reportkit.job.model.forms import Form, form_of, most, unit_of, words
from reportkit.job.reading.book import HEADS, PANES, SHEETS, on_sheet
from reportkit.job.reading.cells import LONGEST, written
from reportkit.job.reading.survey import Row
from reportkit.job.writing.form import REFERENCES, fill
from reportkit.job.writing.form import Form as Survey
from reportkit.job.writing.sheets import LISTS, drop_down, fold, font, frame, lists, saved, write

#: Fields that name an entry of the job, beside the columns of the survey.
NAMES: dict[tuple[type[BaseModel], str], str] = {
    (Complaint, "room"): "rooms",
    (Face, "horizon"): "horizons",
    (Choice, "job"): "films",
    (Approval, "film"): "films",
    (Approval, "glazing"): "glazings",
    (Heating, "fuel"): "fuels",
}
#: Words that such a list has beside the entries.
_BESIDE = {"films": ("none",), "fuels": ("electricity",)}
_HEAD, _FIRST = 2, len(HEADS) + 1  # the row of the heads, the first column that is filled in
_SPARE = 2  # empty columns beside the entries of a list
_WIDTHS = (44, 52, 15)
_OWN, _BESIDE_OTHERS = 46, 22  # characters, of a column alone and of one beside others
_REMARK = (
    "An empty cell is not given. What is folded away (+ in the margin) may be left out. A list: 7; 18. "
    "Lengths: 905 mm, 35 5/8 in"
)
_SAMPLES = "Every value here is an invented sample: write over it. "


@dataclass(frozen=True)
class Asked:
    """A row of a sheet: a field with what each entry tells of it."""

    label: str
    record: type[BaseModel]
    name: str
    cells: tuple[str, ...]
    must: bool
    shown: bool

    @property
    def info(self) -> FieldInfo:
        """The field."""
        return self.record.model_fields[self.name]

    @property
    def form(self) -> Form:
        """What it holds."""
        return form_of(self.info)


def workbook(
    raw: Mapping[str, Any],
    rows: Sequence[Row],
    offered: Mapping[str, Sequence[str]] | None = None,
    *,
    sheets: Sequence[str] = tuple(SHEETS),
    top: Sequence[str] = on_sheet("Job"),
) -> bytes:
    """Return a job, or a file of ``_shared``, as a workbook.

    Parameters
    ----------
    raw
        The job as read, texts only; it must pass its check, for a workbook has no place for what is no field.
    rows
        The survey.
    offered
        Ids that ``_shared`` offers beside the job's own.
    sheets
        Which sheets to make.
    top
        Which fields the sheet Job has.

    Raises
    ------
    InputError
        If something is longer than a cell.
    """
    import openpyxl

    book = openpyxl.Workbook()
    book.properties.creator = ""
    book.remove(book.active)
    survey = Survey.of(raw, offered or {}, rows, folded=True)
    units = str(raw.get("units", ""))
    asked = {title: list(_sheet(title, raw, top)) for title in sheets if title != PANES}
    made = {title: book.create_sheet(title) for title in sheets}
    choices = _choices(asked, offered or {}, {title: _count(title, raw) for title in asked})
    positions = lists(book.create_sheet(LISTS), choices)
    for title, lines in asked.items():
        _fill(made[title], lines, _count(title, raw), units, positions)
        write(made[title].cell(1, 1), (_SAMPLES if survey.invented else "") + _REMARK)
        frame(made[title], survey, "landscape", title, wide=1)
    if PANES in made:
        kinds = {name: _listed(found) for name, found in survey.choices.items()}
        kinds |= REFERENCES
        fill(
            made[PANES], survey, {name: positions[kind] for name, kind in kinds.items() if kind in positions}
        )
    return saved(book)


def _sheet(title: str, raw: Mapping[str, Any], top: Sequence[str]) -> Iterator[Asked]:
    """Yield the rows of a sheet."""
    held = SHEETS[title]
    if held is None:
        yield from _asked(Job, top, [raw], "", must=True)
        return
    record, many = record_in(Job.model_fields[held].annotation)
    assert record is not None, "every other sheet holds records"
    value = raw.get(held)
    entries = [entry for entry in value or [] if entry] if many else [value or {}]
    must = bool(entries) if many else value is not None
    yield from _asked(record, tuple(record.model_fields), entries, "", must=must)


def _count(title: str, raw: Mapping[str, Any]) -> int:
    """Return how many columns of a sheet are filled in."""
    held = SHEETS[title]
    many = held is not None and form_of(Job.model_fields[held]) is Form.GROUPS
    return len(raw.get(str(held)) or []) + _SPARE if many else 1


def _asked(
    record: type[BaseModel], names: Sequence[str], entries: Sequence[Any], above: str, *, must: bool
) -> Iterator[Asked]:
    for name in names:
        info = record.model_fields[name]
        values = [entry.get(name) if isinstance(entry, dict) else None for entry in entries]
        label, form = above + name, form_of(info)
        needed = must and info.is_required()
        inner: list[Asked] = []
        below, _ = record_in(info.annotation)
        if below is not None and form is Form.GROUP:
            given = needed or any(value is not None for value in values)
            inner = list(_asked(below, tuple(below.model_fields), values, f"{label}.", must=given))
        elif below is not None:
            longest = max((len(value) for value in values if isinstance(value, list)), default=0)
            for number in range(max(min(longest + 1, most(info) or longest + 1), 1)):
                parts = [value[number] if value and number < len(value) else None for value in values]
                given = (needed and not number) or any(part is not None for part in parts)
                inner += _asked(below, tuple(below.model_fields), parts, f"{label}.{number + 1}.", must=given)
        cells = tuple(_cell(label, info, value) for value in values)
        shown = needed or any(cells) or any(line.shown for line in inner)
        yield Asked(label, record, name, cells, info.is_required(), shown)
        yield from inner


def _cell(label: str, info: FieldInfo, value: Any) -> str:
    """Return the cell that tells a value; that of a group which has fields is empty, for these tell it."""
    if value is None or (value and form_of(info) in (Form.GROUP, Form.GROUPS)):
        return ""
    text = written(info, value)
    if text is None:
        raise InputError(f"{label} does not fit into a cell, which holds {LONGEST} signs")
    return text


def _listed(found: Sequence[str]) -> str:
    return " ".join(found)


def _choices(
    asked: Mapping[str, Sequence[Asked]], offered: Mapping[str, Sequence[str]], counts: Mapping[str, int]
) -> dict[str, tuple[str, ...]]:
    """Return the words of every list to choose from; the job's own names by the cells where they stand."""
    from openpyxl.utils import get_column_letter

    found: dict[str, tuple[str, ...]] = {}
    own: dict[str, list[str]] = {kind: [] for kind in (*REFERENCES.values(), *NAMES.values())}
    for title, lines in asked.items():
        for row, line in enumerate(lines, _HEAD + 1):
            listed = words(line.info.annotation)
            if line.form is Form.VALUE and listed:
                found[_listed(listed)] = listed
            kind = "fuels" if line.label.startswith("fuels.") else str(SHEETS[title])
            if line.name == "id" and kind in own:
                cells = [f"{title}!{get_column_letter(_FIRST + n)}{row}" for n in range(counts[title])]
                own[kind] += [f'=IF({cell}="","",{cell})' for cell in cells]
    for listed in Survey("", "metric", {}).choices.values():
        found[_listed(listed)] = listed
    for kind, cells in own.items():
        found[kind] = (*_BESIDE.get(kind, ()), *offered.get(kind, ()), *cells)
    return {name: listed for name, listed in found.items() if listed}


def _fill(sheet: Any, lines: Sequence[Asked], count: int, units: str, positions: Mapping[str, str]) -> None:
    """Write the rows of a sheet."""
    from openpyxl.comments import Comment
    from openpyxl.styles import Alignment, Border, Side
    from openpyxl.utils import get_column_letter

    thin, thick = Side(style="thin"), Side(style="medium")
    box = Border(left=thin, right=thin, top=thin, bottom=thin)
    last = get_column_letter(_FIRST + count - 1)
    answers = [str(number + 1) for number in range(count)] if count > 1 else ["Answer"]
    for index, text in enumerate((*HEADS, *answers), 1):
        cell = sheet.cell(_HEAD, index)
        write(cell, text)
        cell.font = font(sheet, bold=True)
        cell.border = Border(top=thick, bottom=thick)
        letter = get_column_letter(index)
        own = _OWN if count == 1 else _BESIDE_OTHERS
        sheet.column_dimensions[letter].width = _WIDTHS[index - 1] if index < _FIRST else own
    for row, line in enumerate(lines, _HEAD + 1):
        what, example = meaning(line.info)
        listed = words(line.info.annotation)
        group = line.form in (Form.GROUP, Form.GROUPS)
        unit = "" if group else unit_of(line.name, line.info, units)
        for index, text in enumerate((line.label, what, unit), 1):
            write(sheet.cell(row, index), text)
            sheet.cell(row, index).alignment = Alignment(vertical="top", wrap_text=index == 2)
        sheet.cell(row, 1).font = font(sheet, bold=group or line.must)
        told = [what, f"Such as: {example}", *(["Must be given."] if line.must else [])]
        told += [f"One of: {', '.join(listed)}"] if listed else []
        sheet.cell(row, 1).comment = Comment("\n".join(told), "reportkit", height=120, width=280)
        for index in range(_FIRST, _FIRST + count):
            cell = sheet.cell(row, index)
            text = line.cells[index - _FIRST] if index - _FIRST < len(line.cells) else ""
            if text:
                write(cell, text)
            cell.number_format = "@"  # a spreadsheet would turn 5/8 into a date
            cell.alignment = Alignment(vertical="top", wrap_text=True)
            if not group:
                cell.border = box
        longest = max(map(len, line.cells), default=0)
        tallest = max(len(what) / _WIDTHS[1], longest / (_OWN if count == 1 else _BESIDE_OTHERS))
        sheet.row_dimensions[row].height = 18 * (int(tallest) + 1)
        if not line.shown:
            fold(sheet.row_dimensions[row])
        kind = NAMES.get((line.record, line.name))
        place = positions.get(kind or _listed(listed)) if line.form is Form.VALUE else None
        if place:
            cells = f"{get_column_letter(_FIRST)}{row}:{last}{row}"
            drop_down(sheet, cells, place, line.label, "Not in the list of this job.")
    sheet.freeze_panes = sheet.cell(_HEAD + 1, _FIRST)
    sheet.print_title_rows = f"1:{_HEAD}"
    sheet.print_title_cols = "A:C"
    sheet.print_area = f"A1:{last}{_HEAD + len(lines)}"
