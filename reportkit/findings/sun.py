"""Findings of the sun: the weather used, the faces, and the day of the complaint."""

from __future__ import annotations

import datetime as dt
from typing import TYPE_CHECKING, Literal

import numpy as np

from reportkit.findings.result import Months, Result, Text, WithReasons, finite
from reportkit.physics.sun import monthly_sums
from reportkit.study.solar import faces_as_read

if TYPE_CHECKING:
    from reportkit.study import Study

NO_YEAR = "clear_days"


class WeatherUsed(Result):
    """Where the weather came from."""

    source: Text
    """Who publishes it, in what form."""
    kind: Literal["typical_year", "normals", "clear_sky"]
    """A year of hours, monthly means, or twelve clear days."""
    place: Text
    """The station or the point it holds for."""
    span: Text
    """The years it was made from."""
    latitude_deg: float
    """Latitude of the place, north positive [degrees]."""
    longitude_deg: float
    """Longitude of the place, east positive [degrees]."""
    elevation_m: float
    """Height above the sea [m]."""
    clock: str
    """The clock of the job, by its name in the IANA time zone database."""
    annual_global_kwh_m2: float | None
    """Sun on level ground in a year [kWh/m2]; null for clear days."""
    notes: tuple[Text, ...]
    """What to know about the file: gaps filled, hours moved."""
    doubts: tuple[Text, ...] = ()
    """What was wrong with it and was mended or must be asked, and how far away its place is."""
    distance_km: float = 0.0
    """How far its place is from the site [km]."""
    climb_m: float = 0.0
    """How much higher the site lies [m]."""


class FaceSun(WithReasons):
    """The sun on one open face."""

    id: str
    """The face."""
    name: str
    """Its name in the job."""
    azimuth_deg: float
    """Where it looks, clockwise from north [degrees]."""
    tilt_deg: float
    """Its tilt, 90 for a wall [degrees]."""
    annual_kwh_m2: float | None
    """Sun in a year [kWh/m2]."""
    monthly_kwh_m2: Months | None
    """Sun by month, twelve values [kWh/m2]."""
    peak_w_m2: float
    """Most sun in an hour [W/m2]."""
    peak_time: dt.datetime
    """The middle of that hour."""
    direct_sun_hours: Months
    """Hours of direct sun a day by month, twelve values [h]."""
    direct_sun_clock_h: tuple[tuple[tuple[float, float], ...], ...] = ()
    """From and to which hours of the clock direct sun stands there on those days, by month [h]."""
    mean_by_month_and_hour_w_m2: tuple[tuple[float, ...], ...]
    """Mean sun by month and hour of the day [W/m2]."""
    doubts: tuple[Text, ...] = ()
    """What was wrong with the weather that this rests on."""
    mended_fraction: float | None = None
    """By how much mending the weather changed the sun in a year [1]; null where nothing was."""


class BadDay(Result):
    """The day of the worst hour, hour by hour."""

    time: dt.datetime
    """The worst hour."""
    room: str | None
    """The room complained of; null where the job names none."""
    hours: tuple[dt.datetime, ...]
    """The hours of that day."""
    outdoor_c: tuple[float | None, ...]
    """Outdoor air [degrees C]; null where not known."""
    watts: dict[str, tuple[float, ...]]
    """Sun's heat through the panes complained of, by option [W]."""


def fill_weather(study: Study) -> WeatherUsed:
    """Return where the weather came from."""
    record = study.weather
    return WeatherUsed(
        source=record.source,
        kind=record.kind,
        place=record.place,
        span=record.span,
        latitude_deg=record.latitude,
        longitude_deg=record.longitude,
        elevation_m=record.elevation,
        clock=study.loaded.clock,
        annual_global_kwh_m2=None if record.kind == "clear_sky" else record.annual_ghi,
        notes=tuple(record.notes),
        doubts=record.doubts,
        distance_km=record.distance_km,
        climb_m=record.climb_m,
    )


def fill_faces(study: Study) -> tuple[FaceSun, ...]:
    """Return the sun on each open face; energies only where a whole year of weather is known."""
    record, sun = study.weather, study.sun
    total = sun.faces.total
    whole_year = record.kind != "clear_sky"
    months = monthly_sums(record.times, total, step_hours=record.step_hours)
    as_read = faces_as_read(study.loaded, record)
    faces = []
    for number, face in enumerate(study.job.faces):
        open_sun = study.peaks.sun.faces.total[:, number]
        peak = int(np.argmax(open_sun))
        faces.append(
            FaceSun(
                id=face.id,
                name=face.name,
                azimuth_deg=face.bearing,
                tilt_deg=face.tilt,
                annual_kwh_m2=float(months[:, number].sum()) if whole_year else None,
                monthly_kwh_m2=months[:, number].tolist() if whole_year else None,
                peak_w_m2=float(open_sun[peak]),
                peak_time=study.peaks.weather.times[peak],
                direct_sun_hours=sun.direct_hours[number].tolist(),
                direct_sun_clock_h=sun.direct_clock[number],
                mean_by_month_and_hour_w_m2=sun.by_hour[number].tolist(),
                doubts=record.doubts,
                mended_fraction=None
                if as_read is None
                else float(months[:, number].sum() / as_read[number] - 1),
                withheld={} if whole_year else {"annual_kwh_m2": NO_YEAR, "monthly_kwh_m2": NO_YEAR},
            )
        )
    return tuple(faces)


def fill_bad_day(study: Study) -> BadDay:
    """Return the day of the worst hour, hour by hour, for every option [W]."""
    times = study.peaks.weather.times
    at = study.bad_hour
    same_day = np.flatnonzero(np.asarray(times.date == times[at].date()))
    mask = study.complained
    temperature = study.peaks.weather.temp_air[same_day]
    return BadDay(
        time=times[at],
        room=study.job.complaint.room,
        hours=tuple(times[index] for index in same_day),
        outdoor_c=tuple(finite(value) for value in temperature),
        watts={entry.id: study.peak_gains(entry).total(mask)[same_day].tolist() for entry in study.options},
    )
