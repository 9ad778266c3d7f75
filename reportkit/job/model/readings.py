"""What a meter showed behind the film and, in the same minute, without it.

One row for each pair of readings: through a filmed pane, and through a bare pane of the same glazing or in
the open just outside the filmed one. They are taken after the work; a job without them has none.
"""

from __future__ import annotations

import datetime as dt
import re
from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, Field

from reportkit.base.translatable import translatable
from reportkit.job.model.about import about
from reportkit.job.model.typed import Amount, Record, Text, broken, plain_clock, plain_date

#: In place of a pane: the reading was taken in the open, just outside the filmed pane.
OPEN = "open"


def plain_moment(value: Any) -> Any:
    """Return a day and clock time written ``2026-06-12 14:05``, or refuse it."""
    if not isinstance(value, str):
        return value
    day, _, clock = re.sub(r"[T\s]+", " ", value.strip()).partition(" ")
    if not clock:
        rule = translatable("must be a day and a time, year-month-day hour:minute")
        raise broken(rule, hint=translatable("such as 2026-06-12 14:05"))
    return dt.datetime.combine(plain_date(day), dt.time.fromisoformat(plain_clock(clock)))


class Reading(Record):
    """One pair of readings by one meter; ``time`` is civil time of the site."""

    time: Annotated[
        dt.datetime,
        BeforeValidator(plain_moment),
        about("day and clock time of the site", "2026-06-12 14:05"),
    ]
    meter: Annotated[Literal["light", "sun", "uv"], about("light, sun or uv", "light")]
    pane: Annotated[str, about("the pane with film", "S1")]
    filmed: Annotated[Amount, Field(gt=0, le=1_000_000), about("what the meter showed behind it", "410")]
    beside: Annotated[
        str,
        about(
            "a pane of the same glazing without film, or open: in the open, just outside the filmed pane",
            "S3",
        ),
    ]
    bare: Annotated[
        Amount,
        Field(gt=0, le=1_000_000),
        about("what the same meter showed there in the same minute, in the same unit", "980"),
    ]
    note: Annotated[Text, about("anything worth knowing", "thin cloud")] = ""
