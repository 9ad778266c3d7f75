"""Dew point and condensation on the inner face."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from reportkit.physics.room.condensation import dew_point, humidity_limit, saturation_pressure


@pytest.mark.parametrize(
    ("temperature", "pressure"), [(0.01, 6.117), (10.0, 12.28), (20.0, 23.39), (30.0, 42.47)]
)
def test_saturation_pressure(temperature: float, pressure: float) -> None:
    """Saturation pressures of water [hPa] within 0.6 % of steam tables (IAPWS, from memory).

    The formula's own stated error between -45 and 60 C is 0.6 % (WMO-No. 8, from memory).
    """
    assert float(saturation_pressure(temperature)) == pytest.approx(pressure, rel=6e-3)


def test_dew_point_of_a_heated_room() -> None:
    """Air of 20 C and 50 % condenses at 9.3 C (psychrometric chart; common tables, from memory)."""
    assert float(dew_point(20.0, 0.5)) == pytest.approx(9.3, abs=0.05)


@settings(deadline=None, max_examples=60)
@given(st.floats(-10.0, 40.0), st.floats(0.05, 1.0))
def test_dew_point_and_limit_are_each_others_inverse(temperature: float, humidity: float) -> None:
    """A face at the dew point has the room's own humidity as its limit."""
    point = float(dew_point(temperature, humidity))
    assert point <= temperature + 1e-9
    assert float(humidity_limit(point, temperature)) == pytest.approx(humidity, rel=1e-9)


def test_humidity_is_a_share() -> None:
    """A humidity typed in percent raises; perfectly dry air has no dew point."""
    with pytest.raises(ValueError, match="share"):
        dew_point(20.0, 50.0)
    assert np.isnan(dew_point(20.0, 0.0))


def test_a_face_as_warm_as_the_air_never_condenses() -> None:
    """At or over the air's temperature no humidity is too much."""
    assert float(humidity_limit(25.0, 20.0)) == 1.0
