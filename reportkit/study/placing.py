"""Which pane is fitted when: out of the sun and within hours, whatever the sun is computed by.

Each pane takes its minutes while it is shaded for the whole of them; of the panes that could be next, the one
that the sun will reach soonest comes first, and panes that the sun never reaches wait for the gaps. What
cannot wait for shade is fitted behind a sheet.
"""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from reportkit.base.arrays import Array, Mask, Whole

#: Fineness of the clock [min].
STEP = 10

#: Steps in a day.
STEPS = 24 * 60 // STEP

#: Usual hours of work [min after midnight].
START, FINISH = 8 * 60, 17 * 60


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


def next_day(day: dt.date) -> dt.date:
    """Return the next day of work: not a Saturday or Sunday."""
    day += dt.timedelta(days=1)
    while day.weekday() > 4:
        day += dt.timedelta(days=1)
    return day


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
    everything = np.array([task.quantity for task in tasks], dtype=int)
    # behind sheets at least one pane is fitted every day
    _, _, fewest = _placed(tasks, everything, day, hours, most=int(everything.sum()))
    first = _Day(tasks, day, finish).earliest(hours.begin, hours.begin)
    screened = np.where(np.isinf(first), everything, 0)
    while True:
        slots, late, _ = _placed(tasks, screened, day, hours, most=fewest)
        if not late.any():
            return tuple(slots)
        more = np.minimum(screened + late, everything)
        screened = everything if np.array_equal(more, screened) else more


@dataclass(frozen=True)
class _Hours:
    """Hours of work [min after midnight]; ``begin`` is when the first pane of the first day can start."""

    start: int
    finish: int
    begin: float


class _Day:
    """When each of the tasks can be begun on one day; all of them are asked at once."""

    def __init__(self, tasks: Sequence[Task], day: dt.date, finish: int) -> None:
        lit = np.array([task.lit(day) for task in tasks], dtype=bool).reshape(len(tasks), STEPS).T
        self.minutes = np.array([task.minutes for task in tasks])
        self.finish = finish
        steps: Array = np.arange(STEPS + 1, dtype=float)[:, np.newaxis]
        dark = np.zeros((1, len(tasks)), dtype=bool)  # after midnight
        # the next step in the sun from each step on, STEPS where there is none
        self._sun = _first_from(np.where(np.vstack([lit, dark]), steps, float(STEPS)))
        clock: Array = steps * STEP
        able = self._shaded(clock, self._sun) & self._within(clock)
        self._later = _first_from(np.where(able, clock, math.inf))

    def earliest(self, now: float, begin: float) -> Array:
        """Return the first moment from now at which each stays shaded for its minutes; inf if none."""
        at_once = self.in_hours(now, begin) & (now < self.finish) & ~self.in_sun(now)
        return np.where(at_once, now, self._later[min(_step(now) + 1, STEPS)])

    def in_hours(self, now: float, begin: float) -> Mask:
        """Return which can be begun now by the hours of work alone; the first of a day may run over."""
        return self._within(now) | (now == begin)

    def in_sun(self, now: float) -> Mask:
        """Return on which the sun comes during its minutes from now."""
        return ~self._shaded(now, self._sun[_step(now)])

    def sun_after(self, at: float) -> Array:
        """Return the step in which the sun next reaches each; STEPS if not again on this day."""
        row: Array = self._sun[_step(at)]
        return row

    def _shaded(self, at: float | Array, sun: Array) -> Mask:
        until: Array = np.ceil((at + self.minutes) / STEP)
        return sun >= np.minimum(until, float(STEPS))

    def _within(self, at: float | Array) -> Mask:
        return at + self.minutes <= self.finish


def _step(at: float) -> int:
    return min(int(at // STEP), STEPS)


def _first_from(rows: Array) -> Array:
    """Return for each row and column the least from that row on."""
    first: Array = np.minimum.accumulate(rows[::-1])[::-1]
    return first


def _placed(
    tasks: Sequence[Task], screened: Whole, day: dt.date, hours: _Hours, *, most: int
) -> tuple[list[Slot], Whole, int]:
    """Return the slots with so many panes screened, what `most` days leave, and the days used."""
    hidden = screened.copy()
    open_ = np.array([task.quantity for task in tasks], dtype=int) - screened
    slots: list[Slot] = []
    now = begin = hours.begin
    days = 0
    while days < most and (open_.any() or hidden.any()):
        days += 1
        today = _Day(tasks, day, hours.finish)
        while (following := _next(today, open_, hidden, now, begin, slots)) is not None:
            number, now, left = following
            end = now + tasks[number].minutes
            _add(slots, number, day, now, end, in_sun=bool(today.in_sun(now)[number]))
            left[number] -= 1
            now = end
        day, now, begin = next_day(day), float(hours.start), float(hours.start)
    return slots, open_ + hidden, days


def _add(slots: list[Slot], number: int, day: dt.date, start: float, end: float, *, in_sun: bool) -> None:
    midnight = dt.datetime.combine(day, dt.time())
    first, last = (midnight + dt.timedelta(minutes=round(value)) for value in (start, end))
    if slots and slots[-1].task == number and slots[-1].end == first and slots[-1].in_sun == in_sun:
        before = slots.pop()
        slots.append(Slot(number, before.count + 1, before.start, last, in_sun))
    else:
        slots.append(Slot(number, 1, first, last, in_sun))


def _next(
    today: _Day, open_: Whole, hidden: Whole, now: float, begin: float, slots: Sequence[Slot]
) -> tuple[int, float, Whole] | None:
    """Return the task to take next, when, and the counts it is taken from; None to end the day."""
    starts = np.where(open_ > 0, today.earliest(now, begin), math.inf)
    soonest = float(starts.min(initial=math.inf))
    if soonest > now:  # nothing is shaded yet: a screened pane fills the gap
        able = np.flatnonzero((hidden > 0) & today.in_hours(now, begin))
        if able.size:
            return _rather(able, slots), now, hidden
    if math.isinf(soonest):
        return None
    able = np.flatnonzero(starts == soonest)
    sun = today.sun_after(soonest)[able]
    return _rather(able[sun == sun.min()], slots), soonest, open_


def _rather(able: Whole, slots: Sequence[Slot]) -> int:
    """Return the task just worked on where it is among those able, else the first of them."""
    last = slots[-1].task if slots else -1
    return last if last in able else int(able[0])
