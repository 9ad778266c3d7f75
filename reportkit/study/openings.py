"""How far and when the windows of a room are opened, for its balance.

Which panes open, and how far, stands in the survey; what is left open there is taken to be opened, because
that is what gives film the least to do. When is the room's own rule: while somebody is there (CIBSE TM59,
2017, from memory), by night where that is safe, and where a fan runs. A heated room's windows are opened on
cold days only where it is warmer still: whoever let out the sun's warmth at noon would heat in the evening.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from reportkit.base.arrays import Array
from reportkit.physics.room import adaptive, envelope
from reportkit.physics.room.opening import Opening
from reportkit.study.options import HEATING_BASE_C
from reportkit.study.presence import within

if TYPE_CHECKING:
    from reportkit.climate import Weather
    from reportkit.job.model import Body, Job, Pane


#: Multiples of the golden section less their wholes lie evenly, and follow no clock.
GOLDEN = (5**0.5 - 1) / 2
#: Over what windows of heated rooms are opened after cold days [C]: what people find best then, some 23 C,
#: and the 2 K more that they stand before they open one (Rijal et al. 2007, from memory).
ABOVE_IN_COLD = 25.0
#: Days are cold whose running mean of the outdoor air is under this [C]: then the sun helps to heat.
COLD = HEATING_BASE_C


@dataclass(frozen=True)
class Openable:
    """The panes of a room that open.

    ``glass`` is their area [m2]; ``told`` the free opening of those whose share is told, ``untold`` the glass
    of the others [m2]; ``height`` of one opening [m]; ``cross`` says whether they look two ways.
    """

    glass: float
    told: float
    untold: float
    height: float
    cross: bool

    @property
    def share(self) -> float | None:
        """Free opening as a share of the glass [1]; None where a pane's is not told."""
        return None if self.untold or not self.glass else self.told / self.glass

    def area(self, share: Array) -> Array:
        """Return the free opening [m2] where ``share`` [1] is that of the panes whose own is not told."""
        return share * self.glass if self.share is not None else self.told + share * self.untold


def openable(job: Job, room: str) -> Openable:
    """Return the panes of a room that open; those of which nothing is said are among them."""
    panes = [pane for pane in job.panes if pane.room == room and pane.opens is not False]
    areas = np.array([_glass(pane) for pane in panes])
    shares = [None if pane.opens_percent is None else pane.opens_percent / 100 for pane in panes]
    heights = [float(pane.height) / 1000 for pane in panes]
    return Openable(
        glass=float(areas.sum()),
        told=sum(share * area for share, area in zip(shares, areas, strict=True) if share is not None),
        untold=sum(area for share, area in zip(shares, areas, strict=True) if share is None),
        height=float(np.average(heights, weights=areas)) if panes else 0.0,
        cross=len({pane.face for pane in panes}) > 1,
    )


def _glass(pane: Pane) -> float:
    return pane.area_mm2 / 1e6 * pane.quantity


def opening(body: Body, panes: Openable, drawn: dict[str, Array], years: Sequence[Weather]) -> Opening | None:
    """Return what may be opened in a room and when, in each year; None where nothing can be."""
    if not panes.glass and body.night_fan is None:
        return None
    hour = np.asarray(years[0].times.hour)
    above = np.full((len(years), 1, len(hour)), body.opened_above)
    if body.heating is not None:  # who heats keeps the sun's warmth for the evening
        cold = np.stack([_running_mean(weather) for weather in years]) < COLD
        above[cold[:, None]] = max(body.opened_above, ABOVE_IN_COLD)
    # in each sample its own share of the hours, spread evenly over them
    done = (np.arange(len(hour)) * GOLDEN) % 1.0 < drawn["opening_habit"][..., None]
    night = within(hour, body.night_hours)
    there = within(hour, body.occupied_hours)
    return Opening(
        area=panes.area(drawn["opening_share"]),
        height=panes.height,
        cross=float(panes.cross),
        may_open=(there | night if body.open_by_night else there) & done,
        above=above,
        fan=(body.night_fan or 0.0) / 3600,
        fan_hours=night,
        air_heat=float(envelope.ventilation(3600.0, 1.0, elevation=years[0].elevation)),
    )


def wind(weather: Weather) -> Array:
    """Return the wind at 10 m, (H,) [m/s], the usual one where the weather tells none."""
    return np.where(np.isnan(weather.wind_speed), envelope.WIND, weather.wind_speed)


def by_windows_alone(body: Body, panes: Openable) -> bool:
    """Return whether a room has windows that open and no cooling, as EN 16798-1 wants for its limit."""
    return bool(panes.glass) and body.cooling is None


def adaptive_limits(weather: Weather) -> Array:
    """Return the limits of the three categories of EN 16798-1 at each hour, (3, H) [C]."""
    mean = _running_mean(weather)
    return np.stack([adaptive.upper_limit(mean, category) for category in adaptive.ABOVE])


def _running_mean(weather: Weather) -> Array:
    """Return the running mean of the outdoor air of the days before each hour's, (H,) [C]."""
    _, day = np.unique(np.asarray(weather.times.day_of_year), return_inverse=True)
    daily = np.bincount(day, weights=weather.temp_air) / np.bincount(day)
    return adaptive.running_mean(daily)[day]
