"""Results of the fitting plan: which pane when, how warm its glass, and the dates that follow."""

from __future__ import annotations

import datetime as dt
from typing import TYPE_CHECKING, Any
from zoneinfo import ZoneInfo

from reportkit.study import schedule as plans

if TYPE_CHECKING:
    from reportkit.study import Study

#: The rule by which panes are put in order.
RULE = (
    "A pane is fitted while it is out of the sun for as long as it takes. Of those that could be next, the "
    "one that the sun will reach soonest comes first. Where waiting for shade would take more days than the "
    "work needs, a sheet hung outside makes the shade."
)


def schedule(study: Study) -> dict[str, Any] | None:
    """Return the plan; null where nothing is fitted, empty with the reason where no day is set."""
    if not study.offer.cuts:
        return None
    thickest = max(study.films[name].thickness_um for name in study.chosen.films)
    plan = study.schedule
    data: dict[str, Any] = {
        "date": None,
        "rule": RULE,
        "least_glass_c": plans.LEAST_GLASS_C,
        "cure_days": plans.cure_days(thickest),
        "first_cleaning_days": plans.FIRST_CLEANING,
        "days": [],
        "slots": [],
        "panes": [],
        "dates": None,
    }
    if plan is None:
        return data | {"withheld": {"slots": "no_fitting_date", "dates": "no_fitting_date"}}
    zone = ZoneInfo(study.loaded.clock)
    people = {line.id: line.people for line in study.offer.labour.panes}
    screened = {plan.panes[slot.task] for slot in plan.slots if slot.in_sun}
    slots = []
    for slot, glass in zip(plan.slots, plan.glass_c, strict=True):
        pane = study.job.panes[plan.panes[slot.task]]
        slots.append(
            {
                "pane": pane.id,
                "count": slot.count,
                "start": slot.start.replace(tzinfo=zone).isoformat(),
                "end": slot.end.replace(tzinfo=zone).isoformat(),
                "people": people[pane.id],
                "access": pane.access,
                "in_sun": slot.in_sun,
                "glass_c": glass,
                "cold": glass is not None and glass < plans.LEAST_GLASS_C,
            }
        )
    fitted = plan.slots[-1].end.date()
    return data | {
        "date": plan.day.isoformat(),
        "days": [day.isoformat() for day in plan.days],
        "slots": slots,
        "panes": [
            {
                "pane": study.job.panes[number].id,
                "sun": [{"from": _clock(a), "to": _clock(b)} for a, b in plan.sun[number]],
                "screened": number in screened,
            }
            for number in plan.order
        ],
        "dates": {
            "fitted": fitted.isoformat(),
            "first_cleaning": _later(fitted, plans.FIRST_CLEANING),
            "cleared": _later(fitted, data["cure_days"]),
        },
    }


def _clock(minutes: int) -> str:
    return f"{minutes // 60:02d}:{minutes % 60:02d}"


def _later(day: dt.date, days: int) -> str:
    return (day + dt.timedelta(days=days)).isoformat()
