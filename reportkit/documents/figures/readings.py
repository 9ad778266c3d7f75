"""After the work: what a meter showed behind the film against what it showed without it, pair by pair.

Each pair is a point. A wedge from the corner holds the ratios that were computed, a line is their mean as
read; bare glass would lie on the diagonal.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from reportkit.base.translatable import english
from reportkit.documents.blocks import Figure
from reportkit.documents.figures import interactive
from reportkit.documents.figures.canvas import FULL, Box, Canvas, Frame, spread, ticks
from reportkit.documents.figures.facts import Wording, named, options, sentence
from reportkit.documents.language.formats import Formats
from reportkit.documents.language.names import AGAINST, FOUND, METERS
from reportkit.documents.layouts import style
from reportkit.documents.layouts.lettering import SMALL, height_mm, wrapped
from reportkit.documents.layouts.style import Role

if TYPE_CHECKING:
    from reportkit.findings.findings import Findings
    from reportkit.findings.readings import Between, ComparedFound

LEFT, TOP, TALL, BESIDE = 16.0, 7.0, 72.0, 112.0
WEDGE = "#dfe5ee"


def readings(findings: Findings, fmt: Formats, words: Wording) -> list[Figure]:
    """Return one picture for each film and meter; none where nothing was read.

    Parameters
    ----------
    findings
        What was found; reads the readings, the options and the names in the job.
    fmt
        The reader's numbers.
    words
        The reader's language.
    """
    if findings.readings is None:
        return []
    roles = {entry.option.film: entry.role for entry in reversed(options(findings, words))}
    made = []
    for number, one in enumerate(findings.readings.compared, start=1):
        role = roles.get(one.film) or style.film(0)
        title = finding(findings, one, fmt, words)
        pairs = [
            words(
                "{pane}: {filmed} against {bare}",
                pane=pair.pane,
                filmed=as_read(pair.filmed, fmt),
                bare=as_read(pair.bare, fmt),
            )
            for pair in one.pairs
        ]
        made.append(
            Figure(
                id=f"readings-{number}",
                title=title,
                alt=words(
                    "Points of the reading behind the film against that without it: {pairs}. {finding}.",
                    pairs="; ".join(pairs),
                    finding=title,
                ),
                svg=_drawn(one, role, fmt, words),
                plotly=_interactive(one, role, fmt, words),
                caption=words(
                    "Each point is two readings of one meter in the same minute. In the band lie the "
                    "ratios computed for this glass with this film. Dashed: the same reading in both places."
                ),
            )
        )
    return made


def span(expected: Between, digits: int, fmt: Formats, words: Wording) -> str:
    """Return a range of shares, as one where its ends read alike."""
    low, high = (fmt.percent(end, digits) for end in (expected.low, expected.high))
    return low if low == high else words("{low} to {high}", low=low, high=high)


def shares(one: ComparedFound, fmt: Formats, words: Wording) -> str:
    """Return the range that was computed for all pairs together."""
    return span(one.expected, decimals(one), fmt, words)


def decimals(one: ComparedFound) -> int:
    """Return the decimals that shares need: next to nothing needs one."""
    return 1 if min(one.share.middle, one.expected.high) < 0.1 else 0


def as_read(value: float, fmt: Formats) -> str:
    """Return a reading with no more decimals than a meter of three places shows."""
    return fmt.number(value, 0 if value >= 100 or value == int(value) else 1 if value >= 10 else 2)


def measured(one: ComparedFound, fmt: Formats) -> str:
    """Return the mean share that was read."""
    return fmt.percent(one.share.middle, decimals(one))


def finding(findings: Findings, one: ComparedFound, fmt: Formats, words: Wording) -> str:
    """Return what the readings by one meter behind one film say, as a sentence without its full stop."""
    return words(
        FOUND[one.verdict],
        film=named(findings.job.films, one.film),
        glass=named(findings.job.glazings, one.glazing),
        share=measured(one, fmt),
        what=words(AGAINST[f"{one.meter}_{'open' if one.in_open else 'glass'}"]),
        expected=shares(one, fmt, words),
    )


def _extent(one: ComparedFound) -> tuple[float, float]:
    """Return how far the picture reaches: readings without the film, and behind it."""
    most = 1.08 * max(pair.bare for pair in one.pairs)
    return most, 1.08 * max(*(pair.filmed for pair in one.pairs), one.expected.high * most)


def _drawn(one: ComparedFound, role: Role, fmt: Formats, words: Wording) -> str:
    points = [(pair.bare, pair.filmed) for pair in one.pairs]
    most, top = _extent(one)
    canvas = Canvas(FULL, TALL)
    box = Box(LEFT, TOP, BESIDE, TALL - TOP - 14)
    frame = Frame(box, (0.0, most), (0.0, top))
    for step in (step for step in ticks(0.0, top, 5) if step <= top):
        y = frame.y(step)
        canvas.line([(box.x, y), (box.right, y)], color=style.QUIET if step == 0 else style.HAIR)
        canvas.text(box.x - 1.6, y, as_read(step, fmt), size=SMALL, align="right", middle=True)
    for step in (step for step in ticks(0.0, most, 5) if step <= most):
        x = frame.x(step)
        canvas.line([(x, box.y), (x, box.bottom)], color=style.QUIET if step == 0 else style.HAIR)
        canvas.text(x, box.bottom + 4.4, as_read(step, fmt), size=SMALL, align="center")
    read = words("{meter} behind the film, as read", meter=words(METERS[one.meter]))
    canvas.text(1, 3.6, read, size=SMALL, color=style.QUIET)
    axis = words(
        english("the same in the open")
        if one.in_open
        else english("the same behind bare glass, in the same minute")
    )
    canvas.text(box.right, box.bottom + 9.6, axis, size=SMALL, align="right", color=style.QUIET)

    def end(share: float) -> tuple[float, float]:
        """Return where a ratio's line leaves the picture."""
        return (most, share * most) if share * most <= top else (top / share, top)

    low, high = one.expected.low, one.expected.high
    wedge = [(0.0, 0.0), end(low), *([(most, top)] if end(high)[0] < most <= end(low)[0] else []), end(high)]
    canvas.polygons([[(frame.x(x), frame.y(y)) for x, y in wedge]], fill=WEDGE, edge=style.QUIET, line=0.4)
    lines: list[tuple[float, str, Any, str, bool]] = [
        (
            1.0,
            style.INK,
            (0, (4, 2)),
            words(english("no glass") if one.in_open else english("bare glass")),
            False,
        )
    ]
    lines += [
        ((low + high) / 2, "", "none", words("computed: {share}", share=shares(one, fmt, words)), False),
        (one.share.middle, role.color, "solid", words("read: {share}", share=measured(one, fmt)), True),
    ]
    names = []
    for share, color, dash, name, bold in lines:
        x, y = end(share)
        if color:
            canvas.line([(frame.x(0), frame.y(0)), (frame.x(x), frame.y(y))], color=color, dash=dash,
                       width=1.6 if bold else 0.8)  # fmt: skip
        names.append((frame.x(x), frame.y(y), name, bold))
    canvas.line(
        [(frame.x(x), frame.y(y)) for x, y in points],
        color=role.color, dash="none", marker=role.marker or "o", size=7,
    )  # fmt: skip
    # a line that leaves at the top has its name there, the others beside the plot
    beside = [entry for entry in names if entry[0] >= box.right - 0.5]
    above = [entry for entry in names if entry[0] < box.right - 0.5]
    for row, (x, y, name, bold) in enumerate(above):
        base = 3.2 + 4.4 * row
        left = (x - frame.x(0)) * (base + 1) / (frame.y(0) - y)  # how far its line has gone left by then
        canvas.text(x - left - 1.0, y + base, name, size=SMALL, align="right", bold=bold)
    texts = [wrapped(name, FULL - box.right - 4, SMALL, bold=bold) for _, _, name, bold in beside]
    heights = [height_mm(len(text), SMALL) for text in texts]
    places = spread([y for _, y, _, _ in beside], heights, box.y, box.bottom, 0.8)
    for (_, y, _, bold), text, place in zip(beside, texts, places, strict=True):
        canvas.line([(box.right, y), (box.right + 2, place)], color=style.HAIR, width=0.5)
        canvas.lines(box.right + 2.6, place, text, size=SMALL, bold=bold)
    return canvas.svg()


def _interactive(one: ComparedFound, role: Role, fmt: Formats, words: Wording) -> dict[str, Any]:
    pairs = one.pairs
    most, top = _extent(one)
    low, high = one.expected.low, one.expected.high
    quiet = {"color": style.QUIET, "width": 0.8}
    alike = words(english("no glass") if one.in_open else english("bare glass"))
    data: list[dict[str, Any]] = [
        {"type": "scatter", "mode": "lines", "name": alike, "x": [0, min(top, most)],
         "y": [0, min(top, most)], "line": {"color": style.INK, "dash": "dash", "width": 1},
         "hoverinfo": "name"},
        {"type": "scatter", "mode": "lines", "name": words("computed"), "x": [0, most], "y": [0, low * most],
         "line": quiet, "hoverinfo": "skip"},
        {"type": "scatter", "mode": "lines", "name": words("computed"), "x": [0, most], "y": [0, high * most],
         "line": quiet, "fill": "tonexty", "fillcolor": "rgba(120,140,170,0.25)", "hoverinfo": "skip"},
        {"type": "scatter", "mode": "lines", "name": words("read"), "x": [0, most],
         "y": [0, one.share.middle * most], "line": interactive.line_look(role, 2.0),
         "hoverinfo": "skip"},
        {"type": "scatter", "mode": "markers", "name": sentence(words(METERS[one.meter])),
         "x": [pair.bare for pair in pairs], "y": [pair.filmed for pair in pairs],
         "text": [
             f"{interactive.safe(pair.pane)}, {fmt.day(pair.time.date())} "
             f"{fmt.clock(pair.time)}<br>{fmt.percent(pair.share, decimals(one))}"
             for pair in pairs
         ],
         "hovertemplate": "%{text}<extra></extra>",
         "marker": {"symbol": interactive.SYMBOLS.get(role.marker, "circle"), "size": 11,
                    "color": role.color}},
    ]  # fmt: skip
    axes = {
        "xaxis": interactive.axis(words("without the film, as read"), rangemode="tozero"),
        "yaxis": interactive.axis(words("behind the film, as read"), rangemode="tozero"),
    }
    return interactive.figure(data, interactive.layout(fmt, **axes))
