"""The network of a room: a steady state, its memory from hour to hour, and its heat account."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from room_by_hand import BOX, INPUTS, ByHand, nodes, weights

from reportkit.physics.room.network import MODES, Room, Slab, coefficients


def steady(room: Room, flows: np.ndarray) -> tuple[float, float]:
    """Return air and operative temperature once nothing changes any more."""
    c = coefficients(room)
    drive = sum(getattr(c, name) * flow for name, flow in zip(INPUTS, flows, strict=True))
    modes = len(c.decay)
    state = drive[:modes] / (1.0 - c.decay)
    return float((c.air * state).sum() + drive[modes]), float((c.operative * state).sum() + drive[modes + 1])


@settings(deadline=None, max_examples=60)
@given(
    st.floats(-20.0, 40.0), st.floats(0.0, 3000.0), st.floats(0.0, 800.0), st.floats(-300.0, 900.0),
    st.floats(-100.0, 0.0), st.floats(-3000.0, 3000.0),
    st.floats(1.0, 34.0), st.floats(1.0, 60.0), st.floats(1.0, 80.0),
)  # fmt: skip
def test_steady_state_is_that_of_all_nodes(
    outdoor: float, solar: float, internal: float, onto_walls: float, onto_windows: float, power: float,
    windows: float, opaque: float, air: float,
) -> None:  # fmt: skip
    """Any steady state is the solution of the nine nodes' heat balances (Kirchhoff's rule)."""
    room = replace(BOX, windows=windows, opaque=opaque, ventilation=air)
    flows = np.array([outdoor, solar, internal, onto_walls, onto_windows, power])
    _, matrix, inflow = nodes(room)
    expected = weights(room) @ np.linalg.solve(matrix, inflow @ flows)
    assert steady(room, flows) == pytest.approx(tuple(expected), abs=1e-6)


def test_the_modes_carried_are_the_whole_network() -> None:
    """Through three days of weather the modes carried give the whole network's temperatures within 0.01 K.

    The whole is integrated by the exponential of its matrix (scipy), nodes without capacity included.
    """
    hours = np.arange(72)
    outdoor = 10.0 + 8.0 * np.sin(2 * np.pi * (hours - 9) / 24)
    sun = 1800.0 * np.maximum(0.0, np.sin(2 * np.pi * (hours - 6) / 24))
    for count, most in ((5, 1e-3), (MODES, 0.01)):
        c = coefficients(BOX, modes=count)
        whole = ByHand()
        state = c.heat * 20.0
        for hour in hours:
            flows = np.array(
                [outdoor[hour], sun[hour], 150.0, 0.3 * sun[hour], -20.0, 300.0 * (hour % 24 < 8)]
            )
            drive = sum(getattr(c, name) * flow for name, flow in zip(INPUTS, flows, strict=True))
            expected, whole.state = whole.look(flows)
            if hour > 2 or count == 5:  # at first all is at one temperature: the fast modes aren't at rest
                assert (c.air * state).sum() + drive[count] == pytest.approx(expected[0], abs=most)
                assert (c.operative * state).sum() + drive[count + 1] == pytest.approx(expected[1], abs=most)
            state = c.decay * state + drive[:count]


def test_sun_that_leaves_again_is_told() -> None:
    """Of the sun that falls on a floor of absorptance .6, what comes back and finds the glass is lost.

    ASHRAE 140 gives 3.5 % for its cell with 12 m2 of double glass among 171.6 m2 (from memory).
    """
    cell = replace(
        BOX, floor=Slab(48.0, 1e6, 0.1), walls=Slab(111.6, 1e6, 0.1), glass_area=12.0, convective_sun=0.0
    )
    assert float(coefficients(cell).lost) == pytest.approx(0.035, abs=0.006)
    kept = nodes(BOX)[2][:, 1].sum()
    assert float(coefficients(BOX).lost) == pytest.approx(1.0 - kept, abs=1e-9)


def test_shorter_steps_come_to_the_same() -> None:
    """Free cooling over 24 h in steps of six minutes ends where steps of an hour end: steps are exact."""
    slow, fast = coefficients(BOX), coefficients(BOX, step_hours=0.1)
    assert fast.decay**240 == pytest.approx(slow.decay**24, rel=1e-9)


def test_rooms_beyond_the_ordinary_are_carried() -> None:
    """No opaque part, no glass, much glass on a small floor, walls that outdo the room: still temperatures.

    With one temperature everywhere nothing flows, and the rest goes towards the outdoor air.
    """
    rooms = [
        replace(BOX, opaque=0.0),
        replace(BOX, windows=0.0, glass_area=0.0),
        Room(Slab(2.0, 4e4, 0.05), Slab(8.0, 1.2e5, 0.05), 8.0, 45.0, 0.0, 20.0, 2e4),
        Room(Slab(20.0, 1e6, 0.1), Slab(60.0, 2.3e6, 0.1), 10.0, 70.0, 840.0, 100.0, 2e5),
    ]
    for room in rooms:
        c = coefficients(room)
        modes = len(c.decay)
        one = (c.air * c.heat).sum() + c.outdoor[modes], (c.operative * c.heat).sum() + c.outdoor[modes + 1]
        assert one == pytest.approx((1.0, 1.0), abs=0.02)  # modes at rest are not where the room began
        assert (c.decay > 0.0).all() and (c.decay < 1.0).all()
        assert c.solar[modes] > 0.0 and c.power[modes] > 0.0


def test_a_nan_spoils_its_own_lane() -> None:
    """A lane with a nan has nan coefficients; the others are what they are alone."""
    many = coefficients(replace(BOX, windows=np.array([15.0, np.nan]), air_capacity=np.array([260e3, 260e3])))
    alone = coefficients(BOX)
    assert np.isnan(many.power[:, 1]).all()
    np.testing.assert_allclose(many.power[:, 0], alone.power, rtol=1e-12)


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({"ventilation": 0.0}, "ventilation must be over 0"),
        ({"floor": Slab(-1.0, 1e6, 0.1)}, "floor_area must be over 0"),
        ({"walls": Slab(10.0, 1e6, 0.0)}, "walls_resistance must be over 0"),
        ({"windows": -2.0}, "windows must be not under 0"),
    ],
)
def test_impossible_rooms_are_refused(changed: dict[str, object], words: str) -> None:
    """A room that the network cannot hold raises and says why."""
    with pytest.raises(ValueError, match=words):
        coefficients(replace(BOX, **changed))
