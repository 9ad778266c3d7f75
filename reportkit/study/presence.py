"""When somebody is in the rooms: the occupied hours of every pane's room, of the weather's own hours."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from reportkit.base.arrays import Mask, Whole
from reportkit.job.model import Body

if TYPE_CHECKING:
    from reportkit.climate import Weather
    from reportkit.job.model import Job


#: Where a room is not described it is taken to be used as a home is.
USUAL: tuple[int, int] = Body.model_fields["occupied_hours"].default


def within(hour: Whole, span: tuple[int, int]) -> Mask:
    """Return which clock hours lie from the first to before the last, past midnight if need be."""
    first, last = span
    if first <= last:
        return (hour >= first) & (hour < last)
    return (hour >= first) | (hour < last)


def occupied(job: Job, weather: Weather) -> Mask:
    """Return whether somebody is behind each of P panes at each of H hours, (H, P)."""
    hour = np.asarray(weather.times.hour)
    spans = {room.id: room.heat.occupied_hours if room.heat else USUAL for room in job.rooms}
    there = {name: within(hour, span) for name, span in spans.items()}
    return np.stack([there[pane.room] for pane in job.panes], axis=1)
