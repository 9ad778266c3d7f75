"""Labour: minutes are common practice, no source; what is tested is the arithmetic and its laws."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from reportkit.work.defaults import MARKS
from reportkit.work.labour import DEFAULTS, PaneWork, labour, pane_minutes

PLAIN = PaneWork("a", 1000, 1250)


def test_plain_pane_has_the_quoted_minutes() -> None:
    """A plain pane of 1 to 1.5 m2 takes a fitter 30-45 and a first-timer 45-90 minutes."""
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
    assert job.elapsed.likely == pytest.approx(37.5 + large + 2 * 37.5 / 2)
    assert job.person.likely == pytest.approx(2 * job.elapsed.likely)


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
    """Sizes of nothing, unknown people, unknown access and a crew too small raise."""
    with pytest.raises(ValueError, match="over 0"):
        PaneWork("a", 0, 1)
    with pytest.raises(ValueError, match="access"):
        PaneWork("a", 1, 1, access="rope")  # type: ignore[arg-type]
    with pytest.raises(ValueError, match="who"):
        pane_minutes(PLAIN, who="owner")  # type: ignore[arg-type]
    with pytest.raises(ValueError, match="crew"):
        labour([PaneWork("a", 2000, 2000)], crew=1)
