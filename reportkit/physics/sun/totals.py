"""Sums of hourly power over days, months and years, and hours of direct sun.

Days and months are those of the site's clock, in the zone of the times.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from reportkit.base.arrays import Array

if TYPE_CHECKING:
    import pandas as pd


def monthly_sums(times: pd.DatetimeIndex, power: Any, *, step_hours: float = 1.0) -> Array:
    """Return energy by calendar month.

    Parameters
    ----------
    times : pandas.DatetimeIndex, shape (H,)
        Middles of the intervals, aware.
    power : array_like, shape (H, ...)
        Power or irradiance [W or W/m2].
    step_hours : float
        Length of each interval [h].

    Returns
    -------
    ndarray, shape (12, ...)
        Energy [kWh or kWh/m2].
    """
    values = np.asarray(power, dtype=float)
    sums = np.zeros((12, *values.shape[1:]))
    np.add.at(sums, np.asarray(times.month) - 1, values)
    return sums * step_hours / 1000.0


def direct_hours(
    cos_incidence: Any, *, up: Any, step_hours: float, sunlit: Any = 1.0, least: float = 0.0
) -> Array:
    """Return how long direct sun can reach each face or pane, clouds aside.

    Parameters
    ----------
    cos_incidence : array_like, shape (H, P)
        From `reportkit.physics.sun.cos_incidence`, at steps fine enough for the answer (minutes for one day).
    up : array_like of bool, shape (H,)
        ``SunPosition.up``.
    step_hours : float
        Length of a step [h].
    sunlit : array_like, shape (H, P)
        From `sunlit_fraction`; 1.0 for open faces.
    least : float
        The sun counts while more than this share of the pane is in it, 0 to 1.

    Returns
    -------
    ndarray, shape (P,)
        Hours [h].
    """
    facing = (np.asarray(cos_incidence) > 0.0) & np.asarray(up, dtype=bool)[:, None]
    counted = facing & (np.asarray(sunlit, dtype=float) > least)
    hours: Array = np.sum(counted, axis=0) * step_hours
    return hours
