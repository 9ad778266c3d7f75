"""Condensation on the inner face of the glass: dew point of the room's air against the face's temperature.

A low-emissivity film inside makes the glass colder in winter and can bring condensation. This is a
steady screen at the middle of the glass; edges and frames are colder, so condensation starts there
first. It says where to ask, not that a pane stays dry.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from reportkit.base.arrays import Array

#: Magnus constants over water: [-], [C], [hPa]; WMO-No. 8 (2008 on), Annex 4.B (from memory), -45 to 60 C.
MAGNUS_A, MAGNUS_B, MAGNUS_E = 17.62, 243.12, 6.112


def saturation_pressure(temperature: ArrayLike) -> Array:
    """Return the saturation vapour pressure over water [hPa] at a temperature [C], -45 to 60."""
    t = np.asarray(temperature, dtype=float)
    return np.asarray(MAGNUS_E * np.exp(MAGNUS_A * t / (MAGNUS_B + t)))


def dew_point(temperature: ArrayLike, relative_humidity: ArrayLike) -> Array:
    """Return the dew point of air.

    Parameters
    ----------
    temperature
        [C], -45 to 60.
    relative_humidity
        [-], over 0 to 1.

    Returns
    -------
    array
        [C]; nan where the humidity is not over 0.
    """
    humidity = np.asarray(relative_humidity, dtype=float)
    if np.any(humidity > 1.0):
        raise ValueError("relative_humidity is a share: it must not be over 1")
    pressure = np.where(humidity > 0, humidity, np.nan) * saturation_pressure(temperature)
    log = np.log(pressure / MAGNUS_E)
    return np.asarray(MAGNUS_B * log / (MAGNUS_A - log))


def humidity_limit(inner_face: ArrayLike, temperature: ArrayLike) -> Array:
    """Return the relative humidity of the room [-] at which the inner face [C] begins to condense.

    The air's ``temperature`` is in [C]; a face at or above it never condenses, and the limit is 1.
    """
    limit = saturation_pressure(inner_face) / saturation_pressure(temperature)
    return np.asarray(np.minimum(limit, 1.0))
