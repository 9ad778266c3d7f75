"""Whether a file's three radiations fit one another and the sun, and what mends them if they do not.

Global radiation is diffuse plus direct times the cosine of the sun's zenith angle. That closes at the sun's
own time alone, and only with each column in its place: the time that closes it best tells a clock that is
off, or a beam that was computed with the sun of another minute; the order of columns that closes it tells
swapped ones.
Four public typical years close to .3 to 1.8 % (rms over the mean) and best at 0 minutes; 40 minutes off it is
9 to 10 %. Radiation that never closes was not made to: nothing is mended then.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import permutations
from typing import TYPE_CHECKING, Any

import numpy as np

from reportkit.base.arrays import Array
from reportkit.climate.plausible import HIGHEST

if TYPE_CHECKING:
    from reportkit.climate.weather import Site

#: The columns of radiation, in the order in which they are tried.
RADIATION = ("ghi", "dni", "dhi")

#: How far a clock may be off [min], and from where on it is mended: a quarter of an hour is 4 degrees of sun.
_FARTHEST, _LEAST = 100, 8

#: Radiation closes where it misses by less than this, and is mended where mending halves the miss [1].
CLOSES, BETTER = 0.06, 0.5

#: Hours with less global or direct radiation tell nothing [W/m2].
_DIM = 50.0


@dataclass(frozen=True)
class Closure:
    """What mends a file.

    ``columns`` are those of the file that hold global, direct and diffuse radiation; ``minutes`` is to be
    added to its times [min]; ``beam_minutes`` is by how much the sun that its beam was computed with is off,
    where only that is [min]. ``miss`` is what is left (rms over the mean) [1].
    """

    columns: tuple[str, ...]
    minutes: int
    beam_minutes: int
    miss: float


@dataclass(frozen=True, eq=False)
class Sun:
    """The cosine of the zenith angle at N times, and at others near them.

    ``still`` + ``turning`` cos(a) + ``across`` sin(a), (N,) each, where a is the hour angle gone by.
    """

    still: Array
    turning: Array
    across: Array

    def at(self, minutes: float) -> Array:
        """Return the cosine so many minutes later [1], (N,); below 0 the sun is down."""
        angle = np.radians(minutes / 4.0)
        cosine: Array = self.still + self.turning * np.cos(angle) + self.across * np.sin(angle)
        return cosine


def sun(times: Any, site: Site) -> Sun:
    """Return the sun at aware times."""
    from pvlib.solarposition import spa_python

    place = spa_python(times, site.latitude, site.longitude, altitude=site.elevation)
    height, azimuth = (np.radians(place[name].to_numpy(dtype=float)) for name in ("elevation", "azimuth"))
    north = np.radians(np.clip(site.latitude, -89.99, 89.99))
    declined = np.sin(height) * np.sin(north) + np.cos(height) * np.cos(north) * np.cos(azimuth)
    still = np.sin(north) * declined
    return Sun(still, np.sin(height) - still, np.cos(north) * np.sin(azimuth) * np.cos(height))


def closure(table: dict[str, Array], on: Sun) -> Closure | None:
    """Return what mends radiation, or None where too little of it is there to tell.

    Parameters
    ----------
    table
        ``ghi``, ``dni`` and ``dhi`` [W/m2], (N,) each; nan where missing.
    on
        The sun at the rows' times.
    """
    fits = []
    for order in permutations(RADIATION):
        fit = _fit(on, *(table[name] for name in order))
        if fit is not None:
            fits.append((order, *fit))
    if not fits or fits[0][0] != RADIATION:
        return None
    _, minutes, least, _ = fits[0]
    columns: tuple[str, ...] = RADIATION
    best = min(fits, key=lambda one: one[2])
    if least > CLOSES and best[2] < BETTER * least:
        columns, minutes, least, _ = best
    if abs(minutes) < _LEAST or least > max(BETTER * _miss(table, columns, on), 1e-4):
        minutes = 0
    late = drift(table[columns[0]], on) if minutes else 0
    beam_only = abs(late - minutes) > abs(late)  # global radiation follows the sun as it stands
    return Closure(columns, 0 if beam_only else minutes, minutes if beam_only else 0, least)


def _rows(ghi: Array, dni: Array, dhi: Array) -> Any:
    with np.errstate(invalid="ignore"):
        return (ghi > _DIM) & (dni > _DIM) & np.isfinite(dhi)


def _fit(on: Sun, ghi: Array, dni: Array, dhi: Array) -> tuple[int, float, float] | None:
    """Return the minutes that close radiation best, and the miss with and without them."""
    rows = _rows(ghi, dni, dhi)
    if rows.sum() < 100:
        return None
    direct = dni[rows]
    parts = np.stack(
        [
            ghi[rows] - dhi[rows] - direct * on.still[rows],
            -direct * on.turning[rows],
            -direct * on.across[rows],
        ]
    )
    squares = parts @ parts.T / rows.sum()
    minutes = np.arange(-_FARTHEST, _FARTHEST + 1)
    angle = np.radians(minutes / 4.0)
    turn = np.stack([np.ones_like(angle), np.cos(angle), np.sin(angle)])
    miss = np.sqrt(np.maximum(np.einsum("in,ij,jn->n", turn, squares, turn), 0.0)) / ghi[rows].mean()
    at = int(np.argmin(miss))
    return int(minutes[at]), float(miss[at]), float(miss[_FARTHEST])


def _miss(table: dict[str, Array], columns: tuple[str, ...], on: Sun) -> float:
    fit = _fit(on, *(table[name] for name in columns))
    return np.inf if fit is None else fit[2]


def drift(ghi: Array, on: Sun) -> int:
    """Return the minutes to be added so that global radiation follows the sun's height best [min].

    By correlation, in steps of five: afternoon clouds alone move it by five minutes in the public years.
    """
    known = np.isfinite(ghi) & (np.abs(ghi) <= HIGHEST)  # what is beyond is a fault of its own
    if not known.any() or np.ptp(ghi[known]) == 0.0:
        return 0
    minutes = range(-_FARTHEST, _FARTHEST + 1, 5)
    fits = {each: np.corrcoef(ghi[known], np.maximum(on.at(each)[known], 0.0))[0, 1] for each in minutes}
    return max(fits, key=lambda each: fits[each])
