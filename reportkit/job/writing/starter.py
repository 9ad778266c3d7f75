"""A new job that passes every rule, for a person to put their own numbers into: short, or with every field."""

from __future__ import annotations

from importlib import resources
from pathlib import Path
from string import Template
from typing import Any, Literal

from reportkit.base.errors import InputError, JobError
from reportkit.job.model.typed import Id, Record
from reportkit.job.reading.files import Folders
from reportkit.job.reading.positions import Positions
from reportkit.job.reading.reader import JOB_FILE
from reportkit.job.reading.shared import merge_shared
from reportkit.job.reading.survey import Row, read_rows
from reportkit.job.reading.surveyfile import SURVEY_FILE, WORKBOOK_FILE
from reportkit.job.reading.yamltree import read_tree
from reportkit.job.writing.form import REFERENCES, Form, workbook
from reportkit.job.writing.samples import KINDS, LITES, OWN, SAMPLES, UNITS, Kind


class _Name(Record):
    id: Id


def write_starter(
    folder: Path,
    *,
    units: Literal["us", "metric"],
    kind: Kind = "office",
    full: bool = True,
    as_workbook: bool = False,
) -> tuple[Path, ...]:
    """Write a new job into a folder, which is made if need be.

    Where the folder has a ``job.yaml`` already but no survey, and a workbook is asked for, only that is
    written: an empty form with the job's own names, in the job's own units.

    Parameters
    ----------
    folder
        Where the job goes.
    units
        ``us`` for feet and inches, ``metric`` for millimetres.
    kind
        What sort of job its samples tell of; one's own home has neither ``business`` nor ``quote``.
    full
        With every field, most as remarks; else with what a first job needs, each as a question.
    as_workbook
        Write the survey as ``windows.xlsx`` with lists, notes and a print layout, not as ``windows.csv``.

    Returns
    -------
    tuple of Path
        The files written.

    Raises
    ------
    InputError
        If one of the files is there already, or the folder cannot be written.
    JobError
        If the lists of an empty form have to be read from a job file that cannot be read.
    ValueError
        If ``units`` or ``kind`` is none of theirs.
    """
    if units not in UNITS:
        raise ValueError(f"units must be us or metric, not {units!r}")
    if kind not in KINDS:
        raise ValueError(f"kind must be one of {', '.join(KINDS)}, not {kind!r}")
    folder = Path(folder)
    job_place, csv_place, workbook_place = (folder / name for name in (JOB_FILE, SURVEY_FILE, WORKBOOK_FILE))
    only_form = as_workbook and job_place.is_file()
    for place in (csv_place, workbook_place) if only_form else (job_place, csv_place, workbook_place):
        if place.exists() or place.is_symlink():
            raise InputError(f"{place} is there already: nothing was written; name another folder")
    if only_form:
        return _written(folder, {workbook_place: _empty_form(folder)})
    job, survey = starter_texts(units, kind, full=full, named=_id_from(folder))
    if not as_workbook:
        return _written(folder, {job_place: job.encode(), csv_place: survey.encode()})
    tree, _ = read_tree(JOB_FILE, job)
    rows, _ = read_rows(SURVEY_FILE, survey)
    assert tree is not None, "the starter is a right job"
    form = workbook(_form(tree.value, {}, rows))
    return _written(folder, {job_place: job.encode(), workbook_place: form})


def starter_texts(units: Literal["us", "metric"], kind: Kind, *, full: bool, named: str) -> tuple[str, str]:
    """Return a new job as the texts of ``job.yaml`` and ``windows.csv``.

    Parameters
    ----------
    units, kind, full
        As of `write_starter`.
    named
        The job's id as YAML.
    """
    files = resources.files("reportkit.job.writing") / "starter_files"
    words = UNITS[units] | SAMPLES[kind] | {"units": units, "id": named}
    words["lites"] = Template(LITES[words["glass"]]).substitute(words).rstrip("\n")
    left_out, kept = ("$offer", "$own") if kind in OWN else ("$own", "$offer")
    texts = []
    for name in ("job.yaml", f"windows_{units}.csv") if full else ("short.yaml", "short.csv"):
        lines = (files / name).read_text(encoding="utf-8").splitlines(keepends=True)
        told = "".join(line.removeprefix(kept) for line in lines if not line.startswith(left_out))
        texts.append(Template(told).substitute(words))
    return texts[0], texts[1]


def _written(folder: Path, files: dict[Path, bytes]) -> tuple[Path, ...]:
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for place, content in files.items():
            with place.open("xb") as file:
                file.write(content)
    except OSError as error:
        raise InputError(f"{folder} cannot be written: {error.strerror or error}") from error
    return tuple(files)


def _empty_form(folder: Path) -> bytes:
    """Return the form for a job that has its job file but no survey yet."""
    folders, faults = Folders.of(folder)
    text, more = folders.text(folders.own / JOB_FILE)
    tree, wrong = read_tree(JOB_FILE, text) if text is not None else (None, [])
    if tree is None:
        raise JobError(faults=[*faults, *more, *wrong])
    used = {"films": {""}, "glazings": {""}, "prices": {""}}  # a form needs names, and uses nothing of them
    merged = merge_shared(tree.value, Positions(), folders, used)
    faults += more + wrong + merged.faults
    if faults:
        raise JobError(faults=faults)
    return workbook(_form(tree.value, merged.ids, []))


def _form(raw: dict[str, Any], offered: dict[str, list[str]], rows: list[Row]) -> Form:
    """Return the form for a job as read, with what ``_shared`` offers beside its own entries."""
    names: dict[str, list[str]] = {}
    for kind in REFERENCES.values():
        entries = raw.get(kind)
        own = [entry.get("id") for entry in entries if isinstance(entry, dict)] if entries else []
        names[kind] = list(dict.fromkeys(str(name) for name in [*own, *offered.get(kind, ())] if name))
    texts = [str(raw[name]) for name in ("id", "title") if raw.get(name)]
    return Form(
        title=": ".join(texts),
        units="us" if raw.get("units") == "us" else "metric",
        names=names,
        rows=[row.cells for row in rows],
        invented=str(raw.get("invented")).lower() in ("yes", "true"),
        paper=raw.get("paper") if raw.get("paper") in ("letter", "a4") else None,
    )


def _id_from(folder: Path) -> str:
    """Return a job's id from its folder's name, as a quoted YAML text."""
    name = folder.resolve().name[:60].strip()
    try:
        _Name(id=name)
    except ValueError:
        name = "my-job"
    plain = name.isascii() and name.replace("-", "").replace("_", "").isalnum() and not name.isdigit()
    return name if plain and name[0].isalpha() else "'" + name.replace("'", "''") + "'"
