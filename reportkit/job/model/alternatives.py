"""Other whole ways to do the job, typed by the fitter, to stand beside what is offered."""

from __future__ import annotations

from typing import Annotated

from pydantic import model_validator

from reportkit.base.translatable import translatable
from reportkit.job.model.about import about
from reportkit.job.model.decisions import BARE, Choice
from reportkit.job.model.panes import Pane
from reportkit.job.model.typed import Record, Text, broken


class Alternative(Record):
    """One other way: a plain name, and which film goes where."""

    name: Annotated[Text, about("a plain name for the client", "Only the shop window")]
    films: Annotated[
        Choice,
        about("the films of this way, as in choice; what it does not name stays bare", "{job: grey-40}"),
    ]

    @model_validator(mode="after")
    def _complete(self) -> Alternative:
        if not self.name.strip():
            raise broken(
                translatable("must not be empty"),
                "name",
                hint=translatable("say in a few plain words what this way is"),
            )
        films = (self.films.job, *self.films.faces.values(), *self.films.panes.values())
        if all(film in (None, BARE) for film in films):
            raise broken(
                translatable("must name a film"),
                "films",
                hint=translatable("leaving the glass as it is is compared in any case"),
            )
        return self

    def film_on(self, pane: Pane) -> str | None:
        """Return the film on a pane, None where it stays bare: a pane that the survey leaves bare does."""
        films = self.films
        bare = BARE if pane.film == BARE else None
        own = films.panes.get(pane.id) or films.panes.get(pane.row)
        named = own or bare or films.faces.get(pane.face) or films.job
        return None if named == BARE else named
