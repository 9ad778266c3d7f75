"""Slanted light: Fresnel, the Karlsson-Roos curve, the hemispherical average."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pvlib import iam

from reportkit.physics.glass import Film, clear, interface, optics, single, with_film
from reportkit.physics.glass.angular import fresnel, hemisphere, karlsson_roos, surface_at
from reportkit.physics.glass.surface import BARE_REFLECTANCE, Surface


def test_fresnel_at_normal_and_grazing_incidence() -> None:
    """Both polarisations reflect ((n-1)/(n+1))^2 along the normal and all at 90 degrees."""
    reflectance, path = fresnel([0.0, 90.0])
    assert reflectance[:, 0] == pytest.approx(BARE_REFLECTANCE)
    assert reflectance[:, 1] == pytest.approx(1.0)
    assert path[0] == 1.0
    assert path[1] == pytest.approx(1.0 / math.sqrt(1.0 - 1.526**-2))


def test_brewsters_angle_passes_one_polarisation_whole() -> None:
    """At arctan n the parallel polarisation reflects nothing (Brewster's law)."""
    reflectance, _ = fresnel([math.degrees(math.atan(1.526))])
    assert reflectance[1, 0] == pytest.approx(0.0, abs=1e-12)


def test_one_bare_face_against_pvlib() -> None:
    """A single air-glass face without absorption agrees with pvlib's physical incidence-angle modifier."""
    aoi = np.array([10.0, 30.0, 50.0, 60.0, 70.0, 80.0, 85.0])
    reflectance, _ = fresnel(aoi)
    ratio = (1.0 - reflectance.mean(axis=0)) / (1.0 - BARE_REFLECTANCE)
    assert ratio == pytest.approx(iam.physical(aoi, n=1.526, K=0.0, L=0.002), abs=1e-9)


# Karlsson & Roos, Solar Energy 69 (2000) 321, p = 1, q = 4 (from memory; also
# worked independently, a cross-check).
KARLSSON = {40: 0.9832, 50: 0.9588, 60: 0.8944, 70: 0.7462, 80: 0.4586}


def test_karlsson_roos_curve() -> None:
    """The curve of one uncoated pane has the tabulated values, 1 at normal and 0 at grazing incidence."""
    assert karlsson_roos(list(KARLSSON)) == pytest.approx(list(KARLSSON.values()), abs=5e-5)
    assert karlsson_roos([0.0, 90.0]) == pytest.approx([1.0, 0.0], abs=1e-12)


@pytest.mark.parametrize("category", [2.0, 4.0, 6.0])
def test_filmed_pane_follows_karlsson_roos(category: float) -> None:
    """A filmed pane's transmittance over its normal value lies within .05 of the curve of its category."""
    film = Film("plain", 0.35, 0.25, 0.35, 0.25, 0.22, 0.22, t_uv=0.01, angular_category=category)  # invented
    light = optics(with_film(single(clear(3)), film), [0.0, *KARLSSON])
    ratio = light.t_solar[1:] / light.t_solar[0]
    assert ratio == pytest.approx(karlsson_roos(list(KARLSSON), category=category), abs=0.05)


def test_category_of_a_film_changes_its_slanted_transmittance() -> None:
    """A higher category passes more slanted light, at the same normal value."""
    film = {
        q: Film("f", 0.35, 0.25, 0.35, 0.25, 0.22, 0.22, t_uv=0.01, angular_category=q) for q in (2.0, 8.0)
    }
    light = {q: optics(with_film(single(clear(3)), f), [0.0, 60.0]).t_solar for q, f in film.items()}
    assert light[2.0][0] == pytest.approx(light[8.0][0])
    assert light[8.0][1] > light[2.0][1] + 0.01


def test_hemispherical_average_of_known_functions() -> None:
    """The average of 1 is 1, and of cos is 2/3 (exact integrals of f sin 2x)."""
    aoi, weights = hemisphere()
    assert weights.sum() == pytest.approx(1.0)
    assert np.dot(weights, np.cos(np.radians(aoi))) == pytest.approx(2.0 / 3.0, abs=1e-9)


def test_hemispherical_average_against_a_fine_grid() -> None:
    """The diffuse transmittance of a pane agrees with the midpoint rule on 9000 angles."""
    fine = (np.arange(9000) + 0.5) / 100.0
    weight = np.sin(2.0 * np.radians(fine))
    light = optics(single(clear(6)), fine)
    assert light.diffuse is not None
    assert light.diffuse.t_solar[0] == pytest.approx(np.dot(light.t_solar, weight) / weight.sum(), abs=2e-4)


@settings(max_examples=60, deadline=None)
@given(
    t=st.floats(0.0, 1.0),
    share=st.tuples(st.floats(0.0, 1.0), st.floats(0.0, 1.0)),
    category=st.floats(1.0, 10.0),
    aoi=st.floats(0.0, 90.0),
)
def test_any_face_conserves_energy_at_any_angle(t, share, category, aoi) -> None:
    """Transmittance and reflectance stay between 0 and 1 and never exceed 1 together at any angle."""
    r_glass, r_air = share[0] * (1.0 - t), share[1] * (1.0 - t)
    surface = Surface("film", (t,) * 3, (r_glass,) * 3, (r_air,) * 3, angular_category=category)
    angle = np.array([aoi])
    got = surface_at(surface, angle, fresnel(angle)[0])
    for part in got:
        assert np.all((part >= -1e-12) & (part <= 1.0 + 1e-12))
    assert np.all(got[0] + got[1] <= 1.0 + 1e-12)
    assert np.all(got[0] + got[2] <= 1.0 + 1e-12)


def test_interface_at_normal_incidence_is_the_interface() -> None:
    """At 0 degrees a film keeps its own values."""
    surface = interface(Film("f", 0.35, 0.25, 0.35, 0.25, 0.22, 0.22, t_uv=0.01)).surface
    angle = np.array([0.0])
    t, r_glass, r_air = surface_at(surface, angle, fresnel(angle)[0])
    assert t[0, 0] == pytest.approx(surface.t)
    assert r_glass[1, 0] == pytest.approx(surface.r_glass)
    assert r_air[0, 0] == pytest.approx(surface.r_air)
