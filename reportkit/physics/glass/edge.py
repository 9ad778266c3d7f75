"""The warm middle and the cool edge of a pane: temperatures, difference and stress on a few kinds of day.

The middle comes from the centre-of-glass balance, the edge from a fin in the frame's rebate. A shadow lets
the edge lie in diffuse light while the middle is in the sun; a blind warms the room side. How closely the
rebate couples the edge to the frame is not known of any window, and the difference hangs on it: it is worked
out for a loose, a usual and a close rebate, and told as a range. The frame's temperature is an assumption:
this feeds a screen (`reportkit.physics.glass.breakage`), no more.

A sudden sun on a frame that kept the cold of the night is inside the range: the edge then lags the middle by
at most 2 % of the rise more than in steady sun, in a loose rebate, and by nothing in a close one (a test
solves the step in time).

Not covered: corners, the spacer of a sealed unit, heaters and cold air blown on the glass.

References
----------
S. P. Timoshenko, J. N. Goodier, Theory of Elasticity, thermal stress (from memory): E alpha of soda-lime
glass 70 GPa x 9e-6/K = .63 MPa/K. F. P. Incropera et al., Fundamentals of Heat and Mass Transfer, fins (from
memory). NF DTU 39 amendment A1 (1998, superseded by P3:2006), as quoted: 40, 140, 200 K.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TypeVar

import numpy as np

from reportkit.base.arrays import Array
from reportkit.base.translatable import english
from reportkit.physics.glass.glazing import Glazing
from reportkit.physics.glass.heat import emissivities, heat
from reportkit.physics.glass.lite import Lite
from reportkit.physics.glass.optics import Optics, normal
from reportkit.physics.glass.spread import Spread

Temperature = TypeVar("Temperature", float, Array)

E_ALPHA = 0.63  # [MPa/K] 70 GPa x 9e-6/K

# In the rebate, both faces together [W/m2/K]: low, likely, high. Layers of 3-5 mm either side by what they
# conduct (air .03 and its radiation, foam .05, rubber .2, putty .6 W/mK), the frame behind them in series:
# still air or wood about 15, foam tape or dry gaskets 30, rubber or putty bedded in metal 60 (common
# practice, no source).
REBATE_COEFFICIENTS = (15.0, 30.0, 60.0)
FACE_COEFFICIENT = 23.0  # [W/m2/K] exposed pane, both faces (assumption)
GLASS_K = 1.0  # [W/m/K]

# Largest difference between the middle and the edge [K]. NF DTU 39 A1 (1998, superseded) as quoted; 30 K for
# ordinary cut edges is common practice, no source.
LIMITS: dict[str, float] = {
    "annealed, worked edges": 40.0,
    "annealed": 30.0,
    "heat_strengthened": 140.0,
    "tempered": 200.0,
}

# Of the limit, from here on someone else decides: a fifth is kept for the temperature of the frame, some 5 K
# either way, which is assumed (common practice, no source).
ASK_SHARE = 0.8

#: What the edge of wired and of patterned glass bears of what float's does: the wire's ends and the rollers
#: leave flaws (common practice, no source).
ROLLED_EDGE = 0.5
ROLLED = ("wired", "patterned")

SHADOWS = ("none", "still", "moving", "narrow")
EDGES = ("worked", "cut", "unknown")

# A light blind drawn inside: part of what passes the glass is thrown back, part warms the blind, which loses
# it by 8 W/m2K on either side (common practice, no source).
BLIND_REFLECTANCE, BLIND_ABSORPTANCE, BLIND_COEFFICIENT = 0.5, 0.4, 8.0


@dataclass(frozen=True)
class Scenario:
    """A kind of day for the screen.

    Attributes
    ----------
    name : str
    t_out, t_in, t_frame : float [C]
    sun, diffuse : float [W/m2]
        On the pane: all of it, and what is left in a shadow.
    wind : float [m/s]
    """

    name: str
    t_out: float
    t_in: float
    t_frame: float
    sun: float
    diffuse: float
    wind: float


# Assumptions, not weather of any place (common practice, no source): the caller replaces them by its own
# days.
SCENARIOS: tuple[Scenario, ...] = (
    Scenario(english("clear winter morning"), -5.0, 20.0, 0.0, 750.0, 100.0, 2.0),
    Scenario(english("equinox"), 8.0, 21.0, 8.0, 850.0, 150.0, 2.0),
    Scenario(english("summer"), 32.0, 24.0, 26.0, 750.0, 250.0, 1.0),
)


@dataclass(frozen=True)
class PaneFacts:
    """What the survey found about a pane; the default is what nobody needs to ask about.

    Parameters
    ----------
    width_mm, height_mm : float [mm]
    fill : float [1]
        Share of that rectangle that is glass: under 1 for an arch, a circle and the like.
    edge : str
        ``worked``, ``cut`` or ``unknown``.
    rebate_mm : float or None [mm]
        Depth of glass hidden in the frame; None is the usual one, 12 mm, and of glass over 6 mm its thickness
        and 6 mm more (common practice, no source).
    blind : bool
        A blind or curtain is drawn inside at times.
    shadow : str
        ``none``, ``still``, ``moving`` or ``narrow``.
    slope_deg : float [deg]
        From the vertical.
    altitude_m : float [m]
    age_years : float or None
        None is unknown.
    fogged, plastic, other_film, part_covered, damaged_edge : bool
        Failed seal; not glass; carries film already; film would cover part of the pane; chips or cracks.
    heater, dark_frame : bool
        A heater or blown air close to the glass; a dark frame, which swings far between night and sun. The
        balance counts neither: both are to be asked about.
    """

    width_mm: float
    height_mm: float
    edge: str = "cut"
    rebate_mm: float | None = None
    blind: bool = False
    shadow: str = "none"
    slope_deg: float = 0.0
    altitude_m: float = 0.0
    age_years: float | None = None
    fogged: bool = False
    plastic: bool = False
    other_film: bool = False
    part_covered: bool = False
    damaged_edge: bool = False
    heater: bool = False
    dark_frame: bool = False
    fill: float = 1.0

    def __post_init__(self) -> None:
        """Check the values."""
        if self.width_mm <= 0.0 or self.height_mm <= 0.0:
            raise ValueError(f"a pane's sides must be over 0 mm (got {self.width_mm:g} x {self.height_mm:g})")
        if self.rebate_mm is not None and self.rebate_mm <= 0.0:
            raise ValueError(f"rebate must be over 0 mm (got {self.rebate_mm:g})")
        if self.edge not in EDGES:
            raise ValueError(f"edge must be one of {', '.join(EDGES)} (got {self.edge!r})")
        if self.shadow not in SHADOWS:
            raise ValueError(f"shadow must be one of {', '.join(SHADOWS)} (got {self.shadow!r})")

    @property
    def area_m2(self) -> float:
        """Area of the pane [m2]."""
        return self.width_mm * self.height_mm * self.fill / 1e6

    def rebate_of(self, thickness_mm: float) -> float:
        """Depth of a lite hidden in the frame [mm]."""
        return max(12.0, thickness_mm + 6.0) if self.rebate_mm is None else self.rebate_mm


@dataclass(frozen=True)
class Difference:
    """Middle against edge of one pane on one day.

    Attributes
    ----------
    scenario : str
    lite : int
        Counted from outside, from 1.
    t_centre, t_edge : float [C]
        The edge with the likely rebate.
    difference : Spread [K]
        With the loose, the usual and the close rebate.
    limit : float [K]
    """

    scenario: str
    lite: int
    t_centre: float
    t_edge: float
    difference: Spread
    limit: float

    @property
    def refuses(self) -> bool:
        """Whether even the least difference reaches the limit."""
        return self.difference.low >= self.limit

    @property
    def asks(self) -> bool:
        """Whether the largest difference comes so near to the limit that someone else decides."""
        return self.difference.high >= ASK_SHARE * self.limit

    @property
    def gravity(self) -> tuple[bool, float]:
        """What orders differences of several limits: refused first, then the largest share of the limit."""
        return self.refuses, self.difference.high / self.limit


def edge_temperature(
    t_centre: Temperature,
    t_frame: float,
    *,
    thickness_mm: float,
    rebate_mm: float,
    face: float = FACE_COEFFICIENT,
    rebate: float = REBATE_COEFFICIENTS[1],
) -> Temperature:
    """Temperature of a pane's edge as the end of a fin in the frame's rebate.

    Parameters
    ----------
    t_centre : float or ndarray, (...) [C]
    t_frame : float [C]
    thickness_mm, rebate_mm : float, over 0 [mm]
    face, rebate : float, over 0 [W/m2/K]
        Coefficient of the exposed pane, both faces together, and in the rebate.

    Returns
    -------
    float or ndarray, (...) [C]
        Between the frame's and the centre's temperature.

    References
    ----------
    Incropera et al., two fins joined at the sight line, the end adiabatic (from memory).

    Examples
    --------
    >>> round(edge_temperature(29.57, 5.0, thickness_mm=4, rebate_mm=12, rebate=15), 1)
    17.7
    """
    thickness, depth = thickness_mm / 1000.0, rebate_mm / 1000.0
    ms, mc = math.sqrt(face / (GLASS_K * thickness)), math.sqrt(rebate / (GLASS_K * thickness))
    th = math.tanh(mc * depth)
    t_sight = (ms * t_centre + mc * th * t_frame) / (ms + mc * th)
    return t_frame + (t_sight - t_frame) / math.cosh(mc * depth)


def edge_stress(difference: float, *, kt: float = 1.0) -> float:
    """Tension along the edge of a pane whose middle is warmer by a difference.

    Parameters
    ----------
    difference : float [K]
    kt : float [1]
        Stress factor for shadows and shapes.

    Returns
    -------
    float [MPa]
    """
    return kt * E_ALPHA * difference


def _limit(pane: Lite, edge: str) -> float:
    """Limit [K] of a pane; an unknown temper is taken as annealed with cut edges."""
    if pane.temper in ("heat_strengthened", "tempered"):
        limit = LIMITS[pane.temper]
    else:
        worked = edge == "worked" and pane.temper == "annealed"
        limit = LIMITS["annealed, worked edges" if worked else "annealed"]
    return limit * ROLLED_EDGE if set(ROLLED) & set(pane.marks) else limit


def differences(
    glazing: Glazing, facts: PaneFacts, *, scenarios: tuple[Scenario, ...] = SCENARIOS
) -> tuple[Difference, ...]:
    """Middle against edge of every pane of a glazing on every day of the screen.

    Parameters
    ----------
    glazing : Glazing
    facts : PaneFacts
        A shadow lets the edge lie in diffuse light while the middle is in the sun; a blind warms the room
        side.
    scenarios : tuple of Scenario

    Returns
    -------
    tuple of Difference, one per day and pane

    Notes
    -----
    The sun is taken along the normal, where most is absorbed.
    """
    return of_films((glazing,), (normal(glazing),), facts, scenarios=scenarios)[0]


def of_films(
    glazings: Sequence[Glazing],
    lights: Sequence[Optics],
    facts: PaneFacts,
    *,
    scenarios: tuple[Scenario, ...] = SCENARIOS,
) -> tuple[tuple[Difference, ...], ...]:
    """Return `differences` of one glazing with each of several films, ``lights`` being their `normal`."""
    by_number: dict[int, tuple[Difference, ...]] = {}
    alike: dict[tuple[float, ...], list[int]] = {}
    for number, glazing in enumerate(glazings):
        alike.setdefault(emissivities(glazing), []).append(number)
    for numbers in alike.values():  # films that differ in what they do to light alone share one balance
        solved = _of_alike([glazings[n] for n in numbers], [lights[n] for n in numbers], facts, scenarios)
        by_number |= zip(numbers, solved, strict=True)
    return tuple(by_number[number] for number in range(len(glazings)))


def _of_alike(
    glazings: Sequence[Glazing], lights: Sequence[Optics], facts: PaneFacts, scenarios: tuple[Scenario, ...]
) -> tuple[tuple[Difference, ...], ...]:
    """Return `differences` of glazings that differ in what they do to light alone."""
    days = [day for day in scenarios for _ in range(2)]  # in the sun, then in the shadow
    sun = np.array([x for day in scenarios for x in (day.sun, min(day.diffuse, day.sun))])
    t_in = np.array([day.t_in for day in days])
    parts = [_absorbed(light, sun, t_in, facts.blind) for light in lights]
    absorbed, radiant = (np.concatenate(rows) for rows in zip(*parts, strict=True))
    balance = heat(
        glazings[0],
        absorbed=absorbed,
        t_out=np.array([day.t_out for day in days] * len(lights)),
        t_in=radiant,
        wind=np.array([day.wind for day in days] * len(lights)),
    )
    middles = balance.t_faces.reshape(len(lights), len(scenarios), 2, -1, 2).mean(axis=-1)
    panes = [
        _of_pane(day, lite, [glazing.lites[lite] for glazing in glazings], facts, *middles[:, i, :, lite].T)
        for i, day in enumerate(scenarios)
        for lite in range(len(glazings[0].lites))
    ]
    return tuple(zip(*panes, strict=True))


def _absorbed(light: Optics, sun: Array, t_in: Array, blind: bool) -> tuple[Array, Array]:
    """Sun absorbed by every pane [W/m2], (2 days, n), and what the room side is warmed by [C]."""
    absorbed: Array = sun[:, np.newaxis] * light.a_solar[0]
    if not blind:
        return absorbed, t_in
    t_solar, r_in = float(light.t_solar[0]), float(light.r_solar_in[0])
    absorbed[:, -1] += sun * t_solar * BLIND_REFLECTANCE * max(0.0, 1.0 - r_in - t_solar)
    return absorbed, t_in + sun * t_solar * BLIND_ABSORPTANCE / (2.0 * BLIND_COEFFICIENT)


def _of_pane(
    day: Scenario, lite: int, panes: Sequence[Lite], facts: PaneFacts, lit: Array, shaded: Array
) -> list[Difference]:
    """One pane on one day with each of F films, from its middle in the sun and in the shadow, (F,) [C]."""
    thickness = panes[0].thickness_mm  # a film changes nothing of it
    edges = np.stack(
        [
            edge_temperature(
                lit if facts.shadow == "none" else shaded,
                day.t_frame,
                thickness_mm=thickness,
                rebate_mm=facts.rebate_of(thickness),
                rebate=coefficient,
            )
            for coefficient in REBATE_COEFFICIENTS
        ]
    )
    # a frame warmer than the glass turns the order round
    ordered = np.sort(lit - edges, axis=0).T.tolist()
    found = zip(panes, lit.tolist(), edges[1].tolist(), ordered, strict=True)
    return [
        Difference(day.name, lite + 1, middle, edge, Spread(*three), _limit(pane, facts.edge))
        for pane, middle, edge, three in found
    ]
