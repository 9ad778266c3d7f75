"""A room's nodes written out one by one, integrated without any reduction, to hold the network against.

An independent assembly (cross-check, not an authority). Nodes without capacity get a joule for a kelvin.
"""

import numpy as np
from scipy.linalg import expm

from reportkit.physics.room.network import Room, Slab

#: A room of 20 m2, 2.5 m high, some 165 kJ/m2K.
BOX = Room(
    floor=Slab(20.0, 0.77e6, 0.05),
    walls=Slab(60.0, 2.53e6, 0.05),
    glass_area=5.0,
    windows=15.0,
    opaque=10.0,
    ventilation=20.0,
    air_capacity=260e3,
)
NODES = ("air", "floor in", "floor out", "walls in", "walls out", "floor", "walls", "glass", "star")
INPUTS = ("outdoor", "solar", "internal", "walls", "windows", "power")


def nodes(room: Room = BOX) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Return the nodes' capacities [J/K], the matrix of transfers [W/K] and the inputs' shares."""
    at = {name: place for place, name in enumerate(NODES)}
    area = {"floor": room.floor.area, "walls": room.walls.area, "glass": room.glass_area}
    links = [
        (surface, "air", h * area[surface])
        for surface, h in (("floor", 1.8), ("walls", 1.56), ("glass", 2.5))
    ]
    links += [(surface, "star", 5.13 * area[surface]) for surface in area]
    for name, slab in (("floor", room.floor), ("walls", room.walls)):
        whole = slab.area / slab.resistance
        links += [(name, f"{name} in", 4 * whole), (f"{name} in", f"{name} out", 2 * whole)]
    matrix, inflow = np.zeros((9, 9)), np.zeros((9, 6))
    for one, other, transfer in links:
        pair = [at[one], at[other]]
        matrix[np.ix_(pair, pair)] += transfer * np.array([[1.0, -1.0], [-1.0, 1.0]])
    behind = 1 / (1 / room.opaque - (0.131 + 0.75 * room.walls.resistance) / area["walls"])
    outer = 1 / (1 / room.windows - 0.131 / area["glass"])
    for node, transfer, onto, own in (
        ("walls out", behind, "walls", room.opaque),
        ("glass", outer, "windows", room.windows),
        ("air", room.ventilation, None, 0.0),
    ):
        matrix[at[node], at[node]] += transfer
        inflow[at[node], 0] += transfer
        if onto:  # a flow counted as U A times the outdoor temperature that does the same
            inflow[at[node], INPUTS.index(onto)] = transfer / own
    total = sum(area.values())
    glass = area["glass"] / total
    lost, left = 0.0, 0.4  # of the sun on the floor .4 comes back; light goes round until it is gone
    for _ in range(200):
        lost += left * glass * 0.65
        left *= 0.4 * (1 - glass) + 0.2 * glass
    for surface, share in (("floor", 0.6), ("walls", 0.0)):
        again = (0.4 - lost) * area[surface] / (area["floor"] + area["walls"])
        inflow[at[surface], 1] = (1 - room.convective_sun) * (share + again)
    inflow[at["air"], 1] = room.convective_sun
    for surface in area:
        inflow[at[surface], 2] = 0.6 * area[surface] / total
    inflow[at["air"], 2], inflow[at["air"], 5] = 0.4, 1.0
    halves = [0.5 * slab.capacity for slab in (room.floor, room.walls) for _ in range(2)]
    return np.array([room.air_capacity, *halves, 1.0, 1.0, 1.0, 1.0]), matrix, inflow


def weights(room: Room = BOX) -> np.ndarray:
    """Return air and operative temperature as weights of the nodes, (2, nodes)."""
    area = np.array([room.floor.area, room.walls.area, room.glass_area])
    rows = np.zeros((2, 9))
    rows[:, 0] = 1.0, 0.5
    rows[1, 5:8] = 0.5 * area / area.sum()
    return rows


class ByHand:
    """One step after another by the exponential of the whole matrix, for flows that hold through an hour."""

    def __init__(self, room: Room = BOX, start: float = 20.0) -> None:
        """Begin with everything at one temperature [C]."""
        capacity, matrix, inflow = nodes(room)
        n, m = inflow.shape
        # d/dt of nodes, of constant inputs, and of the nodes' integral
        system = np.zeros((2 * n + m, 2 * n + m))
        system[:n, :n] = -matrix / capacity[:, None]
        system[:n, n : n + m] = inflow / capacity[:, None]
        system[n + m :, :n] = np.eye(n)
        self._step = expm(system * 3600.0)
        self._n, self._m = n, m
        self.state = np.full(n, start)
        self.weights = weights(room)

    def look(self, flows: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        """Return air and operative temperature, means of the next hour, and the nodes at its end."""
        n, m = self._n, self._m
        end = self._step @ np.concatenate([self.state, flows, np.zeros(n)])
        return self.weights @ (end[n + m :] / 3600.0), end[:n]
