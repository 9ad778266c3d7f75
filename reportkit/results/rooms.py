"""Results of the rooms and of the money: ranges, what drives them, and why something is withheld."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

import numpy as np
from babel.numbers import get_currency_precision

from reportkit.money import to_money
from reportkit.room import drivers, percentiles
from reportkit.study.bywindow import DISTANCE_M

if TYPE_CHECKING:
    from reportkit.study import Study
    from reportkit.study.options import Option
    from reportkit.study.worth import Worth

#: What a year of monthly means cannot tell: it has no extremes.
NEEDS_HOURS = ("hot_hours", "hottest_c", "peak_cooling_w", "unmet_cooling_h")

PAYS, DOES_NOT_PAY, CANNOT_TELL = "pays", "does_not_pay", "cannot_tell"


def spread(values: np.ndarray) -> dict[str, float | None]:
    """Return a range; an end that is not finite is null."""
    low, middle, high = (float(value) for value in _percentiles(values))
    return {
        name: value if math.isfinite(value) else None
        for name, value in (("p10", low), ("p50", middle), ("p90", high))
    }


def _percentiles(values: np.ndarray) -> np.ndarray:
    """Return the 10th, 50th and 90th percentile; infinite samples count as the largest."""
    finite = np.isfinite(values)
    if finite.all():
        return percentiles(values)
    capped = np.where(finite, values, 1e12)
    found = percentiles(capped)
    return np.where(found > 1e6, np.inf, found)


def amounts(values: np.ndarray, digits: int) -> dict[str, str | None]:
    """Return a range of money as decimal strings."""
    return {name: _text(value, digits) for name, value in spread(values).items()}


def _text(value: float | None, digits: int) -> str | None:
    amount = None if value is None else to_money(value, digits=digits)
    return None if amount is None else f"{amount:f}"


def rooms(study: Study) -> list[dict[str, Any]]:
    """Return every room's year by option; rooms that are not described carry the reason."""
    years = {year.room: year for year in study.room_years}
    found: list[dict[str, Any]] = []
    for room in study.job.rooms:
        year = years.get(room.id)
        if year is None or room.heat is None:
            reason = study.no_rooms if study.no_rooms == "clear_days" else "room_not_described"
            found.append({"id": room.id, "options": [], "withheld": {"options": reason}})
            continue
        entries = []
        for index, option in enumerate(study.options):
            entry: dict[str, Any] = {
                "id": option.id,
                "cooling_kwh": spread(year.cooling[:, index].sum(axis=0)) if room.heat.cooling else None,
                "heating_kwh": spread(year.heating[:, index].sum(axis=0)) if room.heat.heating else None,
                "hot_hours": spread(year.hot_hours[index]),
                "hottest_c": spread(year.hottest[index]),
                "peak_cooling_w": spread(year.peak_cooling[:, index].max(axis=0))
                if room.heat.cooling
                else None,
                "unmet_cooling_h": spread(year.unmet_cooling[index]) if room.heat.cooling else None,
            }
            withheld: dict[str, str] = {}
            if room.heat.cooling is None:
                withheld |= dict.fromkeys(("cooling_kwh", "peak_cooling_w", "unmet_cooling_h"), "no_cooling")
            if room.heat.heating is None:
                withheld["heating_kwh"] = "no_heating"
            if study.weather.kind == "normals":
                entry |= dict.fromkeys(NEEDS_HOURS)
                withheld |= dict.fromkeys(NEEDS_HOURS, "normals")
            if withheld:
                entry["withheld"] = withheld
            entries.append(entry)
        found.append(
            {
                "id": room.id,
                "floor_area_m2": room.heat.floor_area,
                "wall_area_m2": year.wall_area_m2,
                "too_hot_c": room.heat.too_hot,
                "has_cooling": room.heat.cooling is not None,
                "has_heating": room.heat.heating is not None,
                "cooling_capacity_w": room.heat.cooling.capacity if room.heat.cooling else None,
                "options": entries,
            }
        )
    return found


def by_window(study: Study) -> dict[str, Any]:
    """Return what a person feels one metre from the pane that lets in most, by option."""
    index, seats = study.by_window
    return {
        "pane": study.job.panes[index].id,
        "time": study.peaks.weather.times[study.bad_hour].isoformat(),
        "distance_m": DISTANCE_M,
        "options": [
            {
                "id": name,
                "sun_on_person_k": seat.sun_k,
                "pane_c": seat.pane_c,
                "pane_adds_k": seat.pane_k,
                "dgp": seat.dgp,
                "glare": seat.glare,
                "cold_face_c": seat.cold_face_c,
                "condenses_from_humidity": seat.humidity_limit,
            }
            for name, seat in seats.items()
        ],
    }


def option_energy(study: Study, index: int, option: Option) -> dict[str, Any]:
    """Return an option's energies, hot hours and money, summed over the described rooms."""
    data: dict[str, Any] = {}
    withheld: dict[str, str] = {}
    years = study.room_years
    bodies = {room.id: room.heat for room in study.job.rooms}
    for key, name, has in (
        ("cooling_kwh", "cooling", "no_cooling"),
        ("heating_kwh", "heating", "no_heating"),
    ):
        mine = [year for year in years if getattr(bodies[year.room], name)]
        data[key] = spread(sum(getattr(year, name)[:, index].sum(axis=0) for year in mine)) if mine else None
        if not mine:
            withheld[key] = study.no_rooms or has
    room = study.complaint_room_year
    if room is not None and study.weather.kind != "normals":
        data["hot_hours"] = spread(room.hot_hours[index])
        data["hottest_c"] = spread(room.hottest[index])
    else:
        reason = "normals" if study.weather.kind == "normals" else study.no_rooms or "room_not_described"
        data |= {"hot_hours": None, "hottest_c": None}
        withheld |= {"hot_hours": reason, "hottest_c": reason}
    return data | _money(study, option, withheld) | ({"withheld": withheld} if withheld else {})


def no_price(option: Option) -> str:
    """Return why an option has no price, as a reason for what is withheld."""
    if option.cannot_go:
        return "cannot_go"
    return "no_shade_price" if option.kind == "shade" else "no_plan"


def _money(study: Study, option: Option, withheld: dict[str, str]) -> dict[str, Any]:
    keys = ("saving_per_year", "payback_years", "npv", "co2_kg")
    worth = study.worths.get(option.id)
    if worth is None:
        withheld |= dict.fromkeys(keys, study.no_money)
        return dict.fromkeys(keys) | {"verdict": None, "drivers": [], "cash": None}
    digits = get_currency_precision(study.job.currency)
    data: dict[str, Any] = {
        "saving_per_year": amounts(worth.saving, digits),
        "years": worth.years,
        "co2_kg": None if worth.co2 is None else spread(worth.co2),
        "drivers": [
            {"key": driver.key, "share": driver.share, "correlation": driver.correlation}
            for driver in drivers(study.room_years[0].inputs, worth.saving, least=0.02)
        ],
    }
    if worth.co2 is None:
        withheld["co2_kg"] = "no_co2_factor"
    if worth.npv is None or worth.payback is None or worth.flows is None:
        withheld |= dict.fromkeys(("npv", "payback_years"), no_price(option))
        return data | {"npv": None, "payback_years": None, "verdict": None, "cash": None}
    payback = spread(worth.payback)
    if payback["p50"] is None:
        withheld["payback_years"] = "not_within_years"
    total = np.cumsum(worth.flows, axis=0)
    return data | {
        "npv": amounts(worth.npv, digits),
        "payback_years": payback if payback["p50"] is not None else None,
        "verdict": verdict(worth) if option.kind != "none" else None,
        "cash": [amounts(row, digits) for row in total],
    }


def verdict(worth: Worth) -> str:
    """Return whether an option pays, does not, or cannot be told from its range."""
    assert worth.npv is not None
    low, _, high = percentiles(worth.npv)
    if low > 0:
        return PAYS
    return DOES_NOT_PAY if high <= 0 else CANNOT_TELL
