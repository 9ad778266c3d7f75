"""The fitting plan: out of the sun, in the order of the shade, in no more days than the work needs."""

import datetime as dt
from itertools import pairwise
from pathlib import Path

import numpy as np
import pandas as pd
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from small_job import SURVEY, written

from reportkit.documents.calendar import calendar
from reportkit.documents.layouts import html
from reportkit.documents.layouts.assemble import assemble
from reportkit.documents.page import Page
from reportkit.findings.findings import Findings
from reportkit.job import load_job
from reportkit.study import Study
from reportkit.study.placing import STEP, Task, next_day, place
from reportkit.study.schedule import cure_days, lit_steps, spans

JOBS = Path(__file__).parents[2] / "jobs"
MONDAY = dt.date(2026, 3, 23)


def task(name, minutes, quantity, *sun):
    """Return a task with the sun on it between hours of any day."""
    lit = np.zeros(24 * 60 // STEP, dtype=bool)
    for first, last in sun:
        lit[first * 60 // STEP : last * 60 // STEP] = True
    return Task(name, minutes, quantity, lambda day: lit)


def minutes_of(moment):
    """Return the clock time in minutes."""
    return moment.hour * 60 + moment.minute


def test_the_sun_on_two_faces_hour_by_hour():
    """An open pane is in the sun when the sun is up and within a right angle of where it looks.

    Cross-check against pvlib's own position: every hour of the day of fitting, east and west faces without
    overhang, fin, reveal or skyline; hours within a degree of the change are left out.
    """
    from pvlib.solarposition import get_solarposition

    loaded = load_job(JOBS / "corner-shop")
    faces = {face.id: face for face in loaded.job.faces}
    flat = {"overhang": 0, "overhang_above": 0, "left_fin": 0, "right_fin": 0, "reveal": 0}
    panes = tuple(
        next(pane for pane in loaded.job.panes if pane.face == name).model_copy(update=flat)
        for name in ("east", "west")
    )
    lit = lit_steps(loaded, panes)(MONDAY)
    times = pd.date_range("2026-03-23 00:35", periods=24, freq="h", tz=loaded.clock)
    place_ = get_solarposition(times, loaded.latitude, loaded.longitude, altitude=loaded.elevation_m)
    checked = 0
    for number, pane in enumerate(panes):
        turn = np.cos(np.radians(place_["azimuth"] - faces[pane.face].bearing)).to_numpy()
        height = place_["apparent_elevation"].to_numpy()
        for hour in range(24):
            if abs(height[hour]) > 1 and abs(turn[hour]) > 0.02:
                assert lit[hour * 6 + 3, number] == (height[hour] > 0 and turn[hour] > 0), (pane.face, hour)
                checked += 1
    assert checked > 40


def test_west_in_the_morning_east_in_the_afternoon():
    """Panes follow the shade round the house, and no pane is fitted in the sun."""
    east, west = task("east", 60, 2, (6, 13)), task("west", 60, 3, (13, 19))
    slots = place([east, west], day=MONDAY, set_up=30)
    assert [(slot.task, slot.count) for slot in slots] == [(1, 3), (0, 2)]
    assert minutes_of(slots[0].start) == 8 * 60 + 30
    assert minutes_of(slots[1].start) == 13 * 60
    assert not any(slot.in_sun for slot in slots)


def test_a_pane_the_sun_never_reaches_waits_for_the_gap():
    """A north pane fills the time in which the others are in the sun."""
    west, north, east = task("w", 60, 2, (12, 19)), task("n", 60, 2), task("e", 60, 2, (6, 12))
    slots = place([west, north, east], day=MONDAY)
    assert [slot.task for slot in slots] == [0, 1, 2]


def test_a_pane_always_in_the_sun_is_screened():
    """Without shade at any time of work it is fitted behind a sheet, and says so."""
    slots = place([task("south", 45, 2, (6, 20)), task("north", 45, 1)], day=MONDAY)
    assert {slot.task: slot.in_sun for slot in slots} == {0: True, 1: False}
    assert slots[0].task == 1


def test_waiting_for_shade_never_costs_a_day():
    """Three hours on panes shaded for one hour before the end: the others are screened in the gap."""
    late = task("late", 60, 3, (6, 16))
    slots = place([late], day=MONDAY)
    assert {slot.start.date() for slot in slots} == {MONDAY}
    assert sum(slot.count for slot in slots if slot.in_sun) == 2
    assert sum(slot.count for slot in slots if not slot.in_sun) == 1


def test_work_goes_on_after_the_weekend():
    """What is left on a Friday is done on Monday; a Sunday that was asked for is kept."""
    assert next_day(dt.date(2026, 3, 27)) == dt.date(2026, 3, 30)
    slots = place([task("a", 300, 2)], day=dt.date(2026, 3, 27))
    assert [slot.start.date() for slot in slots] == [dt.date(2026, 3, 27), dt.date(2026, 3, 30)]
    assert place([task("a", 30, 1)], day=dt.date(2026, 3, 29))[0].start.date() == dt.date(2026, 3, 29)


@pytest.mark.parametrize("sun", [(), ((8, 20),)])
def test_work_may_take_as_many_days_as_it_takes(sun):
    """900 panes of an hour fill 100 days of nine hours, in the sun or not (arithmetic)."""
    slots = place([task("A", 60, 900, *sun)], day=MONDAY)
    days = list(dict.fromkeys(slot.start.date() for slot in slots))
    assert sum(slot.count for slot in slots) == 900
    assert len(days) == 100 and days[-1] == MONDAY + dt.timedelta(weeks=19, days=4)
    assert {slot.in_sun for slot in slots} == {bool(sun)}


def test_a_pane_that_is_shaded_on_the_first_day_only_is_screened_later():
    """Where the season turns the sun onto a pane for good, a sheet is hung rather than waited for ever."""
    shaded, sunny = np.zeros(24 * 60 // STEP, dtype=bool), np.ones(24 * 60 // STEP, dtype=bool)
    turning = Task("A", 300, 3, lambda day: shaded if day == MONDAY else sunny)
    slots = place([turning], day=MONDAY)
    assert sum(slot.count for slot in slots) == 3
    assert [slot.start.date() for slot in slots] == [MONDAY + dt.timedelta(days=n) for n in range(3)]


def test_a_pane_longer_than_a_day_has_a_day_of_its_own():
    """It starts with the day and runs over its end; impossible hours are refused."""
    slots = place([task("huge", 700, 1), task("small", 30, 1)], day=MONDAY)
    assert {slot.task for slot in slots} == {0, 1}
    with pytest.raises(ValueError, match="start must lie before finish"):
        place([], day=MONDAY, start=600, finish=600)


def test_a_set_up_of_more_than_a_day_comes_to_an_end():
    """The first day's work then begins after midnight, and still every pane is fitted."""
    slots = place([task("huge", 600, 2), task("small", 30, 1)], day=MONDAY, set_up=2000)
    assert sum(slot.count for slot in slots) == 3


SUN = st.lists(st.tuples(st.integers(5, 19), st.integers(1, 8)), max_size=2)


@settings(max_examples=60, deadline=None)
@given(
    jobs=st.lists(st.tuples(st.integers(10, 200), st.integers(1, 6), SUN), min_size=1, max_size=6),
    set_up=st.integers(0, 60),
)
def test_every_plan_keeps_its_promises(jobs, set_up):
    """Each pane once, no two at a time, in working hours, marked if in the sun, and in the fewest days."""
    tasks = [
        task(str(number), minutes, quantity, *((first, min(first + long, 24)) for first, long in sun))
        for number, (minutes, quantity, sun) in enumerate(jobs)
    ]
    slots = place(tasks, day=MONDAY, set_up=set_up)
    for number, entry in enumerate(tasks):
        assert sum(slot.count for slot in slots if slot.task == number) == entry.quantity
    for before, after in pairwise(slots):
        assert before.end <= after.start
    for slot in slots:
        start, end = minutes_of(slot.start), minutes_of(slot.end)
        assert 8 * 60 <= start < end <= 17 * 60
        assert end - start == slot.count * tasks[slot.task].minutes
        lit = tasks[slot.task].lit(MONDAY)[start // STEP : -(-end // STEP)]
        assert slot.in_sun == lit.any()
    shadow = [Task(t.id, t.minutes, t.quantity, lambda day: np.zeros(144, dtype=bool)) for t in tasks]
    dark = place(shadow, day=MONDAY, set_up=set_up)
    assert {slot.start.date() for slot in slots} <= {slot.start.date() for slot in dark}


def test_spans_of_sun():
    """Steps become spans of minutes, at the edges of the day too."""
    lit = np.zeros(144, dtype=bool)
    lit[[0, 1, 60, 143]] = True
    assert spans(lit) == ((0, 20), (600, 610), (1430, 1440))


def test_cure_by_thickness():
    """Film to 100 um clears in about 30 days, to 200 in 60, thicker in 90 (bands of trade guides)."""
    assert [cure_days(um) for um in (50, 100, 101, 200, 300)] == [30, 30, 60, 60, 90]


def test_nine_hundred_panes_are_planned_from_the_job_to_its_papers(tmp_path, book):
    """900 panes of up to 90 minutes fill over 60 days of nine hours, on every paper."""
    rows = SURVEY.splitlines()[0] + "\n"
    rows += "".join(
        f"{name},office,west,one,450,{width} mm,1250 mm,metal,floor\n"
        for name, width in (("A", 900), ("B", 700))
    )
    change = {"fitting": {"date": "2026-03-23", "minutes": {"plain": "90"}}}
    study = Study.open(written(tmp_path, change, survey=rows))
    page = Page(Findings(study))
    plan = page.findings.schedule
    assert plan is not None and plan.dates is not None
    assert len(plan.days) > 60 and sum(slot.count for slot in plan.slots) == 900
    work = sum((slot.end - slot.start).total_seconds() for slot in plan.slots) / 3600
    assert len(plan.days) == pytest.approx(work / 9, rel=0.2)
    events = calendar(page)
    assert events is not None and events.count(b"BEGIN:VEVENT") == len(plan.days) + 2
    said = html.document(assemble(book(study), "fitting").page, static=True)
    for day in (plan.days[0], plan.days[30], plan.days[-1]):
        assert page.fmt.date(day) in said
