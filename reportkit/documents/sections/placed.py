"""Which rolls to take, where a pane's pieces lie on them, and their size."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

from reportkit.base.translatable import english
from reportkit.documents.blocks import Block, Bullets, Fact, Facts
from reportkit.documents.figures.roll_layout import SHELF
from reportkit.documents.page import Page
from reportkit.documents.together import together

if TYPE_CHECKING:
    from reportkit.findings.cutting import RollFound, RollOffered
    from reportkit.findings.offer import PieceSizes

EXCEPTIONS = {
    "seam": english(
        "{pane}: seam at {places} from the left edge of the glass as you stand on the film's side; no gap "
        "and no trimming there."
    ),
    "reduced": english(
        "{pane}: no roll or table holds the whole allowance, so the blank is {size}; the glass measures "
        "up to {glass}."
    ),
}

#: Where a piece lies: roll, strip, and ``t`` where it is turned.
Place = tuple[int, int, str]


def positions(page: Page) -> dict[str, dict[int, list[Place]]]:
    """Return where each pane's pieces lie: by part (0 of whole ones) a place for each, in the order of cutting."""
    plan = page.findings.cutting
    assert plan is not None  # asked only of a job in which film is cut
    strips = [
        (strip, number, index)
        for number, roll in enumerate(plan.rolls, start=1)
        for index, strip in enumerate(roll.strips, start=1)
    ]
    places: dict[str, dict[int, list[Place]]] = {}
    for strip, number, index in sorted(strips, key=lambda one: one[0].day or dt.date.min):
        for piece in strip.pieces:
            part = piece.seam.part if piece.seam else 0
            known = places.setdefault(piece.pane, {}).setdefault(part, [])
            known.append((number, index, "t" if piece.turned else ""))
    return places


def joined(places: Iterable[Place]) -> list[str]:
    """Return places as text, strips that follow each other as a span."""
    spans: list[list[Place]] = []
    for place in sorted(set(places), key=lambda place: (place[0], place[2], place[1])):
        last = spans[-1][-1] if spans else None
        if last and last[0] == place[0] and last[2] == place[2] and last[1] + 1 == place[1]:
            spans[-1].append(place)
        else:
            spans.append([place])
    ends = [(f"{a[0]}.{a[1]}{a[2]}", f"{b[1]}{b[2]}") for a, b in ((span[0], span[-1]) for span in spans)]
    return [
        first if len(span) == 1 else f"{first}–{last}"
        for span, (first, last) in zip(spans, ends, strict=True)
    ]


def size(page: Page, piece: PieceSizes) -> str:
    """Return the width and height to cut for a pane, without the unit; its parts' widths with + between."""
    widths = piece.parts_mm or (piece.width_mm,)
    across = "\u00a0+ ".join(page.fmt.length_mm(width, unit=False) for width in widths)
    return f"{across}\u00a0×\u00a0{page.fmt.length_mm(piece.height_mm, unit=False)}"


def shopping(page: Page, rolls: Sequence[RollFound | RollOffered], *, shelf_told: bool = True) -> str:
    """Return rolls as what one takes: equal ones together, packs whole.

    Those on the shelf are told as such, unless the reader knows it (``shelf_told`` is false).
    """
    words, fmt = page.words, page.fmt
    counted: dict[tuple[float, float, int, bool], int] = {}
    for roll in rolls:
        key = (roll.width_mm, roll.length_mm, roll.pack, shelf_told and roll.label == SHELF)
        counted[key] = counted.get(key, 0) + 1
    said = []
    for (width, length, pack, there), count in counted.items():
        one = f"{fmt.length_mm(width)} × {fmt.distance_m(length / 1000, 2)}"
        if pack > 1:
            packs = words.many(
                "{n} pack of {rolls} rolls, each {size}",
                "{n} packs of {rolls} rolls, each {size}",
                count // pack,
                rolls=fmt.number(pack),
                size=one,
            )
            said.append(packs)
        elif there:
            said.append(words("{rolls} from the shelf", rolls=f"{fmt.number(count)} × {one}"))
        else:
            said.append(f"{fmt.number(count)} × {one}")
    return ", ".join(said)


def to_buy(page: Page, rolls: Sequence[RollFound]) -> list[Block]:
    """Return what to buy of each film, and what to take off the shelf."""
    words = page.words
    facts = []
    for there, label in ((False, words("To buy")), (True, words("From the shelf"))):
        mine = [roll for roll in rolls if (roll.label == SHELF) is there]
        for film in dict.fromkeys(roll.film for roll in mine):
            taken = shopping(page, [roll for roll in mine if roll.film == film], shelf_told=False)
            facts.append(Fact(label, taken, page.film(film)))
    return [Facts(facts, style="list")]


def exceptions(page: Page) -> list[Block]:
    """Return the panes whose film is joined, or cut with less than the whole allowance."""
    words, fmt = page.words, page.fmt
    pieces = page.findings.pieces
    special: dict[tuple[str, tuple[tuple[str, str], ...]], list[str]] = {}
    for piece in pieces:
        if piece.seams_mm:
            places = ", ".join(fmt.length_mm(place) for place in piece.seams_mm)
            special.setdefault(("seam", (("places", places),)), []).append(piece.pane)
    for piece in pieces:
        if piece.reduced:
            size = fmt.size_mm(piece.width_mm, piece.height_mm)
            glass = fmt.size_mm(piece.widest_mm, piece.tallest_mm)
            special.setdefault(("reduced", (("size", size), ("glass", glass))), []).append(piece.pane)
    points = [
        words(EXCEPTIONS[kind], pane=together(page, ids, first=True), **dict(values))
        for (kind, values), ids in special.items()
    ]
    return [Bullets(points)] if points else []
