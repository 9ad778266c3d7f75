"""What frames, and the edges of sealed units in them, lose: the parts of a window beside its glass.

ISO 10077-1:2017: Uw = (Ag Ug + Af Uf + lg psi)/(Ag + Af). Frames go all round a pane, as wide as each other;
of a bar between two panes each has its half. Not covered: thermal bridges between frame and wall, sun taken
up by a frame (ISO 13790 leaves it out, too), bars inside a pane.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import ArrayLike

from reportkit.base.arrays import Array
from reportkit.base.outline import Outline, sides

#: Width of a frame as it faces [mm]: 60 to 80 is usual (common practice, no source).
WIDTH_MM = 70.0
#: Most that the frame of a corner adds, in squares of its width [1]: that of a corner of 53 degrees.
SHARPEST = 2.0
#: U of frames [W/(m2 K)] by what the survey calls them, ISO 10077-1:2017, annexes, from memory: aluminium
#: without a thermal break 5.9 to 7, with one some 3.5; hollow plastic 1.8 to 2.2; softwood 1.8 to 2.2 by its
#: depth, the slender bars of puttied panes the most.
FRAME_U: dict[str, float] = {"metal": 5.9, "plastic": 2.0, "timber": 2.0, "putty": 2.2}
#: U of a metal frame with a thermal break [W/(m2 K)], same annexes, from memory: to be told.
BROKEN_U = 3.5
#: Loss along the edge of sealed units with metal spacers [W/(m K)], glass without and with a low-e coating:
#: ISO 10077-1:2017, annex, from memory.
SPACER = {"plain": (0.06, 0.08), "broken": (0.08, 0.11), "unbroken": (0.02, 0.05)}
#: Frames of metal whose U [W/(m2 K)] is under this have a thermal break (common practice, no source).
BROKEN_UNDER = 5.0


@dataclass(frozen=True)
class Frame:
    """A pane's frame.

    ``area`` is what it takes up of the wall [m2], ``u`` its own [W/(m2 K)], ``edge`` the length of the edge
    of glass in it [m] and ``spacer`` the loss along that [W/(m K)].
    """

    area: float
    u: float
    edge: float
    spacer: float

    def loss(self, u: ArrayLike | None = None) -> Array:
        """Return Af Uf + lg psi [W/K]; with another U of the frame, if given [W/(m2 K)]."""
        return np.asarray(self.area * np.asarray(self.u if u is None else u, float) + self.edge * self.spacer)


def frame_area(glass: Outline, across: float) -> float:
    """Return the area of a frame round glass, as wide as ``across`` all along it [m, m2].

    Each corner that turns by t adds across^2 tan(t/2): four right ones 4, a circle pi (geometry). One sharper
    than 53 degrees adds no more than that does: its frame is cut short (own choice).
    """
    ways = [math.atan2(by - ay, bx - ax) for (ax, ay), (bx, by) in sides(glass.points)]
    turns = [math.remainder(after - before, math.tau) for before, after in pairwise([*ways, ways[0]])]
    corners = sum(max(-SHARPEST, min(math.tan(turn / 2), SHARPEST)) for turn in turns)
    return across * glass.edge + across**2 * corners


def usual_spacer(material: str, u: float, *, lites: int, coated: bool) -> float:
    """Return the loss along the edge of a pane [W/(m K)], none of single glass.

    Parameters
    ----------
    material
        Key of ``FRAME_U``.
    u
        Of the frame [W/(m2 K)].
    lites
        Of glass.
    coated
        Whether a low-e coating is on one of them.
    """
    if lites < 2:
        return 0.0
    kind = "plain" if material != "metal" else "broken" if u < BROKEN_UNDER else "unbroken"
    return SPACER[kind][coated]
