"""Typical years from every format: the sun in its place, one year, and faults that say how to mend them."""

import os
from pathlib import Path

import numpy as np
import pandas as pd
import pytest
from pvlib.solarposition import spa_python

from reportkit import climate
from reportkit.base.errors import JobError
from reportkit.climate import plausible
from reportkit.climate.readers import SHIFT_MINUTES

REPOSITORY = Path(__file__).resolve().parents[2]
DENVER = Path(
    os.environ.get("REPORTKIT_DENVER_EPW") or REPOSITORY.parent / "shared" / "weather" / "denver-tmy3.epw"
)


def sun_height(weather, minutes=0.0):
    """Return the cosine of the zenith angle at the rows' times, moved by some minutes."""
    times = weather.times + pd.Timedelta(minutes=minutes)
    return np.cos(np.radians(spa_python(times, weather.latitude, weather.longitude)["zenith"].to_numpy()))


def check_clock(weather, year):
    """Check that a typical year is whole, in order, and starts at midnight of standard time."""
    assert len(weather.times) == 8760
    assert weather.times.is_monotonic_increasing
    assert weather.times.is_unique
    assert set(weather.times.year) == {year}
    assert not ((weather.times.month == 2) & (weather.times.day == 29)).any()


MADE = {
    "epw": lambda files, folder: files.epw(folder / "a.epw"),
    "pvgis csv": lambda files, folder: files.pvgis_tmy(folder / "a.csv"),
    "pvgis json": lambda files, folder: files.pvgis_tmy(folder / "a.json"),
    "pvgis csv without offset": lambda files, folder: files.pvgis_tmy(folder / "a.csv", offset=None),
    "nsrdb local": lambda files, folder: files.nsrdb(folder / "a.csv", offset=1),
    "nsrdb utc": lambda files, folder: files.nsrdb(folder / "a.csv", offset=0, local_offset="5.5"),
}


@pytest.mark.parametrize("name", MADE)
@pytest.mark.parametrize("year", [2025, 2024])
def test_the_sun_stands_where_the_radiation_came_from(name, year, tmp_path, weather_files):
    """In each made file the radiation follows the sun exactly at the rows' times, in any calendar year."""
    weather = climate.typical_year(MADE[name](weather_files, tmp_path), year=year, timezone="Europe/Rome")
    check_clock(weather, year)
    expected = 1000.0 * np.maximum(sun_height(weather), 0.0)
    # bringing a row to another year moves the sun by up to a day's part of the leap cycle: 0.3 degrees, 5
    # W/m2; half an hour off would be 60 W/m2 and more
    assert np.abs(weather.ghi - expected).max() < 9.0
    assert np.sqrt(np.mean((weather.ghi - expected) ** 2)) < 2.0
    assert weather.dni[expected > 30.0] == pytest.approx(800.0)
    assert (weather.latitude, weather.longitude, weather.elevation) == (45.0, 8.0, 250.0)


@pytest.mark.parametrize("ending", ["csv", "json"])
def test_one_year_of_an_hourly_series(ending, tmp_path, weather_files):
    """Of a series of years one is taken, its beam found from the horizontal, and the reader is told."""
    path = weather_files.pvgis_hourly(tmp_path / f"a.{ending}")
    weather = climate.typical_year(path, year=2025, timezone="Europe/Rome")
    check_clock(weather, 2025)
    assert (
        "2019" in weather.span
    )  # 8760 hours of .9 are as near to the mean as 8784 of 1: the earlier is taken
    rise = sun_height(weather)
    assert np.abs(weather.ghi - 900.0 * np.maximum(rise, 0.0)).max() < 9.0
    high = rise > 0.2
    assert weather.dni[high] == pytest.approx(720.0, rel=0.03)  # .9 of (1 - .2) 1000 W/m2
    assert any("not a typical year" in note for note in weather.notes)


@pytest.fixture(scope="module")
def shipped():
    """Return the three typical years that ship with pvlib."""
    return {name: climate.shipped_year(name, year=2025) for name in climate.SHIPPED}


@pytest.mark.parametrize("name", climate.SHIPPED)
def test_measured_years_fit_the_sun_best_as_they_stand(shipped, name):
    """Measured radiation follows the sun better at the rows' times than a quarter of an hour off."""
    weather = shipped[name]
    check_clock(weather, 2025)
    fits = {}
    for minutes in (-30.0, -15.0, 0.0, 15.0, 30.0):
        fits[minutes] = np.corrcoef(weather.ghi, np.maximum(sun_height(weather, minutes), 0.0))[0, 1]
    assert max(fits, key=fits.get) == 0.0
    # no radiation while the sun is well below the horizon
    assert weather.ghi[sun_height(weather) < np.sin(np.radians(-8.0))].max() == 0.0


@pytest.mark.parametrize("name", climate.SHIPPED)
def test_the_shift_of_a_reader_against_radiation_outside_the_air(name):
    """The files' own radiation outside the air is that of the sun at pvlib's stamp plus our shift."""
    # TMY2 and TMY3 print the hour's extraterrestrial horizontal radiation (NREL 1995; NREL/TP-581-43156)
    from pvlib.iotools import read_tmy2, read_tmy3

    path, kind = climate.shipped_path(name), climate.SHIPPED[name].kind
    if kind == "tmy2":
        data, _ = read_tmy2(path)
        outside = data["ETR"].to_numpy(dtype=float)
    else:
        data, _ = read_tmy3(path, coerce_year=2001, map_variables=True)
        outside = data["ghi_extra"].to_numpy(dtype=float)
    site = climate.header(path)
    misses = {}
    for minutes in (-30.0, 0.0, 30.0):
        times = data.index + pd.Timedelta(minutes=minutes)
        rise = np.cos(np.radians(spa_python(times, site.latitude, site.longitude)["zenith"].to_numpy()))
        full = rise > 0.1
        misses[minutes] = np.mean(np.abs(outside[full] / (1361.0 * rise[full]) - 1.0))
    assert min(misses, key=misses.get) == SHIFT_MINUTES[kind]
    assert misses[SHIFT_MINUTES[kind]] < 0.035  # the sun's distance alone makes 3.4 %


def test_shipped_years_have_the_units_of_the_record(shipped):
    """TMY2's tenths and TMY3's millibars arrive as degrees, metres a second and pascals."""
    # Miami's mean temperature is 24.3 C (its TMY2 year); sea-level pressure about 1015 hPa
    miami = shipped["miami"]
    assert miami.temp_air.mean() == pytest.approx(24.3, abs=0.3)
    assert 2.0 < miami.wind_speed.mean() < 6.0
    assert miami.pressure.mean() == pytest.approx(101_500.0, abs=500.0)
    assert np.all(miami.dew_point <= miami.temp_air + 0.11)
    assert shipped["greensboro"].pressure.mean() == pytest.approx(climate.standard_pressure(273.0), rel=0.01)
    assert miami.annual_ghi == pytest.approx(1793.0, abs=1.0)  # the file's own sum
    assert "1961" in miami.span or "1962" in miami.span


def test_the_denver_file():
    """A public EPW is read with the sun in its place."""
    if not DENVER.is_file():
        pytest.skip("denver-tmy3.epw is not here: set REPORTKIT_DENVER_EPW to the file of ASHRAE 140-2020")
    weather = climate.typical_year(DENVER, year=2025, timezone="America/Denver")
    check_clock(weather, 2025)
    fits = {
        minutes: np.corrcoef(weather.ghi, np.maximum(sun_height(weather, minutes), 0.0))[0, 1]
        for minutes in (-30.0, -15.0, 0.0, 15.0, 30.0)
    }
    assert max(fits, key=fits.get) == 0.0
    assert weather.place.startswith("Denver")


def test_summer_time_moves_the_clock_and_not_the_sun(shipped):
    """Solar noon is an hour later on the clock in July than in January."""
    weather = shipped["greensboro"]
    hours = weather.times.hour.to_numpy() + 0.5
    noon = {}
    for month in (1, 7):
        rows = weather.times.month.to_numpy() == month
        height = np.maximum(sun_height(weather)[rows], 0.0)
        noon[month] = np.sum(height * hours[rows]) / height.sum()
    assert noon[7] - noon[1] == pytest.approx(1.0, abs=0.1)


def test_a_clock_of_another_zone_keeps_the_sun(tmp_path, weather_files):
    """Rows stamped in UTC are brought to the site's own midnight, without loss."""
    path = weather_files.pvgis_tmy(tmp_path / "a.csv", offset=0.0)
    weather = climate.typical_year(path, year=2025, timezone="Pacific/Auckland")
    check_clock(weather, 2025)
    expected = 1000.0 * np.maximum(sun_height(weather), 0.0)
    assert np.abs(weather.ghi - expected).max() < 9.0


def fault_of(call):
    """Return the one fault of a call that must fail."""
    with pytest.raises(JobError) as caught:
        call()
    assert caught.value.faults
    for fault in caught.value.faults:
        assert fault.field == "weather"
        assert fault.line >= 0
    return caught.value.faults[0]


def test_a_missing_file(tmp_path):
    """A file that is not there is named."""
    path = tmp_path / "nowhere.epw"
    fault = fault_of(lambda: climate.typical_year(path, year=2025, timezone="Europe/Rome"))
    assert fault.file == "nowhere.epw"
    assert "must be there" in fault.rule
    assert fault.hint
    fault_of(lambda: climate.header(path))


def test_a_file_of_another_kind(tmp_path):
    """A text that is no weather file is refused with what was found."""
    path = tmp_path / "notes.csv"
    path.write_text("dear diary\nit was sunny\n", encoding="utf-8")
    fault = fault_of(lambda: climate.typical_year(path, year=2025, timezone="Europe/Rome"))
    assert ".epw" in fault.rule
    assert fault.found == "dear diary"


def test_a_format_that_is_not_what_was_said(tmp_path, weather_files):
    """Naming the wrong format gives a fault, not a traceback."""
    path = weather_files.epw(tmp_path / "a.epw")
    for kind in climate.FORMATS:
        if kind != "epw":
            fault_of(
                lambda kind=kind: climate.typical_year(path, year=2025, timezone="Europe/Rome", kind=kind)
            )
    fault = fault_of(lambda: climate.typical_year(path, year=2025, timezone="Europe/Rome", kind="tmy9"))
    assert "kind must be one of" in fault.rule


def replaced(row, column, value):
    """Return an edit that changes one cell of an EPW's hour (0 is the first)."""

    def edit(lines):
        cells = lines[8 + row].split(",")
        cells[column] = value
        lines[8 + row] = ",".join(cells)
        return lines

    return edit


@pytest.mark.parametrize(
    ("edit", "rule", "found"),
    [
        (lambda lines: lines[:-24], "8760", "8736 rows"),
        (
            lambda lines: replaced(5000, 14, "9999")(replaced(5000, 13, "9999")(lines)),
            "direct radiation must have no gaps",
            "1 hours missing, 28 Jul to 28 Jul",
        ),
        (replaced(300, 6, "99.9"), "temperature must have no gaps", "1 hours missing"),
        (replaced(4000, 14, "5000"), "direct radiation must be from 0 to 1600", "5000"),
        (lambda lines: [*lines[:100], lines[101], *lines[101:]], "one hour apart", "2 hours after"),
        (
            lambda lines: replaced(1415, 0, "2012")(replaced(1415, 2, "29")(lines)),
            "8760",
            "8759 rows beside 29 February",
        ),
    ],
)
def test_broken_rows(edit, rule, found, tmp_path, weather_files):
    """Missing rows, gaps, impossible values and doubled hours are each told."""
    path = weather_files.epw(tmp_path / "a.epw", edit=edit)
    fault = fault_of(lambda: climate.typical_year(path, year=2025, timezone="Europe/Rome"))
    assert rule in fault.rule
    assert found in fault.found
    assert fault.hint
    if "gaps" in rule or "1600" in rule:
        assert fault.line in (5009, 309, 4009)  # eight lines of header, then the hours


@pytest.mark.parametrize(
    ("column", "value", "rule"),
    [
        (6, "75", "temperature must be from -90 to 60 C"),
        (7, "55", "dew point must be from -110 to 40 C"),
        (9, ".5", "air pressure must be from 40000 to 110000 Pa"),
        (21, "998", "wind speed must be from 0 to 113 m/s"),
    ],
)
def test_values_that_no_weather_has(column, value, rule, tmp_path, weather_files):
    """A value outside what was ever measured on earth (WMO archive of extremes) is told with its line."""
    path = weather_files.epw(tmp_path / "a.epw", edit=replaced(4000, column, value))
    fault = fault_of(lambda: climate.typical_year(path, year=2025, timezone="Europe/Rome"))
    assert (fault.line, fault.rule) == (4009, rule)
    assert fault.found.startswith(f"{float(value):g} ")


@pytest.mark.parametrize(
    ("row", "value", "rule"),
    [
        (300, "40", "temperature must be from -67 to 38 C at latitude 45 in this month"),  # 13 January
        (4000, "-30", "temperature must be from -24 to 58 C at latitude 45 in this month"),  # 16 June
    ],
)
def test_a_temperature_of_another_season(row, value, rule, tmp_path, weather_files):
    """Heat in January and deep frost in June at 45 degrees north are told with their line."""
    path = weather_files.epw(tmp_path / "a.epw", edit=replaced(row, 6, value))
    fault = fault_of(lambda: climate.typical_year(path, year=2025, timezone="Europe/Rome"))
    assert (fault.line, fault.rule) == (9 + row, rule)


@pytest.mark.parametrize(
    ("latitude", "elevation", "month", "measured"),
    [
        (36.5, -54, 7, 56.7),
        (50.2, 160, 6, 49.6),
        (67.5, 110, 6, 38.0),
        (-63.4, 13, 2, 18.3),
        (50.0, 1100, 2, 22.0),
        (47.1, 1700, 1, -56.7),
        (67.6, 110, 2, -67.8),
        (-78.5, 3488, 7, -89.2),
        (-78.5, 3488, 1, -50.0),
        (19.8, 4200, 1, -12.0),
        (30.4, 60, 2, -18.9),
    ],
)
def test_what_was_measured_is_no_fault(latitude, elevation, month, measured):
    """Records of the WMO archive and of national services (from memory) lie inside what is allowed."""
    low, high = plausible.limits(latitude, elevation, np.array([month]))
    assert low[0] < measured < high[0]


def test_the_south_has_its_seasons_half_a_year_later():
    """What is allowed 40 degrees south in a month is what is allowed 40 degrees north six months on."""
    months = np.arange(1, 13)
    for there, here in zip(
        plausible.limits(-40.0, 0.0, months), plausible.limits(40.0, 0.0, (months + 5) % 12 + 1), strict=True
    ):
        assert np.array_equal(there, here)


def test_a_file_too_large(tmp_path):
    """A weather file beyond all sense is not read into memory."""
    path = tmp_path / "a.epw"
    path.write_text("LOCATION,A,B,C,D,0,45,8,1,250\n", encoding="utf-8")
    os.truncate(path, 101_000_000)  # a file with a hole: it takes no room
    fault = fault_of(lambda: climate.header(path))
    assert (fault.rule, fault.found) == ("a weather file must be at most 100 MB", "101.0 MB")


def test_a_place_that_is_not_on_earth(tmp_path, weather_files):
    """A latitude over the pole is told by the header alone."""
    path = weather_files.epw(
        tmp_path / "a.epw", edit=lambda lines: [lines[0].replace("45.0", "91"), *lines[1:]]
    )
    assert "91, 8, 250 m" in fault_of(lambda: climate.header(path)).found


def test_a_sunless_year_and_deep_json(tmp_path, weather_files):
    """No sun at all, and a file made to exhaust a parser, are faults and no errors."""
    dark = weather_files.epw(
        tmp_path / "a.epw",
        edit=lambda lines: (
            lines[:8]
            + [",".join([*c[:13], "0", "0", "0", *c[16:]]) for c in (x.split(",") for x in lines[8:])]
        ),
    )
    assert "all year" in fault_of(lambda: climate.typical_year(dark, year=2025, timezone="Europe/Rome")).rule
    deep = tmp_path / "b.json"
    deep.write_text('{"tmy_hourly": ' + "[" * 100_000, encoding="utf-8")
    assert "cannot be read" in fault_of(lambda: climate.header(deep)).rule


@pytest.mark.parametrize("ending", ["json", "csv"])
def test_a_row_without_a_time(ending, tmp_path, weather_files):
    """An hour whose time cannot be read is told, and no error."""
    path = tmp_path / f"a.{ending}"
    weather_files.pvgis_tmy(path)
    text = path.read_text("utf-8")
    wrong = (
        ('"time(UTC)": "20070724:2200"', '"time": "20070724:2200"')
        if ending == "json"
        else ("20070724:2200", "")
    )
    assert text.count(wrong[0]) == 1
    path.write_text(text.replace(*wrong), "utf-8")
    fault = fault_of(lambda: climate.typical_year(path, year=2026, timezone="Europe/Rome"))
    assert fault.rule == "each row must have a time"
    assert fault.found == "1 rows have none"


def test_every_fault_at_once(tmp_path, weather_files):
    """Several faults of one file are all told."""
    path = weather_files.epw(
        tmp_path / "a.epw", edit=lambda lines: replaced(5, 6, "99.9")(replaced(9, 14, "5000")(lines))
    )
    with pytest.raises(JobError) as caught:
        climate.typical_year(path, year=2025, timezone="Europe/Rome")
    assert len(caught.value.faults) == 2


def test_a_longitude_of_the_wrong_sign(tmp_path, weather_files):
    """A header that puts the site on the other side of the world contradicts the sun."""
    path = weather_files.epw(
        tmp_path / "a.epw",
        offset=-7.0,
        longitude=-105.0,
        edit=lambda lines: [lines[0].replace("-105.0", "105.0"), *lines[1:]],
    )
    fault = fault_of(lambda: climate.typical_year(path, year=2025, timezone="America/Denver"))
    assert "agree with the sun" in fault.rule


@pytest.mark.parametrize(
    ("offset", "told"), [(1.0, None), (1.5, "30 minutes ahead"), (0.25, "45 minutes behind")]
)
def test_a_clock_that_is_off_is_set_right(offset, told, tmp_path, weather_files):
    """Rows on another clock than the header says are moved to the sun by what closes their radiation."""

    def wrong(lines):
        return [lines[0].replace(f",{offset},", ",1.0,"), *lines[1:]]

    path = weather_files.epw(tmp_path / "a.epw", offset=offset, edit=wrong)
    weather = climate.typical_year(path, year=2025, timezone="Europe/Rome")
    check_clock(weather, 2025)
    assert (told is None and not weather.doubts) or told in weather.doubts[0]
    assert np.abs(weather.ghi - 1000.0 * np.maximum(sun_height(weather), 0.0)).max() < 9.0
    assert (weather.as_read is None) == (told is None)


def test_missing_columns(tmp_path, weather_files):
    """A file without temperature is refused; without direct radiation it is what the others come to."""

    def without(ours, other):
        return lambda lines: [lines[0], lines[1], lines[2].replace(ours, other), *lines[3:]]

    path = weather_files.nsrdb(tmp_path / "a.csv", edit=without("DNI", "Clearsky DNI"))
    weather = climate.typical_year(path, year=2025, timezone="Europe/Rome")
    high = sun_height(weather) > 0.1
    assert weather.dni[high] == pytest.approx(800.0, rel=0.02)
    assert "direct radiation" in weather.doubts[0]
    path = weather_files.nsrdb(tmp_path / "b.csv", edit=without("Temperature", "Albedo"))
    fault = fault_of(lambda: climate.typical_year(path, year=2025, timezone="Europe/Rome"))
    assert "must have the column temp_air" in fault.rule


def test_hourly_series_that_cannot_serve(tmp_path, weather_files):
    """A tilted plane, or radiation in one lump, cannot be taken apart."""
    tilted = weather_files.pvgis_hourly(tmp_path / "a.csv", years=(2019,), slope=30)
    assert (
        "horizontal" in fault_of(lambda: climate.typical_year(tilted, year=2025, timezone="Europe/Rome")).rule
    )
    lump = weather_files.pvgis_hourly(tmp_path / "b.csv", years=(2019,), components=False)
    assert (
        "components" in fault_of(lambda: climate.typical_year(lump, year=2025, timezone="Europe/Rome")).rule
    )


def test_a_half_hour_clock_of_the_nsrdb(tmp_path, weather_files):
    """A file stamped in half hours from UTC is refused with the way out, not read half an hour off."""
    path = weather_files.nsrdb(tmp_path / "a.csv", offset=5.5, local_offset="5.5")
    fault = fault_of(lambda: climate.typical_year(path, year=2025, timezone="Asia/Kolkata"))
    assert "UTC" in fault.hint


def test_small_gaps_in_what_matters_little(tmp_path, weather_files):
    """Wind, dew point and pressure are filled and the reader is told."""

    def edit(lines):
        for column, code in ((21, "999"), (7, "99.9"), (9, "999999")):
            lines = replaced(100, column, code)(lines)
        return lines

    weather = climate.typical_year(
        weather_files.epw(tmp_path / "a.epw", edit=edit), year=2025, timezone="Europe/Rome"
    )
    assert weather.wind_speed[100] == pytest.approx(3.0)
    assert weather.dew_point[100] == pytest.approx(5.0)
    assert weather.pressure[100] == pytest.approx(climate.standard_pressure(250.0))
    assert len([note for note in weather.notes if "filled" in note]) == 3


def test_an_unknown_zone_is_refused(tmp_path, weather_files):
    """A zone that is no IANA name is an error of the caller."""
    path = weather_files.epw(tmp_path / "a.epw")
    with pytest.raises(ValueError, match="IANA"):
        climate.typical_year(path, year=2025, timezone="Rome")


def test_headers_of_all_formats(tmp_path, weather_files):
    """The site is known from the file alone."""
    made = [
        weather_files.epw(tmp_path / "a.epw"),
        weather_files.pvgis_tmy(tmp_path / "b.csv"),
        weather_files.pvgis_tmy(tmp_path / "c.json"),
        weather_files.pvgis_hourly(tmp_path / "d.csv", years=(2019,)),
        weather_files.nsrdb(tmp_path / "e.csv"),
    ]
    for path in made:
        site = climate.header(path)
        assert (site.latitude, site.longitude, site.elevation) == (45.0, 8.0, 250.0)
    # the files' own first lines
    miami = climate.header(climate.shipped_path("miami"))
    assert (miami.place, miami.utc_offset) == ("Miami, FL", -5.0)
    assert (miami.latitude, miami.longitude) == pytest.approx((25.8, -80.267), abs=1e-3)
    assert climate.header(climate.shipped_path("sand point")) == climate.Site(
        "Sand Point, AK", 55.317, -160.517, 7.0, -9.0
    )
