"""What `make` would stop at, found without making anything; and what a person should know all the same."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from reportkit.job import LoadedJob, load_job
from reportkit.job.model.decided import lapsed, lapsed_in

if TYPE_CHECKING:
    from reportkit.job.model import Job
    from reportkit.study.offer import Offer


@dataclass(frozen=True)
class Checked:
    """A job without faults, and what the films it names take; None where it names none."""

    loaded: LoadedJob
    offer: Offer | None = None

    def lines(self) -> list[str]:
        """Return what is no fault and should be known, a line each."""
        job, offer = self.loaded.job, self.offer
        told = lapsed_told(job)
        if offer and job.quote and offer.price.subtotal < offer.price.cost:
            short = offer.price.cost - offer.price.subtotal
            told.append(
                f"The price is below what the job costs by its own rates: {offer.price.cost} before profit, "
                f"{short} more than is charged."
            )
        return told


def checked(job_dir: Path) -> Checked:
    """Return a job; raise `JobError` with its faults: what ``make`` would stop at and a person can mend."""
    loaded = load_job(job_dir)
    if loaded.weather_file:
        from reportkit.climate import typical_year

        typical_year(loaded.weather_file, year=loaded.job.day.year, timezone=loaded.clock)
    lites = [lite for glazing in loaded.job.glazings for lite in glazing.lites]
    told = any(glazing.known for glazing in loaded.job.glazings) or any(lite.spectrum for lite in lites)
    if told or any(loaded.job.film_named(pane) for pane in loaded.job.panes):
        from reportkit.study.cuttable import check_cuttable

        return Checked(loaded, check_cuttable(loaded))
    return Checked(loaded)


def lapsed_told(job: Job) -> list[str]:
    """Return what was decided of panes that the survey no longer has, or put into a way to choose from."""
    told = []
    if gone := lapsed(job):
        day = job.decisions[-1].date
        told.append(f"The decision of {day} names panes that the survey no longer has: {', '.join(gone)}.")
    for way in job.alternatives:
        if gone := lapsed_in(job, way):
            named = ", ".join(gone)
            told.append(f'The way "{way.name}" names panes that the survey no longer has: {named}.')
    return told
