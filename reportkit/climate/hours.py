"""Clouds that pass within a day: hourly clearness from daily, and the beam that is left in it.

An hour's clearness is its radiation over that outside the air. It wanders about a mean that follows the sun's
height, by as much as the day's clearness lets it, and remembers the hour before.
"""

from __future__ import annotations

import numpy as np

from reportkit.base.arrays import Array

#: Times a day is scaled back to its own sum, hours at their bounds left where they are.
_ROUNDS = 6


def mean_clearness(daily: Array, sine: Array) -> Array:
    """Return the mean clearness of an hour by the clearness of its day and the sine of the sun's height [1].

    References
    ----------
    Aguiar & Collares-Pereira 1992, Solar Energy 49:167, doi:10.1016/0038-092X(92)90068-L (from a public
    implementation, not from the paper).
    """
    least = -0.19 + 1.12 * daily + 0.24 * np.exp(-8.0 * daily)
    rise = 0.32 - 1.6 * (daily - 0.5) ** 2
    pace = 0.19 + 2.27 * daily**2 - 2.51 * daily**3
    mean: Array = least + rise * np.exp(-pace / np.maximum(sine, 0.01))
    return mean


def spread(daily: Array, sine: Array) -> Array:
    """Return the standard deviation of an hour's clearness about that mean [1]; source as there."""
    wide = 0.14 * np.exp(-20.0 * (daily - 0.35) ** 2)
    steep = 3.0 * (daily - 0.45) ** 2 + 16.0 * daily**5
    deviation: Array = wide * np.exp(steep * (1.0 - sine))
    return deviation


def memory(daily: Array) -> Array:
    """Return the correlation of an hour with the hour before [1]; source as above."""
    kept: Array = 0.38 + 0.06 * np.cos(7.4 * daily - 2.5)
    return kept


def hourly_clearness(daily: Array, sine: Array, outside: Array, most: Array, drawn: Array) -> Array:
    """Return the clearness of every hour of Y years [1], (Y, D, 24).

    Parameters
    ----------
    daily
        Clearness of the days [1], (Y, D).
    sine
        Sine of the sun's height, (D, 24).
    outside
        Radiation outside the air on level ground [W/m2], (D, 24).
    most
        Highest clearness of each hour [1], (D, 24).
    drawn
        Random numbers of the normal law (mean 0, deviation 1), (Y, D, 24).

    Returns
    -------
    array
        Over each day it comes to the day's clearness, as far as its clearest hours can.
    """
    day = daily[..., None]
    kept = memory(day)[..., 0]
    wander = np.empty_like(drawn)
    now = drawn[..., 0]
    for hour in range(24):
        now = kept * now + np.sqrt(1.0 - kept**2) * drawn[..., hour]
        wander[..., hour] = now
    made = mean_clearness(day, sine) + spread(day, sine) * wander
    made = np.where(outside > 0.0, np.clip(made, 0.0, most), 0.0)
    wanted = daily * outside.sum(axis=-1)
    for _ in range(_ROUNDS):
        sums = (made * outside).sum(axis=-1)
        factor = np.divide(wanted, sums, out=np.zeros_like(sums), where=sums > 0.0)
        made = np.minimum(made * factor[..., None], most)
    return made
