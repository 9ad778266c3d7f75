"""The cut list at the table: each strip's own length beside where to cut, day by day, and what to keep."""

from __future__ import annotations

import datetime as dt
from itertools import groupby
from operator import itemgetter
from typing import TYPE_CHECKING

from reportkit.base.translatable import english
from reportkit.base.units import inches
from reportkit.documents.blocks import Block, Column, Heading, Table
from reportkit.documents.figures.roll_labels import piece_name, seam_text
from reportkit.documents.figures.roll_layout import SHELF

if TYPE_CHECKING:
    from reportkit.documents.page import Page
    from reportkit.findings.cutting import CutPlanFound, StripFound

#: What becomes of the film, by whether some is from the shelf and whether some is kept.
USED = {
    (False, False): english("Bought {bought}, on glass {glass}: {waste} of what is bought is waste."),
    (False, True): english("Bought {bought}: {glass} on glass, {kept} kept on the rolls; {waste} is waste."),
    (True, False): english(
        "Bought and from the shelf {bought}, on glass {glass}: {waste} of it is not on the glass."
    ),
    (True, True): english(
        "Bought and from the shelf {bought}: {glass} on glass, {kept} kept on the rolls; {waste} is waste."
    ),
}


def strips(page: Page, plan: CutPlanFound) -> list[Block]:
    """Return the strips in the order of cutting, equal ones in a row; a table for each day of several."""
    words, fmt = page.words, page.fmt
    by_day: dict[dt.date | None, list[list[str]]] = {}
    for number, roll in enumerate(plan.rolls, 1):
        told = [
            ((strip.day, fmt.length_mm(strip.length_mm, unit=False), _pieces(page, strip)), index, strip)
            for index, strip in enumerate(roll.strips, 1)
        ]
        for (day, long, pieces), run in groupby(told, key=itemgetter(0)):
            alike = [(fmt.number(index), strip.y_mm + strip.length_mm) for _, index, strip in run]
            span = alike[0][0] if len(alike) == 1 else f"{alike[0][0]}–{alike[-1][0]}"
            row = [
                f"{fmt.number(number)}.{span}",
                long if len(alike) == 1 else f"{fmt.number(len(alike))}\u00a0× {long}",
                ", ".join(fmt.length_mm(end, unit=False) for _, end in alike),
                pieces,
            ]
            by_day.setdefault(day, []).append(row)
    unit = words(english("in")) if fmt.units == "us" else words(english("mm"))
    columns = [
        Column("strip", words("Strip")),
        Column("long", words("Its length [{unit}]", unit=unit), align="right"),
        Column("at", words("Cut at [{unit}]", unit=unit), width=2.4),
        Column("pieces", words("Pieces of each strip, width × height [{unit}]", unit=unit), width=3.0),
    ]
    days = sorted(by_day.items(), key=lambda pair: pair[0] or dt.date.min)
    note = words("Cut at: from the roll's outer end as it was new. Strip: roll and strip from there.")
    return [
        Heading(words("At the cutting table"), level=2, id="strips"),
        *(
            Table(
                columns,
                rows,
                caption=fmt.date(day, "full") if day else words("Strip by strip"),
                note=note if number == len(days) else "",
                id="strip-list" if len(days) == 1 else f"strip-list-{number}",
            )
            for number, (day, rows) in enumerate(days, 1)
        ),
    ]


def _pieces(page: Page, strip: StripFound) -> str:
    """Return the pieces of a strip from the left, equal ones together."""
    fmt, words = page.fmt, page.words
    counted: dict[str, int] = {}
    for piece in strip.pieces:
        width, height = piece.width_mm, piece.length_mm
        if piece.turned:
            width, height = height, width
        size = "\u00a0×\u00a0".join(fmt.length_mm(side, unit=False) for side in (width, height))
        told = f"{piece_name(piece, words)}\u00a0{size}"
        if piece.seam:
            told = f"{told}, {seam_text(piece.seam, fmt, words)}"
        counted[told] = counted.get(told, 0) + 1
    return "; ".join(
        f"{fmt.number(count)}\u00a0× {told}" if count > 1 else told for told, count in counted.items()
    )


def used(page: Page, plan: CutPlanFound) -> str:
    """Return what becomes of the film: on glass, kept on the rolls, waste."""
    words, fmt = page.words, page.fmt
    shelf = any(roll.label == SHELF for roll in plan.rolls)
    return words(
        USED[shelf, plan.kept_m2 > 0],
        bought=fmt.area(plan.bought_m2),
        glass=fmt.area(plan.glass_m2),
        kept=fmt.area(plan.kept_m2),
        waste=fmt.percent(plan.lost_fraction),
    )


def kept(page: Page, plan: CutPlanFound) -> list[str]:
    """Return the off-cuts to label and keep."""
    return [
        page.words(
            "Keep and label the rest of roll {number}: {width} wide, {length} long.",
            number=rest.roll,
            width=page.fmt.length_mm(rest.width_mm),
            length=_long(page, rest.length_mm),
        )
        for rest in plan.offcuts
    ]


def _long(page: Page, mm: float) -> str:
    """Return a length of film in metres and centimetres, or in feet and inches to the nearest 1/16."""
    fmt = page.fmt
    if fmt.units == "metric":
        return fmt.distance_m(mm / 1000, 2)
    whole, rest = inches(mm)
    feet, left = divmod(whole, 12)
    if not feet:
        return fmt.length_mm(mm)
    inch = " ".join(str(part) for part in (left, rest) if part)
    told = f"{fmt.number(feet)} ft {inch} in" if inch else f"{fmt.number(feet)} ft"
    return told.replace(" ", "\u00a0")
