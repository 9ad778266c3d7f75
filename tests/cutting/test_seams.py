from decimal import Decimal
from fractions import Fraction

import pytest

from reportkit.base.errors import CutListError
from reportkit.cutting import Piece, Roll, plan
from reportkit.cutting.seams import part_widths, split, why_not

ROLL = Roll(1524, None, Decimal(10))


def widths(piece: Piece, table=None) -> list[Fraction] | None:
    """Return the widths of a pane's parts, left to right."""
    parts = split(piece, [ROLL], table)
    return None if parts is None else [Fraction(part.width_mm) for part in parts]


def test_a_seam_is_centred_unless_told_otherwise():
    """A single seam without a better place leaves two equal parts."""
    assert widths(Piece("A", 2000, 2100)) == [1000, 1000]


def test_a_seam_goes_along_the_line_nearest_the_middle():
    """A mullion line that leaves both parts narrow enough hides the seam."""
    assert widths(Piece("A", 2000, 2100, seam_lines_mm=(300, 900, 1400))) == [900, 1100]


def test_a_line_that_leaves_a_part_too_wide_is_passed_over():
    """A line 300 from the edge of a 2000 pane leaves 1700, more than the roll."""
    assert widths(Piece("A", 2000, 2100, seam_lines_mm=(300,))) == [1000, 1000]


def test_the_person_s_place_comes_first():
    """A seam asked for at 600 is put there, mullions or not."""
    assert widths(Piece("A", 2000, 2100, seams_mm=(600,), seam_lines_mm=(1000,))) == [600, 1400]


def test_a_very_wide_pane_takes_two_seams():
    """Three parts where two would be wider than the roll."""
    assert widths(Piece("A", 3300, 2100)) == [1100, 1100, 1100]


def test_no_seam_helps_a_pane_longer_than_the_table():
    """Seams run along the roll, so the table's length stays a limit, and the reason is told."""
    piece = Piece("A", 2000, 3000, turn=False)
    assert widths(piece, Fraction(2440)) is None
    assert "1524" in why_not(piece, [ROLL], Fraction(2440))


def test_parts_of_a_pane_come_from_one_roll_in_one_direction():
    """Both parts carry the pane's name and a part number, and cover its glass together."""
    found = plan([Piece("A", 2000, 2100, glass_mm2=4e6)], [ROLL], table_mm=2440)
    assert sorted((p.piece.id, p.piece.part, p.piece.parts) for p in found.pieces) == [
        ("A", 1, 2),
        ("A", 2, 2),
    ]
    assert len({p.turned for p in found.pieces}) == len(found.rolls) == 1
    assert found.glass_m2 == pytest.approx(4.0)
    assert part_widths(found.pieces) == {"A": [1000, 1000]}


def test_a_seam_that_leaves_a_part_too_wide_is_told():
    """Whoever asks for a seam at 300 mm of 2000 hears of the part of 1700 mm, not of the pane's own width."""
    piece = Piece("A", 2000, 2100, turn=False, seams_mm=(300,))
    with pytest.raises(CutListError, match="the seam asked for leaves a part of 1700 mm"):
        plan([piece], [ROLL])


def test_parts_that_no_roll_can_hold_together_are_a_fault():
    """The parts of a pane are kept on one roll: two of 1000 x 1800 do not fit on one of 1524 x 2000."""
    with pytest.raises(CutListError, match="A: no single roll can hold the parts of this pane"):
        plan([Piece("A", 2000, 1800)], [Roll(1524, 2000, Decimal(10))])


def test_each_of_several_seamed_panes_may_have_a_roll_of_its_own():
    """A pane's parts take 3600 of a roll's 4000 mm, so two panes take two rolls (arithmetic)."""
    found = plan([Piece("A", 2000, 1800, 2, turn=False)], [Roll(1524, 4000, Decimal(10))])
    assert found.price == 20
    for cut in found.rolls:
        parts = [placed.piece for strip in cut.strips for placed in strip.pieces]
        assert sorted(part.part for part in parts) == [1, 2]
        assert len({part.copy for part in parts}) == 1


def test_a_view_group_of_seamed_panes_may_take_several_rolls_of_one_batch():
    """The same two panes seen together: two rolls bought together hold them, and the plan says so."""
    found = plan([Piece("A", 2000, 1800, 2, turn=False, group="g")], [Roll(1524, 4000, Decimal(10))])
    assert found.price == 20
    assert any("seen together as g are cut from 2 rolls" in note for note in found.notes)


def test_view_groups_over_several_rolls_share_a_note():
    """Two groups of which no roll holds one whole: one note names both."""
    pieces = [Piece(name, 1400, 2000, 4, turn=False, group=name.lower()) for name in ("A", "B")]
    found = plan(pieces, [Roll(1500, 5000, Decimal(10))])
    (note,) = [note for note in found.notes if "seen together" in note]
    assert "as a, b are each cut from several rolls" in note
