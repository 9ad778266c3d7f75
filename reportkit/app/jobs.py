"""Many jobs at a glance: how far each is, what it costs, its last run, and what is missing.

The state is the furthest of what the job's ``status`` tells; a run with a review counts as reviewed. A job
that cannot be read is a row like any other. Nothing is computed and nothing is written.
"""

from __future__ import annotations

import datetime as dt
import json
from collections.abc import Iterator, Sequence
from dataclasses import astuple, dataclass, fields
from pathlib import Path
from typing import Any

from reportkit.app.archive import runs_of
from reportkit.app.folders import jobs_below
from reportkit.base.errors import InputError, JobError, ReportkitError
from reportkit.job import LoadedJob, load_job
from reportkit.job.model.issued import Issued
from reportkit.job.reading.book import BOOK_FILE
from reportkit.job.reading.files import clipped
from reportkit.job.reading.issued import is_one
from reportkit.job.reading.jobfile import JOB_FILE
from reportkit.job.reading.readings import READINGS_FILE
from reportkit.job.reading.surveyfile import SURVEY_FILE, WORKBOOK_FILE
from reportkit.job.writing.copies import contents

UNKNOWN = "—"


@dataclass(frozen=True)
class Line:
    """One job as a row of the table, each cell as it is printed."""

    job: str
    state: str = UNKNOWN
    since: str = UNKNOWN
    price: str = UNKNOWN
    last_run: str = UNKNOWN
    missing: str = ""


@dataclass(frozen=True)
class Run:
    """A finished run: its folder, the day it was made, and what its results say; None where they are lost."""

    folder: Path
    day: str
    results: dict[str, Any] | None

    @property
    def reviewed(self) -> bool:
        """Whether it is that of a review."""
        return any(self.folder.glob("review.*"))


def table(jobs_dir: Path, *, today: dt.date) -> list[Line]:
    """Return a row for every job below a folder, in the order of their names.

    Parameters
    ----------
    jobs_dir
        The folder; itself a job, or one that holds jobs at any depth.
    today
        The day that offers run out by.

    Raises
    ------
    InputError
        If it is not a folder.
    """
    if not jobs_dir.is_dir():
        raise InputError(f"{jobs_dir} must be a folder that holds jobs")
    return [_line(folder, _name(folder, jobs_dir), today) for folder in jobs_below(jobs_dir)]


def printed(lines: Sequence[Line]) -> list[str]:
    """Return rows as text, columns under their heads."""
    head = tuple(field.name.replace("_", " ") for field in fields(Line))
    rows = [head, *(astuple(line) for line in lines)]
    widths = [max(map(len, column)) for column in zip(*rows, strict=True)]
    return [
        "  ".join(cell.ljust(wide) for cell, wide in zip(row, widths, strict=True)).rstrip() for row in rows
    ]


def _name(folder: Path, jobs_dir: Path) -> str:

    inside = folder.relative_to(jobs_dir).as_posix()
    return clipped(folder.resolve().name if inside == "." else inside)


def _line(folder: Path, name: str, today: dt.date) -> Line:
    """Return the row of one job."""

    runs = [_run(entry) for entry in runs_of(folder)]
    last = runs[-1] if runs else None
    made = next((run for run in reversed(runs) if not run.reviewed), None)
    known = {
        "price": _price(made.results) if made else UNKNOWN,
        "last_run": f"{last.folder.name} of {last.day}" if last else UNKNOWN,
    }
    try:
        loaded = load_job(folder)
    except JobError as error:
        return Line(name, missing=_faulty(folder, error), **known)
    except (ReportkitError, OSError, ValueError) as error:
        return Line(name, missing=f"cannot be read: {' '.join(str(error).split())}", **known)
    state, since = _state(loaded, runs)
    sent = loaded.job.status.agreed
    if sent is not None and (issued := loaded.issued[sent]) is not None:
        known["price"] = _agreed_price(loaded, issued)
    missing = "; ".join(_missing(loaded, state, made, today))
    return Line(name, state, since or UNKNOWN, missing=missing, **known)


def _run(folder: Path) -> Run:
    """Return what is known of a run; a damaged one is a run all the same."""

    def read(file: str) -> Any:
        try:
            return json.loads((folder / file).read_text(encoding="utf-8"))
        except (OSError, ValueError, RecursionError):
            return None

    manifest, results = read("manifest.json"), read("results.json")
    day = manifest.get("time") if isinstance(manifest, dict) else None
    return Run(
        folder,
        day[:10] if isinstance(day, str) else "a day unknown",
        results if isinstance(results, dict) else None,
    )


def _price(results: dict[str, Any] | None) -> str:
    """Return the price that results tell."""
    price = (results or {}).get("price")
    if not isinstance(price, dict) or not all(
        isinstance(price.get(key), str) for key in ("total", "currency")
    ):
        return UNKNOWN
    return f"{price['total']} {price['currency']}"


def _agreed_price(loaded: LoadedJob, issued: Issued) -> str:
    """Return the price of what was sent: that of the way accepted, where it goes by a name."""
    accepted = loaded.job.status.accepted
    ways = {way.name.casefold(): way.total for way in issued.ways if way.name}
    total = ways.get(accepted.way.casefold()) if accepted else None
    return f"{total or issued.price.total} {issued.price.currency}"


def _faulty(folder: Path, error: JobError) -> str:
    """Return how many faults a job has, a survey that is not there apart."""
    faults = list(error.faults)
    told = []
    if not any((folder / survey).exists() for survey in (SURVEY_FILE, WORKBOOK_FILE, BOOK_FILE)):
        told.append("no survey")
        faults = [fault for fault in faults if fault.file != SURVEY_FILE]
    if faults:
        told.append(f"{len(faults)} fault{'' if len(faults) == 1 else 's'}, see reportkit check")
    return "; ".join(told)


def _state(loaded: LoadedJob, runs: Sequence[Run]) -> tuple[str, str]:
    """Return how far a job is, and since when."""
    status, measured = loaded.job.status, loaded.job.survey.measured_on
    reviews = [run.day for run in runs if run.reviewed]
    if status.reviewed or reviews:
        return "reviewed", str(status.reviewed or reviews[-1])
    if status.fitted:
        return "fitted", str(status.fitted)
    if status.accepted:
        return "accepted", str(status.accepted.date)
    if status.offered:
        return "offered", str(status.offered[-1].date)
    return "surveyed", str(measured) if measured else ""


def _missing(loaded: LoadedJob, state: str, made: Run | None, today: dt.date) -> Iterator[str]:
    """Yield what is to be done next, the next step first."""
    job = loaded.job
    if state == "reviewed":
        return
    if state == "fitted":
        yield "not reviewed" if job.readings else "no readings"
        return
    if made is None:
        yield "not made"
    if state == "surveyed" and made is not None:
        yield "not sent"
    if state == "offered":
        until = job.quote.valid_until if job.quote else None
        yield f"no answer, and it held until {until}" if until and until < today else "no answer"
    if state == "accepted":
        day = job.fitting.date
        yield (
            "not fitted, no day set"
            if day is None
            else f"not fitted, {'planned for' if day >= today else 'due since'} {day}"
        )
    if made is not None:
        if made.results is None:
            yield f"run {made.folder.name} is damaged"
        elif letters := len(made.results.get("letters") or ()):
            yield f"{letters} letter{'' if letters == 1 else 's'} to be answered"
        if _changed(loaded, made.folder):
            yield f"changed since run {made.folder.name}"


def _changed(loaded: LoadedJob, run: Path) -> bool:
    """Return whether a job says anything else than when a run was made, its status and readings apart."""

    own = {name: content for name, content in contents(loaded).items() if not is_one(name)}
    other = {name for name, content in own.items() if not _holds(run / "inputs" / name, content)}
    if not other <= {JOB_FILE, READINGS_FILE}:
        return True
    if JOB_FILE not in other:
        return False
    try:
        before = load_job(run / "inputs").written
    except ReportkitError:
        return True
    now = loaded.written
    return before.model_copy(update={"status": now.status, "readings": now.readings}) != now


def _holds(path: Path, content: bytes) -> bool:
    try:
        return path.read_bytes() == content
    except OSError:
        return False
