"""Findings about the look of the glass: the light, mirror and privacy each film leaves, by day and night."""

from __future__ import annotations

from collections import defaultdict
from typing import TYPE_CHECKING

from reportkit.findings.result import Result, Share, Text, finite
from reportkit.physics.glass import look
from reportkit.study.sight import BRIGHTER, SCENES, scatters

if TYPE_CHECKING:
    from reportkit.study import Study

#: Each view: the time of day and the side the eye is on.
VIEWS: dict[str, tuple[str, str]] = {
    "inside_day": ("day", "indoors"),
    "outside_day": ("day", "outdoors"),
    "inside_night": ("night", "indoors"),
    "outside_night": ("night", "outdoors"),
}


class Sides(Result):
    """A luminance on both sides of the glass."""

    indoors: float
    """Of the room [cd/m2]."""
    outdoors: float
    """Of the world outside [cd/m2]."""


class Scenes(Result):
    """The luminances by time of day."""

    day: Sides
    """By day."""
    night: Sides
    """After dark, with lights on."""


class ByView(Result):
    """A value for each view through the glass."""

    inside_day: float
    """From inside by day [1]."""
    outside_day: float
    """From outside by day [1]."""
    inside_night: float
    """From inside after dark [1]."""
    outside_night: float
    """From outside after dark [1]."""


class ViewThrough(Result):
    """The look of the main glazing, bare or with one film."""

    film: str | None
    """The film; null for bare glass."""
    tints: tuple[str, ...]
    """The tints of its lites and its film."""
    t_visible: Share
    """Visible transmittance [1]."""
    r_visible_out: Share
    """Visible reflectance to the outside [1]."""
    r_visible_in: Share
    """Visible reflectance to the room [1]."""
    scatters: bool
    """Whether it blurs shapes at any time."""
    privacy_ratio: float | None
    """How many times brighter it must be outside for the room to be hidden [1]; null where it scatters."""
    hides_by_day: bool
    """Whether the room is hidden by day."""
    hides_at_night: bool
    """Whether the room is hidden after dark with lights on."""
    contrast_left: ByView | None
    """The part of a scene's contrast left behind the glass [1]; null where it scatters."""
    brightness_beside_bare: ByView
    """Brightness against that of bare glass [1]."""


class Views(Result):
    """The look of the main glazing from both sides, by day and after dark."""

    glazing: str
    """The glazing with the largest area to be filmed."""
    luminance_cd_m2: Scenes
    """What is assumed on both sides [cd/m2]."""
    hidden_below: float
    """Contrast below which nothing is made out [1]."""
    outdoors_brighter: float
    """How many times brighter it is outside by day than inside [1]."""
    mark: Text
    """Where these come from."""
    panes: tuple[ViewThrough, ...]
    """Bare glass and each film."""


def main_glazing(study: Study) -> str:
    """Return the glazing with the largest area to be filmed, or the largest of all where none is."""
    panes = study.job.panes
    filmed = [pane for pane, film in zip(panes, study.chosen.film_by_pane, strict=True) if film]
    area: dict[str, float] = defaultdict(float)
    for pane in filmed or panes:
        area[pane.glazing] += pane.area_mm2 * pane.quantity
    return max(sorted(area), key=lambda name: area[name])


def fill_views(study: Study) -> Views:
    """Return the look of the main glazing, bare and with each film, from both sides by day and at night.

    A frosted film or patterned glass scatters: shapes are blurred at any time, so no contrast is given.
    """
    name = main_glazing(study)
    spec = next(entry for entry in study.job.glazings if entry.id == name)
    glass_tints = [lite.glass for lite in spec.lites]
    bare = study.filmed[name, None].rating
    assert bare is not None  # bare glass is never refused
    panes = []
    for (glazing_id, film_id), glazed in study.filmed.items():
        rating = glazed.rating
        if glazing_id != name or rating is None:
            continue
        tints = [*glass_tints, *([study.films[film_id].tint] if film_id else [])]
        t, r_out, r_in = rating.t_visible, rating.r_visible_out, rating.r_visible_in
        ratio = look.privacy_ratio(t, r_out)
        blurs = scatters(spec, study.films[film_id] if film_id else None)
        left: dict[str, float] = {}
        beside: dict[str, float] = {}
        for view, (time, side) in VIEWS.items():
            near = SCENES[time][side]
            beyond = SCENES[time]["indoors" if side == "outdoors" else "outdoors"]
            facing, bare_facing = (
                (r_out, bare.r_visible_out) if side == "outdoors" else (r_in, bare.r_visible_in)
            )
            left[view] = look.contrast_left(t, facing, beyond=beyond, near=near)
            beside[view] = (t * beyond + facing * near) / (bare.t_visible * beyond + bare_facing * near)
        panes.append(
            ViewThrough(
                film=film_id,
                tints=tuple(tints),
                t_visible=t,
                r_visible_out=r_out,
                r_visible_in=r_in,
                scatters=blurs,
                privacy_ratio=None if blurs else finite(ratio),
                hides_by_day=blurs or ratio <= BRIGHTER,
                hides_at_night=blurs or left["outside_night"] <= look.HIDDEN,
                contrast_left=None if blurs else ByView(**left),
                brightness_beside_bare=ByView(**beside),
            )
        )
    return Views(
        glazing=name,
        luminance_cd_m2=Scenes(**{time: Sides(**sides) for time, sides in SCENES.items()}),
        hidden_below=look.HIDDEN,
        outdoors_brighter=BRIGHTER,
        mark="common practice, no source",
        panes=tuple(panes),
    )
