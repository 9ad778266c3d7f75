"""Which panes let the trouble in, and which stay bare and why."""

from __future__ import annotations

from reportkit.report.blocks import Block, Bullets, Column, Heading, Paragraph, Row, Section, Table
from reportkit.report.figures import elevation
from reportkit.report.page import Page
from reportkit.report.sections.photos import beside_panes
from reportkit.report.together import together


def panes(page: Page) -> Section:
    """Return the panes by what they let in at the worst hour."""
    words, fmt, results = page.words, page.fmt, page.results
    rows = []
    ranked = sorted(results["panes"], key=lambda pane: pane["rank"])
    for entry in ranked:
        rows.append(
            Row(
                [
                    entry["id"],
                    page.room(entry["room"]),
                    page.face(entry["face"]),
                    fmt.number(entry["quantity"]),
                    fmt.size_mm(entry["width_mm"], entry["height_mm"]),
                    fmt.significant(entry["peak_solar_w"], 3),
                    fmt.significant(entry["peak_solar_filmed_w"], 3),
                    page.film(entry["film"]) if entry["film"] else words("stays bare"),
                ],
                "none" if entry["film"] or page.leaves_glass else "muted",
            )
        )
    blocks: list[Block] = [
        Heading(words("Which panes let it in"), level=1, id="panes"),
        *elevation(results, fmt, words),
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
                when=page.when(results["bad_day"]["time"]),
            ),
            note=words("Equal panes are counted together. Sizes are the smallest readings of the glass."),
            id="pane-list",
        ),
        *beside_panes(page, ranked),
    ]
    bare: dict[str, list[str]] = {}
    for entry in results["panes"]:
        if entry["bare_because"]:
            bare.setdefault(words.said(entry["bare_because"]), []).append(entry["id"])
    if bare:
        told = [
            words("{pane}: {why}.", pane=together(page, ids, first=True), why=why)
            for why, ids in bare.items()
        ]
        blocks += [Paragraph(words("Panes that stay bare, and why:")), Bullets(told)]
    return Section("panes", blocks)
