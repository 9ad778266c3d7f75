"""What the notebook shows: a study's findings part by part, and the record that documents are made from."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from typing import TYPE_CHECKING

from reportkit.documents.blocks import Section
from reportkit.documents.frame import frame_words
from reportkit.documents.page import Page
from reportkit.documents.record import DocumentInfo, Record
from reportkit.documents.sections import SECTIONS
from reportkit.documents.sections.summary import told_in_short
from reportkit.findings.findings import Findings, Results
from reportkit.job.writing.copies import contents, photos_of

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
        self.findings = Findings(study)
        self.page = Page(self.findings, photos_of(study.loaded))
        self._study = study
        self._words = frame_words(self.page.words)

    def section(self, name: str) -> Section:
        """Return a part by its name, a key of ``reportkit.documents.sections.SECTIONS``."""
        return replace(SECTIONS[name](self.page), words=self._words)

    def record(self) -> Record:
        """Return everything an exporter needs beside the parts, and all of it in short."""
        return Record(
            frame(self.page),
            dict(Results(self.findings)),
            contents(self._study.loaded),
            told_in_short(self.page),
        )


def frame(page: Page) -> DocumentInfo:
    """Return what concerns whole documents: titles, addressee, foot, days."""
    words, fmt, job = page.words, page.fmt, page.job
    client, business, quote = job.client, job.business, job.quote
    last = max((entry.time.date() for entry in job.readings), default=job.day)
    title = job.title or job.id
    subtitles: dict[str, str] = {}
    letter = page.findings.revision.letter
    foot = words("Job {job}", job=job.id)
    if job.status.offered:
        foot = words("Job {job}, revision {letter}", job=job.id, letter=letter)
    if business and quote:
        offered = words(
            "Offer {number}, revision {letter}, by {business}",
            number=quote.number,
            letter=letter,
            business=business.name,
        )
        subtitles = {"proposal": offered, "basis": offered, "review": offered}
        subtitles["fitting"] = words("Offer {number}, revision {letter}", number=quote.number, letter=letter)
        foot = words(
            "Job {job}, offer {number}, revision {letter}", job=job.id, number=quote.number, letter=letter
        )
    return DocumentInfo(
        titles={
            "proposal": words("Plan: {title}", title=title)
            if page.own_home
            else words("Proposal: {title}", title=title),
            "basis": words("Reasons and numbers: {title}", title=title),
            "letters": words("Letters before fitting: {title}", title=title),
            "fitting": words("Fitting sheet: {title}", title=title),
            "labels": words("Labels: {title}", title=title),
            "review": words("After the work: {title}", title=title),
        },
        subtitles=subtitles,
        language=fmt.language,
        decimal_mark=fmt.decimal_mark,
        paper="us-letter" if page.paper == "us-letter" else "a4",
        footer=foot,
        timestamp=_noon(job.day),
        date=fmt.date(job.day),
        later={"review": (_noon(last), fmt.date(last))},
        author=business.name if business else client.name,
        addressee=(client.name, *client.address) if business else client.address,
        words=frame_words(words),
    )


def _noon(day: dt.date) -> int:
    """Return noon of a day as Unix time [s]."""
    return int(dt.datetime.combine(day, dt.time(12), dt.UTC).timestamp())
