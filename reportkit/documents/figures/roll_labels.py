"""What is written in a piece of the cut plan: name, size and marks, in the largest letters it holds."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from reportkit.documents.figures.canvas import Box, Canvas
from reportkit.documents.figures.facts import Wording, plain_name
from reportkit.documents.language.formats import Formats
from reportkit.documents.layouts.lettering import POINT, SIZE, SMALL, width_mm

if TYPE_CHECKING:
    from reportkit.findings.cutting import PlacedPiece, SeamPart

#: Sizes of a piece's name [pt]; the largest that fits is taken, to be read at arm's length.
NAMES = (13.0, 11.0, SIZE)

#: Ends the id of a spare piece.
SPARE = " spare"


def size_text(piece: PlacedPiece, fmt: Formats) -> str:
    """Return the size of a piece as width by height of its pane."""
    width, length = piece.width_mm, piece.length_mm
    return fmt.size_mm(*((length, width) if piece.turned else (width, length)))


@dataclass(frozen=True)
class Label:
    """What is written in a piece: how much of it fits (whole, name, none), lines, size [pt], direction."""

    fits: str
    lines: tuple[str, ...]
    size: float = SIZE
    upright: bool = False


def marks_of(piece: PlacedPiece, fmt: Formats, words: Wording) -> list[str]:
    """Return what is special about a piece, in words."""
    marks = [words("turned")] if piece.turned else []
    return [*marks, seam_text(piece.seam, fmt, words)] if piece.seam else marks


def label_for(piece: PlacedPiece, across: float, down: float, fmt: Formats, words: Wording) -> Label:
    """Return the fullest label that a piece of a printed size [mm] holds, in the largest letters."""
    name, size = piece_name(piece, words), size_text(piece, fmt)
    marks = marks_of(piece, fmt, words)
    first, _, rest = size.partition("\u00a0×\u00a0")
    mark = [", ".join(marks)] if marks else []
    whole = [[name, size, *mark], [name, f"{first}\u00a0×", rest, *marks], [" ".join([name, size, *marks])]]
    tries = [("whole", lines) for lines in whole] + [("name", [name, *mark]), ("name", [name])]
    for wanted in ("whole", "name"):
        for letters in NAMES:
            for upright in (False, True):
                wide, high = (down, across) if upright else (across, down)
                for fits, lines in tries:
                    if fits == wanted and _holds(lines, wide, high, letters):
                        return Label(fits, tuple(lines), letters, upright)
    return Label("none", ())


def piece_name(piece: PlacedPiece, words: Wording) -> str:
    """Return the pane a piece is for; of a spare piece also that it is one."""
    name = plain_name(piece.pane.removesuffix(SPARE))
    return words("{pane} spare", pane=name) if piece.pane.endswith(SPARE) else name


def _line_sizes(count: int, letters: float) -> list[float]:
    """Return the size of each line of a label: the name large, the rest smaller."""
    return [letters] + [max(SMALL, letters * 0.82)] * (count - 1)


def _holds(lines: list[str], wide: float, high: float, letters: float) -> bool:
    sizes = _line_sizes(len(lines), letters)
    widest = max(
        width_mm(line, size, bold=n == 0) for n, (line, size) in enumerate(zip(lines, sizes, strict=True))
    )
    return widest <= wide - 1.4 and sum(sizes) * 1.15 * POINT <= high - 0.6


def write_label(canvas: Canvas, box: Box, lines: tuple[str, ...], label: Label) -> None:
    """Write a label in the middle of a piece."""
    sizes = _line_sizes(len(lines), label.size)
    place = -sum(sizes) * 1.15 * POINT / 2
    x, y = box.x + box.width / 2, box.y + box.height / 2
    for number, (line, size) in enumerate(zip(lines, sizes, strict=True)):
        shift = place + size * 1.15 * POINT / 2
        look: dict[str, Any] = {"size": size, "bold": number == 0, "align": "center", "middle": True}
        if label.upright:
            canvas.text(x + shift, y, line, upright=True, **look)
        else:
            canvas.text(x, y + shift, line, **look)
        place += size * 1.15 * POINT


def seam_text(seam: SeamPart, fmt: Formats, words: Wording) -> str:
    """Return in words which part of a seamed pane a piece is."""
    return words("part {part} of {parts}", part=fmt.number(seam.part), parts=fmt.number(seam.parts))
