"""Quick strips: the best-filled strip again and again.

Every crosscut is priced by knapsack, and the strip worth most for its film is taken, under piece values that
are the area raised to a power, or given. Where a view group goes is decided by simple shelves [1]_.

References
----------
.. [1] Coffman, Garey, Johnson and Tarjan, "Performance bounds for level-oriented two-dimensional packing
   algorithms", SIAM J. Computing 9 (1980), from memory of the paper.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from reportkit.cutting.patterns import Crosscuts
from reportkit.cutting.problem import Bay, Pattern, Problem
from reportkit.cutting.strips import Cut, settle

Choice = Mapping[str, tuple[int, bool]]  # view group -> (bay, turned)


def allowed(problem: Problem, bays: Sequence[Bay], choice: Choice) -> list[list[int]]:
    """Return for each bay the items it may take, given where each view group goes."""
    by_bay = []
    for number, bay in enumerate(bays):
        held = []
        for index in problem.fits(bay):
            group = problem.kinds[index // 2].group
            if not group or choice.get(group) == (number, bool(index % 2)):
                held.append(index)
        by_bay.append(held)
    return by_bay


def group_choice(
    problem: Problem, bays: Sequence[Bay], costs: Sequence[float]
) -> dict[str, tuple[int, bool]] | None:
    """Send each view group to the bay and direction with the cheapest simple shelves; None if none fits."""
    choice: dict[str, tuple[int, bool]] = {}
    for group in problem.groups:
        tried = []
        for number, bay in enumerate(bays):
            for turned in problem.options(group, bay):
                items = [2 * kind + turned for kind in problem.members(group)]
                pieces = [i for i in items for _ in range(problem.kinds[i // 2].demand)]
                tried.append((costs[number] * _shelve(problem, bay, pieces), number, turned))
        if not tried:
            return None
        choice[group] = min(tried)[1:]
    return choice


def _shelve(problem: Problem, bay: Bay, pieces: Sequence[int]) -> int:
    """Return the film that pieces take on shelves: the longest first, each on the first with room [1]_."""
    sizes = {i: (item.along, item.across) for i, item in enumerate(problem.items) if item is not None}
    shelves: list[list[int]] = []  # along, room
    for along, across in sorted((sizes[index] for index in pieces), reverse=True):
        shelf = next((shelf for shelf in shelves if across <= shelf[1]), None)
        if shelf is None:
            shelves.append([along, bay.width - across])
        else:
            shelf[1] -= across
    return sum(along for along, _ in shelves)


def greedy(
    problem: Problem,
    bays: Sequence[Bay],
    costs: Sequence[float],
    choice: Choice,
    values: Sequence[float],
    *,
    tools: Sequence[Crosscuts] | None = None,
    left: Sequence[int] | None = None,
    most: int | None = None,
) -> list[Cut] | None:
    """Take the strip worth most for its cost until nothing is left; None when some piece fits nowhere.

    Parameters
    ----------
    values : sequence of float
        Worth of each kind [any unit].
    left : sequence of int, optional
        How many of each kind are still to be cut; the whole demand where not given.
    most : int, optional
        Stop after so many strips.
    """
    held = allowed(problem, bays, choice)
    tools = [Crosscuts(problem, bays, number) for number in range(len(bays))] if tools is None else tools
    todo = [kind.demand for kind in problem.kinds] if left is None else list(left)
    cuts: list[Cut] = []
    piece_values = np.zeros((len(bays), len(problem.items)))
    for number in range(len(bays)):
        for index in held[number]:
            piece_values[number, index] = values[index // 2]
    offers: dict[int, tuple[float, Pattern]] = {}
    while any(todo):
        for number, tool in enumerate(tools):
            offer = offers.get(number)
            if offer is None or any(_count(offer[1], kind) > todo[kind] for kind in _kinds(offer[1])):
                offers.pop(number, None)
                best = _best_strip(tool, piece_values[number], max(costs[number], 1e-12), todo)
                if best is not None:
                    offers[number] = best
        if not offers:
            return None
        number = min(offers, key=lambda n: (-offers[n][0], n))
        pattern = offers[number][1]
        while all(_count(pattern, kind) <= todo[kind] for kind in _kinds(pattern)):
            for item, count in pattern.items:
                todo[item // 2] -= count
            columns = tuple((item,) for item, count in pattern.items for _ in range(count))
            cuts.append(Cut(number, pattern.along, columns))
            if most is not None and len(cuts) >= most:
                return cuts
    return settle(problem, cuts) if left is None else cuts


def _kinds(pattern: Pattern) -> set[int]:
    return {item // 2 for item, _ in pattern.items}


def _count(pattern: Pattern, kind: int) -> int:
    return sum(count for item, count in pattern.items if item // 2 == kind)


def _best_strip(
    tool: Crosscuts, piece_values: np.ndarray, cost: float, todo: list[int]
) -> tuple[float, Pattern] | None:
    """Return the strip of greatest value for its cost that cuts nothing beyond what is left."""
    tool.demand = [todo[kind] for kind in tool.kind]
    mask = np.repeat(np.array(todo) > 0, 2)
    best = None
    for along, value, pattern in tool.price(np.where(mask, piece_values, 0.0), ratio=True, limit=3):
        if value <= 0:
            continue
        spare = list(todo)
        items, got = [], 0.0
        for item, copies in sorted(pattern.items, key=lambda p: -piece_values[p[0]]):
            count = min(copies, spare[item // 2])
            spare[item // 2] -= count
            if count:
                items.append((item, count))
                got += piece_values[item] * count
        offer = got / (cost * along)
        if best is None or offer > best[0] + 1e-12:
            best = (offer, Pattern(pattern.bay, pattern.along, tuple(sorted(items))))
    return best


def area_values(problem: Problem, power: float, noise: np.ndarray | None = None) -> list[float]:
    """Return each kind's area raised to a power, times a noise near 1."""
    values = [float(kind.width * kind.length) ** power for kind in problem.kinds]
    return values if noise is None else [v * float(n) for v, n in zip(values, noise, strict=True)]
