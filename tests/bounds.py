"""Plain bounds of results: what no number of a job's results may leave, whoever computed it.

A number's bound comes from its unit, which the text below its field gives in brackets, or from its path where
the unit alone says too little. They are wide: what lies outside is not a bold result but a wrong one. The
sun, glass and years have them from nature; the rest is common practice for homes and small buildings, no
source, unless a source is named.
"""

from __future__ import annotations

import re
import types
import typing
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from functools import cache
from typing import Any

from pydantic import BaseModel

from reportkit.app.leaves import names, stems
from reportkit.findings.findings import sections
from reportkit.findings.result import meanings
from reportkit.job.model import Job


@dataclass(frozen=True)
class Bound:
    """The least and most that a number may be, and why.

    With ``of`` both are for one of it: a square metre of the job's ``glass`` or of ``floor``, or the largest
    ``amount`` of money that the job states.
    """

    low: float
    high: float
    why: str
    of: str = ""


SHARE = Bound(0, 1, "a part of a whole")
COUNT = Bound(0, 1e5, "things that can be counted on a job: 500 alike in a row at most")
AMOUNT = Bound(
    0, 1e4, "not ten thousand times the largest price: so many hours, metres or kWh no job has", "amount"
)
SIGNED = Bound(-1e4, 1e4, "the same, lost or won, or taken off the price", "amount")
FACTOR = Bound(0, 1e3, "how many times more")

#: By the unit in a field's text.
BY_UNIT = {
    "1": SHARE,
    "K": Bound(0, 150, "differences within a lite, and what the sun adds: glass breaks before 150 K"),
    "MPa": Bound(0, 250, "stress in glass: tempered glass bears 120 (EN 12150-1, from memory)"),
    "W": Bound(0, 1500, "the sun at the ground stays near the solar constant, 1361", "glass"),
    "W/K": Bound(0, 100, "a frame as large as the glass at 12 W/m2 K, its spacer, many small panes", "glass"),
    "W/m2": Bound(0, 1500, "the sun at the ground stays near the solar constant, 1361"),
    "W/m2 K": Bound(0.2, 8, "from four lites with krypton to one (EN 673: 5.8), under a winter wind"),
    "cd/m2": Bound(0, 2e9, "the sun's disc from outside the air: 1.6e9 to 2e9"),
    "currency": AMOUNT,
    "days": Bound(0, 400, "water below a film has gone within a year"),
    "degrees": Bound(-180, 360, "angles"),
    "degrees C": Bound(-90, 120, "from the coldest air measured (-89.2, WMO) to glass that is hot"),
    "h": Bound(0, 8784, "the hours of a leap year"),
    "kWh": Bound(0, 3500, "a year's sun: 3,500 on what follows it in a desert", "glass"),
    "kWh/m2": Bound(0, 3500, "a year's sun: 3,500 on what follows it in a desert"),
    "kg": Bound(-1e7, 1e7, "carbon dioxide of one building's energy"),
    "km": Bound(0, 20_040, "half round the Earth"),
    "lx": Bound(0, 200_000, "daylight: the sun high in a clear sky gives 100,000 to 130,000"),
    "m": Bound(-430, 9000, "from the Dead Sea's shore to the highest mountain"),
    "m2": Bound(0, 1e5, "film, glass, floors: 500 panes of 36 m2 would be 18,000"),
    "min": Bound(0, 1e6, "work: two years of one person's days and nights"),
    "mm": Bound(0, 500_000, "the longest roll that a job may name"),
    "nm": Bound(100, 100_000, "wavelengths of light and heat"),
    "years": Bound(0, 1e6, "study periods are 40 years at most, waiting for a payback is not"),
}

#: By a path, or how one ends; the longest that fits is taken, and before any unit.
BY_PATH = {
    "choice.limits.darkest_visible_transmittance_percent": Bound(0, 100, "percent"),
    "choice.limits.most_mirrored_visible_reflectance_percent": Bound(0, 100, "percent"),
    "choice.limits.budget": AMOUNT,
    "choice.changes[].value": AMOUNT,
    "excluded[].value": AMOUNT,
    "excluded[].limit": AMOUNT,
    "candidates[].panes": COUNT,
    "candidates[].relief.*": Bound(-1, 1, "a part, negative where an option makes it worse"),
    "candidates[].overall_relief": Bound(-1, 1, "a mean of such parts"),
    "assumptions[].low": Bound(-100, 1e5, "rates of work and ranges, in many units"),
    "assumptions[].high": Bound(-100, 1e5, "rates of work and ranges, in many units"),
    "assumptions[].value": Bound(-100, 1e5, "rates of work and ranges, in many units"),
    "faces[].direct_sun_hours[]": Bound(0, 24, "hours of a day"),
    "panes[].direct_sun_hours[]": Bound(0, 24, "hours of a day"),
    "faces[].mended_fraction": Bound(-1, 1, "by how much a year's sun changed, either way"),
    "faces[].azimuth_deg": Bound(0, 360, "clockwise from north"),
    "faces[].tilt_deg": Bound(0, 180, "up to down"),
    "weather.latitude_deg": Bound(-90, 90, "pole to pole"),
    "weather.longitude_deg": Bound(-180, 180, "either way from Greenwich"),
    "weather.climb_m": Bound(-9000, 9000, "the highest mountain, up or down"),
    "faces[].monthly_kwh_m2[]": Bound(0, 450, "12 a day on level ground, which a tilt can gather more of"),
    "lsg": Bound(0, 100, "light over heat: large only where hardly any heat comes in"),
    "spectra.files[].lite": COUNT,
    "spectra.files[].points": COUNT,
    "panes[].quantity": Bound(1, 500, "what a row may say"),
    "panes[].rank": Bound(1, 1e5, "a place among the rows"),
    "panes[].number": Bound(0, 500, "which of its row"),
    "panes[].area_m2": Bound(1e-4, 36, "20 mm to 6 m each way, cut by its shape"),
    "screen.limit_k": Bound(5, 250, "what glass bears: 20 K wired to 200 K tempered (NF DTU 39, as quoted)"),
    "findings[].value": Bound(-90, 1e5, "in one of many units: K, 1, m2, mm, m, years, degrees"),
    "findings[].least": Bound(-90, 1e5, "in one of many units"),
    "findings[].limit": Bound(-90, 1e5, "in one of many units"),
    "asked[].value": Bound(-90, 1e5, "in one of many units"),
    "asked[].least": Bound(-90, 1e5, "in one of many units"),
    "asked[].limit": Bound(-90, 1e5, "in one of many units"),
    "which_panes.knee": COUNT,
    "which_panes.panes[].part_of_price": SIGNED,
    "peak_cut_fraction": Bound(-1, 1, "a part, negative where an option lets more in"),
    "summer_kept_out_kwh": Bound(-3500, 3500, "a year's sun, negative where more comes in", "glass"),
    "winter_kept_out_kwh": Bound(-3500, 3500, "a year's sun, negative where more comes in", "glass"),
    "kept_out_warm_kwh": Bound(-3500, 3500, "a year's sun, negative where more comes in", "glass"),
    "kept_out_cold_kwh": Bound(-3500, 3500, "a year's sun, negative where more comes in", "glass"),
    "pane_adds_k": Bound(-30, 60, "a pane colder or warmer than the room, felt in part"),
    "summer_months[]": Bound(1, 12, "months"),
    "panes_filmed": COUNT,
    "asked.fading.left": Bound(0, 1.5, "film takes light away, or hardly adds"),
    "drivers[].correlation": Bound(-1, 1, "a correlation"),
    "saving_per_year": SIGNED,
    "npv": SIGNED,
    "cash[]": SIGNED,
    "options[].years": Bound(1, 40, "the study periods a job may name"),
    "cooling_kwh": Bound(0, 10_000, "1.1 kW on each square metre, all the year", "floor"),
    "heating_kwh": Bound(0, 10_000, "1.1 kW on each square metre, all the year", "floor"),
    "carried_off_kwh": Bound(-10_000, 10_000, "1.1 kW on each square metre, all the year", "floor"),
    "peak_cooling_w": Bound(0, 10_000, "many panes on a small floor", "floor"),
    "cooling_capacity_w": Bound(0, 1e6, "what a job may say"),
    "sun_in_view.by_month_and_clock_h[][]": Bound(0, 31, "an hour on each day of a month"),
    "by_window.distance_m": Bound(0, 100, "within a room"),
    "sun_in_view.distance_m": Bound(0, 100, "within a room"),
    "views.outdoors_brighter": FACTOR,
    "privacy_ratio": Bound(0, 1e6, "without end for glass that mirrors and lets nothing through"),
    "brightness_beside_bare": Bound(0, 100, "a mirror beside bare glass, which sends back 4 % or more"),
    "pieces[].quantity": COUNT,
    "pack": Bound(0, 1e5, "rolls sold together; what a bottle or box holds"),
    "packs": COUNT,
    "used_length_mm": Bound(0, 5e8, "all rolls of a job"),
    "cutting.gap_fraction": Bound(0, 1e3, "a bound may be low where film costs next to nothing"),
    "which_panes.within_budget[].gap": Bound(0, 1e3, "a bound may be far off where little fits"),
    "cutting.stages": Bound(2, 3, "guillotine stages"),
    "seam.part": Bound(1, 400, "6 m in strips of 20 mm"),
    "seam.parts": Bound(2, 400, "6 m in strips of 20 mm"),
    "offcuts[].roll": COUNT,
    "materials[].quantity": Bound(0, 1e6, "litres, blades, cloths"),
    "labour.crew": Bound(1, 20, "what a job may say"),
    "people": Bound(1, 20, "hands on one pane"),
    "labour.panes[].quantity": COUNT,
    "labour.panes[].each_min": Bound(0, 20_000, "one pane: two weeks"),
    "slowed_by.*": Bound(0.1, 20, "a tower, a first-timer, a second person"),
    "schedule.slots[].count": COUNT,
    "schedule.least_glass_c": Bound(-20, 30, "what films are fitted above"),
    "price.lines[].quantity": Bound(0, 1e7, "hours, metres, rolls, or what an extra counts"),
    "price.lines[].amount": SIGNED,
    "price.lines[].rate": SIGNED,
    "pairs[].filmed": Bound(0, 1e6, "what a meter may show"),
    "pairs[].bare": Bound(0, 1e6, "what a meter may show"),
    "readings.compared[].share": Bound(0, 1e9, "whatever two meters showed"),
    "pairs[].share": Bound(0, 1e9, "whatever two meters showed"),
    "revision.since.run": Bound(1, 999_999, "a run's number"),
    "revision.panes[].count": COUNT,
}

#: Records whose values must rise.
RISING = (("p10", "p50", "p90"), ("low", "likely", "high"), ("low", "middle", "high"))


@dataclass(frozen=True)
class Leaf:
    """A number of the results: whether it is money, written as text, and its unit."""

    money: bool
    unit: str | None


def _numbers(kind: Any, path: str, texts: tuple[str, ...]) -> Iterator[tuple[str, Leaf]]:
    """Go through the numbers below a type, each by its path and the texts of the fields on the way."""
    origin, parts = typing.get_origin(kind), typing.get_args(kind)
    if origin in (typing.Union, types.UnionType):
        for part in parts:
            yield from _numbers(part, path, texts)
    elif origin is typing.Annotated:
        yield from _numbers(parts[0], path, texts)
    elif origin in (list, tuple):
        for part in parts:
            yield from _numbers(part, f"{path}[]", texts)
    elif isinstance(origin, type) and issubclass(origin, Mapping):
        yield from _numbers(parts[1], f"{path}.*", texts)
    elif isinstance(kind, type) and issubclass(kind, BaseModel):
        below = {name: text for record in reversed(kind.__mro__) for name, text in meanings(record).items()}
        for name, field in kind.model_fields.items():
            text = below.get(name, field.description or "")
            yield from _numbers(field.annotation, f"{path}.{field.alias or name}", (*texts, text))
    elif kind in (int, float, Decimal, Fraction, Any):
        units = [found[-1] for text in texts if (found := re.findall(r"\[([^\]]+)\]", text))]
        yield path, Leaf(kind is Decimal, units[-1] if units else None)


@cache
def numbers() -> dict[str, Leaf]:
    """Return every number that results may hold, by its path; those of the job as typed have its records."""
    return {path: leaf for name, entry in sections().items() for path, leaf in _numbers(entry.type, name, ())}


@cache
def _of_job() -> dict[str, Leaf]:
    """Return every number that a job may state, by its path."""
    return dict(_numbers(Job, "job", ()))


def _ways(paths: Iterable[str]) -> frozenset[str]:
    """Return all that leads to some paths, and these."""
    return frozenset(way for path in paths for way in (path, *stems(path)))


@cache
def ends(path: str) -> tuple[str, ...]:
    """Return how a path ends, the longest first; a record of a range also stands for what is in it."""
    whole = re.sub(r"\.(p10|p50|p90|low|likely|middle|high|\w+_day|\w+_night)$", "", path)
    found = [one[at.end() :] for one in (path, whole) for at in re.finditer(r"^|\.", one)]
    return tuple(sorted(set(found), key=len, reverse=True))


@cache
def bound(path: str) -> Bound | None:
    """Return the bound of a number by its path, without names and places; None where there is none."""
    if path not in numbers():
        return None
    listed = next((BY_PATH[end] for end in ends(path) if end in BY_PATH), None)
    return listed or BY_UNIT.get(numbers()[path].unit or "")


def _leaves(data: Any, path: str, told: str, ways: frozenset[str]) -> Iterator[tuple[str, str, Any]]:
    """Go through the leaves of data: the path without names, the path as told, what stands there."""
    if isinstance(data, Mapping):
        for key, value in data.items():
            way = f"{path}.{key}" if f"{path}.{key}" in ways else f"{path}.*"
            yield from _leaves(value, way, f"{told}.{key}", ways)
    elif isinstance(data, list):
        for name, value in zip(names(data), data, strict=True):
            yield from _leaves(value, f"{path}[]", f"{told}[{name}]", ways)
    else:
        yield path, told, data


def _largest_price(job: Any) -> float:
    """Return the largest amount of money that a job states; not under that of a roll of film."""
    money = {path for path, leaf in _of_job().items() if leaf.money}
    stated = _leaves(job, "job", "job", _ways(_of_job()))
    return max([1000.0, *(float(value) for path, _, value in stated if path in money and value is not None)])


def _falling(data: Any, path: str) -> Iterator[str]:
    """Go through the records whose values do not rise as they must."""
    if isinstance(data, Mapping):
        for keys in RISING:
            told = {key: data[key] for key in keys if data.get(key) is not None}
            values = [Decimal(str(value)) for value in told.values()]
            if set(keys) <= set(data) and values != sorted(values):
                yield f"{path}: {', '.join(f'{key} {value}' for key, value in told.items())} do not rise"
        for key, value in data.items():
            yield from _falling(value, f"{path}.{key}")
    elif isinstance(data, list):
        for name, value in zip(names(data), data, strict=True):
            yield from _falling(value, f"{path}[{name}]")


def beyond(results: Mapping[str, Any]) -> list[str]:
    """Return what is wrong with a job's results: numbers beyond their bounds, without one, not in order.

    Parameters
    ----------
    results
        The data of results.json.
    """
    glass = sum(pane["area_m2"] * pane["quantity"] for pane in results["panes"])
    floor = sum(room.get("floor_area_m2") or 0 for room in results["rooms"])
    scale = {"": 1.0, "glass": glass, "floor": floor, "amount": _largest_price(results["job"])}
    ways = _ways(numbers())
    wrong = []
    for name in sections():
        for path, told, value in _leaves(results[name], name, name, ways):
            money = isinstance(value, str) and path in numbers() and numbers()[path].money
            if not money and (isinstance(value, bool) or not isinstance(value, (int, float))):
                continue
            number, found = float(value), bound(path)
            if found is None:
                wrong.append(f"{told}: {value} has no bound")
            elif not found.low * scale[found.of] <= number <= found.high * scale[found.of]:
                wrong.append(f"{told}: {value} is not within {found.low:g} to {found.high:g} ({found.why})")
        wrong += _falling(results[name], name)
    return wrong
