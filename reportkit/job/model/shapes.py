"""The shape of a pane that is no rectangle: a word with the lengths it needs, in the box that is measured.

Left and right are as seen from outside, lengths count from the box's lower left corner.
"""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Annotated, Any, Literal

from pydantic import AfterValidator, BeforeValidator, ValidationInfo, WithJsonSchema

from reportkit.base import outline
from reportkit.base.translatable import translatable
from reportkit.base.units import length_told
from reportkit.job.model.about import about
from reportkit.job.model.typed import Length, Record, between, broken, plain_length

Kind = Literal["arch", "half_round", "circle", "oval", "triangle", "trapezoid", "polygon"]

#: The longest a length of a shape may be [mm].
_LONGEST = 6_000

#: What is typed for each kind, and how many lengths it takes; a polygon's come in pairs.
SAMPLES: dict[Kind, str] = {
    "arch": "arch 300 mm",
    "half_round": "half round",
    "circle": "circle",
    "oval": "oval",
    "triangle": "triangle 450 mm",
    "trapezoid": "trapezoid 900 & 1200",
    "polygon": "polygon 0 x 0 & 1200 x 0 & 900 x 800",
}
_LENGTHS: dict[Kind, int] = {
    "arch": 1,
    "half_round": 0,
    "circle": 0,
    "oval": 0,
    "triangle": 1,
    "trapezoid": 2,
}

#: What the lengths of a kind are.
_NEEDS: dict[Kind, str] = {
    "arch": translatable("one length, its rise above the upright sides"),
    "triangle": translatable("one length, from the left edge to the tip above"),
    "trapezoid": translatable("two lengths with & between, its upright sides from left to right"),
    "polygon": translatable(
        "three to forty corners with & between, each across x up from the lower left corner"
    ),
}
_WORD = re.compile(r"(half[ _-]round|[a-z]+)\b\s*(.*)", re.IGNORECASE | re.DOTALL)
_MOST_CORNERS = 40


#: A length of a shape; a corner may lie at 0.
ShapeLength = Annotated[Length, AfterValidator(between(0, _LONGEST))]


class Shape(Record):
    """A kind of shape with its lengths [mm]; those of a polygon are x and y of each corner in turn."""

    kind: Annotated[Kind, about("the word of the shape", "arch")]
    lengths: Annotated[tuple[ShapeLength, ...], about("the lengths behind it, in their order", "300 mm")] = ()

    @property
    def corners(self) -> tuple[outline.Point, ...]:
        """The corners of a polygon as typed [mm]."""
        values = [float(length) for length in self.lengths]
        return tuple(zip(values[::2], values[1::2], strict=True))

    def outline(self, width: Fraction, height: Fraction) -> outline.Outline:
        """Return the outline in a box [mm]; corners typed are stretched to the box as it is measured."""
        wide, high = float(width), float(height)
        lengths = [float(length) for length in self.lengths]
        if self.kind in ("circle", "oval"):
            return outline.oval(wide, high)
        if self.kind in ("arch", "half_round"):
            return outline.arched(wide, high, lengths[0] if lengths else high)
        if self.kind == "triangle":
            corners: tuple[outline.Point, ...] = ((0.0, 0.0), (wide, 0.0), (min(lengths[0], wide), high))
        elif self.kind == "trapezoid":
            left, right = (high if length == max(lengths) else length for length in lengths)
            corners = ((0.0, 0.0), (wide, 0.0), (wide, right), (0.0, left))
        else:
            corners = _stretched(self.corners, wide, high)
        return outline.polygon(tuple(dict.fromkeys(corners)))


def _stretched(corners: tuple[outline.Point, ...], width: float, height: float) -> tuple[outline.Point, ...]:
    left, foot = (min(values) for values in zip(*corners, strict=True))
    right, head = (max(values) for values in zip(*corners, strict=True))
    return tuple(
        ((x - left) * width / (right - left), (y - foot) * height / (head - foot)) for x, y in corners
    )


def plain_shape(value: Any, info: ValidationInfo) -> Any:
    """Return the shape that a text such as ``arch 300 mm`` tells; None for a rectangle."""
    if value is None or isinstance(value, Shape):
        return value
    match = _WORD.fullmatch(str(value).strip())
    word = re.sub(r"[ -]", "_", match[1].lower()) if match else ""
    if match and word == "rectangle" and not match[2]:
        return None
    kind = next((kind for kind in SAMPLES if kind == word), None)
    if match is None or kind is None:
        words = ", ".join(name.replace("_", " ") for name in SAMPLES)
        raise broken(
            translatable("must be rectangle or one of {words}", words=words),
            hint=translatable("empty means rectangle"),
        )
    texts = [part.strip() for part in match[2].split("&")] if match[2] else []
    hint = translatable("such as {example}", example=SAMPLES[kind])
    if kind == "polygon":
        pairs = [re.split(r"\s*[x×]\s*", text, flags=re.IGNORECASE) for text in texts]
        right = 3 <= len(pairs) <= _MOST_CORNERS and all(len(pair) == 2 and all(pair) for pair in pairs)
        texts = [text for pair in pairs for text in pair]
    else:
        right = len(texts) == _LENGTHS[kind] and all(texts)
    if not right:
        needed = _NEEDS.get(kind)
        rule = (
            translatable("must name behind {kind} {needed}", kind=kind, needed=needed)
            if needed
            else translatable("must be {word} alone", word=kind.replace("_", " "))
        )
        raise broken(rule, hint=hint)
    lengths = tuple(plain_length(text, info) for text in texts)
    if any(length > _LONGEST for length in lengths):
        raise broken(
            translatable("must have no length over {length}", length=length_told(_LONGEST)), hint=hint
        )
    if kind == "arch" and lengths[0] <= 0:
        raise broken(
            translatable("must have a rise over 0"),
            hint=translatable("an arch without rise is a rectangle: leave it empty"),
        )
    return Shape(kind=kind, lengths=lengths)


#: The shape of a pane; None for a rectangle.
ShapeTyped = Annotated[
    Shape | None,
    BeforeValidator(plain_shape),
    WithJsonSchema({"type": "string", "description": "a word with its lengths: arch 300 mm"}),
]
