"""What a laboratory measured wavelength by wavelength: its integrals, and the pane or film that follows.

A `Spectrum` is what one pane does to light along its normal: T and the reflectances of both sides. Its cell
values are the means of the straight lines between its points; outside its points the value at the nearer end
is held. An uncoated pane gives the reflectance of its faces and the transmittance of its body, both by
wavelength; a film or a coating is taken off the glass it was measured on, cell by cell.

Not covered: slanted light by measurement (it follows the model of `reportkit.physics.glass.angular`), the far
infrared (emissivity is no part of such a file), scattering.

References
----------
M. Rubin, Solar Energy Materials 12 (1985) 275: reflectance of a face and body of an uncoated pane from its T
and R (from memory; the algebra is tested by closure). De-embedding: see `reportkit.physics.glass.surface`.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np
import numpy.typing as npt

from reportkit.base.arrays import Array
from reportkit.base.translatable import english, translatable
from reportkit.physics.glass.bands import as_bands, bands_from_sheet
from reportkit.physics.glass.lite import Coating, Lite, coating_surface
from reportkit.physics.glass.sunlight import CELL_EDGES, CELLS, MIDDLES, SUN, faded, in_cells, weights
from reportkit.physics.glass.surface import BARE_REFLECTANCE, Surface, deembed, internal_transmittance

#: Under this much light through a pane's body nothing can be told of what lies behind it [1].
OPAQUE = 0.02
#: How far the sun's mean of what a film alone does may be moved to keep it from 0 to 1: a file's own noise
#: and glass of another melt. More is a file that does not belong to its glass [1].
TOLERANCE = 0.03


@dataclass(frozen=True)
class Spectrum:
    """One pane measured along its normal at P wavelengths.

    Parameters
    ----------
    name : str
        The file, for people.
    wavelength : tuple of float, (P,) [nm]
        Rising.
    t, r_front, r_back : tuple of float, (P,), 0-1 [1]
        Transmittance, and reflectance of light on either side: of a bare or coated pane front is the side
        toward the outdoors, of a pane with film the side without it.
    """

    name: str
    wavelength: tuple[float, ...]
    t: tuple[float, ...]
    r_front: tuple[float, ...]
    r_back: tuple[float, ...]

    @property
    def held(self) -> float:
        """Share of the sun that lies outside the points, where the value of the nearer end is held [1]."""
        outside = (self.wavelength[0] > MIDDLES) | (self.wavelength[-1] < MIDDLES)
        return float(SUN[outside].sum() / SUN.sum())


@dataclass(frozen=True)
class Integrals:
    """A spectrum's rated values [1]; front and back as in `Spectrum`."""

    t_solar: float
    r_solar_front: float
    r_solar_back: float
    t_visible: float
    r_visible_front: float
    r_visible_back: float
    t_uv: float
    r_uv_front: float
    r_uv_back: float
    t_fading: float


def cell_means(wavelength: npt.ArrayLike, values: npt.ArrayLike) -> Array:
    """Return the mean of a broken line in every cell, its ends held outside.

    Parameters
    ----------
    wavelength : array_like, (P,) [nm]
        Rising.
    values : array_like, (P,)

    Returns
    -------
    numpy.ndarray, (440,)

    Examples
    --------
    >>> [round(float(x), 4) for x in cell_means([300, 2500], [0, 1])[[0, 219, 439]]]
    [0.0011, 0.4989, 0.9989]
    """
    points, given = np.asarray(wavelength, dtype=float), np.asarray(values, dtype=float)
    grid = np.union1d(CELL_EDGES, points[(points > CELL_EDGES[0]) & (points < CELL_EDGES[-1])])
    line = np.interp(grid, points, given)
    area = np.concatenate([[0.0], np.cumsum(np.diff(grid) * (line[1:] + line[:-1]) / 2.0)])
    at_edges = area[np.searchsorted(grid, CELL_EDGES)]
    means: Array = np.diff(at_edges) / np.diff(CELL_EDGES)
    return means


@lru_cache(maxsize=64)
def _cells(spectrum: Spectrum) -> tuple[Array, Array, Array]:
    """T, R front and R back by cell."""
    parts = (spectrum.t, spectrum.r_front, spectrum.r_back)
    t, r_front, r_back = (cell_means(spectrum.wavelength, part) for part in parts)
    return t, r_front, r_back


def integrals(spectrum: Spectrum) -> Integrals:
    """Weigh a spectrum as a laboratory does: by the sun, the eye, ultraviolet and fading.

    Parameters
    ----------
    spectrum : Spectrum

    Returns
    -------
    Integrals
    """
    parts = _cells(spectrum)
    by = weights(CELLS)
    values = [float(part @ weight) for weight in (by.solar, by.visible, by.uv) for part in parts]
    return Integrals(*values, *[float(faded(parts[0]))])


def _uncoated(t: Array, r: Array) -> tuple[Array, Array]:
    """Reflectance of either face and internal transmittance of a pane with two equal faces."""
    # r of a face is the smaller root of (2 - R) x2 - (1 + 2 R + T2 - R2) x + R = 0 (inner reflections summed
    # up)
    b = 1.0 + 2.0 * r + t * t - r * r
    root = np.sqrt(np.maximum(b * b - 4.0 * (2.0 - r) * r, 0.0))
    face = np.clip(2.0 * r / (b + root), 0.0, 1.0)
    # internal transmittance: face2 T u2 + (1 - face)2 u - T = 0, the positive root
    c = (1.0 - face) ** 2
    u = 2.0 * t / (c + np.sqrt(c * c + 4.0 * t * t * face * face))
    return face, np.clip(u, 0.0, 1.0)


def bare_reflectance(t: npt.ArrayLike) -> Array:
    """Return what an uncoated pane of ordinary glass reflects that transmits ``t`` [1].

    Examples
    --------
    >>> round(float(bare_reflectance(0.834)), 3)
    0.076
    """
    passed = np.asarray(t, dtype=float)
    c, r = (1.0 - BARE_REFLECTANCE) ** 2, BARE_REFLECTANCE
    u = np.minimum(2.0 * passed / (c + np.sqrt(c * c + 4.0 * passed**2 * r * r)), 1.0)
    back: Array = np.minimum(r + c * u * u * r / (1.0 - (r * u) ** 2), 1.0 - passed)
    return back


def held_note(spectrum: Spectrum) -> tuple[str, ...]:
    """Say what is assumed outside a file's wavelengths; empty where it covers 300 to 2500 nm."""
    if spectrum.held == 0.0:
        return ()
    return (
        translatable(
            "{file} goes from {low:.0f} to {high:.0f} nm: outside it, where {share:.1%} of the sun is, the "
            "value at its nearer end is held",
            file=spectrum.name,
            low=spectrum.wavelength[0],
            high=spectrum.wavelength[-1],
            share=spectrum.held,
        ),
    )


def _with_face(lite: Lite, surface: Surface, face: str) -> Lite:
    return replace(lite, front=surface) if face == "front" else replace(lite, back=surface)


def measured_pane(lite: Lite, spectrum: Spectrum) -> Lite:
    """Return an uncoated pane with the optics that were measured, else as it is.

    Parameters
    ----------
    lite : Lite
        Its thickness, strength and texture stay.
    spectrum : Spectrum
        Of a pane whose sides are alike; the mean of both reflectances is taken.

    Returns
    -------
    Lite
    """
    t, r_front, r_back = _cells(spectrum)
    r, u = _uncoated(t, (r_front + r_back) / 2.0)
    face = Surface("bare", as_bands(1.0 - r), as_bands(r), as_bands(r))
    front, back = (replace(face, kind=old.kind) for old in (lite.front, lite.back))
    return replace(lite, internal=as_bands(u), front=front, back=back)


def measured_coating(lite: Lite, spectrum: Spectrum, coated: Lite, *, face: str) -> Lite:
    """Return a coated pane with the optics that were measured.

    Parameters
    ----------
    lite : Lite
        The glass without the coating, by its class: the coating is taken off it, so that pane and coating
        together do what was measured.
    spectrum : Spectrum
        Of the coated pane.
    coated : Lite
        The same pane with a typical coating, whose emissivity and angular behaviour stay.
    face : str
        ``front`` or ``back``.

    Returns
    -------
    Lite

    Raises
    ------
    ValueError
        The file does not belong to a coating on that glass.
    """
    t, r_front, r_back = _cells(spectrum)
    r_glass, r_air = (r_back, r_front) if face == "front" else (r_front, r_back)
    typical = getattr(coated, face)
    surface = _taken_off(
        spectrum.name, (t, r_glass, r_air), lite, "coating", typical.emissivity, typical.angular_category
    )
    return _with_face(coated, surface, face)


def banded_coating(lite: Lite, spectrum: Spectrum, coated: Lite, *, face: str) -> Lite:
    """Return the same coated pane by the three bands of its integrals, to compare with."""
    by = integrals(spectrum)
    front = (by.r_solar_front, by.r_visible_front, by.r_uv_front)
    back = (by.r_solar_back, by.r_visible_back, by.r_uv_back)
    r_glass, r_coating = (back, front) if face == "front" else (front, back)
    typical = getattr(coated, face)
    surface = coating_surface(
        Coating((by.t_solar, by.t_visible, by.t_uv), r_glass, r_coating, typical.emissivity), lite.internal
    )
    return _with_face(coated, replace(surface, angular_category=typical.angular_category), face)


def banded_pane(lite: Lite, spectrum: Spectrum) -> Lite:
    """Return the same uncoated pane by the three bands of its integrals, to compare with."""
    by = integrals(spectrum)
    most = (1.0 - BARE_REFLECTANCE) / (1.0 + BARE_REFLECTANCE)
    bands = bands_from_sheet(solar_value=by.t_solar, visible=by.t_visible, uv=by.t_uv)
    return replace(lite, internal=as_bands([internal_transmittance(min(t, most)) for t in bands]))


@lru_cache(maxsize=128)
def measured_interface(
    spectrum: Spectrum, rated_on: Lite, emissivity: float, angular_category: float
) -> Surface:
    """Take a film off the pane it was measured on, cell by cell.

    Parameters
    ----------
    spectrum : Spectrum
        Of the pane with the film; front is the side without it.
    rated_on : Lite
        The pane without the film.
    emissivity : float [1]
        Of the film's own face.
    angular_category : float, 1-10 [1]

    Returns
    -------
    Surface

    Raises
    ------
    ValueError
        The file does not belong to a film on that glass.
    """
    return _taken_off(spectrum.name, _cells(spectrum), rated_on, "film", emissivity, angular_category)


def _taken_off(
    name: str,
    pane: tuple[Array, Array, Array],
    glass: Lite,
    kind: str,
    emissivity: float | None,
    angular_category: float,
) -> Surface:
    """De-embed what lies on one face of a pane from T, R of the bare side and R of its own side."""
    u, bare = (np.array(in_cells(part)) for part in (glass.internal, glass.front.r_glass))
    dark = u < OPAQUE
    raw_t, raw_glass, raw_air = deembed(*pane, internal=np.where(dark, 1.0, u), bare=bare)
    t = np.where(dark, 0.0, np.clip(raw_t, 0.0, 1.0))
    r_glass = np.where(dark, bare, np.clip(raw_glass, 0.0, 1.0 - t))
    r_air = np.clip(np.where(dark, pane[2], raw_air), 0.0, 1.0 - t)
    for what, raw, kept in (
        (english("transmittance"), raw_t, t),
        (english("glass-side reflectance"), raw_glass, r_glass),
        (english("film-side reflectance"), raw_air, r_air),
    ):
        moved = np.where(dark, 0.0, np.abs(raw - kept))
        if float(moved @ weights(CELLS).solar) > TOLERANCE:
            worst = int(np.argmax(moved))
            raise ValueError(
                translatable(
                    "{file}: the values do not belong to {glass}: at {nm:.0f} nm the {what} of what lies "
                    "on it would have to be {value:.3f}; with the rest it must be between 0 and 1",
                    file=name,
                    glass=glass.name,
                    nm=float(MIDDLES[worst]),
                    what=translatable(what),
                    value=float(raw[worst]),
                )
            )
    return Surface(kind, as_bands(t), as_bands(r_glass), as_bands(r_air), emissivity, angular_category)
