"""The one typeface of every document: where its files are, what they cover, and web subsets of them.

Source Sans (SIL Open Font License 1.1) comes as a wheel, so figures, HTML and PDF show the same letters on
every machine. DejaVu Sans, which matplotlib brings, stands in for letters and signs Source Sans lacks.
Scripts neither covers are left to the PDF writer's and the system's fonts.
"""

from __future__ import annotations

import base64
import io
import logging
import shutil
import unicodedata
from collections.abc import Iterable
from functools import lru_cache
from importlib.util import find_spec
from pathlib import Path
from typing import Any

from reportkit.base.maker import scratch

FAMILY = "Source Sans Pro"
SECOND_FAMILY = "DejaVu Sans"

#: Style sheet weight and slant to the name in the font wheel.
FACES = {
    (400, "normal"): "SourceSansPro",
    (400, "italic"): "SourceSansProIt",
    (600, "normal"): "SourceSansProSemibold",
}

#: Every subset holds these, so that documents of one job share one subset.
BASE_CHARACTERS = "".join(
    [*map(chr, [*range(0x20, 0x7F), *range(0xA0, 0x180)]), "–—‘’“”„•…−×÷≤≥≈→←↑↓⁄₂€′″\u2007\u202f"]
)

#: How many code points after one another are taken together.
ROW = 0x80


def font_folder() -> Path:
    """Return the folder with the typeface's files."""
    import font_source_sans_pro

    return Path(font_source_sans_pro.font_directory)


def face_file(weight: int = 400, slant: str = "normal") -> Path:
    """Return the file of one face.

    Parameters
    ----------
    weight
        400 or 600.
    slant
        normal or italic (400 only).
    """
    import font_source_sans_pro

    return Path(font_source_sans_pro.font_files_ttf[FACES[weight, slant]])


def second_file() -> Path:
    """Return the file of the typeface that stands in for missing letters."""

    # found without importing matplotlib, which the PDF writer has no other use for
    spec = find_spec("matplotlib")
    if spec is None or spec.origin is None:
        raise FileNotFoundError("matplotlib is not installed")
    return Path(spec.origin).parent / "mpl-data" / "fonts" / "ttf" / "DejaVuSans.ttf"


@lru_cache(maxsize=1)
def second_folder() -> Path:
    """Return a folder that holds the second typeface alone, kept until the process ends.

    Its own folder will not do: there matplotlib keeps a font of last resort, which "covers" every letter
    with a box.
    """
    folder = scratch("font")
    shutil.copyfile(second_file(), folder / second_file().name)
    return folder


@lru_cache(maxsize=1)
def covered() -> frozenset[int]:
    """Return the code points that the two shipped typefaces can print."""
    from fontTools.ttLib import TTFont  # type: ignore[import-untyped]  # ships no types

    with TTFont(second_file(), lazy=True) as font:
        return _own_points() | frozenset(font.getBestCmap())


@lru_cache(maxsize=1)
def _own_points() -> frozenset[int]:
    from fontTools.ttLib import TTFont

    with TTFont(face_file(), lazy=True) as font:
        return frozenset(font.getBestCmap())


def uncovered(characters: Iterable[str]) -> str:
    """Return, sorted, the printable characters that the shipped typefaces lack."""
    return "".join(
        sorted(c for c in set(characters) if ord(c) not in covered() and (c.isprintable() or ord(c) > 0x7F))
    )


def printed(sign: str, otherwise: str) -> str:
    """Return a sign as the shipped typefaces print it: its plain form (Unicode NFKC), else ``otherwise``."""
    plain = sign if sign.isascii() else unicodedata.normalize("NFKC", sign)
    return plain if plain.isascii() or not uncovered(plain) else otherwise


def web_faces(characters: Iterable[str]) -> list[dict[str, Any]]:
    """Return the faces as WOFF subsets for a style sheet.

    Parameters
    ----------
    characters
        Every character of the document. `BASE_CHARACTERS` are kept beside them, so that asking for none
        prepares, in a third of a second, what most documents need. Another comes with the `ROW` of code
        points around it, an alphabet mostly: documents of one job share a subset in Greek, too.

    Returns
    -------
    list of dict
        ``weight``, ``slant`` and ``data`` (base64) of each face.
    """
    rows = {ord(character) // ROW for character in {*characters}.difference(BASE_CHARACTERS)}
    around = {chr(point) for point in _own_points() if point // ROW in rows}
    wanted = frozenset(around.union(c for c in BASE_CHARACTERS if ord(c) in _own_points()))
    return [
        {"weight": weight, "slant": slant, "data": _subset(face_file(weight, slant), wanted)}
        for weight, slant in FACES
    ]


@lru_cache(maxsize=12)
def _subset(path: Path, characters: frozenset[str]) -> str:

    from fontTools import subset  # type: ignore[import-untyped]  # ships no types
    from fontTools.ttLib import TTFont

    logging.getLogger("fontTools").setLevel(logging.ERROR)
    options = subset.Options(
        hinting=False,
        layout_features=["kern", "mark", "mkmk", "ccmp", "locl", "tnum", "lnum", "calt"],
        name_IDs=[0, 1, 2, 13, 14],
        notdef_outline=True,
    )
    with TTFont(path, lazy=True, recalcTimestamp=False) as font:
        cutter = subset.Subsetter(options)
        cutter.populate(unicodes=sorted(map(ord, characters)))
        cutter.subset(font)
        font.flavor = "woff"
        buffer = io.BytesIO()
        font.save(buffer, reorderTables=False)
    return base64.b64encode(buffer.getvalue()).decode("ascii")
