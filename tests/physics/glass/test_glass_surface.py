"""Interfaces: taking a film off the pane it was rated on and putting it on another."""

import math

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from reportkit.physics.glass.surface import (
    BARE,
    BARE_REFLECTANCE,
    Surface,
    deembed,
    embed,
    internal_transmittance,
)

U3, U6, TINT = 0.9099, 0.8414, 0.5


def test_bare_reflectance_of_soda_lime_glass() -> None:
    """((n - 1)/(n + 1))^2 at n 1.526 is .04336 (Fresnel at normal incidence)."""
    assert pytest.approx(0.04336, abs=5e-6) == BARE_REFLECTANCE


# Algebra of Rubin, von Rottkay & Powles, Solar Energy 62 (1998) 149; worked independently (a cross-check, not
# an authority): rated T, R glass side, R film side on 3 mm clear -> interface -> on 6 mm clear and on a tint.
DEEMBED = [
    ((0.35, 0.25, 0.22), (0.3982, 0.2701, 0.2143), (0.3232, 0.2198, 0.2192), (0.1910, 0.1053, 0.2160)),
    ((0.15, 0.55, 0.50), (0.1683, 0.6530, 0.4990), (0.1382, 0.4750, 0.4998), (0.0811, 0.1938, 0.4993)),
]


@pytest.mark.parametrize(("rated", "film", "on_six", "on_tint"), DEEMBED)
def test_deembedding_table(rated, film, on_six, on_tint) -> None:
    """Rated values give the tabulated interface, and that gives the tabulated values on other panes."""
    got = deembed(*rated, internal=U3)
    assert got == pytest.approx(film, abs=1e-4)
    assert embed(*got, internal=U6) == pytest.approx(on_six, abs=1e-4)
    assert embed(*got, internal=TINT) == pytest.approx(on_tint, abs=1e-4)


def test_closure_on_bare_glass() -> None:
    """An interface with the values of a bare face gives bare 3 mm glass, T .8340 and R .0763."""
    r = BARE_REFLECTANCE
    t, r_front, r_back = embed(1.0 - r, r, r, internal=0.90990)
    assert (t, r_front, r_back) == pytest.approx((0.8340, 0.0763, 0.0763), abs=1e-4)


@settings(max_examples=100, deadline=None)
@given(
    t=st.floats(0.01, 0.95),
    r_glass=st.floats(0.0, 0.95),
    r_air=st.floats(0.0, 0.95),
    u=st.floats(0.3, 1.0),
)
def test_deembedding_inverts_embedding(t: float, r_glass: float, r_air: float, u: float) -> None:
    """Any possible interface is found again from the pane it makes, which conserves energy."""
    assume(t + max(r_glass, r_air) <= 1.0)
    pane = embed(t, r_glass, r_air, internal=u)
    assert deembed(*pane, internal=u) == pytest.approx((t, r_glass, r_air), abs=1e-9)
    assert pane[0] + pane[1] <= 1.0 + 1e-12
    assert pane[0] + pane[2] <= 1.0 + 1e-12


@pytest.mark.parametrize(("t_pane", "u"), [(0.834, 0.9099), (0.7709, 0.8414)])
def test_internal_transmittance_of_clear_glass(t_pane: float, u: float) -> None:
    """Solar T .834 and .771 of 3 and 6 mm clear mean .9099 and .8414 inside the glass."""
    assert internal_transmittance(t_pane) == pytest.approx(u, abs=2e-4)
    assert internal_transmittance(0.0) == 0.0


@pytest.mark.parametrize("t_pane", [-0.1, 0.93])
def test_impossible_transmittance_is_refused(t_pane: float) -> None:
    """No uncoated pane passes more than two bare faces allow."""
    with pytest.raises(ValueError, match="transmittance of an uncoated pane"):
        internal_transmittance(t_pane)


def test_nan_is_carried() -> None:
    """Not-a-number in, not-a-number out."""
    assert math.isnan(embed(math.nan, 0.1, 0.1, internal=U3)[0])
    assert math.isnan(deembed(0.3, 0.2, math.nan, internal=U3)[2])


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"kind": "sticker"}, "kind of a face"),
        ({"t": (0.9, 0.9, 0.9), "r_air": (0.2, 0.2, 0.2)}, "ultraviolet: transmittance and reflectance"),
        ({"t": (0.1, 0.1, -0.1)}, "near-infrared"),
        ({"emissivity": 0.0}, "emissivity"),
        ({"angular_category": 0.5}, "angular category"),
    ],
)
def test_impossible_faces_are_refused(change: dict, message: str) -> None:
    """A face that reflects and passes more than all the light cannot be made."""
    values = {"kind": "film", "t": BARE.t, "r_glass": BARE.r_glass, "r_air": BARE.r_air} | change
    with pytest.raises(ValueError, match=message):
        Surface(**values)
