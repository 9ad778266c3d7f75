"""What the eye sees: the CIE observer and daylight illuminant on a 10 nm grid, and the visible weight.

Visible transmittance (VT) is weighted by D65 times V(lambda); it is not the visible share of solar energy.

Not covered: the 10 degree observer, other illuminants, finer grids.

References
----------
CIE 018:2019 / ISO 11664-1: colour-matching functions of the 2 degree observer (y-bar is V(lambda)); ISO
11664-2: illuminant D65. Every tenth nanometre of the published tables; a test compares them with a general
colour-science library.
"""

from __future__ import annotations

import numpy as np

from reportkit.base.arrays import Array

WAVELENGTH: Array = np.arange(380.0, 781.0, 10.0)  # [nm]

# fmt: off
X_BAR: Array = np.array([
    0.001368, 0.004243, 0.01431, 0.04351, 0.13438, 0.2839, 0.34828, 0.3362, 0.2908, 0.19536,
    0.09564, 0.03201, 0.0049, 0.0093, 0.06327, 0.1655, 0.2904, 0.43345, 0.5945, 0.7621, 0.9163,
    1.0263, 1.0622, 1.0026, 0.85445, 0.6424, 0.4479, 0.2835, 0.1649, 0.0874, 0.04677, 0.0227,
    0.011359, 0.00579, 0.002899, 0.00144, 0.00069, 0.000332, 0.000166, 8.3e-05, 4.2e-05,
])
# fmt: on
# fmt: off
Y_BAR: Array = np.array([
    3.9e-05, 0.00012, 0.000396, 0.00121, 0.004, 0.0116, 0.023, 0.038, 0.06, 0.09098, 0.13902,
    0.20802, 0.323, 0.503, 0.71, 0.862, 0.954, 0.99495, 0.995, 0.952, 0.87, 0.757, 0.631, 0.503,
    0.381, 0.265, 0.175, 0.107, 0.061, 0.032, 0.017, 0.00821, 0.004102, 0.002091, 0.001047, 0.00052,
    0.000249, 0.00012, 6e-05, 3e-05, 1.5e-05,
])
# fmt: on
# fmt: off
Z_BAR: Array = np.array([
    0.00645, 0.02005, 0.06785, 0.2074, 0.6456, 1.3856, 1.74706, 1.77211, 1.6692, 1.28764, 0.81295,
    0.46518, 0.272, 0.1582, 0.07825, 0.04216, 0.0203, 0.00875, 0.0039, 0.0021, 0.00165, 0.0011,
    0.0008, 0.00034, 0.00019, 5e-05, 2e-05, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0,
    0.0, 0.0, 0.0,
])
# fmt: on
# fmt: off
D65: Array = np.array([  # relative power, 100 at 560 nm
    49.9755, 54.6482, 82.7549, 91.486, 93.4318, 86.6823, 104.865, 117.008, 117.812, 114.861,
    115.923, 108.811, 109.354, 107.802, 104.79, 107.689, 104.405, 104.046, 100.0, 96.3342, 95.788,
    88.6856, 90.0062, 89.5991, 87.6987, 83.2886, 83.6992, 80.0268, 80.2146, 82.2778, 78.2842,
    69.7213, 71.6091, 74.349, 61.604, 69.8856, 75.087, 63.5927, 46.4182, 66.8054, 63.3828,
])
# fmt: on

for _table in (WAVELENGTH, X_BAR, Y_BAR, Z_BAR, D65):
    _table.setflags(write=False)


def visible_weight() -> Array:
    """D65 x V(lambda) on the 10 nm grid, summing to 1.

    Returns
    -------
    numpy.ndarray, (41,) [1]

    Examples
    --------
    >>> round(float(100 * visible_weight()[17]), 4)  # 550 nm
    9.7956
    """
    weight = D65 * Y_BAR
    share: Array = weight / weight.sum()
    return share


def tristimulus_weights() -> Array:
    """Weights that turn spectral transmittance into X, Y, Z relative to the D65 white's Y.

    Returns
    -------
    numpy.ndarray, (3, 41) [1]
        Row sums are the white point; the second row is `visible_weight`.
    """
    weights = np.stack([D65 * X_BAR, D65 * Y_BAR, D65 * Z_BAR])
    shares: Array = weights / weights[1].sum()
    return shares
