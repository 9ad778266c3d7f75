"""A run's folder: what went in, what came out, and the sums that show nothing has changed since.

A run is ``JOB_DIR/runs/NNNN``, numbered upwards and never overwritten. It is built within a dot-folder that
claims its number, synced, and renamed when whole: a run appears complete or not at all, on the disk too. The
claim names its maker from the moment it is there, and goes after the run has its name.
"""

from __future__ import annotations

import datetime as dt
import json
import os
import shutil
import tempfile
from collections.abc import Iterator, Mapping
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from reportkit.app.bag import close as make_bag
from reportkit.app.bag import digest, files_of
from reportkit.app.versions import lock, made_with
from reportkit.base.durable import make_folder, publish
from reportkit.base.maker import Maker, nameless, sweep

if TYPE_CHECKING:
    from reportkit.job import LoadedJob

#: How a claim begins; the run's number follows. It holds the folder of the run in the making.
MAKING = ".making-"

#: How a claim begins before it has a number; its maker follows.
CLAIM = ".claim-"

#: What a run holds, what it was made with, and when.
MANIFEST = "manifest.json"

#: The versions of all packages, as requirements for pip.
LOCK = "versions.txt"

#: The file in a claim that names the process at work, so that the next knows what a killed one left.
MAKER_FILE = "maker"


@dataclass
class Run:
    """A run being made: its number, nobody else's from the start, and what will become ``runs/NNNN``."""

    job_dir: Path
    number: int
    folder: Path

    @property
    def name(self) -> str:
        """The run's name, four digits or more."""
        return f"{self.number:04d}"

    @property
    def inputs(self) -> Path:
        """The folder of inputs: a job folder that runs by itself."""
        return self.folder / "inputs"

    def keep(self) -> Path:
        """Put the whole run in its place at once, on the disk, and return it.

        Raises
        ------
        OSError
            If the disk is full or refuses; there is no run then.
        """
        place = self.job_dir / "runs" / self.name
        publish(self.folder, place)
        self.folder = place
        return place


def runs_of(job_dir: Path) -> list[Path]:
    """Return the finished runs of a job, oldest first."""
    runs = job_dir / "runs"
    if not runs.is_dir():
        return []
    finished = [entry for entry in runs.iterdir() if entry.is_dir() and entry.name.isdecimal()]
    return sorted(finished, key=lambda entry: int(entry.name))


@contextmanager
def new_run(job_dir: Path) -> Iterator[Run]:
    """Claim the next number and make a folder for its run; what is not kept by the block's end is removed.

    What killed runs left, beside it and in the temporary folder, is removed first.

    Parameters
    ----------
    job_dir
        The job's folder.

    Yields
    ------
    Run
        Still hidden; ``keep`` puts it in its place.

    Raises
    ------
    OSError
        If the folder cannot be made.
    """
    runs = job_dir / "runs"
    make_folder(runs)
    sweep()
    _sweep(runs)
    try:
        run = _claimed(job_dir)
        claim = run.folder.parent
        try:
            yield run
        finally:
            _clear(claim)
    finally:
        with suppress(OSError):
            runs.rmdir()  # only if nothing is in it


def _claimed(job_dir: Path) -> Run:
    """Claim the first number that neither a run nor another maker has."""
    runs = job_dir / "runs"
    taken = runs_of(job_dir)
    number = int(taken[-1].name) + 1 if taken else 1
    claim = _claim(runs)
    while True:
        place = runs / f"{MAKING}{number:04d}"
        try:
            claim.rename(place)  # only where no claim is: none is empty (POSIX, rename)
        except OSError:
            if not place.exists():
                _clear(claim)
                raise
            number += 1
            continue
        run = Run(job_dir, number, place / "run")
        if not (runs / run.name).exists():
            return run
        place.rename(claim)  # whoever had the number has finished meanwhile
        number += 1


def _claim(runs: Path) -> Path:
    """Make a claim without a number yet: its maker's name, and a folder for the run."""
    maker = Maker.this()
    while True:
        try:
            claim = Path(tempfile.mkdtemp(prefix=f"{CLAIM}{maker}-", dir=runs))
            break
        except FileNotFoundError:  # another maker found nothing in it, and removed it
            make_folder(runs)
    try:
        (claim / MAKER_FILE).write_text(f"{maker}\n", encoding="utf-8")
        (claim / "run").mkdir()
    except OSError:
        _clear(claim)
        raise
    return claim


def _clear(claim: Path) -> None:
    """Remove a claim, its maker's name last."""
    shutil.rmtree(claim / "run", ignore_errors=True)
    shutil.rmtree(claim, ignore_errors=True)


def _sweep(runs: Path) -> None:
    """Remove the claims whose makers are gone: they hold the client's data."""
    for claim in (*runs.glob(f"{MAKING}*"), *runs.glob(f"{CLAIM}*")):
        try:
            maker = Maker.read((claim / MAKER_FILE).read_text("utf-8"))
        except OSError:
            maker = Maker.read(claim.name.removeprefix(CLAIM))
        if maker.left(claim) if maker else nameless(claim):
            _clear(claim)


def copy_inputs(loaded: LoadedJob, into: Path, *, client: str | None = None) -> None:
    """Copy a job into a folder, so that the copy is a job folder that runs by itself.

    Parameters
    ----------
    loaded
        The job.
    into
        The folder.
    client
        A word for the client, for a copy that does not tell who that is; None for a faithful one.

    Raises
    ------
    JobError
        If the copy would tell all the same.
    """
    from reportkit.job.writing.anonymous import anonymous
    from reportkit.job.writing.copies import contents

    files = contents(loaded) if client is None else anonymous(loaded, client=client)
    for name, content in files.items():
        place = into / name
        place.parent.mkdir(parents=True, exist_ok=True)
        place.write_bytes(content)


def close(run: Run, *, anonymous: bool = False) -> None:
    """Write what tells a run's files and what it was made with: versions, manifest, and what makes it a bag.

    Parameters
    ----------
    run
        The run, its folder complete but for these files.
    anonymous
        Whether it was made without what tells who the client is.
    """
    made = made_with()
    time = _now()
    (run.folder / LOCK).write_text(lock(made), encoding="utf-8", newline="\n")
    sums = {name: digest(run.folder / name) for name in files_of(run.folder)}
    manifest = {
        "schema": 2,
        **made,
        "time": time.isoformat(timespec="seconds"),
        "run": run.name,
        "anonymous": anonymous,
        "inputs": {name: value for name, value in sums.items() if name.startswith("inputs/")},
        "outputs": {name: value for name, value in sums.items() if not name.startswith("inputs/")},
    }
    write_json(run.folder / MANIFEST, manifest)
    about = {
        "Bag-Software-Agent": f"reportkit {made['tool']['version']}",
        "Bagging-Date": time.date().isoformat(),
        "External-Identifier": run.name,
    }
    make_bag(run.folder, about)


def _now() -> dt.datetime:
    """Return the time in UTC, or that of ``SOURCE_DATE_EPOCH`` (reproducible-builds.org)."""
    fixed = os.environ.get("SOURCE_DATE_EPOCH", "")
    return dt.datetime.fromtimestamp(int(fixed), dt.UTC) if fixed.isdecimal() else dt.datetime.now(dt.UTC)


def write_json(path: Path, data: Mapping[str, Any]) -> None:
    """Write JSON the same way each time: UTF-8, two spaces, a final newline, no NaN."""
    text = json.dumps(data, ensure_ascii=False, indent=2, allow_nan=False)
    path.write_text(text + "\n", encoding="utf-8", newline="\n")
