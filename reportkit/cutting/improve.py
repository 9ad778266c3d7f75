"""Make a plan better by cutting a few of its strips anew, again and again.

A handful of strips is taken out, the wasteful ones rather, and their pieces are planned afresh as a small
problem of their own, which whole-number programming solves in an instant. The order is drawn from a fixed
seed and the number of turns is counted, so the same plan always comes out the same. It proves nothing.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from reportkit.cutting.branching import branch
from reportkit.cutting.columns import Goal, Master
from reportkit.cutting.effort import Work
from reportkit.cutting.problem import Bay, Problem
from reportkit.cutting.strips import Cut, expand

SEED = 7
EACH = 20  # work for each strip looked at in a turn
BUDGET = 60  # linear programmes for a few strips


def improve(
    problem: Problem,
    bays: Sequence[Bay],
    rates: Sequence[float],
    cuts: Sequence[Cut],
    *,
    turns: int,
    pieces: int,
    work: Work,
    enough: float = 0.0,
    quantum: float = 0.0,
) -> list[Cut]:
    """Return strips that cost no more than those given.

    Parameters
    ----------
    rates : sequence of float
        Cost of a unit of length in each bay.
    cuts : sequence of Cut
        A whole plan; strips with view groups are left alone.
    turns : int
        How many times a few strips are taken out [-].
    pieces : int
        About how many pieces are planned anew each time [-].
    work : Work
        Counts what is done, and stops it.
    enough : float
        Stop at this cost, where a bound shows that nothing better exists.
    quantum : float
        Step in which the cost of a plan can change where nothing limits the length of any bay, else 0.
    """
    generator = np.random.default_rng(SEED)
    best = list(cuts)
    fruitless = 0
    tried: set[tuple[Cut, ...]] = set()
    for _ in range(turns):
        work.spend(EACH * len(best))
        cost = sum(rates[cut.bay] * cut.along for cut in best)
        loose = [n for n, cut in enumerate(best) if not _grouped(problem, cut)]
        if work.over or cost <= enough * (1 + 1e-9) or not loose or fruitless > turns // 2 + 3:
            break
        chosen = _choose(problem, bays, best, loose, pieces, generator)
        freed = [best[n] for n in chosen]
        if tuple(sorted(freed)) in tried:
            fruitless += 1
            continue
        tried.add(tuple(sorted(freed)))
        kept = [cut for n, cut in enumerate(best) if n not in set(chosen)]
        fresh = afresh(problem, bays, rates, freed, kept, quantum=quantum, work=work)
        if fresh is None:
            fruitless += 1
        else:
            fruitless = 0
            best = sorted([*kept, *fresh], key=lambda cut: (cut.bay, -cut.along, cut.columns))
    return best


def _grouped(problem: Problem, cut: Cut) -> bool:
    """Return whether a strip holds a piece of a view group."""
    return any(problem.kinds[item // 2].group for column in cut.columns for item in column)


def _choose(
    problem: Problem,
    bays: Sequence[Bay],
    cuts: Sequence[Cut],
    loose: Sequence[int],
    pieces: int,
    generator: np.random.Generator,
) -> list[int]:
    """Draw strips to cut anew, each as likely as the film it wastes is large, up to about `pieces` pieces."""
    waste = []
    for n in loose:
        cut = cuts[n]
        used = 0
        for column in cut.columns:
            for index in column:
                kind = problem.kinds[index // 2]
                used += kind.width * kind.length
        waste.append(float(bays[cut.bay].width * cut.along - used))
    weights = np.array(waste) + float(np.mean(waste)) + 1.0
    order = generator.choice(len(loose), size=len(loose), replace=False, p=weights / weights.sum())
    chosen, count = [], 0
    for position in order:
        chosen.append(loose[int(position)])
        count += sum(len(column) for column in cuts[chosen[-1]].columns)
        if count >= pieces:
            break
    return chosen


def afresh(
    problem: Problem,
    bays: Sequence[Bay],
    rates: Sequence[float],
    freed: Sequence[Cut],
    kept: Sequence[Cut],
    *,
    quantum: float,
    work: Work,
) -> list[Cut] | None:
    """Plan the pieces of the freed strips anew; None unless that is cheaper."""
    demand = [0] * len(problem.kinds)
    for cut in freed:
        for column in cut.columns:
            for item in column:
                demand[item // 2] += 1
    numbers = [k for k, count in enumerate(demand) if count]
    small = replace(
        problem,
        kinds=tuple(replace(problem.kinds[k], demand=demand[k]) for k in numbers),
        items=tuple(
            None if item is None else replace(item, kind=place)
            for place, k in enumerate(numbers)
            for item in problem.items[2 * k : 2 * k + 2]
        ),
        groups=(),
    )
    before = sum(rates[cut.bay] * cut.along for cut in freed)
    total = sum(cut.along for cut in freed)
    rooms = []
    for number, bay in enumerate(bays):
        used = sum(cut.along for cut in kept if cut.bay == number)
        rooms.append(replace(bay, tops=(), capacity=10 * total if bay.tops else max(bay.capacity - used, 0)))
    unit = min(rate for rate in rates if rate > 0) if any(rates) else 1.0
    goal = Goal(tuple(rates), tuple(() for _ in bays), 0.0)
    master = Master(small, rooms, goal, work)
    relaxed = master.relax(rounds=60)
    better = before - 0.999 * unit * small.length_divisor() * (len(bays) == 1) - 1e-9 * before
    if relaxed.missing > 1e-6 or relaxed.value >= better:
        return None
    columns, listed = master.within(relaxed, better - relaxed.value, most=700, steps=40_000)
    columns = sorted({*columns, *(relaxed.use if listed else master.columns)})
    if quantum:
        chosen = branch(small, rates, columns, quantum=quantum, limit=before, budget=BUDGET, work=work)
    else:
        chosen = master.choose(columns, cutoff=better, nodes=60)
    if not chosen.strips or math.isinf(chosen.value):
        return None
    fresh = expand(small, chosen.strips, {})
    back = [
        Cut(cut.bay, cut.along, tuple(tuple(2 * numbers[i // 2] + i % 2 for i in c) for c in cut.columns))
        for cut in fresh
    ]
    return back if sum(rates[c.bay] * c.along for c in back) < before * (1 - 1e-12) else None
