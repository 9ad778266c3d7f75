"""Weather of one place used at another: colder as one climbs, and surer the nearer it is.

Sun and clouds are left as they are: how they change over hills and along coasts no distance tells. That goes
into the ranges instead (`reportkit.study.unknowns`).
"""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from reportkit.base.arrays import Array
from reportkit.base.translatable import Quantity, english, translatable
from reportkit.climate.longwave import STEFAN_BOLTZMANN
from reportkit.climate.weather import Weather, standard_pressure

#: By how much air cools with height [K/m]: ISO 2533:1975, standard atmosphere, to 11 km.
LAPSE = 0.0065

#: From here on a place and its weather are said to differ [km], [m] (common practice, no source).
FAR_KM, HIGH_M = 50.0, 150.0

_EARTH_RADIUS = 6371.0  # [km], mean radius R1 of the GRS 80 ellipsoid


def distance(latitude: float, longitude: float, other_latitude: float, other_longitude: float) -> float:
    """Return the great-circle distance [km] between two places [deg], by the haversine formula."""
    a, b = math.radians(latitude), math.radians(other_latitude)
    half = math.radians(other_longitude - longitude) / 2
    share = math.sin((b - a) / 2) ** 2 + math.cos(a) * math.cos(b) * math.sin(half) ** 2
    return 2 * _EARTH_RADIUS * math.asin(min(1.0, math.sqrt(share)))


def brought(weather: Weather, *, latitude: float, longitude: float, elevation: float) -> Weather:
    """Return weather as it is used at a site: its air cooled or warmed for the height between them.

    Parameters
    ----------
    weather
        Of another place.
    latitude, longitude, elevation
        Of the site, north and east positive [deg], above the sea [m].
    """
    apart = distance(latitude, longitude, weather.latitude, weather.longitude)
    climb = elevation - weather.elevation
    doubts = list(weather.doubts)
    colder = LAPSE * climb
    if apart >= FAR_KM:
        doubts.append(
            translatable(
                "the weather is that of {place}, {distance:.0f} away: ranges are wider for it",
                place=weather.place,
                distance=Quantity(apart, "km"),
            )
        )
    if abs(climb) >= HIGH_M:
        doubts.append(
            translatable(
                english("the site lies {climb:.0f} above the weather's place: its air is {kelvin:.1f} colder")
                if climb > 0
                else english(
                    "the site lies {climb:.0f} below the weather's place: its air is {kelvin:.1f} warmer"
                ),
                climb=Quantity(abs(climb), "m"),
                kelvin=Quantity(abs(colder), "K"),
            )
        )
    return replace(
        weather,
        temp_air=weather.temp_air - colder,
        dew_point=weather.dew_point - colder,
        longwave=None if weather.longwave is None else _colder(weather.longwave, colder),
        pressure=weather.pressure * standard_pressure(elevation) / standard_pressure(weather.elevation),
        doubts=tuple(doubts),
        distance_km=apart,
        climb_m=climb,
    )


def _colder(longwave: Array, kelvin: float) -> Array:
    """Return a sky's radiation where it is so much colder, as the air is [W/m2]."""
    sky = (longwave / STEFAN_BOLTZMANN) ** 0.25 - kelvin
    return np.asarray(STEFAN_BOLTZMANN * sky**4)
