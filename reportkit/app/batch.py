"""Every job below a folder, made by processes of this machine or of others; one that fails stops none.

Each job is read here, packed, made elsewhere from its bytes, and its run put into its place here: the same
bytes as ``make`` alone would write. A job whose newest run came from the same inputs by the same code is
left as it is. No more jobs are packed at once than are worked on, so that memory stays the same for ten jobs
and for ten thousand.
"""

from __future__ import annotations

import contextlib
import hashlib
import json
import shutil
import time
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import FIRST_COMPLETED, Future, wait
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any, Protocol

from reportkit.app.archive import MANIFEST, Run, new_run, runs_of
from reportkit.app.bag import harms, listed
from reportkit.app.folders import jobs_below
from reportkit.app.parcel import Made, Parcel, unpacked
from reportkit.app.run import read
from reportkit.app.telling import error_told
from reportkit.app.versions import made_with
from reportkit.base.errors import InputError, ReportkitError
from reportkit.base.visible import visible
from reportkit.job import LoadedJob
from reportkit.job.writing.copies import contents

#: A run that comes back damaged is made again, so often.
TRIES = 3

#: Called with how many jobs are done, how many there are, and how long it has taken [s].
Progress = Callable[[int, int, float], None]


class Makers(Protocol):
    """Whoever makes parcels: as many at once as they say, each answer a future."""

    at_once: int

    def submit(self, parcel: Parcel) -> Future[Made]:
        """Take a parcel and return the answer to come."""

    def close(self) -> None:
        """Let go of everything."""


@dataclass(frozen=True)
class Outcome:
    """What became of one job: its run, whether that was there already, or why there is none."""

    job: str
    run: Path | None = None
    fresh: bool = False
    reason: str = ""
    exit_code: int = 0
    seconds: float = 0.0


@dataclass
class _Work:
    """A job that is being made: the run that waits for it, and the block that removes it unless kept."""

    folder: Path
    parcel: Parcel
    run: Run
    block: contextlib.ExitStack
    tries: int = 1


def batch(
    jobs_dir: Path, makers: Makers, progress: Progress = lambda done, of, seconds: None
) -> list[Outcome]:
    """Make every job below a folder.

    Parameters
    ----------
    jobs_dir
        The folder.
    makers
        Whoever makes them.
    progress
        Called after each job.

    Returns
    -------
    list of Outcome
        One for each job, in the order of the folders.

    Raises
    ------
    InputError
        If it is no folder, or holds no job.
    """
    folders = list(jobs_below(jobs_dir)) if jobs_dir.is_dir() else []
    if not folders:
        raise InputError(f"{jobs_dir} must be a folder with jobs below it")
    begun = time.perf_counter()
    outcomes: dict[Path, Outcome] = {}
    for folder, outcome in _outcomes(folders, jobs_dir, makers):
        outcomes[folder] = outcome
        progress(len(outcomes), len(folders), time.perf_counter() - begun)
    return [outcomes[folder] for folder in folders]


def _outcomes(folders: Iterable[Path], home: Path, makers: Makers) -> Iterator[tuple[Path, Outcome]]:
    """Hand out jobs, as many as are worked on at once, and yield what became of each."""
    waiting = iter(folders)
    busy: dict[Future[Made], _Work] = {}
    try:
        while True:
            while len(busy) < makers.at_once and (folder := next(waiting, None)) is not None:
                inside = folder.relative_to(home).as_posix() if folder != home else folder.resolve().name
                name = visible(inside)
                begun = _begun(folder, name)
                if isinstance(begun, Outcome):
                    yield folder, begun
                else:
                    busy[makers.submit(begun.parcel)] = begun
            if not busy:
                return
            for future in wait(busy, return_when=FIRST_COMPLETED).done:
                work = busy.pop(future)
                outcome = _ended(work, future)
                if outcome is None:
                    work.tries += 1
                    busy[makers.submit(work.parcel)] = work
                else:
                    yield work.folder, outcome
    finally:
        for work in busy.values():
            work.block.close()


def _begun(folder: Path, name: str) -> Outcome | _Work:
    """Read a job, claim a run's number and pack it; or say why not, or that it is made already."""
    try:
        loaded = read(folder)
        files = contents(loaded)
        there = _made_before(loaded, files)
        if there is not None:
            return Outcome(name, there)
        block = contextlib.ExitStack()
        run = block.enter_context(new_run(folder))
    except ReportkitError as error:
        return Outcome(name, reason=error_told(error, folder), exit_code=error.exit_code)
    except OSError as error:
        return Outcome(name, reason=f"cannot be read or written: {error}", exit_code=1)
    return _Work(folder, Parcel(name, run.number, files), run, block)


def _made_before(loaded: LoadedJob, files: dict[str, bytes]) -> Path | None:
    """Return the newest run of a job if the same inputs and the same code made it, and it is an offer."""
    runs = runs_of(loaded.folder)
    if not runs:
        return None
    try:
        manifest = json.loads((runs[-1] / MANIFEST).read_text("utf-8"))
    except (OSError, ValueError):
        return None
    sums = {f"inputs/{name}": hashlib.sha256(content).hexdigest() for name, content in files.items()}
    same = manifest.get("inputs") == sums and all(
        manifest.get(key) == value for key, value in _with().items()
    )
    whole = "proposal.pdf" in manifest.get("outputs", {}) and "proposal.html" in manifest.get("outputs", {})
    return runs[-1] if same and whole and not manifest.get("anonymous") else None


@cache
def _with() -> dict[str, Any]:
    return made_with()


def _ended(work: _Work, future: Future[Made]) -> Outcome | None:
    """Put what came back into its place; None where it came back damaged and may be made again."""
    try:
        made = future.result()
    except Exception as error:  # the way there failed, not the job
        made = Made(work.parcel.name, reason=f"no answer came back ({error})", exit_code=1)
    name = work.parcel.name
    if not made.files:
        with work.block:
            return Outcome(name, reason=made.reason, exit_code=made.exit_code, seconds=made.seconds)
    try:
        _replaced(work.run.folder, made.files)
        if not _whole(work.run.folder):
            if work.tries < TRIES:
                return None
            with work.block:
                return Outcome(name, reason=f"came back damaged {TRIES} times", exit_code=1)
        with work.block:
            return Outcome(name, work.run.keep(), True, seconds=made.seconds)
    except OSError as error:
        work.block.close()
        return Outcome(name, reason=f"cannot be written: {error}", exit_code=1)


def _replaced(folder: Path, files: dict[str, bytes]) -> None:
    """Put files into a run's folder instead of what came back before."""
    for entry in folder.iterdir():
        if entry.is_dir():
            shutil.rmtree(entry)
        else:
            entry.unlink()
    unpacked(files, folder)


def _whole(folder: Path) -> bool:
    """Return whether a run is as its own sums tell."""
    try:
        return not harms(folder, listed(folder))
    except (OSError, ValueError):
        return False
