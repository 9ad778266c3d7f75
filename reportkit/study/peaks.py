"""Where the extremes of a year come from: its own hours, or clear days where the year is made of means.

A year made from monthly means has no extremes: its energies count, its peaks do not. What is placed on the
panes stays as it is; only the hours differ.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from reportkit.study import options as opt
from reportkit.study.screening import Screenings, harsher, screenings
from reportkit.study.shades import shade_option
from reportkit.study.solar import Sky, clear_sky

if TYPE_CHECKING:
    from reportkit.climate import Weather
    from reportkit.job import LoadedJob
    from reportkit.study.options import Gains, Option
    from reportkit.study.situation import Situation
    from reportkit.study.solar import Solar


def sky(loaded: LoadedJob, weather: Weather, sun: Solar) -> Sky:
    """Return the hours that peaks are read from."""
    return clear_sky(loaded) if weather.kind == "normals" else Sky(weather, sun)


def gains(situation: Situation, option: Option) -> Gains:
    """Return the heat of what an option has placed, at the hours of the peaks."""
    loaded, filmed, sun = situation.loaded, situation.filmed, situation.peaks.sun
    if sun is situation.sun:
        return option.gains
    placed = opt.placed_gains(loaded, filmed, option.film_by_pane, sun)
    if option.kind != "shade":
        return placed
    spec = next(spec for spec in loaded.job.shades if spec.kind == option.id)
    return shade_option(spec, replace(option, gains=placed), loaded, filmed, sun).gains


def screens(situation: Situation) -> Screenings:
    """Return the breakage screen of every pane with every film.

    A year of means has its months' air and clear days the sun: the harsher of both counts.
    """
    charts = {name: spec.chart for name, spec in situation.films.items()}

    def under(weather: Weather, sun: Solar) -> Screenings:
        return screenings(situation.loaded, situation.filmed, weather, sun, charts)

    peaks = situation.peaks
    found = under(peaks.weather, peaks.sun)
    if peaks.sun is situation.sun:
        return found
    return harsher(found, under(situation.weather, situation.sun))
