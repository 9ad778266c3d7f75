"""HEIC files decoded in a process of their own: what goes wrong there is a fault of one photo, nothing else.

One process decodes all of a job's; where it dies at one, another goes on with the next.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path

from reportkit.base.translatable import translatable
from reportkit.job.reading import pixels
from reportkit.job.reading.files import clipped

#: What the process runs.
PROGRAM = Path(pixels.__file__)

#: How long a process is waited for [s]: for its start, and for each file beside its time on the processor.
_START, _EACH = 30, 6 * pixels.SECONDS

_DIED = translatable("must be a picture that can be read (its decoder gave up)")
_LONG = translatable("must be a picture that can be read in time (its decoder did not end)")


def decoded(files: Sequence[bytes]) -> list[bytes | str]:
    """Return for each HEIC file its main picture as a JPEG, or the rule that it breaks.

    Parameters
    ----------
    files
        The files.
    """
    made: list[bytes | str] = []
    while len(made) < len(files):
        answers, wrong = _asked(files[len(made) :])
        made += answers
        if len(made) < len(files):
            made.append(wrong)
    return made


def _asked(files: Sequence[bytes]) -> tuple[list[bytes | str], str]:
    """Return what one process answered before it ended, and what is wrong with the file it ended at."""
    sent = b"".join(pixels.HEAD.pack(True, len(data)) + data for data in files)
    wrong = _DIED
    try:
        ended = subprocess.run(
            # -P and our own path: the same libraries as here, whichever folder this is run in
            [sys.executable, "-P", str(PROGRAM)],
            input=sent,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            timeout=_START + _EACH * len(files),
            env={
                **os.environ,
                "MALLOC_ARENA_MAX": "1",
                "PYTHONPATH": os.pathsep.join(filter(None, sys.path)),
            },
            check=False,
        )
        answer = ended.stdout
    except subprocess.TimeoutExpired as late:
        answer, wrong = late.stdout or b"", _LONG
    return list(_answers(answer)), wrong


def _answers(data: bytes) -> Iterator[bytes | str]:
    """Yield the whole answers in what a process wrote."""
    size = pixels.HEAD.size
    while len(data) >= size:
        good, length = pixels.HEAD.unpack(data[:size])
        answer = data[size : size + length]
        if len(answer) < length:
            return
        yield answer if good else _told(answer)
        data = data[size + length :]


def _told(answer: bytes) -> str:
    """Return the rule that an answer names; what a file made of its decoder may say is not taken for one."""
    try:
        rule, values = json.loads(answer)
        return _rule(rule, {str(name): clipped(value) for name, value in values.items()})
    except (ValueError, TypeError, AttributeError, KeyError):
        return _DIED


def rule_of(unfit: pixels.Unfit) -> str:
    """Return the rule that a picture breaks, to be said in any language."""
    return _rule(unfit.rule, unfit.values)


def _rule(rule: str, values: Mapping[str, int | str]) -> str:
    if rule not in pixels.RULES:
        raise ValueError(rule)
    return translatable(rule, **values)
