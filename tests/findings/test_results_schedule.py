"""The fitting plan in results.json: every pane once, in the shade, with dates that can be counted."""

import datetime as dt

import numpy as np
import pandas as pd
import pytest

from reportkit.findings.result import as_json
from reportkit.findings.schedule import SunOn, _clock
from reportkit.physics import sun
from reportkit.study import translate

DATED = ["corner-shop", "harbour-house"]


@pytest.mark.parametrize("name", DATED)
def test_every_filmed_pane_is_planned_as_often_as_it_is_there(results_of, name):
    """Counts of the slots sum to the pieces' quantities."""
    results = results_of(name)
    counted = {}
    for slot in results["schedule"]["slots"]:
        counted[slot["pane"]] = counted.get(slot["pane"], 0) + slot["count"]
    assert counted == {piece["pane"]: piece["quantity"] for piece in results["pieces"]}


@pytest.mark.parametrize("name", DATED)
def test_no_slot_is_in_the_sun_unless_it_says_so(study_of, results_of, name):
    """Minute by minute by the sun module, a slot that is not marked has no more than a sliver of sun."""
    study, results = study_of(name), results_of(name)
    shade = translate.shade(study.job, study.job.panes)
    place = {"latitude": study.loaded.latitude, "longitude": study.loaded.longitude}
    numbers = {pane.id: number for number, pane in enumerate(study.job.panes)}
    assert any(not slot["in_sun"] for slot in results["schedule"]["slots"])
    for slot in results["schedule"]["slots"]:
        start, end = pd.Timestamp(slot["start"]), pd.Timestamp(slot["end"])
        assert start.utcoffset() == dt.datetime.fromisoformat(slot["start"]).utcoffset()
        times = pd.date_range(start, end, freq="min", inclusive="left")
        position = sun.position(times, elevation=study.loaded.elevation_m, **place)
        lit = sun.sunlit_fraction(position, shade)[:, numbers[slot["pane"]]]
        if not slot["in_sun"]:
            # steps are ten minutes long and judged at their middle
            assert np.mean(lit > 0.05) <= 10 / len(times), slot
        else:
            assert lit.max() > 0.05, slot


@pytest.mark.parametrize("name", DATED)
def test_the_day_starts_with_set_up_and_ends_in_hours(results_of, name):
    """The first pane waits for the set-up; no pane ends after the hours of work."""
    results = results_of(name)
    plan, fitting = results["schedule"], results["job"]["fitting"]
    first = dt.datetime.fromisoformat(plan["slots"][0]["start"])
    hours, minutes = map(int, fitting["start"].split(":"))
    begin = first.replace(hour=hours, minute=minutes)
    assert first - begin >= dt.timedelta(minutes=round(results["labour"]["set_up_min"]) - 1)
    assert all(slot["end"][11:16] <= fitting["finish"] for slot in plan["slots"])


@pytest.mark.parametrize("name", DATED)
def test_dates_are_counted_from_the_last_day(results_of, name):
    """Thirty days to the first cleaning, and the film's own band to clear (from the last day of work)."""
    plan = results_of(name)["schedule"]
    last = dt.date.fromisoformat(plan["days"][-1])
    dates = {key: dt.date.fromisoformat(day) for key, day in plan["dates"].items()}
    assert dates["fitted"] == last
    assert dates["first_cleaning"] - last == dt.timedelta(days=30)
    assert dates["cleared"] - last == dt.timedelta(days=plan["cure_days"])


def test_the_end_of_a_day_of_sun_is_midnight():
    """Sun until 24:00, as in a far north summer, is stored as a time of day and as hours and minutes."""
    span = SunOn(start=_clock(1370), end=_clock(1440))
    assert (span.start, span.end) == (dt.time(22, 50), dt.time(0))
    assert as_json(span) == {"from": "22:50", "to": "00:00"}
