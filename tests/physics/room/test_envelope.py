"""From a survey to the network's numbers."""

import numpy as np
import pytest

from reportkit.physics.room import envelope


@pytest.mark.parametrize(
    ("name", "capacity"),
    [
        ("very_light", 80e3),
        ("light", 110e3),
        ("medium", 165e3),
        ("heavy", 260e3),
        ("very_heavy", 370e3),
    ],
)
def test_mass_classes(name: str, capacity: float) -> None:
    """Heat capacity over floor area is that of ISO 13790:2008, table 12 (from memory), over all faces."""
    room = envelope.room(
        20.0, height=2.5, mass=name, glass_area=4.0, windows=10.0, opaque=5.0, air_change=0.5
    )
    floor, walls = room.floor, room.walls
    assert float(np.asarray(floor.capacity) + np.asarray(walls.capacity)) == pytest.approx(20.0 * capacity)
    assert float(np.asarray(floor.capacity)) / 20.0 == pytest.approx(
        float(np.asarray(walls.capacity) / np.asarray(walls.area))
    )
    # 20 m2 of ceiling and four walls of 4.47 x 2.5 m less 4 m2 of glass
    assert float(np.asarray(walls.area)) == pytest.approx(20.0 + 4.0 * 20.0**0.5 * 2.5 - 4.0)


def test_a_heat_capacity_of_ones_own() -> None:
    """A capacity typed takes the class's place; its layer is of the class's material."""
    room = envelope.room(
        20.0, height=2.5, mass="heavy", glass_area=4.0, windows=10.0, opaque=5.0, air_change=0.5,
        heat_capacity=200e3,
    )  # fmt: skip
    held = float(np.asarray(room.floor.capacity))
    assert held + float(np.asarray(room.walls.capacity)) == pytest.approx(4e6)
    # a layer of d metres holds d rho c and resists d/k, so its resistance is what it holds over k rho c
    resistance = held / 20.0 / envelope.MASS["heavy"].material
    assert float(np.asarray(room.floor.resistance)) == pytest.approx(resistance)


def test_outside_coefficients_by_wind() -> None:
    """Field measurements on windows: at 4 m/s 11.2 in the wind and 8.4 in the lee (worked by hand), and rays.

    ISO 6946 has 25 W/m2K at 4 m/s for any face; rough walls lie between.
    """
    smooth, rough = envelope.outside_coefficient([4.0]), envelope.outside_coefficient([4.0], rough=True)
    assert smooth == pytest.approx(np.hypot((11.196 + 8.352) / 2, 1.4) + 4.5, abs=0.01)
    assert smooth < rough < 25.0
    assert envelope.outside_coefficient() == smooth == envelope.outside_coefficient([np.nan, 4.0])
    assert envelope.outside_coefficient([1.0]) < envelope.outside_coefficient([1.0, 7.0])


def test_a_rated_u_and_that_of_the_year() -> None:
    """Single glass rated 5.9 with 29.4 outside is 4.83 with 14; double glass changes less."""
    nfrc = envelope.RATED_OUTSIDE["nfrc"]
    single = float(envelope.mean_u(5.9, rated_outside=nfrc, outside=14.0))
    assert single == pytest.approx(1.0 / (1.0 / 5.9 - 1.0 / 29.4 + 1.0 / 14.0))
    assert single == pytest.approx(4.83, abs=0.01)
    assert 2.7 - float(envelope.mean_u(2.7, rated_outside=nfrc, outside=14.0)) < 0.3
    assert float(envelope.mean_u(2.7, rated_outside=25.0, outside=25.0)) == pytest.approx(2.7)


def test_air_change_to_heat_transfer() -> None:
    """0.414 air changes of 129.6 m3 carry 18.0 W/K at sea level (ASHRAE 140 case 600), less higher up."""
    assert float(envelope.ventilation(129.6, 0.414)) == pytest.approx(18.0, abs=0.05)
    ratio = float(envelope.ventilation(1.0, 1.0, elevation=1609.0) / envelope.ventilation(1.0, 1.0))
    # US standard atmosphere, 1609 m: 0.822 of the sea-level pressure (from memory); isothermal here
    assert ratio == pytest.approx(0.822, abs=0.01)


def test_flows_through_opaque_parts() -> None:
    """Sun, sky and ground flows equal the sums worked out by hand."""
    # 500 W/m2 x .6 / 25 = 12 K of extra outdoor temperature; x .5 W/m2K x 10 m2
    assert float(envelope.sun_on_opaque(500.0, u=0.5, area=10.0, outside=25.0)) == pytest.approx(60.0)
    # ISO 13790 11.3.5: Fr Rse U A hr dT = .5 x .04 x .5 x 10 x 4.5 x 11
    assert float(envelope.sky_loss(u=0.5, area=10.0, form_factor=0.5, outside=25.0)) == pytest.approx(4.95)


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
        envelope.room(
            20.0, height=2.5, mass="stone", glass_area=4.0, windows=10.0, opaque=5.0, air_change=0.5
        )
