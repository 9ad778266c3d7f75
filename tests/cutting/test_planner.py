import itertools
import random
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

import pytest

from reportkit.base.errors import CutListError
from reportkit.cutting import Piece, Roll, alternatives, plan
from reportkit.cutting.planner import EFFORTS

INCH = Fraction(254, 10)
BY_LENGTH = Roll(1524, None, Decimal("10"))


def house(seed: int, count: int) -> list[Piece]:
    """Return panes of an invented house."""
    r = random.Random(seed)
    return [Piece(f"W{k}", r.randint(350, 1500), r.randint(400, 2300)) for k in range(count)]


@pytest.mark.parametrize("groups", [False, True])
@pytest.mark.parametrize("start", range(0, 120, 20))
def test_no_plan_is_worse_than_trying_everything(start, groups, brute):
    """Every job of up to six pieces costs and pulls exactly what trying everything finds (cross-check)."""
    for seed in range(start, start + 20):
        pieces, rolls, table = brute.tiny_job(seed, groups=groups)
        least = brute.cheapest(pieces, rolls, table)
        try:
            found = plan(pieces, rolls, table_mm=table)
        except CutListError:
            assert least is None, f"job {seed} has a plan"
            continue
        if any(placed.piece.parts > 1 for placed in found.pieces):
            continue  # trying everything knows no seams
        assert least is not None
        assert abs(Fraction(found.price) - least[0]) < Fraction(2, 100), f"job {seed}"
        assert found.proven, f"job {seed}"
        assert found.film_bound_m2 * 1e6 <= float(least[1]) * (1 + 1e-9), f"job {seed}"
        assert found.used_m2 * 1e6 == pytest.approx(float(least[1]), rel=1e-9), f"job {seed}"


@pytest.mark.parametrize("seed", range(8))
@pytest.mark.parametrize("turn", [False, True])
def test_a_perfect_layout_is_found_again(seed, turn):
    """Pieces sawn from full strips without waste need just those strips: area shows nothing beats it."""
    r = random.Random(seed)
    pieces, length = [], 0
    for strip in range(6):
        along = r.randint(30, 240) * 10
        edges = sorted({0, 1524, *(r.randint(20, 130) * 10 for _ in range(r.randint(1, 3)))})
        length += along
        for part, (left, right) in enumerate(itertools.pairwise(edges)):
            pieces.append(Piece(f"{strip}.{part}", right - left, along, turn=turn))
    r.shuffle(pieces)
    found = plan(pieces, [BY_LENGTH], table_mm=2440)
    assert found.used_mm == length
    assert found.proven and found.proven_film
    assert found.waste_fraction == pytest.approx(0.0, abs=1e-12)


def test_waste_of_one_pane_on_the_roll_that_just_holds_it():
    """A pane 890 x 2000 with 50 mm added to its length wastes 5.1 % of a 915 roll (geometry)."""
    piece = Piece("A", 890, 2050, turn=False, glass_mm2=890 * 2000)
    found = plan([piece], [Roll(915, None, Decimal(10))])
    assert found.waste_fraction == pytest.approx(1 - 890 * 2000 / (915 * 2050))
    assert round(found.waste_fraction, 3) == 0.051


def test_a_slightly_wider_pane_takes_the_next_roll():
    """A pane 950 wide cannot use a 915 roll and wastes 24.0 % of a 1220 roll (geometry)."""
    piece = Piece("A", 950, 2050, turn=False, glass_mm2=950 * 2000)
    found = plan([piece], [Roll(915, None, Decimal(1)), Roll(1220, None, Decimal(10))])
    assert [cut.roll.width_mm for cut in found.rolls] == [1220]
    assert round(found.waste_fraction, 3) == 0.240


def test_fifty_panes_take_five_rolls_although_four_and_a_third_are_used():
    """Fifty panes of 46 x 104 in are 433.3 ft, but a 100 ft roll holds eleven whole ones (geometry)."""
    panes = Piece("A", 46 * INCH, 104 * INCH, 50, turn=False)
    found = plan([panes], [Roll(48 * INCH, 1200 * INCH, Decimal(300))])
    assert len(found.rolls) == 5
    assert found.used_mm == 50 * 104 * INCH
    assert found.proven and found.lower_bound == Decimal("1500.00")


def test_a_roll_holds_eleven_pieces_where_length_alone_would_allow_twelve():
    """44 panes of 104 in are 381.3 ft and fit four rolls of 100 ft, a 45th does not (geometry)."""
    roll = Roll(48 * INCH, 1200 * INCH, Decimal(300))
    assert len(plan([Piece("A", 46 * INCH, 104 * INCH, 44, turn=False)], [roll]).rolls) == 4
    more = plan([Piece("A", 46 * INCH, 104 * INCH, 45, turn=False)], [roll])
    assert len(more.rolls) == 5 and more.proven


@pytest.mark.parametrize("mode", EFFORTS)
def test_the_order_of_the_list_changes_nothing(mode):
    """The same panes in any order, on rolls in any order, give the same plan byte for byte."""
    pieces = house(3, 24)
    pieces = [replace(p, group="view" if k in (2, 5) else "") for k, p in enumerate(pieces)]
    rolls = [BY_LENGTH, Roll(1220, None, Decimal("8.5")), Roll(915, 3000, Decimal(0), stock=1)]
    first = plan(pieces, rolls, table_mm=2440, mode=mode)
    for seed in (1, 2):
        random.Random(seed).shuffle(pieces)
        random.Random(seed).shuffle(rolls)
        assert plan(pieces, rolls, table_mm=2440, mode=mode) == first


@pytest.mark.parametrize("seed", range(4))
def test_the_quick_plan_keeps_close_to_the_exact_one(seed):
    """The quick mode stays within 3 % of the exact plan, whose proof it never contradicts."""
    pieces = house(seed, 24)
    quick, best = (plan(pieces, [BY_LENGTH], table_mm=2440, mode=mode) for mode in ("quick", "exact"))
    assert best.proven
    assert best.price <= quick.price <= best.price * Decimal("1.03")
    assert quick.lower_bound <= best.price


@pytest.mark.parametrize("seed", range(6))
def test_a_third_cut_never_makes_it_longer(seed):
    """A three-stage plan pulls no more film than the two-stage one, nor less than its own bound."""
    pieces = house(seed, 18)
    two, three = (plan(pieces, [BY_LENGTH], table_mm=2440, stages=n, mode="quick") for n in (2, 3))
    assert three.used_mm <= two.used_mm
    assert three.lower_bound <= three.price


def test_a_third_cut_saves_where_pieces_stack():
    """Two short pieces lie one beyond the other beside a long one, which two stages cannot do."""
    pieces = [Piece("long", 900, 2000, turn=False), Piece("short", 600, 1000, 2, turn=False)]
    two, three = (plan(pieces, [Roll(1500, None, Decimal(10))], table_mm=2440, stages=n) for n in (2, 3))
    assert two.used_mm == 3000
    assert three.used_mm == 2000


def test_film_on_the_shelf_is_used_before_any_is_bought():
    """A shelf roll that costs nothing takes what it can, and is proved to leave the least to buy."""
    shelf = Roll(1524, 2000, Decimal(0), stock=1, label="shelf")
    found = plan([Piece("A", 1400, 1900, 3, turn=False)], [BY_LENGTH, shelf], table_mm=2440)
    assert {cut.roll.label: cut.used_mm for cut in found.rolls} == {"shelf": 1900, "": 3800}
    assert found.price == Decimal("38.00") and found.proven


def test_packs_are_bought_whole_and_their_price_adds_up():
    """Three rolls from packs of two are two packs; the fourth roll is listed without strips."""
    found = plan([Piece("A", 600, 1200, 3, turn=False)], [Roll(610, 1300, Decimal("9.99"), pack=2)])
    assert [len(cut.strips) for cut in found.rolls] == [1, 1, 1, 0]
    assert found.price == Decimal("19.98") and found.proven


def test_the_order_step_decides_between_widths():
    """Film sold in steps of 5 m can cost more than a dearer film sold by the mm."""
    coarse = Roll(1220, None, Decimal("10"), step_mm=5000)
    fine = Roll(1220, None, Decimal("12"))
    pieces = [Piece("A", 1200, 2000, 3, turn=False)]
    found = plan(pieces, [coarse, fine], table_mm=2440)
    assert found.price == min(Decimal("100.00"), Decimal("72.00"), Decimal("50.00") + Decimal("24.00"))
    assert found.proven


@pytest.mark.parametrize("mode", ["quick", "exact"])
def test_the_longest_length_is_the_largest_multiple_of_its_step(mode):
    """Of 30.5 m in steps of 1 m no more than 30 m can be ordered at once; the plan says so (arithmetic)."""
    roll = Roll(1524, None, Decimal(45), step_mm=1000, most_mm=30_500)
    pieces = [Piece("A", 1500, 1525, quantity=20, turn=False)]  # 30.5 m in all
    found = plan(pieces, [roll, roll], mode=mode)
    assert sum(cut.length_mm for cut in found.rolls) == 31_000
    assert all(cut.length_mm <= 30_000 for cut in found.rolls)
    assert found.notes == ("Film 1524 mm wide is sold in steps of 1000 mm: one length is 30000 mm at most.",)
    even = replace(roll, most_mm=30_000)
    assert plan(pieces, [even, even], mode=mode).notes == ()


def test_a_step_longer_than_the_longest_length_leaves_nothing_to_order():
    """The planner names the piece; in a job `check` already names the step."""
    with pytest.raises(CutListError, match="A: no roll can hold this piece"):
        plan([Piece("A", 500, 500)], [Roll(1524, None, Decimal(45), step_mm=2000, most_mm=1500)])


def test_a_view_group_comes_from_one_roll_in_one_direction():
    """Panes of a view group that would save film apart are kept on one roll, which costs what it costs."""
    pieces = [Piece("A", 880, 1500, group="view"), Piece("B", 1200, 900, group="view")]
    rolls = [Roll(915, None, Decimal("5")), Roll(1220, None, Decimal("8"))]
    found = plan(pieces, rolls, table_mm=2440)
    homes = {(number, p.turned) for number, c in enumerate(found.rolls) for s in c.strips for p in s.pieces}
    assert len(homes) == 1
    loose = plan([replace(piece, group="") for piece in pieces], rolls, table_mm=2440)
    assert loose.price < found.price
    saving = [a for a in alternatives(found, pieces, rolls, table_mm=2440) if a.kind == "no_groups"]
    assert [a.extra for a in saving] == [loose.price - found.price]


def test_alternatives_name_the_next_mix_and_one_width():
    """Besides the plan there is the cheapest without one of its rolls, and the cheapest single width."""
    pieces = [Piece("A", 900, 2000, 4, turn=False), Piece("B", 1500, 2000, 4, turn=False)]
    rolls = [Roll(915, None, Decimal("5")), Roll(1524, None, Decimal("9")), Roll(1829, None, Decimal("12"))]
    best = plan(pieces, rolls, table_mm=2440)
    assert best.price == Decimal("112.00")
    found = {a.kind: a for a in alternatives(best, pieces, rolls, table_mm=2440)}
    assert found["one_width"].price == Decimal("144.00") and found["one_width"].extra == Decimal("32.00")
    # two A side by side on the 1829 roll: 2 strips of 2 m at 12, beside 4 strips of 2 m at 9
    assert found["next_mix"].price == Decimal("120.00")


def test_patterned_film_is_never_turned():
    """Directional film keeps every piece upright even where turning would save."""
    pieces = [Piece("A", 700, 1400, 2), Piece("B", 1400, 700, 2)]
    free = plan(pieces, [Roll(1420, None, Decimal(10))], table_mm=2440)
    fixed = plan(pieces, [Roll(1420, None, Decimal(10), directional=True)], table_mm=2440)
    assert not any(placed.turned for placed in fixed.pieces)
    assert free.used_mm <= fixed.used_mm


def test_films_are_planned_apart():
    """Each piece is cut from its own film and the prices add up."""
    pieces = [Piece("A", 900, 1000, film="clear"), Piece("B", 900, 1000, film="grey")]
    rolls = [Roll(915, None, Decimal(10), film="clear"), Roll(915, None, Decimal(20), film="grey")]
    found = plan(pieces, rolls)
    assert [(cut.roll.film, cut.price) for cut in found.rolls] == [
        ("clear", Decimal("10.00")),
        ("grey", Decimal("20.00")),
    ]
    assert found.proven and found.lower_bound == Decimal("30.00")


def test_a_spare_is_not_counted_as_glass_and_stands_for_its_pane():
    """It is cut, and the glass covered stays the same; where the roll ends before it, its pane is named."""
    pieces = [Piece("A", 600, 900), Piece("A spare", 600, 900, spare_of="A"), Piece("B", 300, 400)]
    found = plan(pieces, [BY_LENGTH], table_mm=2440)
    assert sorted(p.piece.id for p in found.pieces) == ["A", "A spare", "B"]
    assert found.glass_m2 == pytest.approx(0.6 * 0.9 + 0.3 * 0.4)
    with pytest.raises(CutListError) as error:
        plan(pieces, [Roll(700, 1350, Decimal(0), stock=1)])
    assert [fault.field for fault in error.value.faults] == ["A"]


@pytest.mark.parametrize(
    ("pieces", "rolls", "words"),
    [
        ([Piece("A", 2950, 2900)], [Roll(915, 2000, Decimal(1))], "does not fit across the widest roll"),
        ([Piece("A", 900, 2600, turn=False)], [BY_LENGTH], "table of 2440 mm is too short"),
        ([Piece("A", 900, 2000)], [], "no roll is offered"),
        ([Piece("A", 0, 2000)], [BY_LENGTH], "must be over 0"),
        ([Piece("A", 10, 2000, 0)], [BY_LENGTH], "at least 1"),
    ],
)
def test_what_cannot_be_cut_is_named_with_its_reason(pieces, rolls, words):
    """A piece that no roll can hold gives a fault that names the piece and says why."""
    with pytest.raises(CutListError, match=words) as error:
        plan(pieces, rolls, table_mm=2440)
    assert error.value.faults[0].field.startswith("A")


def test_every_impossible_piece_is_reported_at_once():
    """Two impossible pieces give two faults."""
    pieces = [Piece("A", 900, 2600, turn=False), Piece("B", 800, 2600, turn=False), Piece("C", 300, 300)]
    with pytest.raises(CutListError) as error:
        plan(pieces, [BY_LENGTH], table_mm=2440)
    assert [fault.field for fault in error.value.faults] == ["A", "B"]


def test_a_group_that_no_single_roll_holds_comes_from_rolls_bought_together():
    """Four panes of 1.4 x 2 m on rolls of 1.5 x 5 m: two rolls, all upright, and none from the shelf."""
    pieces = [Piece("A", 1400, 2000, 4, group="g"), Piece("B", 300, 300)]
    rolls = [Roll(1500, 5000, Decimal(100)), Roll(1500, 5000, Decimal(0), stock=1, label="shelf")]
    found = plan(pieces, rolls, table_mm=2440)
    homes = {
        (cut.roll.label, placed.turned)
        for cut in found.rolls
        for strip in cut.strips
        for placed in strip.pieces
        if placed.piece.group
    }
    assert homes == {("", False)}
    assert found.price == 200
    assert any("seen together as g are cut from 2 rolls" in note for note in found.notes)
    assert found.lower_bound <= found.price


def test_pieces_of_no_group_use_the_shelf_beside_a_group_over_several_rolls():
    """Four panes of 1.4 x 2 m fill two rolls of 1.5 x 4.5 m; a fifth of no group is cut from the shelf."""
    pieces = [Piece("A", 1400, 2000, 4, group="g"), Piece("B", 1400, 2000)]
    rolls = [Roll(1500, 4500, Decimal(100)), Roll(1500, 2500, Decimal(0), stock=1, label="shelf")]
    found = plan(pieces, rolls, table_mm=2440)
    assert found.price == 200
    assert {
        (placed.piece.id, cut.roll.label)
        for cut in found.rolls
        for strip in cut.strips
        for placed in strip.pieces
    } == {("A", ""), ("B", "shelf")}


def test_a_group_of_wide_panes_over_several_rolls_lies_turned():
    """Panes wider than the film all lie turned, and are the pieces asked for."""
    found = plan([Piece("A", 2000, 1400, 4, group="g")], [Roll(1500, 5000, Decimal(100))])
    assert [placed.turned for placed in found.pieces] == [True] * 4
    assert {placed.piece for placed in found.pieces} == {Piece("A", 2000, 1400, 4, group="g")}


def test_a_group_that_no_batch_holds_names_its_panes_and_what_dropping_it_costs():
    """One fits upright only, the other turned only: both are named, and the price without the group."""
    pieces = [Piece("A", 900, 2000, group="g", turn=False), Piece("B", 1200, 800, group="g")]
    with pytest.raises(CutListError, match=r"no batch .* group g .* costs \d+\.\d\d") as error:
        plan(pieces, [Roll(915, None, Decimal(1))], table_mm=2440)
    assert [fault.field for fault in error.value.faults] == ["A", "B"]


@pytest.mark.parametrize("options", [{"stages": 4}, {"mode": "slow"}])
def test_unknown_ways_of_planning_are_refused(options):
    """Only two or three stages, and the modes there are."""
    with pytest.raises(ValueError, match="must be"):
        plan([Piece("A", 300, 300)], [BY_LENGTH], **options)


@pytest.mark.parametrize(("open_share", "said"), [("0.0004", "0.1%"), ("0.0010", "0.1%"), ("0.0011", "0.2%")])
def test_what_is_open_never_reads_as_nothing(open_share, said):
    """The gap that a sentence names is rounded up: one of four hundredths of a percent is not 0.0 %."""
    made = plan([Piece("a", 700, 900)], [Roll(1524, None, Decimal(20))])
    bound = made.price * (1 - Decimal(open_share))
    assert f"at most {said} above" in replace(made, lower_bound=bound, proven=False).verdict
