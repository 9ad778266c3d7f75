"""Being told to stop: a closed terminal (HUP) and a plain kill (TERM) end a command as Ctrl-C (INT) does."""

from __future__ import annotations

import signal
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from types import FrameType
from typing import Any


class Stopped(KeyboardInterrupt):
    """A signal to stop came; what is half done is removed on the way out."""

    def __init__(self, number: int) -> None:
        super().__init__(signal.Signals(number).name)
        self.number = number


_TOLD: list[Stopped] = []


def told_to_stop() -> Stopped | None:
    """Return the stop that was raised in this block of `stoppable`, for whom a library kept it to itself."""
    return _TOLD[-1] if _TOLD else None


@contextmanager
def stoppable() -> Iterator[None]:
    """Raise `Stopped` in the block when told to stop; further signals then leave the clearing up alone.

    A signal that is ignored stays so: a command under ``nohup`` goes on when its terminal closes.
    """
    names = [name for name in ("SIGTERM", "SIGHUP") if hasattr(signal, name)]
    before: dict[int, Any] = {}

    def stop(number: int, frame: FrameType | None) -> None:
        for one in before:
            signal.signal(one, signal.SIG_IGN)
        _TOLD.append(Stopped(number))
        raise _TOLD[-1]

    if threading.current_thread() is threading.main_thread():
        for number in (getattr(signal, name) for name in names):
            if signal.getsignal(number) not in (signal.SIG_IGN, None):
                before[number] = signal.signal(number, stop)
    try:
        yield
    finally:
        _TOLD.clear()
        for number, handler in before.items():
            signal.signal(number, handler)
