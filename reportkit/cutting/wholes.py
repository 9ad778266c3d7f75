"""From the linear programme to strips in whole numbers: what is made least, and how it is searched."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from fractions import Fraction

from reportkit.cutting.branching import rates
from reportkit.cutting.columns import Chosen, Goal, Master, Relaxed
from reportkit.cutting.deepening import deepen
from reportkit.cutting.problem import Bay, Pattern, Problem
from reportkit.cutting.records import Roll, exact
from reportkit.cutting.search import TINY, Effort

SHARES = (0.03, 0.1, 0.3, 1.0)  # of the gap, within which strips are listed
FEW = 500  # strips that a whole-number programme takes at one go
MANY = 1500  # more than this, and it is slow to find a first plan
DENSE = 2.6  # pieces on a strip, above which whole-number programmes are slow


def common_divisor(values: Sequence[Fraction]) -> Fraction:
    """Return the greatest number of which every value is a multiple; 0 for none."""
    total = Fraction(0)
    for value in values:
        denominator = math.lcm(total.denominator, value.denominator)
        total = Fraction(math.gcd(int(total * denominator), int(value * denominator)), denominator)
    return total


def money_goal(problem: Problem, rolls: Sequence[Roll], bays: Sequence[Bay]) -> Goal:
    """Return the goal of least money for the tops of these bays."""
    steps = []
    for bay in bays:
        for top in bay.tops:
            roll = rolls[top.roll]
            if not roll.by_length:
                steps.append(Fraction(roll.price))
            elif roll.step_mm is not None:
                steps.append(Fraction(roll.price) * exact(roll.step_mm) / 1000)
            else:
                steps.append(Fraction(roll.price) * problem.unit * problem.length_divisor() / 1000)
    return Goal(
        tuple(0.0 for _ in bays),
        tuple(tuple(top.price for top in bay.tops) for bay in bays),
        float(common_divisor(steps)),
    )


def area_money(problem: Problem, rolls: Sequence[Roll]) -> float:
    """Return what film of the pieces' area costs at least, the cheapest first, parts of rolls allowed.

    Weak, but it holds for any way of cutting and is there where nothing better is found in time.
    """
    left = Fraction(sum(kind.width * kind.length * kind.demand for kind in problem.kinds)) * problem.unit**2
    offers = []
    for roll in rolls:
        width = exact(roll.width_mm)
        if roll.length_mm is None:
            most = None if roll.longest_mm is None else width * roll.longest_mm
            offers.append((Fraction(roll.price) / 1000 / width, most))
        else:
            area = width * exact(roll.length_mm) * roll.pack
            offers.append((Fraction(roll.price) / area, None if roll.stock is None else area * roll.stock))
    total = Fraction(0)
    for price, most in sorted(offers, key=lambda offer: offer[0]):
        taken = left if most is None else min(left, most)
        total, left = total + price * taken, left - taken
    return float(total)


def film_goal(problem: Problem, bays: Sequence[Bay], spend: float | None) -> Goal:
    """Return the goal of least film pulled off the rolls, in square units."""
    quantum = common_divisor([bay.full for bay in bays]) * problem.length_divisor()
    return Goal(
        tuple(float(bay.full) for bay in bays),
        tuple(tuple(0.0 for _ in bay.tops) for bay in bays),
        float(quantum),
        spend if any(bay.tops for bay in bays) else None,
    )


def integrate(
    master: Master,
    relaxed: Relaxed,
    limit: float,
    accept: Callable[[Chosen], float],
    polish: Callable[[int, int, float], float],
    effort: Effort,
) -> tuple[float, float]:
    """Look for whole-number strips better than `limit`; return (best goal value, bound on all plans).

    `accept` turns strips into a plan and returns the goal value really reached (infinite if unusable);
    `polish` cuts some strips of the best plan anew, so many times, about so many pieces, down to a bound.
    """
    goal = master.goal
    prices = rates(master)
    if prices is not None:
        return deepen(master, prices, relaxed, limit, accept, polish, effort)
    bound = goal.up(relaxed.value)
    best = limit

    def open_still() -> bool:
        return effort.worth_going_on(best, bound)

    def attempt(columns: Sequence[Pattern], nodes: int) -> Chosen:
        nonlocal best
        cutoff = None if math.isinf(best) else best - (goal.quantum or TINY * max(1.0, best)) * (1 - 1e-3)
        chosen = master.choose(columns, cutoff=cutoff, nodes=nodes)
        if chosen.strips:
            best = min(best, accept(chosen))
        return chosen

    def weigh(share: float, most: int) -> bool:
        """Solve over all strips within a share of the gap; return whether it makes sense to go on."""
        nonlocal bound
        gap = best - relaxed.value - goal.quantum * (1 - 1e-3)
        theta = max(share * gap, 0.0)
        columns, listed = master.within(relaxed, theta, most=most, steps=effort.steps)
        used = sorted({*columns, *relaxed.use})
        if not listed:
            return False
        chosen = attempt(used, effort.nodes_for(len(used)))
        # a better plan either uses only these strips, or one whose reduced cost is above theta
        inside = goal.up(chosen.bound) if math.isfinite(chosen.bound) else chosen.bound
        outside = goal.up(relaxed.value + theta) if share < 1 else math.inf
        if relaxed.complete:
            bound = max(bound, min(inside, outside, best))
        return chosen.solved or bool(chosen.strips)

    if not open_still():
        return best, bound
    pieces = sum(kind.demand for kind in master.problem.kinds)
    dense = pieces > 45 and pieces > DENSE * sum(
        relaxed.use.values()
    )  # whole-number programmes of these are slow
    if not (dense or len(master.columns) > MANY) or math.isinf(best):
        first = attempt(sorted(master.columns), effort.first)
        if math.isinf(best):
            if not first.strips:
                return best, bound
            best = first.value
        if effort.deep and open_still():
            weigh(1.0, FEW)
    for number, (turns, about) in enumerate(effort.polish, start=1):
        if open_still() and pieces > 1.5 * about:
            best = min(best, polish(turns * max(1, pieces // 100), about, bound))
        last = number == len(effort.polish)
        for share in SHARES if effort.deep and (last or not dense) else ():
            if not open_still() or not weigh(share, FEW if dense else effort.columns):
                break
    return best, min(bound, best)
