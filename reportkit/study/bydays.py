"""A cut plan in the order of the days of work: on each roll, what the first day needs is cut first.

A strip belongs to the first day that needs one of its pieces. The order of strips on a roll is free, so they
only change places; what is bought, and what is left, stay the same.
"""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from fractions import Fraction
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from reportkit.cutting import CutRoll, Plan, Strip
    from reportkit.study.schedule import Schedule

#: The day on which each strip of each roll is cut.
Days = tuple[tuple[dt.date, ...], ...]


def by_day(plan: Plan, schedule: Schedule, panes: tuple[str, ...]) -> tuple[Plan, Days]:
    """Return a plan with the strips of each roll by day, and those days.

    Parameters
    ----------
    plan
        The plan of the film chosen.
    schedule
        When its panes are fitted.
    panes
        The ids of the job's panes, in the job's order.

    Returns
    -------
    Plan, tuple
        The plan, and for each of its rolls the day of each strip, rising. Of equal panes those cut first are
        fitted first; spares are cut on the last day.
    """
    wanted: dict[str, list[dt.date]] = {}
    for slot in schedule.slots:
        pane = panes[schedule.panes[slot.task]]
        wanted.setdefault(pane, []).extend([slot.start.date()] * slot.count)
    taken: dict[tuple[str, int], int] = {}
    last = schedule.days[-1]

    def needed(strip: Strip) -> dt.date:
        due = []
        for placed in strip.pieces:
            piece = placed.piece
            key = (piece.id, piece.part)
            number = taken.get(key, 0)
            taken[key] = number + 1
            days = wanted.get(piece.id, [])
            due.append(days[number] if number < len(days) else last)
        return min(due)

    rolls: list[CutRoll] = []
    when: list[tuple[dt.date, ...]] = []
    for cut in plan.rolls:
        order = sorted(((needed(strip), strip) for strip in cut.strips), key=lambda pair: pair[0])
        strips: list[Strip] = []
        at = Fraction(0)
        for _, strip in order:
            strips.append(replace(strip, y_mm=at))
            at += strip.length_mm
        rolls.append(replace(cut, strips=tuple(strips)))
        when.append(tuple(day for day, _ in order))
    return replace(plan, rolls=tuple(rolls)), tuple(when)
