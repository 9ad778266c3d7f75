"""The circumstances of a job that permissions and cautions follow from, each a test of the study.

A test is a function from the study to yes or no, or to the filmed panes that it is about.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from reportkit.job.model import GlazingSpec, Pane
from reportkit.study.schedule import LEAST_GLASS_C

if TYPE_CHECKING:
    from reportkit.study.study import Study

Found = list[tuple[Pane, GlazingSpec]]


def filmed(study: Study) -> Found:
    """Return the panes that get film, each with its glazing."""
    glazings = {spec.id: spec for spec in study.job.glazings}
    return [
        (pane, glazings[pane.glazing])
        for pane, film in zip(study.job.panes, study.chosen.film_by_pane, strict=True)
        if film
    ]


def where(test: Callable[[Pane, GlazingSpec], bool]) -> Callable[[Study], Found]:
    """Return a function to the filmed panes for which something holds."""
    return lambda study: [(pane, spec) for pane, spec in filmed(study) if test(pane, spec)]


def of_strength(*words: str) -> Callable[[Study], Found]:
    """Return a function to the filmed panes that have a sheet of such a strength."""
    return where(lambda pane, spec: any(lite.strength in words for lite in spec.lites))


def scraped(study: Study) -> Found:
    """Return the filmed panes whose scraped sheet is tempered or heat-strengthened.

    The sheet that takes the film is scraped: the innermost inside, the outermost outside. Old film may be on
    either, since the survey does not say on which side it is.
    """
    films = dict(zip((pane.id for pane in study.job.panes), study.chosen.film_by_pane, strict=True))
    panes = []
    for pane, spec in filmed(study):
        outside = study.films[films[pane.id] or ""].side == "outside"
        ends = spec.lites[:1] if outside else spec.lites[-1:]
        if pane.old_film:
            ends = (spec.lites[0], spec.lites[-1])
        if any(lite.strength in ("tempered", "heat_strengthened") for lite in ends):
            panes.append((pane, spec))
    return panes


def any_film(*classes: str | None) -> Callable[[Study], bool]:
    """Return a test that a film of one of these classes is fitted; None is a class not known."""
    return lambda study: any(study.films[name].film_class in classes for name in study.chosen.films)


def always(study: Study) -> bool:
    """Return whether any film is fitted."""
    return bool(study.chosen.films)


def building_is(**wanted: object) -> Callable[[Study], bool]:
    """Return a test that film is fitted and the building's record has these values."""
    return lambda study: (
        always(study) and all(getattr(study.job.building, name) == value for name, value in wanted.items())
    )


def any_of(panes: Callable[[Study], Found]) -> Callable[[Study], bool]:
    """Return a test that a function finds any pane."""
    return lambda study: bool(panes(study))


def two_people(study: Study) -> Found:
    """Return the panes too large for one person."""
    large = {line.id for line in study.offer.labour.panes if line.people > 1}
    return [(pane, spec) for pane, spec in filmed(study) if pane.id in large]


def seamed(study: Study) -> Found:
    """Return the panes on which film is joined."""
    plan = study.offer.plan
    joined = {placed.piece.id for placed in plan.pieces if placed.piece.parts > 1} if plan else set()
    return [(pane, spec) for pane, spec in filmed(study) if pane.id in joined]


def year_of(study: Study, spec: GlazingSpec) -> int | None:
    """Return the year of the building, else of the glazing."""
    return study.job.building.year_built or spec.year


def older_than(before: int) -> Callable[[Study], Found]:
    """Return a function to the filmed panes with paint or putty from before a year, or of unknown age.

    A building of known age decides for every frame, since frames of metal are painted and puttied too.
    """

    def aged(study: Study) -> Found:
        old = []
        for pane, spec in filmed(study):
            year = year_of(study, spec)
            if year < before if year is not None else pane.frame in ("timber", "putty"):
                old.append((pane, spec))
        return old

    return aged


#: Homes built before this year fall under the United States' renovation rule (40 CFR 745.80 to .92).
LEAD_YEAR = 1978

#: Putty of timber and steel windows may hold asbestos before this year (common practice, no source).
ASBESTOS_YEAR = 1990

#: Outside visible reflectance that some places allow at most (common practice, no source).
OUTSIDE_LIMIT = 0.15

#: Panes whose paint or putty may hold lead.
OLD_PAINT = older_than(LEAD_YEAR)


def old_paint(*, us: bool | None, paid: bool | None) -> Callable[[Study], bool]:
    """Return a test for old paint, by where the building stands and whether the work is paid."""

    def applies(study: Study) -> bool:
        building = study.job.building
        there = None if building.country is None else building.country == "US"
        return bool(OLD_PAINT(study)) and there is us and (us is not True or paid is building.paid_work)

    return applies


def mirrored(study: Study) -> Found:
    """Return the panes that will send back more than the limit that some places set."""
    panes = []
    for pane, spec in filmed(study):
        film = study.chosen.film_by_pane[study.job.panes.index(pane)]
        rating = study.filmed[pane.glazing, film].rating
        if rating is not None and rating.r_visible_out > OUTSIDE_LIMIT:
            panes.append((pane, spec))
    return panes


def cold(study: Study) -> Found:
    """Return the panes whose glass may be too cold when they are to be fitted."""
    plan = study.schedule
    if plan is None:
        return []
    cold = {
        plan.panes[slot.task]
        for slot, glass in zip(plan.slots, plan.glass_c, strict=True)
        if glass is not None and glass < LEAST_GLASS_C
    }
    glazing = {pane.id: spec for pane, spec in filmed(study)}
    return [(pane, glazing[pane.id]) for number, pane in enumerate(study.job.panes) if number in cold]


def aired_unwatched(study: Study) -> bool:
    """Return whether the rooms' years count on windows that stand open by night."""
    bodies = {room.id: room.heat for room in study.job.rooms}
    years = (year for year in study.room_years if year.open_hours is not None)
    return any(body is not None and body.open_by_night for body in (bodies[year.room] for year in years))


def collectors(study: Study) -> Found:
    """Return the panes that gather the sun, filmed or not: film must not go there."""
    glazings = {spec.id: spec for spec in study.job.glazings}
    return [(pane, glazings[pane.glazing]) for pane in study.job.panes if pane.collector]


#: Filmed panes by what they are.
SEALED = where(lambda pane, spec: len(spec.lites) > 1)
SAFETY = of_strength("tempered", "laminated", "wired")
ESCAPE = where(lambda pane, spec: pane.escape)
LADDER = where(lambda pane, spec: pane.access == "step_ladder")
TOWER = where(lambda pane, spec: pane.access == "tower")
OLD_FILM = where(lambda pane, spec: pane.old_film)
