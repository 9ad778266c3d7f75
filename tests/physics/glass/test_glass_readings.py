"""Readings through filmed and bare glass: the ratio expected, the mean, and when it cannot be told."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from reportkit.physics.glass import Film, Gap, clear, double, gain_table, rate, with_film
from reportkit.physics.glass.readings import FEWEST, READING_SHARE, expected_share, judge, mean_share

# invented film, no product
FILM = Film("plain", 0.35, 0.25, 0.35, 0.25, 0.22, 0.22, t_uv=0.01)
BARE = double(clear(4), clear(4), gap=Gap(16.0))
FILMED = with_film(BARE, FILM)


def test_without_sun_on_the_pane_the_share_is_that_of_the_whole_sky() -> None:
    """Behind a shaded pane the ratio is of the hemispherical transmittances, and has no range."""
    low, high = expected_share(FILMED, BARE, "light")
    filmed, bare = gain_table(FILMED), gain_table(BARE)
    assert low == high == pytest.approx(filmed.t_visible_diffuse / bare.t_visible_diffuse)


def test_in_the_open_the_share_is_the_transmittance_itself() -> None:
    """With the sun straight on the pane, one end of the range is the rated value, for all three meters."""
    rating = rate(FILMED)
    for meter, value in (
        ("light", rating.t_visible),
        ("sun", rating.t_solar),
        ("uv", rating.t_uv),
    ):
        assert expected_share(FILMED, None, meter, aoi=0.0)[1] == pytest.approx(value)


@given(st.floats(0, 85))
def test_film_on_glass_lets_less_through_than_the_glass(aoi: float) -> None:
    """At any angle the share lies between none and all, and its ends are in order."""
    low, high = expected_share(FILMED, BARE, "light", aoi=aoi)
    assert 0 < low <= high < 1


def test_meters_and_angles_that_do_not_exist_are_refused() -> None:
    """An unknown meter, or an angle behind the pane, is a mistake of the caller."""
    with pytest.raises(ValueError, match="meter must be"):
        expected_share(FILMED, BARE, "heat")  # type: ignore[arg-type] # the mistake under test
    with pytest.raises(ValueError, match="angles"):
        expected_share(FILMED, BARE, "light", aoi=91.0)


def test_interval_is_that_of_the_handbook() -> None:
    """Heat-flow data: 195 values, mean 9.261460, deviation .022789 give 9.258242 to 9.264679 at 95 %.

    NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5.2, data set ZARR13 (from memory). The test puts
    values of that mean and deviation into the logarithm.
    """
    values = np.random.default_rng(1).normal(size=195)
    values = 9.261460 + 0.022789 * (values - values.mean()) / values.std(ddof=1)
    found = mean_share(np.exp(values))
    assert math.log(found.middle) == pytest.approx(9.261460, abs=5e-7)
    assert math.log(found.low) == pytest.approx(9.258242, abs=2e-6)
    assert math.log(found.high) == pytest.approx(9.264679, abs=2e-6)


def test_five_readings_take_students_factor() -> None:
    """With four degrees of freedom the factor at 95 % is 2.776 (GUM, table G.2, from memory: 2.78)."""
    shares = [0.40, 0.42, 0.38, 0.41, 0.39]
    logs = np.log(shares)
    found = mean_share(shares)
    half = math.log(found.high / found.low) / 2
    assert half / (logs.std(ddof=1) / math.sqrt(5)) == pytest.approx(2.776, abs=0.001)


def test_one_reading_has_no_interval() -> None:
    """A single pair gives a value and says nothing of its certainty; no pair, or a zero, is refused."""
    assert math.isnan(mean_share([0.4]).low)
    for wrong in ([], [0.4, 0.0]):
        with pytest.raises(ValueError, match="over 0"):
            mean_share(wrong)


@given(st.lists(st.floats(0.05, 1.5), min_size=2, max_size=20), st.floats(0.1, 10))
def test_a_mean_scales_with_its_readings_and_lies_in_its_interval(shares: list[float], by: float) -> None:
    """Another meter's calibration moves mean and interval alike."""
    one, other = mean_share(shares), mean_share([by * share for share in shares])
    assert one.low <= one.middle * (1 + 1e-12) and one.middle <= one.high * (1 + 1e-12)
    assert other.middle == pytest.approx(by * one.middle)
    assert other.high == pytest.approx(by * one.high)


def test_too_few_or_too_wide_cannot_be_told() -> None:
    """Two pairs, readings all over the place, or a film that hardly shows on the meter."""
    expected = (0.39, 0.42)
    assert judge([0.40] * (FEWEST - 1), [expected] * (FEWEST - 1)) == "cannot_tell"
    assert judge([0.1, 0.4, 1.2], [expected] * 3) == "cannot_tell"
    assert judge([0.97, 0.99, 0.95, 0.98], [(0.97, 0.98)] * 4) == "cannot_tell"


@pytest.mark.parametrize(("factor", "verdict"), [(1.0, "as_computed"), (1.3, "more"), (0.75, "less")])
def test_steady_readings_are_judged(factor: float, verdict: str) -> None:
    """Readings on, above and below what was computed get their word."""
    shares = [factor * share for share in (0.400, 0.405, 0.398, 0.402)]
    assert judge(shares, [(0.39, 0.42)] * 4) == verdict


def test_the_allowance_for_a_reading_is_kept() -> None:
    """Just inside the range widened by the allowance is as computed, well outside it is not."""
    high = 0.42 * (1 + READING_SHARE)
    assert judge([high * 0.99] * 4, [(0.39, 0.42)] * 4) == "as_computed"
    assert judge([high * 1.06] * 4, [(0.39, 0.42)] * 4) == "more"
