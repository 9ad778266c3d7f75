"""Every option side by side: heat at the worst hour [W], sun of the warmer and the cooler half [kWh].

Bars with their numbers, one row an option. Does not cover the bill, which the room decides.
"""

from __future__ import annotations

from typing import Any

from reportkit.report import style
from reportkit.report.blocks import Figure
from reportkit.report.figures import interactive
from reportkit.report.figures.facts import (
    NO_CHANGE,
    Entry,
    Results,
    Wording,
    bare_of,
    chosen_of,
    month_span,
    options,
    other_half,
    sentence,
)
from reportkit.report.figures.lettering import SMALL, height_mm, width_mm, wrapped
from reportkit.report.figures.sheet import FULL, Box, Sheet
from reportkit.report.formats import Formats

NAMES, APART = 46.0, 5.0


def _title(entries: list[Entry], fmt: Formats, words: Wording) -> str:
    bare, chosen = bare_of(entries), chosen_of(entries)
    base, got = bare.data["peak_solar_w"], chosen.data["peak_solar_w"]
    best = min((entry for entry in entries if entry is not bare), key=lambda e: e.data["peak_solar_w"])
    least = best.data["peak_solar_w"]
    amounts = {"bare": fmt.power(base), "least": fmt.power(least), "best": best.name}
    if round(base) <= 0:
        return words("No sun heat comes through this glass, so the options do not differ in it")
    if least >= base * (1 - NO_CHANGE):
        return words(
            "No option lets in clearly less heat at the worst hour than bare glass, {bare}", **amounts
        )
    if chosen is bare:
        return words(
            "Bare glass lets in {bare} at the worst hour; the least is {least} with {best}", **amounts
        )
    film = {"film": sentence(chosen.name), "watts": fmt.power(got)}
    if got <= least:
        return words(
            "{film} lets in the least heat at the worst hour: {watts}, against {bare} through bare glass",
            **film,
            **amounts,
        )
    return words(
        "{film} lets in {watts} at the worst hour, bare glass {bare}; the least is {least} with {best}",
        **film,
        **amounts,
    )


def _columns(entries: list[Entry], fmt: Formats, words: Wording) -> list[tuple[str, str, list[float | None]]]:
    """Return heading, unit and values of each column that has values."""
    summer = list(bare_of(entries).data.get("summer_months") or (4, 5, 6, 7, 8, 9))
    winter = other_half(summer)
    asked = [
        (words("heat at the worst hour"), "W", "peak_solar_w"),
        (words("sun, {months}", months=month_span(fmt, words, summer)), "kWh", "summer_solar_kwh"),
        (
            words("sun, {months}", months=month_span(fmt, words, winter)),
            "kWh",
            "winter_solar_kwh",
        ),
    ]
    made = [(head, unit, [entry.data.get(key) for entry in entries]) for head, unit, key in asked]
    return [column for column in made if any(value is not None for value in column[2])]


def options_bars(results: Results, fmt: Formats, words: Wording) -> Figure | None:
    """Return the options side by side; None where there is but one.

    Parameters
    ----------
    results
        Results of a job; reads ``options`` and the names in ``job``.
    fmt
        The reader's numbers.
    words
        The reader's language.
    """
    entries = options(results, words)
    if len(entries) < 2:
        return None
    columns = _columns(entries, fmt, words)
    values = "; ".join(
        f"{entry.name}: "
        + ", ".join(f"{head} {_shown(column[number], unit, fmt)}" for head, unit, column in columns)
        for number, entry in enumerate(entries)
    )
    return Figure(
        id="options",
        title=_title(entries, fmt, words),
        alt=words("Bars, one row an option. {values}.", values=values),
        svg=_drawn(entries, columns, fmt),
        plotly=_interactive(entries, columns, fmt, words),
    )


def _shown(value: float | None, unit: str, fmt: Formats) -> str:
    return fmt.power(value, 3) if unit == "W" else fmt.energy(value, 3)


def _drawn(entries: list[Entry], columns: list[tuple[str, str, list[float | None]]], fmt: Formats) -> str:
    names = [wrapped(sentence(entry.name), NAMES - 3, bold=entry.chosen) for entry in entries]
    rows = [max(6.6, height_mm(len(name)) + 1.6) for name in names]
    wide = (FULL - NAMES - APART * (len(columns) - 1)) / len(columns)
    heads = [wrapped(head, wide, SMALL) for head, _, _ in columns]
    top = 2.5 + 3.6 * max(len(head) for head in heads)
    sheet = Sheet(FULL, top + sum(rows) + 1.5)
    for number, (_, unit, values) in enumerate(columns):
        x = NAMES + number * (wide + APART)
        for line, text in enumerate(heads[number]):
            sheet.text(x, 3.4 + 3.6 * line, text, size=SMALL, color=style.QUIET)
        texts = [_shown(value, unit, fmt) for value in values]
        room = wide - max(width_mm(text, SMALL, bold=True) for text in texts) - 2
        most = max((value or 0.0 for value in values), default=0.0)
        y = top
        for entry, value, text, tall in zip(entries, values, texts, rows, strict=True):
            long = room * max(value or 0.0, 0.0) / most if most > 0 else 0.0
            bar = Box(x, y + tall / 2 - 2.1, long, 4.2)
            if long > 0:
                sheet.rects([bar], fill=entry.role.color, hatch=entry.role.hatch, edge=style.INK, line=0.4)
            sheet.text(x + long + 1.4, y + tall / 2, text, size=SMALL, middle=True, bold=entry.chosen)
            y += tall
        sheet.line([(x, top), (x, y)], color=style.QUIET)
    y = top
    for entry, name, tall in zip(entries, names, rows, strict=True):
        sheet.lines(NAMES - 2, y + tall / 2, name, align="right", bold=entry.chosen)
        y += tall
    return sheet.svg()


def _interactive(
    entries: list[Entry],
    columns: list[tuple[str, str, list[float | None]]],
    fmt: Formats,
    words: Wording,
) -> dict[str, Any]:
    names = [interactive.safe(sentence(entry.name)) for entry in entries]
    numbers = list(range(len(entries)))
    data = []
    for order, (head, unit, values) in enumerate(columns):
        data.append(
            {
                "type": "bar",
                "orientation": "h",
                "name": f"{head} [{unit}]",
                "x": values,
                "y": numbers,
                "text": [
                    f"{name}<br>{head}: {_shown(value, unit, fmt)}"
                    for name, value in zip(names, values, strict=True)
                ],
                "textposition": "none",
                "hovertemplate": "%{text}<extra></extra>",
                "marker": {
                    "color": [entry.role.color for entry in entries],
                    "pattern": {
                        "shape": [entry.role.hatch[:1] for entry in entries],
                        "fgcolor": style.PAPER,
                        "size": 6,
                    },
                },
                "visible": order == 0,
            }
        )
    choices = [
        {
            "label": f"{head} [{unit}]",
            "data": {"visible": [number == order for number in range(len(columns))]},
        }
        for order, (head, unit, _) in enumerate(columns)
    ]
    short = [name if len(name) <= 22 else name[:21] + "…" for name in (sentence(e.name) for e in entries)]
    shown = interactive.layout(
        fmt,
        xaxis=interactive.axis(rangemode="tozero"),
        yaxis=interactive.axis(
            tickvals=numbers, ticktext=[interactive.safe(name) for name in short], autorange="reversed"
        ),
    )
    return interactive.figure(data, shown, [interactive.switch(words("Shown"), choices)])
