"""View groups that no single roll holds: several rolls of one purchase, every piece in one direction.

Panes seen together must come from one batch of film and lie one way, or their shade differs. A roll is the
surest batch; where none holds a whole group, rolls bought together are the next. A roll on the shelf is a
batch of its own, so such a group takes none of it; pieces of no group may. The parts of a seamed pane stay
on one roll all the same.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from itertools import product

from reportkit.base.errors import CutListError, Fault
from reportkit.base.translatable import translatable
from reportkit.cutting import seams
from reportkit.cutting.records import Piece, Placed, Plan, Roll, Strip, exact
from reportkit.cutting.search import Terms

#: Groups for which every mix of directions is tried; beyond, all of them lie the same way.
MOST = 3


#: Plans some pieces from some rolls, each view group on one roll.
Planner = Callable[[Sequence[Piece], Sequence[Roll], Terms], Plan]


def plan(pieces: Sequence[Piece], rolls: Sequence[Roll], terms: Terms, on_rolls: Planner) -> Plan:
    """Plan one film, each view group on one roll; where none holds a group, on rolls bought together.

    Parameters
    ----------
    pieces, rolls
        Of one film.
    terms
        On what terms to cut. Several ways of laying the groups share the work allowed.
    on_rolls
        Plans with each view group on one roll.

    Raises
    ------
    CutListError
        Where a piece cannot be cut, or no batch holds a view group: then with a fault for each of its panes.
    """
    groups = {piece.group for piece in pieces if piece.group}
    refused: CutListError | None = None
    if all(
        any(holds([p for p in pieces if p.group == group], roll, terms.table) for roll in rolls)
        for group in groups
    ):
        try:
            return on_rolls(pieces, rolls, terms.part(2 if groups else 1))
        except CutListError as error:
            if not groups:
                raise
            refused = error
    ways = list(laid(pieces)) if any(roll.price > 0 for roll in rolls) else []
    plans = []
    for number, shown in enumerate(ways):
        try:
            made = on_rolls(list(shown), rolls, terms.part(len(ways) + 1 - number))
            plans.append(restored(made, shown))
        except CutListError as error:
            refused = refused or error
    if not plans:
        loose = on_rolls(apart(pieces), rolls, terms.part(1))
        raise CutListError(faults=_faults(pieces, groups, loose.price, terms.source)) from refused
    best = min(plans, key=lambda one: (one.price, one.used_m2))
    bound = min(one.lower_bound for one in plans)
    if len(plans) < len(ways) or len(groups) > MOST or any(roll.price <= 0 for roll in rolls):
        # not every way is known
        bound = on_rolls(apart(pieces), rolls, terms.part(1)).lower_bound
    return replace(
        best,
        lower_bound=min(bound, best.price),
        proven=bound >= best.price,
        film_bound_m2=0.0,
        proven_film=False,
    )


def _faults(pieces: Sequence[Piece], groups: set[str], price: Decimal, source: str) -> list[Fault]:
    """Return a fault for every pane of the view groups: no batch of film holds them in one direction."""
    hint = translatable(
        "take a wider or longer roll, or drop the group and accept that shade may differ: "
        "without view groups the film costs {price}",
        price=price,
    )
    return [
        Fault(
            source,
            0,
            pane,
            translatable("no batch of film can hold view group {group} in one direction", group=group),
            None,
            hint,
        )
        for group in sorted(groups)
        for pane in dict.fromkeys(piece.pane for piece in pieces if piece.group == group)
    ]


def apart(pieces: Sequence[Piece]) -> list[Piece]:
    """Return pieces without their view groups; the parts of a seamed pane stay together."""
    return [replace(piece, group="") for piece in pieces]


def laid(pieces: Sequence[Piece]) -> Iterator[dict[Piece, tuple[Piece, bool]]]:
    """Yield pieces laid in one direction by group, each with the piece it stands for and whether it turns.

    Pieces of a group take no film from the shelf. A turned piece is given as one of the other shape that may
    not be turned again.
    """
    groups = sorted({piece.group for piece in pieces if piece.group})
    ways: Iterable[tuple[bool, ...]] = ((turned,) * len(groups) for turned in (False, True))
    if len(groups) <= MOST:
        ways = product((False, True), repeat=len(groups))
    for way in ways:
        turned = dict(zip(groups, way, strict=True))
        if any(turned.get(piece.group) and not piece.turn for piece in pieces):
            continue
        shown: dict[Piece, tuple[Piece, bool]] = {}
        for piece, alone in zip(pieces, apart(pieces), strict=True):
            lies = turned.get(piece.group, False)
            size = (piece.length_mm, piece.width_mm) if lies else (piece.width_mm, piece.length_mm)
            free = piece.turn and not piece.group
            shown[replace(alone, width_mm=size[0], length_mm=size[1], turn=free, batch=bool(piece.group))] = (
                piece,
                lies,
            )
        yield shown


def restored(plan: Plan, shown: dict[Piece, tuple[Piece, bool]]) -> Plan:
    """Return a plan of laid pieces as one of the pieces they stand for."""

    def piece(placed: Placed) -> Placed:
        own, turned = shown[placed.piece]
        return replace(placed, piece=own, turned=turned or placed.turned)

    def strip(cut: Strip) -> Strip:
        return replace(cut, pieces=tuple(piece(placed) for placed in cut.pieces))

    return replace(
        plan, rolls=tuple(replace(cut, strips=tuple(strip(one) for one in cut.strips)) for cut in plan.rolls)
    )


def notes(plan: Plan) -> list[str]:
    """Return a note on the view groups that a plan cuts from several rolls."""
    homes: dict[str, set[int]] = {}
    for number, cut in enumerate(plan.rolls):
        for placed in (placed for strip in cut.strips for placed in strip.pieces):
            if placed.piece.group:
                homes.setdefault(placed.piece.group, set()).add(number)
    parted = {group: len(numbers) for group, numbers in sorted(homes.items()) if len(numbers) > 1}
    if len(parted) > 1:
        return [
            translatable(
                "The panes seen together as {groups} are each cut from several rolls: order them of one "
                "batch, and compare the batch numbers before cutting.",
                groups=", ".join(parted),
            )
        ]
    return [
        translatable(
            "The panes seen together as {group} are cut from {count} rolls: order them of one batch, and "
            "compare the batch numbers before cutting.",
            group=group,
            count=count,
        )
        for group, count in parted.items()
    ]


def seam_faults(
    pieces: Sequence[Piece], rolls: Sequence[Roll], table_mm: Fraction | None, source: str
) -> list[Fault]:
    """Return a fault for every seamed pane whose parts no single roll can hold."""
    faults = []
    panes: dict[str, list[Piece]] = {}
    for piece in pieces:
        if piece.parts > 1 and piece.copy == 1:  # all panes of one id are alike
            panes.setdefault(piece.id, []).append(piece)
    for parts in panes.values():
        if not any(holds(parts, roll, table_mm) for roll in rolls if roll.film == parts[0].film):
            rule = translatable("no single roll can hold the parts of this pane in one direction")
            faults.append(
                Fault(source, 0, parts[0].pane, rule, None, translatable("take a wider or longer roll"))
            )
    return faults


def holds(members: Sequence[Piece], roll: Roll, table_mm: Fraction | None) -> bool:
    """Return whether a roll may hold a whole group: every piece in one direction, and its area in all."""
    for turned in (False, True):
        if turned and (roll.directional or not all(p.turn for p in members)):
            continue
        laid = [
            replace(p, width_mm=p.length_mm, length_mm=p.width_mm, turn=False)
            if turned
            else replace(p, turn=False)
            for p in members
        ]
        if all(seams.holds(p, roll, table_mm) for p in laid):
            area = sum(p.area_mm2 * p.quantity for p in laid)
            limit = roll.longest_mm
            if limit is None or area <= float(limit * exact(roll.width_mm)) * (1 + 1e-12):
                return True
    return False
