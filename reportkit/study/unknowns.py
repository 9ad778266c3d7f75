"""What is not known exactly, room by room: each input as low, likely and high with its mark.

The same Sobol points serve every room of a job, so what is uncertain for all of them alike (the year's
weather, the film, prices) moves together.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from reportkit.base.translatable import english
from reportkit.physics.room import envelope, trust
from reportkit.physics.room.ranges import Uncertain

if TYPE_CHECKING:
    from reportkit.climate import Weather
    from reportkit.job.model import Body, Energy

#: How many samples stand behind every range.
SAMPLES = 128

#: Uncertain for every job alike. Spreads are common practice, no source.
COMMON: tuple[Uncertain, ...] = (
    Uncertain(
        "film_optics", 0.95, 1.0, 1.05, "1", "C", english("measured values of one film differ from its sheet")
    ),
    Uncertain(
        "shades_in_use",
        0.7,
        0.9,
        1.0,
        "1",
        "C",
        english("curtains and blinds keep some of the sun out already"),
    ),
    Uncertain(
        "set_point", -1.0, 0.0, 1.0, "K", "C", english("people set the clock and the dial as they feel")
    ),
    Uncertain("plant", 0.85, 1.0, 1.15, "1", "C", english("age and care of heating and cooling plant")),
    Uncertain(
        "film_side",
        0.0,
        0.5,
        1.0,
        "1",
        "C",
        english("where in its bounds a reflectance left out of a sheet lies"),
    ),
)

#: Of rooms whose windows open: free opening over the glass, and in what share of the hours in which people
#: would open them they do. Spreads are common practice, no source.
OPENING_SHARE = Uncertain(
    "opening_share", 0.1, 0.25, 0.6, "1", "C", english("windows are tilted, slid or swung open")
)
OPENING_HABIT = Uncertain(
    "opening_habit", 0.3, 0.7, 1.0, "1", "C", english("people do not open windows every time they could")
)

#: Where the growth of energy prices comes from, mark and reason, where the job gives it and where not.
GROWTH_TYPED = ("J", english("growth of energy prices, given by the job"))
GROWTH_TAKEN = ("C", english("low, likely and high rise of energy prices"))

#: How far one year differs from a typical one, by the kind of weather.
YEARS: dict[str, tuple[Uncertain, ...]] = {
    "typical_year": (
        Uncertain("year_sun", 0.94, 1.0, 1.06, "1", "C", english("sunny and dull years")),
        Uncertain("year_temperature", -0.8, 0.0, 0.8, "K", "C", english("warm and cold years")),
    ),
    "normals": (
        Uncertain("year_sun", 0.85, 1.0, 1.15, "1", "C", english("a year made from monthly means")),
        Uncertain("year_temperature", -1.2, 0.0, 1.2, "K", "C", english("a year made from monthly means")),
    ),
}

#: What that grows by for each 100 km between a site and its weather, and for each km of height: sun [1], then
#: temperature [K]. At the farthest that is accepted a file tells no more of the sun than monthly means of the
#: place do; lapse rates of 4 to 9 K/km are common where the standard's is 6.5 (common practice, no source).
AWAY = ((0.018, 0.03), (0.2, 2.5))


def unknowns(
    body: Body, weather: Weather, energy: Energy | None, opening_share: float | None
) -> tuple[Uncertain, ...]:
    """Return the uncertain inputs of a room, always in the same order.

    ``opening_share`` [1] is how much of its opening panes' glass comes free, None where it is not told.
    """
    wall = envelope.WALL_U[body.walls]
    roof = envelope.ROOF_U["insulated" if body.roof == "none" else body.roof]
    air = envelope.AIR_CHANGE[body.leakage]
    inner = envelope.INTERNAL[body.use]
    growth = energy.growth_percent if energy else (0.0, 0.0, 0.0)
    typed = energy is not None and "growth_percent" in energy.model_fields_set
    source = GROWTH_TYPED if typed else GROWTH_TAKEN
    return (
        *COMMON,
        *_year(weather),
        _given(wall, body.wall_u_w_m2k),
        _given(roof, body.roof_u_w_m2k),
        _given(air, body.air_changes_per_h),
        _given(inner, body.internal_gains_w_m2),
        Uncertain("price_growth", *growth, "%/yr", *source),
        _given(OPENING_SHARE, opening_share),
        OPENING_HABIT,
        *trust.MODEL,
    )


def _year(weather: Weather) -> tuple[Uncertain, ...]:
    """Return how far a year may differ, further where the weather is that of another place."""
    rows = YEARS[weather.kind]
    far, high = weather.distance_km / 100.0, abs(weather.climb_m) / 1000.0
    if far < 0.1 and high < 0.01:
        return rows
    why = english("warm, cold, sunny and dull years, and weather of another place")
    more = {
        row.key: far * per_100_km + high * per_km
        for row, (per_100_km, per_km) in zip(rows, AWAY, strict=True)
    }
    return tuple(
        replace(row, low=row.low - more[row.key], high=row.high + more[row.key], why=why) for row in rows
    )


def _given(row: Uncertain, value: float | None) -> Uncertain:
    """Return a default's row, or the job's own value within a tenth."""
    if value is None:
        return row
    return replace(
        row,
        low=0.9 * value,
        likely=value,
        high=1.1 * value,
        mark="J",
        why=english("given by the job, within a tenth"),
    )
