"""Days and hours of a typical year, which has no year of its own, in the words of a fault."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reportkit.base.translatable import translatable

if TYPE_CHECKING:
    import pandas as pd

#: Months as they are shortened.
_MONTHS = (
    translatable("Jan"), translatable("Feb"), translatable("Mar"), translatable("Apr"),
    translatable("May"), translatable("Jun"), translatable("Jul"), translatable("Aug"),
    translatable("Sep"), translatable("Oct"), translatable("Nov"), translatable("Dec"),
)  # fmt: skip


def day_told(at: pd.Timestamp) -> str:
    """Return a day of a typical year, ``11 May``, for a sentence."""
    return translatable("{day} {month}", day=f"{at:%d}", month=_MONTHS[at.month - 1])


def moment_told(at: pd.Timestamp) -> str:
    """Return an hour of a typical year, ``11 May 14:00``, for a sentence."""
    return translatable("{day} {clock}", day=day_told(at), clock=f"{at:%H:%M}")
