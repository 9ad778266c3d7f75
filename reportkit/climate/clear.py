"""Clear days: the sun of a cloudless sky on the 21st of each month.

Ineichen & Perez 2002 (doi:10.1016/S0038-092X(02)00045-2) with a Linke turbidity, through pvlib. There is no
air temperature, wind or cloud in them: they show the sun's way and its peaks, never a year's energy.
"""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from reportkit.base.arrays import Array
from reportkit.base.translatable import english, translatable
from reportkit.climate.places import linke_turbidity
from reportkit.climate.typical import zone
from reportkit.climate.weather import Weather, standard_pressure

_FINEST_MINUTES = 5  # the sun moves 1.25 degrees: finer changes a day's sum by less than 0.1 %


def clear_sky(zenith: Array, day_of_year: Any, turbidity: Any, *, elevation: float) -> dict[str, Array]:
    """Return the radiation of a sky without clouds [W/m2], (N,) each under ``ghi``, ``dni`` and ``dhi``.

    Parameters
    ----------
    zenith
        Apparent zenith angle of the sun [deg], (N,).
    day_of_year
        1 to 366, (N,).
    turbidity
        Linke turbidity [1], (N,).
    elevation
        Height above sea level [m].

    References
    ----------
    Ineichen & Perez 2002, doi:10.1016/S0038-092X(02)00045-2.
    """
    from pvlib.atmosphere import alt2pres, get_absolute_airmass, get_relative_airmass
    from pvlib.clearsky import ineichen
    from pvlib.irradiance import get_extra_radiation

    up = zenith < 90.0
    mass = get_absolute_airmass(get_relative_airmass(zenith[up]), float(alt2pres(elevation)))
    extra = np.asarray(get_extra_radiation(day_of_year), dtype=float)[up]
    sky = ineichen(zenith[up], mass, np.asarray(turbidity)[up], altitude=elevation, dni_extra=extra)
    radiation = {name: np.zeros(len(zenith)) for name in ("ghi", "dni", "dhi")}
    for name, values in radiation.items():
        values[up] = np.maximum(sky[name], 0.0)
    return radiation


def clear_days(
    *,
    latitude: float,
    longitude: float,
    elevation: float,
    timezone: str,
    year: int,
    step_minutes: int = 60,
    turbidity: Any = None,
    day: int = 21,
    place: str = "",
) -> Weather:
    """Return twelve clear days, one a month.

    Parameters
    ----------
    latitude, longitude : float
        North and east positive [deg].
    elevation : float
        Height above sea level [m].
    timezone : str
        Civil zone, an IANA name; the days are the clock's.
    year : int
        Calendar year.
    step_minutes : int
        Length of an interval [min], a divisor of 60.
    turbidity : float or array_like, shape (12,), optional
        Linke turbidity [1]; from pvlib's map where not given.
    day : int
        Day of the month, 1 to 28.
    place : str
        Name of the site.

    Returns
    -------
    Weather
        Kind "clear_sky": 12 days of 24 h from the clock's midnight; temperature, wind and dew point nan.

    Raises
    ------
    ValueError
        If the step does not divide an hour, the day is out of range, or the zone is unknown.
    """
    import pandas as pd
    from pvlib.atmosphere import alt2pres
    from pvlib.solarposition import spa_python

    if step_minutes < 1 or 60 % step_minutes:
        raise ValueError(f"step_minutes must divide 60, not {step_minutes}")
    if not 1 <= day <= 28:
        raise ValueError(f"day must be from 1 to 28, not {day}")
    zone(timezone)
    linke = linke_turbidity(latitude, longitude) if turbidity is None else np.asarray(turbidity, dtype=float)
    linke = np.broadcast_to(linke, (12,))
    starts = [pd.Timestamp(year, month, day, tz=timezone).tz_convert("UTC") for month in range(1, 13)]

    def middles(minutes: float) -> pd.DatetimeIndex:
        after = pd.to_timedelta((np.arange(round(1440 / minutes)) + 0.5) * minutes, unit="min")
        days = [(start + after).as_unit("ms") for start in starts]
        return days[0].append(days[1:]).tz_convert(timezone)

    parts = math.ceil(step_minutes / _FINEST_MINUTES)  # an interval's mean is that of so many instants
    fine = middles(step_minutes / parts)
    sun = spa_python(fine, latitude, longitude, altitude=elevation, pressure=float(alt2pres(elevation)))
    month = np.repeat(np.arange(12), len(fine) // 12)
    sky = clear_sky(sun["apparent_zenith"].to_numpy(), fine.day_of_year, linke[month], elevation=elevation)
    series = {name: instants.reshape(-1, parts).mean(axis=1) for name, instants in sky.items()}
    times = middles(step_minutes)
    unknown = np.full(len(times), np.nan)
    source = translatable(
        english("clear sky by Ineichen and Perez 2002 with pvlib's turbidity map")
        if turbidity is None
        else english("clear sky by Ineichen and Perez 2002 with the turbidity given")
    )
    return Weather(
        kind="clear_sky",
        source=source,
        place=place or f"{latitude:.3f}, {longitude:.3f}",
        latitude=latitude,
        longitude=longitude,
        elevation=elevation,
        times=times,
        step_hours=step_minutes / 60.0,
        temp_air=unknown,
        wind_speed=unknown,
        pressure=np.full(len(times), standard_pressure(elevation)),
        dew_point=unknown,
        span=translatable("twelve clear days, day {day} of each month", day=day),
        notes=(
            translatable(
                "clear days have no clouds and no air temperature: good for the sun's peaks, not a "
                "year's energy"
            ),
        ),
        **series,
    )
