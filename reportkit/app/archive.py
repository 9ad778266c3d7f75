"""A run's folder: what went in, what came out, and the sums that show nothing has changed since.

A run is ``JOB_DIR/runs/NNNN``, numbered upwards and never overwritten. It is built in a dot-folder
that claims its number, synced, and renamed when whole: a run appears complete or not at all, on the disk too.
"""

from __future__ import annotations

import datetime as dt
import json
import os
import shutil
from collections.abc import Iterator, Mapping
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from reportkit.app.bag import close as make_bag
from reportkit.app.bag import digest, files_of
from reportkit.app.versions import lock, made_with
from reportkit.base.durable import make_folder, publish, sync_tree
from reportkit.base.maker import Maker, nameless, sweep

if TYPE_CHECKING:
    from reportkit.job import LoadedJob

#: How the folder of a run in the making begins; its number follows. To make it is to claim the number.
MAKING = ".making-"

#: What a run holds, what it was made with, and when.
MANIFEST = "manifest.json"

#: The versions of all packages, as requirements for pip.
LOCK = "versions.txt"

#: The file in it that names the process at work, so that the next knows what a killed one left.
MAKER_FILE = ".maker"


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
        sync_tree(self.folder)  # the long part, while the folder still names its maker
        (self.folder / MAKER_FILE).unlink()
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
    run = _claimed(job_dir)
    try:
        (run.folder / MAKER_FILE).write_text(f"{Maker.this()}\n", encoding="utf-8")
        yield run
    finally:
        if run.folder.name.startswith(MAKING):
            shutil.rmtree(run.folder, ignore_errors=True)
        with suppress(OSError):
            runs.rmdir()  # only if nothing is in it


def _claimed(job_dir: Path) -> Run:
    """Claim the first number that neither a run nor another maker has."""
    taken = runs_of(job_dir)
    number = int(taken[-1].name) + 1 if taken else 1
    while True:
        run = Run(job_dir, number, job_dir / "runs" / f"{MAKING}{number:04d}")
        try:
            run.folder.mkdir()  # one alone succeeds (POSIX, mkdir)
        except FileExistsError:
            number += 1
            continue
        except FileNotFoundError:  # another maker found nothing in it, and removed it
            make_folder(job_dir / "runs")
            continue
        if not (job_dir / "runs" / run.name).exists():
            return run
        run.folder.rmdir()  # whoever had the number has finished meanwhile
        number += 1


def _sweep(runs: Path) -> None:
    """Remove the folders of runs whose makers are gone: they hold the client's data."""
    for folder in runs.glob(f"{MAKING}*"):
        try:
            maker = Maker.read((folder / MAKER_FILE).read_text("utf-8"))
        except OSError:
            maker = None
        if maker.left(folder) if maker else nameless(folder):
            shutil.rmtree(folder, ignore_errors=True)


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
    sums = {name: digest(run.folder / name) for name in files_of(run.folder) if name != MAKER_FILE}
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
    make_bag(run.folder, about, skip=(MAKER_FILE,))


def _now() -> dt.datetime:
    """Return the time in UTC, or that of ``SOURCE_DATE_EPOCH`` (reproducible-builds.org)."""
    fixed = os.environ.get("SOURCE_DATE_EPOCH", "")
    return dt.datetime.fromtimestamp(int(fixed), dt.UTC) if fixed.isdecimal() else dt.datetime.now(dt.UTC)


def write_json(path: Path, data: Mapping[str, Any]) -> None:
    """Write JSON the same way each time: UTF-8, two spaces, a final newline, no NaN."""
    text = json.dumps(data, ensure_ascii=False, indent=2, allow_nan=False)
    path.write_text(text + "\n", encoding="utf-8", newline="\n")
