"""Thermal and solar rating of a glazing by the European standards' fixed surface coefficients.

EN 673 gives U with 25 W/m2K outdoors, a room coefficient of 3.6 + 4.1 e/.837 and gaps at 283 K sharing 15 K;
EN 410 gives g with 23 W/m2K outdoors and 3.6 + 4.4 e/.837 in the room. Bare glass has emissivity .837.

Not covered: EN 410's own solar spectrum (the band weights here are ASTM G173's), sloped glazing.

References
----------
EN 673:2011 and EN 410:2011 (formulas and coefficients from memory).
"""

from __future__ import annotations

import numpy as np

from reportkit.base.arrays import Array
from reportkit.physics.glass.gas import STEFAN_BOLTZMANN, en673_conductance
from reportkit.physics.glass.glazing import Glazing
from reportkit.physics.glass.heat import emissivities, solve_network

EN_EMISSIVITY = 0.837
MEAN_KELVIN = 283.0
GAP_DIFFERENCE = 15.0  # [K] over all gaps
H_OUT_U, H_OUT_G = 25.0, 23.0  # [W/m2/K]


def gap_conductances(glazing: Glazing) -> tuple[float, ...]:
    """Conductance of every gap, radiation and gas together, by EN 673.

    Parameters
    ----------
    glazing : Glazing

    Returns
    -------
    tuple of float, (n - 1,) [W/m2/K]

    References
    ----------
    EN 673:2011, clause 5 to 7: the 15 K are shared among gaps by their resistance, found by repetition
    (from memory).
    """
    eps = emissivities(glazing, ordinary=EN_EMISSIVITY)
    count = len(glazing.gaps)
    share = [GAP_DIFFERENCE / max(count, 1)] * count
    values: list[float] = []
    for _ in range(50 if count > 1 else 1):
        values = []
        for j, gap in enumerate(glazing.gaps):
            pair = 1.0 / (1.0 / eps[2 * j + 1] + 1.0 / eps[2 * j + 2] - 1.0)
            radiative = 4.0 * STEFAN_BOLTZMANN * MEAN_KELVIN**3 * pair
            values.append(radiative + en673_conductance(gap, difference=share[j]))
        total = sum(1.0 / value for value in values)
        share = [GAP_DIFFERENCE / (value * total) for value in values]
    return tuple(values)


def _links(glazing: Glazing, *, h_out: float, convective: float) -> list[Array]:
    """Chain of conductances from outdoors to the room."""
    gaps = gap_conductances(glazing)
    inner = emissivities(glazing, ordinary=EN_EMISSIVITY)[-1]
    links = [h_out]
    for j, lite in enumerate(glazing.lites):
        links.append(lite.conductivity / (lite.thickness_mm / 1000.0))
        if j < len(gaps):
            links.append(gaps[j])
    links.append(3.6 + convective * inner / EN_EMISSIVITY)
    return [np.asarray(link) for link in links]


def en673_u(glazing: Glazing) -> float:
    """Thermal transmittance of the centre of glass by EN 673.

    Parameters
    ----------
    glazing : Glazing

    Returns
    -------
    float [W/m2/K]
    """
    return 1.0 / float(np.sum([1.0 / link for link in _links(glazing, h_out=H_OUT_U, convective=4.1)]))


def en673_faces(glazing: Glazing, *, t_out: float, t_in: float) -> tuple[float, ...]:
    """Face temperatures without sun, from outside to inside, with the coefficients of EN 673.

    Parameters
    ----------
    glazing : Glazing
    t_out, t_in : float [C]

    Returns
    -------
    tuple of float, (2 n,) [C]
    """
    links = _links(glazing, h_out=H_OUT_U, convective=4.1)
    resistances = np.array([1.0 / link for link in links])
    place = np.cumsum(resistances)[:-1] / resistances.sum()
    return tuple(float(t_out + (t_in - t_out) * x) for x in place)


def en410_shares(glazing: Glazing) -> tuple[float, ...]:
    """Of the sun absorbed in each pane, the part that flows inward, by EN 410.

    Parameters
    ----------
    glazing : Glazing

    Returns
    -------
    tuple of float, (n,) [1]
    """
    links = _links(glazing, h_out=H_OUT_G, convective=4.4)
    n = len(glazing.lites)
    shares = []
    for lite in range(n):
        sources = [np.asarray(0.5 if node // 2 == lite else 0.0) for node in range(2 * n)]
        shares.append(float(links[-1] * solve_network(links, sources)[-1]))
    return tuple(shares)
