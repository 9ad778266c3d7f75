# ruff: noqa: E501 -- what a fault says stands on one line
"""Workbooks by other programs, as people leave them: the same job, or what stops it named with its cell."""

import datetime as dt
import io
import lzma
import os
import shutil
import subprocess
import time
import zipfile
from pathlib import Path
from typing import Any

import openpyxl
import pytest

from reportkit.base.errors import Fault, JobError
from reportkit.job import load_job, write_starter
from reportkit.job.reading.book import SHEETS, read_book
from reportkit.job.reading.survey import COLUMNS


def faults_of(folder: Path) -> tuple[Fault, ...]:
    """Return the faults of a job that must have some."""
    with pytest.raises(JobError) as caught:
        load_job(folder)
    return caught.value.faults


# ---- an office program ---------------------------------------------------------------------------------


def resaved(book: Path, home: Path, ending: str = "xlsx") -> Path:
    """Return what LibreOffice writes where it opens a workbook and saves it again."""
    office = shutil.which("soffice")
    if office is None:
        pytest.skip("no LibreOffice here")
    profile = f"-env:UserInstallation=file://{home}/profile"
    wanted = {"xlsx": "xlsx:Calc MS Excel 2007 XML"}.get(ending, ending)
    asked = [office, "--headless", profile, "--convert-to", wanted, "--outdir", str(home / "out"), str(book)]
    subprocess.run(asked, check=True, capture_output=True, timeout=180)
    return home / "out" / book.with_suffix(f".{ending}").name


@pytest.mark.parametrize("units", ["us", "metric"])
def test_saved_again_by_an_office_program_it_is_the_same_job(tmp_path: Path, units: Any) -> None:
    """LibreOffice writes other parts, styles and shared texts: the job is the same, what is folded included."""
    write_starter(tmp_path / "job", units=units, full=False, as_workbook=True)
    book = openpyxl.load_workbook(tmp_path / "job/job.xlsx")
    row = next(row[0].row for row in book["Job"].iter_rows() if row[0].value == "fitting.table")
    assert book["Job"].row_dimensions[row].hidden
    book["Job"].cell(row, 4).value = "3 m"
    book.save(tmp_path / "job/job.xlsx")
    before = load_job(tmp_path / "job").job
    assert before.fitting.table == 3000
    shutil.copy(resaved(tmp_path / "job/job.xlsx", tmp_path), tmp_path / "job/job.xlsx")
    assert load_job(tmp_path / "job").job == before


def test_what_an_office_program_computed_is_named(tmp_path: Path) -> None:
    """A formula that it saved with its value, a merged cell and a date made of 5-Aug: each by its cell."""
    write_starter(tmp_path / "job", units="metric", as_workbook=True)
    path = tmp_path / "job/job.xlsx"
    book = openpyxl.load_workbook(path)
    panes = book["Panes"]
    at = {name: panes.cell(3, COLUMNS.index(name) + 1) for name in ("width", "height", "note")}
    at["width"].value = "=900+5"
    at["height"].value, at["height"].number_format = dt.datetime(2026, 8, 5), "d-mmm"
    panes.merge_cells(f"{at['note'].coordinate}:{panes.cell(4, at['note'].column).coordinate}")
    at["note"].value = "both"
    book.save(path)
    shutil.copy(resaved(path, tmp_path), path)
    saved = openpyxl.load_workbook(path, data_only=True)
    assert saved["Panes"][at["width"].coordinate].value == 905  # the value is there, and may be old
    shown = [str(fault) for fault in faults_of(tmp_path / "job")]
    assert f"job.xlsx:Panes!{at['width'].coordinate} width: must be a value, not a formula" in "\n".join(
        shown
    )
    assert any(
        "height: must be a text or a number, not a date" in line and "2026-08-05" in line for line in shown
    )
    assert any("note: must not be a merged cell" in line for line in shown)


# ---- a library that writes -----------------------------------------------------------------------------


def texts_of(folder: Path) -> dict[str, list[list[str]]]:
    """Return the cells of a job's workbook by sheet, empty ones as empty texts."""
    book = openpyxl.load_workbook(folder / "job.xlsx")
    return {
        title: [
            ["" if cell.value is None else str(cell.value) for cell in row] for row in book[title].iter_rows()
        ]
        for title in SHEETS
    }


def number(text: str) -> float | str:
    """Return a text as the number that a person would type, if it is one."""
    try:
        return float(text)
    except ValueError:
        return text


def rewritten(folder: Path, **changed: Any) -> None:
    """Write a job's workbook anew with another library: plain cells, numbers as numbers.

    ``empty`` adds so many rows that have a format and nothing else; ``each`` is called with every sheet.
    """
    xlsxwriter = pytest.importorskip("xlsxwriter")
    texts = texts_of(folder)
    book = xlsxwriter.Workbook(str(folder / "job.xlsx"))
    box = book.add_format({"border": 1})
    for title, rows in texts.items():
        sheet = book.add_worksheet(title)
        for line, row in enumerate(rows):
            for column, text in enumerate(row):
                if text:
                    sheet.write(line, column, number(text))
        for line in range(len(rows), len(rows) + changed.get("empty", 0)):
            for column in range(8):
                sheet.write_blank(line, column, None, box)
        if "each" in changed:
            changed["each"](title, sheet, book)
    book.close()


@pytest.mark.parametrize("units", ["us", "metric"])
def test_numbers_as_numbers_are_the_same_job(tmp_path: Path, units: Any) -> None:
    """What a form keeps as texts another program keeps as numbers: the same job."""
    write_starter(tmp_path, units=units, full=False, as_workbook=True)
    before = load_job(tmp_path).job
    rewritten(tmp_path)
    kinds = {cell.data_type for row in openpyxl.load_workbook(tmp_path / "job.xlsx")["Films"] for cell in row}
    assert "n" in kinds
    assert load_job(tmp_path).job == before


def test_thousands_of_empty_rows_are_passed_over(tmp_path: Path) -> None:
    """10,000 rows below the panes with borders and nothing in them are no rows, and are soon read."""
    write_starter(tmp_path, units="metric", full=False, as_workbook=True)
    before = load_job(tmp_path).job
    rewritten(tmp_path, each=lambda title, sheet, book: [
        sheet.write_blank(line, column, None, book.add_format({"border": 1}) if line == column == 0 else box)
        for box in [book.add_format({"border": 1})] if title == "Panes"
        for line in range(20, 10_020) for column in range(12)
    ])  # fmt: skip
    book = openpyxl.load_workbook(tmp_path / "job.xlsx", read_only=True)
    assert book["Panes"].max_row > 10_000
    book.close()
    start = time.process_time()
    assert load_job(tmp_path).job == before
    assert time.process_time() - start < 30


@pytest.mark.parametrize("place", ["A900000", "A1048577", "A10000000", "XFD1048576"])
def test_a_cell_far_below_the_table_is_named_at_once(tmp_path: Path, place: str) -> None:
    """Also where no workbook has a row (ECMA-376 part 1, 18.3.1.73): nothing between is gone through."""
    write_starter(tmp_path, units="metric", full=False, as_workbook=True)
    path = tmp_path / "job.xlsx"
    parts = {name: zipfile.ZipFile(path).read(name) for name in zipfile.ZipFile(path).namelist()}
    digits = place.lstrip("AXFD")
    cell = f'<row r="{digits}"><c r="{place}" t="inlineStr"><is><t>far</t></is></c></row></sheetData>'
    sheet = "xl/worksheets/sheet3.xml"
    assert parts[sheet].count(b"</sheetData>") == 1
    parts[sheet] = parts[sheet].replace(b"</sheetData>", cell.encode())
    with zipfile.ZipFile(path, "w") as book:
        for name, content in parts.items():
            book.writestr(name, content)
    start = time.process_time()
    found = [fault for fault in faults_of(tmp_path) if "must stand in the first 10000 rows" in fault.rule]
    assert [fault.found for fault in found] == [f"cells up to {'XFD' if 'X' in place else 'F'}{digits}"]
    assert time.process_time() - start < 10


def test_more_empty_cells_than_a_job_needs_are_named(tmp_path: Path) -> None:
    """Hundreds of thousands of them are not read: the fault says what to clear."""
    write_starter(tmp_path, units="metric", full=False, as_workbook=True)
    rewritten(tmp_path, empty=3_000)  # eight columns of nine sheets
    (fault,) = faults_of(tmp_path)
    assert "must have at most 200000 cells" in str(fault)
    assert "clear the rows and columns outside the table" in str(fault)


def test_a_title_and_dates(tmp_path: Path) -> None:
    """A title above, a sheet between, true days and ticks are read."""
    write_starter(tmp_path, units="metric", full=False, as_workbook=True)
    before = load_job(tmp_path).job
    texts = texts_of(tmp_path)
    day = next(n for n, row in enumerate(texts["Job"]) if row[0] == "quote.date")
    tick = next(n for n, row in enumerate(texts["Job"]) if row[0] == "invented")

    def typed(title: str, sheet: Any, book: Any) -> None:
        if title == "Job":
            sheet.write_datetime(
                day, 3, dt.datetime(2026, 3, 2), book.add_format({"num_format": "d mmm yyyy"})
            )
            sheet.write_boolean(tick, 3, True)
            book.add_worksheet("Sketch").write(0, 0, "Field")
        if title == "Rooms":
            sheet.merge_range("A1:C1", "The rooms")

    rewritten(tmp_path, each=typed)
    assert load_job(tmp_path).job == before


def test_a_filter(tmp_path: Path) -> None:
    """Panes that a filter hides may be meant or not: they are named."""
    write_starter(tmp_path, units="metric", full=False, as_workbook=True)

    def filtered(title: str, sheet: Any, book: Any) -> None:
        if title == "Panes":
            sheet.autofilter("A2:D20")
            sheet.filter_column("A", "x == W1")
            sheet.set_row(3, options={"hidden": True})

    rewritten(tmp_path, each=filtered)
    (fault,) = faults_of(tmp_path)
    assert str(fault).startswith(
        "job.xlsx:Panes!row 4: must not be hidden while it holds something; show the row"
    )


def test_a_formula_with_its_value_is_named(tmp_path: Path) -> None:
    """A value that a formula had when it was saved may be old: it is asked for, by its cell."""
    write_starter(tmp_path, units="metric", full=False, as_workbook=True)
    row = next(n for n, row in enumerate(texts_of(tmp_path)["Prices"]) if row[0] == "labour_per_hour")
    rewritten(
        tmp_path,
        each=lambda title, sheet, book: title == "Prices" and sheet.write_formula(row, 3, "=30*2", None, 60),
    )
    (fault,) = faults_of(tmp_path)
    assert fault.cell == f"Prices!D{row + 1}"
    assert "must be a value, not a formula" in fault.rule


# ---- a library that reads ------------------------------------------------------------------------------


def test_another_reader_sees_the_same_texts(tmp_path: Path) -> None:
    """Every text that this reader takes from a cell stands there for another reader, too."""
    calamine = pytest.importorskip("python_calamine")
    write_starter(tmp_path, units="us", as_workbook=True)
    data = (tmp_path / "job.xlsx").read_bytes()
    book = read_book("job.xlsx", data)
    assert not isinstance(book, list) and not book.faults
    other = calamine.CalamineWorkbook.from_filelike(io.BytesIO(data))
    count = 0
    for path, (file, row) in book.tree.positions.items():
        value: Any = book.tree.value
        for part in path:
            value = value[part] if isinstance(part, int) else value.get(part)
            if value is None:
                break
        if isinstance(value, str):
            title, _, column = file.removeprefix("job.xlsx:").rpartition("!")
            rows = other.get_sheet_by_name(title).to_python(skip_empty_area=False)
            assert rows[row - 1][ord(column) - ord("A")] == value, path
            count += 1
    assert count > 120


# ---- what is no safe workbook --------------------------------------------------------------------------


def packed(parts: dict[str, bytes], kind: int = zipfile.ZIP_DEFLATED) -> bytes:
    """Return parts as a file of the kind that workbooks are."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", kind) as made:
        for name, content in parts.items():
            made.writestr(name, content)
    return out.getvalue()


def broken_lzma(parts: dict[str, bytes]) -> bytes:
    """Return parts packed with LZMA, one of them damaged inside so that its stream cannot be read on."""
    data = bytearray(packed(parts, zipfile.ZIP_LZMA))
    with zipfile.ZipFile(io.BytesIO(bytes(data))) as made:
        largest = max(made.infolist(), key=lambda part: part.compress_size)
    start = largest.header_offset + 30 + len(largest.filename) + 9  # local header, then LZMA's own
    data[start : start + 40] = bytes(byte ^ 0xFF for byte in data[start : start + 40])
    with (
        zipfile.ZipFile(io.BytesIO(bytes(data))) as made,
        pytest.raises((lzma.LZMAError, EOFError, zipfile.BadZipFile)),
    ):
        made.read(largest.filename)
    return bytes(data)


@pytest.mark.parametrize(
    ("spoil", "rule"),
    [
        (broken_lzma, "must be a workbook (.xlsx) that is whole"),
        (lambda parts: packed(parts | {"xl/bomb.bin": bytes(40_000_000)}), "must unpack to at most"),
        (lambda parts: packed(parts | {"xl/worksheets/sheet1.xml": b"<c/>" * 300_000}), "must have at most"),
        (lambda parts: packed(parts | {"xl/vbaProject.bin": b"x"}), "macros"),
        (lambda parts: packed(parts)[:-200], "must be a workbook (.xlsx) that is whole"),
        (lambda parts: b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(600), "without a password"),
        (lambda parts: os.urandom(2000), "must be a workbook (.xlsx) that is whole"),
    ],
)  # fmt: skip
def test_what_is_no_safe_workbook_is_one_plain_fault(tmp_path: Path, spoil: Any, rule: str) -> None:
    """A damaged file, one that unfolds, macros and passwords: refused in words before anything is read."""
    write_starter(tmp_path, units="metric", full=False, as_workbook=True)
    path = tmp_path / "job.xlsx"
    with zipfile.ZipFile(path) as made:
        parts = {name: made.read(name) for name in made.namelist()}
    path.write_bytes(spoil(parts))
    (fault,) = faults_of(tmp_path)
    assert (fault.file, fault.cell) == ("job.xlsx", "")
    assert rule in fault.rule
