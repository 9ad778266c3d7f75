"""Results of the glass: every glazing of the job bare and with each film, and every pane."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from reportkit.results.claims import of_glazing
from reportkit.results.plain import plain
from reportkit.results.screening import screen
from reportkit.study import options as opt

if TYPE_CHECKING:
    from reportkit.study import Study


def glazings(study: Study) -> list[dict[str, Any]]:
    """Return the ratings of every glazing, bare (``film`` null) and with each film."""
    found = []
    for fit in study.fittings.values():
        entry: dict[str, Any] = {"id": fit.glazing_id, "film": fit.film_id}
        rating = fit.rating
        if rating is None:
            found.append(entry | {"refused": fit.refusal})
            continue
        found.append(
            entry
            | {
                "conditions": rating.conditions,
                "spectrum": rating.spectrum,
                "t_solar": rating.t_solar,
                "r_solar_out": rating.r_solar_out,
                "a_solar": rating.a_solar,
                "a_lites": list(rating.a_lites),
                "shgc": rating.shgc,
                "shgc_by_angle": {str(angle): value for angle, value in rating.shgc_by_angle},
                "tser": rating.tser,
                "t_visible": rating.t_visible,
                "r_visible_out": rating.r_visible_out,
                "r_visible_in": rating.r_visible_in,
                "t_uv": rating.t_uv,
                "t_fading": rating.t_fading,
                "u_w_m2k": rating.u_w_m2k,
                "lsg": plain(rating.lsg),
                "inward_fraction": plain(rating.inward_fraction),
                "inner_face_winter_c": rating.inner_face_winter,
                "notes": list(rating.notes),
                "claims": of_glazing(study, fit),
            }
        )
    return found


def panes(study: Study) -> list[dict[str, Any]]:
    """Return every pane with its size, its gain as it is and as chosen, and its rank by bare gain."""
    job, record = study.job, study.weather
    at = study.bad_hour
    bare, chosen = study.nothing.gains.by_pane, study.chosen.gains.by_pane
    hot, hot_chosen = (study.peak_gains(entry).by_pane for entry in (study.nothing, study.chosen))
    order = np.argsort(-hot[at], kind="stable")
    rank = {int(index): place for place, index in enumerate(order, start=1)}
    reasons = dict(study.chosen.bare_because)
    found = []
    for index, pane in enumerate(job.panes):
        film_id = study.chosen.film_by_pane[index]
        peak = int(np.argmax(hot[:, index]))
        entry: dict[str, Any] = {
            "id": pane.id,
            "room": pane.room,
            "face": pane.face,
            "glazing": pane.glazing,
            "quantity": pane.quantity,
            "width_mm": float(pane.width),
            "height_mm": float(pane.height),
            "area_m2": float(pane.width * pane.height) / 1e6,
            "film": film_id,
            "bare_because": reasons.get(pane.id),
            "screen": screen(study, index),
            "peak_solar_w": float(hot[at, index]),
            "peak_solar_filmed_w": float(hot_chosen[at, index]),
            "own_peak_w": float(hot[peak, index]),
            "own_peak_time": study.peaks.weather.times[peak].isoformat(),
            "annual_solar_kwh": opt.energy(record, bare[:, index]),
            "annual_solar_filmed_kwh": opt.energy(record, chosen[:, index]),
            "direct_sun_hours": plain(study.sun.pane_direct_hours[index]),
            "rank": rank[index],
        }
        if record.kind == "clear_sky":
            entry["withheld"] = {
                "annual_solar_kwh": "clear_days",
                "annual_solar_filmed_kwh": "clear_days",
            }
        found.append(entry)
    return found
