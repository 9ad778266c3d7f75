"""Plans from the linear programme: the strip it takes most of is fixed, again and again.

After each strip the programme is solved anew for what is left. The last pieces are planned exactly, as a
small problem of their own, since few of the good strips suit them. Later dives blur the costs a little,
always in the same way, so that the same job gives the same plans.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence

import numpy as np

from reportkit.cutting import heuristics, programmes
from reportkit.cutting.columns import Chosen, Master, Relaxed, cover_of
from reportkit.cutting.improve import afresh
from reportkit.cutting.problem import Pattern
from reportkit.cutting.strips import expand, pattern_of

SEED = 11
BLUR = 0.006  # of a strip's cost
LAST = 14  # pieces, planned exactly
LISTED = 600  # strips to choose from


def good_strips(master: Master, relaxed: Relaxed, steps: int) -> list[Pattern]:
    """Return some hundreds of strips of least reduced cost, and those the linear programme takes."""
    gap = 5e-4 * relaxed.value
    while True:
        columns, listed = master.within(relaxed, gap, most=3 * LISTED, steps=steps)
        if not listed or len(columns) >= LISTED or gap > relaxed.value:
            return sorted({*columns, *relaxed.use})
        gap *= 1.5


class Dives:
    """A list of good strips, and the dives through it; only for film by length without view groups."""

    def __init__(self, master: Master, prices: Sequence[float], columns: Sequence[Pattern]) -> None:
        self.master, self.prices, self.columns = master, list(prices), columns
        self.cover = cover_of(master.problem, columns)
        self.costs = np.array([prices[pattern.bay] * pattern.along for pattern in columns])
        self.generator = np.random.default_rng(SEED)
        self.blur = 0.0  # the first dive keeps to the costs as they are

    def dive(self) -> Chosen:
        """Return the strips of one more plan."""
        from scipy.sparse import csr_matrix

        problem, bays = self.master.problem, self.master.bays
        costs = self.costs * (1 + self.blur * self.generator.standard_normal(len(self.costs)))
        self.blur = BLUR
        left = np.array([kind.demand for kind in problem.kinds])
        taken: Counter[Pattern] = Counter()
        while left.sum() > LAST:
            cover = np.minimum(self.cover, left[:, None])
            useful = np.flatnonzero(cover.any(axis=0))
            open_rows = left > 0
            need = left[open_rows].astype(float)
            result = programmes.least(
                costs[useful], -csr_matrix(cover[open_rows][:, useful]), -need,
                scale=self.master.scale, presolve=False,
            )  # fmt: skip
            if result is None or math.isinf(result.value):  # some piece is on no strip of the list
                break
            self.master.work.programme(len(need), len(useful), result.turns)
            amounts = np.round(result.amounts, 6)
            for number in [int(n) for n in np.flatnonzero(amounts >= 1)] or [int(np.argmax(amounts))]:
                if left.sum() <= LAST:
                    break
                times = max(1, int(amounts[number]))
                taken[self.columns[useful[number]]] += times
                left = np.maximum(left - times * self.cover[:, useful[number]].astype(int), 0)
        cuts = expand(problem, taken, {})
        if left.any():
            values = heuristics.area_values(problem, 1.05)
            todo = [int(count) for count in left]
            rest = heuristics.greedy(problem, bays, self.prices, {}, values, left=todo) or []
            quantum = self.master.goal.quantum
            cuts += (
                afresh(problem, bays, self.prices, rest, cuts, quantum=quantum, work=self.master.work) or rest
            )
        strips = Counter(pattern_of(cut) for cut in cuts)
        value = sum(self.prices[cut.bay] * cut.along for cut in cuts)
        return Chosen(value, 0.0, dict(strips), False)
