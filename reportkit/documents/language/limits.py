"""A value beside its limit, with as many digits as tell them apart."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from reportkit.base.translatable import apart


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
