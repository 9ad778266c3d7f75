"""Simplified glare probability, its thresholds, and the light that reaches the eye."""

import numpy as np
import pvlib
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from reportkit.physics.room.glare import (
    SUN_FILTER,
    SUN_SR,
    configuration_factor,
    diffuse_efficacy,
    disc_luminance,
    eye_illuminance,
    simplified_dgp,
    verdict,
)


@pytest.mark.parametrize(("dgp", "lux"), [(0.35, 2669.0), (0.40, 3473.0), (0.45, 4277.0)])
def test_thresholds_in_lux(dgp: float, lux: float) -> None:
    """Wienold 2009: .35, .40 and .45 belong to 2669, 3473 and 4277 lx at the eye."""
    assert float(simplified_dgp(lux)) == pytest.approx(dgp, abs=5e-5)


def test_words() -> None:
    """Each threshold begins the next word; a nan cannot be told."""
    words = [verdict(x) for x in (0.349, 0.35, 0.40, 0.45, float("nan"))]
    assert words == ["imperceptible", "perceptible", "disturbing", "intolerable", "cannot tell"]


def test_no_number_with_the_sun_in_view() -> None:
    """With the sun's disc or its glint in view there is no number, and none above one."""
    values = simplified_dgp([3000.0, 3000.0, 1e6], sun_in_view=[False, True, False])
    assert np.isnan(values[1]) and np.isfinite(values[0]) and values[2] == 1.0


def test_configuration_factor_against_numbers() -> None:
    """The closed form equals the sum of cos^2/(pi d^2) over a fine grid of the pane (cross-check)."""
    x = (np.arange(800) + 0.5) / 800 * 2.0 - 0.7  # 0.7 m to the left, 1.3 m to the right
    y = (np.arange(600) + 0.5) / 600 * 1.5 - 0.6
    c = 1.2
    square = x[:, None] ** 2 + y[None, :] ** 2 + c * c
    summed = float(np.sum(c * c / (np.pi * square**2)) * (2.0 / 800) * (1.5 / 600))
    closed = configuration_factor(left=0.7, right=1.3, below=0.6, above=0.9, distance=c)
    assert float(closed) == pytest.approx(summed, rel=1e-5)


def test_pane_beyond_the_line_of_sight() -> None:
    """A pane that begins above the eye is the whole pane less its lower part."""
    whole = configuration_factor(left=0.5, right=0.5, below=0.0, above=2.0, distance=1.0)
    lower = configuration_factor(left=0.5, right=0.5, below=0.0, above=0.8, distance=1.0)
    upper = configuration_factor(left=0.5, right=0.5, below=-0.8, above=2.0, distance=1.0)
    assert float(upper) == pytest.approx(float(whole - lower))


@settings(deadline=None, max_examples=50)
@given(st.floats(0.0, 50.0), st.floats(0.0, 50.0), st.floats(0.05, 10.0))
def test_configuration_factor_is_a_share(wide: float, high: float, distance: float) -> None:
    """The factor lies between 0 and 1."""
    value = float(configuration_factor(left=wide, right=wide, below=high, above=high, distance=distance))
    assert 0.0 <= value <= 1.0 + 1e-12


def test_efficacy_of_real_skies() -> None:
    """Clear skies give more diffuse light per watt than overcast ones, all of them 95 to 165 lm/W.

    Littlefair 1988, Lighting Research & Technology 20:177 (from memory): measured diffuse efficacies of
    some 100 to 120 lm/W under overcast and 120 to 150 under clear skies.
    """
    overcast = float(diffuse_efficacy(0.0, 150.0, zenith=50.0))
    clear = float(diffuse_efficacy(850.0, 90.0, zenith=40.0))
    assert 100.0 <= overcast <= 125.0
    assert 120.0 <= clear <= 165.0


def test_air_mass_is_that_of_a_general_library() -> None:
    """Left to itself the function uses the air mass that pvlib gives for Kasten & Young 1989."""
    zenith = np.array([20.0, 60.0, 80.0])
    airmass = pvlib.atmosphere.get_relative_airmass(zenith, model="kastenyoung1989")
    own = diffuse_efficacy([500.0] * 3, [100.0] * 3, zenith=zenith)
    np.testing.assert_allclose(
        own, diffuse_efficacy([500.0] * 3, [100.0] * 3, zenith=zenith, airmass=airmass), rtol=1e-9
    )


def test_the_disc_of_the_sun() -> None:
    """A beam of 1000 W/m2 is a disc of some 1.5e9 cd/m2; film of 20 % leaves a fifth of it.

    IES Lighting Handbook (from memory): the sun from the ground at noon 1.6e9 cd/m2. ISO 12312-2:2015 (from
    memory): filters to look at the sun through let in .0032 % at most.
    """
    assert pytest.approx(2 * np.pi * (1 - np.cos(np.radians(0.533 / 2))), rel=0.01) == SUN_SR
    bare, filmed = disc_luminance(1000.0, t_visible=[1.0, 0.2], efficacy=105.0)
    assert bare == pytest.approx(1.6e9, rel=0.10)
    assert filmed == pytest.approx(0.2 * bare)
    assert pytest.approx(3.2e-5) == SUN_FILTER


def test_no_light_no_number() -> None:
    """At night and without diffuse light the efficacy is nan; an unknown dew point counts as 10 C."""
    assert np.isnan(diffuse_efficacy(0.0, 0.0, zenith=50.0))
    assert np.isnan(diffuse_efficacy(0.0, 100.0, zenith=95.0))
    assert np.isnan(diffuse_efficacy(np.nan, 100.0, zenith=50.0))
    known, unknown = (float(diffuse_efficacy(0.0, 100.0, zenith=50.0, dew_point=d)) for d in (10.0, np.nan))
    assert known == unknown


def test_film_takes_its_share_of_the_light() -> None:
    """Light at the eye is outside light times visible transmittance times configuration factor."""
    assert float(eye_illuminance(20000.0, t_visible=0.35, factor=0.4)) == pytest.approx(2800.0)
    with pytest.raises(ValueError, match="distance"):
        configuration_factor(left=1.0, right=1.0, below=1.0, above=1.0, distance=0.0)
