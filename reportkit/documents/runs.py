"""Text inside a block: stretches with one role each, never markup.

A caller writes a string, a `Run`, or a sequence of both; a block keeps a tuple of runs. A character that
would mean something to HTML, Typst or Markdown means nothing here.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Literal

RunKind = Literal["plain", "strong", "emphasis", "nothing_found", "ask", "refuse"]
RUN_KINDS = ("plain", "strong", "emphasis", "nothing_found", "ask", "refuse")


@dataclass(frozen=True)
class Run:
    """A stretch of text with one role: plain, strong, emphasis, or a verdict drawn with its shape."""

    text: str
    kind: RunKind = "plain"

    def __post_init__(self) -> None:
        """Refuse an unknown role."""
        one_of("kind", self.kind, RUN_KINDS)


#: Text as a caller may write it: one string, one run, or a sequence of both.
Text = str | Run | Sequence["str | Run"]


def strong(text: str) -> Run:
    """Return a run that stands out."""
    return Run(text, "strong")


def emphasis(text: str) -> Run:
    """Return a run that is stressed."""
    return Run(text, "emphasis")


def verdict(kind: Literal["nothing_found", "ask", "refuse"], word: str) -> Run:
    """Return the verdict's word, to be drawn with the shape that belongs to ``kind``."""
    return Run(word, kind)


def runs(text: Text) -> tuple[Run, ...]:
    """Return ``text`` as runs; an empty string gives none."""
    if isinstance(text, str):
        return (Run(text),) if text else ()
    if isinstance(text, Run):
        return (text,)
    return tuple(part if isinstance(part, Run) else Run(part) for part in text)


def words_of(text: Iterable[Run | Mapping[str, str]]) -> str:
    """Return the bare text of runs, as objects or as JSON data."""
    return "".join(run.text if isinstance(run, Run) else run["text"] for run in text)


def slug(text: str) -> str:
    """Return ``text`` as an identifier of ASCII letters, digits and hyphens (``part`` if none is left)."""
    ascii_text = unicodedata.normalize("NFKD", text).encode("ascii", "ignore").decode("ascii").lower()
    return re.sub(r"[^a-z0-9]+", "-", ascii_text).strip("-") or "part"


def one_of(name: str, got: str, allowed: Sequence[str]) -> None:
    """Raise a ValueError that names the choices unless ``got`` is among them."""
    if got not in allowed:
        raise ValueError(f"{name} must be one of {', '.join(allowed)} (got {got!r})")


def characters_of(value: Any, *, skip: tuple[str, ...] = ("plotly",)) -> set[str]:
    """Return every character of every string in JSON data, except below the keys in ``skip``."""
    if isinstance(value, str):
        return set(value)
    characters: set[str] = set()
    if isinstance(value, Mapping):
        for key, item in value.items():
            if key not in skip:
                characters |= characters_of(item, skip=skip)
    elif isinstance(value, list | tuple):
        for item in value:
            characters |= characters_of(item, skip=skip)
    return characters
