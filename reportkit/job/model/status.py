"""How far a job is: what was sent to the client and when, what was accepted, when the work was done and read.

A run is only a draft until its documents are sent; nothing but this field says that they were. When the panes were
measured stands in ``survey``, the day planned for the work in ``fitting``.
"""

from __future__ import annotations

import datetime as dt
from itertools import pairwise
from typing import Annotated

from pydantic import Field, model_validator

from reportkit.base.translatable import translatable
from reportkit.job.model.about import about
from reportkit.job.model.typed import Day, Record, Text, Whole, broken

Number = Annotated[Whole, Field(ge=1, le=999_999)]

#: A day and the path of its field.
_Dated = tuple[dt.date, tuple[str | int, ...]]


class Sent(Record):
    """An offer that went to the client, or a plan that was settled."""

    date: Annotated[Day, about("the day it was sent", "2026-05-04")]
    run: Annotated[
        Number | None,
        about("the run whose documents were sent; left out: they are not kept in runs/", "3"),
    ] = None


class Accepted(Record):
    """What the client agreed to."""

    date: Annotated[Day, about("the day it was accepted", "2026-05-15")]
    run: Annotated[
        Number | None, about("the run that was accepted, one of those offered; left out: the last", "3")
    ] = None
    way: Annotated[Text, about("the way that was ticked, as its name is printed", "Only the shop window")] = (
        ""
    )
    note: Annotated[Text, about("how, by whom, or what was agreed beside it", "by telephone")] = ""


class Status(Record):
    """What has happened in a job, each with its day."""

    offered: Annotated[
        tuple[Sent, ...],
        Field(max_length=50),
        about("what was sent, the newest last; a new run then says what has changed since", "see below"),
    ] = ()
    accepted: Annotated[Accepted | None, about("what the client agreed to", "date: 2026-05-15")] = None
    fitted: Annotated[Day | None, about("the day the work was done", "2026-06-02")] = None
    reviewed: Annotated[Day | None, about("the day the review was handed over", "2026-06-20")] = None

    @model_validator(mode="after")
    def _in_order(self) -> Status:
        sent: list[_Dated] = [
            (one.date, ("offered", index, "date")) for index, one in enumerate(self.offered)
        ]
        accepted = self.accepted
        run = accepted.run if accepted else None
        if run is not None and run not in [one.run for one in self.offered]:
            hint = translatable("name it under offered, too, with the day it was sent")
            raise broken(
                translatable("must be a run that was offered"), "accepted", "run", found=str(run), hint=hint
            )
        first = [one.date for one in self.offered if run is None or one.run == run][:1]
        done: list[_Dated] = [(day, ()) for day in first]
        if accepted:
            done.append((accepted.date, ("accepted", "date")))
        done += [(day, (name,)) for name in ("fitted", "reviewed") if (day := getattr(self, name))]
        for (before, _), (day, at) in (*pairwise(sent), *pairwise(done)):
            if day < before:
                rule = translatable(
                    "must not be before the day of what came before it ({before})", before=before
                )
                raise broken(rule, *at, found=str(day), hint=translatable("check both dates"))
        return self

    @property
    def agreed(self) -> int | None:
        """Which of what was sent the client goes by: what was accepted, or sent after that; None for nothing."""
        last = len(self.offered) - 1
        if last < 0:
            return None
        if not self.accepted or self.accepted.run is None or self.offered[last].date > self.accepted.date:
            return last
        return max(index for index, sent in enumerate(self.offered) if sent.run == self.accepted.run)
