"""The language that a job is told of in, found without checking it: also where the job cannot be read.

A job that holds a fault may hold it anywhere. Where its file can be read, its fields ``language``, ``locale``
and ``units`` count as they stand; where a ``job.yaml`` cannot, the lines at its left edge that begin with
these words. Without them, and of a workbook that does not open, the job is told of in English.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Literal

from reportkit.base.languages import SOURCE
from reportkit.job.reading.book import BOOK_FILE, read_book
from reportkit.job.reading.files import LARGEST_FILE
from reportkit.job.reading.jobfile import JOB_FILE
from reportkit.job.reading.yamltree import read_tree

#: Whether a text names a language other than English anywhere, so that reading it is worth the time.
_ANOTHER = re.compile(rf"""language["']?[ \t]*:[ \t]*["']?(?!{SOURCE}\b)[A-Za-z]""")
_LINE = re.compile(
    r"""^(language|locale|units)[ \t]*:[ \t]*["']?([A-Za-z]{2,8}(?:[-_][A-Za-z]{2,8})*)""", re.MULTILINE
)


@dataclass(frozen=True)
class Spoken:
    """A language (``es``), its locale (``es_ES``, empty where none is told), and ``us`` or ``metric``."""

    language: str = SOURCE
    locale: str = ""
    units: Literal["us", "metric"] = "metric"


def spoken(folder: Path) -> Spoken:
    """Return the language that a job folder asks for, English where it cannot be told.

    Parameters
    ----------
    folder
        The job's folder, or what was given for one.
    """
    try:
        data = {name: _data(folder / name) for name in (JOB_FILE, BOOK_FILE)}
    except (OSError, ValueError):  # no such folder, or a name that cannot be one
        return Spoken()
    top = _in_yaml(data[JOB_FILE]) if data[JOB_FILE] else _in_book(data[BOOK_FILE])
    language, locale = (top.get(name) for name in ("language", "locale"))
    return Spoken(
        language.lower().replace("_", "-") if isinstance(language, str) else SOURCE,
        locale if isinstance(locale, str) else "",
        "us" if top.get("units") == "us" else "metric",
    )


def _data(path: Path) -> bytes:
    if not path.is_file():
        return b""
    with path.open("rb") as file:
        return file.read(LARGEST_FILE)


def _in_yaml(data: bytes) -> Mapping[str, Any]:
    text = data.decode("utf-8-sig", "replace")
    if not _ANOTHER.search(text):
        return {}
    tree, _ = read_tree(JOB_FILE, text)
    return tree.value if tree else dict(reversed(_LINE.findall(text)))


def _in_book(data: bytes) -> Mapping[str, Any]:
    book = read_book(BOOK_FILE, data) if data else []
    return {} if isinstance(book, list) else book.tree.value
