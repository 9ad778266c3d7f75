"""Film sold by length with a longest length: offered as often as its pieces need."""

from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from reportkit.cutting import Piece, Roll, check, plan, prepare
from reportkit.cutting.lengths import lengths_needed


def by_length(most, *, width=1524, directional=False):
    """Return film at 10 a metre, at most so long at once [mm]."""
    return Roll(width, None, Decimal(10), most_mm=most, directional=directional)


@pytest.mark.parametrize("mode", ["quick", "exact"])
@pytest.mark.parametrize("count", [2, 5, 9])
def test_pieces_over_half_the_roll_and_over_half_the_length_take_one_each(mode, count):
    """800 x 1600 on 1524 x 3000, upright: neither two across nor two along, though 28 % full (geometry)."""
    pieces = [Piece("P", 800, 1600, quantity=count, turn=False)]
    roll = by_length(3000)
    assert lengths_needed(roll, pieces) == count
    found = plan(pieces, [roll] * count, mode=mode)
    assert len(found.rolls) == count
    assert found.price == Decimal(16) * count


def test_a_long_length_is_offered_once():
    """Ten panes of 1 m² are 10 m of a film of 30.5 m; film without a longest length has no limit."""
    pieces = [Piece("P", 1000, 1000, quantity=10)]
    assert lengths_needed(by_length(30500), pieces) == 1
    assert lengths_needed(by_length(None), pieces) == 1
    assert lengths_needed(by_length(3000), [Piece("P", 1000, 1000, film="other")]) == 1


def test_the_parts_of_a_pane_too_wide_get_a_length():
    """1600 x 2000 is two of 800 x 2000, one after the other on 4000: three panes, three lengths."""
    pieces = [Piece(name, 1600, 2000, turn=False) for name in "PQR"]
    roll = by_length(4000)
    assert lengths_needed(roll, pieces) >= 3
    assert len(plan(pieces, [roll] * lengths_needed(roll, pieces), mode="quick").rolls) == 3


sizes = st.tuples(st.integers(200, 1524), st.integers(200, 2000), st.integers(1, 3), st.booleans())


@settings(max_examples=60)
@given(sizes=st.lists(sizes, min_size=1, max_size=6), most=st.integers(2000, 6000), turns=st.booleans())
def test_what_fits_piece_by_piece_is_always_cut(sizes, most, turns):
    """Each piece fits one length, so all can be cut from enough of them, by the separate checker's rules."""
    pieces = [
        Piece(f"P{n}", width, length, quantity=count, turn=turn)
        for n, (width, length, count, turn) in enumerate(sizes)
    ]
    roll = by_length(most, directional=turns)
    offered = [roll] * lengths_needed(roll, pieces)
    assert len(offered) <= 2 * sum(piece.quantity for piece in pieces)
    check(plan(pieces, offered, mode="quick"), prepare(pieces, offered), offered, table_mm=None, stages=2)
