"""Commands in processes forked from one that has imported what they need: cheap enough to make by hundreds.

Run as a script it reads commands as lines of JSON (`Asked`), forks a child for each, and writes the child's
number; at the next line it waits, and writes how it ended.
"""

import atexit
import datetime as dt
import json
import os
import subprocess
import sys
from dataclasses import asdict, dataclass
from pathlib import Path

from reportkit.base.errors import InputError


def decide(folder: Path, count: int, told: Path | None = None) -> int:
    """Keep so many decisions about a job, one after the other, and tell in a file how many were kept."""
    from reportkit.job.model.decisions import Decision
    from reportkit.job.writing.decisions import keep

    for number in range(count):
        keep(folder, Decision(date=dt.date(2026, 3, 3), note=f"number {number}"), units="metric")
        if told is not None:
            told.write_text(str(number + 1), "utf-8")
    return 0


@dataclass(frozen=True)
class Asked:
    """A command: its words (of the command line, or of `decide`), whether it syncs, where its errors go."""

    words: tuple[str, ...]
    syncs: bool
    errors: str


def _child(asked: Asked) -> int:
    from reportkit.app.command_line import main

    nowhere = os.open(os.devnull, os.O_RDWR)
    for stream in (0, 1):
        os.dup2(nowhere, stream)
    os.dup2(os.open(asked.errors, os.O_WRONLY | os.O_CREAT | os.O_TRUNC), 2)
    if not asked.syncs:
        os.fsync = lambda handle: None
    name, *words = asked.words
    if name == "decide":
        try:
            return decide(Path(words[0]), int(words[1]), *map(Path, words[2:]))
        except (OSError, InputError):
            return 1
    return main(asked.words)


def _serve() -> None:
    from reportkit.app.nursery import _prepare

    _prepare()
    while line := sys.stdin.readline():
        child = os.fork()
        if child == 0:
            code = 70
            try:
                code = _child(Asked(**json.loads(line)))
            finally:
                atexit._run_exitfuncs()  # as at the end of a process of its own
                os._exit(code)
        sys.stdout.write(f"{child}\n")
        sys.stdout.flush()
        sys.stdin.readline()  # until then its number is nobody else's
        status = os.waitpid(child, 0)[1]
        sys.stdout.write(f"{os.waitstatus_to_exitcode(status)}\n")
        sys.stdout.flush()


class Forking:
    """Such a process; what it forks is found by its temporary folder."""

    def __init__(self, temporary: Path) -> None:
        self.temporary = temporary
        self._process = subprocess.Popen(
            [sys.executable, __file__],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            env={**os.environ, "TMPDIR": str(temporary)},
            text=True,
        )

    def start(self, *words: object, syncs: bool = True, errors: Path | str = os.devnull) -> int:
        """Start a command and return its process's number; without ``syncs`` `os.fsync` does nothing."""
        asked = Asked(tuple(map(str, words)), syncs, str(errors))
        self._process.stdin.write(json.dumps(asdict(asked)) + "\n")
        self._process.stdin.flush()
        return int(self._process.stdout.readline())

    def wait(self) -> int:
        """Return how the command ended: its exit code, or the signal, negative."""
        self._process.stdin.write("\n")
        self._process.stdin.flush()
        return int(self._process.stdout.readline())

    def others(self) -> list[int]:
        """Return the processes of commands that still run: forked ones, and what they started."""
        found = []
        for entry in Path("/proc").iterdir():
            try:
                if (
                    entry.name.isdecimal()
                    and f"TMPDIR={self.temporary}".encode() in (entry / "environ").read_bytes()
                ):
                    found.append(int(entry.name))
            except OSError:  # gone meanwhile
                continue
        return [number for number in found if number != self._process.pid]

    def close(self) -> None:
        """End it."""
        self._process.stdin.close()
        self._process.wait()
        self._process.stdout.close()


if __name__ == "__main__":
    _serve()
