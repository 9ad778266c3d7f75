"""Heat through the centre of a glazing: the temperatures of its faces and the heat it gives to the room.

A node at each glass face; the sun absorbed in a pane is split half and half between its faces; long-wave
exchange between the faces, with the room and with the sky at outdoor temperature; convection in the gaps by
ISO 15099; outdoors 4 + 4 V; indoors natural convection. Every call solves many cases at once.

Not covered: frames and edge of glass, sloped glazing, heat stored in the panes, rain, the blind itself (give
its effect as a room-side coefficient).

References
----------
ISO 15099:2003, clauses 5 and 8 (from memory but for the gap correlation).
NFRC 100 and 200: winter -18/21 C and 5.5 m/s; summer 32/24 C, 2.75 m/s and 783 W/m2 (from memory).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from reportkit.base.arrays import Array
from reportkit.physics.glass.gas import GRAVITY, STEFAN_BOLTZMANN, conductance, properties
from reportkit.physics.glass.glazing import Gap, Glazing

KELVIN = 273.15
HEIGHT = 1.0  # [m] NFRC rates the centre of glass at this height (from memory)
NFRC_EMISSIVITY = 0.84
ITERATIONS = 120
_AIR = Gap(10.0)  # only its gas is used, for the room's air


@dataclass(frozen=True, eq=False)
class Heat:
    """Solution of the centre-of-glass balance for cases of any shape.

    Attributes
    ----------
    t_faces : numpy.ndarray, (..., 2 n) [C]
        Face temperatures from outside to inside.
    q_in : numpy.ndarray, (...) [W/m2]
        Heat from the inner face into the room (negative when the room loses heat); transmitted sun not in it.
    q_out : numpy.ndarray, (...) [W/m2]
        Heat from the outer face to the outdoors.
    shares : numpy.ndarray, (..., n) [1]
        Of heat absorbed in each pane, the part that flows inward, coefficients held at this solution.
    conductance : numpy.ndarray, (...) [W/m2/K]
        Air to air, coefficients held at this solution.
    residual : numpy.ndarray, (...) [W/m2]
        Largest imbalance of a node.
    """

    t_faces: Array
    q_in: Array
    q_out: Array
    shares: Array
    conductance: Array
    residual: Array


def emissivities(glazing: Glazing, *, ordinary: float = NFRC_EMISSIVITY) -> tuple[float, ...]:
    """Emissivity of every face from outside to inside, (2 n,) [1]; bare glass has the ordinary one."""
    return tuple(ordinary if face.emissivity is None else face.emissivity for face in glazing.faces)


def room_convection(t_face: Array, t_room: Array, *, height: float) -> Array:
    """Natural convection at the room face of a vertical pane.

    Parameters
    ----------
    t_face, t_room : numpy.ndarray, (...) [K]
    height : float, over 0 [m]

    Returns
    -------
    numpy.ndarray, (...) [W/m2/K]

    References
    ----------
    ISO 15099:2003, 8.3.2.2: Nu = .56 Ra^.25 below Ra = 1.06e11 at 90 degrees, air at Ti + .25 (Ts - Ti)
    (from memory).
    """
    mean = t_room + 0.25 * (t_face - t_room)
    k, mu, cp, density = properties(_AIR, mean)
    difference = np.abs(t_face - t_room)
    rayleigh = density**2 * height**3 * GRAVITY * cp * difference / (mean * mu * k)
    critical = 2.5e5 * np.exp(0.72 * 90.0) ** 0.2
    low = np.minimum(rayleigh, critical)
    turbulent = 0.13 * (np.maximum(rayleigh, critical) ** (1 / 3) - critical ** (1 / 3))
    coefficient: Array = (0.56 * low**0.25 + turbulent) * k / height
    return coefficient


def _radiative(emissivity: float, one: Array, two: Array) -> Array:
    """Linearised long-wave coefficient between two temperatures [K], exact for those."""
    return emissivity * STEFAN_BOLTZMANN * (one * one + two * two) * (one + two)


def solve_network(links: list[Array], sources: list[Array]) -> list[Array]:
    """Solve a chain of nodes: outdoors - node 1 - ... - node m - room, both ends at zero.

    Parameters
    ----------
    links : list of numpy.ndarray, m + 1 of (...) [W/m2/K]
        Conductances from outdoors to the room, in order.
    sources : list of numpy.ndarray, m of (...) [W/m2]
        Heat put into each node.

    Returns
    -------
    list of numpy.ndarray, m of (...) [K]
        Node temperatures above the ends.
    """
    upper: list[Array] = []
    right: list[Array] = []
    for i, source in enumerate(sources):
        diagonal = links[i] + links[i + 1]
        value = source
        if i:
            diagonal = diagonal - links[i] * upper[-1]
            value = source + links[i] * right[-1]
        upper.append(links[i + 1] / diagonal)
        right.append(value / diagonal)
    solution = [right[-1]]
    for i in range(len(sources) - 2, -1, -1):
        solution.append(right[i] + upper[i] * solution[-1])
    return solution[::-1]


def heat(
    glazing: Glazing,
    *,
    absorbed: npt.ArrayLike,
    t_out: npt.ArrayLike,
    t_in: npt.ArrayLike,
    wind: npt.ArrayLike = 2.75,
    h_out: npt.ArrayLike | None = None,
    h_in: npt.ArrayLike | None = None,
    t_sky: npt.ArrayLike | None = None,
    t_radiant: npt.ArrayLike | None = None,
    height: float = HEIGHT,
    ordinary_emissivity: float = NFRC_EMISSIVITY,
) -> Heat:
    """Balance a glazing's faces for one or many cases.

    Parameters
    ----------
    glazing : Glazing
        n panes.
    absorbed : array_like, (..., n), 0 or more [W/m2]
        Sun absorbed in each pane.
    t_out, t_in : array_like, (...) [C]
        Outdoor and room air.
    wind : array_like, (...), 0 or more [m/s]
        Used for the outdoor convection 4 + 4 V unless `h_out` is given.
    h_out, h_in : array_like or None, (...) [W/m2/K]
        Convective coefficients in place of the models.
    t_sky, t_radiant : array_like or None, (...) [C]
        What the outer and inner face exchange long-wave heat with; None is the air's temperature.
    height : float, over 0 [m]
    ordinary_emissivity : float, 0-1 [1]
        Of bare glass.

    Returns
    -------
    Heat
        Shapes are the inputs' broadcast together; nan is carried.

    Raises
    ------
    ValueError
        `absorbed` has not one column per pane, or the height is not over 0.

    Notes
    -----
    The shares and the conductance lump long-wave and convective coefficients, and are exact where sky and
    surroundings are at air temperature.

    Examples
    --------
    >>> from reportkit.physics.glass import clear, single
    >>> winter = heat(single(clear(3)), absorbed=[0.0], t_out=-18.0, t_in=21.0, wind=5.5)
    >>> round(float(-winter.q_in) / 39.0, 2)
    5.91
    """
    n = len(glazing.lites)
    sun = np.asarray(absorbed, dtype=float)
    if sun.ndim == 0 or sun.shape[-1] != n:
        raise ValueError(f"absorbed must have one column for each of {n} panes (got shape {sun.shape})")
    if height <= 0.0:
        raise ValueError(f"height must be over 0 m (got {height:g})")
    t_o = np.asarray(t_out, dtype=float) + KELVIN
    t_i = np.asarray(t_in, dtype=float) + KELVIN
    convection_out = 4.0 + 4.0 * np.asarray(wind, dtype=float) if h_out is None else np.asarray(h_out, float)
    sky = t_o if t_sky is None else np.asarray(t_sky, dtype=float) + KELVIN
    walls = t_i if t_radiant is None else np.asarray(t_radiant, dtype=float) + KELVIN
    shape = np.broadcast_shapes(
        sun.shape[:-1], t_o.shape, t_i.shape, convection_out.shape, sky.shape, walls.shape,
        () if h_in is None else np.shape(h_in),
    )  # fmt: skip
    t_o, t_i, sky, walls = (np.broadcast_to(x, shape) for x in (t_o, t_i, sky, walls))
    convection_out = np.broadcast_to(convection_out, shape)
    parts = [np.broadcast_to(0.5 * sun[..., j // 2], shape) for j in range(2 * n)]
    eps = emissivities(glazing, ordinary=ordinary_emissivity)
    glass = [np.full(shape, lite.conductivity / (lite.thickness_mm / 1000.0)) for lite in glazing.lites]

    def coefficients(face: list[Array]) -> tuple[list[Array], Array, Array]:
        """Links of the chain, and the part of the two outermost that is radiation."""
        links = []
        outer = _radiative(eps[0], face[0], sky)
        links.append(convection_out + outer)
        for j in range(n):
            links.append(glass[j])
            if j < n - 1:
                one, two = face[2 * j + 1], face[2 * j + 2]
                pair = 1.0 / (1.0 / eps[2 * j + 1] + 1.0 / eps[2 * j + 2] - 1.0)
                links.append(
                    _radiative(pair, one, two) + conductance(glazing.gaps[j], one, two, height=height)
                )
        inner = _radiative(eps[-1], face[-1], walls)
        convective = (
            room_convection(face[-1], t_i, height=height)
            if h_in is None
            else np.broadcast_to(np.asarray(h_in, dtype=float), shape)
        )
        links.append(convective + inner)
        return links, outer, inner

    start = [t_o + (t_i - t_o) * (j + 1.0) / (2 * n + 1.0) + 1e-3 for j in range(2 * n)]
    face = start
    for step in range(ITERATIONS):
        links, outer, inner = coefficients(face)
        loads = list(parts)
        loads[0] = loads[0] + (links[0] - outer) * t_o + outer * sky
        loads[-1] = loads[-1] + (links[-1] - inner) * t_i + inner * walls
        new = solve_network(links, loads)
        change = max(float(np.nanmax(np.abs(a - b), initial=0.0)) for a, b in zip(new, face, strict=True))
        # the gap correlation has corners: past them the step is halved so that it cannot hop for ever
        face = new if step < 25 else [0.5 * (a + b) for a, b in zip(new, face, strict=True)]
        if change < 1e-7:
            break
    links, outer, inner = coefficients(face)
    q_out = (links[0] - outer) * (face[0] - t_o) + outer * (face[0] - sky)
    q_in = (links[-1] - inner) * (face[-1] - t_i) + inner * (face[-1] - walls)
    flows = [-q_out, *[links[j] * (face[j] - face[j - 1]) for j in range(1, 2 * n)], -q_in]
    # at node j: what comes from the inner side, less what goes to the outer side, plus the sun
    balance = [-q_out + flows[1] + parts[0]]
    balance += [flows[j + 1] - flows[j] + parts[j] for j in range(1, 2 * n - 1)]
    balance.append(-q_in - flows[2 * n - 1] + parts[-1])
    residual = np.max(np.abs(np.stack(balance)), axis=0)
    shares = []
    resistances = [1.0 / link for link in links]
    total = np.sum(resistances, axis=0)
    for j in range(n):
        to_outer = np.sum(resistances[: 2 * j + 1], axis=0)
        # half the heat enters at each face: seen from outside, the pane's own resistance counts half
        shares.append((to_outer + 0.5 * resistances[2 * j + 1]) / total)
    return Heat(
        t_faces=np.stack(face, axis=-1) - KELVIN,
        q_in=q_in,
        q_out=q_out,
        shares=np.stack(shares, axis=-1),
        conductance=1.0 / total,
        residual=residual,
    )
