"""Plan the cutting of film: least money, then least film, then the largest off-cut worth keeping.

Panes are cut across the roll on the table and trimmed lengthwise (two stages). The quick mode takes the
best of greedy strips and a short column generation; the exact mode goes on to prove the price
and the film, and says how far it may be off where it cannot. Each film is a problem of its own.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from decimal import ROUND_FLOOR, Decimal
from fractions import Fraction
from typing import Any

import numpy as np

from reportkit.base.errors import CutListError, Fault
from reportkit.base.translatable import Quantity, translatable
from reportkit.base.units import mm_told
from reportkit.cutting import batches, buying, heuristics, seams, shortage, stacks
from reportkit.cutting.checker import check
from reportkit.cutting.effort import Work
from reportkit.cutting.layout import draw
from reportkit.cutting.mixes import Mixes
from reportkit.cutting.patterns import Crosscuts
from reportkit.cutting.problem import Problem, build, held, make_bays, rate
from reportkit.cutting.records import CENT, Length, Piece, Plan, Roll, exact, number
from reportkit.cutting.search import Best, Effort, Terms
from reportkit.cutting.wholes import area_money

SMALL = 20  # pieces, which even the quick mode solves to the end
ALLOWED = {"quick": 5e6, "exact": 4e7}  # work, which only the largest jobs use up
EFFORTS = {
    "quick": Effort(
        nodes=8000,
        first=0,
        rounds=60,
        programmes=4,
        deep=False,
        polish=((8, 12),),
        dives=1,
        anew=(0, 0),
        stacked=(6, 60),
    ),
    "exact": Effort(),
}


def plan(
    pieces: Sequence[Piece],
    rolls: Sequence[Roll],
    *,
    table_mm: Length | None = None,
    stages: int = 2,
    mode: str = "exact",
    keep_mm: tuple[Length, Length] = (300, 300),
    source: str = "pieces",
) -> Plan:
    """Plan which rolls to take and how to cut every piece from them.

    Parameters
    ----------
    pieces : sequence of Piece
        What is needed; their order has no influence on the plan.
    rolls : sequence of Roll
        What can be bought or lies on the shelf.
    table_mm : Fraction, int or float, optional
        The longest strip that can be pulled and cut across; None for no limit but the roll [mm].
    stages : int
        2, or 3 to allow a further cut across within a strip.
    mode : str
        ``"quick"`` for a good plan at once, ``"exact"`` for an order.
    keep_mm : pair
        Least width and length of an off-cut worth keeping [mm].
    source : str
        What to call the list of pieces in faults.

    Returns
    -------
    Plan
        Checked against its own rules before it is returned.

    Raises
    ------
    CutListError
        Where no plan exists, with a fault for every piece and group that cannot be cut.
    PlanError
        When the plan found breaks a rule (a fault of the program).
    """
    if stages not in (2, 3):
        raise ValueError(f"stages must be 2 or 3 (got {stages!r})")
    if mode not in EFFORTS:
        raise ValueError(f"mode must be one of {', '.join(EFFORTS)} (got {mode!r})")
    table = None if table_mm is None else exact(table_mm)
    cut = prepare(pieces, rolls, table_mm=table, source=source)
    terms = Terms(table, stages, replace(EFFORTS[mode], work=Work(ALLOWED[mode])), source)
    count = Counter(piece.film for piece in cut)
    films = sorted(count, key=lambda name: (count[name], name))  # the largest last: it has what others leave
    by_film: dict[str, Plan] = {}
    for done, name in enumerate(films):
        mine = [piece for piece in cut if piece.film == name]
        offered = sorted((roll for roll in rolls if roll.film == name), key=_roll_order)
        by_film[name] = batches.plan(mine, offered, terms.part(len(films) - done), _plan_film)
    parts = [by_film[name] for name in sorted(films)]
    joined = Plan(
        rolls=tuple(roll for part in parts for roll in part.rolls),
        lower_bound=sum((part.lower_bound for part in parts), Decimal("0.00")),
        proven=all(part.proven for part in parts),
        film_bound_m2=sum(part.film_bound_m2 for part in parts),
        proven_film=all(part.proven_film for part in parts),
        stages=stages,
        table_mm=table,
        keep_mm=(exact(keep_mm[0]), exact(keep_mm[1])),
        engine=", ".join(dict.fromkeys(part.engine for part in parts)),
        notes=(
            *_short_orders(rolls, [cut.roll for part in parts for cut in part.rolls]),
            *(note for part in parts for note in batches.notes(part)),
        ),
    )
    check(joined, cut, rolls, table_mm=table, stages=stages)
    return joined


def _short_orders(offered: Sequence[Roll], used: Sequence[Roll]) -> list[str]:
    """Return a note for each roll used of which less can be ordered at once than its longest length."""
    return [
        translatable(
            "Film {width:g} wide is sold in steps of {step:g}: one length is {most:g} at most.",
            width=Quantity(number(roll.width_mm), "mm"),
            step=Quantity(number(roll.step_mm or 0), "mm"),
            most=Quantity(number(roll.longest_mm or 0), "mm"),
        )
        for roll in dict.fromkeys(offered)
        if roll in used and roll.by_length and roll.most_mm is not None
        and roll.longest_mm != exact(roll.most_mm)
    ]  # fmt: skip


def prepare(
    pieces: Sequence[Piece],
    rolls: Sequence[Roll],
    *,
    table_mm: Fraction | None = None,
    source: str = "pieces",
) -> list[Piece]:
    """Return the pieces to cut, those too wide for any roll with seams.

    Raises
    ------
    CutListError
        With a fault for every impossible piece and view group.
    """
    faults = []
    cut: list[Piece] = []
    for piece in pieces:
        problem = _piece_fault(piece, source)
        if problem:
            faults.append(problem)
        elif any(seams.holds(piece, roll, table_mm) for roll in rolls):
            cut.append(piece)
        else:
            parts = seams.split(piece, rolls, table_mm)
            if parts is None:
                reason = seams.why_not(piece, rolls, table_mm)
                faults.append(
                    Fault(
                        source,
                        0,
                        piece.pane,
                        translatable("no roll can hold this piece: {reason}", reason=reason),
                    )
                )
            else:
                cut += parts
    faults += batches.seam_faults(cut, rolls, table_mm, source)
    if faults:
        raise CutListError(faults=faults)
    return cut


def _piece_fault(piece: Piece, source: str) -> Fault | None:
    """Return a fault for a piece that makes no sense."""
    for name, value in (("width", piece.width_mm), ("length", piece.length_mm)):
        if not value > 0:
            return Fault(source, 0, f"{piece.id} {name}", translatable("must be over 0"), str(value))
    if piece.quantity < 1:
        return Fault(
            source, 0, f"{piece.id} quantity", translatable("must be at least 1"), str(piece.quantity)
        )
    return None


def _roll_order(roll: Roll) -> tuple[Any, ...]:
    """Return a key that puts rolls in one order however they were listed."""
    length = exact(roll.length_mm) if roll.length_mm is not None else Fraction(-1)
    return (-exact(roll.width_mm), -length, roll.price, roll.pack, roll.label, roll.directional, str(roll))


def _plan_film(pieces: Sequence[Piece], rolls: Sequence[Roll], terms: Terms) -> Plan:
    """Plan one film, each view group on one roll."""
    problem, behind = build(pieces, terms.table, directional=any(roll.directional for roll in rolls))
    rolls = [roll for roll in rolls if held(problem, roll)]
    fit = {item // 2 for roll in rolls for item in held(problem, roll)}
    shortage.name(
        [piece for kind, mine in behind.items() if kind not in fit for piece in mine],
        translatable("no roll can hold this piece, rounded up to {unit}", unit=mm_told(problem.unit)),
        terms.source,
    )
    best = Best(problem, rolls)
    count = sum(kind.demand for kind in problem.kinds)
    effort = replace(terms.effort, deep=terms.effort.deep or count <= SMALL)
    quick_plans(
        problem,
        rolls,
        best,
        tries=max(1, min(6 if effort.deep else 4, 600 // count)),
        work=effort.work,
    )
    mixes = Mixes(problem, rolls, best, effort)
    mixes.root()
    mixes.search()
    mixes.least_film()
    if best.loads is None and any(roll.label == shortage.LABEL for roll in rolls):
        shortage.name(
            pieces, translatable("no plan was found for this piece and the others of its film"), terms.source
        )
    if best.loads is None:
        return _with_more(pieces, rolls, terms)
    money_bound, film_bound, film_proven = mixes.money_bound, mixes.film_bound, mixes.film_proven
    if terms.stages == 3:
        money_bound, film_bound = stacks.stack(problem, rolls, best, mixes, effort)
        film_proven = film_bound >= best.area * (1 - 1e-9)
    money_bound = max(money_bound, area_money(problem, rolls))
    film_bound = max(film_bound, float(sum(kind.width * kind.length * kind.demand for kind in problem.kinds)))
    drawn = draw(problem, behind, rolls, best.loads)
    price = sum((cut.price for cut in drawn), Decimal("0.00"))
    proven = money_bound >= best.money - 1e-6 * max(1.0, best.money)
    return Plan(
        rolls=drawn,
        lower_bound=price if proven else min(price, _floor(money_bound)),
        proven=proven,
        film_bound_m2=min(film_bound, best.area) * float(problem.unit) ** 2 / 1e6,
        proven_film=film_proven,
        engine=best.engine,
    )


def _with_more(pieces: Sequence[Piece], rolls: Sequence[Roll], terms: Terms) -> Plan:
    """Plan one film with more of it than is offered; raise for the pieces that take some of that."""
    quick = replace(terms, effort=replace(EFFORTS["quick"], work=Work(ALLOWED["quick"])))
    plan = _plan_film(pieces, [*rolls, *shortage.endless(rolls)], quick)
    faults = shortage.missing(plan, terms.source)
    if faults:
        raise CutListError(faults=faults)
    return plan


def _floor(value: float) -> Decimal:
    """Return money rounded down to hundredths, so that a bound stays one."""
    return Decimal(repr(max(value, 0.0))).quantize(CENT, rounding=ROUND_FLOOR)


def quick_plans(problem: Problem, rolls: Sequence[Roll], best: Best, *, tries: int, work: Work) -> None:
    """Offer greedy strips from each width alone and from all widths together."""
    counts = [1 if roll.by_length or roll.stock is None or roll.stock > 0 else 0 for roll in rolls]
    bays, inside = make_bays(problem, rolls, counts)
    widths = [list(dict.fromkeys(held)) for held in inside]
    rates = [min(rate(rolls[i]) for i in held) for held in widths]
    sets = [[number] for number in range(len(bays))]
    if len(bays) > 1:
        sets.append(list(range(len(bays))))
    generator = np.random.default_rng(20_240_601)
    for chosen in sets:
        some = [bays[number] for number in chosen]
        costs = [rates[number] for number in chosen]
        if max(costs) == 0:
            costs = [float(bay.width) for bay in some]
        choice = heuristics.group_choice(problem, some, costs)
        if choice is None:
            continue
        held = [widths[number] for number in chosen]
        served = {item // 2 for may in heuristics.allowed(problem, some, choice) for item in may}
        if len(served) < len(problem.kinds):
            continue
        tools = [Crosscuts(problem, some, number, work=work) for number in range(len(some))]
        for turn in range(tries):
            if work.over and best.loads is not None:
                return
            noise = None if turn < 2 else generator.uniform(0.9, 1.1, len(problem.kinds))
            values = heuristics.area_values(problem, (1.05, 1.15, 1.0, 1.1, 1.05, 1.0)[turn], noise)
            cuts = heuristics.greedy(problem, some, costs, choice, values, tools=tools)
            if cuts is not None:
                best.offer(buying.buy(problem, rolls, held, cuts), "greedy")
