"""Written approvals by the film maker: which film on which glass, by whom, when, and the file that says so.

An approval settles what the breakage screen asks of the film maker or refuses by its chart. It settles
nothing that is not the film maker's to approve: glass that gathers the sun, chipped edges, plastics the film
is not stated for, faces no film sticks to, and what the glass maker or a licensed glazier is to answer.
"""

from __future__ import annotations

from typing import Annotated

from pydantic import model_validator

from reportkit.base.translatable import translatable
from reportkit.job.model.about import about
from reportkit.job.model.typed import Day, Id, Record, Text, broken


class Approval(Record):
    """The film maker's written word for one film, on every pane of a glazing or on panes by name."""

    film: Annotated[Id, about("the film that the film maker approves", "grey-40")]
    glazing: Annotated[
        Id | None, about("the glass it approves the film on; or name panes instead", "wired-6")
    ] = None
    panes: Annotated[
        tuple[Id, ...], about("the panes it approves the film on, where the letter names them", "[W1, W2]")
    ] = ()
    by: Annotated[
        Text, about("who approved it, as the letter is signed", "Ana Example, Example Films' maker")
    ]
    date: Annotated[Day, about("the date of the letter, not after the quote's", "2026-02-20")]
    file: Annotated[
        Text, about("the letter, in the job's folder; it is archived with every run", "approval.pdf")
    ]

    @model_validator(mode="after")
    def _complete(self) -> Approval:
        if (self.glazing is None) == (not self.panes):
            rule = translatable("must be given, or panes, and only one of them")
            raise broken(
                rule, "glazing", hint=translatable("say what the letter names: the glazing, or the panes")
            )
        for name in ("by", "file"):
            if not getattr(self, name).strip():
                raise broken(
                    translatable("must not be empty"),
                    name,
                    hint=translatable("an approval is a letter by somebody"),
                )
        return self
