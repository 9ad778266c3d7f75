"""Synthetic years from twelve monthly normals: mean temperature, daily range and daily radiation.

Days follow one another as clear and dull ones do (``days``), clouds pass within them (``hours``), and the
air follows (``air``); each month is scaled back to its own mean. One year is one draw: several are made, with
fixed numbers, so that what depends on their spells can be told as a range. The beam is what Maxwell's
correlation (DISC) leaves of an hour's radiation.

Against four typical years (25.8, 36.1, 39.8, 55.3 N), fed with their own monthly means: a wall's year of
total irradiation -4 to +6 % where it gets sun and up to +11 % where it looks away, beam on walls from east
over south to west -17 to +1 %. Clouds that gather at one time of the day, as over a coast in the afternoon,
are not known from monthly means: they are spread evenly about noon.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from reportkit.base.arrays import Array
from reportkit.base.translatable import translatable
from reportkit.climate.air import temperatures
from reportkit.climate.clear import clear_sky
from reportkit.climate.days import daily_clearness, to_monthly_means
from reportkit.climate.hours import hourly_clearness
from reportkit.climate.places import linke_turbidity
from reportkit.climate.split import beam
from reportkit.climate.typical import new_year_offset, year_has_leap_day
from reportkit.climate.weather import Weather, standard_pressure

_MJ_PER_KWH = 3.6

#: What a year is said to come from where its source is not named.
SOURCE = translatable("monthly normals")

#: How many years are made: ranges over them and the other uncertain inputs settle (see the tests).
YEARS = 8

#: Of the random numbers: same normals, same years.
SEED = 1988

#: How far over a clear sky an hour's mean may lie: hours of higher clearness than the turbidity map's, and
#: edges of clouds [1] (the brightest hours of the years above are 3 to 9 % over it).
OVER_CLEAR = 1.05


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
    years: int = YEARS,
) -> tuple[Weather, ...]:
    """Return synthetic years from monthly normals.

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
    years : int
        How many to make, 1 or more.

    Returns
    -------
    tuple of Weather
        Each 8760 rows, kind "normals", with the same times; wind and dew point nan. The first is the one
        whose beam is in the middle.

    Raises
    ------
    ValueError
        If a list has not twelve values, a value is negative, or the radiation is more than there is outside
        the air.
    """
    import pandas as pd
    from pvlib.irradiance import get_extra_radiation
    from pvlib.solarposition import spa_python
    from scipy.special import ndtri

    mean, swing, day = (
        _twelve(v, n) for v, n in ((temp_mean, "temp_mean"), (temp_range, "temp_range"), (ghi_day, "ghi_day"))
    )
    if unit not in ("kWh", "MJ"):
        raise ValueError(f"unit must be kWh or MJ, not {unit!r}")
    if np.any(swing < 0.0) or np.any(day < 0.0):
        raise ValueError("temp_range and ghi_day must be 0 or more")
    day = day * (1000.0 / _MJ_PER_KWH if unit == "MJ" else 1000.0)  # [Wh/m2]
    over = day > 1000.0 * most_sun(latitude)
    if np.any(over):
        at = int(np.argmax(over))
        raise ValueError(f"ghi_day of month {at + 1} is more than the sun can give at this latitude")
    offset = new_year_offset(timezone, year)
    hours = pd.date_range(f"{year}-01-01 00:30", periods=8784 if year_has_leap_day(year) else 8760, freq="h")
    hours = hours[~((hours.month == 2) & (hours.day == 29))]
    times = (hours - offset).tz_localize("UTC").tz_convert(timezone)

    def by_day(values: Any) -> Array:
        return np.asarray(values, dtype=float).reshape(-1, 24)

    sun = spa_python(times, latitude, longitude, altitude=elevation)
    month = np.asarray(hours.month).reshape(-1, 24)[:, 12] - 1
    sine = by_day(np.cos(np.radians(sun["zenith"])))
    outside = by_day(get_extra_radiation(hours.day_of_year)) * np.maximum(sine, 0.0)
    minutes = sun["equation_of_time"] + 4.0 * (longitude - 15.0 * offset.total_seconds() / 3600.0)
    solar = by_day((np.asarray(hours.hour) + 0.5 + minutes / 60.0) % 24.0)
    linke = linke_turbidity(latitude, longitude)[np.asarray(hours.month) - 1]
    clear = clear_sky(sun["apparent_zenith"].to_numpy(), hours.day_of_year, linke, elevation=elevation)
    most = OVER_CLEAR * by_day(clear["ghi"]) / np.maximum(outside, 1e-9)
    most = np.where(outside > 0.0, np.minimum(most, 1.0), 0.0)

    weight = outside.sum(axis=1)
    wanted = day * np.bincount(month, minlength=12)
    there = np.bincount(month, weight, minlength=12)
    monthly = np.divide(wanted, there, out=np.zeros(12), where=there > 0.0)
    random = np.random.default_rng(SEED)
    share = random.random((26, years, len(month)))  # of each day: itself, its air, its hours
    normal = ndtri(np.clip(share[1:], 1e-9, 1.0 - 1e-9))
    brightest = np.divide((most * outside).sum(axis=1), weight, out=np.zeros(len(month)), where=weight > 0.0)
    days = daily_clearness(monthly, month, share[0])
    days = to_monthly_means(days, weight, month, wanted, brightest)
    ghi = hourly_clearness(days, sine, outside, most, np.moveaxis(normal[1:], 0, -1)) * outside
    ghi = ghi.reshape(years, -1)
    zenith, pressure = sun["zenith"].to_numpy(), standard_pressure(elevation)
    dni = np.stack([beam(row, zenith, hours.day_of_year, pressure=pressure) for row in ghi])
    dni = np.minimum(dni, OVER_CLEAR * clear["dni"])
    dhi = np.maximum(ghi - dni * np.maximum(sine.ravel(), 0.0), 0.0)

    order = np.argsort(dni.sum(axis=1), kind="stable")
    order = np.roll(order, -(years // 2))  # the middle one first
    unsure = np.linspace(-1.0, 1.0, years)[np.argsort(random.random(years))] if years > 1 else np.zeros(1)
    unsure[0] = 0.0
    air = temperatures(
        mean,
        swing,
        clearness=days[order],
        month=month,
        solar=solar,
        drawn=normal[0],
        unsure=unsure,
    )
    unknown = np.full(len(times), np.nan)
    return tuple(
        Weather(
            kind="normals",
            source=source,
            place=place or f"{latitude:.3f}, {longitude:.3f}",
            latitude=latitude,
            longitude=longitude,
            elevation=elevation,
            times=times,
            step_hours=1.0,
            ghi=ghi[n],
            dni=dni[n],
            dhi=dhi[n],
            temp_air=warmth.ravel(),
            wind_speed=unknown,
            pressure=np.full(len(times), pressure),
            dew_point=unknown,
            span=translatable("{years} synthetic years from twelve monthly means", years=years),
            notes=(
                translatable(
                    "made from monthly means, with clear and dull spells as published for such months: "
                    "ranges hold, single days and hours do not"
                ),
            ),
        )
        for n, warmth in zip(order, air, strict=True)
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


def _twelve(values: Any, name: str) -> Array:
    array = np.asarray(values, dtype=float)
    if array.shape != (12,):
        raise ValueError(f"{name} must have twelve values, January first")
    return array
