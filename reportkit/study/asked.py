"""What a client asked about, as an option leaves it: one figure or two for each kind, told on page one.

Heat is told by the watts at the worst hour and bills by the yearly saving, which every option carries anyway.
The others are told by what `reportkit.study.relief` compares, over the panes complained of: glare as the
light at the eye, a mean over the daylight hours somebody is there; fading as the share of the damage-weighted
light (ISO 9050) that is left of what bare glass lets in; privacy as how much shows from outside.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

import numpy as np

from reportkit.study import dazzle, sight
from reportkit.study.presence import occupied
from reportkit.study.relief import areas, parts

if TYPE_CHECKING:
    from reportkit.study import Study
    from reportkit.study.options import Option

Figures = dict[str, float | tuple[str, ...]]


def _glare(study: Study, option: Option) -> Figures:
    by_day = occupied(study.job, study.weather) & study.sun.position.up[:, None]
    alike = np.array([pane.quantity for pane in study.job.panes]) * study.complained
    hours = float((by_day.sum(axis=0) * alike).sum())
    light = float((dazzle.at_the_eye(study.situation, option) * alike).sum())
    return {"light_at_eye_lx": light / hours if hours else 0.0}


def _fading(study: Study, option: Option) -> Figures:
    return {"left": 1.0 - float(parts(study.baseline, option, "fading").sum())}


def _privacy(study: Study, option: Option) -> Figures:
    weights = areas(study.job) * study.complained
    whole = float(weights.sum()) or 1.0  # the room complained of may have no panes
    shown: Figures = {
        name: float((sight.by_pane(study.situation, option, when) * weights).sum()) / whole
        for name, when in (("shows_by_day", "day"), ("shows_after_dark", "dark"))
    }
    filmed = zip(study.job.panes, option.film_by_pane, study.complained, strict=True)
    bare = tuple(pane.id for pane, film, mine in filmed if mine and not film)
    return {**shown, "without_film": bare if option.films else ()}


FIGURES: dict[str, Callable[[Study, Option], Figures]] = {
    "glare": _glare,
    "fading": _fading,
    "privacy": _privacy,
}


def asked(study: Study, option: Option) -> dict[str, Figures]:
    """Return the figures of an option by kind of complaint: mean light [lx], shares [1], panes by id.

    Parameters
    ----------
    study
        The job's study; the kinds are those of its complaint.
    option
        Bare glass or film; a shade has none of these figures.
    """
    return {kind: FIGURES[kind](study, option) for kind in study.job.complaint.kinds if kind in FIGURES}
