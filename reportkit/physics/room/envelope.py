"""From what a survey tells of a room (heavy or light, old or new, tight or leaky) to the network's numbers.

Mass classes are those of ISO 13790:2008, table 12. U-values, air changes and gains by plain class are
common practice, so each is an ``Uncertain`` with a spread, for the report's table of assumptions.
Not covered: thermal bridges, unheated neighbours, ground heat loss beyond a fixed ground temperature.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from reportkit.base.arrays import Array
from reportkit.base.translatable import english
from reportkit.physics.room.network import Room
from reportkit.physics.room.ranges import Uncertain

#: Density [kg/m3] times specific heat [J/(kg K)] of air at sea level and 20 C.
AIR_HEAT = 1.2 * 1006.0
#: Height over which air pressure falls to 1/e [m], of a uniform atmosphere at 15 C: R T / (M g).
SCALE_HEIGHT = 8434.0
#: Outside surface resistance of walls and roofs [m2 K/W], ISO 6946, table 1 (from memory).
R_SE = 0.04
#: Radiative coefficient outside at emissivity .9 [W/(m2 K)]: 5 x .9, ISO 13790:2008, 11.4.6 (from memory).
H_RADIATIVE = 4.5
#: Outdoor air over sky temperature [K], intermediate zone, ISO 13790:2008, 11.4.6 (from memory).
SKY_KELVIN = 11.0


@dataclass(frozen=True)
class MassClass:
    """Heat capacity per floor area [J/(m2 K)] and effective mass area per floor area [-]."""

    capacity: float
    area: float


#: ISO 13790:2008, table 12 (from memory).
MASS: dict[str, MassClass] = {
    "very_light": MassClass(80e3, 2.5),
    "light": MassClass(110e3, 2.5),
    "medium": MassClass(165e3, 2.5),
    "heavy": MassClass(260e3, 3.0),
    "very_heavy": MassClass(370e3, 3.5),
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
    windows: ArrayLike,
    opaque: ArrayLike,
    air_change: ArrayLike | list[ArrayLike],
    elevation: float = 0.0,
    h_is: float | None = None,
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
    windows
        Sum of U x A over the windows [W/K], by option where film changes U.
    opaque
        Sum of U x A over the opaque outside parts [W/K]; a slight transfer is used where there is none.
    air_change
        [1/h], or a list with one for each ventilation level.
    elevation
        Of the site [m].
    h_is
        Air-to-surface coefficient [W/(m2 K)], the standard's unless given.

    Returns
    -------
    Room

    Raises
    ------
    ValueError
        If the mass class is unknown.
    """
    if isinstance(mass, str):
        if mass not in MASS:
            raise ValueError(f"mass must be one of {', '.join(MASS)}, got {mass!r}")
        mass = MASS[mass]
    floor = np.asarray(floor_area, dtype=float)
    volume = floor * np.asarray(height, dtype=float)
    changes = air_change if isinstance(air_change, list) else [air_change]
    levels = [ventilation(volume, change, elevation=elevation) for change in changes]
    own = {} if h_is is None else {"h_is": h_is}
    return Room(
        floor_area=floor,
        mass_capacity=mass.capacity * floor,
        mass_area=mass.area * floor,
        windows=windows,
        opaque=opaque,
        ventilation=levels,
        **own,
    )


def sun_on_opaque(
    irradiance: ArrayLike, *, u: ArrayLike, area: ArrayLike, absorptance: float = 0.6, h_outside: float = 25.0
) -> Array:
    """Return the part of the sun on a wall or roof that reaches the room.

    Parameters
    ----------
    irradiance
        On the outer face [W/m2].
    u, area
        Of the part [W/(m2 K)], [m2].
    absorptance
        Of its outer face [-], 0.6 a medium colour (ISO 13790:2008, 11.3.4; value common practice).
    h_outside
        Outer surface coefficient [W/(m2 K)].

    Returns
    -------
    array
        [W], the shape of the irradiance.
    """
    return np.asarray(
        np.asarray(irradiance, float) * absorptance * np.asarray(u) * np.asarray(area) / h_outside
    )


def sky_loss(*, u: ArrayLike, area: ArrayLike, form_factor: ArrayLike, kelvin: float = SKY_KELVIN) -> Array:
    """Return the extra loss of an outer face to the cold sky, to be taken off the gains.

    Parameters
    ----------
    u, area
        Of the part [W/(m2 K)], [m2].
    form_factor
        To the unobstructed sky [-]: .5 for a wall, 1 for a flat roof.
    kelvin
        Outdoor air over sky temperature [K].

    Returns
    -------
    array
        [W], 0 or more.

    References
    ----------
    ISO 13790:2008, 11.3.5 and 11.4.6 (from memory of the standard).
    """
    return np.asarray(
        np.asarray(form_factor) * R_SE * np.asarray(u) * np.asarray(area) * H_RADIATIVE * kelvin
    )


def ground_correction(temp_air: ArrayLike, *, u: ArrayLike, area: ArrayLike, temp_ground: float) -> Array:
    """Return the flow that moves a floor's loss from the outdoor air to the ground.

    The network knows one outdoor temperature: count the floor in ``opaque`` and add this flow [W],
    U A (ground - air), to the gains.
    """
    return np.asarray(np.asarray(u) * np.asarray(area) * (temp_ground - np.asarray(temp_air, dtype=float)))
