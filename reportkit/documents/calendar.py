"""The days of a job as a calendar file: fitting, first cleaning, film clear and ready to inspect.

iCalendar as in RFC 5545, written with the icalendar library. Times are given in UTC, so no zone has to be
described; the days of care are whole days. The same findings give the same bytes: stamps come from the
quote's date and identifiers from the job. Not covered: alarms, invitations.
"""

from __future__ import annotations

import datetime as dt
import uuid
from collections.abc import Iterator
from dataclasses import dataclass

from reportkit.base.translatable import codes
from reportkit.documents.page import Page


@dataclass(frozen=True)
class Event:
    """One entry: its key in the job, its words, and from when to when (``end`` is not part of it)."""

    key: str
    title: str
    text: str
    start: dt.date
    end: dt.date


def events(page: Page) -> Iterator[Event]:
    """Give the entries of a job in order of time; none where no day of fitting is set."""
    words, findings = page.words, page.findings
    plan = findings.schedule
    if plan is None or plan.dates is None:
        return
    title = findings.job.title or findings.job.id
    for number, day in enumerate(plan.days, start=1):
        slots = [slot for slot in plan.slots if slot.start.date() == day]
        first = slots[0].start
        if number == 1:
            first -= dt.timedelta(minutes=round(findings.labour.set_up_min))
        panes = codes(dict.fromkeys(slot.pane for slot in slots))
        yield Event(
            f"fitting-{number}",
            words("Film is fitted: {title}", title=title),
            words("Panes in the order of the shade: {panes}.", panes=panes),
            first.astimezone(dt.UTC),
            slots[-1].end.astimezone(dt.UTC),
        )
    one = dt.timedelta(days=1)
    clean = plan.dates.first_cleaning
    yield Event(
        "first-cleaning",
        words("The film may be cleaned from today: {title}", title=title),
        words("Mild soap and water, a soft cloth or a rubber blade; nothing with ammonia."),
        clean,
        clean + one,
    )
    clear = plan.dates.cleared
    yield Event(
        "cleared",
        words("The film should be clear: inspect it. {title}", title=title),
        words(
            "Square on from {distance} in daylight without direct sun. In shade and cold it takes longer.",
            distance=page.fmt.inspection["distance"],
        ),
        clear,
        clear + one,
    )


def calendar(page: Page) -> bytes | None:
    """Return the job's calendar file; None where no day of fitting is set.

    Parameters
    ----------
    page
        The findings seen by a reader; titles are in that reader's language.
    """
    import icalendar

    entries = list(events(page))
    if not entries:
        return None
    job = page.job
    stamp = dt.datetime.combine(job.day, dt.time(12), dt.UTC)
    issuer = (job.business.name, job.quote.number) if job.business and job.quote else (job.client.name,)
    name = ":".join((*issuer, job.id))
    space = uuid.uuid5(uuid.NAMESPACE_URL, f"reportkit:{name}")
    made = icalendar.Calendar()
    made.add("version", "2.0")
    made.add("prodid", "-//reportkit//fitting//EN")
    where = ", ".join(job.client.address)
    for entry in entries:
        event = icalendar.Event()
        event.add("uid", str(uuid.uuid5(space, entry.key)))
        event.add("dtstamp", stamp)
        event.add("dtstart", entry.start)
        event.add("dtend", entry.end)
        event.add("summary", entry.title)
        event.add("description", entry.text)
        if where:
            event.add("location", where)
        if not isinstance(entry.start, dt.datetime):
            event.add("transp", "TRANSPARENT")
        made.add_component(event)
    return bytes(made.to_ical())
