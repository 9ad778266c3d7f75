"""A value or a range beside its limit, with as many digits as tell them apart."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from reportkit.base.translatable import apart
from reportkit.documents.language.formats import EN_DASH, NBSP


def beside(write: Callable[[Any, int], str], value: Any, limit: Any, digits: int = 0) -> tuple[str, str]:
    """Return a value and its limit as text; where they would look alike, with more digits.

    Parameters
    ----------
    write
        Writes a value with so many digits, such as `Formats.percent`.
    value, limit
        What is set side by side.
    digits
        The fewest digits.
    """
    more = apart(write, value, limit, digits)
    return write(value, more), write(limit, more)


def span(write: Callable[[Any, int], str], low: Any, high: Any, digits: int = 0) -> str:
    """Return a range as text, the unit once; one value where the ends look alike.

    Parameters
    ----------
    write
        Writes a value with so many digits, such as `Formats.percent`.
    low, high
        Its ends.
    digits
        How many digits.
    """
    first, last = write(low, digits), write(high, digits)
    if first == last:
        return last
    number, _, unit = first.rpartition(NBSP)
    alike = number and last.endswith(NBSP + unit)
    return f"{number if alike else first}{EN_DASH}{last}"


def span_beside(
    write: Callable[[Any, int], str], ends: tuple[Any, Any], limit: Any, *, decides: Any
) -> tuple[str, str]:
    """Return a range and its limit as text, with digits that tell the end that decides from the limit."""
    more = apart(write, decides, limit, 0)
    return span(write, *ends, more), write(limit, more)
