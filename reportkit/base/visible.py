"""Signs that cannot be seen, made visible: they turn text round, hide in a name, make two look alike.

Shown as their code, ``[U+202E]``, are the marks of direction (UAX #9: embeddings, overrides, isolates),
signs of no width, what else Unicode lets a program leave undrawn (``Default_Ignorable_Code_Point``, from
memory), and halves of surrogate pairs, which a file's name may hold.

They stay where they are harmless and asked for: a joiner between letters without case, as Persian and the
scripts of India need it (RFC 5892, A.1 and A.2 ask for more), and between the parts of an emoji; one
variation selector behind a sign; the soft hyphen, which shows where it breaks a line. A name in Hebrew or
Arabic reads right without any of them: a program sets it by the direction of its letters.
"""

from __future__ import annotations

import re
import unicodedata

_JOINERS = "\u200c\u200d"
#: Signs that `visible` leaves where they are asked for and that Python does not count as printable.
HARMLESS = f"{_JOINERS}\u00ad"
_SELECTORS = "\u180b-\u180d\u180f\ufe00-\ufe0f\U000e0100-\U000e01ef"
_HIDDEN = (
    "\u034f\u061c\u115f\u1160\u17b4\u17b5\u180e\u200b\u200e\u200f\u2028-\u202e\u2060-\u206f\u3164\ufeff\uffa0"
    "\ufff0-\ufffb\ud800-\udfff\U0001bca0-\U0001bca3\U0001d173-\U0001d17a\U000e0000-\U000e00ff\U000e01f0-\U000e0fff"
)
_ANY = re.compile(f"[{_HIDDEN}{_JOINERS}{_SELECTORS}]")
_SELECTOR = re.compile(f"[{_SELECTORS}]")
_RUN = re.compile(f"[{_HIDDEN}{_JOINERS}{_SELECTORS}]+")

#: Signs in a row that are all told; of more only the first and the last.
LONGEST = 3

#: Kinds of signs (Unicode's general category) that a joiner may stand between: letters without case and marks
#: on them; pictures, and shades of skin.
_LETTERS = frozenset({"Lo", "Mn", "Mc"})
_PICTURES = frozenset({"So", "Sk"})


#: Letters written from right to left: the blocks of Hebrew, Arabic and their kin (Unicode, from memory).
_LEFTWARDS = re.compile("[\u0590-\u08ff\ufb1d-\ufdff\ufe70-\ufefc\U00010800-\U00010fff\U0001e800-\U0001efff]")


def isolated(text: str) -> str:
    """Return a text to stand inside another: written from right to left, it turns nothing round beside it.

    In "Yard: 61 %" a Hebrew name would draw the number to its other side; between the isolates of UAX #9
    (FSI, PDI) it cannot. Those are put in by the program; typed ones `visible` shows.
    """
    return f"\u2068{text}\u2069" if _LEFTWARDS.search(text) else text


def code(sign: str) -> str:
    """Return what stands for a sign that cannot be shown, ``[U+202E]``."""
    return f"[U+{ord(sign):04X}]"


def coded(signs: str) -> str:
    """Return signs in a row as codes; of many, which nobody reads, only the first and the last."""
    if len(signs) > LONGEST:
        return f"{code(signs[0])}…{code(signs[-1])}"
    return "".join(map(code, signs))


def visible(text: str) -> str:
    """Return a text in which every sign that cannot be seen is shown as its code, but for harmless ones.

    Examples
    --------
    >>> visible("total \\u202e001")
    'total [U+202E]001'
    """
    if text.isascii() or not _ANY.search(text):
        return text
    return _RUN.sub(lambda match: _shown(text, match), text)


def _shown(text: str, match: re.Match[str]) -> str:
    """Return a run of such signs as it is shown: the harmless ones at its beginning as they are."""
    signs, before = match[0], text[: match.start()][-1:]
    after = text[match.end() :][:1]
    kept = ""
    if _SELECTOR.match(signs) and before and not before.isspace():
        kept, signs = signs[0], signs[1:]
    if signs and signs in _JOINERS and _joined(before, after):
        kept, signs = kept + signs, ""
    return kept + coded(signs) if signs else kept


def _joined(before: str, after: str) -> bool:
    """Return whether a joiner between two signs belongs there."""
    if not before or not after:
        return False
    kinds = {unicodedata.category(before), unicodedata.category(after)}
    return kinds <= _LETTERS or kinds <= _PICTURES
