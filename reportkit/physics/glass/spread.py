"""A quantity that is known between two ends only, and where it likely lies."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True)
class Spread:
    """Least, likely and most, in the unit of whatever it is a spread of; ``low <= likely <= high``."""

    low: float
    likely: float
    high: float

    def __post_init__(self) -> None:
        """Check the order."""
        if not self.low <= self.likely <= self.high:
            raise ValueError(f"a spread must rise (got {self.low:g}, {self.likely:g}, {self.high:g})")


def spread(likely: float, *others: Iterable[float]) -> Spread:
    """Return the spread of a likely value and of others that are possible, too."""
    every = [likely, *(value for some in others for value in some)]
    return Spread(min(every), likely, max(every))
