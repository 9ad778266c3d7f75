"""windows.xlsx: the same job as windows.csv, a form to fill in, and faults by sheet, row and column."""

import datetime as dt
import io
import shutil
import zipfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from openpyxl.utils import get_column_letter
from survey_book import starter_with_survey_book

from reportkit.app.command_line import main
from reportkit.base.errors import Fault, InputError, JobError
from reportkit.job import load_job, write_starter
from reportkit.job.model import Pane
from reportkit.job.reading.survey import COLUMNS, REQUIRED, read_rows
from reportkit.job.reading.workbook import read_workbook
from reportkit.job.writing.copies import contents
from reportkit.job.writing.form import Form, papers, workbook

JOBS = Path(__file__).parents[3] / "jobs"
DEMOS = ["corner-shop", "harbour-house", "hill-studio"]
Change = Callable[[Any], None]
HEAD = 2  # row of the heads in the form


@pytest.fixture(scope="module")
def metric(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return a new metric job with its survey as a workbook: to be copied."""
    folder = tmp_path_factory.mktemp("metric")
    starter_with_survey_book(folder, "metric")
    return folder


@pytest.fixture
def folder(tmp_path: Path, metric: Path) -> Path:
    """Return that job in a folder of the test's own."""
    return shutil.copytree(metric, tmp_path / "job")


def at(column: str, row: int = HEAD + 1) -> str:
    """Return the cell of a column in the form."""
    return f"{get_column_letter(COLUMNS.index(column) + 1)}{row}"


def change(folder: Path, *changes: Change) -> None:
    """Change the workbook of a job as a spreadsheet program would."""
    book = openpyxl.load_workbook(folder / "windows.xlsx")
    for one in changes:
        one(book["Windows"])
    book.save(folder / "windows.xlsx")


def put(cell: str, value: object) -> Change:
    """Return the change that writes a value into a cell."""

    def do(sheet: Any) -> None:
        sheet[cell].value = value

    return do


def faults_of(folder: Path) -> tuple[Fault, ...]:
    """Return the faults of a job that must have some."""
    with pytest.raises(JobError) as caught:
        load_job(folder)
    return caught.value.faults


def form(**changed: Any) -> Form:
    """Return a small form."""
    names = {"rooms": ["shop"], "faces": ["south"], "glazings": ["plate"], "films": ["grey"]}
    return Form(**{"title": "a job", "units": "metric", "names": names, **changed})


def rows_of(data: bytes) -> list[dict[str, object]]:
    """Return the rows of a workbook that must have no fault."""
    rows, faults, _ = read_workbook("windows.xlsx", data)
    assert not faults, [str(fault) for fault in faults]
    return [row.raw for row in rows]


# ---- the same job --------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", DEMOS)
def test_a_demo_job_as_workbook_is_the_same_job(tmp_path: Path, name: str) -> None:
    """The survey written into a workbook gives the same models as the survey it came from."""
    text = (JOBS / name / "windows.csv").read_text(encoding="utf-8")
    before = load_job(JOBS / name)
    shutil.copytree(JOBS / name, tmp_path / name, ignore=shutil.ignore_patterns("runs", "windows.csv"))
    shutil.copytree(JOBS / "_shared", tmp_path / "_shared")
    rows, _ = read_rows("windows.csv", text)
    (tmp_path / name / "windows.xlsx").write_bytes(workbook(form(rows=[row.cells for row in rows])))
    after = load_job(tmp_path / name)
    assert after.job == before.job
    assert after.defaults == before.defaults


@pytest.mark.parametrize("units", ["us", "metric"])
def test_starter_workbook_is_the_starter(tmp_path: Path, units: Any) -> None:
    """A new job with a workbook is the new job with a CSV."""
    written = starter_with_survey_book(tmp_path / "a" / "job", units)
    write_starter(tmp_path / "b" / "job", units=units)
    assert [path.name for path in written] == ["job.yaml", "windows.xlsx"]
    assert load_job(tmp_path / "a" / "job").job == load_job(tmp_path / "b" / "job").job


def test_numbers_and_texts_are_the_same(folder: Path) -> None:
    """A number, the same as text, and with its unit are one length; a whole number is a name, too."""
    change(folder, put(at("width"), 905.5), put(at("width_2"), "905,5"), put(at("width_3"), " 90.55 cm "),
           put(at("quantity"), 2.0), put(at("view_group"), 7), put(at("old_film"), True))  # fmt: skip
    pane = load_job(folder).job.panes[0]
    assert set(map(float, pane.widths)) == {905.5}
    assert (pane.quantity, pane.view_group, pane.old_film) == (2, "7", True)


def test_inches_in_cells(tmp_path: Path) -> None:
    """A fraction typed as text, and as the number behind a fraction's format, are one length."""
    starter_with_survey_book(tmp_path, "us")
    change(tmp_path, put(at("width"), 35.625), put(at("width_2"), "35 5/8"), put(at("width_3"), "35⅝ in"))
    assert set(map(float, load_job(tmp_path).job.panes[0].widths)) == {35.625 * 25.4}


def test_rows_between_and_other_sheets_change_nothing(folder: Path) -> None:
    """Empty rows, a remark, a title above the heads and sheets beside the survey are passed over."""
    expected = load_job(folder).job

    def move(sheet: Any) -> None:
        sheet.insert_rows(HEAD + 2, 3)
        sheet.cell(HEAD + 2, 1).value = "# to be measured again"
        sheet.insert_rows(1, 2)
        sheet["A1"].value = "Windows of the house"
        sheet.parent.create_sheet("Sketch", 0)["A1"].value = "id"

    change(folder, move)
    assert load_job(folder).job == expected


def test_a_plain_sheet_of_any_name_is_read() -> None:
    """A table typed into an empty workbook is read like a CSV: other heads, capitals, spaces."""
    book = openpyxl.Workbook()
    book.active.append(["Pane", "Room", "Face", "Glass", "Qty", "Width 1", "Height-1", "Notes"])
    book.active.append(["A", "shop", "east", "plate", 2, 905, "1200 ", "Old,\nputty"])
    out = io.BytesIO()
    book.save(out)
    assert rows_of(out.getvalue()) == [
        {"id": "A", "room": "shop", "face": "east", "glazing": "plate", "quantity": "2", "widths": ["905"],
         "heights": ["1200"], "note": "Old,\nputty"}
    ]  # fmt: skip


signs = st.characters(codec="utf-8", exclude_characters="#\u00a0", exclude_categories=("C", "Z"))


@settings(max_examples=15, deadline=None)
@given(st.lists(st.text(signs, min_size=1, max_size=12), min_size=7, max_size=7))
def test_what_the_form_writes_is_read_back(values: list[str]) -> None:
    """Whatever people type, = + - @ before it too, comes back as the text it was."""
    names = ["id", "room", "face", "glazing", "width", "height", "note"]
    data = workbook(form(rows=[dict(zip(names, values, strict=True))]))
    raw = rows_of(data)[0]
    found = [raw[name] for name in ("id", "room", "face", "glazing", "note")]
    assert found == [values[0], values[1], values[2], values[3], values[6]]
    assert (raw["widths"], raw["heights"]) == ([values[4]], [values[5]])


# ---- the form -------------------------------------------------------------------------------------------


def test_lists_are_the_jobs_own(folder: Path) -> None:
    """Each column that names something, or takes one of some words, has its list of exactly these."""
    job = load_job(folder).job
    book = openpyxl.load_workbook(folder / "windows.xlsx")
    sheet = book["Windows"]
    lists: dict[str, list[str]] = {}
    for rule in sheet.data_validations.dataValidation:
        assert rule.type == "list"
        name, _, cells = rule.formula1.partition("!")
        words = [cell.value for (cell,) in book[name][cells.replace("$", "")]]
        (area,) = rule.sqref.ranges
        assert (area.min_row, area.max_row >= 200) == (HEAD + 1, True)
        lists[COLUMNS[area.min_col - 1]] = words
    assert lists["room"] == [room.id for room in job.rooms]
    assert lists["face"] == [face.id for face in job.faces]
    assert lists["glazing"] == [glazing.id for glazing in job.glazings]
    assert lists["film"] == [*(film.id for film in job.films), "none"]
    assert lists["frame"] == ["metal", "plastic", "timber", "putty"]
    assert lists["old_film"] == ["yes", "no"]
    worded = {name for name, info in Pane.model_fields.items()
              if "Literal" in str(info.annotation) or info.annotation is bool}  # fmt: skip
    assert worded <= set(lists)
    assert book["Lists"].sheet_state == "hidden"


def test_every_column_has_its_note(folder: Path) -> None:
    """The head of each column carries a note, and the second sheet explains each again."""
    book = openpyxl.load_workbook(folder / "windows.xlsx")
    heads = book["Windows"][HEAD]
    assert [cell.value.split(" [")[0].replace(" ", "_") for cell in heads] == list(COLUMNS)
    units = {cell.value.split(" [")[0]: cell.value.partition(" [")[2] for cell in heads}
    assert (units["width"], units["seam"], units["opens percent"], units["room"]) == ("mm]", "mm]", "%]", "")
    for name, cell in zip(COLUMNS, heads, strict=True):
        assert "Such as" in cell.comment.text
        assert ("Must be given" in cell.comment.text) == (name in REQUIRED)
    notes = [row[0].value.split(" [")[0].replace(" ", "_") for row in book["Notes"].iter_rows(2)]
    assert notes == list(COLUMNS)
    assert book.sheetnames[:2] == ["Windows", "Notes"]


@pytest.mark.parametrize(("units", "code"), [("us", 1), ("metric", 9)])
def test_print_layout(tmp_path: Path, units: Any, code: int) -> None:
    """Landscape on the job's paper, a few sheets wide, heads and id repeated, rows for a pencil."""
    starter_with_survey_book(tmp_path, units)
    sheet = openpyxl.load_workbook(tmp_path / "windows.xlsx")["Windows"]
    assert (sheet.page_setup.orientation, sheet.page_setup.paperSize) == ("landscape", code)
    assert sheet.sheet_properties.pageSetUpPr.fitToPage
    assert (sheet.page_setup.fitToWidth, sheet.page_setup.fitToHeight) == (len(papers()), 0)
    assert sheet.page_setup.blackAndWhite
    assert sheet.print_title_rows == f"$1:${HEAD}" and sheet.print_title_cols == "$A:$A"
    cuts = [cut.id for cut in sheet.col_breaks.brk]
    assert cuts == [COLUMNS.index(part[-1]) + 1 for part in papers()[:-1]]
    assert cuts[0] == COLUMNS.index("diagonal_2") + 1
    rows = range(HEAD + 1, sheet.max_row + 1)
    assert all(sheet.row_dimensions[row].height >= 28 for row in rows)
    blank = [row for row in rows if all(cell.value is None for cell in sheet[row])]
    assert len(blank) >= 10
    assert all(cell.border.bottom.style for row in blank for cell in sheet[row])
    assert "Windows beside the desk" in sheet.oddHeader.left.text
    assert "Measured by" in sheet.oddFooter.left.text
    # the sheets of paper are equally wide, the id on each, so that fitting all of them fits each
    wide = [sheet.column_dimensions[get_column_letter(n)].width for n in range(1, len(COLUMNS) + 1)]
    for start, end in zip(cuts, [*cuts[1:], len(COLUMNS)], strict=True):
        assert wide[0] + sum(wide[start:end]) == pytest.approx(sum(wide[: cuts[0]]), rel=0.02)
    # about 1.9 mm a character: on 277 mm of A4 nothing shrinks below four fifths, a pencil's 8 mm stay
    assert sum(wide[: cuts[0]]) * 1.9 * 0.8 < 277
    assert [name for part in papers() for name in part] == list(COLUMNS)
    # texts only: a spreadsheet must not make a date of 5/8
    assert all(sheet.cell(row, n).number_format == "@" for row in rows for n in range(1, len(COLUMNS) + 1))


def test_a_title_is_no_code_of_the_header() -> None:
    """An & in the job's title stays an & (ISO/IEC 29500-1, 18.3.1.46: a code starts with &)."""
    data = workbook(form(title="Salt & Pepper &P"))
    with zipfile.ZipFile(io.BytesIO(data)) as packed:
        assert b"Salt &amp;&amp; Pepper &amp;&amp;P" in packed.read("xl/worksheets/sheet1.xml")


@pytest.mark.parametrize("name", ["corner-shop", "harbour-house", "hill-studio"])
def test_every_right_job_gets_a_form(tmp_path: Path, name: str) -> None:
    """A form needs names only: films of _shared that the job does not use may be priced in other money."""
    skip = shutil.ignore_patterns("runs", "windows.csv", "windows.xlsx")
    shutil.copytree(JOBS / name, tmp_path / name, ignore=skip)
    shutil.copytree(JOBS / "_shared", tmp_path / "_shared")
    assert main(["start", str(tmp_path / name), "--workbook"]) == 0


def test_a_job_without_survey_gets_an_empty_form(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """For a job file alone, with entries in ``_shared``, the form is empty and its lists hold both."""
    folder = tmp_path / "corner-shop"
    shutil.copytree(JOBS / "corner-shop", folder, ignore=shutil.ignore_patterns("runs", "windows.csv"))
    shutil.copytree(JOBS / "_shared", tmp_path / "_shared")
    assert main(["start", str(folder), "--workbook"]) == 0
    assert capsys.readouterr().out.strip().endswith("windows.xlsx")
    book = openpyxl.load_workbook(folder / "windows.xlsx")
    lists = {
        column[0].value: [cell.value for cell in column[1:] if cell.value] for column in book["Lists"].columns
    }
    whole = load_job(JOBS / "corner-shop").job
    assert {glazing.id for glazing in whole.glazings} <= set(lists["glazing"])
    assert lists["room"] == [room.id for room in whole.rooms]
    assert book["Windows"].page_setup.paperSize == 1
    shown = [str(fault) for fault in faults_of(folder)]
    assert any(line.startswith("windows.xlsx:Windows: must have at least one pane") for line in shown), shown
    before = (folder / "windows.xlsx").read_bytes()
    with pytest.raises(InputError, match="is there already"):
        starter_with_survey_book(folder, "us")
    assert (folder / "windows.xlsx").read_bytes() == before


# ---- faults ---------------------------------------------------------------------------------------------


def hide_row(sheet: Any) -> None:
    """Hide the second pane."""
    sheet.row_dimensions[HEAD + 2].hidden = True


def hide_column(sheet: Any) -> None:
    """Hide the column of the sill."""
    sheet.column_dimensions[get_column_letter(COLUMNS.index("sill") + 1)].hidden = True


def merge(sheet: Any) -> None:
    """Merge the rooms of two panes."""
    sheet.merge_cells(f"{at('room')}:{at('room', HEAD + 2)}")


@pytest.mark.parametrize(
    ("wrong", "where", "rule"),
    [
        (put(at("width"), "nine"), f"{at('width')} width:", "must"),
        (put(at("width"), 9), f"{at('width')} width:", "must be at least 20 mm"),
        (put(at("width"), "=900+5"), f"{at('width')} width:", "must be a value, not a formula"),
        (put(at("room"), "kitchn"), f"{at('room')} room:", "must be a room of this job"),
        (put(at("room"), None), f"{at('room')} room:", "must be given"),
        (put(at("id", HEAD + 2), "W1"), f"{at('id', HEAD + 2)} id:", "must be an id used once"),
        (put(at("height_2"), dt.datetime(2026, 8, 5)), f"{at('height_2')} height_2:", "not a date or time"),
        (put(at("sill"), dt.time(5, 8)), f"{at('sill')} sill:", "not a date or time"),
        (put(at("quantity"), 1.5), f"{at('quantity')} quantity:", "must be a whole number"),
        (put(at("quantity"), True), f"{at('quantity')} quantity:", "must be a whole number"),
        (put(at("diagonal_1"), 1900), f"{at('diagonal_1')} diagonal_1:", "diagonal does not match"),
        (put(at("frame"), "plastik"), f"{at('frame')} frame:", "must be one of"),
        (put(at("note"), "#DIV/0!"), f"{at('note')} note:", "spreadsheet's error"),
        (put("AZ4", "x"), "AZ4:", "must be in a named column"),
        (put(at("width_2", HEAD), "wdith"), f"{at('width_2', HEAD)} wdith:", "is not a column here"),
        (put(at("width_2", HEAD), "width"), f"{at('width_2', HEAD)} width:", "must be a column once"),
        (put(at("width", HEAD), None), f"row {HEAD} width:", "must be a column"),
        (merge, f"{at('room')}:{at('room', HEAD + 2)} room:", "must not be a merged cell"),
        (hide_row, f"row {HEAD + 2}:", "must not be hidden"),
        (hide_column, f"column {at('sill')[:-1]} sill:", "must not be hidden"),
    ],
)
def test_faults_name_sheet_row_and_column(folder: Path, wrong: Change, where: str, rule: str) -> None:
    """Each fault starts with the file, the sheet, the cell and the column, and says what must hold."""
    change(folder, wrong)
    shown = [str(fault) for fault in faults_of(folder)]
    assert any(line.startswith(f"windows.xlsx:Windows!{where}") and rule in line for line in shown), shown


def test_check_prints_the_cell(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The command prints one fault a line, in the order of the rows."""
    change(folder, put(at("width", HEAD + 2), "x"), put(at("width"), "y"))
    assert main(["check", str(folder)]) == 2
    lines = capsys.readouterr().out.splitlines()
    assert [line.split(" ")[0] for line in lines] == [
        f"windows.xlsx:Windows!{at('width')}",
        f"windows.xlsx:Windows!{at('width', HEAD + 2)}",
    ]


def test_rows_are_ordered_as_numbers(tmp_path: Path) -> None:
    """Row 10 comes after row 9 in the list of faults."""
    rows = [{"id": f"P{n}", "width": "x"} for n in range(12)]
    starter_with_survey_book(tmp_path, "metric")
    (tmp_path / "windows.xlsx").write_bytes(workbook(form(rows=rows)))
    lines = [fault.line for fault in faults_of(tmp_path) if fault.field == "width"]
    assert lines == list(range(HEAD + 1, HEAD + 13))


def repacked(data: bytes, **parts: bytes | None) -> bytes:
    """Return a workbook with parts added, replaced, or (None) left out; ``__`` stands for a slash."""
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(data)) as old, zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as new:
        named = {name.replace("__", "/"): content for name, content in parts.items()}
        for part in old.namelist():
            if part not in named:
                new.writestr(part, old.read(part))
        for name, content in named.items():
            if content is not None:
                new.writestr(name, content)
    return out.getvalue()


DOCTYPE = b'<?xml version="1.0"?><!DOCTYPE x [<!ENTITY a "aaaaaaaaaa">]><x>&a;</x>'
WIDE_DOCTYPE = DOCTYPE.decode().encode("utf-16")


def damaged(way: int) -> Callable[[bytes], bytes]:
    """Return what packs a workbook's parts in a way of compression, and spoils each part's middle."""

    def spoil(data: bytes) -> bytes:
        out = io.BytesIO()
        with zipfile.ZipFile(io.BytesIO(data)) as whole, zipfile.ZipFile(out, "w", way) as packed:
            for name in whole.namelist():
                packed.writestr(name, whole.read(name))
            places = [(part.header_offset, part.compress_size) for part in packed.infolist()]
        spoilt = bytearray(out.getvalue())
        for start, size in places:
            for at in range(start + 60 + size // 3, start + 60 + size // 2):
                spoilt[at] ^= 0x55
        return bytes(spoilt)

    return spoil


@pytest.mark.parametrize(
    ("spoil", "rule"),
    [
        (lambda data: b"id,room\nA,b\n", "must be a workbook (.xlsx) that is whole"),
        (lambda data: b"", "must be a workbook (.xlsx) that is whole"),
        (lambda data: data[: len(data) // 2], "must be a workbook (.xlsx) that is whole"),
        (damaged(zipfile.ZIP_DEFLATED), "must be a workbook (.xlsx) that is whole"),
        (damaged(zipfile.ZIP_LZMA), "must be a workbook (.xlsx) that is whole"),
        (damaged(zipfile.ZIP_BZIP2), "must be a workbook (.xlsx) that is whole"),
        (lambda data: b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(600), "without a password"),
        (lambda data: repacked(data, **{"xl__vbaProject.bin": b"x"}), "macros"),
        (lambda data: repacked(data, **{"xl__media__image1.jpeg": b"x"}), "must not hold pictures"),
        (lambda data: repacked(data, **{"xl__workbook.xml": None}), "must be a workbook"),
        (lambda data: repacked(data, **{"xl__worksheets__sheet9.xml": b"<c/>" * 200_001}), "cells"),
        (lambda data: repacked(data, **{"xl__bomb.bin": bytes(30_000_000)}), "must unpack to at most"),
        (lambda data: repacked(data, **{"xl__sharedStrings.xml": DOCTYPE}), "without a document type"),
        (lambda data: repacked(data, **{"xl__sharedStrings.xml": WIDE_DOCTYPE}), "without a document type"),
        (lambda data: repacked(data, **{"xl__worksheets__sheet1.xml": b"<worksheet"}), "that can be read"),
        (lambda data: b"x" * 5_000_001, "must be at most 5 MB"),
    ],
)  # fmt: skip
def test_what_is_no_safe_workbook_is_a_fault(
    folder: Path, spoil: Callable[[bytes], bytes], rule: str
) -> None:
    """Another kind of file, a damaged one, macros, pictures, and files that unfold are refused in words."""
    path = folder / "windows.xlsx"
    path.write_bytes(spoil(path.read_bytes()))
    (fault,) = faults_of(folder)
    assert fault.file == "windows.xlsx"
    assert rule in fault.rule


@settings(max_examples=40, deadline=None)
@given(st.data())
def test_no_damage_is_a_crash(data: st.DataObject) -> None:
    """A workbook with bytes changed is read or refused; nothing else is raised."""
    spoilt = bytearray(SMALL)
    for _ in range(data.draw(st.integers(1, 4))):
        spoilt[data.draw(st.integers(0, len(spoilt) - 1))] = data.draw(st.integers(0, 255))
    rows, faults, _ = read_workbook("windows.xlsx", bytes(spoilt))
    assert rows or faults


SMALL = workbook(form(rows=[{"id": "A", "room": "shop", "face": "south", "glazing": "plate"}]))


@pytest.mark.parametrize("other", ["windows.csv", "windows.xlsm", "windows.ods"])
def test_two_surveys_are_a_fault(folder: Path, other: str) -> None:
    """Where two files could be the survey, neither is taken."""
    (folder / other).write_text("id\n", encoding="utf-8")
    (fault,) = [fault for fault in faults_of(folder) if "survey" in fault.rule]
    assert "must be the only survey here" in fault.rule


@pytest.mark.parametrize(
    ("other", "rule"), [("windows.xlsm", "macros"), ("windows.xls", ".xlsx"), ("windows.ods", ".xlsx")]
)
def test_other_kinds_of_spreadsheet_are_told(folder: Path, other: str, rule: str) -> None:
    """A survey saved as another kind of file is not passed over in silence."""
    (folder / "windows.xlsx").rename(folder / other)
    faults = [fault for fault in faults_of(folder) if fault.file == other]
    assert rule in faults[0].rule


def test_names_of_who_wrote_it_stay_at_home(folder: Path) -> None:
    """What a job hands on of a workbook holds no author, and is the same workbook again and again."""
    book = openpyxl.load_workbook(folder / "windows.xlsx")
    book.properties.creator = book.properties.lastModifiedBy = "Invented Author"
    book.save(folder / "windows.xlsx")
    loaded = load_job(folder)
    handed = contents(loaded)["windows.xlsx"]
    with zipfile.ZipFile(io.BytesIO(handed)) as packed:
        assert packed.testzip() is None
        assert not any(b"Invented Author" in packed.read(name) for name in packed.namelist())
    (folder / "windows.xlsx").write_bytes(handed)
    again = load_job(folder)
    assert again.job == loaded.job
    assert contents(again)["windows.xlsx"] == handed


def test_who_measured_and_when(folder: Path) -> None:
    """The job says who measured and when; a day that is none is a fault of job.yaml."""
    survey = load_job(folder).job.survey
    assert (survey.measured_by, survey.measured_on) == ("Bo Example", dt.date(2026, 2, 24))
    path = folder / "job.yaml"
    text = path.read_text(encoding="utf-8").replace("measured_on: 2026-02-24", "measured_on: last week")
    path.write_text(text, encoding="utf-8")
    (fault,) = faults_of(folder)
    assert (fault.file, fault.field) == ("job.yaml", "survey.measured_on")
