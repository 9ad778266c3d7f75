"""A weather file's radiation put right before it is used: columns, clock, beam, and what is missing.

Nothing is mended silently: every change comes with a sentence for whoever reads the results. What no sum or
published correlation can give (global radiation where nothing else is known) stays missing.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np

from reportkit.base.arrays import Array, Mask
from reportkit.base.translatable import english, translatable
from reportkit.climate.closure import CLOSES, RADIATION, closure, drift, sun
from reportkit.climate.raw import Raw
from reportkit.climate.raw import shifted as moved
from reportkit.climate.split import beam
from reportkit.climate.weather import standard_pressure

#: Lower than this the sun's cosine divides too little to tell a beam [1].
LOW = 0.05

#: From so many minutes on global radiation alone tells that a clock is off [min].
_DRIFT = 25

_NAMES = {
    "ghi": english("global radiation"),
    "dni": english("direct radiation"),
    "dhi": english("diffuse radiation"),
}


def mended(raw: Raw) -> tuple[Raw, tuple[str, ...], bool]:
    """Return rows whose radiation fits together, what was done to them, and whether any was changed."""
    table = {name: raw.table[name].to_numpy(dtype=float) for name in RADIATION}
    told: list[str] = []
    on = sun(raw.times, raw.site)
    fit = closure(table, on)
    times = raw.times
    if fit is not None:
        if fit.columns != RADIATION:
            wrong = [name for name, other in zip(RADIATION, fit.columns, strict=True) if name != other]
            table = {name: table[other] for name, other in zip(RADIATION, fit.columns, strict=True)}
            told.append(_swapped(wrong))
        if fit.minutes:
            times = moved(raw.times, fit.minutes)
            on = sun(times, raw.site)
            told.append(_clock(fit.minutes))
        if fit.beam_minutes:
            table["dni"] = _direct(table, on.at(0.0))
            told.append(
                translatable(
                    "the weather file's direct radiation was computed with a sun {minutes} minutes "
                    "off: it is computed anew from global and diffuse",
                    minutes=abs(fit.beam_minutes),
                )
            )
        if fit.miss > CLOSES:
            told.append(
                translatable(
                    "the weather file's radiation does not add up (global against direct and diffuse: "
                    "{miss:.0%} off): ask where it comes from before east and west are told apart by it",
                    miss=fit.miss,
                )
            )
    late = -drift(table["ghi"], on)
    if abs(late) >= _DRIFT and (fit is None or fit.miss > CLOSES):
        told.append(
            translatable(
                english(
                    "the weather file's radiation comes about {minutes} minutes later than the sun: its "
                    "clock may be off, and east and west are then confused in part"
                )
                if late > 0
                else english(
                    "the weather file's radiation comes about {minutes} minutes earlier than the sun: its "
                    "clock may be off, and east and west are then confused in part"
                ),
                minutes=abs(late),
            )
        )
    told += _filled(table, on.at(0.0), times, raw)
    changed = fit is not None and bool(fit.minutes or fit.beam_minutes or fit.columns != RADIATION)
    return replace(raw, times=times, table=raw.table.assign(**table)), tuple(told), changed


def _swapped(wrong: list[str]) -> str:
    if len(wrong) == 2:
        return translatable(
            "the weather file has {first} and {second} in each other's column: they are put back",
            first=translatable(_NAMES[wrong[0]]),
            second=translatable(_NAMES[wrong[1]]),
        )
    return translatable(
        "the weather file's three columns of radiation were in a wrong order: they are put back"
    )


def _clock(minutes: int) -> str:
    return translatable(
        english(
            "the weather file's clock was {minutes} minutes behind the sun: its hours are moved, or "
            "east and west would be confused in part"
        )
        if minutes > 0
        else english(
            "the weather file's clock was {minutes} minutes ahead of the sun: its hours are moved, or "
            "east and west would be confused in part"
        ),
        minutes=abs(minutes),
    )


def _direct(table: dict[str, Array], level: Array) -> Array:
    high = level > LOW
    beam = np.where(high, (table["ghi"] - table["dhi"]) / np.where(high, level, 1.0), 0.0)
    return np.where(np.isnan(beam), np.nan, np.maximum(beam, 0.0))


def _filled(table: dict[str, Array], level: Array, times: Any, raw: Raw) -> list[str]:
    """Fill radiation that the other columns give, in place, and say so."""
    told = []
    height = np.maximum(level, 0.0)
    gone = {name: ~np.isfinite(table[name]) for name in RADIATION}

    def fill(name: str, rows: Mask, values: Array, say: str) -> None:
        table[name] = np.where(rows, values, table[name])
        hours = int((rows & (height > 0.0)).sum())
        if hours:
            told.append(translatable(say, quantity=translatable(_NAMES[name]), hours=hours))

    summed = english(
        "{quantity} of {hours} daylight hours is missing in the weather file: it is "
        "what the other two come to"
    )
    fill("ghi", gone["ghi"] & ~gone["dni"] & ~gone["dhi"], table["dhi"] + table["dni"] * height, summed)
    rest = np.maximum(table["ghi"] - table["dni"] * height, 0.0)
    fill("dhi", gone["dhi"] & ~gone["dni"] & ~gone["ghi"], rest, summed)
    fill("dni", gone["dni"] & ~gone["dhi"] & ~gone["ghi"], _direct(table, level), summed)
    both = gone["dni"] & gone["dhi"] & ~gone["ghi"]
    if both.any():
        zenith = np.degrees(np.arccos(np.clip(level, -1.0, 1.0)))
        pressure = standard_pressure(raw.site.elevation)
        table["dni"] = np.where(
            both,
            beam(np.maximum(table["ghi"], 0.0), zenith, times.day_of_year, pressure=pressure),
            table["dni"],
        )
        rest = np.maximum(table["ghi"] - table["dni"] * height, 0.0)
        table["dhi"] = np.where(both, rest, table["dhi"])
        told.append(
            translatable(
                "direct and diffuse radiation of {hours} daylight hours is missing in the weather file: it "
                "is split from global by a published correlation (Maxwell 1987), which takes 3 to 9 % of the "
                "beam off walls",
                hours=int((both & (height > 0.0)).sum()),
            )
        )
    return told
