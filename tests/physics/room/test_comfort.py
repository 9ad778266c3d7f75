"""Comfort by the window against ASHRAE 55's validation table and a hot-pane check."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from reportkit.physics.room.comfort import hot_pane, pane_view_factor, projected_area, sun_on_body

BASE = {"direct_normal": 800.0, "altitude": 30.0, "sharp": 120.0, "t_solar": 0.5, "posture": "seated"}


@pytest.mark.parametrize(
    ("change", "field", "delta"),
    [
        ({}, 54.8, 13.1),
        ({"t_solar": 0.1}, 11.0, 2.6),
        ({"t_solar": 0.3}, 32.9, 7.9),
        ({"altitude": 60.0}, 63.2, 15.1),
        ({"posture": "standing"}, 59.3, 13.6),
        ({"direct_normal": 1000.0}, 68.5, 16.4),
    ],
)
def test_validation_table(change: dict[str, object], field: float, delta: float) -> None:
    """Each row of the validation table of ANSI/ASHRAE 55-2017, Appendix C, within 0.1 (from a copy)."""
    arguments = BASE | change
    result = sun_on_body(arguments.pop("direct_normal"), **arguments)  # type: ignore[arg-type]
    assert float(result.effective_radiant_field) == pytest.approx(field, abs=0.1)
    assert float(result.delta_mrt) == pytest.approx(delta, abs=0.1)


def test_side_of_the_body_is_folded() -> None:
    """Sun from 240 degrees is sun from 120 degrees on the other side, and -120 the same."""
    values = projected_area([30.0, 30.0, 30.0], [120.0, 240.0, -120.0])
    assert np.ptp(values) == 0.0


def test_table_is_met_at_its_corners_and_between() -> None:
    """The factor is the table's at its nodes (ASHRAE 55: 0.177 overhead, seated) and linear between."""
    assert float(projected_area(90.0, 180.0)) == pytest.approx(0.177)
    assert float(projected_area(90.0, 0.0, posture="standing")) == pytest.approx(0.082)
    ends = projected_area([30.0, 45.0], [60.0, 60.0])
    assert float(projected_area(37.5, 60.0)) == pytest.approx(float(ends.mean()))


def test_no_sun_no_number() -> None:
    """A sun below the horizon and a nan give nan; an unknown posture raises."""
    assert np.isnan(projected_area(-1.0, 0.0))
    assert np.isnan(sun_on_body(np.nan, altitude=30.0, sharp=0.0, t_solar=0.5).delta_mrt)
    with pytest.raises(ValueError, match="posture"):
        projected_area(30.0, 0.0, posture="lying")  # type: ignore[arg-type]


@settings(deadline=None, max_examples=50)
@given(st.floats(0.0, 1.0), st.floats(0.0, 90.0), st.floats(0.0, 180.0))
def test_film_scales_the_field(t_solar: float, altitude: float, sharp: float) -> None:
    """The field is proportional to the glass's solar transmittance and never negative."""
    one = float(sun_on_body(800.0, altitude=altitude, sharp=sharp, t_solar=1.0).delta_mrt)
    part = float(sun_on_body(800.0, altitude=altitude, sharp=sharp, t_solar=t_solar).delta_mrt)
    assert part >= 0.0
    assert part == pytest.approx(one * t_solar, abs=1e-9)


def test_hot_pane() -> None:
    """A pane of 1.5 x 1.5 m at 1 m, 0.6 m of it below the head: F .120; 43 C against 26 C adds 2.0 K.

    Formula of ISO 7726:1998, Annex B (from memory); the two values are an independent solve of it.
    """
    factor = pane_view_factor(width=1.5, below=0.6, above=0.9, distance=1.0)
    assert float(factor) == pytest.approx(0.120, abs=0.001)
    assert float(hot_pane(factor, pane=43.0, room=26.0)) == pytest.approx(2.0, abs=0.05)
    assert float(hot_pane(factor, pane=10.0, room=20.0)) < 0.0


def test_view_factor_has_its_limits() -> None:
    """A vast pane near by is seen at 4 x .118, none from far off, and a distance of 0 raises."""
    assert float(pane_view_factor(width=1e4, below=1e4, above=1e4, distance=0.5)) < 4 * 0.118
    assert float(pane_view_factor(width=1e4, below=1e4, above=1e4, distance=0.5)) > 0.44
    assert float(pane_view_factor(width=1.0, below=0.5, above=0.5, distance=100.0)) < 1e-3
    with pytest.raises(ValueError, match="distance"):
        pane_view_factor(width=1.0, below=0.5, above=0.5, distance=0.0)
