"""Sun on each face by month and hour of the clock, as the mean irradiance of the face [W/m2].

One small map a face, darker for more, all on one scale. Does not cover what the glass lets through, nor
shade near a pane.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Literal

from reportkit.base.translatable import english
from reportkit.documents.blocks import Figure
from reportkit.documents.figures import interactive
from reportkit.documents.figures.canvas import FULL, Box, Canvas, ticks
from reportkit.documents.figures.facts import Wording, clock, irradiance_shown, named, ramp, sentence
from reportkit.documents.language.formats import Formats
from reportkit.documents.layouts import style
from reportkit.documents.layouts.lettering import SMALL, shortened, width_mm

if TYPE_CHECKING:
    from reportkit.findings.findings import Findings

#: Mean irradiance by month and hour of the day [W/m2].
Grid = tuple[tuple[float, ...], ...]

#: Below this mean irradiance an hour counts as dark [W/m2].
DARK = 1.0

LEFT, GAP, TOP, BOTTOM = 15.0, 6.0, 10.0, 17.0
TALLEST = 190.0


@dataclass(frozen=True)
class _Map:
    """One face: its name, its means, and where they are highest."""

    id: str
    name: str
    grid: Grid
    month: int
    hour: int
    peak: float


@dataclass(frozen=True)
class _Scale:
    """The scale of all maps in one system of units: its numbers, what W/m2 is multiplied with, the unit."""

    fmt: Formats
    factor: float
    unit: str
    steps: list[float]


def _scale(maps: list[_Map], fmt: Formats) -> _Scale:
    factor, unit = irradiance_shown(fmt)
    top = max(face.peak for face in maps) * factor
    return _Scale(fmt, factor, unit, ticks(0.0, top if top > DARK * factor else 1.0, 6))


def _maps(findings: Findings) -> list[_Map]:
    maps = []
    for face in findings.faces:
        grid = face.mean_by_month_and_hour_w_m2
        cells = [(value, -m, -h) for m, row in enumerate(grid) for h, value in enumerate(row)]
        peak, month, hour = max(cells)
        maps.append(_Map(face.id, named(findings.job.faces, face.id), grid, -month, -hour, peak))
    return maps


def _title(maps: list[_Map], fmt: Formats, words: Wording) -> str:
    best = max(maps, key=lambda face: face.peak)
    if best.peak < DARK:
        return words("No sun reaches these faces")
    irradiance = fmt.irradiance(best.peak)
    equal = [face for face in maps if fmt.irradiance(face.peak) == irradiance]
    when = {
        "irradiance": irradiance,
        "month": fmt.month(best.month + 1, short=False),
        "start": clock(fmt, best.hour),
        "end": clock(fmt, best.hour + 1),
    }
    if len(equal) == 1 or len(maps) == 1:
        return words(
            english("{face} gets its strongest sun in {month} from {start} to {end}: {irradiance} on average")
            if len(maps) == 1
            else english(
                "{face} gets the strongest sun, in {month} from {start} to {end}: {irradiance} on average"
            ),
            face=sentence(best.name),
            **when,
        )
    if len(equal) == 2:
        names = {"first": sentence(equal[0].name), "second": equal[1].name}
        return words(
            "{first} and {second} get equally strong sun, up to {irradiance} on average", **names, **when
        )
    return words(
        "{count} faces get equally strong sun, up to {irradiance} on average",
        count=fmt.number(len(equal)),
        **when,
    )


def sun_hours(findings: Findings, fmt: Formats, words: Wording) -> Figure:
    """Return the sun by month and hour on every face.

    Parameters
    ----------
    findings
        What a study found; reads ``faces`` and the names in ``job``.
    fmt
        The reader's numbers.
    words
        The reader's language.
    """
    maps = _maps(findings)
    lit = [hour for hour in range(24) if any(row[hour] >= DARK for face in maps for row in face.grid)]
    lit = lit or [6, 17]
    hours = range(lit[0], lit[-1] + 1)
    systems: tuple[Literal["us", "metric"], ...] = ("us", "metric") if fmt.units == "us" else ("metric", "us")
    scale, other = (_scale(maps, fmt.in_units(system)) for system in systems)
    peaks = [
        words(
            "{face}: at most {irradiance}, in {month} from {start} to {end}.",
            face=face.name,
            irradiance=fmt.irradiance(face.peak),
            month=fmt.month(face.month + 1, short=False),
            start=clock(fmt, face.hour),
            end=clock(fmt, face.hour + 1),
        )
        if face.peak >= DARK
        else words("{face}: no sun.", face=face.name)
        for face in maps
    ]
    alt = words("Maps of mean sun by month and clock hour, darker for more. {faces}", faces=" ".join(peaks))
    return Figure(
        id="sun-hours",
        title=_title(maps, fmt, words),
        alt=alt,
        svg=_drawn(maps, hours, scale.steps, scale.factor, scale.unit, fmt, words),
        plotly=_interactive(maps, hours, (scale, other), fmt, words),
    )


def _level(value: float, steps: list[float]) -> int:
    """Return in which step of the scale a value lies, counted from 0."""
    return max(sum(value >= step for step in steps[1:-1]), 0)


def _colors(steps: list[float]) -> list[str]:
    count = max(len(steps) - 1, 1)
    return [ramp(number / max(count - 1, 1)) for number in range(count)]


def _drawn(
    maps: list[_Map], hours: range, steps: list[float], factor: float, unit: str, fmt: Formats, words: Wording
) -> str:
    across = min(len(maps), 3 if len(maps) <= 9 else 4)
    down = -(-len(maps) // across)
    wide = (FULL - LEFT - GAP * (across - 1) - 2) / across
    row = min(2.9, (TALLEST - BOTTOM) / down / len(hours) - 14.0 / len(hours))
    tall = row * len(hours)
    canvas = Canvas(FULL, down * (TOP + tall + 6.5) + BOTTOM - 5)
    for number, face in enumerate(maps):
        x = LEFT + (number % across) * (wide + GAP)
        y = TOP + (number // across) * (TOP + tall + 6.5)
        _map(canvas, face, Box(x, y, wide, tall), hours, steps, factor, fmt, words)
        if number % across == 0:
            every = next(step for step in (1, 2, 3, 4, 6, 12) if row * step >= 4.2)
            for hour in hours:
                if (hour - hours[0]) % every == 0:
                    place = y + (hour - hours[0]) * row
                    canvas.text(x - 1.6, place, clock(fmt, hour), size=SMALL, align="right", middle=True)
                    canvas.line([(x - 1, place), (x, place)], color=style.QUIET)
    if max(face.peak for face in maps) >= DARK:
        _key(canvas, steps, unit, fmt, words)
    return canvas.svg()


def _map(
    canvas: Canvas,
    face: _Map,
    box: Box,
    hours: range,
    steps: list[float],
    factor: float,
    fmt: Formats,
    words: Wording,
) -> None:
    wide, tall = box.width / 12, box.height / len(hours)
    levels: dict[int, list[Box]] = {}
    for month in range(12):
        for number, hour in enumerate(hours):
            value = face.grid[month][hour]
            if value >= DARK:
                cell = Box(box.x + month * wide, box.y + number * tall, wide, tall)
                levels.setdefault(_level(value * factor, steps), []).append(cell)
    colors = _colors(steps)
    for level, cells in sorted(levels.items()):
        # a hairline of its own color closes the seams between cells that viewers would show
        canvas.rects(cells, fill=colors[level], edge=colors[level], line=0.3)
    canvas.rects([box], edge=style.QUIET, line=0.5)
    if face.peak >= DARK:
        spot = Box(box.x + face.month * wide, box.y + (face.hour - hours[0]) * tall, wide, tall)
        canvas.rects([spot], edge=style.PAPER, line=2.6)
        canvas.rects([spot], edge=style.INK, line=1.2)
    canvas.text(box.x, box.y - 5.4, shortened(face.name, box.width, bold=True), bold=True)
    told = words("at most {irradiance}", irradiance=fmt.irradiance(face.peak))
    if face.peak < DARK:
        told = words("no sun")
    canvas.text(box.x, box.y - 1.6, told, size=SMALL, color=style.QUIET)
    names = [fmt.month(number) for number in range(1, 13)]
    widest = max(width_mm(name, SMALL) for name in names)
    every = next((step for step in (1, 2, 3, 4, 6) if wide * step >= widest + 1), 6)
    for month in range(0, 12, every):
        middle = box.x + (month + 0.5) * wide
        canvas.text(middle, box.bottom + 3.6, names[month], size=SMALL, align="center")


def _key(canvas: Canvas, steps: list[float], unit: str, fmt: Formats, words: Wording) -> None:
    """Draw the scale: a step of color between each two numbers."""
    colors = _colors(steps)
    wide = 15.0
    y = canvas.height - 6.8
    title = words("mean sun on the face [{unit}]", unit=unit)
    x = LEFT
    for number, color in enumerate(colors):
        canvas.rects([Box(x + number * wide, y, wide, 2.8)], fill=color, edge=style.QUIET, line=0.4)
    digits = 0 if all(float(step).is_integer() for step in steps) else 1
    for number, step in enumerate(steps[: len(colors) + 1]):
        canvas.text(x + number * wide, y + 6.0, fmt.number(step, digits), size=SMALL, align="center")
    right = x + len(colors) * wide + 5
    room = canvas.width - right
    canvas.text(right, y + 1.4, shortened(title, room, SMALL), size=SMALL, middle=True)


def _interactive(
    maps: list[_Map], hours: range, units: Sequence[_Scale], fmt: Formats, words: Wording
) -> dict[str, Any]:
    months = [fmt.month(number) for number in range(1, 13)]
    clocks = [clock(fmt, hour) for hour in hours]
    best = max(range(len(maps)), key=lambda index: maps[index].peak)
    data: list[dict[str, Any]] = [
        {
            "type": "heatmap",
            "name": interactive.safe(face.name),
            "x": months,
            "y": clocks,
            "zmin": 0,
            "colorbar": {"title": {"text": ""}, "thickness": 12},
            "hovertemplate": "%{text}<extra></extra>",
            "visible": number == best,
        }
        for number, face in enumerate(maps)
    ]
    looks = [_in_unit(maps, hours, scale, months, clocks) for scale in units]
    first = looks[0]
    for number, trace in enumerate(data):
        trace |= {"z": first["z"][number], "text": first["text"][number], "zmax": first["zmax"]}
        trace["colorscale"] = first["colorscale"][number]
        trace["colorbar"] = {"title": {"text": first["colorbar.title.text"]}, "thickness": 12}
    faces = [{"label": face.name, "data": {"visible": [other is face for other in maps]}} for face in maps]
    shown_layout = interactive.layout(
        fmt,
        xaxis=interactive.axis(type="category"),
        yaxis=interactive.axis(type="category", autorange="reversed"),
    )
    return interactive.figure(
        data,
        shown_layout,
        [
            interactive.switch(words("Face"), faces, best),
            interactive.switch(
                words("Unit"),
                [{"label": scale.unit, "data": look} for scale, look in zip(units, looks, strict=True)],
            ),
        ],
    )


def _in_unit(
    maps: list[_Map], hours: range, scale: _Scale, months: list[str], clocks: list[str]
) -> dict[str, Any]:
    """Return what every map shows in one unit, as Plotly's ``restyle`` takes it: one value a trace."""
    values = [[[face.grid[month][hour] for month in range(12)] for hour in hours] for face in maps]
    colors = _colors(scale.steps)
    stops = [[number / max(len(colors) - 1, 1), color] for number, color in enumerate(colors)]
    if len(stops) == 1:
        stops = [[0, colors[0]], [1, colors[0]]]
    return {
        "z": [[[round(value * scale.factor, 2) for value in row] for row in grid] for grid in values],
        "text": [
            [
                [
                    f"{month}, {hour}<br>{scale.fmt.irradiance(value)}"
                    for month, value in zip(months, row, strict=True)
                ]
                for hour, row in zip(clocks, grid, strict=True)
            ]
            for grid in values
        ],
        "zmax": scale.steps[-1],
        "colorscale": [stops] * len(maps),
        "colorbar.title.text": scale.unit,
    }
