"""The weather record."""

import numpy as np
import pandas as pd
import pytest

from reportkit import climate


def record(**changes):
    """Return a record of two hours, invented."""
    two = np.array([1.0, 2.0])
    values = {
        "kind": "typical_year",
        "source": "invented",
        "place": "Testville",
        "latitude": 0.0,
        "longitude": 0.0,
        "elevation": 0.0,
        "times": pd.date_range("2025-01-01 00:30", periods=2, freq="h", tz="UTC"),
        "step_hours": 1.0,
        "span": "two hours",
    }
    values |= dict.fromkeys(("ghi", "dni", "dhi", "temp_air", "wind_speed", "pressure", "dew_point"), two)
    return climate.Weather(**(values | changes))


def test_a_record_is_frozen():
    """Neither fields nor series can be changed, and the caller's arrays are not touched."""
    mine = np.array([500.0, 700.0])
    weather = record(ghi=mine)
    with pytest.raises(ValueError, match="read-only"):
        weather.ghi[0] = 0.0
    mine[0] = 0.0
    assert weather.ghi[0] == 500.0
    assert weather.annual_ghi == pytest.approx(1.2)


def test_rows_must_belong_together():
    """Series of another length and naive times are refused."""
    with pytest.raises(ValueError, match="dni must have one value"):
        record(dni=np.zeros(3))
    with pytest.raises(ValueError, match="time zone"):
        record(times=pd.date_range("2025-01-01 00:30", periods=2, freq="h"))
