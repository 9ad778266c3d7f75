"""What the notebook shows: a study's findings part by part, and the record that documents are made from."""

from __future__ import annotations

import datetime as dt
from typing import TYPE_CHECKING

from reportkit.job.copies import contents, photos_of
from reportkit.report.blocks import Section
from reportkit.report.page import Page
from reportkit.report.record import DocumentInfo, Record
from reportkit.report.sections import SECTIONS
from reportkit.results import Results

if TYPE_CHECKING:
    from reportkit.study import Study


class Report:
    """The parts of a study's documents.

    Parameters
    ----------
    study
        The study to show.
    """

    def __init__(self, study: Study) -> None:
        self.results = Results(study)
        self.page = Page(self.results, photos_of(study.loaded))
        self._study = study

    def section(self, name: str) -> Section:
        """Return a part by its name, a key of ``reportkit.report.sections.SECTIONS``."""
        return SECTIONS[name](self.page)

    def record(self) -> Record:
        """Return everything an exporter needs beside the parts: frame, results, inputs."""
        return Record(_frame(self.page), dict(self.results), contents(self._study.loaded))


def _frame(page: Page) -> DocumentInfo:
    words, fmt, job = page.words, page.fmt, page.job
    date = dt.date.fromisoformat(job["quote"]["date"])
    client, business = job["client"], job["business"]
    number = job["quote"]["number"]
    return DocumentInfo(
        titles={
            "proposal": words("Proposal: {title}", title=job["title"] or job["id"]),
            "fitting": words("Fitting sheet: {title}", title=job["title"] or job["id"]),
        },
        subtitles={
            "proposal": words("Offer {number} by {business}", number=number, business=business["name"]),
            "fitting": words("Offer {number}", number=number),
        },
        language=fmt.language,
        decimal_mark=fmt.decimal_mark,
        paper="us-letter" if page.paper == "us-letter" else "a4",
        footer=words("Job {job}, offer {number}", job=job["id"], number=number),
        timestamp=int(dt.datetime.combine(date, dt.time(12), dt.UTC).timestamp()),
        date=fmt.date(date),
        author=business["name"],
        addressee=(client["name"], *client["address"]),
        words=_frame_words(page),
    )


def _frame_words(page: Page) -> dict[str, str]:
    from reportkit.report.record import FRAME_WORDS

    catalogue = page.words.raw
    return {name: catalogue(text) for name, text in FRAME_WORDS.items()}
