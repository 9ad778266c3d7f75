"""Film by length alone: one target after another just above the bound, until a plan meets it.

A target takes only the strips within its distance of the linear programme, and branching drops all that
cannot stay below it, so a low target is soon refuted, which proves a bound, or gives a plan. The distance
grows until something is found; no good plan need be known before. Where the programmes allowed are used
up first, dives and strips cut anew give a plan, and a last run of targets narrows what is left.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import replace

from reportkit.cutting.branching import branch
from reportkit.cutting.columns import Chosen, Master, Relaxed
from reportkit.cutting.dives import Dives, good_strips
from reportkit.cutting.problem import Pattern
from reportkit.cutting.search import TINY, Effort

NEAR = 0.001  # of the bound: the first target's distance
FARTHER = ((20.0, 2.0), (80.0, 1.5), (math.inf, 1.25))  # times as far after so many programmes
SINGLE = 1.15  # pieces of each size on average; above, general whole-number programming is faster
LISTED = 8000  # strips within a target's distance at most
DIVED = 64  # sizes up to which the quick mode dives; with more, a dive takes longer than a person waits
SLOWER = 5  # strips of general programming that count as one linear programme


def deepen(
    master: Master,
    prices: Sequence[float],
    relaxed: Relaxed,
    limit: float,
    accept: Callable[[Chosen], float],
    polish: Callable[[int, int, float], float],
    effort: Effort,
) -> tuple[float, float]:
    """Return (best goal value, bound on all plans), as `wholes.integrate` does for any film.

    Parameters
    ----------
    prices : sequence of float
        Cost of a unit of length in each bay.
    limit : float
        The goal value of the best plan known; infinite for none.
    """
    goal = master.goal
    best, bound = limit, goal.up(relaxed.value)
    if relaxed.missing > TINY:
        return best, min(bound, best)
    distance = max(NEAR * relaxed.value, goal.quantum)

    def open_still() -> bool:
        return effort.worth_going_on(best, bound)

    kinds = master.problem.kinds
    single = sum(kind.demand for kind in kinds) <= SINGLE * len(kinds)
    most = LISTED if single else effort.columns

    def below(columns: Sequence[Pattern], target: float, budget: float) -> Chosen:
        """Look for a plan below a target: branching where all pieces differ, else any whole-number way."""
        quantum = goal.quantum
        if single:
            return branch(
                master.problem, prices, columns, quantum=quantum, limit=target, budget=budget,
                work=effort.work,
            )  # fmt: skip
        cutoff = target - quantum * (1 - 1e-3)
        nodes = effort.nodes_for(len(columns))
        chosen = master.choose(columns, cutoff=cutoff, nodes=nodes)
        known = max(relaxed.value, min(chosen.bound, target))
        return replace(chosen, bound=known, spent=len(columns) / SLOWER)

    def targets(budget: float) -> None:
        nonlocal best, bound, distance
        while open_still() and budget > 0:
            target = goal.up(min(relaxed.value + distance, best))
            # a plan below the target costs a quantum less at least, and so does each of its strips
            gap = target - goal.quantum * (1 - 1e-3) - relaxed.value
            columns, listed = master.within(relaxed, max(gap, 0.0), most=most, steps=effort.steps)
            if not listed:
                return
            chosen = below(columns, target, budget)
            budget -= chosen.spent
            bound = max(bound, min(goal.up(chosen.bound), target))
            if chosen.strips:
                best = min(best, accept(chosen))
            if not chosen.solved:
                return
            distance *= next(factor for few, factor in FARTHER if chosen.spent <= few)

    deep = effort.deep and relaxed.complete  # else the listed strips are not all that may help
    if deep:
        targets(effort.budgets[0])
    if open_still():
        if effort.deep or len(kinds) <= DIVED:
            dives = Dives(master, prices, good_strips(master, relaxed, effort.steps))
            for _ in range(effort.dives):
                if open_still():
                    best = min(best, accept(dives.dive()))
        turns, pieces = effort.anew
        if turns and open_still():
            best = min(best, polish(turns, pieces, bound))
        if deep:
            targets(effort.budgets[1])
    return best, min(bound, best)
