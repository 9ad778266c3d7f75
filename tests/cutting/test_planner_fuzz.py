"""Random cut jobs of every kind at once: a checked plan, or an error that names what cannot be cut."""

from __future__ import annotations

import random
from collections import Counter
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from math import ceil
from types import SimpleNamespace

import pytest
from trials import many

from reportkit.base.errors import CutListError
from reportkit.cutting import Piece, Roll, plan, planner
from reportkit.cutting.checker import violations
from reportkit.cutting.planner import prepare
from reportkit.cutting.records import exact

INCH = Fraction(254, 10)
WIDTHS = (508, 762, 915, 1220, 1524, 1829, 60 * INCH, 48 * INCH)


def fuzz_job(seed: int) -> SimpleNamespace:
    """Return a random job; about one in five asks for what cannot be cut."""
    r = random.Random(seed)
    films = ("clear", "grey")[: r.choice((1, 1, 2))]
    pieces = []
    for number in range(r.choice((1, 2, 3, 5, 8, 13))):
        size = [r.choice((r.randint(150, 1400), 600, Fraction(r.randint(100, 900), 16) * INCH, 762.5))]
        size.append(r.choice((r.randint(200, 2300), 1200, Fraction(r.randint(200, 1400), 16) * INCH)))
        width = size[0] if r.random() < 0.95 else r.randint(1500, 3800)
        pieces.append(
            Piece(
                f"P{number}",
                width,
                size[1],
                quantity=r.choice((1, 1, 1, 2, 3, 6)),
                turn=r.random() < 0.7,
                group=r.choice(("", "", "", "A", "B")) if seed % 3 else "",
                film=r.choice(films),
                label=r.choice(("hall", "shop")),
                seams_mm=(r.randint(200, 1500),) if r.random() < 0.1 else (),
                seam_lines_mm=(width * Fraction(1, 2),) if r.random() < 0.1 else (),
            )
        )
    if r.random() < 0.4:
        pieces.append(replace(pieces[0], id="P0 spare", quantity=1, group="", spare_of="P0"))
    rolls = [a_roll(r, film) for film in films for _ in range(r.choice((1, 1, 2, 3)))]
    r.shuffle(rolls)
    return SimpleNamespace(
        pieces=pieces,
        rolls=rolls,
        ask={
            "table_mm": r.choice((None, None, 1500, 2440, 3000)),
            "stages": r.choice((2, 2, 3)),
            "mode": r.choice(("quick", "quick", "exact")),
        },
    )


def grouped_job(seed: int) -> SimpleNamespace:
    """Return a random job whose view groups are often larger than any roll: cut from several, or refused."""
    r = random.Random(seed)
    groups = ("A", "A", "A", "B", "")[: r.choice((3, 4, 5))]
    pieces = [
        Piece(
            f"P{number}",
            r.randint(500, 1900 if r.random() < 0.2 else 1450),
            r.randint(600, 2300),
            quantity=r.choice((1, 1, 2, 4)),
            turn=r.random() < 0.8,
            group=r.choice(groups),
            film="clear",
        )
        for number in range(r.choice((2, 3, 4, 6, 9)))
    ]
    length, price = r.choice((3000, 5000, 7500)), Decimal(r.randint(5000, 30000)) / 100
    rolls = [Roll(r.choice((1524, 1829)), length, price, "clear", pack=r.choice((1, 1, 2)))]
    if r.random() < 0.3:
        rolls.append(Roll(1829, None, price / 4, "clear", most_mm=r.choice((2500, 6000)), step_mm=500))
    if r.random() < 0.4:
        rolls.append(Roll(1524, r.choice((2400, 5000)), Decimal(0), "clear", stock=r.randint(1, 2)))
    ask = {
        "table_mm": r.choice((None, 2440)),
        "stages": r.choice((2, 3)),
        "mode": r.choice(("quick", "exact")),
    }
    return SimpleNamespace(pieces=pieces, rolls=rolls, ask=ask)


def a_roll(r: random.Random, film: str) -> Roll:
    """Return whole rolls, packs of them, a roll on the shelf, or film by length, in steps or not."""
    width, directional = r.choice(WIDTHS), r.random() < 0.15
    price = Decimal(r.randint(100, 6000)) / 100
    kind = r.choice(("whole", "pack", "shelf", "length", "steps"))
    if kind == "length":
        most = r.choice((None, None, r.randint(2000, 30500)))
        return Roll(width, None, price, film, most_mm=most, directional=directional)
    if kind == "steps":
        step = r.choice((100, 500, 1000, 12 * INCH, 36 * INCH))
        most = r.choice((None, r.randint(2000, 30500), 30500))
        return Roll(width, None, price, film, step_mm=step, most_mm=most, directional=directional)
    length = r.choice((2000, 5000, 7500, 15000, 30500, 50 * 12 * INCH))
    if kind == "shelf":
        stock = r.randint(1, 3)
        return Roll(width, length, Decimal(0), film, stock=stock, directional=directional, label="shelf")
    stock = r.choice((None, None, 1, 4))
    pack = 1 if kind == "whole" else r.choice((2, 3))
    return Roll(width, length, price * 10, film, pack=pack, stock=stock, directional=directional)


def bill(found) -> Decimal:
    """Return what the rolls of a plan cost, packs and order steps whole, each line to the cent."""
    total = Decimal(0)
    for roll, count in Counter(cut.roll for cut in found.rolls if not cut.roll.by_length).items():
        total += roll.price * ceil(count / roll.pack)
    for cut in found.rolls:
        if cut.roll.by_length:
            metres = cut.used_mm / 1000
            if cut.roll.step_mm is not None:
                step = exact(cut.roll.step_mm) / 1000
                metres = step * ceil(metres / step)
            total += Decimal(round(Fraction(cut.roll.price) * metres * 100 + Fraction(1, 10**9))) / 100
    return total


def wanted(job: SimpleNamespace) -> Counter:
    """Return how often each piece is asked for."""
    return Counter({piece.id: piece.quantity for piece in job.pieces})


def easy(job: SimpleNamespace) -> bool:
    """Return whether anyone can see a plan: no groups, and for each piece film without end that holds it."""
    table = job.ask["table_mm"] or 10**9
    return all(
        not piece.group
        and any(
            roll.film == piece.film
            and (roll.stock is None if not roll.by_length else roll.most_mm is None)
            and piece.width_mm <= roll.width_mm
            and piece.length_mm <= min(table, roll.length_mm or table)
            for roll in job.rolls
        )
        for piece in job.pieces
    )


def examine(job: SimpleNamespace) -> str:
    """Plan a job and hold the answer to its rules; return ``"plan"``, ``"refused"`` or ``"several rolls"``.

    The last is a plan in which some view group comes from more than one roll.
    """
    try:
        found = plan(job.pieces, job.rolls, **job.ask)
    except CutListError as error:
        names = {piece.pane for piece in job.pieces}
        assert error.faults
        for fault in error.faults:
            assert fault.field in names, f"names nothing that cannot be cut: {fault}"
        assert not easy(job), str(error)
        return "refused"
    table, stages = job.ask["table_mm"], job.ask["stages"]
    asked = prepare(job.pieces, job.rolls, table_mm=table)
    assert violations(found, asked, job.rolls, table_mm=table, stages=stages) == []
    assert found.lower_bound <= found.price
    assert abs(found.price - bill(found)) < Decimal("0.005")
    assert found.film_bound_m2 <= found.used_m2 * (1 + 1e-9)
    placed = Counter((entry.piece.id, entry.piece.part) for entry in found.pieces)
    parts = {entry.piece.id: max(1, entry.piece.parts) for entry in found.pieces}
    assert Counter({pane: sum(n for (p, _), n in placed.items() if p == pane) for pane in parts}) == Counter(
        {pane: count * parts[pane] for pane, count in wanted(job).items()}
    )
    homes = {
        (entry.piece.film, entry.piece.group, number)
        for number, cut in enumerate(found.rolls)
        for strip in cut.strips
        for entry in strip.pieces
        if entry.piece.group
    }
    several = len(homes) > len({home[:2] for home in homes})
    assert several == any("seen together" in note for note in found.notes)
    return "several rolls" if several else "plan"


#: How many random jobs to plan; a third as many with view groups larger than a roll.
COUNT = many("FUZZ", 60, 240)


@pytest.mark.trial
@pytest.mark.parametrize("start", range(0, COUNT, 20))
def test_any_job_is_planned_soundly_or_refused_by_name(start):
    """Rules: those of the separate checker; prices by the sum of what is bought (own arithmetic here)."""
    answers = Counter(examine(fuzz_job(seed)) for seed in range(start, start + 20))
    assert answers["plan"] >= 8


@pytest.mark.trial
@pytest.mark.parametrize("start", range(0, COUNT // 3, 20))
def test_view_groups_larger_than_a_roll_are_planned_soundly_or_refused_by_name(start):
    """The same, where groups need several rolls of one batch; some of the plans take them."""
    answers = Counter(examine(grouped_job(seed)) for seed in range(start, start + 20))
    assert answers["several rolls"] >= 3
    assert answers["plan"] >= 1


@pytest.mark.parametrize("useless", [Roll(300, 30500, Decimal(5)), Roll(1524, 800, Decimal(5))])
@pytest.mark.parametrize("stages", [2, 3])
def test_a_roll_that_holds_no_piece_changes_nothing(useless, stages):
    """Geometry: 915 x 1200 may not be turned, so neither 300 mm of width nor 800 mm of length hold it."""
    pieces, good = [Piece("A", 915, 1200, quantity=4, turn=False)], Roll(1524, None, Decimal(10))
    alone = plan(pieces, [good], stages=stages)
    beside = plan(pieces, [useless, good], stages=stages)
    assert (beside.rolls, beside.lower_bound) == (alone.rolls, alone.lower_bound)


def test_what_is_left_over_when_the_shelf_runs_short_is_named():
    """Off 5 m two pieces of 2 m and one of 300 mm can be cut; a third of 2 m is missing (arithmetic)."""
    pieces = [Piece("A", 1400, 2000, turn=False, quantity=3), Piece("B", 1500, 300, turn=False)]
    shelf = Roll(1524, 5000, Decimal(0), stock=1)
    with pytest.raises(CutListError) as error:
        plan(pieces, [shelf])
    faults = {fault.field: fault for fault in error.value.faults}
    assert set(faults) == {"A"}
    assert faults["A"].rule == "the rolls offered run out before this piece is cut"
    assert faults["A"].hint == "2000 mm more of film 1524 mm wide would do"
    enough = [shelf, replace(shelf, length_mm=2000)]
    assert len(plan(pieces, enough).rolls) == 2


def test_a_piece_that_fits_only_before_rounding_is_named():
    """Mixed units are planned in tenths of a mm: 915.99 mm rounds up, a roll of as much rounds down."""
    with pytest.raises(CutListError) as error:
        plan([Piece("A", 915.99, 700, turn=False), Piece("B", 500, 700)], [Roll(915.99, None, Decimal(10))])
    assert [fault.field for fault in error.value.faults] == ["A"]


@pytest.mark.parametrize("stages", [2, 3])
def test_a_search_cut_short_still_has_the_bound_of_the_area(stages, monkeypatch):
    """Without any work allowed, the bound is no less than the pieces' area at the price of the film."""
    monkeypatch.setitem(planner.ALLOWED, "exact", 1.0)
    r = random.Random(3)
    pieces = [Piece(f"P{k}", r.randint(300, 1500), r.randint(300, 2300)) for k in range(300)]
    rolls = [Roll(1524, 30500, Decimal(355)), Roll(1524, 5000, Decimal(0), stock=1)]
    found = plan(pieces, rolls, stages=stages)
    area = sum(piece.width_mm * piece.length_mm for piece in pieces)
    least = (Fraction(area) / 1524 - 5000) / 30500 * 355
    assert found.lower_bound >= Decimal(float(least)) - 1
    assert found.lower_bound <= found.price
