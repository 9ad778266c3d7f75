"""What people type stays text on paper and in tables, whatever it says, and on the page, however long."""

from __future__ import annotations

import csv
import io
import json
import re
import shutil
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import hostile
import numpy as np
import openpyxl
import pypdfium2
import pytest

from reportkit.app.batch import Outcome
from reportkit.app.portfolio import write
from reportkit.job import convert, load_job
from reportkit.job.model import Job
from reportkit.job.reading.survey import read_rows
from reportkit.job.writing.anonymous import _is_text, _models
from reportkit.job.writing.convert import survey_text

#: Fields of text that hold no free text: names of files, a line that is read as numbers, what must be alike.
NAMES_OF_FILES = {
    ("FilmSpectrum", "file"), ("FilmSpectrum", "glass_file"), ("LiteSpectrum", "file"), ("Approval", "file"),
    ("Pane", "photo"), ("FilmSpec", "spec"),
}  # fmt: skip


@pytest.fixture(scope="module")
def made(once: Any) -> hostile.Made:
    """The hostile job and its runs."""
    return hostile.made_once(once, hostile.Texts)


@pytest.fixture(scope="module")
def long(once: Any) -> hostile.Made:
    """The job of long words and its runs."""
    return hostile.made_once(once, hostile.Longs)


def _fields(model: Any, seen: set[Any]) -> Iterator[tuple[str, str]]:
    """Yield record and name of every field of free text below a record."""
    if model in seen:
        return
    seen.add(model)
    for name, field in model.model_fields.items():
        within = list(_models(field.annotation))
        for part in within:
            yield from _fields(part, seen)
        if not within and _is_text((field.annotation, *field.metadata)):
            yield model.__name__, name


def _filled(value: Any) -> Iterator[tuple[str, str]]:
    """Yield record and name of every field of a job that holds one of the texts."""
    if isinstance(value, tuple | list):
        for item in value:
            yield from _filled(item)
    elif hasattr(value, "model_fields_set"):
        for name in type(value).model_fields:
            held = getattr(value, name)
            texts = held.values() if isinstance(held, dict) else held if isinstance(held, tuple) else [held]
            if any(isinstance(text, str) and re.search(r"k\d+k", text) for text in texts):
                yield type(value).__name__, name
            yield from _filled(held)


def test_every_field_of_text_is_filled(made: hostile.Made) -> None:
    """A new field of free text must be made hostile, too; what was typed is what the job holds."""
    loaded = load_job(made.folder)
    wanted = set(_fields(Job, set())) - NAMES_OF_FILES
    assert len(wanted) > 35
    assert wanted - set(_filled(loaded.written)) == set()
    held = json.dumps(loaded.written.model_dump(mode="json"), ensure_ascii=False)
    assert all(json.dumps(text, ensure_ascii=False)[1:-1] in held for text in made.texts.values())


def _text(path: Path) -> str:
    """Return what a PDF says without its spaces; PDFium has U+FFFE or U+0002 for a hyphen at a line end."""
    with pypdfium2.PdfDocument(path) as file:
        text = "".join(page.get_textpage().get_text_range() for page in file)
    return hostile.squeezed(re.sub("[\ufffe\x02]", "-", text))


def test_paper_prints_it_as_typed(made: hostile.Made) -> None:
    """In some PDF each text stands whole, its letters as typed, what hides by its code; nothing was run."""
    papers = [_text(path) for path in made.documents("pdf")]
    plain = {key: hostile.squeezed(text) for key, text in made.texts.items()}
    # where no font has full-width signs, their ordinary form is printed
    lost = [
        key
        for key, text in plain.items()
        if not any(text in paper or text.replace("\uff1d", "=") in paper for paper in papers)
    ]
    shown = {film.note for film in load_job(made.folder).job.films if film.id == "silver"}
    assert [made.texts[key] for key in lost] == sorted(shown)  # a note on film that nobody fits
    assert not any("root:" in paper for paper in papers)
    assert not any(sign in paper for paper in papers for sign in hostile.HIDDEN if ord(sign) > 0x2000)


def _cells(path: Path) -> list[str]:
    return [cell for row in csv.reader(io.StringIO(path.read_text("utf-8"), newline="")) for cell in row]


def _runs(cell: str) -> bool:
    """Whether a spreadsheet would run a cell (OWASP, "CSV injection", from memory)."""
    number = cell.lstrip("+-").replace(".", "", 1).isdigit()
    return cell[:1] in set("=+-@\t\r\n\uff1d\uff0b\uff0d\uff20") and not number


def test_no_table_holds_a_formula(made: hostile.Made, tmp_path: Path) -> None:
    """As a workbook and as tables again: no cell that a spreadsheet would run, and the same job."""
    before = load_job(made.folder)
    folder = shutil.copytree(made.folder, tmp_path / "job", ignore=shutil.ignore_patterns("runs"))
    convert(folder)
    book = openpyxl.load_workbook(folder / "job.xlsx")
    typed = [
        cell.value for sheet in book for row in sheet.iter_rows() for cell in row if cell.data_type == "s"
    ]
    assert sum(str(text)[:1] in "=+-@" for text in typed) > 20
    formulas = [
        cell.value for sheet in book for row in sheet.iter_rows() for cell in row if cell.data_type == "f"
    ]
    own = re.compile(r'=IF\((\w+![A-Z]+\d+)="","",\1\)')  # names of the job, in its lists to choose from
    assert formulas and all(own.fullmatch(text) for text in formulas)
    assert load_job(folder).written == before.written
    convert(folder)
    cells = _cells(folder / "windows.csv")
    assert sum(cell.startswith("'") for cell in cells) == 3  # each pane's note but that of a full-width sign
    assert not any(map(_runs, cells))
    assert load_job(folder).written == before.written


def test_tables_of_many_jobs_hold_no_formula(tmp_path: Path) -> None:
    """A job's folder and the reason of a failure may begin as a formula does."""
    for path in write(tmp_path, [Outcome("=1+1", reason="@SUM(1)"), Outcome("-2+3", reason="+x")]):
        if path.suffix == ".csv":
            assert not any(map(_runs, _cells(path)))


@pytest.mark.parametrize("note", ["=1+1", "'=1", "-2+3", "+44 20", "@x", "'til noon", "\uff1d1"])
def test_a_note_reads_back_as_typed(note: str) -> None:
    """What the program writes into a table it reads as what was typed."""
    (row,), _ = read_rows("windows.csv", "id,room,face,glazing,width,height\nA,a,b,c,900 mm,900 mm\n")
    row = replace(row, cells=row.cells | {"note": note})
    table = survey_text([row])
    assert not any(map(_runs, next(csv.reader([table.splitlines()[1]]))))
    (again,), faults = read_rows("windows.csv", table)
    assert not faults and again.cells == row.cells


#: How far text lies within the sheet at least, and by how much two stretches may share a place [pt].
EDGE, SHARED = 8.0, 2.0


def _stretches(path: Path) -> Iterator[tuple[int, float, float, list[tuple[float, float, float, float]]]]:
    """Yield each page's number, its width and height, and the boxes of its stretches of text [pt]."""
    with pypdfium2.PdfDocument(path) as file:
        for number, page in enumerate(file, start=1):
            text = page.get_textpage()
            yield number, *page.get_size(), [text.get_rect(n) for n in range(text.count_rects())]


def _on_each_other(boxes: list[tuple[float, float, float, float]]) -> list[tuple[int, int]]:
    """Return the pairs of boxes, left, bottom, right, top, that share more than an edge."""
    left, bottom, right, top = np.array(boxes).T
    across = np.minimum.outer(right, right) - np.maximum.outer(left, left)
    up = np.minimum.outer(top, top) - np.maximum.outer(bottom, bottom)
    low = np.minimum.outer(top - bottom, top - bottom)
    return [(a, b) for a, b in np.argwhere((across > SHARED) & (up > 0.4 * low)) if a < b]


@pytest.mark.parametrize("kind", ["made", "long"])
def test_nothing_runs_off_a_sheet(kind: str, request: pytest.FixtureRequest) -> None:
    """On every page of every PDF all text lies on the sheet, and no two stretches on each other."""
    pages = 0
    for path in request.getfixturevalue(kind).documents("pdf"):
        for number, width, height, boxes in _stretches(path):
            pages += 1
            off = [
                b for b in boxes if b[0] < EDGE or b[1] < EDGE or b[2] > width - EDGE or b[3] > height - EDGE
            ]
            assert not off, (path.name, number, off)
            twice = [(boxes[a], boxes[b]) for a, b in _on_each_other(boxes)]
            assert not twice, (path.name, number, twice[:3])
    assert pages > 30


def test_a_word_broken_on_paper_is_copied_whole(long: hostile.Made) -> None:
    """Where a word is broken over lines no sign is added: an address still reads as typed."""
    papers = [_text(path) for path in long.documents("pdf")]
    addresses = [text for text in long.texts.values() if "https://" in text]
    assert len(addresses) > 8
    for address in addresses:
        assert any(address in paper for paper in papers), address


def test_the_foot_keeps_the_run(long: hostile.Made) -> None:
    """However long the number of an offer, each page says of which run it is."""
    for path in long.documents("pdf"):
        if path.stem != "labels":
            with pypdfium2.PdfDocument(path) as file:
                assert all("run 000" in page.get_textpage().get_text_range() for page in file), path.name
