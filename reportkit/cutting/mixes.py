"""The cheapest mix of rolls that can hold every strip, then the least film from it, with bounds.

Prices first: a linear programme in which rolls may be bought in parts bounds the money and proposes a
mix; then mixes of whole rolls are taken by rising price, each refuted by the duals of those before it, by
its own linear programme, or solved. Film second, within the price found. Bounds hold for every two-stage
plan; a plan is proved only when it meets them.
"""

from __future__ import annotations

import heapq
import math
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction

from reportkit.cutting import buying
from reportkit.cutting.branching import rates
from reportkit.cutting.buying import Load
from reportkit.cutting.columns import Chosen, Master, Relaxed
from reportkit.cutting.improve import improve
from reportkit.cutting.problem import Bay, Pattern, Problem, Top, make_bays, reach, whole
from reportkit.cutting.records import Roll, exact
from reportkit.cutting.search import TINY, Best, Effort
from reportkit.cutting.strips import Cut, complete, expand
from reportkit.cutting.wholes import film_goal, integrate, money_goal


class Mixes:
    """The search for the cheapest mix of rolls and the least film."""

    def __init__(self, problem: Problem, rolls: Sequence[Roll], best: Best, effort: Effort) -> None:
        self.problem, self.rolls, self.best, self.effort = problem, list(rolls), best, effort
        self.priced = [i for i, roll in enumerate(rolls) if not roll.by_length and roll.price > 0]
        pieces = sum(kind.demand for kind in problem.kinds)
        self.free = [  # all film that costs nothing is in every mix
            0
            if roll.by_length or roll.price > 0
            else min(pieces, pieces if roll.stock is None else roll.stock)
            for roll in rolls
        ]
        self.money_bound = 0.0
        self.film_bound = 0.0
        self.film_proven = False
        self.cuts: list[tuple[float, list[float], bool]] = []
        self.pool: list[tuple[Fraction, bool, Pattern]] = []
        self.solved = 0
        self.root_bays: list[Bay] = []
        self.root_inside: list[list[int]] = []
        self.root_relaxed: Relaxed | None = None

    def keep(self, master: Master) -> None:
        """Remember strips of a master by bay width so that others can start from them."""
        for pattern in master.columns:
            bay = master.bays[pattern.bay]
            self.pool.append((bay.full, bay.directional, pattern))
        self.pool = list(dict.fromkeys(self.pool))

    def prime(self, master: Master) -> None:
        """Give a master its first strips."""
        master.start()
        for width, directional, pattern in self.pool:
            for number, bay in enumerate(master.bays):
                if (bay.full, bay.directional) == (width, directional) and pattern.along <= bay.longest:
                    master.add([replace(pattern, bay=number)])

    def root(self) -> None:
        """Bound the money with rolls bought in parts, and try the mix this proposes."""
        for load in self.best.loads or ():
            roll = self.rolls[load.roll]
            for cut in load.cuts:
                items = tuple(sorted(Counter(item for column in cut.columns for item in column).items()))
                width = exact(roll.width_mm) / self.problem.unit
                self.pool.append((width, roll.directional, Pattern(0, cut.along, items)))
        counts = [
            count if not roll.by_length else 1 for count, roll in zip(self.free, self.rolls, strict=True)
        ]
        open_counts = [max(c, 1) for c in counts]
        bays, inside = make_bays(self.problem, self.rolls, open_counts)
        free_bays = []
        for bay, held in zip(bays, inside, strict=True):
            capacity = 0
            tops = list(bay.tops)
            for i in dict.fromkeys(held):
                roll = self.rolls[i]
                if roll.by_length:
                    continue
                room = reach(self.problem, bay, whole(exact(roll.length_mm or 0), self.problem.unit))
                if roll.price > 0:
                    most = math.inf if roll.stock is None else float(roll.stock)
                    tops.append(Top(i, float(room * roll.pack), float(roll.price), most, True))
                else:
                    capacity += room * roll.pack * self.free[i]
            free_bays.append(replace(bay, capacity=capacity, tops=tuple(tops)))
        widths = [list(dict.fromkeys(held)) for held in inside]
        goal = money_goal(self.problem, self.rolls, free_bays)
        master = Master(self.problem, free_bays, goal, self.effort.work)
        self.prime(master)
        relaxed = master.relax(rounds=self.effort.rounds)
        self.keep(master)
        if relaxed.missing > TINY:
            return
        self.root_bays, self.root_inside, self.root_relaxed = free_bays, widths, relaxed
        self.money_bound = max(self.money_bound, goal.up(relaxed.value))
        self.cut(relaxed, free_bays, inside)

        def accept(chosen: Chosen) -> float:
            cuts = expand(self.problem, chosen.strips, chosen.homes)
            self.offer(buying.buy(self.problem, self.rolls, widths, cuts), cuts, "columns")
            return self.best.money

        def polish(turns: int, pieces: int, bound: float) -> float:
            quantum = goal.quantum if rates(master) else 0.0
            self.polish(free_bays, widths, turns, pieces, bound, buy=True, quantum=quantum)
            return self.best.money

        if self.priced:
            quick = replace(self.effort, deep=False)
            integrate(master, relaxed, self.best.money, accept, polish, quick)
        else:
            _, bound = integrate(master, relaxed, self.best.money, accept, polish, self.effort)
            self.money_bound = max(self.money_bound, min(bound, self.best.money))

    def offer(self, loads: list[Load] | None, cuts: list[Cut], engine: str) -> bool:
        """Offer a plan if it is whole."""
        return complete(self.problem, cuts) and self.best.offer(loads, engine)

    def cut(self, relaxed: Relaxed, bays: Sequence[Bay], inside: Sequence[Sequence[int]]) -> None:
        """Keep the duals as a bound for any other mix: its price, the demand's value less the capacity's."""
        if not relaxed.complete:
            return
        price_of = {}
        for number, held in enumerate(inside):
            bay = bays[number]
            for i in set(held):
                if not self.rolls[i].by_length:
                    room = reach(
                        self.problem, bay, whole(exact(self.rolls[i].length_mm or 0), self.problem.unit)
                    )
                    price_of[i] = relaxed.length_price[number] * room * self.rolls[i].pack
        if set(price_of) >= set(self.priced):
            rooms = [price_of.get(i, 0.0) for i in range(len(self.rolls))]
            self.cuts.append((relaxed.demand_value, rooms, not any(bay.tops for bay in bays)))

    def refuted(self, price: float, counts: Sequence[int], limit: float) -> bool:
        """Return whether an earlier programme already shows that this mix costs at least `limit`."""
        for covered, rooms, holds in self.cuts:
            value = covered - sum(room * count for room, count in zip(rooms, counts, strict=True))
            if holds and value > TINY:  # it cannot hold everything, whatever the price
                return True
            if not holds and price + value >= limit + TINY * max(1.0, limit):
                return True
        return False

    def by_price(self) -> Iterator[tuple[Fraction, list[int]]]:
        """Yield (price, packs of each roll) by rising price, each mix of priced whole rolls once."""
        start = tuple(0 for _ in self.priced)
        heap: list[tuple[Fraction, tuple[int, ...], int]] = [(Fraction(0), start, 0)]
        while heap:
            price, counts, first = heapq.heappop(heap)
            mix = list(self.free)
            for position, index in enumerate(self.priced):
                mix[index] = counts[position]
            yield price, mix
            for position in range(first, len(self.priced)):
                roll = self.rolls[self.priced[position]]
                if roll.stock is None or counts[position] < roll.stock:
                    grown = (*counts[:position], counts[position] + 1, *counts[position + 1 :])
                    heapq.heappush(heap, (price + Fraction(roll.price), grown, position))

    def search(self) -> None:
        """Find the cheapest mix, raising the money bound as cheaper ones are refuted."""
        if not self.priced and self.root_relaxed is not None and self.root_is_exact():
            return
        open_bound = math.inf
        for popped, (price, counts) in enumerate(self.by_price()):
            if float(price) >= min(self.best.money, open_bound) - TINY:
                break
            if popped > 50_000 or self.solved >= self.effort.programmes or self.effort.work.over:
                open_bound = min(open_bound, float(price))
                break
            if self.refuted(float(price), counts, self.best.money):
                continue
            self.solved += 1
            bound = self.try_mix(price, counts)
            if bound < self.best.money - TINY:
                open_bound = min(open_bound, bound)
        self.money_bound = min(max(self.money_bound, min(open_bound, self.best.money)), self.best.money)

    def root_is_exact(self) -> bool:
        """Return whether the root already was the one mix there is, each width a single roll."""
        bays, _ = make_bays(self.problem, self.rolls, self.free, each=True)
        return self.best.loads is not None and len({(bay.full, bay.directional) for bay in bays}) == len(bays)

    def try_mix(self, price: Fraction, counts: Sequence[int]) -> float:
        """Try to cut everything from one mix; return a bound on the money of any plan from it."""
        if not any(c for c in counts) and not any(roll.by_length for roll in self.rolls):
            return math.inf
        bound = 0.0
        for each in (False, True):
            bays, inside = make_bays(self.problem, self.rolls, counts, each=each)
            if each and not self.worth_splitting(bays):
                break
            goal = money_goal(self.problem, self.rolls, bays)
            master = Master(self.problem, bays, goal, self.effort.work)
            self.prime(master)
            relaxed = master.relax(rounds=self.effort.rounds)
            if not each:
                self.keep(master)
                self.cut(relaxed, bays, inside)
            if relaxed.complete and relaxed.missing > TINY and not any(bay.tops for bay in bays):
                return math.inf
            bound = max(bound, float(price) + goal.up(relaxed.value))
            if bound >= self.best.money - TINY:
                return bound
            if any(bay.tops for bay in bays):
                got = self.money_in(master, relaxed, price, inside)
            else:
                got = self.film_in(bays, inside, None)[0]
            bound = max(bound, got)
            if self.best.money <= bound + TINY or self.effort.work.over:
                return bound
        return bound

    def polish(
        self,
        bays: Sequence[Bay],
        inside: Sequence[Sequence[int]],
        turns: int,
        pieces: int,
        bound: float,
        *,
        buy: bool,
        quantum: float = 0.0,
    ) -> bool:
        """Cut some strips of the best plan anew; return whether its rolls are in these bays."""
        home = {roll: number for number, held in reversed(list(enumerate(inside))) for roll in held}
        if self.best.loads is None or any(load.roll not in home for load in self.best.loads):
            return False
        cuts = [replace(cut, bay=home[load.roll]) for load in self.best.loads for cut in load.cuts]
        costs = [bay.price for bay in bays] if buy else [float(bay.full) for bay in bays]
        fresh = improve(
            self.problem, bays, costs, cuts, turns=turns, pieces=pieces, work=self.effort.work,
            enough=bound, quantum=quantum,
        )  # fmt: skip
        if buy:
            self.offer(buying.buy(self.problem, self.rolls, inside, fresh), fresh, "columns")
        else:
            self.offer(buying.load_rolls(self.problem, self.rolls, inside, fresh), fresh, "columns")
        return True

    def worth_splitting(self, bays: Sequence[Bay]) -> bool:
        """Return whether a bay for each physical roll says more than one for each width, and is no burden."""
        return len({(bay.full, bay.directional) for bay in bays}) < len(bays) <= 10

    def money_in(
        self, master: Master, relaxed: Relaxed, price: Fraction, inside: Sequence[Sequence[int]]
    ) -> float:
        """Solve for least money by length beside a mix; return a bound on the price of plans from it."""

        def accept(chosen: Chosen) -> float:
            cuts = expand(self.problem, chosen.strips, chosen.homes)
            self.offer(buying.load_rolls(self.problem, self.rolls, inside, cuts), cuts, "columns")
            return self.best.money - float(price)

        def polish(turns: int, pieces: int, bound: float) -> float:
            self.polish(master.bays, inside, turns, pieces, bound, buy=False)
            return self.best.money - float(price)

        _, bound = integrate(master, relaxed, self.best.money - float(price), accept, polish, self.effort)
        return float(price) + bound

    def film_in(
        self, bays: Sequence[Bay], inside: Sequence[Sequence[int]], spend: float | None
    ) -> tuple[float, float]:
        """Solve for least film in given rolls; return (bound on money, bound on film).

        The bound on money is infinite when the rolls are shown not to hold everything, else 0.
        """
        goal = film_goal(self.problem, bays, spend)
        master = Master(self.problem, bays, goal, self.effort.work)
        self.prime(master)
        relaxed = master.relax(rounds=self.effort.rounds)
        self.keep(master)
        before = self.best.money
        room = float(sum(bay.full * bay.capacity for bay in bays)) + 1.0
        hard = not any(bay.tops for bay in bays)
        limit = min(room, math.inf) if hard else self.best.area
        if spend is not None:
            limit = min(limit, self.best.area)
        if relaxed.value > limit + TINY * limit and relaxed.complete:
            return math.inf, math.inf
        planned = False

        def accept(chosen: Chosen) -> float:
            nonlocal planned
            cuts = expand(self.problem, chosen.strips, chosen.homes)
            loads = buying.load_rolls(self.problem, self.rolls, inside, cuts)
            if loads is None or not complete(self.problem, cuts):
                return math.inf
            planned = True
            self.best.offer(loads, "columns")
            return float(buying.film(self.problem, self.rolls, loads) / self.problem.unit**2)

        def polish(turns: int, pieces: int, bound: float) -> float:
            at = self.best.money
            done = self.polish(bays, inside, turns, pieces, bound, buy=False)
            return self.best.area if done and self.best.money <= at else math.inf

        value, bound = integrate(master, relaxed, limit, accept, polish, self.effort)
        nothing = not planned and bound >= limit - TINY * max(1.0, limit)
        return (math.inf if nothing and before == self.best.money and hard else 0.0), min(bound, value)

    def least_film(self) -> None:
        """Make the film least at the price found, over every mix of that price that is tried."""
        if self.best.loads is None:
            return
        alone = self.rolls[0]
        if len(self.rolls) == 1 and alone.by_length and alone.step_mm is None and alone.price > 0:
            # money and film are the same thing here
            self.film_bound = min(self.best.area * self.money_bound / self.best.money, self.best.area)
            self.film_proven = self.money_bound >= self.best.money * (1 - 1e-9)
            return
        bounds = []
        open_ended = False
        tried = 0
        for popped, (price, counts) in enumerate(self.by_price()):
            if float(price) > self.best.money + TINY:
                break
            if popped > 50_000 or self.effort.work.over or tried >= 12:
                open_ended = True
                break
            by_length = any(roll.by_length for roll in self.rolls)
            if not by_length and float(price) < self.best.money - TINY:
                continue  # a cheaper mix of whole rolls: refuted, or open and reported in the money gap
            if self.refuted(float(price), counts, self.best.money * (1 + 1e-6)):
                continue
            tried += 1
            low = 0.0
            for each in (False, True):
                bays, inside = make_bays(self.problem, self.rolls, counts, each=each)
                if not bays or low >= self.best.area or (each and not self.worth_splitting(bays)):
                    break
                low = max(low, self.film_in(bays, inside, self.best.money - float(price))[1])
            bounds.append(low)
        low = 0.0 if open_ended or not bounds else min(bounds)
        self.film_bound = min(low, self.best.area)
        self.film_proven = self.film_bound >= self.best.area * (1 - 1e-9)
