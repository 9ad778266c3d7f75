"""Findings of the fitting plan: which pane when, how warm its glass, and the dates that follow."""

from __future__ import annotations

import datetime as dt
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

from pydantic import ConfigDict, Field

from reportkit.findings.result import Result, Text, TimeOfDay, WithReasons
from reportkit.study import schedule as plans

if TYPE_CHECKING:
    from reportkit.study import Study

#: The rule by which panes are put in order.
RULE = (
    "A pane is fitted while it is out of the sun for as long as it takes. Of those that could be next, the "
    "one that the sun will reach soonest comes first. Where waiting for shade would take more days than the "
    "work needs, a sheet hung outside makes the shade."
)


class Slot(Result):
    """A time at which panes of one row are fitted."""

    pane: str
    """The pane."""
    count: int = Field(ge=1)
    """How many of the row."""
    start: dt.datetime
    """From, by the clock of the job."""
    end: dt.datetime
    """To."""
    people: int
    """How many people it takes."""
    access: str
    """What one stands on."""
    in_sun: bool
    """Whether a sheet outside must make the shade."""
    glass_c: float | None
    """How warm the glass is [degrees C]; null where not known."""
    cold: bool
    """Whether that is too cold for the film to hold."""


class SunOn(Result):
    """A time in which the sun is on a pane."""

    model_config = ConfigDict(populate_by_name=True, serialize_by_alias=True)

    start: TimeOfDay = Field(alias="from")
    """From, by the clock of the job."""
    end: TimeOfDay = Field(alias="to")
    """To; 00:00 is the end of the day."""


class PaneOrder(Result):
    """A pane in the order of fitting."""

    pane: str
    """The pane."""
    sun: tuple[SunOn, ...]
    """When the sun is on it on the day."""
    screened: bool
    """Whether a sheet outside makes its shade."""


class AfterDates(Result):
    """The dates that follow from the last day of work."""

    fitted: dt.date
    """The last day of work."""
    first_cleaning: dt.date
    """No cleaning before."""
    cleared: dt.date
    """When the water has gone from below the film."""


class ScheduleFound(WithReasons):
    """The plan of the fitting; empty with the reason where no day is set."""

    date: dt.date | None
    """The first day."""
    rule: Text
    """How panes are put in order."""
    least_glass_c: float
    """Below this the film does not hold [degrees C]."""
    cure_days: int
    """Days until the water has gone [days]."""
    first_cleaning_days: int
    """Days without cleaning [days]."""
    days: tuple[dt.date, ...]
    """The days of work."""
    slots: tuple[Slot, ...]
    """In the order of time."""
    panes: tuple[PaneOrder, ...]
    """In the order of fitting."""
    dates: AfterDates | None
    """What follows."""


def fill_schedule(study: Study) -> ScheduleFound | None:
    """Return the plan; None where nothing is fitted, empty with the reason where no day is set."""
    if not study.offer.cuts:
        return None
    cure_days = plans.cure_days(max(study.films[name].worked_um for name in study.chosen.films))
    plan = study.schedule
    open_ = ScheduleFound(
        date=None,
        rule=RULE,
        least_glass_c=plans.LEAST_GLASS_C,
        cure_days=cure_days,
        first_cleaning_days=plans.FIRST_CLEANING,
        days=(),
        slots=(),
        panes=(),
        dates=None,
    )
    if plan is None:
        return open_.model_copy(update={"withheld": dict.fromkeys(("slots", "dates"), "no_fitting_date")})
    zone = ZoneInfo(study.loaded.clock)
    people = {line.id: line.people for line in study.offer.labour.panes}
    screened = {plan.panes[slot.task] for slot in plan.slots if slot.in_sun}
    slots = []
    for slot, glass in zip(plan.slots, plan.glass_c, strict=True):
        pane = study.job.panes[plan.panes[slot.task]]
        slots.append(
            Slot(
                pane=pane.id,
                count=slot.count,
                start=slot.start.replace(tzinfo=zone),
                end=slot.end.replace(tzinfo=zone),
                people=people[pane.id],
                access=pane.access,
                in_sun=slot.in_sun,
                glass_c=glass,
                cold=glass is not None and glass < plans.LEAST_GLASS_C,
            )
        )
    fitted = plan.slots[-1].end.date()
    order = tuple(
        PaneOrder(
            pane=study.job.panes[number].id,
            sun=tuple(SunOn(start=_clock(a), end=_clock(b)) for a, b in plan.sun[number]),
            screened=number in screened,
        )
        for number in plan.order
    )
    dates = AfterDates(
        fitted=fitted,
        first_cleaning=fitted + dt.timedelta(days=plans.FIRST_CLEANING),
        cleared=fitted + dt.timedelta(days=cure_days),
    )
    return open_.model_copy(
        update={
            "date": plan.day,
            "days": tuple(plan.days),
            "slots": tuple(slots),
            "panes": order,
            "dates": dates,
        }
    )


def _clock(minutes: int) -> dt.time:
    return dt.time(minutes // 60 % 24, minutes % 60)
