"""A glazing: one to three panes from outside to inside, the gaps between them and the film on it.

Faces are counted from outside, 1 to twice the number of panes, as the trade does. A film can only go on a
face that a hand can reach: face 1 or the last one. It is refused on a coated, textured or filmed face.

Not covered: frames and edges (everything here is centre-of-glass), vacuum units, panes with water or blinds
between them.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from reportkit.base.translatable import english, translatable
from reportkit.physics.glass.film import SIDES, Film, interface
from reportkit.physics.glass.lite import Lite
from reportkit.physics.glass.surface import BARE, Surface

GASES = ("air", "argon", "krypton")

#: The face that film goes on, counted from outside, by the side it is made for.
FACES = {
    "inside": english("face {face} (the room side) of the glass"),
    "outside": english("face {face} (the weather side) of the glass"),
}


@dataclass(frozen=True)
class Gap:
    """The sealed space between two panes.

    Parameters
    ----------
    width_mm : float, 1-100 [mm]
    gas : str
        ``air``, ``argon`` or ``krypton``.
    fill : float, over 0 to 1 [1]
        Share of that gas by volume, the rest being air. Factory argon is commonly .9 (common practice).
    """

    width_mm: float
    gas: str = "air"
    fill: float = 1.0

    def __post_init__(self) -> None:
        """Check the values."""
        if not 1.0 <= self.width_mm <= 100.0:
            raise ValueError(f"gap width must be between 1 and 100 mm (got {self.width_mm:g})")
        if self.gas not in GASES:
            raise ValueError(f"gas must be one of {', '.join(GASES)} (got {self.gas!r})")
        if not 0.0 < self.fill <= 1.0:
            raise ValueError(f"gas fill must be over 0 and at most 1 (got {self.fill:g})")


@dataclass(frozen=True)
class Glazing:
    """Panes from outside to inside, with the gaps between them.

    Parameters
    ----------
    id : str
        The user's name for it.
    lites : tuple of Lite, 1-3
    gaps : tuple of Gap
        One fewer than the panes.
    film : Film or None
        The film already put on by `with_film`.
    film_face : int or None
        The face it is on, counted from outside.
    notes : tuple of str
        Assumptions to be printed.
    """

    id: str
    lites: tuple[Lite, ...]
    gaps: tuple[Gap, ...] = ()
    film: Film | None = None
    film_face: int | None = None
    notes: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        """Check the number of panes and gaps."""
        object.__setattr__(self, "lites", tuple(self.lites))
        object.__setattr__(self, "gaps", tuple(self.gaps))
        if not 1 <= len(self.lites) <= 3:
            raise ValueError(f"a glazing has one to three panes (got {len(self.lites)})")
        if len(self.gaps) != len(self.lites) - 1:
            raise ValueError(
                f"{len(self.lites)} panes have {len(self.lites) - 1} gaps between them (got {len(self.gaps)})"
            )

    @property
    def faces(self) -> tuple[Surface, ...]:
        """Every glass face from outside to inside, (2 x panes,)."""
        return tuple(face for lite in self.lites for face in (lite.front, lite.back))

    @property
    def film_side(self) -> str | None:
        """``outside``, ``inside``, or None without film."""
        if self.film_face is None:
            return None
        return "outside" if self.film_face == 1 else "inside"


def single(lite: Lite, *, id: str = "") -> Glazing:
    """Return a glazing of one pane."""
    return Glazing(id or lite.name, (lite,))


def double(outer: Lite, inner: Lite, *, gap: Gap, id: str = "") -> Glazing:
    """Return an insulating unit of two panes."""
    return Glazing(id or f"{outer.name} / {gap.width_mm:g} {gap.gas} / {inner.name}", (outer, inner), (gap,))


def triple(outer: Lite, middle: Lite, inner: Lite, *, gaps: tuple[Gap, Gap], id: str = "") -> Glazing:
    """Return an insulating unit of three panes."""
    return Glazing(id or f"{outer.name} / {middle.name} / {inner.name}", (outer, middle, inner), gaps)


def with_surface(glazing: Glazing, surface: Surface, *, face: int) -> Glazing:
    """Return the glazing with another interface on one face, counted from outside.

    Parameters
    ----------
    glazing : Glazing
    surface : Surface
    face : int, 1 to twice the number of panes

    Returns
    -------
    Glazing

    Raises
    ------
    ValueError
        There is no such face.
    """
    if not 1 <= face <= 2 * len(glazing.lites):
        raise ValueError(f"face must be between 1 and {2 * len(glazing.lites)} (got {face})")
    at, back = divmod(face - 1, 2)
    lite = glazing.lites[at]
    lite = replace(lite, back=surface) if back else replace(lite, front=surface)
    return replace(glazing, lites=(*glazing.lites[:at], lite, *glazing.lites[at + 1 :]))


def with_film(glazing: Glazing, film: Film, *, side: str | None = None, film_side: str = "rated") -> Glazing:
    """Put a film on the room's or the weather's face of a glazing.

    Parameters
    ----------
    glazing : Glazing
    film : Film
    side : str or None
        ``inside`` or ``outside``; None is the side the film is made for.
    film_side : str
        ``rated``, ``low`` or ``high``: see `reportkit.physics.glass.film.interface`.

    Returns
    -------
    Glazing
        With the film as an interface on its first or last face, and the assumptions in ``notes``.

    Raises
    ------
    ValueError
        The film's values contradict each other, or the face is coated, textured or filmed already.
    """
    side = film.side if side is None else side
    if side not in SIDES:
        raise ValueError(f"side must be inside or outside (got {side!r})")
    face = 1 if side == "outside" else 2 * len(glazing.lites)
    old = glazing.faces[face - 1]
    where = translatable(FACES[side], face=face)
    if old.kind == "coating":
        raise ValueError(
            translatable(
                "{where} is coated: a film's rating on bare glass says nothing about it there; "
                "ask the film's maker for values measured on that coating",
                where=where,
            )
        )
    if old.kind == "textured":
        raise ValueError(translatable("{where} is textured: film does not stick to it", where=where))
    if old.kind == "unsure":
        raise ValueError(
            translatable(
                "nobody told which face of this glass is the textured one, and film does not stick to it: "
                "feel {where} first",
                where=where,
            )
        )
    if old.kind == "film":
        raise ValueError(translatable("{where} already carries film: take that off first", where=where))
    implied = interface(film, film_side=film_side)
    notes = list(implied.notes)
    if side != film.side:
        notes.append(
            translatable(
                "{film} is made for the {side} and is placed on the {other}",
                film=film.name,
                side=translatable(film.side),
                other=translatable(side),
            )
        )
    if film.scatters:
        notes.append(translatable("{film} scatters light: totals hold, the view does not", film=film.name))
    filmed = with_surface(glazing, implied.surface, face=face)
    return replace(filmed, film=film, film_face=face, notes=(*glazing.notes, *notes))


def without_film(glazing: Glazing) -> Glazing:
    """Return the glazing with its film taken off and the face bare again.

    Parameters
    ----------
    glazing : Glazing

    Returns
    -------
    Glazing
        The same where there is no film.
    """
    if glazing.film_face is None:
        return glazing
    bare = with_surface(glazing, BARE, face=glazing.film_face)
    return replace(bare, film=None, film_face=None, notes=())
