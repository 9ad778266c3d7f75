"""Values nobody gave: each is filled in, or left to its model's default, and listed as an assumption.

Marks: a named source, ``the program`` for its own rule, or ``common practice, no source``.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from pydantic import BaseModel

from reportkit.base.translatable import Quantity, codes, english, translatable
from reportkit.job.model import GlazingSpec, Job

COMMON = english("common practice, no source")
PROGRAM = english("the program")

#: Film of this thickness [um] and more is safety film and stays further from the frame (trade association's
#: guide).
SAFETY_UM = 200
Note = Callable[..., None]


@dataclass(frozen=True)
class Assumption:
    """A value nobody gave.

    Attributes
    ----------
    field
        The field it stands for.
    value
        The value used, as text with its unit.
    mark
        Where it comes from: a named source, or ``common practice, no source``.
    why
        Why this one.
    """

    field: str
    value: str
    mark: str
    why: str


def fill(job: Job) -> tuple[Job, tuple[Assumption, ...]]:
    """Return the job with its open choices filled in, and one assumption for each default used.

    Parameters
    ----------
    job
        A job that passed every rule.
    """
    us = job.units == "us"
    assumed: list[Assumption] = []

    def note(field: str, value: str, why: str, mark: str = COMMON) -> None:
        assumed.append(Assumption(field, value, mark, why))

    filled: dict[str, Any] = {}
    usual = translatable(
        english("usual where units are US customary") if us else english("usual where units are metric")
    )
    if job.paper is None:
        filled["paper"] = "letter" if us else "a4"
        note("paper", filled["paper"], usual)
    if job.rating is None:
        filled["rating"] = "nfrc" if us else "en"
        note("rating", filled["rating"], usual)
    filled["glazings"] = tuple(_rated(glazing, filled.get("rating", job.rating)) for glazing in job.glazings)
    if job.locale is None:
        countries = {"en": "en_US" if us else "en_GB"}
        filled["locale"] = countries.get(job.language, job.language.replace("-", "_"))
        note("locale", filled["locale"], english("from language and units"))
    else:
        filled["locale"] = job.locale.replace("-", "_")
    if not job.compare:
        filled["compare"] = tuple(film.id for film in job.films)
        if job.films:
            note("compare", ", ".join(filled["compare"]), english("no films named: all of them"), PROGRAM)
    if job.own_home and job.building.paid_work is None:
        filled["building"] = job.building.model_copy(update={"paid_work": False})
        note(
            "building.paid_work", english("no"), english("no business: people fit their own windows"), PROGRAM
        )
    fitting: dict[str, Any] = {}
    typed = job.fitting.edge_gap
    if typed is None:
        fitting["edge_gap"] = Fraction(254, 160) if us else Fraction(3, 2)
        why = translatable(
            "bare edge of glass on each side, {low:.0f} to {high:.0f} is usual",
            low=Quantity(1, "mm"),
            high=Quantity(4, "mm"),
        )
        if any(film.worked_um < SAFETY_UM for film in job.films):
            note("fitting.edge_gap", english("1/16 in") if us else translatable("{mm:.1f} mm", mm=1.5), why)
    if job.fitting.edge_gap_safety is None:
        fitting["edge_gap_safety"] = typed if typed is not None else Fraction(254, 80) if us else Fraction(3)
        why = translatable(
            "film of {thickness:.0f} and more: up to {gap:.0f}",
            thickness=Quantity(SAFETY_UM, "µm"),
            gap=Quantity(5, "mm"),
        )
        if typed is None and any(film.worked_um >= SAFETY_UM for film in job.films):
            value = "1/8 in" if us else "3 mm"
            note("fitting.edge_gap_safety", value, why, english("trade association's guide"))
    if job.fitting.trim_allowance is None:
        first = job.fitting.fitter == "first_timer"
        steps = {True: (Fraction(254, 10), "1 in"), False: (Fraction(254, 20), "1/2 in")}[first]
        fitting["trim_allowance"] = steps[0] if us else Fraction(25 if first else 12)
        shown = steps[1] if us else ("25 mm" if first else "12 mm")
        if job.fitting.method == "trim_on_glass":
            note(
                "fitting.trim_allowance",
                shown,
                translatable(
                    english("extra film on each side, first-timer")
                    if first
                    else english("extra film on each side, trained")
                ),
            )
    if job.fitting.table is None:
        fitting["table"] = Fraction(24384, 10) if us else Fraction(2440)
        note(
            "fitting.table",
            english("8 ft") if us else english("2440 mm"),
            english("length of the cutting table"),
        )
    if job.fitting.keep_offcut is None:
        fitting["keep_offcut"] = (
            (Fraction(4064, 10), Fraction(6096, 10)) if us else (Fraction(400), Fraction(600))
        )
        note(
            "fitting.keep_offcut",
            english("16 x 24 in") if us else english("400 x 600 mm"),
            english("smaller off-cuts are thrown away"),
        )
    if job.energy is not None and job.energy.years is None:
        compared = job.compare or filled["compare"]
        years = math.ceil(max((film.life_years for film in job.films if film.id in compared), default=12))
        filled["energy"] = job.energy.model_copy(update={"years": years})
        why = translatable("the longest life of a film compared: one period for every option")
        note("energy.years", str(years), why, PROGRAM)
    for pane in job.panes:
        if pane.plastic:
            note(
                f"panes.{pane.id}.plastic",
                english("glass"),
                english("a pane of plastic: its numbers are those of glass"),
                PROGRAM,
            )
    filled["fitting"] = job.fitting.model_copy(update=fitting)
    _plain_defaults(job, note)
    _heat_defaults(job, note)
    return job.model_copy(update=filled), tuple(assumed)


def _rated(glazing: GlazingSpec, rating: str | None) -> GlazingSpec:
    """Return a glazing whose maker's numbers have the job's conditions where they have none of their own."""
    if glazing.known is None or glazing.known.conditions is not None:
        return glazing
    return glazing.model_copy(update={"known": glazing.known.model_copy(update={"conditions": rating})})


def _plain_defaults(job: Job, note: Note) -> None:
    """Note the defaults the models hold themselves."""

    def unset(record: BaseModel, name: str) -> bool:
        return name not in record.model_fields_set

    if unset(job.site, "ground_albedo"):
        note(
            "site.ground_albedo", _number(job.site.ground_albedo), english("grass, soil and paving together")
        )
    if unset(job.weather, "use"):
        note(
            "weather.use",
            job.weather.use,
            english("no weather chosen: clear days, so no yearly energy"),
            PROGRAM,
        )
    if unset(job.fitting, "method"):
        note("fitting.method", job.fitting.method, english("how the film is brought to size"))
    if job.fitting.date and (unset(job.fitting, "start") or unset(job.fitting, "finish")):
        note(
            "fitting.start",
            translatable("{first} to {last}", first=job.fitting.start, last=job.fitting.finish),
            english("hours of work on the day"),
        )
    if unset(job.fitting, "fitter"):
        note("fitting.fitter", job.fitting.fitter, english("sets minutes and allowances"))
    for face in job.faces:
        if unset(face, "tilt"):
            note(f"faces.{face.id}.tilt", "90°", english("upright"), PROGRAM)
    for horizon in job.horizons:
        counted = [tree for tree in horizon.trees if tree.outline]
        bare = horizon.leafless_months or any(tree.leafless_months for tree in counted)
        if counted:
            why = english("crowns without gaps down to the level, as high from every pane that names them")
            value = translatable("{count}", count=len(counted))
            note(f"horizons.{horizon.id}.trees", value, why, PROGRAM)
        if bare and unset(horizon, "leafless_transmittance"):
            value = _number(horizon.leafless_transmittance)
            note(f"horizons.{horizon.id}.leafless_transmittance", value, english("bare branches"))
    for sentence in trees_left_out(job):
        note("horizons.trees", english("not counted"), sentence, PROGRAM)
    for glazing in job.glazings:
        for number, lite in enumerate(glazing.lites, 1):
            if unset(lite, "strength"):
                note(
                    f"glazings.{glazing.id}.lites.{number}.strength",
                    lite.strength,
                    english("the weakest is assumed"),
                )
            if unset(lite, "glass"):
                note(
                    f"glazings.{glazing.id}.lites.{number}.glass",
                    lite.glass,
                    english("the commonest is assumed"),
                )
        for number, gap in enumerate(glazing.gaps, 1):
            if unset(gap, "gas"):
                note(f"glazings.{glazing.id}.gaps.{number}.gas", gap.gas, english("the commonest is assumed"))
    for film in job.films:
        at = f"films.{film.id}"
        if film.thickness_um is None:
            why = english("not known: cut, fitted and left to dry as safety film is, which takes longest")
            note(
                f"{at}.thickness_um",
                translatable("{um:.0f}", um=Quantity(film.worked_um, "µm")),
                why,
                PROGRAM,
            )
        if film.film_class is None:
            value = english("not known")
            note(f"{at}.film_class", value, english("it may hold metal"), PROGRAM)
        if unset(film, "life_years"):
            note(
                f"{at}.life_years",
                _number(film.life_years),
                english("inside 10 to 15 years, outside 5 to 10"),
            )
        if unset(film.rated, "on_thickness_mm"):
            value = translatable("{mm:g} mm clear glass", mm=film.rated.on_thickness_mm)
            note(f"{at}.rated.on_thickness_mm", value, english("what sheets are commonly rated on"))
        if unset(film.rated, "emissivity"):
            note(
                f"{at}.rated.emissivity",
                _number(film.rated.emissivity),
                english("a plastic face without a metal layer outside"),
            )
        if unset(film.rated, "solar_reflectance_film_side_percent"):
            other = film.rated.solar_reflectance_glass_side_percent
            value = (
                translatable("that of the glass side")
                if other is None
                else translatable("that of the glass side, {percent:g} %", percent=other)
            )
            note(
                f"{at}.rated.solar_reflectance_film_side_percent",
                value,
                english("not on the sheet; results bound it"),
            )
        if unset(film.rated, "visible_reflectance_film_side_percent"):
            other = film.rated.solar_reflectance_film_side_percent
            value = (
                translatable("that of the glass side")
                if other is None
                else translatable("that for the whole sun, {percent:g} %", percent=other)
            )
            note(f"{at}.rated.visible_reflectance_film_side_percent", value, english("not on the sheet"))
    for name in ("travel", "minimum_charge", "soap_per_litre", "blade_each", "sheet_each", "margin_percent"):
        if unset(job.prices, name):
            note(f"prices.{name}", "0", english("not given: nothing is charged for it"), PROGRAM)
    if unset(job.prices, "film_charged"):
        note("prices.film_charged", english("as bought"), english("a roll sold whole counts whole"), PROGRAM)
    if job.prices.overtime_after_hours is not None and unset(job.prices, "overtime_percent"):
        note("prices.overtime_percent", "50 %", english("half as much again"))
    if unset(job.prices, "tax"):
        note("prices.tax", "0 %", english("not given: no tax is added"), PROGRAM)
    frames = [pane.id for pane in job.panes if "frame" not in pane.model_fields_set]
    if any("edge" not in pane.model_fields_set for pane in job.panes):
        note("panes.edge", english("cut"), english("ordinary cut edges, undamaged as far as can be seen"))
    if frames:
        note(
            "panes.frame",
            english("metal"),
            translatable("not given for {panes}", panes=codes(frames)),
        )


def trees_left_out(job: Job) -> Iterator[str]:
    """Yield each tree that is not counted, as it is not known where it stands or how large it is."""
    for horizon in job.horizons:
        for number, tree in enumerate(horizon.trees, 1):
            if not tree.outline:
                yield translatable(
                    "Tree {number} of {horizon} is not in these numbers, as its place or size is not known: "
                    "they tell more sun than may come.",
                    number=number,
                    horizon=horizon.id,
                )


def _number(value: float) -> str:
    return translatable("{value:g}", value=value)


#: Why each value of a room's heat is what it is where nobody gave it; the rest needs no number.
_HEAT = {
    "ceiling": (
        translatable("{height:.1f}", height=Quantity(2.5, "m")),
        english("height of an ordinary room"),
    ),
    "mass": (english("medium"), english("brick inside, or timber floors on masonry")),
    "walls": (english("cavity_uninsulated"), english("ordinary older walls")),
    "roof": (english("none"), english("a heated room above is assumed")),
    "leakage": (english("ordinary"), english("neither sealed nor draughty")),
    "use": (english("home"), english("people and devices as in a home")),
    "occupied_hours": (english("7 to 23 h"), english("as in a home")),
    "too_hot": (
        translatable("{limit:.0f}", limit=Quantity(26, "°C")),
        english("hours above it count as hot"),
    ),
}
_COOLING = {
    "set_point": (translatable("{set_point:.0f}", set_point=Quantity(25, "°C")), english("common setting")),
    "efficiency": ("3", english("heat moved per electricity used, an ordinary unit in its season")),
}
_HEATING = {
    "set_point": (translatable("{set_point:.0f}", set_point=Quantity(20, "°C")), english("common setting")),
    "fuel": (english("electricity"), english("no fuel named")),
    "efficiency": ("1", english("all of the fuel's heat reaches the room")),
}
_MONEY = {
    "growth_percent": (english("0, 1 and 3 % a year"), english("low, likely and high rise of energy prices")),
    "discount_percent": ("3 %", english("worth of money later against now")),
    "removal": ("0", english("taking the film off at the end of its life costs nothing here")),
}


def _heat_defaults(job: Job, note: Note) -> None:
    """Note the defaults of rooms that have a heat balance, and of energy prices."""

    def list_unset(at: str, record: BaseModel | None, known: dict[str, tuple[str, str]]) -> None:
        for name, (value, why) in known.items():
            if record is not None and name not in record.model_fields_set:
                note(f"{at}.{name}", value, why)

    for room in job.rooms:
        at = f"rooms.{room.id}.heat"
        known = _HEAT.items()
        told_u = room.heat is not None and room.heat.roof_u_w_m2k is not None
        list_unset(at, room.heat, {name: row for name, row in known if name != "roof" or not told_u})
        if room.heat is not None:
            list_unset(f"{at}.cooling", room.heat.cooling, _COOLING)
            list_unset(f"{at}.heating", room.heat.heating, _HEATING)
    list_unset("energy", job.energy, _MONEY)
