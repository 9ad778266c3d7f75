"""Strips in whole numbers by branching on which pieces lie together, with cuts over three sizes.

It takes the plain case, film by length without view groups, where a plan is a set of strips that covers
the demand. General whole-number programming branches on single strips, which tells it little; asking
whether two sizes share a strip [1]_, or whether a size is turned, settles many strips at once. Halved
sums of three covers, rounded up, cut off fractions [2]_. Every node drops the strips whose reduced cost is
above what is left to gain. Programmes are counted, not seconds.

References
----------
.. [1] Ryan and Foster, "An integer programming approach to scheduling", in Computer Scheduling of Public
   Transport (1981), from memory of the paper.
.. [2] Jepsen, Petersen, Spoorendonk and Pisinger, "Subset-row inequalities applied to the vehicle-routing
   problem with time windows", Operations Research 56 (2008), from memory of the paper, for covers.
"""

from __future__ import annotations

import heapq
import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np

from reportkit.base.arrays import Array, Mask
from reportkit.cutting import programmes
from reportkit.cutting.columns import Chosen, Master, cover_of
from reportkit.cutting.effort import Work
from reportkit.cutting.problem import Pattern, Problem

EPS = 1e-6
ROUNDS = 6  # of cuts at the first node
CUTS = 20  # at a time
DEEP = 2  # rounds of cuts at nodes further down
BROKEN = 1e-4  # away from a whole number
RARE = 0.75
LOAD, ROWS = 500, 50  # strips and rows that make a programme count once more


@dataclass(frozen=True)
class Row:
    """A row over all strips: the sum of `weights` is at least `least`; a `cut` may be dropped again."""

    weights: np.ndarray
    least: float
    cut: bool = False


@dataclass(frozen=True)
class Answer:
    """A linear programme's value, amounts of its strips, duals of its rows, and reduced costs."""

    value: float
    amounts: np.ndarray
    duals: np.ndarray
    reduced: np.ndarray


@dataclass(frozen=True)
class Node:
    """Strips that are left and rows that hold in one part of the tree, with the programme's answer."""

    columns: np.ndarray
    rows: tuple[Row, ...]
    answer: Answer
    depth: int = 0


def rates(master: Master) -> list[float] | None:
    """Return the cost of a unit of length in each bay where that is all there is to it, else None."""
    costs = []
    for number, bay in enumerate(master.bays):
        if len(bay.tops) != 1 or bay.capacity or bay.tops[0].whole or math.isfinite(bay.tops[0].most):
            return None
        costs.append(master.goal.film[number] + master.goal.tops[number][0] / bay.tops[0].step)
    plain = not master.problem.groups and master.goal.spend is None and master.goal.quantum > 0
    return costs if plain else None


def branch(
    problem: Problem,
    rates: Sequence[float],
    columns: Sequence[Pattern],
    *,
    quantum: float,
    limit: float,
    budget: float,
    work: Work | None = None,
) -> Chosen:
    """Look for strips, of those given, that cost less than `limit`.

    Parameters
    ----------
    rates : sequence of float
        Cost of a unit of length in each bay.
    quantum : float
        The step of which every strip's cost is a multiple.
    budget : float
        How many linear programmes may be solved, large ones counting more.
    work : Work, optional
        Counts what is done, and stops it.

    Returns
    -------
    Chosen
        Without strips where nothing better was found; its bound holds for every plan of these strips, or
        is the limit where nothing better exists.
    """
    cover = cover_of(problem, columns)
    turned = np.zeros(cover.shape, dtype=bool)
    for number, pattern in enumerate(columns):
        for item, _ in pattern.items:
            turned[item // 2, number] |= bool(item % 2)
    # every cost is a whole number of quanta
    costs = np.round([rates[pattern.bay] * pattern.along / quantum for pattern in columns])
    demand = np.array([float(kind.demand) for kind in problem.kinds])
    tree = Tree(costs, cover, demand, turned, most=math.ceil(limit / quantum - EPS), budget=budget, work=work)
    bound = tree.search() * quantum
    strips = {columns[number]: count for number, count in tree.best_counts.items()}
    return Chosen(tree.best * quantum, bound, strips, tree.solved, {}, tree.spent)


class Tree:
    """The search over given strips for plans better than a limit."""

    def __init__(
        self,
        costs: np.ndarray,
        cover: np.ndarray,
        demand: np.ndarray,
        turned: np.ndarray,
        *,
        most: float,
        budget: float,
        work: Work | None,
    ) -> None:
        self.costs, self.cover, self.demand, self.turned = costs, cover, demand, turned
        self.best, self.budget, self.spent = most, budget, 0.0
        self.work = Work() if work is None else work
        self.solved = self.lost = False
        self.scale = max(float(np.max(costs, initial=0.0)) / 1000, 1e-9)
        self.best_counts: dict[int, int] = {}
        self.strips = np.maximum(np.count_nonzero(cover, axis=1), 1)
        self.triples = np.array(list(combinations(range(len(demand)), 3)), dtype=int).reshape(-1, 3)

    def solve(self, columns: np.ndarray, rows: Sequence[Row]) -> Answer | None:
        """Solve one linear programme; None where nothing meets its rows, or (`lost`) the solver failed."""
        from scipy.sparse import csr_matrix

        if not len(columns):
            return None
        matrix = np.vstack([self.cover[:, columns], *(row.weights[columns] for row in rows)])
        self.spent += max(len(matrix) / ROWS, 1) * (1 + len(columns) / LOAD)
        need = np.concatenate([self.demand, [row.least for row in rows]])
        result = programmes.least(
            self.costs[columns], -csr_matrix(matrix), -need,
            scale=self.scale, presolve=len(columns) > 4 * LOAD,
        )  # fmt: skip
        if result is None:
            self.lost = True
            return None
        self.work.programme(len(matrix), len(columns), result.turns)
        if math.isinf(result.value):
            return None
        reduced = self.costs[columns] - result.duals @ matrix
        return Answer(result.value, result.amounts, result.duals, reduced)

    def settle(self, node: Node) -> Node | None:
        """Drop strips too dear to help and add cuts; None when nothing better than the best is left."""
        columns, rows, answer = node.columns, node.rows, node.answer
        for turn in range(ROUNDS if node.depth < 2 else DEEP):
            room = self.best - 1 + EPS - answer.value
            if room < 0:
                return None
            if np.all(np.abs(answer.amounts - np.round(answer.amounts)) < EPS):
                amounts = np.round(answer.amounts).astype(int)
                self.best = round(answer.value)
                self.best_counts = {int(c): int(n) for c, n in zip(columns, amounts, strict=True) if n}
                return None
            keep = answer.reduced <= room + EPS
            columns, amounts = columns[keep], answer.amounts[keep]
            last = turn == (ROUNDS if node.depth < 2 else DEEP) - 1
            fresh = [] if last else self.cuts(columns, amounts)
            if not fresh:
                return Node(
                    columns,
                    rows,
                    Answer(answer.value, amounts, answer.duals, answer.reduced[keep]),
                    node.depth,
                )
            useful = answer.duals[len(self.demand) :] > EPS
            rows = (*(row for row, on in zip(rows, useful, strict=True) if on or not row.cut), *fresh)
            again = self.solve(columns, rows)
            if again is None:
                return None
            answer = again
        raise AssertionError("unreachable")  # pragma: no cover

    def cuts(self, columns: np.ndarray, amounts: np.ndarray) -> list[Row]:
        """Return rows that the amounts break: of three sizes, covers are halved, summed and rounded up."""
        used = amounts > EPS
        cover, amounts = self.cover[:, columns[used]], amounts[used]
        held = np.minimum(cover, 1)
        together = (held * amounts) @ held.T
        a, b, c = self.triples.T
        likely = np.flatnonzero(together[a, b] + together[a, c] + together[b, c] > 1 + EPS)
        a, b, c = self.triples[likely].T
        need = np.ceil((self.demand[a] + self.demand[b] + self.demand[c]) / 2)
        missing = need - np.ceil((cover[a] + cover[b] + cover[c]) / 2) @ amounts
        order = np.argsort(-np.round(missing, 9), kind="stable")[:CUTS]
        return [
            Row(
                np.ceil((self.cover[a[i]] + self.cover[b[i]] + self.cover[c[i]]) / 2),
                float(need[i]),
                cut=True,
            )
            for i in order
            if missing[i] > 0.02
        ]

    def members(self, node: Node) -> Mask:
        """Return strips (a mask of all) whose total must be a whole number but is not in this answer.

        Two sizes on few strips are asked about first, since that settles most.
        """
        amounts = node.answer.amounts
        used = amounts > EPS
        mine, amounts = node.columns[used], amounts[used]
        held = np.minimum(self.cover[:, mine], 1)
        together = (held * amounts) @ held.T
        first, second = np.triu_indices(len(self.demand), 1)
        broken = _fraction(together[first, second])
        if np.any(broken > BROKEN):
            chosen = int(np.argmax(broken / (self.strips[first] * self.strips[second]) ** RARE))
            both: Mask = (self.cover[first[chosen]] > 0) & (self.cover[second[chosen]] > 0)
            return both
        broken = _fraction(self.turned[:, mine] @ amounts)
        if np.any(broken > BROKEN):
            turned: Mask = self.turned[int(np.argmax(broken))]
            return turned
        single = np.zeros(len(self.costs), dtype=bool)
        single[mine[int(np.argmax(_fraction(amounts)))]] = True
        return single

    def branch(self, node: Node) -> list[Node]:
        """Return the parts of a node that may hold something better, the more promising first."""
        members = self.members(node)
        total = float(node.answer.amounts @ members[node.columns])
        weights = members.astype(float)
        more = (node.columns, (*node.rows, Row(weights, math.ceil(total - EPS))))
        if total < 1:
            fewer = (node.columns[~members[node.columns]], node.rows)
        else:
            fewer = (node.columns, (*node.rows, Row(-weights, -math.floor(total + EPS))))
        parts = []
        for columns, rows in (more, fewer):
            answer = self.solve(columns, rows)
            if answer is not None and answer.value <= self.best - 1 + EPS:
                parts.append(Node(columns, rows, answer, node.depth + 1))
        return sorted(parts, key=lambda part: part.answer.value)

    def search(self) -> float:
        """Search until nothing is left or the budget is spent; return a bound on plans of these strips."""
        every = np.arange(len(self.costs))
        answer = self.solve(every, ())
        if answer is None:
            self.solved = not self.lost
            return self.best if self.solved else 0.0
        root = answer.value
        heap: list[tuple[float, int, Node]] = []
        node: Node | None = Node(every, (), answer)
        count = 0
        while node is not None or heap:
            if node is None:
                value, _, node = heapq.heappop(heap)
                if value > self.best - 1 + EPS:
                    break
            if self.spent >= self.budget or self.work.over:
                return min([root if self.lost else node.answer.value, *(v for v, _, _ in heap), self.best])
            ready = self.settle(node)
            parts = [] if ready is None else self.branch(ready)
            node = parts[0] if parts else None
            for part in parts[1:]:
                count += 1
                heapq.heappush(heap, (part.answer.value, count, part))
        self.solved = not self.lost  # a part that the solver failed at may hold anything
        return self.best if self.solved else root


def _fraction(values: Array) -> Array:
    """Return how far values are from whole numbers, free of the last digits' noise."""
    fraction: Array = np.abs(values - values.round()).round(9)
    return fraction
