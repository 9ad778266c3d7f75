"""Each face seen from outside, its panes to scale, darker where more heat comes in at the worst hour.

The number in a pane is the heat through a square metre of its bare glass [W/m2]. Panes stand at the height
of their sill where all sills of a row are known, else on one line; which pane hangs beside which is not
surveyed, so panes stand in the order of the survey, room by room.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from reportkit.base.outline import Outline, polygon
from reportkit.documents.blocks import Figure
from reportkit.documents.figures.canvas import FULL, Box, Canvas
from reportkit.documents.figures.facts import (
    Wording,
    ink_on,
    irradiance_shown,
    named,
    plain_name,
    ramp,
    sentence,
)
from reportkit.documents.language.formats import Formats
from reportkit.documents.layouts import style
from reportkit.documents.layouts.lettering import SIZE, SMALL, shortened, width_mm
from reportkit.job.model.singled import left_in_row

if TYPE_CHECKING:
    from reportkit.findings.findings import Findings
    from reportkit.findings.glass import PaneFound

#: Of more panes alike than this one is drawn, with how many it stands for: the first number with which a face
#: has no more than so many to draw.
ALIKE, MOST = (12, 6, 3), 16

#: Most rows that are drawn with the wall under the sills.
FLOORS = 2

#: Share of the color scale that the most heat gets, so that a dark frame still shows round it.
DARKEST = 0.85

#: Print of the narrowest panes, tallest row and tallest picture [mm].
NARROW, HIGHEST_ROW, TALLEST = 10.5, 52.0, 195.0
LEAST_ACROSS, EDGE, ROOM_GAP, BETWEEN = 2500.0, 1.0, 5.0, 11.5

#: Height of a line with a number in a pane [mm].
LINE = 3.6

#: Widest name over a pane and under a room that panes make way for [mm].
NAME, ROOM_NAME = 14.0, 34.0


@dataclass(frozen=True)
class Drawn:
    """One pane of the survey as drawn once: size, outline [mm], heat [W/m2], how many it stands for, mark."""

    id: str
    room: str
    width: float
    height: float
    sill: float | None
    heat: float
    stands_for: int
    marked: bool
    outline: Outline | None = None


def outline_of(pane: PaneFound) -> Outline | None:
    """Return the outline of a shaped pane [mm], None for a rectangle."""
    return polygon(pane.outline_mm) if pane.outline_mm else None


def gain_density(pane: PaneFound) -> float:
    """Return the heat at the worst hour through bare glass, per area [W/m2]."""
    return pane.peak_solar_w / (pane.area_m2 * pane.quantity)


def elevation(findings: Findings, fmt: Formats, words: Wording) -> list[Figure]:
    """Return one picture for each face that has panes.

    Parameters
    ----------
    findings
        What was found; reads the panes, the faces, the worst hour and the names in the job.
    fmt
        The reader's numbers.
    words
        The reader's language.
    """
    most = max(gain_density(pane) for pane in findings.panes)
    made: list[Figure] = []
    for face in findings.faces:
        own = [pane for pane in findings.panes if pane.face == face.id]
        if own:
            made.append(_figure(findings, face.id, own, most, len(made), fmt, words))
    return made


def _figure(
    findings: Findings,
    face: str,
    panes: Sequence[PaneFound],
    most: float,
    number: int,
    fmt: Formats,
    words: Wording,
) -> Figure:
    name = sentence(named(findings.job.faces, face))
    time = fmt.clock(findings.bad_day.time)
    heats = [gain_density(pane) for pane in panes]
    highest, lowest = max(heats), min(heats)
    first = panes[heats.index(highest)]
    amounts = {
        "face": name,
        "time": time,
        "most": fmt.irradiance(highest),
        "least": fmt.irradiance(lowest),
        "pane": plain_name(first.id),
    }
    if round(highest) <= 0:
        title = words("{face}: no sun heat comes in at {time}", **amounts)
    elif amounts["most"] == amounts["least"]:
        title = (
            words("{face}: {most} comes in at {time}", **amounts)
            if len(panes) == 1
            else words("{face}: {most} comes in through every pane at {time}", **amounts)
        )
    else:
        title = words(
            "{face}: pane {pane} lets in the most at {time}, {most}; the least is {least}", **amounts
        )
    values = "; ".join(
        f"{plain_name(pane.id)} {fmt.irradiance(heat)}"
        + (f" ×{fmt.number(pane.quantity)}" if pane.quantity > 1 else "")
        for pane, heat in zip(panes, heats, strict=True)
    )
    drawn = _panes(findings, panes, highest)
    return Figure(
        id=f"elevation-{number + 1}",
        title=title,
        alt=words(
            "The panes of {face} to scale with the heat through bare glass at {time}: {values}.",
            face=name,
            time=time,
            values=values,
        ),
        svg=_svg(findings, drawn, most, fmt, words),
        plotly=None,
        caption=words(
            "Seen from outside, panes to scale, room by room in the order of the survey. Heat from the sun "
            "through bare glass at {time}, in {unit}.",
            time=time,
            unit=irradiance_shown(fmt)[1],
        ),
    )


def drawn_once(
    findings: Findings,
    panes: Iterable[PaneFound],
    *,
    value: Callable[[PaneFound], float],
    marked: Callable[[PaneFound], bool],
) -> list[Drawn]:
    """Return a face's panes as they are drawn: many alike as one, and on a crowded face fewer.

    A pane singled out of a row stands at its place in it; those of a row drawn one by one have such names.
    """
    panes = list(panes)
    alike = next(
        (most for most in ALIKE if sum(1 if p.quantity > most else p.quantity for p in panes) <= MOST), 1
    )
    surveyed = {pane.id: pane for pane in findings.job.panes}
    drawn: list[Drawn] = []
    begun: dict[str, int] = {}
    for pane in panes:
        together = pane.quantity > alike
        own = surveyed[pane.id]
        sill = own.sill
        one = Drawn(
            plain_name(pane.id),
            pane.room,
            pane.width_mm,
            pane.height_mm,
            None if sill is None else float(sill),
            value(pane),
            pane.quantity if together else 1,
            marked(pane),
            outline_of(pane),
        )
        first = begun.setdefault(own.row, len(drawn))
        place = first + own.number - 1 if own.number else len(drawn)
        left = [] if together else left_in_row(own, findings.job.panes)
        drawn[place:place] = [replace(one, id=f"{one.id}.{number}") for number in left] or [one]
    return drawn


def _panes(findings: Findings, panes: Sequence[PaneFound], highest: float) -> list[Drawn]:
    return drawn_once(
        findings,
        panes,
        value=gain_density,
        marked=lambda pane: highest > 0 and gain_density(pane) >= highest * 0.9995,
    )


@dataclass
class Row:
    """Panes beside each other: their left edges on paper, and the room each group belongs to."""

    panes: list[tuple[float, Drawn]]
    rooms: list[tuple[float, float, str]]
    right: float = 0.0

    @property
    def sills_known(self) -> bool:
        """Whether every pane's height over the floor is known."""
        return all(pane.sill is not None for _, pane in self.panes)


def row_height(row: Row, scale: float, floors: bool) -> float:
    """Return how high a row is on paper, from the floor where sills are known [mm]."""
    sills = floors and row.sills_known
    return max(pane.height + ((pane.sill or 0.0) if sills else 0.0) for _, pane in row.panes) * scale


def _scale(panes: list[Drawn]) -> float:
    """Return millimetres on paper for one of the wall: panes wide enough for a number, rows not too high."""
    widths = sorted(pane.width for pane in panes)
    narrow = widths[len(widths) // 10]
    tallest = max(pane.height + (pane.sill or 0.0) for pane in panes)
    whole = sum(widths) + 150.0 * len(widths)
    by_width = (FULL - 2 * EDGE) / max(whole, LEAST_ACROSS)
    return min(max(NARROW / narrow, by_width), HIGHEST_ROW / tallest, (FULL - 2 * EDGE - 1) / widths[-1])


def label_of(pane: Drawn) -> str:
    """Return a pane's name, and how many it stands for."""
    return f"{pane.id} ×{pane.stands_for}" if pane.stands_for > 1 else pane.id


def slot_of(pane: Drawn, scale: float) -> float:
    """Return the room a pane takes on paper, its name over it included up to a width [mm]."""
    return max(pane.width * scale, min(width_mm(label_of(pane), SMALL, bold=True), NAME), 3.0)


def _room_width(rooms: Mapping[str, str], room: str) -> float:
    return width_mm(rooms[room], SMALL)


def rows_of(panes: list[Drawn], scale: float, rooms: Mapping[str, str]) -> list[Row]:
    """Return panes in rows of the paper's width, room by room."""
    gap = 2.2
    rows = [Row([], [])]
    for pane in panes:
        wide = slot_of(pane, scale)
        row = rows[-1]
        new_room = bool(row.panes) and row.panes[-1][1].room != pane.room
        left = row.right + (0 if not row.panes else ROOM_GAP if new_room else gap)
        if new_room:
            # the name of the room before fits under its panes
            left = max(left, row.rooms[-1][0] + min(_room_width(rooms, row.rooms[-1][2]), ROOM_NAME) + 3)
        if row.panes and left + wide > FULL - 2 * EDGE:
            row = Row([], [])
            rows.append(row)
            left, new_room = 0.0, False
        if not row.panes or new_room:
            row.rooms.append((left, left + wide, pane.room))
        else:
            start, _, room = row.rooms[-1]
            row.rooms[-1] = (start, left + wide, room)
        row.panes.append((left, pane))
        row.right = left + wide
    return rows


@dataclass(frozen=True)
class _Laid:
    """Rows of panes on paper: how high each is [mm], the scale [mm of paper a mm], whether on a floor."""

    rows: list[Row]
    heights: list[float]
    scale: float
    floors: bool

    @property
    def height(self) -> float:
        """Height of all rows with their names [mm]."""
        return sum(self.heights) + len(self.rows) * BETWEEN


def _laid(panes: list[Drawn], rooms: Mapping[str, str]) -> _Laid:
    scale = _scale(panes)
    rows = rows_of(panes, scale, rooms)
    floors = len(rows) <= FLOORS
    heights = [row_height(row, scale, floors) for row in rows]
    # too high a picture is drawn smaller, but never so small that no number fits a pane
    if sum(heights) + len(rows) * BETWEEN > TALLEST and len(rows) > 1:
        scale *= max((TALLEST - len(rows) * BETWEEN) / sum(heights), 0.45)
        rows = rows_of(panes, scale, rooms)
        heights = [row_height(row, scale, floors) for row in rows]
    return _Laid(rows, heights, scale, floors)


def _svg(findings: Findings, panes: list[Drawn], most: float, fmt: Formats, words: Wording) -> str:
    rooms = {pane.room: named(findings.job.rooms, pane.room) for pane in panes}
    panes = sorted(panes, key=lambda pane: list(rooms).index(pane.room))
    laid = _laid(panes, rooms)
    if laid.height > TALLEST + BETWEEN and len(rooms) > 1:
        # too many rooms to set them apart on one sheet
        rooms = {"": ""}
        laid = _laid([replace(pane, room="") for pane in panes], rooms)
    rows, heights, scale, floors = laid.rows, laid.heights, laid.scale, laid.floors
    canvas = Canvas(FULL, laid.height + 1.0)
    factor, _ = irradiance_shown(fmt)
    y = 5.0
    for row, tall in zip(rows, heights, strict=True):
        known = floors and row.sills_known
        ground = y + tall
        for left, pane in row.panes:
            foot = ground - (pane.sill or 0.0) * scale if known else ground
            slot = slot_of(pane, scale)
            inset = (slot - pane.width * scale) / 2
            box = Box(
                EDGE + left + inset, foot - pane.height * scale, pane.width * scale, pane.height * scale
            )
            _pane(canvas, box, slot, pane, most, factor, fmt)
        if known:
            canvas.line([(EDGE, ground), (EDGE + row.right, ground)], color=style.QUIET, width=0.8)
        for start, end, room in row.rooms:
            line = ground + 5.6
            if not known:
                canvas.line(
                    [(EDGE + start, line - 3.4), (EDGE + end, line - 3.4)], color=style.QUIET, width=0.5
                )
            following = [other for other, _, _ in row.rooms if other > start]
            room_end = min(following, default=FULL - EDGE) - (2.0 if following else 0.0)
            told = shortened(rooms[room], room_end - start, SMALL)
            if len(told) > 1:
                canvas.text(EDGE + start, line, told, size=SMALL, color=style.QUIET)
        y += tall + BETWEEN
    return canvas.svg()


def _pane(
    canvas: Canvas, box: Box, slot: float, pane: Drawn, most: float, factor: float, fmt: Formats
) -> None:
    """Draw one pane with its name over it and its number in it."""
    color = ramp(DARKEST * pane.heat / most if most > 0 else 0.0)
    line = 1.6 if pane.marked else 0.7
    room = fill_pane(canvas, pane, box, color, line)
    middle_x, middle_y = room.x + room.width / 2, room.y + room.height / 2
    value = fmt.number(pane.heat * factor)
    ink = ink_on(color)
    wide = width_mm(value, SIZE, bold=pane.marked)
    if wide <= room.width - 0.8 and room.height >= LINE:
        canvas.text(middle_x, middle_y, value, align="center", middle=True, bold=pane.marked, color=ink)
    elif room.height >= wide + 1 and room.width >= 3.2:
        # turned text is centered on its place along the pane
        canvas.text(
            middle_x, middle_y, value, align="center", middle=True, bold=pane.marked, color=ink, upright=True
        )
    name = short_name(label_of(pane), slot + 1.6)
    if name:
        canvas.text(box.x + box.width / 2, box.y - 1.3, name, size=SMALL, align="center", bold=pane.marked)


def fill_pane(canvas: Canvas, pane: Drawn, box: Box, color: str, line: float) -> Box:
    """Draw a pane in its shape; return the room for a line of text about its middle."""
    outline = pane.outline
    if outline is None:
        canvas.rects([box], fill=color, edge=style.INK, line=line)
        return box
    scale = box.width / pane.width
    x, y = outline.centroid
    half = LINE / 2 / scale
    ends = [outline.across_at(at, x) for at in (y - half, y + half)]
    left, right = max(end[0] for end in ends), min(end[1] for end in ends)
    room = Box(box.x + left * scale, box.bottom - (y + half) * scale, (right - left) * scale, LINE)
    shape = [(box.x + across * scale, box.bottom - up * scale) for across, up in outline.points]
    canvas.polygons([shape], fill=color, edge=style.INK, line=line)
    return room


def short_name(name: str, width: float) -> str:
    """Return a pane's name for a width: whole, else its number after an ellipsis, else its start."""
    if width_mm(name, SMALL, bold=True) <= width:
        return name
    tail = re.search(r"[^\W_]+$", name)
    if tail and width_mm("…" + tail.group(), SMALL, bold=True) <= width:
        return "…" + tail.group()
    cut = shortened(name, width, SMALL, bold=True)
    return cut if len(cut) > 1 and width_mm(cut, SMALL, bold=True) <= width else ""
