"""Processes that make parcels one after the other, each in a child forked from one that has only imported.

A nursery is a process of its own (``python -m reportkit.app.nursery``) that imports everything once and then
does nothing but fork. What a job leaves in memory goes with its child, and a child that dies takes its own
job with it, nothing else. Where there is no fork, the nursery makes one parcel and is started anew.

It reads parcels from its standard input and writes what was made to its standard output
(`reportkit.app.beside`).
"""

from __future__ import annotations

import importlib
import os
import signal
import sys
import threading
from concurrent.futures import Future, ThreadPoolExecutor

from reportkit.app.beside import Beside, answers, hand, received
from reportkit.app.grammars import without_grammars
from reportkit.app.parcel import Made, Parcel, made
from reportkit.app.printing import prepare
from reportkit.base.rings import sought_seldom

#: A job computes on one core, so that many can at once; what comes out does not depend on it.
_ONE_CORE = dict.fromkeys(("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS"), "1")

#: What every job needs (`tests/app/test_batch.py` makes one and sees that little else is imported for it).
NEEDED = (
    "pvlib.iotools",
    "reportkit.study",
    "reportkit.documents.view",
    "reportkit.documents.calendar",
    "reportkit.documents.language.markdown",
    "ruamel.yaml",
    "icalendar",
    "babel.dates",
    "matplotlib.figure",
    "matplotlib.backends.backend_svg",
    "papermill",
    "IPython.core.completer",
    "IPython.core.completerlib",
    "IPython.core.magics",
)

#: So often is a parcel given to a new process after one has died over it.
TRIES = 2


class Nursery:
    """One such process, started when it is first needed, and again where it has gone."""

    def __init__(self) -> None:
        self._process: Beside | None = None

    def made(self, parcel: Parcel) -> Made:
        """Make a parcel; one whose process dies twice is told as failed."""
        for _ in range(TRIES):
            process = self._running()
            process.give(parcel)
            answer = process.answer()
            if isinstance(answer, Made):
                return answer
            self.close()
        return Made(parcel.name, reason="its process was ended from outside", exit_code=1)

    def close(self) -> None:
        """End the process, and what it is at."""
        process, self._process = self._process, None
        if process:
            process.close()

    def _running(self) -> Beside:
        if self._process is None or self._process.gone:
            self.close()
            self._process = Beside("reportkit.app.nursery", _ONE_CORE)
        return self._process


class Nurseries:
    """As many nurseries as may work at once; parcels are handed in and answers come as futures."""

    def __init__(self, workers: int) -> None:
        self.at_once = workers
        self._all: list[Nursery] = []
        self._own = threading.local()
        self._pool = ThreadPoolExecutor(workers, initializer=self._begin)

    def submit(self, parcel: Parcel) -> Future[Made]:
        """Return the answer to come."""
        return self._pool.submit(lambda: self._own.nursery.made(parcel))

    def close(self) -> None:
        """End all of them."""
        self._pool.shutdown(wait=False, cancel_futures=True)
        for nursery in self._all:
            nursery.close()

    def _begin(self) -> None:
        self._own.nursery = Nursery()
        self._all.append(self._own.nursery)


def main() -> None:
    """Make parcels until there are none."""
    sought_seldom()
    answer_to = answers()
    _prepare()
    while (parcel := received(sys.stdin.buffer)) is not None:
        if not hasattr(os, "fork"):
            hand(answer_to, made(parcel))
            return
        hand(answer_to, _in_a_child(parcel))


def _prepare() -> None:
    """Import what every job needs, also what is imported only where it is used, and cut every page's letters.

    No more: a library's pool of threads, started by its first use, would not live on in a child.
    """
    with without_grammars():
        for name in NEEDED:
            importlib.import_module(name)
    prepare()


def _in_a_child(parcel: Parcel) -> Made:
    """Make a parcel in a forked child; one that dies, or is killed for want of memory, is told so."""
    reader, writer = os.pipe()
    child = os.fork()
    if child == 0:
        os.close(reader)
        with os.fdopen(writer, "wb") as stream:
            hand(stream, made(parcel))
        os._exit(0)  # the parent's own tidying up is the parent's
    os.close(writer)
    before = signal.signal(signal.SIGTERM, lambda *_: _stop(child))
    with os.fdopen(reader, "rb") as stream:
        answer = received(stream)
    _, status = os.waitpid(child, 0)
    signal.signal(signal.SIGTERM, before)
    if isinstance(answer, Made):
        return answer
    how = f"by signal {os.WTERMSIG(status)}" if os.WIFSIGNALED(status) else "by itself"
    return Made(parcel.name, reason=f"its process ended {how}", exit_code=1)


def _stop(child: int) -> None:
    """End with the child."""
    os.kill(child, signal.SIGTERM)
    os._exit(128 + signal.SIGTERM)


if __name__ == "__main__":
    main()
