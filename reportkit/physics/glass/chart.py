"""The film maker's glass-compatibility chart as far as it is typed, and what it settles."""

from __future__ import annotations

import math
from dataclasses import dataclass

from reportkit.base.translatable import Quantity, english, translatable
from reportkit.physics.glass.edge import PaneFacts
from reportkit.physics.glass.glazing import Glazing
from reportkit.physics.glass.reason import AUTHORITY, Reason

# From here on a pane counts as large, thick, high or old until the film maker's chart says otherwise (common
# practice, no source).
LARGE_M2, THICK_MM, HIGH_M, OLD_YEARS, SLOPED_DEG = 2.5, 6.5, 1500.0, 20.0, 10.0


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


def chart_reasons(glazing: Glazing, facts: PaneFacts, chart: MakerChart) -> list[Reason]:
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
                "{name} {value:.3g}: the limit of the film maker's chart is not known",
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
                else english("{what}: whether the film maker's chart allows it is not known"),
                what=word,
            )
            reasons.append(Reason("refuse" if allowed is False else "ask", text, AUTHORITY[0], makers=True))
    if facts.fill < 1.0:
        shaped = english("a shaped pane: curves and points are cut by hand, and such edges break sooner")
        reasons.append(Reason("ask", shaped, AUTHORITY[0], makers=True))
    return reasons
