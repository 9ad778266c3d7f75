"""Cost lines: hand-worked sums."""

from decimal import Decimal as D
from fractions import Fraction

import pytest

from reportkit.cutting.records import CutRoll, Roll
from reportkit.money.costs import Step, area_items, film_items, labour_items, material_items
from reportkit.money.price import FilmLot, quote


def cut(roll: Roll, length: Fraction | int | None = None) -> CutRoll:
    """Return a roll as a plan holds it, without strips."""
    return CutRoll(roll, Fraction(length or roll.length_mm or 0), roll.price, ())


def test_rolls_become_lines() -> None:
    """Like rolls are counted, lengths off one width add up in hundredths of a metre, others stay apart."""
    wide = Roll(1524, 30500, D("310"), film="grey")
    by_length = Roll(915, None, D("9.20"), film="grey")
    other = Roll(1524, 30500, D("310"), film="clear")
    shelf = Roll(610, 5000, D(0), film="grey")
    lines = film_items(
        [cut(wide), cut(wide), cut(by_length, 4333), cut(by_length, 1001), cut(other), cut(shelf)]
    )
    assert [(line.quantity, line.unit) for line in lines] == [
        (D(2), "roll"),
        (D("5.34"), "m"),
        (D(1), "roll"),
    ]
    lots = [
        FilmLot("grey", Fraction(1524), Fraction(30500)),
        FilmLot("grey", Fraction(915)),
        FilmLot("clear", Fraction(1524), Fraction(30500)),
    ]
    assert [line.lot for line in lines] == lots
    assert [line.id for line in lines] == ["film:grey:1524:30500", "film:grey:915", "film:clear:1524:30500"]
    assert [line.lot for line in quote(lines, currency="EUR").lines] == lots
    assert quote(lines, currency="EUR").total == D("979.13")  # 620 + 5.34 x 9.20 = 49.128 + 310


def test_film_sold_by_the_foot_is_counted_in_feet_at_the_rate_typed() -> None:
    """Fifty-one feet at 4.25 a foot are 216.75, though the planner counts millimetres (by hand)."""
    by_foot = Roll(1524, None, D("4.25") / D("0.3048"), film="grey", sold_in="ft")
    by_metre = Roll(1524, None, D("13.94"), film="grey")
    lines = film_items(
        [cut(by_foot, Fraction(3048 * 50, 10)), cut(by_metre, 15000), cut(by_foot, Fraction(3048, 10))]
    )
    assert [(str(line.quantity), line.unit, str(line.rate)) for line in lines] == [
        ("51.00", "ft", "4.25"),
        ("15.00", "m", "13.94"),
    ]
    assert [line.amount for line in quote(lines, currency="USD").lines] == [D("216.75"), D("209.10")]


def test_packs_are_sold_whole() -> None:
    """Six rolls in packs of three are two packs at the pack's price, not six thirds of it."""
    pack = Roll(610, 5000, D("100"), film="grey", pack=3)
    (line,) = film_items([cut(pack)] * 6)
    assert (line.quantity, line.unit, line.rate) == (D(2), "pack", D(100))
    assert line.lot == FilmLot("grey", Fraction(610), Fraction(5000), pack=3)


def test_labour_is_sold_in_steps() -> None:
    """Four hundred and thirty-one minutes in quarter hours are seven and a quarter hours."""
    assert [line.quantity for line in labour_items(431, "40")] == [D("7.25")]
    assert [line.quantity for line in labour_items(0, "40")] == [0]
    assert [str(line.quantity) for line in labour_items(600, "40")] == ["10"]


def test_materials_without_a_price_are_named() -> None:
    """A material that has no price is in no line and is reported."""
    lines, missing = material_items(
        [("soap", "soap", D(15), "ml"), ("tape", "tape", D(6), "m")], {"tape": D("0.25")}
    )
    assert [line.id for line in lines] == ["tape"]
    assert missing == ("soap",)


def test_a_float_price_is_refused() -> None:
    """A roll with a float price raises, and so do negative minutes."""
    with pytest.raises(TypeError, match="Decimal"):
        film_items([cut(Roll(1524, 30500, 310.0, film="grey"))])  # type: ignore[arg-type]
    with pytest.raises(ValueError, match="minutes"):
        labour_items(-1, "40")


def test_glass_by_area_takes_each_step_in_turn() -> None:
    """Of 12 m2 at 60 up to 5, 50 up to 10 and 45 beyond: 300 + 250 + 90 (by hand)."""
    steps = [Step(D(60), D(5)), Step(D(50), D(10)), Step(D(45))]
    lines = area_items(D(12), steps, id_="area", text="glass", unit="m2")
    assert [line.quantity * line.rate for line in lines] == [300, 250, 90]
    assert [line.quantity for line in area_items(D(3), steps, id_="area", text="glass", unit="m2")] == [3]
    for wrong in ([], [Step(D(60), D(5))], [Step(D(60), D(5)), Step(D(50), D(4)), Step(D(45))]):
        with pytest.raises(ValueError, match="step"):
            area_items(D(12), wrong, id_="area", text="glass", unit="m2")
