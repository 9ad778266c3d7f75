"""Faults of a job, and what else the commands say of it, in the job's language.

What is told of a job is made as a translatable sentence where it is found, and printed in English as it is.
Here it is said again: the template by its catalogue, names and values as they were typed, numbers as the
reader writes them. A sentence that no catalogue has stays English: no fault is lost for want of a word.
"""

from __future__ import annotations

import dataclasses
import re

from reportkit.base.errors import Fault, InputError, ReportkitError
from reportkit.base.languages import SOURCE
from reportkit.base.translatable import Translatable, reason_of
from reportkit.base.visible import visible
from reportkit.documents.language.formats import Formats
from reportkit.documents.language.words import Words
from reportkit.job.reading.spoken import Spoken

#: A place in a workbook that is no cell but a whole row or column.
_WHOLE = re.compile(r"(?P<sheet>.+)!(?P<what>row|column) (?P<name>\w+)")


def words_of(spoken: Spoken) -> Words:
    """Return the words, and the ways to write numbers, of the job that is told of."""
    plain = Words(spoken.language)
    if plain.language == SOURCE:
        return plain
    try:
        return Words(
            spoken.language, Formats(spoken.locale or spoken.language, units=spoken.units, currency="USD")
        )
    except ValueError:  # a locale that is none has a fault of its own
        return plain


def error_in_words(error: ReportkitError, words: Words) -> str:
    """Return an error as it is printed: each fault on its line, below what was said of them all."""
    faults = error.faults if isinstance(error, InputError) else ()
    above = error.message if isinstance(error, InputError) else reason_of(error)
    return "\n".join([*filter(None, [words.said(above)]), *(fault_in_words(each, words) for each in faults)])


def fault_in_words(fault: Fault, words: Words) -> str:
    """Return a fault as it is printed, ``file:line field: rule (found "…"); mend``.

    Parameters
    ----------
    fault
        The fault, in English.
    words
        Those of its reader.
    """
    field, found = (
        words.said(text) if isinstance(text, Translatable) else text for text in (fault.field, fault.found)
    )
    rule, cell = words.said(fault.rule), _cell(fault.cell, words)
    text = str(dataclasses.replace(fault, field=field or "", cell=cell, rule=rule, found=None, hint=None))
    if found is not None:
        told = words('found "{found}"', found=found)
        text += f" ({told})"
    if fault.hint:
        text += f"; {words.said(fault.hint)}"
    return visible(" ".join(text.split()))


def _cell(cell: str, words: Words) -> str:
    """Return a place in a workbook, a row or a column named as the reader calls it."""
    whole = _WHOLE.fullmatch(cell)
    if whole is None:
        return cell
    called = (
        words("row {name}", name=whole["name"])
        if whole["what"] == "row"
        else words("column {name}", name=whole["name"])
    )
    return f"{whole['sheet']}!{called}"
