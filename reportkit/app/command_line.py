"""The command line: ``reportkit COMMAND``, each command a function below.

Exit codes: 0 done, 2 the person's mistake, 1 ours or the machine's; of an audit 3 where numbers moved, 4
where files are damaged. Faults found by ``check`` go to stdout; every other error goes to stderr in plain
words, with a traceback only under ``--debug``. What is stopped from outside (INT, TERM, HUP) leaves 128 and
the signal's number, as in a shell (POSIX).
"""

from __future__ import annotations

import argparse
import os
import select
import signal
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import TextIO

from reportkit.app.arguments import parser
from reportkit.app.machine import refusal
from reportkit.app.stopping import Stopped, stoppable
from reportkit.app.telling import error_told
from reportkit.base.errors import ReportkitError
from reportkit.base.rings import sought_seldom


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command and return its exit code."""
    sought_seldom()  # before what a command needs is imported
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(encoding="utf-8", errors="replace")
    try:
        try:
            return _run_one(argv)
        finally:
            _pour()  # or what cannot be handed over is noticed as Python ends, too late to say so
    except OSError as error:
        lost = _lost()
        if not lost:
            raise
        nowhere = os.open(os.devnull, os.O_WRONLY)
        for stream in lost:  # or Python says at its end that it could not pour it out (Python's manual)
            os.dup2(nowhere, stream.fileno())
        why = refusal(error)
        print(f"not all that was to be printed could be: {why or error}", file=sys.stderr)
        return 1


def _run_one(argv: Sequence[str] | None) -> int:
    arguments = parser().parse_args(argv)
    try:
        with stoppable():
            return int(arguments.run(arguments))
    except ReportkitError as error:
        if arguments.debug:
            raise
        print(error_told(error, *_reader(arguments)), file=sys.stderr)
        return error.exit_code
    except KeyboardInterrupt as stop:
        print("stopped; nothing was kept", file=sys.stderr)
        return 128 + (stop.number if isinstance(stop, Stopped) else signal.SIGINT)
    except Exception as error:
        if arguments.debug or (isinstance(error, OSError) and _lost()):
            raise
        refused = None if isinstance(error, BrokenPipeError) else refusal(error)
        print(
            error_told(refused, *_reader(arguments))
            if refused
            else f"reportkit failed ({type(error).__name__}: {error}). This is our mistake, not the job's; "
            "run the command again with --debug for the details.",
            file=sys.stderr,
        )
        return 1


def _reader(arguments: argparse.Namespace) -> tuple[Path | None, str | None]:
    """Return the job, or the language, that a command was given."""
    return getattr(arguments, "job_dir", None), getattr(arguments, "language", None)


def _pour() -> None:
    """Hand over what was printed."""
    for stream in (sys.stdout, sys.stderr):
        if stream is not None:
            stream.flush()


def _lost() -> list[TextIO]:
    """Return the streams that take nothing any more: their reader has gone, or their disk is full."""
    return [stream for stream in (sys.stdout, sys.stderr) if stream is not None and _closed(stream)]


def _closed(stream: TextIO) -> bool:
    """Return whether a stream refuses what was printed, or is a pipe without a reader."""
    try:
        stream.flush()
    except OSError:
        return True
    try:
        watch = select.poll()
        watch.register(stream.fileno(), 0)  # an error is told unasked
        return any(event & select.POLLERR for _, event in watch.poll(0))
    except (AttributeError, OSError):  # no polling on this system, or no file behind the stream
        return False
