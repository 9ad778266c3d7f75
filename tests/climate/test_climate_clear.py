"""Clear days."""

import numpy as np
import pandas as pd
import pytest
from pvlib.location import Location

from reportkit import climate
from reportkit.physics import sun

LONDON = {"latitude": 51.5, "longitude": -0.12, "elevation": 10.0, "timezone": "Europe/London", "year": 2025}


def test_twelve_days_of_the_clock():
    """The rows are 24 hours from the clock's midnight on the 21st of each month."""
    weather = climate.clear_days(**LONDON)
    assert weather.kind == "clear_sky"
    assert len(weather.times) == 288
    assert set(weather.times.day) == {21}
    assert weather.times[0].hour == weather.times[24 * 6].hour == 0
    assert weather.times[24 * 6].utcoffset() == pd.Timedelta(hours=1)  # July, summer time
    assert np.isnan(weather.temp_air).all()
    assert "day 21 " in weather.span
    assert weather.notes


def test_finer_steps():
    """The step can be finer, and the day's energy hardly changes."""
    hourly = climate.clear_days(**LONDON, turbidity=3.0)
    fine = climate.clear_days(**LONDON, turbidity=3.0, step_minutes=10)
    assert len(fine.times) == 288 * 6
    assert fine.step_hours == pytest.approx(1.0 / 6.0)
    assert fine.annual_ghi == pytest.approx(hourly.annual_ghi, rel=0.005)


def test_an_interval_is_a_mean():
    """An hour holds the mean of its minutes, so that a sunrise hour has the sun of its sunlit part only."""
    hourly = climate.clear_days(**LONDON, turbidity=3.0)
    fine = climate.clear_days(**LONDON, turbidity=3.0, step_minutes=1)
    for name in ("ghi", "dni", "dhi"):
        means = getattr(fine, name).reshape(-1, 60).mean(axis=1)
        assert getattr(hourly, name) == pytest.approx(means, abs=8.0)
        assert np.mean(np.abs(getattr(hourly, name) - means)) < 0.3


@pytest.mark.filterwarnings("ignore:DatetimeIndex.dayofyear")
def test_the_sky_is_that_of_a_reference_library():
    """Clear days are Ineichen and Perez's sky as pvlib's own site gives it, the turbidity told by month."""
    turbidity = np.linspace(2.5, 5.0, 12)
    weather = climate.clear_days(**LONDON, turbidity=turbidity, step_minutes=5)
    site = Location(51.5, -0.12, tz="Europe/London", altitude=10.0)
    sky = site.get_clearsky(weather.times, linke_turbidity=turbidity[weather.times.month - 1])
    for name in ("ghi", "dni", "dhi"):
        assert getattr(weather, name) == pytest.approx(sky[name].to_numpy(), abs=1.0)


def test_the_parts_close():
    """Global is diffuse plus the beam's share on the level ground."""
    weather = climate.clear_days(**LONDON, step_minutes=5)
    place = sun.position(weather.times, latitude=51.5, longitude=-0.12, elevation=10.0)
    rise = np.maximum(np.cos(np.radians(place.apparent_zenith)), 0.0)
    assert weather.ghi == pytest.approx(weather.dni * rise + weather.dhi, abs=1e-6)
    assert weather.ghi.max() > 800.0


def test_the_south_has_its_summer_in_december():
    """In the southern hemisphere December is brighter than June."""
    weather = climate.clear_days(
        latitude=-33.87, longitude=151.21, elevation=20.0, timezone="Australia/Sydney", year=2025
    )
    months = sun.monthly_sums(weather.times, weather.ghi)
    assert months[11] > 2.0 * months[5]


@pytest.mark.parametrize(
    ("wrong", "message"),
    [({"step_minutes": 7}, "divide 60"), ({"day": 31}, "1 to 28"), ({"timezone": "Mars"}, "IANA")],
)
def test_impossible_days_are_refused(wrong, message):
    """A step, a day or a zone that cannot be is an error."""
    with pytest.raises(ValueError, match=message):
        climate.clear_days(**{**LONDON, **wrong})
