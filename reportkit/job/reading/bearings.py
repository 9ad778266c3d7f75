"""The way a face looks, where nobody had it in degrees: from a map, from the sun, from a compass.

A bearing is put beside what it was found from before the job is checked, so that everything behind knows a
bearing alone. What is known too roughly to be worth the name, within `WORST` or `WORST_STREET` degrees, is
refused; points of a street that leave a degree of doubt or more are taken, and the doubt is told.
"""

from __future__ import annotations

import datetime as dt
import itertools
import math
import zoneinfo
from typing import Any

from pydantic import ValidationError

from reportkit.base.translatable import translatable
from reportkit.job.model.site import Compass, Grazing, Street
from reportkit.job.reading.defaults import Assumption
from reportkit.job.reading.messages import Loc
from reportkit.job.reading.rules import Rules
from reportkit.job.reading.site import Whereabouts
from reportkit.job.reading.world import is_clock

#: A bearing that may be further off is not taken [deg] (common practice, no source).
WORST = 5.0
#: The same of a street's points, whose decimals alone tell how exactly they are known [deg].
WORST_STREET = 15.0
#: From here on the doubt of a bearing is told [deg].
TOLD_FROM = 1.0
#: Over this nobody is told by how many minutes the sun may come at another time [min].
LONG = 120.0
#: How far a watch and an eye are off when the sun is seen to come or go [min] (common practice, no source).
WATCHED_WITHIN = 5.0
#: Points of a street this far from the site are those of another place [km].
FARTHEST_STREET = 20.0
#: Where the earth's field is weaker along the ground, a compass cannot be trusted [nT]: the model's own
#: caution zone (World Magnetic Model 2025 technical report, from memory).
WEAKEST = 6000.0
#: The years that models of the earth's field cover.
MODELLED = (2010.0, 2030.0)
#: The earth's ellipsoid: half axis [m] and squared eccentricity (WGS 84).
_HALF_AXIS, _ECCENTRICITY2 = 6378137.0, 6.69437999014e-3


#: Where each kind of bearing comes from, as the list of assumptions marks it.
_MARKS = {
    "street": translatable("a map"),
    "grazing": translatable("the sun's position"),
    "compass": translatable("World Magnetic Model"),
}


class Rough(Exception):
    """A bearing that cannot be told; the rule, the field below, what was found, and how to mend it."""

    def __init__(self, at: str, rule: str, found: str | None, hint: str) -> None:
        super().__init__(rule)
        self.at, self.rule, self.found, self.hint = at, rule, found, hint


def course(points: tuple[tuple[float, float], ...]) -> tuple[float, float]:
    """Return the bearing from a first point to a second, and how far apart they are.

    By the ellipsoid's radii of curvature at the middle latitude: good to .01° over tens of kilometres.

    Parameters
    ----------
    points
        Two pairs of degrees north and east [deg].

    Returns
    -------
    tuple of float
        Bearing clockwise from true north [deg], at the middle of the way, and distance [m].
    """
    (north, east), (north_2, east_2) = points
    middle = math.radians((north + north_2) / 2)
    flat = 1 - _ECCENTRICITY2 * math.sin(middle) ** 2
    along = math.radians(north_2 - north) * _HALF_AXIS * (1 - _ECCENTRICITY2) / flat**1.5
    turn = (east_2 - east + 180) % 360 - 180
    across = math.radians(turn) * math.cos(middle) * _HALF_AXIS / math.sqrt(flat)
    return math.degrees(math.atan2(across, along)) % 360, math.hypot(along, across)


def of_street(street: Street, typed: list[str], where: Whereabouts) -> tuple[float, float]:
    """Return the bearing of a face that looks to one side of a street, and how far it may be off [deg].

    Parameters
    ----------
    street
        Its two points and the side.
    typed
        The four numbers as typed: their decimals tell how exactly the points are known.
    where
        Where the job is.

    Raises
    ------
    Rough
        If the points are another place, or too close for their decimals.
    """
    bearing, apart = course(street.points)
    away = max(course(((where.latitude, where.longitude), point))[1] for point in street.points) / 1000
    if away > FARTHEST_STREET:
        hint = translatable("each point is north, then east; south and west are negative")
        raise Rough(
            "points",
            translatable("must lie within {km:.0f} km of the site", km=FARTHEST_STREET),
            translatable("{away:.0f} km", away=away),
            hint,
        )
    digits = min(len(text.replace(",", ".").partition(".")[2]) for text in typed)
    # either point may be half a unit of the last digit off, a degree being 111 km
    off = math.degrees(math.atan2(111_000 * math.sqrt(2) * 10.0**-digits, apart))
    if off > WORST_STREET:
        hint = translatable("give more decimals, or points further apart along the same straight street")
        raise Rough(
            "points",
            translatable("must tell the street within {degrees:g} degrees", degrees=WORST_STREET),
            translatable("{off:.0f} degrees", off=off),
            hint,
        )
    return (bearing + (90 if street.side == "right" else -90)) % 360, off


def minutes_off(off: float, where: Whereabouts) -> float:
    """Return by how much times of sun on a face may be wrong where its bearing is [min].

    By the slowest that the azimuth of the sun turns there by day, on the solstices and an equinox, in half
    hours; infinite where it stands still, or is never up.

    Parameters
    ----------
    off
        How far the bearing may be off [deg].
    where
        Where the job is.
    """
    step = dt.timedelta(minutes=30)
    slowest = math.inf
    for month in (3, 6, 12):
        start = dt.datetime(2026, month, 21, tzinfo=dt.UTC)
        azimuths, heights = sun_at([start + step * number for number in range(49)], where)
        for number, (one, other) in enumerate(itertools.pairwise(azimuths)):
            if heights[number] > 0 and heights[number + 1] > 0:
                slowest = min(slowest, abs((other - one + 180) % 360 - 180))
    return 30 * off / slowest if 0 < slowest < math.inf else math.inf


def of_grazing(grazing: Grazing, where: Whereabouts) -> float:
    """Return the bearing of an upright face along which the sun lay [deg].

    The sun's azimuth then is a right angle away from the face's. Which way, the sun's turning tells: it comes
    on a face in front of which it turns. Positions: NREL's solar position algorithm, in pvlib.

    Raises
    ------
    Rough
        If the sun was down, or turned too fast for a watch.
    """
    clock = zoneinfo.ZoneInfo(where.clock)
    hour, minute = (int(part) for part in grazing.time.split(":"))
    moment = dt.datetime.combine(grazing.date, dt.time(hour, minute), tzinfo=clock)
    step = dt.timedelta(minutes=WATCHED_WITHIN)
    azimuths, heights = sun_at([moment - step, moment, moment + step], where)
    if heights[1] < 0:
        hint = translatable("check the day and the clock")
        raise Rough("time", translatable("must be a time at which the sun is up"), grazing.time, hint)
    before, after = (((azimuths[n] - azimuths[1] + 180) % 360 - 180) for n in (0, 2))
    off = max(abs(before), abs(after))
    if off > WORST:
        rule = translatable(
            "must be a time at which the sun's bearing turns less than {degrees:g} degrees in five minutes",
            degrees=WORST,
        )
        raise Rough(
            "time",
            rule,
            translatable("{off:.0f} degrees", off=off),
            translatable("watch on a day, or a face, with a lower sun"),
        )
    ahead = 90 if after > before else -90
    return (azimuths[1] + (ahead if grazing.sun == "comes" else -ahead)) % 360


def sun_at(moments: list[dt.datetime], where: Whereabouts) -> tuple[list[float], list[float]]:
    """Return the sun's azimuths clockwise from true north and its apparent heights [deg]."""
    import pandas as pd
    from pvlib.solarposition import spa_python

    times = pd.DatetimeIndex([moment.astimezone(dt.UTC) for moment in moments])
    sun = spa_python(times, where.latitude, where.longitude, altitude=where.elevation_m)
    return list(sun["azimuth"]), list(sun["apparent_elevation"])


def of_compass(compass: Compass, day: dt.date, where: Whereabouts) -> float:
    """Return the true bearing of a compass's reading [deg]: declination east is added.

    Raises
    ------
    Rough
        If no model covers the year, or the place is too near a magnetic pole.
    """
    year = day.year + (day.timetuple().tm_yday - 1) / (366 if day.year % 4 == 0 else 365)
    if not MODELLED[0] <= year < MODELLED[1]:
        first, last = MODELLED
        rule = translatable(
            "must lie between {first:.0f} and {last:.0f}: models of the earth's field cover these years",
            first=first,
            last=last,
        )
        raise Rough("date", rule, str(day), translatable("take the bearing from a map: street:"))
    declination, strength = field_at(where.latitude, where.longitude, where.elevation_m / 1000, year)
    if strength < WEAKEST:
        rule = translatable("must be read where a compass can be trusted, further from the magnetic poles")
        raise Rough(
            "reading", rule, f"{compass.reading:g}", translatable("take the bearing from a map: street:")
        )
    return (compass.reading + declination) % 360


def field_at(latitude: float, longitude: float, height_km: float, year: float) -> tuple[float, float]:
    """Return the earth's field at a place: declination, east positive [deg], and horizontal strength [nT].

    The World Magnetic Model in force in that year, evaluated by pygeomag.
    """
    from pygeomag import GeoMag

    field = GeoMag(base_year=year).calculate(glat=latitude, glon=longitude, alt=height_km, time=year)
    return float(field.d), float(field.h)


def lay_out(rules: Rules, where: Whereabouts | None) -> tuple[Assumption, ...]:
    """Put bearings into the raw faces that tell them in another way, and report what cannot be told.

    Parameters
    ----------
    rules
        The rules of this job, which hold its raw tree and take the faults.
    where
        Where the job is; None where that cannot be told, which has its own fault.
    """
    notes: list[Assumption] = []
    for index, face in rules.records("faces"):
        ways = [name for name in ("street", "grazing", "compass") if isinstance(face.get(name), dict)]
        given = [name for name in ("bearing", *ways) if face.get(name) is not None]
        if ways and len(given) > 1:
            hint = translatable("keep the one you trust, take the others out")
            rule = translatable("must be told in one way, not also by {other}", other=given[1])
            rules.fault(("faces", index, given[0]), rule, None, hint)
        elif ways and where is not None:
            notes += _found(rules, face, ("faces", index), ways[0], where)
    return tuple(notes)


def _found(rules: Rules, face: dict[str, Any], at: Loc, way: str, where: Whereabouts) -> list[Assumption]:
    """Put one face's bearing beside what tells it; return the note on it, none where it cannot be told."""
    raw, off = face[way], 0.0
    try:
        if way == "street":
            street = Street.model_validate(raw)
            typed = [str(number) for point in raw["points"] for number in point]
            bearing, off = of_street(street, typed, where)
            why = _by_points(off, where)
        elif way == "grazing":
            upright = str(face.get("tilt") or "90").strip() in ("90", "90.0")
            if not upright:
                rule = translatable("must be left out for a face that is not upright")
                rules.fault(
                    (*at, way),
                    rule,
                    f"tilt {face['tilt']}",
                    translatable("take the bearing from a map: street:"),
                )
                return []
            grazing = Grazing.model_validate(raw)
            if not is_clock(where.clock):
                return []  # the rule about clocks says so
            bearing = of_grazing(grazing, where)
            when = f"{grazing.date} {grazing.time}"
            why = translatable("by the sun, which lay along the wall at {moment}", moment=when)
        else:
            compass = Compass.model_validate(raw)
            day = compass.date or _day(rules)
            if day is None:
                return []  # a job without any day has a fault of its own
            bearing = of_compass(compass, day, where)
            east = (bearing - compass.reading + 180) % 360 - 180
            why = translatable("by compass; its declination there and then is {degrees:+.1f}°", degrees=east)
    except ValidationError:
        return []  # the fields' own checks say so
    except Rough as rough:
        rules.fault((*at, way, rough.at), rough.rule, rough.found, rough.hint)
        return []
    face["bearing"] = f"{bearing % 360:.1f}".replace("360.0", "0.0")
    rules.positions.known[*at, "bearing"] = rules.positions.find((*at, way))
    mark = _MARKS[way]
    degrees = float(face["bearing"])
    value = (
        translatable("{degrees:.1f}°", degrees=degrees)
        if off < TOLD_FROM
        else translatable("{degrees:.0f}° ± {off:.0f}°", degrees=degrees, off=off)
    )
    return [Assumption(f"faces.{face.get('id')}.bearing", value, mark, why)]


def _by_points(off: float, where: Whereabouts) -> str:
    """Return how a street's points tell a bearing, and what a doubt of degrees does to the sun's times."""
    if off < TOLD_FROM:
        return translatable("by two points of a map along the wall")
    minutes = minutes_off(off, where)
    if minutes > LONG:
        return translatable(
            "by two points of a map along the wall; the sun may come and go two hours or more before or "
            "after the times told"
        )
    return translatable(
        "by two points of a map along the wall; the sun may come and go up to {minutes} minutes before or "
        "after the times told",
        minutes=5 * math.ceil(minutes / 5),
    )


def _day(rules: Rules) -> dt.date | None:
    """Return the day a compass was read where it does not say: that of the survey, else of the job."""
    days = (("survey", "measured_on"), ("quote", "date"), ("fitting", "date"), ("prices", "dated"))
    for group, name in days:
        text = rules.group(group).get(name)
        try:
            return dt.date.fromisoformat(str(text))
        except ValueError:
            continue
    return None
