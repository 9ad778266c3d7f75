"""Words of the page frame, which belong to no block: page numbers, switches, names of attachments."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from reportkit.documents.language.words import Words

#: Words of the page frame, which are not part of any block.
FRAME_WORDS: dict[str, str] = {
    "page": "page {page} of {pages}",
    "run": "run",
    "skip": "Skip to the text",
    "contents": "In this document",
    "interactive": "Show the interactive picture",
    "static": "Show the still picture",
    "decides": "Who decides:",
    "characters": (
        "Some characters could not be printed with the fonts at hand and stand as their code in brackets: "
        "{characters}. For the same reason this file is tagged but not archival (PDF/A). "
        "The web page of this document has them whole."
    ),
    "tick": "to tick",
    "write": "to fill in",
    "attachment_results": "Every result of the job, with units in the names",
    "attachment_notebook": "The computation, step by step",
    "attachment_input": "What the job was computed from",
}


def frame_words(words: Words) -> dict[str, str]:
    """Return the words of the frame in a language."""
    return {name: words.raw(text) for name, text in FRAME_WORDS.items()}
