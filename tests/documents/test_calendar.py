"""The calendar file: read back by a parser, its dates counted again, the same bytes each time."""

import datetime as dt
import json
import re

import pytest

from reportkit.documents.calendar import calendar
from reportkit.documents.page import Page
from reportkit.findings.findings import StoredFindings
from reportkit.study.schedule import cure_days


@pytest.fixture(scope="module")
def page(page_of, study_of):
    """The corner shop's findings seen by a reader."""
    return page_of(study_of("corner-shop"))


def read(data):
    """Return the events of a calendar file."""
    icalendar = pytest.importorskip("icalendar")
    made = icalendar.Calendar.from_ical(data)
    assert made["version"] == "2.0"
    return made.walk("VEVENT")


def test_every_day_of_work_and_care_is_there(page):
    """One event a day of work, one to clean, one to inspect; times are those of the plan."""
    plan = page.findings.schedule
    events = read(calendar(page))
    assert len(events) == len(plan.days) + 2
    assert events[0]["dtend"].dt == max(slot.end for slot in plan.slots if slot.end.date() == plan.date)
    set_up = dt.timedelta(minutes=round(page.findings.labour.set_up_min))
    assert events[0]["dtstart"].dt == plan.slots[0].start - set_up
    assert {event["uid"] for event in events} == {str(event["uid"]) for event in events}
    assert len({str(event["uid"]) for event in events}) == len(events)


def test_days_of_care_are_counted_from_the_last_day_of_work(page):
    """30 days to the first cleaning; to clear film by its thickness; both whole days, ends not included."""
    last = page.findings.schedule.days[-1]
    clean, clear = read(calendar(page))[-2:]
    films = {film.id: film for film in page.job.films}
    thickest = max(films[name].thickness_um for name in page.chosen.films)
    assert clean["dtstart"].dt == last + dt.timedelta(days=30)
    assert clear["dtstart"].dt == last + dt.timedelta(days=cure_days(thickest))
    for event in (clean, clear):
        assert event["dtend"].dt - event["dtstart"].dt == dt.timedelta(days=1)


def test_the_file_follows_rfc_5545(page):
    """CRLF ends, lines of 75 octets at most, the fields that 3.6.1 requires, stamps in UTC (RFC 5545)."""
    data = calendar(page)
    assert data.startswith(b"BEGIN:VCALENDAR\r\n")
    assert data.endswith(b"END:VCALENDAR\r\n")
    lines = data.split(b"\r\n")
    assert b"\n" not in b"".join(lines)
    assert max(map(len, lines)) <= 75
    assert re.search(rb"\r\nPRODID:", data)
    date = page.job.quote.date
    assert data.count(f"DTSTAMP:{date:%Y%m%d}T120000Z".encode()) == data.count(b"BEGIN:VEVENT")


def test_the_same_results_give_the_same_bytes(page):
    """Nothing of the clock or of chance is in it."""
    assert calendar(page) == calendar(page)


def test_what_a_person_typed_stays_text(page_of, study_of):
    """Line ends, semicolons and commas in a title are escaped: no event can be smuggled in."""
    study = study_of("corner-shop")
    evil = "x\r\nEND:VEVENT\r\nBEGIN:VEVENT\r\nSUMMARY:y; a, b"
    page = page_of(study, job=study.job.model_copy(update={"title": evil}))
    events = read(calendar(page))
    assert len(events) == len(page.findings.schedule.days) + 2
    assert all("y; a, b" in str(event["summary"]) for event in events)


def test_without_a_day_there_is_no_file(page_of, study_of):
    """The hill studio names no day of fitting."""
    page = page_of(study_of("hill-studio"))
    assert page.job.fitting.date is None
    assert calendar(page) is None
    withheld = page.findings.schedule.withheld
    assert withheld == {"slots": "no_fitting_date", "dates": "no_fitting_date"}


@pytest.mark.parametrize("name", ["corner-shop", "harbour-house"])
def test_findings_read_back_give_the_same_bytes(page_of, study_of, results_of, name):
    """A run writes the file from its results.json, in which times have an offset in place of a zone."""
    study = study_of(name)
    stored = StoredFindings(study.job, json.loads(json.dumps(results_of(name))))
    made = calendar(page_of(study))
    assert made and calendar(Page(stored)) == made
