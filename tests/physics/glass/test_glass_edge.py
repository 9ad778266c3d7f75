"""The edge of a pane: fin, stress, days."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from reportkit.physics.glass import (
    SCENARIOS,
    Film,
    Gap,
    PaneFacts,
    clear,
    double,
    single,
    tinted,
    wired,
    with_film,
    with_texture,
)
from reportkit.physics.glass.edge import (
    LIMITS,
    REBATE_COEFFICIENTS,
    differences,
    edge_stress,
    edge_temperature,
)

FILM = Film("plain", 0.35, 0.25, 0.35, 0.25, 0.22, 0.22, t_uv=0.01)  # invented
FACTS = PaneFacts(900.0, 1200.0)


def test_fin_in_the_rebate() -> None:
    """4 mm, rebate 12 mm, frame 5 C, centre 29.57 C: edge 17.72 C, 11.8 K (independent solve)."""
    edge = edge_temperature(29.57, 5.0, thickness_mm=4.0, rebate_mm=12.0, face=23.0, rebate=15.0)
    assert edge == pytest.approx(17.72, abs=0.01)
    # E alpha .63 MPa/K: Timoshenko & Goodier's uniaxial edge stress with 70 GPa and 9e-6/K (from memory)
    assert 29.57 - edge == pytest.approx(11.8, abs=0.06)
    assert edge_stress(29.57 - edge) == pytest.approx(0.63 * 11.845, abs=0.01)
    assert edge_stress(10.0, kt=1.5) == pytest.approx(9.45)


def test_fin_against_finite_differences() -> None:
    """The joined fins agree with 4000 nodes of conduction along the pane (cross-check)."""
    from scipy.linalg import solve_banded

    step, exposed, rebate, thickness = 2e-4, 0.4, 0.012, 0.004
    n = round((exposed + rebate) / step)
    x = (np.arange(n) + 0.5) * step
    hidden = x > exposed
    h = np.where(hidden, 15.0, 23.0) * step
    t_air = np.where(hidden, 5.0, 29.57)
    link = 1.0 * thickness / step
    bands = np.zeros((3, n))
    bands[0, 1:] = bands[2, :-1] = -link
    bands[1] = h + 2 * link
    bands[1, 0] -= link
    bands[1, -1] -= link
    t = solve_banded((1, 1), bands, h * t_air)
    loose = edge_temperature(29.57, 5.0, thickness_mm=4.0, rebate_mm=12.0, rebate=15.0)
    assert loose == pytest.approx(t[-1], abs=0.02)


@pytest.mark.parametrize(("thickness", "rebate_mm"), [(3.0, 12.0), (4.0, 12.0), (6.0, 12.0), (10.0, 16.0)])
def test_a_sudden_sun_on_a_cold_frame_stays_within_the_range(thickness, rebate_mm) -> None:
    """The step in time, solved apart by finite differences: the lag of the edge never passes the high end.

    Glass 2500 kg/m3 and 840 J/kgK (EN 572-1 gives 720 J/kgK, which warms the edge sooner; from memory). The
    frame keeps the cold of the night; a rise of 1 K of the middle is stepped on.
    """
    from scipy.linalg import solve_banded

    step, exposed = 5e-4, 0.15
    t, rebate = thickness / 1000.0, rebate_mm / 1000.0
    n = round((exposed + rebate) / step)
    hidden = (np.arange(n) + 0.5) * step > exposed
    capacity = 2500.0 * 840.0 * t
    dt = capacity / 23.0 / 40.0
    high = 1.0 - edge_temperature(
        1.0, 0.0, thickness_mm=thickness, rebate_mm=rebate_mm, rebate=REBATE_COEFFICIENTS[-1]
    )
    for coefficient in REBATE_COEFFICIENTS:
        link = 1.0 * t / step**2
        bands = np.zeros((3, n))
        bands[0, 1:] = bands[2, :-1] = -link
        bands[1] = capacity / dt + np.where(hidden, coefficient, 23.0) + 2 * link
        bands[1, 0] -= link
        bands[1, -1] -= link
        rise, lag = np.zeros(n), []
        for _ in range(400):
            rise = solve_banded((1, 1), bands, capacity / dt * rise + np.where(hidden, 0.0, 23.0))
            lag.append(rise[0] - rise[-1])
        steady = 1.0 - edge_temperature(
            1.0, 0.0, thickness_mm=thickness, rebate_mm=rebate_mm, rebate=coefficient
        )
        assert lag[-1] == pytest.approx(steady, abs=0.01)
        assert steady - 0.01 <= max(lag) <= steady + 0.02
        assert max(lag) <= high + 0.003  # the grid


def test_thick_tinted_glass_is_not_milder_than_thin_clear() -> None:
    """Behind one film the high end of 10 mm grey is over that of 4 mm clear (it absorbs more)."""
    thin, thick = (
        max(one.difference.high for one in differences(with_film(single(pane), FILM), FACTS))
        for pane in (clear(4), tinted(10, "grey"))
    )
    assert thick > thin


@pytest.mark.parametrize("pane", [wired(6), with_texture(clear(6), face="front")])
def test_wired_and_patterned_edges_bear_half(pane) -> None:
    """About half of what float's edges bear (common practice, no source): 15 K cut, 20 K worked."""
    for edge, limit in (("cut", 15.0), ("worked", 20.0)):
        found = differences(with_film(single(pane), FILM), replace(FACTS, edge=edge))
        assert {one.limit for one in found} == {limit}


@settings(max_examples=60, deadline=None)
@given(st.floats(-20, 80), st.floats(-20, 40), st.floats(3, 19), st.floats(2, 40))
def test_edge_lies_between_frame_and_centre(centre, frame, thickness, rebate) -> None:
    """The edge lies between frame and middle, and a deeper rebate brings it nearer to the frame."""
    edge = edge_temperature(centre, frame, thickness_mm=thickness, rebate_mm=rebate)
    assert min(centre, frame) - 1e-9 <= edge <= max(centre, frame) + 1e-9
    deeper = edge_temperature(centre, frame, thickness_mm=thickness, rebate_mm=rebate + 5.0)
    assert abs(deeper - frame) <= abs(edge - frame) + 1e-9


def test_limits_quoted_from_the_standard() -> None:
    """NF DTU 39 A1 as quoted: 40, 140 and 200 K; 30 K for cut edges is common practice."""
    assert LIMITS == {
        "annealed, worked edges": 40.0,
        "annealed": 30.0,
        "heat_strengthened": 140.0,
        "tempered": 200.0,
    }


def test_one_difference_for_every_day_and_pane() -> None:
    """Each day and pane has its own centre, edge, limit and stress."""
    unit = with_film(double(clear(4), clear(4, temper="tempered"), gap=Gap(12)), FILM)
    found = differences(unit, FACTS)
    assert [(d.scenario, d.lite) for d in found] == [(day.name, n) for day in SCENARIOS for n in (1, 2)]
    for one in found:
        assert one.difference.likely == pytest.approx(one.t_centre - one.t_edge)
        assert one.difference.low < one.difference.likely < one.difference.high
        assert one.limit == (30.0 if one.lite == 1 else 200.0)


def test_everything_that_makes_it_worse_does() -> None:
    """A colder frame, more sun, a darker film, a shadow and a blind each raise the difference."""
    day = SCENARIOS[0]
    glazing = with_film(single(clear(4)), FILM)

    def worst(glazing=glazing, facts=FACTS, day=day) -> float:
        return differences(glazing, facts, scenarios=(day,))[0].difference.high

    base = worst()
    dark = with_film(single(clear(4)), Film("dark", 0.10, 0.08, 0.10, 0.08, 0.06, 0.06, t_uv=0.01))
    assert worst(day=replace(day, t_frame=-5.0)) > base
    assert worst(day=replace(day, sun=900.0)) > base
    assert worst(glazing=dark) > base
    assert worst(glazing=single(clear(4))) < base
    assert worst(facts=replace(FACTS, shadow="still")) > base
    assert worst(facts=replace(FACTS, blind=True)) > base


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"width_mm": 0.0}, "sides must be over 0"),
        ({"rebate_mm": 0.0}, "rebate must be over 0"),
        ({"edge": "fine"}, "edge must be one of"),
        ({"shadow": "big"}, "shadow must be one of"),
    ],
)
def test_impossible_facts_are_refused(change: dict, message: str) -> None:
    """Facts that cannot be raise with their rule."""
    with pytest.raises(ValueError, match=message):
        replace(FACTS, **change)
