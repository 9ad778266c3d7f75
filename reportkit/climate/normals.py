"""A synthetic year from twelve monthly normals: mean temperature, daily range and daily radiation.

Every day of a month gets the month's mean clearness, so clouds are spread evenly: energy of a month is right
by construction on the horizontal and close on walls, but no day is as bright or as hot as real ones. From
such a year quote energy, never peaks or hot hours.

Day's course by Collares-Pereira & Rabl 1979, diffuse share by Erbs's correlation of *monthly means* with Liu
& Jordan's course. (His hourly correlation does not fit here: fed with an average day it takes every hour for
a hazy one and loses a quarter to three quarters of the direct radiation of the years below.) Against three
typical years (25.8 N, 36.1 N, 55.3 N), fed with their own monthly means: a wall's year of total irradiation
is -4 to +10 %, a wall's single month up to a third off where there is little sun, direct radiation on walls
from east over south to west -6 to +28 % a year.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from reportkit.base.arrays import Array
from reportkit.base.translatable import translatable
from reportkit.climate.typical import new_year_offset, year_has_leap_day
from reportkit.climate.weather import Weather, standard_pressure

_MJ_PER_KWH = 3.6

#: What a year is said to come from where its source is not named.
SOURCE = translatable("monthly normals")


def hourly_share(hour_angle: Any, sunset_angle: Any) -> Array:
    """Return the share of a day's global radiation that falls in one hour.

    Parameters
    ----------
    hour_angle : array_like
        Sun's hour angle at the middle of the hour, 0 at noon [deg].
    sunset_angle : array_like
        Hour angle of sunset [deg], over 0.

    Returns
    -------
    ndarray
        Share of the day [1/h], 0 at night.

    References
    ----------
    Collares-Pereira & Rabl 1979, Solar Energy 22:155, doi:10.1016/0038-092X(79)90100-2.
    """
    sunset = np.radians(np.asarray(sunset_angle, dtype=float))
    angle = np.radians(np.asarray(hour_angle, dtype=float))
    a = 0.409 + 0.5016 * np.sin(sunset - np.pi / 3.0)
    b = 0.6609 - 0.4767 * np.sin(sunset - np.pi / 3.0)
    share = np.pi / 24.0 * (a + b * np.cos(angle)) * _cosine_day(angle, sunset)
    by_day: Array = np.maximum(share, 0.0)
    return by_day


def diffuse_share(hour_angle: Any, sunset_angle: Any) -> Array:
    """Return the share of a day's diffuse radiation that falls in one hour (Liu & Jordan 1960).

    Parameters and result as `hourly_share`.
    """
    sunset = np.radians(np.asarray(sunset_angle, dtype=float))
    angle = np.radians(np.asarray(hour_angle, dtype=float))
    return np.maximum(np.pi / 24.0 * _cosine_day(angle, sunset), 0.0)


def _cosine_day(angle: Array, sunset: Array) -> Array:
    # below: the sun stays away; the guard keeps the quotient finite there
    whole = np.maximum(np.sin(sunset) - sunset * np.cos(sunset), 1e-9)
    lit = np.abs(angle) < sunset
    return np.where(lit, (np.cos(angle) - np.cos(sunset)) / whole, 0.0)


def monthly_diffuse_fraction(clearness: Any, sunset_angle: Any) -> Array:
    """Return the diffuse share of a month's mean daily radiation.

    Parameters
    ----------
    clearness : array_like
        Mean daily radiation over that outside the air, 0.3 to 0.8; beyond, the nearest end is used [1].
    sunset_angle : array_like
        Hour angle of sunset on the month's mean day [deg].

    Returns
    -------
    ndarray
        0 to 1.

    References
    ----------
    Erbs, Klein & Duffie 1982, Solar Energy 28:293, doi:10.1016/0038-092X(82)90302-4, as in Duffie & Beckman
    eq. 2.12.1 (from memory).
    """
    k = np.clip(np.asarray(clearness, dtype=float), 0.3, 0.8)
    winter = 1.391 - 3.560 * k + 4.189 * k**2 - 2.137 * k**3
    summer = 1.311 - 3.022 * k + 3.427 * k**2 - 1.821 * k**3
    share: Array = np.where(np.asarray(sunset_angle) <= 81.4, winter, summer)
    return share


def daily_temperature(hour: Any, mean: Any, daily_range: Any) -> Array:
    """Return the air temperature over an average day.

    Parameters
    ----------
    hour : array_like
        Solar time [h], 0 to 24.
    mean, daily_range : array_like
        Mean of the day [C] and highest minus lowest [K].

    Returns
    -------
    ndarray
        Temperature [C].

    References
    ----------
    Erbs, Klein & Beckman 1983, Estimation of degree-days and ambient temperature bin data from
    monthly-average temperatures, ASHRAE Journal 25(6):60 (from memory).
    """
    t = 2.0 * np.pi * (np.asarray(hour, dtype=float) - 1.0) / 24.0
    shape = (
        0.4632 * np.cos(t - 3.805)
        + 0.0984 * np.cos(2.0 * t - 0.360)
        + 0.0168 * np.cos(3.0 * t - 0.822)
        + 0.0138 * np.cos(4.0 * t - 3.513)
    )
    return np.asarray(mean, dtype=float) + np.asarray(daily_range, dtype=float) * shape


def from_normals(
    *,
    latitude: float,
    longitude: float,
    elevation: float,
    timezone: str,
    year: int,
    temp_mean: Any,
    temp_range: Any,
    ghi_day: Any,
    unit: str = "kWh",
    place: str = "",
    source: str = SOURCE,
) -> Weather:
    """Return a synthetic year from monthly normals.

    Parameters
    ----------
    latitude, longitude : float
        North and east positive [deg].
    elevation : float
        Height above sea level [m].
    timezone : str
        Civil zone, an IANA name.
    year : int
        Calendar year.
    temp_mean : array_like, shape (12,)
        Mean air temperature of each month [C].
    temp_range : array_like, shape (12,)
        Mean daily highest minus mean daily lowest [K], 0 or more.
    ghi_day : array_like, shape (12,)
        Mean daily global horizontal irradiation [kWh/m2 or MJ/m2], 0 or more.
    unit : {"kWh", "MJ"}
        Unit of ``ghi_day``, per m2.
    place, source : str
        For the report.

    Returns
    -------
    Weather
        8760 rows, kind "normals"; wind and dew point nan.

    Raises
    ------
    ValueError
        If a list has not twelve values, a value is negative, or the radiation is more than there is outside
        the air.
    """
    import pandas as pd
    from pvlib.irradiance import get_extra_radiation
    from pvlib.solarposition import declination_spencer71, spa_python

    mean, swing, day = (
        _twelve(v, n) for v, n in ((temp_mean, "temp_mean"), (temp_range, "temp_range"), (ghi_day, "ghi_day"))
    )
    if unit not in ("kWh", "MJ"):
        raise ValueError(f"unit must be kWh or MJ, not {unit!r}")
    if np.any(swing < 0.0) or np.any(day < 0.0):
        raise ValueError("temp_range and ghi_day must be 0 or more")
    day = day * (1000.0 / _MJ_PER_KWH if unit == "MJ" else 1000.0)  # [Wh/m2]

    offset = new_year_offset(timezone, year)
    hours = pd.date_range(f"{year}-01-01 00:30", periods=8784 if year_has_leap_day(year) else 8760, freq="h")
    hours = hours[~((hours.month == 2) & (hours.day == 29))]
    month = np.asarray(hours.month) - 1
    times = (hours - offset).tz_localize("UTC").tz_convert(timezone)

    sun = spa_python(times, latitude, longitude, altitude=elevation)
    zenith = sun["zenith"].to_numpy()
    clock = np.asarray(hours.hour) + np.asarray(hours.minute) / 60.0
    minutes = sun["equation_of_time"].to_numpy() + 4.0 * (longitude - 15.0 * offset.total_seconds() / 3600.0)
    solar = (clock + minutes / 60.0) % 24.0
    angle = 15.0 * (solar - 12.0)
    declination = np.asarray(declination_spencer71(np.asarray(hours.day_of_year)), dtype=float)
    sunset = np.degrees(np.arccos(np.clip(-np.tan(np.radians(latitude)) * np.tan(declination), -1.0, 1.0)))

    extra = np.asarray(get_extra_radiation(hours.day_of_year), dtype=float)
    outside = extra * np.maximum(np.cos(np.radians(zenith)), 0.0)
    days = np.bincount(month, minlength=12) / 24.0
    mean_outside = np.bincount(month, outside, minlength=12) / days  # [Wh/m2 a day]
    with np.errstate(divide="ignore", invalid="ignore"):
        clearness = np.where(mean_outside > 0.0, day / mean_outside, 0.0)
    over = day > 1000.0 * most_sun(latitude)
    if np.any(over):
        at = int(np.argmax(over))
        raise ValueError(f"ghi_day of month {at + 1} is more than the sun can give at this latitude")

    ghi = _to_month(hourly_share(angle, sunset) * _day_total(outside), month, day * days)
    set_of_month = np.bincount(month, sunset, minlength=12) / (24.0 * days)
    fraction = monthly_diffuse_fraction(clearness, set_of_month)
    dhi = _to_month(diffuse_share(angle, sunset) * _day_total(outside), month, fraction * day * days)
    dhi = np.minimum(dhi, ghi)
    rise = np.cos(np.radians(zenith))
    usable = rise > np.sin(np.radians(2.0))
    dhi = np.where(usable, dhi, ghi)  # below 2 degrees the quotient for the beam says little
    dni = np.where(usable, (ghi - dhi) / np.where(usable, rise, 1.0), 0.0)
    over = dni > 0.9 * extra  # never more beam than a very clear sky lets through
    dni = np.where(over, 0.9 * extra, dni)
    dhi = np.where(over, ghi - dni * rise, dhi)

    unknown = np.full(len(times), np.nan)
    return Weather(
        kind="normals",
        source=source,
        place=place or f"{latitude:.3f}, {longitude:.3f}",
        latitude=latitude,
        longitude=longitude,
        elevation=elevation,
        times=times,
        step_hours=1.0,
        ghi=ghi,
        dni=dni,
        dhi=dhi,
        temp_air=daily_temperature(solar, mean[month], swing[month]),
        wind_speed=unknown,
        pressure=np.full(len(times), standard_pressure(elevation)),
        dew_point=unknown,
        span=translatable("a synthetic year from twelve monthly means"),
        notes=(translatable("made from monthly means: good for energy, not for peaks or hot hours"),),
    )


def most_sun(latitude: float) -> Array:
    """Return the most radiation on level ground that each month's mean day can have [kWh/m2], (12,).

    It is 90 % of what comes in outside the air, which no month of any climate reaches (the clearest, on high
    ice, come to about 80 %; from memory), and .1 kWh/m2 for twilight and for the days about a month's mean.

    Parameters
    ----------
    latitude
        Degrees north [deg].

    References
    ----------
    Duffie & Beckman, eq. 1.10.3, with Spencer's declination.
    """
    from pvlib.irradiance import get_extra_radiation
    from pvlib.solarposition import declination_spencer71

    day = np.arange(1, 366)
    month = np.repeat(np.arange(12), [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31])
    north, declination = np.radians(latitude), np.asarray(declination_spencer71(day), dtype=float)
    sunset = np.arccos(np.clip(-np.tan(north) * np.tan(declination), -1.0, 1.0))
    level = np.cos(north) * np.cos(declination) * np.sin(sunset) + sunset * np.sin(north) * np.sin(
        declination
    )
    outside = 24.0 / np.pi * np.asarray(get_extra_radiation(day), dtype=float) * np.maximum(level, 0.0)
    return 0.9 * np.bincount(month, outside, minlength=12) / np.bincount(month) / 1000.0 + 0.1


def _day_total(outside: Array) -> Array:
    """Return each hour's day total of the radiation outside the air [Wh/m2], from hourly values (8760,)."""
    return np.repeat(outside.reshape(-1, 24).sum(axis=1), 24)


def _to_month(shape: Array, month: Array, totals: Array) -> Array:
    """Scale hourly values so that each month has its total [Wh/m2]."""
    sums = np.bincount(month, shape, minlength=12)
    factor = np.where(sums > 0.0, totals / np.where(sums > 0.0, sums, 1.0), 0.0)
    scaled: Array = shape * factor[month]
    return scaled


def _twelve(values: Any, name: str) -> Array:
    array = np.asarray(values, dtype=float)
    if array.shape != (12,):
        raise ValueError(f"{name} must have twelve values, January first")
    return array
