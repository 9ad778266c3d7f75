"""Thermal breakage screen of filmed glass: nothing found, ask or refuse, with reasons and who decides.

Sun warms the middle of a pane while its edge stays cool in the frame; the edge is then pulled by kt E alpha
(T_mean - T_edge). The middle comes from the centre-of-glass balance under a few days of weather, the edge
from a fin in the frame's rebate. Two things are not known: how closely the rebate couples the edge to the
frame, and, where a film's sheet leaves values out, which of the films that fit it this is. All are tried.
Nothing is found only where the worst of them passes; the film is refused only where the best of them fails;
in between somebody is asked. So a sheet that says less is never judged milder. The frame's temperature is an
assumption: this is a screen and no more, and never says that glass will not break. Whatever it returns, the
film maker's glass-compatibility chart decides first, then the glass or window maker, then a licensed glazier
or engineer, then the building official.

Not covered: load from wind, impact or sealed-unit pressure; heaters and cold air blown on glass; damage that
cannot be seen. ASTM E2431 covers single annealed panes with undamaged edges and excludes blinds, heat traps,
conditioned air on the glass and transients: a film job is usually outside it.

References
----------
Absorptance of half the sun or more on annealed glass: trade associations' guide. ASTM E2431, scope (as
quoted). Refusals and the order of authority: common practice.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from reportkit.base.translatable import Quantity, english, translatable
from reportkit.physics.glass.chart import MakerChart, chart_reasons
from reportkit.physics.glass.edge import SCENARIOS, Difference, PaneFacts, Scenario, differences, of_films
from reportkit.physics.glass.glazing import Glazing, without_film
from reportkit.physics.glass.optics import normal
from reportkit.physics.glass.reason import AUTHORITY, DECISIONS, Decision, Reason
from reportkit.physics.glass.spread import Spread, spread

ASK_ABSORPTANCE = 0.5  # annealed glass with film; trade associations' guide
ABSORBING = 0.05  # a film that adds more than this to a wired pane counts as absorbing (assumption)


@dataclass(frozen=True)
class Screen:
    """Result of the screen.

    Attributes
    ----------
    decision : Decision
        ``nothing_found``, ``ask`` or ``refuse``.
    reasons : tuple of Reason
        Gravest first; empty where nothing is found.
    who : tuple of str
        Order of authority, whatever the decision.
    worst, worst_bare : Difference
        Of the pane nearest its limit, with the film and without it: its likely worst day, and the spread of
        the worst of all days, over every rebate and every film that fits the sheet.
    absorptance : Spread [1]
        Of the filmed pane with its film, at normal incidence, over the films that fit the sheet.
    differences : tuple of Difference
        Of the film computed with.
    """

    decision: Decision
    reasons: tuple[Reason, ...]
    who: tuple[str, ...]
    worst: Difference
    worst_bare: Difference
    absorptance: Spread
    differences: tuple[Difference, ...]


def _worst(films: Sequence[Sequence[Difference]]) -> Difference:
    """Return the pane nearest its limit with the spread of its worst day over films; the first is likely."""
    worst_days = []
    for lite in {one.lite for one in films[0]}:
        by_film = [[one for one in days if one.lite == lite] for days in films]
        day = max(by_film[0], key=lambda one: one.difference.likely)
        least = [max(one.difference.low for one in days) for days in by_film]
        most = [max(one.difference.high for one in days) for days in by_film]
        worst_days.append(replace(day, difference=spread(day.difference.likely, least, most)))
    return max(worst_days, key=lambda one: one.gravity)


def screen(
    glazing: Glazing,
    facts: PaneFacts,
    *,
    chart: MakerChart | None = None,
    scenarios: tuple[Scenario, ...] = SCENARIOS,
    others: Sequence[Glazing] = (),
) -> Screen:
    """Screen a filmed glazing for thermal breakage.

    Parameters
    ----------
    glazing : Glazing
        With its film on (`reportkit.physics.glass.with_film`), the one computed with.
    facts : PaneFacts
    chart : MakerChart or None
        What the user typed from the film maker's chart.
    scenarios : tuple of Scenario
        Days to try; at least one.
    others : sequence of Glazing
        The same glass with the other films that fit what the sheet prints.

    Returns
    -------
    Screen

    Raises
    ------
    ValueError
        The glazing carries no film, or there are no days.

    Notes
    -----
    A worse fact never gives a milder decision, and no film among ``others`` turns a question into
    ``nothing_found``. Until the chart's limit is typed, glass that is large, thick, tinted, old, fogged,
    laminated, of three panes, sloped, high up or in a shadow is ``ask``; past a typed limit it is ``refuse``.
    """
    if glazing.film_face is None:
        raise ValueError(f"{glazing.id} carries no film: put one on with with_film first")
    if not scenarios:
        raise ValueError("at least one scenario is needed")
    chart = MakerChart() if chart is None else chart
    bare = without_film(glazing)
    lite = 0 if glazing.film_face == 1 else len(glazing.lites) - 1
    with_films = (glazing, *others)
    lights = [normal(one) for one in with_films]
    shares = [float(light.a_solar[0, lite]) for light in lights]
    absorptance = spread(shares[0], shares)
    without = float(normal(bare).a_solar[0, lite])
    by_film = of_films(with_films, lights, facts, scenarios=scenarios)
    worst = _worst(by_film)
    reasons = [
        *_refusals(glazing, facts, chart, absorptance.low - without, absorptance.high - without),
        *_heat_reasons(glazing, facts, chart, worst, lite, absorptance),
        *chart_reasons(glazing, facts, chart),
    ]
    reasons.sort(key=lambda reason: -DECISIONS.index(reason.decision))
    return Screen(
        decision=reasons[0].decision if reasons else DECISIONS[0],
        reasons=tuple(reasons),
        who=AUTHORITY,
        worst=worst,
        worst_bare=_worst([differences(bare, facts, scenarios=scenarios)]),
        absorptance=absorptance,
        differences=by_film[0],
    )


def _refusals(
    glazing: Glazing, facts: PaneFacts, chart: MakerChart, least: float, most: float
) -> list[Reason]:
    """What is refused whatever the numbers say (common practice); the film adds so much absorptance [1]."""
    film_maker, glazier = AUTHORITY[0], AUTHORITY[2]
    on_wire = any("wired" in one.marks for one in glazing.lites) and glazing.film_side == "inside"
    if on_wire and least <= ABSORBING < most:
        why = english(
            "wired glass, and the sheet leaves open whether the film absorbs: the wire starts cracks"
        )
        return [Reason("ask", why, film_maker, makers=True), *_refusals(glazing, facts, chart, least, least)]
    tests = (
        (
            on_wire and least > ABSORBING,
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
    )
    return [Reason("refuse", text, who, makers=makers) for test, text, who, makers in tests if test]


def _heat_reasons(
    glazing: Glazing, facts: PaneFacts, chart: MakerChart, worst: Difference, lite: int, absorptance: Spread
) -> list[Reason]:
    """Reasons from the computed difference and from the absorptance."""
    reasons = []
    if worst.asks:
        reasons.append(
            Reason(
                "refuse" if worst.refuses else "ask",
                translatable(
                    "{day}: the middle of pane {pane} is {low:.0f} to {high:.0f} warmer than its edge, "
                    "of {limit:.0f} allowed for it",
                    day=translatable(worst.scenario),
                    pane=worst.lite,
                    low=Quantity(worst.difference.low, "K", worst.limit),
                    high=Quantity(worst.difference.high, "K", worst.limit),
                    limit=Quantity(
                        worst.limit, "K", worst.difference.low if worst.refuses else worst.difference.high
                    ),
                ),
                AUTHORITY[2] if worst.refuses else AUTHORITY[0],
                "difference",
                worst.difference.high,
                worst.limit,
                makers=True,
                least=worst.difference.low,
            )
        )
    weak = glazing.lites[lite].temper in ("annealed", "unknown")
    limit = ASK_ABSORPTANCE if chart.max_absorptance is None else chart.max_absorptance
    if weak and absorptance.high >= limit:
        reasons.append(_absorbs(absorptance, limit, typed=chart.max_absorptance is not None))
    if any(one.temper == "unknown" for one in glazing.lites):
        reasons.append(Reason("ask", english("annealed or tempered is not known"), AUTHORITY[1]))
    if facts.edge == "unknown" and any(one.temper in ("annealed", "unknown") for one in glazing.lites):
        reasons.append(Reason("ask", english("the finish of the edge is not known"), AUTHORITY[1]))
    if facts.plastic and chart.plastic:
        reasons.append(Reason("ask", english("plastic: the balance here is for glass"), AUTHORITY[0]))
    return reasons


def _absorbs(absorptance: Spread, limit: float, *, typed: bool) -> Reason:
    """The reason that glass and film together absorb too much, or may."""
    least, most = 100.0 * absorptance.low, 100.0 * absorptance.high
    open_ended = most - least >= 0.5
    if open_ended:
        text = translatable(
            english(
                "glass and film together absorb {least:.0f} to {found:.0f} of the sun, by what the sheet "
                "leaves open; the chart's limit {limit:.0f}"
            )
            if typed
            else english(
                "glass and film together absorb {least:.0f} to {found:.0f} of the sun, by what the sheet "
                "leaves open; annealed glass is to be asked about from {limit:.0f}"
            ),
            least=Quantity(least, "%", 100.0 * limit),
            found=Quantity(most, "%", 100.0 * limit),
            limit=Quantity(100.0 * limit, "%", most),
        )
    else:
        text = translatable(
            english("glass and film together absorb {found:.0f} of the sun; the chart's limit {limit:.0f}")
            if typed
            else english(
                "glass and film together absorb {found:.0f} of the sun; annealed glass is to be "
                "asked about from {limit:.0f}"
            ),
            found=Quantity(most, "%", 100.0 * limit),
            limit=Quantity(100.0 * limit, "%", most),
        )
    return Reason(
        "refuse" if typed and absorptance.low >= limit else "ask",
        text,
        AUTHORITY[0],
        "absorptance",
        absorptance.high,
        limit,
        makers=True,
        least=absorptance.low if open_ended else None,
    )
