"""Amounts of money: exact decimals, rounded once, and the rates that they come from."""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal

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


def share_of(value: Decimal | int | str, name: str) -> Decimal:
    """Return a share from 0 to 1 as an exact decimal, or raise ``ValueError``."""
    share = decimal(value, name)
    if not 0 <= share <= 1:
        raise ValueError(f"{name} must be from 0 to 1, got {share}")
    return share


def offered(rate: Decimal, digits: int) -> Decimal:
    """Round a rate to the minor unit, or to ``RATE_FIGURES`` figures where that is finer."""
    if rate == 0:
        return rate
    decimals = max(digits, RATE_FIGURES - 1 - rate.adjusted())
    rate = rate.quantize(ONE.scaleb(-decimals), rounding=ROUND_HALF_UP)
    while decimals > digits and rate == rate.quantize(ONE.scaleb(1 - decimals)):
        decimals -= 1
        rate = rate.quantize(ONE.scaleb(-decimals))
    return rate
