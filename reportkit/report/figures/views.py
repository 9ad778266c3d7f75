"""How it looks: one strip across all films, bare glass first, from both sides by day and at night.

Colors are computed, not chosen: each spot of a pane is what shows through it plus what it mirrors, in
linear light, under one exposure for all films of a row (`reportkit.glass.look`).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np

from reportkit.glass import look
from reportkit.report import style
from reportkit.report.blocks import Figure
from reportkit.report.figures import scene
from reportkit.report.figures.facts import Results, Wording, chosen_of, name_of, options, plain_name, sentence
from reportkit.report.figures.lettering import SMALL, height_mm, wrapped
from reportkit.report.figures.sheet import FULL, Box, Sheet
from reportkit.report.formats import Formats

#: The most films beside bare glass in one strip.
MOST = 6

#: A tile's widest width, its height as a share of it, and room between tiles and over a row [mm].
WIDEST, HIGH, GAP, OVER = 34.0, 0.86, 1.4, 5.4

#: Brightest tone of a row through bare glass, as a share of the brightest that can be shown.
HEADROOM = 0.95

#: A spot smaller than this share of the pane, such as a street lamp, may be too bright to be shown.
LEAST_SHOWN = 0.01

#: Rows from top to bottom, the time of day, and the side the eye is on.
ROWS: tuple[tuple[str, str, str], ...] = (
    ("inside_day", "day", "indoors"),
    ("outside_day", "day", "outdoors"),
    ("inside_night", "night", "indoors"),
    ("outside_night", "night", "outdoors"),
)
OTHER = {"indoors": "outdoors", "outdoors": "indoors"}

#: A spot of a pane: its corners in the pane's unit square and its linear light [cd/m2].
Spot = tuple[Sequence[scene.Point], np.ndarray]


def spots(pane: Mapping[str, Any], luminances: Mapping[str, Any], time: str, side: str) -> list[Spot]:
    """Return what an eye on one side sees on a pane, later spots covering earlier ones.

    Parameters
    ----------
    pane
        An entry of the results' ``views.panes``.
    luminances
        The results' ``views.luminance_cd_m2``.
    time
        ``day`` or ``night``.
    side
        Where the eye is: ``indoors`` or ``outdoors``.

    Returns
    -------
    list
        Every pair of a shape beyond and a shape mirrored that meet: where they do, and the light there.
        A pane that scatters shows the far side's mean light in place of its shapes.
    """
    far = scene.SCENES[time, OTHER[side]]
    if pane["scatters"]:
        far = (scene.Shape(far[0].corners, scene.mean_light(far)),)
    off = scene.mirrored(scene.SCENES[time, side])
    beyond, near = luminances[time][OTHER[side]], luminances[time][side]
    t, r = pane["t_visible"], pane["r_visible_out" if side == "outdoors" else "r_visible_in"]
    if t * beyond >= r * near:  # the fainter layer inside: then no edge of the stronger one shines through
        pairs = [(shape, back) for shape in far for back in off]
    else:
        pairs = [(shape, back) for back in off for shape in far]
    found: list[Spot] = []
    for shape, back in pairs:
        corners = scene.common(shape.corners, back.corners)
        if corners:
            light = look.seen(
                np.array(shape.light) * beyond,
                np.array(back.light) * near,
                t_visible=t,
                r_visible=r,
                tints=pane["tints"],
            )
            found.append((corners, light))
    return found


def wall_light(luminances: Mapping[str, Any], time: str, side: str) -> np.ndarray:
    """Return the light of the wall around the pane, on the eye's side [cd/m2]."""
    wall = scene.INNER_WALL if side == "indoors" else scene.OUTER_WALL
    return np.array(wall) * luminances[time][side]


def exposure(bare: Mapping[str, Any], luminances: Mapping[str, Any], time: str, side: str) -> float:
    """Return the one exposure of a row: the brightest tone with bare glass comes just under white [m2/cd]."""
    tones = [
        float(light.max())
        for corners, light in spots(bare, luminances, time, side)
        if scene.area(corners) >= LEAST_SHOWN
    ]
    return HEADROOM / max(*tones, float(wall_light(luminances, time, side).max()))


def color_of(light: np.ndarray, exposed: float) -> str:
    """Return linear light as a color of the drawing."""
    return "#" + "".join(f"{round(255 * part):02x}" for part in look.encoded(light, exposed).tolist())


def views(results: Results, fmt: Formats, words: Wording) -> list[Figure]:
    """Return how the main glazing looks, bare and with each film; a second strip where films are many.

    Parameters
    ----------
    results
        Results of a job; reads ``views``, ``options`` and the names in ``job``.
    fmt
        The reader's numbers.
    words
        The reader's language.
    """
    data = results.get("views")
    if not data:
        return []
    compared = {entry.data.get("film") for entry in options(results, words)}
    bare = next(pane for pane in data["panes"] if pane["film"] is None)
    films = [pane for pane in data["panes"] if pane["film"] is not None and pane["film"] in compared]
    made = []
    for number, first in enumerate(range(0, max(len(films), 1), MOST)):
        shown = [bare, *films[first : first + MOST]]
        names = [
            words("bare glass") if pane["film"] is None else name_of(results, "films", pane["film"])
            for pane in shown
        ]
        made.append(
            Figure(
                id="views" if not number else f"views-{number + 1}",
                title=_title(results, films, fmt, words) if not number else words("How the other films look"),
                alt=_alt(shown, names, fmt, words),
                svg=_drawn(results, shown, names, fmt, words),
                caption=words(
                    "Computed from the light each film lets through and mirrors on {glazing}; one exposure "
                    "for all films in a row. The street and the room are drawn, not yours; the tint follows "
                    "the word on the film's sheet.",
                    glazing=plain_name(name_of(results, "glazings", data["glazing"])),
                ),
            )
        )
    return made


def _title(results: Results, films: list[Any], fmt: Formats, words: Wording) -> str:
    chosen = chosen_of(options(results, words)).data.get("film")
    pane = next((entry for entry in films if entry["film"] == chosen), None)
    if chosen is None or pane is None:
        if not films:
            return words("How your glass looks from both sides, by day and at night")
        low, high = (fmt.percent(end(entry["t_visible"] for entry in films)) for end in (min, max))
        return words("The films let in {low} to {high} of the light", low=low, high=high)
    values = {"film": name_of(results, "films", chosen), "light": fmt.percent(pane["t_visible"])}
    if pane["scatters"]:
        return words("{film} lets in {light} of the light and blurs the view day and night", **values)
    if pane["hides_by_day"] and pane["hides_at_night"]:
        return words("{film} lets in {light} of the light, and hides the room by day and night", **values)
    if pane["hides_by_day"]:
        return words(
            "{film} lets in {light} of the light and hides the room by day; at night with lights on it shows",
            **values,
        )
    return words(
        "{film} lets in {light} of the light; it hides the room neither by day nor at night", **values
    )


def _alt(shown: list[Any], names: list[str], fmt: Formats, words: Wording) -> str:
    parts = "; ".join(
        words(
            "{film}: {light} of the light through, {out} mirrored outside, {back} mirrored inside",
            film=name,
            light=fmt.percent(pane["t_visible"]),
            out=fmt.percent(pane["r_visible_out"]),
            back=fmt.percent(pane["r_visible_in"]),
        )
        for pane, name in zip(shown, names, strict=True)
    )
    return words(
        "A drawn window seen from inside by day, outside by day, inside at night and outside at night, once "
        "for each film. {parts}.",
        parts=parts,
    )


def _drawn(results: Results, shown: list[Any], names: list[str], fmt: Formats, words: Wording) -> str:
    data = results["views"]
    luminances = data["luminance_cd_m2"]
    chosen = chosen_of(options(results, words)).data.get("film")
    wide = min(WIDEST, (FULL - GAP * (len(shown) - 1)) / len(shown))
    high = wide * HIGH
    is_chosen = [pane["film"] is not None and pane["film"] == chosen for pane in shown]
    heads = [
        wrapped(sentence(plain_name(name)), wide - 0.5, SMALL, lines=3, bold=bold)
        for name, bold in zip(names, is_chosen, strict=True)
    ]
    top = height_mm(max(len(head) for head in heads) + 1, SMALL) + 1.5
    sheet = Sheet(FULL, top + len(ROWS) * (OVER + high) + 0.5)
    step = height_mm(1, SMALL)
    for column, (pane, head, bold) in enumerate(zip(shown, heads, is_chosen, strict=True)):
        x = column * (wide + GAP)
        first = max(len(other) for other in heads) - len(head)
        for number, line in enumerate(head):
            sheet.text(x, (first + number) * step + 2.6, line, size=SMALL, bold=bold)
        light = words("{light} light", light=fmt.percent(pane["t_visible"]))
        sheet.text(x, (first + len(head)) * step + 2.6, light, size=SMALL, color=style.QUIET)
    bare = shown[0]
    titles = {
        "inside_day": words("from inside, by day"),
        "outside_day": words("from outside, by day"),
        "inside_night": words("from inside, at night, lights on"),
        "outside_night": words("from outside, at night, lights on inside"),
    }
    for row, (name, time, side) in enumerate(ROWS):
        y = top + row * (OVER + high) + OVER
        sheet.text(0, y - 1.5, sentence(titles[name]), size=SMALL, color=style.QUIET)
        exposed = exposure(bare, luminances, time, side)
        for column, pane in enumerate(shown):
            _tile(sheet, Box(column * (wide + GAP), y, wide, high), pane, luminances, time, side, exposed)
    return sheet.svg()


def _tile(
    sheet: Sheet, box: Box, pane: Any, luminances: Mapping[str, Any], time: str, side: str, exposed: float
) -> None:
    """Draw the wall, the frame, and the pane in it."""
    wall = wall_light(luminances, time, side)
    sheet.rects([box], fill=color_of(wall, exposed))
    margin = box.width * 0.09
    frame = Box(box.x + margin, box.y + margin, box.width - 2 * margin, box.height - 2 * margin)
    light = luminances[time][side]
    sheet.rects([frame], fill=color_of(np.full(3, 0.8 * light), exposed))
    bar = max(0.5, box.width * 0.025)
    glass = Box(frame.x + bar, frame.y + bar, frame.width - 2 * bar, frame.height - 2 * bar)
    for corners, seen in spots(pane, luminances, time, side):
        placed = [(glass.x + x * glass.width, glass.y + y * glass.height) for x, y in corners]
        sheet.polygons([placed], fill=color_of(seen, exposed))
