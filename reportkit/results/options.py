"""Results of the comparison: doing nothing, every film, and what the job names."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from reportkit.results.plain import plain
from reportkit.results.rooms import no_price, option_energy
from reportkit.study import options as opt
from reportkit.study.asked import asked
from reportkit.sun import monthly_sums

if TYPE_CHECKING:
    from reportkit.study import Study
    from reportkit.study.options import Option

#: Area-weighted means over the panes; a shade that is drawn and opened has none.
LIGHT = ("t_visible", "t_uv", "t_fading", "r_visible_out", "r_visible_in", "shgc", "u_w_m2k")

ENERGIES = (
    "annual_solar_kwh",
    "summer_solar_kwh",
    "winter_solar_kwh",
    "summer_kept_out_kwh",
    "winter_kept_out_kwh",
    "monthly_solar_kwh",
    "kept_out_warm_kwh",
    "kept_out_cold_kwh",
)


def options(study: Study) -> list[dict[str, Any]]:
    """Return every option, doing nothing first."""
    return [_option(study, index, entry) for index, entry in enumerate(study.options)]


def _option(study: Study, index: int, entry: Option) -> dict[str, Any]:
    record = study.weather
    whole, complained = entry.gains.total(), study.peak_gains(entry).total(study.complained)
    bare = study.nothing.gains.total()
    summer = opt.summer_months(study.loaded.latitude)
    winter = tuple(month for month in range(1, 13) if month not in summer)
    at = study.bad_hour
    base = float(study.peak_gains(study.nothing).total(study.complained)[at])
    kept = _kept_out(study, bare - whole)
    data: dict[str, Any] = {
        "id": entry.id,
        "kind": entry.kind,
        "film": entry.films[0] if len(entry.films) == 1 else None,
        "films": list(entry.films),
        "chosen": entry is study.chosen,
        "recommended": entry is study.recommended,
        "peak_solar_w": float(complained[at]),
        "peak_cut_fraction": 1 - float(complained[at]) / base if base > 0 else 0.0,
        "own_peak_w": float(complained.max()),
        "annual_solar_kwh": opt.energy(record, whole),
        "summer_solar_kwh": opt.energy(record, whole, summer),
        "winter_solar_kwh": opt.energy(record, whole, winter),
        "summer_kept_out_kwh": opt.energy(record, bare - whole, summer),
        "winter_kept_out_kwh": opt.energy(record, bare - whole, winter),
        "monthly_solar_kwh": None
        if record.kind == "clear_sky"
        else plain(monthly_sums(record.times, whole, step_hours=record.step_hours)),
        "kept_out_warm_kwh": None if kept is None else kept[0],
        "kept_out_cold_kwh": None if kept is None else kept[1],
        "cold_below_c": opt.HEATING_BASE_C,
        "summer_months": list(summer),
        **_look(study, entry),
        "asked": None if entry.kind == "shade" else asked(study, entry),
        "panes_filmed": sum(
            pane.quantity for pane, film in zip(study.job.panes, entry.film_by_pane, strict=True) if film
        ),
        "bare_because": [{"pane": pane, "why": why} for pane, why in entry.bare_because],
        "excluded": [
            {"pane": item.pane, "what": item.what, "value": item.value, "limit": item.limit}
            for item in entry.excluded
        ],
        "cost": None
        if entry.cannot_go
        else plain(entry.price if entry.kind == "shade" else study.offers[entry.id].total),
        "currency": study.job.currency,
    }
    room = option_energy(study, index, entry)
    withheld = room.pop("withheld", {})
    if record.kind == "clear_sky":
        withheld |= dict.fromkeys(ENERGIES, "clear_days")
    if data["cost"] is None:
        withheld["cost"] = no_price(entry)
    if entry.kind == "shade":
        withheld |= dict.fromkeys((*LIGHT, "asked"), "shade")
    return data | room | ({"withheld": withheld} if withheld else {})


def _kept_out(study: Study, power: np.ndarray) -> tuple[float, float] | None:
    """Return the energy kept out in hours at or above the heating base, and below it [kWh]."""
    record = study.weather
    if record.kind == "clear_sky":
        return None
    cold = record.temp_air < opt.HEATING_BASE_C
    scale = record.step_hours / 1000
    return float(power[~cold].sum() * scale), float(power[cold].sum() * scale)


def _look(study: Study, entry: Option) -> dict[str, Any]:
    """Return area-weighted means over the panes of the light let in and thrown back."""
    if entry.kind == "shade":
        return dict.fromkeys(LIGHT)
    job = study.job
    ratings = [
        study.fittings[pane.glazing, film].rating
        for pane, film in zip(job.panes, entry.film_by_pane, strict=True)
    ]
    area = np.array([float(pane.width * pane.height) * pane.quantity for pane in job.panes])

    def mean(name: str) -> float:
        values = np.array([getattr(rating, name) for rating in ratings])
        return float(np.average(values, weights=area))

    return {name: mean(name) for name in LIGHT}
