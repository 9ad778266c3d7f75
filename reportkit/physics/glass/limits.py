"""The most solar energy that a film of some visible transmittance can keep out, whatever it is made of.

Three limits follow from the spectrum of the sun and the eye alone: for a film equally clear over 400-700 nm,
for any film of exactly neutral colour (white stays the D65 white for the 2 degree observer), and for any
colour at all. They take all that is not transmitted as reflected outdoors; a film that absorbs does worse.

Not covered: the sun at a slant, glass behind the film.

References: ASTM G173-03 (passed in as arrays); CIE tables of `reportkit.physics.glass.cie`.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from reportkit.base.arrays import Array
from reportkit.physics.glass.bands import band_share
from reportkit.physics.glass.cie import WAVELENGTH, tristimulus_weights, visible_weight


@dataclass(frozen=True)
class GainLimits:
    """The most solar energy that can be kept out at a visible transmittance.

    Attributes
    ----------
    t_visible : float [1]
    flat, neutral, any_colour : float [1]
        TSER at most: equal transmittance over 400-700 nm and none outside; exactly neutral; any colour.
    """

    t_visible: float
    flat: float
    neutral: float
    any_colour: float


def _bins(wavelength: npt.ArrayLike, irradiance: npt.ArrayLike) -> tuple[Array, float]:
    """Share of 300-2500 nm in each 10 nm bin of the eye's grid, and in 400-700 nm."""
    total = band_share(wavelength, irradiance, low=300.0, high=2500.0)
    bins = np.array([band_share(wavelength, irradiance, low=nm - 5.0, high=nm + 5.0) for nm in WAVELENGTH])
    return bins / total, band_share(wavelength, irradiance, low=400.0, high=700.0) / total


def gain_limits(t_visible: float, *, wavelength: npt.ArrayLike, irradiance: npt.ArrayLike) -> GainLimits:
    """Compute the three limits of TSER at a visible transmittance.

    Parameters
    ----------
    t_visible : float, 0-1 [1]
    wavelength : array_like, (N,) [nm]
        Rising, covering 300-2500 nm.
    irradiance : array_like, (N,) [W/m2/nm]
        Reference solar spectrum, ASTM G173-03 global tilt.

    Returns
    -------
    GainLimits
        ``flat <= neutral <= any_colour`` but for the 10 nm grid.

    Raises
    ------
    ValueError
        The visible transmittance lies outside 0-1, or the spectrum does not cover 300-2500 nm.

    Notes
    -----
    Neutral: a linear programme over the 10 nm grid, least energy subject to X, Y and Z each being VT times
    those of D65. Any colour: wavelengths are opened in the order of light per energy until VT is reached.
    """
    if not 0.0 <= t_visible <= 1.0:
        raise ValueError(f"visible transmittance must be between 0 and 1 (got {t_visible:g})")
    nm = np.asarray(wavelength, dtype=float)
    if nm.min() > 300.0 or nm.max() < 2500.0:
        raise ValueError(f"the spectrum must cover 300-2500 nm (got {nm.min():g}-{nm.max():g})")
    energy, visible_share = _bins(nm, irradiance)
    light = visible_weight()
    order = np.argsort(energy / light, kind="stable")
    before = np.cumsum(light[order]) - light[order]
    opened = np.clip((t_visible - before) / light[order], 0.0, 1.0)
    any_colour = 1.0 - float(opened @ energy[order])
    return GainLimits(
        t_visible=t_visible,
        flat=1.0 - t_visible * visible_share,
        neutral=1.0 - _least_neutral(t_visible, energy),
        any_colour=any_colour,
    )


def _least_neutral(t_visible: float, energy: Array) -> float:
    """Least solar transmittance of an exactly neutral film: the linear programme."""
    from scipy.optimize import linprog  # lazily: a third of a second to import

    weights = tristimulus_weights()
    solved = linprog(
        energy, A_eq=weights, b_eq=t_visible * weights.sum(axis=1), bounds=(0.0, 1.0), method="highs"
    )
    if not solved.success:
        raise ArithmeticError(f"the linear programme for a neutral film failed: {solved.message}")
    return float(solved.fun)
