"""What is computed once in a run of the tests, by whichever process comes first, and read by all.

A run's processes share a folder that is empty when the run begins. Each part is kept as a file, so that
nobody is handed an object that somebody else could have changed.
"""

import fcntl
import functools
import hashlib
import os
import pickle
from collections.abc import Callable
from pathlib import Path
from typing import Any, TypeVar

from reportkit import cutting
from reportkit.job.reading import shared as shared_files
from reportkit.physics import sun
from reportkit.physics.glass import breakage
from reportkit.study import rooms

Made = TypeVar("Made")

#: Functions of their arguments alone in which the time of most studies goes, where a study looks them up:
#: cut plans, the sun's places, shadows, views, the breakage screen's days, rooms' years; and files of
#: ``_shared`` as read.
PURE = (
    (cutting, "plan"),
    (cutting, "alternatives"),
    (sun, "position"),
    (sun, "sunlit_fraction"),
    (sun, "views"),
    (breakage, "differences"),
    (rooms, "heat_balance"),
    (shared_files, "read_tree"),
)


def shared(factory: Any) -> Path:
    """Return the folder that all processes of this run of the tests share."""
    base = Path(factory.getbasetemp())
    home = base.parent if "PYTEST_XDIST_WORKER" in os.environ else base
    return home / "once"


class Once:
    """A folder of what was computed, by name."""

    def __init__(self, folder: Path) -> None:
        folder.mkdir(exist_ok=True)
        self.folder = folder

    def get(self, name: str, make: Callable[[], Made]) -> Made:
        """Return what ``make`` returns, from the folder if it was made before; others wait meanwhile."""
        path = self.folder / f"{name}.pickle"
        if not path.exists():
            with (self.folder / f"{name}.lock").open("w") as lock:
                fcntl.flock(lock, fcntl.LOCK_EX)
                if not path.exists():
                    self._keep(path, make())
        found: Made = pickle.loads(path.read_bytes())
        return found

    def function(self, pure: Callable[..., Made]) -> Callable[..., Made]:
        """Return a function that computes what ``pure`` does once for each set of arguments.

        What was raised is raised anew each time.
        """
        name = f"{pure.__module__}.{pure.__qualname__}"

        @functools.wraps(pure)
        def kept(*given: Any, **named: Any) -> Made:
            asked = pickle.dumps((given, sorted(named.items())), pickle.HIGHEST_PROTOCOL)
            path = self.folder / f"{name}-{hashlib.blake2b(asked, digest_size=16).hexdigest()}"
            if not path.exists():
                self._keep(path, pure(*given, **named))
            found: Made = pickle.loads(path.read_bytes())
            return found

        return kept

    def _keep(self, path: Path, made: object) -> None:
        half = path.with_name(f"{path.name}.{os.getpid()}")
        half.write_bytes(pickle.dumps(made, pickle.HIGHEST_PROTOCOL))
        half.replace(path)
