"""Where jobs lie below a folder."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

#: A folder that holds one of these holds a job.
MARKS = ("job.yaml", "job.xlsx", "windows.csv", "windows.xlsx")

#: Folders that hold no jobs of their own.
PASSED_OVER = ("runs", "_shared")


def jobs_below(folder: Path, seen: set[Path] | None = None) -> Iterator[Path]:
    """Yield the folders that hold a job: the folder itself, or those below it in the order of their names.

    Parameters
    ----------
    folder
        Never looked into: a job, ``runs``, ``_shared``, and folders whose name begins with a dot.
    seen
        Folders that were looked into already: links may lead in a circle.
    """
    seen = set() if seen is None else seen
    real = folder.resolve()
    if real in seen:
        return
    seen.add(real)
    try:
        if any((folder / mark).exists() for mark in MARKS):
            yield folder
            return
        below = sorted((one for one in folder.iterdir() if one.is_dir()), key=lambda one: one.name.casefold())
    except OSError:  # not ours to look into
        return
    for entry in below:
        if not entry.name.startswith(".") and entry.name not in PASSED_OVER:
            yield from jobs_below(entry, seen)
