"""What the films' sheets claim, and what does not follow."""

from __future__ import annotations

from typing import Any

from reportkit.report.blocks import Block, Bullets, Column, Heading, Paragraph, Row, Section, Table
from reportkit.report.page import Page

SEVERITIES = {
    "impossible": "Cannot be",
    "doubt": "Does not follow",
    "ask": "Ask the seller",
    "note": "Follows",
}


def claims(page: Page) -> Section:
    """Return the findings on every film's sheet with their arithmetic and the question to ask."""
    words, results = page.words, page.results
    rows: list[Any] = []
    for entry in results["claims"]:
        name = page.film(entry["film"])
        for number, found in enumerate(entry["findings"]):
            cells = [
                name if number == 0 else "",
                words(SEVERITIES[found["severity"]]),
                words.said(found["about"]),
                words.said(found["arithmetic"]),
                words.said(found["question"]),
            ]
            grave = found["severity"] in ("impossible", "doubt")
            rows.append(Row(cells, "strong" if grave else "muted" if found["severity"] == "note" else "none"))
    blocks: list[Block] = [Heading(words("What the films' sheets say"), level=2, id="claims")]
    if not rows:
        return Section(
            "claims", [*blocks, Paragraph(words("No sheet claims anything that could be checked."))]
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
    return Section("claims", blocks)


def _ranges(page: Page) -> list[str]:
    """Return what sheets with gaps leave open on the job's glass."""
    words, fmt = page.words, page.fmt
    return [
        words(
            "{film} on {glass}: sun's heat in (SHGC) between {low} and {high}, which is all its sheet allows to say.",
            film=page.film(entry["film"]),
            glass=page.glazing(found["glazing"]),
            low=fmt.number(found["low"], 2),
            high=fmt.number(found["high"], 2),
        )
        for entry in page.results["claims"]
        for found in entry["shgc_on_glass"]
    ]


def doubts(page: Page) -> Section:
    """Return only what does not follow, and what gaps leave open, for the client."""
    words = page.words
    found = [
        words(
            "{film}, {about}: {sum}. {question}",
            film=page.film(entry["film"]),
            about=words.said(finding["about"]),
            sum=words.said(finding["arithmetic"]),
            question=words.said(finding["question"]),
        )
        for entry in page.results["claims"]
        for finding in entry["findings"]
        if finding["severity"] in ("impossible", "doubt")
    ]
    found += _ranges(page)
    if not found:
        return Section("doubts", [])
    return Section(
        "doubts",
        [
            Heading(words("What to ask about the films' sheets"), level=2, id="doubts"),
            Bullets(found),
        ],
    )
