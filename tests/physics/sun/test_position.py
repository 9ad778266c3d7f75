"""Sun position and incidence against published and independent values."""

import numpy as np
import pandas as pd
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from reportkit.physics import sun


def at(stamp, latitude, longitude, **more):
    """Return the sun at one instant."""
    return sun.position(pd.DatetimeIndex([stamp]), latitude=latitude, longitude=longitude, **more)


def angles(position, azimuths, tilt=90.0, *, refracted=False):
    """Return the angles of incidence on faces [deg]."""
    cosine = sun.cos_incidence(position, surface_azimuth=azimuths, surface_tilt=tilt, refracted=refracted)
    return np.degrees(np.arccos(cosine))[0]


def made(zenith, azimuth):
    """Return a sun put by hand."""
    zenith, azimuth = np.atleast_1d(zenith).astype(float), np.atleast_1d(azimuth).astype(float)
    times = pd.date_range("2025-03-01", periods=len(zenith), freq="h", tz="UTC")
    return sun.SunPosition(
        times,
        zenith,
        zenith,
        azimuth,
        np.zeros_like(zenith),
        np.full_like(zenith, 1361.0),
        times.month.to_numpy(),
    )


def test_the_published_example_of_the_algorithm():
    """Zenith, azimuth and incidence are those of the algorithm's own worked example."""
    # Reda & Andreas 2004, NREL/TP-560-34302, table A5.1 (from memory); pvlib agrees to 1e-5
    place = at(
        "2003-10-17T12:30:30-07:00",
        39.742476,
        -105.1786,
        elevation=1830.14,
        pressure=82000.0,
        temperature=11.0,
    )
    assert place.apparent_zenith[0] == pytest.approx(50.11162, abs=2e-5)
    assert place.azimuth[0] == pytest.approx(194.34024, abs=2e-5)
    assert angles(place, [170.0], 30.0, refracted=True)[0] == pytest.approx(25.18700, abs=2e-5)


def test_an_azimuth_of_the_wrong_sign_is_seen():
    """The same example with its plane turned to the other side of south gives another angle."""
    place = at(
        "2003-10-17T12:30:30-07:00",
        39.742476,
        -105.1786,
        elevation=1830.14,
        pressure=82000.0,
        temperature=11.0,
    )
    # Reda & Andreas 2004 count the plane's azimuth from south, west positive, and give -10: 170 from
    # north, not 190. 20.294 is a re-computation, a cross-check and not an authority.
    assert angles(place, [190.0], 30.0, refracted=True)[0] == pytest.approx(20.294, abs=1e-3)


# time, latitude, longitude, zenith, azimuth, incidence on walls facing S, E, W, N: geometric, computed
# with pvlib and astropy, which agree within 0.0003 degrees
PLACES = [
    ("2024-06-21T12:00Z", 51.5, -0.12, 28.0681, 178.829, (61.938, 89.449, 90.551, 118.062)),
    ("2024-07-21T23:00Z", 33.45, -112.07, 47.1604, 267.2705, (87.999, 137.090, 42.910, 92.001)),
    ("2024-03-20T01:00Z", 1.35, 103.82, 63.0524, 90.7253, (89.353, 26.957, 153.043, 90.647)),
    ("2024-12-21T03:00Z", -33.87, 151.21, 17.9366, 301.2032, (99.181, 105.273, 74.727, 80.819)),
]


@pytest.mark.parametrize(("stamp", "latitude", "longitude", "zenith", "azimuth", "walls"), PLACES)
def test_positions_north_south_and_in_the_tropics(stamp, latitude, longitude, zenith, azimuth, walls):
    """Position and incidence on four walls hold in both hemispheres and near the equator."""
    place = at(stamp, latitude, longitude)
    assert place.zenith[0] == pytest.approx(zenith, abs=3e-4)
    assert place.azimuth[0] == pytest.approx(azimuth, abs=1e-3)
    assert angles(place, [180.0, 90.0, 270.0, 0.0]) == pytest.approx(walls, abs=1e-3)


@pytest.mark.parametrize(("stamp", "latitude", "longitude"), [row[:3] for row in PLACES])
def test_positions_against_astropy(stamp, latitude, longitude):
    """The position agrees with an astronomer's library that shares no code with ours."""
    # astropy, a general reference library; its IERS tables come with it and are not downloaded
    pytest.importorskip("astropy")
    from astropy import units
    from astropy.coordinates import AltAz, EarthLocation, get_sun
    from astropy.time import Time
    from astropy.utils import iers

    with iers.conf.set_temp("auto_download", False):
        when = Time(pd.Timestamp(stamp).tz_convert("UTC").tz_localize(None).to_pydatetime(), scale="utc")
        where = EarthLocation(lat=latitude * units.deg, lon=longitude * units.deg, height=0 * units.m)
        seen = get_sun(when).transform_to(AltAz(obstime=when, location=where, pressure=0 * units.hPa))
        altitude, azimuth = seen.alt.deg, seen.az.deg
    place = at(stamp, latitude, longitude)
    # get_sun leaves out the daily parallax of the sun (8.8 arc seconds, 0.0024 degrees at the horizon)
    assert place.elevation[0] == pytest.approx(altitude, abs=0.003)
    assert place.azimuth[0] == pytest.approx(azimuth, abs=0.003)


def test_incidence_of_a_textbook_example():
    """A tilted plane that looks west of south meets the sun as in the textbook."""
    # Duffie & Beckman, Solar Engineering of Thermal Processes, example 1.6.1 (from memory): Madison, 43
    # N, 13 February 10:30 solar time, tilt 45, 15 degrees west of south: cosine 0.817, 35 degrees.
    # Declination -14, hour angle -22.5.
    latitude, declination, hour = np.radians([43.0, -14.0, -22.5])
    zenith = np.arccos(
        np.cos(latitude) * np.cos(declination) * np.cos(hour) + np.sin(latitude) * np.sin(declination)
    )
    from_south = np.arcsin(np.cos(declination) * np.sin(hour) / np.sin(zenith))
    place = made(np.degrees(zenith), 180.0 + np.degrees(from_south))
    assert np.cos(np.radians(angles(place, [195.0], 45.0)[0])) == pytest.approx(0.817, abs=0.001)


def test_naive_times_are_refused():
    """A clock without a zone has no sun."""
    with pytest.raises(ValueError, match="time zone"):
        sun.position(pd.DatetimeIndex(["2024-06-21 12:00"]), latitude=51.5, longitude=0.0)


@pytest.mark.parametrize(("latitude", "longitude"), [(91.0, 0.0), (0.0, 181.0), (-90.5, 0.0)])
def test_impossible_places_are_refused(latitude, longitude):
    """Coordinates out of range are refused, not folded."""
    with pytest.raises(ValueError, match="must be from"):
        at("2024-06-21T12:00Z", latitude, longitude)


def test_the_zone_of_the_clock_does_not_move_the_sun():
    """The same instants in two zones give the same sun."""
    utc = pd.date_range("2024-03-30", periods=48, freq="h", tz="UTC")  # daylight saving begins in Europe
    one = sun.position(utc, latitude=51.5, longitude=-0.12)
    two = sun.position(utc.tz_convert("Europe/London"), latitude=51.5, longitude=-0.12)
    assert np.array_equal(one.zenith, two.zenith)
    assert np.array_equal(one.azimuth, two.azimuth)


def test_hours_with_a_sunrise_take_the_sunlit_part():
    """With a step, the sun of a sunrise or sunset hour is the mean instant of the minutes it is up."""
    times = pd.date_range("2024-03-21 00:30", periods=24 * 30, freq="h", tz="Etc/GMT+7")
    hourly = sun.position(times, latitude=47.3, longitude=-105.0, step_hours=1.0)
    plain = sun.position(times, latitude=47.3, longitude=-105.0)
    fine = pd.date_range("2024-03-21 00:00:30", periods=24 * 30 * 60, freq="min", tz="Etc/GMT+7")
    minutes = sun.position(fine, latitude=47.3, longitude=-105.0).elevation.reshape(-1, 60)
    lit = minutes > 0.0
    mixed = lit.any(axis=1) & ~lit.all(axis=1)
    assert mixed.sum() == 60  # one sunrise and one sunset a day, none on the stroke of an hour here
    # an independent count by the minute: the elevation at the mean of the lit minutes
    middle = np.array([row[up].mean() if up.any() else np.nan for row, up in zip(minutes, lit, strict=True)])
    assert hourly.elevation[mixed] == pytest.approx(middle[mixed], abs=0.12)
    assert np.all(hourly.elevation[mixed] > 0.0)
    assert np.array_equal(hourly.zenith[~mixed], plain.zenith[~mixed])
    assert np.any(plain.elevation[mixed] < 0.0)  # without the step some of these hours had no sun


@given(
    zenith=st.floats(0.0, 180.0),
    azimuth=st.floats(0.0, 360.0),
    face=st.floats(-720.0, 720.0),
    tilt=st.floats(0.0, 180.0),
)
@settings(max_examples=80, deadline=None)
def test_opposite_faces_and_whole_turns(zenith, azimuth, face, tilt):
    """A face and its back see the sun at supplementary angles, and a whole turn changes nothing."""
    place = made(zenith, azimuth)
    front, back, turned = sun.cos_incidence(
        place, surface_azimuth=[face, face + 180.0, face + 360.0], surface_tilt=[tilt, 180.0 - tilt, tilt]
    )[0]
    assert front == pytest.approx(-back, abs=1e-9)
    assert front == pytest.approx(turned, abs=1e-9)
    assert -1.0 <= front <= 1.0


def test_nan_in_nan_out():
    """An unknown sun gives an unknown angle."""
    assert np.isnan(sun.cos_incidence(made(np.nan, 10.0), surface_azimuth=0.0, surface_tilt=90.0)).all()
