"""The best panes for a budget, when film comes in rolls: panes and rolls are chosen together.

What a set of panes costs is asked of an oracle, which plans its cutting; what it costs at least is known
beforehand from its area and the rolls on offer. Sets are asked in falling order of value, so the first one
that can be afforded is the best; where the oracle may not be asked often enough for that, the best set found
is returned with how much better another could be at most.

Not covered: several films in one set.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from decimal import Decimal

from reportkit import cutting

#: Up to so many items every set is looked at; beyond, greedy with a bound.
MOST_LISTED = 14

#: Up to so many of the smallest rolls, whole rolls are counted; beyond, film is counted by its area.
MOST_ROLLS = 12

Chosen = frozenset[int]


@dataclass(frozen=True)
class Item:
    """One pane, or panes that get film together: what it is worth, its area [m2], its own cost at least."""

    id: str
    value: float
    area: float
    own_cost: float


@dataclass(frozen=True)
class BestSet:
    """The best set found.

    Attributes
    ----------
    chosen
        Numbers of the items.
    value
        Sum of their values.
    cost
        What the oracle says it costs; None for the empty set.
    gap
        How much better another affordable set could be at most, as a share of the value; 0 is proven.
    asked
        How often the oracle was asked.
    """

    chosen: Chosen
    value: float
    cost: Decimal | None
    gap: float
    asked: int


def unit_price(rolls: Sequence[cutting.Roll]) -> float:
    """Return the least price of a square metre among rolls that are bought [currency/m2]."""
    prices = [
        float(roll.price) / (float(roll.width_mm) / 1000 if roll.by_length else _area(roll))
        for roll in rolls
        if roll.price
    ]
    return min(prices, default=0.0)


def film_at_least(area: float, rolls: Sequence[cutting.Roll]) -> float:
    """Return the least that film of an area can cost, cut without any waste [currency].

    Whole rolls count whole, film by length by its area; film on the shelf is free.
    """
    lacking = area - sum(_area(roll) * (roll.stock or 0) for roll in rolls if not roll.price)
    if lacking <= 0:
        return 0.0
    whole = sorted(
        ((_area(roll), float(roll.price)) for roll in rolls if not roll.by_length and roll.price),
        reverse=True,
    )
    if whole and lacking > MOST_ROLLS * whole[-1][0]:
        return lacking * unit_price(rolls)
    by_length = unit_price([roll for roll in rolls if roll.by_length]) or float("inf")
    return _covered(lacking, tuple(whole), by_length)


def _area(roll: cutting.Roll) -> float:
    return float(roll.width_mm) * float(roll.length_mm or 0) * roll.pack / 1e6


def _covered(area: float, whole: tuple[tuple[float, float], ...], by_length: float) -> float:
    """Return the least price that covers an area: so many of the first roll, the rest by the others."""
    if area <= 0:
        return 0.0
    least = area * by_length if by_length < float("inf") else float("inf")
    if not whole:
        return least
    size, price = whole[0]
    most = int(area // size) + 1
    return min(
        [
            least,
            *(
                count * price + _covered(area - count * size, whole[1:], by_length)
                for count in range(most + 1)
            ),
        ]
    )


def best_set(
    items: Sequence[Item],
    budget: Decimal,
    cost: Callable[[Chosen], Decimal],
    at_least: Callable[[Chosen], float],
    *,
    most_asked: int,
) -> BestSet:
    """Return the set of most value whose cost is within a budget.

    Parameters
    ----------
    items
        What can be chosen; items without value never are.
    budget
        The most that may be spent [currency].
    cost
        The oracle: what a set costs [currency].
    at_least
        A lower bound of that, quick [currency].
    most_asked
        How often the oracle may be asked, beyond one time for each item.
    """
    useful = [index for index, item in enumerate(items) if item.value > 0]
    known: dict[Chosen, Decimal] = {}

    def affordable(chosen: Chosen) -> bool:
        if not chosen or at_least(chosen) > float(budget):
            return not chosen
        if chosen not in known:
            known[chosen] = cost(chosen)
        return known[chosen] <= budget

    def value(chosen: Chosen) -> float:
        return sum(items[index].value for index in sorted(chosen))

    best: Chosen = frozenset()
    everything = frozenset(useful)
    if affordable(everything):
        return BestSet(everything, value(everything), known.get(everything), 0.0, len(known))
    order = sorted(
        useful, key=lambda index: (-items[index].value / max(at_least(frozenset({index})), 1e-9), index)
    )
    for index in order:  # greedy: whatever still fits
        if affordable(best | {index}):
            best = best | {index}
    bound = value(best)
    if len(useful) <= MOST_LISTED:
        spent = len(known)
        sets = (
            frozenset(chosen)
            for size in range(1, len(useful) + 1)
            for chosen in itertools.combinations(useful, size)
        )
        better = sorted(
            (
                chosen
                for chosen in sets
                if value(chosen) > bound + 1e-12 and at_least(chosen) <= float(budget)
            ),
            key=lambda chosen: (-value(chosen), sorted(chosen)),
        )
        for chosen in better:
            if len(known) - spent >= most_asked and chosen not in known:
                bound = value(chosen)
                break
            if affordable(chosen):
                best, bound = chosen, value(chosen)
                break
    else:
        bound = max(bound, _knapsack(items, useful, float(budget)))
    total = value(best)
    gap = (bound - total) / total if total > 0 else (1.0 if bound > 0 else 0.0)
    return BestSet(best, total, known.get(best), max(0.0, gap), len(known))


def _knapsack(items: Sequence[Item], useful: Sequence[int], budget: float) -> float:
    """Return the value of the best fractional set by each item's own cost: no set is worth more."""
    left, total = budget, 0.0
    for index in sorted(useful, key=lambda i: -items[i].value / max(items[i].own_cost, 1e-9)):
        part = min(1.0, left / items[index].own_cost) if items[index].own_cost > 0 else 1.0
        total += part * items[index].value
        left -= part * items[index].own_cost
        if left <= 0:
            break
    return total
