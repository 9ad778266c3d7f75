"""Findings of the sun in view: when its disc stands in the window of a seat, and how bright it is there."""

from __future__ import annotations

import datetime as dt
from typing import TYPE_CHECKING

from reportkit.findings.result import Result
from reportkit.physics.room.glare import SUN_FILTER
from reportkit.study.bywindow import DISTANCE_M
from reportkit.study.dazzle import in_view

if TYPE_CHECKING:
    from reportkit.study import Study


class DiscSeen(Result):
    """The sun's disc through the pane under one option."""

    id: str
    """The option."""
    t_visible: float
    """Visible transmittance at the angle at which the sun comes in then [1]."""
    disc_cd_m2: float | None
    """Luminance of the disc [cd/m2]; null where glass or film scatters, and the pane itself shines."""


class SunInView(Result):
    """When the sun itself is seen from a seat that faces a pane."""

    pane: str
    """The pane complained of in which it is seen longest."""
    distance_m: float
    """How far the seat is from it [m]."""
    whole_year: bool
    """Whether a year is counted with its clouds; else the 21st of each month without."""
    hours: float
    """Hours it shines in view while somebody is there [h]."""
    by_month_and_clock_h: tuple[tuple[float, ...], ...]
    """The same by month and hour of the clock, twelve by twenty-four [h]."""
    time: dt.datetime | None
    """The brightest of them; null where there is none."""
    filter_t_visible: float
    """Most that a filter made to look at the sun through lets in [1]."""
    options: tuple[DiscSeen, ...]
    """The disc at that hour, by option; none where there is no such hour."""


def fill_sun_in_view(study: Study) -> SunInView | None:
    """Return when the sun is in view; None where glare is not complained of."""
    if "glare" not in study.job.complaint.kinds:
        return None
    seen = in_view(study.situation, tuple(entry for entry in study.options if entry.kind != "shade"))
    return SunInView(
        pane=study.job.panes[seen.pane].id,
        distance_m=DISTANCE_M,
        whole_year=study.weather.kind != "clear_sky",
        hours=float(seen.hours.sum()),
        by_month_and_clock_h=seen.hours.tolist(),
        time=None if seen.at is None else study.weather.times[seen.at],
        filter_t_visible=SUN_FILTER,
        options=tuple(
            DiscSeen(id=name, t_visible=share, disc_cd_m2=bright) for name, share, bright in seen.discs
        ),
    )
