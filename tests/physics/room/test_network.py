"""The 5R1C network: a steady state, its time constant, and its heat account."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from reportkit.physics.room.network import Room, coefficients

#: Floor 20 m2 of the medium class of ISO 13790 table 12; transfers in W/K.
BOX = Room(20.0, 165e3 * 20.0, 2.5 * 20.0, windows=15.0, opaque=10.0, ventilation=20.0)


def steady(
    room: Room, *, outdoor: float, solar: float, internal: float, power: float
) -> tuple[float, float, float]:
    """Return mass, operative and air temperature once nothing changes any more."""
    c = coefficients(room)
    drive = c.outdoor * outdoor + c.solar * solar + c.internal * internal + c.power * power
    mass = drive[2] / (1.0 - c.mass[2])
    forms = c.mass * mass + drive
    return float(mass), float(forms[1]), float(forms[0])


def test_steady_state_of_the_network() -> None:
    """900 W into the air at 0 C outside give mass 18.885, surface 19.309 and air 20.864.

    An independent solve of ISO 13790's network as a linear system (cross-check, not an authority).
    """
    mass, operative, air = steady(BOX, outdoor=0.0, solar=0.0, internal=0.0, power=900.0)
    assert mass == pytest.approx(18.885, abs=0.001)
    assert air == pytest.approx(20.864, abs=0.001)
    assert operative == pytest.approx(0.3 * 20.864 + 0.7 * 19.309, abs=0.001)


def nodes(room: Room, *, outdoor: float, solar: float, internal: float, power: float) -> np.ndarray:
    """Solve the three nodes' balances as a linear system, without the standard's elimination."""
    at = 4.5 * room.floor_area
    am, hw, hop, hve = (
        float(np.asarray(x)) for x in (room.mass_area, room.windows, room.opaque, room.ventilation)
    )
    his, hms = 3.45 * at, 9.1 * am
    hem = 1.0 / (1.0 / hop - 1.0 / hms)
    radiant = 0.5 * internal + solar
    matrix = np.array([[his + hve, -his, 0.0], [-his, his + hw + hms, -hms], [0.0, -hms, hms + hem]])
    flows = [
        hve * outdoor + 0.5 * internal + power,
        hw * outdoor + (1.0 - am / at - hw / (9.1 * at)) * radiant,
        hem * outdoor + am / at * radiant,
    ]
    return np.linalg.solve(matrix, flows)


@settings(deadline=None, max_examples=60)
@given(
    st.floats(-20.0, 40.0), st.floats(0.0, 3000.0), st.floats(0.0, 800.0), st.floats(-3000.0, 3000.0),
    st.floats(0.0, 60.0), st.floats(1.0, 60.0), st.floats(1.0, 80.0),
)  # fmt: skip
def test_steady_state_is_that_of_the_three_nodes(
    outdoor: float, solar: float, internal: float, power: float, windows: float, opaque: float, air: float
) -> None:
    """Any steady state is the solution of the three nodes' heat balances (Kirchhoff's rule)."""
    room = Room(20.0, 165e3 * 20.0, 50.0, windows=windows, opaque=opaque, ventilation=air)
    drive = {"outdoor": outdoor, "solar": solar, "internal": internal, "power": power}
    expected = nodes(room, **drive)
    mass, operative, inside = steady(room, **drive)
    assert inside == pytest.approx(expected[0], abs=1e-6)
    assert operative == pytest.approx(0.3 * expected[0] + 0.7 * expected[1], abs=1e-6)
    assert mass == pytest.approx(expected[2], abs=1e-6)


def test_radiant_gains_lost_through_windows_are_told() -> None:
    """With 200 W inside and 500 W of sun 689.01 W are balanced: the standard lets the rest escape."""
    c = coefficients(BOX)
    kept = 700.0 - float(c.lost) * (0.5 * 200.0 + 500.0)
    assert kept == pytest.approx(689.01, abs=0.01)
    mass, _, air = steady(BOX, outdoor=0.0, solar=500.0, internal=200.0, power=0.0)
    surface = (nodes(BOX, outdoor=0.0, solar=500.0, internal=200.0, power=0.0))[1]
    hem = 1.0 / (1.0 / 10.0 - 1.0 / (9.1 * 50.0))
    assert 20.0 * air + 15.0 * surface + hem * mass == pytest.approx(kept, abs=0.01)


def test_shorter_steps_approach_the_exponential() -> None:
    """Free cooling over 24 h in 6-minute steps follows exp(-t/tau) of the one capacity, within 0.01 %."""
    his, hms = 3.45 * 90.0, 9.1 * 50.0
    inner = 1.0 / (1.0 / hms + 1.0 / (15.0 + 1.0 / (1.0 / 20.0 + 1.0 / his)))
    conductance = inner + 1.0 / (1.0 / 10.0 - 1.0 / hms)
    tau_hours = 165e3 * 20.0 / conductance / 3600.0
    c = coefficients(BOX, step_hours=0.1)
    assert float(c.mass[2]) ** 240 == pytest.approx(np.exp(-24.0 / tau_hours), rel=1e-4)


def test_no_opaque_part_is_allowed() -> None:
    """With no opaque outside part the mass is as warm as the surface: 900 W leave by air and windows."""
    room = Room(20.0, 3.3e6, 50.0, windows=15.0, opaque=0.0, ventilation=20.0)
    mass, operative, air = steady(room, outdoor=0.0, solar=0.0, internal=0.0, power=900.0)
    inner = 3.45 * 4.5 * 20.0  # air to surface [W/K]; the windows are behind it (Ohm's law)
    assert air == pytest.approx(900.0 / (20.0 + 1.0 / (1.0 / inner + 1.0 / 15.0)))
    assert mass == pytest.approx(air * inner / (inner + 15.0))
    assert operative == pytest.approx(0.3 * air + 0.7 * mass)


def test_rooms_beyond_the_ordinary_are_carried() -> None:
    """Much glass on a small floor, or walls that outdo the mass, still give a room between its temperatures.

    With one temperature everywhere nothing flows, and the mass loses what it has over the outdoor air.
    """
    small = Room(2.0, 1.6e5, 5.0, windows=45.0, opaque=0.0, ventilation=20.0)
    tall = Room(20.0, 3.3e6, 50.0, windows=70.0, opaque=840.0, ventilation=100.0)
    for room in (small, tall):
        c = coefficients(room)
        for share in (c.mass, c.outdoor, c.solar, c.internal, c.power):
            assert np.isfinite(share).all()
        assert c.mass + c.outdoor == pytest.approx(1.0)
        assert (c.solar >= 0.0).all() and (c.power > 0.0).all()


@pytest.mark.parametrize(
    ("field", "value", "words"),
    [
        ("ventilation", 0.0, "ventilation must be over 0"),
        ("floor_area", -1.0, "floor_area must be over 0"),
        ("windows", -2.0, "windows must be not under 0"),
    ],
)
def test_impossible_rooms_are_refused(field: str, value: float, words: str) -> None:
    """A room that the network cannot hold raises and says why."""
    from dataclasses import replace

    with pytest.raises(ValueError, match=words):
        coefficients(replace(BOX, **{field: value}))
