"""Results of the sun: the weather used, the faces, and the day of the complaint."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from reportkit.results.plain import plain
from reportkit.sun import monthly_sums

if TYPE_CHECKING:
    from reportkit.study import Study

NO_YEAR = "clear_days"


def weather(study: Study) -> dict[str, Any]:
    """Return where the weather came from."""
    record = study.weather
    return {
        "source": record.source,
        "kind": record.kind,
        "place": record.place,
        "span": record.span,
        "latitude_deg": record.latitude,
        "longitude_deg": record.longitude,
        "elevation_m": record.elevation,
        "clock": study.loaded.clock,
        "annual_global_kwh_m2": None if record.kind == "clear_sky" else record.annual_ghi,
        "notes": list(record.notes),
    }


def faces(study: Study) -> list[dict[str, Any]]:
    """Return the sun on each open face; energies only where a whole year of weather is known."""
    record, sun = study.weather, study.sun
    total = sun.faces.total
    whole_year = record.kind != "clear_sky"
    months = monthly_sums(record.times, total, step_hours=record.step_hours)
    found = []
    for number, face in enumerate(study.job.faces):
        open_sun = study.peaks.sun.faces.total[:, number]
        peak = int(np.argmax(open_sun))
        entry: dict[str, Any] = {
            "id": face.id,
            "name": face.name,
            "azimuth_deg": face.bearing,
            "tilt_deg": face.tilt,
            "annual_kwh_m2": float(months[:, number].sum()) if whole_year else None,
            "monthly_kwh_m2": plain(months[:, number]) if whole_year else None,
            "peak_w_m2": float(open_sun[peak]),
            "peak_time": study.peaks.weather.times[peak].isoformat(),
            "direct_sun_hours": plain(sun.direct_hours[number]),
            "mean_by_month_and_hour_w_m2": plain(sun.by_hour[number]),
        }
        if not whole_year:
            entry["withheld"] = {"annual_kwh_m2": NO_YEAR, "monthly_kwh_m2": NO_YEAR}
        found.append(entry)
    return found


def bad_day(study: Study) -> dict[str, Any]:
    """Return the day of the worst hour, hour by hour, for every option [W]."""
    times = study.peaks.weather.times
    at = study.bad_hour
    same_day = np.flatnonzero(np.asarray(times.date == times[at].date()))
    mask = study.complained
    temperature = study.peaks.weather.temp_air[same_day]
    return {
        "time": times[at].isoformat(),
        "room": study.job.complaint.room,
        "hours": [times[index].isoformat() for index in same_day],
        "outdoor_c": plain(temperature),
        "watts": {entry.id: plain(study.peak_gains(entry).total(mask)[same_day]) for entry in study.options},
    }
