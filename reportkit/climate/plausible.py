"""What no hour of a weather file leaves: what was ever measured, and temperatures by place and month.

The ends over the whole earth are those of the WMO archive of weather extremes (-89.2 to 56.7 C, dew point
35 C, gust 113 m/s, 108 kPa) and the air pressure of the highest towns. Temperatures are held narrower by
latitude, height and season: a table of the coldest and hottest hours known at each latitude (WMO archive and
national records, from memory), widened by 6 K or more. They find degrees Fahrenheit, a lost sign, the other
half of the year; they do not find a year that is merely odd.
"""

from __future__ import annotations

import numpy as np

from reportkit.base.arrays import Array
from reportkit.base.translatable import translatable

#: Of each column what it is called, its least and greatest value, and their unit.
RANGES = {
    "temp_air": (translatable("temperature"), -90.0, 60.0, "C"),
    "dew_point": (translatable("dew point"), -110.0, 40.0, "C"),
    "wind_speed": (translatable("wind speed"), 0.0, 113.0, "m/s"),
    "pressure": (translatable("air pressure"), 40_000.0, 110_000.0, "Pa"),
}
#: No hour's mean exceeds it [W/m2]: the sun outside the air is 1410 at most, plus cloud edges.
HIGHEST = 1600.0

_LATITUDES = (0.0, 15.0, 25.0, 35.0, 45.0, 55.0, 65.0, 75.0, 90.0)
_HOTTEST = (
    50.0,
    56.0,
    60.0,
    60.0,
    58.0,
    52.0,
    46.0,
    36.0,
    30.0,
)  # in any month; 49.6 C at 50 N, 38 C at 67 N
_WARM_WINTER = (50.0, 56.0, 50.0, 44.0, 38.0, 30.0, 26.0, 22.0, 20.0)  # the three months of winter
_COLDEST = (0.0, -12.0, -26.0, -42.0, -65.0, -75.0, -80.0, -80.0, -80.0)  # at sea level, in any month
_COLD_SUMMER = (0.0, -10.0, -14.0, -18.0, -22.0, -25.0, -35.0, -50.0, -60.0)  # the three months of summer
_LAPSE = 8.0  # colder by so much for each km of height [K]


def limits(latitude: float, elevation: float, months: Array) -> tuple[Array, Array]:
    """Return the least and the greatest temperature of an hour, each of the shape of `months` [C].

    Parameters
    ----------
    latitude, elevation : float
        Of the place [deg, m].
    months : array of int
        Calendar months, 1 to 12.
    """
    away = abs(latitude)
    season = (np.asarray(months) + (6 if latitude < 0 else 0)) % 12  # as in the north; 0 is December
    winter, summer = np.isin(season, (0, 1, 2)), np.isin(season, (6, 7, 8))
    down = _LAPSE * max(elevation, 0.0) / 1000.0
    low = np.where(summer, np.interp(away, _LATITUDES, _COLD_SUMMER), np.interp(away, _LATITUDES, _COLDEST))
    high = np.where(winter, np.interp(away, _LATITUDES, _WARM_WINTER), np.interp(away, _LATITUDES, _HOTTEST))
    return np.maximum(low - down, RANGES["temp_air"][1]), high
