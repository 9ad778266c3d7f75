"""What must hold in any price, checked apart from the code that makes it."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import ROUND_HALF_UP, Decimal

from reportkit.money import Price


def adds_up(price: Price) -> Sequence[str]:
    """Return what does not add up in a price, as sentences; nothing where all does."""
    faults, cent = [], Decimal(1).scaleb(-price.digits)
    for line in price.lines:
        if (line.quantity * line.rate).quantize(cent, ROUND_HALF_UP) != line.amount:
            faults.append(f"{line.id}: quantity x rate is not the amount")
    if sum((line.amount for line in price.lines), Decimal(0)) != price.subtotal:
        faults.append("the lines do not sum to the subtotal")
    if price.net + price.tax != price.total:
        faults.append("net and tax do not sum to the total")
    if price.subtotal != (price.total if price.tax_included else price.net):
        faults.append("the subtotal is on another tax basis than the price says")
    if price.deposit + price.balance != price.total:
        faults.append("deposit and balance do not sum to the total")
    return faults
