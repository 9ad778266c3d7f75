"""The client's own photo with film drawn on the glass: computed from what the film lets through and mirrors.

The pane in the photo is taken as bare. A shaped pane lies in its box as a plane seen from a point.
Not covered: what stands before the glass in the photo, such as a handle or a curtain on the eye's side.
"""

from __future__ import annotations

import io
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from reportkit.physics.glass import look

if TYPE_CHECKING:
    from PIL.Image import Image

    from reportkit.base.arrays import Array
    from reportkit.base.outline import Point

#: How many times finer than the photo the edge of the glass is drawn.
_FINER = 4
_QUALITY = 80


@dataclass(frozen=True)
class FilmedPane:
    """A pane in a photo, and how it is to look.

    Parameters
    ----------
    edge
        Its edge, across and down as shares of the photo [1].
    bare, filmed
        Its look in the photo, and with film.
    beyond, near
        Luminance of the far side and of the eye's [cd/m2].
    scatters
        Whether the film blurs: what is seen through it becomes one even light.
    """

    edge: Sequence[Point]
    bare: look.Pane
    filmed: look.Pane
    beyond: float
    near: float
    scatters: bool = False


def filmed_photo(content: bytes, panes: Sequence[FilmedPane]) -> bytes:
    """Return a photo with film on some of its panes, as JPEG.

    Parameters
    ----------
    content
        A JPEG or PNG in sRGB.
    panes
        The panes that get film.
    """
    from PIL import Image

    with Image.open(io.BytesIO(content)) as opened:
        image = opened.convert("RGB")
    light = look.decoded(np.asarray(image, dtype=float) / 255.0, 1.0)
    for pane in panes:
        covered = _covered(image, pane.edge)
        inside = covered > 0
        if not inside.any():
            continue
        seen = light[inside]
        shown = np.broadcast_to(seen.mean(axis=0), seen.shape) if pane.scatters else seen
        film = look.other_pane(shown, pane.bare, pane.filmed, beyond=pane.beyond, near=pane.near)
        part = covered[inside][:, None]
        light[inside] = seen * (1.0 - part) + film * part
    drawn = Image.fromarray(np.rint(look.encoded(light, 1.0) * 255.0).astype(np.uint8))
    out = io.BytesIO()
    drawn.save(out, "JPEG", quality=_QUALITY, optimize=True)
    return out.getvalue()


def _covered(image: Image, edge: Sequence[Point]) -> Array:
    """Return the share of each pixel that lies within an edge [1]."""
    from PIL import Image, ImageDraw

    wide, high = image.size
    fine = Image.new("L", (wide * _FINER, high * _FINER), 0)
    ImageDraw.Draw(fine).polygon([(x * wide * _FINER, y * high * _FINER) for x, y in edge], fill=255)
    small = fine.resize((wide, high), Image.Resampling.BOX)
    share: Array = np.asarray(small, dtype=float) / 255.0
    return share


def placed(corners: Sequence[Point], outline: Sequence[Point]) -> list[Point]:
    """Return an outline in the unit square where its square lies in a photo.

    Parameters
    ----------
    corners
        The square's four corners in the photo, from its upper left clockwise [1].
    outline
        Points in the square, x to the right and y downwards [1].

    Returns
    -------
    list
        The points in the photo: the plane through four corners as it is seen from a point (Heckbert 1989).
    """
    (x0, y0), (x1, y1), (x2, y2), (x3, y3) = corners
    dx, dy = (x0 - x1 + x2 - x3), (y0 - y1 + y2 - y3)
    ax, ay, bx, by = x1 - x2, y1 - y2, x3 - x2, y3 - y2
    under = ax * by - bx * ay
    g, h = (dx * by - bx * dy) / under, (ax * dy - dx * ay) / under
    made = []
    for u, v in outline:
        depth = g * u + h * v + 1.0
        x = (x1 - x0 + g * x1) * u + (x3 - x0 + h * x3) * v + x0
        y = (y1 - y0 + g * y1) * u + (y3 - y0 + h * y3) * v + y0
        made.append((x / depth, y / depth))
    return made
