"""Air through opened windows."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from reportkit.physics.room.opening import Opening, air_flow


def test_one_opening_by_hand() -> None:
    """0.5 m2, 1 m high, 5 K, 2 m/s: .25 sqrt(.004 + .0175 + .01) = .0444 m3/s.

    Formula of de Gids & Phaff 1982, from copies; the value worked by hand.
    """
    assert float(air_flow(0.5, 1.0, 5.0, 2.0)) == pytest.approx(0.04437, abs=0.00001)
    assert float(air_flow(0.5, 1.0, -5.0, 2.0)) == pytest.approx(0.04437, abs=0.00001)


def test_through_two_faces_by_hand() -> None:
    """Two halves of .5 m2 at 2 m/s: by wind .6 x .5/sqrt 2 x 2 x sqrt .2 = .1897 m3/s (orifice equation).

    With the single face's .0444 x 2 (twice the area) the squares add up to .2095.
    """
    wind = 0.6 * 0.5 / np.sqrt(2.0) * 2.0 * np.sqrt(0.2)
    expected = np.hypot(wind, 2.0 * 0.044371)
    assert float(air_flow(1.0, 1.0, 5.0, 2.0, cross=1.0)) == pytest.approx(expected, rel=1e-4)


@settings(deadline=None, max_examples=60)
@given(st.floats(0.0, 3.0), st.floats(0.1, 2.5), st.floats(0.0, 25.0), st.floats(0.0, 15.0))
def test_more_of_anything_is_more_air(area: float, height: float, kelvin: float, wind: float) -> None:
    """The flow grows with area, height, difference and wind, and two faces pass no less than one."""
    flow = float(air_flow(area, height, kelvin, wind))
    assert flow >= 0.0
    assert float(air_flow(area + 0.1, height, kelvin, wind)) > flow
    assert float(air_flow(area, height + 0.1, kelvin, wind)) >= flow
    assert float(air_flow(area, height, kelvin + 1.0, wind)) >= flow
    assert float(air_flow(area, height, kelvin, wind + 1.0)) >= flow
    assert float(air_flow(area, height, kelvin, wind, cross=1.0)) >= flow


def test_impossible_openings_are_refused() -> None:
    """An area, height or fan under 0 raises."""
    with pytest.raises(ValueError, match="area"):
        Opening(-0.1)
    with pytest.raises(ValueError, match="fan"):
        Opening(0.1, fan=[-1.0, 0.0])
