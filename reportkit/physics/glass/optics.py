"""Transmittance, reflectance and absorption by pane of a glazing, per band and angle of incidence.

Where any pane or film of it was measured by wavelength, the whole glazing is solved in cells of 5 nm, the
others with their band's value in every cell of the band.

Each polarisation is carried through the whole stack (``polarisation="stack"``): net radiation between
interfaces, with absorption in the body of each pane. Averaging the polarisations pane by pane
(``polarisation="pane"``) is what older published tables of double glazing did, and is kept for comparing with
them. The diffuse values are the hemispherical average under an isotropic sky.

Not covered: coherent interference, scattering, sideways light lost at the edges.

References
----------
ISO 15099:2003, clause 7 (solar optical properties of the glazing system) (from memory).
D. K. Edwards, Solar absorption by each element in an absorber-coverglass array, Solar Energy 19 (1977) 401
(embedding method) (from memory).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache

import numpy as np
import numpy.typing as npt

from reportkit.base.arrays import Array
from reportkit.physics.glass.angular import fresnel, hemisphere, surface_at
from reportkit.physics.glass.bands import Bands, as_bands
from reportkit.physics.glass.glazing import Glazing
from reportkit.physics.glass.lite import Lite
from reportkit.physics.glass.sunlight import CELLS, NEAR, TWICE, Weights, faded, in_cells, weights
from reportkit.physics.glass.surface import Surface

POLARISATION = ("stack", "pane")


@dataclass(frozen=True, eq=False)
class Optics:
    """Optical properties of a glazing at A angles, B bands or cells, n panes.

    Attributes
    ----------
    aoi : numpy.ndarray, (A,) [deg]
        nan for the hemispherical average.
    t, r_out, r_in : numpy.ndarray, (A, B) [1]
        Transmittance; reflectance seen from outdoors and from the room.
    absorbed : numpy.ndarray, (A, B, n) [1]
        Share of the light from outdoors that each pane absorbs, its film and coatings included.
    diffuse : Optics or None
        The hemispherical average, with A = 1.
    """

    aoi: Array
    t: Array
    r_out: Array
    r_in: Array
    absorbed: Array
    diffuse: Optics | None = None

    @property
    def weights(self) -> Weights:
        """What turns its bands or cells into one value."""
        return weights(self.t.shape[-1])

    @property
    def t_solar(self) -> Array:
        """Solar transmittance, (A,) [1]."""
        return self.t @ self.weights.solar

    @property
    def r_solar_out(self) -> Array:
        """Solar reflectance seen from outdoors, (A,) [1]."""
        return self.r_out @ self.weights.solar

    @property
    def r_solar_in(self) -> Array:
        """Solar reflectance seen from the room, (A,) [1]."""
        return self.r_in @ self.weights.solar

    @cached_property
    def a_solar(self) -> Array:
        """Solar absorptance of each pane, (A, n) [1]."""
        return np.moveaxis(self.absorbed, -1, -2) @ self.weights.solar

    @property
    def t_visible(self) -> Array:
        """Visible transmittance, (A,) [1]."""
        return self.t @ self.weights.visible

    @property
    def r_visible_out(self) -> Array:
        """Visible reflectance seen from outdoors, (A,) [1]."""
        return self.r_out @ self.weights.visible

    @property
    def r_visible_in(self) -> Array:
        """Visible reflectance seen from the room, (A,) [1]."""
        return self.r_in @ self.weights.visible

    @property
    def t_uv(self) -> Array:
        """Ultraviolet transmittance, (A,) [1]."""
        return self.t @ self.weights.uv

    @property
    def t_fading(self) -> Array:
        """Transmittance weighted by how much light fades things, (A,) [1]."""
        return faded(self.t)


def _element(lite: Lite, aoi: Array, reflectance: Array, path: Array) -> tuple[Array, Array, Array]:
    """T, R from outside and R from inside of one pane by itself, each (2, A, B)."""
    t1, rg1, ra1 = surface_at(lite.front, aoi, reflectance)
    t2, rg2, ra2 = surface_at(lite.back, aoi, reflectance)
    with np.errstate(divide="ignore"):
        depth = -np.log(np.asarray(lite.internal))
    u = np.exp(-depth * path[:, np.newaxis])
    d = 1.0 - rg1 * rg2 * u * u
    # at grazing incidence both faces reflect all: nothing enters and the limit is total reflection
    grazing = d < 1e-9
    d = np.where(grazing, 1.0, d)
    t = np.where(grazing, 0.0, t1 * t2 * u / d)
    r_out = np.where(grazing, 1.0, ra1 + t1 * t1 * u * u * rg2 / d)
    r_in = np.where(grazing, 1.0, ra2 + t2 * t2 * u * u * rg1 / d)
    return t, r_out, r_in


def _stack(
    elements: list[tuple[Array, Array, Array]],
) -> tuple[Array, Array, Array, Array]:
    """Embed panes with clear gaps between them: T, R_out, R_in and absorbed by pane on a last axis."""
    below = np.zeros_like(elements[0][0])  # reflectance of what lies behind pane j, seen from pane j
    behind = []
    for t, r_front, r_back in reversed(elements):
        behind.append(below)
        below = r_front + t * t * below / _open(1.0 - r_back * below)
    behind.reverse()
    r_out = below
    forward = np.ones_like(below)
    absorbed = []
    for (t, r_front, r_back), rest in zip(elements, behind, strict=True):
        onward = t * forward / _open(1.0 - r_back * rest)
        absorbed.append((1.0 - t - r_front) * forward + (1.0 - t - r_back) * rest * onward)
        forward = onward
    r_in = np.zeros_like(below)  # reflectance of the panes so far, seen from the room
    for t, r_front, r_back in elements:
        r_in = r_back + t * t * r_in / _open(1.0 - r_front * r_in)
    return forward, r_out, r_in, np.stack(absorbed, axis=-1)


def _open(denominator: Array) -> Array:
    """Guard a denominator that vanishes between two perfect mirrors, where the numerator does too."""
    return np.where(denominator < 1e-12, 1.0, denominator)


def _open_near(part: Bands, of: Bands) -> Bands:
    """Return values by cell and those of `NEAR` again: in bands, of the one that passes more of ``of``."""
    again = np.asarray(part)[NEAR] if len(part) == CELLS else np.full(TWICE, part[int(of[1] > of[0])])
    return as_bands(np.concatenate([in_cells(part), again]))


def _face_in(face: Surface, cells: Callable[[Bands, Bands], Bands]) -> Surface:
    t, r_glass, r_air = (cells(part, face.t) for part in (face.t, face.r_glass, face.r_air))
    return replace(face, t=t, r_glass=r_glass, r_air=r_air)


def _on_one_grid(lites: tuple[Lite, ...]) -> tuple[Lite, ...]:
    """Return panes whose parts are all given in bands, or all in cells.

    Where a part in bands leaves 380-400 nm open, those cells stand twice: see `sunlight.NEAR`. A film or a
    coating that was measured was taken off glass as its bands are, so that both together do what was
    measured: that pane's body leaves nothing open.
    """
    known = [
        replace(lite, internal=in_cells(lite.internal))
        if any(len(face.t) == CELLS and face.kind != "bare" for face in (lite.front, lite.back))
        else lite
        for lite in lites
    ]
    parts = [part for lite in known for part in (lite.internal, lite.front.t, lite.back.t)]
    if all(len(part) != CELLS for part in parts):
        return lites
    twice = any(len(part) != CELLS and part[0] != part[1] for part in parts)
    cells = _open_near if twice else _known_near
    return tuple(
        replace(
            lite,
            internal=cells(lite.internal, lite.internal),
            front=_face_in(lite.front, cells),
            back=_face_in(lite.back, cells),
        )
        for lite in known
    )


def _known_near(part: Bands, of: Bands) -> Bands:
    """Return values by cell."""
    return in_cells(part)


def _solve(glazing: Glazing, aoi: Array, polarisation: str) -> Optics:
    """Solve the stack at angles of incidence, without the hemispherical average."""
    reflectance, path = fresnel(aoi)
    seen: dict[Lite, tuple[Array, Array, Array]] = {}
    elements = []
    for lite in _on_one_grid(glazing.lites):
        if lite not in seen:
            element = _element(lite, aoi, reflectance, path)
            if polarisation == "pane":
                t, r_out, r_in = (part.mean(axis=0) for part in element)
                element = (t, r_out, r_in)
            seen[lite] = element
        elements.append(seen[lite])
    parts = _stack(elements)
    if polarisation == "stack":
        t, r_out, r_in, absorbed = (part.mean(axis=0) for part in parts)
    else:
        t, r_out, r_in, absorbed = parts
    return Optics(aoi, t, r_out, r_in, absorbed)


def optics(glazing: Glazing, aoi: npt.ArrayLike, *, polarisation: str = "stack") -> Optics:
    """Solve the optics of a glazing at angles of incidence and for diffuse light.

    Parameters
    ----------
    glazing : Glazing
    aoi : array_like, (A,) or scalar, 0-90 [deg]
        Angles of incidence; nan is carried.
    polarisation : str
        ``stack``: each polarisation through the whole stack. ``pane``: averaged pane by pane.

    Returns
    -------
    Optics
        ``t + r_out + absorbed.sum(-1)`` is 1 in every band and angle.

    Raises
    ------
    ValueError
        An angle lies outside 0-90 degrees, or the polarisation mode is unknown.

    Examples
    --------
    >>> from reportkit.physics.glass import clear, single
    >>> round(float(optics(single(clear(3)), 0.0).t_solar[0]), 3)
    0.834
    """
    if polarisation not in POLARISATION:
        raise ValueError(f"polarisation must be one of {', '.join(POLARISATION)} (got {polarisation!r})")
    angles = np.atleast_1d(np.asarray(aoi, dtype=float))
    if angles.ndim != 1:
        raise ValueError(f"angles of incidence must be one row of numbers (got {angles.ndim} dimensions)")
    if np.any((angles < 0.0) | (angles > 90.0)):
        raise ValueError("angles of incidence must be between 0 and 90 degrees")
    nodes, weights = hemisphere()
    solved = _solve(glazing, np.concatenate([angles, nodes]), polarisation)
    n = angles.size
    t, r_out, r_in, absorbed = (
        np.tensordot(weights, part[n:], axes=1)[np.newaxis]
        for part in (solved.t, solved.r_out, solved.r_in, solved.absorbed)
    )
    diffuse = Optics(np.array([np.nan]), t, r_out, r_in, absorbed)
    return Optics(
        angles, solved.t[:n], solved.r_out[:n], solved.r_in[:n], solved.absorbed[:n], diffuse=diffuse
    )


@lru_cache(maxsize=256)
def _normal(glazing: Glazing) -> Optics:
    return _solve(glazing, np.zeros(1), "stack")


def normal(glazing: Glazing) -> Optics:
    """Optics at normal incidence, without those for diffuse light, kept once solved; see `optics`."""
    return _normal(replace(glazing, id="", notes=()))
