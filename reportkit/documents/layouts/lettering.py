"""How wide letters are on paper, and how a long name is broken or shortened to a width.

Widths are the advances of the documents' own typeface, read from its file, so that a label can be placed
before anything is drawn. A letter that the typeface lacks counts as a full em when its Unicode East Asian
width is wide, else as the average of the second typeface. Kerning is not covered: it makes text narrower.
"""

from __future__ import annotations

import unicodedata
from functools import lru_cache
from typing import Any

from reportkit.documents.layouts.fonts import face_file, second_file

#: One typographic point [mm].
POINT = 25.4 / 72

#: Sizes of letters in pictures [pt]; nothing is printed smaller.
SIZE = 8.5
SMALL = 8.0

#: Share of the size that a capital stands over the base line, and room from one base line to the next.
CAPITAL = 0.66
LEADING = 1.18

ELLIPSIS = "…"

#: Advance of an unknown letter that is not wide [em].
UNKNOWN = 0.65


@lru_cache(maxsize=4)
def _face(which: str) -> Any:
    from matplotlib.ft2font import FT2Font

    paths = {"regular": face_file(), "bold": face_file(600), "second": second_file()}
    face = FT2Font(str(paths[which]))
    face.set_size(100, 72)
    return face


@lru_cache(maxsize=4096)
def _advance(letter: str, bold: bool) -> float:
    """Return the advance of one letter [em]."""
    if unicodedata.combining(letter) or unicodedata.category(letter) in ("Cf", "Mn", "Me"):
        return 0.0
    for which in ("bold" if bold else "regular", "second"):
        face = _face(which)
        if face.get_char_index(ord(letter)):
            return float(face.load_char(ord(letter)).linearHoriAdvance) / 65536 / 100
    return 1.0 if unicodedata.east_asian_width(letter) in ("W", "F") else UNKNOWN


@lru_cache(maxsize=8192)
def width_mm(text: str, size: float = SIZE, *, bold: bool = False) -> float:
    """Return how wide one line of text is on paper [mm] at a size [pt]."""
    return sum(_advance(letter, bold) for letter in text) * size * POINT


def height_mm(lines: int, size: float = SIZE) -> float:
    """Return how high a number of lines is on paper, first ascender to last descender [mm]."""
    return lines * LEADING * size * POINT


def shortened(text: str, width: float, size: float = SIZE, *, bold: bool = False) -> str:
    """Return text that fits a width [mm], its end replaced by an ellipsis where it does not."""
    if width_mm(text, size, bold=bold) <= width:
        return text
    kept = text
    while kept and width_mm(kept + ELLIPSIS, size, bold=bold) > width:
        kept = kept[:-1]
        while kept and unicodedata.combining(text[len(kept)]):
            kept = kept[:-1]
    return kept.rstrip() + ELLIPSIS


def wrapped(text: str, width: float, size: float = SIZE, *, lines: int = 2, bold: bool = False) -> list[str]:
    """Return text broken at spaces into at most some lines of a width [mm].

    A word wider than a line is broken between letters; what does not fit the last line ends in an ellipsis.
    """
    made: list[str] = []
    rest = text.split(" ")
    while rest and len(made) < lines - 1:
        line = rest.pop(0)
        if width_mm(line, size, bold=bold) > width:
            cut = _fitting(line, width, size, bold)
            rest.insert(0, line[cut:])
            made.append(line[:cut])
            continue
        while rest and width_mm(f"{line} {rest[0]}", size, bold=bold) <= width:
            line += " " + rest.pop(0)
        made.append(line)
    if rest:
        made.append(shortened(" ".join(rest), width, size, bold=bold))
    return made


def _fitting(word: str, width: float, size: float, bold: bool) -> int:
    """Return how many letters of a word fit a width, at least one, marks kept on their letter."""
    count = len(word)
    while count > 1 and width_mm(word[:count], size, bold=bold) > width:
        count -= 1
        while count > 1 and unicodedata.combining(word[count]):
            count -= 1
    return count
