"""The network of resistances of ISO 13790:2008, Annex C, and its linear forms for one step.

Five resistances join the outdoor and supply air to three nodes: the air, the surfaces that face the
room, and the mass that stores heat. Between the set points all of it is linear, so one step is a
weighted sum of the mass temperature, the outdoor temperature, the gains and the plant's power.
Not covered: moisture, air moving between rooms, and any plant.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from reportkit.base.arrays import Array

#: Heat transfer between the air and surface nodes [W/(m2 K)], ISO 13790:2008, 7.2.2.2 (from memory).
H_IS = 3.45
#: Heat transfer between the mass and surface nodes [W/(m2 K)], ISO 13790:2008, 12.2.2 (from memory).
H_MS = 9.1
#: Surfaces facing the room over floor area [-], ISO 13790:2008, 7.2.2.2 (from memory).
SURFACE_RATIO = 4.5
#: Weight of the air in the operative temperature [-], ISO 13790:2008, C.3 (from memory).
AIR_WEIGHT = 0.3
#: Least share of radiant gains left to the surfaces [-]: the standard's formula dips under 0 where the
#: mass is nearly the whole surface, as in published validations of it; below this it means nothing.
LEAST_SURFACE = -0.1
#: Resistance between an opaque part's inner face and the room, level flow [m2 K/W], ISO 6946:2007, 5.2: what
#: a part lets through passes its own inner face, so that face is at least ``opaque`` times this.
R_SI = 0.13


@dataclass(frozen=True)
class Room:
    """What the network needs to know of a room; every field broadcasts to the lanes.

    Parameters
    ----------
    floor_area
        [m2], over 0.
    mass_capacity
        Heat capacity of the inner mass, Cm [J/K], over 0.
    mass_area
        Effective area of the mass, Am [m2], over 0.
    windows
        Transmission through windows and other light parts, Hw [W/K], 0 or more.
    opaque
        Transmission through opaque parts, Hop [W/K], 0 or more.
    ventilation
        Transfer by outdoor air, Hve [W/K], over 0; or one value for each level when the air change
        follows a schedule (see ``ventilation_index`` of ``heat_balance``).
    h_is, h_ms, surface_ratio
        The standard's own constants [W/(m2 K)], [W/(m2 K)], [-].
    """

    floor_area: ArrayLike
    mass_capacity: ArrayLike
    mass_area: ArrayLike
    windows: ArrayLike
    opaque: ArrayLike
    ventilation: ArrayLike | Sequence[ArrayLike]
    h_is: float = H_IS
    h_ms: float = H_MS
    surface_ratio: float = SURFACE_RATIO


@dataclass(frozen=True)
class Coefficients:
    """Linear forms of one step: rows are air, operative and end-of-step mass temperature.

    Each array is (3, lanes): kelvin per kelvin of mass and outdoor temperature [-], kelvin per watt
    of sun, of internal gains and of heat put into the air [K/W]. ``lost`` [-] is the share of the sun
    (and of half the internal gains) that the standard lets escape through the windows.
    """

    mass: Array
    outdoor: Array
    solar: Array
    internal: Array
    power: Array
    lost: Array


def coefficients(
    room: Room, *, lanes: tuple[int, ...] = (), level: int = 0, step_hours: float = 1.0
) -> Coefficients:
    """Return the linear forms of one step of ISO 13790:2008, C.2 to C.3.

    Parameters
    ----------
    room
        The room or rooms.
    lanes
        Shape to which all fields broadcast.
    level
        Which ventilation level, where there are several.
    step_hours
        Length of the step [h].

    Returns
    -------
    Coefficients

    Raises
    ------
    ValueError
        If a field is out of its range.

    Notes
    -----
    The standard takes the surfaces that face a room, and the area of the mass, from the floor. A small room
    with much glass, or a tall one with many outside walls, has more of both: the area of the mass is at least
    that of the opaque parts' inner faces, and the surfaces are at least what mass and windows need. Rooms
    within the standard's own range are not touched.
    """

    def lane(name: str, value: ArrayLike, *, least: float, open_: bool) -> Array:
        array = np.broadcast_to(np.asarray(value, dtype=float), lanes)
        wrong = array <= least if open_ else array < least
        if np.any(wrong):
            rule = "over" if open_ else "not under"
            raise ValueError(f"{name} must be {rule} {least:g}, got {float(np.min(array[wrong])):g}")
        return array

    levels = levels_of(room)
    if not 0 <= level < len(levels):
        raise ValueError(f"ventilation level must be from 0 to {len(levels) - 1}, got {level}")
    floor = lane("floor_area", room.floor_area, least=0.0, open_=True)
    capacity = lane("mass_capacity", room.mass_capacity, least=0.0, open_=True) / (3600.0 * step_hours)
    area = lane("mass_area", room.mass_area, least=0.0, open_=True)
    h_w = lane("windows", room.windows, least=0.0, open_=False)
    h_op = lane("opaque", room.opaque, least=0.0, open_=False)
    h_ve = lane("ventilation", levels[level], least=0.0, open_=True)
    area = np.maximum(area, R_SI * h_op)
    total = np.maximum(room.surface_ratio * floor, (area + h_w / room.h_ms) / (1.0 - LEAST_SURFACE))
    h_ms = room.h_ms * area
    h_em = h_op * h_ms / (h_ms - h_op)
    h_is = room.h_is * total
    h_1 = 1.0 / (1.0 / h_ve + 1.0 / h_is)
    h_2 = h_1 + h_w
    h_3 = 1.0 / (1.0 / h_2 + 1.0 / h_ms)

    lost = h_w / (room.h_ms * total)
    to_mass = area / total
    to_surface = 1.0 - to_mass - lost
    zero, one = np.zeros(lanes), np.ones(lanes)
    # flows into the air, surface and mass nodes per unit of: mass, outdoor, solar, internal, power
    air = (zero, zero, zero, 0.5 * one, one)
    surface = (zero, zero, to_surface, 0.5 * to_surface, zero)
    mass = (zero, zero, to_mass, 0.5 * to_mass, zero)
    rows: list[Array] = []
    for index in range(5):
        t_m, t_e = float(index == 0), float(index == 1)
        supply = h_1 * (t_e + air[index] / h_ve)
        total_flow = mass[index] + h_em * t_e + h_3 * (surface[index] + h_w * t_e + supply) / h_2
        half = 0.5 * (h_3 + h_em)
        end = (t_m * (capacity - half) + total_flow) / (capacity + half)
        mean = 0.5 * (t_m + end)
        face = (h_ms * mean + surface[index] + h_w * t_e + supply) / (h_ms + h_w + h_1)
        inside = (h_is * face + h_ve * t_e + air[index]) / (h_is + h_ve)
        rows.append(np.stack([inside, AIR_WEIGHT * inside + (1.0 - AIR_WEIGHT) * face, end]))
    return Coefficients(rows[0], rows[1], rows[2], rows[3], rows[4], np.array(lost))


def levels_of(room: Room) -> list[ArrayLike]:
    """Return the room's ventilation levels [W/K], one where there is no schedule."""
    ventilation = room.ventilation
    if isinstance(ventilation, list | tuple):
        if not ventilation:
            raise ValueError("ventilation must have a value")
        return list(ventilation)
    return [ventilation]  # type: ignore[list-item]  # narrowed by the test above
