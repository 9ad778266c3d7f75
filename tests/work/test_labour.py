"""Labour: minutes are common practice, no source; what is tested is the arithmetic and its laws."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from reportkit.work.defaults import MARKS
from reportkit.work.labour import DEFAULTS, PaneWork, labour, overtime, pane_minutes, with_own

PLAIN = PaneWork("a", 1000, 1250)


def test_plain_pane_has_the_quoted_minutes() -> None:
    """A plain pane of 1 to 1.5 m2 takes a fitter 30-45 where few are alike, a first-timer 45-90 minutes."""
    for height in (1000, 1250, 1500):
        work = PaneWork("a", 1000, height)
        fitter, first = pane_minutes(work).each, pane_minutes(work, who="first_timer").each
        assert (fitter.low, fitter.high) == (30.0, 45.0)
        assert (first.low, first.high) == (45.0, 90.0)


def test_multipliers_multiply() -> None:
    """Timber from a step-ladder outside in safety film takes 1.45 x 1.3 x 1.3 x 1.55 the time."""
    work = PaneWork("a", 1000, 1250, timber=True, outside=True, access="step_ladder", film_thickness_um=200.0)
    expected = 37.5 * 1.45 * 1.3 * 1.3 * 1.55
    assert pane_minutes(work).each.likely == pytest.approx(expected)


def test_old_film_is_added_by_area() -> None:
    """Old film on 1.25 m2 adds 12.5, 25 and 37.5 minutes."""
    each = pane_minutes(PaneWork("a", 1000, 1250, old_film=True)).each
    assert (each.low, each.likely, each.high) == (30 + 12.5, 37.5 + 25.0, 45 + 37.5)


def test_small_divided_panes_have_their_own_minutes() -> None:
    """A small divided pane takes a fitter 10 to 15 minutes."""
    each = pane_minutes(PaneWork("a", 300, 300, divided=True)).each
    assert (each.low, each.high) == (10.0, 15.0)


def test_time_is_continuous_in_area() -> None:
    """The minutes do not jump where the base range ends."""
    inside = pane_minutes(PaneWork("a", 1000, 1500)).each.likely
    outside = pane_minutes(PaneWork("a", 1000, 1501)).each.likely
    assert inside < outside < inside + 0.1


def test_over_two_and_a_half_square_metres_takes_two() -> None:
    """Two people over 2.5 m2, one up to it, and the paid time is the crew's whole time."""
    assert labour([PaneWork("a", 1000, 2500)]).crew == 1
    job = labour([PaneWork("a", 1000, 2600), PaneWork("b", 1000, 1250, 2)])
    assert job.crew == 2
    large = pane_minutes(PaneWork("a", 1000, 2600)).each.likely
    # one person: 37.5 x (1 + .5 x 1.1 / 1.25) = 54; two: .6 of that by the clock
    assert large == pytest.approx(54 * 0.6)
    assert job.elapsed.likely == pytest.approx(37.5 + large + 2 * 37.5 / 2)
    assert job.person.likely == pytest.approx(2 * job.elapsed.likely)


def test_old_film_is_shared_by_two() -> None:
    """Old film takes 10-30 min/m2 of all people together (common practice, no source): two halve it.

    3.5 m2 from a step-ladder: 37.5 x (1 + .5 x 2 / 1.25) x .6 x 1.3 = 52.65, and 3.5 x 20 / 2 = 35 for two;
    163 minutes by the clock were once said of such a pane.
    """
    work = PaneWork("a", 1400, 2500, old_film=True, access="step_ladder")
    found = pane_minutes(work)
    assert (found.people, found.each.likely) == (2, pytest.approx(52.65 + 35))
    bare = pane_minutes(PaneWork("a", 1400, 2500, access="step_ladder"))
    assert 10 * 3.5 <= 2 * (found.each.likely - bare.each.likely) <= 30 * 3.5


#: The day as a check: common practice, no source.
ALONE, TOGETHER = (20.0, 30.0), (40.0, 60.0)


@pytest.mark.parametrize("size", [(1000, 1150), (1000, 1250), (1000, 1500)])
@pytest.mark.parametrize(("crew", "done"), [(1, ALONE), (2, TOGETHER)])
def test_a_day_of_ordinary_panes(size: tuple[int, int], crew: int, done: tuple[float, float]) -> None:
    """In eight hours, set-up included, one does 20-30 m2 and two 40-60 (common practice, no source)."""
    count = 1
    while labour([PaneWork("a", *size, count + 1)], crew=crew).elapsed.likely <= 8 * 60:
        count += 1
    low, high = done
    assert low <= count * size[0] * size[1] / 1e6 <= high


def test_222_square_feet_take_six_to_seven_hours() -> None:
    """Twelve panes of 48 x 55.5 in, 222 ft2, take a fitter 6 to 7 hours (common practice, no source).

    By hand: 1.7187 m2 take 1 + .5 x .2187 / 1.25 = 1.0875 of the time; two panes 37.5, ten 22.5 minutes;
    300 x 1.0875 + 37.5 = 363.7 minutes.
    """
    job = labour([PaneWork("a", 1219, 1410, 12)])
    square_feet = 12 * 1.219 * 1.410 * 10.7639
    assert square_feet == pytest.approx(222, abs=0.5)
    assert job.elapsed.likely == pytest.approx(363.7, abs=0.3)
    assert 6 * 60 <= job.elapsed.likely <= 7 * 60
    several = labour([PaneWork(str(n), 1219, 1410, 3) for n in range(4)])
    assert several.elapsed == job.elapsed  # rows of the survey are not ways of working


def test_140_panes_take_three_to_four_days_of_two() -> None:
    """140 panes of 1.25 m2, 175 m2: at 40-60 m2 a day for two, 2.9 to 4.4 days (common practice, no source).

    By hand: (2 x 37.5 + 138 x 22.5) / 2 + 37.5 = 1627.5 minutes, 3.4 days of eight hours.
    """
    job = labour([PaneWork("a", 1000, 1250, 140)], crew=2)
    assert job.elapsed.likely == pytest.approx(1627.5)
    assert 175 / 60 <= job.elapsed.likely / 480 <= 175 / 40


def test_six_windows_of_a_first_timer() -> None:
    """A first-timer with a helper fits six ordinary windows in 3 to 5 hours (common practice, no source)."""
    job = labour([PaneWork("a", 1000, 1250, 6)], who="first_timer", crew=2)
    assert 180 <= job.elapsed.likely <= 300


def test_panes_alike_take_less_each_and_never_less_in_all() -> None:
    """Many alike take 15-30 minutes each (common practice, no source), and one more never saves time."""
    each = pane_minutes(PLAIN, alike=40).each
    assert each.low >= 15 and each.likely <= 30
    before = labour([PLAIN]).elapsed
    for count in range(2, 30):
        now = labour([PaneWork("a", 1000, 1250, count)]).elapsed
        assert (now.low, now.likely, now.high) > (before.low, before.likely, before.high)
        before = now


def test_divided_panes_hold_their_bars() -> None:
    """A small pane in timber bars takes 10-15 minutes (common practice, no source), not that x 1.45."""
    each = pane_minutes(PaneWork("a", 300, 300, divided=True, timber=True), alike=24).each
    assert 10 <= each.low <= each.likely <= each.high <= 15


def test_own_minutes_replace_the_usual_ones() -> None:
    """A fitter's own 20 minutes hold for every plain pane, times what slows it, and are no assumption."""
    own = with_own({"fitter": 20.0, "fitter_many": 20.0, "set_up": 30.0, "large": 35.0, "old_film": 12.0})
    job = labour([PaneWork("a", 1000, 1250, 5, timber=True)], defaults=own)
    assert job.elapsed.likely == pytest.approx(30 + 5 * 20 * 1.45)
    assert job.used_defaults == ("timber",)
    large = labour([PaneWork("a", 2000, 1500, old_film=True)], defaults=own)
    assert large.elapsed.likely == pytest.approx(30 + 35 + 12 * 3 / 2)
    assert large.used_defaults == ("two_people",)


def test_a_crew_is_as_large_as_its_panes_need() -> None:
    """Two come for a large pane though one was named; three stay three."""
    assert labour([PaneWork("a", 2000, 2000)], crew=1).crew == 2
    assert labour([PaneWork("a", 2000, 2000)], crew=3).crew == 3


def test_overtime_is_what_lies_beyond_each_day() -> None:
    """25 hours in days of ten, overtime after eight: 2 + 2 + 0 hours; 29 hours: 2 + 2 + 1 (by hand)."""
    assert overtime(25 * 60, day=600, after=480) == 4 * 60
    assert overtime(29 * 60, day=600, after=480) == 5 * 60
    assert overtime(25 * 60, day=480, after=480) == 0
    with pytest.raises(ValueError, match="day"):
        overtime(1, day=0, after=1)


def test_more_people_than_panes_do_not_help() -> None:
    """One pane takes its own time however many stand by."""
    assert labour([PLAIN], crew=4).elapsed.likely == pytest.approx(37.5 + 37.5)


def test_no_pane_no_time() -> None:
    """Without a pane there is no time, and no set-up either."""
    job = labour([])
    assert job.person.high == 0.0 and job.panes == ()


@settings(deadline=None, max_examples=60)
@given(
    st.integers(200, 2500),
    st.integers(200, 2500),
    st.booleans(),
    st.booleans(),
    st.sampled_from(["floor", "tower"]),
)
def test_low_likely_high_are_in_order(wide: int, high: int, timber: bool, arch: bool, access: str) -> None:
    """Low, likely and high are in order and nothing makes a pane quicker than plain."""
    work = PaneWork("a", wide, high, timber=timber, arch=arch, access=access)  # type: ignore[arg-type]
    each = pane_minutes(work).each
    plain = pane_minutes(PaneWork("a", wide, high)).each
    assert 0 < each.low <= each.likely <= each.high
    assert each.likely >= plain.likely


def test_every_default_says_where_it_comes_from() -> None:
    """Each default has a mark that is explained, a reason, and a value inside its spread."""
    for row in DEFAULTS.values():
        low, value, high = row.range
        assert row.mark in MARKS and row.why and low <= value <= high
    assert "set_up" in labour([PLAIN]).used_defaults


def test_bad_arguments_are_refused() -> None:
    """Sizes of nothing, unknown people, unknown access, no crew and no pane alike raise."""
    with pytest.raises(ValueError, match="over 0"):
        PaneWork("a", 0, 1)
    with pytest.raises(ValueError, match="access"):
        PaneWork("a", 1, 1, access="rope")  # type: ignore[arg-type]
    with pytest.raises(ValueError, match="who"):
        pane_minutes(PLAIN, who="owner")  # type: ignore[arg-type]
    with pytest.raises(ValueError, match="crew"):
        labour([PaneWork("a", 2000, 2000)], crew=0)
    with pytest.raises(ValueError, match="alike"):
        pane_minutes(PLAIN, alike=0)
