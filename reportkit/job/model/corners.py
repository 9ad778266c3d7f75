"""The corners of a pane in its photo, as shares of the photo's width and height."""

from __future__ import annotations

import re
from typing import Annotated, Any

from pydantic import BeforeValidator, Field, WithJsonSchema

from reportkit.base import outline
from reportkit.base.translatable import translatable
from reportkit.job.model.typed import broken, plain_number

SAMPLE = "12 x 8 & 60 x 8 & 60 x 90 & 12 x 90"

#: Corners of one pane; several alike on one photo follow one another.
FOUR = 4
_MOST = 10 * FOUR

#: The least a pane covers of its photo [1].
_LEAST = 0.001


def plain_corners(value: Any) -> Any:
    """Return corners (across, down), each 0 to 1, of a text such as ``SAMPLE`` in percent of the photo."""
    if not isinstance(value, str):
        return value
    pairs = [re.split(r"\s*[x×]\s*", part.strip(), flags=re.IGNORECASE) for part in value.split("&")]
    if len(pairs) % FOUR or len(pairs) > _MOST or any(len(pair) != 2 or not all(pair) for pair in pairs):
        rule = translatable(
            "must be four corners with & between them, each across x down in percent of the photo"
        )
        raise broken(
            rule,
            hint=translatable("such as {sample}; of several panes alike one after the other", sample=SAMPLE),
        )
    corners = [(float(plain_number(across)) / 100, float(plain_number(down)) / 100) for across, down in pairs]
    if any(not 0 <= share <= 1 for corner in corners for share in corner):
        raise broken(translatable("must lie in the photo, from 0 to 100 percent across and down"))
    for four in (corners[start : start + FOUR] for start in range(0, len(corners), FOUR)):
        if outline.crossing(four) or outline.polygon(four).area < _LEAST:
            raise broken(
                translatable("must go round each pane once"),
                hint=translatable("begin at the upper left and go clockwise"),
            )
    return tuple(corners)


PhotoCorners = Annotated[
    tuple[outline.Point, ...],
    BeforeValidator(plain_corners),
    Field(max_length=_MOST),
    WithJsonSchema({"type": "string", "description": f"corners in percent of the photo: {SAMPLE}"}),
]
