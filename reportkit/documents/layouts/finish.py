"""Settles what depends on a whole document: identifiers, heading levels, pairs of figures, decimal marks."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from typing import Any

from babel.core import Locale, UnknownLocaleError

from reportkit.documents.runs import slug, words_of

#: A word that a narrow column may be too narrow for.
_WIDE = re.compile(r"\S{20}")

#: Letters of a block from which on it may be higher than a page.
LONG = 900


def _texts(value: Any) -> Iterator[str]:
    """Yield the texts of a block that are set as text."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, Mapping):
        for key, item in value.items():
            if key not in ("svg", "plotly", "data", "alt", "type", "id", "key", "source"):
                yield from _texts(item)
    elif isinstance(value, list | tuple):
        for item in value:
            yield from _texts(item)


class Finisher:
    """Settles what depends on the whole document: identifiers, heading levels, pairs, decimal marks."""

    def __init__(self, mark: str = ".") -> None:
        """Keep the decimal mark of the document's language."""
        self.mark = mark
        self.level = 0
        self.used: set[str] = set()

    def finish(self, blocks: list[dict[str, Any]]) -> list[dict[str, Any]]:
        """Return finished copies of ``blocks``."""
        return self._paired([self._one(dict(block)) for block in blocks])

    def _one(self, block: dict[str, Any]) -> dict[str, Any]:
        kind = block["type"]
        texts = list(_texts(block))
        block["wide"] = any(map(_WIDE.search, texts))
        block["long"] = block["wide"] or sum(map(len, texts)) > LONG
        if kind == "heading":
            # no level may be skipped (PDF/UA-1, 7.4.2), whatever the order of the sections
            self.level = block["level"] = min(block["level"], self.level + 1)
            block["id"] = self._unique(block["id"] or slug(block["text"]))
        elif kind == "table":
            block["id"] = self._unique(block["id"] or f"table-{slug(block['caption'])[:40]}")
            mark = block["decimal_mark"] or self.mark
            letters = sum(len(words_of(cell)) for row in block["rows"] for cell in row["cells"])
            # short enough to stay on one page for certain, also in the large type of a fitting sheet
            block["whole"] = len(block["rows"]) <= 12 and letters <= 1200
            decimal = [column["align"] == "decimal" for column in block["columns"]]
            block["rows"] = [
                {
                    **row,
                    "splits": [
                        split_at_mark(words_of(cell), mark) if is_decimal else None
                        for cell, is_decimal in zip(row["cells"], decimal, strict=True)
                    ],
                }
                for row in block["rows"]
            ]
        elif kind == "figure":
            block["id"] = self._unique(slug(block["id"]))
        elif kind == "group":
            block["blocks"] = self.finish(block["blocks"])
        elif kind == "columns":
            block["columns"] = [self.finish(column) for column in block["columns"]]
        return block

    def _unique(self, wanted: str) -> str:
        name, number = wanted, 2
        while name in self.used:
            name, number = f"{wanted}-{number}", number + 1
        self.used.add(name)
        return name

    @staticmethod
    def _paired(blocks: list[dict[str, Any]]) -> list[dict[str, Any]]:
        paired: list[dict[str, Any]] = []
        for block in blocks:
            last = paired[-1] if paired else {}
            half = block["type"] == "figure" and block["width"] == "half"
            if half and last.get("type") == "figure" and last.get("width") == "half":
                both = {name: last[name] or block[name] for name in ("wide", "long")}
                paired[-1] = {"type": "columns", "columns": [[last], [block]], "shares": [1.0, 1.0], **both}
            else:
                paired.append(block)
        return paired


def split_at_mark(text: str, mark: str) -> tuple[str, str]:
    """Split a number's text before its decimal mark, or after its last whole digit.

    Parameters
    ----------
    text
        The number as shown, such as ``1,240.5 W``.
    mark
        The decimal mark of the language.

    Returns
    -------
    tuple of str
        What stands left of the alignment line, and what stands right of it.
    """
    number = re.match(r"[^\d]*\d+(?:[\s.,'’\u00a0\u202f]\d{2,3}(?!\d))*", text)
    position = text.find(mark)
    if position > 0 and re.match(r"\d", text[position + len(mark) :]) and text[position - 1].isdigit():
        return text[:position], text[position:]
    end = number.end() if number else len(text)
    return text[:end], text[end:]


def decimal_mark(language: str) -> str:
    """Return the decimal mark of a BCP 47 language tag (a point if the language is not known)."""
    try:
        return str(Locale.parse(language.replace("-", "_")).number_symbols["latn"]["decimal"])
    except (UnknownLocaleError, ValueError, KeyError):
        return "."
