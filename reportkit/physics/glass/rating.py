"""What a glazing does, in the numbers people compare: SHGC, U, visible and solar values, by conditions.

`rate` gives one frozen record under NFRC or EN conditions; the two must never stand in one table.
`gain_table` gives what hourly models need: SHGC and solar transmittance by angle and for diffuse light.

Not covered: frames (centre of glass only), seasonal means (SHGC at normal incidence is not one), and the EN
solar spectrum: band weights are ASTM G173's under either name.

References
----------
NFRC 100, 200 (conditions from memory); EN 410, EN 673 (from memory); ISO 15099:2003 for the balance.
SC = SHGC/.87: ASHRAE Handbook of Fundamentals (from memory). TSER = 1 - SHGC at normal incidence.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Literal

import numpy as np
import numpy.typing as npt

from reportkit.base.arrays import Array
from reportkit.physics.glass.bands import SPECTRUM
from reportkit.physics.glass.en import en410_shares, en673_faces, en673_u
from reportkit.physics.glass.film import Film
from reportkit.physics.glass.glazing import Glazing, with_film
from reportkit.physics.glass.heat import heat
from reportkit.physics.glass.optics import Optics, optics

GRID: tuple[float, ...] = tuple(float(angle) for angle in range(0, 95, 5))  # [deg]
RATED_ANGLES: tuple[int, ...] = (0, 10, 20, 30, 40, 50, 60, 70, 80)  # [deg]
CLEAR_3MM_GAIN = 0.87  # SHGC of 3 mm clear glass, by which SC is defined (ASHRAE, from memory)

ConditionsName = Literal["nfrc", "en"]


@dataclass(frozen=True)
class Conditions:
    """Named rating conditions.

    Attributes
    ----------
    name : ConditionsName
    title : str
        For the report.
    winter_out, winter_in, winter_wind : float [C], [C], [m/s]
    summer_out, summer_in, summer_wind : float [C], [C], [m/s]
    sun : float [W/m2]
    fixed : bool
        Fixed surface coefficients (EN) in place of the ISO 15099 balance.
    """

    name: ConditionsName
    title: str
    winter_out: float
    winter_in: float
    winter_wind: float
    summer_out: float
    summer_in: float
    summer_wind: float
    sun: float
    fixed: bool


# EN 673 and EN 410 have fixed coefficients and need no temperatures; 0/20 C is used for the inner face.
CONDITIONS: dict[str, Conditions] = {
    "nfrc": Conditions(
        "nfrc",
        "NFRC: U at -18/21 °C and 5.5 m/s; SHGC at 32/24 °C, 2.75 m/s and 783 W/m²",
        -18.0, 21.0, 5.5, 32.0, 24.0, 2.75, 783.0, False,
    ),
    "en": Conditions(
        "en",
        "EN: U by EN 673 (25 W/m²K outdoors), g by EN 410 (23 W/m²K outdoors)",
        0.0, 20.0, float("nan"), float("nan"), float("nan"), float("nan"), float("nan"), True,
    ),
}  # fmt: skip


@dataclass(frozen=True)
class Rating:
    """Centre-of-glass values of a glazing under named conditions, at normal incidence unless said.

    Attributes
    ----------
    conditions : ConditionsName
    spectrum : str
        Solar weights used.
    t_solar, r_solar_out, a_solar : float [1]
        They add up to 1.
    a_lites : tuple of float, (n,) [1]
        Solar absorptance by pane, from outside.
    shgc : float [1]
        Solar heat gain coefficient, or g-value.
    shgc_by_angle : tuple of (angle or "diffuse", float) pairs
        Angles of incidence in degrees.
    tser, sc, lsg : float [1]
        1 - SHGC; SHGC/.87; VT/SHGC.
    t_visible, r_visible_out, r_visible_in, t_uv : float [1]
    t_fading : float [1]
        Damage-weighted transmittance (exp(-.012 lambda), 300-600 nm).
    u_w_m2k : float [W/m2/K]
        Under the winter conditions named.
    inward_fraction : float [1]
        Of the sun absorbed by the whole glazing, the part that reaches the room.
    inner_face_winter : float [C]
        Temperature of the room face without sun under the winter conditions.
    faces_summer : tuple of float, (2 n,) [C]
        With the sun of the rating, from outside; nan under EN, which has no temperatures.
    notes : tuple of str
        Assumptions carried from the film.
    """

    conditions: ConditionsName
    spectrum: str
    t_solar: float
    r_solar_out: float
    a_solar: float
    a_lites: tuple[float, ...]
    shgc: float
    shgc_by_angle: tuple[tuple[int | str, float], ...]
    tser: float
    sc: float
    lsg: float
    t_visible: float
    r_visible_out: float
    r_visible_in: float
    t_uv: float
    t_fading: float
    u_w_m2k: float
    inward_fraction: float
    inner_face_winter: float
    faces_summer: tuple[float, ...]
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, eq=False)
class GainTable:
    """Gain of a glazing by angle of incidence, for hourly models.

    Attributes
    ----------
    conditions : str
    aoi : numpy.ndarray, (A,) [deg]
        0 to 90 by 5.
    shgc, t_solar, t_visible : numpy.ndarray, (A,) [1]
    absorbed : numpy.ndarray, (A, n) [1]
        Solar absorptance by pane.
    shares : numpy.ndarray, (n,) [1]
        Of what each pane absorbs, the part that flows inward, near the rating conditions.
    shgc_diffuse, t_solar_diffuse, t_visible_diffuse : float [1]
        Hemispherical averages.
    absorbed_diffuse : numpy.ndarray, (n,) [1]
    u_w_m2k : float [W/m2/K]
    """

    conditions: str
    aoi: Array
    shgc: Array
    t_solar: Array
    t_visible: Array
    absorbed: Array
    shares: Array
    shgc_diffuse: float
    t_solar_diffuse: float
    t_visible_diffuse: float
    absorbed_diffuse: Array
    u_w_m2k: float

    def interp(self, aoi: npt.ArrayLike, *, quantity: str = "shgc") -> Array:
        """Interpolate a quantity at angles of incidence.

        Parameters
        ----------
        aoi : array_like, (...) [deg]
            0-180: past 90 the beam is behind the pane and the value is 0; nan is carried.
        quantity : str
            ``shgc``, ``t_solar`` or ``t_visible``.

        Returns
        -------
        numpy.ndarray, (...) [1]
        """
        if quantity not in ("shgc", "t_solar", "t_visible"):
            raise ValueError(f"quantity must be shgc, t_solar or t_visible (got {quantity!r})")
        values: Array = getattr(self, quantity)
        angle = np.asarray(aoi, dtype=float)
        at: Array = np.interp(angle, self.aoi, values, right=0.0)
        return at

    def absorbed_at(self, aoi: npt.ArrayLike) -> Array:
        """Interpolate solar absorptance by pane at angles of incidence [deg]: (..., n) [1]."""
        angle = np.asarray(aoi, dtype=float)
        columns = [np.interp(angle, self.aoi, column, right=0.0) for column in self.absorbed.T]
        return np.stack(columns, axis=-1)


@dataclass(frozen=True, eq=False)
class _Solved:
    """Everything both records are made of."""

    optics: Optics
    shgc: Array  # (A + 1,): the grid, then diffuse
    t_solar: Array
    absorbed: Array
    shares: Array
    u: float
    inner_face_winter: float
    faces_summer: tuple[float, ...]


def _conditions(name: str) -> Conditions:
    """Look a set of conditions up by name."""
    if name not in CONDITIONS:
        raise ValueError(f"conditions must be one of {', '.join(CONDITIONS)} (got {name!r})")
    return CONDITIONS[name]


@lru_cache(maxsize=1024)
def _solve(glazing: Glazing, name: str, polarisation: str) -> _Solved:
    """Solve optics and heat of a glazing once."""
    at = _conditions(name)
    solved = optics(glazing, GRID, polarisation=polarisation)
    sky = solved.diffuse
    assert sky is not None  # optics() always averages; this is for the type checker
    t_solar = np.concatenate([solved.t_solar, sky.t_solar])
    absorbed = np.concatenate([solved.a_solar, sky.a_solar])
    if at.fixed:
        shares = np.array(en410_shares(glazing))
        faces = en673_faces(glazing, t_out=at.winter_out, t_in=at.winter_in)
        nothing = (float("nan"),) * (2 * len(glazing.lites))
        shgc = t_solar + absorbed @ shares
        return _Solved(solved, shgc, t_solar, absorbed, shares, en673_u(glazing), faces[-1], nothing)
    count, n = absorbed.shape
    # rows: the sun at every angle and diffuse, summer without sun, winter without sun
    sun = np.concatenate([at.sun * absorbed, np.zeros((2, n))])
    t_out, t_in, wind = (np.full(count + 2, x) for x in (at.summer_out, at.summer_in, at.summer_wind))
    t_out[-1], t_in[-1], wind[-1] = at.winter_out, at.winter_in, at.winter_wind
    balance = heat(glazing, absorbed=sun, t_out=t_out, t_in=t_in, wind=wind)
    shgc = t_solar + (balance.q_in[:count] - balance.q_in[count]) / at.sun
    return _Solved(
        solved,
        shgc,
        t_solar,
        absorbed,
        balance.shares[0],
        float(-balance.q_in[-1] / (at.winter_in - at.winter_out)),
        float(balance.t_faces[-1, -1]),
        tuple(float(t) for t in balance.t_faces[0]),
    )


def _solved(glazing: Glazing, name: str, polarisation: str = "stack") -> _Solved:
    """Solve, sharing results between glazings that differ in name, film record or notes only."""
    return _solve(replace(glazing, id="", film=None, film_face=None, notes=()), name, polarisation)


def rate(glazing: Glazing, conditions: str = "nfrc") -> Rating:
    """Rate the centre of glass of a glazing, bare or filmed.

    Parameters
    ----------
    glazing : Glazing
    conditions : str
        ``nfrc`` (ISO 15099 balance) or ``en`` (EN 410 and EN 673).

    Returns
    -------
    Rating

    Raises
    ------
    ValueError
        The conditions are unknown.

    Examples
    --------
    >>> from reportkit.physics.glass import clear, single
    >>> round(rate(single(clear(3))).shgc, 2)
    0.86
    """
    solved = _solved(glazing, conditions)
    light = solved.optics
    shgc, t_solar = float(solved.shgc[0]), float(solved.t_solar[0])
    a_lites = tuple(float(a) for a in solved.absorbed[0])
    a_solar = sum(a_lites)
    by_angle: list[tuple[int | str, float]] = [
        (angle, float(solved.shgc[GRID.index(float(angle))])) for angle in RATED_ANGLES
    ]
    by_angle.append(("diffuse", float(solved.shgc[-1])))
    return Rating(
        conditions=_conditions(conditions).name,
        spectrum=SPECTRUM,
        t_solar=t_solar,
        r_solar_out=float(light.r_solar_out[0]),
        a_solar=a_solar,
        a_lites=a_lites,
        shgc=shgc,
        shgc_by_angle=tuple(by_angle),
        tser=1.0 - shgc,
        sc=shgc / CLEAR_3MM_GAIN,
        lsg=float(light.t_visible[0]) / shgc if shgc > 0.0 else float("nan"),
        t_visible=float(light.t_visible[0]),
        r_visible_out=float(light.r_visible_out[0]),
        r_visible_in=float(light.r_visible_in[0]),
        t_uv=float(light.t_uv[0]),
        t_fading=float(light.t_fading[0]),
        u_w_m2k=solved.u,
        inward_fraction=(shgc - t_solar) / a_solar if a_solar > 0.0 else float("nan"),
        inner_face_winter=solved.inner_face_winter,
        faces_summer=solved.faces_summer,
        notes=glazing.notes,
    )


def rate_bounds(
    glazing: Glazing, film: Film, conditions: str = "nfrc", *, side: str | None = None
) -> tuple[Rating, Rating]:
    """Rate a film between the least and the most its own face can reflect.

    Parameters
    ----------
    glazing : Glazing
        Without the film.
    film : Film
    conditions : str
        ``nfrc`` or ``en``.
    side : str or None
        ``inside`` or ``outside``; None is the side the film is made for.

    Returns
    -------
    tuple of Rating, (2,)
        With the film-side reflectance at its least and at its most; equal where the sheet states it, or where
        it has no part in the gain, as inside.
    """
    low, high = (
        rate(with_film(glazing, film, side=side, film_side=bound), conditions) for bound in ("low", "high")
    )
    return low, high


def gain_table(glazing: Glazing, conditions: str = "nfrc", *, polarisation: str = "stack") -> GainTable:
    """Tabulate the gain of a glazing by angle of incidence.

    Parameters
    ----------
    glazing : Glazing
    conditions : str
        ``nfrc`` or ``en``.
    polarisation : str
        ``stack``, or ``pane`` to compare with published tables: see `reportkit.physics.glass.optics.optics`.

    Returns
    -------
    GainTable
        Gain of an hour is ``beam * interp(aoi) + diffuse * shgc_diffuse`` [W/m2].
    """
    solved = _solved(glazing, conditions, polarisation)
    light = solved.optics
    assert light.diffuse is not None  # optics() always averages; this is for the type checker
    return GainTable(
        conditions=conditions,
        aoi=np.array(GRID),
        shgc=solved.shgc[:-1].copy(),
        t_solar=solved.t_solar[:-1].copy(),
        t_visible=light.t_visible,
        absorbed=solved.absorbed[:-1].copy(),
        shares=solved.shares.copy(),
        shgc_diffuse=float(solved.shgc[-1]),
        t_solar_diffuse=float(solved.t_solar[-1]),
        t_visible_diffuse=float(light.diffuse.t_visible[0]),
        absorbed_diffuse=solved.absorbed[-1].copy(),
        u_w_m2k=solved.u,
    )
