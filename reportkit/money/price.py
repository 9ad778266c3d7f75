"""The price of a job as lines that add up: film bought, materials, labour, margin, tax, deposit.

Everything is ``Decimal``; a float is refused, because it has already lost the cent it should keep.
Each printed amount is rounded once, half up, at the currency's minor unit, and the totals are sums of
printed amounts, so a client's pocket calculator agrees to the last digit. What the currency's minor
unit is, the caller says (two digits for most, none for some; ISO 4217 lists them).

Not covered: rates of tax by place, several taxes on one line, payment by instalments.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction
from typing import Literal

Group = Literal["film", "materials", "labour", "other", "discount", "minimum"]
MarginKind = Literal["margin_on_price", "mark_up_on_cost"]

ZERO = Decimal(0)
ONE = Decimal(1)

#: A rate that a margin has changed is kept to the minor unit or to this many figures, the finer.
RATE_FIGURES = 3


def decimal(value: Decimal | int | str, name: str = "value") -> Decimal:
    """Return an exact decimal from a ``Decimal``, a whole number or its text.

    Parameters
    ----------
    value
        The number.
    name
        What it is, for the message.

    Returns
    -------
    Decimal
        Finite.

    Raises
    ------
    TypeError
        If it is a float, a bool or anything else.
    ValueError
        If it is not a finite number.
    """
    if isinstance(value, bool) or not isinstance(value, Decimal | int | str):
        raise TypeError(f"{name} must be a Decimal, a whole number or text, got {type(value).__name__}")
    try:
        number = Decimal(value)
    except ArithmeticError:
        raise ValueError(f"{name} must be a number, got {value!r}") from None
    if not number.is_finite():
        raise ValueError(f"{name} must be finite, got {value!r}")
    return number


def rounded(value: Decimal, *, digits: int) -> Decimal:
    """Return an amount at the currency's minor unit, halves away from zero.

    Parameters
    ----------
    value
        Amount [currency].
    digits
        Digits after the point in that currency, 0 to 4.

    Returns
    -------
    Decimal
        Amount [currency]; never minus zero.
    """
    if not 0 <= digits <= 4:
        raise ValueError(f"digits must be from 0 to 4, got {digits}")
    amount = value.quantize(ONE.scaleb(-digits), rounding=ROUND_HALF_UP)
    return abs(amount) if amount == 0 else amount


@dataclass(frozen=True)
class FilmLot:
    """What a line of film is made of: rolls of one kind, or lengths off one width.

    ``length_mm`` is None for film sold by length; ``pack`` is how many rolls are sold together.
    """

    film: str
    width_mm: Fraction
    length_mm: Fraction | None = None
    pack: int = 1

    @property
    def id(self) -> str:
        """Film and size [mm] as a key, ``film:grey:1524:30500``; ``:3`` behind it for packs of three."""
        length = "" if self.length_mm is None else f":{float(self.length_mm):g}"
        return f"film:{self.film}:{float(self.width_mm):g}{length}{'' if self.pack == 1 else f':{self.pack}'}"


@dataclass(frozen=True)
class Item:
    """What one line costs the fitter, before margin: a quantity and a rate per unit.

    ``taxable`` is False for what the place's sales tax leaves out (labour, in some). ``lot`` is set where
    the line is film.
    """

    id: str
    group: Group
    text: str
    quantity: Decimal
    unit: str
    rate: Decimal
    taxable: bool = True
    lot: FilmLot | None = None

    def __post_init__(self) -> None:
        """Refuse floats and negative numbers."""
        for name in ("quantity", "rate"):
            number = decimal(getattr(self, name), f"{self.id} {name}")
            if number < 0:
                raise ValueError(f"{self.id} {name} must be 0 or more, got {number}")
            object.__setattr__(self, name, number)


@dataclass(frozen=True)
class PriceLine:
    """A line as the client reads it; ``amount`` is quantity times rate, rounded once."""

    id: str
    group: Group
    text: str
    quantity: Decimal
    unit: str
    rate: Decimal
    amount: Decimal
    taxable: bool = True
    lot: FilmLot | None = None


@dataclass(frozen=True)
class Margin:
    """How much is added to cost, and on what it is counted.

    ``margin_on_price`` .30 means that 30 % of the price is margin: price = cost / .70.
    ``mark_up_on_cost`` .30 means that 30 % of the cost is added: price = cost x 1.30.
    ``groups`` names the groups it applies to.
    """

    kind: MarginKind = "mark_up_on_cost"
    share: Decimal = ZERO
    groups: tuple[Group, ...] = ("film", "materials", "labour", "other")

    def __post_init__(self) -> None:
        """Refuse a share that no price can have."""
        share = decimal(self.share, "margin share")
        if self.kind not in ("margin_on_price", "mark_up_on_cost"):
            raise ValueError(f"margin kind must be margin_on_price or mark_up_on_cost, got {self.kind!r}")
        if share < 0:
            raise ValueError(f"margin share must be 0 or more, got {share}")
        if self.kind == "margin_on_price" and share >= 1:
            raise ValueError(f"a margin on price must be under 1 (100 %), got {share}")
        object.__setattr__(self, "share", share)

    @property
    def factor(self) -> Decimal:
        """Price over cost."""
        return ONE / (ONE - self.share) if self.kind == "margin_on_price" else ONE + self.share


@dataclass(frozen=True)
class Tax:
    """One tax on sales: its rate (.20 is 20 %) and whether the rates typed hold it already."""

    rate: Decimal = ZERO
    included: bool = False
    name: str = "tax"

    def __post_init__(self) -> None:
        """Refuse a negative rate."""
        rate = decimal(self.rate, "tax rate")
        if rate < 0:
            raise ValueError(f"tax rate must be 0 or more, got {rate}")
        object.__setattr__(self, "rate", rate)


@dataclass(frozen=True)
class Price:
    """The whole price.

    ``lines`` sum to ``subtotal`` exactly. With tax on top ``net`` is the subtotal and
    ``total = net + tax``; with tax inside ``total`` is the subtotal and ``net = total - tax``.
    ``cost`` is what the lines cost the fitter, on the same tax basis as the subtotal.
    """

    currency: str
    digits: int
    lines: tuple[PriceLine, ...]
    cost: Decimal
    subtotal: Decimal
    net: Decimal
    tax: Decimal
    tax_rate: Decimal
    tax_included: bool
    total: Decimal
    deposit: Decimal
    balance: Decimal
    margin: Margin

    @property
    def margin_reached(self) -> Decimal | None:
        """Share of the subtotal left after cost, discount and minimum charge; None for no price."""
        return None if self.subtotal == 0 else (self.subtotal - self.cost) / self.subtotal


def quote(
    items: Iterable[Item],
    *,
    currency: str,
    digits: int = 2,
    margin: Margin | None = None,
    discount_share: Decimal | int | str = ZERO,
    discount_amount: Decimal | int | str = ZERO,
    minimum: Decimal | int | str = ZERO,
    tax: Tax | None = None,
    deposit_share: Decimal | int | str = ZERO,
) -> Price:
    """Price a job.

    Parameters
    ----------
    items
        What it costs, in the order of print.
    currency
        ISO 4217 code.
    digits
        Digits of its minor unit.
    margin
        Added to the rate of every line in its groups; none if unsaid.
    discount_share, discount_amount
        Taken off the sum of the lines: first the share (.05 is 5 %), then the amount [currency].
        Together they never take off more than the sum.
    minimum
        The least the job is done for [currency], on the same tax basis as the rates; compared with
        the sum after discount, and made up by a line of its own. Nothing is added to an empty job.
    tax
        Unsaid: no tax.
    deposit_share
        Part of the total asked for beforehand, from 0 to 1.

    Returns
    -------
    Price
        With every amount at the minor unit.

    Raises
    ------
    TypeError
        If any number is a float.
    ValueError
        If a number is out of its range.

    Notes
    -----
    The margin is in each line's rate; that rate is rounded to the minor unit, or to three figures
    where that is finer; a rate without margin stays as typed. Rates are printed with all their digits, so
    quantity x rate *as printed* gives the amount. A tax falls on the taxable
    lines' part of the sum after discount and minimum charge.

    Examples
    --------
    >>> price = quote([Item("film", "film", "film", Decimal(2), "roll", Decimal("199.99"))],
    ...               currency="EUR", tax=Tax(Decimal("0.20")))
    >>> str(price.total)
    '479.98'
    """
    margin = margin or Margin()
    tax = tax or Tax()
    share = _share(discount_share, "discount_share")
    taken_amount = decimal(discount_amount, "discount_amount")
    least = decimal(minimum, "minimum")
    if taken_amount < 0 or least < 0:
        raise ValueError("discount_amount and minimum must be 0 or more")
    deposit_part = _share(deposit_share, "deposit_share")

    lines: list[PriceLine] = []
    cost = ZERO
    for item in items:
        cost += rounded(item.quantity * item.rate, digits=digits)
        rate = item.rate
        if item.group in margin.groups and margin.share:
            rate = _offered(rate * margin.factor, digits)
        amount = rounded(item.quantity * rate, digits=digits)
        lines.append(
            PriceLine(
                item.id,
                item.group,
                item.text,
                item.quantity,
                item.unit,
                rate,
                amount,
                item.taxable,
                item.lot,
            )
        )
    plain = sum((line.amount for line in lines), ZERO)
    taxable = sum((line.amount for line in lines if line.taxable), ZERO)

    taken = min(rounded(plain * share, digits=digits) + rounded(taken_amount, digits=digits), plain)
    if taken:
        text = f"discount {_percent(share)}" if share and not taken_amount else "discount"
        lines.append(PriceLine("discount", "discount", text, ONE, "job", -taken, -taken))
    short = rounded(least, digits=digits) - (plain - taken)
    if lines and short > 0:
        lines.append(
            PriceLine("minimum", "minimum", "made up to the minimum charge", ONE, "job", short, short)
        )
    subtotal = sum((line.amount for line in lines), rounded(ZERO, digits=digits))

    base = subtotal if plain == 0 else subtotal * taxable / plain
    if tax.included:
        tax_amount = rounded(base * tax.rate / (ONE + tax.rate), digits=digits)
        net, total = subtotal - tax_amount, subtotal
    else:
        tax_amount = rounded(base * tax.rate, digits=digits)
        net, total = subtotal, subtotal + tax_amount
    deposit = rounded(total * deposit_part, digits=digits)
    return Price(
        currency=currency,
        digits=digits,
        lines=tuple(lines),
        cost=cost,
        subtotal=subtotal,
        net=net,
        tax=tax_amount,
        tax_rate=tax.rate,
        tax_included=tax.included,
        total=total,
        deposit=deposit,
        balance=total - deposit,
        margin=margin,
    )


def adds_up(price: Price) -> Sequence[str]:
    """Return what does not add up in a price, as sentences; nothing where all does.

    An independent check for the printed document and for a price read back from an archive.
    """
    faults = []
    for line in price.lines:
        if rounded(line.quantity * line.rate, digits=price.digits) != line.amount:
            faults.append(f"{line.id}: quantity x rate is not the amount")
    if sum((line.amount for line in price.lines), ZERO) != price.subtotal:
        faults.append("the lines do not sum to the subtotal")
    if price.net + price.tax != price.total:
        faults.append("net and tax do not sum to the total")
    if price.subtotal != (price.total if price.tax_included else price.net):
        faults.append("the subtotal is on another tax basis than the price says")
    if price.deposit + price.balance != price.total:
        faults.append("deposit and balance do not sum to the total")
    return faults


def _share(value: Decimal | int | str, name: str) -> Decimal:
    share = decimal(value, name)
    if not 0 <= share <= 1:
        raise ValueError(f"{name} must be from 0 to 1, got {share}")
    return share


def _offered(rate: Decimal, digits: int) -> Decimal:
    """Round a rate to the minor unit, or to ``RATE_FIGURES`` figures where that is finer."""
    if rate == 0:
        return rate
    places = max(digits, RATE_FIGURES - 1 - rate.adjusted())
    rate = rate.quantize(ONE.scaleb(-places), rounding=ROUND_HALF_UP)
    while places > digits and rate == rate.quantize(ONE.scaleb(1 - places)):
        places -= 1
        rate = rate.quantize(ONE.scaleb(-places))
    return rate


def _percent(share: Decimal) -> str:
    text = f"{share * 100:f}"
    return f"{text.rstrip('0').rstrip('.') if '.' in text else text} %"
