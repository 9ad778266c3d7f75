"""When to fit which pane: out of the sun, on a clear day, by the clock of the site.

Film is fitted on glass that the sun is not on and that is warm enough, in the order of `placing`. Clouds
would only make it easier. Not counted: breaks, meals, travel, carrying in again on a second day.

Marks: cure bands are those of trade associations' guides; days, hours and the least glass temperature
are common practice, no source.
"""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from reportkit.base.arrays import Array, Mask
from reportkit.physics import sun
from reportkit.study import translate
from reportkit.study.placing import STEP, Slot, Task, place

if TYPE_CHECKING:
    from reportkit.climate import Weather
    from reportkit.job import LoadedJob
    from reportkit.job.model import Pane
    from reportkit.study.options import Option
    from reportkit.study.situation import Situation
    from reportkit.work.labour import Labour


#: More of a pane than this in the sun is in the sun [1].
LIT = 0.05

#: Glass colder than this is not fitted [C].
LEAST_GLASS_C = 5.0

#: Share of days near the date that are colder than the one planned with [1].
COLD_DAY = 0.1

#: A room whose heating is not described is taken as this warm [C].
ROOM_C = 18.0

#: Surface resistances inside and outside [m2K/W] (EN 673, ISO 6946).
R_INSIDE, R_OUTSIDE = 0.13, 0.04

#: Days until film has cleared, by its thickness up to [um].
CURE: tuple[tuple[float, int], ...] = ((100.0, 30), (200.0, 60), (math.inf, 90))

#: Days to the first cleaning; 14 to 30 are usual, the longer is safer.
FIRST_CLEANING = 30


@dataclass(frozen=True)
class Schedule:
    """The plan of a job.

    ``slots`` in order; ``sun`` for each pane of the job the spans [min after midnight] in which the sun is
    on it on the first day; ``glass_c`` for each slot the coldest the glass is likely to be [C], None where
    the outdoor temperature is not known. Days are calendar days of the site.
    """

    day: dt.date
    slots: tuple[Slot, ...]
    panes: tuple[int, ...]
    glass_c: tuple[float | None, ...]
    sun: tuple[tuple[tuple[int, int], ...], ...]

    @property
    def days(self) -> tuple[dt.date, ...]:
        """The days worked on."""
        return tuple(dict.fromkeys(slot.start.date() for slot in self.slots))

    @property
    def order(self) -> tuple[int, ...]:
        """Panes of the job (their places in it) in the order in which they are first worked on."""
        return tuple(dict.fromkeys(self.panes[slot.task] for slot in self.slots))


def cure_days(thickness_um: float) -> int:
    """Return the days until film of a thickness [um] has cleared."""
    return next(days for most, days in CURE if thickness_um <= most)


def spans(lit: Mask) -> tuple[tuple[int, int], ...]:
    """Return the spans of a day in which steps are lit [min after midnight]."""
    edges = np.flatnonzero(np.diff(np.concatenate([[0], lit.astype(int), [0]])))
    return tuple((int(a) * STEP, int(b) * STEP) for a, b in edges.reshape(-1, 2))


def lit_steps(loaded: LoadedJob, panes: tuple[Pane, ...]) -> Callable[[dt.date], Mask]:
    """Return a function from a day to whether the sun is on each pane at each step of it, (144, P)."""
    import pandas as pd

    shade = translate.shade(loaded.job, panes)
    known: dict[dt.date, Mask] = {}

    def lit(day: dt.date) -> Mask:
        if day not in known:
            first = pd.Timestamp(day)
            step = pd.Timedelta(minutes=STEP)
            clock = pd.date_range(first, first + pd.Timedelta(days=1), freq=step, inclusive="left")
            times = (clock + step / 2).tz_localize(loaded.clock, ambiguous=True, nonexistent="shift_forward")
            position = sun.position(
                times,
                latitude=loaded.latitude,
                longitude=loaded.longitude,
                elevation=loaded.elevation_m,
            )
            known[day] = sun.sunlit_fraction(position, shade) > LIT
        return known[day]

    return lit


def schedule(situation: Situation, chosen: Option, labour: Labour) -> Schedule | None:
    """Return the plan of a job's chosen film; None where no day is set or nothing is fitted.

    Parameters
    ----------
    situation
        The job, its sun and its glass.
    chosen
        The film on each pane.
    labour
        The minutes that its panes take.
    """
    job = situation.job
    day = job.fitting.date
    if day is None or not labour.panes:
        return None
    lit = lit_steps(situation.loaded, job.panes)
    place_of = {pane.id: number for number, pane in enumerate(job.panes)}
    numbers = tuple(place_of[line.id] for line in labour.panes)

    def of_pane(number: int) -> Callable[[dt.date], Mask]:
        return lambda when: lit(when)[:, number]

    tasks = [
        Task(line.id, line.each.likely * line.people / labour.crew, line.quantity, of_pane(number))
        for line, number in zip(labour.panes, numbers, strict=True)
    ]
    slots = place(
        tasks,
        day=day,
        start=_minutes(job.fitting.start),
        finish=_minutes(job.fitting.finish),
        set_up=labour.set_up.likely,
    )
    outdoor = {when: outdoor_c(situation.weather, when) for when in {slot.start.date() for slot in slots}}
    glass = tuple(
        _glass_c(situation, chosen, numbers[slot.task], slot, outdoor[slot.start.date()]) for slot in slots
    )
    return Schedule(day, slots, numbers, glass, tuple(spans(column) for column in lit(day).T))


def _minutes(clock: str) -> int:
    hours, minutes = clock.split(":")
    return 60 * int(hours) + int(minutes)


def outdoor_c(weather: Weather, day: dt.date) -> Array:
    """Return for each hour the outdoor temperature that one day in ten is under, within a week of a day.

    Shape (24,) [C]; nan where the weather does not know it.
    """
    apart = np.abs(np.asarray(weather.times.day_of_year) - day.timetuple().tm_yday)
    near = np.minimum(apart, 365 - apart) <= 7
    hour, known = np.asarray(weather.times.hour)[near], weather.temp_air[near]
    coldest = np.full(24, np.nan)
    for number in range(24):
        values = known[hour == number]
        if values.size:
            coldest[number] = np.quantile(values, COLD_DAY)
    return coldest


def _glass_c(situation: Situation, chosen: Option, number: int, slot: Slot, outdoor: Array) -> float | None:
    """Return the coldest that the face to be filmed of a pane is likely to be during a slot [C].

    ``outdoor`` is that day's cold air by the hour (`outdoor_c`).
    """
    pane = situation.job.panes[number]
    rating = situation.filmed[pane.glazing, None].rating
    film = situation.films[chosen.film_by_pane[number] or ""]
    room = next(entry for entry in situation.job.rooms if entry.id == pane.room)
    heating = room.heat.heating if room.heat else None
    inside = float(heating.set_point) if heating else ROOM_C
    last = slot.end - dt.timedelta(minutes=1)
    begin = slot.start.replace(minute=0)
    count = min(24, int((last - begin) / dt.timedelta(hours=1)) + 1)  # a pane may take until the next day
    hours = [(slot.start.hour + number) % 24 for number in range(count)]
    outside = float(np.min(outdoor[hours]))
    if math.isnan(outside) or rating is None:
        return None
    flow = rating.u_w_m2k * (inside - outside)
    return outside + R_OUTSIDE * flow if film.side == "outside" else inside - R_INSIDE * flow
