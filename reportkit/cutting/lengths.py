"""How often film sold by length may have to be asked for, where one length has a limit.

A planner takes a roll sold by length once or not at all, so it is offered as often as pieces may need. Two
counts, the larger: twice the pieces' area, as strips are seldom less than half full; and the lengths that a
plain cutting takes, each piece on the first strip with room across, each strip on the first length with room
along (first fit, the longest first). Pieces seen together lie one way; the parts of a pane wider than the
roll get a length of their own.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

from reportkit.cutting.records import Piece, Roll, exact
from reportkit.cutting.seams import holds


def lengths_needed(roll: Roll, pieces: Sequence[Piece], *, table_mm: Fraction | None = None) -> int:
    """Return how many lengths of a roll sold by length to offer for its film; 1 where a length has no limit.

    Parameters
    ----------
    roll
        A roll sold by length.
    pieces
        What is cut, of any film.
    table_mm
        Longest strip the table takes [mm]; None for no limit.
    """
    longest = roll.longest_mm
    if not longest:
        return 1
    mine = [piece for piece in pieces if piece.film == roll.film]
    area = sum(
        (piece.quantity * exact(piece.width_mm) * exact(piece.length_mm) for piece in mine), Fraction(0)
    )
    by_area = math.ceil(2 * area / (exact(roll.width_mm) * longest))
    return max(1, by_area, _first_fit(roll, longest, mine, table_mm))


def _first_fit(roll: Roll, longest: Fraction, pieces: Sequence[Piece], table_mm: Fraction | None) -> int:
    """Return how many lengths a plain cutting takes."""
    laid, alone = _laid(roll, pieces, table_mm)
    wide = exact(roll.width_mm)
    rooms: list[Fraction] = []  # what is left across each strip, in the order of the strips' length
    ends: list[Fraction] = []  # what is left along each length
    for along, across in sorted(laid, reverse=True):
        strip = next((number for number, room in enumerate(rooms) if room >= across), None)
        if strip is not None:
            rooms[strip] -= across
            continue
        rooms.append(wide - across)
        place = next((number for number, room in enumerate(ends) if room >= along), None)
        if place is None:
            ends.append(longest - along)
        else:
            ends[place] -= along
    return len(ends) + alone


def _laid(
    roll: Roll, pieces: Sequence[Piece], table_mm: Fraction | None
) -> tuple[list[tuple[Fraction, Fraction]], int]:
    """Return each piece's length along and width across the roll, and how many the roll cannot hold whole."""

    def stands(piece: Piece) -> bool:
        return holds(replace(piece, turn=False), roll, table_mm)

    lying = {piece.group for piece in pieces if piece.group and not stands(piece)}
    laid: list[tuple[Fraction, Fraction]] = []
    alone = 0
    for piece in pieces:
        size = exact(piece.width_mm), exact(piece.length_mm)
        if not holds(piece, roll, table_mm):
            alone += piece.quantity
        elif stands(piece) and piece.group not in lying:
            laid += [size[::-1]] * piece.quantity
        else:
            laid += [size] * piece.quantity
    return laid, alone
