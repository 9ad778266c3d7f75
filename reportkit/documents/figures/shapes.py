"""Panes that are no rectangles to scale, as one stands on the film's side, each in the blank cut for it.

Corners of a pane with few are numbered, so that a table can tell where they lie.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from reportkit.documents.blocks import Figure
from reportkit.documents.figures.canvas import FULL, Box, Canvas, Point
from reportkit.documents.figures.facts import Wording, plain_name
from reportkit.documents.language.formats import Formats
from reportkit.documents.layouts import style
from reportkit.documents.layouts.lettering import SMALL, shortened, width_mm

if TYPE_CHECKING:
    from reportkit.findings.findings import Findings
    from reportkit.findings.glass import PaneFound
    from reportkit.findings.offer import PieceSizes

#: Height of the tallest blank and width of the narrowest place for one on paper [mm].
HIGH, LEAST = 42.0, 16.0

#: Room over a blank for its name, under it for its width, beside it for its height, between two [mm].
HEAD, FOOT, SIDE, GAP = 5.0, 5.5, 5.0, 7.0


@dataclass(frozen=True)
class Shaped:
    """A shaped pane that gets film: what was found of it and of its piece, and its outline.

    ``outline_mm`` is seen from the film's side [mm]; the first ``corners`` of its points are numbered.
    """

    pane: PaneFound
    piece: PieceSizes
    outline_mm: tuple[Point, ...]
    corners: int


def filmed(findings: Findings) -> list[Shaped]:
    """Return the shaped panes that get film, in the order of their pieces."""
    panes = {pane.id: pane for pane in findings.panes}
    outside = {film.id for film in findings.job.films if film.side == "outside"}
    shaped = []
    for piece in findings.pieces:
        pane = panes[piece.pane]
        if pane.outline_mm:
            points = pane.outline_mm
            if pane.film not in outside:
                points = tuple((pane.width_mm - x, y) for x, y in reversed(points))
            first = min(range(len(points)), key=lambda n: (round(points[n][1], 3), points[n][0]))
            points = points[first:] + points[:first]  # from the lowest corner, the left one of two
            shaped.append(Shaped(pane, piece, points, len(points) if pane.shape == "polygon" else 0))
    return shaped


def shapes(findings: Findings, fmt: Formats, words: Wording) -> Figure | None:
    """Return the shaped panes that get film, or None where there are none.

    Parameters
    ----------
    findings
        What was found; reads the panes, their pieces and the sides of the films.
    fmt
        The reader's numbers.
    words
        The reader's language.
    """
    every = filmed(findings)
    if not every:
        return None
    named = "; ".join(
        f"{plain_name(one.pane.id)} {fmt.size_mm(one.pane.width_mm, one.pane.height_mm)}" for one in every
    )
    return Figure(
        id="shapes",
        title=words("Shaped panes in the blanks cut for them"),
        alt=words("The outlines of shaped panes to scale, each in its blank: {panes}.", panes=named),
        svg=_svg(every, fmt),
        plotly=None,
        caption=words(
            "As you stand on the film's side. Solid: the glass in sight, with its width and height; dashed: "
            "the blank; dotted: a seam. To scale, but no template."
        ),
    )


def _svg(every: Sequence[Shaped], fmt: Formats) -> str:
    scale = min(
        HIGH / max(one.piece.height_mm for one in every),
        (FULL - SIDE - 1) / max(one.piece.width_mm for one in every),
    )
    rows: list[list[tuple[float, Shaped]]] = [[]]
    right = 0.0
    for one in every:
        wide = max(one.piece.width_mm * scale, LEAST) + SIDE
        if rows[-1] and right + wide > FULL:
            rows.append([])
            right = 0.0
        rows[-1].append((right, one))
        right += wide + GAP
    heights = [max(one.piece.height_mm for _, one in row) * scale for row in rows]
    canvas = Canvas(FULL, sum(heights) + len(rows) * (HEAD + FOOT))
    y = 0.0
    for row, high in zip(rows, heights, strict=True):
        for left, one in row:
            tall = one.piece.height_mm * scale
            box = Box(left + 0.5, y + HEAD + high - tall, one.piece.width_mm * scale, tall)
            _drawn(canvas, box, scale, one, fmt)
        y += HEAD + high + FOOT
    return canvas.svg()


def _drawn(canvas: Canvas, blank: Box, scale: float, one: Shaped, fmt: Formats) -> None:
    pane, piece = one.pane, one.piece
    left = blank.x + (piece.width_mm - pane.width_mm) / 2 * scale
    foot = blank.bottom - (piece.height_mm - pane.height_mm) / 2 * scale
    ring = [(blank.x, blank.y), (blank.right, blank.y), (blank.right, blank.bottom), (blank.x, blank.bottom)]
    canvas.line([*ring, ring[0]], color=style.QUIET, width=0.6, dash="dashed")
    points = [(left + x * scale, foot - y * scale) for x, y in one.outline_mm]
    canvas.polygons([points], fill=None, edge=style.INK, line=1.2)
    for seam in piece.seams_mm:
        at = left + seam * scale
        canvas.line([(at, blank.y), (at, blank.bottom)], color=style.INK, width=0.8, dash="dotted")
    middle = sum(x for x, _ in points) / len(points), sum(y for _, y in points) / len(points)
    for number, (x, y) in enumerate(points[: one.corners], start=1):
        toward = (middle[0] - x, middle[1] - y)
        far = max((toward[0] ** 2 + toward[1] ** 2) ** 0.5, 1e-9)
        step = min(3.0, far / 2)
        canvas.text(
            x + toward[0] / far * step,
            y + toward[1] / far * step,
            fmt.number(number),
            size=SMALL,
            align="center",
            middle=True,
        )
    name = plain_name(pane.id) + (f" ×{fmt.number(pane.quantity)}" if pane.quantity > 1 else "")
    room = max(blank.width, LEAST) + SIDE
    canvas.text(blank.x, blank.y - 1.5, shortened(name, room, SMALL, bold=True), size=SMALL, bold=True)
    wide = fmt.length_mm(pane.width_mm)
    middle_x = max(blank.x + blank.width / 2, blank.x + width_mm(wide, SMALL) / 2)
    canvas.text(middle_x, blank.bottom + 3.4, wide, size=SMALL, align="center")
    canvas.text(
        blank.right + 2.4,
        blank.y + blank.height / 2,
        fmt.length_mm(pane.height_mm),
        size=SMALL,
        align="center",
        middle=True,
        upright=True,
    )
