"""The stack: conservation, reciprocity, and panes against handbook and independent values."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from reportkit.physics.glass import (
    Film,
    Gap,
    Glazing,
    Lite,
    clear,
    coated,
    double,
    laminated,
    optics,
    single,
    tinted,
    triple,
    with_film,
)
from reportkit.physics.glass.optics import normal

ANGLES = np.array([0.0, 15.0, 40.0, 56.76, 70.0, 80.0, 89.0, 90.0])
PANES = [
    clear(3),
    clear(6),
    tinted(6, "grey"),
    laminated(6.0),
    coated(4, "hard"),
    coated(6, "soft", face="front"),
]


@st.composite
def glazings(draw) -> Glazing:
    """One to three panes, with or without a film on a reachable bare face."""
    lites = draw(st.lists(st.sampled_from(PANES), min_size=1, max_size=3))
    glazing = Glazing("any", tuple(lites), (Gap(12.0),) * (len(lites) - 1))
    side = draw(st.sampled_from([None, "inside", "outside"]))
    face = glazing.faces[0] if side == "outside" else glazing.faces[-1]
    if side is None or face.kind != "bare":
        return glazing
    t = draw(st.floats(0.05, 0.45))
    r = draw(st.floats(0.06, 0.3))
    return with_film(glazing, Film("any", t, r, t, r, r, r, t_uv=0.01), side=side)


@settings(max_examples=60, deadline=None)
@given(glazings(), st.sampled_from(["stack", "pane"]))
def test_light_is_conserved(glazing: Glazing, polarisation: str) -> None:
    """T + R + A = 1 in every band and angle and for diffuse light, and no layer's absorption is negative."""
    light = optics(glazing, ANGLES, polarisation=polarisation)
    for part in (light, light.diffuse):
        assert part.absorbed.shape[-1] == len(glazing.lites)
        assert part.t + part.r_out + part.absorbed.sum(axis=-1) == pytest.approx(
            np.ones_like(part.t), abs=1e-9
        )
        assert part.absorbed.min() >= -1e-9
        assert part.t.min() >= -1e-12
        assert part.r_in.max() <= 1.0 + 1e-9


@settings(max_examples=30, deadline=None)
@given(glazings())
def test_transmittance_is_the_same_both_ways(glazing: Glazing) -> None:
    """Turning the whole glazing round leaves T and swaps the two reflectances (reciprocity)."""
    turned = Glazing(
        "turned",
        tuple(
            Lite(p.name, p.thickness_mm, p.internal, p.back, p.front, p.conductivity)
            for p in reversed(glazing.lites)
        ),
        tuple(reversed(glazing.gaps)),
    )
    one, other = optics(glazing, ANGLES), optics(turned, ANGLES)
    assert one.t == pytest.approx(other.t, abs=1e-12)
    assert one.r_out == pytest.approx(other.r_in, abs=1e-12)
    assert one.r_in == pytest.approx(other.r_out, abs=1e-12)


# Solar transmittance by angle from ASHRAE Fundamentals' table of single glazings (from memory), 3 mm clear at
# 0, 40, 50, 60, 70, 80 degrees and diffuse.
def test_transmittance_by_angle_of_clear_glass() -> None:
    """3 mm clear: .83 .82 .80 .75 .64 .39 and .75 diffuse."""
    light = optics(single(clear(3)), [0, 40, 50, 60, 70, 80])
    assert light.t_solar == pytest.approx([0.83, 0.82, 0.80, 0.75, 0.64, 0.39], abs=0.01)
    assert light.diffuse.t_solar[0] == pytest.approx(0.75, abs=0.015)


def test_two_panes_against_an_independent_sum() -> None:
    """Two panes by summing the reflections between them, each polarisation by itself (cross-check)."""
    pane, aoi = clear(6), np.radians(60.0)
    n, u = 1.526, np.array(pane.internal)
    inside = np.arcsin(np.sin(aoi) / n)
    reflect = (
        (np.sin(aoi - inside) / np.sin(aoi + inside)) ** 2,
        (np.tan(aoi - inside) / np.tan(aoi + inside)) ** 2,
    )
    depth = u ** (1.0 / np.cos(inside))
    total = 0.0
    for r in reflect:
        t_one = sum((1 - r) ** 2 * depth * (r * depth) ** (2 * k) for k in range(60))
        r_one = r + sum((1 - r) ** 2 * r * depth**2 * (r * depth) ** (2 * k) for k in range(60))
        total = total + 0.5 * sum(t_one * t_one * r_one ** (2 * k) for k in range(60))
    light = optics(double(pane, pane, gap=Gap(12.0)), 60.0)
    assert light.t[0] == pytest.approx(total, abs=1e-12)


def test_polarisation_by_pane_passes_less() -> None:
    """Averaging pane by pane lets less slanted light through two panes, and the same along the normal."""
    unit = double(clear(3), clear(3), gap=Gap(12.7))
    stack, pane = optics(unit, [0.0, 70.0]), optics(unit, [0.0, 70.0], polarisation="pane")
    assert pane.t_solar[0] == pytest.approx(stack.t_solar[0])
    assert 0.01 < stack.t_solar[1] - pane.t_solar[1] < 0.05
    one = optics(single(clear(3)), [0.0, 70.0])
    assert one.t_solar == pytest.approx(optics(single(clear(3)), [0.0, 70.0], polarisation="pane").t_solar)


def test_opaque_pane_passes_nothing() -> None:
    """A band with no internal transmittance is absorbed whole, but for the front face's reflection."""
    light = normal(single(Lite("opaque", 6.0, (0.0, 0.0, 0.0))))
    assert light.t[0] == pytest.approx([0.0] * 3)
    assert light.absorbed[0, :, 0] == pytest.approx([1.0 - 0.04336] * 3, abs=1e-5)


def test_shapes_and_nan() -> None:
    """One row per angle, one column per band; a nan angle gives nan and leaves its neighbours."""
    unit = triple(clear(4), clear(4), clear(4), gaps=(Gap(12), Gap(12)))
    light = optics(unit, [0.0, np.nan, 90.0])
    assert light.t.shape == (3, 3)
    assert light.absorbed.shape == (3, 3, 3)
    assert np.isnan(light.t[1]).all()
    assert light.t[2] == pytest.approx([0.0] * 3)
    assert light.r_out[2] == pytest.approx([1.0] * 3)
    assert optics(unit, 30.0).t_solar.shape == (1,)


@pytest.mark.parametrize(
    ("args", "message"),
    [
        (([95.0], "stack"), "between 0 and 90"),
        (([-1.0], "stack"), "between 0 and 90"),
        (([0.0], "sum"), "polarisation must be one of"),
        (([[0.0]], "stack"), "one row of numbers"),
    ],
)
def test_impossible_arguments_are_refused(args, message: str) -> None:
    """Angles out of range and unknown modes raise."""
    with pytest.raises(ValueError, match=message):
        optics(single(clear(3)), args[0], polarisation=args[1])
