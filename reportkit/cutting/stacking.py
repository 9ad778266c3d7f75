"""A bound on three-stage plans: the linear programme over strips of stacks.

A column of a strip, some width across, holds pieces no wider whose lengths add up to the strip's at most.
With pieces by rising width, one knapsack over lengths gives the value of the best column for every width
and length at once; a second one over widths puts columns side by side, for all lengths together [1]_. Any
duals give a bound once they are scaled until no strip is worth more than it costs [2]_, so the search may
stop after any round. A piece may be counted on several strips or columns, which only lowers the bound.

References
----------
.. [1] Gilmore and Gomory, "Multistage cutting stock problems of two and more dimensions",
   Operations Research 13 (1965), from memory of the paper.
.. [2] Farley, "A note on bounding a class of linear programming problems, including cutting stock
   problems", Operations Research 38 (1990), from memory of the paper.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace

import numpy as np

from reportkit.cutting import programmes
from reportkit.cutting.effort import Work
from reportkit.cutting.problem import Bay, Problem
from reportkit.cutting.strips import Cut, items

EPS = 1e-7
FINEST = 3000  # units of length or width; finer ones are taken together
FRESH = 25  # strips added in a round
SMOOTH = 0.6  # of the best worths so far in those priced next
ROUNDS = 60


class Stacking:
    """The stacks and strips of one bay, ready to be priced again and again."""

    def __init__(self, problem: Problem, bays: Sequence[Bay], number: int, price: float) -> None:
        bay, self.number = bays[number], number
        across_unit, along_unit = (-(-size // FINEST) or 1 for size in (bay.width, bay.longest))
        self.along_unit = along_unit
        self.exact = across_unit == along_unit == 1  # its strips can be cut as they are
        self.price = price * along_unit
        self.width, self.longest = bay.width // across_unit, bay.longest // along_unit
        # a piece rounds down, so that every real strip is still there
        held = sorted(
            (max(item.across // across_unit, 1), max(item.along // along_unit, 1), index)
            for index in problem.fits(bay)
            if (item := problem.items[index]) is not None
        )
        self.items = [(*entry, problem.kinds[entry[2] // 2].demand) for entry in held]
        self.rows = [  # (width, items up to it)
            (across, number + 1)
            for number, (across, *_) in enumerate(self.items)
            if number + 1 == len(self.items) or self.items[number + 1][0] != across
        ]
        self.across = np.array([across for across, _ in self.rows])
        reached = np.zeros(self.width + 1, dtype=bool)
        reached[0] = True
        for width in range(1, self.width + 1):
            fits = self.across[self.across <= width]
            reached[width] = bool(reached[width - fits].any())
        # a width from which nothing more fits is as good as the whole
        narrowest = int(self.across[0]) if self.rows else 0
        self.widths = [int(w) for w in np.flatnonzero(reached) if 0 < w <= self.width - narrowest]
        if self.rows and self.width not in self.widths:
            self.widths.append(self.width)
        self.place = np.zeros(self.width + 1, dtype=int)  # the greatest of those widths, by number
        for number, width in enumerate(self.widths):
            self.place[width:] = number + 1
        lengths = {0}
        for along in sorted({along for _, along, _, _ in self.items}):
            for _ in range(self.longest // along):
                lengths |= {length + along for length in lengths if length + along <= self.longest}
        self.lengths = np.array(sorted(lengths - {0}), dtype=int)
        self.passes = len(self.items) + len(self.widths) * (len(self.rows) + 1)  # over tables, each time

    def stacks(self, duals: np.ndarray) -> np.ndarray:
        """Return the greatest value of a column, by (items allowed, length)."""
        table = np.zeros((len(self.items) + 1, self.longest + 1))
        for number, (_, along, index, demand) in enumerate(self.items):
            row, value = table[number + 1], float(duals[index // 2])
            row[:] = table[number]
            left, size = min(demand, self.longest // along), 1
            while left > 0 and value > 0:
                count = min(size, left)
                part = along * count
                np.maximum(row[part:], row[:-part] + value * count, out=row[part:])
                left, size = left - count, size * 2
        return table

    def best(self, duals: np.ndarray, lengths: np.ndarray) -> tuple[np.ndarray, Callable[[int], Cut]]:
        """Return the greatest value of a strip of each length, and a way to write the strip out."""
        table = self.stacks(duals)
        columns = np.array([table[upto][lengths] for _, upto in self.rows])
        sides = np.zeros((len(self.widths) + 1, len(lengths)))
        for number, width in enumerate(self.widths, start=1):
            fits = int(np.searchsorted(self.across, width, side="right"))
            rest = self.place[width - self.across[:fits]]
            np.max(sides[rest] + columns[:fits], axis=0, out=sides[number])
            np.maximum(sides[number], sides[number - 1], out=sides[number])

        def strip(which: int) -> Cut:
            stacked: list[tuple[int, ...]] = []
            number, length, tallest = len(self.widths), int(lengths[which]), 0
            while number > 0:
                width = self.widths[number - 1]
                fits = int(np.searchsorted(self.across, width, side="right"))
                rest = self.place[width - self.across[:fits]]
                offers = sides[rest, which] + columns[:fits, which]
                chosen = int(np.argmax(offers))
                if offers[chosen] < sides[number, which]:  # as good without this width
                    number -= 1
                    continue
                column, used = self._column(duals, table, self.rows[chosen][1], length)
                stacked += [column] if column else []
                tallest, number = max(tallest, used), int(rest[chosen])
            return Cut(self.number, tallest, tuple(sorted(stacked)))

        return sides[-1], strip

    def _column(
        self, duals: np.ndarray, table: np.ndarray, upto: int, length: int
    ) -> tuple[tuple[int, ...], int]:
        """Return the items of the best column of a length, and how long they are."""
        column: list[int] = []
        used = 0
        for number in range(upto - 1, -1, -1):
            _, along, index, demand = self.items[number]
            most = min(demand, length // along)
            offers = [table[number][length - along * n] + duals[index // 2] * n for n in range(most + 1)]
            count = int(np.argmax(np.round(offers, 12)))
            column += [index] * count
            length -= along * count
            used += along * count
        return tuple(column), used


def stacked_bound(
    problem: Problem,
    bays: Sequence[Bay],
    prices: Sequence[float],
    start: Iterable[Cut],
    *,
    enough: float,
    rounds: int = ROUNDS,
    work: Work | None = None,
) -> tuple[float, list[Cut]]:
    """Return a bound on the cost of every three-stage plan, and good strips that can be cut.

    Parameters
    ----------
    prices : sequence of float
        The least price of a unit of length in each bay; one that is free gives no bound.
    start : iterable of Cut
        Strips to begin with, in which every kind occurs.
    enough : float
        Stop at this bound, where a plan meets it.
    rounds : int
        How many linear programmes to solve [-].
    """
    from scipy.sparse import csc_matrix

    work = Work() if work is None else work
    if min(prices, default=0.0) <= 0:
        return 0.0, []
    tools = [Stacking(problem, bays, number, price) for number, price in enumerate(prices)]
    demand = np.array([float(kind.demand) for kind in problem.kinds])
    strips = list(dict.fromkeys(replace(cut, along=cut.along // tools[cut.bay].along_unit) for cut in start))
    bound, best = 0.0, np.zeros(len(demand))

    def scaled(duals: np.ndarray) -> list[Cut]:
        """Raise the bound by these duals; return the strips worth most beyond their cost."""
        nonlocal bound, best
        offers: list[tuple[float, int, Callable[[int], Cut], int]] = []
        factor = 0.0
        for tool in tools:
            values, strip = tool.best(duals, tool.lengths)
            work.tables(tool.passes, len(tool.lengths) + tool.longest)
            costs = tool.price * tool.lengths
            factor = max(factor, float(np.max(values / costs, initial=0.0)))
            gains = values - costs
            # the best of each stretch of lengths, so that they differ
            for part in np.array_split(np.arange(len(gains)), min(FRESH, len(gains))):
                which = int(part[np.argmax(gains[part])])
                offers.append((-round(float(gains[which]), 9), len(offers), strip, which))
        value = float(duals @ demand) / max(factor, EPS)
        if value > bound:
            bound, best = value, duals / max(factor, EPS)
        return [strip(which) for _, _, strip, which in sorted(offers, key=lambda o: o[:2])[:FRESH]]

    for _ in range(rounds):
        entries = [(item // 2, col, n) for col, cut in enumerate(strips) for item, n in items(cut).items()]
        row, col, data = zip(*entries, strict=True)
        costs = [tools[cut.bay].price * cut.along for cut in strips]
        result = programmes.least(
            costs,
            -csc_matrix((data, (row, col)), shape=(len(demand), len(strips)), dtype=float),
            -demand,
            scale=max(costs) / 1000,
        )
        if result is None or math.isinf(result.value):
            break
        work.programme(len(demand), len(strips), result.turns)
        duals = result.duals
        fresh = scaled(duals if bound == 0 else SMOOTH * best + (1 - SMOOTH) * duals)
        if work.over or bound >= enough or bound >= result.value * (1 - 1e-5):
            break
        known = set(strips)
        strips += [s for s in dict.fromkeys(fresh) if s not in known]
    return bound, [cut for cut in strips if tools[cut.bay].exact]
