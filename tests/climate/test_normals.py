"""Synthetic years from monthly normals, against typical years and the papers' own laws."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from reportkit import climate
from reportkit.climate.normals import daily_temperature, diffuse_share, hourly_share, monthly_diffuse_fraction
from reportkit.physics import sun

WALLS = np.arange(0.0, 360.0, 45.0)


def normals_of(weather):
    """Return a year's own monthly means: temperature [C], daily range [K], radiation [kWh/m2 a day]."""
    days = weather.temp_air.reshape(-1, 24)
    month = weather.times.month.to_numpy().reshape(-1, 24)[:, 12]
    light = weather.ghi.reshape(-1, 24).sum(axis=1) / 1000.0
    rows = [month == number for number in range(1, 13)]
    return (
        np.array([days[row].mean() for row in rows]),
        np.array([np.ptp(days[row], axis=1).mean() for row in rows]),
        np.array([light[row].mean() for row in rows]),
    )


def on_walls(weather):
    """Return the irradiance on eight walls."""
    place = sun.position(
        weather.times,
        latitude=weather.latitude,
        longitude=weather.longitude,
        elevation=weather.elevation,
        step_hours=1.0,
    )
    return sun.sky_on_faces(
        place, weather.ghi, weather.dni, weather.dhi, surface_azimuth=WALLS, surface_tilt=90.0
    )


@pytest.fixture(scope="module")
def pairs():
    """Return each shipped year with the synthetic year made from its own normals."""
    result = {}
    for name in climate.SHIPPED:
        real = climate.shipped_year(name, year=2025)
        mean, swing, light = normals_of(real)
        made = climate.from_normals(
            latitude=real.latitude,
            longitude=real.longitude,
            elevation=real.elevation,
            timezone=climate.SHIPPED[name].timezone,
            year=2025,
            temp_mean=mean,
            temp_range=swing,
            ghi_day=light,
        )
        result[name] = (real, made, on_walls(real), on_walls(made))
    return result


@pytest.mark.parametrize("name", climate.SHIPPED)
def test_walls_of_a_synthetic_year(pairs, name):
    """A wall's year is within a tenth of the typical year's, its beam on sunny walls within 30 %."""
    # typical years of three climates that ship with pvlib (public data); measured -4 to +10 % and -6 to +28 %
    _, _, real, made = pairs[name]
    error = made.total.sum(axis=0) / real.total.sum(axis=0) - 1.0
    assert np.abs(error).max() < 0.10
    beam = (made.beam.sum(axis=0) / real.beam.sum(axis=0) - 1.0)[2:7]  # east over south to west
    assert np.abs(beam).max() < 0.30


@pytest.mark.parametrize("name", climate.SHIPPED)
def test_the_normals_come_back(pairs, name):
    """The synthetic year has the radiation and the temperature that it was made from."""
    real, made, _, _ = pairs[name]
    assert made.kind == "normals"
    assert len(made.times) == 8760
    assert (made.times == real.times).all()
    assert made.annual_ghi == pytest.approx(real.annual_ghi, rel=1e-3)
    want, got = normals_of(real), normals_of(made)
    assert got[2] == pytest.approx(want[2], rel=2e-3)
    assert got[0] == pytest.approx(want[0], abs=0.1)
    assert got[1] == pytest.approx(want[1], rel=0.06)
    assert made.dhi.sum() == pytest.approx(real.dhi.sum(), rel=0.16)


@pytest.mark.parametrize("name", climate.SHIPPED)
def test_peaks_are_missing(pairs, name):
    """The caveat holds: a synthetic year's hottest and brightest hours are below the typical year's."""
    real, made, _, _ = pairs[name]
    assert made.temp_air.max() < real.temp_air.max()
    assert made.ghi.max() < real.ghi.max()
    assert any("not for peaks" in note for note in made.notes)


@given(sunset=st.floats(50.0, 130.0))
@settings(max_examples=40, deadline=None)
def test_the_shares_of_a_day_are_a_day(sunset):
    """Over a day the hourly shares add up to 1, for global within the paper's own fit."""
    # Collares-Pereira & Rabl 1979 normalise a and b to about 1 %; Liu & Jordan's is exact
    angle = np.arange(-179.5, 180.0, 1.0)
    assert hourly_share(angle, sunset).sum() / 15.0 == pytest.approx(1.0, abs=0.02)
    assert diffuse_share(angle, sunset).sum() / 15.0 == pytest.approx(1.0, abs=0.002)
    assert hourly_share(sunset + 1.0, sunset) == 0.0


def test_an_hour_of_a_textbook_day():
    """The share of one hour by the published coefficients."""
    # the formula of Collares-Pereira & Rabl 1979 written out again: a cross-check, not an authority
    sunset, angle = np.radians(83.2), np.radians(22.5)
    a = 0.409 + 0.5016 * np.sin(sunset - 1.0472)
    b = 0.6609 - 0.4767 * np.sin(sunset - 1.0472)
    whole = np.sin(sunset) - sunset * np.cos(sunset)
    expected = np.pi / 24.0 * (a + b * np.cos(angle)) * (np.cos(angle) - np.cos(sunset)) / whole
    assert hourly_share(-22.5, 83.2) == pytest.approx(expected, rel=1e-4)
    assert 0.12 < expected < 0.15


def test_monthly_diffuse_fraction_meets_at_the_season():
    """The clearer the month, the smaller the diffuse share, more so in winter."""
    clear = np.array([0.3, 0.4, 0.5, 0.6, 0.7, 0.8])
    for sunset in (70.0, 100.0):
        assert np.all(np.diff(monthly_diffuse_fraction(clear, sunset)) < 0.0)
    # Duffie & Beckman fig. 2.12.2 (from memory): summer months of clearness .5 are about 43 % diffuse
    assert monthly_diffuse_fraction(0.5, 100.0) == pytest.approx(0.43, abs=0.02)
    assert monthly_diffuse_fraction(0.5, 70.0) < monthly_diffuse_fraction(0.5, 100.0)


def test_the_temperature_of_a_day():
    """A day's course has its mean and range, coolest about sunrise and warmest in mid afternoon."""
    # Erbs, Klein & Beckman 1983 (from memory): the shape spans one daily range, warmest about 15 h
    hours = np.arange(0.5, 24.0, 1.0)
    course = daily_temperature(hours, 20.0, 10.0)
    assert course.mean() == pytest.approx(20.0, abs=1e-9)
    assert np.ptp(course) == pytest.approx(10.0, rel=0.05)
    assert 14.0 <= hours[np.argmax(course)] <= 16.0
    assert 4.0 <= hours[np.argmin(course)] <= 7.0


ROME = {
    "latitude": 41.9,
    "longitude": 12.5,
    "elevation": 20.0,
    "timezone": "Europe/Rome",
    "year": 2024,
    "temp_mean": np.full(12, 15.0),
    "temp_range": np.full(12, 9.0),
    "ghi_day": np.array([1.9, 2.7, 4.1, 5.2, 6.4, 7.1, 7.3, 6.3, 4.8, 3.2, 2.1, 1.6]),
}


def test_megajoules_are_the_same_year():
    """Radiation in MJ/m2 gives the same year as in kWh/m2, also in a leap year."""
    one = climate.from_normals(**ROME)
    two = climate.from_normals(**{**ROME, "ghi_day": ROME["ghi_day"] * 3.6}, unit="MJ")
    assert two.ghi == pytest.approx(one.ghi)
    assert len(one.times) == 8760
    assert not ((one.times.month == 2) & (one.times.day == 29)).any()


def test_no_sun_in_the_polar_night():
    """North of the polar circle a month without sun stays dark and finite."""
    light = np.array([0.0, 0.4, 1.5, 3.5, 4.8, 5.0, 4.6, 3.2, 1.7, 0.5, 0.0, 0.0])
    weather = climate.from_normals(
        **{**ROME, "latitude": 70.0, "longitude": 25.0, "timezone": "Europe/Oslo", "ghi_day": light}
    )
    for series in (weather.ghi, weather.dni, weather.dhi):
        assert np.isfinite(series).all()
        assert series.min() >= 0.0
    assert weather.ghi[weather.times.month == 12].max() == 0.0


@pytest.mark.parametrize(
    ("wrong", "message"),
    [
        ({"temp_mean": [1.0, 2.0]}, "twelve"),
        ({"temp_range": np.full(12, -1.0)}, "0 or more"),
        ({"ghi_day": np.full(12, 9.0)}, "more than the sun can give"),
        ({"unit": "BTU"}, "kWh or MJ"),
    ],
)
def test_impossible_normals_are_refused(wrong, message):
    """Lists that are no normals are errors."""
    with pytest.raises(ValueError, match=message):
        climate.from_normals(**{**ROME, **wrong})


def test_the_most_sun_is_nine_tenths_of_what_comes_in():
    """Outside the air a mean day at 40 N has 15.2 MJ in January and 41.9 in June, at 0 N 36.2 in January.

    Duffie & Beckman, table 1.10.1 (from memory): monthly mean daily radiation outside the air.
    """
    most = (climate.most_sun(40.0) - 0.1) / 0.9 * 3.6
    assert most[[0, 5]] == pytest.approx([15.2, 41.9], rel=0.02)
    assert (climate.most_sun(0.0)[0] - 0.1) / 0.9 * 3.6 == pytest.approx(36.2, rel=0.02)
    assert climate.most_sun(80.0)[11] == pytest.approx(0.1)  # the sun stays away
