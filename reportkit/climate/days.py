"""Clear and dull days in their order: daily clearness of a year from twelve monthly means.

A day's clearness is its radiation over that outside the air. Its state today leads to tomorrow's by a
published table of probabilities, one for each class of a month's mean, so that clear and dull spells last as
long as measured ones do. Nothing here knows the weather of a place beyond its monthly means.
"""

from __future__ import annotations

import csv
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

import numpy as np

from reportkit.base.arrays import Array, Whole

#: Times a month is scaled back to its mean, days at their bounds left where they are.
_ROUNDS = 12


@dataclass(frozen=True, eq=False)
class Classes:
    """The table of K classes of ten states.

    ``upto`` (K,) is the highest monthly clearness of a class, ``lowest`` and ``highest`` (K,) the clearness
    between which its ten equal states lie, ``below`` (K, 10, 10) the chance that a day in a state (rows) is
    followed by that state or a duller one.
    """

    upto: Array
    lowest: Array
    highest: Array
    below: Array


@cache
def classes() -> Classes:
    """Return the table of Aguiar, Collares-Pereira & Conde 1988, as it ships in this package."""
    text = files("reportkit.climate").joinpath("data/daily-clearness.csv").read_text("utf-8")
    rows = list(csv.DictReader(line for line in text.splitlines() if not line.startswith("#")))
    chance = np.array([[float(row[f"to_{state}"]) for state in range(1, 11)] for row in rows])
    below = np.cumsum(chance, axis=1).reshape(-1, 10, 10)
    first = rows[::10]
    return Classes(
        np.array([float(row["monthly_mean_up_to"]) for row in first]),
        np.array([float(row["lowest"]) for row in first]),
        np.array([float(row["highest"]) for row in first]),
        below / below[..., -1:],  # rows add up to 1 within the table's rounding
    )


def daily_clearness(monthly: Array, month: Whole, drawn: Array) -> Array:
    """Return the clearness of every day of Y years [1], (Y, D).

    Parameters
    ----------
    monthly
        Mean clearness of each month [1], (12,).
    month
        Month of each day, 0 for January, (D,).
    drawn
        Even random numbers of 0 to 1, (Y, D).

    References
    ----------
    Aguiar, Collares-Pereira & Conde 1988, Solar Energy 40:269, doi:10.1016/0038-092X(88)90049-7.
    """
    table = classes()
    kind = np.minimum(np.searchsorted(table.upto, monthly), len(table.upto) - 1)
    low, width = table.lowest[kind], (table.highest - table.lowest)[kind] / 10.0
    made = np.empty_like(drawn)
    today = np.broadcast_to(monthly[month[0]], drawn.shape[:1])
    for day in range(drawn.shape[1]):
        at = month[day]
        state = np.clip(((today - low[at]) / width[at]).astype(int), 0, 9)
        row = table.below[kind[at], state]  # (Y, 10)
        after = np.minimum((drawn[:, day, None] > row).sum(axis=1), 9)
        end = np.take_along_axis(row, after[:, None], 1)[:, 0]
        before = np.where(after > 0, np.take_along_axis(row, np.maximum(after - 1, 0)[:, None], 1)[:, 0], 0.0)
        part = np.clip((drawn[:, day] - before) / np.maximum(end - before, 1e-9), 0.0, 1.0)
        today = low[at] + width[at] * (after + part)
        made[:, day] = today
    return made


def to_monthly_means(values: Array, weight: Array, month: Whole, wanted: Array, most: Array) -> Array:
    """Scale days so that each month has its sum, no day above its most.

    Parameters
    ----------
    values
        Clearness of the days [1], (Y, D).
    weight
        Radiation outside the air of each day [Wh/m2], (D,).
    month
        Month of each day, 0 for January, (D,).
    wanted
        Sum of each month [Wh/m2], (12,).
    most
        Highest clearness of each day [1], (D,).

    Returns
    -------
    array
        (Y, D); a month that even its clearest days cannot fill has those.
    """
    scaled = np.minimum(values, most)
    months = np.eye(12)[month]  # (D, 12)
    for _ in range(_ROUNDS):
        sums = (scaled * weight) @ months
        factor = np.divide(wanted, sums, out=np.zeros_like(sums), where=sums > 0.0)
        scaled = np.minimum(scaled * factor[:, month], most)
    return scaled
