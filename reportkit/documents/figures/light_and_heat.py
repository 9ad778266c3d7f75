"""Light against heat: visible transmittance and SHGC of every option on the client's main glazing.

Lines show the least SHGC that a film of some light can have.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING, Any

from reportkit.documents.blocks import Figure
from reportkit.documents.figures import interactive
from reportkit.documents.figures.canvas import FULL, Box, Canvas, Frame, spread
from reportkit.documents.figures.facts import Wording, chosen_of, named, options, sentence
from reportkit.documents.language.formats import Formats
from reportkit.documents.layouts import style
from reportkit.documents.layouts.lettering import SMALL, height_mm, width_mm, wrapped
from reportkit.documents.layouts.style import Role
from reportkit.findings.glass import Rated

if TYPE_CHECKING:
    from reportkit.findings.claims import ClaimLimits
    from reportkit.findings.findings import Findings

TALL = 84.0
#: The plot; the limits have their names beside it [mm].
LEFT, TOP, WIDE, HIGH = 13.0, 7.0, 121.0, 64.0

#: Widest line of a label [mm].
NAME = 36.0

Line = list[tuple[float, float]]


@dataclass(frozen=True)
class _Spot:
    """One film, or bare glass, on the main glazing."""

    name: str
    role: Role
    light: float
    heat: float
    chosen: bool
    bare: bool


def _spots(findings: Findings, words: Wording, glazing: str) -> list[_Spot]:
    entries = options(findings, words)
    chosen = chosen_of(entries)
    area: dict[str | None, float] = defaultdict(float)
    for pane in findings.panes:
        if pane.glazing == glazing:
            area[pane.film] += pane.area_m2 * pane.quantity
    placed = max(area, key=lambda film: (film is not None, area[film]))
    roles: dict[str, Role] = {}
    for entry in entries:
        if entry.option.film:
            roles.setdefault(entry.option.film, entry.role)
    spots = []
    for record in findings.glazings:
        if not isinstance(record, Rated) or record.id != glazing:
            continue
        film = record.film
        if film is None:
            name, role = words("bare glass"), style.BARE
        elif film in roles:
            name, role = named(findings.job.films, film), roles[film]
        else:
            continue
        is_chosen = film == placed and chosen.kind != "none"
        spots.append(_Spot(name, role, record.t_visible, record.shgc, is_chosen, film is None))
    return spots


def _title(spots: list[_Spot], fmt: Formats, words: Wording) -> str:
    bare = next(spot for spot in spots if spot.bare)
    films = [spot for spot in spots if not spot.bare]
    chosen = next((spot for spot in films if spot.chosen), None)
    amounts = {"light": fmt.percent(bare.light), "heat": fmt.percent(bare.heat)}
    if chosen is not None:
        return words(
            "On your glass {film} lets in {film_light} of the light and {film_heat} of the sun's heat; "
            "bare glass {light} and {heat}",
            film=chosen.name,
            film_light=fmt.percent(chosen.light),
            film_heat=fmt.percent(chosen.heat),
            **amounts,
        )
    if not films:
        return words("Your bare glass lets in {light} of the light and {heat} of the sun's heat", **amounts)
    low, high = (fmt.percent(end(spot.heat for spot in films)) for end in (min, max))
    if low == high:
        return words(
            "Your bare glass lets in {light} of the light and {heat} of the sun's heat; "
            "with film {low} of the heat",
            low=low,
            **amounts,
        )
    return words(
        "Your bare glass lets in {light} of the light and {heat} of the sun's heat; "
        "with film {low} to {high} of the heat",
        low=low,
        high=high,
        **amounts,
    )


def _limits(limits: ClaimLimits, words: Wording) -> list[tuple[str, Any, Line]]:
    """Return name, dash and points (light, least SHGC) of each limit."""
    lines: list[tuple[str, Any, Sequence[float]]] = [
        (words("least heat, any color"), "solid", limits.any),
        (words("least heat, neutral color"), (0, (5, 2)), limits.neutral),
        (words("least heat, same for all light"), (0, (1.5, 1.5)), limits.flat),
    ]
    return [
        (name, dash, list(zip(limits.visible_transmittance, heats, strict=True)))
        for name, dash, heats in lines
    ]


def light_and_heat(findings: Findings, fmt: Formats, words: Wording) -> Figure:
    """Return light against heat on the main glazing.

    Parameters
    ----------
    findings
        What a study found; reads ``panes``, ``glazings``, ``options``, ``views.glazing``, ``claim_limits``
        and the names in ``job``.
    fmt
        The reader's numbers.
    words
        The reader's language.
    """
    glazing = findings.views.glazing
    place = named(findings.job.glazings, glazing)
    spots = _spots(findings, words, glazing)
    limits = _limits(findings.claim_limits, words)
    values = "; ".join(
        words(
            "{film}: light {light}, SHGC {heat}",
            film=spot.name,
            light=fmt.percent(spot.light),
            heat=fmt.number(spot.heat, 2),
        )
        for spot in spots
    )
    return Figure(
        id="light-and-heat",
        title=_title(spots, fmt, words),
        alt=words(
            "Points of visible transmittance against SHGC on {glazing}. {values}.",
            glazing=place,
            values=values,
        ),
        svg=_drawn(spots, limits, fmt, words),
        plotly=_interactive(spots, limits, fmt, words),
        caption=words(
            "On {glazing}. To the right is brighter, lower down is cooler.",
            glazing=place,
        )
        + " "
        + words("No film with this light can let in less heat than the lines say."),
    )


def _drawn(spots: list[_Spot], limits: list[tuple[str, Any, Line]], fmt: Formats, words: Wording) -> str:
    canvas = Canvas(FULL, TALL)
    box = Box(LEFT, TOP, WIDE, HIGH)
    frame = Frame(box, (0.0, 1.0), (0.0, 1.0))
    for step in (0.0, 0.2, 0.4, 0.6, 0.8, 1.0):
        x, y = frame.x(step), frame.y(step)
        color = style.QUIET if step == 0 else style.HAIR
        canvas.line([(box.x, y), (box.right, y)], color=color)
        canvas.line([(x, box.y), (x, box.bottom)], color=color)
        canvas.text(box.x - 1.6, y, fmt.number(step, 1), size=SMALL, align="right", middle=True)
        canvas.text(x, box.bottom + 4.4, fmt.percent(step), size=SMALL, align="center")
    canvas.text(1, 3.6, words("heat let in (SHGC)"), size=SMALL, color=style.QUIET)
    axis = words("light let in (visible transmittance)")
    canvas.text(box.right, box.bottom + 9.6, axis, size=SMALL, align="right", color=style.QUIET)
    lines = [[(frame.x(light), frame.y(heat)) for light, heat in line] for _, _, line in limits]
    ground = [*lines[0], (lines[0][-1][0], box.bottom), (lines[0][0][0], box.bottom)]
    canvas.polygons([ground], fill="#eef0f3", hatch="////", hatch_color="#dfe3e8")
    for (_, dash, _), points in zip(limits, lines, strict=True):
        canvas.line(points, color=style.QUIET, width=1.1, dash=dash)
    _limit_names(canvas, frame.box, limits, lines)
    _labels(canvas, frame, spots, lines, fmt)
    for spot in sorted(spots, key=lambda spot: spot.chosen):
        place = [(frame.x(spot.light), frame.y(spot.heat))]
        canvas.line(
            place, color=spot.role.color, marker=spot.role.marker or "o", size=10 if spot.chosen else 7.5
        )
    return canvas.svg()


def _limit_names(
    canvas: Canvas, box: Box, limits: Sequence[tuple[str, Any, Line]], lines: Sequence[Line]
) -> None:
    """Write each limit's name beside its right end."""
    texts = [wrapped(name, FULL - box.right - 5, SMALL) for name, _, _ in limits]
    heights = [height_mm(len(text), SMALL) for text in texts]
    ends = [points[-1] for points in lines]
    places = spread([y for _, y in ends], heights, box.y, box.bottom, 1.0)
    for text, place, (x, y) in zip(texts, places, ends, strict=True):
        canvas.line([(x, y), (box.right, y), (box.right + 3.2, place)], color=style.HAIR, width=0.5)
        canvas.lines(box.right + 4, place, text, size=SMALL, color=style.QUIET)


def _labels(canvas: Canvas, frame: Frame, spots: list[_Spot], lines: Sequence[Line], fmt: Formats) -> None:
    """Write each film's name by its point, where it covers neither a point, a line nor another name."""
    points = [(frame.x(spot.light), frame.y(spot.heat)) for spot in spots]
    taken = [Box(x - 1.9, y - 1.9, 3.8, 3.8) for x, y in points]
    traced = [
        Box(a[0] + (b[0] - a[0]) * k / 4 - 0.3, a[1] + (b[1] - a[1]) * k / 4 - 0.3, 0.6, 0.6)
        for line in lines
        for a, b in pairwise(line)
        for k in range(4)
    ]
    plot = frame.box
    field = Box(plot.x + 1, plot.y, plot.width - 1, plot.height - 1)
    order = sorted(range(len(spots)), key=lambda i: (not spots[i].chosen, -points[i][1], points[i][0]))
    for index in order:
        spot, (x, y) = spots[index], points[index]
        text = wrapped(sentence(spot.name), NAME, bold=spot.chosen)
        text.append(f"{fmt.percent(spot.light)}, {fmt.number(spot.heat, 2)}")
        wide = max(width_mm(line, bold=spot.chosen) for line in text)
        tall = height_mm(len(text))
        best: tuple[float, Box, int] | None = None
        for away in (2.6, 6.0, 10.0, 15.0, 21.0, 28.0, 36.0, 45.0, 56.0):
            for side_x, side_y in ((1, 0), (-1, 0), (1, -1), (-1, -1), (1, 1), (-1, 1), (0, -1), (0, 1)):
                left = x + away * side_x - (wide if side_x < 0 else wide / 2 if side_x == 0 else 0)
                upper = y + away * side_y - (tall if side_y < 0 else tall / 2 if side_y == 0 else 0)
                box = Box(left, upper, wide, tall)
                out = wide * tall - box.overlap(field)
                cost = 50 * out + 20 * sum(box.overlap(other) for other in taken)
                cost += 12 * sum(box.overlap(other) for other in traced) + away
                if best is None or cost < best[0]:
                    best = (cost, box, side_x)
        assert best is not None  # there are always places to try
        _, box, side = best
        near = (min(max(x, box.x), box.right), min(max(y, box.y), box.bottom))
        if abs(near[0] - x) + abs(near[1] - y) > 3.2:
            canvas.line([(x, y), near], color=spot.role.color, width=0.6)
        align = {1: "left", -1: "right", 0: "center"}[side]
        anchor = {1: box.x, -1: box.right, 0: box.x + wide / 2}[side]
        canvas.lines(anchor, box.y + tall / 2, text, align=align, bold=spot.chosen, backed=style.PAPER)
        taken.append(box)


def _interactive(
    spots: list[_Spot], limits: list[tuple[str, Any, Line]], fmt: Formats, words: Wording
) -> dict[str, Any]:
    data: list[dict[str, Any]] = [
        {
            "type": "scatter",
            "mode": "lines",
            "name": name,
            "x": [light for light, _ in line],
            "y": [heat for _, heat in line],
            "hoverinfo": "name",
            "line": {"color": style.QUIET, "width": 1.5, "dash": dash if isinstance(dash, str) else "dash"},
        }
        for name, dash, line in limits
    ]
    for spot in spots:
        name = interactive.safe(sentence(spot.name))
        data.append(
            {
                "type": "scatter",
                "mode": "markers",
                "name": name,
                "x": [spot.light],
                "y": [spot.heat],
                "text": [f"{name}<br>VT {fmt.percent(spot.light)}, SHGC {fmt.number(spot.heat, 2)}"],
                "hovertemplate": "%{text}<extra></extra>",
                "marker": {
                    "symbol": interactive.SYMBOLS.get(spot.role.marker, "circle"),
                    "size": 15 if spot.chosen else 11,
                    "color": spot.role.color,
                },
            }
        )
    roles = [(name, style.Role(style.QUIET, dash, "")) for name, dash, _ in limits]
    roles += [(sentence(spot.name), spot.role) for spot in spots]
    points = [False] * len(limits) + [True] * len(spots)
    shown = interactive.layout(
        fmt,
        xaxis=interactive.axis(words("light let in (visible transmittance)"), range=[0, 1], tickformat=".0%"),
        yaxis=interactive.axis(words("heat let in (SHGC)"), range=[0, 1]),
    )
    keys = interactive.toggles(words("Shown"), roles, [True] * len(roles), points=points)
    return interactive.figure(data, shown, [keys])
