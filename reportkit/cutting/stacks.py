"""Three-stage plans: pieces stacked within a strip by a further cut across.

They start from the two-stage plan, so they are never longer: a greedy plan that fills each strip's waste as
it goes is tried beside it, and whole numbers of the strips that the bound (`stacking`) was found with.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from reportkit.cutting import buying, heuristics
from reportkit.cutting.branching import branch, rates
from reportkit.cutting.columns import Master
from reportkit.cutting.mixes import Mixes
from reportkit.cutting.patterns import Crosscuts
from reportkit.cutting.problem import Bay, Problem, make_bays, rate
from reportkit.cutting.records import Roll
from reportkit.cutting.search import Best, Effort
from reportkit.cutting.stacking import stacked_bound
from reportkit.cutting.strips import Cut, column_size, pattern_of, settle
from reportkit.cutting.wholes import money_goal

MANY = 300  # pieces, above which filling strips one by one takes too long


@dataclass
class Strip:
    """A strip being filled: columns of stacked items within a width."""

    bay: int
    along: int
    width: int
    columns: list[list[int]] = field(default_factory=list)

    def cut(self) -> Cut:
        """Return the strip as it will be cut."""
        return Cut(self.bay, self.along, tuple(tuple(column) for column in self.columns))

    def take(self, problem: Problem, ways: Sequence[int]) -> bool:
        """Take a piece, in one of its ways, where it leaves least over; return whether there is room.

        Beyond a piece comes first, since that takes no width from others.
        """
        best: tuple[tuple[int, int, int], list[int], int] | None = None
        sizes = [column_size(problem, tuple(column)) for column in self.columns]
        room = self.width - sum(across for across, _ in sizes)
        new: list[int] = []
        for way in ways:
            item = problem.items[way]
            if item is None or item.along > self.along:
                continue
            for column, (across, along) in zip(self.columns, sizes, strict=True):
                if item.across <= across and along + item.along <= self.along:
                    key = (0, across - item.across, self.along - along - item.along)
                    if best is None or key < best[0]:
                        best = (key, column, way)
            if item.across <= room:
                key = (1, room - item.across, self.along - item.along)
                if best is None or key < best[0]:
                    best = (key, new, way)
        if best is None:
            return False
        _, column, way = best
        column.append(way)
        if column is new:
            self.columns.append(new)
        return True


def greedy_stacked(
    problem: Problem, bays: Sequence[Bay], costs: Sequence[float], values: Sequence[float]
) -> list[Cut] | None:
    """Take the best strip again and again, filling the waste of each before the next; no view groups."""
    held = [set(items) for items in heuristics.allowed(problem, bays, {})]
    tools = [Crosscuts(problem, bays, number) for number in range(len(bays))]
    todo = [kind.demand for kind in problem.kinds]
    order = sorted(range(len(todo)), key=lambda k: (-problem.kinds[k].width * problem.kinds[k].length, k))
    cuts: list[Cut] = []
    while any(todo):
        one = heuristics.greedy(problem, bays, costs, {}, values, tools=tools, left=todo, most=1)
        if not one:
            return None
        first = one[0]
        strip = Strip(first.bay, first.along, bays[first.bay].width, [list(c) for c in first.columns])
        for column in strip.columns:
            todo[column[0] // 2] -= 1
        for kind in order:
            ways = [way for way in (2 * kind, 2 * kind + 1) if way in held[first.bay]]
            while todo[kind] > 0 and strip.take(problem, ways):
                todo[kind] -= 1
        cuts.append(strip.cut())
    return settle(problem, cuts)


def stack(
    problem: Problem, rolls: Sequence[Roll], best: Best, mixes: Mixes, effort: Effort
) -> tuple[float, float]:
    """Improve a plan by stacking pieces; return bounds on the money and film of three-stage plans."""
    bays, inside = make_bays(problem, rolls, [1] * len(rolls))
    costs = [min(rate(rolls[i]) for i in held) for held in inside]
    count = sum(kind.demand for kind in problem.kinds)
    sets = [[n] for n in range(len(bays))] + ([list(range(len(bays)))] if len(bays) > 1 else [])
    for chosen in sets if not problem.groups and count <= MANY else ():
        some, held = [bays[n] for n in chosen], [inside[n] for n in chosen]
        for power in (1.0, 1.05, 1.15):
            price = [costs[n] or float(bays[n].width) for n in chosen]
            cuts = greedy_stacked(problem, some, price, heuristics.area_values(problem, power))
            best.offer(None if cuts is None else buying.buy(problem, rolls, held, cuts), "stacks")
    if not mixes.root_bays or any(bay.capacity for bay in mixes.root_bays):
        return 0.0, 0.0
    bays, inside = mixes.root_bays, mixes.root_inside
    goal = money_goal(problem, rolls, bays)
    master = Master(problem, bays, goal, effort.work)
    mixes.prime(master)
    prices = [bay.price for bay in bays]
    start = [
        Cut(p.bay, p.along, tuple((item,) for item, n in p.items for _ in range(n))) for p in master.columns
    ]
    bound, strips = stacked_bound(
        problem, bays, prices, start, enough=best.money, rounds=effort.stacked[0], work=effort.work
    )
    money = goal.up(bound)
    if strips and rates(master):
        forms = {pattern_of(cut): cut for cut in strips}
        limit, budget = best.money, effort.stacked[1]
        branched = branch(
            problem, prices, sorted(forms), quantum=goal.quantum, limit=limit, budget=budget,
            work=effort.work,
        )  # fmt: skip
        cuts = settle(problem, [forms[pattern] for pattern, n in branched.strips.items() for _ in range(n)])
        if branched.strips:
            best.offer(buying.buy(problem, rolls, inside, cuts), "stacks")
    alone = len(rolls) == 1 and rolls[0].by_length and rolls[0].step_mm is None and best.money > 0
    return money, best.area * money / best.money if alone else 0.0
