from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from reportkit.base.errors import PlanError
from reportkit.cutting import Piece, Plan, Roll, check, plan, violations
from reportkit.cutting.planner import prepare

ROLLS = [Roll(1220, None, Decimal("8")), Roll(915, 4000, Decimal("20"))]
TABLE = 2440


@st.composite
def jobs(draw):
    """Return pieces that the rolls can hold, some in a view group."""
    sizes = st.tuples(st.integers(200, 900), st.integers(200, 2000), st.integers(1, 2), st.booleans())
    found = []
    for number, (width, length, quantity, turn) in enumerate(draw(st.lists(sizes, min_size=2, max_size=5))):
        group = draw(st.sampled_from(["", "", "view"]))
        found.append(Piece(f"P{number}", width, length, quantity, turn, group))
    return found


def mutate_strip(found: Plan, change) -> Plan:
    """Return the plan with its first strip changed."""
    first = found.rolls[0]
    strips = (change(first.strips[0]), *first.strips[1:])
    return replace(found, rolls=(replace(first, strips=strips), *found.rolls[1:]))


def mutate_piece(found: Plan, **changes) -> Plan:
    """Return the plan with the first piece of its first strip changed."""
    return mutate_strip(found, lambda s: replace(s, pieces=(replace(s.pieces[0], **changes), *s.pieces[1:])))


def broken(found: Plan, kind: str) -> Plan:
    """Return the plan with one rule broken."""
    first = found.rolls[0]
    strip = first.strips[0]
    piece = strip.pieces[0]
    width = Fraction(first.roll.width_mm)
    if kind == "beyond the width":
        return mutate_piece(found, x_mm=width - piece.width_mm + 1)
    if kind == "longer than its strip":
        return mutate_strip(found, lambda s: replace(s, length_mm=piece.length_mm - 1))
    if kind == "smaller than asked":
        return mutate_piece(found, width_mm=piece.width_mm - 1)
    if kind == "piece lost":
        return mutate_strip(found, lambda s: replace(s, pieces=s.pieces[1:]))
    if kind == "piece doubled":
        return mutate_strip(found, lambda s: replace(s, pieces=(*s.pieces, piece)))
    if kind == "strip beyond the roll":
        return mutate_strip(found, lambda s: replace(s, y_mm=first.length_mm - s.length_mm + 1))
    if kind == "longer than the table":
        return mutate_strip(found, lambda s: replace(s, length_mm=Fraction(TABLE + 1)))
    if kind == "price":
        return replace(found, rolls=(replace(first, price=first.price + 1), *found.rolls[1:]))
    if kind == "roll not offered":
        return replace(
            found, rolls=(replace(first, roll=replace(first.roll, width_mm=5000)), *found.rolls[1:])
        )
    if kind == "another film":
        return mutate_piece(found, piece=replace(piece.piece, film="other"))
    if kind == "bound above the price":
        return replace(found, lower_bound=found.price + 1)
    assert kind == "third cut"
    return mutate_piece(found, y_mm=Fraction(1))


KINDS = [
    "beyond the width",
    "longer than its strip",
    "smaller than asked",
    "piece lost",
    "piece doubled",
    "strip beyond the roll",
    "longer than the table",
    "price",
    "roll not offered",
    "another film",
    "bound above the price",
    "third cut",
]


@given(jobs())
@settings(max_examples=25, deadline=None, derandomize=True)
def test_every_plan_passes_and_every_broken_one_fails(pieces):
    """A plan keeps all rules, and breaking any one of them is noticed."""
    found = plan(pieces, ROLLS, table_mm=TABLE, mode="quick")
    cut = prepare(pieces, ROLLS, table_mm=Fraction(TABLE))
    assert violations(found, cut, ROLLS, table_mm=TABLE) == []
    for kind in KINDS:
        assert violations(broken(found, kind), cut, ROLLS, table_mm=TABLE), kind


def test_a_group_of_two_batches_or_in_two_directions_is_noticed():
    """View groups are followed over batches and directions."""
    pieces = [Piece("A", 500, 500, 2, group="view")]
    found = plan(pieces, [ROLLS[0]], table_mm=TABLE)
    turned = mutate_piece(found, turned=not found.pieces[0].turned)
    assert any("two directions" in text for text in violations(turned, pieces, ROLLS, table_mm=TABLE))
    one = found.rolls[0]
    strip = one.strips[0]
    halves = [replace(one, strips=(replace(strip, pieces=(piece,)),)) for piece in strip.pieces]
    apart = violations(replace(found, rolls=tuple(halves)), pieces, ROLLS, table_mm=TABLE)
    assert not any("batch" in text for text in apart), "rolls bought together are one batch"
    assert any("more than one length" in text for text in apart)
    shelf = [replace(half, roll=replace(half.roll, price=Decimal(0)), price=Decimal(0)) for half in halves]
    mixed = violations(replace(found, rolls=(halves[0], shelf[1])), pieces, ROLLS, table_mm=TABLE)
    assert any("more than one batch" in text for text in mixed)


def test_stock_packs_and_order_steps_are_checked():
    """No more rolls than there are, no part of a pack, no length between order steps."""
    roll = Roll(610, 1300, Decimal(10), pack=2, stock=1)
    pieces = [Piece("A", 600, 1200, 2, turn=False)]
    found = plan(pieces, [roll])
    assert violations(found, pieces, [roll]) == []
    more = replace(found, rolls=found.rolls + found.rolls)
    assert any("more rolls than there are" in text for text in violations(more, pieces, [roll]))
    part = replace(found, rolls=found.rolls[:1])
    assert any("part of a pack" in text for text in violations(part, pieces, [roll]))
    steps = Roll(610, None, Decimal(10), step_mm=500)
    found = plan(pieces, [steps])
    assert found.rolls[0].length_mm == 2500
    off = replace(found, rolls=(replace(found.rolls[0], length_mm=Fraction(2400), price=Decimal(24)),))
    assert any("order step" in text for text in violations(off, pieces, [steps]))


def test_a_broken_plan_is_never_printed():
    """The check raises an error of the program that lists every broken rule."""
    pieces = [Piece("A", 500, 500)]
    found = plan(pieces, ROLLS[:1])
    with pytest.raises(PlanError, match="breaks its own rules"):
        check(broken(found, "price"), pieces, ROLLS[:1])
