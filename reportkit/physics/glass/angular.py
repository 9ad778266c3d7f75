"""How a glass face and the body of a pane respond to slanted light.

Glass faces follow Fresnel, each polarisation by itself. A film or coating keeps its own values at normal
incidence and follows the Fresnel ratio of a bare face, times the ratio of the Karlsson-Roos curve of its
category to that of uncoated glass (category 4). So an interface with the values of a bare face behaves
exactly as one.

Not covered: measured angular data of a coating; polarisation by metal layers.

References
----------
J. Karlsson, A. Roos, Modelling the angular behaviour of the total solar energy transmittance of windows,
Solar Energy 69 (2000) 321-329 (formula and coefficients from memory).
J. A. Duffie, W. A. Beckman, Solar Engineering of Thermal Processes, ch. 5, Fresnel's formulas (from memory).
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np
import numpy.typing as npt

from reportkit.base.arrays import Array
from reportkit.physics.glass.surface import BARE_REFLECTANCE, REFRACTIVE_INDEX, Surface

GAUSS_NODES = 16


def fresnel(aoi: npt.ArrayLike, *, index: float = REFRACTIVE_INDEX) -> tuple[Array, Array]:
    """Reflectance of a bare air-glass face by polarisation, and the slant of the path in the glass.

    Parameters
    ----------
    aoi : array_like, (A,), 0-90 [deg]
        Angle of incidence in air; nan is carried.
    index : float, over 1 [1]
        Refractive index.

    Returns
    -------
    reflectance : numpy.ndarray, (2, A) [1]
        Perpendicular, then parallel polarisation.
    path : numpy.ndarray, (A,) [1]
        Path in the glass over its thickness, 1 or more.
    """
    angle = np.radians(np.asarray(aoi, dtype=float))
    cos_air = np.clip(np.cos(angle), 0.0, 1.0)
    cos_air = np.where(cos_air < 1e-12, 0.0, cos_air)
    cos_glass = np.sqrt(1.0 - (np.sin(angle) / index) ** 2)
    perpendicular = ((cos_air - index * cos_glass) / (cos_air + index * cos_glass)) ** 2
    parallel = ((index * cos_air - cos_glass) / (index * cos_air + cos_glass)) ** 2
    return np.stack([perpendicular, parallel]), 1.0 / cos_glass


def karlsson_roos(aoi: npt.ArrayLike, *, panes: int = 1, category: float = 4.0) -> Array:
    """Relative transmittance of a window at an angle of incidence.

    Parameters
    ----------
    aoi : array_like, (A,), 0-90 [deg]
    panes : int, 1-3
        Number of panes p.
    category : float, 1-10 [1]
        Category q: 4 is uncoated glass; below it for silver coatings, above it for thick oxides.

    Returns
    -------
    numpy.ndarray, (A,), 0-1 [1]
        Value at the angle over the value at normal incidence.

    References
    ----------
    Karlsson & Roos, Solar Energy 69 (2000) 321 (from memory).

    Examples
    --------
    >>> round(float(karlsson_roos(60.0)), 4)
    0.8944
    """
    z = np.asarray(aoi, dtype=float) / 90.0
    q, p = category, panes
    a, b = 8.0, 0.25 / q
    c = 1.0 - a - b
    alpha, beta, gamma = 5.2 + 0.7 * q, 2.0, (5.26 + 0.06 * p) + (0.73 + 0.04 * p) * q
    return np.clip(1.0 - a * z**alpha - b * z**beta - c * z**gamma, 0.0, 1.0)


@lru_cache(maxsize=1)
def hemisphere() -> tuple[Array, Array]:
    """Angles and weights of the hemispherical average of an isotropic sky.

    Returns
    -------
    aoi : numpy.ndarray, (N,) [deg]
        Gauss-Legendre nodes on 0-90 degrees.
    weights : numpy.ndarray, (N,) [1]
        Weights of the integral of f(aoi) sin(2 aoi), summing to 1.
    """
    nodes, weights = np.polynomial.legendre.leggauss(GAUSS_NODES)
    aoi = 45.0 * (nodes + 1.0)
    share = weights * np.sin(2.0 * np.radians(aoi))
    share = share / share.sum()
    aoi.setflags(write=False)
    share.setflags(write=False)
    return aoi, share


def surface_at(surface: Surface, aoi: Array, reflectance: Array) -> tuple[Array, Array, Array]:
    """Transmittance and reflectances of a face at angles of incidence, by polarisation.

    What enters the interface, transmitted and absorbed alike, scales with what enters a bare face, so
    transmittance and reflectance can never exceed 1 together.

    Parameters
    ----------
    surface : Surface
    aoi : numpy.ndarray, (A,) [deg]
    reflectance : numpy.ndarray, (2, A) [1]
        Of a bare face, from `fresnel`.

    Returns
    -------
    t, r_glass, r_air : numpy.ndarray, (2, A, B) [1]
    """
    scale = (1.0 - reflectance) / (1.0 - BARE_REFLECTANCE)
    if surface.angular_category != 4.0:
        own = karlsson_roos(aoi, category=surface.angular_category)
        uncoated = karlsson_roos(aoi, category=4.0)
        scale = scale * np.divide(own, uncoated, out=np.ones_like(own), where=uncoated > 0.0)
    entering_glass, entering_air = 1.0 - np.asarray(surface.r_glass), 1.0 - np.asarray(surface.r_air)
    # At Brewster's angle a face that reflects less than bare glass would reflect less than nothing.
    limit = 1.0 / np.maximum(entering_glass, entering_air).clip(1e-12)
    factor = np.minimum(scale[..., np.newaxis], limit)
    t = np.asarray(surface.t) * factor
    return t, 1.0 - entering_glass * factor, 1.0 - entering_air * factor
