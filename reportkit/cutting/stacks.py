"""Three-stage plans: pieces stacked within a strip by a further cut across.

They start from the two-stage plan, so they are never longer: pieces move into the waste beside and beyond
others until strips vanish or shorten; a greedy plan that fills each strip's waste as it goes is tried too,
and whole numbers of the strips that the bound (`stacking`) was found with.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from reportkit.cutting import buying, heuristics
from reportkit.cutting.branching import branch, rates
from reportkit.cutting.buying import Load
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
    load: int
    along: int
    width: int
    columns: list[list[int]] = field(default_factory=list)

    def cut(self) -> Cut:
        """Return the strip as it will be cut."""
        return Cut(self.bay, self.along, tuple(tuple(column) for column in self.columns))


def place(problem: Problem, strips: Sequence[Strip], ways: Sequence[int]) -> tuple[Strip, int, int] | None:
    """Return (strip, column, item) where a piece fits with least left over; column -1 is a new one.

    Beyond a piece comes first, since it takes no width from others.
    """
    best: tuple[tuple[int, int, int], Strip, int, int] | None = None
    for strip in strips:
        sizes = [column_size(problem, tuple(column)) for column in strip.columns]
        used = sum(across for across, _ in sizes)
        for way in ways:
            item = problem.items[way]
            if item is None or item.along > strip.along:
                continue
            for number, (across, along) in enumerate(sizes):
                if item.across <= across and along + item.along <= strip.along:
                    key = (0, across - item.across, strip.along - along - item.along)
                    if best is None or key < best[0]:
                        best = (key, strip, number, way)
            if used + item.across <= strip.width:
                key = (1, strip.width - used - item.across, strip.along - item.along)
                if best is None or key < best[0]:
                    best = (key, strip, -1, way)
    return None if best is None else best[1:]


def _put(strip: Strip, column: int, item: int) -> None:
    if column < 0:
        strip.columns.append([item])
    else:
        strip.columns[column].append(item)


def _ways(problem: Problem, held: Sequence[set[int]], item: int, strip: Strip) -> list[int]:
    """Return the directions a piece may take on a strip; a view group keeps its own."""
    if problem.kinds[item // 2].group:
        return [item]
    return [way for way in (item, item ^ 1) if way in held[strip.bay]]


def _relocate(
    problem: Problem, held: Sequence[set[int]], strips: list[Strip], source: Strip, items: Sequence[int]
) -> bool:
    """Move items off a strip onto others; all or none."""
    copies = [[list(column) for column in strip.columns] for strip in strips]
    for item in sorted(items, key=lambda i: (-problem.kinds[i // 2].width * problem.kinds[i // 2].length, i)):
        grouped = bool(problem.kinds[item // 2].group)
        best = None
        for strip in strips:
            if strip is source or (grouped and strip.load != source.load):
                continue
            found = place(problem, [strip], _ways(problem, held, item, strip))
            if found is not None:
                sizes = (
                    column_size(problem, tuple(strip.columns[found[1]]))
                    if found[1] >= 0
                    else (strip.width, 0)
                )
                placed = problem.items[found[2]]
                assert placed is not None
                key = (found[1] < 0, sizes[0] - placed.across)
                if best is None or key < best[0]:
                    best = (key, found)
        if best is None:
            for strip, columns in zip(strips, copies, strict=True):
                strip.columns = columns
            return False
        _put(*best[1])
    return True


def squeeze(
    problem: Problem, bays: Sequence[Bay], loads: Sequence[Load], home: Sequence[int], *, passes: int = 6
) -> list[Load]:
    """Move pieces into the waste of other strips until nothing gets shorter.

    Parameters
    ----------
    loads : sequence of Load
        A whole plan; `home` gives the bay of each load.
    """
    held = [set(problem.fits(bay)) for bay in bays]
    strips = [
        Strip(
            home[number],
            number,
            cut.along,
            bays[home[number]].width,
            [list(column) for column in cut.columns],
        )
        for number, load in enumerate(loads)
        for cut in load.cuts
    ]
    for _ in range(passes):
        changed = False
        for source in sorted(strips, key=lambda strip: (sum(len(c) for c in strip.columns), strip.along)):
            everything = [item for column in source.columns for item in column]
            if not everything:
                continue
            if _relocate(problem, held, strips, source, everything):
                source.columns, source.along = [], 0
                changed = True
                continue
            tallest = max(column_size(problem, tuple(column))[1] for column in source.columns)
            tall = [c for c in source.columns if column_size(problem, tuple(c))[1] == tallest]
            rest = [c for c in source.columns if column_size(problem, tuple(c))[1] < tallest]
            before = source.columns
            if rest and _relocate(
                problem, held, strips, source, [item for column in tall for item in column]
            ):
                source.columns = rest
                source.along = max(column_size(problem, tuple(column))[1] for column in rest)
                changed = source.along < tallest or changed
            else:
                source.columns = before
        strips = [strip for strip in strips if strip.columns]
        if not changed:
            break
    found = []
    for number, load in enumerate(loads):
        cuts = sorted(
            (s.cut() for s in strips if s.load == number), key=lambda cut: (-cut.along, cut.columns)
        )
        if cuts:
            found.append(Load(load.roll, sum(cut.along for cut in cuts), tuple(cuts)))
    return found


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
        strip = Strip(first.bay, 0, first.along, bays[first.bay].width, [list(c) for c in first.columns])
        for column in strip.columns:
            todo[column[0] // 2] -= 1
        for kind in order:
            ways = [way for way in (2 * kind, 2 * kind + 1) if way in held[first.bay]]
            while todo[kind] > 0:
                found = place(problem, [strip], ways)
                if found is None:
                    break
                _put(*found)
                todo[kind] -= 1
        cuts.append(strip.cut())
    return settle(problem, cuts)


def stack(
    problem: Problem, rolls: Sequence[Roll], best: Best, mixes: Mixes, effort: Effort
) -> tuple[float, float]:
    """Improve a plan by stacking pieces; return bounds on the money and film of three-stage plans."""
    bays, inside = make_bays(problem, rolls, [1] * len(rolls))
    home = {roll: number for number, held in enumerate(inside) for roll in held}

    def offer(loads: list[Load] | None) -> None:
        if loads is not None:
            best.offer(loads, "stacks")
            best.offer(squeeze(problem, bays, loads, [home[load.roll] for load in loads]), "stacks")

    offer(best.loads)
    costs = [min(rate(rolls[i]) for i in held) for held in inside]
    count = sum(kind.demand for kind in problem.kinds)
    sets = [[n] for n in range(len(bays))] + ([list(range(len(bays)))] if len(bays) > 1 else [])
    for chosen in sets if not problem.groups and count <= MANY else ():
        some, held = [bays[n] for n in chosen], [inside[n] for n in chosen]
        for power in (1.0, 1.05, 1.15):
            price = [costs[n] or float(bays[n].width) for n in chosen]
            cuts = greedy_stacked(problem, some, price, heuristics.area_values(problem, power))
            offer(None if cuts is None else buying.buy(problem, rolls, held, cuts))
    if not mixes.root_bays or any(bay.capacity for bay in mixes.root_bays):
        return 0.0, 0.0
    bays, inside = mixes.root_bays, mixes.root_inside
    home = {roll: number for number, held in enumerate(inside) for roll in held}
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
        found = branch(
            problem, prices, sorted(forms), quantum=goal.quantum, limit=limit, budget=budget,
            work=effort.work,
        )  # fmt: skip
        cuts = settle(problem, [forms[pattern] for pattern, n in found.strips.items() for _ in range(n)])
        if found.strips:
            offer(buying.buy(problem, rolls, inside, cuts))
    alone = len(rolls) == 1 and rolls[0].by_length and rolls[0].step_mm is None and best.money > 0
    return money, best.area * money / best.money if alone else 0.0
