"""A sheet of paper to draw on, in millimetres from its top left corner.

Shapes and texts are noted first and drawn in one go by matplotlib, without its axes: every place is known
beforehand, which keeps drawings to scale, labels apart and the whole fast. A `Frame` turns data into places.
"""

from __future__ import annotations

import logging
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import Any

from reportkit.documents.layouts import style
from reportkit.documents.layouts.lettering import CAPITAL, LEADING, POINT, SIZE, width_mm

#: Width of a picture that fills the text of a page [mm].
FULL = 168.0

Point = tuple[float, float]


@dataclass(frozen=True)
class Box:
    """A rectangle on paper [mm]; y grows downwards."""

    x: float
    y: float
    width: float
    height: float

    @property
    def right(self) -> float:
        """Right edge [mm]."""
        return self.x + self.width

    @property
    def bottom(self) -> float:
        """Lower edge [mm]."""
        return self.y + self.height

    def overlap(self, other: Box) -> float:
        """Return the area both cover [mm2]."""
        wide = min(self.right, other.right) - max(self.x, other.x)
        high = min(self.bottom, other.bottom) - max(self.y, other.y)
        return wide * high if wide > 0 and high > 0 else 0.0


class Canvas:
    """A sheet of a width and height [mm]."""

    def __init__(self, width: float, height: float) -> None:
        self.width = width
        self.height = height
        self._noted: list[tuple[str, tuple[Any, ...], dict[str, Any]]] = []

    def rects(
        self,
        boxes: Sequence[Box],
        *,
        fill: str | None = None,
        edge: str | None = None,
        line: float = 0.6,
        hatch: str = "",
        hatch_color: str = style.PAPER,
    ) -> None:
        """Note rectangles of one look: fill and edge color, edge [pt], hatch."""
        polygons = [
            [(box.x, box.y), (box.right, box.y), (box.right, box.bottom), (box.x, box.bottom)]
            for box in boxes
        ]
        self.polygons(polygons, fill=fill, edge=edge, line=line, hatch=hatch, hatch_color=hatch_color)

    def polygons(
        self,
        polygons: Sequence[Sequence[Point]],
        *,
        fill: str | None = None,
        edge: str | None = None,
        line: float = 0.6,
        hatch: str = "",
        hatch_color: str = style.PAPER,
    ) -> None:
        """Note closed shapes of one look."""
        if polygons:
            look = {"fill": fill, "edge": edge, "line": line, "hatch": hatch, "hatch_color": hatch_color}
            self._noted.append(("polygons", (polygons,), look))

    def line(
        self,
        points: Sequence[Point],
        *,
        color: str = style.INK,
        width: float = 0.6,
        dash: Any = "solid",
        marker: str = "",
        size: float = 4.0,
    ) -> None:
        """Note a line through points [mm], or markers alone (``dash="none"``); width and size [pt]."""
        look = {"color": color, "linewidth": width, "linestyle": dash, "marker": marker, "markersize": size}
        self._noted.append(("line", (list(points),), look))

    def text(
        self,
        x: float,
        y: float,
        text: str,
        *,
        size: float = SIZE,
        align: str = "left",
        middle: bool = False,
        bold: bool = False,
        color: str = style.INK,
        upright: bool = False,
        backed: str | None = None,
    ) -> Box:
        """Note a line of text and return the box it fills.

        ``y`` is the base line, or the middle of the capitals with ``middle``; ``align`` is left, center
        or right of ``x``; ``upright`` turns it to read from below; ``backed`` paints a ground behind it.
        """
        wide = width_mm(text, size, bold=bold)
        rise = CAPITAL * size * POINT
        shift = {"left": 0.0, "center": -wide / 2, "right": -wide}[align]
        fall = 0.24 * size * POINT
        if upright:
            base_x, base_y = (x + rise / 2 if middle else x), y
            box = Box(base_x - rise, base_y - shift - wide, rise + fall, wide)
        else:
            base_x, base_y = x, (y + rise / 2 if middle else y)
            box = Box(base_x + shift, base_y - rise, wide, rise + fall)
        if backed:
            self.rects([Box(box.x - 0.5, box.y - 0.5, box.width + 1, box.height + 0.7)], fill=backed)
        look = {
            "fontsize": size,
            "ha": align,
            "fontweight": "semibold" if bold else "normal",
            "color": color,
            "rotation": 90 if upright else 0,
        }
        self._noted.append(("text", (base_x, base_y, text), look))
        return box

    def lines(self, x: float, y: float, texts: Sequence[str], *, size: float = SIZE, **look: Any) -> None:
        """Note lines of text one under the other, their middle at ``y``."""
        step = LEADING * size * POINT
        for number, text in enumerate(texts):
            self.text(x, y + (number - (len(texts) - 1) / 2) * step, text, size=size, middle=True, **look)

    def svg(self) -> str:
        """Draw and return the picture."""
        from matplotlib.lines import Line2D
        from matplotlib.patches import PathPatch
        from matplotlib.path import Path
        from matplotlib.text import Text
        from matplotlib.transforms import Affine2D, Transform

        with style.drawing(), _quiet():
            figure = style.blank(self.width, self.height)
            paper: Transform = Affine2D().scale(1 / 25.4, -1 / 25.4).translate(0, self.height / 25.4)
            paper = paper + figure.dpi_scale_trans
            for order, (kind, given, look) in enumerate(self._noted):
                artist: Any
                if kind == "text":
                    artist = Text(*given, va="baseline", rotation_mode="anchor", **look)
                elif kind == "line":
                    (points,) = given
                    artist = Line2D([x for x, _ in points], [y for _, y in points], **look)
                    artist.set_markeredgecolor(style.PAPER)
                    artist.set_markeredgewidth(0.6)
                    artist.set_solid_joinstyle("round")
                else:
                    (polygons,) = given
                    path = Path.make_compound_path(
                        *(Path([*polygon, polygon[0]], closed=True) for polygon in polygons)
                    )
                    artist = PathPatch(
                        path,
                        facecolor=look["fill"] or "none",
                        edgecolor=look["hatch_color"] if look["hatch"] else look["edge"] or "none",
                        linewidth=0 if look["hatch"] else look["line"],
                        hatch=look["hatch"] or None,
                    )
                artist.set_transform(paper)
                artist.set_zorder(order)
                figure.add_artist(artist)
                if kind == "polygons" and look["hatch"] and look["edge"]:
                    outline = PathPatch(path, fill=False, edgecolor=look["edge"], linewidth=look["line"])
                    outline.set_transform(paper)
                    outline.set_zorder(order + 0.5)
                    figure.add_artist(outline)
            return style.svg_of(figure)


@contextmanager
def _quiet() -> Iterator[None]:
    """Keep matplotlib from saying on every picture that the second typeface has no semibold."""
    log = logging.getLogger("matplotlib.font_manager")
    before = log.level
    log.setLevel(logging.ERROR)
    try:
        yield
    finally:
        log.setLevel(before)


@dataclass(frozen=True)
class Frame:
    """The part of a sheet that data are drawn in: a box and the data at its edges."""

    box: Box
    x_range: tuple[float, float]
    y_range: tuple[float, float] = field(default=(0.0, 1.0))

    def x(self, value: float) -> float:
        """Return the place of a value on the horizontal axis [mm]."""
        low, high = self.x_range
        return self.box.x + (value - low) / (high - low) * self.box.width

    def y(self, value: float) -> float:
        """Return the place of a value on the vertical axis [mm]."""
        low, high = self.y_range
        return self.box.bottom - (value - low) / (high - low) * self.box.height


def ticks(low: float, high: float, most: int = 5) -> list[float]:
    """Return round values from ``low`` or below to ``high`` or above, in at most ``most`` steps."""
    from matplotlib.ticker import MaxNLocator

    if high <= low:
        high = low + 1
    values = MaxNLocator(most, steps=[1, 2, 2.5, 5, 10]).tick_values(low, high)
    step = float(values[1] - values[0])
    kept = [float(v) for v in values if v > low - step * 0.999 and v < high + step * 0.999]
    return [round(v, 10) for v in kept]


def spread(
    centers: Sequence[float], heights: Sequence[float], low: float, high: float, gap: float = 0.6
) -> list[float]:
    """Return where labels go so that none touch: as near their centers as can be, in their order.

    Parameters
    ----------
    centers, heights
        Wanted middle and height of each label [mm].
    low, high
        The room they share [mm]; they overflow ``high`` where it is too small.
    gap
        Room kept between two [mm].

    Returns
    -------
    list of float
        Middles, in the order given [mm].
    """
    order = sorted(range(len(centers)), key=lambda i: (centers[i], i))
    # clusters of labels that touch: [members, mean of the wanted tops, height]
    clusters: list[tuple[list[int], float, float]] = []
    for index in order:
        size = heights[index] + gap
        members, top, tall = [index], centers[index] - size / 2, size
        top = min(max(top, low), max(low, high - tall))
        while clusters and clusters[-1][1] + clusters[-1][2] > top:
            before, before_top, before_tall = clusters.pop()
            share = len(before) / (len(before) + len(members))
            top = before_top * share + (top - before_tall) * (1 - share)
            members, tall = before + members, before_tall + tall
            top = min(max(top, low), max(low, high - tall))
        clusters.append((members, top, tall))
    places = [0.0] * len(centers)
    for members, top, _ in clusters:
        below = top
        for index in members:
            size = heights[index] + gap
            places[index] = below + size / 2
            below += size
    return places
