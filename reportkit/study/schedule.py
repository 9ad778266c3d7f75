"""When to fit which pane: out of the sun, on a clear day, by the clock of the site.

Film is fitted on glass that the sun is not on and that is warm enough. Each pane takes its minutes while
it is shaded for the whole of them; of the panes that could be next, the one that the sun will reach
soonest comes first, and panes that the sun never reaches wait for the gaps. Clouds would only make it
easier. Not counted: breaks, meals, travel, carrying in again on a second day.

Marks: cure bands are those of trade associations' guides; days, hours and the least glass temperature
are common practice, no source.
"""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from reportkit.base.arrays import Array, Mask
from reportkit.physics import sun
from reportkit.study import translate

if TYPE_CHECKING:
    from reportkit.climate import Weather
    from reportkit.job import LoadedJob
    from reportkit.job.model import Pane
    from reportkit.study.options import Option
    from reportkit.study.situation import Situation
    from reportkit.work.labour import Labour


#: Fineness of the clock [min].
STEP = 10

#: Usual hours of work [min after midnight].
START, FINISH = 8 * 60, 17 * 60

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
class Task:
    """Equal panes to fit: minutes for one of them with the crew on site [min], and how many.

    ``lit(day)`` gives for each step of a day whether the sun is on the pane.
    """

    id: str
    minutes: float
    quantity: int
    lit: Callable[[dt.date], Mask]


@dataclass(frozen=True)
class Slot:
    """Equal panes fitted one after the other: which task, how many, from and to on the site's clock.

    ``in_sun``: the sun is on them meanwhile, so they need a sheet hung outside.
    """

    task: int
    count: int
    start: dt.datetime
    end: dt.datetime
    in_sun: bool


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


def next_day(day: dt.date) -> dt.date:
    """Return the next day of work: not a Saturday or Sunday."""
    day += dt.timedelta(days=1)
    while day.weekday() > 4:
        day += dt.timedelta(days=1)
    return day


def spans(lit: Mask) -> tuple[tuple[int, int], ...]:
    """Return the spans of a day in which steps are lit [min after midnight]."""
    edges = np.flatnonzero(np.diff(np.concatenate([[0], lit.astype(int), [0]])))
    return tuple((int(a) * STEP, int(b) * STEP) for a, b in edges.reshape(-1, 2))


def place(
    tasks: Sequence[Task],
    *,
    day: dt.date,
    start: int = START,
    finish: int = FINISH,
    set_up: float = 0.0,
) -> tuple[Slot, ...]:
    """Return when each pane is fitted.

    Parameters
    ----------
    tasks
        What there is to fit.
    day
        The first day; further days are the next that are not Saturday or Sunday.
    start, finish
        Hours of work [min after midnight]. A pane that takes longer than a day runs over ``finish``.
    set_up
        Time before the first pane of the first day [min].

    Returns
    -------
    tuple of Slot
        In order of time, in no more days than the same work without any sun would take.

    Raises
    ------
    ValueError
        If the hours are not in order.
    """
    if not 0 <= start < finish <= 24 * 60:
        raise ValueError("start must lie before finish, both within the day")
    hours = _Hours(start, finish, start + set_up)
    everything = [task.quantity for task in tasks]
    # behind sheets at least one pane is fitted every day
    slots, _ = _placed(tasks, everything, day, hours, most=sum(everything))
    fewest = len({slot.start.date() for slot in slots})
    screened = [
        task.quantity if _earliest(task, day, hours.begin, hours.begin, finish) is None else 0
        for task in tasks
    ]
    while True:
        slots, late = _placed(tasks, screened, day, hours, most=fewest)
        if not any(late):
            return tuple(slots)
        more = [
            min(count + behind, task.quantity)
            for count, behind, task in zip(screened, late, tasks, strict=True)
        ]
        screened = everything if more == screened else more


@dataclass(frozen=True)
class _Hours:
    """Hours of work [min after midnight]; ``begin`` is when the first pane of the first day can start."""

    start: int
    finish: int
    begin: float


def _placed(
    tasks: Sequence[Task], screened: Sequence[int], day: dt.date, hours: _Hours, *, most: int
) -> tuple[list[Slot], list[int]]:
    """Return the slots with so many of each task's panes screened, and what is left after `most` days."""
    hidden = list(screened)
    open_ = [task.quantity - count for task, count in zip(tasks, screened, strict=True)]
    slots: list[Slot] = []
    now = begin = hours.begin
    for _ in range(most):
        while any(open_) or any(hidden):
            following = _next(tasks, open_, hidden, day, now, begin, hours.finish, slots)
            if following is None:
                break
            number, now, left = following
            end = now + tasks[number].minutes
            _add(slots, number, day, now, end, tasks[number].lit(day))
            left[number] -= 1
            now = end
        if not any(open_) and not any(hidden):
            break
        day, now, begin = next_day(day), float(hours.start), float(hours.start)
    return slots, [a + b for a, b in zip(open_, hidden, strict=True)]


def _add(slots: list[Slot], number: int, day: dt.date, start: float, end: float, lit: Mask) -> None:
    midnight = dt.datetime.combine(day, dt.time())
    first, last = (midnight + dt.timedelta(minutes=round(value)) for value in (start, end))
    in_sun = bool(_steps(lit, start, end).any())
    if slots and slots[-1].task == number and slots[-1].end == first and slots[-1].in_sun == in_sun:
        before = slots.pop()
        slots.append(Slot(number, before.count + 1, before.start, last, in_sun))
    else:
        slots.append(Slot(number, 1, first, last, in_sun))


def _next(
    tasks: Sequence[Task],
    open_: list[int],
    hidden: list[int],
    day: dt.date,
    now: float,
    begin: float,
    finish: int,
    slots: list[Slot],
) -> tuple[int, float, list[int]] | None:
    """Return the task to take next, when, and the count it is taken from; None to end the day."""
    last = slots[-1].task if slots else -1
    starts = {
        number: at
        for number, count in enumerate(open_)
        if count and (at := _earliest(tasks[number], day, now, begin, finish)) is not None
    }
    soonest = min(starts.values(), default=math.inf)
    if soonest > now:  # nothing is shaded yet: a screened pane fills the gap
        able = [
            number
            for number, count in enumerate(hidden)
            if count and (now + tasks[number].minutes <= finish or now == begin)
        ]
        if able:
            return min(able, key=lambda number: (number != last, number)), now, hidden
    if not starts:
        return None
    able = [number for number, at in starts.items() if at == soonest]
    first = min(
        able, key=lambda number: (_sun_after(tasks[number].lit(day), soonest), number != last, number)
    )
    return first, soonest, open_


def _steps(lit: Mask, start: float, end: float) -> Mask:
    """Return the steps of a day that a time touches."""
    return lit[int(start // STEP) : math.ceil(end / STEP)]


def _earliest(task: Task, day: dt.date, now: float, begin: float, finish: int) -> float | None:
    """Return the first moment from now at which a pane stays shaded for its minutes; None if none."""
    lit = task.lit(day)
    at = now
    while at < finish and (at + task.minutes <= finish or at == begin):
        touched = _steps(lit, at, at + task.minutes)
        if not touched.any():
            return at
        at = (int(at // STEP) + int(np.flatnonzero(touched)[-1]) + 1) * float(STEP)
    return None


def _sun_after(lit: Mask, at: float) -> float:
    """Return when the sun next reaches a pane [min after midnight], inf if not again on this day."""
    later = np.flatnonzero(lit[int(at // STEP) :])
    return float(int(at // STEP) + int(later[0])) * STEP if later.size else math.inf


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
    glass = tuple(_glass_c(situation, chosen, numbers[slot.task], slot) for slot in slots)
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


def _glass_c(situation: Situation, chosen: Option, number: int, slot: Slot) -> float | None:
    """Return the coldest that the face to be filmed of a pane is likely to be during a slot [C]."""
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
    outside = float(np.min(outdoor_c(situation.weather, slot.start.date())[hours]))
    if math.isnan(outside) or rating is None:
        return None
    flow = rating.u_w_m2k * (inside - outside)
    return outside + R_OUTSIDE * flow if film.side == "outside" else inside - R_INSIDE * flow
