"""Which panes let the trouble in, and which stay bare and why."""

from __future__ import annotations

from reportkit.documents.blocks import Block, Bullets, Column, Heading, Paragraph, Row, Section, Table
from reportkit.documents.figures import elevation
from reportkit.documents.page import Page
from reportkit.documents.sections.photos import beside_panes
from reportkit.documents.sections.shaped import glass_size
from reportkit.documents.together import together


def panes(page: Page) -> Section:
    """Return the panes by what they let in at the worst hour."""
    words, fmt, findings = page.words, page.fmt, page.findings
    rows = []
    ranked = sorted(findings.panes, key=lambda pane: pane.rank)
    for pane in ranked:
        rows.append(
            Row(
                [
                    pane.id,
                    page.room(pane.room),
                    page.face(pane.face),
                    fmt.number(pane.quantity),
                    glass_size(page, pane),
                    fmt.significant(pane.peak_solar_w, 3),
                    fmt.significant(pane.peak_solar_filmed_w, 3),
                    page.film(pane.film) if pane.film else words("stays bare"),
                ],
                "none" if pane.film or page.leaves_glass else "muted",
            )
        )
    blocks: list[Block] = [
        Heading(words("Which panes let it in"), level=1, id="panes"),
        *elevation(page.findings, fmt, words),
        Table(
            [
                Column("id", words("Pane")),
                Column("room", words("Room")),
                Column("face", words("Face")),
                Column("n", words("Number"), align="right"),
                Column("size", words("Glass"), align="right"),
                Column("now", words("Now [W]"), align="decimal"),
                Column("then", words("Then [W]"), align="decimal"),
                Column("film", words("Film")),
            ],
            rows,
            caption=words(
                "The sun's heat through each pane at the worst hour, {when}",
                when=page.when(findings.bad_day.time),
            ),
            note=words("Equal panes are counted together. Sizes are the smallest readings of the glass."),
            id="pane-list",
        ),
        *beside_panes(page, ranked),
    ]
    bare: dict[str, list[str]] = {}
    for pane in findings.panes:
        if pane.bare_because:
            bare.setdefault(words.said(pane.bare_because), []).append(pane.id)
    if bare:
        said = [
            words("{pane}: {why}.", pane=together(page, ids, first=True), why=why)
            for why, ids in bare.items()
        ]
        blocks += [Paragraph(words("Panes that stay bare, and why:")), Bullets(said)]
    return Section("panes", blocks)
