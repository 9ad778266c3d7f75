"""How much of a room shows from outside: by day behind the mirrored street, after dark with lights on.

What shows is the contrast of the room that is left behind the mirrored outdoors, from the share that counts
as hidden (0) to all of it (1). Film or glass that scatters shows blurred shapes only, and counts as hidden.
Not covered: curtains, the distance of who looks, rooms darker than the one assumed.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from reportkit.base.arrays import Array
from reportkit.physics.glass import look
from reportkit.study.presence import occupied

if TYPE_CHECKING:
    from reportkit.job.model import FilmSpec, GlazingSpec
    from reportkit.study.options import Option
    from reportkit.study.situation import Situation


#: Luminance outdoors and in a room near its window [cd/m2]: a clear day, and a lit room on a lit street.
#: Common practice, no source.
SCENES: dict[str, dict[str, float]] = {
    "day": {"outdoors": 1500.0, "indoors": 150.0},
    "night": {"outdoors": 1.0, "indoors": 40.0},
}

#: Film is said to hide a room where outdoors is so many times brighter (common practice, no source).
BRIGHTER = 3.5

#: Luminance of the room and of outdoors that what shows is computed with, by day and after dark [any unit]:
#: by day the least difference that fitters promise anything for, not the bright one that is drawn.
SIDES: dict[str, tuple[float, float]] = {
    "day": (1.0, BRIGHTER),
    "dark": (SCENES["night"]["indoors"], SCENES["night"]["outdoors"]),
}


def scatters(glazing: GlazingSpec, film: FilmSpec | None) -> bool:
    """Return whether shapes are blurred at any time: patterned glass, or frosted film."""
    patterned = any(lite.rough_faces for lite in glazing.lites)
    return patterned or (film is not None and film.film_class == "frosted")


def shows(t_visible: float, r_visible_out: float, *, room: float, outdoors: float) -> float:
    """Return how much of a room shows from outside, 0 (hidden) to 1 [1]."""
    left = look.contrast_left(t_visible, r_visible_out, beyond=room, near=outdoors)
    return max(0.0, left - look.HIDDEN) / (1.0 - look.HIDDEN)


def by_pane(situation: Situation, option: Option, when: str) -> Array:
    """Return how much shows through each of P panes, (P,) [1]; ``when`` is a key of ``SIDES``."""
    glazings = {spec.id: spec for spec in situation.job.glazings}
    room, outdoors = SIDES[when]
    shown = []
    for pane, name in zip(situation.job.panes, option.film_by_pane, strict=True):
        rating = situation.filmed[pane.glazing, name].rating
        assert rating is not None  # options hold only film without a refusal
        if scatters(glazings[pane.glazing], situation.films[name] if name else None):
            shown.append(0.0)
        else:
            shown.append(shows(rating.t_visible, rating.r_visible_out, room=room, outdoors=outdoors))
    return np.array(shown)


def dark_share(situation: Situation) -> Array:
    """Return the share of the hours somebody is there that the sun is down, by pane, (P,) [1]."""
    there = occupied(situation.job, situation.weather)
    dark = (situation.sun.position.elevation < 0)[:, None] & there
    share: Array = dark.sum(axis=0) / np.maximum(there.sum(axis=0), 1)
    return share
