"""Daylight glare from a bright window, by the light at the eye alone (simplified DGP).

The simplified daylight glare probability needs only the vertical illuminance at the eye, so it holds
while neither the sun's disc nor its glint is in view: where it is, no number is given. The light at
the eye is the diffuse light that the pane sends in. Of the disc itself only its luminance is given: no glare
index is sound with the sun in the window. Not covered: light reflected inside the room,
contrast, several windows in one view (add their illuminances), people's differences.
"""

from __future__ import annotations

from typing import Literal

import numpy as np
from numpy.typing import ArrayLike

from reportkit.base.arrays import Array

#: Upper bounds of DGP [-] for each verdict; Wienold 2009 and EN 17037:2018, Annex E.
BOUNDS: tuple[tuple[float, str], ...] = ((0.35, "imperceptible"), (0.40, "perceptible"), (0.45, "disturbing"))

#: Upper edges of the sky clearness bins, Perez et al. 1990, table 1.
_CLEARNESS = np.array([1.065, 1.230, 1.500, 1.950, 2.800, 4.500, 6.200])
#: Diffuse luminous efficacy coefficients a, b, c, d by bin, Perez et al. 1990, table 4 (from memory).
_DIFFUSE = np.array(
    [
        [97.24, -0.46, 12.00, -8.91],
        [107.22, 1.15, 0.59, -3.95],
        [104.97, 2.96, -5.53, -8.77],
        [102.39, 5.59, -13.95, -13.90],
        [100.71, 5.94, -22.75, -23.74],
        [106.42, 3.83, -36.15, -28.83],
        [141.88, 1.90, -53.24, -14.03],
        [152.23, 0.35, -45.27, -7.98],
    ]
)


def diffuse_efficacy(
    dni: ArrayLike,
    dhi: ArrayLike,
    *,
    zenith: ArrayLike,
    dni_extra: ArrayLike = 1367.0,
    airmass: ArrayLike | None = None,
    dew_point: ArrayLike = 10.0,
) -> Array:
    """Return the luminous efficacy of diffuse sky light.

    Parameters
    ----------
    dni, dhi
        Direct normal and diffuse horizontal irradiance [W/m2].
    zenith
        Of the sun [deg].
    dni_extra
        Irradiance above the atmosphere [W/m2].
    airmass
        Relative air mass [-]; Kasten & Young 1989 from the zenith if not given.
    dew_point
        Outdoor dew point [C]; nan counts as 10.

    Returns
    -------
    array
        [lm/W]; nan where there is no diffuse light or the sun is down.

    References
    ----------
    Perez R. et al. 1990, Solar Energy 44:271, DOI 10.1016/0038-092X(90)90055-H, eqs. 1, 2 and 7.
    """
    beam, sky = np.asarray(dni, dtype=float), np.asarray(dhi, dtype=float)
    z = np.asarray(zenith, dtype=float)
    angle = np.radians(z)
    up = (sky > 0) & (z < 90.0)
    if airmass is None:
        height = np.where(up, 90.0 - z, 90.0)
        airmass = 1.0 / (np.sin(np.radians(height)) + 0.50572 * (6.07995 + height) ** -1.6364)
    safe = np.where(up, sky, 1.0)
    cube = 1.041 * angle**3
    clearness = ((safe + beam) / safe + cube) / (1.0 + cube)
    row = np.searchsorted(_CLEARNESS, np.where(np.isnan(clearness), 1.0, clearness), side="right")
    brightness = np.maximum(safe * np.asarray(airmass) / np.asarray(dni_extra, dtype=float), 0.01)
    dew = np.asarray(dew_point, dtype=float)
    water = np.exp(0.07 * np.where(np.isnan(dew), 10.0, dew) - 0.075)
    a, b, c, d = np.moveaxis(_DIFFUSE[row], -1, 0)
    efficacy = a + b * water + c * np.cos(angle) + d * np.log(brightness)
    return np.where(up & ~np.isnan(clearness), efficacy, np.nan)


def configuration_factor(
    *, left: ArrayLike, right: ArrayLike, below: ArrayLike, above: ArrayLike, distance: ArrayLike
) -> Array:
    """Return the configuration factor of a pane from a point that looks at it squarely.

    Parameters
    ----------
    left, right, below, above
        How far the pane reaches to each side of the line of sight [m]; a negative number where it
        begins beyond the line.
    distance
        From the eye to the pane's plane [m], over 0.

    Returns
    -------
    array
        Illuminance at the eye over the pane's luminous exitance [-], 0 to 1.

    References
    ----------
    Howell, A Catalog of Radiation Heat Transfer Configuration Factors, B-4 (from memory): element
    parallel to a rectangle, its normal through a corner.
    """
    c = np.asarray(distance, dtype=float)
    if np.any(c <= 0):
        raise ValueError("distance must be over 0")

    def corner(wide: ArrayLike, high: ArrayLike) -> Array:
        a, b = np.asarray(wide, dtype=float) / c, np.asarray(high, dtype=float) / c
        root_a, root_b = np.sqrt(1.0 + a * a), np.sqrt(1.0 + b * b)
        return np.asarray(
            (a / root_a * np.arctan(b / root_a) + b / root_b * np.arctan(a / root_b)) / (2.0 * np.pi)
        )

    return corner(left, below) + corner(left, above) + corner(right, below) + corner(right, above)


def eye_illuminance(diffuse_illuminance: ArrayLike, *, t_visible: ArrayLike, factor: ArrayLike) -> Array:
    """Return the vertical illuminance at an eye that faces the window.

    Parameters
    ----------
    diffuse_illuminance
        Diffuse light on the outside of the pane [lx]: facade diffuse irradiance times efficacy.
    t_visible
        Visible transmittance of glass and film [-]; the hemispherical one where known.
    factor
        Configuration factor [-].

    Returns
    -------
    array
        [lx].
    """
    return np.asarray(np.asarray(diffuse_illuminance, float) * np.asarray(t_visible) * np.asarray(factor))


def simplified_dgp(illuminance: ArrayLike, *, sun_in_view: ArrayLike = False) -> Array:
    """Return the simplified daylight glare probability.

    Parameters
    ----------
    illuminance
        Vertical illuminance at the eye [lx].
    sun_in_view
        Whether the sun's disc or its glint is in view: no number then.

    Returns
    -------
    array
        DGPs [-], at most 1; nan where the sun is in view.

    References
    ----------
    Wienold J. 2009, Building Simulation 2009, Glasgow, p. 944: DGPs = 6.22e-5 Ev + .184.
    """
    value = np.minimum(6.22e-5 * np.asarray(illuminance, dtype=float) + 0.184, 1.0)
    return np.where(np.asarray(sun_in_view, dtype=bool), np.nan, value)


#: Solid angle of the sun's disc [sr]: a mean diameter of .533 degrees.
SUN_SR = 6.8e-5

#: Most luminous transmittance of a filter to look at the sun through (ISO 12312-2:2015, from memory) [1].
SUN_FILTER = 3.2e-5


def disc_luminance(dni: ArrayLike, *, t_visible: ArrayLike, efficacy: float) -> Array:
    """Return the luminance of the sun's disc seen through glass.

    Parameters
    ----------
    dni
        Direct normal irradiance [W/m2].
    t_visible
        Visible transmittance of glass and film at the sun's angle [-]; what scatters has no disc.
    efficacy
        Luminous efficacy of the beam [lm/W].

    Returns
    -------
    array
        Mean over the disc [cd/m2]; the circumsolar light of the beam is counted in it (a few per cent).
    """
    bright: Array = np.asarray(dni, dtype=float) * efficacy * np.asarray(t_visible, dtype=float) / SUN_SR
    return bright


Verdict = Literal["imperceptible", "perceptible", "disturbing", "intolerable", "cannot tell"]


def verdict(dgp: float) -> Verdict:
    """Return the word for a DGP [-]; ``cannot tell`` for nan (the sun or its glint in view)."""
    if np.isnan(dgp):
        return "cannot tell"
    for bound, word in BOUNDS:
        if dgp < bound:
            return word  # type: ignore[return-value]  # the words of BOUNDS are verdicts
    return "intolerable"
