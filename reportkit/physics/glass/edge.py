"""The warm middle and the cool edge of a pane: temperatures, difference and stress on a few kinds of day.

The middle comes from the centre-of-glass balance, the edge from a fin in the frame's rebate. A shadow lets
the edge lie in diffuse light while the middle is in the sun; a blind warms the room side. The frame's
temperature and the coefficient in the rebate are assumptions: this feeds a screen
(`reportkit.physics.glass.breakage`), no more.

Not covered: transients, corners, the spacer of a sealed unit, heaters and cold air blown on the glass.

References
----------
S. P. Timoshenko, J. N. Goodier, Theory of Elasticity, thermal stress (from memory): E alpha of soda-lime
glass 70 GPa x 9e-6/K = .63 MPa/K. F. P. Incropera et al., Fundamentals of Heat and Mass Transfer, fins (from
memory). NF DTU 39 amendment A1 (1998, superseded by P3:2006), as quoted: 40, 140, 200 K.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from reportkit.base.translatable import english
from reportkit.physics.glass.glazing import Glazing
from reportkit.physics.glass.heat import heat
from reportkit.physics.glass.optics import normal

E_ALPHA = 0.63  # [MPa/K] 70 GPa x 9e-6/K
EDGE_COEFFICIENT = 15.0  # [W/m2/K] in the rebate, both faces (assumption)
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
    rebate_mm : float [mm]
        Depth of glass hidden in the frame.
    blind : bool
        A blind or curtain is drawn inside at times.
    shadow : str
        ``none``, ``still``, ``moving`` or ``narrow``.
    slope_deg : float [deg]
        From the vertical.
    altitude_m : float [m]
    age_years : float or None
        None is unknown.
    fogged, plastic, textured, other_film, part_covered, damaged_edge : bool
        Failed seal; not glass; not flat where the film goes; carries film already; film would cover part of
        the pane; chips or cracks.
    heater, dark_frame : bool
        A heater or blown air close to the glass; a dark frame, which swings far between night and sun. The
        balance counts neither: both are to be asked about.
    """

    width_mm: float
    height_mm: float
    edge: str = "cut"
    rebate_mm: float = 12.0
    blind: bool = False
    shadow: str = "none"
    slope_deg: float = 0.0
    altitude_m: float = 0.0
    age_years: float | None = None
    fogged: bool = False
    plastic: bool = False
    textured: bool = False
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
        if self.rebate_mm <= 0.0:
            raise ValueError(f"rebate must be over 0 mm (got {self.rebate_mm:g})")
        if self.edge not in EDGES:
            raise ValueError(f"edge must be one of {', '.join(EDGES)} (got {self.edge!r})")
        if self.shadow not in SHADOWS:
            raise ValueError(f"shadow must be one of {', '.join(SHADOWS)} (got {self.shadow!r})")

    @property
    def area_m2(self) -> float:
        """Area of the pane [m2]."""
        return self.width_mm * self.height_mm * self.fill / 1e6


@dataclass(frozen=True)
class Difference:
    """Middle against edge of one pane on one day.

    Attributes
    ----------
    scenario : str
    lite : int
        Counted from outside, from 1.
    t_centre, t_edge : float [C]
    difference, limit : float [K]
    stress : float [MPa]
        With kt 1.
    """

    scenario: str
    lite: int
    t_centre: float
    t_edge: float
    difference: float
    limit: float
    stress: float


def edge_temperature(
    t_centre: float,
    t_frame: float,
    *,
    thickness_mm: float,
    rebate_mm: float,
    face: float = FACE_COEFFICIENT,
    rebate: float = EDGE_COEFFICIENT,
) -> float:
    """Temperature of a pane's edge as the end of a fin in the frame's rebate.

    Parameters
    ----------
    t_centre, t_frame : float [C]
    thickness_mm, rebate_mm : float, over 0 [mm]
    face, rebate : float, over 0 [W/m2/K]
        Coefficient of the exposed pane, both faces together, and in the rebate.

    Returns
    -------
    float [C]
        Between the frame's and the centre's temperature.

    References
    ----------
    Incropera et al., two fins joined at the sight line, the end adiabatic (from memory).

    Examples
    --------
    >>> round(edge_temperature(29.57, 5.0, thickness_mm=4, rebate_mm=12), 1)
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


def _limit(temper: str, edge: str) -> float:
    """Limit [K] of a pane; an unknown temper is taken as annealed with cut edges."""
    if temper in ("heat_strengthened", "tempered"):
        return LIMITS[temper]
    return LIMITS["annealed, worked edges" if edge == "worked" and temper == "annealed" else "annealed"]


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
    light = normal(glazing)
    absorptance = light.a_solar[0]
    t_solar, r_in = float(light.t_solar[0]), float(np.mean(light.r_in[0]))
    n = len(glazing.lites)
    days = [day for day in scenarios for _ in range(2)]  # in the sun, then in the shadow
    sun = np.array([x for day in scenarios for x in (day.sun, min(day.diffuse, day.sun))])
    absorbed = sun[:, np.newaxis] * absorptance
    t_in = np.array([day.t_in for day in days])
    radiant = t_in
    if facts.blind:
        returned = sun * t_solar * BLIND_REFLECTANCE
        absorbed = absorbed.copy()
        absorbed[:, -1] += returned * max(0.0, 1.0 - r_in - t_solar)
        radiant = t_in + sun * t_solar * BLIND_ABSORPTANCE / (2.0 * BLIND_COEFFICIENT)
    balance = heat(
        glazing,
        absorbed=absorbed,
        t_out=np.array([day.t_out for day in days]),
        t_in=radiant,
        wind=np.array([day.wind for day in days]),
    )
    found = []
    for i, day in enumerate(scenarios):
        for lite in range(n):
            pane = glazing.lites[lite]
            lit, shaded = (
                float(balance.t_faces[2 * i + k, 2 * lite : 2 * lite + 2].mean()) for k in range(2)
            )
            edge = edge_temperature(
                lit if facts.shadow == "none" else shaded,
                day.t_frame,
                thickness_mm=pane.thickness_mm,
                rebate_mm=facts.rebate_mm,
            )
            found.append(
                Difference(
                    day.name,
                    lite + 1,
                    lit,
                    edge,
                    lit - edge,
                    _limit(pane.temper, facts.edge),
                    edge_stress(lit - edge),
                )
            )
    return tuple(found)
