"""What the sky sends down as heat: as the weather's source has it, or from dew point and clouds.

A clear dry sky is twenty kelvin colder than the air and more, a low cloud hardly. Where the source tells
neither this radiation nor clouds, nothing is made up: the room's balance then takes a usual sky.

References
----------
Clark & Allen 1978, The estimation of atmospheric radiation for clear and cloudy skies, Proc. 2nd National
Passive Solar Conference 2:675, with clouds as in Walton 1983 (both from memory).
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from reportkit.base.arrays import Array
from reportkit.base.translatable import english, translatable

STEFAN_BOLTZMANN = 5.670374e-8  # [W/(m2 K4)]
ZERO_C = 273.15  # [K]
#: Gaps that are filled from their neighbours: shorter than a day in all [h].
MOST_MISSING = 24


def from_dew_point(temp_air: ArrayLike, dew_point: ArrayLike, cover: ArrayLike) -> Array:
    """Return the sky's long-wave radiation on level ground [W/m2]; nan where one of them is.

    Parameters
    ----------
    temp_air, dew_point
        [C].
    cover
        Of the sky by clouds that nothing shines through, 0 to 1 [1].
    """
    air, dew = np.asarray(temp_air, dtype=float) + ZERO_C, np.asarray(dew_point, dtype=float) + ZERO_C
    tenths = 10.0 * np.asarray(cover, dtype=float)
    clear = 0.787 + 0.764 * np.log(dew / 273.0)
    clouded = 1.0 + 0.0224 * tenths - 0.0035 * tenths**2 + 0.00028 * tenths**3
    sky: Array = STEFAN_BOLTZMANN * air**4 * np.minimum(clear * clouded, 1.0)
    return sky


def sky_radiation(
    longwave: Array, temp_air: Array, dew_point: Array, cover: Array
) -> tuple[Array | None, str]:
    """Return the sky's radiation of every hour, (H,) [W/m2], or None where the source tells nothing of it.

    Parameters
    ----------
    longwave, temp_air, dew_point, cover
        As the source has them; nan where missing. Hours that nothing ever sent are taken as missing.

    Returns
    -------
    tuple of ndarray or None and str
        And where it comes from, for a reader.
    """
    air = STEFAN_BOLTZMANN * (temp_air + ZERO_C) ** 4
    for radiation, words in (
        (longwave, english("loss to the sky: by the long-wave radiation of the file")),
        (
            from_dew_point(temp_air, dew_point, np.clip(cover, 0.0, 1.0)),
            english("loss to the sky: worked out from the file's dew point and clouds"),
        ),
    ):
        sound = np.isfinite(radiation) & (radiation > 0.4 * air) & (radiation < 1.2 * air)
        if (~sound).sum() <= MOST_MISSING:
            known = np.flatnonzero(sound)
            return np.interp(np.arange(len(radiation)), known, radiation[known]), translatable(words)
    return None, translatable("loss to the sky: that of a usual one, the file tells nothing of it")
