"""Sums over the clock's days and months, and hours of direct sun."""

import numpy as np
import pandas as pd
import pytest

from reportkit.physics import sun


def test_an_east_wall_has_the_sun_from_sunrise_to_noon():
    """At midsummer and 45 degrees an open east wall sees the sun for half the day, about 7.7 hours."""
    # half the day length by the sunrise equation, 2/15 acos(-tan 45 tan 23.44) = 15.4 h (Duffie & Beckman
    # eq. 1.6.11, from memory); refraction adds a few minutes
    times = pd.date_range("2025-06-21 00:00:30", periods=1440, freq="min", tz="Etc/GMT")
    place = sun.position(times, latitude=45.0, longitude=0.0)
    cosine = sun.cos_incidence(place, surface_azimuth=[90.0, 270.0, 180.0], surface_tilt=90.0)
    east, west, south = sun.direct_hours(cosine, up=place.up, step_hours=1.0 / 60.0)
    half = np.degrees(np.arccos(-np.tan(np.radians(45.0)) * np.tan(np.radians(23.44)))) / 15.0
    assert half == pytest.approx(7.7, abs=0.05)
    assert east == pytest.approx(half, abs=0.1)
    assert west == pytest.approx(half, abs=0.1)
    assert south < 2.0 * half - 5.0  # the summer sun rises and sets behind a south wall


def test_direct_hours_count_the_sunlit_part():
    """A pane that is less than the asked share in the sun does not count."""
    cosine = np.array([[0.5], [0.5], [0.5], [-0.1]])
    up = np.array([True, True, False, True])
    lit = np.array([[1.0], [0.3], [1.0], [1.0]])
    assert sun.direct_hours(cosine, up=up, step_hours=0.5).tolist() == [1.0]
    assert sun.direct_hours(cosine, up=up, step_hours=0.5, sunlit=lit, least=0.5).tolist() == [0.5]


def test_sums_go_by_the_clock_of_the_site():
    """Energy is counted in the month that the site's clock shows."""
    times = pd.date_range("2025-01-31 22:30", periods=4, freq="h", tz="Europe/Paris")
    power = np.array([[1.0, 10.0], [2.0, 20.0], [4.0, 40.0], [8.0, 80.0]]) * 1000.0
    months = sun.monthly_sums(times, power)
    assert months.shape == (12, 2)
    assert months[:3].tolist() == [[3.0, 30.0], [12.0, 120.0], [0.0, 0.0]]


def test_sums_keep_the_whole():
    """Months add up to the year."""
    times = pd.date_range("2025-01-01 00:30", periods=8760, freq="h", tz="America/New_York")
    power = np.linspace(0.0, 500.0, 8760)
    assert sun.monthly_sums(times, power).sum() == pytest.approx(power.sum() / 1000.0)
