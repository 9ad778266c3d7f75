"""A job that travels as bytes and comes back as bytes: what one process hands another, here or elsewhere.

Nothing of it needs a disk that both can see. A parcel holds the job's files and the number its run will
have; what comes back holds the run's files, which its own bag of sums tells whole from damaged.
"""

from __future__ import annotations

import shutil
import time
from dataclasses import dataclass, field
from pathlib import Path

from reportkit.app.archive import Run, close
from reportkit.app.machine import refusal
from reportkit.app.run import fill
from reportkit.app.telling import error_told
from reportkit.base.errors import ReportkitError
from reportkit.base.maker import scratch
from reportkit.job import load_job


@dataclass(frozen=True)
class Parcel:
    """A job on its way: its name, its files as in the ``inputs`` of a run, and the number of that run."""

    name: str
    number: int
    files: dict[str, bytes] = field(repr=False)


@dataclass(frozen=True)
class Made:
    """What came back: the run's files, or none and why, the exit code, and how long it took [s]."""

    name: str
    files: dict[str, bytes] = field(default_factory=dict, repr=False)
    reason: str = ""
    exit_code: int = 0
    seconds: float = 0.0


def made(parcel: Parcel) -> Made:
    """Make a parcel's run in a folder of its own and return it as bytes; its own failure is an answer, too.

    Parameters
    ----------
    parcel
        The job.
    """
    begun = time.perf_counter()
    folder = scratch("parcel")
    run = Run(folder, parcel.number, folder / "runs" / "run")
    try:
        files, reason, code = _run(parcel, run), "", 0
    except ReportkitError as error:
        files, reason, code = {}, error_told(error, run.inputs), error.exit_code
    except Exception as error:  # whatever it is, it must not stop the other jobs
        why = refusal(error)
        files, code = {}, 1
        reason = str(why) if why else f"our mistake, not the job's ({type(error).__name__}: {error})"
    finally:
        shutil.rmtree(folder, ignore_errors=True)
    return Made(parcel.name, files, reason, code, time.perf_counter() - begun)


def _run(parcel: Parcel, run: Run) -> dict[str, bytes]:
    unpacked(parcel.files, run.inputs)
    fill(run, load_job(run.inputs).job)
    close(run)
    return packed(run.folder)


def packed(folder: Path) -> dict[str, bytes]:
    """Return the files below a folder by their paths within it."""
    paths = sorted(path for path in folder.rglob("*") if path.is_file())
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in paths}


def unpacked(files: dict[str, bytes], folder: Path) -> None:
    """Write files below a folder; raises OSError for a name that leads out of it."""
    for name, content in files.items():
        place = folder / name
        if not place.resolve().is_relative_to(folder.resolve()):
            raise OSError(f"{name} would lie outside the folder")
        place.parent.mkdir(parents=True, exist_ok=True)
        place.write_bytes(content)
