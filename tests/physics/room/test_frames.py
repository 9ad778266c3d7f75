"""Frames and spacers against the sum of ISO 10077-1, worked by hand."""

import math

import pytest

from reportkit.base import outline
from reportkit.physics.room import frames


def test_a_window_worked_by_hand_after_iso_10077_1():
    """Uw = (Ag Ug + Af Uf + lg psi)/(Ag + Af), ISO 10077-1:2017, 6.2.1 (the formula from memory).

    1.23 x 1.48 m outside, the standard's own size, frame 115 mm: glass 1.00 x 1.25 m of 1.1 W/m2K, frame 1.4,
    spacer .08: (1.25 x 1.1 + .5704 x 1.4 + 4.5 x .08)/1.8204 = 2.53356/1.8204 = 1.392 W/m2K.
    """
    area = frames.frame_area(outline.polygon(((0, 0), (1, 0), (1, 1.25), (0, 1.25))), 0.115)
    assert area == pytest.approx(1.23 * 1.48 - 1.25)
    frame = frames.Frame(area, 1.4, 4.5, 0.08)
    whole = (1.25 * 1.1 + frame.loss()) / (1.25 + frame.area)
    assert whole == pytest.approx(1.3918, abs=5e-4)
    assert frame.loss(2.0) == pytest.approx(0.5704 * 2.0 + 0.36)


def test_frames_of_shapes_by_geometry():
    """A ring round a circle; round an equilateral triangle a larger, sides 2 sqrt(3) d longer; an L."""
    ring = frames.frame_area(outline.oval(0.7, 0.7), 0.07)
    assert ring == pytest.approx(math.pi * (0.42**2 - 0.35**2), rel=1e-3)
    triangle = outline.polygon(((0, 0), (1, 0), (0.5, math.sqrt(0.75))))
    larger = math.sqrt(3) / 4 * ((1 + 2 * math.sqrt(3) * 0.07) ** 2 - 1)
    assert frames.frame_area(triangle, 0.07) == pytest.approx(larger)
    angle = outline.polygon(((0, 0), (1, 0), (1, 0.4), (0.4, 0.4), (0.4, 1), (0, 1)))
    # two arms 0.54 wide and 1.14 long, their square counted once, less 0.64 m2 of glass
    assert frames.frame_area(angle, 0.07) == pytest.approx(2 * 1.14 * 0.54 - 0.54**2 - 0.64)


def test_a_sliver_has_no_endless_frame():
    """A tip of 0.06 degrees adds two squares of the frame's width, not nine square metres."""
    sliver = outline.polygon(((0, 0), (0.905, 0), (0.905, 0.001)))
    added = frames.frame_area(sliver, 0.07) - 0.07 * sliver.edge
    assert 0 < added <= 3 * 2 * 0.07**2


@pytest.mark.parametrize(
    ("material", "u", "sheets", "coated", "psi"),
    [
        ("timber", 2.0, 2, False, 0.06),
        ("plastic", 2.0, 2, True, 0.08),
        ("metal", 3.5, 2, False, 0.08),
        ("metal", 3.5, 3, True, 0.11),
        ("metal", 5.9, 2, False, 0.02),
        ("metal", 5.9, 2, True, 0.05),
        ("timber", 2.0, 1, False, 0.0),
    ],
)
def test_spacers_of_the_annex(material, u, sheets, coated, psi):
    """ISO 10077-1:2017, annex, metal spacers (from memory); single glass has none."""
    assert frames.usual_spacer(material, u, lites=sheets, coated=coated) == psi
