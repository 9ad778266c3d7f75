"""What the columns of a measured spectrum can mean: every reading of their headings that holds together.

People head them ``Wavelength (nm)``, ``%T``, ``Rf``, ``R_glass``, ``Reflectance, back side``. ``front`` and
``back`` mean a side of the pane only once it is known which way the pane lay, and ``Rf`` beside a film may
be the front or the film, so the headings are read together: a reading gives each side one column.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import product

WAVELENGTH, TRANSMITTED, BOTH = "wavelength", "t", "r"

_WAVELENGTH = {"wavelength", "wavelengths", "wave", "wl", "lambda", "λ"}
_TRANSMITTED = {"t", "transmittance", "transmission", "trans", "tau", "τ"}
_REFLECTED = {"r", "reflectance", "reflection", "refl", "rho", "ρ"}
_NM = {"nm", "nanometre", "nanometres", "nanometer", "nanometers"}
_UM = {"um", "micron", "microns", "micrometre", "micrometres", "micrometer", "micrometers"}
_PERCENT = {"%", "percent", "pct"}
_FILLING = {"side", "the", "of", "on", "in", "from", "spectral", "measured"} | _NM | _UM | _PERCENT
#: What a word for a side can mean.
_SIDES: dict[str, set[str]] = {
    "f": {"front", "film"},
    "front": {"front"},
    "b": {"back"},
    "back": {"back"},
    "rear": {"back"},
    "g": {"glass"},
    "glass": {"glass"},
    "film": {"film"},
    **{word: {"outside"} for word in ("out", "outside", "outer", "outdoor", "outdoors", "exterior")},
    **{word: {"inside"} for word in ("inside", "inner", "indoor", "indoors", "interior", "room")},
}


@dataclass(frozen=True)
class Heading:
    """One heading: the column it can be, its unit (``nm``, ``um``, ``%`` or empty), its words for a side."""

    cell: str
    quantity: str
    unit: str
    sides: tuple[str, ...]


def understood(cell: str) -> Heading | None:
    """Return what a heading says; None where a word of it is not known."""
    text = cell.lower().replace("µ", "u").replace("μ", "u")
    words: list[str] = []
    for word in re.findall(r"[^\W\d_]+|%|\d+", text):
        side = word[1:] if word[:1] == "r" else ""
        words += ["r", side] if side in _SIDES or side == "in" else [word]
    # "in" fills a sentence (wavelength in nm), and is a side only right behind r (rin)
    words = [
        "inside" if word == "in" and words[at - 1 : at] == ["r"] else word for at, word in enumerate(words)
    ]
    unit = next(
        (name for name, known in (("nm", _NM), ("um", _UM), ("%", _PERCENT)) if known & set(words)), ""
    )
    left = [word for word in words if word not in _FILLING]
    sides = tuple(word for word in left if word in _SIDES)
    named = {word for word in left if word not in _SIDES}
    for quantity, known in (
        (WAVELENGTH, _WAVELENGTH), (TRANSMITTED, _TRANSMITTED), (BOTH, _REFLECTED)
    ):  # fmt: skip
        if named and named <= known:
            return Heading(cell, quantity, unit, sides)
    return Heading(cell, WAVELENGTH, unit, ()) if not left and unit in ("nm", "um") else None


def ways_to_read(
    headings: list[Heading | None], sides: tuple[str, str], front: str | None
) -> list[tuple[str, ...]]:
    """Return every reading of a header row that gives each side one column.

    Parameters
    ----------
    headings
        As `understood`.
    sides
        The two sides of the pane, such as glass and film.
    front
        The one that the job says is the front; None where it does not say.

    Returns
    -------
    list
        The names of the columns, one list for each reading: ``wavelength``, ``t``, ``r_SIDE``, or ``r`` for a
        reflectance without a side; empty for a heading that is not understood.
    """
    meanings: list[tuple[str, ...]] = []
    for facing in sides if front is None else (front,):
        for names in product(*(list(_names(heading, sides, facing)) for heading in headings)):
            known = [name for name in names if name.startswith(BOTH)]
            whole = {f"r_{side}" for side in sides}
            if len(set(known)) == len(known) and (not known or set(known) in (whole, {BOTH})):
                meanings.append(names)
    return list(dict.fromkeys(meanings))


def _names(heading: Heading | None, sides: tuple[str, str], front: str) -> Iterator[str]:
    if heading is None:
        yield ""
    elif heading.quantity != BOTH:
        yield heading.quantity
    elif not heading.sides:
        yield BOTH
    else:
        back = sides[1] if front == sides[0] else sides[0]
        meant = set(sides)
        for word in heading.sides:
            meant &= {{"front": front, "back": back}.get(side, side) for side in _SIDES[word]}
        for side in sides:
            if side in meant:
                yield f"r_{side}"
