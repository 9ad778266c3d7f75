"""A commented new job that passes every rule, for a person to put their own numbers into."""

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

#: What differs between a starter in feet and inches and one in millimetres; every amount is invented.
_SAMPLES: dict[str, dict[str, str]] = {
    "us": {
        "currency": "USD",
        "locale": "en_US",
        "paper": "letter",
        "rating": "nfrc",
        "latitude": "26",
        "longitude": "-80",
        "clock": "America/New_York",
        "weather": "  use: shipped\n  name: miami",
        "lite": "3",
        "roll": "60 in",
        "roll_length": "100 ft",
        "by_length": "price_per_ft: 8.60",
        "step": "1 ft",
        "edge_gap": "1/16 in",
        "trim": "1/2 in",
        "table": "8 ft",
        "offcut": "16 in, 24 in",
        "floor": "260 ft2",
        "ceiling": "8 ft",
        "walls": "190 ft2",
        "too_hot": "79 F",
        "opened": "72 F",
        "fan": "180 cfm",
        "cool": "76 F",
        "warm": "68 F",
        "setback": "62 F",
        "capacity": "12000 Btu/h",
        "awning": "4 ft",
        "largest": "27 ft2",
        "electricity": "0.15",
        "gas": "1.30",
        "gas_unit": "therm",
        "gas_kwh": "29.3",
        "tax": "Sales tax",
        "tax_percent": "7",
    },
    "metric": {
        "currency": "EUR",
        "locale": "en_IE",
        "paper": "a4",
        "rating": "en",
        "latitude": "26",
        "longitude": "-80",
        "clock": "America/New_York",
        "weather": "  use: shipped\n  name: miami",
        "lite": "4",
        "roll": "1524 mm",
        "roll_length": "30.5 m",
        "by_length": "price_per_m: 28.00",
        "step": "0.5 m",
        "edge_gap": "1.5 mm",
        "trim": "12 mm",
        "table": "2440 mm",
        "offcut": "400 mm, 600 mm",
        "floor": "24 m2",
        "ceiling": "2500 mm",
        "walls": "18 m2",
        "too_hot": "26 C",
        "opened": "22 C",
        "fan": "300 m3/h",
        "cool": "25 C",
        "warm": "20 C",
        "setback": "16 C",
        "capacity": "3500 W",
        "awning": "1.2 m",
        "largest": "2.5 m2",
        "electricity": "0.30",
        "gas": "1.15",
        "gas_unit": "m3",
        "gas_kwh": "10.6",
        "tax": "VAT",
        "tax_percent": "20",
    },
}


class _Name(Record):
    id: Id


def write_starter(
    folder: Path, *, units: Literal["us", "metric"], as_workbook: bool = False
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
        If ``units`` is neither.
    """
    if units not in _SAMPLES:
        raise ValueError(f"units must be us or metric, not {units!r}")
    folder = Path(folder)
    job_place, csv_place, workbook_place = (folder / name for name in (JOB_FILE, SURVEY_FILE, WORKBOOK_FILE))
    only_form = as_workbook and job_place.is_file()
    for place in (csv_place, workbook_place) if only_form else (job_place, csv_place, workbook_place):
        if place.exists() or place.is_symlink():
            raise InputError(f"{place} is there already: nothing was written; name another folder")
    if only_form:
        return _written(folder, {workbook_place: _empty_form(folder)})
    files = resources.files("reportkit.job.writing") / "starter_files"
    template = Template((files / "job.yaml").read_text(encoding="utf-8"))
    job = template.substitute(_SAMPLES[units], units=units, id=_id_from(folder))
    survey = (files / f"windows_{units}.csv").read_text(encoding="utf-8")
    if not as_workbook:
        return _written(folder, {job_place: job.encode(), csv_place: survey.encode()})
    tree, _ = read_tree(JOB_FILE, job)
    rows, _ = read_rows(SURVEY_FILE, survey)
    assert tree is not None, "the starter is a right job"
    form = workbook(_form(tree.value, {}, rows))
    return _written(folder, {job_place: job.encode(), workbook_place: form})


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
