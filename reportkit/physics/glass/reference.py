"""The glass a film's sheet was measured on, which most sheets name by its thickness alone.

Clear glass of one thickness passes more or less of the sun by the iron in it: 3 mm from .83 to .90. A film
taken off the wrong one would have to pass more than all, or less than nothing. So a glass that is named by
its thickness alone may be any lawful one, and numbers are impossible only where they are so on all of them.

References: clear and low-iron glass as `reportkit.physics.glass.lite`; how far tints stray from their class
is common practice, no source.
"""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache

import numpy as np

from reportkit.physics.glass.bands import as_band3, solar
from reportkit.physics.glass.lite import Lite, float_glass
from reportkit.physics.glass.surface import BARE, embed

CLEAR_LESS = 0.004  # of solar transmittance, below the class's typical clear glass
TINT_STRAY = 0.06  # either way, of tinted glass
HALVINGS = 40


def solar_of(lite: Lite) -> float:
    """Return the solar transmittance of a pane with both faces bare [1]."""
    values = [embed(BARE.t[0], BARE.r_glass[0], BARE.r_air[0], internal=u)[0] for u in lite.internal]
    return float(solar(values))


def lawful(lite: Lite) -> tuple[float, float]:
    """Return the least and largest solar transmittance of bare glass of a thickness and colour [1]."""
    if lite.body not in ("clear", "low_iron"):
        typical = solar_of(lite)
        return typical - TINT_STRAY, typical + TINT_STRAY
    low, high = (solar_of(float_glass(lite.thickness_mm, body)) for body in ("clear", "low_iron"))
    return low - CLEAR_LESS, high


@lru_cache(maxsize=128)
def of_solar(lite: Lite, t_solar: float) -> Lite:
    """Return a pane whose body absorbs so much more or less in every band that it passes a solar share.

    Parameters
    ----------
    lite : Lite
        With two bare faces.
    t_solar : float [1]
        Solar transmittance of the bare pane; past what the body can have, as near as it comes.
    """
    low, high = 0.0, 50.0  # the absorption of the body, times its own
    depth = -np.log(np.asarray(lite.internal))

    def made(times: float) -> Lite:
        return replace(lite, internal=as_band3(np.exp(-depth * times)))

    for _ in range(HALVINGS):
        times = (low + high) / 2.0
        low, high = (times, high) if solar_of(made(times)) > t_solar else (low, times)
    return made(high)
