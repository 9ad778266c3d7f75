"""The guide's tables of fields, made from the records and what their fields say, so that they never differ.

A guide marks where a table goes with ``<!-- fields: NAME NAME … -->`` and ``<!-- end -->``; each name is a
field at the top of job.yaml, or ``panes`` or ``readings`` for the columns of those files. ``rewritten``
fills the marks.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from pydantic import BaseModel

from reportkit.job.model import Job, Pane, Reading
from reportkit.job.model.about import meaning, record_in
from reportkit.job.reading.survey import COLUMNS, REQUIRED, field_of

_MARK = re.compile(r"(<!-- fields: ([\w ]+) -->\n).*?(<!-- end -->)", re.DOTALL)


def rewritten(text: str) -> str:
    """Return a guide with every marked table made anew."""
    return _MARK.sub(lambda mark: f"{mark[1]}{table(mark[2].split())}{mark[3]}", text)


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
        what, example = meaning(Pane.model_fields[field_of(column)])
        yield column, what, example, column in REQUIRED


def _fields(
    record: type[BaseModel], names: tuple[str, ...], above: str
) -> Iterator[tuple[str, str, str, bool]]:
    for name in names:
        field = record.model_fields[name]
        below, many = record_in(field.annotation)
        path = f"{above}{name}" + ("[]" if many and below else "")
        what, example = meaning(field)
        yield path, what, example, field.is_required()
        if below is not None:
            yield from _fields(below, tuple(below.model_fields), f"{path}.")
