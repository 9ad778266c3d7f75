"""Light at the eye of somebody who sits a metre from a pane and faces it, in the hours somebody is there.

Sky light comes through the pane by its configuration factor, through a shaped pane by that of its box times
the share that is glass. The sun's beam is counted in full while its disc
stands in the pane as the eye sees it; glass or film that scatters spreads the beam over the pane instead,
whenever it is lit. Not covered: other seats and looks, light off walls, desks and screens.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING
from weakref import WeakKeyDictionary

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

#: Direct radiation from which on the sun is said to shine [W/m2] (WMO-No. 8, sunshine duration).
SUNSHINE_W_M2 = 120.0


#: What was computed of a situation, by pane and film: every option asks for the same few.
_KNOWN: WeakKeyDictionary[Situation, dict[tuple[int, str | None], float]] = WeakKeyDictionary()


def at_the_eye(situation: Situation, option: Option) -> Array:
    """Return the light at the eye before each of P panes, summed over occupied hours, (P,) [lx]."""
    known = _KNOWN.setdefault(situation, {})
    asked = list(enumerate(option.film_by_pane))
    missing = [key for key in asked if key not in known]
    if missing:
        on, weather = situation.sun, situation.weather
        efficacy = room.diffuse_efficacy(
            weather.dni,
            weather.dhi,
            zenith=on.position.zenith,
            dni_extra=on.position.dni_extra,
            dew_point=weather.dew_point,
        )
        efficacy = np.where(np.isnan(efficacy), 0.0, efficacy)
        there = occupied(situation.job, weather)
        for index, film in missing:
            light = _before(situation, index, film, efficacy)
            known[index, film] = float(np.where(there[:, index], light, 0.0).sum())
    return np.array([known[key] for key in asked])


def _before(situation: Situation, index: int, film: str | None, efficacy: Array) -> Array:
    """Return the light at the eye before one pane with a film, at H hours [lx]."""
    panes, job = situation.sun.panes, situation.job
    pane = job.panes[index]
    gains = situation.filmed[pane.glazing, film].gains
    assert gains is not None  # options hold only film without a refusal
    wide, high = float(pane.width) / 1000, float(pane.height) / 1000
    below = EYE_M - (SILL_M if pane.sill is None else float(pane.sill) / 1000)
    factor = room.configuration_factor(
        left=wide / 2, right=wide / 2, below=below, above=high - below, distance=DISTANCE_M
    )
    factor = factor * pane.fill
    sky = (panes.circumsolar[:, index] + panes.sky[:, index] + panes.ground[:, index]) * efficacy
    beam = panes.beam[:, index] * BEAM_LM_PER_W
    glazing = next(spec for spec in job.glazings if spec.id == pane.glazing)
    if scatters(glazing, situation.films[film] if film else None):
        scattered: Array = (sky + beam) * gains.t_visible_diffuse * factor
        return scattered
    seen = _disc_in_view(situation, index, wide / 2, below, high - below, pane.outline)
    straight = beam * gains.interp(panes.aoi[:, index], quantity="t_visible")
    light: Array = sky * gains.t_visible_diffuse * factor + np.where(seen, straight, 0.0)
    return light


@dataclass(frozen=True, eq=False)
class InView:
    """When the sun's disc is seen from the seat before one pane, and how bright.

    ``pane`` is its number, ``hours`` (12, 24) those by month and clock [h], ``at`` the brightest of the
    weather's hours (None: never), ``discs`` then by option: id, visible transmittance [1], luminance [cd/m2].
    """

    pane: int
    hours: Array
    at: int | None
    discs: tuple[tuple[str, float, float | None], ...]


def in_view(situation: Situation, options: Sequence[Option]) -> InView:
    """Return when the sun is seen through the pane complained of in which it is seen longest.

    Hour by hour, by the sun in its middle: counted while somebody is there and the sun shines on the pane.
    """
    on, weather, job = situation.sun, situation.weather, situation.job
    shines = occupied(job, weather) & (on.panes.beam > 0) & (weather.dni > SUNSHINE_W_M2)[:, None]
    seen = np.zeros_like(shines)
    for number, pane in enumerate(job.panes):
        if not situation.complained[number]:
            continue
        below = EYE_M - (SILL_M if pane.sill is None else float(pane.sill) / 1000)
        half, above = float(pane.width) / 2000, float(pane.height) / 1000 - below
        seen[:, number] = shines[:, number] & _disc_in_view(
            situation, number, half, below, above, pane.outline
        )
    index = int(np.argmax(seen.sum(axis=0)))
    mine = seen[:, index]
    cell = (np.asarray(weather.times.month) - 1) * 24 + np.asarray(weather.times.hour)
    counted: Array = np.bincount(cell[mine], minlength=288).astype(float)
    hours = counted.reshape(12, 24) * weather.step_hours
    if not mine.any():
        return InView(index, hours, None, ())
    pane = job.panes[index]
    bare = situation.filmed[pane.glazing, None].gains
    assert bare is not None  # bare glass is always rated
    aoi = on.panes.aoi[:, index]
    at = int(np.argmax(np.where(mine, weather.dni * bare.interp(aoi, quantity="t_visible"), -1.0)))
    glazings = {spec.id: spec for spec in job.glazings}
    discs: list[tuple[str, float, float | None]] = []
    for option in options:
        film = option.film_by_pane[index]
        gains = situation.filmed[pane.glazing, film].gains
        assert gains is not None  # options hold only film without a refusal
        share = float(gains.interp(aoi[at], quantity="t_visible"))
        bright = float(room.disc_luminance(weather.dni[at], t_visible=share, efficacy=BEAM_LM_PER_W))
        blurred = scatters(glazings[pane.glazing], situation.films[film] if film else None)
        discs.append((option.id, share, None if blurred else bright))
    return InView(index, hours, at, tuple(discs))


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
