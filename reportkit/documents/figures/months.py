"""Sun kept out month by month: the warmer half of the year upwards, the cooler half downwards [kWh].

Each pale bar is all the sun through bare glass; its dark part is what the chosen film keeps out. In the
cooler half that may be a loss or a gain: the room decides, and that is not covered here.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from reportkit.documents.blocks import Figure
from reportkit.documents.figures import interactive
from reportkit.documents.figures.canvas import FULL, Box, Canvas, Frame, ticks
from reportkit.documents.figures.facts import (
    NO_CHANGE,
    Entry,
    Wording,
    bare_of,
    chosen_of,
    month_span,
    options,
    other_half,
    sentence,
)
from reportkit.documents.language.formats import Formats
from reportkit.documents.layouts import style
from reportkit.documents.layouts.lettering import SMALL, shortened, width_mm, wrapped

if TYPE_CHECKING:
    from reportkit.findings.findings import Findings

LEFT, APART, TALL = 14.0, 8.0, 66.0

#: Least share of one side of zero that the other side gets.
LEAST_SIDE = 0.55

#: Pale ground of the sun that bare glass lets in.
PALE = "#e6e9ee"


@dataclass(frozen=True)
class _Year:
    """An option, its sun heat through all panes by month and half year, and what it keeps out [kWh]."""

    entry: Entry
    months: Sequence[float]
    summer: float
    winter: float
    summer_kept: float
    winter_kept: float

    @property
    def bare(self) -> bool:
        """Whether it is the option of doing nothing."""
        return self.entry.kind == "none"


def _year(entry: Entry) -> _Year | None:
    """Return an option's year; None where no whole year of weather is known."""
    option = entry.option
    if option.monthly_solar_kwh is None or option.summer_solar_kwh is None or option.winter_solar_kwh is None:
        return None
    if option.summer_kept_out_kwh is None or option.winter_kept_out_kwh is None:
        return None
    return _Year(
        entry,
        option.monthly_solar_kwh,
        option.summer_solar_kwh,
        option.winter_solar_kwh,
        option.summer_kept_out_kwh,
        option.winter_kept_out_kwh,
    )


def _title(
    chosen: _Year, bare: _Year, summer: list[int], winter: list[int], fmt: Formats, words: Wording
) -> str:
    spans = {"summer_months": month_span(fmt, words, summer), "winter_months": month_span(fmt, words, winter)}
    if chosen.bare:
        return words(
            "Bare glass lets in {summer} of sun from {summer_months} and {winter} from {winter_months}",
            summer=fmt.energy(bare.summer),
            winter=fmt.energy(bare.winter),
            **spans,
        )
    kept, lost = chosen.summer_kept, chosen.winter_kept
    whole = bare.summer + bare.winter
    film = sentence(chosen.entry.name)
    if whole <= 0.5:
        return words("No sun comes through this glass in any month, so there is none to keep out")
    if max(abs(kept), abs(lost)) < NO_CHANGE * whole:
        return words(
            "{film} changes the sun through this glass by less than {share} all year",
            film=film,
            share=fmt.percent(NO_CHANGE, 1),
        )
    amounts = {"film": film, "summer": fmt.energy(abs(kept)), "winter": fmt.energy(abs(lost)), **spans}
    if kept >= 0 and lost >= 0:
        return words(
            "{film} keeps out {summer} of sun from {summer_months}, and {winter} from {winter_months}",
            **amounts,
        )
    if kept < 0 and lost < 0:
        return words(
            "{film} lets in more sun than bare glass: {summer} from {summer_months}, "
            "{winter} from {winter_months}",
            **amounts,
        )
    if kept >= 0:
        return words(
            "{film} keeps out {summer} of sun from {summer_months} "
            "and lets in {winter} more from {winter_months}",
            **amounts,
        )
    return words(
        "{film} lets in {summer} more sun from {summer_months} and keeps out {winter} from {winter_months}",
        **amounts,
    )


def months(findings: Findings, fmt: Formats, words: Wording) -> Figure | None:
    """Return the sun kept out by month; None where no whole year of weather is known.

    Parameters
    ----------
    findings
        What a study found; reads ``options`` and the names in ``job``.
    fmt
        The reader's numbers.
    words
        The reader's language.
    """
    entries = options(findings, words)
    bare, chosen = _year(bare_of(entries)), _year(chosen_of(entries))
    if bare is None or chosen is None:
        return None
    summer = list(bare.entry.option.summer_months)
    winter = other_half(summer)
    by_month = "; ".join(
        words(
            "{month} {bare} bare, {chosen} with the film",
            month=fmt.month(month, short=False),
            bare=_amount(fmt, bare.months[month - 1]),
            chosen=_amount(fmt, chosen.months[month - 1]),
        )
        if not chosen.bare
        else f"{fmt.month(month, short=False)} {_amount(fmt, bare.months[month - 1])}"
        for month in [*summer, *winter]
    )
    title = _title(chosen, bare, summer, winter, fmt, words)
    return Figure(
        id="months",
        title=title,
        alt=words(
            "Bars by month, {summer_months} upwards and {winter_months} downwards. {finding}. "
            "In kWh: {months}.",
            summer_months=month_span(fmt, words, summer),
            winter_months=month_span(fmt, words, winter),
            finding=title,
            months=by_month,
        ),
        svg=_drawn(bare, chosen, summer, winter, fmt, words),
        plotly=_interactive(entries, [*summer, *winter], fmt, words),
        caption=words("Sun heat through all panes of the job, in kWh a month."),
    )


def _amount(fmt: Formats, kwh: float) -> str:
    return fmt.number(kwh, 0 if abs(kwh) >= 9.95 else 1)


def _parts(bare: _Year, chosen: _Year, month: int) -> tuple[float, float]:
    """Return the sun through bare glass in a month and what the film keeps out of it [kWh]."""
    whole = bare.months[month - 1]
    return whole, whole - chosen.months[month - 1]


def _drawn(
    bare: _Year, chosen: _Year, summer: list[int], winter: list[int], fmt: Formats, words: Wording
) -> str:
    sides = [(month, 1) for month in summer] + [(month, -1) for month in winter]
    ends = [0.0]
    for month, sign in sides:
        whole, kept = _parts(bare, chosen, month)
        ends += [sign * whole, sign * kept]
    low, high = min(ends), max(ends)
    if high - low < 1e-6:
        low, high = -1.0, 1.0
    # room on both sides of zero for the words in the empty quarters
    low, high = min(low, -LEAST_SIDE * high), max(high, -LEAST_SIDE * low)
    steps = ticks(low, high, 6)
    canvas = Canvas(FULL, TALL)
    box = Box(LEFT, 8.0, FULL - LEFT - 2, TALL - 16.0)
    room = 0.09 * (high - low)
    frame = Frame(box, (0.0, 12 + APART / 10), (low - room, high + room))
    steps = [step for step in steps if low - room <= step <= high + room]
    digits = 0 if all(float(step).is_integer() for step in steps) else 1
    for step in steps:
        y = frame.y(step)
        canvas.line([(box.x, y), (box.right, y)], color=style.INK if step == 0 else style.HAIR)
        canvas.text(box.x - 1.5, y, fmt.number(abs(step), digits), size=SMALL, align="right", middle=True)
    canvas.text(1, 4.0, words("sun heat [kWh a month]"), size=SMALL, color=style.QUIET)
    for number, (month, sign) in enumerate(sides):
        left = number + (APART / 10 if sign < 0 else 0.0)
        whole, kept = _parts(bare, chosen, month)
        _bar(canvas, frame, left, whole, kept, sign, chosen, fmt)
        name = fmt.month(month)
        beyond = box.bottom + 4.2
        middle = (frame.x(left) + frame.x(left + 1)) / 2
        canvas.text(middle, beyond, name, size=SMALL, align="center")
    _told(canvas, frame, bare, chosen, summer, winter, fmt, words)
    return canvas.svg()


def _bar(
    canvas: Canvas,
    frame: Frame,
    left: float,
    whole: float,
    kept: float,
    sign: int,
    chosen: _Year,
    fmt: Formats,
) -> None:
    """Draw one month: the pale bar of bare glass, over it what is kept out, and the number."""

    def upright(value: float, inset: float) -> Box:
        top, bottom = sorted((frame.y(0.0), frame.y(value)))
        x0, x1 = frame.x(left + inset), frame.x(left + 1 - inset)
        return Box(x0, top, x1 - x0, bottom - top)

    role, nothing = chosen.entry.role, chosen.bare
    told = whole if nothing else kept
    if nothing:
        hatch = "" if sign > 0 else "////"
        canvas.rects([upright(sign * whole, 0.12)], fill=role.color, hatch=hatch, edge=style.INK)
    else:
        canvas.rects([upright(sign * whole, 0.12)], fill=PALE, edge=style.QUIET, line=0.5)
        fill, hatch = (role.color, "") if sign > 0 else (style.HEAT_ADDED.color, "////")
        canvas.rects([upright(sign * kept, 0.12)], fill=fill, edge=style.INK, line=0.5, hatch=hatch)
    # the number stands beyond what it counts; beyond the pale bar where that leaves too little of it
    reach, toward = sign * told, sign if told >= 0 else -sign
    if told >= 0 and abs(frame.y(sign * whole) - frame.y(reach)) < 4.6:
        reach = sign * max(whole, told)
    y = frame.y(reach) - 2.3 * toward
    middle = (frame.x(left) + frame.x(left + 1)) / 2
    text = _amount(fmt, told) if told >= 0 else f"+{_amount(fmt, -told)}"
    if width_mm(text, SMALL, bold=True) <= frame.x(1) - frame.x(0):
        inside = not nothing and 0 <= told < whole and abs(reach) < whole
        ground = PALE if inside else style.PAPER
        canvas.text(middle, y, text, size=SMALL, align="center", middle=True, bold=True, backed=ground)


def _told(
    canvas: Canvas,
    frame: Frame,
    bare: _Year,
    chosen: _Year,
    summer: list[int],
    winter: list[int],
    fmt: Formats,
    words: Wording,
) -> None:
    """Write in the two empty quarters what the bars beside them are."""
    box = frame.box
    zero = frame.y(0.0)
    right = frame.x(6 + APART / 10 + 0.12)
    below, above = box.bottom - zero, zero - box.y
    name = sentence(chosen.entry.name)
    halves = []
    for half, down in ((summer, True), (winter, False)):
        kept = [_parts(bare, chosen, month)[1] for month in half]
        # what a film adds reaches into the quarter; the words stand clear of it and its numbers
        added = abs(frame.y(min(kept)) - zero) + 4.6 if min(kept) < 0 else 0.0
        halves.append((half, down, added, sum(kept) < 0))
    blocks = []
    for half, down, added, more in halves:
        room = (below if down else above) - added
        y = zero + added + 3.6 if down else box.y + 2.0
        color, hatch = (chosen.entry.role.color, "") if down else (style.HEAT_ADDED.color, "////")
        template = (
            words("more let in by {film}", film=name) if more else words("kept out by {film}", film=name)
        )
        blocks.append(
            (box.x + 2 if down else right, y, room, month_span(fmt, words, half), color, hatch, template)
        )
    wide = frame.x(6) - box.x - 4
    for x, y, room, months_told, color, hatch, does in blocks:
        if room < 12:
            continue
        canvas.text(
            x,
            y,
            shortened(sentence(months_told), wide, bold=True),
            bold=True,
            middle=True,
            backed=style.PAPER,
        )
        if chosen.bare:
            canvas.text(x, y + 4.4, words("bare glass"), size=SMALL, middle=True, backed=style.PAPER)
            continue
        canvas.rects([Box(x, y + 2.9, 4, 2.8)], fill=color, edge=style.INK, line=0.5, hatch=hatch)
        told = wrapped(does, wide - 6, SMALL, lines=2)
        for number, text in enumerate(told):
            canvas.text(x + 5.5, y + 4.3 + number * 3.6, text, size=SMALL, middle=True, backed=style.PAPER)
        under = y + 3.6 * (len(told) - 1)
        canvas.rects([Box(x, under + 7.1, 4, 2.8)], fill=PALE, edge=style.QUIET, line=0.5)
        canvas.text(
            x + 5.5, under + 8.5, words("still comes in"), size=SMALL, middle=True, backed=style.PAPER
        )


def _interactive(entries: list[Entry], order: list[int], fmt: Formats, words: Wording) -> dict[str, Any]:
    names = [fmt.month(month) for month in order]
    years = [year for year in map(_year, entries) if year is not None]
    shown_first = [year.bare or year.entry.chosen for year in years]
    roles = [(sentence(year.entry.name), year.entry.role) for year in years]
    data = []
    for year, at_first in zip(years, shown_first, strict=True):
        values = [year.months[month - 1] for month in order]
        name = interactive.safe(sentence(year.entry.name))
        data.append(
            {
                "type": "bar",
                "name": name,
                "x": names,
                "y": values,
                "text": [
                    f"{name}<br>{fmt.month(month, short=False)}: {fmt.energy(value, 3)}"
                    for month, value in zip(order, values, strict=True)
                ],
                "textposition": "none",
                "hovertemplate": "%{text}<extra></extra>",
                "marker": interactive.bar_look(year.entry.role),
                "visible": at_first,
            }
        )
    shown = interactive.layout(
        fmt,
        barmode="group",
        xaxis=interactive.axis(type="category"),
        yaxis=interactive.axis("kWh"),
    )
    return interactive.figure(data, shown, [interactive.toggles(words("Film"), roles, shown_first)])
