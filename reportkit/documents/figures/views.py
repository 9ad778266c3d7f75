"""How it looks: one strip across all films, bare glass first, from both sides by day and at night.

Colors are computed, not chosen: each spot of a pane is what shows through it plus what it mirrors, in
linear light, under one exposure for all films of a row (`reportkit.physics.glass.look`).
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Literal

import numpy as np

from reportkit.documents.blocks import Figure
from reportkit.documents.figures import scene
from reportkit.documents.figures.canvas import FULL, Box, Canvas
from reportkit.documents.figures.facts import Wording, chosen_of, named, options, plain_name, sentence
from reportkit.documents.language.formats import Formats
from reportkit.documents.layouts import style
from reportkit.documents.layouts.lettering import SMALL, height_mm, width_mm, wrapped
from reportkit.physics.glass import look

if TYPE_CHECKING:
    from reportkit.findings.findings import Findings
    from reportkit.findings.views import Scenes, ViewThrough

Time = Literal["day", "night"]
Side = Literal["indoors", "outdoors"]

#: The most films beside bare glass in one strip.
MOST = 6

#: A tile's widest width, its height as a share of it, and room between tiles and over a row [mm].
WIDEST, HIGH, GAP, OVER = 22.0, 0.86, 1.4, 5.4

#: Brightest tone of a row through bare glass, as a share of the brightest that can be shown.
HEADROOM = 0.95

#: A spot smaller than this share of the pane, such as a street lamp, may be too bright to be shown.
LEAST_SHOWN = 0.01

#: Rows from top to bottom, the time of day, and the side the eye is on.
ROWS: tuple[tuple[Time, Side], ...] = (
    ("day", "indoors"),
    ("day", "outdoors"),
    ("night", "indoors"),
    ("night", "outdoors"),
)
OTHER: dict[Side, Side] = {"indoors": "outdoors", "outdoors": "indoors"}

#: A spot of a pane: its corners in the pane's unit square and its linear light [cd/m2].
Spot = tuple[Sequence[scene.Point], np.ndarray]


def luminance(scenes: Scenes, time: Time, side: Side) -> float:
    """Return the luminance of one side at a time of day [cd/m2]."""
    sides = scenes.day if time == "day" else scenes.night
    return sides.indoors if side == "indoors" else sides.outdoors


def spots(pane: ViewThrough, luminances: Scenes, time: Time, side: Side) -> list[Spot]:
    """Return what an eye on one side sees on a pane, later spots covering earlier ones.

    Parameters
    ----------
    pane
        The look of the glazing, bare or with one film.
    luminances
        What is assumed on both sides [cd/m2].
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
    if pane.scatters:
        far = (scene.Shape(far[0].corners, scene.mean_light(far)),)
    off = scene.mirrored(scene.SCENES[time, side])
    beyond, near = luminance(luminances, time, OTHER[side]), luminance(luminances, time, side)
    t, r = pane.t_visible, pane.r_visible_out if side == "outdoors" else pane.r_visible_in
    if t * beyond >= r * near:  # the fainter layer inside: then no edge of the stronger one shines through
        pairs = [(shape, back) for shape in far for back in off]
    else:
        pairs = [(shape, back) for back in off for shape in far]
    made: list[Spot] = []
    for shape, back in pairs:
        corners = scene.common(shape.corners, back.corners)
        if corners:
            light = look.seen(
                np.array(shape.light) * beyond,
                np.array(back.light) * near,
                t_visible=t,
                r_visible=r,
                tints=pane.tints,
            )
            made.append((corners, light))
    return made


def wall_light(luminances: Scenes, time: Time, side: Side) -> np.ndarray:
    """Return the light of the wall around the pane, on the eye's side [cd/m2]."""
    wall = scene.INNER_WALL if side == "indoors" else scene.OUTER_WALL
    return np.array(wall) * luminance(luminances, time, side)


def exposure(bare: ViewThrough, luminances: Scenes, time: Time, side: Side) -> float:
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


def views(
    findings: Findings,
    fmt: Formats,
    words: Wording,
    *,
    films: Sequence[str] | None = None,
    narrow: bool = False,
) -> list[Figure]:
    """Return how the main glazing looks, bare and with each film; a second strip where films are many.

    Parameters
    ----------
    findings
        What a study found; reads ``views``, ``options`` and the names in ``job``.
    fmt
        The reader's numbers.
    words
        The reader's language.
    films
        The films to show; all that are compared where not given.
    narrow
        Whether the picture is no wider than what it shows, in place of a page's width.
    """
    job, looks = findings.job, findings.views
    entries = options(findings, words)
    chosen = chosen_of(entries).option.film
    wanted = {entry.option.film for entry in entries} if films is None else set(films)
    bare = next(pane for pane in looks.panes if pane.film is None)
    others = [pane for pane in looks.panes if pane.film is not None and pane.film in wanted]
    made = []
    for number, first in enumerate(range(0, max(len(others), 1), MOST)):
        shown = [bare, *others[first : first + MOST]]
        names = [words("bare glass") if pane.film is None else named(job.films, pane.film) for pane in shown]
        title = words("How the other films look") if number else _title(findings, others, chosen, fmt, words)
        made.append(
            Figure(
                id="views" if not number else f"views-{number + 1}",
                title=title,
                alt=_alt(shown, names, fmt, words),
                svg=_drawn(looks.luminance_cd_m2, shown, names, chosen, fmt, words, narrow=narrow),
                caption=words(
                    "Computed from the light each film lets through and mirrors on {glazing}; one exposure "
                    "for all films in a row. The street and the room are drawn, not yours; the tint follows "
                    "the word on the film's sheet.",
                    glazing=named(job.glazings, looks.glazing),
                ),
            )
        )
    return made


def _title(
    findings: Findings, films: list[ViewThrough], chosen: str | None, fmt: Formats, words: Wording
) -> str:
    pane = next((entry for entry in films if entry.film == chosen), None)
    if chosen is None or pane is None:
        if not films:
            return words("How your glass looks from both sides, by day and at night")
        low, high = (fmt.percent(end(entry.t_visible for entry in films)) for end in (min, max))
        return words("The films let in {low} to {high} of the light", low=low, high=high)
    values = {"film": named(findings.job.films, chosen), "light": fmt.percent(pane.t_visible)}
    if pane.scatters:
        return words("{film} lets in {light} of the light and blurs the view day and night", **values)
    if pane.hides_by_day and pane.hides_at_night:
        return words("{film} lets in {light} of the light, and hides the room by day and night", **values)
    if pane.hides_by_day:
        return words(
            "{film} lets in {light} of the light and hides the room by day; at night with lights on it shows",
            **values,
        )
    return words(
        "{film} lets in {light} of the light; it hides the room neither by day nor at night", **values
    )


def _alt(shown: list[ViewThrough], names: list[str], fmt: Formats, words: Wording) -> str:
    parts = "; ".join(
        words(
            "{film}: {light} of the light through, {out} mirrored outside, {back} mirrored inside",
            film=name,
            light=fmt.percent(pane.t_visible),
            out=fmt.percent(pane.r_visible_out),
            back=fmt.percent(pane.r_visible_in),
        )
        for pane, name in zip(shown, names, strict=True)
    )
    return words(
        "A drawn window seen from inside by day, outside by day, inside at night and outside at night, once "
        "for each film. {parts}.",
        parts=parts,
    )


def _drawn(
    luminances: Scenes,
    shown: list[ViewThrough],
    names: list[str],
    chosen: str | None,
    fmt: Formats,
    words: Wording,
    *,
    narrow: bool,
) -> str:
    wide = min(WIDEST, (FULL - GAP * (len(shown) - 1)) / len(shown))
    high = wide * HIGH
    is_chosen = [pane.film is not None and pane.film == chosen for pane in shown]
    heads = [
        wrapped(sentence(plain_name(name)), wide - 0.5, SMALL, lines=3, bold=bold)
        for name, bold in zip(names, is_chosen, strict=True)
    ]
    top = height_mm(max(len(head) for head in heads) + 1, SMALL) + 1.5
    titles = {
        ("day", "indoors"): words("from inside, by day"),
        ("day", "outdoors"): words("from outside, by day"),
        ("night", "indoors"): words("from inside, at night, lights on"),
        ("night", "outdoors"): words("from outside, at night, lights on inside"),
    }
    longest = max(width_mm(sentence(title), SMALL) for title in titles.values())
    across = max(len(shown) * (wide + GAP) - GAP, longest + 1.0) if narrow else FULL
    canvas = Canvas(across, top + len(ROWS) * (OVER + high) + 0.5)
    step = height_mm(1, SMALL)
    for column, (pane, head, bold) in enumerate(zip(shown, heads, is_chosen, strict=True)):
        x = column * (wide + GAP)
        first = max(len(other) for other in heads) - len(head)
        for number, line in enumerate(head):
            canvas.text(x, (first + number) * step + 2.6, line, size=SMALL, bold=bold)
        light = words("{light} light", light=fmt.percent(pane.t_visible))
        canvas.text(x, (first + len(head)) * step + 2.6, light, size=SMALL, color=style.QUIET)
    bare = shown[0]
    for row, (time, side) in enumerate(ROWS):
        y = top + row * (OVER + high) + OVER
        canvas.text(0, y - 1.5, sentence(titles[time, side]), size=SMALL, color=style.QUIET)
        exposed = exposure(bare, luminances, time, side)
        for column, pane in enumerate(shown):
            _tile(canvas, Box(column * (wide + GAP), y, wide, high), pane, luminances, time, side, exposed)
    return canvas.svg()


def _tile(
    canvas: Canvas, box: Box, pane: ViewThrough, luminances: Scenes, time: Time, side: Side, exposed: float
) -> None:
    """Draw the wall, the frame, and the pane in it."""
    wall = wall_light(luminances, time, side)
    canvas.rects([box], fill=color_of(wall, exposed))
    margin = box.width * 0.09
    frame = Box(box.x + margin, box.y + margin, box.width - 2 * margin, box.height - 2 * margin)
    light = luminance(luminances, time, side)
    canvas.rects([frame], fill=color_of(np.full(3, 0.8 * light), exposed))
    bar = max(0.5, box.width * 0.025)
    glass = Box(frame.x + bar, frame.y + bar, frame.width - 2 * bar, frame.height - 2 * bar)
    for corners, seen in spots(pane, luminances, time, side):
        placed = [(glass.x + x * glass.width, glass.y + y * glass.height) for x, y in corners]
        canvas.polygons([placed], fill=color_of(seen, exposed))
