"""Money over the years: what the chosen option has cost or brought by the end of each year, as a band.

The band runs from the 10th to the 90th percentile, the line is the middle. Undiscounted, so a reader can
follow it with the price and a bill in hand.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from reportkit.documents.blocks import Figure
from reportkit.documents.figures import interactive
from reportkit.documents.figures.canvas import FULL, Box, Canvas, Frame, ticks
from reportkit.documents.figures.facts import Entry, Wording, chosen_of, options, sentence
from reportkit.documents.language.formats import Formats
from reportkit.documents.layouts import style
from reportkit.documents.layouts.lettering import SMALL
from reportkit.findings.rooms import Spread

if TYPE_CHECKING:
    from reportkit.findings.findings import Findings

LEFT, TALL = 24.0, 70.0

PALE = "#dfe5ee"


def worth(findings: Findings, fmt: Formats, words: Wording) -> Figure | None:
    """Return the band of money over the years; None where no money is given or nothing is fitted.

    Parameters
    ----------
    findings
        The findings of a job; reads ``options``.
    fmt
        The reader's numbers.
    words
        The reader's language.
    """
    chosen = chosen_of(options(findings, words))
    cash = chosen.option.cash
    if chosen.kind == "none" or not cash:
        return None
    band = [Spread(p10=float(one.p10), p50=float(one.p50), p90=float(one.p90)) for one in cash]
    low, high = (fmt.money(end, cents=False) for end in (band[-1].p10, band[-1].p90))
    years = fmt.number(len(band) - 1)
    return Figure(
        id="worth",
        title=words(
            "{film}: between {low} and {high} after {years} years",
            film=sentence(chosen.name),
            low=low,
            high=high,
            years=years,
        ),
        alt=words(
            "A band over {years} years that starts at {start} and ends between {low} and {high}.",
            years=years,
            start=fmt.money(band[0].p50, cents=False),
            low=low,
            high=high,
        ),
        svg=_drawn(band, chosen, fmt, words),
        plotly=_interactive(band, chosen, fmt, words),
        caption=words(
            "Price paid, then savings year by year, added up; not discounted. "
            "Eight of ten computed cases lie in the band."
        ),
    )


def _drawn(band: list[Spread], chosen: Entry, fmt: Formats, words: Wording) -> str:
    years = len(band) - 1
    low, high = min(entry.p10 for entry in band), max(entry.p90 for entry in band)
    low, high = min(low, 0.0), max(high, 0.0)
    margin = 0.12 * (high - low or 1.0)
    steps = ticks(low, high, 5)
    canvas = Canvas(FULL, TALL)
    box = Box(LEFT, 7.0, FULL - LEFT - 26, TALL - 16.0)
    frame = Frame(box, (0.0, float(years)), (low - margin, high + margin))
    for step in steps:
        if low - margin <= step <= high + margin:
            y = frame.y(step)
            canvas.line([(box.x, y), (box.right, y)], color=style.INK if step == 0 else style.HAIR)
            canvas.text(box.x - 1.5, y, fmt.money(step, cents=False), size=SMALL, align="right", middle=True)
    upper = [(frame.x(year), frame.y(entry.p90)) for year, entry in enumerate(band)]
    lower = [(frame.x(year), frame.y(entry.p10)) for year, entry in enumerate(band)]
    canvas.polygons([[*upper, *reversed(lower)]], fill=PALE, edge=style.QUIET, line=0.4)
    canvas.line(
        [(frame.x(year), frame.y(entry.p50)) for year, entry in enumerate(band)],
        color=chosen.role.color,
        width=1.8,
    )
    every = max(1, round(years / 12))
    for year in range(0, years + 1, every):
        canvas.text(frame.x(year), box.bottom + 4.2, fmt.number(year), size=SMALL, align="center")
    canvas.text(box.right, box.bottom + 8.4, words("years"), size=SMALL, align="right", color=style.QUIET)
    end = band[-1]
    ends = ((end.p90, False), (end.p50, True), (end.p10, False))
    labels = [(frame.y(value), fmt.money(value, cents=False), bold) for value, bold in ends]
    last = -99.0
    for y, text, bold in labels:
        place = max(y, last + 3.8)
        canvas.text(box.right + 1.5, place, text, size=SMALL, middle=True, bold=bold)
        last = place
    return canvas.svg()


def _interactive(band: list[Spread], chosen: Entry, fmt: Formats, words: Wording) -> dict[str, Any]:
    years = list(range(len(band)))
    named = [words("year {year}", year=fmt.number(year)) for year in years]
    data = []
    for values, name, width, fill in (
        ([one.p10 for one in band], words("low"), 0.5, None),
        ([one.p90 for one in band], words("high"), 0.5, "tonexty"),
        ([one.p50 for one in band], words("middle"), 2.0, None),
    ):
        line = interactive.line_look(chosen.role, width)
        data.append(
            {
                "type": "scatter",
                "mode": "lines",
                "name": name,
                "x": years,
                "y": values,
                "text": [
                    f"{year}: {fmt.money(value, cents=False)} ({name})"
                    for year, value in zip(named, values, strict=True)
                ],
                "hovertemplate": "%{text}<extra></extra>",
                "line": line,
                **({"fill": fill, "fillcolor": "rgba(120,140,170,0.25)"} if fill else {}),
            }
        )
    return interactive.figure(
        data, interactive.layout(fmt, xaxis=interactive.axis(words("years")), yaxis=interactive.axis())
    )
