"""The limit for rooms without cooling, against values worked by hand from EN 16798-1 (from memory)."""

import numpy as np
import pytest

from reportkit.physics.room.adaptive import running_mean, upper_limit


@pytest.mark.parametrize(
    ("mean", "category", "limit"),
    [
        (20.0, 1, 27.4),  # .33 x 20 + 18.8 = 25.4
        (20.0, 2, 28.4),
        (20.0, 3, 29.4),
        (15.0, 2, 26.75),  # .33 x 15 + 18.8 = 23.75
        (10.0, 2, 25.1),
        (4.0, 2, 25.1),  # below the range: as at its end, our rule
        (30.0, 3, 32.7),
        (34.0, 3, 32.7),
    ],
)
def test_the_limit_is_that_worked_by_hand(mean, category, limit):
    """EN 16798-1, annex B (from memory): .33 Trm + 18.8 and 2, 3 or 4 K, worked by hand."""
    assert upper_limit(mean, category) == pytest.approx(limit, abs=1e-9)


def test_the_running_mean_is_that_worked_by_hand():
    """Days at 20, then one of 25: .2 x 25 + .8 x 20 = 21 on the next day, 20.8 a day later (by hand)."""
    days = np.full(365, 20.0)
    days[200] = 25.0
    found = running_mean(days)
    assert found[200] == pytest.approx(20.0)
    assert found[201] == pytest.approx(21.0)
    assert found[202] == pytest.approx(20.8)


def test_the_running_mean_is_near_the_standards_short_form():
    """EN 16798-1 gives (T1 + .8 T2 + .6 T3 + .5 T4 + .4 T5 + .3 T6 + .2 T7)/3.8 as near (from memory)."""
    days = 18.0 + 8.0 * np.sin(np.arange(365) / 365 * 2 * np.pi) + np.random.default_rng(4).normal(0, 2, 365)
    weights = np.array([1.0, 0.8, 0.6, 0.5, 0.4, 0.3, 0.2])
    short = [days[day - 1 : day - 8 : -1] @ weights / weights.sum() for day in range(8, 365)]
    assert np.abs(running_mean(days)[8:] - short).max() < 1.0  # the short form stops after a week
    assert np.abs(running_mean(days)[8:] - short).mean() < 0.3


def test_the_year_closes_on_itself():
    """The first day's mean comes from the year's last days, by the same rule (law)."""
    days = np.arange(365.0)
    found = running_mean(days)
    turned = running_mean(np.roll(days, -100))
    np.testing.assert_allclose(np.roll(turned, 100), found)


@pytest.mark.parametrize("days", [[], [[1.0, 2.0]]])
def test_days_are_one_axis(days):
    """Law of the interface: no days, or more than one axis, is an error."""
    with pytest.raises(ValueError, match="one value for each day"):
        running_mean(days)


def test_a_category_is_one_of_three():
    """EN 16798-1 knows an upper limit for three categories here."""
    with pytest.raises(ValueError, match="category must be one of"):
        upper_limit(20.0, 4)
