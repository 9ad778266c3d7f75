"""Cost lines: hand-worked sums."""

from decimal import Decimal as D
from fractions import Fraction

import pytest

from reportkit.fitting.records import CutRoll, Roll
from reportkit.money.costs import film_items, labour_item, material_items
from reportkit.money.price import quote


def cut(roll: Roll, length: Fraction | int | None = None) -> CutRoll:
    """Return a roll as a plan holds it, without strips."""
    return CutRoll(roll, Fraction(length or roll.length_mm or 0), roll.price, ())


def test_rolls_become_lines() -> None:
    """Like rolls are counted, lengths off one width add up to exact metres, others stay apart."""
    wide = Roll(1524, 30500, D("310"), film="grey")
    by_length = Roll(915, None, D("9.20"), film="grey")
    other = Roll(1524, 30500, D("310"), film="clear")
    shelf = Roll(610, 5000, D(0), film="grey")
    lines = film_items(
        [cut(wide), cut(wide), cut(by_length, 4333), cut(by_length, 1001), cut(other), cut(shelf)]
    )
    assert [(line.quantity, line.unit) for line in lines] == [
        (D(2), "roll"),
        (D("5.334"), "m"),
        (D(1), "roll"),
    ]
    assert [line.id for line in lines] == ["film:grey:1524:30500", "film:grey:915", "film:clear:1524:30500"]
    assert quote(lines, currency="EUR").total == D("979.07")  # 620 + 49.0728 + 310


def test_packs_are_sold_whole() -> None:
    """Six rolls in packs of three are two packs at the pack's price, not six thirds of it."""
    pack = Roll(610, 5000, D("100"), film="grey", pack=3)
    (line,) = film_items([cut(pack)] * 6)
    assert (line.quantity, line.unit, line.rate) == (D(2), "pack", D(100))


def test_labour_is_sold_in_steps() -> None:
    """Four hundred and thirty-one minutes in quarter hours are seven and a quarter hours."""
    assert labour_item(431, "40").quantity == D("7.25")
    assert labour_item(0, "40").quantity == 0
    assert str(labour_item(600, "40").quantity) == "10"


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
        labour_item(-1, "40")
