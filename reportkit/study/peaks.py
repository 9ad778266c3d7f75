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
    from reportkit.study import Study
    from reportkit.study.options import Gains, Option


def sky(study: Study) -> Sky:
    """Return the hours that peaks are read from."""
    if study.weather.kind != "normals":
        return Sky(study.weather, study.sun)
    return clear_sky(study.loaded)


def gains(study: Study, option: Option) -> Gains:
    """Return the heat of what an option has placed, at the hours of the peaks."""
    if study.peaks.sun is study.sun:
        return option.gains
    if option.kind != "shade":
        return opt.placed_gains(study.loaded, study.fittings, option.film_by_pane, study.peaks.sun)
    spec = next(spec for spec in study.job.shades if spec.kind == option.id)
    bare = replace(study.nothing, gains=study.peak_gains(study.nothing))
    return shade_option(spec, bare, study.loaded, study.fittings, study.peaks.sun).gains


def screens(study: Study) -> Screenings:
    """Return the breakage screen of every pane with every film.

    A year of means has its months' air and clear days the sun: the harsher of both counts.
    """
    charts = {name: spec.chart for name, spec in study.films.items()}

    def under(hours: Sky) -> Screenings:
        return screenings(study.loaded, study.fittings, hours.weather, hours.sun, charts)

    found = under(study.peaks)
    if study.peaks.sun is study.sun:
        return found
    return harsher(found, under(Sky(study.weather, study.sun)))
