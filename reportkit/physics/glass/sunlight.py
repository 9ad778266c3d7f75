"""The reference sun and its weights in cells of 5 nm, for what is known wavelength by wavelength.

A pane whose transmittance was measured by wavelength is solved in 440 cells from 300 to 2500 nm, and its
values are weighted as a laboratory does it: the sun for solar values, D65 times V for the eye, the sun below
380 nm for ultraviolet, the sun times the damage weight for fading. The edges of the three bands are edges of
cells, so values that are the same all over a band come to the same solar and fading numbers either way.

Not covered: the solar tables of ISO 9050 and EN 410, which differ from this sun by about a percentage point
on selective glass; ultraviolet below 300 nm, of which this sun has next to nothing.

References
----------
ASTM G173-03, global on a 37 degree tilt: integrals of the table over each cell; a test derives them again.
ISO 9050:2003 and EN 410: which weight belongs to which value (from memory). ISO 9050 counts ultraviolet from
300 to 380 nm, EN 410 from 280 (from memory).
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
import numpy.typing as npt

from reportkit.base.arrays import Array
from reportkit.physics.glass import cie
from reportkit.physics.glass.bands import (
    BAND_EDGES,
    BANDS,
    SOLAR_WEIGHTS,
    Bands,
    as_bands,
    damage_weight,
    fading,
)

CELL = 5.0  # [nm]
CELL_EDGES: Array = np.arange(BAND_EDGES[0], BAND_EDGES[-1] + CELL, CELL)  # (441,) [nm]
CELLS = CELL_EDGES.size - 1
MIDDLES: Array = (CELL_EDGES[1:] + CELL_EDGES[:-1]) / 2.0  # (440,) [nm]
UV_END = 380.0  # [nm] ISO 9050 and EN 410
#: Cells of 380-400 nm, which no sheet prints. Where only some parts of a glazing are measured they are solved
#: twice: for energy as the ultraviolet band, which they belong to, and for fading as `bands.fading` has them.
NEAR = slice(int((UV_END - BAND_EDGES[0]) / CELL), int((BAND_EDGES[1] - BAND_EDGES[0]) / CELL))
TWICE = NEAR.stop - NEAR.start

# fmt: off
SUN: Array = np.array([  # [W/m2] in each cell
    0.02966, 0.1593, 0.4918, 0.8397, 1.217, 1.942, 2.144, 2.167, 2.371, 2.41, 2.768, 2.526, 2.86, 3.524,
    3.186, 3.622, 3.002, 3.326, 3.41, 4.107, 5.84, 5.706, 5.94, 6.072, 6.15, 5.728, 5.539, 6.459, 7.016,
    7.324, 7.67, 7.774, 7.87, 7.716, 7.826, 7.968, 8.012, 7.284, 7.825, 7.86, 7.573, 7.844, 7.744,
    7.168, 7.724, 7.58, 7.737, 7.746, 7.594, 7.677, 7.739, 7.533, 7.593, 7.469, 7.458, 7.391, 7.651,
    7.258, 7.208, 7.328, 7.335, 7.413, 7.293, 7.255, 7.174, 7.015, 7.078, 7.249, 7.216, 6.979, 7.033,
    6.575, 6.967, 7.105, 7.039, 7.009, 6.932, 5.839, 6.236, 6.497, 6.418, 6.557, 6.505, 5.454, 5.538,
    5.336, 5.829, 6.046, 6.155, 6.212, 6.166, 5.621, 2.236, 4.954, 5.87, 5.871, 5.803, 5.685, 5.478,
    5.451, 5.377, 5.375, 4.968, 4.29, 4.473, 4.64, 4.668, 4.991, 5.015, 4.944, 4.664, 4.899, 4.937,
    4.639, 4.766, 4.731, 4.645, 4.609, 4.428, 3.473, 3.581, 3.491, 3.263, 3.349, 3.675, 3.203, 1.444,
    1.286, 1.761, 1.592, 1.765, 1.815, 2.329, 2.913, 3.196, 3.061, 3.458, 3.684, 3.738, 3.71, 3.639,
    3.587, 3.593, 3.521, 3.475, 3.464, 3.418, 3.382, 3.345, 3.285, 3.254, 3.19, 3.141, 3.06, 3.056,
    3.022, 2.942, 2.868, 2.758, 2.596, 2.396, 2.202, 1.678, 0.8076, 0.6475, 0.5214, 0.7678, 1.054,
    1.044, 0.8403, 1.049, 1.544, 1.906, 2.051, 2.152, 2.239, 2.061, 2.119, 2.298, 2.155, 2.113, 2.204,
    2.191, 2.271, 2.269, 2.296, 2.325, 2.326, 2.296, 2.292, 2.249, 2.189, 1.992, 1.782, 2.029, 2.106,
    2.038, 2.097, 2.04, 1.94, 1.769, 1.764, 1.562, 1.51, 1.387, 1.235, 0.8931, 0.9026, 0.6898, 0.2017,
    0.01455, 0.0001277, 5.59e-06, 1.843e-05, 0.0003881, 0.001744, 4.744e-05, 0.001034, 0.000806,
    0.002132, 0.004954, 0.004721, 0.0288, 0.06725, 0.09873, 0.1636, 0.151, 0.163, 0.2196, 0.3157, 0.34,
    0.5808, 0.5053, 0.3446, 0.3493, 0.4446, 0.5527, 0.6178, 0.9261, 1.021, 1.062, 1.17, 1.262, 1.268,
    1.356, 1.338, 1.355, 1.359, 1.353, 1.362, 1.347, 1.337, 1.333, 1.292, 1.189, 1.177, 1.239, 1.242,
    1.259, 1.236, 1.137, 1.159, 1.162, 1.187, 1.193, 1.2, 1.177, 1.127, 1.096, 1.102, 1.095, 1.112,
    1.104, 1.036, 1.08, 1.056, 1.015, 1.042, 1.024, 1.008, 1.006, 0.9642, 0.9439, 0.9416, 0.9126,
    0.8804, 0.839, 0.8243, 0.8075, 0.8012, 0.7967, 0.7825, 0.732, 0.6864, 0.6414, 0.5384, 0.4437,
    0.4147, 0.3396, 0.1969, 0.1166, 0.06127, 0.03243, 0.01067, 0.005655, 0.003199, 2.906e-05, 1.62e-05,
    1.582e-05, 2.316e-05, 8.208e-06, 2.859e-05, 7.033e-05, 4.246e-05, 1.795e-09, 0.0001938, 0.0003035,
    0.000668, 0.000882, 0.0003258, 3.572e-06, 5.903e-05, 0.0001075, 0.001177, 0.003467, 0.003721,
    0.01036, 0.01719, 0.03536, 0.06898, 0.06691, 0.07985, 0.1262, 0.1935, 0.2918, 0.3584, 0.3964,
    0.4217, 0.417, 0.2984, 0.1329, 0.1369, 0.166, 0.1791, 0.2975, 0.3972, 0.4531, 0.4654, 0.4521,
    0.3975, 0.3071, 0.3102, 0.3277, 0.3189, 0.3578, 0.4106, 0.4298, 0.4355, 0.4471, 0.4397, 0.4482,
    0.457, 0.4533, 0.4482, 0.4406, 0.446, 0.4495, 0.452, 0.4506, 0.4353, 0.4237, 0.4225, 0.4012, 0.3958,
    0.4061, 0.4056, 0.3909, 0.384, 0.3951, 0.3755, 0.363, 0.3833, 0.389, 0.385, 0.383, 0.3781, 0.3752,
    0.3685, 0.3599, 0.3569, 0.3491, 0.3365, 0.3377, 0.3325, 0.3222, 0.3258, 0.3234, 0.3157, 0.3112,
    0.3002, 0.295, 0.3076, 0.305, 0.2754, 0.2706, 0.2826, 0.287, 0.2595, 0.2431, 0.2323, 0.2225, 0.2443,
    0.2491, 0.2006, 0.1874, 0.2167, 0.1834, 0.1698, 0.1943, 0.2119, 0.1944, 0.1685, 0.1528, 0.1347,
    0.1492, 0.1954, 0.1499, 0.1453, 0.1601, 0.08602, 0.09616, 0.1455, 0.1438, 0.1022, 0.08295, 0.06124,
    0.03412, 0.0228, 0.01597, 0.02485,
])
# fmt: on

#: Which band each cell lies in.
BAND_OF_CELL = np.digitize(MIDDLES, BAND_EDGES[1:-1])

for _table in (CELL_EDGES, MIDDLES, SUN, BAND_OF_CELL):
    _table.setflags(write=False)


@dataclass(frozen=True, eq=False)
class Weights:
    """What turns values in B bands or cells into one value; each sums to 1.

    Attributes
    ----------
    solar, visible, uv : numpy.ndarray, (B,) [1]
    """

    solar: Array
    visible: Array
    uv: Array


_BY_BAND = Weights(
    np.array(SOLAR_WEIGHTS),
    np.array([0.0, 1.0, 0.0]),
    np.array([1.0, 0.0, 0.0]),
)


@lru_cache(maxsize=1)
def _by_cell() -> Weights:
    visible = cie.D65 * cie.Y_BAR
    parts = (
        SUN,
        np.interp(MIDDLES, cie.WAVELENGTH, visible, left=0.0, right=0.0),
        np.where(MIDDLES < UV_END, SUN, 0.0),
    )
    return Weights(*(part / part.sum() for part in parts))


#: How much the sun in each cell fades things; sums to 1.
FADES: Array = SUN * damage_weight(MIDDLES)
FADES /= FADES.sum()
FADES.setflags(write=False)
#: The same where 380-400 nm stand again behind all cells.
_FADES_AGAIN: Array = np.concatenate(
    [np.where(np.isin(np.arange(CELLS), np.r_[NEAR]), 0.0, FADES), FADES[NEAR]]
)


def faded(values: npt.ArrayLike) -> Array:
    """Return the damage-weighted transmittance of values in the three bands, or in cells.

    Parameters
    ----------
    values : array_like, (..., 3), (..., `CELLS`) or (..., `CELLS` + `TWICE`) [1]

    Returns
    -------
    numpy.ndarray, (...) [1]
        Of bands the most that fits, as 380-400 nm is no part of one band; see `bands.fading`.
    """
    array = np.asarray(values, dtype=float)
    if array.shape[-1] == len(BANDS):
        return fading(array)
    return np.asarray(array @ (FADES if array.shape[-1] == CELLS else _FADES_AGAIN))


@lru_cache(maxsize=1)
def _by_cell_and_near() -> Weights:
    by = _by_cell()
    nothing = np.zeros(TWICE)
    return Weights(*(np.concatenate([part, nothing]) for part in (by.solar, by.visible, by.uv)))


def weights(count: int) -> Weights:
    """Return the weights of values in the three bands, in cells, or in cells and those of `NEAR` once more.

    Parameters
    ----------
    count : int
        3, `CELLS` or `CELLS` + `TWICE`.

    Raises
    ------
    ValueError
        There is no such division of the sun.

    Examples
    --------
    >>> round(float(weights(CELLS).uv.sum()), 9)
    1.0
    """
    if count == len(BANDS):
        return _BY_BAND
    if count == CELLS:
        return _by_cell()
    if count == CELLS + TWICE:
        return _by_cell_and_near()
    raise ValueError(f"values must be given in {len(BANDS)} bands or {CELLS} cells (got {count})")


def in_cells(values: Bands) -> Bands:
    """Return values by cell, (440,) [1]: as they are, or each band's value in all its cells."""
    return values if len(values) == CELLS else as_bands(np.asarray(values)[BAND_OF_CELL])
