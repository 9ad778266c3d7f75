"""Plans against a second model of the same problem, the level model, which shares nothing with the planner's.

Every strip (level) is opened by its longest piece; shorter pieces join it while the width lasts. Identical
pieces are merged, so a level takes whole numbers of each size. Source: Lodi, Martello and Vigo, "Models
and bounds for two-dimensional level packing problems", J. Combinatorial Optimization 8 (2004), the level
model with turning added, from memory of the paper.
"""

from __future__ import annotations

import math
import random
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

import numpy as np
import pytest
from scipy.sparse import coo_matrix

from reportkit.cutting import Piece, Roll, plan, programmes
from reportkit.cutting.problem import Bay, Problem, build, make_bays
from reportkit.cutting.strips import Cut, complete, settle

ROLL = Roll(1524, None, Decimal("10"))


def job(seed: int) -> list[Piece]:
    """Return a random job of eight to twelve pieces."""
    r = random.Random(seed)
    kinds = r.randint(5, 8)
    return [
        Piece(
            f"W{k}", r.randint(35, 150) * 10, r.randint(40, 230) * 10, r.choice((1, 1, 2)), r.random() < 0.8
        )
        for k in range(kinds)
    ]


@dataclass(frozen=True)
class Levels:
    """The model's answer: strips (empty if none found), a bound on the length, and whether it is least."""

    cuts: tuple[Cut, ...]
    length: float
    bound: float
    solved: bool


def solve_levels(
    problem: Problem,
    bay: Bay,
    *,
    at_least: float = 0.0,
    below: float | None = None,
    nodes: int = 2000,
) -> Levels:
    """Find the least length of one bay that all pieces can be cut from.

    Parameters
    ----------
    problem : Problem
        Without view groups.
    bay : Bay
        Its width and longest pull; how much there is of it is not limited.
    at_least, below : float
        A known lower bound, and a length to beat, if any [units].
    nodes : int
        Limit on the search.
    """
    # longest first, so that a level's opener is the first of its pieces in this order
    order = [
        (item.along, item.across, i) for i in problem.fits(bay) if (item := problem.items[i]) is not None
    ]
    order.sort(key=lambda entry: (-entry[0], -entry[1], entry[2]))
    opened: list[tuple[int, int]] = []  # (position in order, copy)
    for position, (_, _, index) in enumerate(order):
        opened += [(position, copy) for copy in range(problem.kinds[index // 2].demand)]
    joins = [
        (level, position)
        for level, (first, _) in enumerate(opened)
        for position in range(first, len(order))
        if order[position][1] + order[first][1] <= bay.width
    ]
    n_levels, n_kinds = len(opened), len(problem.kinds)
    total = n_levels + len(joins)
    rows: list[int] = []
    cols: list[int] = []
    data: list[float] = []
    low: list[float] = []
    high: list[float] = []

    def row(entries: list[tuple[int, float]], least: float, most: float) -> None:
        for col, value in entries:
            rows.append(len(low))
            cols.append(col)
            data.append(value)
        low.append(least)
        high.append(most)

    by_level: list[list[tuple[int, int]]] = [[] for _ in opened]
    by_kind: list[list[tuple[int, float]]] = [[] for _ in range(n_kinds)]
    for number, (level, position) in enumerate(joins):
        by_level[level].append((n_levels + number, order[position][1]))
        by_kind[order[position][2] // 2].append((n_levels + number, 1.0))
    for level, (first, _) in enumerate(opened):
        by_kind[order[first][2] // 2].append((level, 1.0))
        room = float(bay.width - order[first][1])
        row([*((col, float(across)) for col, across in by_level[level]), (level, -room)], -math.inf, 0.0)
        if level and opened[level - 1][0] == first:  # equal levels are opened in order
            row([(level - 1, 1.0), (level, -1.0)], 0.0, math.inf)
    for kind in range(n_kinds):
        demand = float(problem.kinds[kind].demand)
        row(by_kind[kind], demand, demand)
    lengths = [(level, float(order[first][0])) for level, (first, _) in enumerate(opened)]
    row(lengths, at_least, math.inf if below is None else below)
    costs = np.zeros(total)
    costs[:n_levels] = [length for _, length in lengths]
    upper = np.ones(total)
    upper[n_levels:] = [problem.kinds[order[position][2] // 2].demand for _, position in joins]
    matrix = coo_matrix((data, (rows, cols)), shape=(len(low), total)).tocsr()
    result = programmes.whole(
        costs, [(matrix, np.array(low), np.array(high))], upper=upper, nodes=nodes, scale=bay.longest / 1000
    )
    if result.solved and result.amounts is None:
        return Levels((), math.inf, math.inf, True)
    bound = max(result.bound, at_least)
    if result.amounts is None:
        return Levels((), math.inf, bound, False)
    amounts = result.amounts
    stacks: dict[int, list[tuple[int, ...]]] = {
        level: [(order[first][2],)] for level, (first, _) in enumerate(opened) if amounts[level] > 0.5
    }
    for number, (level, position) in enumerate(joins):
        stacks.setdefault(level, []).extend([(order[position][2],)] * round(amounts[n_levels + number]))
    cuts = [
        Cut(0, order[opened[level][0]][0], tuple(columns)) for level, columns in stacks.items() if columns
    ]
    return Levels(tuple(settle(problem, cuts)), result.value, bound, result.solved)


@pytest.mark.parametrize("start", range(0, 50, 10))
def test_a_second_model_finds_the_same_least_length(start):
    """Column generation and the level model agree on fifty random jobs (cross-check, not an authority)."""
    for seed in range(start, start + 10):
        pieces = job(seed)
        found = plan(pieces, [ROLL], table_mm=2440)
        problem, _ = build(pieces, Fraction(2440))
        bays, _ = make_bays(problem, [ROLL], [1])
        second = solve_levels(problem, bays[0])
        assert found.proven and second.solved
        assert complete(problem, second.cuts)
        assert float(found.used_mm) == pytest.approx(second.length * float(problem.unit)), f"job {seed}"


def test_a_length_that_cannot_be_beaten_is_refused():
    """Asked to beat the least length, the model says that nothing does."""
    problem, _ = build(job(1), Fraction(2440))
    bays, _ = make_bays(problem, [ROLL], [1])
    least = solve_levels(problem, bays[0]).length
    none = solve_levels(problem, bays[0], below=least - 0.5)
    assert none.solved and not none.cuts
