"""The years that a job's ranges are taken over, and what an option does under the sun of another year.

A weather file is one year. Monthly means stand for several that differ in their spells: each is as likely.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import compress
from typing import TYPE_CHECKING

import numpy as np

from reportkit.base.arrays import Array, Mask
from reportkit.study import options as opt
from reportkit.study.shades import shade_option
from reportkit.study.solar import Sky, under

if TYPE_CHECKING:
    from reportkit.climate import Weather
    from reportkit.job import LoadedJob
    from reportkit.study.filmed import Filmed
    from reportkit.study.options import Gains, Option
    from reportkit.study.solar import Solar


def skies(loaded: LoadedJob, weathers: tuple[Weather, ...], first: Solar) -> tuple[Sky, ...]:
    """Return the years and their sun; ``first`` is the sun of the first of ``weathers``."""
    others = (Sky(weather, under(loaded, weather, first)) for weather in weathers[1:])
    return (Sky(weathers[0], first), *others)


def by_year(
    options: tuple[Option, ...], skies: tuple[Sky, ...], mine: Mask, loaded: LoadedJob, filmed: Filmed
) -> Array:
    """Return the heat through some panes by option, year and hour, (O, Y, H) [W].

    ``mine`` (P,) is the mask of the panes; the first year is the one that the options' own gains are of.
    """
    first = [entry.gains.total(mine) for entry in options]
    panes = tuple(compress(loaded.job.panes, mine))
    part = replace(loaded, job=loaded.job.model_copy(update={"panes": panes}))
    placed = [replace(entry, film_by_pane=tuple(compress(entry.film_by_pane, mine))) for entry in options]
    others = []
    for sky in skies[1:]:
        sun = sky.sun.only(mine)
        others.append([gains(entry, sun, part, filmed).total() for entry in placed])
    return np.stack([first, *others], axis=1)


def gains(option: Option, sun: Solar, loaded: LoadedJob, filmed: Filmed) -> Gains:
    """Return the heat of what an option has placed under any hours' sun."""
    placed = opt.placed_gains(loaded, filmed, option.film_by_pane, sun)
    if option.kind != "shade":
        return placed
    spec = next(spec for spec in loaded.job.shades if spec.kind == option.id)
    return shade_option(spec, replace(option, gains=placed), loaded, filmed, sun).gains
