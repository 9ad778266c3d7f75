"""What each option does to each room over the year: energies, hot hours, the worst afternoon.

An hourly balance after ISO 13790 over all options and samples at once. Only rooms whose body the job
describes are computed, and only with a whole year of weather. Hours, temperatures and peaks are
withheld for a year made from monthly means, which has no extremes.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from reportkit.base.arrays import Array
from reportkit.money.tariff import Bins
from reportkit.physics import glass
from reportkit.physics.room import Gain, envelope, heat_balance
from reportkit.physics.room.ranges import Uncertain, samples
from reportkit.study.presence import within
from reportkit.study.unknowns import SAMPLES, unknowns

if TYPE_CHECKING:
    from reportkit.climate import Weather
    from reportkit.job import LoadedJob
    from reportkit.job.model import Body, Energy, Room
    from reportkit.study.filmed import Filmed
    from reportkit.study.options import Option
    from reportkit.study.solar import Solar


#: Set points that no room reaches, for rooms without heating or cooling [C].
NEVER_HEATED, NEVER_COOLED = -60.0, 90.0


@dataclass(frozen=True, eq=False)
class RoomYear:
    """A room's year under O options and S samples.

    ``cooling`` and ``heating`` (B, O, S) are heat moved by tariff bin [kWh], ``peak_cooling`` (B, O, S)
    [W]; ``hot_hours``, ``unmet_cooling`` [h] and ``hottest`` [C] are (O, S); ``inputs`` are the samples
    behind them.
    """

    room: str
    cooling: Array
    heating: Array
    peak_cooling: Array
    hot_hours: Array
    hottest: Array
    unmet_cooling: Array
    inputs: dict[str, Array]
    unknown: tuple[Uncertain, ...]
    wall_area_m2: float


def wall_area(body: Body, loaded: LoadedJob, room: Room) -> float:
    """Return the opaque outside wall of a room [m2]: typed, else a square room's sides less its panes.

    A room has as many outside walls as faces its panes look from (common practice, no source).
    """
    if body.wall_area is not None:
        return body.wall_area
    panes = [pane for pane in loaded.job.panes if pane.room == room.id]
    faces = {face.id for face in loaded.job.faces if face.tilt > 45} & {pane.face for pane in panes}
    side: float = body.floor_area**0.5 * float(body.ceiling) / 1000
    glass = sum(pane.area_mm2 / 1e6 * pane.quantity for pane in panes if pane.face in faces)
    return max(0.0, len(faces) * side - glass)


def room_year(
    room: Room,
    options: tuple[Option, ...],
    loaded: LoadedJob,
    filmed: Filmed,
    weather: Weather,
    on: Solar,
    bins: Bins,
    energy: Energy | None,
) -> RoomYear:
    """Return a room's year; ``room.heat`` must be given and the weather be a whole year."""
    body = room.heat
    assert body is not None  # the study asks for described rooms only
    unknown = unknowns(body, weather, energy)
    drawn = samples(unknown, SAMPLES)
    mine = np.array([pane.room == room.id for pane in loaded.job.panes])
    walls = wall_area(body, loaded, room)
    roof = body.floor_area if body.has_roof else 0.0
    solar = np.stack([entry.gains.total(mine) for entry in options])[:, None, :]
    # a film's own spread counts only where the room's glass has film
    with_film = np.array(
        [any(film for film, own in zip(entry.film_by_pane, mine, strict=True) if own) for entry in options]
    )[:, None]
    low, high = _film_side(options, loaded, filmed, mine)
    optics = np.where(with_film, drawn["film_optics"] * (low + drawn["film_side"] * (high - low)), 1.0)
    factor = drawn["year_sun"] * drawn["shades_in_use"] * optics
    made = envelope.room(
        body.floor_area,
        height=float(body.ceiling) / 1000,
        mass=body.mass,
        windows=_windows(options, loaded, filmed, mine)[:, None],
        opaque=drawn["wall_u"] * walls + drawn["roof_u"] * roof,
        air_change=drawn["air_change"],
        elevation=weather.elevation,
    )
    hour = np.asarray(weather.times.hour)
    occupied = within(hour, body.occupied_hours)
    heating, cooling = body.heating, body.cooling
    warm = np.full(len(hour), heating.set_point if heating else NEVER_HEATED)
    if heating and heating.setback is not None:
        warm[within(hour, heating.setback_hours)] = heating.setback
    cool = cooling.set_point if cooling else NEVER_COOLED
    year = heat_balance(
        made,
        weather.temp_air,
        solar=[Gain(solar, factor), *_through_walls(loaded, on, weather, mine, drawn, walls, roof)],
        internal=Gain(np.where(occupied, body.floor_area, 0.0), drawn["internal"]),
        heating_setpoint=np.minimum(warm, cool - 0.5),
        cooling_setpoint=cool,
        heating_power=(heating.capacity or np.inf) if heating else 0.0,
        cooling_power=(cooling.capacity or np.inf) if cooling else 0.0,
        setpoint_shift=drawn["set_point"],
        outdoor_shift=drawn["year_temperature"],
        hot_limit=body.too_hot,
        occupied=occupied,
        bins=bins.index,
        step_hours=weather.step_hours,
    )
    return RoomYear(
        room.id,
        year.cooling,
        year.heating,
        year.peak_cooling,
        year.hot_hours,
        year.hottest,
        year.unmet_cooling,
        drawn,
        unknown,
        walls,
    )


def _through_walls(
    loaded: LoadedJob,
    on: Solar,
    weather: Weather,
    mine: Array,
    drawn: dict[str, Array],
    walls: float,
    roof: float,
) -> list[Gain]:
    """Return the sun on the outside of a room's walls and roof, less what they lose to the sky [W]."""
    per_u = float(envelope.sun_on_opaque(1.0, u=1.0, area=1.0))
    upright = [index for index in np.unique(on.face_of[mine]) if loaded.job.faces[index].tilt > 45]
    gains = []
    if walls and upright:
        gains.append(Gain(on.faces.total[:, upright].mean(axis=1), drawn["wall_u"] * walls * per_u))
    if roof:
        gains.append(Gain(weather.ghi, drawn["roof_u"] * roof * per_u))
    lost = envelope.sky_loss(u=drawn["wall_u"], area=walls, form_factor=0.5)
    lost = lost + envelope.sky_loss(u=drawn["roof_u"], area=roof, form_factor=1.0)
    gains.append(Gain(np.full(len(weather.ghi), -1.0), lost))
    return gains


def _film_side(
    options: tuple[Option, ...], loaded: LoadedJob, filmed: Filmed, mine: Array
) -> tuple[Array, Array]:
    """Return by how much a room's gain may differ where a sheet omits the film-side reflectance, (O, 1) each.

    As shares of the gain used, least and most. It matters outside only: inside, that face is the last one.
    """
    found = []
    for entry in options:
        sums = np.zeros(3)
        for pane, film, own in zip(loaded.job.panes, entry.film_by_pane, mine, strict=True):
            glazed, bare = filmed[pane.glazing, film], filmed[pane.glazing, None]
            if not own or glazed.rating is None or glazed.glazing is None or bare.glazing is None:
                continue
            gains = [glazed.rating.shgc] * 3
            sheet = glazed.glazing.film
            if sheet is not None and sheet.side == "outside" and not glass.film_side_stated(sheet):
                bounds = glass.rate_bounds(bare.glazing, sheet, glazed.rating.conditions)
                gains[1:] = sorted(bound.shgc for bound in bounds)
            sums += np.array(gains) * pane.area_mm2 * pane.quantity
        found.append(sums[1:] / sums[0] if sums[0] else np.ones(2))
    spread = np.array(found)
    return spread[:, :1], spread[:, 1:]


def _windows(options: tuple[Option, ...], loaded: LoadedJob, filmed: Filmed, mine: Array) -> Array:
    """Return the sum of U times area of a room's panes for every option [W/K]; film changes U."""
    found = []
    for entry in options:
        total = 0.0
        for pane, film, own in zip(loaded.job.panes, entry.film_by_pane, mine, strict=True):
            rating = filmed[pane.glazing, film].rating
            if own and rating is not None:
                total += rating.u_w_m2k * pane.area_mm2 / 1e6 * pane.quantity
        found.append(total)
    return np.array(found)
