"""Irradiance on shaded panes: sunlit share for the beam, view factors for the diffuse.

Views are pane averages of the share of an even sky (or ground) that the pane still sees past its
obstructions, by sampling the half space before the pane with cosine-weighted rays through the same geometry
as the beam. What a band along the horizon adds to an even sky comes level: an overhang hides little of it,
hills and houses most. Obstructions are taken as black: what they reflect towards the pane is left out, which
errs towards less light.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Any

import numpy as np

from reportkit.base.arrays import Array
from reportkit.physics.sun.shade import Shade, _through_skylines, lit_share, local_direction
from reportkit.physics.sun.sky import FaceIrradiance

#: How high the horizon's band reaches [deg]: Perez et al. 1987, Solar Energy 39:221 (from memory), whose
#: model of 1990 has it at the horizon itself; and in how many rings it is sampled.
HORIZON_BAND, _BAND_RINGS = 6.5, 5


@dataclass(frozen=True, eq=False)
class PaneSun:
    """Irradiance on P panes at H instants, in W per m2 of glass.

    Parameters
    ----------
    aoi : ndarray, shape (H, P)
        Angle of incidence of the sun [deg], 0 to 180.
    beam : ndarray, shape (H, P)
        Direct irradiance, averaged over the pane [W/m2].
    circumsolar : ndarray, shape (H, P)
        Diffuse from around the sun, shaded as the beam is [W/m2].
    sky : ndarray, shape (H, P)
        The rest of the sky's diffuse [W/m2].
    ground : ndarray, shape (H, P)
        Reflected by the ground [W/m2].
    """

    aoi: Array
    beam: Array
    circumsolar: Array
    sky: Array
    ground: Array

    @property
    def diffuse(self) -> Array:
        """Circumsolar, sky and ground together, shape (H, P) [W/m2]."""
        return self.circumsolar + self.sky + self.ground

    @property
    def total(self) -> Array:
        """Everything that reaches the glass, shape (H, P) [W/m2]."""
        return self.beam + self.diffuse


@lru_cache(maxsize=4)
def _rays(rings: int, spokes: int) -> Array:
    """Return directions of equal weight for an evenly bright half space, pane axes, shape (3, N)."""
    radius = np.sqrt((np.arange(rings) + 0.5) / rings)  # equal areas of the unit disc (Nusselt's analog)
    # half a step off the axes and turned ring by ring, so that no ray runs along an edge or the skyline
    turn = (np.arange(spokes)[None, :] + (np.arange(rings)[:, None] * 0.61803 + 0.31) % 1.0) / spokes
    turn = 2.0 * np.pi * turn
    right, up = radius[:, None] * np.cos(turn), radius[:, None] * np.sin(turn)
    out = np.sqrt(1.0 - radius[:, None] ** 2) * np.ones_like(turn)
    rays = np.stack([right.ravel(), up.ravel(), out.ravel()])
    rays.setflags(write=False)
    return rays


@lru_cache(maxsize=64)
def _level_rays(surface_azimuth: float, surface_tilt: float, spokes: int) -> tuple[Array, Array]:
    """Return directions from the horizon's band before a pane, pane axes, (3, N), and their weights (N,)."""
    azimuth, elevation = np.meshgrid(
        surface_azimuth + (np.arange(2 * spokes) + 0.31) * 180.0 / spokes,
        (np.arange(_BAND_RINGS) + 0.5) / _BAND_RINGS * HORIZON_BAND,
    )
    rays = local_direction(azimuth.ravel(), elevation.ravel(), surface_azimuth, surface_tilt)
    front = rays[:, rays[2] > 0.01]
    return front, front[2] / front[2].sum()


def _world(rays: Array, surface_azimuth: float, surface_tilt: float) -> tuple[Array, Array]:
    """Return azimuth and elevation of pane-axis rays, each shape (N,) [deg]."""
    right, up, out = rays
    tilt = np.radians(surface_tilt)
    upward = up * np.sin(tilt) + out * np.cos(tilt)
    level = out * np.sin(tilt) - up * np.cos(tilt)
    azimuth = surface_azimuth - np.degrees(np.arctan2(right, level))
    return azimuth % 360.0, np.degrees(np.arcsin(np.clip(upward, -1.0, 1.0)))


def views(shade: Shade, *, month: int | None = None, rings: int = 40, spokes: int = 80) -> Array:
    """Return `sky_view`, `ground_view` and `horizon_view` at once, in a third of the time.

    Parameters
    ----------
    shade : Shade
        P panes.
    month : int, optional
        As for `sky_view`; no month changes the ground's.
    rings, spokes : int
        Fineness of the sampling.

    Returns
    -------
    ndarray, shape (3, P)
        0 to 1, averaged over the pane.
    """
    rays = _rays(rings, spokes)
    result = np.ones((3, shade.panes))
    known: dict[tuple[Any, ...], Array] = {}
    for pane in range(shade.panes):
        one = shade.take([pane])
        if not one.has_device[0] and not one.horizon[0]:
            continue
        key = (
            *(float(value[0]) for name, value in vars(one).items() if name not in ("horizon", "outline")),
            one.horizon[0],
            one.outline[0],
        )
        if key not in known:
            facing = float(one.surface_azimuth[0]), float(one.surface_tilt[0])
            level, weight = _level_rays(*facing, spokes)
            seen, elevation = _seen(rays, one, month)
            sky = elevation > 0.0
            known[key] = np.array(
                [
                    *(seen[half].mean() if half.any() else 1.0 for half in (sky, ~sky)),  # no half: no loss
                    _seen(level, one, month)[0] @ weight,
                ]
            )
        result[:, pane] = known[key]
    return result


def _seen(rays: Array, one: Shade, month: int | None) -> tuple[Array, Array]:
    """Return the share of each direction's light that reaches one pane, and their elevations, (N,) [deg]."""
    azimuth, elevation = _world(rays, float(one.surface_azimuth[0]), float(one.surface_tilt[0]))
    lit = lit_share(rays, one, np.zeros(rays.shape[1], dtype=int))
    months = None if month is None else np.full(rays.shape[1], month)
    past = np.where(elevation > 0.0, _through_skylines(azimuth, elevation, months, one)[:, 0], 1.0)
    return lit * past, elevation


def sky_view(shade: Shade, *, month: int | None = None, rings: int = 40, spokes: int = 80) -> Array:
    """Return the share of an even sky's light that each pane still gets, against the pane with nothing near.

    Parameters
    ----------
    shade : Shade
        P panes.
    month : int, optional
        1 to 12, for skylines of trees; without it their transmittance is the mean of the year.
    rings, spokes : int
        Fineness of the sampling; 40 by 80 is within 0.01 of the limit.

    Returns
    -------
    ndarray, shape (P,)
        0 to 1, averaged over the pane; 1 without obstruction.
    """
    sky: Array = views(shade, month=month, rings=rings, spokes=spokes)[0]
    return sky


def ground_view(shade: Shade, *, rings: int = 40, spokes: int = 80) -> Array:
    """Return the share of the ground's light that each pane still gets, as `sky_view` does for the sky.

    Skylines stand on the horizon and hide no ground.

    Parameters
    ----------
    shade : Shade
        P panes.
    rings, spokes : int
        Fineness of the sampling.

    Returns
    -------
    ndarray, shape (P,)
        0 to 1, averaged over the pane.
    """
    ground: Array = views(shade, rings=rings, spokes=spokes)[1]
    return ground


def horizon_view(shade: Shade, *, month: int | None = None, rings: int = 40, spokes: int = 80) -> Array:
    """Return the share that each pane still gets of a bright band along the horizon, as `sky_view` does.

    Parameters
    ----------
    shade : Shade
        P panes.
    month : int, optional
        As for `sky_view`.
    rings, spokes : int
        Fineness of the sampling.

    Returns
    -------
    ndarray, shape (P,)
        0 to 1, averaged over the pane; 1 without obstruction.
    """
    band: Array = views(shade, month=month, rings=rings, spokes=spokes)[2]
    return band


def on_panes(
    faces: FaceIrradiance,
    face_index: Any,
    sunlit: Any,
    *,
    sky_view: Any = 1.0,
    horizon_view: Any = 1.0,
    ground_view: Any = 1.0,
) -> PaneSun:
    """Return the irradiance on each pane from that on its open face.

    Parameters
    ----------
    faces : FaceIrradiance
        F open faces at H instants.
    face_index : array_like of int, shape (P,)
        The face of each pane, 0 to F - 1.
    sunlit : array_like, shape (H, P)
        From `sunlit_fraction`; 1.0 for open panes.
    sky_view, horizon_view, ground_view : array_like, shape (P,) or (H, P) or scalar
        From `sky_view`, `horizon_view` and `ground_view`; 1.0 for open panes.

    Returns
    -------
    PaneSun
    """
    index = np.asarray(face_index, dtype=int)
    lit = np.asarray(sunlit, dtype=float)
    around, band = faces.circumsolar[:, index], faces.horizon[:, index]
    even = faces.sky_diffuse[:, index] - around - band
    sky = even * np.asarray(sky_view, dtype=float) + band * np.asarray(horizon_view, dtype=float)
    return PaneSun(
        aoi=faces.aoi[:, index],
        beam=faces.beam[:, index] * lit,
        circumsolar=around * lit,
        sky=np.maximum(sky, 0.0),
        ground=faces.ground_diffuse[:, index] * np.asarray(ground_view, dtype=float),
    )
