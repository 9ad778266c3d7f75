"""Check a cut plan against what was asked for, with nothing taken from the planner.

It reads only the records and works in exact fractions: every piece is there as often as asked, in its own
size, film and direction; nothing overlaps or leaves its strip; strips lie one after the other on a roll
and are no longer than the table; rolls are of a kind offered, no more of them than there are; view groups
and the parts of a seamed pane come from one roll in one direction; prices add up.
"""

from __future__ import annotations

import math
from collections import Counter, defaultdict
from collections.abc import Sequence
from decimal import Decimal
from fractions import Fraction

from reportkit.base.errors import PlanError
from reportkit.cutting.records import CutRoll, Length, Piece, Placed, Plan, Roll, Strip, exact

#: A piece may come out larger than asked by less than this, from rounding up to whole units [mm].
ROUNDING = Fraction(2)


def violations(
    plan: Plan,
    pieces: Sequence[Piece],
    rolls: Sequence[Roll],
    *,
    table_mm: Length | None = None,
    stages: int = 2,
) -> list[str]:
    """Return every rule that the plan breaks, in words; an empty list for a sound plan.

    Parameters
    ----------
    plan : Plan
        The plan to check.
    pieces : sequence of Piece
        What was asked for, seams already cut.
    rolls : sequence of Roll
        What could be bought or used.
    table_mm : Fraction, int or float, optional
        The longest strip that can be handled; None for no limit [mm].
    stages : int
        2: every piece reaches from one crosscut; 3: pieces may be stacked within a strip.
    """
    breaches: list[str] = []
    table = None if table_mm is None else exact(table_mm)
    for number, cut in enumerate(plan.rolls, start=1):
        where = f"roll {number} ({cut.roll.name})"
        breaches += _roll(cut, rolls, where)
        position = Fraction(0)
        for order, strip in enumerate(cut.strips, start=1):
            here = f"{where}, strip {order}"
            if strip.y_mm < position:
                breaches.append(f"{here}: starts inside the strip before it")
            position = strip.y_mm + strip.length_mm
            if table is not None and strip.length_mm > table:
                breaches.append(f"{here}: {float(strip.length_mm):g} mm is longer than the table")
            breaches += _strip(strip, cut.roll, here, stages)
        if position > cut.length_mm:
            breaches.append(f"{where}: strips end at {float(position):g} mm, beyond the roll")
    breaches += _demand(plan, pieces)
    breaches += _groups(plan)
    breaches += _stock(plan, rolls)
    return breaches


def check(
    plan: Plan,
    pieces: Sequence[Piece],
    rolls: Sequence[Roll],
    *,
    table_mm: Length | None = None,
    stages: int = 2,
) -> None:
    """Raise PlanError listing every rule that the plan breaks; parameters as for `violations`."""
    breaches = violations(plan, pieces, rolls, table_mm=table_mm, stages=stages)
    if breaches:
        raise PlanError("the cut plan breaks its own rules:\n" + "\n".join(breaches))


def _roll(cut: CutRoll, rolls: Sequence[Roll], where: str) -> list[str]:
    """Check one roll's kind, length and price sign."""
    breaches = []
    if cut.roll not in rolls:
        breaches.append(f"{where}: not a roll that was offered")
    if cut.roll.length_mm is not None:
        if cut.length_mm != exact(cut.roll.length_mm):
            breaches.append(f"{where}: a whole roll of another length than offered")
    else:
        if cut.roll.step_mm is not None and (cut.length_mm / exact(cut.roll.step_mm)).denominator != 1:
            breaches.append(f"{where}: the length ordered is not a multiple of the order step")
        if cut.roll.most_mm is not None and cut.length_mm > exact(cut.roll.most_mm):
            breaches.append(f"{where}: more ordered than can be had in one length")
        due = Fraction(cut.roll.price) * cut.length_mm / 1000
        if abs(Fraction(cut.price) - due) > Fraction(1, 200):
            breaches.append(f"{where}: price {cut.price} is not the rate times the length")
    if cut.price < 0:
        breaches.append(f"{where}: price below 0")
    return breaches


def _strip(strip: Strip, roll: Roll, where: str, stages: int) -> list[str]:
    """Check the pieces of one strip: inside, apart, guillotine by trims along the whole strip."""
    breaches = []
    if not strip.pieces:
        breaches.append(f"{where}: empty")
    columns: list[tuple[Fraction, Fraction, list[Placed]]] = []  # (left, right, stack)
    for placed in sorted(strip.pieces, key=lambda p: (p.x_mm, p.y_mm)):
        name = f"{where}, piece {placed.piece.id}"
        if min(placed.x_mm, placed.y_mm) < 0 or placed.x_mm + placed.width_mm > exact(roll.width_mm):
            breaches.append(f"{name}: reaches over the roll's width")
        if placed.y_mm + placed.length_mm > strip.length_mm:
            breaches.append(f"{name}: longer than its strip")
        if placed.turned and roll.directional:
            breaches.append(f"{name}: turned on directional film")
        if placed.piece.film != roll.film:
            breaches.append(f"{name}: on another film than asked")
        right = placed.x_mm + placed.width_mm
        if columns and placed.x_mm < columns[-1][1] and placed.x_mm == columns[-1][0]:
            left, edge, stack = columns[-1]
            if placed.y_mm < stack[-1].y_mm + stack[-1].length_mm:
                breaches.append(f"{name}: overlaps {stack[-1].piece.id}")
            columns[-1] = (left, max(edge, right), [*stack, placed])
        else:
            if columns and placed.x_mm < columns[-1][1]:
                breaches.append(f"{name}: overlaps {columns[-1][2][-1].piece.id}")
            columns.append((placed.x_mm, right, [placed]))
    if stages == 2 and any(len(stack) > 1 or stack[0].y_mm for _, _, stack in columns):
        breaches.append(f"{where}: needs a third cut")
    return breaches


def _same_size(placed: Placed) -> bool:
    """Return whether a piece comes out in the size asked for, in its direction, rounded up at most."""
    asked = (exact(placed.piece.width_mm), exact(placed.piece.length_mm))
    across, along = asked[::-1] if placed.turned else asked
    return 0 <= placed.width_mm - across < ROUNDING and 0 <= placed.length_mm - along < ROUNDING


def _demand(plan: Plan, pieces: Sequence[Piece]) -> list[str]:
    """Check that every piece is there as often as asked, in its own size and direction."""
    breaches = []
    asked: Counter[Piece] = Counter()
    for piece in pieces:
        asked[piece] += piece.quantity
    got = Counter(placed.piece for placed in plan.pieces)
    for piece in [*asked, *(piece for piece in got if piece not in asked)]:
        if asked[piece] != got[piece]:
            breaches.append(f"piece {piece.id}: asked for {asked[piece]}, cut {got[piece]}")
    for placed in plan.pieces:
        if not _same_size(placed):
            breaches.append(f"piece {placed.piece.id}: cut in another size than asked")
        if placed.turned and not placed.piece.turn:
            breaches.append(f"piece {placed.piece.id}: turned against its direction")
    return breaches


def _groups(plan: Plan) -> list[str]:
    """Check that a view group comes from one batch in one direction, a seamed pane's parts from one roll.

    One batch is one roll, or several that are bought together.
    """
    homes: defaultdict[tuple[str, str], set[tuple[int, bool]]] = defaultdict(set)
    panes: defaultdict[tuple[str, str, int], set[tuple[int, bool]]] = defaultdict(set)
    for number, cut in enumerate(plan.rolls):
        for strip in cut.strips:
            for placed in strip.pieces:
                if placed.piece.group:
                    homes[placed.piece.film, placed.piece.group].add((number, placed.turned))
                if placed.piece.parts > 1:
                    panes[placed.piece.film, placed.piece.id, placed.piece.copy].add((number, placed.turned))
    breaches = []
    for (_, group), ways in sorted(homes.items()):
        numbers = {number for number, _ in ways}
        if len(numbers) > 1 and any(plan.rolls[number].roll.price <= 0 for number in numbers):
            breaches.append(f"group {group}: comes from more than one batch")
        if len({turned for _, turned in ways}) > 1:
            breaches.append(f"group {group}: lies in two directions")
    for (_, pane, _), ways in sorted(panes.items()):
        if len(ways) > 1:
            breaches.append(f"piece {pane}: its parts come from more than one roll or lie in two directions")
    return breaches


def _stock(plan: Plan, rolls: Sequence[Roll]) -> list[str]:
    """Check counts of rolls against stock and packs, and their prices in all."""
    breaches = []
    for roll in dict.fromkeys(rolls):
        cuts = [cut for cut in plan.rolls if cut.roll == roll]
        offered = [other for other in rolls if other == roll]
        if roll.by_length:
            if len(cuts) > len(offered):
                breaches.append(f"{roll.name}: more than one length bought of the same film")
            continue
        packs = math.ceil(len(cuts) / roll.pack)
        if roll.price > 0 and packs * roll.pack != len(cuts):
            breaches.append(f"{roll.name}: a part of a pack was bought")
        if roll.stock is not None and packs > roll.stock * len(offered):
            breaches.append(f"{roll.name}: more rolls than there are")
        paid = sum((cut.price for cut in cuts), Decimal(0))
        if abs(paid - roll.price * packs) >= Decimal("0.01"):
            breaches.append(f"{roll.name}: {paid} paid for {packs} packs")
    if plan.lower_bound > plan.price:
        breaches.append(f"the bound {plan.lower_bound} is above the price {plan.price}")
    if plan.proven and plan.lower_bound != plan.price:
        breaches.append("called proved although the bound does not meet the price")
    return breaches
