"""The kit of the fitting sheet: what to bring, how to inspect, and what was really used."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reportkit.base.translatable import english
from reportkit.documents.blocks import Bullets, Column, Columns, Heading, Paragraph, Section, Table
from reportkit.documents.runs import Text, strong

if TYPE_CHECKING:
    from decimal import Decimal

    from reportkit.documents.language.words import Words
    from reportkit.documents.page import Page
    from reportkit.findings.offer import MaterialLine

#: The words for the lines of the kit.
KIT = {
    "slip_solution": english("Slip solution, mixed as needed"),
    "soap": english("of it mild clear soap"),
    "blades": english("New blade edges"),
    "paper": english("Lint-free paper"),
    "cloths": english("Lint-free cloths, to be washed"),
    "floor_sheets": english("Absorbent floor sheets"),
    "tape": english("Low-tack tape"),
    "edge_sealant": english("Edge sealant"),
}


def kit(page: Page) -> Section:
    """Return what to bring, how to inspect, and boxes for what was really used."""
    words, fmt = page.words, page.fmt
    if page.leaves_glass:
        return Section("kit", [Paragraph(words("No kit."), role="note")])
    bring: list[Text] = [
        [words(KIT[line.id]), " ", strong(_quantity(page, line))] for line in page.findings.materials
    ]
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


def _quantity(page: Page, line: MaterialLine) -> str:
    """Return how much of a material to bring: as it is bought, with what is used of it."""
    words, fmt = page.words, page.fmt
    used = _amount(page, line.quantity, line.unit)
    if line.packs is None or line.pack is None:
        return words.many("{n} roll", "{n} rolls", int(line.quantity)) if line.unit == "rolls" else used
    each = fmt.distance_m(float(line.pack), 0) if line.unit == "m" else _amount(page, line.pack, line.unit)
    return f"{used}, {_packs(words, line.id, line.packs, each)}"


def _packs(words: Words, material: str, count: int, size: str) -> str:
    """Return what a material is bought in."""
    if material == "soap":
        return words.many("{n} bottle of {size}", "{n} bottles of {size}", count, size=size)
    if material == "blades":
        return words.many("{n} box of {size}", "{n} boxes of {size}", count, size=size)
    if material == "edge_sealant":
        return words.many("{n} cartridge of {size}", "{n} cartridges of {size}", count, size=size)
    return words.many("{n} roll of {size}", "{n} rolls of {size}", count, size=size)


def _amount(page: Page, quantity: Decimal, unit: str) -> str:
    fmt, value = page.fmt, float(quantity)
    if unit == "L":
        return fmt.volume(value)
    if unit == "ml":
        return fmt.small_volume(value)
    if unit == "m":
        return fmt.distance_m(value, 0)
    return fmt.number(value)
