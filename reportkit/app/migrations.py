"""Results of every earlier schema as those of today's: one step for each version, one after the other.

A step changes names and shapes only. Where an old run held one number and today three stand for it, that one
is the likely one and the two others are not told.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from typing import Any

from reportkit.base.errors import InputError
from reportkit.findings.findings import SCHEMA_VERSION

#: Numbers of a screen that are ranges from schema 4 on.
_RANGES = ("absorptance", "difference_k", "stress_mpa", "bare_difference_k")


def migrated(results: Mapping[str, Any]) -> dict[str, Any]:
    """Return the data of a ``results.json`` in today's schema.

    Parameters
    ----------
    results
        Data of any schema there was.

    Raises
    ------
    InputError
        If the schema is none of them: a newer program made the run.
    """
    version = results.get("schema")
    if not isinstance(version, int) or not 1 <= version <= SCHEMA_VERSION:
        rule = (
            f"results of schema {version}: this program knows those up to {SCHEMA_VERSION}; use a newer one"
        )
        raise InputError(rule)
    made: dict[str, Any] = dict(results)
    for step in range(version, SCHEMA_VERSION):
        made = STEPS[step](made) | {"schema": step + 1}
    return made


def _verdicts(data: Any) -> Any:
    """From schema 1 to 2: the verdict on a pane without objection is ``nothing_found``, not ``fit``."""
    return _each(data, {"verdict": lambda value: "nothing_found" if value == "fit" else value})


def _seams(data: Any) -> Any:
    """From schema 2 to 3: the seam of a piece is its part and the parts, not a text such as ``1 of 2``."""
    return _each(data, {"seam": _parts})


def _parts(value: Any) -> Any:
    match = re.fullmatch(r"(\d+) of (\d+)", value) if isinstance(value, str) else None
    return {"part": int(match[1]), "parts": int(match[2])} if match else value


def _ranges(data: Any) -> Any:
    """From schema 3 to 4: four numbers of a screen are ranges."""
    return _each(data, dict.fromkeys(_RANGES, _likely), below=("screen", "screens", "letters"))


def _likely(value: Any) -> Any:
    return {"likely": value} if isinstance(value, int | float) else value


#: From each version to the next.
STEPS: dict[int, Callable[[Any], Any]] = {1: _verdicts, 2: _seams, 3: _ranges}


def _each(
    data: Any, change: Mapping[str, Callable[[Any], Any]], *, below: tuple[str, ...] = (), at: bool = False
) -> Any:
    """Return data with the values of some keys changed wherever they stand, or only below some keys."""
    if isinstance(data, list):
        return [_each(item, change, below=below, at=at) for item in data]
    if not isinstance(data, dict):
        return data
    inside = at or not below
    return {
        key: change[key](value)
        if key in change and inside
        else _each(value, change, below=below, at=at or key in below)
        for key, value in data.items()
    }
