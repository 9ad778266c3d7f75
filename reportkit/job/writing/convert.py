"""A job written in the other form, ``job.yaml`` with its survey or ``job.xlsx``, with nothing lost.

What is written is read back and compared, text by text, before anything is put in its place; the former files
stay beside it under another name. Remarks do not live in cells: they stay in the former file alone.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any, Literal

from reportkit.base.errors import InputError, JobError, ProgramError
from reportkit.base.formulas import guarded
from reportkit.job.reading.book import BOOK_FILE, Book, read_book
from reportkit.job.reading.files import SHARED, Folders
from reportkit.job.reading.jobfile import JOB_FILE, read_job_file
from reportkit.job.reading.reader import load_job
from reportkit.job.reading.shared import KINDS, offered, read_shared
from reportkit.job.reading.survey import COLUMNS, Row, read_rows
from reportkit.job.reading.surveyfile import SURVEY_FILE, surveys
from reportkit.job.reading.yamltree import read_tree
from reportkit.job.writing.book import workbook
from reportkit.job.writing.yamltext import yaml_text

Target = Literal["workbook", "yaml"]
#: What stands behind the name of a file that another has replaced.
FORMER = ".former"
#: The sheets of a file of ``_shared``.
_SHEETS = {"films": ("Job", "Films"), "glazings": ("Glass",), "prices": ("Job", "Prices")}


def convert(folder: Path, to: Target | None = None) -> tuple[Path, ...]:
    """Write a job, or the films, glazings and prices of ``_shared``, in the other form.

    Parameters
    ----------
    folder
        The job's folder, or ``_shared``.
    to
        ``workbook`` or ``yaml``; None is the one that the job is not.

    Returns
    -------
    tuple of Path
        The files written. The former ones are renamed, ``job.yaml`` to ``job.yaml.former``.

    Raises
    ------
    JobError
        If the job holds faults; nothing is written.
    InputError
        If it has that form already, a text is too long for a cell, or the folder cannot be written.
    ProgramError
        If what was written does not read back to the same texts; nothing is changed.
    """
    folder = Path(folder)
    if folder.resolve().name == SHARED:
        return _convert_shared(folder.resolve(), to)
    load_job(folder)
    folders, _ = Folders.of(folder)
    source = read_job_file(folders)
    raw, rows = _told(source.raw or {}), source.survey.rows
    target = to or ("yaml" if source.name == BOOK_FILE else "workbook")
    if (target == "workbook") == (source.name == BOOK_FILE):
        raise InputError(f"{folders.own / source.name} has that form already: nothing was written")
    if target == "workbook":
        made = {BOOK_FILE: workbook(raw, rows, offered(folders).ids)}
        _same(_read(made[BOOK_FILE]), raw, rows)
    else:
        made = yaml_files(raw, rows)
    former = [source.name, *surveys(folders)]
    return _put(folders.own, made, former)


def yaml_files(raw: Mapping[str, Any], rows: Sequence[Row]) -> dict[str, bytes]:
    """Return a job as ``job.yaml`` and ``windows.csv``, read back and compared."""
    text, table = yaml_text(raw), survey_text(rows)
    tree, faults = read_tree(JOB_FILE, text)
    again, more = read_rows(SURVEY_FILE, table)
    if tree is None or faults or more:
        raise ProgramError(f"what was written cannot be read: {[*faults, *more]}")
    _same((tree.value, again), raw, rows)
    return {JOB_FILE: text.encode(), SURVEY_FILE: table.encode()}


def _convert_shared(folder: Path, to: Target | None) -> tuple[Path, ...]:
    folders = Folders(folder, folder)
    written: list[Path] = []
    for kind in KINDS:
        tree, faults = read_shared(folders, kind)
        if faults:
            raise JobError(faults=faults)
        if tree is None:
            continue
        raw = _told(tree.value)
        is_book = (folder / f"{kind}.xlsx").exists()
        if to and (to == "workbook") == is_book:
            continue
        if is_book:
            text = yaml_text(raw)
            again, _ = read_tree(kind, text)
            _same((again.value if again else {}, []), raw, [])
            written += _put(folder, {f"{kind}.yaml": text.encode()}, [f"{kind}.xlsx"])
            continue
        if kind == "prices":
            raw = {"currency": raw.pop("currency", None), "prices": raw}
        data = workbook(_told(raw), [], sheets=_SHEETS[kind], top=("currency",))
        _same(_read(data, panes=False), raw, [])
        written += _put(folder, {f"{kind}.xlsx": data}, [f"{kind}.yaml"])
    if not written:
        raise InputError(f"{folder} has nothing to convert: nothing was written")
    return tuple(written)


def _read(data: bytes, *, panes: bool = True) -> tuple[dict[str, Any], list[Row]]:
    book = read_book(BOOK_FILE, data, panes=panes)
    if not isinstance(book, Book) or book.faults:
        faults = book.faults if isinstance(book, Book) else book
        raise ProgramError(f"what was written cannot be read: {'; '.join(map(str, faults))}")
    return book.tree.value, book.rows


def _same(
    read_back: tuple[Mapping[str, Any], Sequence[Row]], raw: Mapping[str, Any], rows: Sequence[Row]
) -> None:
    """Refuse what does not read back to the same texts."""
    fields, panes = read_back
    wrong = [name for name in {**raw, **fields} if _told(raw).get(name) != _told(fields).get(name)]
    wrong += ["panes"] if [row.cells for row in panes] != [row.cells for row in rows] else []
    if wrong:
        raise ProgramError(f"{', '.join(wrong)} would not be the same: nothing was written")


def _told(value: Any) -> Any:
    """Return a tree without the fields that are not given."""
    if isinstance(value, Mapping):
        return {name: _told(part) for name, part in value.items() if part is not None}
    return [_told(part) for part in value] if isinstance(value, list) else value


def survey_text(rows: Sequence[Row]) -> str:
    """Return the survey as a table, with the columns that hold anything."""
    used = [name for name in COLUMNS if any(name in row.cells for row in rows)]
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(used)
    writer.writerows([guarded(row.cells.get(name, "")) for name in used] for row in rows)
    return out.getvalue()


def _put(folder: Path, made: Mapping[str, bytes], former: Sequence[str]) -> tuple[Path, ...]:
    """Rename the former files and write the new ones in their place; all of it or nothing."""
    moves = [(folder / name, _free(folder / f"{name}{FORMER}")) for name in former]
    done: list[tuple[Path, Path]] = []
    written: list[Path] = []
    try:
        for old, new in moves:
            old.rename(new)
            done.append((old, new))
        for name, content in made.items():
            with (folder / name).open("xb") as file:
                written.append(folder / name)
                file.write(content)
    except OSError as error:
        for path in written:
            path.unlink(missing_ok=True)
        for old, new in done:
            new.rename(old)
        raise InputError(f"{folder} cannot be written: {error.strerror or error}") from error
    return tuple(written)


def _free(path: Path) -> Path:
    """Return a path, or the first with a number behind it that is not taken."""
    count = 2
    free = path
    while free.exists():
        free = path.with_name(f"{path.name}-{count}")
        count += 1
    return free
