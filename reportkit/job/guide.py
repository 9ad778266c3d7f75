"""The guide's tables of fields, made from the models and the notes on them, so that they never differ.

A guide marks where a table goes with ``<!-- fields: NAME NAME … -->`` and ``<!-- end -->``; each name is a
field at the top of job.yaml, or ``panes`` or ``readings`` for the columns of those files. ``rewritten``
fills the marks.
"""

from __future__ import annotations

import re
import types
from collections.abc import Iterator
from typing import Annotated, Any, Union, get_args, get_origin

from pydantic import BaseModel

from reportkit.job.fields import FIELDS, example_of, what_of
from reportkit.job.models import Job
from reportkit.job.readings import Reading
from reportkit.job.survey import COLUMNS, REQUIRED

_MARK = re.compile(r"(<!-- fields: ([\w ]+) -->\n).*?(<!-- end -->)", re.DOTALL)


def rewritten(text: str) -> str:
    """Return a guide with every marked table made anew."""
    return _MARK.sub(lambda found: f"{found[1]}{table(found[2].split())}{found[3]}", text)


def table(names: list[str]) -> str:
    """Return a Markdown table of some fields of the top of a job, and of all below them."""
    lines = ["| field | what | example |", "|---|---|---|"]
    for name in names:
        if name == "panes":
            rows = _columns()
        elif name == "readings":
            rows = _fields(Reading, tuple(Reading.model_fields), "")
        else:
            rows = _fields(Job, (name,), "")
        lines += [
            f"| `{path}` | {what}{' **(required)**' if required else ''} | `{example}` |"
            for path, what, example, required in rows
        ]
    return "\n".join(lines) + "\n"


def _columns() -> Iterator[tuple[str, str, str, bool]]:
    for column in COLUMNS:
        yield column, what_of("Pane", column) or "", example_of("Pane", column) or "", column in REQUIRED


def _fields(
    record: type[BaseModel], names: tuple[str, ...], above: str
) -> Iterator[tuple[str, str, str, bool]]:
    for name in names:
        field = record.model_fields[name]
        below, many = record_in(field.annotation)
        path = f"{above}{name}" + ("[]" if many and below else "")
        what, example = FIELDS[f"{record.__name__}.{name}"]
        yield path, what, example, field.is_required()
        if below is not None:
            yield from _fields(below, tuple(below.model_fields), f"{path}.")


def record_in(annotation: Any) -> tuple[type[BaseModel] | None, bool]:
    """Return the record that a field holds, if any, and whether it holds several."""
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation, False
    origin = get_origin(annotation)
    if origin is Annotated:
        return record_in(get_args(annotation)[0])
    if origin in (Union, types.UnionType, tuple):
        for part in get_args(annotation):
            below, many = record_in(part)
            if below is not None:
                return below, many or origin is tuple
    return None, False
