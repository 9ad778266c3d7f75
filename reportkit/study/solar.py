"""The sun of one job: on its faces, on its panes, and how long it stays."""

from __future__ import annotations

from dataclasses import dataclass, fields, replace
from typing import TYPE_CHECKING

import numpy as np

from reportkit import climate
from reportkit.base.arrays import Array, Mask
from reportkit.base.errors import UnavailableError
from reportkit.base.translatable import translatable
from reportkit.physics import sun
from reportkit.study import translate

if TYPE_CHECKING:
    from reportkit.climate import Weather
    from reportkit.job import LoadedJob


#: Fineness of the clock by which direct sun is counted on the 21st of each month.
STEP_MINUTES = 10

#: A pane is in the sun while more than this share of it, or of the light past bare trees, is.
LEAST_SUNLIT = 0.5


#: From and to which hours of the clock, one after the other [h].
Spans = tuple[tuple[float, float], ...]


@dataclass(frozen=True, eq=False)
class Shading:
    """Of P panes at H hours [1]: share in the sun, (H, P), and of what they see.

    ``sky_view`` and ``horizon_view`` are (P,) or, where trees lose their leaves, (H, P); ``ground_view``
    is (P,).
    """

    sunlit: Array
    sky_view: Array
    horizon_view: Array
    ground_view: Array


@dataclass(frozen=True, eq=False)
class Solar:
    """The sun at H hours on F faces and P panes.

    ``position`` is the sun's, ``face_of`` (P,) the number of each pane's face; ``faces`` and ``panes``
    are irradiances [W/m2]; ``shading`` is what stands before the panes at these hours.
    ``direct_hours`` (F, 12) and ``pane_direct_hours`` (P, 12) count the hours of direct sun on the 21st of
    each month, clouds aside [h]; ``direct_clock`` tells of each face and month from and to which hours of the
    clock that is. ``by_hour`` (F, 12, 24) is the mean irradiance of each month's hours by the
    clock [W/m2]; nan only where a month has no such hour.
    """

    position: sun.SunPosition
    face_of: Array
    faces: sun.FaceIrradiance
    panes: sun.PaneSun
    shading: Shading
    direct_hours: Array
    pane_direct_hours: Array
    direct_clock: tuple[tuple[Spans, ...], ...]
    by_hour: Array

    def only(self, mine: Mask) -> Solar:
        """Return the same of some panes, ``mine`` a mask (P,)."""
        panes = {entry.name: getattr(self.panes, entry.name)[:, mine] for entry in fields(self.panes)}
        shading = Shading(
            **{entry.name: getattr(self.shading, entry.name)[..., mine] for entry in fields(Shading)}
        )
        return replace(
            self,
            face_of=self.face_of[mine],
            panes=sun.PaneSun(**panes),
            shading=shading,
            pane_direct_hours=self.pane_direct_hours[mine],
        )


@dataclass(frozen=True, eq=False)
class Sky:
    """Hours of weather and the sun of those hours."""

    weather: Weather
    sun: Solar


def clear_sky(loaded: LoadedJob) -> Sky:
    """Return twelve clear days and their sun, whatever weather the job asks for."""
    weather = _clear_days(loaded)
    return Sky(weather, solar(loaded, weather))


def weathers(loaded: LoadedJob) -> tuple[Weather, ...]:
    """Return the weather the job asks for, on the clock of the quote's year: one, or several as likely."""
    job = loaded.job
    year = job.day.year
    choice = job.weather
    if choice.use == "shipped" and choice.name:
        return (_here(loaded, climate.shipped_year(choice.name, year=year, timezone=loaded.clock)),)
    if choice.normals and choice.use == "normals":
        table = choice.normals
        return climate.from_normals(
            latitude=loaded.latitude,
            longitude=loaded.longitude,
            elevation=loaded.elevation_m,
            timezone=loaded.clock,
            year=year,
            temp_mean=table.mean_c,
            temp_range=table.daily_range_k,
            ghi_day=table.sun_kwh_m2_day,
            place=job.site.place,
            source=table.source,
        )
    if choice.use in ("file", "pvgis"):
        if loaded.weather_file is None:
            raise UnavailableError(
                translatable(
                    "the typical year this job asks for is not here yet: run reportkit make once while online"
                )
            )
        return (_here(loaded, climate.typical_year(loaded.weather_file, year=year, timezone=loaded.clock)),)
    return (_clear_days(loaded),)


def _here(loaded: LoadedJob, weather: Weather) -> Weather:
    return climate.brought(
        weather, latitude=loaded.latitude, longitude=loaded.longitude, elevation=loaded.elevation_m
    )


def _clear_days(loaded: LoadedJob) -> Weather:
    return climate.clear_days(
        latitude=loaded.latitude,
        longitude=loaded.longitude,
        elevation=loaded.elevation_m,
        timezone=loaded.clock,
        year=loaded.job.day.year,
        place=loaded.job.site.place,
    )


def solar(loaded: LoadedJob, weather: Weather) -> Solar:
    """Return the sun on every face and pane of a job.

    Parameters
    ----------
    loaded
        The job with its place.
    weather
        Its weather, H rows.
    """
    job = loaded.job
    place = {
        "latitude": loaded.latitude,
        "longitude": loaded.longitude,
        "elevation": loaded.elevation_m,
    }
    position = _position(weather)
    index = {face.id: number for number, face in enumerate(job.faces)}
    face_of = np.array([index[pane.face] for pane in job.panes])
    shade = translate.shade(job, job.panes)
    shading = shaded(shade, position)
    faces = _on_faces(loaded, weather, position)
    panes = on_panes(faces, face_of, shading)
    on_faces, on_each = _direct_sun(loaded, shade, place)
    return Solar(
        position,
        face_of,
        faces,
        panes,
        shading,
        _hours(on_faces),
        _hours(on_each),
        tuple(tuple(_spans(day) for day in face) for face in on_faces),
        _by_hour(weather, faces.total),
    )


def under(loaded: LoadedJob, weather: Weather, like: Solar) -> Solar:
    """Return the sun under other weather of the same hours; what does not depend on it is ``like``'s."""
    faces = _on_faces(loaded, weather, like.position)
    panes = on_panes(faces, like.face_of, like.shading)
    return replace(like, faces=faces, panes=panes, by_hour=_by_hour(weather, faces.total))


def faces_as_read(loaded: LoadedJob, weather: Weather) -> Array | None:
    """Return a year's sun on the faces as the weather's source has it, (F,) [kWh/m2]; None if unmended."""
    if weather.as_read is None:
        return None
    source = weather.as_read
    total: Array = _on_faces(loaded, source, _position(source)).total.sum(axis=0) * source.step_hours / 1000.0
    return total


def _position(weather: Weather) -> sun.SunPosition:
    return sun.position(
        weather.times,
        step_hours=weather.step_hours,
        latitude=weather.latitude,  # the radiation was measured under the weather's own sun
        longitude=weather.longitude,
        elevation=weather.elevation,
    )


def _on_faces(loaded: LoadedJob, weather: Weather, position: sun.SunPosition) -> sun.FaceIrradiance:
    job = loaded.job
    return sun.sky_on_faces(
        position,
        weather.ghi,
        weather.dni,
        weather.dhi,
        surface_azimuth=[face.bearing for face in job.faces],
        surface_tilt=[face.tilt for face in job.faces],
        albedo=job.site.ground_albedo,
    )


def on_panes(faces: sun.FaceIrradiance, face_of: Array, shading: Shading) -> sun.PaneSun:
    """Return the irradiance on each pane from that on its open face."""
    return sun.on_panes(
        faces,
        face_of,
        shading.sunlit,
        sky_view=shading.sky_view,
        horizon_view=shading.horizon_view,
        ground_view=shading.ground_view,
    )


def shaded(shade: sun.Shade, position: sun.SunPosition) -> Shading:
    """Return what stands before panes at the instants of a sun."""
    seasonal = any(len(set(line.transmittance)) > 1 for lines in shade.horizon for line in lines)

    if not seasonal:
        sky, ground, horizon = sun.views(shade)
    else:
        by_month = np.stack([sun.views(shade, month=number) for number in range(1, 13)])
        sky, horizon = (by_month[:, kind][position.month - 1] for kind in (0, 2))
        ground = by_month[0, 1]
    return Shading(sun.sunlit_fraction(position, shade), sky, horizon, ground)


def _direct_sun(loaded: LoadedJob, shade: sun.Shade, place: dict[str, float]) -> tuple[Mask, Mask]:
    """Return which steps of the 21st of each month have direct sun: open faces with their skyline, and panes.

    Both are (F or P, 12, steps of the day).
    """
    import pandas as pd

    job = loaded.job
    step = pd.Timedelta(minutes=STEP_MINUTES)
    days = [pd.Timestamp(job.day.year, month, 21) for month in range(1, 13)]
    clock = [pd.date_range(day, day + pd.Timedelta(days=1), freq=step, inclusive="left") for day in days]
    times = (clock[0].append(clock[1:]) + step / 2).tz_localize(
        loaded.clock, ambiguous=True, nonexistent="shift_forward"
    )
    position = sun.position(times, **place)
    skylines = {spec.id: translate.skyline(spec) for spec in job.horizons}
    open_faces = sun.Shade(
        width=1.0,
        height=1.0,
        surface_azimuth=[face.bearing for face in job.faces],
        surface_tilt=[face.tilt for face in job.faces],
        horizon=[skylines[face.horizon] if face.horizon else None for face in job.faces],
    )

    def lit(part: sun.Shade) -> Mask:
        in_sun: Mask = sun.sunlit_fraction(position, part) > LEAST_SUNLIT
        return in_sun.T.reshape(in_sun.shape[1], 12, -1)

    return lit(open_faces), lit(shade)


def _hours(lit: Mask) -> Array:
    """Return how long there is direct sun, (..., 12) [h]."""
    hours: Array = lit.sum(axis=-1) * STEP_MINUTES / 60
    return hours


def _spans(day: Mask) -> Spans:
    """Return from and to which hours of the clock there is direct sun on a day [h]."""
    turns = np.flatnonzero(np.diff(np.concatenate(([False], day, [False])).astype(int))) * STEP_MINUTES / 60
    return tuple((float(start), float(end)) for start, end in turns.reshape(-1, 2))


def _by_hour(weather: Weather, total: Array) -> Array:
    """Return the mean of each month's clock hours, (F, 12, 24)."""
    month = np.asarray(weather.times.month) - 1
    hour = np.asarray(weather.times.hour)
    cell = month * 24 + hour
    count = np.bincount(cell, minlength=288)
    sums = np.stack([np.bincount(cell, weights=column, minlength=288) for column in total.T])
    with np.errstate(invalid="ignore", divide="ignore"):
        return (sums / count).reshape(-1, 12, 24)
