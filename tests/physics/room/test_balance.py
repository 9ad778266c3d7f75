"""The hourly balance: heat in is heat out, control, limits of plant, lanes, bins."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from reportkit import climate
from reportkit.physics import sun
from reportkit.physics.room.balance import Balance, Gain, heat_balance
from reportkit.physics.room.network import Room, coefficients

H = 24 * 28
HOURS = np.arange(H)
OUTDOOR = 12.0 + 9.0 * np.sin(2 * np.pi * HOURS / H) + 6.0 * np.sin(2 * np.pi * (HOURS - 9) / 24)
SUN = 1500.0 * np.maximum(0.0, np.sin(2 * np.pi * (HOURS - 6) / 24))
BOX = Room(20.0, 165e3 * 20.0, 50.0, windows=15.0, opaque=10.0, ventilation=20.0)


def run(room: Room = BOX, *, sun: object = SUN, factor: object = 1.0, **options: object) -> Balance:
    """Run four weeks with the defaults of this file."""
    arguments: dict[str, object] = {
        "solar": Gain(sun, factor),  # type: ignore[arg-type]
        "internal": Gain(np.full(H, 150.0)),
        "heating_setpoint": 20.0,
        "cooling_setpoint": 26.0,
    }
    return heat_balance(room, OUTDOOR, **(arguments | options))  # type: ignore[arg-type]


def by_hand(room: Room, sun: np.ndarray, low: float, high: float, most: float) -> np.ndarray:
    """Return the power of every hour by ISO 13790 Annex C written out for one room (cross-check).

    The standard's two trials: without power, with 10 W per m2, then the line through both.
    """
    at, am = 4.5 * 20.0, 50.0
    hw, hop, hve, capacity = 15.0, 10.0, 20.0, 165e3 * 20.0
    his, hms = 3.45 * at, 9.1 * am
    hem = 1 / (1 / hop - 1 / hms)
    h1 = 1 / (1 / hve + 1 / his)
    h2 = h1 + hw
    h3 = 1 / (1 / h2 + 1 / hms)
    mass, powers = 20.0, []

    def step(q: float, te: float, fsol: float, tm: float) -> tuple[float, float]:
        fia, radiant = 75.0, 75.0 + fsol
        fm, fst = am / at * radiant, (1 - am / at - hw / (9.1 * at)) * radiant
        total = fm + hem * te + h3 * (fst + hw * te + h1 * ((fia + q) / hve + te)) / h2
        end = (tm * (capacity / 3600 - 0.5 * (h3 + hem)) + total) / (capacity / 3600 + 0.5 * (h3 + hem))
        mean = 0.5 * (tm + end)
        ts = (hms * mean + fst + hw * te + h1 * (te + (fia + q) / hve)) / (hms + hw + h1)
        return (his * ts + hve * te + fia + q) / (his + hve), end

    for index in list(range(H)) * 2:
        te, fsol = OUTDOOR[index], sun[index]
        free, _ = step(0.0, te, fsol, mass)
        trial, _ = step(200.0, te, fsol, mass)
        q = 0.0
        if free < low:
            q = min(200.0 * (low - free) / (trial - free), most)
        elif free > high:
            q = max(200.0 * (high - free) / (trial - free), -most)
        _, mass = step(q, te, fsol, mass)
        powers.append(q)
    return np.array(powers[H:])


@pytest.mark.parametrize("most", [1e9, 600.0])
def test_same_powers_as_the_standard_written_out(most: float) -> None:
    """Every hour's power is that of the standard's own procedure, with and without limits of plant."""
    result = run(heating_power=most, cooling_power=most, record=..., warm_up_steps=H)
    assert result.record is not None
    np.testing.assert_allclose(result.record.power, by_hand(BOX, SUN, 20.0, 26.0, most), atol=1e-7)


def imbalance(result: Balance, outdoor: np.ndarray, flow: np.ndarray, inner: float) -> float:
    """Return gains and plant less losses and what the mass kept, over all hours of `BOX` [kWh]."""
    record = result.record
    assert record is not None
    surface = (record.operative - 0.3 * record.air) / 0.7
    c = coefficients(BOX)
    gains = float((flow + inner).sum() - (c.lost * (flow + inner / 2)).sum()) / 1000.0
    plant = float(result.heating.sum() - result.cooling.sum())
    # mean mass temperature of an hour, from the surface node's balance
    hms, his = 9.1 * 50.0, 3.45 * 90.0
    to_surface = 1.0 - 50.0 / 90.0 - 15.0 / (9.1 * 90.0)
    mean = (
        (hms + 15.0 + his) * surface - his * record.air - 15.0 * outdoor - to_surface * (flow + inner / 2)
    ) / hms
    hem = 1.0 / (1.0 / 10.0 - 1.0 / hms)
    lost = (
        20.0 * (record.air - outdoor) + 15.0 * (surface - outdoor) + hem * (mean - outdoor)
    ).sum() / 1000.0
    return gains + plant - float(lost) - float(result.mass_change)


def test_energy_in_is_energy_out() -> None:
    """Sun, inner gains and plant equal the losses through all five paths plus what the mass kept."""
    assert imbalance(run(record=...), OUTDOOR, SUN, 150.0) == pytest.approx(0.0, abs=1e-6)


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
        BOX,
        year.temp_air,
        solar=Gain(through),
        internal=Gain(np.full(8760, 120.0)),
        heating_setpoint=20.0,
        cooling_setpoint=26.0,
        cooling_power=900.0,
        record=...,
    )
    assert float(result.heating.sum()) > 500.0
    assert float(result.cooling.sum()) > 100.0
    assert imbalance(result, year.temp_air, through, 120.0) == pytest.approx(0.0, abs=1e-4)


@settings(deadline=None, max_examples=25)
@given(st.floats(0.0, 40.0), st.floats(2.0, 40.0), st.floats(5.0, 60.0), st.floats(0.0, 3.0))
def test_the_air_stays_between_its_set_points(windows: float, opaque: float, air: float, sun: float) -> None:
    """With plant enough the air never leaves its band, and less sun never needs more cooling."""
    room = Room(20.0, 110e3 * 20.0, 50.0, windows=windows, opaque=opaque, ventilation=air)
    result = run(room, sun=SUN * sun, record=...)
    assert result.record is not None
    assert result.record.air.min() >= 20.0 - 1e-6
    assert result.record.air.max() <= 26.0 + 1e-6
    less = run(room, sun=SUN * sun * 0.8)
    assert float(less.cooling.sum()) <= float(result.cooling.sum()) + 1e-9
    assert float(less.heating.sum()) >= float(result.heating.sum()) - 1e-9


def test_free_running_decay_has_the_networks_time_constant() -> None:
    """Without plant and gains a warm room falls towards the outdoor air with the analytic constant."""
    his, hms = 3.45 * 90.0, 9.1 * 50.0
    inner = 1.0 / (1.0 / hms + 1.0 / (15.0 + 1.0 / (1.0 / 20.0 + 1.0 / his)))
    tau = 165e3 * 20.0 / (inner + 1.0 / (1.0 / 10.0 - 1.0 / hms)) / 3600.0
    result = heat_balance(
        BOX, np.zeros(100), solar=Gain(np.zeros(100)), internal=Gain(np.zeros(100)), heating_setpoint=20.0,
        cooling_setpoint=26.0, heating_power=0.0, cooling_power=0.0, record=..., warm_up_steps=0, start=30.0,
    )  # fmt: skip
    assert result.record is not None
    air = result.record.air
    assert np.log(air[10] / air[90]) == pytest.approx(80.0 / tau, rel=1e-3)


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
    room = Room(20.0, 165e3 * 20.0, 50.0, windows=windows, opaque=10.0, ventilation=volume)
    together = run(room, sun=sun, factor=factor, setpoint_shift=shift, cooling_power=900.0)
    assert together.hot_hours.shape == (2, 3, 4)
    for r, o, s in np.ndindex(2, 3, 4):
        alone = run(
            Room(20.0, 165e3 * 20.0, 50.0, windows[o, 0], 10.0, volume[s]),
            sun=sun[r, o, 0], factor=factor[s], setpoint_shift=shift[s], cooling_power=900.0,
        )  # fmt: skip
        for name in ("heating", "cooling", "peak_cooling", "hot_hours", "hottest", "unmet_cooling"):
            many, one = getattr(together, name), getattr(alone, name)
            np.testing.assert_allclose(many[..., r, o, s], one, rtol=1e-12, atol=1e-12, err_msg=name)


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


def test_ventilation_by_schedule() -> None:
    """Two equal levels change nothing; a higher level at night cools a room without plant."""
    night = ((HOURS % 24 < 6) | (HOURS % 24 >= 22)).astype(int)
    same = Room(20.0, 165e3 * 20.0, 50.0, 15.0, 10.0, [20.0, 20.0])
    assert float(run(same, ventilation_index=night).heating.sum()) == float(run().heating.sum())
    open_ = Room(20.0, 165e3 * 20.0, 50.0, 15.0, 10.0, [20.0, 120.0])
    cooled = run(open_, ventilation_index=night, heating_power=0.0, cooling_power=0.0)
    shut = run(heating_power=0.0, cooling_power=0.0)
    assert float(cooled.hottest) < float(shut.hottest)
    with pytest.raises(ValueError, match="ventilation_index"):
        run(open_)


def test_gains_add_up() -> None:
    """Two streams of sun equal one of their sum."""
    two = run(solar=[Gain(SUN, 0.25), Gain(SUN * 0.75)])
    assert float(two.cooling.sum()) == pytest.approx(float(run().cooling.sum()), rel=1e-12)


def test_warm_up_is_long_enough() -> None:
    """Two months before the year make the start forgotten even in the heaviest class of room."""
    heavy = Room(20.0, 370e3 * 20.0, 70.0, windows=15.0, opaque=10.0, ventilation=10.0)
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
