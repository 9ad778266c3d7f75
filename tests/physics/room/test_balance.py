"""The hourly balance: heat in is heat out, control, limits of plant, lanes, bins."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from room_by_hand import BOX, ByHand

from reportkit import climate
from reportkit.physics import sun
from reportkit.physics.room import march
from reportkit.physics.room.balance import Gain, heat_balance
from reportkit.physics.room.network import Room, Slab, coefficients
from reportkit.physics.room.opening import Opening
from reportkit.physics.room.totals import Balance

H = 24 * 28
HOURS = np.arange(H)
OUTDOOR = 12.0 + 9.0 * np.sin(2 * np.pi * HOURS / H) + 6.0 * np.sin(2 * np.pi * (HOURS - 9) / 24)
SUN = 1500.0 * np.maximum(0.0, np.sin(2 * np.pi * (HOURS - 6) / 24))


def run(room: Room = BOX, *, sun: object = SUN, factor: object = 1.0, **options: object) -> Balance:
    """Run four weeks with the defaults of this file."""
    arguments: dict[str, object] = {
        "solar": Gain(sun, factor),  # type: ignore[arg-type]
        "internal": Gain(np.full(H, 150.0)),
        "heating_setpoint": 20.0,
        "cooling_setpoint": 26.0,
    }
    return heat_balance(room, OUTDOOR, **(arguments | options))  # type: ignore[arg-type]


def by_hand(sun: np.ndarray, low: float, high: float, most: float) -> tuple[np.ndarray, np.ndarray]:
    """Return power [W] and operative temperature [C] of every hour from all nodes of the room.

    Two trials of every hour, without power and with 1 kW, then the line through both.
    """
    box = ByHand(BOX)
    found = []
    for index in list(range(H)) * 2:
        flows = np.array([OUTDOOR[index], sun[index], 150.0, 0.0, 0.0, 0.0])
        free, _ = box.look(flows)
        trial, _ = box.look(flows + np.array([0.0, 0.0, 0.0, 0.0, 0.0, 1000.0]))
        wish = 1000.0 * (min(max(free[0], low), high) - free[0]) / (trial[0] - free[0])
        flows[5] = min(max(wish, -most), most)
        seen, box.state = box.look(flows)
        found.append((flows[5], seen[1]))
    power, operative = np.array(found[H:]).T
    return power, operative


@pytest.mark.parametrize("most", [1e9, 600.0])
def test_same_powers_as_all_nodes_together(most: float) -> None:
    """Every hour's power is that of the whole network, node by node, with and without limits of plant.

    To 5 W of up to 2 kW: the fastest modes follow at once instead of within four minutes.
    """
    result = run(heating_power=most, cooling_power=most, record=..., warm_up_steps=H)
    assert result.record is not None
    power, operative = by_hand(SUN, 20.0, 26.0, most)
    np.testing.assert_allclose(result.record.power, power, atol=5.0)
    np.testing.assert_allclose(result.record.operative, operative, atol=0.02)


def imbalance(room: Room, result: Balance, outdoor: np.ndarray, gains: np.ndarray) -> float:
    """Return gains and plant less what the air carries out and what the mass kept, over all hours [kWh].

    For a room that loses heat by its air alone.
    """
    record = result.record
    assert record is not None
    out = float((np.asarray(room.ventilation) * (record.air - outdoor)).sum()) / 1000.0
    plant = float(result.heating.sum() - result.cooling.sum())
    return float(gains.sum()) / 1000.0 + plant - out - float(result.carried_off) - float(result.mass_change)


SHUT_IN = replace(BOX, windows=0.0, opaque=0.0)


def test_energy_in_is_energy_out() -> None:
    """Sun, inner gains and plant equal what the air and an opened window carry off and what the mass kept."""
    kept = 1.0 - float(coefficients(SHUT_IN).lost)
    for opening in (None, Opening(0.5, above=21.0)):
        result = run(SHUT_IN, record=..., opening=opening, cooling_power=500.0)
        assert imbalance(SHUT_IN, result, OUTDOOR, kept * SUN + 150.0) == pytest.approx(0.0, abs=1e-6)
        assert (float(result.carried_off) > 1.0) == (opening is not None)


def test_energy_in_is_energy_out_over_a_shipped_year() -> None:
    """The same over the 8760 hours of a typical year that pvlib ships, sun on a south wall included."""
    year = climate.shipped_year("greensboro", year=2025, timezone="America/New_York")
    position = sun.position(
        year.times, latitude=year.latitude, longitude=year.longitude, elevation=year.elevation, step_hours=1.0
    )
    wall = sun.sky_on_faces(
        position, year.ghi, year.dni, year.dhi, surface_azimuth=[180.0], surface_tilt=[90.0]
    )
    through = 3.0 * 0.6 * wall.total[:, 0]
    result = heat_balance(
        SHUT_IN,
        year.temp_air,
        solar=Gain(through),
        internal=Gain(np.full(8760, 120.0)),
        heating_setpoint=20.0,
        cooling_setpoint=26.0,
        cooling_power=900.0,
        record=...,
    )
    assert float(result.heating.sum()) > 100.0
    assert float(result.cooling.sum()) > 100.0
    gains = (1.0 - float(coefficients(SHUT_IN).lost)) * through + 120.0
    assert imbalance(SHUT_IN, result, year.temp_air, gains) == pytest.approx(0.0, abs=1e-4)


@settings(deadline=None, max_examples=25)
@given(st.floats(0.0, 34.0), st.floats(2.0, 40.0), st.floats(5.0, 60.0), st.floats(0.0, 3.0))
def test_the_air_stays_between_its_set_points(windows: float, opaque: float, air: float, sun: float) -> None:
    """With plant enough the air never leaves its band, and less sun never needs more cooling."""
    room = replace(BOX, windows=windows, opaque=opaque, ventilation=air)
    result = run(room, sun=SUN * sun, record=...)
    assert result.record is not None
    assert result.record.air.min() >= 20.0 - 1e-6
    assert result.record.air.max() <= 26.0 + 1e-6
    less = run(room, sun=SUN * sun * 0.8)
    assert float(less.cooling.sum()) <= float(result.cooling.sum()) + 1e-9
    assert float(less.heating.sum()) >= float(result.heating.sum()) - 1e-9


def test_a_shift_outside_is_a_shift_of_the_weather() -> None:
    """Lanes whose outdoor air is shifted equal runs with that much added to every hour, limits included."""
    warmer = np.array([-2.0, 0.0, 3.0])
    together = run(outdoor_shift=warmer, cooling_power=300.0)
    assert list(together.hot_hours) == sorted(together.hot_hours)
    assert together.hot_hours[0] < together.hot_hours[2]
    for at, shift in enumerate(warmer):
        alone = heat_balance(
            BOX,
            OUTDOOR + shift,
            solar=Gain(SUN),
            internal=Gain(np.full(H, 150.0)),
            heating_setpoint=20.0,
            cooling_setpoint=26.0,
            cooling_power=300.0,
        )
        for name in ("heating", "cooling", "hot_hours", "hottest", "coldest", "unmet_cooling", "mass_change"):
            many, one = getattr(together, name), getattr(alone, name)
            np.testing.assert_allclose(many[..., at], one, rtol=1e-9, atol=1e-9, err_msg=name)


def test_lanes_equal_single_runs() -> None:
    """Two rooms, three options and four samples in one pass equal twenty-four runs of their own."""
    windows = np.array([[12.0], [15.0], [9.0]])
    volume = np.array([15.0, 18.0, 21.0, 30.0])
    sun = SUN * np.array([1.0, 0.6, 0.4])[:, None, None] * np.array([1.0, 1.7])[:, None, None, None]
    factor = np.array([0.9, 1.0, 1.1, 1.2])
    shift = np.array([-1.0, 0.0, 0.5, 1.0])
    room = replace(BOX, windows=windows, ventilation=volume)
    together = run(room, sun=sun, factor=factor, setpoint_shift=shift, cooling_power=900.0)
    assert together.hot_hours.shape == (2, 3, 4)
    for r, o, s in np.ndindex(2, 3, 4):
        alone = run(
            replace(BOX, windows=windows[o, 0], ventilation=volume[s]),
            sun=sun[r, o, 0], factor=factor[s], setpoint_shift=shift[s], cooling_power=900.0,
        )  # fmt: skip
        for name in ("heating", "cooling", "peak_cooling", "hot_hours", "hottest", "unmet_cooling"):
            many, one = getattr(together, name), getattr(alone, name)
            np.testing.assert_allclose(many[..., r, o, s], one, rtol=1e-9, atol=1e-9, err_msg=name)


def test_bins_sum_to_the_whole() -> None:
    """Energies by week add up to the energy of all weeks, and the peak is the highest of theirs."""
    whole, weekly = run(), run(bins=HOURS // 168)
    assert weekly.heating.shape == (4,)
    assert float(weekly.cooling.sum()) == pytest.approx(float(whole.cooling.sum()), rel=1e-12)
    assert float(weekly.peak_heating.max()) == pytest.approx(float(whole.peak_heating.max()), rel=1e-12)


def test_hours_over_the_limit_are_those_of_the_record() -> None:
    """Hot hours and the hottest hour are counted while someone is there, from operative temperatures."""
    occupied = (HOURS % 24 >= 8) & (HOURS % 24 < 18)
    limit = np.where(HOURS < H // 2, 25.0, 27.0)
    result = run(cooling_power=0.0, hot_limit=limit, occupied=occupied, record=...)
    assert result.record is not None
    hot = (result.record.operative > limit) & occupied
    assert 0 < hot.sum() < occupied.sum()
    assert float(result.hot_hours) == hot.sum()
    assert float(result.hottest) == result.record.operative[occupied].max()
    assert float(result.coldest) == result.record.operative[occupied].min()
    assert np.isnan(run(occupied=np.zeros(H, dtype=bool)).hottest)


def test_plant_too_small_is_counted() -> None:
    """Hours that a small plant leaves more than 0.1 K from the set point are unmet, none with plenty."""
    small = run(heating_power=200.0, cooling_power=200.0, record=...)
    assert small.record is not None
    assert float(small.unmet_heating) == (small.record.air < 20.0 - 0.1).sum() > 0
    assert float(small.unmet_cooling) == (small.record.air > 26.0 + 0.1).sum() > 0
    assert float(small.peak_heating.max()) <= 200.0
    assert float(run(heating_power=1e6, cooling_power=1e6).unmet_heating) == 0.0


OPEN = Opening(0.6, 1.0, may_open=HOURS % 24 >= 7)


def test_opened_windows_cool_a_room() -> None:
    """Windows opened leave no more hot hours and no more cooling than shut ones, and no more heating.

    They open only in their hours, over their limit and while it is cooler outside.
    """
    for power in (0.0, 600.0, np.inf):
        shut, opened = run(cooling_power=power), run(cooling_power=power, opening=OPEN, record=...)
        assert opened.record is not None
        assert float(opened.hot_hours) <= float(shut.hot_hours)
        assert float(opened.hottest) <= float(shut.hottest) + 1e-9
        assert float(opened.cooling.sum()) <= float(shut.cooling.sum()) + 1e-9
        hours = opened.record.opened < 0.0
        assert float(opened.open_hours) == hours.sum() > 0
        assert float(opened.carried_off) == pytest.approx(-opened.record.opened.sum() / 1000.0)
        assert (HOURS[hours] % 24 >= 7).all()
        assert (opened.record.air[hours] >= 22.0 - 1e-9).all()
        assert (opened.record.air[hours] > OUTDOOR[hours]).all()
        assert (opened.record.power[hours] == 0.0).all()  # either opened or cooled


def air_flow(area, height, kelvin, wind, cross=0.0):
    """Return the air through an opening [m3/s], written out apart.

    de Gids & Phaff 1982, from copies: A/2 sqrt(.001 u2 + .0035 H dT + .01); by wind through two faces the
    orifice equation with half the area in each, .6 x (A/2)/sqrt 2 x u sqrt .2, the squares added (from memory
    of CIBSE AM10).
    """
    one = area / 2 * np.sqrt(0.001 * wind**2 + 0.0035 * height * np.abs(kelvin) + 0.01)
    two = 0.6 * area / 2 / np.sqrt(2) * wind * np.sqrt(0.2)
    return np.sqrt(one**2 + cross * two**2)


def test_an_opening_by_hand() -> None:
    """0.5 m2, 1 m high, 5 K, 2 m/s: .25 sqrt(.004 + .0175 + .01) = .0444 m3/s; 1 m2 in two faces .2095."""
    assert air_flow(0.5, 1.0, 5.0, 2.0) == pytest.approx(0.04437, abs=0.00001)
    assert air_flow(1.0, 1.0, 5.0, 2.0, cross=1.0) == pytest.approx(0.2095, abs=0.0001)


@pytest.mark.parametrize("cross", [0.0, 1.0])
def test_the_heat_is_that_of_the_air_that_comes_in(cross) -> None:
    """In hours fully open the heat carried off is the formula's flow x 1207 J/m3K x (in - out)."""
    wind = np.full(H, 3.0)
    small = replace(OPEN, area=0.1 if not cross else 0.05, cross=cross)
    result = run(cooling_power=0.0, opening=small, wind=wind, record=...)
    assert result.record is not None
    kelvin = result.record.air - OUTDOOR
    full = (result.record.opened < 0.0) & (result.record.air > 22.0 + 1e-6)
    assert full.sum() > 20
    expected = 1.2 * 1006.0 * air_flow(small.area, 1.0, kelvin, wind, cross) * kelvin
    np.testing.assert_allclose(-result.record.opened[full], expected[full], rtol=1e-4)
    calm = run(cooling_power=0.0, opening=small)
    assert float(calm.hottest) >= float(result.hottest)


def test_a_fan_by_night_carries_what_it_moves() -> None:
    """A fan of .1 m3/s takes 120.7 W for every kelvin, in its hours and while it is cooler outside."""
    night = (HOURS % 24 < 6) | (HOURS % 24 >= 22)
    fan = Opening(0.0, above=-50.0, fan=0.1, fan_hours=night)
    result = run(cooling_power=0.0, heating_power=0.0, opening=fan, record=...)
    assert result.record is not None
    kelvin = result.record.air - OUTDOOR
    np.testing.assert_allclose(
        -result.record.opened, np.where(night & (kelvin > 0.0), 120.72 * kelvin, 0.0), rtol=1e-6, atol=1e-6
    )


def test_nobody_opens_to_a_warmer_outside() -> None:
    """With the outdoor air over the room's all the time nothing is opened."""
    result = run(opening=OPEN, outdoor_shift=40.0, cooling_power=1e5)
    assert float(result.open_hours) == 0.0
    assert float(result.carried_off) == 0.0


@settings(deadline=None, max_examples=25)
@given(st.floats(0.0, 3.0), st.floats(20.0, 25.0), st.floats(0.2, 2.0), st.floats(0.0, 8.0))
def test_opening_never_makes_a_room_hotter(area: float, above: float, sun: float, wind: float) -> None:
    """Whatever the opening, hot hours and the hottest hour are no more than with windows shut."""
    opening = Opening(area, above=above, may_open=HOURS % 24 < 20)
    shut = run(sun=SUN * sun, cooling_power=0.0)
    opened = run(sun=SUN * sun, cooling_power=0.0, opening=opening, wind=np.full(H, wind))
    assert float(opened.hot_hours) <= float(shut.hot_hours)
    assert float(opened.hottest) <= float(shut.hottest) + 1e-6


def test_lanes_open_for_themselves() -> None:
    """Rooms and samples with openings of their own come out as alone."""
    area, hours = np.array([0.2, 0.6]), np.stack([HOURS % 24 < 12, HOURS % 24 >= 12])[:, None]
    both = run(opening=Opening(area, may_open=hours), cooling_power=0.0, factor=np.ones((2, 2)))
    for r, s in np.ndindex(2, 2):
        alone = run(opening=Opening(area[s], may_open=hours[r, 0]), cooling_power=0.0)
        assert float(both.hot_hours[r, s]) == float(alone.hot_hours)
        assert float(both.carried_off[r, s]) == pytest.approx(float(alone.carried_off), rel=1e-9)


def test_gains_add_up() -> None:
    """Two streams of sun equal one of their sum."""
    two = run(solar=[Gain(SUN, 0.25), Gain(SUN * 0.75)])
    assert float(two.cooling.sum()) == pytest.approx(float(run().cooling.sum()), rel=1e-12)


def test_warm_up_is_long_enough() -> None:
    """Two months before the year make the start forgotten even in the heaviest class of room."""
    heavy = replace(
        BOX, floor=Slab(20.0, 1.7e6, 0.04), walls=Slab(60.0, 5.7e6, 0.04), windows=12.0, ventilation=10.0
    )
    hours = np.arange(2000)
    weather = 5.0 + 5.0 * np.sin(2 * np.pi * hours / 24)

    def heating(start: float) -> float:
        return float(
            heat_balance(
                heavy, weather, solar=Gain(np.zeros(2000)), internal=Gain(np.zeros(2000)),
                heating_setpoint=20.0, cooling_setpoint=26.0, start=start, heating_power=500.0,
            ).heating.sum()
        )  # fmt: skip

    assert heating(10.0) == pytest.approx(heating(30.0), abs=1e-6)


def test_nan_spoils_only_its_own_lane() -> None:
    """A sample that is nan comes out as nan in every result and leaves the others alone."""
    result = run(factor=np.array([1.0, np.nan]))
    for name in ("heating", "cooling", "peak_cooling", "hot_hours", "hottest", "unmet_heating"):
        values = getattr(result, name)
        assert np.isnan(values[..., 1]).all(), name
        assert np.isfinite(values[..., 0]).all(), name


@pytest.mark.parametrize(
    ("options", "words"),
    [
        ({"heating_setpoint": 26.0}, "under cooling_setpoint"),
        ({"cooling_power": -1.0}, "0 or more"),
        ({"solar": []}, "solar must have a gain"),
        ({"solar": Gain(np.zeros(5))}, "must end with"),
        ({"solar": Gain(np.zeros((2, H)), np.ones(3))}, "do not fit"),
        ({"bins": np.zeros(H)}, "whole numbers"),
        ({"bins": np.full(H, -1)}, "from 0"),
        ({"occupied": np.ones(3)}, "a number or"),
    ],
)
def test_arguments_that_do_not_fit_are_refused(options: dict[str, object], words: str) -> None:
    """Shapes and values that do not fit raise and say what must hold."""
    with pytest.raises(ValueError, match=words):
        run(**options)
    with pytest.raises(ValueError, match="temp_air"):
        heat_balance(
            BOX, 5.0, solar=Gain(SUN), internal=Gain(SUN), heating_setpoint=20.0, cooling_setpoint=26.0
        )


def test_several_limits_are_each_as_one_alone() -> None:
    """Each limit, with its own shift, counts the hours that it counts alone (law)."""
    shifts = np.array([[0.0], [0.6], [-0.4]])
    hourly = np.stack([np.full(len(HOURS), 24.0), 23.0 + np.sin(HOURS), np.full(len(HOURS), 26.0)])
    together = run(hot_limit=hourly, limit_shift=shifts, cooling_power=0.0, factor=np.ones(2))
    for number, shift in enumerate(shifts):
        alone = run(hot_limit=hourly[number] + shift, cooling_power=0.0, factor=np.ones(2))
        assert np.array_equal(together.hot_hours[number], alone.hot_hours)
    assert together.hot_hours.shape == (3, 2)
    assert len(set(together.hot_hours[:, 0])) == 3


def test_windows_open_over_the_limit_of_the_hour() -> None:
    """With a limit no room reaches by day nothing is opened then, and by night as ever (law)."""
    night = HOURS % 24 < 8
    masked = run(opening=Opening(0.5, may_open=night, above=21.0), cooling_power=0.0)
    hourly = run(opening=Opening(0.5, above=np.where(night, 21.0, 90.0)), cooling_power=0.0)
    assert float(masked.open_hours) > 0
    assert float(hourly.open_hours) == float(masked.open_hours)
    assert float(hourly.carried_off) == pytest.approx(float(masked.carried_off))


@pytest.mark.parametrize("lanes", [1, 3, 7, 100])
def test_lanes_in_parts_are_lanes_together(monkeypatch: pytest.MonkeyPatch, lanes: int) -> None:
    """However many lanes are computed together, a lane has the same year; gains differ by group or lane.

    Plant with limits and without, shifts, an opening by lane, several limits and bins.
    """
    factor = np.linspace(0.8, 1.2, 5)
    options: dict[str, object] = {
        "sun": np.linspace(1.0, 0.4, 3)[:, None, None] * SUN,
        "factor": factor,
        "setpoint_shift": factor - 1.0,
        "outdoor_shift": 1.0 - factor[::-1],
        "cooling_power": np.array([0.0, 400.0, np.inf])[:, None],
        "opening": Opening(0.4 * factor, may_open=np.arange(H) % 5 > np.arange(5)[:, None], fan=0.02),
        "hot_limit": np.stack([np.full(H, 25.0), 24.0 + 0.001 * HOURS]),
        "limit_shift": np.stack([np.zeros(5), factor]),
        "occupied": HOURS % 24 > 8,
        "bins": HOURS // 100 % 2,
        "record": np.s_[1:, ::2],
    }
    whole = run(**options)  # type: ignore[arg-type]
    monkeypatch.setattr(march, "PART_LANES", lanes)
    monkeypatch.setattr(march, "BLOCK_NUMBERS", 500)
    parts = run(**options)  # type: ignore[arg-type]
    assert whole.record is not None and parts.record is not None
    for one, other in ((whole, parts), (whole.record, parts.record)):
        for name, values in vars(one).items():
            if name != "record":
                np.testing.assert_allclose(getattr(other, name), values, rtol=1e-10, atol=1e-8, err_msg=name)
