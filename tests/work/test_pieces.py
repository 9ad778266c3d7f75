from fractions import Fraction as F

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reportkit.cutting import Roll
from reportkit.cutting.seams import split
from reportkit.work.pieces import Opening, cut_size, pieces, within

GAP = F(3, 2)


def opening(**changes):
    """Return a pane of 905 x 1205 mm read three times."""
    values = dict(
        id="P1", room="shop", width_mm=F(905), height_mm=F(1205), widest_mm=F(908), tallest_mm=F(1206)
    )
    return Opening(**(values | changes))


def test_cut_to_size_takes_two_gaps_off_the_smallest_readings():
    """The smallest reading decides the finished size (common practice, no source)."""
    cut = cut_size(opening(), edge_gap_mm=GAP, method="cut_to_size")
    assert (cut.width_mm, cut.height_mm) == (F(902), F(1202))
    assert not cut.trimmed_on_glass


def test_a_blank_adds_the_allowance_to_the_largest_readings():
    """The largest reading decides the blank; 12 mm a side for a trained fitter, 25 for a first-timer."""
    assert cut_size(opening(), edge_gap_mm=GAP).width_mm == 908 + 24
    assert cut_size(opening(), edge_gap_mm=GAP, first_timer=True).height_mm == 1206 + 50
    assert cut_size(opening(), edge_gap_mm=GAP, trim_mm=F(5)).height_mm == 1206 + 10


def test_out_of_square_is_always_trimmed_on_the_glass():
    """A pane whose diagonals differ gets a blank whatever the method."""
    cut = cut_size(opening(out_of_square=True), edge_gap_mm=GAP, method="cut_to_size")
    assert cut.trimmed_on_glass
    assert cut.width_mm == 932


def test_gaps_that_leave_nothing_are_refused():
    """A gap of half the pane or more is a mistake."""
    with pytest.raises(ValueError, match="P1: the edge gaps leave no film"):
        cut_size(opening(), edge_gap_mm=F(460))


def test_a_view_group_stays_named_and_the_spare_belongs_to_no_group():
    """Shade drifts along a roll, so the planner must know which panes are seen together."""
    cuts = [
        cut_size(opening(group="front"), edge_gap_mm=GAP),
        cut_size(opening(id="P2", tallest_mm=F(1300)), edge_gap_mm=GAP),
    ]
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
    cut = cut_size(pane, edge_gap_mm=GAP, method="cut_to_size" if to_size else "trim_on_glass")
    assert cut.finished_width_mm < pane.width_mm
    assert cut.finished_width_mm <= cut.width_mm
    assert cut.finished_height_mm <= cut.height_mm


@pytest.mark.parametrize(
    ("method", "outside", "seams"),
    [
        # cut to size the piece starts a gap of 1.5 mm inside the glass, a blank 12 mm outside of it
        ("cut_to_size", True, (F(1197, 2),)),
        ("cut_to_size", False, (F(2797, 2),)),
        ("trim_on_glass", True, (F(612),)),
        ("trim_on_glass", False, (F(1412),)),
    ],
)
def test_a_seam_is_where_it_was_asked_for_on_the_glass(method, outside, seams):
    """600 mm from the left outside is 1400 mm from the left inside, on a pane of 2000 mm (by hand)."""
    opening = Opening("A", "room", F(2000), F(1800), F(2000), F(1800), seams_mm=(F(600),))
    cut = cut_size(opening, edge_gap_mm=GAP, method=method)
    (piece,) = pieces([cut], film="f", outside=outside)
    assert piece.seams_mm == seams
    assert piece.seams_mm[0] - cut.margin_mm == (600 if outside else 1400)


def test_the_gap_and_the_allowance_are_at_the_outer_edges_only():
    """The parts together are as wide as the piece: nothing is added or taken at the seams."""
    opening = Opening(
        "A", "room", F(3300), F(1400), F(3304), F(1402), seams_mm=(F(900), F(2300)), lines_mm=(F(500),)
    )
    for method in ("cut_to_size", "trim_on_glass"):
        cut = cut_size(opening, edge_gap_mm=GAP, method=method)
        piece, spare = pieces([cut], film="f", spare=True)
        parts = split(piece, [Roll(1524, None, film="f")], None)
        assert sum(part.width_mm for part in parts) == cut.width_mm
        assert parts[1].width_mm == 1400
        assert [(part.part, part.parts) for part in parts] == [(1, 3), (2, 3), (3, 3)]
        assert (spare.seams_mm, spare.seam_lines_mm) == (piece.seams_mm, piece.seam_lines_mm)
        left = parts[0].width_mm - cut.margin_mm  # from inside, the right part seen from outside comes first
        assert left == (opening.widest_mm if cut.trimmed_on_glass else opening.width_mm) - 2300


def _reduced(width, height, *rolls, turn=True, table=None):
    """The cut of a pane of 12 mm allowance a side, within some rolls by length of these widths."""
    cut = cut_size(Opening("A", "room", F(width), F(height), F(width), F(height)), edge_gap_mm=GAP)
    return within(cut, [Roll(wide, None, film="f") for wide in rolls], table_mm=table, turn=turn)


@pytest.mark.parametrize(
    ("pane", "rolls", "how", "size", "reduced"),
    [
        ((1500, 1800), (1524,), {}, (1524, 1824), False),  # just fits with the whole allowance
        ((1501, 1800), (1524,), {}, (1524, 1824), True),  # 12 mm less allowance beats a seam
        ((1527, 1800), (1524,), {}, (1524, 1824), True),  # the gaps of 1.5 mm make up the rest
        ((1528, 1800), (1524,), {}, (1552, 1824), False),  # beyond: a seam, with the whole allowance
        ((1800, 1510), (1524,), {}, (1824, 1524), True),  # turned
        ((1800, 1510), (1524,), {"turn": False}, (1824, 1534), False),  # may not be turned: a seam
        ((900, 1400), (914, 1524), {}, (924, 1424), False),  # a wider roll holds it whole
        ((1200, 2430), (1524,), {"table": F(2440)}, (1224, 2440), True),  # the table is the limit
        ((2000, 2430), (1524,), {"table": F(2440)}, (2024, 2440), True),  # a seam, and the table's limit
        (
            (1600, 2500),
            (1524,),
            {"table": F(2440)},
            (1624, 2524),
            False,
        ),  # nothing helps: the planner says why
    ],
)
def test_an_allowance_is_no_reason_for_a_seam(pane, rolls, how, size, reduced):
    """A blank that only its allowance keeps off every roll is cut as large as one allows (by hand)."""
    cut = _reduced(*pane, *rolls, **how)
    assert (cut.size_mm, cut.reduced) == (size, reduced)


@given(st.integers(200, 3000), st.integers(200, 3000), st.sampled_from((914, 1219, 1524)), st.booleans())
def test_a_reduced_piece_still_covers_the_pane(width, height, roll, turn):
    """Reduced or not, no more than the gap stays bare on any side, and nothing grows."""
    cut = _reduced(width, height, roll, turn=turn, table=F(2440))
    whole = cut_size(cut.opening, edge_gap_mm=GAP)
    for side, least, most in zip(cut.size_mm, cut.least_mm, whole.size_mm, strict=True):
        assert least <= side <= most
    assert cut.reduced == (cut.size_mm != whole.size_mm)
