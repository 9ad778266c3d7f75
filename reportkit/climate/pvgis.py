"""Files of PVGIS, the European Commission's solar service: typical years and hourly series, csv or json.

Times are UTC. A typical year is stamped at the full hour while its satellite pictures were taken some minutes
later: the header's "irradiance time offset". An hourly series has the minute of the picture in its stamps. It
must be for a horizontal plane, in components: the beam is then found from the sun's height in the file.
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np

from reportkit.base.translatable import translatable
from reportkit.climate.raw import FormatError, Raw, columns, shifted, span_of
from reportkit.climate.weather import Site

if TYPE_CHECKING:
    import pandas as pd


def _pvgis_site(inputs: dict[str, Any]) -> Site:
    place = inputs.get("location", inputs)
    latitude, longitude = float(place["latitude"]), float(place["longitude"])
    return Site(f"{latitude:.3f}, {longitude:.3f}", latitude, longitude, float(place["elevation"]), 0.0)


def _dew_point(temp_air: Any, relative_humidity: Any) -> Any:
    """Return the dew point [C]: Magnus's formula, constants of Alduchov & Eskridge 1996 (from memory)."""
    log = np.log(np.maximum(relative_humidity, 0.1) / 100.0) + 17.625 * temp_air / (243.04 + temp_air)
    return 243.04 * log / (17.625 - log)


def read_tmy(path: Path) -> Raw:
    """Read a typical year; `FormatError` if it lacks columns."""
    from pvlib.iotools import read_pvgis_tmy

    text = path.read_text(encoding="utf-8", errors="replace")
    kind = "json" if text.lstrip().startswith("{") else "csv"
    data, meta = read_pvgis_tmy(path, pvgis_format=kind)
    if "temp_air" in data and "relative_humidity" in data:
        data["dew_point"] = _dew_point(
            data["temp_air"].astype(float), data["relative_humidity"].astype(float)
        )
    table = columns(
        data,
        "pvgis_tmy",
        ghi="ghi",
        dni="dni",
        dhi="dhi",
        temp_air="temp_air",
        dew_point="dew_point",
        wind_speed="wind_speed",
        pressure="pressure",
        longwave="IR(h)",
    )
    inputs = meta["inputs"]
    offset = _time_offset(inputs)
    notes = []
    if offset is None:
        notes.append(
            translatable("the file states no time offset of its satellite pictures: the full hour is assumed")
        )
    return Raw(
        _pvgis_site(inputs),
        shifted(data.index, 60.0 * (offset or 0.0)),
        table,
        span_of(int(entry["year"]) for entry in meta["months_selected"]),
        tuple(notes),
        first_line=_first_line(text),
    )


def _first_line(text: str) -> int:
    """Return the line of the first hour in a csv, below the one that names the columns; 0 for json."""
    heads = [number for number, line in enumerate(text.splitlines(), 1) if line.startswith("time(UTC)")]
    return heads[0] + 1 if heads else 0


def _time_offset(inputs: dict[str, Any]) -> float | None:
    """Return PVGIS's offset from the stamp to the picture [h], from the csv or the json header."""
    groups = (inputs, inputs.get("location", {}), inputs.get("meteo_data", {}))
    for place in groups:
        for name, value in place.items():
            if str(name).lower().replace("_", " ").startswith("irradiance time offset"):
                return float(value)
    return None


def read_hourly(path: Path) -> Raw:
    """Read an hourly series; `FormatError` if its plane is tilted or its radiation in one lump."""
    import pandas as pd
    from pvlib.iotools import read_pvgis_hourly

    text = path.read_text(encoding="utf-8", errors="replace")
    kind = "json" if text.lstrip().startswith("{") else "csv"
    data, meta = read_pvgis_hourly(path, pvgis_format=kind)
    inputs = meta["inputs"]
    if any(name not in data.columns for name in ("poa_direct", "poa_sky_diffuse", "solar_elevation")):
        raise FormatError(
            translatable("a PVGIS hourly series must have its radiation in components"),
            found=", ".join(map(str, data.columns))[:120],
            hint=translatable(
                "download it again with the components of radiation, or download a typical year"
            ),
        )
    if not _is_level(inputs):
        raise FormatError(
            translatable("a PVGIS hourly series must be for a horizontal plane"),
            hint=translatable("download it again with slope 0, or download a typical year"),
        )
    direct = data["poa_direct"].to_numpy(dtype=float)
    rise = np.sin(np.radians(data["solar_elevation"].to_numpy(dtype=float)))
    # at 2 degrees and less the quotient says little: what is left there counts as diffuse
    usable = rise > np.sin(np.radians(2.0))
    diffuse = data["poa_sky_diffuse"].to_numpy(dtype=float)
    data = data.assign(
        ghi=direct + diffuse,
        dni=np.where(usable, direct / np.where(usable, rise, 1.0), 0.0),
        dhi=np.where(usable, diffuse, diffuse + direct),
    )
    data, notes = _median_year(data)
    table = columns(
        data, "pvgis_hourly", ghi="ghi", dni="dni", dhi="dhi", temp_air="temp_air", wind_speed="wind_speed"
    )
    table["dew_point"] = np.nan
    table["pressure"] = np.nan
    return Raw(_pvgis_site(inputs), pd.DatetimeIndex(data.index), table, span_of(data.index.year), notes)


def _is_level(inputs: dict[str, Any]) -> bool:
    """Tell whether a PVGIS hourly series was asked for on a horizontal plane."""
    slope = inputs.get("mounting_system", {}).get("fixed", {}).get("slope", {}).get("value")
    if slope is None:
        slope = next((value for name, value in inputs.items() if name.lower().startswith("slope")), "0")
    return abs(float(str(slope).split()[0].rstrip("°"))) < 0.01


def _median_year(data: pd.DataFrame) -> tuple[pd.DataFrame, tuple[str, ...]]:
    """Return the whole year whose radiation is nearest to the mean of all."""
    index: Any = data.index
    sums = {year: data["ghi"][index.year == year].sum() for year in sorted(set(index.year))}
    whole = {year: total for year, total in sums.items() if (index.year == year).sum() >= 8760}
    if len(whole) <= 1:
        return data, ()
    mean = sum(whole.values()) / len(whole)
    best = min(whole, key=lambda year: (abs(whole[year] - mean), year))
    note = translatable(
        "one measured year, {year}: of the {count} in the file the nearest to their mean radiation; "
        "it is not a typical year",
        year=best,
        count=len(whole),
    )
    return data[index.year == best], (note,)
