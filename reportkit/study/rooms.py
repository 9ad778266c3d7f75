"""What each option does to each room over the year: energies, hot hours, the worst afternoon.

An hourly balance after ISO 52016-1 over all options and samples at once. Only rooms whose body the job
describes are computed, and only with a whole year of weather. Where several years are as likely (made from
monthly means), each has its part of the samples, so that its spells are in the ranges.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from reportkit.base.arrays import Array
from reportkit.money.tariff import Bins
from reportkit.physics import glass
from reportkit.physics.room import Gain, adaptive, envelope, heat_balance
from reportkit.physics.room.ranges import Uncertain, samples
from reportkit.study import openings
from reportkit.study.frames import frames_of, through_frames
from reportkit.study.presence import within
from reportkit.study.unknowns import OPENING_HABIT, OPENING_SHARE, SAMPLES, unknowns
from reportkit.study.years import by_year

if TYPE_CHECKING:
    from reportkit.job import LoadedJob
    from reportkit.job.model import Body, Energy, Pane, Room
    from reportkit.study.filmed import Filmed
    from reportkit.study.options import Option
    from reportkit.study.solar import Sky


#: Set points that no room reaches, for rooms without heating or cooling [C].
NEVER_HEATED, NEVER_COOLED = -60.0, 90.0


@dataclass(frozen=True, eq=False)
class RoomYear:
    """A room's year under O options and S samples.

    ``cooling`` and ``heating`` (B, O, S) are heat moved by tariff bin [kWh], ``peak_cooling`` (B, O, S)
    [W]; ``hot_hours``, ``unmet_cooling`` [h] and ``hottest`` [C] are (O, S), as are ``open_hours`` [h] in
    which windows stand open or a fan runs and ``carried_off`` [kWh], the heat that goes out so; both None
    where nothing opens. ``over_adaptive`` (3, O, S) are hours [h] over the limits of EN 16798-1, None but for
    rooms without cooling whose windows open. ``inputs`` are the samples behind them; ``frames_w_k``
    is what frames and spacers lose [W/K].
    """

    room: str
    cooling: Array
    heating: Array
    peak_cooling: Array
    hot_hours: Array
    hottest: Array
    unmet_cooling: Array
    open_hours: Array | None
    carried_off: Array | None
    over_adaptive: Array | None
    inputs: dict[str, Array]
    unknown: tuple[Uncertain, ...]
    wall_area_m2: float
    frames_w_k: float


def wall_area(body: Body, loaded: LoadedJob, room: Room) -> float:
    """Return the opaque outside wall of a room [m2]: typed, else a square room's sides less its windows.

    A room has as many outside walls as faces its panes look from (common practice, no source).
    """
    if body.wall_area is not None:
        return body.wall_area
    panes = _panes(loaded, room)
    faces = {face.id for face in loaded.job.faces if face.tilt > 45} & {pane.face for pane in panes}
    side: float = body.floor_area**0.5 * float(body.ceiling) / 1000
    upright = [pane for pane in panes if pane.face in faces]
    windows = sum(_area(pane) + frame.area * pane.quantity for pane, frame in frames_of(loaded.job, upright))
    return max(0.0, len(faces) * side - windows)


def room_year(
    room: Room,
    options: tuple[Option, ...],
    loaded: LoadedJob,
    filmed: Filmed,
    skies: tuple[Sky, ...],
    bins: Bins,
    energy: Energy | None,
) -> RoomYear:
    """Return a room's year; ``room.heat`` must be given and the weather be whole years of the same hours.

    Lanes are options, years and samples of a year: (O, Y, K).
    """
    body = room.heat
    assert body is not None  # the study asks for described rooms only
    weather = skies[0].weather
    panes = openings.openable(loaded.job, room.id)
    unknown = unknowns(body, weather, energy, panes.share)
    inputs = samples(unknown, SAMPLES)
    drawn = {key: values.reshape(len(skies), -1) for key, values in inputs.items()}
    mine = np.array([pane.room == room.id for pane in loaded.job.panes])
    walls = wall_area(body, loaded, room)
    roof = body.floor_area if body.has_roof else 0.0
    solar = by_year(options, skies, mine, loaded, filmed)[:, :, None]
    # a film's own spread counts only where the room's glass has film
    with_film = np.array(
        [any(film for film, own in zip(entry.film_by_pane, mine, strict=True) if own) for entry in options]
    )[:, None, None]
    low, high = _film_side(options, loaded, filmed, mine)
    optics = np.where(with_film, drawn["film_optics"] * (low + drawn["film_side"] * (high - low)), 1.0)
    factor = drawn["year_sun"] * drawn["shades_in_use"] * optics * drawn["model_gains"]
    losing = {key: drawn[key] * drawn["model_losses"] for key in ("wall_u", "roof_u", "air_change")}
    wind = envelope.outside_coefficient(weather.wind_speed)
    sky_known = weather.longwave is not None
    cold = np.stack([envelope.sky_cold(sky.weather.temp_air, sky.weather.longwave) for sky in skies])[:, None]
    windows, to_sky = _windows(options, loaded, filmed, mine, wind, sky_known)
    framed, frames_to_sky = through_frames(loaded.job, _panes(loaded, room), wind, sky_known=sky_known)
    made = envelope.room(
        body.floor_area,
        height=float(body.ceiling) / 1000,
        mass=body.mass,
        heat_capacity=None if body.heat_capacity_kj_m2k is None else body.heat_capacity_kj_m2k * 1000,
        glass_area=sum(_area(pane) for pane in _panes(loaded, room)),
        windows=windows[:, None, None] * drawn["model_losses"],
        opaque=losing["wall_u"] * walls + losing["roof_u"] * roof + framed * drawn["model_losses"],
        air_change=losing["air_change"],
        elevation=loaded.elevation_m,
    )
    hour = np.asarray(weather.times.hour)
    occupied = within(hour, body.occupied_hours)
    heating, cooling = body.heating, body.cooling
    warm = np.full(len(hour), heating.set_point if heating else NEVER_HEATED)
    if heating and heating.setback is not None:
        warm[within(hour, heating.setback_hours)] = heating.setback
    cool = cooling.set_point if cooling else NEVER_COOLED
    opening = openings.opening(body, panes, drawn, [sky.weather for sky in skies])
    by_windows = openings.by_windows_alone(body, panes)
    limits: Array = np.full((1, len(hour)), body.too_hot)
    rises = np.zeros((1, *drawn["year_temperature"].shape))
    if by_windows:  # the outdoor air's running mean rises with the year's temperature
        limits = np.concatenate([limits, openings.adaptive_limits(weather)])
        rises = np.concatenate(
            [rises, *[adaptive.RISE * drawn["year_temperature"][None]] * len(adaptive.ABOVE)]
        )
    year = heat_balance(
        made,
        np.stack([sky.weather.temp_air for sky in skies])[:, None],
        solar=[
            Gain(solar, factor),
            Gain(-cold, to_sky[:, None, None] * drawn["model_losses"], "windows"),
            Gain(-cold, frames_to_sky * drawn["model_losses"] + _lost(losing, walls, roof, skies), "walls"),
            *_through_walls(loaded, skies, mine, losing, walls, roof),
        ],
        internal=Gain(np.where(occupied, body.floor_area, 0.0), drawn["internal"] * drawn["model_gains"]),
        heating_setpoint=np.minimum(warm, cool - 0.5),
        cooling_setpoint=cool,
        heating_power=(heating.capacity or np.inf) if heating else 0.0,
        cooling_power=(cooling.capacity or np.inf) if cooling else 0.0,
        setpoint_shift=drawn["set_point"],
        outdoor_shift=drawn["year_temperature"],
        hot_limit=limits,
        limit_shift=rises,
        occupied=occupied,
        bins=bins.index,
        step_hours=weather.step_hours,
        opening=opening,
        wind=openings.wind(weather),
    )

    def by_sample(values: Array) -> Array:
        return values.reshape(*values.shape[:-2], -1)

    shut = () if panes.glass else (OPENING_SHARE.key, OPENING_HABIT.key)
    return RoomYear(
        room.id,
        by_sample(year.cooling),
        by_sample(year.heating),
        by_sample(year.peak_cooling),
        by_sample(year.hot_hours[0]),
        by_sample(year.hottest),
        by_sample(year.unmet_cooling),
        by_sample(year.open_hours) if opening else None,
        by_sample(year.carried_off) if opening else None,
        by_sample(year.hot_hours[1:]) if by_windows else None,
        {key: values for key, values in inputs.items() if key not in shut},
        tuple(row for row in unknown if row.key not in shut),
        walls,
        framed,
    )


def _through_walls(
    loaded: LoadedJob,
    skies: tuple[Sky, ...],
    mine: Array,
    losing: dict[str, Array],
    walls: float,
    roof: float,
) -> list[Gain]:
    """Return the sun on the outside of a room's walls and roof [W]."""
    outside = envelope.outside_coefficient(skies[0].weather.wind_speed, rough=True)
    per_u = float(envelope.sun_on_opaque(1.0, u=1.0, area=1.0, outside=outside))
    seen = np.unique(skies[0].sun.face_of[mine])
    upright = [index for index in seen if loaded.job.faces[index].tilt > 45]
    gains = []
    if walls and upright:
        onto = np.stack([sky.sun.faces.total[:, upright].mean(axis=1) for sky in skies])
        gains.append(Gain(onto[:, None], losing["wall_u"] * walls * per_u, "walls"))
    if roof:
        onto = np.stack([sky.weather.ghi for sky in skies])
        gains.append(Gain(onto[:, None], losing["roof_u"] * roof * per_u, "walls"))
    return gains


def _lost(losing: dict[str, Array], walls: float, roof: float, skies: tuple[Sky, ...]) -> Array:
    """Return what a room's walls and roof lose to a usual sky [W]."""
    weather = skies[0].weather
    outside = envelope.outside_coefficient(weather.wind_speed, rough=True)
    upright, level = envelope.sky_form([90.0, 0.0], known=weather.longwave is not None)
    lost = envelope.sky_loss(u=losing["wall_u"], area=walls, form_factor=upright, outside=outside)
    return lost + envelope.sky_loss(u=losing["roof_u"], area=roof, form_factor=level, outside=outside)


def _film_side(
    options: tuple[Option, ...], loaded: LoadedJob, filmed: Filmed, mine: Array
) -> tuple[Array, Array]:
    """Return by how much a room's gain may differ where a sheet omits the film-side reflectance.

    (O, 1, 1) each.

    As shares of the gain used, least and most. It matters outside only: inside, that face is the last one.
    """
    ratios = []
    for entry in options:
        sums = np.zeros(3)
        for pane, film, own in zip(loaded.job.panes, entry.film_by_pane, mine, strict=True):
            glazed, bare = filmed[pane.glazing, film], filmed[pane.glazing, None]
            if not own or glazed.rating is None or glazed.glazing is None or bare.glazing is None:
                continue
            gains = [glazed.rating.shgc] * 3
            own_film = glazed.glazing.film
            if own_film is not None and own_film.side == "outside" and not glass.film_side_stated(own_film):
                bounds = glass.rate_bounds(bare.glazing, own_film, glazed.rating.conditions)
                gains[1:] = sorted(bound.shgc for bound in bounds)
            sums += np.array(gains) * _area(pane)
        ratios.append(sums[1:] / sums[0] if sums[0] else np.ones(2))
    spread = np.array(ratios)
    return spread[:, :1, None], spread[:, 1:, None]


def _windows(
    options: tuple[Option, ...],
    loaded: LoadedJob,
    filmed: Filmed,
    mine: Array,
    outside: float,
    sky_known: bool,
) -> tuple[Array, Array]:
    """Return U times area of a room's panes for every option [W/K], and what they lose to a usual sky [W].

    U is the year's, not the rating's; film changes it. ``sky_known`` as ``known`` in ``envelope.sky_form``.
    """
    tilts = {face.id: float(face.tilt) for face in loaded.job.faces}
    losses = np.zeros((2, len(options)))
    for at, entry in enumerate(options):
        for pane, film, own in zip(loaded.job.panes, entry.film_by_pane, mine, strict=True):
            rating = filmed[pane.glazing, film].rating
            if own and rating is not None:
                rated = envelope.RATED_OUTSIDE[rating.conditions]
                u = envelope.mean_u(rating.u_w_m2k, rated_outside=rated, outside=outside)
                view = envelope.sky_form(tilts[pane.face], known=sky_known)
                lost = envelope.sky_loss(u=u, area=_area(pane), form_factor=view, outside=outside)
                losses[:, at] += float(u) * _area(pane), float(lost)
    return losses[0], losses[1]


def _panes(loaded: LoadedJob, room: Room) -> list[Pane]:
    return [pane for pane in loaded.job.panes if pane.room == room.id]


def _area(pane: Pane) -> float:
    """Return the area of a pane, all of its kind together [m2]."""
    return pane.area_mm2 / 1e6 * pane.quantity
