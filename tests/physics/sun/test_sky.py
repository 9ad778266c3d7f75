"""Sky models on walls against values computed with pvlib, and their laws."""

from types import SimpleNamespace

import numpy as np
import pandas as pd
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from reportkit.climate.clear import clear_sky
from reportkit.physics import sun

# Recomputed with pvlib, a general reference library: clear sky by Ineichen & Perez 2002 with the
# turbidity given, albedo 0.2; totals of isotropic, Hay-Davies and Perez 1990.
CASES = [
    {
        "sun": ("2024-07-21T16:00-07:00", 33.45, -112.07, 340.0, 4.0),
        "horizontal": (627.63, 753.72, 114.97),
        "west_beam": 551.9,
        "west": {"isotropic": 672.1, "hay_davies": 709.9, "perez": 735.5},
        "south": {"isotropic": 146.6, "hay_davies": 117.2, "perez": 143.9},
    },
    {
        "sun": ("2024-06-21T15:00Z", 51.5, -0.12, 10.0, 3.5),
        "horizontal": (683.92, 800.16, 108.15),
        "west_beam": 513.5,
        "west": {"isotropic": 635.9, "hay_davies": 661.6, "perez": 687.0},
        "south": {"isotropic": 334.9, "hay_davies": 326.3, "perez": 351.9},
    },
]


def clear(case):
    """Return the sun and the clear sky of a case."""
    stamp, latitude, longitude, elevation, turbidity = case["sun"]
    place = sun.position(
        pd.DatetimeIndex([stamp]), latitude=latitude, longitude=longitude, elevation=elevation
    )
    sky = clear_sky(
        place.apparent_zenith, place.times.day_of_year, np.array([turbidity]), elevation=elevation
    )
    return place, SimpleNamespace(**sky)


@pytest.mark.parametrize("case", CASES)
def test_clear_sky_of_the_cases(case):
    """Horizontal irradiance of the clear sky is pvlib's."""
    _, sky = clear(case)
    assert (sky.ghi[0], sky.dni[0], sky.dhi[0]) == pytest.approx(case["horizontal"], abs=0.01)


@pytest.mark.parametrize("case", CASES)
@pytest.mark.parametrize("model", ["isotropic", "hay_davies", "perez"])
def test_walls_of_the_cases(case, model):
    """West and south walls get what each model of the sky says."""
    place, sky = clear(case)
    faces = sun.sky_on_faces(
        place, sky.ghi, sky.dni, sky.dhi, surface_azimuth=[270.0, 180.0], surface_tilt=90.0, model=model
    )
    assert faces.beam[0, 0] == pytest.approx(case["west_beam"], abs=0.05)
    assert faces.total[0] == pytest.approx((case["west"][model], case["south"][model]), abs=0.06)


def year(latitude=40.0, tz="Etc/GMT"):
    """Return the sun of every hour of some days of a year."""
    times = pd.date_range("2025-01-01 00:30", periods=8760, freq="h", tz=tz)[::7]
    return sun.position(times, latitude=latitude, longitude=0.0)


@pytest.mark.parametrize("model", sun.MODELS)
@pytest.mark.parametrize("latitude", [-35.0, 0.0, 40.0, 68.0])
def test_nothing_infinite_or_negative_at_low_sun(model, latitude):
    """Strong beam and sky at every height of the sun, even below the horizon, stay finite and bounded."""
    place = year(latitude)
    hours = len(place.zenith)
    faces = sun.sky_on_faces(
        place,
        np.full(hours, 500.0),
        np.full(hours, 900.0),
        np.full(hours, 120.0),
        surface_azimuth=np.arange(0.0, 360.0, 30.0),
        surface_tilt=90.0,
        model=model,
    )
    for part in (faces.beam, faces.sky_diffuse, faces.ground_diffuse, faces.circumsolar):
        assert np.isfinite(part).all()
        assert part.min() >= 0.0
    assert faces.beam.max() <= 900.0
    # Perez divides by cos 85 at least and Hay-Davies by cos 89: on a wall the low sun's glow may be many
    # times dhi
    assert faces.sky_diffuse.max() <= 120.0 * 60.0
    assert np.all(faces.beam[~place.up] == 0.0)


@pytest.mark.parametrize("model", sun.MODELS)
def test_a_face_looking_up_gets_the_horizontal(model):
    """A face that looks up gets beam and sky as measured on the horizontal, and nothing from the ground."""
    place = year()
    high = place.apparent_zenith < 80.0
    rise = np.cos(np.radians(place.apparent_zenith))
    dni, dhi = np.full(len(rise), 600.0), np.full(len(rise), 150.0)
    ghi = dni * np.maximum(rise, 0.0) + dhi
    faces = sun.sky_on_faces(place, ghi, dni, dhi, surface_azimuth=0.0, surface_tilt=0.0, model=model)
    assert faces.total[high, 0] == pytest.approx(ghi[high], rel=1e-9)
    assert np.all(faces.ground_diffuse == 0.0)


@given(albedo=st.floats(0.0, 1.0), tilt=st.floats(0.0, 180.0), ghi=st.floats(0.0, 1200.0))
@settings(max_examples=50, deadline=None)
def test_ground_and_isotropic_sky_share_the_half_space(albedo, tilt, ghi):
    """An even sky and an even ground fill a face's view: equal brightness gives the same on every tilt."""
    place = sun.position(pd.DatetimeIndex(["2025-06-21T12:00Z"]), latitude=40.0, longitude=0.0)
    faces = sun.sky_on_faces(
        place,
        [ghi],
        [0.0],
        [ghi * albedo],
        surface_azimuth=0.0,
        surface_tilt=tilt,
        albedo=albedo,
        model="isotropic",
    )
    assert faces.total[0, 0] == pytest.approx(ghi * albedo, abs=1e-9)


def test_albedo_by_hour():
    """The ground's reflectance may change by the hour, as with snow."""
    place = sun.position(
        pd.DatetimeIndex(["2025-01-21T12:00Z", "2025-02-21T12:00Z"]), latitude=40.0, longitude=0.0
    )
    faces = sun.sky_on_faces(
        place,
        [400.0, 400.0],
        [0.0, 0.0],
        [400.0, 400.0],
        surface_azimuth=[0.0, 180.0],
        surface_tilt=90.0,
        albedo=[0.2, 0.7],
    )
    assert faces.ground_diffuse == pytest.approx(np.array([[40.0, 40.0], [140.0, 140.0]]))


def test_nan_stays_in_its_hour():
    """An unknown hour is unknown on every face, and only that hour."""
    place = sun.position(
        pd.DatetimeIndex(["2025-06-21T11:00Z", "2025-06-21T12:00Z"]), latitude=40.0, longitude=0.0
    )
    faces = sun.sky_on_faces(
        place,
        [np.nan, 600.0],
        [np.nan, 500.0],
        [np.nan, 100.0],
        surface_azimuth=[180.0, 90.0],
        surface_tilt=90.0,
    )
    assert np.isnan(faces.total[0]).all()
    assert np.isfinite(faces.total[1]).all()


def test_unknown_models_and_albedos_are_refused():
    """A misspelt model or an impossible ground is an error."""
    place = sun.position(pd.DatetimeIndex(["2025-06-21T12:00Z"]), latitude=40.0, longitude=0.0)
    with pytest.raises(ValueError, match="perez, hay_davies, isotropic"):
        sun.sky_on_faces(place, [1.0], [1.0], [1.0], surface_azimuth=0.0, surface_tilt=90.0, model="peres")
    with pytest.raises(ValueError, match="albedo"):
        sun.sky_on_faces(place, [1.0], [1.0], [1.0], surface_azimuth=0.0, surface_tilt=90.0, albedo=20.0)
