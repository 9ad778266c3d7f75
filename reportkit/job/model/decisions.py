"""What was decided about a job after its survey: the films chosen, and dated decisions with their reasons."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from reportkit.job.model.about import about
from reportkit.job.model.quantities import Temperature
from reportkit.job.model.typed import Day, Money, Record, Text

BARE = "none"


class Choice(Record):
    """The film already chosen: for the job, else by face, else by pane; the nearest word wins.

    ``none`` as a film's name leaves that face or pane bare.
    """

    job: Annotated[str | None, about("one film for all panes, or none", "grey-40")] = None
    faces: Annotated[dict[str, str], about("a film by face", "{south: grey-40}")] = Field(
        default_factory=dict
    )
    panes: Annotated[dict[str, str], about("a film by pane; L1.2 is the second of row L1", "{S1: none}")] = (
        Field(default_factory=dict)
    )


class Decision(Record):
    """What was decided on a day, by whom, and why.

    ``panes_out`` gives the reason for each pane left bare, ``overrides`` the reason for not taking what
    the tool recommends. ``set_points`` are the cooling's, by room.
    """

    date: Annotated[Day, about("day of the decision", "2026-03-05")]
    who: Annotated[Text, about("who decided", "Ana Example")] = ""
    films: Annotated[Choice, about("the films decided on, as in choice", "{faces: {south: grey-40}}")] = (
        Choice()
    )
    panes_out: Annotated[
        dict[str, Text],
        about(
            "panes left bare, each with the reason; L1.2 is the second of row L1",
            "{S1: the client keeps a poster there}",
        ),
    ] = Field(default_factory=dict)
    overrides: Annotated[
        Text, about("why what the program recommends was not taken", "more light than it leaves")
    ] = ""
    set_points: Annotated[
        dict[str, Annotated[Temperature, Field(ge=10, le=35)]],
        about("cooling set point by room", "{kitchen: 25 C}"),
    ] = Field(default_factory=dict)
    electricity_rate: Annotated[
        Money | None, about("one rate for every hour, in place of the job's tariff", "0.30")
    ] = None
    budget: Annotated[Money | None, about("the most the client will spend", "900")] = None
    note: Annotated[Text, about("anything worth knowing", "shown on site with two samples")] = ""
