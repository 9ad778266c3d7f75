"""The network of resistances and capacities of a room, and its linear forms for one step.

The surfaces that face a room exchange heat with its air and, by radiation, with one another, each node after
the hourly method of ISO 52016-1:2017. Surfaces are lumped to three: the floor, on which sun falls first, the
other opaque surfaces, and the glass. The first two store heat in a layer of two halves with a resistance of
their own; what passes to outdoors passes behind it. The whole is linear between the set points, so its slow
modes (eigenvectors) carry all the memory there is and the fast ones follow within the hour: a step is
exact for flows that hold through the hour, whatever its length.
Not covered: surfaces of one kind that differ in warmth among themselves, coefficients that change
with the flow of heat, moisture, air moving between rooms, and any plant.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from reportkit.base.arrays import Array

#: Radiation between the surfaces of a room [W/(m2 K)], ISO 52016-1:2017, table of surface coefficients (from
#: memory): emissivity .9 at 20 C.
H_RADIATIVE = 5.13
#: Convection from still air, 1.31 dT^(1/3) on upright surfaces, 1.52 and .76 on level ones with heat going up
#: and down (Walton 1983, as in ASHRAE Fundamentals; from memory), at differences usual in a room: 2 K on
#: walls and ceiling; 5 K up from a floor in the sun, 2 K down to it at other hours; 7 K on glass [W/(m2 K)].
#: A fan makes more.
H_FLOOR, H_WALLS, H_GLASS = 1.8, 1.56, 2.5
#: Resistance between an inner face and the room that is counted in a U-value [m2 K/W]: ISO 6946:2017, level
#: flow, .13, as the 2.5 and 5.13 W/(m2 K) of ISO 52016-1 have it.
R_SI = 0.131
#: Least share of a U-value's resistance that lies behind the inner layer (our own bound): where a part lets
#: through more, there is more of it than the floor says.
LEAST_BEHIND = 0.1
#: Shares of sun through the glass and of internal gains that warm the air and not the surfaces [-], ISO
#: 52016-1:2017, Annex B (from memory).
CONVECTIVE_SUN, CONVECTIVE_INTERNAL = 0.1, 0.4
#: Solar absorptance of what sun falls on inside [-]: a medium colour, ASHRAE 140, 5.2 (from memory).
ABSORPTANCE = 0.6
#: Light of the room that passes out through clear glass, and that it throws back [-]: diffuse, clear double
#: glass (computed by ``reportkit.physics.glass``).
GLASS_PASSES, GLASS_REFLECTS = 0.65, 0.2
#: Modes that are carried from step to step; the others follow within minutes.
MODES = 3


@dataclass(frozen=True)
class Slab:
    """Opaque surfaces of a room that are counted as one; every field broadcasts to the lanes.

    ``area`` [m2], ``capacity`` [J/K] and ``resistance`` [m2 K/W] are over 0; the last two of the layer that
    stores heat, from the surface to the insulation or to the middle of an inner wall or floor.
    """

    area: ArrayLike
    capacity: ArrayLike
    resistance: ArrayLike


@dataclass(frozen=True)
class Room:
    """What the network needs to know of a room; every field broadcasts to the lanes.

    Parameters
    ----------
    floor
        The floor.
    walls
        The other opaque surfaces: walls, partitions, ceiling.
    glass_area
        [m2], 0 or more.
    windows
        Transmission through the windows, sum of U x A [W/K], 0 or more.
    opaque
        Transmission through opaque outside parts, sum of U x A [W/K], 0 or more.
    ventilation
        Transfer by outdoor air that comes in at all hours [W/K], over 0.
    air_capacity
        Of the air and of what stands in the room and is as warm [J/K], over 0.
    convective_sun
        Share of the sun through the glass that warms the air [-]; about .03 in an empty room.
    """

    floor: Slab
    walls: Slab
    glass_area: ArrayLike
    windows: ArrayLike
    opaque: ArrayLike
    ventilation: ArrayLike
    air_capacity: ArrayLike
    convective_sun: ArrayLike = CONVECTIVE_SUN


#: Where heat comes in: outdoor temperature, sun through glass, internal gains, flows onto the outer faces of
#: opaque parts and of windows, and heat put into the air.
INPUTS = ("outdoor", "solar", "internal", "walls", "windows", "power")


@dataclass(frozen=True)
class Coefficients:
    """Linear forms of one step.

    ``decay``, ``air``, ``operative`` and ``heat`` are (modes, lanes): what is left of a mode at the end of a
    step [-], what it adds to the mean of air and operative temperature over the step [K], and the heat it
    holds [J]. Each of ``INPUTS`` has an array (modes + 2, lanes) for every kelvin outdoors or every watt:
    what it adds to the modes at the end of the step, to the air and to the operative temperature. ``lost``
    [-] is the share of the sun through the glass that leaves by it again.
    """

    decay: Array
    air: Array
    operative: Array
    heat: Array
    outdoor: Array
    solar: Array
    internal: Array
    walls: Array
    windows: Array
    power: Array
    lost: Array


def coefficients(room: Room, *, step_hours: float = 1.0, modes: int = MODES) -> Coefficients:
    """Return the linear forms of one step.

    Parameters
    ----------
    room
        The room or rooms.
    step_hours
        Length of the step [h].
    modes
        How many of the slowest modes are carried, 1 to 5.

    Returns
    -------
    Coefficients
        Lanes as the room's fields broadcast; nan for a lane that holds a nan.

    Raises
    ------
    ValueError
        If a field is out of its range.

    Notes
    -----
    Means over the step are those of the exact solution for flows that hold through it. Modes that aren't
    carried are at rest in every step, so heat that comes in goes out or is kept, without any remainder.

    References
    ----------
    ISO 52016-1:2017, 6.5.6 (nodes and exchange between them; from memory of the standard). Its five nodes of
    an element are three here, without its outer ones, which follow the weather within the hour.
    """
    matrix, inflow, capacity, areas, lost = _assembled(room)
    bad = np.asarray(np.isnan(matrix).any(axis=(-1, -2)) | np.isnan(capacity).any(axis=-1))
    matrix = np.where(bad[..., None, None], np.eye(matrix.shape[-1]), matrix)
    capacity = np.where(bad[..., None], 1.0, capacity)
    stores = capacity.shape[-1]
    # nodes without capacity are what those with it and the flows make them
    inner = matrix[..., stores:, stores:]
    right = np.concatenate([-matrix[..., stores:, :stores], inflow[..., stores:, :]], axis=-1)
    follow = np.linalg.solve(inner, right)
    across = matrix[..., :stores, stores:]
    own = matrix[..., :stores, :stores] + across @ follow[..., :stores]
    drive = inflow[..., :stores, :] - across @ follow[..., stores:]
    root = 1.0 / np.sqrt(capacity)
    rates, vectors = np.linalg.eigh(root[..., :, None] * own * root[..., None, :])
    shapes = root[..., :, None] * vectors  # node temperature by mode
    rest = (np.swapaxes(shapes, -1, -2) @ drive) / rates[
        ..., None
    ]  # where each input takes a mode in the end

    weights = np.zeros((*areas.shape[:-1], 2, matrix.shape[-1]))  # rows: air, operative
    weights[..., 0, 0] = 1.0
    weights[..., 1, 0] = 0.5  # operative: half air, half surfaces by area, ISO 52016-1
    weights[..., 1, stores : stores + 3] = 0.5 * areas / areas.sum(axis=-1, keepdims=True)
    seen = weights[..., :stores] + weights[..., stores:] @ follow[..., :stores]
    felt = seen @ shapes
    at_once = weights[..., stores:] @ follow[..., stores:]

    step = rates * step_hours * 3600.0
    decay = np.exp(-step)
    mean = -np.expm1(-step) / step
    slow = np.arange(stores) < modes  # eigenvalues come in rising order
    mean, gone = np.where(slow, mean, 0.0), np.where(slow, 1.0 - decay, 1.0)
    forms = at_once + (felt * (1.0 - mean)[..., None, :]) @ rest
    ends = (gone[..., None] * rest)[..., :modes, :]
    rows = np.concatenate([ends, forms], axis=-2)
    rows[bad] = np.nan
    by_mode = felt * mean[..., None, :]
    heat = (capacity[..., None, :] @ shapes)[..., 0, :]

    def front(values: Array) -> Array:
        return np.ascontiguousarray(np.moveaxis(values, -1, 0))

    outdoor, solar, internal, walls, windows, power = (front(rows[..., at]) for at in range(len(INPUTS)))
    return Coefficients(
        front(decay[..., :modes]),
        front(by_mode[..., 0, :modes]),
        front(by_mode[..., 1, :modes]),
        front(heat[..., :modes]),
        outdoor,
        solar,
        internal,
        walls,
        windows,
        power,
        lost,
    )


def _checked(room: Room) -> dict[str, Array]:
    """Return every field of a room by lane, the slabs' by ``floor_`` and ``walls_``."""
    given: dict[str, tuple[ArrayLike, bool]] = {
        "glass_area": (room.glass_area, False),
        "windows": (room.windows, False),
        "opaque": (room.opaque, False),
        "ventilation": (room.ventilation, True),
        "air_capacity": (room.air_capacity, True),
        "convective_sun": (room.convective_sun, False),
    }
    for name, slab in (("floor", room.floor), ("walls", room.walls)):
        for field in ("area", "capacity", "resistance"):
            given[f"{name}_{field}"] = (getattr(slab, field), True)
    arrays = np.broadcast_arrays(*(np.asarray(value, dtype=float) for value, _ in given.values()))
    for (name, (_, over)), array in zip(given.items(), arrays, strict=True):
        wrong = array <= 0.0 if over else array < 0.0
        if np.any(wrong):
            rule = "over" if over else "not under"
            raise ValueError(f"{name} must be {rule} 0, got {float(np.min(array[wrong])):g}")
    return dict(zip(given, arrays, strict=True))


def _assembled(room: Room) -> tuple[Array, Array, Array, Array, Array]:
    """Return the matrix, the inputs' shares, the capacities, the surfaces' areas and the share of sun lost.

    Nodes: air, floor (outer half, inner half), walls (outer, inner), which store heat; then the surfaces of
    floor, walls and glass, and the point at which radiation between them meets, which don't.
    """
    at = _checked(room)
    lanes = at["opaque"].shape
    air, floor_in, floor_out, walls_in, walls_out, floor, walls, glass, star = range(9)
    walls_layer = R_SI + 0.75 * at["walls_resistance"]  # from the room to the middle of the outer half
    area = {
        floor: at["floor_area"],
        walls: np.maximum(at["walls_area"], at["opaque"] * walls_layer / (1.0 - LEAST_BEHIND)),
        glass: np.maximum(at["glass_area"], np.maximum(at["windows"] * R_SI / (1.0 - LEAST_BEHIND), 1e-6)),
    }
    matrix, inflow = np.zeros((*lanes, 9, 9)), np.zeros((*lanes, 9, len(INPUTS)))
    outdoor, solar, internal, on_walls, on_windows, power = range(len(INPUTS))

    def link(one: int, other: int, transfer: Array) -> None:
        for node, end in ((one, other), (other, one)):
            matrix[..., node, node] += transfer
            matrix[..., node, end] -= transfer

    def leak(node: int, transfer: Array) -> None:
        matrix[..., node, node] += transfer
        inflow[..., node, outdoor] += transfer

    for surface, convection in ((floor, H_FLOOR), (walls, H_WALLS), (glass, H_GLASS)):
        link(surface, air, convection * area[surface])
        link(surface, star, H_RADIATIVE * area[surface])
    for surface, inner, outer, name in (
        (floor, floor_in, floor_out, "floor"),
        (walls, walls_in, walls_out, "walls"),
    ):
        transfer = area[surface] / at[f"{name}_resistance"]
        link(surface, inner, 4.0 * transfer)
        link(inner, outer, 2.0 * transfer)
    # what is left of 1/(U A) once the layers inside it are taken off; a flow onto the outer face is counted
    # as the outdoor temperature times U A that would do the same
    for node, transfer, before, onto in (
        (walls_out, at["opaque"], walls_layer / area[walls], on_walls),
        (glass, at["windows"], R_SI / area[glass], on_windows),
    ):
        nearer = 1.0 / (1.0 - transfer * before)
        leak(node, transfer * nearer)
        inflow[..., node, onto] += nearer
    leak(air, at["ventilation"])

    total = area[floor] + area[walls] + area[glass]
    on_glass = area[glass] / total
    back = 1.0 - ABSORPTANCE
    lost = back * on_glass * GLASS_PASSES / (1.0 - back * (1.0 - on_glass) - GLASS_REFLECTS * on_glass)
    opaque = area[floor] + area[walls]
    to_air = at["convective_sun"]
    again = 1.0 - ABSORPTANCE - lost  # what the floor throws back and opaque surfaces take up
    for surface, first in ((floor, ABSORPTANCE), (walls, 0.0)):
        inflow[..., surface, solar] = (1.0 - to_air) * (first + again * area[surface] / opaque)
    inflow[..., air, solar] = to_air
    for surface in (floor, walls, glass):
        inflow[..., surface, internal] = (1.0 - CONVECTIVE_INTERNAL) * area[surface] / total
    inflow[..., air, internal] = CONVECTIVE_INTERNAL
    inflow[..., air, power] = 1.0
    half = [0.5 * at[f"{name}_capacity"] for name in ("floor", "walls")]
    capacity = np.stack([at["air_capacity"], half[0], half[0], half[1], half[1]], axis=-1)
    areas = np.stack([area[floor], area[walls], area[glass]], axis=-1)
    return matrix, inflow, capacity, areas, (1.0 - to_air) * lost
