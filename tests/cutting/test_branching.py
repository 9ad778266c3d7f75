import random
from decimal import Decimal
from fractions import Fraction

import pytest

from reportkit.cutting import Piece, Roll
from reportkit.cutting.branching import branch, rates
from reportkit.cutting.columns import Master
from reportkit.cutting.dives import Dives, good_strips
from reportkit.cutting.problem import build, make_bays
from reportkit.cutting.strips import complete, expand
from reportkit.cutting.wholes import money_goal

ROLLS = [Roll(1524, None, Decimal("10")), Roll(915, None, Decimal("5.5"))]


def setting(seed: int, count: int, rolls=ROLLS, quantities=(1,)):
    """Return the master of a dense invented job, its relaxation, and every strip within 3 % of it."""
    r = random.Random(seed)
    pieces = [
        Piece(f"W{k}", r.randint(250, 700), r.randint(300, 900), r.choice(quantities)) for k in range(count)
    ]
    problem, _ = build(pieces, Fraction(2440))
    bays, _ = make_bays(problem, rolls, [1] * len(rolls))
    master = Master(problem, bays, money_goal(problem, rolls, bays))
    relaxed = master.relax()
    columns, listed = master.within(relaxed, 0.03 * relaxed.value, most=5000, steps=500_000)
    assert relaxed.complete and listed
    return master, relaxed, sorted({*columns, *relaxed.use})


@pytest.mark.parametrize(("seed", "count"), [(1, 8), (2, 10), (3, 12), (4, 14), (6, 16)])
@pytest.mark.parametrize("quantities", [(1,), (1, 2, 3)])
@pytest.mark.parametrize("rolls", [ROLLS[:1], ROLLS])
def test_branching_finds_what_a_general_solver_finds(seed, count, quantities, rolls):
    """Over the same strips, branching and HiGHS reach the same least cost (a general reference solver)."""
    if len(quantities) > 1:
        count //= 2
    master, relaxed, columns = setting(seed, count, rolls, quantities)
    prices = rates(master)
    assert prices is not None
    second = master.choose(columns, cutoff=None, nodes=100_000)
    assert second is not None and second.solved
    quantum, limit = master.goal.quantum, relaxed.value * 2
    found = branch(master.problem, prices, columns, quantum=quantum, limit=limit, budget=5000)
    assert found.solved
    assert found.value == pytest.approx(second.value) == pytest.approx(found.bound)
    assert complete(master.problem, expand(master.problem, found.strips, {}))


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_nothing_is_found_below_the_least(seed):
    """Asked to beat the least cost, branching says that nothing does; a little above it, it finds it."""
    master, relaxed, columns = setting(seed, 12)
    quantum, prices = master.goal.quantum, rates(master)
    assert prices is not None
    least = branch(
        master.problem, prices, columns, quantum=quantum, limit=relaxed.value * 2, budget=5000
    ).value
    none = branch(master.problem, prices, columns, quantum=quantum, limit=least, budget=5000)
    assert none.solved and not none.strips and none.bound == pytest.approx(least)
    again = branch(master.problem, prices, columns, quantum=quantum, limit=least + quantum, budget=5000)
    assert again.value == pytest.approx(least)


@pytest.mark.parametrize("budget", [0, 3, 10, 30])
def test_a_search_cut_short_still_bounds(budget):
    """However few programmes are allowed, the bound stays below the least cost over the strips."""
    master, relaxed, columns = setting(5, 14)
    quantum, prices = master.goal.quantum, rates(master)
    assert prices is not None
    second = master.choose(columns, cutoff=None, nodes=100_000)
    assert second is not None and second.solved
    found = branch(master.problem, prices, columns, quantum=quantum, limit=relaxed.value * 2, budget=budget)
    assert relaxed.value * (1 - 1e-9) <= found.bound <= second.value * (1 + 1e-9)


def test_only_film_by_length_without_groups_is_branched_on():
    """Rolls of a given length, order steps and view groups are left to general programming."""
    pieces = [Piece("A", 600, 900), Piece("B", 500, 800)]
    for rolls, group in (
        ([Roll(1524, 30000, Decimal(300))], ""),
        ([Roll(1524, None, Decimal(10), step_mm=500)], ""),
        (ROLLS, "view"),
    ):
        grouped = [Piece(p.id, p.width_mm, p.length_mm, group=group) for p in pieces]
        problem, _ = build(grouped, Fraction(2440))
        bays, _ = make_bays(problem, rolls, [1] * len(rolls))
        assert rates(Master(problem, bays, money_goal(problem, rolls, bays))) is None


@pytest.mark.parametrize("quantities", [(1,), (1, 2, 3)])
def test_dives_give_whole_plans_within_the_bound_and_always_the_same(quantities):
    """Every dive cuts all pieces, costs no less than the bound, and comes out the same again."""
    runs = []
    for _ in range(2):
        master, relaxed, _ = setting(7, 24, quantities=quantities)
        prices = rates(master)
        assert prices is not None
        dives = Dives(master, prices, good_strips(master, relaxed, 400_000))
        plans = [dives.dive() for _ in range(3)]
        for plan in plans:
            assert complete(master.problem, expand(master.problem, plan.strips, {}))
            assert relaxed.value * (1 - 1e-9) <= plan.value <= relaxed.value * 1.15
        runs.append(plans)
    assert runs[0] == runs[1]
