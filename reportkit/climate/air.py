"""Air temperature over generated days: warm and cold spells, wider and warmer by day when the sky is clear.

A year made from monthly means knows how cold a month is, not how its days differ. That is fitted here to the
three typical years that ship with pvlib (public data; 25.8, 36.1 and 55.3 N): how far the days of a month
spread (rms error .9 to 1.1 K of 1.0 to 7.9 K; at Denver, 39.8 N, which was left out, .5 K), how long a spell
lasts (correlation with the day before .64, .66, .74; Denver .61), and what a clear sky does (a fifth of the
spread of daily ranges, at Denver two fifths). Other coasts and monsoons were not tried.
"""

from __future__ import annotations

import numpy as np

from reportkit.base.arrays import Array, Whole

#: Spread of a month's daily means [K] = a + b x mean of the month [C] + c x deviation of the twelve means
#: [K]; the form is that of Erbs, Klein & Beckman 1983 for months, the numbers are fitted (see above).
SPREAD = (2.45, -0.074, 0.305)
LEAST_SPREAD = 0.8  # [K], the least of the 36 months is 1.0

#: How far the spread of a place may differ from that fit, as a logarithm: to two thirds more or two fifths
#: less [1]; of the 48 months of the four years 38 lie within.
UNSURE = 0.5

#: Most spread of the daily means by the daily range [1]: a day's range holds what warms or cools through it
#: (the most of the 48 months is 1.4).
MOST_SPREAD = 1.5

#: Correlation of a day's mean temperature with the day before (fitted).
MEMORY = 0.67

#: How far a clear day (by deviations of clearness) is warm (by deviations of temperature) in a month that is
#: one deviation warmer than the year; in one that is colder by as much, clear days are cold (fitted).
CLEAR_IS_WARM = 0.27

#: By how much of itself a day's range grows with clearness over the month's mean [1] (fitted; 1.25, Denver).
CLEAR_IS_WIDE = 1.26

#: Times the ranges are scaled back to their means; what is left is under a hundredth.
_ROUNDS = 4


def daily_temperature(hour: Array, mean: Array, daily_range: Array) -> Array:
    """Return the air temperature over an average day [C].

    Parameters
    ----------
    hour
        Solar time [h], 0 to 24.
    mean, daily_range
        Mean of the day [C] and highest minus lowest [K].

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


def daily_spread(mean: Array) -> Array:
    """Return the standard deviation of each month's daily means [K], (12,), from the months' means [C]."""
    constant, by_mean, by_year = SPREAD
    wide: Array = np.maximum(constant + by_mean * mean + by_year * mean.std(), LEAST_SPREAD)
    return wide


def temperatures(
    mean: Array, swing: Array, *, clearness: Array, month: Whole, solar: Array, drawn: Array, unsure: Array
) -> Array:
    """Return the air temperature of every hour of Y years [C], (Y, D, 24).

    Parameters
    ----------
    mean, swing
        Mean [C] and mean daily range [K] of each month, (12,); the months come out with both.
    clearness
        Of the days [1], (Y, D).
    month
        Month of each day, 0 for January, (D,).
    solar
        Solar time of each hour [h], (D, 24).
    drawn
        Random numbers of the normal law (mean 0, deviation 1), (Y, D).
    unsure
        Where between its bounds the spread of a year's days lies, -1 to 1, (Y,).
    """
    years, days = drawn.shape
    clear = _standard(clearness, month)
    warm = (mean - mean.mean()) / max(float(mean.std()), 0.1)
    tie = CLEAR_IS_WARM * np.clip(warm, -2.0, 2.0)[month]
    spell = np.empty_like(drawn)
    now = drawn[:, 0]
    for day in range(days):
        now = MEMORY * now + np.sqrt(1.0 - MEMORY**2) * drawn[:, day]
        spell[:, day] = now
    wide = daily_spread(mean)[month] * np.exp(UNSURE * unsure)[:, None]
    wide = np.minimum(wide, MOST_SPREAD * swing[month])
    away = _standard(tie * clear + np.sqrt(1.0 - tie**2) * spell, month) * wide
    noons = (np.arange(days) + 0.5) * 24.0
    hours = np.arange(24 * days) + 0.5
    drift = np.stack([np.interp(hours, noons, row, period=24.0 * days) for row in away])
    base = mean[month][:, None] + _to_mean(drift.reshape(years, days, 24), month)
    means = _by_month(clearness, month)
    ranges = swing[month] * np.maximum(1.0 + CLEAR_IS_WIDE * (clearness - means[:, month]), 0.1)
    shape = daily_temperature(solar, np.zeros(1), np.ones(1))
    for _ in range(_ROUNDS):
        swings = _by_month(np.ptp(base + ranges[..., None] * shape, axis=-1), month)
        factor = np.divide(swing, swings, out=np.ones_like(swings), where=swings > 0.0)
        ranges = ranges * factor[:, month]
    return mean[month][:, None] + _to_mean(base + ranges[..., None] * shape - mean[month][:, None], month)


def _by_month(values: Array, month: Whole) -> Array:
    """Return the means of the months, (Y, 12), of values by day, (Y, D)."""
    months = np.eye(12)[month]
    means: Array = values @ months / months.sum(axis=0)
    return means


def _standard(values: Array, month: Whole) -> Array:
    """Return values by day, (Y, D), with mean 0 and deviation 1 in every month of every year."""
    left = values - _by_month(values, month)[:, month]
    wide = np.sqrt(_by_month(left**2, month))[:, month]
    return np.divide(left, wide, out=np.zeros_like(left), where=wide > 1e-9)


def _to_mean(values: Array, month: Whole) -> Array:
    """Return values by hour, (Y, D, 24), with mean 0 in every month of every year."""
    return values - _by_month(values.mean(axis=-1), month)[:, month][..., None]
