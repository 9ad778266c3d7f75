"""Findings about the reasoning itself: what was assumed, what to mind."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any, Literal

from reportkit.base.translatable import english
from reportkit.findings.result import Result, Text
from reportkit.study import assumed
from reportkit.study.cautions import cautions_for
from reportkit.work import labour, materials
from reportkit.work import pieces as sizes
from reportkit.work.defaults import MARKS, Default

if TYPE_CHECKING:
    from reportkit.job.reading.defaults import Assumption as AssumedHere
    from reportkit.physics.room.ranges import Uncertain
    from reportkit.study import Study


#: What the job left open, what no job sets, rates of cutting and fitting, or what the ranges run over.
About = Literal["job", "study", "work", "range"]


class Assumption(Result):
    """A value that was assumed."""

    about: About
    """What it is about."""
    field: str
    """The field of the job, or the key of the value."""
    value: Any
    """What was taken."""
    unit: str
    """Its unit, or empty."""
    mark: Text
    """Where it comes from."""
    why: Text
    """Why."""


class AssumedRange(Assumption):
    """A value that was assumed within a range."""

    low: float | None
    """Its least value; null where it has no range."""
    high: float | None
    """Its largest value."""


class AssumedInRooms(AssumedRange):
    """A value that the ranges run over."""

    rooms: tuple[str, ...]
    """The rooms it holds for."""


class Caution(Result):
    """One caution in plain words."""

    id: str
    """Its key."""
    what: Text
    """What to mind."""
    why: Text
    """Why."""
    who: Text
    """Who decides."""
    source: Text
    """The law or guide, if one is named."""
    panes: tuple[str, ...]
    """Its panes, if it is not about the whole job."""


def fill_assumptions(study: Study) -> tuple[AssumedInRooms | AssumedRange | Assumption, ...]:
    """Return every default used: what it is about, value, unit, mark, why."""
    typed = (*study.loaded.defaults, *assumed.left_open(study))
    stated: tuple[tuple[About, Sequence[AssumedHere]], ...]
    stated = (("job", typed), ("study", assumed.fixed(study)))
    assumptions: list[Assumption] = [
        Assumption(about=about, field=entry.field, value=entry.value, unit="", mark=entry.mark, why=entry.why)
        for about, entries in stated
        for entry in entries
    ]
    for table, keys in _used(study):
        assumptions += [
            AssumedRange(
                about="work",
                field=row.key,
                value=row.value,
                low=row.low,
                high=row.high,
                unit=row.unit,
                mark=MARKS[row.mark],
                why=row.why,
            )
            for row in (table[key] for key in keys)
        ]
    rooms: dict[Uncertain, list[str]] = {}
    for year in study.room_years:
        for entry in year.unknown:
            rooms.setdefault(entry, []).append(year.room)
    assumptions += [
        AssumedInRooms(
            about="range",
            rooms=tuple(names),
            field=entry.key,
            value=entry.likely,
            low=entry.low,
            high=entry.high,
            unit=entry.unit,
            mark=english("given by the job") if entry.mark == "J" else MARKS[entry.mark],
            why=entry.why,
        )
        for entry, names in rooms.items()
    ]
    bare = {
        name: glazed.rating.notes
        for (name, film), glazed in study.filmed.items()
        if film is None and glazed.rating
    }
    assumptions += [
        Assumption(
            about="job",
            field=f"glazings.{name}.known",
            value=None,
            unit="",
            mark=english("assumed"),
            why=note,
        )
        for name, notes in bare.items()
        for note in notes
    ]
    for film_id in study.chosen.films:
        added = {
            note
            for (_, name), glazed in study.filmed.items()
            if name == film_id and glazed.rating
            for note in glazed.rating.notes
            if note not in bare[glazed.glazing_id]
        }
        assumptions += [
            Assumption(
                about="job",
                field=f"films.{film_id}.rated",
                value=None,
                unit="",
                mark=english("assumed"),
                why=note,
            )
            for note in sorted(added)
        ]
    return tuple(assumptions)


def _used(study: Study) -> list[tuple[dict[str, Default], list[str]]]:
    """Return the tables of defaults and the keys in each that this job's offer took."""
    offer, job = study.offer, study.job
    if not offer.cuts:
        return []
    keys = []
    if job.fitting.trim_allowance is None and any(cut.trimmed_on_glass for cut in offer.cuts):
        keys.append("trim_first_timer" if job.fitting.fitter == "first_timer" else "trim_trained")
    kit = sorted({key for line in offer.materials for key in line.from_defaults})
    return [
        (sizes.DEFAULTS, keys),
        (materials.DEFAULTS, kit),
        (labour.DEFAULTS, list(offer.labour.used_defaults)),
    ]


def fill_cautions(study: Study) -> tuple[Caution, ...]:
    """Return what to mind, why, and who decides."""
    return tuple(
        Caution(
            id=entry.id,
            what=entry.what,
            why=entry.why,
            who=entry.who,
            source=entry.source,
            panes=tuple(entry.panes),
        )
        for entry in cautions_for(study)
    )
