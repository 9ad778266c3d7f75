"""Words of the page frame, which belong to no block: page numbers, switches, names of attachments."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reportkit.base.translatable import english

if TYPE_CHECKING:
    from reportkit.documents.language.words import Words

#: Words of the page frame, which are not part of any block.
FRAME_WORDS: dict[str, str] = {
    "page": english("page {page} of {pages}"),
    "run": english("run"),
    "skip": english("Skip to the text"),
    "contents": english("In this document"),
    "interactive": english("Show the interactive picture"),
    "static": english("Show the still picture"),
    "sideways": english("Slide the picture sideways to see all of it."),
    "decides": english("Who decides:"),
    "characters": (
        english(
            "Some characters could not be printed with the fonts at hand and stand as their code in "
            "brackets: {characters}. For the same reason this file is tagged but not archival (PDF/A). "
            "The web page of this document has them whole."
        )
    ),
    "tick": english("to tick"),
    "write": english("to fill in"),
    "attachment_results": english("Every result of the job, with units in the names"),
    "attachment_shared": english("The results that concern the reader, with units in the names"),
    "attachment_notebook": english("The computation, step by step"),
    "attachment_input": english("What the job was computed from"),
}


def frame_words(words: Words) -> dict[str, str]:
    """Return the words of the frame in a language."""
    return {name: words.raw(text) for name, text in FRAME_WORDS.items()}
