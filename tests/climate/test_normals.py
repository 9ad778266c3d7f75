"""Synthetic years from monthly normals, against typical years and the papers' own laws."""

import os
from pathlib import Path

import numpy as np
import pytest

from reportkit import climate
from reportkit.climate.air import daily_spread, daily_temperature
from reportkit.climate.days import classes, daily_clearness
from reportkit.climate.hours import mean_clearness, memory, spread
from reportkit.physics import sun

WALLS = np.arange(0.0, 360.0, 45.0)


def normals_of(weather):
    """Return a year's own monthly means: temperature [C], daily range [K], radiation [kWh/m2 a day]."""
    days = weather.temp_air.reshape(-1, 24)
    month = weather.times.month.to_numpy().reshape(-1, 24)[:, 12]
    light = weather.ghi.reshape(-1, 24).sum(axis=1) / 1000.0
    rows = [month == number for number in range(1, 13)]
    return (
        np.array([days[row].mean() for row in rows]),
        np.array([np.ptp(days[row], axis=1).mean() for row in rows]),
        np.array([light[row].mean() for row in rows]),
    )


def on_walls(weather):
    """Return the irradiance on eight walls."""
    place = sun.position(
        weather.times,
        latitude=weather.latitude,
        longitude=weather.longitude,
        elevation=weather.elevation,
        step_hours=1.0,
    )
    return sun.sky_on_faces(
        place, weather.ghi, weather.dni, weather.dhi, surface_azimuth=WALLS, surface_tilt=90.0
    )


DENVER = Path(
    os.environ.get("REPORTKIT_DENVER_EPW")
    or Path(__file__).resolve().parents[3] / "shared" / "weather" / "denver-tmy3.epw"
)
ZONES = {"miami": "America/New_York", "greensboro": "America/New_York", "sand point": "America/Anchorage"}


def made_of(real, timezone):
    """Return the years made from a year's own normals."""
    mean, swing, light = normals_of(real)
    return climate.from_normals(
        latitude=real.latitude,
        longitude=real.longitude,
        elevation=real.elevation,
        timezone=timezone,
        year=2025,
        temp_mean=mean,
        temp_range=swing,
        ghi_day=light,
    )


@pytest.fixture(scope="module")
def pairs():
    """Return each public year with the years made from its own normals."""
    real = {name: climate.shipped_year(name, year=2025) for name in ZONES}
    found = {name: (year, made_of(year, ZONES[name])) for name, year in real.items()}
    if DENVER.is_file():
        year = climate.typical_year(DENVER, year=2025, timezone="America/Denver")
        found["denver"] = (year, made_of(year, "America/Denver"))
    return found


@pytest.fixture(params=[*ZONES, "denver"])
def pair(request, pairs):
    """Return one of them; Denver, which nothing was fitted to, where its file is."""
    if request.param not in pairs:
        pytest.skip("denver-tmy3.epw is not here: set REPORTKIT_DENVER_EPW to the file of ASHRAE 140-2020")
    return pairs[request.param]


def daily(weather):
    """Return the clearness and the mean temperature of each day less those of its month, and the month."""
    from pvlib.irradiance import get_extra_radiation
    from pvlib.solarposition import spa_python

    sun_at = spa_python(weather.times, weather.latitude, weather.longitude)
    rise = np.maximum(np.cos(np.radians(sun_at["zenith"].to_numpy())), 0.0)
    outside = np.asarray(get_extra_radiation(weather.times.day_of_year)) * rise
    clear = weather.ghi.reshape(-1, 24).sum(axis=1) / outside.reshape(-1, 24).sum(axis=1)
    warm = weather.temp_air.reshape(-1, 24).mean(axis=1)
    month = weather.times.month.to_numpy().reshape(-1, 24)[:, 12] - 1
    months = np.eye(12)[month]
    return [each - (each @ months / months.sum(axis=0))[month] for each in (clear, warm)] + [month]


def test_walls_of_synthetic_years(pair):
    """A sunny wall's year is within 8 % of the typical year's, its beam within a fifth, any wall's 12 %."""
    # typical years of four climates (public data); measured -4 to +6 %, -17 to +1 % and up to +11 %
    real, made = pair
    true = on_walls(real)
    walls = [on_walls(year) for year in made]
    total = np.mean([one.total.sum(axis=0) for one in walls], axis=0) / true.total.sum(axis=0) - 1.0
    beam = np.mean([one.beam.sum(axis=0) for one in walls], axis=0) / true.beam.sum(axis=0) - 1.0
    assert np.abs(total[2:7]).max() < 0.08
    assert np.abs(total).max() < 0.12
    assert np.abs(beam[2:7]).max() < 0.20


def test_the_normals_come_back(pair):
    """Every synthetic year has the radiation and the temperature that it was made from."""
    real, made = pair
    assert len(made) > 1
    want = normals_of(real)
    for year in made:
        assert year.kind == "normals" and len(year.times) == 8760
        assert (year.times == real.times).all()
        got = normals_of(year)
        # no day is clearer than a clear sky: Sand Point's darkest month falls short by 2 %
        assert got[2] == pytest.approx(want[2], rel=0.025)
        assert got[0] == pytest.approx(want[0], abs=0.01)
        # where a cold spell comes in, a day's range is more than the sun's: by .6 K of 3.1 at Sand Point
        assert got[1] == pytest.approx(want[1], rel=0.05, abs=0.7)
        assert year.ghi == pytest.approx(year.dhi + year.dni * np.maximum(on_level(year), 0.0), abs=1.0)
        assert year.dhi.min() >= 0.0 and year.dni.max() < 1100.0


def on_level(weather):
    """Return the cosine of the sun's zenith angle at the rows' times."""
    from pvlib.solarposition import spa_python

    return np.cos(np.radians(spa_python(weather.times, weather.latitude, weather.longitude)["zenith"]))


def test_clear_and_dull_spells_are_those_of_measured_years(pair):
    """Days spread as far as measured ones, and a day resembles the one before.

    The four public years: spread of daily clearness .117 to .154, correlation with the day before .22 to .31.
    """
    real, made = pair
    true = daily(real)[0]
    found = [daily(year)[0] for year in made]
    assert np.mean([days.std() for days in found]) == pytest.approx(true.std(), rel=0.25)
    after = np.mean([np.corrcoef(days[1:], days[:-1])[0, 1] for days in found])
    assert 0.04 < after < 0.40


def test_warm_and_cold_spells(pair):
    """The spread of a public year's days lies between those of the years made, and spells last as long."""
    real, made = pair
    true = daily(real)[1]
    spreads = [daily(year)[1].std() for year in made]
    assert min(spreads) < true.std() < max(spreads)
    after = np.mean([np.corrcoef(days[1:], days[:-1])[0, 1] for days in (daily(year)[1] for year in made)])
    assert after == pytest.approx(np.corrcoef(true[1:], true[:-1])[0, 1], abs=0.15)


def test_extremes_are_within_the_years_made(pair):
    """The hottest hour is within 3.5 K and the brightest within a tenth of the public year's."""
    real, made = pair
    hottest = [year.temp_air.max() for year in made]
    assert min(hottest) < real.temp_air.max() + 0.5 and max(hottest) > real.temp_air.max() - 0.5
    assert np.median(hottest) == pytest.approx(real.temp_air.max(), abs=3.5)
    assert np.median([year.ghi.max() for year in made]) == pytest.approx(real.ghi.max(), rel=0.10)


def test_the_table_of_days():
    """Ten classes of ten states, each row of chances adding up to one, as the paper has them.

    Aguiar, Collares-Pereira & Conde 1988, from a public implementation: the first row of the dullest class
    is .229 .333 .208 .042 .083 .042 .042 .021 0 0.
    """
    table = classes()
    assert table.below.shape == (10, 10, 10)
    assert np.diff(table.below[0, 0], prepend=0.0)[:4] == pytest.approx(
        [0.229, 0.333, 0.208, 0.042], abs=1e-3
    )
    assert table.below[..., -1] == pytest.approx(np.ones((10, 10)))
    assert np.all(np.diff(table.upto) > 0.0)


def test_days_follow_the_table_of_chances():
    """Over many days the states follow one another as often as their row of the table says."""
    month = np.zeros(30_000, dtype=int)
    clearness = np.full(12, 0.52)
    drawn = np.random.default_rng(1).random((1, len(month)))
    days = daily_clearness(clearness, month, drawn)[0]
    table = classes()
    kind = int(np.searchsorted(table.upto, 0.52))
    width = (table.highest[kind] - table.lowest[kind]) / 10
    state = np.clip(((days - table.lowest[kind]) / width).astype(int), 0, 9)
    chance = np.diff(table.below[kind], axis=1, prepend=0.0)
    for row in (2, 5, 8):
        after = state[1:][state[:-1] == row]
        assert np.bincount(after, minlength=10) / len(after) == pytest.approx(chance[row], abs=0.03)
    # the table is made for months of such a mean
    assert days.mean() == pytest.approx(0.525, abs=0.04)


def test_hours_of_a_day_written_out_again():
    """The published formulae of an hour's mean clearness, spread and memory, at a clearness of .5 and 30 deg.

    Aguiar & Collares-Pereira 1992, from a public implementation: a cross-check, not an authority.
    """
    mean = -0.19 + 0.56 + 0.24 * np.exp(-4.0) + 0.32 * np.exp(-(0.19 + 0.5675 - 0.31375) / 0.5)
    assert float(mean_clearness(np.array(0.5), np.array(0.5))) == pytest.approx(mean)
    deviation = 0.14 * np.exp(-20 * 0.15**2) * np.exp((3 * 0.05**2 + 16 * 0.5**5) * 0.5)
    assert float(spread(np.array(0.5), np.array(0.5))) == pytest.approx(deviation)
    assert float(memory(np.array(0.5))) == pytest.approx(0.38 + 0.06 * np.cos(1.2))
    assert 0.45 < mean < 0.60  # a day of .5 is a little clearer when the sun is high


def test_the_spread_of_days_is_that_of_denver():
    """Fitted to other years, the spread of a month's days is within .7 K (rms) of Denver's.

    The months' means and spreads of the public Denver file of ASHRAE 140-2020.
    """
    mean = np.array([0.8, -0.1, 6.1, 5.8, 15.5, 23.1, 22.3, 22.6, 19.2, 10.0, 2.9, 1.4])
    true = np.array([4.4, 5.0, 4.2, 5.3, 4.4, 2.9, 2.9, 2.6, 4.0, 4.4, 5.3, 4.3])
    assert np.sqrt(np.mean((daily_spread(mean) - true) ** 2)) < 0.7


def test_the_temperature_of_a_day():
    """A day's course has its mean and range, coolest about sunrise and warmest in mid afternoon."""
    # Erbs, Klein & Beckman 1983 (from memory): the shape spans one daily range, warmest about 15 h
    hours = np.arange(0.5, 24.0, 1.0)
    course = daily_temperature(hours, 20.0, 10.0)
    assert course.mean() == pytest.approx(20.0, abs=1e-9)
    assert np.ptp(course) == pytest.approx(10.0, rel=0.05)
    assert 14.0 <= hours[np.argmax(course)] <= 16.0
    assert 4.0 <= hours[np.argmin(course)] <= 7.0


ROME = {
    "latitude": 41.9,
    "longitude": 12.5,
    "elevation": 20.0,
    "timezone": "Europe/Rome",
    "year": 2024,
    "temp_mean": np.full(12, 15.0),
    "temp_range": np.full(12, 9.0),
    "ghi_day": np.array([1.9, 2.7, 4.1, 5.2, 6.4, 7.1, 7.3, 6.3, 4.8, 3.2, 2.1, 1.6]),
}


def test_megajoules_are_the_same_year():
    """Radiation in MJ/m2 gives the same year as in kWh/m2, also in a leap year."""
    one = climate.from_normals(**ROME)[0]
    two = climate.from_normals(**{**ROME, "ghi_day": ROME["ghi_day"] * 3.6}, unit="MJ")[0]
    assert two.ghi == pytest.approx(one.ghi)
    assert len(one.times) == 8760
    assert not ((one.times.month == 2) & (one.times.day == 29)).any()


def test_no_sun_in_the_polar_night():
    """North of the polar circle a month without sun stays dark and finite."""
    light = np.array([0.0, 0.4, 1.5, 3.5, 4.8, 5.0, 4.6, 3.2, 1.7, 0.5, 0.0, 0.0])
    weather, *_ = climate.from_normals(
        **{**ROME, "latitude": 70.0, "longitude": 25.0, "timezone": "Europe/Oslo", "ghi_day": light}
    )
    for series in (weather.ghi, weather.dni, weather.dhi):
        assert np.isfinite(series).all()
        assert series.min() >= 0.0
    assert weather.ghi[weather.times.month == 12].max() == 0.0


@pytest.mark.parametrize(
    ("wrong", "message"),
    [
        ({"temp_mean": [1.0, 2.0]}, "twelve"),
        ({"temp_range": np.full(12, -1.0)}, "0 or more"),
        ({"ghi_day": np.full(12, 9.0)}, "more than the sun can give"),
        ({"unit": "BTU"}, "kWh or MJ"),
    ],
)
def test_impossible_normals_are_refused(wrong, message):
    """Lists that are no normals are errors."""
    with pytest.raises(ValueError, match=message):
        climate.from_normals(**{**ROME, **wrong})


def test_the_most_sun_is_nine_tenths_of_what_comes_in():
    """Outside the air a mean day at 40 N has 15.2 MJ in January and 41.9 in June, at 0 N 36.2 in January.

    Duffie & Beckman, table 1.10.1 (from memory): monthly mean daily radiation outside the air.
    """
    most = (climate.most_sun(40.0) - 0.1) / 0.9 * 3.6
    assert most[[0, 5]] == pytest.approx([15.2, 41.9], rel=0.02)
    assert (climate.most_sun(0.0)[0] - 0.1) / 0.9 * 3.6 == pytest.approx(36.2, rel=0.02)
    assert climate.most_sun(80.0)[11] == pytest.approx(0.1)  # the sun stays away
