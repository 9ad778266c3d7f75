"""What a meter reads through filmed glass beside bare glass, against what the values of both say.

Two readings of one kind in the same minute, one behind the film, one behind the same glass without it (or in
the open before it): their ratio needs no correction for weather, and one meter's calibration cancels out.
The ratio is compared with that of the computed transmittances, whose range runs over the light that may
prevail: straight from the sun at its angle, and from the whole sky.

Not covered: heat (a meter behind glass does not feel what the glass gives off), temperatures, bills; meters
that see part of the sun's spectrum only, as silicon cells do (400-1100 nm): behind a film that works on the
infrared they read otherwise than the whole sun would.

References
----------
JCGM 100:2008 (GUM), 4.2: repeated readings, their mean and its standard uncertainty; Annex G: the
t-distribution for few of them. Means and intervals are of logarithms, since ratios multiply.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
import numpy.typing as npt

from reportkit.physics.glass.glazing import Glazing
from reportkit.physics.glass.optics import optics

Meter = Literal["light", "sun", "uv"]
Verdict = Literal["as_computed", "more", "less", "cannot_tell"]

#: By how much two readings of one meter in the same minute may differ for reasons of their own, as a share:
#: the hand that holds it, a cloud's edge (common practice, no source).
READING_SHARE = 0.05

#: Fewest pairs from which anything is said: two give an interval of twelve standard deviations.
FEWEST = 3

#: Probability that an interval covers the true mean.
COVERAGE = 0.95


@dataclass(frozen=True)
class Interval:
    """A mean and the interval that covers it at `COVERAGE`; low and high are nan for a single value."""

    middle: float
    low: float
    high: float


def expected_share(
    filmed: Glazing, bare: Glazing | None, meter: Meter, *, aoi: float = math.nan
) -> tuple[float, float]:
    """Return the range in which the ratio of two readings should lie, by the values of the glass.

    Parameters
    ----------
    filmed : Glazing
        The glass with its film.
    bare : Glazing or None
        The same glass without it; None where the other reading was taken in the open.
    meter : str
        ``light`` (visible), ``sun`` (whole solar spectrum) or ``uv``.
    aoi : float, 0-90 [deg]
        Angle at which the sun meets the pane; nan where it does not.

    Returns
    -------
    low, high : float [1]
        Over light from the sun (where it meets the pane) and from the whole sky. A glass behind which
        nothing could be read bare gives nan.

    Raises
    ------
    ValueError
        The meter is unknown or the angle lies outside 0-90 degrees.

    Examples
    --------
    >>> from reportkit.physics.glass import clear, single
    >>> low, high = expected_share(single(clear(3)), None, "light", aoi=0.0)
    >>> round(low, 2), round(high, 2)
    (0.82, 0.9)
    """
    if meter not in ("light", "sun", "uv"):
        raise ValueError(f"meter must be light, sun or uv (got {meter!r})")
    over = _through(filmed, meter, aoi)
    under = np.ones_like(over) if bare is None else _through(bare, meter, aoi)
    shares = np.divide(over, under, out=np.full_like(over, np.nan), where=under > 0.0)
    return float(shares.min()), float(shares.max())


def _through(glazing: Glazing, meter: Meter, aoi: float) -> npt.NDArray[np.float64]:
    """Return transmittances for the whole sky and, where the sun meets the pane, at its angle."""
    solved = optics(glazing, 0.0 if math.isnan(aoi) else aoi)
    sky = solved.diffuse
    assert sky is not None  # optics() always averages; this is for the type checker
    parts = [sky] if math.isnan(aoi) else [sky, solved]
    name = {"uv": "t_uv", "light": "t_visible", "sun": "t_solar"}[meter]
    return np.array([getattr(part, name)[0] for part in parts], dtype=float)


def mean_share(shares: npt.ArrayLike) -> Interval:
    """Return the geometric mean of ratios and its interval.

    Parameters
    ----------
    shares : array_like, (n,) [1]
        Ratios over 0, at least one.

    Returns
    -------
    Interval
        By Student's t with n - 1 degrees of freedom.

    Raises
    ------
    ValueError
        There is none, or one is not over 0.

    Examples
    --------
    >>> round(mean_share([0.4, 0.5, 0.4, 0.5]).middle, 3)
    0.447
    """
    values = np.asarray(shares, dtype=float)
    if values.size == 0 or not np.all(values > 0.0):
        raise ValueError("shares must be one or more numbers over 0")
    low, middle, high = _interval(np.log(values))
    return Interval(math.exp(middle), math.exp(low), math.exp(high))


def _interval(values: npt.NDArray[np.float64]) -> tuple[float, float, float]:
    from scipy.special import stdtrit

    middle = float(values.mean())
    if values.size < 2:
        return math.nan, middle, math.nan
    factor = float(stdtrit(values.size - 1, (1.0 + COVERAGE) / 2.0))
    half = factor * float(values.std(ddof=1)) / math.sqrt(values.size)
    return middle - half, middle, middle + half


def judge(shares: Sequence[float], expected: Sequence[tuple[float, float]]) -> Verdict:
    """Say whether the film passes what was computed.

    Each reading's ratio is set against the range expected of it; what is judged is the mean of those.
    It cannot be told from fewer than `FEWEST` pairs, nor where the readings lie so wide, or the film shows
    so little on this meter, that the interval about the mean reaches from the film half-way to bare glass.

    Parameters
    ----------
    shares : sequence of float, (n,) [1]
        Ratios read, over 0.
    expected : sequence of pairs of float, (n,) [1]
        The range computed for each, over 0.

    Returns
    -------
    str
        ``as_computed``: the interval meets the range, widened by `READING_SHARE`. ``more``, ``less``: it lies
        above or below. ``cannot_tell``.

    Examples
    --------
    >>> judge([0.40, 0.41, 0.39, 0.40], [(0.39, 0.42)] * 4)
    'as_computed'
    """
    if len(shares) < FEWEST:
        return "cannot_tell"
    ends = np.log(np.asarray(expected, dtype=float))
    middle, half = ends.mean(axis=1), (ends[:, 1] - ends[:, 0]) / 2.0
    low, _, high = _interval(np.log(np.asarray(shares, dtype=float)) - middle)
    effect = abs(float(middle.mean()))
    if (high - low) / 2.0 > effect / 2.0:
        return "cannot_tell"
    spread = float(half.mean()) + math.log1p(READING_SHARE)
    if low > spread:
        return "more"
    return "less" if high < -spread else "as_computed"
