"""The kit of the fitting sheet: what to bring, how to inspect, and what was really used."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reportkit.base.translatable import english
from reportkit.documents.blocks import Bullets, Column, Columns, Heading, Paragraph, Section, Table
from reportkit.documents.runs import Text, strong

if TYPE_CHECKING:
    from reportkit.documents.page import Page

#: The words for the lines of the kit.
KIT = {
    "slip_solution": english("Slip solution"),
    "soap": english("of it mild clear soap"),
    "blades": english("New blade edges"),
    "towels": english("Lint-free towels"),
    "floor_sheets": english("Absorbent floor sheets"),
    "tape": english("Low-tack tape"),
    "edge_sealant": english("Edge sealant"),
}


def kit(page: Page) -> Section:
    """Return what to bring, how to inspect, and boxes for what was really used."""
    words, fmt = page.words, page.fmt
    if page.leaves_glass:
        return Section("kit", [Paragraph(words("No kit."), role="note")])
    bring: list[Text] = []
    for line in page.findings.materials:
        value = float(line.quantity)
        if line.unit == "L":
            text = fmt.volume(value)
        elif line.unit == "ml":
            text = fmt.small_volume(value)
        elif line.unit == "m":
            text = fmt.distance_m(value)
        else:
            unit = "" if line.unit in ("edges", "sheets") else f"\u00a0{line.unit}"
            text = fmt.number(value) + unit
        bring.append([words(KIT[line.id]), " ", strong(text)])
    third = -(-len(bring) // 3)
    boxes = [Bullets(bring[at : at + third], marker="tick") for at in range(0, len(bring), third)]
    return Section(
        "kit",
        [
            Heading(words("Bring, beside tools and the film"), level=1, id="bring"),
            Columns([[box] for box in boxes]),
            Table(
                [
                    Column("film", words("Film off the roll"), content="write"),
                    Column("minutes", words("Minutes on site"), content="write"),
                    Column("again", words("Pieces made again"), content="write"),
                    Column("glass", words("Coldest glass"), content="write"),
                ],
                [{}],
                caption=words("Fill in on site"),
                note=words(
                    "Inspect square on from {distance} in daylight without direct sun; a border of {border} and the "
                    "haze of drying do not count.",
                    **fmt.inspection,
                ),
                id="actuals",
                row_headers=False,
            ),
        ],
    )
