"""What the meters showed after the work, beside what was computed for the same glass and light."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from reportkit.job.model import OPEN
from reportkit.physics import sun
from reportkit.physics.glass.readings import Interval, Meter, Verdict, expected_share, judge, mean_share
from reportkit.study import translate

if TYPE_CHECKING:
    from reportkit.job import LoadedJob
    from reportkit.job.model import Reading
    from reportkit.study.filmed import Filmed
    from reportkit.study.options import Option


@dataclass(frozen=True)
class Pair:
    """One pair of readings, its ratio and the range computed for it [1].

    ``aoi`` is the angle at which the sun met the pane [deg], nan where it did not.
    """

    reading: Reading
    share: float
    low: float
    high: float
    aoi: float


@dataclass(frozen=True)
class Compared:
    """All pairs by one kind of meter behind one film on one glazing, and what they say.

    ``in_open``: the other readings were taken in the open, not behind bare glass.
    """

    meter: Meter
    film: str
    glazing: str
    in_open: bool
    pairs: tuple[Pair, ...]
    share: Interval
    verdict: Verdict

    @property
    def expected(self) -> tuple[float, float]:
        """Mean ends of the ranges computed for the pairs [1]."""
        lows, highs = ([getattr(pair, end) for pair in self.pairs] for end in ("low", "high"))
        return float(np.exp(np.mean(np.log(lows)))), float(np.exp(np.mean(np.log(highs))))


@dataclass(frozen=True)
class LeftOut:
    """A pair that says nothing: ``no_film``, ``beside_has_film``, ``sun_down`` or ``nothing_through``."""

    reading: Reading
    why: str


@dataclass(frozen=True)
class After:
    """The readings of a job: compared film by film and meter by meter, and those left out."""

    compared: tuple[Compared, ...] = ()
    left_out: tuple[LeftOut, ...] = ()


def after(loaded: LoadedJob, filmed: Filmed, chosen: Option) -> After:
    """Return what a job's readings say.

    Parameters
    ----------
    loaded
        The job with its readings.
    filmed
        Its glass bare and with each film.
    chosen
        Which pane has which film.
    """
    job = loaded.job
    entries = job.readings
    if not entries:
        return After()
    angles = _angles(loaded, entries)
    number = job.numbers
    groups: dict[tuple[Meter, str, str, bool], list[Pair]] = {}
    left_out = []
    for reading, aoi in zip(entries, angles, strict=True):
        index = number[reading.pane]
        film = chosen.film_by_pane[index]
        glazing = job.panes[index].glazing
        other = None if reading.beside == OPEN else chosen.film_by_pane[number[reading.beside]]
        if aoi is None:
            left_out.append(LeftOut(reading, "sun_down"))
            continue
        if film is None or other is not None:
            left_out.append(LeftOut(reading, "no_film" if film is None else "beside_has_film"))
            continue
        with_it = filmed[glazing, film].glazing
        assert with_it is not None  # an option puts a film only where it can go
        bare = None if reading.beside == OPEN else filmed[glazing, None].glazing
        low, high = expected_share(with_it, bare, reading.meter, aoi=aoi)
        if not low > 0:
            left_out.append(LeftOut(reading, "nothing_through"))
            continue
        pair = Pair(reading, reading.filmed / reading.bare, low, high, aoi)
        groups.setdefault((reading.meter, film, glazing, bare is None), []).append(pair)
    return After(tuple(_compared(*key, pairs) for key, pairs in groups.items()), tuple(left_out))


def _compared(meter: Meter, film: str, glazing: str, in_open: bool, pairs: list[Pair]) -> Compared:
    shares = [pair.share for pair in pairs]
    verdict = judge(shares, [(pair.low, pair.high) for pair in pairs])
    return Compared(meter, film, glazing, in_open, tuple(pairs), mean_share(shares), verdict)


def _angles(loaded: LoadedJob, entries: Sequence[Reading]) -> list[float | None]:
    """Return the sun's angle at each reading's pane: nan where it does not shine there, None at night."""
    import pandas as pd

    job = loaded.job
    times = pd.DatetimeIndex([entry.time for entry in entries]).tz_localize(
        loaded.clock, ambiguous=np.ones(len(entries), dtype=bool), nonexistent="shift_forward"
    )
    position = sun.position(
        times, latitude=loaded.latitude, longitude=loaded.longitude, elevation=loaded.elevation_m
    )
    face = {entry.id: entry for entry in job.faces}
    azimuth = [face[pane.face].bearing for pane in job.panes]
    tilt = [face[pane.face].tilt for pane in job.panes]
    cosine = sun.cos_incidence(position, surface_azimuth=azimuth, surface_tilt=tilt)
    lit = sun.sunlit_fraction(position, translate.shade(job, job.panes))
    number = job.numbers
    angles: list[float | None] = []
    for row, entry in enumerate(entries):
        column = number[entry.pane]
        shines = lit[row, column] > 0 and cosine[row, column] > 0
        angle = math.degrees(math.acos(float(cosine[row, column]))) if shines else math.nan
        angles.append(angle if bool(position.up[row]) else None)
    return angles
