"""A shade instead of film, or with it: total solar transmittance of glass and shade together.

The simplified method of ISO 52022-1:2017 (before: EN 13363-1) for a blind or screen parallel to the
glass, outside or inside. Not covered: shades between panes, sun past a shade's edge, slats that
follow the sun, overhangs and awnings (geometry, see ``reportkit.physics.sun``).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike, NDArray

from reportkit.base.arrays import Array

Place = Literal["outside", "inside"]

#: Conductances [W/(m2 K)] of the method's air layers: outside shade G1 5 and G2 10, inside G2 30.
G1_OUTSIDE, G2_OUTSIDE, G2_INSIDE = 5.0, 10.0, 30.0
#: Ranges for which the standard offers the method (from memory): shade te, shade re, glass g.
RANGES = {"transmittance": (0.0, 0.5), "reflectance": (0.1, 0.8), "glass": (0.15, 0.85)}


@dataclass(frozen=True)
class ShadeLayer:
    """A blind or screen: solar transmittance and reflectance of the side that faces the sun [-]."""

    name: str
    place: Place
    transmittance: float
    reflectance: float

    def __post_init__(self) -> None:
        """Refuse a place that isn't known and shares that don't add up."""
        if self.place not in ("outside", "inside"):
            raise ValueError(f"place must be outside or inside, got {self.place!r}")
        te, re = self.transmittance, self.reflectance
        if not (0.0 <= te <= 1.0 and 0.0 <= re <= 1.0 and te + re <= 1.0 + 1e-12):
            raise ValueError(
                f"{self.name}: transmittance and reflectance must be 0 to 1 together, got {te}, {re}"
            )

    @property
    def absorptance(self) -> float:
        """Solar absorptance [-]."""
        return max(0.0, 1.0 - self.transmittance - self.reflectance)


#: Shades to compare with: typical solar values, common practice without a source.
TYPICAL: dict[str, ShadeLayer] = {
    "outside_screen": ShadeLayer("outside screen, grey", "outside", 0.10, 0.20),
    "outside_shutter": ShadeLayer("outside shutter, closed", "outside", 0.02, 0.50),
    "inside_white_blind": ShadeLayer("inside roller blind, white", "inside", 0.10, 0.60),
    "inside_grey_blind": ShadeLayer("inside roller blind, grey", "inside", 0.10, 0.30),
    "inside_light_slats": ShadeLayer("inside slats, light, closed", "inside", 0.05, 0.55),
}


def with_shade(g_glass: ArrayLike, shade: ShadeLayer, *, u_glass: ArrayLike) -> Array:
    """Return the total solar transmittance of glass and drawn shade.

    Parameters
    ----------
    g_glass
        Total solar transmittance (SHGC) of the glass as it is, bare or filmed [-].
    shade
        The shade.
    u_glass
        U of the same glass [W/(m2 K)], over 0.

    Returns
    -------
    array
        g_tot [-].

    Notes
    -----
    Applicability: see `RANGES`. The method is for normal incidence and safe for cooling.

    References
    ----------
    ISO 52022-1:2017, 6.2 and 6.3.
    """
    g = np.asarray(g_glass, dtype=float)
    u = np.asarray(u_glass, dtype=float)
    if np.any(u <= 0):
        raise ValueError("u_glass must be over 0")
    te, re, ae = shade.transmittance, shade.reflectance, shade.absorptance
    if shade.place == "outside":
        conductance = 1.0 / (1.0 / u + 1.0 / G1_OUTSIDE + 1.0 / G2_OUTSIDE)
        total = te * g + ae * conductance / G2_OUTSIDE + te * (1.0 - g) * conductance / G1_OUTSIDE
    else:
        conductance = 1.0 / (1.0 / u + 1.0 / G2_INSIDE)
        total = g * (1.0 - g * re - ae * conductance / G2_INSIDE)
    return np.asarray(total)


def drawn(irradiance: ArrayLike, *, threshold: float = 200.0, present: ArrayLike = True) -> NDArray[np.bool_]:
    """Return the hours in which the shade is drawn.

    Parameters
    ----------
    irradiance
        Sun on the pane [W/m2], (H, ...).
    threshold
        Drawn above this [W/m2]; 200 is common practice, no source.
    present
        Hours in which someone is there to draw it, broadcast to the irradiance.

    Returns
    -------
    array of bool
        The shape of the irradiance; False for nan.
    """
    return np.asarray((np.asarray(irradiance, dtype=float) > threshold) & np.asarray(present, dtype=bool))
