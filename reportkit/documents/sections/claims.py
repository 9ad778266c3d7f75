"""What the films' sheets claim, and what does not follow."""

from __future__ import annotations

from reportkit.base.translatable import english
from reportkit.documents.blocks import Block, Bullets, Column, Heading, Paragraph, Row, Section, Table
from reportkit.documents.page import Page
from reportkit.documents.sections.spectra import asks, measured

SEVERITIES = {
    "impossible": english("Cannot be"),
    "doubt": english("Does not follow"),
    "ask": english("Ask the seller"),
    "note": english("Follows"),
}

#: What does not follow, and is told to the client.
GRAVE = ("impossible", "doubt")


def claims(page: Page) -> Section:
    """Return the findings on every film's sheet with their arithmetic and the question to ask."""
    words = page.words
    rows = []
    for sheet in page.findings.claims:
        name = page.film(sheet.film)
        for number, doubt in enumerate(sheet.findings):
            cells = [
                name if number == 0 else "",
                words(SEVERITIES[doubt.severity]),
                words.said(doubt.about),
                words.said(doubt.arithmetic),
                words.said(doubt.question),
            ]
            grave = doubt.severity in GRAVE
            rows.append(Row(cells, "strong" if grave else "muted" if doubt.severity == "note" else "none"))
    blocks: list[Block] = [Heading(words("What the films' sheets say"), level=2, id="claims")]
    if not rows:
        return Section(
            "claims",
            [*blocks, Paragraph(words("No sheet claims anything that could be checked.")), *measured(page)],
        )
    blocks += [
        Paragraph(
            words(
                "From some printed values others must follow. Where they do not, that is a question to the seller, not "
                "an accusation."
            )
        ),
        Table(
            [
                Column("film", words("Film")),
                Column("verdict", words("Verdict")),
                Column("about", words("About")),
                Column("sum", words("Arithmetic")),
                Column("ask", words("Ask the seller")),
            ],
            rows,
            caption=words("What follows from each sheet, and what does not"),
            id="claim-list",
        ),
    ]
    ranges = _ranges(page)
    if ranges:
        blocks += [Paragraph(words("Sheets with gaps leave a range:")), Bullets(ranges)]
    return Section("claims", [*blocks, *measured(page)])


def _ranges(page: Page) -> list[str]:
    """Return what sheets with gaps leave open on the job's glass."""
    words, fmt = page.words, page.fmt
    return [
        words(
            "{film} on {glass}: sun's heat in (SHGC) between {low} and {high}, which is all its sheet allows to say.",
            film=page.film(sheet.film),
            glass=page.glazing(gain.glazing),
            low=fmt.number(gain.low, 2),
            high=fmt.number(gain.high, 2),
        )
        for sheet in page.findings.claims
        for gain in sheet.shgc_on_glass
    ]


def doubts(page: Page) -> Section:
    """Return only what does not follow, and what gaps leave open, for the client."""
    words = page.words
    sentences = [
        words(
            "{film}, {about}: {sum}. {question}",
            film=page.film(sheet.film),
            about=words.said(doubt.about),
            sum=words.said(doubt.arithmetic),
            question=words.said(doubt.question),
        )
        for sheet in page.findings.claims
        for doubt in sheet.findings
        if doubt.severity in GRAVE
    ]
    sentences += [*asks(page), *_ranges(page)]
    if not sentences:
        return Section("doubts", [])
    return Section(
        "doubts",
        [
            Heading(words("What to ask about the films' sheets"), level=2, id="doubts"),
            Bullets(sentences),
        ],
    )
