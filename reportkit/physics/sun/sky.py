"""Sun and sky on tilted faces, from horizontal irradiance.

Three published models for the sky's diffuse light through pvlib: Perez et al. 1990
(doi:10.1016/0038-092X(90)90055-H), Hay & Davies 1980, and the isotropic sky. The ground is a level, even,
diffusely reflecting plane. Faces are open: obstructions come later, in ``sun.panes``.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np

from reportkit.base.arrays import Array
from reportkit.physics.sun.position import SunPosition, cos_incidence

Parts = tuple[Array, Array, Array]  # whole sky diffuse, its circumsolar part, its horizon band


@dataclass(frozen=True, eq=False)
class FaceIrradiance:
    """Irradiance on F open faces at H instants.

    Parameters
    ----------
    aoi : ndarray, shape (H, F)
        Angle of incidence of the sun [deg], 0 to 180; 90 and over is behind the face.
    beam : ndarray, shape (H, F)
        Direct irradiance [W/m2].
    circumsolar : ndarray, shape (H, F)
        The part of the sky's diffuse that comes from around the sun [W/m2]; 0 for an isotropic sky.
    sky_diffuse : ndarray, shape (H, F)
        All of the sky's diffuse irradiance, the circumsolar part and the horizon band included [W/m2].
    ground_diffuse : ndarray, shape (H, F)
        Reflected by the ground [W/m2].
    horizon : ndarray, shape (H, F)
        What a band along the horizon adds to an even sky [W/m2], under 0 where it is duller; 0 in models
        without one.
    """

    aoi: Array
    beam: Array
    circumsolar: Array
    sky_diffuse: Array
    ground_diffuse: Array
    horizon: Array

    @property
    def diffuse(self) -> Array:
        """Sky and ground together, shape (H, F) [W/m2]."""
        return self.sky_diffuse + self.ground_diffuse

    @property
    def total(self) -> Array:
        """Everything that reaches the face, shape (H, F) [W/m2]."""
        return self.beam + self.sky_diffuse + self.ground_diffuse


def _isotropic(sun: Any, dni: Array, dhi: Array, azimuth: Array, tilt: Array) -> Parts:
    sky = dhi * (1.0 + np.cos(np.radians(tilt))) / 2.0 * np.ones_like(azimuth)
    return sky, np.zeros_like(sky), np.zeros_like(sky)


def _hay_davies(sun: Any, dni: Array, dhi: Array, azimuth: Array, tilt: Array) -> Parts:
    from pvlib.irradiance import haydavies

    parts = haydavies(
        tilt,
        azimuth,
        dhi,
        dni,
        sun["extra"],
        solar_zenith=sun["zenith"],
        solar_azimuth=sun["azimuth"],
        return_components=True,
    )
    whole = np.asarray(parts["poa_sky_diffuse"])
    return whole, parts["poa_circumsolar"], np.zeros_like(whole)


def _perez(sun: Any, dni: Array, dhi: Array, azimuth: Array, tilt: Array) -> Parts:
    from pvlib.atmosphere import get_relative_airmass
    from pvlib.irradiance import perez

    with np.errstate(invalid="ignore", divide="ignore"):
        parts = perez(
            tilt,
            azimuth,
            dhi,
            dni,
            sun["extra"],
            sun["zenith"],
            sun["azimuth"],
            get_relative_airmass(sun["zenith"]),
            return_components=True,
        )
    return parts["poa_sky_diffuse"], parts["poa_circumsolar"], parts["poa_horizon"]


#: the sky models by name: a new one is one function and one line here
MODELS: dict[str, Callable[..., Parts]] = {
    "perez": _perez,
    "hay_davies": _hay_davies,
    "isotropic": _isotropic,
}


def sky_on_faces(
    position: SunPosition,
    ghi: Any,
    dni: Any,
    dhi: Any,
    *,
    surface_azimuth: Any,
    surface_tilt: Any,
    albedo: Any = 0.2,
    model: str = "perez",
) -> FaceIrradiance:
    """Return direct, sky and ground irradiance on each face.

    Where the sun is below the horizon there is no beam, and the sky (twilight in an hourly mean) is taken
    as isotropic. Nothing is negative or infinite; nan in gives nan out.

    Parameters
    ----------
    position : SunPosition
        H instants.
    ghi, dni, dhi : array_like, shape (H,)
        Global horizontal, direct normal, diffuse horizontal irradiance [W/m2], 0 or more.
    surface_azimuth : array_like, shape (F,)
        Where the outward normal points, clockwise from true north [deg].
    surface_tilt : array_like, shape (F,) or scalar
        0 faces up, 90 is a wall [deg].
    albedo : float or array_like, shape (H,)
        Share of light that the ground reflects, 0 to 1.
    model : {"perez", "hay_davies", "isotropic"}
        Model of the sky.

    Returns
    -------
    FaceIrradiance

    Raises
    ------
    ValueError
        If the model is unknown or the albedo is out of range.
    """
    if model not in MODELS:
        raise ValueError(f"sky model must be one of {', '.join(MODELS)}, not {model!r}")
    ground = np.asarray(albedo, dtype=float)
    if np.any(ground < 0.0) or np.any(ground > 1.0):
        raise ValueError("albedo must be from 0 to 1")
    azimuth, tilt = np.broadcast_arrays(
        np.atleast_1d(np.asarray(surface_azimuth, dtype=float)),
        np.atleast_1d(np.asarray(surface_tilt, dtype=float)),
    )
    horizontal = [np.maximum(np.asarray(series, dtype=float), 0.0) for series in (ghi, dni, dhi)]
    up = position.up
    cosine = cos_incidence(position, surface_azimuth=azimuth, surface_tilt=tilt)
    shape = cosine.shape

    beam = horizontal[1][:, None] * np.where(up[:, None], np.maximum(cosine, 0.0), 0.0)
    sky, circumsolar, band = (
        part.copy()
        for part in _isotropic(None, horizontal[1][:, None], horizontal[2][:, None], azimuth, tilt)
    )
    if model != "isotropic" and up.any():
        sun = {
            "zenith": position.apparent_zenith[up][:, None],
            "azimuth": position.azimuth[up][:, None],
            "extra": position.dni_extra[up][:, None],
        }
        whole, around, low = MODELS[model](
            sun, horizontal[1][up][:, None], horizontal[2][up][:, None], azimuth, tilt
        )
        usable = np.isfinite(whole) & np.isfinite(around) & np.isfinite(low)
        sky[up] = np.where(usable, whole, sky[up])
        circumsolar[up] = np.where(usable, around, 0.0)
        band[up] = np.where(usable, low, 0.0)
    sky = np.maximum(sky, 0.0)
    circumsolar = np.clip(circumsolar, 0.0, sky)
    ground_share = (1.0 - np.cos(np.radians(tilt))) / 2.0
    reflected = (horizontal[0] * ground)[:, None] * ground_share
    return FaceIrradiance(
        aoi=np.degrees(np.arccos(cosine)),
        beam=beam,
        circumsolar=circumsolar,
        sky_diffuse=sky,
        ground_diffuse=np.broadcast_to(reflected, shape).copy(),
        horizon=np.minimum(band, sky - circumsolar),
    )
