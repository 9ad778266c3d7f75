"""The cut plan to scale: rolls cut into strips and strips into pieces, with positions along the roll.

A roll is unrolled to the right and continues in the next row, broken only where a crosscut falls. Pieces
are white, what is cut off is hatched, so the picture survives a black-and-white printer. What stays on the
roll is told, not drawn. Positions count from the outer end of the roll.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from reportkit.base.translatable import english
from reportkit.documents.blocks import Figure
from reportkit.documents.figures.canvas import FULL, Box, Canvas
from reportkit.documents.figures.facts import Wording, plain_name
from reportkit.documents.figures.roll_labels import (
    label_for,
    marks_of,
    piece_name,
    seam_text,
    size_text,
    write_label,
)
from reportkit.documents.language.formats import Formats
from reportkit.documents.layouts import style
from reportkit.documents.layouts.lettering import SMALL, shortened, width_mm

if TYPE_CHECKING:
    from reportkit.findings.cutting import CutPlanFound, PlacedPiece, RollFound, StripFound
    from reportkit.findings.findings import Findings

MOST_PIECES, TALLEST = 40, 200.0
#: How the cut plan marks a roll that is there already.
SHELF = "shelf"
LEFT, RIGHT, HEAD, FOOT = 1.0, 1.0, 5.6, 8.6

#: Lengths of roll that a row of the picture may show [mm].
ROWS = (9000, 8000, 7000, 6000, 5000, 4000, 3000, 2500, 2000, 1500)

#: Shares of the kinds of piece that must hold their whole label, and at least their name.
WHOLE, NAMED = 0.7, 0.9

#: A rest shorter than this is not told [mm].
LEAST_LEFT = 50.0

#: Widest a roll is drawn [mm].
ACROSS = 92.0


@dataclass
class _Row:
    """Part of a roll that is drawn in one row: the roll, its number and film, strips, and start [mm]."""

    roll: RollFound
    number: int
    film: str
    start: float
    strips: list[StripFound] = field(default_factory=list)
    last: bool = False

    @property
    def length(self) -> float:
        """Length of roll shown [mm]."""
        return sum(strip.length_mm for strip in self.strips)

    @property
    def pieces(self) -> int:
        """How many pieces are in it."""
        return sum(len(strip.pieces) for strip in self.strips)


def roll_layout(findings: Findings, fmt: Formats, words: Wording) -> list[Figure]:
    """Return the cut plan of a job, some forty pieces a picture; nothing where nothing is cut.

    Parameters
    ----------
    findings
        Findings of a job; reads ``cutting`` and the films in ``job``.
    fmt
        The reader's numbers.
    words
        The reader's language.
    """
    if findings.cutting is None:
        return []
    names = {film.id: plain_name(film.name) or film.id for film in findings.job.films}
    return cut_plan(findings.cutting, names, fmt, words)


def cut_plan(plan: CutPlanFound, films: Mapping[str, str], fmt: Formats, words: Wording) -> list[Figure]:
    """Return a cut plan by itself, some forty pieces a picture.

    Parameters
    ----------
    plan
        The plan.
    films
        The films' names by their ids; empty where the rolls name no film.
    fmt
        The reader's numbers.
    words
        The reader's language.
    """
    rolls = plan.rolls
    shown = _row_length(rolls, fmt, words)
    rows = [
        row
        for number, roll in enumerate(rolls, start=1)
        for row in _rows(number, roll, films.get(roll.film, roll.film), shown)
    ]
    if not rows:
        return []
    scale = (FULL - LEFT - RIGHT) / max(shown, *(row.length for row in rows))
    pages = _paged(rows, scale)
    return [_figure(plan, number, len(pages), part, scale, fmt, words) for number, part in enumerate(pages)]


def _rows(number: int, roll: RollFound, film: str, shown: float) -> list[_Row]:
    rows: list[_Row] = []
    for strip in roll.strips:
        if not rows or rows[-1].length + strip.length_mm > shown + 1e-6:
            rows.append(_Row(roll, number, film, strip.y_mm))
        rows[-1].strips.append(strip)
    if rows:
        rows[-1].last = True
    return rows


def _row_length(rolls: Sequence[RollFound], fmt: Formats, words: Wording) -> float:
    """Return the length of roll in a row: as long as nearly all pieces still hold their labels [mm]."""
    strips = [strip for roll in rolls for strip in roll.strips]
    if not strips:
        return float(ROWS[0])
    longest = max(strip.length_mm for strip in strips)
    widest = max(roll.width_mm for roll in rolls if roll.strips)
    most = max(_used(roll) for roll in rolls)
    # a row need not be longer than what is cut, nor may a roll be drawn wider than a hand
    least = max(longest, widest * (FULL - LEFT - RIGHT) / ACROSS)
    kinds = {
        (piece.pane, piece.width_mm, piece.length_mm): piece for strip in strips for piece in strip.pieces
    }
    chosen = max(least, 1000.0)
    for length in (*ROWS, chosen):
        if length < least and length != chosen:
            continue
        scale = (FULL - LEFT - RIGHT) / length
        fits = [
            label_for(piece, piece.length_mm * scale, piece.width_mm * scale, fmt, words).fits
            for piece in kinds.values()
        ]
        named = len(fits) - fits.count("none")
        if fits.count("whole") >= WHOLE * len(fits) and named >= NAMED * len(fits):
            chosen = length
            break
    return max(least, min(chosen, max(most, least)))


def _used(roll: RollFound) -> float:
    return sum(strip.length_mm for strip in roll.strips)


def _paged(rows: list[_Row], scale: float) -> list[list[_Row]]:
    """Share rows out over pictures by number of pieces and height."""
    pages: list[list[_Row]] = [[]]
    pieces, tall = 0, 0.0
    for row in rows:
        high = row.roll.width_mm * scale + HEAD + FOOT
        if pages[-1] and (pieces + row.pieces > MOST_PIECES or tall + high > TALLEST):
            pages.append([])
            pieces, tall = 0, 0.0
        pages[-1].append(row)
        pieces += row.pieces
        tall += high
    return pages


def _figure(
    plan: CutPlanFound, number: int, count: int, rows: list[_Row], scale: float, fmt: Formats, words: Wording
) -> Figure:
    svg, keyed = _svg(rows, scale, fmt, words)
    drawn = [piece for row in rows for strip in row.strips for piece in strip.pieces]
    seamed, turned = any(piece.seam for piece in drawn), any(piece.turned for piece in drawn)
    return Figure(
        id=f"roll-layout-{number + 1}",
        title=_title(plan, number, count, rows, fmt, words),
        alt=words(
            "Cut plan to scale. {rows}",
            rows=" ".join(_told(row, fmt, words) for row in rows),
        ),
        svg=svg,
        plotly=None,
        caption=" ".join(
            [
                words("White: pieces, named by pane, width × height of the piece as it goes on the glass."),
                words("Hatched: cut off. Under the roll: where to cut across, from its outer end."),
                *([words("Black corner: turned, the height lies across the roll.")] if turned else []),
                *([words("Thick dashes: the edge that meets the next part at a seam.")] if seamed else []),
                *([words("Pieces too small to hold their size: {pieces}.", pieces=keyed)] if keyed else []),
            ]
        ),
    )


def _title(
    plan: CutPlanFound, number: int, count: int, rows: list[_Row], fmt: Formats, words: Wording
) -> str:
    if count == 1:
        opened = [roll for roll in plan.rolls if roll.strips]
        pieces = sum(row.pieces for row in rows)
        used = sum(_used(roll) for roll in opened)
        amounts = {
            "pieces": fmt.number(pieces),
            "rolls": fmt.number(len(opened)),
            "used": fmt.distance_m(used / 1000),
            "waste": fmt.percent(plan.lost_fraction),
        }
        if any(roll.label == SHELF for roll in opened):  # what is left there is no waste
            return words("{pieces} pieces, {used} pulled off {rolls} rolls", **amounts)
        if len(opened) == 1:
            if pieces == 1:
                return words(
                    "One piece from one roll: {used} pulled, {waste} of the film bought is waste", **amounts
                )
            return words(
                "{pieces} pieces from one roll: {used} pulled, {waste} of the film bought is waste", **amounts
            )
        return words(
            "{pieces} pieces from {rolls} rolls: {used} pulled, {waste} of the film bought is waste",
            **amounts,
        )
    first, last = rows[0], rows[-1]
    amounts = {
        "sheet": fmt.number(number + 1),
        "sheets": fmt.number(count),
        "pieces": fmt.number(sum(row.pieces for row in rows)),
        "roll": fmt.number(first.number),
        "last": fmt.number(last.number),
        "start": fmt.distance_m(first.start / 1000, 2),
        "end": fmt.distance_m((last.start + last.length) / 1000, 2),
    }
    if first.number == last.number:
        return words(
            "Cut plan {sheet} of {sheets}: {pieces} pieces from roll {roll}, {start} to {end}", **amounts
        )
    return words("Cut plan {sheet} of {sheets}: {pieces} pieces from rolls {roll} to {last}", **amounts)


def _told(row: _Row, fmt: Formats, words: Wording) -> str:
    """Return one row of the drawing in words."""
    strips = "; ".join(
        words(
            "at {position}: {pieces}",
            position=fmt.length_mm(strip.y_mm),
            pieces=", ".join(
                f"{piece_name(piece, words)} {size_text(piece, fmt)}"
                + (f" {words('turned')}" if piece.turned else "")
                + (f" {seam_text(piece.seam, fmt, words)}" if piece.seam else "")
                for piece in strip.pieces
            ),
        )
        for strip in row.strips
    )
    return words(
        english("Roll {roll}, {film}, {width} wide: {strips}.")
        if row.film
        else english("Roll {roll}, {width} wide: {strips}."),
        roll=fmt.number(row.number),
        film=row.film,
        width=fmt.length_mm(row.roll.width_mm),
        strips=strips,
    )


def _heading(row: _Row, fmt: Formats, words: Wording) -> str:
    roll, number = row.roll, fmt.number(row.number)
    if row.start > 0:
        return words("roll {roll}, continued", roll=number)
    told = words(
        english("roll {roll}, from the shelf: {width} wide, pull {used}")
        if roll.label == SHELF
        else english("roll {roll}: {width} wide, pull {used}"),
        roll=number,
        width=fmt.length_mm(roll.width_mm),
        used=fmt.distance_m(_used(roll) / 1000),
    )
    if roll.left_mm >= LEAST_LEFT:
        told = words("{told}, {left} stays on it", told=told, left=fmt.distance_m(roll.left_mm / 1000))
    room = FULL - LEFT - RIGHT - width_mm(told, bold=True) - 4
    return f"{told} · {shortened(row.film, room, bold=True)}" if row.film and room > 12 else told


def _svg(rows: list[_Row], scale: float, fmt: Formats, words: Wording) -> tuple[str, str]:
    """Return the drawing, and what the numbered pieces in it are."""
    heights = [row.roll.width_mm * scale for row in rows]
    canvas = Canvas(FULL, sum(heights) + (HEAD + FOOT) * len(rows) + 0.5)
    y = HEAD
    keyed: dict[str, str] = {}
    for row, tall in zip(rows, heights, strict=True):
        canvas.text(LEFT, y - 1.8, _heading(row, fmt, words), bold=True)
        strip_boxes = []
        x = LEFT
        for strip in row.strips:
            strip_boxes.append(Box(x, y, strip.length_mm * scale, tall))
            x += strip.length_mm * scale
        canvas.rects(strip_boxes, fill="#eceff2", hatch=style.OFF_CUT.hatch, hatch_color="#9aa3ae")
        pieces = [
            (piece, _placed(box, piece, scale))
            for strip, box in zip(row.strips, strip_boxes, strict=True)
            for piece in strip.pieces
        ]
        canvas.rects([box for _, box in pieces], fill=style.PAPER, edge=style.INK, line=0.8)
        for piece, box in pieces:
            _piece(canvas, piece, box, keyed, fmt, words)
        for box in strip_boxes:
            canvas.rects([box], edge=style.INK, line=1.4)
        if row.last and row.roll.left_mm >= LEAST_LEFT:
            _rest(canvas, x, y, tall)
        _positions(canvas, row, y + tall, scale, fmt)
        y += tall + HEAD + FOOT
    told = "; ".join(
        f"{key} = {entry}" if key.isdigit() and not entry.startswith(f"{key} ") else entry
        for entry, key in keyed.items()
    )
    return canvas.svg(), told


def _placed(strip: Box, piece: PlacedPiece, scale: float) -> Box:
    return Box(
        strip.x + piece.y_mm * scale,
        strip.y + piece.x_mm * scale,
        piece.length_mm * scale,
        piece.width_mm * scale,
    )


def _piece(
    canvas: Canvas, piece: PlacedPiece, box: Box, keyed: dict[str, str], fmt: Formats, words: Wording
) -> None:
    """Write a piece's label in it, mark its turn by a corner and its seam by a thick dashed edge."""
    if piece.turned:
        corner = min(3.0, box.width / 5, box.height / 5)
        canvas.polygons([[(box.x, box.y), (box.x + corner, box.y), (box.x, box.y + corner)]], fill=style.INK)
    if piece.seam:
        # the left edge of the pane is the side that lies at the roll's edge x = 0, or first if turned
        if piece.turned:
            sides = [[(box.x, box.y), (box.x, box.bottom)], [(box.right, box.y), (box.right, box.bottom)]]
        else:
            sides = [[(box.x, box.y), (box.right, box.y)], [(box.x, box.bottom), (box.right, box.bottom)]]
        needs = (piece.seam.part > 1, piece.seam.part < piece.seam.parts)
        for needed, side in zip(needs, sides, strict=True):
            if needed:
                canvas.line(side, width=2.6, dash=(0, (2, 1)))
    label = label_for(piece, box.width, box.height, fmt, words)
    lines = label.lines
    if label.fits != "whole":
        told = " ".join([size_text(piece, fmt), *marks_of(piece, fmt, words)])
        entry = f"{piece_name(piece, words)} {told}"
        if entry not in keyed:
            numbers = sum(key.isdigit() for key in keyed.values())
            keyed[entry] = piece_name(piece, words) if label.fits == "name" else str(numbers + 1)
        if label.fits == "none":
            lines = (keyed[entry],)
    write_label(canvas, box, lines, label)


def _rest(canvas: Canvas, x: float, y: float, tall: float) -> None:
    """Show by a torn edge that the roll goes on."""
    room = FULL - RIGHT - x
    if room < 3:
        return
    end = x + min(room, 9.0)
    teeth = max(int(tall / 4), 2)
    torn = [(end - (1.6 if n % 2 else 0.0), y + tall * n / teeth) for n in range(teeth + 1)]
    canvas.line([(x, y), *torn, (x, y + tall)], color=style.QUIET, width=0.7)


def _positions(canvas: Canvas, row: _Row, y: float, scale: float, fmt: Formats) -> None:
    """Write under each crosscut how far it is from the roll's outer end, in two lines where close."""
    marks = [(row.start, LEFT)]
    x = LEFT
    for strip in row.strips:
        x += strip.length_mm * scale
        marks.append((strip.y_mm + strip.length_mm, x))
    ends = [-1e9, -1e9]
    placed = []
    for position, place in marks:
        text = fmt.length_mm(position)
        wide = width_mm(text, SMALL)
        left = min(max(place - wide / 2, LEFT), FULL - RIGHT - wide)
        level = next((number for number in (0, 1) if left > ends[number] + 1.2), None)
        canvas.line([(place, y), (place, y + (4.4 if level == 1 else 1.2))], width=0.7)
        if level is not None:
            placed.append((left, y + 4.0 + 3.2 * level, text))
            ends[level] = left + wide
    # over the ticks that lead to the second line
    for left, line, text in placed:
        canvas.text(left, line, text, size=SMALL, backed=style.PAPER)
