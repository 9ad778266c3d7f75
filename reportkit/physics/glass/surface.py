"""One face of a glass pane as an optical interface: bare, filmed, coated or textured.

A face is described at normal incidence by what it does to light crossing it: transmittance ``t`` (the same
both ways), reflectance for light arriving inside the glass ``r_glass`` and for light arriving from the air
``r_air``, per band, or per cell of 5 nm where it was measured by wavelength. An applied film together with
the outer boundary of the film is such a composite interface, so a film rated on one glass can be carried to
another (`deembed`, `embed`).

Not covered: thin-film interference at a slant; polarisation by coatings other than through the
Fresnel ratio; scattering (frosted films are treated as if clear, their total values being kept).

References
----------
M. Rubin, K. von Rottkay, R. Powles, Window optics, Solar Energy 62 (1998) 149; Models for the optical
properties of coated glazings, Solar Energy 66 (1999) 267 (from memory).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeVar

import numpy as np

from reportkit.base.arrays import Array
from reportkit.physics.glass.bands import Bands, as_bands

REFRACTIVE_INDEX = 1.526  # soda-lime glass; ASHRAE Fundamentals ch. 15 uses the same (from memory)
BARE_REFLECTANCE = ((REFRACTIVE_INDEX - 1.0) / (REFRACTIVE_INDEX + 1.0)) ** 2  # .04336

KINDS = ("bare", "film", "coating", "textured", "unsure")


@dataclass(frozen=True)
class Surface:
    """A glass face: what it transmits and reflects at normal incidence, and its long-wave emissivity.

    Parameters
    ----------
    kind : str
        One of ``bare``, ``film``, ``coating``, ``textured``, ``unsure`` (textured or not).
    t, r_glass, r_air : tuple of float, (3,) or (440,), 0-1 [1]
        Transmittance, reflectance from inside the glass, reflectance from the air; in the order of `BANDS`,
        or by cell of `reportkit.physics.glass.sunlight`.
    emissivity : float or None, 0-1 [1]
        Hemispherical emissivity; None is ordinary glass (.84 in NFRC, .837 in EN conditions).
    angular_category : float, 1-10 [1]
        The category q of the Karlsson-Roos angular model; 4 is uncoated glass.
    """

    kind: str
    t: Bands
    r_glass: Bands
    r_air: Bands
    emissivity: float | None = None
    angular_category: float = 4.0

    def __post_init__(self) -> None:
        """Check the values."""
        if self.kind not in KINDS:
            raise ValueError(f"kind of a face must be one of {', '.join(KINDS)} (got {self.kind!r})")
        for name in ("t", "r_glass", "r_air"):
            object.__setattr__(self, name, as_bands(getattr(self, name)))
        for number, (t, r_glass, r_air) in enumerate(zip(self.t, self.r_glass, self.r_air, strict=True)):
            if min(t, r_glass, r_air) < 0.0 or t + max(r_glass, r_air) > 1.0 + 1e-9:
                names = ("ultraviolet", "visible", "near-infrared")
                band = names[number] if len(self.t) == len(names) else f"cell {number + 1}"
                raise ValueError(
                    f"{band}: transmittance and reflectance of a face must be 0 or more and add up to 1 at "
                    f"most (got t {t:.3f}, r_glass {r_glass:.3f}, r_air {r_air:.3f})"
                )
        if self.emissivity is not None and not 0.0 < self.emissivity <= 1.0:
            raise ValueError(f"emissivity must be over 0 and at most 1 (got {self.emissivity:g})")
        if not 1.0 <= self.angular_category <= 10.0:
            raise ValueError(f"angular category must be between 1 and 10 (got {self.angular_category:g})")


#: One value, or one for each cell.
Value = TypeVar("Value", float, Array)

_T = 1.0 - BARE_REFLECTANCE
BARE = Surface("bare", (_T,) * 3, (BARE_REFLECTANCE,) * 3, (BARE_REFLECTANCE,) * 3)
TEXTURED = Surface("textured", (_T,) * 3, (BARE_REFLECTANCE,) * 3, (BARE_REFLECTANCE,) * 3)
UNSURE = Surface("unsure", (_T,) * 3, (BARE_REFLECTANCE,) * 3, (BARE_REFLECTANCE,) * 3)


def embed(t: Value, r_glass: Value, r_air: Value, *, internal: Value) -> tuple[Value, Value, Value]:
    """Put an interface on one face of a pane whose other face is bare, at normal incidence.

    Parameters
    ----------
    t, r_glass, r_air : float or numpy.ndarray, 0-1 [1]
        The interface: transmittance, reflectance from inside the glass and from the air.
    internal : float or numpy.ndarray, 0-1 [1]
        Internal transmittance of the glass, once through.

    Returns
    -------
    tuple of float, (3,) [1]
        Transmittance, reflectance seen from the bare face, reflectance seen from the interface's face.

    Examples
    --------
    >>> [round(x, 4) for x in embed(0.3982, 0.2701, 0.2143, internal=0.8414)]
    [0.3232, 0.2198, 0.2192]
    """
    r, u = BARE_REFLECTANCE, internal
    d = 1.0 - r * u * u * r_glass
    return (
        (1.0 - r) * u * t / d,
        r + (1.0 - r) ** 2 * u * u * r_glass / d,
        r_air + t * t * u * u * r / d,
    )


def deembed(
    t_pane: Value,
    r_bare_face: Value,
    r_interface_face: Value,
    *,
    internal: Value,
    bare: Value | float = BARE_REFLECTANCE,
) -> tuple[Value, Value, Value]:
    """Take an interface off the pane it was rated on: the inverse of `embed`.

    Parameters
    ----------
    t_pane, r_bare_face, r_interface_face : float or numpy.ndarray, 0-1 [1]
        Rated transmittance, reflectance from the bare face and from the interface's face; nan is carried.
    internal : float or numpy.ndarray, over 0 to 1 [1]
        Internal transmittance of the glass it is rated on.
    bare : float or numpy.ndarray [1]
        Reflectance of that pane's bare face.

    Returns
    -------
    tuple of float, (3,) [1]
        The interface's t, r_glass, r_air. They may be out of range: the caller judges.

    Examples
    --------
    >>> [round(x, 4) for x in deembed(0.35, 0.25, 0.22, internal=0.9099)]
    [0.3982, 0.2701, 0.2143]
    """
    r, u = bare, internal
    x = (r_bare_face - r) / ((1.0 - r) ** 2 * u * u)
    r_glass = x / (1.0 + r * u * u * x)
    d = 1.0 - r * u * u * r_glass
    t = t_pane * d / ((1.0 - r) * u)
    return t, r_glass, r_interface_face - t * t * u * u * r / d


def internal_transmittance(t_pane: float) -> float:
    """Internal transmittance of a pane with two bare faces from its transmittance at normal incidence.

    Parameters
    ----------
    t_pane : float, 0 to (1-r)/(1+r) = .917 [1]

    Returns
    -------
    float, 0-1 [1]

    Raises
    ------
    ValueError
        The transmittance is negative or above what two bare faces can pass.

    Examples
    --------
    >>> round(internal_transmittance(0.834), 4)
    0.9099
    """
    r = BARE_REFLECTANCE
    if not 0.0 <= t_pane <= (1.0 - r) / (1.0 + r) + 1e-9:
        raise ValueError(f"transmittance of an uncoated pane must be between 0 and .917 (got {t_pane:g})")
    # t r^2 u^2 + (1 - r)^2 u - t = 0, the positive root in the form that is stable for small t
    b = (1.0 - r) ** 2
    return float(min(1.0, 2.0 * t_pane / (b + np.sqrt(b * b + 4.0 * t_pane**2 * r * r))))
