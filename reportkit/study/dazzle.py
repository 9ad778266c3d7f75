"""Light at the eye of somebody who sits a metre from a pane and faces it, in the hours somebody is there.

Sky light comes through the pane by its configuration factor, through a shaped pane by that of its box times
the share that is glass. The sun's beam is counted in full while its disc
stands in the pane as the eye sees it; glass or film that scatters spreads the beam over the pane instead,
whenever it is lit. Not covered: other seats and looks, light off walls, desks and screens.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from reportkit.base.arrays import Array, Mask
from reportkit.physics import room
from reportkit.study.bywindow import DISTANCE_M, EYE_M, SILL_M
from reportkit.study.presence import occupied
from reportkit.study.sight import scatters

if TYPE_CHECKING:
    from reportkit.base.outline import Outline
    from reportkit.study.options import Option
    from reportkit.study.situation import Situation


#: Luminous efficacy of the sun's beam [lm/W]; between some 90 and 105 for a clear sky (common practice, no
#: source).
BEAM_LM_PER_W = 100.0


def at_the_eye(situation: Situation, option: Option) -> Array:
    """Return the light at the eye before each of P panes at each of H hours, (H, P) [lx]; 0 while empty."""
    on, weather, job = situation.sun, situation.weather, situation.job
    glazings = {spec.id: spec for spec in job.glazings}
    efficacy = room.diffuse_efficacy(
        weather.dni,
        weather.dhi,
        zenith=on.position.zenith,
        dni_extra=on.position.dni_extra,
        dew_point=weather.dew_point,
    )
    efficacy = np.where(np.isnan(efficacy), 0.0, efficacy)
    found = np.zeros_like(on.panes.beam)
    for index, (pane, film) in enumerate(zip(job.panes, option.film_by_pane, strict=True)):
        gains = situation.filmed[pane.glazing, film].gains
        assert gains is not None  # options hold only film without a refusal
        wide, high = float(pane.width) / 1000, float(pane.height) / 1000
        below = EYE_M - (SILL_M if pane.sill is None else float(pane.sill) / 1000)
        factor = room.configuration_factor(
            left=wide / 2, right=wide / 2, below=below, above=high - below, distance=DISTANCE_M
        )
        factor = factor * pane.fill
        sky = on.panes.diffuse[:, index] * efficacy
        beam = on.panes.beam[:, index] * BEAM_LM_PER_W
        if scatters(glazings[pane.glazing], situation.films[film] if film else None):
            found[:, index] = (sky + beam) * gains.t_visible_diffuse * factor
        else:
            seen = _disc_in_view(situation, index, wide / 2, below, high - below, pane.outline)
            straight = beam * gains.interp(on.panes.aoi[:, index], quantity="t_visible")
            found[:, index] = sky * gains.t_visible_diffuse * factor + np.where(seen, straight, 0.0)
    return np.where(occupied(job, weather), found, 0.0)


def _disc_in_view(
    situation: Situation, index: int, half: float, below: float, above: float, outline: Outline | None
) -> Mask:
    """Return whether the ray from the eye to the sun goes through a pane, (H,).

    The pane reaches ``half`` to each side of the eye's line of sight, ``below`` and ``above`` it [m], or
    fills an outline in that box, seen from outside [mm].
    """
    position = situation.sun.position
    face = situation.job.faces[situation.sun.face_of[index]]
    turn, up = np.radians(position.azimuth - face.bearing), np.radians(position.elevation)
    lean = np.radians(face.tilt)
    level = np.cos(up) * np.cos(turn)
    out = level * np.sin(lean) + np.sin(up) * np.cos(lean)
    ahead = np.maximum(out, 1e-6)
    side = DISTANCE_M * np.cos(up) * np.sin(turn) / ahead
    rise = DISTANCE_M * (np.sin(up) * np.sin(lean) - level * np.cos(lean)) / ahead
    inside: Mask = (out > 0) & (np.abs(side) <= half) & (rise >= -below) & (rise <= above)
    if outline is not None:
        # what lies right for the eye lies left from outside
        inside = inside & outline.contains(1000 * (half - side), 1000 * (rise + below))
    return inside
