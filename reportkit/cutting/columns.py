"""Strips chosen by column generation: a linear programme over strip patterns, then whole numbers.

Rows: every size as often as asked for; every bay no longer than what is there or bought; a view group in
one bay and one direction. The linear programme's duals price new strips (`patterns`), and its value
bounds every plan from below. The same rows over strips within a gap of that bound, solved in whole
numbers by HiGHS, give the plan and its proof.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from typing import Any

import numpy as np

from reportkit.cutting import programmes
from reportkit.cutting.effort import Work
from reportkit.cutting.patterns import Crosscuts
from reportkit.cutting.problem import Bay, Pattern, Problem
from reportkit.cutting.programmes import Least

EPS = 1e-6


@dataclass(frozen=True)
class Goal:
    """What to make least: `film` per unit of length in each bay, and `tops` of each step bought.

    `quantum` is the step in which the sum can change; `spend` caps the money for tops, None for no cap.
    """

    film: tuple[float, ...]
    tops: tuple[tuple[float, ...], ...]
    quantum: float
    spend: float | None = None

    def up(self, bound: float) -> float:
        """Return a bound raised to the next value the goal can take."""
        if self.quantum <= 0:
            return bound
        return self.quantum * math.ceil(bound / self.quantum - EPS)


def cover_of(problem: Problem, columns: Sequence[Pattern]) -> np.ndarray:
    """Return how many pieces of each size each strip holds, shape (kinds, columns) [-]."""
    cover = np.zeros((len(problem.kinds), len(columns)))
    for number, pattern in enumerate(columns):
        for item, count in pattern.items:
            cover[item // 2, number] += count
    return cover


@dataclass
class Relaxed:
    """The linear programme's answer: its `value`, the dual of each item in each bay, price of length."""

    value: float
    complete: bool
    duals: list[np.ndarray]
    length_price: list[float]
    missing: float
    demand_value: float
    use: dict[Pattern, float] = field(default_factory=dict)


@dataclass
class Chosen:
    """Strips in whole numbers with their goal value, and a bound on every plan made of the columns given.

    `homes` tells each view group's bay and direction; its pieces elsewhere on the strips are surplus.
    `spent` counts the programmes it took, where that is known.
    """

    value: float
    bound: float
    strips: dict[Pattern, int]
    solved: bool
    homes: dict[str, tuple[int, bool]] = field(default_factory=dict)
    spent: float = 0.0


class Master:
    """Rows and columns of one cut problem in given bays under a goal."""

    def __init__(self, problem: Problem, bays: Sequence[Bay], goal: Goal, work: Work | None = None) -> None:
        self.problem, self.bays, self.goal = problem, list(bays), goal
        self.work = Work() if work is None else work
        self.columns: dict[Pattern, int] = {}
        self._entries: dict[Pattern, tuple[list[int], list[float], float, float]] = {}
        # cover rows: (kind, None) or (kind, option) with option = (group, bay, turned)
        self.options: list[tuple[str, int, bool]] = [
            (group, number, turned)
            for group in problem.groups
            for number, bay in enumerate(self.bays)
            for turned in problem.options(group, bay)
        ]
        self.rows: dict[tuple[int, int], int] = {}
        for kind, wanted in enumerate(problem.kinds):
            if not wanted.group:
                self.rows[kind, -1] = len(self.rows)
        for number, (group, _, _) in enumerate(self.options):
            for kind in problem.members(group):
                self.rows[kind, number] = len(self.rows)
        self.item_rows = [self._item_rows(number) for number in range(len(self.bays))]
        self.crosscuts = [
            Crosscuts(problem, self.bays, number, [int(i) for i in np.flatnonzero(rows >= 0)], self.work)
            for number, rows in enumerate(self.item_rows)
        ]
        self.tops = [(number, top) for number, bay in enumerate(self.bays) for top in bay.tops]
        self.scale = self._scale()

    def _scale(self) -> float:
        """Return a thousandth of what the dearest strip can cost; costs are divided by it for the solver."""
        longest = max(
            (item.along for b in self.bays for i in self.problem.fits(b) if (item := self.problem.items[i])),
            default=1,
        )
        rates = [*self.goal.film]
        for values, bay in zip(self.goal.tops, self.bays, strict=True):
            rates += [value / top.step for value, top in zip(values, bay.tops, strict=True) if top.step]
        dearest = longest * max(rates, default=0.0)
        return dearest / 1000 if dearest > 0 else 1 / 1000

    def _item_rows(self, number: int) -> np.ndarray:
        """Return the cover row that each item serves in a bay, -1 for none."""
        rows = np.full(len(self.problem.items), -1)
        choice = {(group, bay, turned): index for index, (group, bay, turned) in enumerate(self.options)}
        for index in self.problem.fits(self.bays[number]):
            group = self.problem.kinds[index // 2].group
            option = choice.get((group, number, bool(index % 2))) if group else -1
            if option is not None:
                rows[index] = self.rows[index // 2, option]
        return rows

    def add(self, patterns: Iterable[Pattern]) -> int:
        """Add strips that are not there yet and serve some row; return how many were new."""
        before = len(self.columns)
        for pattern in patterns:
            if pattern not in self.columns and all(
                self.item_rows[pattern.bay][item] >= 0 for item, _ in pattern.items
            ):
                self.columns[pattern] = len(self.columns)
        return len(self.columns) - before

    def start(self) -> None:
        """Add, for each bay and item, the strip of that item alone repeated."""
        for number, bay in enumerate(self.bays):
            rows = self.item_rows[number]
            for index in self.problem.fits(bay):
                item = self.problem.items[index]
                if rows[index] >= 0 and item is not None:
                    count = min(self.problem.kinds[item.kind].demand, bay.width // item.across)
                    self.add([Pattern(number, item.along, ((index, count),))])

    def _penalty(self) -> float:
        """Return a price for leaving out one unit of area, dearer than any roll's film."""
        film = [value / bay.width for value, bay in zip(self.goal.film, self.bays, strict=True) if bay.width]
        tops = [
            value / (top.step * bay.width)
            for values, bay in zip(self.goal.tops, self.bays, strict=True)
            for value, top in zip(values, bay.tops, strict=True)
            if top.step * bay.width  # 0 where the roll is smaller than the one unit all pieces are made of
        ]
        dearest = max([*film, *tops, 0.0])
        area = sum(kind.width * kind.length * kind.demand for kind in self.problem.kinds)
        return 1000 * dearest if dearest > 0 else 1 / max(area, 1)

    def _column(self, pattern: Pattern) -> tuple[list[int], list[float], float, float]:
        """Return a strip's rows and entries, its cost, and the most of it that may be cut; made once."""
        known = self._entries.get(pattern)
        if known is None:
            served = self.item_rows[pattern.bay]
            known = self._entries[pattern] = (
                [*(int(served[item]) for item, _ in pattern.items), len(self.rows) + pattern.bay],
                [*(-float(count) for _, count in pattern.items), float(pattern.along)],
                self.goal.film[pattern.bay] * pattern.along,
                float(sum(self.problem.kinds[item // 2].demand for item, _ in pattern.items)),
            )
        return known

    def rows_and_costs(self, columns: Sequence[Pattern]) -> tuple[Any, ...]:
        """Return costs, upper bounds, (A_ub, b_ub), (A_eq, b_eq) and the block sizes of the variables."""
        from scipy.sparse import coo_matrix

        problem, goal = self.problem, self.goal
        n_cover, n_bays = len(self.rows), len(self.bays)
        n_columns, n_tops, n_options = len(columns), len(self.tops), len(self.options)
        penalty = self._penalty()
        rows: list[int] = []
        data: list[float] = []
        costs: list[float] = []
        upper: list[float] = []
        held: list[int] = []
        for pattern in columns:
            touched, entries, cost, most = self._column(pattern)
            rows += touched
            data += entries
            costs.append(cost)
            upper.append(most)
            held.append(len(touched))
        cols: list[int] = np.repeat(np.arange(n_columns), held).tolist()

        def put(row: int, col: int, value: float) -> None:
            rows.append(row)
            cols.append(col)
            data.append(value)

        prices = [value for values in goal.tops for value in values]
        for number, (bay, top) in enumerate(self.tops):
            put(n_cover + bay, n_columns + number, -top.step)
            if goal.spend is not None:
                put(n_cover + n_bays, n_columns + number, top.price)
            costs.append(prices[number])
            upper.append(top.most)
        bound = np.zeros(n_cover + n_bays + (goal.spend is not None))
        first = n_columns + n_tops
        for (kind, option), row in self.rows.items():
            demand = problem.kinds[kind].demand
            if option >= 0:
                put(row, first + option, float(demand))
            else:
                bound[row] = -float(demand)
        costs += [0.0] * n_options
        upper += [1.0] * n_options
        missing = first + n_options
        for (kind, option), row in self.rows.items():
            if option < 0:
                wanted = problem.kinds[kind]
                put(row, missing, -1.0)
                costs.append(penalty * wanted.width * wanted.length)
                upper.append(float(wanted.demand))
                missing += 1
        for number, bay_record in enumerate(self.bays):
            bound[n_cover + number] = bay_record.capacity
        if goal.spend is not None:
            bound[-1] = goal.spend * (1 + 1e-9) + 1e-9
        eq: list[tuple[int, int]] = []
        for number, group in enumerate(problem.groups):
            eq += [(number, first + i) for i, option in enumerate(self.options) if option[0] == group]
            eq.append((number, missing))
            area = sum(
                problem.kinds[k].width * problem.kinds[k].length * problem.kinds[k].demand
                for k in problem.members(group)
            )
            costs.append(penalty * area)
            upper.append(1.0)
            missing += 1
        a_ub = coo_matrix((data, (rows, cols)), shape=(len(bound), missing)).tocsr()
        a_eq = coo_matrix(
            (np.ones(len(eq)), ([e[0] for e in eq], [e[1] for e in eq])), shape=(len(problem.groups), missing)
        ).tocsr()
        return np.array(costs), np.array(upper), a_ub, bound, a_eq, (n_columns, n_tops, n_options)

    def relax(self, *, rounds: int = 400) -> Relaxed:
        """Solve the linear programme, adding priced strips until none pays, or rounds or work run out.

        A programme that the solver cannot finish ends it with what was known before: a bound of 0 at least.
        """
        if not self.columns:
            self.start()
        per_bay = max(12, len(self.problem.kinds) // 5)
        groups = len(self.problem.groups)
        blank = [np.zeros(len(self.problem.items)) for _ in self.bays]
        answer = Relaxed(0.0, False, blank, list(self.goal.film), math.inf, 0.0)
        for _ in range(rounds):
            columns = list(self.columns)
            costs, upper, a_ub, b_ub, a_eq, sizes = self.rows_and_costs(columns)
            upper[: sizes[0]] = np.inf  # demand already bounds a strip, and a bound would carry a dual
            solved = programmes.least(
                costs, a_ub, b_ub, upper=upper, scale=self.scale,
                equal=(a_eq, np.ones(groups)) if groups else None,
            )  # fmt: skip
            if solved is None:
                return answer
            self.work.programme(len(b_ub), len(columns), solved.turns)
            answer = self._answer(columns, solved, sizes)
            fresh: list[Pattern] = []
            slack = 0.0
            for number, crosscuts in enumerate(self.crosscuts):
                cost = answer.length_price[number] / self.scale
                priced = crosscuts.price(answer.duals[number] / self.scale, cost=cost, limit=per_bay)
                for along, value, pattern in priced:
                    if value > cost * along + EPS * max(1.0, cost * along):
                        fresh.append(pattern)
                        slack = max(slack, value / max(cost * along, 1e-12) - 1)
            if not self.add(fresh):
                answer.complete = True
                return answer
            # scaled duals stay a valid bound where no capacity is involved
            answer.value = answer.value / (1 + slack) if not any(bay.capacity for bay in self.bays) else 0.0
            if self.work.over:
                break
        return answer

    def _answer(self, columns: Sequence[Pattern], solved: Least, sizes: Sequence[int]) -> Relaxed:
        """Read each bay's duals and prices from those of the rows."""
        n_cover, of_rows = len(self.rows), solved.duals
        duals = []
        length_price = []
        for number in range(len(self.bays)):
            served = self.item_rows[number]
            duals.append(np.where(served >= 0, of_rows[np.maximum(served, 0)] if n_cover else 0.0, 0.0))
            length_price.append(float(self.goal.film[number] + of_rows[n_cover + number]))
        capacity = sum(of_rows[n_cover + n] * bay.capacity for n, bay in enumerate(self.bays))
        missing = float(np.sum(solved.amounts[sum(sizes) :]))
        used = zip(columns, solved.amounts[: sizes[0]], strict=True)
        use = {pattern: float(x) for pattern, x in used if x > 1e-9}
        demand_value = solved.value + float(capacity)
        return Relaxed(solved.value, False, duals, length_price, missing, demand_value, use)

    def within(self, relaxed: Relaxed, gap: float, *, most: int, steps: int) -> tuple[list[Pattern], bool]:
        """Return every full strip whose reduced cost is at most `gap`, and whether the list is complete."""
        strips: list[Pattern] = []
        for number, crosscuts in enumerate(self.crosscuts):
            part, complete = crosscuts.within(
                relaxed.duals[number] / self.scale,
                relaxed.length_price[number] / self.scale,
                gap / self.scale,
                most=most - len(strips),
                steps=steps,
            )
            strips += part
            if not complete:
                return strips, False
        return strips, True

    def choose(self, columns: Sequence[Pattern], *, cutoff: float | None, nodes: int) -> Chosen:
        """Solve in whole numbers over the given strips.

        `Chosen.solved` tells that the bound is the true least over these strips, infinite where nothing
        meets the cutoff.
        """
        from scipy.sparse import csr_matrix

        costs, upper, a_ub, b_ub, a_eq, sizes = self.rows_and_costs(columns)
        upper[sum(sizes) :] = 0.0
        integral = np.zeros(len(costs))
        integral[: sizes[0]] = 1
        for number, (_, top) in enumerate(self.tops):
            integral[sizes[0] + number] = top.whole
        integral[sizes[0] + sizes[1] :] = 1
        rows = [(a_ub, np.full(len(b_ub), -np.inf), b_ub)]
        if self.problem.groups:
            ones = np.ones(len(self.problem.groups))
            rows.append((a_eq, ones, ones))
        if cutoff is not None:
            rows.append((csr_matrix(costs), np.array([-np.inf]), np.array([cutoff])))
        result = programmes.whole(costs, rows, upper=upper, nodes=nodes, scale=self.scale, integral=integral)
        self.work.branches(len(b_ub), len(columns), result.nodes)
        if result.amounts is None:
            return Chosen(result.value, result.bound, {}, result.solved)
        chosen = zip(columns, result.amounts[: sizes[0]], strict=True)
        strips = {pattern: round(x) for pattern, x in chosen if x > 0.5}
        picked = result.amounts[sizes[0] + sizes[1] : sum(sizes)] > 0.5
        homes = {
            group: (bay, turned) for (group, bay, turned), on in zip(self.options, picked, strict=True) if on
        }
        return Chosen(result.value, result.bound, strips, result.solved, homes)
