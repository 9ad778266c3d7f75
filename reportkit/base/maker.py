"""Which process made a folder, and whether it is still there: what a killed one left is cleared by the next.

A process is known by its number and the time it started, on one machine since it was last started. What
another machine made in a shared folder cannot be asked after: it counts as left behind once nothing in it has
changed for a day.
"""

from __future__ import annotations

import atexit
import hashlib
import os
import platform
import re
import shutil
import tempfile
import time
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

#: How the folders of ours in the temporary folder begin.
PREFIX = "reportkit-"

#: The folder of each process that asked for one: this one, and those it was forked from.
_ROOTS: dict[int, Path] = {}

#: After so long without a change, what another machine made is taken as left behind [s].
ELSEWHERE_S = 86_400

#: So long may a folder stand without the name of its maker, who writes it at once [s].
NAMELESS_S = 60


@dataclass(frozen=True)
class Maker:
    """A process: its number, when it started, a digest of the machine, its start and the numbers' realm."""

    number: int
    started: str
    machine: str

    @classmethod
    def this(cls) -> Maker:
        """Return this process."""
        return cls(os.getpid(), _started(os.getpid()) or "0", _machine())

    @classmethod
    def read(cls, text: str) -> Maker | None:
        """Return the process that a text names, or None."""
        match = re.match(r"(\d+)-(\d+)-([0-9a-f]{12})(?![0-9a-f])", text)
        return cls(int(match[1]), match[2], match[3]) if match else None

    def __str__(self) -> str:
        """Return it as text that `read` understands and a file's name may hold."""
        return f"{self.number}-{self.started}-{self.machine}"

    def left(self, folder: Path) -> bool:
        """Return whether a folder of this process is left behind."""
        return self.gone() if self.machine == _machine() else _age_s(folder) > ELSEWHERE_S

    def gone(self) -> bool:
        """Return whether a process of this machine has ended; its number may be another's by now."""
        started = _started(self.number)
        return started is None or (started != "0" and started != self.started)


def scratch(purpose: str) -> Path:
    """Return a new folder for what need not last, gone at the latest when this process ends.

    Where it is killed instead, `sweep` of a later process removes the folder.

    Parameters
    ----------
    purpose
        A word for the folder's name.
    """
    process = os.getpid()
    root = _ROOTS.get(process)  # a forked process has one of its own
    if root is None or not root.is_dir():
        root = _ROOTS[process] = Path(tempfile.mkdtemp(prefix=f"{PREFIX}{Maker.this()}-"))
        atexit.register(_clear, process)
    return Path(tempfile.mkdtemp(prefix=f"{purpose}-", dir=root))


def _clear(process: int) -> None:
    """Remove the folder of a process, unless this is another one, forked from it."""
    if process == os.getpid() and process in _ROOTS:
        shutil.rmtree(_ROOTS.pop(process), ignore_errors=True)


def sweep() -> list[Path]:
    """Remove the folders in the temporary folder whose makers are gone, and return them."""
    gone = []
    for folder in Path(tempfile.gettempdir()).glob(f"{PREFIX}*"):
        maker = Maker.read(folder.name.removeprefix(PREFIX))
        if maker is not None and maker.left(folder):
            shutil.rmtree(folder, ignore_errors=True)  # another person's stays
            gone.append(folder)
    return gone


def nameless(folder: Path) -> bool:
    """Return whether a folder that names no maker is left behind: it would have been named by now."""
    return _age_s(folder) > NAMELESS_S


def _age_s(folder: Path) -> float:
    """Return how long ago anything directly in a folder last changed [s]."""
    try:
        times = [entry.lstat().st_mtime for entry in (folder, *folder.iterdir())]
    except OSError:
        return 0.0  # gone meanwhile, or not ours to look at
    return time.time() - max(times)


def _started(number: int) -> str | None:
    """Return when a process started, as the system counts; ``0`` if it won't say, None if there is none."""
    try:
        stat = Path(f"/proc/{number}/stat").read_text("utf-8", "replace")
    except OSError:
        return "0" if _runs(number) else None
    # the name in brackets may hold anything; the start is the 22nd field, the state the third (proc(5))
    state, *fields = stat.rpartition(")")[2].split()
    return None if state in "ZX" else fields[18]


def _runs(number: int) -> bool:
    """Return whether a process runs, where /proc does not tell; where it cannot be asked, it is taken to."""
    if os.name == "nt":
        return True
    try:
        os.kill(number, 0)
    except ProcessLookupError:
        return False
    except OSError:
        return True
    return True


@lru_cache(maxsize=1)
def _machine() -> str:
    """Return a digest of the machine's name, its last start, and the realm that process numbers hold in."""
    parts = [platform.node()]
    try:
        parts.append(Path("/proc/sys/kernel/random/boot_id").read_text("ascii").strip())
        parts.append(str(Path("/proc/self/ns/pid").readlink()))
    except OSError:
        pass
    return hashlib.sha256("\n".join(parts).encode("utf-8")).hexdigest()[:12]
