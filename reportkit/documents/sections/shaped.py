"""Panes that are no rectangles: their size as a reader sees it, and for the fitter outline, measures and blank."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reportkit.documents.blocks import Block, Bullets, Column, Heading, Table
from reportkit.documents.figures.shapes import Shaped, filmed, shapes
from reportkit.documents.language.names import SHAPES
from reportkit.documents.page import Page
from reportkit.documents.runs import Text, strong

if TYPE_CHECKING:
    from reportkit.findings.glass import PaneFound


def glass_size(page: Page, pane: PaneFound) -> str:
    """Return a pane's width and height, and its shape where it is no rectangle."""
    size = page.fmt.size_mm(pane.width_mm, pane.height_mm)
    return size if pane.shape is None else f"{size}, {page.words(SHAPES[pane.shape])}"


def shaped(page: Page) -> list[Block]:
    """Return the shaped panes that get film: to scale, measure by measure, and how to trim them."""
    words, fmt = page.words, page.fmt
    every = filmed(page.findings)
    figure = shapes(page.findings, fmt, words)
    if figure is None:
        return []
    rows: list[list[Text]] = [
        [
            [strong(one.pane.id)],
            _measures(page, one),
            fmt.area(one.pane.area_m2, 2),
            fmt.size_mm(one.piece.width_mm, one.piece.height_mm),
        ]
        for one in every
    ]
    return [
        Heading(words("Shaped panes"), level=2, id="shapes"),
        figure,
        Table(
            [
                Column("pane", words("Pane")),
                Column("shape", words("Shape, as you stand on the film's side"), width=3.0),
                Column("area", words("Glass"), align="right"),
                Column("blank", words("Blank"), align="right"),
            ],
            rows,
            caption=words("Measures for trimming on the glass or for a template"),
            id="shape-list",
        ),
        Bullets(
            [
                words(
                    "Trim the blank on the glass along the bead, or cut it by a paper template traced from that "
                    "very pane and tried in it first: two panes of one drawing are seldom alike."
                ),
                words(
                    "Leave the gap all along the curve, and round inner corners off: a cut into a sharp corner tears."
                ),
                words(
                    "A blade can score the glass, and a scored edge can break: hold a guide against the frame, never "
                    "cut twice in one line, and ask before using metal on tempered glass."
                ),
            ]
        ),
    ]


def _measures(page: Page, one: Shaped) -> str:
    """Return the shape's name and what it takes to draw it, in the reader's units."""
    words, length = page.words, page.fmt.length_mm
    pane, points = one.pane, one.outline_mm
    assert pane.shape is not None  # it has an outline
    kind = words(SHAPES[pane.shape])
    left, right = (_upright(one, at) for at in (0.0, pane.width_mm))
    if pane.shape == "arch":
        return words(
            "{shape}: rises {rise} over upright sides {side} high",
            shape=kind,
            rise=length(pane.height_mm - left),
            side=length(left),
        )
    if pane.shape == "triangle":
        tip, _ = max(points, key=lambda point: point[1])
        return words("{shape}: tip {place} from the left", shape=kind, place=length(tip))
    if pane.shape == "trapezoid":
        return words(
            "{shape}: left {left}, right {right} high", shape=kind, left=length(left), right=length(right)
        )
    if pane.shape == "polygon":
        corners = "; ".join(
            f"{page.fmt.number(number)}: {length(x, unit=False)}\u00a0×\u00a0{length(y, unit=False)}"
            for number, (x, y) in enumerate(points, start=1)
        )
        unit = "in" if page.fmt.units == "us" else "mm"
        return words(
            "{shape}, corners across × up [{unit}]: {corners}", shape=kind, unit=unit, corners=corners
        )
    return kind


def _upright(one: Shaped, at: float) -> float:
    """Return how high a pane's upright side is at an edge of its box [mm]."""
    return max((y for x, y in one.outline_mm if abs(x - at) < 1e-6 * one.pane.width_mm), default=0.0)
