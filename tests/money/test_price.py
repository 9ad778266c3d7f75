"""Prices: hand-worked sums, and the laws that every printed price must keep."""

from decimal import Decimal as D

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from prices import adds_up

from reportkit.money import price as p

FILM = p.Item("film", "film", "film", D(2), "roll", D("199.99"))
WORK = p.Item("labour", "labour", "labour", D("7.5"), "h", D("41"), taxable=False)

amounts = st.decimals("0", "5000", places=2)
shares = st.decimals("0", "0.9", places=3)
items = st.lists(
    st.builds(
        p.Item,
        id=st.just("x"),
        group=st.sampled_from(["film", "materials", "labour", "other"]),
        text=st.just("x"),
        quantity=st.decimals("0", "300", places=3),
        unit=st.just("m"),
        rate=amounts,
        taxable=st.booleans(),
    ),
    max_size=8,
)


def test_hand_worked_quote() -> None:
    """Film and labour with margin, discount, tax on goods only and a deposit, worked by hand."""
    quote = p.quote(
        [FILM, WORK],
        currency="USD",
        margin=p.Margin("mark_up_on_cost", D("0.25"), ("film",)),
        discount_share="0.05",
        tax=p.Tax(D("0.08")),
        deposit_share="0.5",
    )
    # 199.99 x 1.25 = 249.9875 -> 249.99; x 2 = 499.98; 7.5 x 41 = 307.50; sum 807.48
    # 5 % = 40.374 -> 40.37; subtotal 767.11; taxable part 767.11 x 499.98/807.48 = 474.9839...
    # x 8 % = 37.998... -> 38.00; total 805.11; half of it 402.555 -> 402.56, 402.55 left
    assert [line.amount for line in quote.lines] == [D("499.98"), D("307.50"), D("-40.37")]
    assert (quote.net, quote.tax, quote.total) == (D("767.11"), D("38.00"), D("805.11"))
    assert (quote.deposit, quote.balance) == (D("402.56"), D("402.55"))
    assert quote.cost == D("707.48")


def test_margin_and_mark_up_differ() -> None:
    """Thirty percent of the price is not thirty percent of the cost: 100/.7 against 130."""
    cost = [p.Item("a", "other", "a", D(1), "job", D(100))]
    on_price = p.quote(cost, currency="EUR", margin=p.Margin("margin_on_price", D("0.30")))
    on_cost = p.quote(cost, currency="EUR", margin=p.Margin("mark_up_on_cost", D("0.30")))
    assert on_price.total == D("142.86")
    assert on_cost.total == D("130.00")


def test_tax_inside_and_on_top() -> None:
    """Twenty percent inside 120 is 20, on top of 120 it is 24."""
    cost = [p.Item("a", "other", "a", D(1), "job", D(120))]
    inside = p.quote(cost, currency="EUR", tax=p.Tax(D("0.2"), included=True))
    on_top = p.quote(cost, currency="EUR", tax=p.Tax(D("0.2")))
    assert (inside.net, inside.tax, inside.total) == (D("100.00"), D("20.00"), D("120.00"))
    assert (on_top.net, on_top.tax, on_top.total) == (D("120.00"), D("24.00"), D("144.00"))


def test_minimum_charge_is_its_own_line() -> None:
    """A small job is made up to the minimum charge after discount, an empty one is not."""
    small = p.quote([WORK], currency="EUR", minimum="350", discount_amount="20")
    assert [line.amount for line in small.lines] == [D("307.50"), D("-20.00"), D("62.50")]
    assert p.quote([], currency="EUR", minimum="350").total == 0


def test_halves_go_up() -> None:
    """Half a minor unit rounds away from zero, in currencies with two digits, none and three."""
    assert p.rounded(D("2.345"), digits=2) == D("2.35")
    assert p.rounded(D("-2.345"), digits=2) == D("-2.35")
    assert p.rounded(D("2.5"), digits=0) == D("3")
    assert p.rounded(D("0.0005"), digits=3) == D("0.001")
    assert str(p.rounded(D("-0.001"), digits=2)) == "0.00"


def test_small_rates_keep_their_figures() -> None:
    """A rate of less than a minor unit, soap by the millilitre, is not rounded to nothing."""
    soap = p.Item("soap", "materials", "soap", D(400), "ml", D("0.004"))
    quote = p.quote([soap], currency="EUR", margin=p.Margin("mark_up_on_cost", D("0.5")))
    assert quote.lines[0].rate == D("0.006")
    assert quote.total == D("2.40")


@settings(deadline=None, max_examples=150)
@given(
    items=items,
    share=shares,
    kind=st.sampled_from(["margin_on_price", "mark_up_on_cost"]),
    discount=shares,
    off=amounts,
    minimum=amounts,
    rate=shares,
    included=st.booleans(),
    deposit=shares,
    digits=st.sampled_from([0, 2, 3]),
)
def test_every_quote_adds_up(
    items: list[p.Item],
    share: D,
    kind: p.MarginKind,
    discount: D,
    off: D,
    minimum: D,
    rate: D,
    included: bool,
    deposit: D,
    digits: int,
) -> None:
    """Lines sum to the subtotal, tax and net to the total, deposit and balance too, to the last digit."""
    quote = p.quote(
        items,
        currency="EUR",
        digits=digits,
        margin=p.Margin(kind, share),
        discount_share=discount,
        discount_amount=off,
        minimum=minimum,
        tax=p.Tax(rate, included=included),
        deposit_share=deposit,
    )
    assert adds_up(quote) == []
    assert quote.total >= 0 and quote.deposit <= quote.total
    step = D(1).scaleb(-digits)
    printed = [line.amount for line in quote.lines] + [quote.net, quote.tax, quote.total, quote.deposit]
    assert all(amount == amount.quantize(step) for amount in printed)
    if items:
        assert quote.subtotal >= p.rounded(minimum, digits=digits)


def test_a_price_that_does_not_add_up_is_seen() -> None:
    """The independent check notices a changed line, a changed tax and a changed deposit."""
    from dataclasses import replace

    quote = p.quote([FILM, WORK], currency="EUR", tax=p.Tax(D("0.2")), deposit_share="0.3")
    assert adds_up(replace(quote, tax=quote.tax + 1)) == ["net and tax do not sum to the total"]
    assert len(adds_up(replace(quote, deposit=D(0)))) == 1
    wrong = replace(quote.lines[0], amount=D("1.00"))
    assert len(adds_up(replace(quote, lines=(wrong, *quote.lines[1:])))) == 2


@pytest.mark.parametrize("value", [1.5, True, None, float("nan")])
def test_floats_are_refused(value: object) -> None:
    """A float, a bool or nothing is no amount of money."""
    with pytest.raises(TypeError, match="Decimal"):
        p.decimal(value)  # type: ignore[arg-type]
    with pytest.raises(TypeError):
        p.Item("a", "film", "a", value, "m", D(1))  # type: ignore[arg-type]


def test_impossible_numbers_are_refused() -> None:
    """Negative rates, margins of the whole price, shares over one and text that is no number raise."""
    with pytest.raises(ValueError, match="0 or more"):
        p.Item("a", "film", "a", D(1), "m", D(-1))
    with pytest.raises(ValueError, match="under 1"):
        p.Margin("margin_on_price", D(1))
    with pytest.raises(ValueError, match="from 0 to 1"):
        p.quote([], currency="EUR", deposit_share="1.2")
    with pytest.raises(ValueError, match="must be a number"):
        p.decimal("12,50")
    with pytest.raises(ValueError, match="finite"):
        p.decimal("NaN")
    with pytest.raises(ValueError, match="digits"):
        p.rounded(D(1), digits=7)
