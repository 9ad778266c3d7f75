"""What a person feels and sees one metre from the pane that lets in most: sun, hot glass, glare, cold glass.

Sun on a seated person by SolarCal (ASHRAE 55), the long-wave of the hot pane by ISO 7726, glare as
simplified daylight glare probability for hours without the sun's disc on the pane, condensation by the
inner face on the coldest hour. A shaped pane counts as its box times the
share that is glass. Not covered: other seats, reflections, draughts.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from reportkit.base.arrays import Array
from reportkit.physics import glass, room
from reportkit.physics.room.glare import verdict

if TYPE_CHECKING:
    from reportkit.climate import Weather
    from reportkit.job import LoadedJob
    from reportkit.study.filmed import Filmed, FilmedGlass
    from reportkit.study.options import Gains, Option
    from reportkit.study.solar import Sky, Solar


#: Where the person sits: distance to the pane, height of the body's centre and of the eye [m] (ISO 7726 and
#: EN 17037 take 0.6 and 1.2 for a seated person, from memory).
DISTANCE_M, CENTRE_M, EYE_M = 1.0, 0.6, 1.2
#: Sill where the survey has none [m], and room air beside the hot and beside the cold pane [C] (common
#: practice, no source).
SILL_M, ROOM_HOT_C, ROOM_COLD_C = 0.9, 25.0, 20.0


@dataclass(frozen=True)
class Seat:
    """What one option does to a person by the window.

    ``sun_k`` and ``pane_k`` [K] add to the mean radiant temperature, ``pane_c`` [C] is the pane's inner
    face; all at the worst hour. ``dgp`` [-] is the brightest hour without direct sun on the pane. The
    inner face is ``cold_face_c`` [C] on the coldest hour and begins to condense at the room humidity
    ``humidity_limit`` [-]. None where the weather does not tell.
    """

    sun_k: float
    pane_c: float | None
    pane_k: float | None
    dgp: float | None
    glare: str
    cold_face_c: float | None
    humidity_limit: float | None


def by_window(
    options: tuple[Option, ...],
    bare: Gains,
    loaded: LoadedJob,
    filmed: Filmed,
    sky: Sky,
    at: int,
    mask: Array,
) -> tuple[int, dict[str, Seat]]:
    """Return the pane the person sits by, and what each film option (and bare glass) does there.

    ``bare`` is the heat through bare glass at the hours of ``sky``, ``at`` the worst of them.
    """
    index = int(np.argmax(np.where(mask, bare.by_pane[at], -1.0)))
    pane = loaded.job.panes[index]
    seats = {}
    for entry in options:
        if entry.kind != "shade":
            glazed = filmed[pane.glazing, entry.film_by_pane[index]]
            seats[entry.id] = _seat(glazed, index, loaded, sky.sun, sky.weather, at)
    return index, seats


def _seat(glazed: FilmedGlass, index: int, loaded: LoadedJob, on: Solar, weather: Weather, at: int) -> Seat:
    pane = loaded.job.panes[index]
    face = loaded.job.faces[on.face_of[index]]
    width, height = float(pane.width) / 1000, float(pane.height) / 1000
    sill = SILL_M if pane.sill is None else float(pane.sill) / 1000
    gains, glazing = glazed.gains, glazed.glazing
    assert gains is not None and glazing is not None  # options hold only film without a refusal
    view = _view(width, sill, height) * pane.fill
    aoi = float(on.panes.aoi[at, index])
    dni = float(weather.dni[at])
    cosine = max(float(np.cos(np.radians(aoi))), 1e-6)
    lit = float(on.panes.beam[at, index]) / (dni * cosine) if dni > 0 else 0.0
    body = room.sun_on_body(
        dni * min(lit, 1.0),
        altitude=max(float(on.position.elevation[at]), 0.0),
        sharp=float(on.position.azimuth[at]) - face.bearing,
        t_solar=float(gains.interp(aoi, quantity="t_solar")),
        sky_view=view,
    )
    dgp = _glare(glazed, index, on, weather, (width, sill, height), pane.fill)
    warm = _pane_temperature(glazing, gains, index, on, weather, at)
    coldest = None if np.isnan(weather.temp_air).all() else int(np.argmin(weather.temp_air))
    cold = None
    if coldest is not None:
        cold = _face(glazing, 0.0 * gains.absorbed_diffuse, weather, coldest, ROOM_COLD_C)
    return Seat(
        sun_k=float(body.delta_mrt),
        pane_c=warm,
        pane_k=None if warm is None else float(room.hot_pane(view, pane=warm, room=ROOM_HOT_C)),
        dgp=None if np.isnan(dgp) else dgp,
        glare=verdict(dgp),
        cold_face_c=cold,
        humidity_limit=None if cold is None else float(room.humidity_limit(cold, ROOM_COLD_C)),
    )


def _view(width: float, sill: float, height: float) -> float:
    """Return the view factor from the seated person to the pane, which may stand above the body's centre."""
    top, bottom = sill + height - CENTRE_M, sill - CENTRE_M
    if top <= 0:
        return 0.0

    def factor(below: float, above: float) -> float:
        return float(room.pane_view_factor(width=width, below=below, above=above, distance=DISTANCE_M))

    return factor(0.0, top) - factor(0.0, bottom) if bottom > 0 else factor(-bottom, top)


def _pane_temperature(
    glazing: glass.Glazing, gains: glass.GainTable, index: int, on: Solar, weather: Weather, at: int
) -> float | None:
    if np.isnan(weather.temp_air[at]):
        return None
    panes = on.panes
    straight = float(panes.beam[at, index] + panes.circumsolar[at, index])
    spread = float(panes.sky[at, index] + panes.ground[at, index])
    absorbed = straight * gains.absorbed_at(panes.aoi[at, index]) + spread * gains.absorbed_diffuse
    return _face(glazing, absorbed, weather, at, ROOM_HOT_C)


def _face(glazing: glass.Glazing, absorbed: Array, weather: Weather, at: int, room_c: float) -> float:
    wind = weather.wind_speed[at]
    balance = glass.heat(
        glazing,
        absorbed=absorbed,
        t_out=weather.temp_air[at],
        t_in=room_c,
        wind=2.75 if np.isnan(wind) else wind,
    )
    return float(balance.t_faces[..., -1])


def _glare(
    glazed: FilmedGlass,
    index: int,
    on: Solar,
    weather: Weather,
    sizes: tuple[float, float, float],
    fill: float,
) -> float:
    """Return the glare of the brightest hour without direct sun on the pane; nan where there is none.

    ``sizes`` are the pane's width, sill and height [m]; ``fill`` is the share of that box that is glass [1].
    """
    width, sill, height = sizes
    panes = on.panes
    shaded = (panes.beam[:, index] <= 0) & on.position.up
    diffuse = panes.diffuse[:, index]
    if not shaded.any():
        return float("nan")
    hour = int(np.argmax(np.where(shaded, diffuse, -1.0)))
    efficacy = room.diffuse_efficacy(
        weather.dni[hour],
        weather.dhi[hour],
        zenith=on.position.zenith[hour],
        dni_extra=on.position.dni_extra[hour],
        dew_point=weather.dew_point[hour],
    )
    factor = room.configuration_factor(
        left=width / 2,
        right=width / 2,
        below=EYE_M - sill,
        above=sill + height - EYE_M,
        distance=DISTANCE_M,
    )
    assert glazed.gains is not None
    light = room.eye_illuminance(
        diffuse[hour] * efficacy, t_visible=glazed.gains.t_visible_diffuse, factor=factor * fill
    )
    return float(room.simplified_dgp(light))
