"""Typical years: a weather file brought to one calendar year on the site's own clock, or its faults.

A typical year is 8760 hours picked month by month from different years. It is brought to one year (29
February is left out), starts at the civil midnight of 1 January, and carries the civil zone,
so that daylight saving moves the clock and not the sun. Sub-hourly files are not taken.
"""

from __future__ import annotations

import datetime
from dataclasses import replace
from typing import TYPE_CHECKING, Any
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

import numpy as np

from reportkit.base.translatable import english, translatable
from reportkit.climate.closure import RADIATION, sun
from reportkit.climate.longwave import sky_radiation
from reportkit.climate.mend import mended
from reportkit.climate.moments import day_told, moment_told
from reportkit.climate.plausible import HIGHEST, RANGES, limits
from reportkit.climate.raw import AGAIN, Raw
from reportkit.climate.weather import Site, Weather, standard_pressure

if TYPE_CHECKING:
    import pandas as pd

_COMMON_YEAR = 2001  # any year without 29 February, for moving rows between clocks
_NEEDED = {
    "ghi": translatable("global radiation"),
    "dni": translatable("direct radiation"),
    "dhi": translatable("diffuse radiation"),
    "temp_air": translatable("temperature"),
}


def misplaced(site: Site) -> tuple[str, str, str] | None:
    """Return the rule a file's site breaks, what was found and how to mend it."""
    if -90 <= site.latitude <= 90 and -180 <= site.longitude <= 180 and -430 <= site.elevation <= 6000:
        return None
    found = translatable(
        "{latitude:g}, {longitude:g}, {elevation:g} m",
        latitude=site.latitude,
        longitude=site.longitude,
        elevation=site.elevation,
    )
    rule = translatable(
        "its header must name a latitude to 90, a longitude to 180 degrees and a height from -430 to 6000 m"
    )
    return rule, found, AGAIN


def from_raw(
    raw: Raw, *, name: str, year: int, timezone: str
) -> tuple[Weather | None, list[tuple[Any, ...]]]:
    """Return the weather, or None and what is wrong (rule, found, mend, perhaps the line) with the rows."""
    faults: list[tuple[Any, ...]] = []
    wrong = misplaced(raw.site)
    if wrong:
        return None, [wrong]
    untimed = np.flatnonzero(raw.times.isna())
    if untimed.size:
        row = raw.first_line + int(untimed[0]) if raw.first_line else 0
        missing = translatable("{count} rows have none", count=untimed.size)
        return None, [(translatable("each row must have a time"), missing, AGAIN, row)]
    as_read, (raw, doubts, changed) = raw, mended(raw)
    leap_day = (raw.times.month == 2) & (raw.times.day == 29)
    keep = ~leap_day
    count = int(keep.sum())
    if count != 8760:
        rows = translatable("{count} rows", count=count)
        if leap_day.any():
            rows = translatable("{count} rows beside 29 February", count=count)
        hint = translatable("give one whole year of hourly rows")
        return None, [(translatable("must have 8760 hourly rows"), rows, hint)]
    index, order = on_one_year(raw.times[keep], year=year, timezone=timezone)
    series = {
        column: raw.table[column].to_numpy(dtype=float)[keep][order]
        for column in ("ghi", "dni", "dhi", "temp_air", "wind_speed", "pressure", "dew_point")
    }
    steps = np.diff(index.as_unit("s").asi8) / 3600.0
    uneven = steps != 1.0
    if year_has_leap_day(year):
        uneven &= steps != 25.0  # 29 February is left out
    if uneven.any():
        at = index[:-1][uneven][0]
        faults.append(
            (
                translatable("the rows must be one hour apart"),
                translatable(
                    "{hours:g} hours after {moment}", hours=steps[uneven][0], moment=moment_told(at)
                ),
                AGAIN,
            )
        )

    def line(at: Any) -> int:
        return raw.first_line + int(np.flatnonzero(keep)[order][at]) if raw.first_line else 0

    for column, text in _NEEDED.items():
        gaps = int((~np.isfinite(series[column])).sum())
        if gaps:
            away = index[~np.isfinite(series[column])]
            found = translatable(
                "{hours} hours missing, {first} to {last}",
                hours=gaps,
                first=day_told(away[0]),
                last=day_told(away[-1]),
            )
            faults.append(
                (
                    translatable("{what} must have no gaps", what=text),
                    found,
                    AGAIN,
                    line(np.argmin(np.isfinite(series[column]))),
                )
            )
        elif column != "temp_air" and (series[column].max() > HIGHEST or series[column].min() < -20.0):
            at = np.argmax(np.abs(series[column]))
            rule = translatable("{what} must be from 0 to {highest:g} W/m2", what=text, highest=HIGHEST)
            faults.append((rule, translatable("{value:g}", value=series[column][at]), AGAIN, line(at)))
    for column, (text, low, high, unit) in RANGES.items():
        told_for = english("{what} must be from {low:.0f} to {high:.0f} {unit}")
        lows, highs = np.full(len(index), low), np.full(len(index), high)
        if column == "temp_air" and not ((series[column] < low) | (series[column] > high)).any():
            lows, highs = limits(raw.site.latitude, raw.site.elevation, index.month.to_numpy())
            told_for = english(
                "{what} must be from {low:.0f} to {high:.0f} {unit} at latitude {latitude:.0f} in this month"
            )
        out = np.flatnonzero((series[column] < lows) | (series[column] > highs))
        if out.size:
            at = out[0]
            hours = translatable(
                "{value:g} {unit}, {moment}; {count} hours",
                value=series[column][at],
                unit=unit,
                moment=moment_told(index[at]),
                count=out.size,
            )
            latitude = raw.site.latitude
            rule = translatable(
                told_for, what=text, low=lows[at], high=highs[at], unit=unit, latitude=latitude
            )
            faults.append((rule, hours, AGAIN, line(at)))
    if not faults and not series["ghi"].max() > 0.0:
        faults.append((translatable("global radiation must not be 0 all year"), None, AGAIN))
    site = raw.site
    if faults:
        return None, faults
    for column in ("ghi", "dni", "dhi"):
        series[column] = np.maximum(series[column], 0.0)
    share = dark_share(sun(index, site).at(0.0), series["ghi"])
    if share > 0.01:
        faults.append(
            (
                translatable("the file's clock must agree with the sun at its latitude and longitude"),
                translatable(
                    "{percent:.0f} % of the radiation falls while the sun is down", percent=100 * share
                ),
                translatable("check the offset from UTC, the latitude and the longitude in its header"),
            )
        )
        return None, faults
    notes = list(raw.notes)
    notes += _fill(series, site)
    nothing = np.full(len(raw.table), np.nan)
    from_sky, cover = (
        np.asarray(raw.table.get(column, nothing), dtype=float)[keep][order]
        for column in ("longwave", "cover")
    )
    longwave, said = sky_radiation(from_sky, series["temp_air"], series["dew_point"], cover)
    notes.append(said)
    made = Weather(
        kind="typical_year",
        source=translatable("{place}: {kind} file", place=site.place, kind=name),
        place=site.place,
        latitude=site.latitude,
        longitude=site.longitude,
        elevation=site.elevation,
        times=index,
        step_hours=1.0,
        span=translatable(
            english("a typical year, its months from {years}")
            if name.find("hourly") < 0
            else english("the year {years}"),
            years=raw.years,
        ),
        notes=tuple(notes),
        doubts=doubts,
        longwave=longwave,
        **series,
    )
    if changed:
        index, order = on_one_year(as_read.times[keep], year=year, timezone=timezone)
        radiation = {
            column: np.maximum(np.nan_to_num(as_read.table[column].to_numpy(dtype=float)[keep][order]), 0.0)
            for column in RADIATION
        }
        made = replace(made, as_read=replace(made, times=index, **radiation))
    return made, []


def year_has_leap_day(year: int) -> bool:
    """Tell whether a calendar year has a 29 February."""
    return (year % 4 == 0 and year % 100 != 0) or year % 400 == 0


def zone(timezone: str) -> ZoneInfo:
    """Return an IANA zone or raise ValueError."""
    try:
        return ZoneInfo(timezone)
    except (ZoneInfoNotFoundError, ValueError, OSError) as error:
        raise ValueError(f"timezone must be an IANA name such as Europe/London, not {timezone!r}") from error


def new_year_offset(timezone: str, year: int) -> datetime.timedelta:
    """Return a zone's offset from UTC at the start of a year, summer time included where it is summer."""
    return datetime.datetime(year, 1, 1, 12, tzinfo=zone(timezone)).utcoffset() or datetime.timedelta(0)


def on_one_year(times: pd.DatetimeIndex, *, year: int, timezone: str) -> tuple[pd.DatetimeIndex, Any]:
    """Bring instants of mixed years to one, from the zone's midnight of 1 January.

    Returns the sorted aware index in the civil zone and the order of the rows. Within a row only the year
    changes; rows that another clock puts past the year's end move to its beginning.
    """
    import pandas as pd

    own = _with_year(times.tz_localize(None), _COMMON_YEAR)
    offset = times[0].utcoffset()
    fixed = datetime.timezone(new_year_offset(timezone, year))
    local = own.tz_localize(datetime.timezone(offset)).tz_convert(fixed).tz_localize(None)
    local = _with_year(local, year)
    order = np.argsort(local.asi8, kind="stable")
    index = pd.DatetimeIndex(local[order]).tz_localize(fixed).tz_convert(timezone)
    return index, order


def _with_year(naive: pd.DatetimeIndex, year: int) -> pd.DatetimeIndex:
    """Return the same month, day and time of day in another year."""
    import pandas as pd

    midnight = naive.normalize()
    days = pd.to_datetime({"year": np.full(len(naive), year), "month": naive.month, "day": naive.day})
    return pd.DatetimeIndex(days) + (naive - midnight)


def dark_share(sines: Any, ghi: Any) -> float:
    """Return the share of the radiation that falls with the sun well below the horizon, 0 to 1.

    Well below is 8 degrees, half an hour's way of the sun at most: hours with a sunrise in them do not count.
    """
    total = float(np.sum(ghi))
    return float(np.sum(np.asarray(ghi)[sines < np.sin(np.radians(-8.0))])) / total if total > 0.0 else 0.0


def _fill(series: dict[str, Any], site: Site) -> list[str]:
    """Fill gaps in what matters little, in place, and say so."""
    notes = []
    missing = ~np.isfinite(series["pressure"])
    if missing.any():
        series["pressure"] = np.where(missing, standard_pressure(site.elevation), series["pressure"])
        if not missing.all():
            notes.append(
                translatable(
                    "air pressure: {hours} hours filled with the standard atmosphere",
                    hours=int(missing.sum()),
                )
            )
    for column, text in (
        ("wind_speed", translatable("wind speed")),
        ("dew_point", translatable("dew point")),
    ):
        missing = ~np.isfinite(series[column])
        hours = int(missing.sum())
        if hours == len(missing):
            notes.append(translatable("the file has no {quantity}", quantity=text))
        elif hours:
            known = np.flatnonzero(~missing)
            series[column] = np.interp(np.arange(len(missing)), known, series[column][known])
            notes.append(
                translatable(
                    "{quantity}: {hours} hours filled from their neighbours", quantity=text, hours=hours
                )
            )
    return notes
