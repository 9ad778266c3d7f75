"""Raw tables of the weather-file formats, through pvlib's readers, with the sun in its place.

Every reader returns a `Raw`: instants at which the sun stands where the row's radiation came from, that is
the middle of an hourly mean or the instant of a satellite picture. pvlib's readers stamp differently, and the
shift of each is a constant here (found by comparing each with the sun; tests do it again):

========  ==========================================================  =================
format    pvlib's stamp                                               shift
========  ==========================================================  =================
.epw      start of the hour (the file itself stamps the end)          +30 min
TMY2      start of the hour                                           +30 min
TMY3      end of the hour                                             -30 min
PVGIS     UTC; typical years at the full hour, with the file's own    the file's offset
          "irradiance time offset" where it has one; hourly series    (else 0), hourly 0
          carry the minute of the picture
NSRDB     as stamped, the middle of the interval                      0
========  ==========================================================  =================

Missing-value codes of .epw become nan; TMY2's tenths become whole units. Nothing is checked here beyond the
shape of the file: ``reportkit.climate.typical`` does that.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Callable
from pathlib import Path

from reportkit.base.translatable import translatable
from reportkit.climate import pvgis
from reportkit.climate.raw import AGAIN, NAMES, FormatError, Raw, columns, shifted, span_of
from reportkit.climate.weather import Site

#: minutes from pvlib's stamp to the instant of the sun
SHIFT_MINUTES = {"epw": 30.0, "tmy2": 30.0, "tmy3": -30.0, "nsrdb": 0.0}

# .epw: values at or over these are the format's codes for "missing" (its data dictionary)
_EPW_MISSING = {
    "ghi": 9999.0,
    "dni": 9999.0,
    "dhi": 9999.0,
    "temp_air": 99.9,
    "temp_dew": 99.9,
    "atmospheric_pressure": 999999.0,
    "wind_speed": 999.0,
    "ghi_infrared": 9999.0,
    "opaque_sky_cover": 99.0,
}


def detect_kind(path: Path) -> str:
    """Return the format of a weather file, from its content before its name.

    Parameters
    ----------
    path : Path
        The file.

    Returns
    -------
    str
        A key of `NAMES`.

    Raises
    ------
    FormatError
        If it is none of them.
    """
    with path.open(encoding="utf-8", errors="replace") as file:
        start = file.read(6000)
    lines = [line.strip() for line in start.splitlines()] or [""]
    first, second = lines[0], lines[1] if len(lines) > 1 else ""
    suffix = path.suffix.lower()
    if first.upper().startswith("LOCATION,"):
        return "epw"
    if first.startswith("{"):
        return (
            "pvgis_tmy"
            if '"tmy_hourly"' in path.read_text(encoding="utf-8", errors="replace")
            else "pvgis_hourly"
        )
    if first.startswith("Latitude (decimal degrees)"):
        hourly = any(line.startswith("time,") for line in lines)
        return "pvgis_hourly" if hourly else "pvgis_tmy"
    if first.startswith("Source,Location ID"):
        return "nsrdb"
    if second.startswith("Date (MM/DD/YYYY)"):
        return "tmy3"
    if suffix == ".tm2" or (len(second) > 120 and second[:8].isdigit() and "," not in second):
        return "tmy2"
    raise FormatError(
        translatable("must be an hourly weather file: .epw, TMY2, TMY3, PVGIS or NSRDB"),
        found=first[:60],
        hint=translatable("give a file of one of these formats as it was downloaded"),
    )


def read_raw(path: Path, kind: str) -> Raw:
    """Read a weather file of a known format.

    Parameters
    ----------
    path : Path
        The file.
    kind : str
        A key of `NAMES`.

    Returns
    -------
    Raw

    Raises
    ------
    FormatError
        If the content is not of that format.
    """
    if kind not in READERS:
        raise FormatError(translatable("kind must be one of {names}", names=", ".join(READERS)), found=kind)
    try:
        return READERS[kind](path)
    except FormatError:
        raise
    # pvlib's parsers fail in many ways on a broken file, none of which says what is wrong with it
    except Exception as error:
        raise FormatError(
            translatable("cannot be read as {kind}", kind=NAMES[kind]),
            found=f"{type(error).__name__}: {error}"[:120],
            hint=AGAIN,
        ) from error


def read_first_line(path: Path, kind: str) -> Site:
    """Return the site of a weather file by its first line; ``kind`` is a key of `FIRST_LINES`."""
    with path.open(encoding="utf-8", errors="replace") as file:
        first = file.readline().strip()
    try:
        return FIRST_LINES[kind](first)
    except (ValueError, IndexError) as error:
        raise FormatError(
            translatable("the first line is not that of a {kind} file", kind=NAMES[kind]),
            found=first[:60],
            hint=AGAIN,
        ) from error


def _epw_site(line: str) -> Site:
    cells = [cell.strip() for cell in line.split(",")]
    place = ", ".join(cell for cell in cells[1:4] if cell and cell != "-")
    return Site(place, float(cells[6]), float(cells[7]), float(cells[9]), float(cells[8]))


def _tmy3_site(line: str) -> Site:
    cells = [cell.strip().strip('"') for cell in line.split(",")]
    place = f"{cells[1].title()}, {cells[2]}"
    return Site(place, float(cells[4]), float(cells[5]), float(cells[6]), float(cells[3]))


def _tmy2_site(line: str) -> Site:
    parts = line.split()
    # from the right: offset, N/S, degrees, minutes, E/W, degrees, minutes, elevation
    offset, north, lat_deg, lat_min, east, lon_deg, lon_min, height = parts[-8:]
    place = " ".join(parts[1:-9]).replace("_", " ").title() + f", {parts[-9]}"
    latitude = (float(lat_deg) + float(lat_min) / 60.0) * (1.0 if north == "N" else -1.0)
    longitude = (float(lon_deg) + float(lon_min) / 60.0) * (1.0 if east == "E" else -1.0)
    return Site(place, latitude, longitude, float(height), float(offset))


def _read_epw(path: Path) -> Raw:
    from pvlib.iotools import read_epw

    with path.open(encoding="utf-8", errors="replace") as file:
        first = file.readline().strip()
        file.seek(0)
        data, _ = read_epw(file)
    for name, code in _EPW_MISSING.items():
        data[name] = data[name].where(data[name] < code)
    table = columns(
        data,
        "epw",
        ghi="ghi",
        dni="dni",
        dhi="dhi",
        temp_air="temp_air",
        dew_point="temp_dew",
        wind_speed="wind_speed",
        pressure="atmospheric_pressure",
        longwave="ghi_infrared",
        cover=("opaque_sky_cover", 0.1),
    )
    return Raw(
        _epw_site(first),
        shifted(data.index, SHIFT_MINUTES["epw"]),
        table,
        span_of(data.index.year),
        first_line=9,
    )


def _read_tmy2(path: Path) -> Raw:
    from pvlib.iotools import read_tmy2

    with path.open(encoding="utf-8", errors="replace") as file:
        first = file.readline().strip()
    data, _ = read_tmy2(path)
    table = columns(
        data,
        "tmy2",
        ghi="GHI",
        dni="DNI",
        dhi="DHI",
        temp_air=("DryBulb", 0.1),
        dew_point=("DewPoint", 0.1),
        wind_speed=("Wspd", 0.1),
        pressure=("Pressure", 100.0),
        cover=("OpqCld", 0.1),
    )
    return Raw(
        _tmy2_site(first),
        shifted(data.index, SHIFT_MINUTES["tmy2"]),
        table,
        span_of(1900 + int(year) for year in data["year"]),
        first_line=2,
    )


def _read_tmy3(path: Path) -> Raw:
    from pvlib.iotools import read_tmy3

    with path.open(encoding="utf-8", errors="replace") as file:
        first = file.readline().strip()
    # coercing keeps 24:00 on 28 February of a leap year from becoming 29 February
    data, _ = read_tmy3(path, coerce_year=2001, map_variables=True, encoding="utf-8")
    table = columns(
        data,
        "tmy3",
        ghi="ghi",
        dni="dni",
        dhi="dhi",
        temp_air="temp_air",
        dew_point="temp_dew",
        wind_speed="wind_speed",
        pressure=("pressure", 100.0),
        cover=("OpqCld (tenths)", 0.1),
    )
    table = table.where(
        table > -900.0
    )  # a tenth of it too: -9900 is TMY3's code for missing (NREL/TP-581-43156)
    return Raw(
        _tmy3_site(first),
        shifted(data.index, SHIFT_MINUTES["tmy3"]),
        table,
        span_of(int(str(day)[-4:]) for day in data["Date (MM/DD/YYYY)"]),
        first_line=3,
    )


def _read_nsrdb(path: Path) -> Raw:
    from pvlib import iotools

    # pvlib renamed the reader with the product's fourth version; the format is the same
    reader = getattr(iotools, "read_nsrdb_psm4", None) or iotools.read_psm3
    text = path.read_text(encoding="utf-8", errors="replace")
    names, values, rest = text.split("\n", 2)
    cells = dict(zip(next(csv.reader([names])), next(csv.reader([values])), strict=False))
    site = _nsrdb_site(cells)
    if site.utc_offset % 1.0:
        raise FormatError(
            translatable("an NSRDB file must be stamped in UTC or in whole hours from it"),
            found=cells["Time Zone"],
            hint=translatable("download it again with UTC times"),
        )
    # pvlib takes whole hours only, also in the field that it does not use: what clocks on site say
    cells["Time Zone"] = str(int(site.utc_offset))
    cells["Local Time Zone"] = "0"
    line = io.StringIO()
    csv.writer(line, lineterminator="").writerow(cells.values())
    data, _ = reader(io.StringIO(f"{names.strip()}\n{line.getvalue()}\n{rest}"), map_variables=True)
    table = columns(
        data,
        "nsrdb",
        ghi="ghi",
        dni="dni",
        dhi="dhi",
        temp_air="temp_air",
        dew_point="temp_dew",
        wind_speed="wind_speed",
        pressure=("pressure", 100.0),
    )
    return Raw(
        site, shifted(data.index, SHIFT_MINUTES["nsrdb"]), table, span_of(data.index.year), first_line=4
    )


def _nsrdb_site(cells: dict[str, str]) -> Site:
    values = (cells.get(name, "").strip() for name in ("City", "State", "Country"))
    place = ", ".join(value for value in values if value and value not in ("-", "None"))
    latitude, longitude = float(cells["Latitude"]), float(cells["Longitude"])
    return Site(
        place or f"{latitude:.3f}, {longitude:.3f}",
        latitude,
        longitude,
        float(cells["Elevation"]),
        float(cells["Time Zone"]),
    )


READERS: dict[str, Callable[[Path], Raw]] = {
    "epw": _read_epw,
    "tmy2": _read_tmy2,
    "tmy3": _read_tmy3,
    "pvgis_tmy": pvgis.read_tmy,
    "pvgis_hourly": pvgis.read_hourly,
    "nsrdb": _read_nsrdb,
}

#: The formats whose first line tells the site, and what reads it.
FIRST_LINES: dict[str, Callable[[str], Site]] = {"epw": _epw_site, "tmy3": _tmy3_site, "tmy2": _tmy2_site}
