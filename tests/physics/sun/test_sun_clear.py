"""Clear-sky models."""

import numpy as np
import pandas as pd
import pytest
from pvlib.atmosphere import get_relative_airmass

from reportkit.physics import sun


def made(height, *, extra=1323.7, month=7):
    """Return one sun put by hand."""
    times = pd.DatetimeIndex([f"2025-{month:02d}-21T12:00Z"])
    zenith = np.array([90.0 - height])
    return sun.SunPosition(
        times, zenith, zenith, np.array([180.0]), np.zeros(1), np.array([extra]), np.array([month])
    )


def test_the_handbook_model_at_a_hot_noon():
    """Air mass, beam and diffuse of the two-depth model."""
    # Inputs from memory of the ASHRAE Handbook of Fundamentals, chapter 14 (33.64 N, 21 July noon: height
    # 77.1, tb 0.515, td 2.066, E0 1323.7); results by an independent re-computation, a cross-check and
    # not an authority
    sky = sun.clear_ashrae(made(77.1), tau_beam=0.515, tau_diffuse=2.066)
    assert sun.ashrae_air_mass(77.1) == pytest.approx(1.0255, abs=1e-4)
    assert sky.dni[0] == pytest.approx(783.6, abs=0.1)
    assert sky.dhi[0] == pytest.approx(165.6, abs=0.1)
    assert sky.ghi[0] == pytest.approx(783.6 * np.sin(np.radians(77.1)) + 165.6, abs=0.2)


def test_air_mass_is_kasten_and_young():
    """The handbook's air mass is the one published in 1989."""
    # Kasten & Young 1989 as in pvlib, a general reference library
    heights = np.array([0.5, 5.0, 10.0, 30.0, 60.0, 90.0])
    published = get_relative_airmass(90.0 - heights, model="kastenyoung1989")
    assert sun.ashrae_air_mass(heights) == pytest.approx(published, rel=1e-3)


def test_twelve_depths_are_taken_by_month():
    """The handbook's twelve values go by calendar month."""
    times = pd.date_range("2025-01-21 12:00", periods=24, freq="15D", tz="UTC")
    place = sun.position(times, latitude=30.0, longitude=0.0)
    beam = np.linspace(0.3, 0.6, 12)
    by_month = sun.clear_ashrae(place, tau_beam=beam, tau_diffuse=2.2)
    by_hand = sun.clear_ashrae(place, tau_beam=beam[place.month - 1], tau_diffuse=2.2)
    assert np.array_equal(by_month.dni, by_hand.dni)
    assert len(set(beam[place.month - 1])) == 12


def test_no_sun_no_irradiance():
    """At night both models give zero, not nan."""
    for sky in (
        sun.clear_ashrae(made(-5.0), tau_beam=0.4, tau_diffuse=2.2),
        sun.clear_ineichen(made(-5.0), turbidity=3.0),
    ):
        assert (sky.ghi[0], sky.dni[0], sky.dhi[0]) == (0.0, 0.0, 0.0)


def test_haze_dims_the_beam_and_height_brightens_it():
    """More turbidity means less beam, more height above the sea more."""
    place = made(40.0)
    clean, hazy = (sun.clear_ineichen(place, turbidity=value).dni[0] for value in (2.5, 6.0))
    assert hazy < clean
    assert sun.clear_ineichen(place, turbidity=2.5, elevation=2000.0).dni[0] > clean


def test_the_two_models_agree_on_an_ordinary_day():
    """Two independent models of the same clear noon are within a tenth of each other."""
    # tb, td of a temperate summer month (about 0.40, 2.30) against a turbidity of 3.5: rule of thumb, no
    # source
    place = made(60.0)
    one = sun.clear_ashrae(place, tau_beam=0.40, tau_diffuse=2.30)
    two = sun.clear_ineichen(place, turbidity=3.5)
    assert one.ghi[0] == pytest.approx(two.ghi[0], rel=0.1)


def test_a_list_of_another_length_is_refused():
    """Neither one, twelve, nor one for each instant is an error."""
    with pytest.raises(ValueError, match="twelve by month"):
        sun.clear_ineichen(made(40.0), turbidity=[3.0, 4.0])
