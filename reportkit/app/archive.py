"""A run's folder: what went in, what came out, and the sums that show nothing has changed since.

A run is ``JOB_DIR/runs/NNNN``, numbered upwards and never overwritten. It is built in a dot-folder
beside its place and renamed when whole, so a run appears complete or not at all.
"""

from __future__ import annotations

import hashlib
import json
import platform
import shutil
import uuid
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from importlib import metadata
from pathlib import Path
from typing import TYPE_CHECKING, Any

from reportkit import __version__

if TYPE_CHECKING:
    from reportkit.job import LoadedJob

#: Packages whose version can change a number or a document; they are named in the manifest.
PACKAGES = (
    "babel", "matplotlib", "nbconvert", "numpy", "pandas", "papermill", "plotly", "pvlib", "pydantic",
    "scipy", "timezonefinder", "typst", "tzdata",
)  # fmt: skip


@dataclass
class Run:
    """A run being made: the number it hopes for and the folder that will become ``runs/NNNN``."""

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
        """Put the whole run in its place at once and return it.

        Where another run has taken the number meanwhile, this one moves up.
        """
        while True:
            place = self.job_dir / "runs" / self.name
            if not place.exists():
                try:
                    self.folder = self.folder.rename(place)
                    return place
                except OSError:
                    if not place.exists():
                        raise
            self.number += 1


def runs_of(job_dir: Path) -> list[Path]:
    """Return the finished runs of a job, oldest first."""
    runs = job_dir / "runs"
    if not runs.is_dir():
        return []
    found = [entry for entry in runs.iterdir() if entry.is_dir() and entry.name.isdecimal()]
    return sorted(found, key=lambda entry: int(entry.name))


@contextmanager
def new_run(job_dir: Path) -> Iterator[Run]:
    """Make a folder for a run; what is not kept by the end of the block is removed.

    Parameters
    ----------
    job_dir
        The job's folder.

    Yields
    ------
    Run
        Still hidden; ``keep`` puts it in its place.
    """
    runs = job_dir / "runs"
    runs.mkdir(exist_ok=True)
    taken = runs_of(job_dir)
    number = int(taken[-1].name) + 1 if taken else 1
    hidden = runs / f".making-{uuid.uuid4().hex}"
    hidden.mkdir()
    try:
        yield Run(job_dir, number, hidden)
    finally:
        shutil.rmtree(hidden, ignore_errors=True)
        if not any(runs.iterdir()):
            runs.rmdir()


def copy_inputs(loaded: LoadedJob, into: Path) -> None:
    """Copy a job into a folder, so that the copy is a job folder that runs by itself."""
    from reportkit.job.writing.copies import contents

    for name, content in contents(loaded).items():
        place = into / name
        place.parent.mkdir(parents=True, exist_ok=True)
        place.write_bytes(content)


def digest(path: Path) -> str:
    """Return the sha256 of a file, in hex."""
    return hashlib.sha256(path.read_bytes()).hexdigest()


def manifest(folder: Path, *, made_at: str) -> dict[str, Any]:
    """Return what a run holds: the sum of every file, and what it was made with.

    Parameters
    ----------
    folder
        The run's folder, complete but for the manifest.
    made_at
        ISO 8601 time with its offset.

    Returns
    -------
    dict
        ``inputs`` and ``outputs`` as {relative path: sha256}, ``tool``, ``python``, ``packages``, ``time``.
    """
    files = sorted(path for path in folder.rglob("*") if path.is_file() and path != folder / "manifest.json")
    sums = {path.relative_to(folder).as_posix(): digest(path) for path in files}
    return {
        "schema": 1,
        "tool": {"name": "reportkit", "version": __version__},
        "time": made_at,
        "python": platform.python_version(),
        "packages": {name: metadata.version(name) for name in PACKAGES},
        "inputs": {name: value for name, value in sums.items() if name.startswith("inputs/")},
        "outputs": {name: value for name, value in sums.items() if not name.startswith("inputs/")},
    }


def write_json(path: Path, data: Mapping[str, Any]) -> None:
    """Write JSON the same way each time: UTF-8, two spaces, a final newline, no NaN."""
    text = json.dumps(data, ensure_ascii=False, indent=2, allow_nan=False)
    path.write_text(text + "\n", encoding="utf-8", newline="\n")
