"""Clear skies: irradiance with no cloud, as a function of the sun's height.

Two models: ASHRAE's two-depth model of the Handbook of Fundamentals (2013 on), for places whose optical
depths are known from that handbook's climate tables; and Ineichen & Perez 2002
(doi:10.1016/S0038-092X(02)00045-2) with a Linke turbidity, through pvlib. Turbidity tables are on disk and
are read elsewhere; here they are arguments.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from reportkit.base.arrays import Array
from reportkit.physics.sun.position import SunPosition


@dataclass(frozen=True, eq=False)
class ClearSky:
    """Irradiance of a cloudless sky at H instants.

    Parameters
    ----------
    ghi, dni, dhi : ndarray, shape (H,)
        Global horizontal, direct normal and diffuse horizontal irradiance [W/m2].
    """

    ghi: Array
    dni: Array
    dhi: Array


def ashrae_air_mass(elevation: Any) -> Array:
    """Return the relative air mass by the handbook's formula (Kasten & Young 1989).

    Parameters
    ----------
    elevation : array_like
        Height of the sun [deg]; nan below the horizon.

    Returns
    -------
    ndarray
        Air mass [1].
    """
    height = np.asarray(elevation, dtype=float)
    height = np.where(height >= 0.0, height, np.nan)
    mass: Array = 1.0 / (np.sin(np.radians(height)) + 0.50572 * (6.07995 + height) ** -1.6364)
    return mass


def clear_ashrae(position: SunPosition, *, tau_beam: Any, tau_diffuse: Any) -> ClearSky:
    """Return the clear sky of the ASHRAE Handbook of Fundamentals.

    Eb = E0 exp(-tb m^ab) and Ed = E0 exp(-td m^ad), with the coefficients of the 2013 edition and later.

    Parameters
    ----------
    position : SunPosition
        H instants.
    tau_beam, tau_diffuse : float or array_like, shape (H,) or (12,)
        Optical depths of the place [1]: one value, one for each instant, or the handbook's twelve (each for
        the 21st of its month, used for the whole month).

    Returns
    -------
    ClearSky
        Zero while the sun is down.

    References
    ----------
    ASHRAE Handbook of Fundamentals 2013, chapter 14, clear-sky solar radiation (from memory).
    """
    beam = _by_instant(tau_beam, position)
    diffuse = _by_instant(tau_diffuse, position)
    up = position.up
    height = np.where(up, position.apparent_elevation, np.nan)
    mass = ashrae_air_mass(height)
    # exponents: ASHRAE Handbook of Fundamentals 2013, chapter 14 (from memory)
    power_beam = 1.454 - 0.406 * beam - 0.268 * diffuse + 0.021 * beam * diffuse
    power_diffuse = 0.507 + 0.205 * beam - 0.080 * diffuse - 0.190 * beam * diffuse
    dni = np.where(up, position.dni_extra * np.exp(-beam * mass**power_beam), 0.0)
    dhi = np.where(up, position.dni_extra * np.exp(-diffuse * mass**power_diffuse), 0.0)
    ghi = dni * np.where(up, np.sin(np.radians(height)), 0.0) + dhi
    return ClearSky(ghi=ghi, dni=dni, dhi=dhi)


def clear_ineichen(position: SunPosition, *, turbidity: Any, elevation: float = 0.0) -> ClearSky:
    """Return the clear sky of Ineichen and Perez.

    Parameters
    ----------
    position : SunPosition
        H instants.
    turbidity : float or array_like, shape (H,) or (12,)
        Linke turbidity [1], about 2 (clean, cold) to 7 (hazy); twelve values are by calendar month.
    elevation : float
        Height above sea level [m].

    Returns
    -------
    ClearSky
        Zero while the sun is down.
    """
    from pvlib.atmosphere import alt2pres, get_absolute_airmass, get_relative_airmass
    from pvlib.clearsky import ineichen

    linke = _by_instant(turbidity, position)
    up = position.up
    zenith = position.apparent_zenith[up]
    mass = get_absolute_airmass(get_relative_airmass(zenith), float(alt2pres(elevation)))
    sky = ineichen(zenith, mass, linke[up], altitude=elevation, dni_extra=position.dni_extra[up])
    series = {}
    for name in ("ghi", "dni", "dhi"):
        values = np.zeros(len(up))
        values[up] = np.maximum(sky[name], 0.0)
        series[name] = values
    return ClearSky(**series)


def _by_instant(values: Any, position: SunPosition) -> Array:
    """Return one value for each instant from one, twelve by month, or one for each already."""
    given: Array = np.asarray(values, dtype=float)
    hours = len(position.zenith)
    if given.shape == (12,) and hours != 12:
        by_month: Array = given[position.month - 1]
        return by_month
    if given.shape not in ((), (hours,)):
        raise ValueError(f"give one value, twelve by month, or one for each of the {hours} instants")
    return np.broadcast_to(given, (hours,))
