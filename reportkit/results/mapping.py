"""Results as a mapping: a section is computed when first asked for, so a notebook can show one stage."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import TYPE_CHECKING, Any

from reportkit.results import (
    advice,
    basis,
    claims,
    glass,
    offer,
    options,
    readings,
    rooms,
    schedule,
    screening,
    sun,
    views,
)
from reportkit.results.plain import plain
from reportkit.results.schema import SCHEMA_VERSION

if TYPE_CHECKING:
    from reportkit.study import Study

#: Every section of results.json, in its order, and the function that makes it.
SECTIONS: dict[str, Callable[[Study], Any]] = {
    "schema": lambda study: SCHEMA_VERSION,
    "job": lambda study: plain(study.job),
    "choice": advice.choice,
    "assumptions": basis.assumptions,
    "weather": sun.weather,
    "faces": sun.faces,
    "glazings": glass.glazings,
    "claims": claims.claims,
    "claim_limits": claims.claim_limits,
    "panes": glass.panes,
    "which_panes": advice.which_panes,
    "screens": screening.screens,
    "letters": screening.letters,
    "options": options.options,
    "rooms": rooms.rooms,
    "by_window": rooms.by_window,
    "bad_day": sun.bad_day,
    "views": views.views,
    "pieces": offer.pieces,
    "cutting": offer.cutting,
    "materials": offer.materials,
    "labour": offer.labour,
    "schedule": schedule.schedule,
    "price": offer.price,
    "cautions": basis.cautions,
    "readings": readings.readings,
}


class Results(Mapping[str, Any]):
    """The findings of a study as plain JSON data, section by section.

    Parameters
    ----------
    study
        The study whose findings these are.
    """

    def __init__(self, study: Study) -> None:
        self._study = study
        self._made: dict[str, Any] = {}

    def __getitem__(self, section: str) -> Any:
        """Return a section; raises KeyError for an unknown one."""
        if section not in self._made:
            self._made[section] = SECTIONS[section](self._study)
        return self._made[section]

    def __iter__(self) -> Iterator[str]:
        """Go through the names of the sections in their order."""
        return iter(SECTIONS)

    def __len__(self) -> int:
        """Return how many sections there are."""
        return len(SECTIONS)
