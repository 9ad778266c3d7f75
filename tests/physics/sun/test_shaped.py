"""The lit share of shaped panes against the exact share of rectangles, and against geometry."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from reportkit.base.outline import oval, polygon
from reportkit.physics import sun
from reportkit.physics.sun.shade import lit_share

WIDE, HIGH = 1.2, 1.5
DEPTHS = st.floats(0, 1.5)


def rays(count, seed):
    """Return directions before a pane."""
    found = np.random.default_rng(seed).normal(size=(3, count))
    found[2] = np.abs(found[2]) + 0.05
    return found / np.linalg.norm(found, axis=0)


def both(outline, direction, **devices):
    """Return the shares of the outline and of its box."""
    shade = sun.Shade(
        width=[WIDE, WIDE], height=HIGH, surface_azimuth=180.0, outline=[outline, None], **devices
    )
    count = direction.shape[1]
    return (lit_share(direction, shade, np.full(count, number)) for number in (0, 1))


@settings(max_examples=30)
@given(DEPTHS, DEPTHS, DEPTHS, DEPTHS, st.floats(0, 0.3), st.integers(0, 99))
def test_the_outline_of_the_box_is_lit_as_the_box_is(over, gap, left, right, reveal, seed):
    """A polygon that is a rectangle gets the exact share of the rectangle within what the points resolve."""
    whole = polygon(((0, 0), (WIDE, 0), (WIDE, HIGH), (0, HIGH)))
    shaped, exact = both(
        whole,
        rays(40, seed),
        overhang_depth=over,
        overhang_gap=gap,
        left_fin_depth=left,
        left_fin_gap=gap / 2,
        right_fin_depth=right,
        reveal_depth=reveal,
        fin_above=0.2,
        overhang_left=0.3,
        overhang_right=0.1,
    )
    assert shaped == pytest.approx(exact, abs=0.012)


def test_the_shadow_of_an_overhang_takes_less_of_a_triangle_than_of_its_box():
    """A shadow down to half the height leaves half the box, and 3/4 of the triangle: 1 - (1/2)^2."""
    triangle = polygon(((0, 0), (WIDE, 0), (WIDE / 2, HIGH)))
    down = np.array([[0.0], [1.0], [1.0]]) / np.sqrt(2)  # 45 degrees: as far down as the plate is deep
    shaped, box = both(triangle, down, overhang_depth=HIGH / 2)
    assert box == pytest.approx([0.5])
    assert shaped == pytest.approx([0.75], abs=0.01)


def test_a_reveal_cuts_a_circle_by_the_lens_of_two_circles():
    """Light at 45 degrees shifts the opening by the depth; what is lit is the lens of two equal circles.

    Its area is 2 r^2 acos(d/2r) - d/2 sqrt(4r^2 - d^2) (from memory).
    """
    radius, depth = 0.5, 0.3
    shade = sun.Shade(
        width=1.0, height=1.0, surface_azimuth=180.0, reveal_depth=depth, outline=[oval(1.0, 1.0)]
    )
    aside = np.array([[1.0], [0.0], [1.0]]) / np.sqrt(2)
    lens = 2 * radius**2 * np.arccos(depth / 2 / radius) - depth / 2 * np.sqrt(4 * radius**2 - depth**2)
    share = lit_share(aside, shade, np.zeros(1, dtype=int))
    assert share == pytest.approx([lens / (np.pi * radius**2)], abs=0.01)


def test_a_fin_shades_the_side_it_stands_on():
    """A right triangle with its upright side at the left loses more to a fin left than to one right."""
    leaning = polygon(((0, 0), (WIDE, 0), (0, HIGH)))
    ray = {"left": -1.0, "right": 1.0}
    found = {}
    for side, way in ray.items():
        direction = np.array([[way], [0.0], [1.0]]) / np.sqrt(2)
        shaped, box = both(leaning, direction, **{f"{side}_fin_depth": WIDE / 2})
        assert box == pytest.approx([0.5])
        found[side] = float(shaped[0])
    # of the left half 3/4 of the area, of the right half 1/4
    assert found == pytest.approx({"left": 0.25, "right": 0.75}, abs=0.01)


def test_sky_view_of_a_shaped_pane_is_its_own():
    """An overhang hides less of the sky from a triangle, most of whose glass lies low, than from its box."""
    triangle = polygon(((0, 0), (WIDE, 0), (WIDE / 2, HIGH)))
    shade = sun.Shade(
        width=[WIDE] * 2, height=HIGH, surface_azimuth=180.0, overhang_depth=0.8, outline=[triangle, None]
    )
    low, box = sun.sky_view(shade)
    assert low > box + 0.02
    assert shade.take([0]).outline == (triangle,)
