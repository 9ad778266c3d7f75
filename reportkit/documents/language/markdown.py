"""The Markdown cells of a notebook in the language of its job.

The templates are written in English, a line to each heading, paragraph and item. Such a line, without the
marks in front of it and without its bold label, is a sentence of the catalogues like any other; the label is
one of its own. Cells of code, outputs and marks stay as they are.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from typing import Any

from reportkit.documents.language.words import Words

#: A line's marks, its bold label and its text.
_LINE = re.compile(
    r"(?P<marks>\s*(?:#+ |[-*] |\d+\. )?)(?:\*\*(?P<label>[^*]+)\*\* )?(?P<text>.*)(?P<end>\n?)"
)


def sentences(notebook: Mapping[str, Any]) -> Iterator[str]:
    """Return every label and sentence of a notebook's Markdown cells, in order.

    Parameters
    ----------
    notebook
        A notebook, nbformat 4.

    Examples
    --------
    >>> list(sentences({"cells": [{"cell_type": "markdown", "source": "## Cuts\\n\\n- **In:** panes."}]}))
    ['Cuts', 'In:', 'panes.']
    """
    for cell in notebook["cells"]:
        if cell["cell_type"] == "markdown":
            for line in "".join(cell["source"]).splitlines():
                yield from (part for part in _parts(line)[1:3] if part)


def spoken(notebook: Mapping[str, Any], words: Words) -> dict[str, Any]:
    """Return a notebook with its Markdown cells in a language; all other cells are the same objects.

    Parameters
    ----------
    notebook
        A notebook, nbformat 4.
    words
        The language; a sentence that its catalogue does not know stays.
    """
    return {**notebook, "cells": [_cell(cell, words) for cell in notebook["cells"]]}


def _cell(cell: dict[str, Any], words: Words) -> dict[str, Any]:
    if cell["cell_type"] != "markdown":
        return cell
    lines = [_said(line, words) for line in "".join(cell["source"]).splitlines(keepends=True)]
    return {**cell, "source": lines if isinstance(cell["source"], list) else "".join(lines)}


def _parts(line: str) -> tuple[str, str, str, str]:
    match = _LINE.fullmatch(line)
    assert match is not None  # every line matches: all its parts may be empty
    return match["marks"], match["label"] or "", match["text"], match["end"]


def _said(line: str, words: Words) -> str:
    marks, label, text, end = _parts(line)
    bold = f"**{words.raw(label)}** " if label else ""
    return f"{marks}{bold}{words.raw(text)}{end}"
