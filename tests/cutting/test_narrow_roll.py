"""A piece larger than one of the rolls offered, where all pieces are multiples of one size."""

from decimal import Decimal

import pytest

from reportkit import cutting


@pytest.mark.parametrize("mode", ["quick", "exact"])
@pytest.mark.parametrize("size", [(1000, 1000), (1000, 2000), (950, 1900)])
def test_a_roll_narrower_than_the_only_piece_is_passed_over(mode, size):
    """The one piece goes on the wider roll, or is seamed; the narrow roll is no fault of the program."""
    rolls = [
        cutting.Roll(width_mm=914, length_mm=None, price=Decimal(20), film="f", step_mm=500),
        cutting.Roll(width_mm=1524, length_mm=None, price=Decimal(34), film="f", step_mm=500),
    ]
    plan = cutting.plan([cutting.Piece("a", *size, film="f")], rolls, mode=mode)
    assert {cut.roll.width_mm for cut in plan.rolls} == {1524}


def test_a_roll_shorter_than_the_only_piece_is_passed_over():
    """The same along the roll: a roll shorter than the piece's length does not stop the plan."""
    rolls = [
        cutting.Roll(width_mm=1524, length_mm=1500, price=Decimal(40), film="f"),
        cutting.Roll(width_mm=1524, length_mm=None, price=Decimal(34), film="f", step_mm=500),
    ]
    plan = cutting.plan([cutting.Piece("a", 1400, 2000, turn=False, film="f")], rolls, mode="quick")
    assert sum((roll.price for roll in plan.rolls), Decimal(0)) == Decimal("68.00")
