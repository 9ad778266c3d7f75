"""From what a survey tells of a room (heavy or light, old or new, tight or leaky) to the network's numbers.

Heat capacities by mass class are those of ISO 13790:2008, table 12. U-values, air changes and gains by plain
class are common practice, so each is an ``Uncertain`` with a spread, for the report's table of assumptions.
Not covered: thermal bridges, unheated neighbours, ground heat loss beyond a fixed ground temperature.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from reportkit.base.arrays import Array
from reportkit.base.translatable import english
from reportkit.physics.room.network import Room, Slab
from reportkit.physics.room.ranges import Uncertain

#: Density [kg/m3] times specific heat [J/(kg K)] of air at sea level and 20 C.
AIR_HEAT = 1.2 * 1006.0
#: Height over which air pressure falls to 1/e [m], of a uniform atmosphere at 15 C: R T / (M g).
SCALE_HEIGHT = 8434.0
#: Radiative coefficient outside at emissivity .9 [W/(m2 K)]: 5 x .9, ISO 13790:2008, 11.4.6 (from memory).
H_RADIATIVE = 4.5
#: Emissivity outdoors [-] that it has in it, and the constant of radiation [W/(m2 K4)].
OUTER_EMISSIVITY, STEFAN_BOLTZMANN = 0.9, 5.670374e-8
#: Outdoor air over sky temperature [K], intermediate zone, ISO 13790:2008, 11.4.6 (from memory).
SKY_KELVIN = 11.0
#: Wind [m/s] that the outside coefficients of ISO 6946 stand for (from memory): where none is told.
WIND = 4.0
#: Convection outside, a v^b with v at 10 m [W/(m2 K)], of faces in the wind and in its lee, as measured on
#: windows of low buildings: Yazdanian & Klems 1994, ASHRAE Transactions 100(1):1087 (from memory); and of
#: still air at 5 K.
WINDWARD, LEEWARD, STILL = (3.26, 0.89), (3.55, 0.617), 1.4
#: How much more of it a rough face takes up (brick, coarse render) than glass [-]: Walton 1983 (from memory).
ROUGH = 1.67
#: Outside coefficient [W/(m2 K)] at which U-values are rated: NFRC winter, 26 by convection (4 + 4 x 5.5 m/s)
#: and 3.4 by radiation at -18 C; EN 673:2011, 25.
RATED_OUTSIDE = {"nfrc": 29.4, "en": 25.0}
#: Heat capacity of furniture and the like, as warm as the air, over floor area [J/(m2 K)], ISO 52016-1:2017
#: (from memory).
FURNITURE = 10e3


@dataclass(frozen=True)
class MassClass:
    """Heat capacity of all that stores heat by the day, over floor area [J/(m2 K)], and what it is made of.

    ``material`` is conductivity x density x specific heat [W2 s/(m4 K2)]: a layer that holds k J/(m2 K) has
    the resistance k/material.
    """

    capacity: float
    material: float


#: Capacities: ISO 13790:2008, table 12 (from memory). Materials by what such rooms are built of, handbook
#: values (from memory): gypsum board .16 x 950 x 840 and softwood .14 x 650 x 1200; light block
#: .24 x 750 x 1000; brick .6 x 1600 x 850; heavy brick and block .8 x 1800 x 900; concrete 1.4 x 2200 x 900,
#: plastered.
MASS: dict[str, MassClass] = {
    "very_light": MassClass(80e3, 0.12e6),
    "light": MassClass(110e3, 0.18e6),
    "medium": MassClass(165e3, 0.8e6),
    "heavy": MassClass(260e3, 1.3e6),
    "very_heavy": MassClass(370e3, 2.0e6),
}


def _u(key: str, low: float, likely: float, high: float, why: str) -> Uncertain:
    return Uncertain(key, low, likely, high, "W/m2K", "C", why)


#: U-values of outside walls [W/(m2 K)] by what can be seen or asked on site.
WALL_U: dict[str, Uncertain] = {
    "solid_uninsulated": _u("wall_u", 1.4, 1.9, 2.4, english("solid masonry without insulation")),
    "cavity_uninsulated": _u("wall_u", 1.0, 1.4, 1.7, english("cavity wall or empty timber frame")),
    "some_insulation": _u("wall_u", 0.4, 0.6, 0.9, english("filled cavity or thin insulation")),
    "insulated": _u("wall_u", 0.2, 0.3, 0.4, english("insulated to recent rules")),
}

#: U-values of roofs [W/(m2 K)].
ROOF_U: dict[str, Uncertain] = {
    "uninsulated": _u("roof_u", 1.5, 2.1, 2.8, english("roof or loft without insulation")),
    "some_insulation": _u("roof_u", 0.3, 0.5, 0.8, english("thin insulation")),
    "insulated": _u("roof_u", 0.12, 0.18, 0.28, english("insulated to recent rules")),
}

#: Air changes by leakage and everyday ventilation [1/h].
AIR_CHANGE: dict[str, Uncertain] = {
    "tight": Uncertain(
        "air_change", 0.2, 0.35, 0.5, "1/h", "C", english("recent windows and seals, doors shut")
    ),
    "ordinary": Uncertain("air_change", 0.35, 0.6, 0.9, "1/h", "C", english("sound windows, some leaks")),
    "leaky": Uncertain(
        "air_change", 0.7, 1.1, 1.8, "1/h", "C", english("old sashes, open flues, draughts felt")
    ),
}

#: Gains of people, lamps and appliances while in use, over floor area [W/m2].
INTERNAL: dict[str, Uncertain] = {
    "home": Uncertain("internal", 3.0, 5.0, 8.0, "W/m2", "C", english("living room or bedroom")),
    "office": Uncertain("internal", 8.0, 14.0, 22.0, "W/m2", "C", english("people, screens and lamps")),
    "shop": Uncertain("internal", 12.0, 20.0, 32.0, "W/m2", "C", english("display lighting and people")),
    "classroom": Uncertain("internal", 15.0, 25.0, 35.0, "W/m2", "C", english("a full class")),
}


def ventilation(volume: ArrayLike, air_change: ArrayLike, *, elevation: float = 0.0) -> Array:
    """Return the heat transfer by outdoor air, Hve.

    Parameters
    ----------
    volume
        Of the room [m3].
    air_change
        [1/h].
    elevation
        Of the site [m]; the air is thinner higher up.

    Returns
    -------
    array
        [W/K].
    """
    thin = np.exp(-elevation / SCALE_HEIGHT)
    return np.asarray(np.asarray(volume, float) * np.asarray(air_change, float) * AIR_HEAT * thin / 3600.0)


def room(
    floor_area: ArrayLike,
    *,
    height: ArrayLike,
    mass: str | MassClass,
    glass_area: ArrayLike,
    windows: ArrayLike,
    opaque: ArrayLike,
    air_change: ArrayLike,
    heat_capacity: ArrayLike | None = None,
    elevation: float = 0.0,
) -> Room:
    """Return a room for the hourly balance.

    Parameters
    ----------
    floor_area
        [m2].
    height
        Floor to ceiling [m].
    mass
        Key of ``MASS``, or a class of one's own.
    glass_area
        [m2].
    windows
        Sum of U x A over the windows [W/K], by option where film changes U; see ``mean_u``.
    opaque
        Sum of U x A over the opaque outside parts [W/K].
    air_change
        [1/h].
    heat_capacity
        Over floor area [J/(m2 K)], where it is known better than by the class of mass.
    elevation
        Of the site [m].

    Returns
    -------
    Room
        Its walls are those of a square plan, partitions and ceiling included; the heat capacity is spread
        over all opaque surfaces alike (both our own assumption).

    Raises
    ------
    ValueError
        If the mass class is unknown.
    """
    if isinstance(mass, str):
        if mass not in MASS:
            raise ValueError(f"mass must be one of {', '.join(MASS)}, got {mass!r}")
        mass = MASS[mass]
    floor, high = np.asarray(floor_area, dtype=float), np.asarray(height, dtype=float)
    glass = np.asarray(glass_area, dtype=float)
    capacity = floor * np.asarray(mass.capacity if heat_capacity is None else heat_capacity, dtype=float)
    upright = np.maximum(4.0 * np.sqrt(floor) * high - glass, np.sqrt(floor) * high)
    around = floor + upright  # ceiling, walls and partitions
    per_area = capacity / (floor + around)
    resistance = per_area / mass.material
    return Room(
        floor=Slab(floor, per_area * floor, resistance),
        walls=Slab(around, per_area * around, resistance),
        glass_area=glass,
        windows=windows,
        opaque=opaque,
        ventilation=ventilation(floor * high, air_change, elevation=elevation),
        air_capacity=floor * (high * AIR_HEAT * np.exp(-elevation / SCALE_HEIGHT) + FURNITURE),
    )


def outside_coefficient(wind: ArrayLike | None = None, *, rough: bool = False) -> float:
    """Return the coefficient between a face and the outdoors, mean over the hours given [W/(m2 K)].

    Parameters
    ----------
    wind
        At 10 m by hour [m/s]; ``WIND``, if unsaid or nan throughout.
    rough
        Whether of brick or render rather than of glass.

    Notes
    -----
    The wind blows onto a face as often as it leaves it in the lee. Ratings take more, on purpose.
    """
    speed = np.asarray(WIND if wind is None else wind, dtype=float)
    speed = speed[np.isfinite(speed)] if np.isfinite(speed).any() else np.array([WIND])
    forced = 0.5 * sum(a * speed**b for a, b in (WINDWARD, LEEWARD)) * (ROUGH if rough else 1.0)
    return float(np.hypot(forced, STILL).mean()) + H_RADIATIVE


def mean_u(u: ArrayLike, *, rated_outside: float, outside: float) -> Array:
    """Return a window's U over the year, from its U as rated [W/(m2 K)].

    Parameters
    ----------
    u
        As rated, over 0 and under ``rated_outside``.
    rated_outside
        Outside coefficient of the rating, of ``RATED_OUTSIDE`` [W/(m2 K)].
    outside
        That of the site, ``outside_coefficient`` [W/(m2 K)].

    Notes
    -----
    A rating is for a design night in strong wind; single glass, whose resistance is in its faces, loses a
    fifth less over the year.
    """
    return np.asarray(1.0 / (1.0 / np.asarray(u, dtype=float) - 1.0 / rated_outside + 1.0 / outside))


def sun_on_opaque(
    irradiance: ArrayLike,
    *,
    u: ArrayLike,
    area: ArrayLike,
    absorptance: float = 0.6,
    outside: float | None = None,
) -> Array:
    """Return what the sun on a wall or roof does, as a flow onto its outer face (``Gain.place``).

    Parameters
    ----------
    irradiance
        On the outer face [W/m2].
    u, area
        Of the part [W/(m2 K)], [m2].
    absorptance
        Of its outer face [-], 0.6 a medium colour (ISO 13790:2008, 11.3.4; value common practice).
    outside
        Outer surface coefficient [W/(m2 K)]; that of a rough face in wind of ``WIND``, if unsaid.

    Returns
    -------
    array
        [W], the shape of the irradiance.
    """
    outer = outside_coefficient(rough=True) if outside is None else outside
    return np.asarray(np.asarray(irradiance, float) * absorptance * np.asarray(u) * np.asarray(area) / outer)


def sky_loss(
    *,
    u: ArrayLike,
    area: ArrayLike,
    form_factor: ArrayLike,
    kelvin: float = SKY_KELVIN,
    outside: float | None = None,
) -> Array:
    """Return the extra loss of an outer face to the cold sky, to be taken off the flows onto it.

    Parameters
    ----------
    u, area
        Of the part [W/(m2 K)], [m2].
    form_factor
        To the unobstructed sky [-]: .5 for a wall, 1 for a flat roof.
    kelvin
        Outdoor air over sky temperature [K].
    outside
        Outer surface coefficient [W/(m2 K)], as for ``sun_on_opaque``.

    Returns
    -------
    array
        [W], 0 or more.

    References
    ----------
    ISO 13790:2008, 11.3.5 and 11.4.6, which ISO 52016-1 kept (from memory of the standards).
    """
    outer = outside_coefficient(rough=True) if outside is None else outside
    return np.asarray(
        np.asarray(form_factor) / outer * np.asarray(u) * np.asarray(area) * H_RADIATIVE * kelvin
    )


def sky_form(tilt: ArrayLike, *, known: bool) -> Array:
    """Return the form factor of a face to the unobstructed sky, for ``sky_loss`` [-].

    Parameters
    ----------
    tilt
        0 faces up, 90 is a wall [deg].
    known
        Whether the sky's own radiation is known, as on level ground, and not that of a usual sky.

    References
    ----------
    (1 + cos tilt)/2 of the half space is sky. Near the horizon it is about as warm as the air: where its own
    radiation is known, the square root of that share counts as sky and the rest as air (Walton 1983, from
    memory). The 11 K of ISO 13790 have this in them.
    """
    view = (1.0 + np.cos(np.radians(np.asarray(tilt, dtype=float)))) / 2.0
    return np.asarray(view**1.5 if known else view)


def sky_cold(temp_air: ArrayLike, longwave: ArrayLike | None) -> Array:
    """Return by the hour how much a face loses to the sky, of what it loses to a usual one [1].

    Parameters
    ----------
    temp_air
        [C].
    longwave
        From the sky on level ground [W/m2]; None is a usual sky, ``SKY_KELVIN`` colder than the air.
    """
    air = np.asarray(temp_air, dtype=float)
    if longwave is None:
        return np.ones_like(air)
    lost = OUTER_EMISSIVITY * (STEFAN_BOLTZMANN * (air + 273.15) ** 4 - np.asarray(longwave, dtype=float))
    return np.asarray(lost / (H_RADIATIVE * SKY_KELVIN))
