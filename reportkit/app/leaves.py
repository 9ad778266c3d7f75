"""Results leaf by leaf, each by a path that a person can read, such as ``options[grey-40].cost``."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from decimal import Decimal, InvalidOperation
from typing import Any

from reportkit.findings.result import Result, as_json

#: Keys that tell the records of a list apart, the first that does so; where none does, their place does.
_NAMES = (
    ("id",), ("id", "film"), ("pane", "film"), ("pane",), ("film",), ("about", "field"), ("room",), ("face",),
    ("option",), ("face", "film"), ("about",), ("name",), ("key",),
)  # fmt: skip

#: A name in a path is not longer than this.
_LONGEST = 40


def leaves(data: Any, path: str = "") -> Iterator[tuple[str, Any]]:
    """Go through the leaves of JSON data: their paths, and their numbers, texts, truths and nulls.

    Parameters
    ----------
    data
        JSON data.
    path
        Where they stand.
    """
    if isinstance(data, Mapping):
        for key, value in data.items():
            yield from leaves(value, f"{path}.{key}" if path else str(key))
    elif isinstance(data, list):
        for name, value in zip(names(data), data, strict=True):
            yield from leaves(value, f"{path}[{name}]")
    else:
        yield path, data


def stems(path: str) -> list[str]:
    """Return the paths that lead to one, the shortest first: ``a`` and ``a.b`` of ``a.b[c]``."""
    return [path[: match.start()] for match in re.finditer(r"[.\[]", path)]


def names(items: Sequence[Any]) -> list[str]:
    """Return a name for each item of a list, no two alike."""
    if items and all(isinstance(item, Mapping) for item in items):
        for keys in _NAMES:
            if all(all(isinstance(item.get(key, 0), str | None) for key in keys) for item in items):
                made = [", ".join(str(item[key] or "none") for key in keys)[:_LONGEST] for item in items]
                if len(set(made)) == len(made):
                    return made
    return [str(place) for place in range(len(items))]


def number(value: Any) -> Decimal | None:
    """Return a leaf as a number: a number, or money written as text; None for anything else."""
    if isinstance(value, bool) or not isinstance(value, int | float | str):
        return None
    try:
        made = Decimal(str(value))
    except InvalidOperation:
        return None
    return made if made.is_finite() else None


def record_paths(value: Any, path: str) -> Iterator[tuple[int, str]]:
    """Go through the records below some findings: the identity of each, and its path."""
    if isinstance(value, Result):
        yield id(value), path
        for name in type(value).model_fields:
            alias = type(value).model_fields[name].alias or name
            yield from record_paths(getattr(value, name), f"{path}.{alias}")
    elif isinstance(value, Mapping):
        for key, item in value.items():
            yield from record_paths(item, f"{path}.{key}")
    elif isinstance(value, list | tuple):
        for name, item in zip(names([as_json(item) for item in value]), value, strict=True):
            yield from record_paths(item, f"{path}[{name}]")


@contextmanager
def noted() -> Iterator[set[tuple[int, str]]]:
    """Note every field of a record that is read in the block: the record's identity and the field's name.

    Only fields that hold values are noted; to go through a record to another one is no reading.
    """
    read: set[tuple[int, str]] = set()
    plain = Result.__getattribute__

    def noting(self: Result, name: str) -> Any:
        value = plain(self, name)
        if not name.startswith("_") and not callable(value) and not _records(value):
            read.add((id(self), name))
        return value

    Result.__getattribute__ = noting  # type: ignore[method-assign, assignment] # for the block only
    try:
        yield read
    finally:
        del Result.__getattribute__


def _records(value: Any) -> bool:
    """Return whether a value is a record, or holds records."""
    if isinstance(value, Mapping):
        value = tuple(value.values())
    first = value[0] if isinstance(value, list | tuple) and value else value
    return isinstance(first, Result)
