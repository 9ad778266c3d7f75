"""Cautions, what is not promised, and care afterwards."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reportkit.documents.blocks import (
    Block,
    Bullets,
    Caution,
    Columns,
    Fact,
    Facts,
    Group,
    Heading,
    PageBreak,
    Paragraph,
    Section,
)
from reportkit.documents.page import Page
from reportkit.documents.together import together

if TYPE_CHECKING:
    from reportkit.findings.basis import Caution as CautionFound
    from reportkit.findings.schedule import ScheduleFound


def cautions(page: Page) -> Section:
    """Return what to mind, why, and who decides."""
    words = page.words
    entries = page.findings.cautions
    first, *others = _two_by_two(
        [Caution(words(entry.what), _why(page, entry), words(entry.who)) for entry in entries]
    ) or [Paragraph(words("Nothing is to be fitted, so nothing follows from film here."))]
    head = [
        Heading(words("What to mind, and who decides"), level=1, id="cautions"),
        Paragraph(
            words("This report flags; it certifies nothing. Local codes and licensed practice come first.")
        ),
    ]
    return Section("cautions", [Group([*head, first]), *others])


def _two_by_two(boxes: list[Caution]) -> list[Block]:
    """Return cautions side by side, which takes half the paper; an odd one stands alone."""
    return [
        Columns([[one] for one in boxes[start : start + 2]]) if boxes[start + 1 :] else boxes[start]
        for start in range(0, len(boxes), 2)
    ]


def _why(page: Page, entry: CautionFound) -> str:
    """Return why, the panes it is about unless it is about them all, and what it rests on."""
    words = page.words
    parts = [words(entry.why)]
    filmed = {pane.id for pane in page.findings.panes if pane.film}
    if entry.panes and set(entry.panes) != filmed:
        parts.append(words("Panes: {panes}.", panes=together(page, entry.panes)))
    if entry.source:
        parts.append(words("Source: {source}.", source=words.said(entry.source)))
    return " ".join(parts)


def aftercare(page: Page) -> Section:
    """Return the client's page of care."""
    words, fmt = page.words, page.fmt
    plan = page.findings.schedule
    if plan is None:
        return Section("aftercare", [Paragraph(words("No film, no aftercare."), role="note")])
    return Section(
        "aftercare",
        [
            PageBreak(),
            Heading(
                words("Care of the film") if page.own_home else words("For the client: care of the film"),
                level=1,
                id="aftercare",
            ),
            *_dates(page, plan),
            Bullets(
                [
                    words(
                        "Haze, small water bubbles and a milky look are normal while the film dries: about {days} days, "
                        "longer in shade and cold.",
                        days=fmt.number(plan.cure_days),
                    ),
                    words(
                        "Do not clean or touch the film for the first {days} days.",
                        days=fmt.number(plan.first_cleaning_days),
                    ),
                    words(
                        "Then: mild soap and water, a soft cloth or a rubber blade. No ammonia, no scrubbing pad, no "
                        "metal blade."
                    ),
                    words("A wet edge that lifts: blot, let it dry, press it again.")
                    if page.own_home
                    else words("A wet edge that lifts: blot, let it dry, press it again. Then call us."),
                    words(
                        "The filmed pane feels warmer in the sun. That is the heat it keeps from passing through."
                    ),
                    words(
                        "No stickers on the film, no blind or furniture close against the pane in strong sun."
                    ),
                    words(
                        "A crack in the glass: keep away from it and ask a glazier; do not pull the film off."
                    )
                    if page.own_home
                    else words(
                        "A crack in the glass: keep away from it and call us; do not pull the film off."
                    ),
                ]
            ),
            Paragraph(
                words("How long film lasts and how it dries vary by maker: its own instructions come first."),
                role="note",
            ),
        ],
    )


def _dates(page: Page, plan: ScheduleFound) -> list[Block]:
    """Return the days to remember; none where no day of fitting is set."""
    words, fmt = page.words, page.fmt
    dates = plan.dates
    if dates is None:
        return []
    return [
        Facts(
            [
                Fact(words("Fitted"), fmt.date(dates.fitted)),
                Fact(words("First cleaning, not before"), fmt.date(dates.first_cleaning)),
                Fact(words("Clear, ready to inspect"), fmt.date(dates.cleared), words("about")),
            ],
            style="list",
        )
    ]
