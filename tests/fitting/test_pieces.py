from fractions import Fraction as F

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reportkit.fitting.pieces import Opening, cut_size, pieces


def opening(**changes):
    """Return a pane of 905 x 1205 mm read three times."""
    values = dict(
        id="P1", room="shop", width_mm=F(905), height_mm=F(1205), widest_mm=F(908), tallest_mm=F(1206)
    )
    return Opening(**(values | changes))


def test_cut_to_size_takes_two_gaps_off_the_smallest_readings():
    """The smallest reading decides the finished size (common practice, no source)."""
    cut = cut_size(opening(), method="cut_to_size")
    assert (cut.width_mm, cut.height_mm) == (F(902), F(1202))
    assert not cut.trimmed_on_glass


def test_a_blank_adds_the_allowance_to_the_largest_readings():
    """The largest reading decides the blank; 12 mm a side for a trained fitter, 25 for a first-timer."""
    assert cut_size(opening()).width_mm == 908 + 24
    assert cut_size(opening(), first_timer=True).height_mm == 1206 + 50
    assert cut_size(opening(), trim_mm=F(5)).height_mm == 1206 + 10


def test_out_of_square_is_always_trimmed_on_the_glass():
    """A pane whose diagonals differ gets a blank whatever the method."""
    cut = cut_size(opening(out_of_square=True), method="cut_to_size")
    assert cut.trimmed_on_glass
    assert cut.width_mm == 932


def test_safety_film_keeps_a_wider_gap():
    """Film of 200 um and more keeps 3 mm to the frame by default."""
    assert cut_size(opening(), method="cut_to_size", thickness_um=200).width_mm == 899


def test_gaps_that_leave_nothing_are_refused():
    """A gap of half the pane or more is a mistake."""
    with pytest.raises(ValueError, match="P1: the edge gaps leave no film"):
        cut_size(opening(), edge_gap_mm=F(460))


def test_a_view_group_stays_named_and_the_spare_belongs_to_no_group():
    """Shade drifts along a roll, so the planner must know which panes are seen together."""
    cuts = [cut_size(opening(group="front")), cut_size(opening(id="P2", tallest_mm=F(1300)))]
    made = pieces(cuts, film="f", spare=True)
    assert [piece.group for piece in made] == ["front", "", ""]
    assert not any(piece.turn for piece in pieces(cuts, film="f", turn=False))
    assert made[-1].id == "P2 spare"
    assert made[-1].quantity == 1
    assert made[-1].glass_mm2 == 0


@given(st.integers(100, 3000), st.integers(100, 3000), st.integers(0, 20), st.booleans())
def test_a_finished_piece_never_exceeds_its_glass_nor_its_cut(width, height, more, to_size):
    """Law: finished <= glass, and finished <= what was cut."""
    pane = opening(
        width_mm=F(width), height_mm=F(height), widest_mm=F(width + more), tallest_mm=F(height + more)
    )
    cut = cut_size(pane, method="cut_to_size" if to_size else "trim_on_glass")
    assert cut.finished_width_mm < pane.width_mm
    assert cut.finished_width_mm <= cut.width_mm
    assert cut.finished_height_mm <= cut.height_mm
