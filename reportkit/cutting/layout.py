"""From strips on rolls to a drawing: which pane is cut where, in which order, and what it costs."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from decimal import Decimal
from fractions import Fraction

from reportkit.cutting.buying import Load
from reportkit.cutting.problem import Problem
from reportkit.cutting.records import CutRoll, Piece, Placed, Roll, Strip, exact, money
from reportkit.cutting.strips import Cut


def draw(
    problem: Problem, behind: Mapping[int, Sequence[Piece]], rolls: Sequence[Roll], loads: Sequence[Load]
) -> tuple[CutRoll, ...]:
    """Return the rolls with every pane in its place, longest strips first, rooms kept together.

    Packs are bought whole: rolls of an opened pack that nothing is cut from are listed without strips.
    """
    stacks = {kind: list(pieces) for kind, pieces in behind.items()}
    order = sorted(
        loads, key=lambda load: (-exact(rolls[load.roll].width_mm), load.roll, -load.used, load.cuts)
    )
    drawn: defaultdict[int, list[tuple[Strip, ...]]] = defaultdict(list)
    lengths: defaultdict[int, list[Fraction]] = defaultdict(list)
    for load in order:
        position = Fraction(0)
        strips = []
        for cut in load.cuts:
            length = cut.along * problem.unit
            strips.append(Strip(position, length, _place(problem, cut, stacks)))
            position += length
        drawn[load.roll].append(tuple(strips))
        lengths[load.roll].append(rolls[load.roll].ordered(position))
    cut_rolls = []
    for index in sorted(drawn, key=lambda i: (-exact(rolls[i].width_mm), i)):
        roll = rolls[index]
        if not roll.by_length and roll.price > 0:
            while len(drawn[index]) % roll.pack:
                drawn[index].append(())
                lengths[index].append(exact(roll.length_mm or 0))
        shares = pack_shares(roll)
        for number, (strips_of_roll, length) in enumerate(zip(drawn[index], lengths[index], strict=True)):
            price = money(roll.cost(length)) if roll.by_length else shares[number % roll.pack]
            cut_rolls.append(CutRoll(roll, length, price, strips_of_roll))
    return tuple(cut_rolls)


def pack_shares(roll: Roll) -> list[Decimal]:
    """Return the price of each roll of a pack, in hundredths that add up to the pack's price."""
    total = money(roll.price)
    hundredths, over = divmod(int(total * 100), roll.pack)
    return [Decimal(hundredths + (number < over)).scaleb(-2) for number in range(roll.pack)]


def _place(problem: Problem, cut: Cut, stacks: dict[int, list[Piece]]) -> tuple[Placed, ...]:
    """Give each place on a strip to the next piece of its size."""
    placed = []
    x = 0
    for column in cut.columns:
        y = widest = 0
        for index in column:
            item = problem.items[index]
            assert item is not None
            piece = stacks[item.kind].pop(0)
            upright = -(-exact(piece.width_mm) // problem.unit)
            placed.append(
                Placed(
                    piece,
                    x * problem.unit,
                    item.across * problem.unit,
                    item.along * problem.unit,
                    item.turned if piece.tie or item.across == item.along else item.across != upright,
                    y * problem.unit,
                )
            )
            y += item.along
            widest = max(widest, item.across)
        x += widest
    return tuple(placed)
