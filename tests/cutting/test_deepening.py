import random
from decimal import Decimal

import pytest

from reportkit.cutting import Piece, Roll, plan

ROLL = Roll(1524, None, Decimal("10"))


def dense(seed: int, count: int) -> list[Piece]:
    """Return small panes of an invented house, of which many go on a strip."""
    r = random.Random(seed)
    return [Piece(f"W{k}", r.randint(250, 700), r.randint(300, 900)) for k in range(count)]


@pytest.mark.parametrize("seed", range(1, 7))
def test_small_panes_are_proved(seed):
    """Twenty small panes are planned to the proof; area and a quick plan enclose the length."""
    pieces = dense(seed, 20)
    best = plan(pieces, [ROLL], table_mm=2440)
    quick = plan(pieces, [ROLL], table_mm=2440, mode="quick")
    assert best.proven and best.proven_film
    area = sum(int(p.width_mm) * int(p.length_mm) for p in pieces) / 1524
    assert area <= best.used_mm <= quick.used_mm


@pytest.mark.parametrize(("mode", "count", "stages"), [("quick", 40, 2), ("exact", 22, 2), ("quick", 24, 3)])
def test_the_order_of_small_panes_changes_nothing(mode, count, stages):
    """Targets, dives and stacks give the same plan byte for byte whatever the order of the list."""
    pieces = dense(9, count)
    first = plan(pieces, [ROLL], table_mm=2440, mode=mode, stages=stages)
    random.Random(1).shuffle(pieces)
    assert plan(pieces, [ROLL], table_mm=2440, mode=mode, stages=stages) == first


@pytest.mark.parametrize("seed", [1, 2])
def test_repeated_sizes_are_proved(seed):
    """Forty panes of a dozen sizes, by general programming below each target, are proved."""
    r = random.Random(seed)
    pieces = [Piece(f"W{k}", r.randint(350, 1500), r.randint(400, 2300), r.randint(1, 6)) for k in range(12)]
    best = plan(pieces, [ROLL], table_mm=2440)
    assert best.proven and best.proven_film
    area = sum(p.width_mm * p.length_mm * p.quantity for p in pieces) / 1524
    assert area <= best.used_mm <= plan(pieces, [ROLL], table_mm=2440, mode="quick").used_mm


def test_two_widths_by_length_share_the_pieces():
    """With a narrow film that costs less to the area, the plan costs no more than with either alone."""
    pieces = dense(3, 16)
    narrow = Roll(915, None, Decimal("5.5"))
    both = plan(pieces, [ROLL, narrow], table_mm=2440)
    assert both.proven
    assert both.price <= min(plan(pieces, [roll], table_mm=2440).price for roll in (ROLL, narrow))
