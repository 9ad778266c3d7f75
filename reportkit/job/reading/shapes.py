"""Rules for the shape of a pane: what it takes must agree with the box that is measured.

Tolerances are those of two readings of one side: common practice, no source.
"""

from __future__ import annotations

from reportkit.base.outline import crossing
from reportkit.base.translatable import english, translatable
from reportkit.base.units import length_told
from reportkit.job.model import Pane
from reportkit.job.model.shapes import Shape
from reportkit.job.reading.rules import READINGS_APART, Rules
from reportkit.job.reading.survey import Row

_WIDE, _HIGH = english("{length} wide"), english("{length} high")
_BOX = translatable("width and height are those of the box around the glass: measure again")


def check(rules: Rules, pane: Pane, row: Row) -> None:
    """Report a shape that does not go with the box measured, and diagonals of a pane that has none."""
    shape = pane.shape
    if shape is None:
        return
    if pane.diagonals:
        hint = translatable("diagonals are for rectangles")
        rules.in_survey(row, "diagonal_1", translatable("must be empty for a pane with a shape"), hint=hint)
    wrong = _wrong(shape, pane)
    if wrong:
        rule, hint = wrong
        rules.in_survey(row, "shape", rule, hint=hint)


def _wrong(shape: Shape, pane: Pane) -> tuple[str, str] | None:
    """Return what must hold of a shape in its box and does not, and how to mend it."""
    apart = READINGS_APART
    across, up = (float(pane.width), float(pane.widest)), (float(pane.height), float(pane.tallest))
    lengths = [float(length) for length in shape.lengths]
    wide, high = (
        translatable(_WIDE, length=length_told(across[0])),
        translatable(_HIGH, length=length_told(up[0])),
    )
    if shape.kind == "circle" and not _near(up[0], across, apart):
        return translatable(
            "must be as wide as high, not {wide} and {high}", wide=wide, high=high
        ), translatable("write oval, or measure again; {box}", box=_BOX)
    if shape.kind == "half_round" and not _near(2 * up[0], across, apart):
        return translatable(
            "must be twice as wide as high, not {wide} and {high}", wide=wide, high=high
        ), translatable("write arch with its rise")
    if shape.kind == "arch":
        if lengths[0] > up[1]:
            return translatable("must rise at most the height, {length}", length=length_told(up[1])), _BOX
        if lengths[0] > across[1] / 2 + apart / 2:
            hint = translatable("a steeper head is told as a polygon")
            return translatable(
                "must rise at most half the width, {length}", length=length_told(across[1] / 2)
            ), hint
    if shape.kind == "triangle" and lengths[0] > across[1] + apart:
        return translatable("must have its tip over the pane, {wide}", wide=wide), translatable(
            "a tip further out is told as a polygon"
        )
    if shape.kind == "trapezoid" and not _near(max(lengths), up, apart):
        return translatable("must have its taller side as high as the pane, {high}", high=high), _BOX
    if shape.kind == "polygon":
        return _wrong_polygon(shape, across, up)
    return None


def _wrong_polygon(
    shape: Shape, across: tuple[float, float], up: tuple[float, float]
) -> tuple[str, str] | None:
    corners = shape.corners
    if met := crossing(corners):
        first, second = (number + 1 for number in met)
        rule = translatable(
            "must have sides that do not cross: side {first} and side {second} do", first=first, second=second
        )
        return rule, translatable(
            "go round the pane once, each corner once; a side runs from its corner to the next"
        )
    for values, box, told in (
        ([x for x, _ in corners], across, _WIDE),
        ([y for _, y in corners], up, _HIGH),
    ):
        size = translatable(told, length=length_told(box[0]))
        if max(values) > box[1] + READINGS_APART:
            rule = translatable("must lie in its box, {size}", size=size)
            return rule, translatable(
                "a corner lies at {place}; {box}", place=length_told(max(values)), box=_BOX
            )
        if not (_near(max(values), box, READINGS_APART) and min(values) <= READINGS_APART):
            rule = translatable("must reach all sides of its box, {size}", size=size)
            return rule, translatable(
                "corners reach from {low} to {high}; {box}",
                low=length_told(min(values)),
                high=length_told(max(values)),
                box=_BOX,
            )
    return None


def _near(value: float, ends: tuple[float, float], apart: float) -> bool:
    """Return whether a length agrees with readings, smallest and largest, of what it should be."""
    return ends[0] - apart <= value <= ends[1] + apart
