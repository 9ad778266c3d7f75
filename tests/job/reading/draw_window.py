"""Draws the invented photo of a window that a demo job carries: ``python draw_window.py OUT.jpg``.

Nobody's window: a timber frame with two sashes, a tree and a hill behind the glass, a sill below.
"""

import sys
from pathlib import Path

from PIL import Image, ImageDraw, ImageFilter


def window(width: int = 640, height: int = 480) -> Image.Image:
    """Return the drawing."""
    picture = Image.new("RGB", (width, height), (203, 196, 184))  # wall
    draw = ImageDraw.Draw(picture)

    def box(left: float, top: float, right: float, bottom: float, color: tuple[int, int, int]) -> None:
        draw.rectangle((left * width, top * height, right * width, bottom * height), fill=color)

    box(0.10, 0.08, 0.90, 0.86, (104, 78, 54))  # frame
    box(0.06, 0.86, 0.94, 0.92, (132, 104, 76))  # sill
    for left, right in ((0.14, 0.48), (0.52, 0.86)):
        for row in range(90):  # sky, paler downwards
            top = 0.13 + 0.68 * row / 90
            box(left, top, right, top + 0.68 / 90, (150 + row // 2, 186 + row // 3, 222))
        x0, x1, y1 = left * width, right * width, 0.81 * height
        draw.polygon([(x0, y1), (x0, 0.62 * height), (x1, 0.52 * height), (x1, y1)], fill=(116, 138, 96))
    draw.rectangle((0.66 * width, 0.45 * height, 0.68 * width, 0.74 * height), fill=(86, 66, 48))
    draw.ellipse((0.58 * width, 0.24 * height, 0.77 * width, 0.54 * height), fill=(74, 104, 66))
    box(0.475, 0.08, 0.525, 0.86, (104, 78, 54))  # the middle post, before the view
    return picture.filter(ImageFilter.GaussianBlur(0.8))


if __name__ == "__main__":
    window().save(Path(sys.argv[1]), "JPEG", quality=60, optimize=True)
