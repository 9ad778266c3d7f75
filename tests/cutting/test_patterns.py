import random
from decimal import Decimal
from fractions import Fraction
from itertools import product

import numpy as np
import pytest

from reportkit.cutting import Piece, Roll
from reportkit.cutting.patterns import Crosscuts
from reportkit.cutting.problem import build, make_bays


def setting(seed: int, kinds: int = 4, most: int = 2):
    """Return a problem of so many kinds of piece, its bays, and random values of its items."""
    r = random.Random(seed)
    pieces = [
        Piece(f"W{k}", r.randint(20, 70) * 10, r.randint(20, 120) * 10, r.randint(1, most), r.random() < 0.5)
        for k in range(kinds)
    ]
    problem, _ = build(pieces, Fraction(1000))
    bays, _ = make_bays(problem, [Roll(1220, None, Decimal(1))], [1])
    values = np.array([r.random() for _ in problem.items])
    return problem, bays, values


def every_strip(problem, bay):
    """Return every choice of counts of items that fits across the bay."""
    items = problem.fits(bay)
    ranges = [
        range(min(problem.kinds[i // 2].demand, bay.width // problem.items[i].across) + 1) for i in items
    ]
    for counts in product(*ranges):
        chosen = {i: n for i, n in zip(items, counts, strict=True) if n}
        if chosen and sum(problem.items[i].across * n for i, n in chosen.items()) <= bay.width:
            yield chosen


@pytest.mark.parametrize("seed", range(12))
def test_the_best_strip_of_each_length_is_worth_what_trying_all_finds(seed):
    """One knapsack prices every crosscut length as trying every strip does (cross-check)."""
    problem, bays, values = setting(seed)
    best: dict[int, float] = {}
    for chosen in every_strip(problem, bays[0]):
        along = max(problem.items[i].along for i in chosen)
        worth = sum(values[i] * n for i, n in chosen.items())
        best[along] = max(best.get(along, 0.0), worth)
    priced = list(Crosscuts(problem, bays, 0).price(values))
    assert priced
    for along, value, pattern in priced:
        assert value == pytest.approx(max(v for a, v in best.items() if a <= along))
        assert value == pytest.approx(sum(values[i] * n for i, n in pattern.items))
        assert pattern.along <= along


@pytest.mark.parametrize("seed", range(12))
def test_all_full_strips_within_a_gap_are_listed(seed):
    """The listing holds just the full strips within the gap that trying every strip finds (cross-check)."""
    problem, bays, values = setting(seed)
    tool = Crosscuts(problem, bays, 0)
    cost, gap = 0.01, 0.3
    listed, done = tool.within(values, cost, gap, most=10_000, steps=1_000_000)
    assert done
    expected = set()
    for chosen in every_strip(problem, bays[0]):
        used: dict[int, int] = {}
        for i, n in chosen.items():
            used[i // 2] = used.get(i // 2, 0) + n
        if any(n > problem.kinds[k].demand for k, n in used.items()):
            continue
        along = max(problem.items[i].along for i in chosen)
        room = bays[0].width - sum(problem.items[i].across * n for i, n in chosen.items())
        full = not any(
            problem.items[i].along <= along
            and problem.items[i].across <= room
            and used.get(i // 2, 0) < problem.kinds[i // 2].demand
            for i in problem.fits(bays[0])
        )
        if full and cost * along - sum(values[i] * n for i, n in chosen.items()) <= gap:
            expected.add((along, tuple(sorted(chosen.items()))))
    assert {(p.along, p.items) for p in listed} == expected
    assert len(listed) == len(expected)


def test_a_listing_that_is_cut_short_says_so():
    """Too few strips allowed gives an incomplete list."""
    problem, bays, values = setting(1)
    listed, done = Crosscuts(problem, bays, 0).within(values, 0.0, 1e9, most=2, steps=1_000_000)
    assert len(listed) == 2 and not done


@pytest.mark.parametrize("seed", range(12))
def test_pricing_again_after_some_demand_is_met_is_as_pricing_anew(seed):
    """A table that goes on from where it differs gives what a new one gives, to the bit."""
    problem, bays, values = setting(seed, kinds=40, most=4)
    r = random.Random(seed)
    again = Crosscuts(problem, bays, 0)
    full = list(again.demand)
    for turn in range(30):
        at = r.randrange(len(full))
        if turn % 7 == 6:
            again.demand = list(full)
        elif turn % 5 == 4:
            values[again.items[at]] = r.random()
        else:
            again.demand[at] = max(0, again.demand[at] - 1)
        anew = Crosscuts(problem, bays, 0)
        anew.demand = list(again.demand)
        assert again.price(values) == anew.price(values)
