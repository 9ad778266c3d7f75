"""Where the worst hour comes from: a year's own hours, or clear days where the year is made of means.

Of years made from monthly means ranges are told, but no single day or hour is anybody's: the hour shown is
one of a clear day. What is placed on the panes stays as it is; only the hours differ.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from reportkit.study import years
from reportkit.study.screening import Screenings, harsher, screenings
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
    sun = situation.peaks.sun
    if sun is situation.sun:
        return option.gains
    return years.gains(option, sun, situation.loaded, situation.filmed)


def screens(situation: Situation) -> Screenings:
    """Return the breakage screen of every pane with every film.

    A year of means has its months' air and clear days the sun: the harsher of both counts.
    """
    charts = {name: spec.chart for name, spec in situation.films.items()}

    def under(weather: Weather, sun: Solar) -> Screenings:
        return screenings(situation.loaded, situation.filmed, weather, sun, charts)

    peaks = situation.peaks
    at_peaks = under(peaks.weather, peaks.sun)
    if peaks.sun is situation.sun:
        return at_peaks
    return harsher(at_peaks, under(situation.weather, situation.sun))
