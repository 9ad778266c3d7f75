"""The cores of this machine, and work shared out to them where a program is alone at work.

Work is shared only within `several`: many jobs at once take a core each instead. Each share is done in a
forked child, which has all it needs without a copy and hands back a pickle; this process does a share itself.
What comes out is the same, whoever does it. Only on Linux: elsewhere forking is missing, or unsafe beside the
system's own libraries.
"""

from __future__ import annotations

import os
import pickle
import signal
import sys
import warnings
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from contextvars import ContextVar
from typing import Any, TypeVar

Item = TypeVar("Item")
Made = TypeVar("Made")

_AT_ONCE: ContextVar[int] = ContextVar("at_once", default=1)


def cores() -> int:
    """Return how many cores this process may use."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1


@contextmanager
def several(at_once: int) -> Iterator[None]:
    """Share out work to so many cores within the block."""
    before = _AT_ONCE.set(at_once)
    try:
        yield
    finally:
        _AT_ONCE.reset(before)


def shared_out(work: Callable[[Item], Made], items: Sequence[Item]) -> list[Made]:
    """Return what work makes of every item, in their order.

    Parameters
    ----------
    work
        A function of its item that changes nothing else; what it returns can be pickled.
    items
        What to work on.

    Raises
    ------
    Exception
        What ``work`` raises: a share that fails, or whose child is killed, is done again here.
    """
    at_once = min(_AT_ONCE.get(), len(items))
    if at_once < 2 or sys.platform != "linux":
        return [work(item) for item in items]
    shares = [items[first::at_once] for first in range(at_once)]
    children: list[tuple[int, int]] = []
    try:
        for share in shares[1:]:  # one by one: where no more can be started, those that are must end
            children.append(_child(work, share))
        made = [[work(item) for item in shares[0]]]
        for (_, answer), share in zip(children, shares[1:], strict=True):
            with os.fdopen(answer, "rb", closefd=False) as stream:
                given = stream.read()
            made.append(pickle.loads(given) if given else [work(item) for item in share])
    finally:
        for child, answer in children:
            os.close(answer)
            os.kill(child, signal.SIGKILL)  # where it is still at work, nobody waits for it
            os.waitpid(child, 0)
    return [made[number % at_once][number // at_once] for number in range(len(items))]


def _child(work: Callable[[Item], Any], share: Sequence[Item]) -> tuple[int, int]:
    """Fork a child that works on a share; return its number and the pipe that its answer comes from."""
    reader, writer = os.pipe()
    with warnings.catch_warnings():
        # numpy's threads are made anew in a child (OpenBLAS); Python has none here that could hold a lock
        warnings.simplefilter("ignore", DeprecationWarning)
        child = os.fork()
    if child:
        os.close(writer)
        return child, reader
    try:
        os.close(reader)
        answer = pickle.dumps([work(item) for item in share], pickle.HIGHEST_PROTOCOL)
        with os.fdopen(writer, "wb") as stream:
            stream.write(answer)
    finally:
        os._exit(0)  # whatever happened: the parent's own tidying up is the parent's
