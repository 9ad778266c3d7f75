"""Uncertain inputs as low, likely and high, the samples drawn from them, and what the spread comes from.

Each input is triangular between its low and high with its peak at the likely value. The samples are a
scrambled Sobol set with a fixed seed: same inputs, same samples. A result's range is its 10th, 50th
and 90th percentile; its drivers are ranked by the squared rank correlation with each input, which
outliers and curvature don't upset. Not covered: inputs that depend on one another, and a driver whose
effect turns round inside its range (its rank correlation may vanish).
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from reportkit.base.arrays import Array
from reportkit.physics.room.points import SEED, points


@dataclass(frozen=True)
class Uncertain:
    """An input that is not known exactly.

    ``low``, ``likely`` and ``high`` in ``unit``; ``mark`` says how far to trust it (P published,
    A guides of trade associations, C common practice without a source, J given by the job).
    """

    key: str
    low: float
    likely: float
    high: float
    unit: str
    mark: str
    why: str

    def __post_init__(self) -> None:
        """Refuse bounds that are out of order or not finite."""
        bounds = (self.low, self.likely, self.high)
        if not all(math.isfinite(bound) for bound in bounds) or sorted(bounds) != list(bounds):
            raise ValueError(f"{self.key} must have low <= likely <= high, got {bounds}")

    def at(self, share: ArrayLike) -> Array:
        """Return the value below which ``share`` [-] (0 to 1) of the triangle lies, in ``unit``."""
        u = np.asarray(share, dtype=float)
        width = self.high - self.low
        if width == 0:
            return np.where(np.isnan(u), np.nan, self.likely)
        rise, fall = self.likely - self.low, self.high - self.likely
        with np.errstate(invalid="ignore"):
            up = self.low + np.sqrt(np.maximum(u * width * rise, 0.0))
            down = self.high - np.sqrt(np.maximum((1.0 - u) * width * fall, 0.0))
            return np.where(np.isnan(u), np.nan, np.where(u * width < rise, up, down))


@dataclass(frozen=True)
class Range:
    """Tenth, fiftieth and ninetieth percentile of a result, in its own unit."""

    p10: float
    p50: float
    p90: float


@dataclass(frozen=True)
class Driver:
    """How much of a result's spread follows one input.

    ``share`` [-] is its squared rank correlation over the sum of all inputs'; ``correlation`` [-] has
    the sign: positive where more of the input means more of the result.
    """

    key: str
    share: float
    correlation: float


def samples(inputs: Iterable[Uncertain], count: int = 128, *, seed: int = SEED) -> dict[str, Array]:
    """Return samples of every input.

    Parameters
    ----------
    inputs
        The uncertain inputs, each key once.
    count
        How many, a power of two from 2 to 65536 (Sobol sets are balanced only there).
    seed
        Of the scrambling.

    Returns
    -------
    dict of str to array
        By key, each (count,) in the input's unit. Sample 0 is not the likely value: see ``likely``.

    Raises
    ------
    ValueError
        If the count is no power of two or a key is there twice.

    References
    ----------
    Owen A. B. 1998, J. Complexity 14:466, DOI 10.1006/jcom.1998.0487 (scrambling), as in
    ``scipy.stats.qmc.Sobol``.
    """
    rows = list(inputs)
    keys = [row.key for row in rows]
    if len(set(keys)) != len(keys):
        raise ValueError("an uncertain input is there twice")
    if not 2 <= count <= 65536 or count & (count - 1):
        raise ValueError(f"count must be a power of two from 2 to 65536, got {count}")
    if not rows:
        return {}
    drawn = points(count, len(rows), seed=seed)
    return {row.key: row.at(drawn[:, index]) for index, row in enumerate(rows)}


def likely(inputs: Iterable[Uncertain]) -> dict[str, Array]:
    """Return the likely value of every input as an array of one sample."""
    return {row.key: np.array([row.likely]) for row in inputs}


def percentiles(values: ArrayLike, *, axis: int = -1) -> Array:
    """Return the 10th, 50th and 90th percentile along an axis, in front: (3, ...); nan where any is nan."""
    return np.asarray(np.percentile(np.asarray(values, dtype=float), [10.0, 50.0, 90.0], axis=axis))


def summary(values: ArrayLike) -> Range:
    """Return the range of one result's samples, (S,)."""
    array = np.asarray(values, dtype=float)
    if array.ndim != 1 or array.size == 0:
        raise ValueError(f"values must be one sample axis, got shape {array.shape}")
    low, middle, high = percentiles(array)
    return Range(float(low), float(middle), float(high))


def drivers(inputs: Mapping[str, ArrayLike], result: ArrayLike, *, least: float = 0.0) -> tuple[Driver, ...]:
    """Rank the inputs by how much of a result's spread follows each.

    Parameters
    ----------
    inputs
        Samples by key, each (S,).
    result
        The result of the same samples, (S,).
    least
        Drivers with a smaller share [-] are left out.

    Returns
    -------
    tuple of Driver
        Largest first, equal ones by key; empty where the result doesn't vary or holds a nan.

    Raises
    ------
    ValueError
        If the numbers of samples differ.

    References
    ----------
    Spearman's rank correlation; as a measure of sensitivity: Saltelli et al. 2008, Global Sensitivity
    Analysis: The Primer, 1.2 (from memory of the book).
    """
    values = np.asarray(result, dtype=float)
    if values.ndim != 1:
        raise ValueError(f"result must be one sample axis, got shape {values.shape}")
    if np.isnan(values).any() or np.ptp(values) <= 1e-12 * float(np.max(np.abs(values), initial=0.0)):
        return ()
    own = _ranks(values)
    correlations: list[tuple[str, float]] = []
    for key, given in inputs.items():
        sampled = np.asarray(given, dtype=float)
        if sampled.shape != values.shape:
            raise ValueError(f"{key} has {sampled.size} samples, the result {values.size}")
        ranks = _ranks(sampled)
        spread = float(np.sqrt(np.sum(ranks**2) * np.sum(own**2)))
        correlations.append((key, float(np.sum(ranks * own)) / spread if spread > 0 else 0.0))
    total = sum(value**2 for _, value in correlations)
    if total == 0:
        return ()
    ranked = [Driver(key, value**2 / total, value) for key, value in correlations if value**2 / total > least]
    return tuple(sorted(ranked, key=lambda driver: (-round(driver.share, 9), driver.key)))


def _ranks(values: Array) -> Array:
    """Return centred ranks, equal values sharing their mean rank."""
    _, inverse, counts = np.unique(values, return_inverse=True, return_counts=True)
    ends = np.cumsum(counts)
    mean = ends - (counts - 1) / 2.0
    ranks = mean[inverse.reshape(-1)]
    return np.asarray(ranks - ranks.mean())
