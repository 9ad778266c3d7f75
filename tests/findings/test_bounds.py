"""No number of any results leaves its plain bound, every number has one, and the check can fail."""

import copy
import json

import bounds
import pytest

DEMOS = ("corner-shop", "harbour-house", "hill-studio")


def test_every_number_of_the_results_has_a_bound():
    """A new result needs one: its text names a unit that has one, or its path is listed."""
    assert len(bounds.numbers()) > 400
    assert [path for path in bounds.numbers() if bounds.bound(path) is None] == []


def test_every_bound_is_that_of_some_number():
    """What holds for no number any more goes."""
    used = {id(bounds.bound(path)) for path in bounds.numbers()}
    assert [unit for unit, bound in bounds.BY_UNIT.items() if id(bound) not in used] == []
    ends = {end for path in bounds.numbers() for end in bounds.ends(path)}
    assert [end for end in bounds.BY_PATH if end not in ends] == []


@pytest.mark.parametrize("name", DEMOS)
def test_a_demo_stays_within_them(results_of, name):
    """Every number, and what must rise does."""
    assert bounds.beyond(results_of(name)) == []


@pytest.fixture(scope="module")
def results(results_of):
    """Return results as read from their file, to be spoiled."""
    return json.loads(json.dumps(dict(results_of("corner-shop"))))


#: What may be put where, and what is said of it then.
SPOILED = {
    "a share over the whole": (("glazings", 0, "shgc"), 1.01, "is not within 0 to 1"),
    "no number": (("glazings", 0, "u_w_m2k"), float("nan"), "nan is not within"),
    "without end": (("panes", 0, "annual_solar_kwh"), float("inf"), "inf is not within"),
    "more sun than the glass can take": (("panes", 0, "peak_solar_w"), 1e5, "the solar constant"),
    "more hours than a year has": (("rooms", 0, "options", 0, "hot_hours", "p90"), 8785, "leap year"),
    "a price below nothing": (("price", "total"), "-0.01", "is not within"),
    "a price beyond the job's": (("price", "total"), "31000000.01", "is not within"),
    "money in a list": (("price", "lines", 0, "amount"), "1e9", "is not within"),
    "a part beyond its end": (("panes", 0, "screen", "stress_mpa", "high"), 251, "tempered"),
    "a range that falls": (("labour", "person_min", "low"), 1e5, "do not rise"),
    "a number nobody knows": (("panes", 0, "new"), 1, "has no bound"),
    "a number where there was text": (("panes", 0, "id"), 1, "has no bound"),
}


@pytest.mark.parametrize("name", SPOILED)
def test_what_leaves_them_is_named(results, name):
    """With its path, its value and why."""
    way, value, said = SPOILED[name]
    spoiled = copy.deepcopy(results)
    at = spoiled
    for part in way[:-1]:
        at = at[part]
    at[way[-1]] = value
    (first, *_) = bounds.beyond(spoiled)
    assert said in first
    assert first.startswith(str(way[0])) and str(way[-1]) in first
