"""Weather files made for the tests: invented places under a sky that the sun alone decides.

In each hour the global radiation is 1000 W/m2 times the cosine of the zenith angle at the hour's middle (or
at the instant of a satellite picture), 20 % of it diffuse, so that a row put half an hour off shows at once.
"""

import json
from functools import lru_cache
from types import SimpleNamespace

import numpy as np
import pandas as pd
import pytest
from pvlib.solarposition import spa_python

LATITUDE, LONGITUDE, ELEVATION = 45.0, 8.0, 250.0


def truth(times, latitude=LATITUDE, longitude=LONGITUDE):
    """Return global, direct and diffuse irradiance at instants [W/m2]."""
    rise = np.cos(np.radians(spa_python(times, latitude, longitude)["zenith"].to_numpy()))
    ghi = 1000.0 * np.maximum(rise, 0.0)
    dni = np.where(rise > 0.0, 800.0, 0.0)
    return ghi, dni, 0.2 * ghi


def rows(years, offset_hours, minute):
    """Return a typical year's instants, each month from a year of its own, in a fixed offset."""
    parts = []
    for month in range(1, 13):
        year = years[(month - 1) % len(years)]
        hours = 24 * (28 if month == 2 else pd.Period(f"{year}-{month:02d}").days_in_month)
        parts.append(pd.date_range(f"{year}-{month:02d}-01 00:00", periods=hours, freq="h"))
    index = parts[0].append(parts[1:]) + pd.Timedelta(minutes=minute)
    return (index - pd.Timedelta(hours=offset_hours)).tz_localize("UTC")


def epw(path, *, offset=1.0, latitude=LATITUDE, longitude=LONGITUDE, edit=None):
    """Write an EPW: hours 1 to 24, each stamped at its end, on the file's own clock."""
    lines = list(_epw_lines(offset, latitude, longitude))
    if edit:
        lines = edit(lines)
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")
    return path


@lru_cache(maxsize=8)
def _epw_lines(offset, latitude, longitude):
    times = rows([2004, 2011, 1999], offset, 30.0)
    ghi, dni, dhi = truth(times, latitude, longitude)
    local = (times + pd.Timedelta(hours=offset)).tz_localize(None)
    lines = [
        f"LOCATION,Testville,XX,ITA,invented,000000,{latitude},{longitude},{offset},{ELEVATION}",
        "DESIGN CONDITIONS,0",
        "TYPICAL/EXTREME PERIODS,0",
        "GROUND TEMPERATURES,0",
        "HOLIDAYS/DAYLIGHT SAVINGS,No,0,0,0",
        "COMMENTS 1,invented",
        "COMMENTS 2,invented",
        "DATA PERIODS,1,1,Data,Sunday, 1/ 1,12/31",
    ]
    for k, when in enumerate(local):
        cells = [
            *(when.year, when.month, when.day, when.hour + 1, 0, "x", 10.0 + when.month, 5.0, 70, 98000),
            *(0, 0, 300, round(ghi[k], 3), round(dni[k], 3), round(dhi[k], 3), 0, 0, 0, 0),
            *(180, 3.0, 5, 5, 10.0, 9999, 9, 999999999, 10, 0.1, 0, 88, 0.2, 0.0, 1.0),
        ]
        lines.append(",".join(map(str, cells)))
    return tuple(lines)


def pvgis_tmy(path, *, offset=0.1761):
    """Write a PVGIS typical year, csv or json by the ending: UTC, the pictures an offset after the stamp."""
    path.write_bytes(_pvgis_tmy(path.suffix, offset))
    return path


@lru_cache(maxsize=8)
def _pvgis_tmy(suffix, offset):
    years = [2007, 2012, 2016]
    stamps = rows(years, 0.0, 0.0)
    ghi, dni, dhi = truth(stamps + pd.Timedelta(hours=offset or 0.0))
    named = [
        {
            "time(UTC)": f"{when:%Y%m%d:%H%M}",
            "T2m": 12.0,
            "RH": 60.0,
            "G(h)": round(ghi[k], 2),
            "Gb(n)": round(dni[k], 2),
            "Gd(h)": round(dhi[k], 2),
            "IR(h)": 300.0,
            "WS10m": 2.5,
            "WD10m": 90.0,
            "SP": 97000.0,
        }
        for k, when in enumerate(stamps)
    ]
    months = [{"month": month, "year": years[(month - 1) % 3]} for month in range(1, 13)]
    if suffix == ".json":
        location = {"latitude": LATITUDE, "longitude": LONGITUDE, "elevation": ELEVATION}
        if offset is not None:
            location["irradiance_time_offset"] = offset
        content = {
            "inputs": {"location": location, "meteo_data": {"radiation_db": "invented"}},
            "outputs": {"months_selected": months, "tmy_hourly": named},
            "meta": {"inputs": {}, "outputs": {}},
        }
        return json.dumps(content).encode()
    lines = [
        f"Latitude (decimal degrees): {LATITUDE}",
        f"Longitude (decimal degrees): {LONGITUDE}",
        f"Elevation (m): {ELEVATION}",
        *([f"Irradiance Time Offset (h): {offset}"] if offset is not None else []),
        "month,year",
        *(f"{entry['month']},{entry['year']}" for entry in months),
        ",".join(named[0]),
        *(",".join(map(str, entry.values())) for entry in named),
        "",
        "T2m: 2-m air temperature (degree Celsius)",
    ]
    return ("\r\n".join(lines) + "\r\n").encode()


def pvgis_hourly(path, *, years=(2019, 2020), slope=0, components=True):
    """Write a PVGIS hourly series on a plane, csv or json: UTC, the minute of the picture in the stamp."""
    named = _pvgis_hours(years, components)
    if path.suffix == ".json":
        content = {
            "inputs": {
                "location": {"latitude": LATITUDE, "longitude": LONGITUDE, "elevation": ELEVATION},
                "mounting_system": {"fixed": {"slope": {"value": slope}, "azimuth": {"value": 0}}},
            },
            "outputs": {"hourly": named},
            "meta": {"inputs": {}, "outputs": {}},
        }
        path.write_text(json.dumps(content), encoding="utf-8")
        return path
    lines = [
        f"Latitude (decimal degrees):\t{LATITUDE}",
        f"Longitude (decimal degrees):\t{LONGITUDE}",
        f"Elevation (m):\t{ELEVATION}",
        "Radiation database:\tinvented",
        "",
        f"Slope: {slope} deg. ",
        "Azimuth: 0 deg. ",
        ",".join(named[0]),
        *(",".join(map(str, entry.values())) for entry in named),
        "",
        "T2m: 2-m air temperature (degree Celsius)",
    ]
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")
    return path


@lru_cache(maxsize=4)
def _pvgis_hours(years, components):
    stamps = pd.date_range(f"{years[0]}-01-01 00:10", f"{years[-1]}-12-31 23:10", freq="h", tz="UTC")
    height = np.maximum(90.0 - spa_python(stamps, LATITUDE, LONGITUDE)["zenith"].to_numpy(), 0.0)
    ghi, _, dhi = truth(stamps)
    dim = np.where(stamps.year == years[0], 0.9, 1.0)  # the first year is darker
    beam, diffuse = (ghi - dhi) * dim, dhi * dim
    named = []
    for k, when in enumerate(stamps):
        parts = {"Gb(i)": beam[k], "Gd(i)": diffuse[k], "Gr(i)": 0.0}
        entry = {"time": f"{when:%Y%m%d:%H%M}"}
        entry |= {name: round(value, 3) for name, value in parts.items()} if components else {"G(i)": ghi[k]}
        entry |= {
            "H_sun": round(height[k], 3),
            "T2m": 12.0,
            "WS10m": 2.5,
            "Int": 0.0,
        }
        named.append(entry)
    return tuple(named)


def nsrdb(path, *, offset=1, local_offset="1", edit=None):
    """Write an NSRDB file: rows stamped in the middle of the hour, on the clock of its header."""
    lines = list(_nsrdb_lines(offset, local_offset))
    if edit:
        lines = edit(lines)
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")
    return path


@lru_cache(maxsize=8)
def _nsrdb_lines(offset, local_offset):
    times = rows([2010, 2015], offset, 30.0)
    ghi, dni, dhi = truth(times)
    local = (times + pd.Timedelta(hours=offset)).tz_localize(None)
    lines = [
        "Source,Location ID,City,State,Country,Latitude,Longitude,Time Zone,Elevation,"
        "Local Time Zone,Version",
        f'NSRDB,1,"-",-,Testland,{LATITUDE},{LONGITUDE},{offset},{int(ELEVATION)},{local_offset},x',
        "Year,Month,Day,Hour,Minute,GHI,DNI,DHI,Temperature,Dew Point,Wind Speed,Pressure,"
        "Cloud Type,Fill Flag",
    ]
    for k, when in enumerate(local):
        cells = [when.year, when.month, when.day, when.hour, when.minute]
        cells += [round(ghi[k], 3), round(dni[k], 3), round(dhi[k], 3), 11.0, 4.0, 2.0, 985.0, 0, 0]
        lines.append(",".join(map(str, cells)))
    return tuple(lines)


@pytest.fixture(scope="session")
def weather_files():
    """Return the writers of made weather files."""
    return SimpleNamespace(epw=epw, pvgis_tmy=pvgis_tmy, pvgis_hourly=pvgis_hourly, nsrdb=nsrdb)
