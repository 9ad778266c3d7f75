"""Outlines against exact areas and lengths of geometry."""

import itertools
import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from reportkit.base.outline import arched, crossing, oval, polygon

SIDES = st.floats(20, 6000)


def shoelace(points):
    """Return the area of a polygon by sums of trapezoids under its sides."""
    ring = [*points, points[0]]
    return abs(sum((b[0] - a[0]) * (a[1] + b[1]) / 2 for a, b in itertools.pairwise(ring)))


def test_a_circle_has_the_area_and_edge_of_a_circle():
    """Pi r^2 and 2 pi r."""
    made = oval(800, 800)
    assert made.area == pytest.approx(math.pi * 400**2, rel=1e-12)
    assert made.edge == pytest.approx(2 * math.pi * 400, rel=2e-4)
    assert made.centroid == pytest.approx((400, 400))


def test_an_oval_has_the_area_of_an_ellipse():
    """Pi a b, half axes 300 and 500."""
    assert oval(600, 1000).area == pytest.approx(math.pi * 300 * 500, rel=1e-12)


def test_a_half_round_is_half_a_circle():
    """Pi r^2 / 2 and pi r + 2 r; its centroid lies 4 r / 3 pi over the foot."""
    made = arched(1000, 500, 500)
    assert made.area == pytest.approx(math.pi * 500**2 / 2, rel=1e-12)
    assert made.edge == pytest.approx(math.pi * 500 + 1000, rel=2e-4)
    assert made.centroid == pytest.approx((500, 4 * 500 / (3 * math.pi)), rel=5e-4)


def test_an_arch_is_a_rectangle_under_a_segment():
    """A segment of r^2/2 (a - sin a): chord 1000 and rise 133.97 are a sixth of a turn, radius 1000."""
    rise = 1000 * (1 - math.cos(math.radians(30)))
    segment = 1000**2 / 2 * (math.pi / 3 - math.sin(math.pi / 3))
    made = arched(1000, 1400, rise)
    assert made.area == pytest.approx(1000 * (1400 - rise) + segment, rel=1e-12)
    assert made.edge == pytest.approx(1000 + 2 * (1400 - rise) + 1000 * math.pi / 3, rel=2e-4)


def test_a_triangle_has_half_the_area_of_its_box():
    """Half of base times height wherever the tip lies; its centroid is the mean of its corners."""
    for tip in (0, 300, 900):
        made = polygon(((0, 0), (900, 0), (tip, 600)))
        assert made.area == pytest.approx(900 * 600 / 2)
        assert made.centroid == pytest.approx(((900 + tip) / 3, 200))
    assert polygon(((0, 0), (300, 0), (0, 400))).edge == pytest.approx(300 + 400 + 500)  # 3, 4, 5


@given(SIDES, SIDES, st.floats(0.001, 1))
def test_points_of_a_curve_enclose_its_area(width, height, part):
    """What is drawn is what is counted, within the chords; it fills its box and no more."""
    rise = min(height, width / 2) * part
    for made in (arched(width, height, rise), oval(width, height)):
        assert shoelace(made.points) == pytest.approx(made.area, rel=2e-3)
        for side, values in zip((width, height), zip(*made.points, strict=True), strict=True):
            assert min(values) == pytest.approx(0, abs=1e-6 * side)
            assert max(values) == pytest.approx(side, rel=1e-3)


@given(st.lists(st.tuples(st.integers(0, 60), st.integers(0, 60)), min_size=3, max_size=7))
def test_a_polygon_holds_as_many_grid_points_as_its_area_says(corners):
    """Pick's theorem: area = points inside + points on the edge / 2 - 1 where no sides cross."""
    assume(crossing(corners) is None)
    made = polygon(tuple((float(x), float(y)) for x, y in corners))
    ring = [*corners, corners[0]]
    steps = list(itertools.pairwise(ring))
    assume(made.area > 0)
    edge = {
        (a[0] + (b[0] - a[0]) * n // g, a[1] + (b[1] - a[1]) * n // g)
        for a, b in steps
        for g in [math.gcd(b[0] - a[0], b[1] - a[1])]
        for n in range(g)
    }
    grid = [(x, y) for x in range(61) for y in range(61) if (x, y) not in edge]
    xs, ys = zip(*grid, strict=True)
    inside = int(made.contains(xs, ys).sum())
    assert made.area == pytest.approx(inside + len(edge) / 2 - 1)


def test_sides_that_cross_are_found():
    """A bow tie crosses; its corners round the square do not; a corner twice or a side back does."""
    assert crossing(((0, 0), (4, 4), (4, 0), (0, 4))) == (0, 2)
    assert crossing(((0, 0), (4, 0), (4, 4), (0, 4))) is None
    assert crossing(((0, 0), (4, 0), (4, 0), (0, 4))) is not None
    assert crossing(((0, 0), (4, 0), (2, 0), (0, 4))) is not None
    assert crossing(((0, 0), (4, 0), (8, 0))) is not None
    assert crossing(((0, 0), (4, 0), (4, 4), (2, 0), (0, 4))) is not None


def test_a_triangle_is_as_wide_at_a_height_as_similar_triangles_say():
    """At half its height a triangle is half as wide."""
    made = polygon(((0, 0), (800, 0), (400, 600)))
    assert made.across_at(300, 400) == pytest.approx((200, 600))
