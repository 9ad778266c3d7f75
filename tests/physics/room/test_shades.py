"""Glass with a shade by the simplified method of ISO 52022-1."""

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from reportkit.physics.room.shades import RANGES, TYPICAL, ShadeLayer, drawn, with_shade


def test_inside_white_blind() -> None:
    """White blind inside (reflectance .5, absorptance .4) behind g .76, U 2.73: .446.

    Formula of ISO 52022-1 (from a copy); the value is an independent solve of it.
    """
    blind = ShadeLayer("blind", "inside", 0.1, 0.5)
    assert float(with_shade(0.76, blind, u_glass=2.73)) == pytest.approx(0.446, abs=0.0005)


def test_outside_screen() -> None:
    """Screen outside (transmittance .1, absorptance .3) before the same glass: .128 (same source)."""
    screen = ShadeLayer("screen", "outside", 0.1, 0.6)
    assert float(with_shade(0.76, screen, u_glass=2.73)) == pytest.approx(0.128, abs=0.0005)


def test_film_and_shade_together() -> None:
    """A shade works on the glass as filmed: less gain than either alone, over an array of glasses."""
    bare, filmed = with_shade([0.76, 0.40], TYPICAL["inside_white_blind"], u_glass=[2.73, 2.73])
    assert filmed < bare < 0.76
    assert filmed < 0.40


@settings(deadline=None, max_examples=80)
@given(st.floats(0.5, 0.85), st.floats(0.8, 6.0), st.floats(0.1, 0.8))
def test_an_opaque_shade_does_more_outside(g: float, u: float, re: float) -> None:
    """Before ordinary glass an opaque shade outside lets less heat in than the same one inside."""
    inside = float(with_shade(g, ShadeLayer("shade", "inside", 0.0, re), u_glass=u))
    outside = float(with_shade(g, ShadeLayer("shade", "outside", 0.0, re), u_glass=u))
    assert 0.0 <= outside < inside < g


@settings(deadline=None, max_examples=80)
@given(st.floats(0.15, 0.85), st.floats(0.8, 6.0), st.floats(0.0, 0.5), st.floats(0.1, 0.8))
def test_whiter_shades_let_less_in(g: float, u: float, te: float, re: float) -> None:
    """Of two shades with the same transmittance the more reflective one lets less heat in.

    Inside, the standard's formula falls with re only where g > G/30, which real glass is well above.
    """
    assume(te + re <= 0.95)
    assume(g > 1.0 / (1.0 / u + 1.0 / 30.0) / 30.0 + 1e-6)
    for place in ("inside", "outside"):
        dark = float(with_shade(g, ShadeLayer("dark", place, te, re), u_glass=u))  # type: ignore[arg-type]
        white = float(with_shade(g, ShadeLayer("white", place, te, re + 0.05), u_glass=u))  # type: ignore[arg-type]
        assert white < dark


@pytest.mark.parametrize("layer", TYPICAL.values(), ids=TYPICAL)
def test_the_shades_compared_are_in_the_range_of_the_method(layer: ShadeLayer) -> None:
    """Transmittance to .5 and reflectance .1 to .8 of the shade (ISO 52022-1:2017, from memory)."""
    assert layer.transmittance <= RANGES["transmittance"][1] == 0.5
    low, high = RANGES["reflectance"]
    assert (low, high) == (0.1, 0.8)
    assert low <= layer.reflectance <= high


def test_drawn_while_the_sun_is_on_the_pane() -> None:
    """A shade is drawn above its threshold while someone is there; never for a nan."""
    state = drawn([100.0, 300.0, 300.0, np.nan], present=[True, True, False, True])
    assert state.tolist() == [False, True, False, False]


def test_impossible_shades_are_refused() -> None:
    """Shares over one, an unknown place and a U of nothing raise."""
    with pytest.raises(ValueError, match="0 to 1 together"):
        ShadeLayer("a", "inside", 0.6, 0.6)
    with pytest.raises(ValueError, match="place"):
        ShadeLayer("a", "between", 0.1, 0.1)  # type: ignore[arg-type]
    with pytest.raises(ValueError, match="u_glass"):
        with_shade(0.5, TYPICAL["outside_screen"], u_glass=0.0)
