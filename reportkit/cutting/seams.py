"""Panes beyond the widest roll: butt seams, and where they show least.

A seam runs along the roll, so that one pane is two or more pieces side by side, cut from one roll in one
direction. It goes where the person says; else along a transom or mullion line that leaves every part
narrow enough; else the parts are equal, so that a single seam is centred. Each of several panes of one
id has parts of its own, which need not lie with those of another. The extra width that an overlap
cut on the glass needs is part of the piece's size and is the caller's to add.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import combinations, pairwise

from reportkit.base.translatable import english, translatable
from reportkit.base.units import mm_told
from reportkit.cutting.records import Piece, Placed, Roll, exact


def holds(piece: Piece, roll: Roll, table_mm: Fraction | None) -> bool:
    """Return whether a roll can hold the piece upright or, where allowed, turned."""
    if piece.film != roll.film:
        return False
    width, length = exact(piece.width_mm), exact(piece.length_mm)
    limits = [limit for limit in (table_mm, roll.longest_mm) if limit is not None]
    ways = [(width, length)] + ([(length, width)] if piece.turn and not roll.directional else [])
    return any(
        across <= exact(roll.width_mm) and all(along <= limit for limit in limits) for across, along in ways
    )


def why_not(piece: Piece, rolls: Sequence[Roll], table_mm: Fraction | None) -> str:
    """Return in words why no roll can hold the piece."""
    mine = [roll for roll in rolls if roll.film == piece.film]
    if not mine:
        return (
            translatable('no roll of film "{film}" is offered', film=piece.film)
            if piece.film
            else translatable("no roll is offered")
        )
    width, length = exact(piece.width_mm), exact(piece.length_mm)
    widest = max(exact(roll.width_mm) for roll in mine)
    turning = piece.turn and not all(roll.directional for roll in mine)
    narrow = min(width, length) if turning else width
    size = translatable("{width} x {length}", width=mm_told(width), length=mm_told(length))
    if narrow > widest and piece.seams_mm:
        edges = [Fraction(0), *sorted(exact(seam) for seam in piece.seams_mm), width]
        part = max(right - left for left, right in pairwise(edges))
        return translatable(
            "{size}: the seam asked for leaves a part of {part}, the widest roll is {widest}",
            size=size,
            part=mm_told(part),
            widest=mm_told(widest),
        )
    if narrow > widest:
        turned = not turning and length <= widest
        return translatable(
            english(
                "{size}: {narrow} does not fit across the widest roll of {widest}, and it may not be turned"
            )
            if turned
            else english("{size}: {narrow} does not fit across the widest roll of {widest}"),
            size=size,
            narrow=mm_told(narrow),
            widest=mm_told(widest),
        )
    along = length if width <= widest else width
    if table_mm is not None and along > table_mm:
        return translatable(
            "{size}: the table of {table} is too short, it takes {along}",
            size=size,
            table=mm_told(table_mm),
            along=mm_told(along),
        )
    return translatable("{size}: no roll is both wide and long enough", size=size)


def split(piece: Piece, rolls: Sequence[Roll], table_mm: Fraction | None) -> list[Piece] | None:
    """Return the parts of a pane that no roll can hold whole; None where no seam helps.

    The parts stay upright unless the piece may turn and only turned parts fit; those of one pane are tied
    together.
    """
    width = exact(piece.width_mm)
    mine = [roll for roll in rolls if roll.film == piece.film]
    if not mine:
        return None
    chosen = tuple(sorted(exact(seam) for seam in piece.seams_mm if 0 < exact(seam) < width))
    tries = [chosen] if chosen else []
    if not chosen:
        lines = sorted({exact(line) for line in piece.seam_lines_mm if 0 < exact(line) < width})
        widest = max(exact(roll.width_mm) for roll in mine)
        fewest = max(2, math.ceil(width / widest))
        for parts in range(fewest, fewest + 3):
            sets = list(combinations(lines, parts - 1))
            middle = [width * k / parts for k in range(1, parts)]
            ranked = sorted(
                (sum((abs(s - x) for s, x in zip(seams, middle, strict=True)), Fraction(0)), seams)
                for seams in sets
            )
            tries += [*(seams for _, seams in ranked[:20]), tuple(middle)]
    for seams in tries:
        edges = [Fraction(0), *seams, width]
        cut = [
            replace(
                piece,
                width_mm=right - left,
                quantity=1,
                seams_mm=(),
                seam_lines_mm=(),
                glass_mm2=None
                if piece.glass_mm2 is None
                else piece.glass_mm2 * float((right - left) / width),
                part=part,
                parts=len(seams) + 1,
                copy=copy,
            )
            for copy in range(1, piece.quantity + 1)
            for part, (left, right) in enumerate(pairwise(edges), start=1)
        ]
        for turn in (False, True):
            laid = [replace(part, turn=piece.turn and turn) for part in cut]
            if any(all(holds(part, roll, table_mm) for part in laid) for roll in mine):
                return laid
    return None


def part_widths(placed: Iterable[Placed]) -> dict[str, list[Fraction]]:
    """Return the widths of the parts of every seamed pane, by its id, from the left of its piece [mm]."""
    by_pane: dict[str, dict[int, Fraction]] = {}
    for piece in (one.piece for one in placed):
        if piece.parts > 1:
            by_pane.setdefault(piece.id, {})[piece.part] = exact(piece.width_mm)
    return {pane: [widths[part] for part in sorted(widths)] for pane, widths in by_pane.items()}
