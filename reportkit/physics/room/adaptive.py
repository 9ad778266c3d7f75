"""How warm people stand a room that they cool by its windows: the adaptive limit of EN 16798-1:2019.

Who can open windows and dress as they like stands more in warm weather, so the limit follows the outdoor air
of the days before. It holds for rooms without cooling, where people sit or do light work. Outside the
running means it was made for the limit stays where it was at their end (our rule). Not covered: the lower
limit, and the corrections for fast air.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from reportkit.base.arrays import Array

#: Weight of the days before the last one in the running mean [-], EN 16798-1:2019 (from memory).
ALPHA = 0.8
#: Rise of the temperature people find best with the running mean [-], and that temperature at 0 C [C],
#: EN 16798-1:2019, annex B (from memory).
RISE, AT_ZERO = 0.33, 18.8
#: Running means the limit was made for [C], EN 16798-1:2019, annex B (from memory).
LEAST, MOST = 10.0, 30.0
#: How far above it a room of each category may be [K], EN 16798-1:2019, annex B (from memory): I for people
#: who stand little, II as usually expected, III as is still acceptable.
ABOVE: dict[int, float] = {1: 2.0, 2: 3.0, 3: 4.0}


def running_mean(daily: ArrayLike) -> Array:
    """Return the running mean of the days before each day of a year that repeats itself.

    Parameters
    ----------
    daily
        Mean outdoor temperature of each day [C], (D,), a year's or more days.

    Returns
    -------
    array
        [C], (D,): (1 - alpha) (T of the day before + alpha T of the one before that + ...).

    Raises
    ------
    ValueError
        If there is no day, or not one axis.

    References
    ----------
    EN 16798-1:2019, annex B (from memory): alpha = .8.
    """
    days = np.asarray(daily, dtype=float)
    if days.ndim != 1 or not days.size:
        raise ValueError(f"daily must be one value for each day, got shape {days.shape}")
    mean = float(days.mean())
    means = np.empty_like(days)
    for number in range(-days.size, days.size):  # the first time round only settles the start
        means[number] = mean
        mean = (1.0 - ALPHA) * float(days[number]) + ALPHA * mean
    return means


def upper_limit(mean: ArrayLike, category: int) -> Array:
    """Return the operative temperature over which a room without cooling is too warm.

    Parameters
    ----------
    mean
        Running mean of the outdoor air [C].
    category
        1, 2 or 3.

    Returns
    -------
    array
        [C], of the running mean's shape.

    Raises
    ------
    ValueError
        If there is no such category.

    References
    ----------
    EN 16798-1:2019, annex B (from memory): .33 Trm + 18.8 + 2, 3 or 4 K, 10 < Trm < 30 C.
    """
    if category not in ABOVE:
        raise ValueError(f"category must be one of {', '.join(map(str, ABOVE))}, got {category}")
    within = np.clip(np.asarray(mean, dtype=float), LEAST, MOST)
    return np.asarray(RISE * within + AT_ZERO + ABOVE[category])
