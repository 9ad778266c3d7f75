"""Values used where a job does not say: each with its spread, and a mark for how far to trust it.

Pieces, materials and minutes each keep a table of them, which a report lists among its assumptions.
"""

from __future__ import annotations

from dataclasses import dataclass

from reportkit.base.translatable import english

#: What the mark on a default means, as printed in a report.
MARKS: dict[str, str] = {
    "P": english("published source, named"),
    "A": english("guides of trade associations"),
    "C": english("common practice, no source"),
}


@dataclass(frozen=True)
class Default:
    """A value used where the job does not say: a number, its spread and how far to trust it.

    ``low`` and ``high`` bound what is usual; ``mark`` is a key of ``MARKS``.
    """

    key: str
    value: float
    unit: str
    mark: str
    why: str
    low: float | None = None
    high: float | None = None

    @property
    def range(self) -> tuple[float, float, float]:
        """Low, likely and high value; all the same where no spread is known."""
        low = self.value if self.low is None else self.low
        high = self.value if self.high is None else self.high
        return low, self.value, high


def table(*rows: Default) -> dict[str, Default]:
    """Return the rows as a dict by key, refusing a key that is there twice."""
    by_key: dict[str, Default] = {}
    for row in rows:
        if row.key in by_key:
            raise ValueError(f"default {row.key!r} is there twice")
        by_key[row.key] = row
    return by_key
