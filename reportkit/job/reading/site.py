"""Where the job is: latitude, longitude, height and clock, from the job, its weather file, or coarse maps.

The place is the job's own, else the weather file's; height and clock come offline from maps that ship
with libraries where they are not given. What was assumed is returned as such.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from pydantic import TypeAdapter, ValidationError

from reportkit.base.errors import InputError
from reportkit.base.translatable import Quantity, english, reason_of, translatable
from reportkit.climate import SHIPPED, civil_zone, distance, elevation, header, most_sun, shipped_site
from reportkit.job.model.quantities import DaySun
from reportkit.job.reading.defaults import Assumption
from reportkit.job.reading.files import Folders
from reportkit.job.reading.messages import did_you_mean
from reportkit.job.reading.rules import Rules

#: Further apart than this, the site and its weather file are not the same climate [km].
FARTHEST_WEATHER = 500.0


@dataclass(frozen=True)
class Whereabouts:
    """Where the job is: degrees north and east, height [m], IANA zone, and the weather file if any."""

    latitude: float
    longitude: float
    elevation_m: float
    clock: str
    weather_file: Path | None
    assumed: tuple[Assumption, ...]


def locate(rules: Rules, folders: Folders) -> Whereabouts | None:
    """Return where a job is; None where that cannot be told, with the faults added to ``rules``.

    Parameters
    ----------
    rules
        The rules of this job, which hold its raw tree and take the faults.
    folders
        The folders it may read.
    """
    site, weather = rules.group("site"), rules.group("weather")
    latitude, longitude = _number(site.get("latitude")), _number(site.get("longitude"))
    height = _number(site.get("elevation_m"))
    assumed: list[Assumption] = []
    before = len(rules.faults)
    file, head = _weather(rules, folders, weather)
    for name in ("latitude", "longitude"):
        other = "longitude" if name == "latitude" else "latitude"
        if site.get(name) is None and site.get(other) is not None:
            hint = translatable("give both, or neither when the weather file names its place")
            rules.fault(
                ("site", name), translatable("must be given when {other} is", other=other), None, hint
            )
    if len(rules.faults) > before:
        return None
    given = site.get("latitude") is not None
    if given and (latitude is None or longitude is None or abs(latitude) > 90 or abs(longitude) > 180):
        return None  # the fields' own checks say so
    if not given:
        if head is None:
            hint = translatable("give latitude: and longitude: in degrees, south and west negative")
            rules.fault(
                ("site", "latitude"),
                translatable("must be given where no weather file names the place"),
                None,
                hint,
            )
            return None
        latitude, longitude = head.latitude, head.longitude
        why = translatable("the site of the weather file, as the job gives none")
        assumed.append(
            Assumption(
                "site.latitude",
                translatable("{degrees:.3f}° north", degrees=latitude),
                english("weather file"),
                why,
            )
        )
        assumed.append(
            Assumption(
                "site.longitude",
                translatable("{degrees:.3f}° east", degrees=longitude),
                english("weather file"),
                why,
            )
        )
        if height is None and site.get("elevation_m") is None:
            height = float(head.elevation)
            assumed.append(Assumption("site.elevation_m", _height(height), english("weather file"), why))
    assert latitude is not None and longitude is not None  # both given, or both from the header
    if head is not None and given:
        apart = distance(latitude, longitude, head.latitude, head.longitude)
        if apart > FARTHEST_WEATHER:
            place = head.place or translatable("see its header")
            rule = translatable(
                "must lie within {km:.0f} km of the weather's place, {place}",
                km=FARTHEST_WEATHER,
                place=place,
            )
            hint = translatable(
                "check the signs: south and west are negative; else take weather from nearer by"
            )
            rules.fault(
                ("site", "latitude"),
                rule,
                translatable(
                    "{latitude:g}, {longitude:g}: {apart:.0f} km away",
                    latitude=latitude,
                    longitude=longitude,
                    apart=apart,
                ),
                hint,
            )
            return None
    if weather.get("use") == "normals":
        _sun_of_months(rules, latitude, weather.get("normals"))
    if height is None:
        height = elevation(latitude, longitude)
        mark = translatable("height map shipped with pvlib, 5 arc minutes")
        assumed.append(Assumption("site.elevation_m", _height(height), mark, english("height not given")))
    clock = site.get("clock")
    if not isinstance(clock, str):
        clock = civil_zone(latitude, longitude)
        assumed.append(
            Assumption(
                "site.clock",
                clock,
                english("time-zone map shipped with timezonefinder"),
                english("clock not given"),
            )
        )
    return Whereabouts(latitude, longitude, height, clock, file, tuple(assumed))


def _sun_of_months(rules: Rules, latitude: float, normals: Any) -> None:
    """Report months with more sun than comes in outside the air at their latitude."""
    table = normals.get("sun_kwh_m2_day") if isinstance(normals, dict) else None
    given = [_day_sun(value) for value in table] if isinstance(table, list) else []
    for month, (value, most) in enumerate(zip(given, most_sun(latitude), strict=False)):
        if value is not None and value > most:
            rule = translatable(
                "must be at most {most:.1f}, which is what a clear month can have at latitude {latitude:g}",
                most=most,
                latitude=latitude,
            )
            other = most_sun(-latitude)
            turned = all(each is None or each <= limit for each, limit in zip(given, other, strict=False))
            hint = translatable(
                "the months suit the other half of the earth: check the sign of the latitude, January first"
            )
            at = ("weather", "normals", "sun_kwh_m2_day", month)
            unit = translatable("the table's unit may be MJ: write 15.1 MJ/m2")
            rules.fault(at, rule, f"{value:g}", hint if turned else unit)


def _day_sun(text: Any) -> float | None:
    """Return a day's sun as typed [kWh/m2]; None where the field's own check says what is wrong."""
    try:
        return TypeAdapter(DaySun).validate_python(text)
    except ValidationError:
        return None


def _number(text: Any) -> float | None:
    try:
        value = float(str(text).replace(",", "."))
    except ValueError:
        return None
    return value if math.isfinite(value) else None


def _weather(rules: Rules, folders: Folders, weather: dict[str, Any]) -> tuple[Path | None, Any]:
    """Return the weather file inside the folder, if any, and the header of the chosen weather."""
    use, name, file = weather.get("use"), weather.get("name"), weather.get("file")
    if use == "shipped" and isinstance(name, str):
        if name.strip().lower() not in SHIPPED:
            hint = did_you_mean(name, list(SHIPPED), translatable("years that ship are"))
            rules.fault(
                ("weather", "name"), translatable("must be a year that ships with the program"), name, hint
            )
            return None, None
        return None, shipped_site(name)
    if use == "pvgis":
        return _kept_download(rules, folders)
    if use != "file" or not isinstance(file, str):
        return None, None
    path = folders.inside(file)
    if isinstance(path, str):
        rules.fault(
            ("weather", "file"),
            path,
            file,
            translatable("put the file into the job's folder and give its name"),
        )
        return None, None
    try:
        found = header(path)
    except (InputError, ValueError, OSError, KeyError) as error:
        first = error.faults[0] if isinstance(error, InputError) and error.faults else None
        reason = first.rule if first else reason_of(error)
        rules.fault(
            ("weather", "file"),
            translatable("must be a weather file that can be read: {reason}", reason=reason),
            file,
            first.hint if first else None,
        )
        return None, None
    folders.read.append(path)
    return path, found


def _kept_download(rules: Rules, folders: Folders) -> tuple[Path | None, Any]:
    """Return the file an earlier run fetched for these coordinates, if it is there."""
    site = rules.group("site")
    latitude, longitude = _number(site.get("latitude")), _number(site.get("longitude"))
    if latitude is None or longitude is None:
        return None, None
    for end in ("", "_flat"):
        path = folders.own / f"pvgis_{latitude:.3f}_{longitude:.3f}{end}.csv"
        if folders.refused(path) is None:
            try:
                found = header(path)
            except (InputError, ValueError, OSError, KeyError):
                hint = translatable("remove it: it is fetched again")
                rules.fault(
                    ("weather", "use"), translatable("must find a readable download"), path.name, hint
                )
                return None, None
            folders.read.append(path)
            return path, found
    return None, None


def _height(metres: float) -> str:
    return translatable("{height:.0f}", height=Quantity(metres, "m"))
