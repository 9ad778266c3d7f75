"""Where the sun stands, and at which angle it meets a plane.

Position by the NREL solar position algorithm (Reda & Andreas 2004, doi:10.1016/j.solener.2003.12.003)
through pvlib, delta T 67 s. Azimuths run clockwise from true north. Naive times are refused: a clock
without a zone has no sun. Terrain and buildings are not here but in ``sun.shade``.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from reportkit.base.arrays import Array, Mask

if TYPE_CHECKING:
    import pandas as pd


@dataclass(frozen=True, eq=False)
class SunPosition:
    """The sun at H instants.

    Parameters
    ----------
    times : pandas.DatetimeIndex, shape (H,)
        The instants asked for, aware, as given.
    zenith : ndarray, shape (H,)
        Geometric zenith angle of the sun's centre [deg], 0 to 180.
    apparent_zenith : ndarray, shape (H,)
        The same as seen through the air, refraction included [deg].
    azimuth : ndarray, shape (H,)
        Clockwise from true north [deg], 0 to 360.
    equation_of_time : ndarray, shape (H,)
        Solar minus mean time [min].
    dni_extra : ndarray, shape (H,)
        Irradiance outside the atmosphere, normal to the rays [W/m2].
    month : ndarray of int, shape (H,)
        Calendar month in the zone of ``times``, 1 to 12.
    """

    times: pd.DatetimeIndex
    zenith: Array
    apparent_zenith: Array
    azimuth: Array
    equation_of_time: Array
    dni_extra: Array
    month: Array

    @property
    def elevation(self) -> Array:
        """Geometric height of the sun's centre above the horizon, shape (H,) [deg]."""
        return 90.0 - self.zenith

    @property
    def apparent_elevation(self) -> Array:
        """Height of the sun above the horizon with refraction, shape (H,) [deg]."""
        return 90.0 - self.apparent_zenith

    @property
    def up(self) -> Mask:
        """True where the sun's centre is seen above a level horizon, shape (H,)."""
        return self.apparent_zenith < 90.0


def _aware(times: Any) -> pd.DatetimeIndex:
    """Return the instants as an aware index or refuse."""
    import pandas as pd

    index = times if isinstance(times, pd.DatetimeIndex) else pd.DatetimeIndex(np.atleast_1d(times))
    if index.tz is None:
        raise ValueError("times must have a time zone: a clock without a zone has no sun")
    return index


def position(
    times: Any,
    *,
    latitude: float,
    longitude: float,
    elevation: float = 0.0,
    pressure: float | None = None,
    temperature: float = 12.0,
    step_hours: float | None = None,
) -> SunPosition:
    """Return the sun's position at the given instants.

    With ``step_hours`` the instants are the middles of intervals of that length, and where the sun rises
    or sets inside an interval it is put at the middle of the part in which its centre is above the
    horizon. Then an hour's direct radiation meets the faces from where it came, not from a sun below the
    horizon. All other intervals keep their middle.

    Parameters
    ----------
    times : pandas.DatetimeIndex or sequence of aware timestamps, shape (H,)
        Aware instants.
    latitude : float
        North positive [deg], -90 to 90.
    longitude : float
        East positive [deg], -180 to 180.
    elevation : float
        Height above sea level [m].
    pressure : float, optional
        Yearly mean air pressure, for refraction [Pa]; from the elevation where not given.
    temperature : float
        Yearly mean air temperature, for refraction [C].
    step_hours : float, optional
        Length of the intervals that the instants are the middle of [h], over 0.

    Returns
    -------
    SunPosition

    Raises
    ------
    ValueError
        If the times are naive or a coordinate is out of range.

    References
    ----------
    Reda & Andreas 2004, NREL/TP-560-34302. Extraterrestrial irradiance: Spencer 1971 with a solar constant
    of 1366.1 W/m2, as pvlib has it.

    Examples
    --------
    >>> import pandas as pd
    >>> noon = pd.DatetimeIndex(["2024-06-21 12:00"], tz="UTC")
    >>> float(position(noon, latitude=51.5, longitude=-0.12).azimuth.round(2)[0])
    178.83
    """
    if not -90.0 <= latitude <= 90.0:
        raise ValueError(f"latitude must be from -90 to 90 degrees, not {latitude}")
    if not -180.0 <= longitude <= 180.0:
        raise ValueError(f"longitude must be from -180 to 180 degrees, not {longitude}")
    index = _aware(times)
    site = (latitude, longitude, elevation, pressure, temperature)
    table = _spa(index, *site)
    if step_hours is not None:
        table = _sunlit_part(index, table, step_hours, site)
    zenith, apparent, azimuth, equation = table
    return SunPosition(
        times=index,
        zenith=zenith,
        apparent_zenith=apparent,
        azimuth=azimuth,
        equation_of_time=equation,
        dni_extra=_dni_extra(index),
        month=np.asarray(index.month, dtype=int),
    )


def _dni_extra(index: pd.DatetimeIndex) -> Array:
    from pvlib.irradiance import get_extra_radiation

    # by the day of the year: some pvlib releases read a zone's clock time and some UTC, a difference of a
    # few thousandths of one per cent
    return np.asarray(get_extra_radiation(index.day_of_year), dtype=float)


def _spa(
    index: pd.DatetimeIndex,
    latitude: float,
    longitude: float,
    elevation: float,
    pressure: float | None,
    temperature: float,
) -> Array:
    """Return zenith, apparent zenith, azimuth and equation of time, shape (4, H)."""
    from pvlib.atmosphere import alt2pres
    from pvlib.solarposition import spa_python

    table = spa_python(
        index,
        latitude,
        longitude,
        altitude=elevation,
        pressure=float(alt2pres(elevation)) if pressure is None else pressure,
        temperature=temperature,
        delta_t=67.0,
    )
    columns = ("zenith", "apparent_zenith", "azimuth", "equation_of_time")
    return np.stack([table[name].to_numpy(dtype=float) for name in columns])


def _sunlit_part(index: pd.DatetimeIndex, table: Array, step_hours: float, site: tuple[Any, ...]) -> Array:
    """Move the sun of intervals with a sunrise or sunset to the middle of their sunlit part."""
    import pandas as pd

    if not step_hours > 0.0:
        raise ValueError(f"step_hours must be over 0, not {step_hours}")
    half = pd.Timedelta(hours=step_hours / 2.0)
    # only intervals near the horizon can hold a sunrise: the sun moves 15 degrees an hour at most
    middle = 90.0 - table[0]
    near = np.flatnonzero(np.abs(middle) <= 7.5 * step_hours + 0.5)
    if not near.size:
        return table
    start = 90.0 - _spa(index[near] - half, *site)[0]
    end = 90.0 - _spa(index[near] + half, *site)[0]
    heights = np.stack([start, middle[near], end])  # (3, n) at -1/2, 0 and +1/2 of the interval
    crossing = (start > 0.0) != (end > 0.0)
    if not crossing.any():
        return table
    rows, heights = near[crossing], heights[:, crossing]
    rising = heights[2] > 0.0
    second = (
        heights[1] > 0.0
    ) != rising  # the horizon is crossed in the second half when still dark or light
    low = np.where(second, heights[1], heights[0])
    high = np.where(second, heights[2], heights[1])
    cross = np.where(second, 0.0, -0.5) + 0.5 * low / (low - high)
    shift = np.where(rising, (cross + 0.5) / 2.0, (cross - 0.5) / 2.0) * step_hours
    moved = index[rows] + pd.to_timedelta(shift, unit="h")
    table = table.copy()
    table[:, rows] = _spa(moved, *site)
    return table


def cos_incidence(
    position: SunPosition, *, surface_azimuth: Any, surface_tilt: Any, refracted: bool = True
) -> Array:
    """Return the cosine of the angle between the sun and the outward normal of each face.

    Parameters
    ----------
    position : SunPosition
        H instants.
    surface_azimuth : array_like, shape (F,)
        Where the outward normal points, clockwise from true north [deg]; any turn is allowed.
    surface_tilt : array_like, shape (F,) or scalar
        0 faces up, 90 is a wall, 180 faces down [deg].
    refracted : bool
        True takes the sun as seen (default), False its geometric place.

    Returns
    -------
    ndarray, shape (H, F)
        Cosine, -1 to 1; negative behind the face. It does not know whether the sun is up.

    References
    ----------
    Duffie & Beckman, Solar Engineering of Thermal Processes, eq. 1.6.3 (from memory).
    """
    azimuth, tilt = np.broadcast_arrays(
        np.radians(np.atleast_1d(np.asarray(surface_azimuth, dtype=float))),
        np.radians(np.atleast_1d(np.asarray(surface_tilt, dtype=float))),
    )
    zenith = np.radians(position.apparent_zenith if refracted else position.zenith)[:, None]
    turn = np.radians(position.azimuth)[:, None] - azimuth
    cosine = np.cos(zenith) * np.cos(tilt) + np.sin(zenith) * np.sin(tilt) * np.cos(turn)
    bounded: Array = np.clip(cosine, -1.0, 1.0)
    return bounded
