"""Findings of the whole ways that a client may choose from, side by side."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING

from reportkit.findings.result import Result
from reportkit.study.screening import ASK
from reportkit.study.ways import Strength

if TYPE_CHECKING:
    from reportkit.study import Study
    from reportkit.study.options import Option


class FilmOnFace(Result):
    """What a way puts on the panes of one face."""

    face: str
    """The face."""
    film: str | None
    """The film; null where the panes stay bare."""
    panes: tuple[str, ...]
    """The panes."""
    whole: bool
    """Whether those are all panes of the face."""


class WayFound(Result):
    """One whole way: what it is called, which film goes where, what is to be asked, what it costs."""

    option: str
    """Its option."""
    offered: bool
    """Whether the offer is for it."""
    name: str
    """The name typed for it; empty where it was not typed."""
    better: tuple[Strength, ...]
    """What it does better than the one offered; empty for that one and for typed ones."""
    films: tuple[FilmOnFace, ...]
    """By face, in the order of the survey."""
    ask: tuple[str, ...]
    """The panes whose film waits for somebody's answer."""
    net: Decimal | None
    """Without tax [currency]; null where the rolls given cannot hold the pieces."""
    total: Decimal | None
    """What is to pay [currency]."""


def fill_ways(study: Study) -> tuple[WayFound, ...]:
    """Return the ways side by side, the one offered first; none where that is to do nothing."""
    offered = [_way(study, study.chosen)] if study.chosen.films else []
    return (*offered, *(_way(study, way.option, way.name, way.better) for way in study.other_ways))


def _way(study: Study, option: Option, name: str = "", better: tuple[Strength, ...] = ()) -> WayFound:
    made = study.offers[option.id]
    asked = [
        pane.id
        for pane, film in zip(study.job.panes, option.film_by_pane, strict=True)
        if film and any(reason.decision == ASK and not study.screens[pane.id, film].settled(reason)
                        for reason in study.screens[pane.id, film].reasons)
    ]  # fmt: skip
    return WayFound(
        option=option.id,
        offered=option is study.chosen,
        name=name,
        better=better,
        films=_by_face(study, option),
        ask=tuple(asked),
        net=None if made.faults else made.price.net,
        total=made.total,
    )


def _by_face(study: Study, option: Option) -> tuple[FilmOnFace, ...]:
    placings = []
    for face in study.job.faces:
        own = {
            pane.id: film
            for pane, film in zip(study.job.panes, option.film_by_pane, strict=True)
            if pane.face == face.id
        }
        for film in dict.fromkeys(own.values()):
            panes = tuple(pane for pane, placed in own.items() if placed == film)
            placings.append(FilmOnFace(face=face.id, film=film, panes=panes, whole=len(panes) == len(own)))
    return tuple(placings)
