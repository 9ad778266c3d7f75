"""The outline of a pane that is no rectangle: a closed line, its area, its edge, what lies inside.

Areas are exact: shoelace for straight sides, sector less triangle for a segment of a circle, pi a b for an
ellipse (all from memory). A curve is drawn as a polygon on it, so its edge is measured 0.02 % short at most.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

import numpy as np

from reportkit.base.arrays import Mask

Point = tuple[float, float]

#: Corners that stand for a curve.
STEPS = 96


@dataclass(frozen=True)
class Outline:
    """A closed line.

    Parameters
    ----------
    points
        Its corners, counter-clockwise, x to the right and y up [any length].
    area
        What it encloses [that length squared].
    """

    points: tuple[Point, ...]
    area: float

    @property
    def edge(self) -> float:
        """Length of the line."""
        return sum(math.dist(a, b) for a, b in sides(self.points))

    @property
    def centroid(self) -> Point:
        """Where the area balances."""
        twice = x = y = 0.0
        for (ax, ay), (bx, by) in sides(self.points):
            cross = ax * by - bx * ay
            twice, x, y = twice + cross, x + (ax + bx) * cross, y + (ay + by) * cross
        return x / (3 * twice), y / (3 * twice)

    def contains(self, x: Any, y: Any) -> Mask:
        """Return which points lie inside, in the shape of ``x`` and ``y`` broadcast together."""
        across, up = np.broadcast_arrays(np.asarray(x, float), np.asarray(y, float))
        inside: Mask = np.zeros(across.shape, dtype=bool)
        for (ax, ay), (bx, by) in sides(self.points):
            if ay != by:
                between = (ay > up) != (by > up)
                inside ^= between & (across < ax + (up - ay) * (bx - ax) / (by - ay))
        return inside

    def across_at(self, y: float, x: float) -> tuple[float, float]:
        """Return from where to where the inside reaches to both sides of a point in it."""
        crossings = [
            ax + (y - ay) * (bx - ax) / (by - ay)
            for (ax, ay), (bx, by) in sides(self.points)
            if (ay > y) != (by > y)
        ]
        return (
            max((at for at in crossings if at <= x), default=x),
            min((at for at in crossings if at >= x), default=x),
        )


def sides(points: Sequence[Point]) -> list[tuple[Point, Point]]:
    """Return the straight lines from each corner to the next, the last to the first."""
    return list(pairwise([*points, points[0]]))


def polygon(points: Sequence[Point]) -> Outline:
    """Return the outline through corners given either way round."""
    twice = sum(ax * by - bx * ay for (ax, ay), (bx, by) in sides(points))
    turned = tuple(points) if twice >= 0 else tuple(reversed(points))
    return Outline(turned, abs(twice) / 2)


def arched(width: float, height: float, rise: float) -> Outline:
    """Return upright sides with a curved head of some rise.

    Parameters
    ----------
    width, height
        Of the box around it, over 0.
    rise
        From where the curve begins to its top, over 0; at most the height. Up to half the width the head is
        a segment of a circle, over it half an ellipse.
    """
    half, rise = width / 2, min(rise, height)
    foot = height - rise
    if rise < half:
        radius = (half * half + rise * rise) / (2 * rise)
        reach = 2 * math.atan2(rise, half)  # half the angle of the segment
        area = radius * radius * (reach - math.sin(reach) * math.cos(reach))
        turns = [reach * (1 - 2 * n / STEPS) for n in range(STEPS + 1)]
        curve = [(half + radius * math.sin(t), height - radius * (1 - math.cos(t))) for t in turns]
    else:
        area = math.pi / 2 * half * rise
        turns = [math.pi * n / STEPS for n in range(STEPS + 1)]
        curve = [(half + half * math.cos(t), foot + rise * math.sin(t)) for t in turns]
    below = [(0.0, 0.0), (width, 0.0)] if foot > 1e-9 * height else []
    return Outline((*below, *curve), width * foot + area)


def oval(width: float, height: float) -> Outline:
    """Return the ellipse in a box: a circle where its sides are equal."""
    turns = [2 * math.pi * n / STEPS for n in range(STEPS)]
    points = [(width / 2 * (1 + math.cos(t)), height / 2 * (1 + math.sin(t))) for t in turns]
    return Outline(tuple(points), math.pi / 4 * width * height)


def crossing(points: Sequence[Point]) -> tuple[int, int] | None:
    """Return the numbers of two sides (from 0) that meet but for a corner they share; None where none do."""
    lines = sides(points)
    count = len(lines)
    for first, (a, b) in enumerate(lines):
        for second in range(first + 1, count):
            c, d = lines[second]
            if second == first + 1 or (first == 0 and second == count - 1):
                shared, before, after = (b, a, d) if second == first + 1 else (a, c, b)
                if before == shared or after == shared:
                    return first, second
                back = _side(before, shared, after) == 0 and _ahead(shared, before, after)
                if back:
                    return first, second
            elif _meet(a, b, c, d):
                return first, second
    return None


def _side(a: Point, b: Point, c: Point) -> float:
    """Return on which side of the line from a to b a point lies: over 0 is left, 0 on it."""
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def _ahead(origin: Point, a: Point, b: Point) -> bool:
    """Return whether two points lie in the same direction from a third."""
    return (a[0] - origin[0]) * (b[0] - origin[0]) + (a[1] - origin[1]) * (b[1] - origin[1]) > 0


def _meet(a: Point, b: Point, c: Point, d: Point) -> bool:
    if _side(a, b, c) * _side(a, b, d) < 0 and _side(c, d, a) * _side(c, d, b) < 0:
        return True

    def touches(p: Point, q: Point, r: Point) -> bool:
        return _side(p, q, r) == 0 and not _ahead(r, p, q)

    return touches(a, b, c) or touches(a, b, d) or touches(c, d, a) or touches(c, d, b)
