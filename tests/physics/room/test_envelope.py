"""From a survey to the network's numbers."""

import numpy as np
import pytest

from reportkit.physics.room import envelope


@pytest.mark.parametrize(
    ("name", "capacity", "area"),
    [
        ("very_light", 80e3, 2.5),
        ("light", 110e3, 2.5),
        ("medium", 165e3, 2.5),
        ("heavy", 260e3, 3.0),
        ("very_heavy", 370e3, 3.5),
    ],
)
def test_mass_classes(name: str, capacity: float, area: float) -> None:
    """Heat capacity and mass area per floor area are those of ISO 13790:2008, table 12 (from memory)."""
    room = envelope.room(20.0, height=2.5, mass=name, windows=10.0, opaque=5.0, air_change=0.5)
    assert float(np.asarray(room.mass_capacity)) == 20.0 * capacity
    assert float(np.asarray(room.mass_area)) == 20.0 * area


def test_air_change_to_heat_transfer() -> None:
    """0.414 air changes of 129.6 m3 carry 18.0 W/K at sea level (ASHRAE 140 case 600), less higher up."""
    assert float(envelope.ventilation(129.6, 0.414)) == pytest.approx(18.0, abs=0.05)
    ratio = float(envelope.ventilation(1.0, 1.0, elevation=1609.0) / envelope.ventilation(1.0, 1.0))
    # US standard atmosphere, 1609 m: 0.822 of the sea-level pressure (from memory); isothermal here
    assert ratio == pytest.approx(0.822, abs=0.01)


def test_one_transfer_for_each_level() -> None:
    """Several air changes give several levels."""
    room = envelope.room(20.0, height=2.5, mass="light", windows=10.0, opaque=5.0, air_change=[0.5, 4.0])
    assert isinstance(room.ventilation, list)
    assert float(room.ventilation[1] / room.ventilation[0]) == pytest.approx(8.0)  # type: ignore[operator]


def test_flows_through_opaque_parts() -> None:
    """Sun, sky and ground flows equal the sums worked out by hand."""
    # 500 W/m2 x .6 / 25 = 12 K of extra outdoor temperature; x .5 W/m2K x 10 m2
    assert float(envelope.sun_on_opaque(500.0, u=0.5, area=10.0)) == pytest.approx(60.0)
    # ISO 13790 11.3.5: Fr Rse U A hr dT = .5 x .04 x .5 x 10 x 4.5 x 11
    assert float(envelope.sky_loss(u=0.5, area=10.0, form_factor=0.5)) == pytest.approx(4.95)
    flow = envelope.ground_correction([0.0, 10.0, 30.0], u=0.3, area=20.0, temp_ground=10.0)
    assert flow.tolist() == pytest.approx([60.0, 0.0, -120.0])


def test_every_class_says_where_it_comes_from() -> None:
    """Each class has a mark, a reason, a unit, and one key a table; leakier and older means more."""
    for table in (envelope.WALL_U, envelope.ROOF_U, envelope.AIR_CHANGE, envelope.INTERNAL):
        assert len({row.key for row in table.values()}) == 1
        assert all(row.mark == "C" and row.why and row.unit for row in table.values())
    changes = [row.likely for row in envelope.AIR_CHANGE.values()]
    assert changes == sorted(changes)


def test_unknown_mass_is_refused() -> None:
    """A mass class that does not exist raises and names those that do."""
    with pytest.raises(ValueError, match="very_heavy"):
        envelope.room(20.0, height=2.5, mass="stone", windows=10.0, opaque=5.0, air_change=0.5)
