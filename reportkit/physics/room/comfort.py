"""How warm someone by the window feels: the sun on the body, and the hot pane beside it.

Sunlight on a person adds to the mean radiant temperature by the SolarCal method of ASHRAE 55,
Appendix C; a pane warmer than the room adds by its view factor (ISO 7726). The two are separate and
add up. Not covered: clothing colour beyond one absorptance, sun on part of the body by hour, draught.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike

from reportkit.base.arrays import Array

Posture = Literal["seated", "standing"]

#: Effective radiating share of the body [-], ASHRAE 55-2017, Appendix C.
EFFECTIVE = {"seated": 0.696, "standing": 0.725}
#: Radiative coefficient of the body [W/(m2 K)], same place.
H_RADIATIVE = 6.012
#: Long-wave absorptance of skin and clothing [-], same place.
LONG_WAVE = 0.95
#: Reflectance of the floor [-], same place.
FLOOR_REFLECTANCE = 0.6
#: Diffuse over direct sun indoors [-], same place.
DIFFUSE_SHARE = 0.2

_ALTITUDE = np.arange(0.0, 91.0, 15.0)
_SHARP = np.arange(0.0, 181.0, 15.0)
#: Projected area factor by sharp (rows, 0 to 180 by 15) and altitude (columns, 0 to 90 by 15),
#: ASHRAE 55-2017, Appendix C (from memory of the standard; checked by its validation table).
_FP = {
    "standing": np.array(
        [
            [0.350, 0.350, 0.314, 0.258, 0.206, 0.144, 0.082],
            [0.342, 0.342, 0.310, 0.252, 0.200, 0.140, 0.082],
            [0.330, 0.330, 0.300, 0.244, 0.190, 0.132, 0.082],
            [0.310, 0.310, 0.275, 0.228, 0.175, 0.124, 0.082],
            [0.283, 0.283, 0.251, 0.208, 0.160, 0.114, 0.082],
            [0.252, 0.252, 0.228, 0.188, 0.150, 0.108, 0.082],
            [0.230, 0.230, 0.214, 0.180, 0.148, 0.108, 0.082],
            [0.242, 0.242, 0.222, 0.180, 0.153, 0.112, 0.082],
            [0.274, 0.274, 0.245, 0.203, 0.165, 0.116, 0.082],
            [0.304, 0.304, 0.270, 0.220, 0.174, 0.121, 0.082],
            [0.328, 0.328, 0.290, 0.234, 0.183, 0.125, 0.082],
            [0.344, 0.344, 0.304, 0.244, 0.190, 0.128, 0.082],
            [0.347, 0.347, 0.308, 0.246, 0.191, 0.128, 0.082],
        ]
    ),
    "seated": np.array(
        [
            [0.290, 0.324, 0.305, 0.303, 0.262, 0.224, 0.177],
            [0.292, 0.328, 0.294, 0.288, 0.268, 0.227, 0.177],
            [0.288, 0.332, 0.298, 0.290, 0.264, 0.222, 0.177],
            [0.274, 0.326, 0.294, 0.289, 0.252, 0.214, 0.177],
            [0.254, 0.308, 0.280, 0.276, 0.241, 0.202, 0.177],
            [0.230, 0.282, 0.262, 0.260, 0.233, 0.193, 0.177],
            [0.216, 0.260, 0.248, 0.244, 0.220, 0.186, 0.177],
            [0.234, 0.258, 0.236, 0.227, 0.208, 0.180, 0.177],
            [0.262, 0.260, 0.224, 0.208, 0.196, 0.176, 0.177],
            [0.280, 0.260, 0.210, 0.192, 0.184, 0.170, 0.177],
            [0.298, 0.256, 0.194, 0.174, 0.168, 0.168, 0.177],
            [0.306, 0.250, 0.180, 0.156, 0.156, 0.166, 0.177],
            [0.300, 0.240, 0.168, 0.152, 0.152, 0.164, 0.177],
        ]
    ),
}


@dataclass(frozen=True)
class SunOnBody:
    """Effective radiant field [W/m2] and what it adds to the mean radiant temperature [K]."""

    effective_radiant_field: Array
    delta_mrt: Array


def projected_area(altitude: ArrayLike, sharp: ArrayLike, *, posture: Posture = "seated") -> Array:
    """Return the projected area factor of the body.

    Parameters
    ----------
    altitude
        Of the sun [deg], 0 to 90.
    sharp
        Sun's azimuth from where the person faces [deg]; 0 faces the sun, folded into 0 to 180.
    posture
        ``seated`` or ``standing``.

    Returns
    -------
    array
        Factor [-], bilinear in the standard's table; nan outside its altitudes.
    """
    if posture not in _FP:
        raise ValueError(f"posture must be seated or standing, got {posture!r}")
    up = np.asarray(altitude, dtype=float)
    side = np.abs((np.asarray(sharp, dtype=float) + 180.0) % 360.0 - 180.0)
    up, side = np.broadcast_arrays(up, side)
    bad = ~((up >= 0.0) & (up <= 90.0)) | np.isnan(side)
    table = _FP[posture]
    column = np.where(bad, 0.0, up) / 15.0
    row = np.where(bad, 0.0, side) / 15.0
    c = np.minimum(column.astype(int), _ALTITUDE.size - 2)
    r = np.minimum(row.astype(int), _SHARP.size - 2)
    x, y = column - c, row - r
    value = (1 - y) * ((1 - x) * table[r, c] + x * table[r, c + 1]) + y * (
        (1 - x) * table[r + 1, c] + x * table[r + 1, c + 1]
    )
    return np.where(bad, np.nan, value)


def sun_on_body(
    direct_normal: ArrayLike,
    *,
    altitude: ArrayLike,
    sharp: ArrayLike,
    t_solar: ArrayLike,
    sky_view: ArrayLike = 0.5,
    body_exposed: ArrayLike = 0.5,
    absorptance: ArrayLike = 0.7,
    posture: Posture = "seated",
) -> SunOnBody:
    """Return what the sun through a window does to a person (SolarCal).

    Parameters
    ----------
    direct_normal
        Direct normal irradiance outdoors [W/m2].
    altitude, sharp
        Of the sun [deg], see ``projected_area``.
    t_solar
        *Solar transmittance* of the glass at the sun's incidence angle [-]; neither the SHGC nor the
        visible transmittance.
    sky_view
        Share of the sky's hemisphere seen from the body [-], 0 to 1.
    body_exposed
        Share of the body in the sun [-], 0 to 1.
    absorptance
        Of skin and clothing for sunlight [-], .7 medium.
    posture
        ``seated`` or ``standing``.

    Returns
    -------
    SunOnBody
        nan in, nan out; nan where the sun is below the horizon.

    References
    ----------
    ANSI/ASHRAE 55-2017, Appendix C; Arens et al. 2015, Building and Environment 88:3,
    DOI 10.1016/j.buildenv.2014.09.004.
    """
    direct = np.asarray(direct_normal, dtype=float)
    up = np.asarray(altitude, dtype=float)
    factor = projected_area(up, sharp, posture=posture)
    share = EFFECTIVE[posture]
    diffuse = DIFFUSE_SHARE * direct
    horizontal = direct * np.sin(np.radians(up)) + diffuse
    scattered = 0.5 * share * np.asarray(sky_view) * (diffuse + FLOOR_REFLECTANCE * horizontal)
    beam = share * factor * np.asarray(body_exposed) * direct
    field = (scattered + beam) * np.asarray(t_solar) * np.asarray(absorptance) / LONG_WAVE
    return SunOnBody(field, field / (H_RADIATIVE * share))


def pane_view_factor(*, width: ArrayLike, below: ArrayLike, above: ArrayLike, distance: ArrayLike) -> Array:
    """Return the view factor from a seated person to a vertical pane in front, centred sideways.

    Parameters
    ----------
    width
        Of the pane [m].
    below, above
        How far the pane reaches below and above the person's centre [m], 0 or more each.
    distance
        From the person to the pane [m], over 0.

    Returns
    -------
    array
        View factor [-], 0 to .472.

    References
    ----------
    ISO 7726:1998, Annex B (from memory of the standard): per quadrant
    F = .118 (1 - exp(-(a/c)/tau)) (1 - exp(-(b/c)/gamma)), tau = 1.216 + .169 a/c,
    gamma = .717 + .087 b/c + .052 a/c.
    """
    c = np.asarray(distance, dtype=float)
    if np.any(c <= 0):
        raise ValueError("distance must be over 0")
    a = 0.5 * np.asarray(width, dtype=float) / c
    total = np.zeros(np.broadcast_shapes(np.shape(a), np.shape(below), np.shape(above)))
    tau = 1.216 + 0.169 * a
    for part in (below, above):
        b = np.asarray(part, dtype=float) / c
        gamma = 0.717 + 0.087 * b + 0.052 * a
        total = total + 2.0 * 0.118 * (1.0 - np.exp(-a / tau)) * (1.0 - np.exp(-b / gamma))
    return np.asarray(total)


def hot_pane(view_factor: ArrayLike, *, pane: ArrayLike, room: ArrayLike) -> Array:
    """Return what a warm or cold pane adds to the mean radiant temperature.

    Parameters
    ----------
    view_factor
        From person to pane [-].
    pane, room
        Inner-face temperature and mean radiant temperature of the rest [C].

    Returns
    -------
    array
        [K], negative by a cold pane.
    """
    return np.asarray(
        np.asarray(view_factor) * (np.asarray(pane, dtype=float) - np.asarray(room, dtype=float))
    )
