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
from decimal import Decimal
from fractions import Fraction
from typing import Literal, Protocol

from reportkit.money.amounts import ONE, ZERO, decimal, offered, rounded, share_of

#: ``area`` is glass at a price for its area, ``call_out`` and ``extra`` are sold as typed, ``all`` is a line
#: that stands for several.
Group = Literal[
    "film", "materials", "labour", "other", "area", "call_out", "extra", "all", "discount", "minimum"
]
MarginKind = Literal["margin_on_price", "mark_up_on_cost"]


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
    the line is film. ``credit`` takes the line off the price. ``note`` is text
    that a person typed for it.
    """

    id: str
    group: Group
    text: str
    quantity: Decimal
    unit: str
    rate: Decimal
    taxable: bool = True
    lot: FilmLot | None = None
    credit: bool = False
    note: str = ""

    def __post_init__(self) -> None:
        """Refuse floats and negative numbers."""
        for name in ("quantity", "rate"):
            number = decimal(getattr(self, name), f"{self.id} {name}")
            if number < 0:
                raise ValueError(f"{self.id} {name} must be 0 or more, got {number}")
            object.__setattr__(self, name, number)


@dataclass(frozen=True)
class PriceLine:
    """A line as the client reads it; ``amount`` is quantity times rate, rounded once.

    A credit has a quantity below 0, a discount a rate below 0. ``note`` is text that a person typed.
    """

    id: str
    group: Group
    text: str
    quantity: Decimal
    unit: str
    rate: Decimal
    amount: Decimal
    taxable: bool = True
    lot: FilmLot | None = None
    note: str = ""


class Shown(Protocol):
    """How lines are put before the client: others in their place, of the same sum or nearly so."""

    def __call__(self, lines: Sequence[PriceLine], /) -> Sequence[PriceLine]:
        """Return the lines to print."""


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
    ``cost`` is what the job costs the fitter, on the same tax basis as the subtotal; ``details`` are the
    lines one by one where ``lines`` put them together.
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
    details: tuple[PriceLine, ...] = ()


def quote(
    items: Iterable[Item],
    *,
    currency: str,
    digits: int = 2,
    margin: Margin | None = None,
    discount_share: Decimal | int | str = ZERO,
    discount_amount: Decimal | int | str = ZERO,
    discount_note: str = "",
    minimum: Decimal | int | str = ZERO,
    tax: Tax | None = None,
    deposit_share: Decimal | int | str = ZERO,
    shown: Shown = tuple,
    costs: Iterable[Item] | None = None,
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
    discount_note
        Its reason, as typed.
    minimum
        The least the job is done for [currency], on the same tax basis as the rates; compared with
        the sum after discount, and made up by a line of its own. Nothing is added to an empty job.
    tax
        Unsaid: no tax.
    deposit_share
        Part of the total asked for beforehand, from 0 to 1.
    shown
        How the lines are put before the client, before discount, minimum charge and tax.
    costs
        What the job costs where its items are prices and no costs; unsaid: the items.

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
    share = share_of(discount_share, "discount_share")
    taken_amount = decimal(discount_amount, "discount_amount")
    least = decimal(minimum, "minimum")
    if taken_amount < 0 or least < 0:
        raise ValueError("discount_amount and minimum must be 0 or more")
    deposit_part = share_of(deposit_share, "deposit_share")

    items = tuple(items)
    cost = sum(
        (_signed(rounded(item.quantity * item.rate, digits=digits), item) for item in costs or items), ZERO
    )
    details = tuple(_line(item, margin, digits) for item in items)
    lines = list(shown(details))
    plain = sum((line.amount for line in lines), ZERO)
    detailed = sum((line.amount for line in details), ZERO)
    taxable = sum((line.amount for line in details if line.taxable), ZERO)

    taken = min(rounded(plain * share, digits=digits) + rounded(taken_amount, digits=digits), plain)
    if taken > 0:
        text = f"discount {_percent(share)}" if share and not taken_amount else "discount"
        lines.append(PriceLine("discount", "discount", text, ONE, "job", -taken, -taken, note=discount_note))
    short = rounded(least, digits=digits) - (plain - taken)
    if lines and short > 0:
        lines.append(
            PriceLine("minimum", "minimum", "made up to the minimum charge", ONE, "job", short, short)
        )
    subtotal = sum((line.amount for line in lines), rounded(ZERO, digits=digits))

    base = subtotal if detailed == 0 else subtotal * taxable / detailed
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
        details=details,
    )


def _line(item: Item, margin: Margin, digits: int) -> PriceLine:
    """Return an item as the client reads it, the margin in its rate."""
    rate = item.rate
    if item.group in margin.groups and margin.share:
        rate = offered(rate * margin.factor, digits)
    return PriceLine(
        item.id,
        item.group,
        item.text,
        _signed(item.quantity, item),
        item.unit,
        rate,
        _signed(rounded(item.quantity * rate, digits=digits), item),
        item.taxable,
        item.lot,
        item.note,
    )


def _signed(value: Decimal, item: Item) -> Decimal:
    return -value if item.credit and value else value


def _percent(share: Decimal) -> str:
    text = f"{share * 100:f}"
    return f"{text.rstrip('0').rstrip('.') if '.' in text else text} %"
