"""Weather files whose radiation does not fit: clocks, columns, beams and gaps, made from public years."""

from dataclasses import replace
from functools import cache
from pathlib import Path

import numpy as np
import pandas as pd
import pytest

from reportkit import climate
from reportkit.climate.closure import closure, drift, sun
from reportkit.climate.mend import mended
from reportkit.climate.readers import read_raw
from reportkit.climate.typical import from_raw
from reportkit.physics import sun as on_faces

ZONE = {"miami": "America/New_York", "greensboro": "America/New_York", "sand point": "America/Anchorage"}


@cache
def raw_of(name):
    """Return a shipped year's rows (public data) before any check, read once."""
    return read_raw(Path(climate.shipped_path(name)), climate.SHIPPED[name].kind)


def year_of(raw, name):
    """Return the year of rows, which must have no fault."""
    weather, faults = from_raw(raw, name="TMY3", year=2025, timezone=ZONE[name])
    assert not faults
    return weather


@cache
def walls_of(name):
    """Return the sun on the walls of a shipped year as it is."""
    return walls(year_of(raw_of(name), name))


def walls(weather):
    """Return a year's sun on an east, a south and a west wall [kWh/m2]."""
    place = on_faces.position(
        weather.times,
        latitude=weather.latitude,
        longitude=weather.longitude,
        elevation=weather.elevation,
        step_hours=1.0,
    )
    found = on_faces.sky_on_faces(
        place, weather.ghi, weather.dni, weather.dhi, surface_azimuth=[90, 180, 270], surface_tilt=90.0
    )
    return found.total.sum(axis=0) / 1000.0


@pytest.mark.parametrize("name", ZONE)
def test_public_years_need_no_mending(name):
    """Their own three columns close to less than 2 % at the sun's own minute, and nothing is said."""
    raw = raw_of(name)
    table = {part: raw.table[part].to_numpy(dtype=float) for part in ("ghi", "dni", "dhi")}
    fit = closure(table, sun(raw.times, raw.site))
    assert fit.miss < 0.02 and (fit.minutes, fit.beam_minutes) == (0, 0)
    assert mended(raw)[1:] == ((), False)


@pytest.mark.parametrize("name", ZONE)
@pytest.mark.parametrize("off", [-60, -40, 20, 40, 60])
def test_a_clock_that_is_off_is_found_to_minutes(name, off):
    """Twenty, forty minutes and an hour are found to three minutes, and walls come out as before."""
    raw = raw_of(name)
    wrong = replace(raw, times=raw.times + pd.Timedelta(minutes=off))
    right, told, changed = mended(wrong)
    moved = (right.times - wrong.times)[0].total_seconds() / 60.0
    assert changed and moved == pytest.approx(-off, abs=3.0)
    assert "clock" in told[0] and f"{abs(moved):.0f} minutes" in told[0]
    assert walls(year_of(wrong, name)) == pytest.approx(walls_of(name), rel=0.01)


def test_forty_minutes_move_sun_from_wall_to_wall():
    """Left as it stands, a clock 40 minutes off moves a tenth and more of the sun to the other side."""
    raw = raw_of("greensboro")
    weather = year_of(replace(raw, times=raw.times + pd.Timedelta(minutes=40)), "greensboro")
    east, _, west = walls(weather.as_read) / walls(weather)
    assert west - east > 0.10 or east - west > 0.10


@pytest.mark.parametrize("pair", [("ghi", "dni"), ("ghi", "dhi"), ("dni", "dhi")])
@pytest.mark.parametrize("name", ZONE)
def test_swapped_columns_are_put_back(name, pair):
    """Any two columns of radiation in each other's place are found by what closes, and named."""
    raw = raw_of(name)
    first, second = pair
    wrong = replace(raw, table=raw.table.assign(**{first: raw.table[second], second: raw.table[first]}))
    right, told, changed = mended(wrong)
    assert changed and "in each other's column" in told[0]
    for part in ("ghi", "dni", "dhi"):
        assert right.table[part].to_numpy() == pytest.approx(raw.table[part].to_numpy(), nan_ok=True)


def test_a_beam_made_with_the_sun_of_another_minute():
    """Where global radiation follows the sun and the beam another minute, the beam alone is made anew."""
    raw = raw_of("greensboro")
    on = sun(raw.times, raw.site)
    level = on.at(30.0)
    ghi, dhi = (raw.table[part].to_numpy(dtype=float) for part in ("ghi", "dhi"))
    beam = np.where(level > 0.05, np.clip((ghi - dhi) / np.maximum(level, 0.05), 0.0, 1100.0), 0.0)
    right, told, _ = mended(replace(raw, table=raw.table.assign(dni=beam)))
    assert (right.times == raw.times).all()
    assert "computed with a sun" in told[0]
    high = on.at(0.0) > 0.15
    assert right.table["dni"].to_numpy()[high] == pytest.approx(raw.table["dni"].to_numpy()[high], abs=25.0)


def test_radiation_that_adds_up_nowhere_is_asked_about():
    """A third of the beam lost in every second hour is no clock: nothing is moved, and the sum is doubted."""
    raw = raw_of("greensboro")
    beam = raw.table["dni"].to_numpy() * np.where(np.arange(8760) % 2, 1.0, 0.6)
    right, told, changed = mended(replace(raw, table=raw.table.assign(dni=beam)))
    assert not changed and (right.times == raw.times).all()
    assert "does not add up" in told[0]


@pytest.mark.parametrize("name", ZONE)
def test_wet_months_without_beam_are_split(name):
    """Months with global radiation alone come out within 6 % on the walls of the year, and are told."""
    raw = raw_of(name)
    gone = np.isin(raw.times.month, (5, 6, 7, 8))
    table = raw.table.assign(**{part: np.where(gone, np.nan, raw.table[part]) for part in ("dni", "dhi")})
    weather = year_of(replace(raw, table=table), name)
    assert walls(weather) == pytest.approx(walls_of(name), rel=0.06)
    assert "Maxwell" in weather.doubts[0]


@pytest.mark.parametrize("part", ["ghi", "dni", "dhi"])
def test_one_column_is_what_the_others_come_to(part):
    """Any one column that is missing is the other two's sum or difference, within 2 % on walls."""
    raw = raw_of("greensboro")
    table = raw.table.assign(**{part: np.nan})
    weather = year_of(replace(raw, table=table), "greensboro")
    assert walls(weather) == pytest.approx(walls_of("greensboro"), rel=0.02)
    assert "is missing in the weather file" in weather.doubts[0]


def test_air_of_another_height():
    """1000 m higher it is 6.5 K colder and the air some 11 % thinner (ISO 2533, standard atmosphere)."""
    low = climate.shipped_year("greensboro", year=2025)
    high = climate.brought(
        low, latitude=low.latitude, longitude=low.longitude, elevation=low.elevation + 1000.0
    )
    assert (low.temp_air - high.temp_air) == pytest.approx(np.full(8760, 6.5))
    assert high.pressure / low.pressure == pytest.approx(np.full(8760, 0.887), abs=0.003)
    assert "1000 m above" in high.doubts[0] and "6.5 K colder" in high.doubts[0]
    assert climate.brought(low, latitude=36.1, longitude=-79.95, elevation=low.elevation).doubts == ()


def test_the_way_to_the_weather():
    """A degree of latitude is 111.2 km on a sphere of 6371 km (handbook value), told from 50 km on."""
    assert climate.distance(36.0, -80.0, 37.0, -80.0) == pytest.approx(111.2, abs=0.1)
    low = climate.shipped_year("greensboro", year=2025)
    far = climate.brought(low, latitude=low.latitude + 1.0, longitude=low.longitude, elevation=low.elevation)
    assert far.distance_km == pytest.approx(111.2, abs=0.1)
    assert "111 km away" in far.doubts[0]


def test_a_number_beyond_all_sense_does_not_stop_the_search_for_the_clock():
    """1e308 W/m2 overflowed the correlation; that hour is left out, its value is a fault of its own."""
    times = pd.date_range("2021-06-01", periods=240, freq="h", tz="UTC")
    on = sun(times, climate.Site("Invented", 40.0, 0.0, 0.0, 0.0))
    ghi = 900.0 * np.maximum(on.at(0), 0.0)
    told = drift(ghi, on)
    ghi[100] = 1e308
    assert drift(ghi, on) == told == 0
