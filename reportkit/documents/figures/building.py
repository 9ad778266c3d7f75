"""The client's building as one picture: every face from outside, every pane with its room and code.

Panes are to scale and darker where more of what was asked about comes in; those that get film have a heavy
outline. Not covered: which pane hangs beside which, which no survey says; panes stand room by room.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from reportkit.base.translatable import english
from reportkit.documents.blocks import Figure
from reportkit.documents.figures.canvas import FULL, Box, Canvas
from reportkit.documents.figures.elevation import (
    DARKEST,
    EDGE,
    LINE,
    Drawn,
    Row,
    drawn_once,
    fill_pane,
    gain_density,
    label_of,
    row_height,
    rows_of,
    short_name,
    slot_of,
)
from reportkit.documents.figures.facts import Wording, ink_on, named, plain_name, ramp, sentence
from reportkit.documents.language.formats import Formats
from reportkit.documents.layouts import style
from reportkit.documents.layouts.lettering import SIZE, SMALL, shortened, width_mm
from reportkit.findings.glass import Rated

if TYPE_CHECKING:
    from reportkit.findings.findings import Findings
    from reportkit.findings.glass import PaneFound

#: The tallest row and the whole picture at most [mm]; a smaller print of a pane is never drawn.
ROW, HIGH, LEAST = 30.0, 84.0, 5.0

#: A large building may fill a page [mm].
PAGE = 205.0

#: Room for a face's name over its panes, for rooms under them, and between faces side by side [mm].
NAME, UNDER, APART = 8.5, 7.0, 9.0


#: Room for codes over a further row of panes [mm].
OVER = 4.0


@dataclass(frozen=True)
class Measure:
    """What panes are colored by: its value for a pane, how it is written, and what darker means."""

    value: Callable[[Findings, PaneFound], float]
    write: Callable[[Formats, float, float], str]
    means: str


def _sun_hours(findings: Findings, pane: PaneFound) -> float:
    return sum(pane.direct_sun_hours) / 12


def _most_sun(findings: Findings, pane: PaneFound) -> float:
    return max(pane.direct_sun_hours)


def _shows(findings: Findings, pane: PaneFound) -> float:
    """Return the light that comes through the bare glass, which is what shows of a room."""
    return next(
        (
            entry.t_visible
            for entry in findings.glazings
            if isinstance(entry, Rated) and entry.id == pane.glazing and entry.film is None
        ),
        0.0,
    )


def _share(fmt: Formats, value: float, most: float) -> str:
    return fmt.percent(value / most) if most > 0 else ""


def _hours(fmt: Formats, value: float, most: float) -> str:
    return f"{fmt.number(value, 1)}\u00a0h"


#: By what is asked about first.
MEASURES: dict[str, Measure] = {
    "heat": Measure(
        lambda findings, pane: gain_density(pane),
        _share,
        english("Darker: more of the sun's heat at the worst hour, size for size, as a share of the most."),
    ),
    "glare": Measure(
        _most_sun,
        _hours,
        english("Darker: more hours a day with the sun itself on the glass, in its best month."),
    ),
    "fading": Measure(
        _sun_hours,
        _hours,
        english("Darker: more hours a day with the sun itself on the glass, over the year."),
    ),
    "privacy": Measure(
        _shows,
        lambda fmt, value, most: fmt.percent(value),
        english("Darker: more light comes through, so more of the room shows."),
    ),
}
MEASURES["bills"] = MEASURES["heat"]


@dataclass
class _Face:
    """One face laid out: its name, its rows of panes, their heights and how wide it all is [mm]."""

    name: str
    rows: list[Row]
    heights: list[float]
    width: float

    @property
    def height(self) -> float:
        """Height with names [mm]."""
        return NAME + sum(self.heights) + len(self.rows) * (UNDER + OVER) - OVER


def building(findings: Findings, fmt: Formats, words: Wording) -> Figure:
    """Return the picture.

    Parameters
    ----------
    findings
        What was found; reads the panes, the faces, the complaint and the names in the job.
    fmt
        The reader's numbers.
    words
        The reader's language.
    """
    measure = MEASURES[findings.job.complaint.kinds[0]]
    values = {pane.id: measure.value(findings, pane) for pane in findings.panes}
    most = max(values.values())
    count = sum(pane.quantity for pane in findings.panes)
    filmed = sum(pane.quantity for pane in findings.panes if pane.film)
    title = (
        words(
            "Your building from outside: film on {n} of {all} panes",
            n=fmt.number(filmed),
            all=fmt.number(count),
        )
        if filmed
        else words("Your building from outside: {n} panes", n=fmt.number(count))
    )
    told = "; ".join(
        words(
            "{pane} in {room}: {value}",
            pane=plain_name(pane.id),
            room=named(findings.job.rooms, pane.room),
            value=measure.write(fmt, values[pane.id], most)
            + (f" ×{fmt.number(pane.quantity)}" if pane.quantity > 1 else ""),
        )
        for pane in findings.panes
    )
    caption = words(measure.means)
    if filmed:
        caption += " " + words("Heavy outline: gets film as recommended.")
    return Figure(
        id="building",
        title=title,
        alt=words("Every pane by face and room. {means} {values}.", means=words(measure.means), values=told),
        svg=_svg(findings, values, most, measure, fmt),
        caption=caption,
    )


def _drawn(findings: Findings, face: str, values: dict[str, float]) -> list[Drawn]:
    own = [pane for pane in findings.panes if pane.face == face]
    rooms = list(dict.fromkeys(pane.room for pane in own))
    return drawn_once(
        findings,
        sorted(own, key=lambda pane: rooms.index(pane.room)),
        value=lambda pane: values[pane.id],
        marked=lambda pane: pane.film is not None,
    )


def _laid(faces: list[tuple[str, list[Drawn]]], scale: float, rooms: dict[str, str]) -> list[_Face]:
    laid = []
    for name, panes in faces:
        rows = rows_of(panes, scale, rooms)
        heights = [row_height(row, scale, floors=len(rows) == 1) for row in rows]
        # a name under the last panes may reach beyond them
        wide = max(
            max(row.right, row.rooms[-1][0] + min(width_mm(rooms[row.rooms[-1][2]], SMALL), 34.0))
            for row in rows
        )
        laid.append(_Face(name, rows, heights, max(wide + 1, min(width_mm(name, SIZE, bold=True), 60.0))))
    return laid


def _lines(laid: Sequence[_Face]) -> list[list[_Face]]:
    """Return the faces in lines, as many side by side as there is room for."""
    lines: list[list[_Face]] = []
    for face in laid:
        if lines and sum(one.width + APART for one in lines[-1]) + face.width <= FULL - 2 * EDGE:
            lines[-1].append(face)
        else:
            lines.append([face])
    for line in lines:
        if all(len(face.rows) == 1 for face in line):  # they stand on one ground
            high = max(face.heights[0] for face in line)
            for face in line:
                face.heights = [high]
    return lines


def _svg(findings: Findings, values: dict[str, float], most: float, measure: Measure, fmt: Formats) -> str:
    rooms = {room.id: named(findings.job.rooms, room.id) for room in findings.job.rooms}
    faces = [
        (sentence(named(findings.job.faces, face.id)), _drawn(findings, face.id, values))
        for face in findings.faces
    ]
    faces = [(name, panes) for name, panes in faces if panes]
    every = [pane for _, panes in faces for pane in panes]
    highest = HIGH if len(every) <= 60 else PAGE
    scale = ROW / max(pane.height + (pane.sill or 0.0) for pane in every)
    scale = min(scale, (FULL - 2 * EDGE - 1) / max(pane.width for pane in every))
    floor = LEAST / max(pane.height for pane in every)
    while True:
        lines = _lines(_laid(faces, scale, rooms))
        tall = sum(max(face.height for face in line) for line in lines)
        if tall <= highest or scale * 0.85 < floor:
            break
        scale *= 0.85
    if tall > highest and rooms != {"": ""}:
        rooms = {"": ""}
        faces = [(name, [replace(pane, room="") for pane in panes]) for name, panes in faces]
        lines = _lines(_laid(faces, scale, rooms))
        tall = sum(max(face.height for face in line) for line in lines)
    canvas = Canvas(FULL, tall + 0.5)
    top = 0.0
    for line in lines:
        left = EDGE
        for number, face in enumerate(line, start=1):
            wide = FULL - EDGE - left if number == len(line) else face.width + APART - 2
            _face(
                canvas,
                left,
                top,
                wide,
                face,
                scale,
                rooms,
                lambda pane: (pane.heat / most if most > 0 else 0.0, measure.write(fmt, pane.heat, most)),
            )
            left += face.width + APART
        top += max(face.height for face in line)
    return canvas.svg()


def _face(
    canvas: Canvas,
    left: float,
    top: float,
    wide: float,
    face: _Face,
    scale: float,
    rooms: dict[str, str],
    shown: Callable[[Drawn], tuple[float, str]],
) -> None:
    """Draw one face: its name as wide as there is room, its panes with their codes, the rooms under them."""
    canvas.text(left, top + 3.2, shortened(face.name, wide, SIZE, bold=True), bold=True)
    y = top + NAME
    for row, tall in zip(face.rows, face.heights, strict=True):
        ground = y + tall
        known = len(face.rows) == 1 and row.sills_known
        for place, pane in row.panes:
            foot = ground - (pane.sill or 0.0) * scale if known else ground
            slot = slot_of(pane, scale)
            x = left + place + (slot - pane.width * scale) / 2
            box = Box(x, foot - pane.height * scale, pane.width * scale, pane.height * scale)
            share, text = shown(pane)
            color = ramp(DARKEST * share)
            room_for = fill_pane(canvas, pane, box, color, 1.8 if pane.marked else 0.5)
            if width_mm(text, SMALL) <= room_for.width - 1.0 and room_for.height >= LINE:
                canvas.text(
                    room_for.x + room_for.width / 2,
                    room_for.y + room_for.height / 2,
                    text,
                    size=SMALL,
                    align="center",
                    middle=True,
                    color=ink_on(color),
                )
            name = short_name(label_of(pane), slot + 1.6)
            if name:
                canvas.text(
                    x + box.width / 2, box.y - 1.2, name, size=SMALL, align="center", bold=pane.marked
                )
        if known:
            canvas.line([(left, ground), (left + row.right, ground)], color=style.QUIET, width=0.8)
        for start, _, room in row.rooms:
            following = [other for other, _, _ in row.rooms if other > start]
            end = min(following, default=face.width) - (2.0 if following else 0.0)
            told = shortened(rooms[room], max(end - start, 0.0), SMALL)
            if len(told) > 1:
                canvas.text(left + start, ground + 4.2, told, size=SMALL, color=style.QUIET)
        y += tall + UNDER + OVER
