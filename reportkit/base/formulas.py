"""Text in a table of text (CSV) that a spreadsheet would run as a formula: kept from it by an apostrophe.

A workbook says of each cell that it is text; a table of text cannot, so a spreadsheet takes a cell for a
formula by its first sign. An apostrophe before it means "text" to people who use spreadsheets. Source of the
signs: OWASP, "CSV injection", with their full-width forms (from memory).
"""

from __future__ import annotations

import re

#: The last four are the full-width forms of the first.
_FORMULA = re.compile("'*[=+\\-@\t\r\n\uff1d\uff0b\uff0d\uff20]")
_NUMBER = re.compile(r"[+-]?\d+([.,]\d+)?")


def guarded(text: str) -> str:
    """Return a cell that no spreadsheet runs; a number stays as it is.

    Examples
    --------
    >>> guarded("=1+1"), guarded("-2.5")
    ("'=1+1", '-2.5')
    """
    return f"'{text}" if _FORMULA.match(text) and not _NUMBER.fullmatch(text) else text


def unguarded(text: str) -> str:
    """Return what a cell held before `guarded`."""
    return text[1:] if text.startswith("'") and _FORMULA.match(text[1:]) else text
