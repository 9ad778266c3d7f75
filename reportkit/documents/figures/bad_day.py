"""Sun heat through the panes complained of, hour by hour on the day of the worst hour [W].

A line for bare glass and one for each option. Names stand beside the plot, each at the height of its line
at the worst hour, on the side that is nearer. Does not cover the room's answer to the heat.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from reportkit.base.units import BTU_PER_HOUR_PER_W
from reportkit.documents.blocks import Figure
from reportkit.documents.figures import interactive
from reportkit.documents.figures.canvas import FULL, Box, Canvas, Frame, spread, ticks
from reportkit.documents.figures.facts import (
    NO_CHANGE,
    Entry,
    Wording,
    bare_of,
    chosen_of,
    clock,
    hour_of,
    named,
    options,
    sentence,
)
from reportkit.documents.language.formats import Formats
from reportkit.documents.layouts import style
from reportkit.documents.layouts.lettering import SIZE, SMALL, height_mm, width_mm, wrapped

if TYPE_CHECKING:
    from reportkit.findings.findings import Findings

NAMES, NUMBERS, TOP, BOTTOM = 46.0, 14.0, 11.0, 9.0
LOWEST, TALLEST = 64.0, 200.0


@dataclass(frozen=True)
class _Day:
    """The day: clock times, which of them is the worst, the options that have a line, their watts."""

    moments: list[dt.datetime]
    at: int
    entries: list[Entry]
    watts: Mapping[str, Sequence[float]]
    place: str

    def at_worst(self, entry: Entry) -> float:
        """Return the watts of an option at the worst hour."""
        return self.watts[entry.id][self.at]


def _day(findings: Findings, words: Wording) -> _Day:
    day = findings.bad_day
    # the clock of the site is the reader's, so that its distance from UTC says nothing
    moments = [moment.replace(tzinfo=None) for moment in day.hours]
    place = named(findings.job.rooms, day.room) if day.room else words("all rooms")
    return _Day(moments, day.hours.index(day.time), options(findings, words), day.watts, place)


def _title(day: _Day, fmt: Formats, words: Wording) -> str:
    bare, chosen = bare_of(day.entries), chosen_of(day.entries)
    base = day.at_worst(bare)
    time = fmt.clock(day.moments[day.at])
    if round(base) <= 0:
        return words("No sun heat comes through this glass, so no film has any to cut")
    if chosen.kind == "none":
        films = [entry for entry in day.entries if entry.kind != "none"]
        least = min(films, key=day.at_worst, default=None)
        if least is None or day.at_worst(least) >= base * (1 - NO_CHANGE):
            return words("Bare glass lets in {watts} at {time}", watts=fmt.power(base), time=time)
        return words(
            "Bare glass lets in {watts} at {time}; the least is {least} with {film}",
            watts=fmt.power(base),
            time=time,
            least=fmt.power(day.at_worst(least)),
            film=least.name,
        )
    cut = 1 - day.at_worst(chosen) / base
    film = sentence(chosen.name)
    if abs(cut) < NO_CHANGE:
        return words("{film} leaves the {time} peak of sun heat as it is", film=film, time=time)
    if cut < 0:
        return words(
            "{film} lets in {share} more sun heat at {time} than bare glass",
            film=film,
            time=time,
            share=fmt.percent(-cut),
        )
    return words(
        "{film} cuts the {time} peak of sun heat by {share}", film=film, time=time, share=fmt.percent(cut)
    )


def bad_day(findings: Findings, fmt: Formats, words: Wording) -> Figure:
    """Return the watts of the day of the worst hour.

    Parameters
    ----------
    findings
        What a study found; reads ``bad_day``, ``options`` and the names in ``job``.
    fmt
        The reader's numbers.
    words
        The reader's language.
    """
    day = _day(findings, words)
    moment = day.moments[day.at]
    values = "; ".join(f"{entry.name} {fmt.power(day.at_worst(entry))}" for entry in day.entries)
    return Figure(
        id="bad-day",
        title=_title(day, fmt, words),
        alt=words(
            "Lines of sun heat by clock hour on {date} through the panes of {place}. At {time}: {values}.",
            date=fmt.day(moment.date()),
            place=day.place,
            time=fmt.clock(moment),
            values=values,
        ),
        svg=_drawn(day, fmt, words),
        plotly=_interactive(day, fmt, words),
        caption=words(
            "Sun heat through the panes of {place} on {date}.",
            place=day.place,
            date=fmt.day(moment.date()),
        ),
    )


def _span(day: _Day) -> tuple[int, int]:
    """Return the full hours between which the sun heats, with room on both sides."""
    lit = [
        hour_of(moment)
        for number, moment in enumerate(day.moments)
        if any(day.watts[entry.id][number] > 0.5 for entry in day.entries)
    ]
    if not lit:
        return 6, 18
    return max(int(min(lit)) - 1, 0), min(int(max(lit)) + 2, 24)


def _drawn(day: _Day, fmt: Formats, words: Wording) -> str:
    first, last = _span(day)
    worst = hour_of(day.moments[day.at])
    names_left = worst < (first + last) / 2
    labels = []
    for entry in day.entries:
        bold = entry.chosen and entry.kind != "none"
        text = wrapped(sentence(entry.name), NAMES - 9, bold=bold)
        labels.append((entry, bold, [*text, fmt.power(day.at_worst(entry), 3)]))
    heights = [height_mm(len(text)) for _, _, text in labels]
    needed = sum(heights) + 0.8 * len(heights)
    tall = min(max(LOWEST, needed + TOP + BOTTOM + 4), max(TALLEST, needed + TOP + BOTTOM))
    canvas = Canvas(FULL, tall)
    left = NAMES if names_left else NUMBERS
    box = Box(left, TOP, FULL - NAMES - NUMBERS, tall - TOP - BOTTOM)
    highest = max(value for entry in day.entries for value in day.watts[entry.id])
    steps = ticks(0.0, highest if highest >= 1 else 100.0, 5)
    frame = Frame(box, (first, last), (0.0, steps[-1]))
    for step in steps:
        y = frame.y(step)
        canvas.line([(box.x, y), (box.right, y)], color=style.QUIET if step == 0 else style.HAIR)
        if names_left:
            canvas.text(box.right + 1.5, y, fmt.number(step), size=SMALL, middle=True)
        else:
            canvas.text(box.x - 1.5, y, fmt.number(step), size=SMALL, align="right", middle=True)
    heading = words("sun heat through the glass [W]")
    if names_left:
        canvas.text(FULL - 1, TOP - 6.2, heading, size=SMALL, align="right", color=style.QUIET)
    else:
        canvas.text(1, TOP - 6.2, heading, size=SMALL, color=style.QUIET)
    _hours(canvas, frame, first, last, fmt)
    _worst(canvas, frame, worst, fmt.clock(day.moments[day.at]))
    places = spread([frame.y(day.at_worst(entry)) for entry, _, _ in labels], heights, 1.0, tall - 1.0, 1.2)
    for (entry, bold, text), place in zip(labels, places, strict=True):
        y = frame.y(day.at_worst(entry))
        edge, side, beyond = (box.x, -1, 8.0) if names_left else (box.right, 1, 8.0)
        end = edge + side * beyond
        leader = [(frame.x(worst), y), (edge, y), (end - side * 1.0, place)]
        canvas.line(leader, color=entry.role.color, width=0.5)
        canvas.lines(end, place, text, align="right" if names_left else "left", bold=bold)
    # bare glass first and the chosen film last, so that it lies on top
    for entry in sorted(day.entries, key=lambda entry: (entry.chosen, entry.kind != "none")):
        points = [
            (frame.x(hour_of(moment)), frame.y(watts))
            for moment, watts in zip(day.moments, day.watts[entry.id], strict=True)
            if first <= hour_of(moment) <= last
        ]
        strong = entry.chosen or entry.kind == "none"
        canvas.line(points, color=entry.role.color, width=2.4 if strong else 1.3, dash=entry.role.dash)
        spot = [(frame.x(worst), frame.y(day.at_worst(entry)))]
        canvas.line(spot, color=entry.role.color, marker=entry.role.marker, size=7 if strong else 5.5)
    return canvas.svg()


def _hours(canvas: Canvas, frame: Frame, first: int, last: int, fmt: Formats) -> None:
    """Write clock hours under the plot, as many as fit."""
    widest = max(width_mm(clock(fmt, hour), SMALL) for hour in range(first, last + 1))
    every = next((n for n in (1, 2, 3, 4, 6) if n * frame.box.width / (last - first) > widest + 2), 6)
    for hour in range(first, last + 1):
        x = frame.x(hour)
        named = hour % every == 0
        length = 1.4 if named else 0.8
        canvas.line([(x, frame.box.bottom), (x, frame.box.bottom + length)], color=style.QUIET)
        if named:
            canvas.text(x, frame.box.bottom + 5.2, clock(fmt, hour), size=SMALL, align="center")


def _worst(canvas: Canvas, frame: Frame, worst: float, time: str) -> None:
    """Mark the worst hour with its clock time over the plot."""
    x = frame.x(worst)
    canvas.line([(x, TOP - 1.2), (x, frame.box.bottom)], color=style.INK, width=0.7, dash=(0, (2, 2)))
    half = width_mm(time, SIZE, bold=True) / 2
    middle = min(max(x, frame.box.x + half), frame.box.right - half)
    canvas.text(middle, TOP - 2.2, time, align="center", bold=True)


def _interactive(day: _Day, fmt: Formats, words: Wording) -> dict[str, Any]:
    hours = [hour_of(moment) for moment in day.moments]
    first, last = _span(day)
    roles = [(sentence(entry.name), entry.role) for entry in day.entries]

    def hovers(power_text: Callable[[Any, int], str]) -> list[list[str]]:
        return [
            [
                f"{interactive.safe(sentence(entry.name))}<br>{fmt.clock(moment)}: {power_text(watts, 3)}"
                for moment, watts in zip(day.moments, day.watts[entry.id], strict=True)
            ]
            for entry in day.entries
        ]

    watts = [list(day.watts[entry.id]) for entry in day.entries]
    in_btu = [[round(value * BTU_PER_HOUR_PER_W, 2) for value in one] for one in watts]
    texts = hovers(fmt.power)
    data = [
        {
            "type": "scatter",
            "mode": "lines+markers",
            "name": interactive.safe(name),
            "x": hours,
            "y": values,
            "text": text,
            "hovertemplate": "%{text}<extra></extra>",
            "line": interactive.line_look(role, 3.5 if entry.chosen else 2),
            "marker": {
                "symbol": interactive.SYMBOLS.get(role.marker, "circle"),
                "size": 7,
                "color": role.color,
            },
        }
        for entry, (name, role), values, text in zip(day.entries, roles, watts, texts, strict=True)
    ]
    worst = hour_of(day.moments[day.at])
    named = [hour for hour in range(first, last + 1) if (hour - first) % 2 == 0]
    shown = interactive.layout(
        fmt,
        xaxis=interactive.axis(
            range=[first, last], tickvals=named, ticktext=[clock(fmt, hour) for hour in named]
        ),
        yaxis=interactive.axis("W", rangemode="tozero"),
        shapes=[
            {
                "type": "line",
                "x0": worst,
                "x1": worst,
                "y0": 0,
                "y1": 1,
                "yref": "paper",
                "line": {"color": style.INK, "width": 1, "dash": "dot"},
            }
        ],
        annotations=[
            {
                "x": worst,
                "y": 1,
                "yref": "paper",
                "yanchor": "bottom",
                "showarrow": False,
                "text": fmt.clock(day.moments[day.at]),
            }
        ],
        margin={"l": 60, "r": 16, "t": 30, "b": 44},
    )
    units = [
        {"label": unit, "data": {"y": y, "text": text}, "layout": {"yaxis.title.text": unit}}
        for unit, y, text in (("W", watts, texts), ("Btu/h", in_btu, hovers(fmt.heat_rate)))
    ]
    return interactive.figure(
        data,
        shown,
        [
            interactive.toggles(words("Film"), roles, [True] * len(roles)),
            interactive.switch(words("Unit"), units),
        ],
    )
