"""What the client has agreed to, and what of a fitting sheet is not that: the fitter asks before cutting."""

from __future__ import annotations

from reportkit.documents.blocks import Fact
from reportkit.documents.page import Page
from reportkit.documents.sections.ways import name_of
from reportkit.job.model.decided import lapsed


def accepted(page: Page) -> list[Fact]:
    """Return when which way was accepted, and how; nothing where it is not told."""
    agreed = page.job.status.accepted
    if agreed is None:
        return []
    said = ", ".join(part for part in (page.fmt.date(agreed.date), agreed.way) if part)
    return [Fact(page.words("Accepted"), said, agreed.note)]


def unsettled(page: Page) -> list[str]:
    """Return what the sheet holds that was not agreed to, and what was decided that no longer applies."""
    words, fmt, job = page.words, page.fmt, page.job
    revision, agreed, told = page.findings.revision, job.status.accepted, []
    if agreed and revision.since and revision.since.letter != revision.letter:
        told.append(
            words(
                "revision {old} was accepted and this is {new}: has the client agreed to what changed?",
                old=revision.since.letter,
                new=revision.letter,
            )
        )
    offered = next((name_of(page, way) for way in page.findings.ways if way.offered), "")
    if agreed and agreed.way and agreed.way.casefold() != offered.casefold():
        told.append(
            words("the way accepted is {way}; this sheet is for {other}", way=agreed.way, other=offered)
        )
    if gone := lapsed(job):
        told.append(
            words(
                "{panes}: decided on {date}, but no longer in the survey; what holds now?",
                panes=", ".join(gone),
                date=fmt.date(job.decisions[-1].date),
            )
        )
    return told
