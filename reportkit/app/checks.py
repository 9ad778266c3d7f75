"""What `make` would stop at, found without making anything; and what a person should know all the same."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from reportkit.base.translatable import translatable
from reportkit.job import LoadedJob, load_job
from reportkit.job.model.decided import lapsed, lapsed_in

if TYPE_CHECKING:
    from reportkit.job.model import Job
    from reportkit.study.offer import Offer


#: Letters that are told one by one.
MOST_TOLD = 8


@dataclass(frozen=True)
class Checked:
    """A job without faults, and what the films it names take; None where it names none."""

    loaded: LoadedJob
    offer: Offer | None = None

    def lines(self) -> list[str]:
        """Return what is no fault and should be known, a line each."""
        job, offer = self.loaded.job, self.offer
        told = [*lapsed_told(job), *lacking_told(job)]
        if offer and job.quote and offer.price.subtotal < offer.price.cost:
            short = offer.price.cost - offer.price.subtotal
            told.append(
                translatable(
                    "The price is below what the job costs by its own rates: {cost} before profit, "
                    "{short} more than is charged.",
                    cost=offer.price.cost,
                    short=short,
                )
            )
        return told


def checked(job_dir: Path) -> Checked:
    """Return a job; raise `JobError` with its faults: what ``make`` would stop at and a person can mend."""
    loaded = load_job(job_dir)
    if loaded.weather_file:
        from reportkit.climate import check_year

        check_year(loaded.weather_file, year=loaded.job.day.year, timezone=loaded.clock)
    lites = [lite for glazing in loaded.job.glazings for lite in glazing.lites]
    stated = any(glazing.known for glazing in loaded.job.glazings) or any(lite.spectrum for lite in lites)
    if stated or any(loaded.job.film_named(pane) for pane in loaded.job.panes):
        from reportkit.study.cuttable import check_cuttable

        return Checked(loaded, check_cuttable(loaded))
    return Checked(loaded)


#: Letters that every PDF can print: Latin as far as Unicode's first extension, and signs between words.
_PRINTED = frozenset([*map(chr, [*range(0x180), *range(0x2010, 0x2028)]), "€"])


def lacking_told(job: Job) -> list[str]:
    """Return which letters of a job no font here has, and how they will be printed."""
    rare = set(job.model_dump_json()) - _PRINTED
    if not rare:  # and no font need be asked
        return []
    from reportkit.documents.layouts.pdf import instead

    forms = instead(rare)
    if not forms:
        return []
    signs = sorted(forms)
    shown = ", ".join(f"{sign} → {forms[sign]}" for sign in signs[:MOST_TOLD])
    if len(signs) > MOST_TOLD:
        shown = translatable("{letters} and {count} more", letters=shown, count=len(signs) - MOST_TOLD)
    return [
        translatable(
            "No font on this machine has some letters of the job, which PDFs print in another way: {letters}."
            " Web pages leave them to the reader's fonts.",
            letters=shown,
        )
    ]


def lapsed_told(job: Job) -> list[str]:
    """Return what was decided of panes that the survey no longer has, or put into a way to choose from."""
    told = []
    if gone := lapsed(job):
        decided = "The decision of {day} names panes that the survey no longer has: {panes}."
        told.append(translatable(decided, day=job.decisions[-1].date, panes=", ".join(gone)))
    for way in job.alternatives:
        if gone := lapsed_in(job, way):
            kept = 'The way "{name}" names panes that the survey no longer has: {panes}.'
            told.append(translatable(kept, name=way.name, panes=", ".join(gone)))
    return told
