"""Properties of the gas between panes and the heat it carries across a vertical gap.

Two models, never mixed: ISO 15099 (temperature-dependent properties, the correlation in the Rayleigh number)
for NFRC conditions and free temperatures, and EN 673 (properties at 283 K, Nu = .035 (Gr Pr)^.38) for EN
conditions.

Not covered: sloped and horizontal gaps (the correlations are for vertical ones), pressures other than
101 325 Pa, gaps with dividers.

References
----------
ISO 15099:2003, 5.3.3.5 (vertical cavities) and annex B (gas properties), coefficients from memory.
EN 673:2011, 6.3 and table 1 (gas properties), from memory.
C. R. Wilke, A viscosity equation for gas mixtures, J. Chem. Phys. 18 (1950) 517: used for viscosity and, with
the same weights, for conductivity, as ISO 15099 annex B does in a longer form (from memory).
"""

from __future__ import annotations

import math

import numpy as np

from reportkit.base.arrays import Array
from reportkit.physics.glass.glazing import Gap

GRAVITY = 9.81  # [m/s2]
STEFAN_BOLTZMANN = 5.6697e-8  # [W/m2/K4] EN 673; CODATA's 5.670374e-8 differs by one part in 8000
PRESSURE = 101_325.0  # [Pa]
GAS_CONSTANT = 8314.462618  # [J/kmol/K] CODATA 2018

BRIDGE = 0.05  # half-width of the bridge over a corner of the gap correlation, as a share of Ra

# a, b of a + b T [K]: conductivity [W/m/K], viscosity [Pa s], specific heat [J/kg/K]; molar mass [kg/kmol].
# ISO 15099 annex B, from memory.
_GAS: dict[str, tuple[tuple[float, float], tuple[float, float], tuple[float, float], float]] = {
    "air": ((2.873e-3, 7.760e-5), (3.723e-6, 4.94e-8), (1002.737, 1.2324e-2), 28.97),
    "argon": ((2.285e-3, 5.149e-5), (3.379e-6, 6.451e-8), (521.9285, 0.0), 39.948),
    "krypton": ((9.443e-4, 2.826e-5), (2.213e-6, 7.777e-8), (248.0907, 0.0), 83.80),
}
# EN 673 table 1 at 283 K, from memory: density [kg/m3], viscosity [Pa s], conductivity [W/m/K] and
# specific heat [J/kg/K].
_EN_GAS: dict[str, tuple[float, float, float, float]] = {
    "air": (1.232, 1.761e-5, 2.496e-2, 1008.0),
    "argon": (1.699, 2.164e-5, 1.684e-2, 519.0),
    "krypton": (3.560, 2.400e-5, 0.900e-2, 245.0),
}


def _one(gas: str, kelvin: Array) -> tuple[Array, Array, Array, float]:
    """Conductivity, viscosity, molar heat and molar mass of a pure gas."""
    (ka, kb), (ma, mb), (ca, cb), mass = _GAS[gas]
    return ka + kb * kelvin, ma + mb * kelvin, (ca + cb * kelvin) * mass, mass


def properties(gap: Gap, kelvin: Array) -> tuple[Array, Array, Array, Array]:
    """Conductivity, viscosity, specific heat and density of the gas in a gap.

    Parameters
    ----------
    gap : Gap
    kelvin : numpy.ndarray, (...) [K]
        Mean gas temperature.

    Returns
    -------
    conductivity [W/m/K], viscosity [Pa s], heat [J/kg/K], density [kg/m3] : numpy.ndarray, (...)

    References
    ----------
    ISO 15099:2003 annex B (from memory); Wilke 1950 for mixtures.
    """
    k, mu, cp, mass = _one(gap.gas, kelvin)
    if gap.gas != "air" and gap.fill < 1.0:
        k2, mu2, cp2, mass2 = _one("air", kelvin)
        x, y = gap.fill, 1.0 - gap.fill
        scale = 8.0 * (1.0 + mass / mass2), 8.0 * (1.0 + mass2 / mass)
        phi_12 = (1.0 + np.sqrt(mu / mu2) * (mass2 / mass) ** 0.25) ** 2 / math.sqrt(scale[0])
        phi_21 = (1.0 + np.sqrt(mu2 / mu) * (mass / mass2) ** 0.25) ** 2 / math.sqrt(scale[1])
        one, two = x / (x + y * phi_12), y / (y + x * phi_21)
        k, mu, cp = k * one + k2 * two, mu * one + mu2 * two, x * cp + y * cp2
        mass = x * mass + y * mass2
    density = PRESSURE * mass / (GAS_CONSTANT * kelvin)
    return k, mu, cp / mass, density


def nusselt(rayleigh: Array, *, aspect: float) -> Array:
    """Nusselt number of a vertical gap between panes.

    Parameters
    ----------
    rayleigh : numpy.ndarray, (...), 0 or more [1]
    aspect : float [1]
        Height over width.

    Returns
    -------
    numpy.ndarray, (...), 1 or more [1]

    Notes
    -----
    The branches do not meet: at 1e4 and 5e4 the published curve steps by .5 and .7 %, and a balance that
    falls on a step has no solution. Each step is bridged over 5 % of Ra to either side.

    References
    ----------
    ISO 15099:2003, equations 48-53 (from memory); J. L. Wright, ASHRAE Transactions 102 (1996) 882.
    """
    ra = np.asarray(rayleigh, dtype=float)
    low = 1.0 + 1.7596678e-10 * np.minimum(ra, 2e4) ** 2.2984755
    middle = 0.028154 * ra**0.4134
    high = 0.0673838 * ra ** (1.0 / 3.0)
    first = low + (middle - low) * _past(ra, 1e4)
    first = first + (high - first) * _past(ra, 5e4)
    nusselt: Array = np.maximum(first, 0.242 * (ra / aspect) ** 0.272)
    return nusselt


def _past(rayleigh: Array, corner: float) -> Array:
    """0 below a corner of the correlation, 1 above, rising evenly over the bridge about it."""
    return np.clip((rayleigh / corner - (1.0 - BRIDGE)) / (2.0 * BRIDGE), 0.0, 1.0)


def conductance(gap: Gap, t_one: Array, t_two: Array, *, height: float) -> Array:
    """Convective conductance of a vertical gap by ISO 15099.

    Parameters
    ----------
    gap : Gap
    t_one, t_two : numpy.ndarray, (...) [K]
        Temperatures of the two faces.
    height : float, over 0 [m]

    Returns
    -------
    numpy.ndarray, (...) [W/m2/K]
    """
    mean = 0.5 * (t_one + t_two)
    k, mu, cp, density = properties(gap, mean)
    width = gap.width_mm / 1000.0
    rayleigh = density**2 * width**3 * GRAVITY * cp * np.abs(t_one - t_two) / (mean * mu * k)
    return nusselt(rayleigh, aspect=height / width) * k / width


def en673_conductance(gap: Gap, *, difference: float) -> float:
    """Convective conductance of a vertical gap by EN 673.

    Parameters
    ----------
    gap : Gap
    difference : float [K]
        Between the two faces; 15 K over all gaps of a unit.

    Returns
    -------
    float [W/m2/K]

    References
    ----------
    EN 673:2011, 6.2-6.3: A = .035, n = .38 for vertical glazing, mean temperature 283 K (from memory).
    """
    pure, air = _EN_GAS[gap.gas], _EN_GAS["air"]
    density, mu, k, heat = (gap.fill * p + (1.0 - gap.fill) * a for p, a in zip(pure, air, strict=True))
    width = gap.width_mm / 1000.0
    grashof = GRAVITY * width**3 * difference * density**2 / (283.0 * mu**2)
    prandtl = mu * heat / k
    nusselt: float = max(1.0, 0.035 * (grashof * prandtl) ** 0.38)
    return nusselt * k / width
