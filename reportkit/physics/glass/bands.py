"""Wavelength bands of sunlight and the weights that turn band values into rated values.

Three bands carry every optical quantity of this package: ultraviolet 300-400 nm, visible 400-700 nm and
near infrared 700-2500 nm. The shares are of ASTM G173-03 AM1.5, global on a 37 degree tilt, integrated by
trapezoid with interpolated band edges over 300-2500 nm. A data sheet gives the solar, visible and
ultraviolet values; the near-infrared value follows.

What was measured by wavelength is carried in cells instead: see `reportkit.physics.glass.sunlight`.

Not covered: the solar weights of ISO 9050 and EN 410, which differ from G173 by
about a percentage point on selective glass. A sheet's ultraviolet value is for 300-380 nm (or 280-380 nm);
for energy, of which 380-400 nm holds 1.4 %, it is used for the whole 300-400 nm band. For fading, where those
20 nm weigh 8.7 %, it is not: see `fading`.

References
----------
ASTM G173-03, Standard Tables for Reference Solar Spectral Irradiances (shipped with pvlib).
ISO 9050:2003 and CIE 89-3: damage weight exp(-0.012 lambda), 300-600 nm (from memory).
"""

from __future__ import annotations

from typing import Any

import numpy as np
import numpy.typing as npt

from reportkit.base.arrays import Array
from reportkit.base.translatable import translatable

BANDS: tuple[str, str, str] = ("uv", "visible", "near_infrared")
BAND_EDGES: tuple[float, float, float, float] = (300.0, 400.0, 700.0, 2500.0)  # [nm]
SPECTRUM = "ASTM G173-03 AM1.5, global on a 37 degree tilt"

# Shares of 300-2500 nm of ASTM G173-03 global tilt; a test derives them again from pvlib's copy.
SOLAR_WEIGHTS: tuple[float, float, float] = (0.04645, 0.43305, 0.52050)
# The same spectrum times exp(-0.012 lambda) over 300-600 nm (damage weight of ISO 9050 / CIE 89-3), shares of
# 300-380, 380-400 and 400-600 nm.
FADING_WEIGHTS: tuple[float, float, float] = (0.32764, 0.08689, 0.58547)

# A printed sheet is rounded to a hundredth, so the near-infrared value derived from it is known to about
# (0.005 + 0.433 x 0.005 + 0.046 x 0.005) / 0.5205 = 0.014. A value out of 0-1 by less is rounding.
ROUNDING = 0.015

Band3 = tuple[float, float, float]
Bands = tuple[float, ...]  # one value for each band, or for each cell of `reportkit.physics.glass.sunlight`


def solar(values: npt.ArrayLike) -> Array:
    """Weigh band values into one solar value.

    Parameters
    ----------
    values : array_like, (..., 3) [1]
        Band values in the order of `BANDS`.

    Returns
    -------
    numpy.ndarray, (...) [1]
        The value weighted by ASTM G173-03.

    Examples
    --------
    >>> round(float(solar((0.0, 1.0, 0.0))), 3)
    0.433
    """
    share: Array = np.asarray(values, dtype=float) @ np.asarray(SOLAR_WEIGHTS)
    return share


def fading(values: npt.ArrayLike, *, least: bool = False) -> Array:
    """Weigh band transmittances by the damage weight exp(-0.012 lambda), 300-600 nm.

    Parameters
    ----------
    values : array_like, (..., 3) [1]
        Band transmittances in the order of `BANDS`, the ultraviolet one as sheets print it, for 300-380 nm.
    least : bool
        The least that fits, in place of the most.

    Returns
    -------
    numpy.ndarray, (...) [1]
        The damage-weighted transmittance: relative fading rate behind the glass, outdoors being 1.

    Notes
    -----
    No sheet prints 380-400 nm. Glass and most films pass there about as much as of light, some as little as
    of ultraviolet: the greater of the two is taken, and the smaller for ``least``.
    """
    bands = np.asarray(values, dtype=float)
    uv, visible = bands[..., 0], bands[..., 1]
    near = np.minimum(uv, visible) if least else np.maximum(uv, visible)
    share: Array = np.stack([uv, near, visible], axis=-1) @ np.asarray(FADING_WEIGHTS)
    return share


def damage_weight(wavelength: npt.ArrayLike) -> Array:
    """Relative damage of light, exp(-0.012 lambda) between 300 and 600 nm and zero outside.

    Parameters
    ----------
    wavelength : array_like, (N,) [nm]

    Returns
    -------
    numpy.ndarray, (N,) [1]
        Relative weight (not normalised).

    References
    ----------
    ISO 9050:2003 and CIE 89-3 (from memory).
    """
    nm = np.asarray(wavelength, dtype=float)
    weight = np.exp(-0.012 * nm)
    return np.where((nm >= 300.0) & (nm <= 600.0), weight, np.where(np.isnan(nm), np.nan, 0.0))


def band_share(wavelength: npt.ArrayLike, irradiance: npt.ArrayLike, *, low: float, high: float) -> float:
    """Integrate a spectrum between two wavelengths, edges interpolated.

    Parameters
    ----------
    wavelength : array_like, (N,) [nm]
        Rising wavelengths.
    irradiance : array_like, (N,) [W/m2/nm]
        Spectral irradiance, or anything to be integrated.
    low, high : float [nm]
        Limits of the integral.

    Returns
    -------
    float [W/m2]
        The trapezoid integral.
    """
    nm = np.asarray(wavelength, dtype=float)
    power = np.asarray(irradiance, dtype=float)
    inner = nm[(nm > low) & (nm < high)]
    grid = np.concatenate(([low], inner, [high]))
    return float(np.trapezoid(np.interp(grid, nm, power), grid))


def bands_from_sheet(
    *, solar_value: float, visible: float, uv: float, quantity: str = "transmittance"
) -> Band3:
    """Split a sheet's solar, visible and ultraviolet values into the three bands.

    Parameters
    ----------
    solar_value : float, 0-1 [1]
        Solar transmittance or reflectance as printed.
    visible : float, 0-1 [1]
        Visible transmittance or reflectance as printed; taken as the whole band 400-700 nm.
    uv : float, 0-1 [1]
        Ultraviolet value as printed; taken as the whole band 300-400 nm.
    quantity : str
        Named in the message when the values contradict each other.

    Returns
    -------
    tuple of float, (3,) [1]
        Ultraviolet, visible, near-infrared.

    Raises
    ------
    ValueError
        A value lies outside 0-1, or the near-infrared value that follows does by more than rounding.

    Examples
    --------
    >>> round(bands_from_sheet(solar_value=0.45, visible=0.70, uv=0.01)[2], 3)
    0.281
    """
    for name, value in (("solar", solar_value), ("visible", visible), ("ultraviolet", uv)):
        if not 0.0 <= value <= 1.0:
            raise ValueError(f"{name} {quantity} must be between 0 and 1 (got {value:g})")
    w_uv, w_visible, w_nir = SOLAR_WEIGHTS
    nir = (solar_value - w_uv * uv - w_visible * visible) / w_nir
    if nir < -ROUNDING or nir > 1.0 + ROUNDING:
        raise ValueError(
            translatable(
                "solar {quantity} {solar:g} contradicts visible {quantity} {visible:g}: the near-infrared "
                "{quantity} would have to be {nir:.3f}; it must be between 0 and 1",
                quantity=translatable(quantity),
                solar=solar_value,
                visible=visible,
                nir=nir,
            )
        )
    return (uv, visible, min(max(nir, 0.0), 1.0))


def as_bands(values: Any) -> Bands:
    """Return band or cell values as a tuple of floats, for use in frozen records."""
    return tuple(np.asarray(values, dtype=float).tolist())


def as_band3(values: Any) -> Band3:
    """Return three floats as a tuple, for use in frozen records.

    Parameters
    ----------
    values : sequence of float, (3,) [1]

    Returns
    -------
    tuple of float, (3,) [1]

    Raises
    ------
    ValueError
        There are not three of them.
    """
    numbers = tuple(float(value) for value in values)
    if len(numbers) != len(BANDS):
        raise ValueError(f"band values must be three, {', '.join(BANDS)} (got {len(numbers)})")
    return (numbers[0], numbers[1], numbers[2])
