"""What concerns a document as a whole: its frame, and the results and inputs it carries along.

The last cell of the notebook shows a `Record`; an exporter needs nothing but the notebook.
"""

from __future__ import annotations

import base64
import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, Literal

from reportkit.documents.blocks import plain
from reportkit.documents.frame import FRAME_WORDS

if TYPE_CHECKING:
    pass

RECORD_MIME = "application/vnd.reportkit.results+json"


@dataclass(frozen=True)
class DocumentInfo:
    """What concerns a whole document rather than one section.

    Parameters
    ----------
    titles, subtitles
        By document kind (`reportkit.documents.layouts.assemble.Kind`).
    language
        BCP 47 tag, such as ``en-US``.
    paper
        ``a4`` or ``us-letter``.
    footer
        Job and run, printed on every page.
    timestamp
        The document's date as Unix time [s]; written into the PDF, so that it never depends on the clock.
    date
        The same date as the reader writes it.
    author
        The business that issues the document.
    addressee
        Lines of who and what it is for.
    words
        Words of the frame that differ from the English ones in `FRAME_WORDS`.
    decimal_mark
        The mark that numbers carry; that of the language unless given.
    later
        Timestamp and date of those kinds of documents that are dated later than the others.
    """

    titles: Mapping[str, str]
    language: str
    paper: Literal["a4", "us-letter"]
    footer: str
    timestamp: int
    date: str
    author: str
    subtitles: Mapping[str, str] = field(default_factory=dict)
    addressee: Sequence[str] = ()
    words: Mapping[str, str] = field(default_factory=dict)
    decimal_mark: str = ""
    later: Mapping[str, tuple[int, str]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        """Check the choices and fill the frame's words."""
        if self.paper not in ("a4", "us-letter"):
            raise ValueError(f"paper must be a4 or us-letter (got {self.paper!r})")
        unknown = sorted(set(self.words) - set(FRAME_WORDS))
        if unknown:
            raise ValueError(f"words must be among {sorted(FRAME_WORDS)} (got {unknown})")
        object.__setattr__(self, "words", {**FRAME_WORDS, **self.words})


@dataclass(frozen=True)
class Record:
    """What the last cell shows: the document's frame, all results, the inputs they came from, all in short.

    Parameters
    ----------
    document
        The frame.
    results
        Plain JSON data.
    inputs
        Relative file name to its bytes or its text.
    in_short
        What is recommended, in a few lines for whoever makes the run, in the reader's language and units.
    """

    document: DocumentInfo
    results: Mapping[str, Any]
    inputs: Mapping[str, bytes | str]
    in_short: Sequence[str] = ()

    def _repr_mimebundle_(self, include: Any = None, exclude: Any = None) -> dict[str, Any]:
        data = {
            "document": plain(self.document),
            "results": json.loads(json.dumps(self.results, allow_nan=False)),
            "inputs": {name: _packed(self.inputs[name]) for name in sorted(self.inputs)},
            "in_short": list(self.in_short),
        }
        names = ", ".join(sorted(self.results)) or "nothing"
        return {RECORD_MIME: data, "text/plain": f"Results: {names}. Inputs: {len(self.inputs)} files."}


def unpacked(stored: str | Mapping[str, str]) -> bytes:
    """Return the bytes of an input as stored by `Record`."""
    if isinstance(stored, str):
        return stored.encode("utf-8")
    return base64.b64decode(stored["base64"])


def _packed(content: bytes | str) -> str | dict[str, str]:
    if isinstance(content, str):
        return content
    try:
        return content.decode("utf-8")
    except UnicodeDecodeError:
        return {"base64": base64.b64encode(content).decode("ascii")}
