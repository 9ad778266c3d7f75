"""A process of this same program beside this one, handed one thing after another over pipes of its own.

It is started anew, not forked: that is safe whatever has run here, and works on every system. Things travel
as a length of eight bytes and a pickle; both ends are ours.
"""

from __future__ import annotations

import contextlib
import os
import pickle
import struct
import subprocess
import sys
from collections.abc import Mapping
from typing import IO, Any

_LENGTH = struct.Struct("!Q")


class Beside:
    """One such process, from its start on.

    Parameters
    ----------
    module
        The module it runs, which reads with `received` and answers with `hand`.
    environment
        What its environment has beside this one's.
    alone
        Keep it from the signals of this one's terminal: it is ended from here alone.
    """

    def __init__(
        self, module: str, environment: Mapping[str, str] | None = None, *, alone: bool = False
    ) -> None:
        self._process = subprocess.Popen(
            # -P and our own path: the same program as here, whichever folder this is run in
            [sys.executable, "-P", "-m", module],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            start_new_session=alone,
            env={
                **os.environ,
                **(environment or {}),
                "PYTHONPATH": os.pathsep.join(filter(None, sys.path)),
            },
        )

    @property
    def pid(self) -> int:
        """Its number."""
        return self._process.pid

    @property
    def gone(self) -> bool:
        """Whether it has ended."""
        return self._process.poll() is not None

    def give(self, thing: Any) -> None:
        """Hand a thing over; what has gone is noticed at its answer."""
        assert self._process.stdin is not None
        with contextlib.suppress(OSError):
            hand(self._process.stdin, thing)

    def answer(self) -> Any:
        """Return what it hands back next; None where it has gone or goes."""
        assert self._process.stdout is not None
        try:
            return received(self._process.stdout)
        except OSError:
            return None

    def close(self) -> None:
        """End it, and what it is at."""
        for pipe in (self._process.stdin, self._process.stdout):
            if pipe is not None and not pipe.closed:
                with contextlib.suppress(OSError):  # it has gone: what was left to write has no reader
                    pipe.close()
        self._process.terminate()
        self._process.wait()


def hand(stream: IO[bytes], thing: Any) -> None:
    """Write a thing to a pipe."""
    data = pickle.dumps(thing, protocol=pickle.HIGHEST_PROTOCOL)
    stream.write(_LENGTH.pack(len(data)))
    stream.write(data)
    stream.flush()


def received(stream: IO[bytes]) -> Any:
    """Return what was written next; None at the end, also where it comes in the middle."""
    head = stream.read(_LENGTH.size)
    if len(head) < _LENGTH.size:
        return None
    (length,) = _LENGTH.unpack(head)
    data = stream.read(length)
    return pickle.loads(data) if len(data) == length else None


def answers() -> IO[bytes]:
    """Return the pipe that such a process answers on; what a library prints there goes to its errors."""
    pipe = os.fdopen(os.dup(sys.stdout.fileno()), "wb")
    os.dup2(sys.stderr.fileno(), sys.stdout.fileno())
    return pipe
