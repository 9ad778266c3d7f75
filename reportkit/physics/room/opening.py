"""Windows that people open, and fans that run at night: what may be open, and how much air comes in.

Air through one opening, or several in one face, by wind and buoyancy: de Gids and Phaff 1982. Where openings
face two ways, wind also blows through from one to the other. Not covered: doors between rooms, insect screens
and blinds before an opening (take them off its area), gusts, and rain.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from reportkit.base.arrays import Array

#: Coefficients of wind [-], of buoyancy [m/(s2 K)] and of turbulence [m2/s2], de Gids & Phaff 1982 (from two
#: public implementations of it, not from the paper).
WIND, BUOYANCY, TURBULENCE = 0.001, 0.0035, 0.01
#: Discharge of a sharp-edged opening [-], and the difference of wind pressure coefficients between two faces of
#: a low building among others of its height [-]: the least of the usual tables (from memory of CIBSE AM10).
DISCHARGE, PRESSURE_DIFFERENCE = 0.6, 0.2


@dataclass(frozen=True)
class Opening:
    """What may be opened, when, and from which temperature on.

    Parameters
    ----------
    area
        Free area of a room's openings, all together [m2], by lane, 0 or more.
    height
        Of one opening, its lower edge to its upper [m], by lane, 0 or more.
    cross
        Whether the openings face two ways, half of the area each, by lane: 0 or 1.
    may_open
        Hours in which somebody would open, (H,) of bool, or with leading axes that broadcast to the lanes.
    above
        Air of the room over which they do [C], by lane. They open no further than it takes to come down to
        it, or to the set point of the heating where that is higher.
    fan
        Air that a fan brings in from outside [m3/s], by lane, 0 or more.
    fan_hours
        Hours in which the fan may run, as ``may_open``; it obeys ``above`` as the openings do.
    air_heat
        Heat of the outdoor air [J/(m3 K)]: 1207 at sea level, less higher up.
    """

    area: ArrayLike
    height: ArrayLike = 1.0
    cross: ArrayLike = 0.0
    may_open: ArrayLike = True
    above: ArrayLike = 22.0
    fan: ArrayLike = 0.0
    fan_hours: ArrayLike = False
    air_heat: float = 1.2 * 1006.0

    def __post_init__(self) -> None:
        """Refuse areas, heights and flows under 0."""
        for name in ("area", "height", "fan", "air_heat"):
            if np.any(np.asarray(getattr(self, name), dtype=float) < 0):
                raise ValueError(f"{name} must be 0 or more")


def air_flow(
    area: ArrayLike, height: ArrayLike, kelvin: ArrayLike, wind: ArrayLike, *, cross: ArrayLike = 0.0
) -> Array:
    """Return the outdoor air that comes in through an opening.

    Parameters
    ----------
    area, height
        Of the opening [m2], [m].
    kelvin
        Indoor less outdoor temperature, its sign doesn't matter [K].
    wind
        At 10 m, as a weather station measures it [m/s].
    cross
        1 where half of the area is on another face, 0 where all is on one.

    Returns
    -------
    array
        [m3/s].

    References
    ----------
    de Gids W. & Phaff H. 1982, Air Infiltration Review 4:3-5: q = A/2 sqrt(.001 u2 + .0035 H dT + .01), for
    openings in one face. Through two faces: the orifice equation with both halves in a row, added as the
    squares are (from memory of CIBSE AM10).
    """
    one_side, through = _flow_squares(area, height, wind, cross)
    return np.asarray(np.sqrt(through + one_side * np.abs(np.asarray(kelvin, dtype=float))))


def _flow_squares(
    area: ArrayLike, height: ArrayLike, wind: ArrayLike, cross: ArrayLike
) -> tuple[Array, Array]:
    """Return the square of the flow by kelvin and without any [m6/(s2 K)], [m6/s2]."""
    half = 0.25 * np.asarray(area, dtype=float) ** 2
    gust = np.asarray(wind, dtype=float) ** 2
    # two equal halves in a row pass as much as one of area / (2 sqrt 2)
    blown = np.asarray(cross, dtype=float) * (DISCHARGE**2 * PRESSURE_DIFFERENCE / 2.0)
    return half * BUOYANCY * np.asarray(height, dtype=float), half * (WIND * gust + TURBULENCE + blown * gust)
