"""View factors of shaded panes against published formulas, and what reaches the glass."""

import numpy as np
import pandas as pd
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from reportkit.physics import sun


def perpendicular(depth, length):
    """Return the view factor of a long strip to another at a right angle on its edge.

    Incropera & DeWitt, Fundamentals of Heat and Mass Transfer, table 13.1 (from memory).
    """
    ratio = depth / length
    return (1.0 + ratio - np.sqrt(1.0 + ratio**2)) / 2.0


def parallel(width, height, apart):
    """Return the view factor between two equal rectangles face to face.

    Incropera & DeWitt, Fundamentals of Heat and Mass Transfer, table 13.2 (from memory).
    """
    x, y = width / apart, height / apart
    root_x, root_y = np.sqrt(1.0 + x**2), np.sqrt(1.0 + y**2)
    return (
        2.0
        / (np.pi * x * y)
        * (
            np.log(np.sqrt((1.0 + x**2) * (1.0 + y**2) / (1.0 + x**2 + y**2)))
            + x * root_y * np.arctan(x / root_y)
            + y * root_x * np.arctan(y / root_x)
            - x * np.arctan(x)
            - y * np.arctan(y)
        )
    )


def test_a_bare_pane_sees_all():
    """Without obstruction both views are exactly 1, at any tilt."""
    shade = sun.Shade(
        width=1.0, height=2.0, surface_azimuth=[0.0, 77.0, 180.0], surface_tilt=[90.0, 30.0, 0.0]
    )
    assert sun.sky_view(shade).tolist() == [1.0, 1.0, 1.0]
    assert sun.ground_view(shade).tolist() == [1.0, 1.0, 1.0]


@pytest.mark.parametrize("depth", [0.2, 0.6, 1.5])
def test_a_long_overhang_takes_its_view_factor(depth):
    """The overhang takes its view factor from the wall's half of sky, and nothing from the ground."""
    shade = sun.Shade(width=1.0, height=1.2, surface_azimuth=180.0, overhang_depth=depth)
    assert sun.sky_view(shade)[0] == pytest.approx(1.0 - 2.0 * perpendicular(depth, 1.2), abs=0.006)
    assert sun.ground_view(shade)[0] == 1.0


def test_tall_fins_take_theirs_from_sky_and_ground():
    """Two tall fins each take their view factor, half from the sky and half from the ground."""
    shade = sun.Shade(
        width=1.0,
        height=1.2,
        surface_azimuth=0.0,
        left_fin_depth=0.4,
        right_fin_depth=0.7,
        fin_above=np.inf,
        fin_below=np.inf,
    )
    expected = 1.0 - perpendicular(0.4, 1.0) - perpendicular(0.7, 1.0)
    assert sun.sky_view(shade)[0] == pytest.approx(expected, abs=0.006)
    assert sun.ground_view(shade)[0] == pytest.approx(expected, abs=0.006)


@pytest.mark.parametrize(("width", "height", "reveal"), [(1.0, 1.2, 0.15), (0.6, 2.0, 0.3)])
def test_a_reveal_passes_the_view_factor_of_its_mouth(width, height, reveal):
    """A pane deep in its opening sees what the opening's mouth is to it."""
    shade = sun.Shade(width=width, height=height, surface_azimuth=90.0, reveal_depth=reveal)
    assert sun.sky_view(shade)[0] == pytest.approx(parallel(width, height, reveal), abs=0.006)
    assert sun.ground_view(shade)[0] == pytest.approx(parallel(width, height, reveal), abs=0.006)


@pytest.mark.parametrize("height", [10.0, 30.0, 60.0])
def test_a_level_skyline(height):
    """A skyline of one height all round takes what the integral of an even sky says."""
    # integrating cos(incidence) over the sky above h: a wall keeps 1 - 2h/pi - sin(2h)/pi, a roof window
    # cos(h)^2
    shade = sun.Shade(
        width=1.0, height=1.0, surface_azimuth=200.0, surface_tilt=[90.0, 0.0], horizon=[((0.0, height),)] * 2
    )
    h = np.radians(height)
    expected = (1.0 - 2.0 * h / np.pi - np.sin(2.0 * h) / np.pi, np.cos(h) ** 2)
    assert sun.sky_view(shade) == pytest.approx(expected, abs=0.012)
    assert sun.ground_view(shade).tolist() == [1.0, 1.0]


@pytest.mark.parametrize("depth", [0.2, 0.6, 1.5])
def test_an_overhang_hides_little_of_the_horizon(depth):
    """From 3.25 degrees, the middle of the band, a long overhang shades what geometry says: ray by ray.

    A ray from azimuth a off the normal climbs tan(e)/cos(a) for each metre out; shares weighted by cos(a).
    """
    turn = np.radians(np.linspace(-89.95, 89.95, 3599))
    climb = np.tan(np.radians(3.25)) / np.cos(turn)
    lit = 1.0 - np.clip(depth * climb / 1.2, 0.0, 1.0)
    expected = np.average(lit, weights=np.cos(turn))
    shade = sun.Shade(width=1.0, height=1.2, surface_azimuth=160.0, overhang_depth=depth)
    assert sun.horizon_view(shade)[0] == pytest.approx(expected, abs=0.006)
    assert sun.horizon_view(shade)[0] > sun.sky_view(shade)[0]


def test_a_skyline_hides_the_horizon():
    """A hill of 10 degrees all round hides the whole band, one over half of it that half."""
    half = ((0.0, 10.0), (89.9, 10.0), (90.1, 0.0), (359.9, 0.0))
    shade = sun.Shade(
        width=1.0,
        height=1.0,
        surface_azimuth=[90.0, 90.0, 90.0],
        horizon=[((0.0, 10.0),), half, None],
    )
    assert sun.horizon_view(shade) == pytest.approx([0.0, 0.5, 1.0], abs=0.01)


def test_half_a_sky():
    """A wall that hides the western half of the sky leaves half to a north wall and to a roof window."""
    edge = ((0.0, 0.0), (179.9, 0.0), (180.1, 90.0), (359.9, 90.0))
    shade = sun.Shade(
        width=1.0,
        height=1.0,
        surface_azimuth=[0.0, 0.0, 90.0, 270.0],
        surface_tilt=[90.0, 0.0, 90.0, 90.0],
        horizon=[edge] * 4,
    )
    assert sun.sky_view(shade) == pytest.approx([0.5, 0.5, 1.0, 0.0], abs=0.01)


def test_trees_by_month():
    """Without a month the view is the year's mean; with one it is that month's."""
    leaves = (0.6,) * 6 + (0.2,) * 6
    shade = sun.Shade(
        width=1.0, height=1.0, surface_azimuth=0.0, horizon=[sun.Horizon(((0.0, 30.0),), leaves)]
    )
    january, july = sun.sky_view(shade, month=1)[0], sun.sky_view(shade, month=7)[0]
    assert january > july
    assert sun.sky_view(shade)[0] == pytest.approx((january + july) / 2.0, abs=1e-9)


@given(
    depth=st.floats(0.0, 2.0),
    fin=st.floats(0.0, 1.0),
    reveal=st.floats(0.0, 0.4),
    tilt=st.floats(20.0, 120.0),
    more=st.floats(0.0, 1.0),
)
@settings(max_examples=25, deadline=None)
def test_views_stay_in_range_and_fall_with_depth(depth, fin, reveal, tilt, more):
    """A view is from 0 to 1, and a deeper overhang never shows more sky."""
    shade = sun.Shade(
        width=1.0,
        height=1.3,
        surface_azimuth=10.0,
        surface_tilt=tilt,
        overhang_depth=[depth, depth + more],
        left_fin_depth=fin,
        reveal_depth=reveal,
    )
    views = sun.sky_view(shade, rings=16, spokes=32)
    ground = sun.ground_view(shade, rings=16, spokes=32)
    assert np.all((views >= 0.0) & (views <= 1.0) & (ground >= 0.0) & (ground <= 1.0))
    assert views[1] <= views[0] + 1e-9


def test_what_reaches_the_glass():
    """Beam and the glow around the sun follow the sunlit share, sky and ground their views."""
    place = sun.position(pd.DatetimeIndex(["2025-03-21T13:00Z"]), latitude=45.0, longitude=0.0)
    faces = sun.sky_on_faces(
        place, [600.0], [700.0], [120.0], surface_azimuth=[180.0, 270.0], surface_tilt=90.0, model="perez"
    )
    panes = sun.on_panes(
        faces,
        [1, 0, 0],
        [[0.5, 1.0, 0.0]],
        sky_view=[0.8, 1.0, 0.5],
        horizon_view=[0.9, 1.0, 0.7],
        ground_view=[1.0, 1.0, 0.9],
    )
    order = [1, 0, 0]
    assert panes.beam[0] == pytest.approx(faces.beam[0, order] * [0.5, 1.0, 0.0])
    assert panes.aoi[0] == pytest.approx(faces.aoi[0, order])
    even = faces.sky_diffuse - faces.circumsolar - faces.horizon
    expected = (
        faces.circumsolar[0, order] * [0.5, 1.0, 0.0]
        + even[0, order] * [0.8, 1.0, 0.5]
        + faces.horizon[0, order] * [0.9, 1.0, 0.7]
        + faces.ground_diffuse[0, order] * [1.0, 1.0, 0.9]
    )
    assert panes.diffuse[0] == pytest.approx(expected)
    assert panes.total[0, 1] == pytest.approx(faces.total[0, 0])  # the open pane gets all
    assert faces.circumsolar[0, 0] > 0.0
    assert abs(faces.horizon[0, 0]) > 1.0
