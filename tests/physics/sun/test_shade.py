"""Sunlit share of a pane against rays, handbook formulas and laws."""

import numpy as np
import pandas as pd
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from reportkit.physics import sun


def made(azimuth, height, month=6):
    """Return suns put by hand."""
    azimuth, height = np.broadcast_arrays(
        np.atleast_1d(azimuth).astype(float), np.asarray(height, dtype=float)
    )
    times = pd.date_range(f"2025-{month:02d}-01", periods=len(azimuth), freq="min", tz="UTC")
    zenith = 90.0 - height
    return sun.SunPosition(
        times, zenith, zenith, azimuth, zenith * 0.0, zenith * 0.0 + 1361.0, np.full(len(azimuth), month)
    )


def count_rays(azimuth, height, pane, fine=160):
    """Count the points of a fine grid that see the sun, by intersecting rays with plates in space.

    It shares nothing with the package's code: world axes, one plate at a time.
    """
    face, tilt = np.radians(pane["surface_azimuth"]), np.radians(pane["surface_tilt"])
    a, h = np.radians(azimuth), np.radians(height)
    ray = np.array([np.sin(a) * np.cos(h), np.cos(a) * np.cos(h), np.sin(h)])  # east, north, up
    out = np.array([np.sin(face) * np.sin(tilt), np.cos(face) * np.sin(tilt), np.cos(tilt)])
    up = np.array([-np.sin(face) * np.cos(tilt), -np.cos(face) * np.cos(tilt), np.sin(tilt)])
    right = np.cross(up, out)  # to the right of someone outside who faces the glass
    if ray @ out <= 1e-6 or height <= 0.0:
        return 0.0
    w, t = pane["width"], pane["height"]
    x = (np.arange(fine) + 0.5)[:, None, None] / fine * w
    y = (np.arange(fine) + 0.5)[None, :, None] / fine * t
    points = x * right + y * up
    root = pane["reveal_depth"]
    end_x = min(w + pane["overhang_right"], 1e6)
    start_x = max(-pane["overhang_left"], -1e6)
    top, bottom = t + min(pane["fin_above"], 1e6), -min(pane["fin_below"], 1e6)
    # plate: normal axis, its place, and ranges along the two other axes (None is the normal's)
    plates = [
        (up, t + pane["overhang_gap"], (start_x, end_x), None, (root, root + pane["overhang_depth"])),
        (right, -pane["left_fin_gap"], None, (bottom, top), (root, root + pane["left_fin_depth"])),
        (right, w + pane["right_fin_gap"], None, (bottom, top), (root, root + pane["right_fin_depth"])),
        (up, t, (0.0, w), None, (0.0, root)),
        (up, 0.0, (0.0, w), None, (0.0, root)),
        (right, 0.0, None, (0.0, t), (0.0, root)),
        (right, w, None, (0.0, t), (0.0, root)),
    ]
    lit = np.ones(points.shape[:2], dtype=bool)
    for normal, place, range_x, range_y, (near, far) in plates:
        speed = ray @ normal
        if far <= near or abs(speed) < 1e-12:
            continue
        reach = (place - points @ normal) / speed
        hit = points + reach[..., None] * ray
        inside = (reach > 0.0) & (hit @ out >= near) & (hit @ out <= far)
        if range_x is not None:
            inside &= (hit @ right >= range_x[0]) & (hit @ right <= range_x[1])
        if range_y is not None:
            inside &= (hit @ up >= range_y[0]) & (hit @ up <= range_y[1])
        lit &= ~inside
    return lit.mean()


depth = st.one_of(st.just(0.0), st.floats(0.05, 1.5))
gap = st.one_of(st.just(0.0), st.floats(0.0, 0.6))
past = st.one_of(st.just(0.0), st.just(np.inf), st.floats(0.0, 1.0))
panes = st.fixed_dictionaries(
    {
        "width": st.floats(0.3, 3.0),
        "height": st.floats(0.3, 3.0),
        "surface_azimuth": st.floats(0.0, 360.0),
        "surface_tilt": st.one_of(st.just(90.0), st.floats(0.0, 120.0)),
        "overhang_depth": depth,
        "overhang_gap": gap,
        "overhang_left": past,
        "overhang_right": past,
        "left_fin_depth": depth,
        "left_fin_gap": gap,
        "right_fin_depth": depth,
        "right_fin_gap": gap,
        "fin_above": past,
        "fin_below": past,
        "reveal_depth": st.one_of(st.just(0.0), st.floats(0.02, 0.4)),
    }
)


@given(pane=panes, turn=st.floats(-89.0, 89.0), height=st.floats(0.5, 89.5))
@settings(max_examples=150, deadline=None)
def test_sunlit_share_equals_a_count_of_rays(pane, turn, height):
    """The exact area agrees with rays from a fine grid for any pane, device and sun before it."""
    # an independent brute-force count, a cross-check
    azimuth = pane["surface_azimuth"] + turn
    lit = sun.sunlit_fraction(made(azimuth, height), sun.Shade(**pane))[0, 0]
    assert lit == pytest.approx(count_rays(azimuth, height, pane), abs=0.015)


def test_a_long_overhang_by_the_handbook():
    """The shadow of a long overhang is its depth times the tangent of the profile angle."""
    # ASHRAE Handbook of Fundamentals, chapter 15, shadow height = P tan(b)/cos(g) (from memory)
    height, turn = np.array([20.0, 40.0, 60.0, 70.0]), np.array([0.0, 30.0, -50.0, 10.0])
    shadow = 0.6 * np.tan(np.radians(height)) / np.cos(np.radians(turn)) - 0.2
    expected = 1.0 - np.clip(shadow, 0.0, 1.5) / 1.5
    shade = sun.Shade(width=1.0, height=1.5, surface_azimuth=180.0, overhang_depth=0.6, overhang_gap=0.2)
    assert sun.sunlit_fraction(made(180.0 + turn, height), shade)[:, 0] == pytest.approx(expected, abs=1e-9)
    assert 0.0 < expected.min() < expected.max() <= 1.0


def test_a_tall_fin_by_the_handbook():
    """The shadow of a tall fin is its depth times the tangent of the wall's solar azimuth."""
    # ASHRAE Handbook of Fundamentals, chapter 15, shadow width = P |tan g| (from memory)
    turn = np.array([10.0, 30.0, 60.0, -30.0])
    shade = sun.Shade(
        width=1.2, height=1.5, surface_azimuth=180.0, left_fin_depth=0.5, fin_above=np.inf, fin_below=np.inf
    )
    lit = sun.sunlit_fraction(made(180.0 + turn, 35.0), shade)[:, 0]
    # seen from outside, left of a south window is west: the sun beyond azimuth 180 is on that side
    shadow = np.where(turn > 0.0, 0.5 * np.abs(np.tan(np.radians(turn))), 0.0)
    assert lit == pytest.approx(1.0 - np.clip(shadow, 0.0, 1.2) / 1.2, abs=1e-9)


def test_the_other_fin_shades_the_other_half_of_the_day():
    """A fin on the right as seen from outside, east of a south window, shades in the morning only."""
    shade = sun.Shade(width=1.0, height=1.0, surface_azimuth=180.0, right_fin_depth=0.5, fin_above=np.inf)
    morning, evening = sun.sunlit_fraction(made([140.0, 220.0], 30.0), shade)[:, 0]
    assert morning < 1.0
    assert evening == 1.0


def test_bare_panes():
    """Without obstruction a pane is lit while the sun is up and before it, and dark otherwise."""
    shade = sun.Shade(width=1.0, height=1.0, surface_azimuth=[180.0, 0.0], surface_tilt=90.0)
    lit = sun.sunlit_fraction(made([180.0, 180.0, 0.0], [30.0, -5.0, 30.0]), shade)
    assert lit.tolist() == [[1.0, 0.0], [0.0, 0.0], [0.0, 1.0]]


def test_directions_of_a_south_wall():
    """From outside a south wall, east is on the right, and a high sun is up the pane."""
    right, up, out = sun.local_direction([90.0, 180.0, 0.0], [0.0, 0.0, 90.0], 180.0, 90.0)
    assert right == pytest.approx([1.0, 0.0, 0.0], abs=1e-12)
    assert out == pytest.approx([0.0, 1.0, 0.0], abs=1e-12)
    assert up == pytest.approx([0.0, 0.0, 1.0], abs=1e-12)


@given(pane=panes, turn=st.floats(-180.0, 180.0), height=st.floats(-20.0, 90.0), more=st.floats(0.0, 1.0))
@settings(max_examples=80, deadline=None)
def test_more_shade_never_means_more_sun(pane, turn, height, more):
    """The share is from 0 to 1, and a deeper overhang, fin or reveal never lets in more."""
    place = made(pane["surface_azimuth"] + turn, height)
    base = sun.sunlit_fraction(place, sun.Shade(**pane))[0, 0]
    assert 0.0 <= base <= 1.0
    for name in ("overhang_depth", "left_fin_depth", "right_fin_depth"):
        deeper = sun.Shade(**{**pane, name: pane[name] + more})
        assert sun.sunlit_fraction(place, deeper)[0, 0] <= base + 1e-9


def test_a_horizon_is_read_all_the_way_round():
    """The skyline is interpolated past north, whatever the order and the turns of its points."""
    skyline = sun.Horizon(((90.0, 10.0), (350.0, 20.0), (10.0, 30.0), (-180.0, 0.0)))
    assert skyline.height([0.0, 360.0, 350.0, 10.0, -10.0]) == pytest.approx([25.0, 25.0, 20.0, 30.0, 20.0])
    assert skyline.height([50.0, 135.0, 180.0]) == pytest.approx([20.0, 5.0, 0.0])
    assert sun.Horizon(((123.0, 7.0),)).height([0.0, 200.0]) == pytest.approx([7.0, 7.0])


@pytest.mark.parametrize("turn", [0.0, 95.0, 215.0])
@pytest.mark.parametrize("backwards", [False, True])
def test_an_upright_edge_stands_where_it_is_given(turn, backwards):
    """Two heights at one bearing are a wall's edge, wherever the list begins and whichever way it goes."""
    points = [(100.0, 8.0), (120.0, 10.0), (120.0, 40.0), (200.0, 40.0), (200.0, 5.0), (300.0, 5.0)]
    points = [((bearing + turn) % 360.0, height) for bearing, height in points]
    skyline = sun.Horizon(tuple(points[::-1] if backwards else points))
    at = np.array([119.999, 120.001, 160.0, 199.999, 200.001, 250.0]) + turn
    assert skyline.height(at) == pytest.approx([10.0, 40.0, 40.0, 40.0, 5.0, 5.0], abs=0.01)


def test_the_sun_behind_a_skyline_is_gone():
    """Below the skyline there is no sun, above it all."""
    shade = sun.Shade(
        width=1.0, height=1.0, surface_azimuth=[180.0, 180.0], horizon=[((180.0, 25.0), (0.0, 0.0)), None]
    )
    lit = sun.sunlit_fraction(made([180.0, 180.0], [20.0, 30.0]), shade)
    assert lit.tolist() == [[0.0, 1.0], [1.0, 1.0]]


def test_bare_trees_let_part_of_the_sun_through():
    """A skyline of trees passes its month's share, and a wall behind them nothing."""
    leaves = tuple(0.6 if month in (1, 2, 3, 11, 12) else 0.15 for month in range(1, 13))
    trees = sun.Horizon(((0.0, 40.0),), leaves)
    wall = sun.Horizon(((0.0, 10.0),))
    shade = sun.Shade(width=1.0, height=1.0, surface_azimuth=180.0, horizon=[(trees, wall)])
    heights = [5.0, 20.0, 50.0]
    winter = sun.sunlit_fraction(made(180.0, heights, month=1), shade)[:, 0]
    summer = sun.sunlit_fraction(made(180.0, heights, month=7), shade)[:, 0]
    assert winter == pytest.approx([0.0, 0.6, 1.0])
    assert summer == pytest.approx([0.0, 0.15, 1.0])


@pytest.mark.parametrize(
    ("wrong", "message"),
    [
        ({"width": 0.0}, "width must be over 0"),
        ({"overhang_depth": -0.1}, "overhang_depth must be 0 or more"),
        ({"overhang_depth": np.nan}, "overhang_depth must be 0 or more"),
        ({"surface_tilt": 200.0}, "surface_tilt"),
        ({"height": [1.0, 2.0], "reveal_depth": [0.1, 0.1, 0.1]}, "one for each"),
        ({"height": [1.0, 2.0], "horizon": [None]}, "one entry for each"),
    ],
)
def test_impossible_panes_are_refused(wrong, message):
    """A shade that cannot be is an error that names the field."""
    with pytest.raises(ValueError, match=message):
        sun.Shade(**{"width": 1.0, "height": 1.0, "surface_azimuth": 0.0, **wrong})


@pytest.mark.parametrize(
    ("points", "leaves"),
    [
        ((), (0.0,) * 12),
        (((0.0, 95.0),), (0.0,) * 12),
        (((0.0, 5.0),), (0.5,)),
        (((0.0, 1.0), (360.0, 2.0), (0.0, 3.0)), (0.0,) * 12),
    ],
)
def test_impossible_horizons_are_refused(points, leaves):
    """A skyline without points, over the zenith, with three heights at one turn, or of no twelve months."""
    with pytest.raises(ValueError, match=r"horizon|transmittance"):
        sun.Horizon(points, leaves)


def test_panes_can_be_picked():
    """Taking panes keeps their numbers and their skylines."""
    shade = sun.Shade(
        width=[1.0, 2.0, 3.0], height=1.0, surface_azimuth=180.0, horizon=[None, ((0.0, 5.0),), None]
    )
    some = shade.take([2, 1])
    assert some.width.tolist() == [3.0, 2.0]
    assert [len(entry) for entry in some.horizon] == [0, 1]
