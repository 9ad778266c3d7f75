"""What stands before any option is made: the job, its weather and sun, the films and the glass they go on."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from reportkit.climate import Weather
    from reportkit.job import LoadedJob
    from reportkit.job.model import FilmSpec, Job
    from reportkit.study.filmed import Filmed
    from reportkit.study.solar import Sky, Solar


@dataclass(frozen=True, eq=False)
class Situation:
    """What every option of a job is measured in.

    ``weather`` and ``sun`` are those of the job's H hours, ``peaks`` the hours that peaks are read from.
    ``films`` are those compared and named, by id; ``filmed`` is the glass bare and with each of them.
    ``complained`` (P,) is the mask of the panes complained of.
    """

    loaded: LoadedJob
    weather: Weather
    sun: Solar
    films: Mapping[str, FilmSpec]
    filmed: Filmed
    peaks: Sky
    complained: np.ndarray

    @property
    def job(self) -> Job:
        """The job as read."""
        return self.loaded.job
