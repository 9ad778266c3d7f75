"""Results about the look of the glass: the light, mirror and privacy each film leaves, by day and night."""

from __future__ import annotations

import math
from collections import defaultdict
from typing import TYPE_CHECKING, Any

from reportkit.glass import look
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


def main_glazing(study: Study) -> str:
    """Return the glazing with the largest area to be filmed, or the largest of all where none is."""
    panes = study.job.panes
    filmed = [pane for pane, film in zip(panes, study.chosen.film_by_pane, strict=True) if film]
    area: dict[str, float] = defaultdict(float)
    for pane in filmed or panes:
        area[pane.glazing] += float(pane.width * pane.height) * pane.quantity
    return max(sorted(area), key=lambda name: area[name])


def views(study: Study) -> dict[str, Any]:
    """Return the look of the main glazing, bare and with each film, from both sides by day and at night.

    A frosted film or patterned glass scatters: shapes are blurred at any time, so no contrast is given.
    """
    name = main_glazing(study)
    spec = next(entry for entry in study.job.glazings if entry.id == name)
    glass_tints = [lite.glass for lite in spec.lites]
    bare = study.fittings[name, None].rating
    assert bare is not None  # bare glass is never refused
    panes = []
    for (glazing_id, film_id), fit in study.fittings.items():
        rating = fit.rating
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
            {
                "film": film_id,
                "tints": tints,
                "t_visible": t,
                "r_visible_out": r_out,
                "r_visible_in": r_in,
                "scatters": blurs,
                "privacy_ratio": None if blurs or not math.isfinite(ratio) else ratio,
                "hides_by_day": blurs or ratio <= BRIGHTER,
                "hides_at_night": blurs or left["outside_night"] <= look.HIDDEN,
                "contrast_left": None if blurs else left,
                "brightness_beside_bare": beside,
            }
        )
    return {
        "glazing": name,
        "luminance_cd_m2": SCENES,
        "hidden_below": look.HIDDEN,
        "outdoors_brighter": BRIGHTER,
        "mark": "common practice, no source",
        "panes": panes,
    }
