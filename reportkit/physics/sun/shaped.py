"""The lit share of a pane that is no rectangle, by points spread evenly over its glass.

The devices are those of `reportkit.physics.sun.shade`; a reveal follows the outline. From each point a ray
goes towards the light and is lost where it meets the reveal, the overhang or a fin. A ray that leaves a
hollow outline and comes back into it is counted as lit.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from reportkit.base.arrays import Array, Mask
from reportkit.base.outline import Outline

#: Points over the box: within 0.01 of the exact share of a rectangle.
POINTS = 1024
#: Cells to each side of the box by which a point of the opening is told to be inside.
CELLS = 256
#: Rays followed at once, which keeps memory small.
_AT_ONCE = 512
#: Reciprocals of the plastic number and of its square: the least clumped sequence in a square (Roberts 2018,
#: from memory).
_STEP = np.array([0.7548776662466927, 0.5698402909980532])


@dataclass(frozen=True)
class Devices:
    """Size of one pane's box and what shades it, all [m]; the words of `reportkit.physics.sun.Shade`."""

    width: float
    height: float
    reveal_depth: float
    overhang_depth: float
    overhang_gap: float
    overhang_left: float
    overhang_right: float
    left_fin_depth: float
    left_fin_gap: float
    right_fin_depth: float
    right_fin_gap: float
    fin_above: float
    fin_below: float


def lit_of(outline: Outline, direction: Array, near: Devices) -> Array:
    """Return the share of a shaped pane that is lit from each direction.

    Parameters
    ----------
    outline
        In its box, from the lower left corner [m].
    direction
        Unit vectors in the pane's axes: to the right, up, outwards (over 0), shape (3, N).
    near
        The box, and what shades it.

    Returns
    -------
    ndarray, shape (N,)
        0 to 1.
    """
    x, y = _points(outline, near)
    opening = _cells(outline, near)
    parts = [
        _reached(x, y, opening, direction[:, start : start + _AT_ONCE], near)
        for start in range(0, direction.shape[1], _AT_ONCE)
    ]
    return np.concatenate(parts) if parts else np.zeros(0)


def _points(outline: Outline, near: Devices) -> tuple[Array, Array]:
    spread = (0.5 + np.arange(1, POINTS + 1)[:, None] * _STEP) % 1.0
    x, y = spread[:, 0] * near.width, spread[:, 1] * near.height
    inside = outline.contains(x, y)
    return x[inside], y[inside]


def _cells(outline: Outline, near: Devices) -> Mask:
    """Return which cells of the box lie inside, by row from below, shape (CELLS, CELLS)."""
    middles = (np.arange(CELLS) + 0.5) / CELLS
    return outline.contains(middles[None, :] * near.width, middles[:, None] * near.height)


def _reached(x: Array, y: Array, opening: Mask, direction: Array, near: Devices) -> Array:
    across, up = (part[:, None] for part in (direction[0] / direction[2], direction[1] / direction[2]))
    root = near.reveal_depth
    free = np.ones((direction.shape[1], len(x)), dtype=bool)
    if root > 0:
        column = np.floor((x + across * root) / near.width * CELLS)
        row = np.floor((y + up * root) / near.height * CELLS)
        within = (column >= 0) & (column < CELLS) & (row >= 0) & (row < CELLS)
        at = np.where(within, row, 0).astype(int), np.where(within, column, 0).astype(int)
        free &= within & opening[at]
    with np.errstate(divide="ignore", invalid="ignore"):
        if near.overhang_depth > 0:
            out = (near.height + near.overhang_gap - y) / up
            meets = x + across * out
            beside = (meets >= -near.overhang_left) & (meets <= near.width + near.overhang_right)
            free &= ~((out >= root) & (out <= root + near.overhang_depth) & beside & (up > 0))
        for depth, reach, way in (
            (near.right_fin_depth, near.width + near.right_fin_gap - x, across),
            (near.left_fin_depth, near.left_fin_gap + x, -across),
        ):
            if depth > 0:
                out = reach / way
                meets = y + up * out
                along = (meets >= -near.fin_below) & (meets <= near.height + near.fin_above)
                free &= ~((out >= root) & (out <= root + depth) & along & (way > 0))
    share: Array = free.mean(axis=1)
    return share
