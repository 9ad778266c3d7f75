"""How a pane looks: light through it and light off it, as colors a screen or a printer can show.

What an eye sees on a pane is the far side's scene times the visible transmittance, plus the near side's
scene times the visible reflectance of the near face. Everything is linear light (luminance, [cd/m2] or
any unit that both sides share) until one exposure and the sRGB curve make a color of it.

A sheet states no spectrum, only a word for its tint. The word gives the ratio of red, green and blue; their
sum weighted for the eye stays the visible transmittance exactly, for white light. Reflections are taken as
colorless. Not covered: spectra, haze, angles other than square on, glare inside the eye.

References
----------
Luminance weights and transfer curve of sRGB: IEC 61966-2-1:1999. Tint ratios: chosen by eye, no source.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

import numpy as np

from reportkit.base.arrays import Array

#: Share of red, green and blue in luminance (sRGB primaries, IEC 61966-2-1).
LUMINANCE: Array = np.array([0.2126, 0.7152, 0.0722])
LUMINANCE.setflags(write=False)

#: Red, green and blue of white light behind glass or film of a tint, not yet brought to a luminance of 1.
TINTS: dict[str, tuple[float, float, float]] = {
    "neutral": (1.0, 1.0, 1.0),
    "clear": (1.0, 1.0, 1.0),
    "low_iron": (1.0, 1.0, 1.0),
    "grey": (0.98, 1.0, 1.03),
    "silver": (0.97, 1.0, 1.04),
    "bronze": (1.22, 0.97, 0.72),
    "gold": (1.25, 0.98, 0.55),
    "blue": (0.80, 1.0, 1.32),
    "green": (0.85, 1.06, 0.90),
}

#: Share of a scene's contrast below which its things are taken as hidden. With a film of VT 20 % that
#: reflects 20 to 27 % it is met where outdoors is three to four times brighter, as fitters say; common
#: practice, no source.
HIDDEN = 0.2


def luminance(rgb: Any) -> Array:
    """Return the luminance of linear red, green and blue.

    Parameters
    ----------
    rgb : array_like, (..., 3)
        Linear light [any unit].

    Returns
    -------
    numpy.ndarray, (...)
        In the same unit.
    """
    return np.asarray(rgb, dtype=float) @ LUMINANCE


def transmitted(t_visible: float, tints: Iterable[str] = ()) -> Array:
    """Return what a pane lets through of linear red, green and blue.

    Parameters
    ----------
    t_visible : float
        Visible transmittance, 0 to 1 [1].
    tints : iterable of str
        Words for the tint of each sheet and film in the pane, keys of `TINTS`.

    Returns
    -------
    numpy.ndarray, (3,) [1]
        0 to 1 each; its `luminance` is ``t_visible``. A strong tint on a light pane is paled until no
        part exceeds 1.

    Raises
    ------
    ValueError
        If the transmittance is not from 0 to 1, or a word is unknown.

    Examples
    --------
    >>> round(float(luminance(transmitted(0.35, ["bronze"]))), 9)
    0.35
    """
    _share("t_visible", t_visible)
    ratio = np.ones(3)
    for word in tints:
        if word not in TINTS:
            raise ValueError(f"tint must be one of {', '.join(TINTS)}, not {word!r}")
        ratio = ratio * np.array(TINTS[word])
    ratio = ratio / luminance(ratio)
    peak = float(ratio.max())
    if t_visible * peak > 1.0:
        ratio = 1.0 + (ratio - 1.0) * (1.0 / t_visible - 1.0) / (peak - 1.0)
    return t_visible * ratio


def seen(
    beyond: Any, mirrored: Any, *, t_visible: float, r_visible: float, tints: Iterable[str] = ()
) -> Array:
    """Return what is seen on a pane.

    Parameters
    ----------
    beyond : array_like, (..., 3)
        Linear light of the scene on the far side [cd/m2].
    mirrored : array_like, (..., 3)
        Linear light of the near side's scene that the pane mirrors [cd/m2].
    t_visible, r_visible : float
        Visible transmittance, and visible reflectance of the face towards the eye [1].
    tints : iterable of str
        As in `transmitted`.

    Returns
    -------
    numpy.ndarray, (..., 3) [cd/m2]
        Linear light.

    Raises
    ------
    ValueError
        If a share is not from 0 to 1, or both sum to over 1.
    """
    _share("r_visible", r_visible)
    if t_visible + r_visible > 1.0 + 1e-9:
        raise ValueError(f"t_visible and r_visible must sum to 1 at most, not {t_visible + r_visible:g}")
    through = np.asarray(beyond, dtype=float) * transmitted(t_visible, tints)
    return through + r_visible * np.asarray(mirrored, dtype=float)


@dataclass(frozen=True)
class Pane:
    """How a pane looks from one side: visible transmittance, reflectance towards the eye [1], its tints."""

    t_visible: float
    r_visible: float
    tints: tuple[str, ...] = ()


def other_pane(photo: Any, bare: Pane, filmed: Pane, *, beyond: float, near: float) -> Array:
    """Return what a photo of a pane would show with another pane in its place, exposed alike.

    Of the light in the photo an even veil is what the pane mirrors: the share of its mean light that follows
    from the luminances of both sides, at most the darkest of a spot's colors. The rest came through. Each
    part is changed by what the other pane lets through and mirrors. Not covered: what a single spot mirrors.

    Parameters
    ----------
    photo : array_like, (..., 3)
        Linear light of the spots of the pane, as photographed [any unit].
    bare, filmed
        The pane in the photo, and the one to show.
    beyond, near : float
        Luminance of the far side and of the eye's, not both 0 [cd/m2].

    Returns
    -------
    numpy.ndarray, (..., 3)
        Linear light [the same unit]; that of the photo where both panes are alike.

    Raises
    ------
    ValueError
        As `transmitted` and `contrast_left` do.
    """
    light = np.asarray(photo, dtype=float)
    share = 1.0 - contrast_left(bare.t_visible, bare.r_visible, beyond=beyond, near=near)
    even = share * float(np.mean(luminance(light))) if light.size else 0.0
    veil = np.minimum(even, light.min(axis=-1, keepdims=True, initial=np.inf))
    passed = transmitted(filmed.t_visible, filmed.tints) / transmitted(bare.t_visible, bare.tints)
    mirrored = filmed.r_visible / bare.r_visible if bare.r_visible else 1.0
    shown: Array = (light - veil) * passed + veil * mirrored
    return shown


def contrast_left(t_visible: float, r_visible: float, *, beyond: float, near: float) -> float:
    """Return the share of the far scene's contrast that is left behind the veil of the mirrored one.

    Parameters
    ----------
    t_visible, r_visible : float
        Visible transmittance, and visible reflectance of the face towards the eye [1].
    beyond, near : float
        Luminance of the far and of the near side, 0 or more, not both 0 [cd/m2].

    Returns
    -------
    float
        0 (nothing to be seen beyond) to 1 (no veil). nan in, nan out.

    Raises
    ------
    ValueError
        If a luminance is negative or no light reaches the eye at all.
    """
    if beyond < 0 or near < 0:
        raise ValueError("luminances must be 0 or more")
    through, veil = t_visible * beyond, r_visible * near
    if through + veil == 0:
        raise ValueError("no light reaches the eye: one side must be lit and the pane let it through")
    return through / (through + veil)


def privacy_ratio(t_visible: float, r_visible_out: float, *, left: float = HIDDEN) -> float:
    """Return how many times brighter outdoors must be than indoors for the room to be hidden.

    Below it, and so always at night with lights on, the room shows.

    Parameters
    ----------
    t_visible, r_visible_out : float
        Visible transmittance and outside visible reflectance [1].
    left : float
        `contrast_left` that counts as hidden, over 0 and under 1 [1].

    Returns
    -------
    float
        Ratio of luminances [1]; inf for a pane without reflectance.
    """
    if not 0.0 < left < 1.0:
        raise ValueError(f"left must lie between 0 and 1, not {left}")
    if r_visible_out == 0:
        return float("inf")
    return t_visible / r_visible_out * (1.0 - left) / left


def encoded(linear: Any, exposure: float) -> Array:
    """Return colors for a screen from linear light: one exposure, then the sRGB curve.

    Parameters
    ----------
    linear : array_like
        Linear light [cd/m2].
    exposure : float
        Over 0: what linear light is multiplied with, 1 being the brightest that can be shown [m2/cd].

    Returns
    -------
    numpy.ndarray
        0 to 1, same shape; brighter light than can be shown is cut off.
    """
    shown = np.clip(np.asarray(linear, dtype=float) * exposure, 0.0, 1.0)
    return np.where(
        shown <= 0.0031308, 12.92 * shown, 1.055 * np.maximum(shown, 0.0031308) ** (1 / 2.4) - 0.055
    )


def decoded(shown: Any, exposure: float) -> Array:
    """Return the linear light that a color stands for: `encoded` backwards, within the range shown."""
    value = np.asarray(shown, dtype=float)
    linear = np.where(value <= 0.04045, value / 12.92, ((np.maximum(value, 0.04045) + 0.055) / 1.055) ** 2.4)
    return linear / exposure


def _share(name: str, value: float) -> None:
    if not 0.0 <= value <= 1.0:
        raise ValueError(f"{name} must be from 0 to 1, not {value}")
