import random
from decimal import Decimal
from fractions import Fraction

import pytest

from reportkit.cutting import Piece, Roll, plan
from reportkit.cutting.levels import solve_levels
from reportkit.cutting.problem import build, make_bays
from reportkit.cutting.strips import complete

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
