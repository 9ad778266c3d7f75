"""The breakage screen of a job: every pane with every film, on the worst days of its own weather.

For each season the screen takes the hour in which the middle of the glass would be warmest against its
frame: the sun and shadow of that hour at that pane, the air outside, a room at its set point. An overhang, a
fin, a reveal or a skyline that shades part of the pane in that hour leaves its edge in diffuse light only.
The frame's temperature is an assumption. The verdict is nothing found, ask or refuse, never "safe".

References: `reportkit.physics.glass.breakage` for limits, refusals and the order of authority.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from reportkit.base.translatable import english, joined
from reportkit.physics import glass
from reportkit.physics.glass.reason import AUTHORITY, DECISIONS, Decision

if TYPE_CHECKING:
    from reportkit.climate import Weather
    from reportkit.job import LoadedJob
    from reportkit.job.model import Approval, Chart, GlazingSpec, Pane
    from reportkit.study.filmed import Filmed
    from reportkit.study.solar import Solar


NOTHING_FOUND, ASK, REFUSE = DECISIONS

#: The twelve months by season north of the equator, its name, room [C], and outdoor air [C] where the
#: weather does not know it (common practice, no source).
SEASONS: tuple[tuple[str, tuple[int, ...], float, float], ...] = (
    (english("a clear winter day"), (11, 12, 1, 2), 20.0, -5.0),
    (english("a clear day near the equinox"), (3, 4, 9, 10), 21.0, 8.0),
    (english("a clear summer day"), (5, 6, 7, 8), 26.0, 32.0),
)

#: The frame follows the coldest air of the last hours, and the room by a share: less around single glass
#: than around the inner pane of a sealed unit (assumptions).
FRAME_HOURS = 3
FRAME_FROM_ROOM = {"single": 0.2, "sealed": 0.4}

#: Calm air lets glass run hotter: no more wind than this is counted on [m/s] (common practice, no source).
CALM = 2.0

#: Between these sunlit shares a pane counts as partly in shadow.
PART_LIT = (0.05, 0.95)

#: A single pane's balance, roughly, to find the worst hours by: absorbed share, coefficients [W/m2/K].
_ABSORBED, _OUTSIDE, _INSIDE = 0.5, 15.0, 8.0

#: Why no film goes on glass that is there to gather the sun.
COLLECTOR = english("it gathers the sun for a collector or for a room heated by the winter sun")


@dataclass(frozen=True)
class Case:
    """A worst hour at a pane: when it is, and the day as the screen takes it."""

    time: dt.datetime
    day: glass.Scenario


@dataclass(frozen=True)
class Screening:
    """What the screen says of one film on one pane.

    ``screen`` and ``cases`` are missing where the film cannot go on that glass at all. An ``approval`` by the
    film maker leaves verdict and reasons as they are, and settles those that are the film maker's.
    """

    verdict: Decision
    reasons: tuple[glass.Reason, ...]
    who: tuple[str, ...]
    screen: glass.Screen | None = None
    cases: tuple[Case, ...] = ()
    approval: Approval | None = None

    def settled(self, reason: glass.Reason) -> bool:
        """Return whether the film maker's written approval settles a reason."""
        return self.approval is not None and reason.makers

    @property
    def refusal(self) -> str:
        """Why the film is refused and nobody's approval settles it, or empty."""
        reasons = [
            reason.text for reason in self.reasons if reason.decision == REFUSE and not self.settled(reason)
        ]
        return joined("; ", reasons) if reasons else ""


Screenings = Mapping[tuple[str, str], Screening]


def screenings(
    loaded: LoadedJob, filmed: Filmed, weather: Weather, on: Solar, films: Mapping[str, Chart | None]
) -> Screenings:
    """Return the screen of every pane with every film, by pane and film id.

    Parameters
    ----------
    loaded
        The job.
    filmed
        Every glazing bare and with each film.
    weather, on
        The weather, and the sun on the panes.
    films
        The film maker's chart of each film as far as it is typed.
    """
    screens: dict[tuple[str, str], Screening] = {}
    glazings = {spec.id: spec for spec in loaded.job.glazings}
    for index, pane in enumerate(loaded.job.panes):
        days = cases(index, loaded, weather, on)
        spec = glazings[pane.glazing]
        for film_id, typed in films.items():
            glazed = filmed[pane.glazing, film_id]
            if glazed.glazing is None or pane.collector:
                why = COLLECTOR if pane.collector else glazed.refusal
                reason = glass.Reason(REFUSE, why, AUTHORITY[0])
                screens[pane.id, film_id] = Screening(REFUSE, (reason,), AUTHORITY)
                continue
            made = glass.screen(
                glazed.glazing,
                facts(pane, spec, loaded),
                chart=chart(typed),
                scenarios=tuple(case.day for case in days),
                others=glazed.others,
            )
            written = approval(loaded, pane, film_id) if any(one.makers for one in made.reasons) else None
            screens[pane.id, film_id] = Screening(made.decision, made.reasons, made.who, made, days, written)
    return screens


def harsher(one: Screenings, other: Screenings) -> Screenings:
    """Return of two screens of the same panes and films the one that finds more against each."""
    return {key: max(one[key], other[key], key=_against) for key in one}


def _against(screened: Screening) -> tuple[int, float]:
    """Return how much a screen holds against a film: its verdict, then the share of the limit reached."""
    worst = screened.screen.worst if screened.screen else None
    return DECISIONS.index(screened.verdict), worst.difference.high / worst.limit if worst else 0.0


def approval(loaded: LoadedJob, pane: Pane, film_id: str) -> Approval | None:
    """Return the film maker's written approval of a film on a pane, the newest of several."""
    written = [
        one
        for one in loaded.job.approvals
        if one.film == film_id
        and (one.glazing == pane.glazing or pane.id in one.panes or pane.row in one.panes)
    ]
    return max(written, key=lambda one: one.date, default=None)


def facts(pane: Pane, spec: GlazingSpec, loaded: LoadedJob) -> glass.PaneFacts:
    """Return what the survey says of a pane, for the screen.

    A shadow nobody noted is left to the hours' own geometry.
    """
    job = loaded.job
    tilt = next(face.tilt for face in job.faces if face.id == pane.face)
    return glass.PaneFacts(
        width_mm=float(pane.width),
        height_mm=float(pane.height),
        fill=pane.fill,
        edge="worked" if pane.edge == "worked" else "cut",
        damaged_edge=pane.edge == "damaged",
        blind=pane.blind,
        shadow="still" if pane.shadow == "none" else pane.shadow,
        heater=pane.heater,
        dark_frame=pane.dark_frame,
        fogged=pane.fogged,
        plastic=pane.plastic,
        part_covered=pane.part_covered,
        slope_deg=abs(90.0 - tilt),
        altitude_m=max(0.0, loaded.elevation_m),
        age_years=None if spec.year is None else float(max(0, job.day.year - spec.year)),
    )


def chart(typed: Chart | None) -> glass.MakerChart:
    """Return the film maker's limits as far as they are typed."""
    if typed is None:
        return glass.MakerChart()
    absorptance = typed.max_absorptance_percent
    return glass.MakerChart(
        max_area_m2=typed.max_area,
        max_side_mm=None if typed.max_side is None else float(typed.max_side),
        max_thickness_mm=typed.max_thickness_mm,
        max_altitude_m=typed.max_altitude_m,
        max_age_years=typed.max_age_years,
        max_slope_deg=typed.max_slope_deg,
        max_absorptance=None if absorptance is None else absorptance / 100,
        tinted=typed.tinted,
        laminated=typed.laminated,
        wired=typed.wired,
        patterned=typed.patterned,
        three_panes=typed.three_panes,
        fogged=typed.fogged,
        plastic=typed.plastic,
        shadows=typed.shadows,
        heaters=typed.heaters,
        dark_frames=typed.dark_frames,
    )


def cases(index: int, loaded: LoadedJob, weather: Weather, on: Solar) -> tuple[Case, ...]:
    """Return the worst hour of each season at a pane.

    Parameters
    ----------
    index
        The pane's number.
    loaded, hours, on
        The job, its weather, the sun on its panes.
    """
    face = on.face_of[index]
    beam = on.faces.beam[:, face] + on.faces.circumsolar[:, face]
    with np.errstate(invalid="ignore", divide="ignore"):
        lit = np.where(beam > 1.0, (on.panes.beam[:, index] + on.panes.circumsolar[:, index]) / beam, 0.0)
    spread = on.panes.sky[:, index] + on.panes.ground[:, index]
    reached = lit > PART_LIT[0]
    sun = spread + np.where(reached, beam, 0.0)
    noted = loaded.job.panes[index].shadow != "none"
    shadowed = reached & (noted | (lit < PART_LIT[1]))
    month = np.asarray(weather.times.month)
    south = loaded.latitude < 0
    pane = loaded.job.panes[index]
    lites = next(len(spec.lites) for spec in loaded.job.glazings if spec.id == pane.glazing)
    share = FRAME_FROM_ROOM["single" if lites == 1 else "sealed"]
    worst_hours = []
    for name, months, room, outdoor in SEASONS:
        mine = tuple((number + 5) % 12 + 1 for number in months) if south else months
        air = np.where(np.isnan(weather.temp_air), outdoor, weather.temp_air)
        coldest = (
            air
            if weather.kind == "clear_sky"
            else np.min([np.roll(air, k) for k in range(FRAME_HOURS + 1)], 0)
        )
        frame = coldest + share * (room - coldest)
        middle = (_OUTSIDE * air + _INSIDE * room + _ABSORBED * sun) / (_OUTSIDE + _INSIDE)
        pull = middle - frame + np.where(shadowed, _ABSORBED * (sun - spread) / (_OUTSIDE + _INSIDE), 0.0)
        at = int(np.argmax(np.where(np.isin(month, mine), pull, -np.inf)))
        wind = float(weather.wind_speed[at])
        day = glass.Scenario(
            name,
            float(air[at]),
            room,
            float(frame[at]),
            float(sun[at]),
            float(spread[at] if shadowed[at] else sun[at]),
            min(CALM, wind) if np.isfinite(wind) else CALM,
        )
        worst_hours.append(Case(weather.times[at].to_pydatetime(), day))
    return tuple(worst_hours)
