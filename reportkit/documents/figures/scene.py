"""Two scenes of our own, a street and a room, as convex shapes of linear light.

Each lies in a unit square (x to the right, y downwards) as someone facing the glass sees it. A shape's
light is relative to its side's luminance. Later shapes cover earlier ones; the first fills the square.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

Point = tuple[float, float]
Light = tuple[float, float, float]


@dataclass(frozen=True)
class Shape:
    """One convex shape: its corners, its linear red, green and blue, and whether it counts when mirrored."""

    corners: tuple[Point, ...]
    light: Light
    mirrored: bool = False


def _box(left: float, top: float, right: float, bottom: float, light: Light, mirrored: bool = False) -> Shape:
    return Shape(((left, top), (right, top), (right, bottom), (left, bottom)), light, mirrored)


def _round(x: float, y: float, wide: float, high: float, light: Light, mirrored: bool = False) -> Shape:
    turns = [2 * math.pi * (n + 0.5) / 12 for n in range(12)]
    corners = tuple((x + wide * math.cos(turn), y + high * math.sin(turn)) for turn in turns)
    return Shape(corners, light, mirrored)


def _whole(light: Light) -> Shape:
    return _box(0.0, 0.0, 1.0, 1.0, light, True)


#: A wall beside the window, outside and in: what the pane stands in.
OUTER_WALL: Light = (0.56, 0.45, 0.36)
INNER_WALL: Light = (0.62, 0.58, 0.50)

# fmt: off
_HILL: tuple[Point, ...] = ((0.0, 0.62), (0.0, 0.50), (0.35, 0.46), (0.75, 0.48), (1.0, 0.53), (1.0, 0.62))
_ROOF: tuple[Point, ...] = ((0.45, 0.35), (0.58, 0.17), (0.84, 0.17), (0.97, 0.35))
_LAMP: tuple[Point, ...] = ((0.79, 0.36), (0.815, 0.22), (0.88, 0.22), (0.905, 0.36))
_SITTER: tuple[Point, ...] = (
    (0.50, 0.86), (0.53, 0.52), (0.58, 0.47), (0.66, 0.47), (0.71, 0.52), (0.74, 0.86),
)
# fmt: on

STREET_BY_DAY: tuple[Shape, ...] = (
    _whole((0.60, 0.80, 1.08)),
    _box(0.0, 0.30, 1.0, 0.62, (0.84, 0.93, 1.03)),
    Shape(_HILL, (0.28, 0.37, 0.31)),
    _box(0.0, 0.60, 1.0, 0.72, (0.17, 0.29, 0.10)),
    _box(0.50, 0.34, 0.92, 0.72, (0.74, 0.63, 0.48), True),
    Shape(_ROOF, (0.30, 0.15, 0.11), True),
    _box(0.56, 0.42, 0.64, 0.54, (0.10, 0.13, 0.16)),
    _box(0.76, 0.42, 0.84, 0.54, (0.10, 0.13, 0.16)),
    _box(0.67, 0.52, 0.73, 0.72, (0.24, 0.09, 0.07)),
    _box(0.0, 0.72, 1.0, 0.80, (0.47, 0.46, 0.43), True),
    _box(0.0, 0.80, 1.0, 1.0, (0.20, 0.20, 0.21), True),
    _box(0.215, 0.50, 0.255, 0.75, (0.13, 0.08, 0.05)),
    _round(0.235, 0.40, 0.17, 0.19, (0.13, 0.24, 0.07), True),
)
STREET_AT_NIGHT: tuple[Shape, ...] = (
    _whole((0.05, 0.06, 0.10)),
    _box(0.50, 0.34, 0.92, 0.72, (0.22, 0.17, 0.12), True),
    Shape(_ROOF, (0.08, 0.05, 0.04)),
    _box(0.56, 0.42, 0.64, 0.54, (3.2, 2.2, 1.0)),
    _box(0.76, 0.42, 0.84, 0.54, (0.05, 0.05, 0.06)),
    _box(0.67, 0.52, 0.73, 0.72, (0.08, 0.04, 0.03)),
    _box(0.0, 0.72, 1.0, 0.80, (1.00, 0.80, 0.50), True),
    _box(0.0, 0.80, 1.0, 1.0, (0.45, 0.36, 0.24), True),
    _box(0.215, 0.50, 0.255, 0.75, (0.10, 0.07, 0.05)),
    _round(0.235, 0.40, 0.17, 0.19, (0.08, 0.10, 0.04)),
    _round(0.40, 0.30, 0.028, 0.035, (8.0, 6.2, 3.6), True),
)
ROOM_BY_DAY: tuple[Shape, ...] = (
    _whole(INNER_WALL),
    _box(0.0, 0.78, 1.0, 1.0, (0.27, 0.17, 0.10), True),
    _box(0.10, 0.18, 0.34, 0.42, (0.88, 0.88, 0.84), True),
    _box(0.13, 0.22, 0.31, 0.38, (0.10, 0.24, 0.34)),
    _box(0.42, 0.58, 0.96, 0.86, (0.12, 0.20, 0.34), True),
    _box(0.84, 0.30, 0.855, 0.60, (0.10, 0.09, 0.08)),
    Shape(_LAMP, (0.86, 0.80, 0.66), True),
    Shape(
        _SITTER,
        (0.60, 0.16, 0.12),
        True,
    ),
    _round(0.62, 0.38, 0.058, 0.085, (0.64, 0.45, 0.34), True),
)
ROOM_AT_NIGHT: tuple[Shape, ...] = tuple(
    Shape(shape.corners, (2.2, 1.9, 1.4), shape.mirrored) if shape.corners == _LAMP else shape
    for shape in ROOM_BY_DAY
)

#: Scenes by time of day and side.
SCENES: dict[tuple[str, str], tuple[Shape, ...]] = {
    ("day", "outdoors"): STREET_BY_DAY,
    ("day", "indoors"): ROOM_BY_DAY,
    ("night", "outdoors"): STREET_AT_NIGHT,
    ("night", "indoors"): ROOM_AT_NIGHT,
}


def mirrored(scene: Sequence[Shape]) -> tuple[Shape, ...]:
    """Return a scene as a pane throws it back: left and right changed, small things left out."""
    return tuple(
        Shape(tuple((1.0 - x, y) for x, y in reversed(shape.corners)), shape.light)
        for shape in scene
        if shape.mirrored
    )


def common(one: Sequence[Point], other: Sequence[Point]) -> list[Point]:
    """Return what two convex shapes have in common, both going round the same way; empty where nothing.

    The second shape's sides cut the first one after the other (Sutherland and Hodgman 1974).
    """
    left = list(one)
    for number, (ax, ay) in enumerate(other):
        bx, by = other[(number + 1) % len(other)]
        given, left = left, []
        for index, (x, y) in enumerate(given):
            px, py = given[index - 1]
            inside = (bx - ax) * (y - ay) - (by - ay) * (x - ax)
            before = (bx - ax) * (py - ay) - (by - ay) * (px - ax)
            if (inside < 0) != (before < 0):
                share = before / (before - inside)
                left.append((px + (x - px) * share, py + (y - py) * share))
            if inside >= 0:
                left.append((x, y))
    return left if area(left) > 1e-6 else []


def area(corners: Sequence[Point]) -> float:
    """Return the area of a shape in its unit square."""
    sides = zip(corners, [*corners[1:], *corners[:1]], strict=True)
    return abs(sum(ax * by - bx * ay for (ax, ay), (bx, by) in sides)) / 2


def mean_light(scene: Sequence[Shape]) -> Light:
    """Return the mean light of a scene, each shape by the part of it that is not covered."""
    steps = [(n + 0.5) / 40 for n in range(40)]
    total = [0.0, 0.0, 0.0]
    for x in steps:
        for y in steps:
            top = next(shape for shape in reversed(scene) if holds(shape.corners, x, y))
            total = [part + light for part, light in zip(total, top.light, strict=True)]
    red, green, blue = (part / len(steps) ** 2 for part in total)
    return red, green, blue


def holds(corners: Sequence[Point], x: float, y: float) -> bool:
    """Return whether a point lies in a shape or on its edge."""
    sides = zip(corners, [*corners[1:], *corners[:1]], strict=True)
    return all((bx - ax) * (y - ay) - (by - ay) * (x - ax) >= 0 for (ax, ay), (bx, by) in sides)
