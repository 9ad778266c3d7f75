"""Thermal breakage screen of filmed glass: nothing found, ask or refuse, with reasons and who decides.

Sun warms the middle of a pane while its edge stays cool in the frame; the edge is then pulled by kt E alpha
(T_mean - T_edge). The middle comes from the centre-of-glass balance under a few days of weather, the edge
from a fin in the frame's rebate. The frame's temperature and the coefficient in the rebate are assumptions,
so this is a screen and no more: it never says that glass will not break. Whatever it returns, the film
maker's glass-compatibility chart decides first, then the glass or window maker, then a licensed glazier or
engineer, then the building official.

Not covered: load from wind, impact or sealed-unit pressure; heaters and cold air blown on glass; transients;
damage that cannot be seen. ASTM E2431 covers single annealed panes with undamaged edges and excludes blinds,
heat traps, conditioned air on the glass and transients: a film job is usually outside it.

References
----------
Absorptance of half the sun or more on annealed glass: trade associations' guide. ASTM E2431, scope (as
quoted). Refusals and the order of authority: common practice.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from reportkit.base.translatable import Quantity, english, reason_of, translatable
from reportkit.physics.glass.edge import SCENARIOS, Difference, PaneFacts, Scenario, differences
from reportkit.physics.glass.film import Film
from reportkit.physics.glass.glazing import Glazing, with_film, without_film
from reportkit.physics.glass.optics import normal

ASK_SHARE = 0.7  # of the limit: from here on someone else decides (common practice, no source)
ASK_ABSORPTANCE = 0.5  # annealed glass with film; trade associations' guide
ABSORBING = 0.05  # a film that adds more than this to a wired pane counts as absorbing (assumption)

# From here on a pane counts as large, thick, high or old until the film maker's chart says otherwise (common
# practice, no source).
LARGE_M2, THICK_MM, HIGH_M, OLD_YEARS, SLOPED_DEG = 2.5, 6.5, 1500.0, 20.0, 10.0

DECISIONS = ("nothing_found", "ask", "refuse")
AUTHORITY = (
    english("the film maker's glass-compatibility chart"),
    english("the glass or window maker"),
    english("a licensed glazier or engineer"),
    english("the building official"),
)


@dataclass(frozen=True)
class MakerChart:
    """The film maker's limits as typed from its chart; None is not typed.

    Parameters
    ----------
    max_area_m2, max_side_mm, max_thickness_mm, max_altitude_m : float or None [m2], [mm], [mm], [m]
    max_age_years, max_slope_deg, max_absorptance : float or None [years], [deg], [1]
        Largest allowed; the slope from the vertical, the absorptance of glass and film together.
    tinted, laminated, wired, patterned, three_panes, fogged : bool or None
    plastic, shadows, heaters, dark_frames : bool or None
        Whether the chart allows the film there; on plastic, whether the film is stated for it.
    """

    max_area_m2: float | None = None
    max_side_mm: float | None = None
    max_thickness_mm: float | None = None
    max_altitude_m: float | None = None
    max_age_years: float | None = None
    max_slope_deg: float | None = None
    max_absorptance: float | None = None
    tinted: bool | None = None
    laminated: bool | None = None
    wired: bool | None = None
    patterned: bool | None = None
    three_panes: bool | None = None
    fogged: bool | None = None
    plastic: bool | None = None
    shadows: bool | None = None
    heaters: bool | None = None
    dark_frames: bool | None = None


@dataclass(frozen=True)
class Reason:
    """One reason behind a decision.

    Attributes
    ----------
    decision : str
        ``ask`` or ``refuse``.
    text : str
    who : str
        Who decides it.
    about : str
        The quantity, where the reason is one of too much: ``difference`` [K], ``absorptance`` [1], ``area``
        [m2], ``longest side`` [mm], ``thickness`` [mm], ``altitude`` [m], ``age`` [years], ``slope`` [deg].
    value, limit : float or None
        Found, and allowed where a limit is known, in that unit.
    makers : bool
        Whether the film maker's written approval of this film on this glass settles it.
    """

    decision: str
    text: str
    who: str
    about: str = ""
    value: float | None = None
    limit: float | None = None
    makers: bool = False


@dataclass(frozen=True)
class Screen:
    """Result of the screen.

    Attributes
    ----------
    decision : str
        ``nothing_found``, ``ask`` or ``refuse``.
    reasons : tuple of Reason
        Gravest first; empty where nothing is found.
    who : tuple of str
        Order of authority, whatever the decision.
    worst, worst_bare : Difference
        With the largest share of its limit, with the film and without it.
    absorptance : float [1]
        Of the filmed pane with its film, at normal incidence.
    differences : tuple of Difference
    """

    decision: str
    reasons: tuple[Reason, ...]
    who: tuple[str, ...]
    worst: Difference
    worst_bare: Difference
    absorptance: float
    differences: tuple[Difference, ...]


def _worst(found: tuple[Difference, ...]) -> Difference:
    return max(found, key=lambda one: one.difference / one.limit)


def screen(
    glazing: Glazing,
    facts: PaneFacts,
    *,
    chart: MakerChart | None = None,
    scenarios: tuple[Scenario, ...] = SCENARIOS,
) -> Screen:
    """Screen a filmed glazing for thermal breakage.

    Parameters
    ----------
    glazing : Glazing
        With its film on (`reportkit.physics.glass.with_film`).
    facts : PaneFacts
    chart : MakerChart or None
        What the user typed from the film maker's chart.
    scenarios : tuple of Scenario
        Days to try; at least one.

    Returns
    -------
    Screen

    Raises
    ------
    ValueError
        The glazing carries no film, or there are no days.

    Notes
    -----
    A worse fact never gives a milder decision. Until the chart's limit is typed, glass that is large, thick,
    tinted, old, fogged, laminated, of three panes, sloped, high up or in a shadow is ``ask``; past a typed
    limit it is ``refuse``.
    """
    if glazing.film_face is None:
        raise ValueError(f"{glazing.id} carries no film: put one on with with_film first")
    if not scenarios:
        raise ValueError("at least one scenario is needed")
    chart = MakerChart() if chart is None else chart
    bare = without_film(glazing)
    lite = 0 if glazing.film_face == 1 else len(glazing.lites) - 1
    absorptance = float(normal(glazing).a_solar[0, lite])
    added = absorptance - float(normal(bare).a_solar[0, lite])
    found = differences(glazing, facts, scenarios=scenarios)
    worst = _worst(found)
    reasons = [
        *_refusals(glazing, facts, chart, added),
        *_heat_reasons(glazing, facts, chart, worst, lite, absorptance),
        *_chart_reasons(glazing, facts, chart),
    ]
    reasons.sort(key=lambda reason: -DECISIONS.index(reason.decision))
    return Screen(
        decision=reasons[0].decision if reasons else DECISIONS[0],
        reasons=tuple(reasons),
        who=AUTHORITY,
        worst=worst,
        worst_bare=_worst(differences(bare, facts, scenarios=scenarios)),
        absorptance=absorptance,
        differences=found,
    )


def _refusals(glazing: Glazing, facts: PaneFacts, chart: MakerChart, added: float) -> list[Reason]:
    """What is refused whatever the numbers say (common practice)."""
    film_maker, glazier = AUTHORITY[0], AUTHORITY[2]
    tests = (
        (
            any("wired" in one.marks for one in glazing.lites)
            and glazing.film_side == "inside"
            and added > ABSORBING,
            translatable("wired glass with an absorbing film inside: the wire starts cracks"),
            film_maker,
            True,
        ),
        (
            facts.plastic and chart.plastic is not True,
            translatable("a plastic the film is not stated for"),
            film_maker,
            False,
        ),
        (facts.other_film, translatable("a second layer of film"), film_maker, True),
        (facts.part_covered, translatable("film on part of a pane heats that part only"), film_maker, True),
        (
            facts.damaged_edge,
            translatable("chips or cracks at the edge: the pane is weaker than any limit"),
            glazier,
            False,
        ),
        (facts.textured, translatable("a textured face: film does not lie flat on it"), film_maker, False),
    )
    return [Reason("refuse", text, who, makers=makers) for test, text, who, makers in tests if test]


def _heat_reasons(
    glazing: Glazing, facts: PaneFacts, chart: MakerChart, worst: Difference, lite: int, absorptance: float
) -> list[Reason]:
    """Reasons from the computed difference and from the absorptance."""
    reasons = []
    share = worst.difference / worst.limit
    if share >= ASK_SHARE:
        reasons.append(
            Reason(
                "refuse" if share >= 1.0 else "ask",
                translatable(
                    "{day}: the middle of pane {pane} is {difference:.0f} warmer than its edge, "
                    "of {limit:.0f} allowed for it",
                    day=translatable(worst.scenario),
                    pane=worst.lite,
                    difference=Quantity(worst.difference, "K", worst.limit),
                    limit=Quantity(worst.limit, "K", worst.difference),
                ),
                AUTHORITY[0] if share < 1.0 else AUTHORITY[2],
                "difference",
                worst.difference,
                worst.limit,
                makers=True,
            )
        )
    weak = glazing.lites[lite].temper in ("annealed", "unknown")
    limit = ASK_ABSORPTANCE if chart.max_absorptance is None else chart.max_absorptance
    if weak and absorptance >= limit:
        typed = chart.max_absorptance is not None
        reasons.append(
            Reason(
                "refuse" if typed else "ask",
                translatable(
                    english(
                        "glass and film together absorb {found:.0f} of the sun; the chart's limit {limit:.0f}"
                    )
                    if typed
                    else english(
                        "glass and film together absorb {found:.0f} of the sun; annealed glass is to be "
                        "asked about from {limit:.0f}"
                    ),
                    found=Quantity(100.0 * absorptance, "%", 100.0 * limit),
                    limit=Quantity(100.0 * limit, "%", 100.0 * absorptance),
                ),
                AUTHORITY[0],
                "absorptance",
                absorptance,
                limit,
                makers=True,
            )
        )
    if any(one.temper == "unknown" for one in glazing.lites):
        reasons.append(Reason("ask", english("annealed or tempered is not known"), AUTHORITY[1]))
    if facts.edge == "unknown" and any(one.temper in ("annealed", "unknown") for one in glazing.lites):
        reasons.append(Reason("ask", english("the finish of the edge is not known"), AUTHORITY[1]))
    if facts.plastic and chart.plastic:
        reasons.append(Reason("ask", english("plastic: the balance here is for glass"), AUTHORITY[0]))
    return reasons


def _chart_reasons(glazing: Glazing, facts: PaneFacts, chart: MakerChart) -> list[Reason]:
    """Reasons that the film maker's chart settles once it is typed."""
    marks = {mark for lite in glazing.lites for mark in lite.marks}
    thickest = max(lite.thickness_mm for lite in glazing.lites)
    reasons = []
    for word, value, unit, usual, typed in (
        (translatable("area"), facts.area_m2, "m²", LARGE_M2, chart.max_area_m2),
        (
            translatable("longest side"),
            max(facts.width_mm, facts.height_mm),
            "mm",
            math.inf,
            chart.max_side_mm,
        ),
        (translatable("thickness"), thickest, translatable("mm"), THICK_MM, chart.max_thickness_mm),
        (translatable("altitude"), facts.altitude_m, "m", HIGH_M, chart.max_altitude_m),
        (translatable("slope from the vertical"), abs(facts.slope_deg), "°", SLOPED_DEG, chart.max_slope_deg),
        (translatable("age"), facts.age_years or 0.0, translatable("years"), OLD_YEARS, chart.max_age_years),
    ):
        about = word.split()[0] if word.startswith("slope") else word
        if typed is not None and value > typed:
            text = translatable(
                "{name} {value:.4g}, chart's limit {limit:.4g}",
                name=word,
                value=Quantity(value, unit, typed),
                limit=Quantity(typed, unit, value),
            )
            reasons.append(Reason("refuse", text, AUTHORITY[0], about, value, typed, makers=True))
        elif typed is None and value > usual:
            text = translatable(
                "{name} {value:.3g}: the chart's limit is not typed",
                name=word,
                value=Quantity(value, unit),
            )
            reasons.append(Reason("ask", text, AUTHORITY[0], about, value, makers=True))
    for word, present, allowed in (
        (translatable("tinted glass"), "tinted" in marks, chart.tinted),
        (translatable("laminated glass"), "laminated" in marks, chart.laminated),
        (translatable("wired glass"), "wired" in marks, chart.wired),
        (translatable("patterned glass"), "patterned" in marks, chart.patterned),
        (translatable("three panes"), len(glazing.lites) == 3, chart.three_panes),
        (translatable("a fogged unit, whose seal has failed"), facts.fogged, chart.fogged),
        (translatable("a moving shadow on the pane"), facts.shadow == "moving", chart.shadows),
        (translatable("a narrow shadow on the pane"), facts.shadow == "narrow", chart.shadows),
        (translatable("a heater or blown air close to the glass"), facts.heater, chart.heaters),
        (translatable("a dark frame"), facts.dark_frame, chart.dark_frames),
    ):
        if present and allowed is not True:
            text = translatable(
                english("{what}: the chart does not allow it")
                if allowed is False
                else english("{what}: not typed from the chart"),
                what=word,
            )
            reasons.append(Reason("refuse" if allowed is False else "ask", text, AUTHORITY[0], makers=True))
    if facts.fill < 1.0:
        shaped = english("a shaped pane: curves and points are cut by hand, and such edges break sooner")
        reasons.append(Reason("ask", shaped, AUTHORITY[0], makers=True))
    return reasons


def film_refusal(glazing: Glazing, film: Film, *, side: str | None = None) -> Reason | None:
    """Say why a film cannot be put on a glazing at all, as a reason of the screen.

    Parameters
    ----------
    glazing : Glazing
        Without the film.
    film : Film
    side : str or None
        ``inside`` or ``outside``; None is the side the film is made for.

    Returns
    -------
    Reason or None
        None where `reportkit.physics.glass.with_film` would put it on.
    """
    try:
        with_film(glazing, film, side=side)
    except ValueError as error:
        return Reason("refuse", reason_of(error), AUTHORITY[0])
    return None
