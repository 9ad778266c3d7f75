"""Cautions that follow from a job: what to mind, why, and who decides.

The tool flags, it never certifies. The order of authority is the film maker's glass-compatibility
statement, then the glass or window maker, then a licensed glazier or engineer, then the building
official. Facts of the trade here are common practice, no source, unless a source is named.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from reportkit.job.models import GlazingSpec, Pane
    from reportkit.study.study import Study


@dataclass(frozen=True)
class Advice:
    """One caution, in plain words."""

    id: str
    what: str
    why: str
    who: str


@dataclass(frozen=True)
class _Rule:
    """A caution and the test that says whether the job calls for it."""

    advice: Advice
    applies: Callable[[Study], bool]


def _filmed(study: Study) -> list[tuple[Pane, GlazingSpec]]:
    glazings = {spec.id: spec for spec in study.job.glazings}
    return [
        (pane, glazings[pane.glazing])
        for pane, film in zip(study.job.panes, study.chosen.film_by_pane, strict=True)
        if film
    ]


def _any_strength(*words: str) -> Callable[[Study], bool]:
    return lambda study: any(lite.strength in words for _, spec in _filmed(study) for lite in spec.lites)


def _any_film(*classes: str) -> Callable[[Study], bool]:
    return lambda study: any(study.films[name].film_class in classes for name in study.chosen.films)


def _always(study: Study) -> bool:
    return bool(study.chosen.films)


def _sealed(study: Study) -> bool:
    return any(len(spec.lites) > 1 for _, spec in _filmed(study))


def _at_height(study: Study) -> bool:
    return any(pane.access != "floor" for pane, _ in _filmed(study))


def _two_people(study: Study) -> bool:
    return any(line.people > 1 for line in study.offer.labour.panes)


def _old(study: Study) -> bool:
    """Whether any filmed glazing is from before 1978 or of unknown age in a timber or putty frame."""
    return any(
        (spec.year is not None and spec.year < 1978)
        or (spec.year is None and pane.frame in ("timber", "putty"))
        for pane, spec in _filmed(study)
    )


RULES: tuple[_Rule, ...] = (
    _Rule(
        Advice(
            "breakage",
            "Glass can crack from heat once film is on it.",
            "Film absorbs sun; the glass gets hotter in the middle than at its edge. Edge damage, shadows, blinds "
            "and heaters near the glass make it worse. This report does not certify any pane.",
            "the film maker's glass-compatibility chart, then the glass or window maker, then a licensed glazier",
        ),
        _always,
    ),
    _Rule(
        Advice(
            "warranty",
            "Ask in writing, before fitting, whether the window and seal warranties allow film.",
            "Makers may end a warranty when film is put on.",
            "the window maker, and the film maker for its own cover",
        ),
        _always,
    ),
    _Rule(
        Advice(
            "permission",
            "Check that you may change the look of the windows.",
            "A landlord, an owners' association, heritage or planning rules may limit film, and some places "
            "limit outside reflectance.",
            "the owner, and the local authority",
        ),
        _always,
    ),
    _Rule(
        Advice(
            "sealed_unit",
            "Sealed units run hotter with film and their seals age.",
            "Inside film keeps absorbed heat within the unit.",
            "the unit's maker",
        ),
        _sealed,
    ),
    _Rule(
        Advice(
            "tempered_blade",
            "No metal blade on tempered glass.",
            "Debris on its surface drags and scratches, and a missing corner mark does not mean that the glass "
            "is not tempered. Use plastic or a pad, with written consent.",
            "the glass maker",
        ),
        _any_strength("tempered", "heat_strengthened"),
    ),
    _Rule(
        Advice(
            "wired",
            "Wired glass with an absorbing film inside cracks easily.",
            "The wire heats and grows at another rate than the glass.",
            "do not fit; the film maker decides",
        ),
        _any_strength("wired"),
    ),
    _Rule(
        Advice(
            "safety_glazing",
            "Film does not make this glass safety glass, and must not cover its mark.",
            "Only a tested and listed combination of film and glass counts (16 CFR 1201 in the United States, "
            "EN 12600 in Europe); local law decides.",
            "the building official",
        ),
        _any_strength("tempered", "laminated", "wired"),
    ),
    _Rule(
        Advice(
            "lead_paint",
            "Old paint and putty may hold lead, old putty asbestos. Test before scraping.",
            "In the United States, paid work that disturbs more than 6 square feet a room inside, or 20 outside, "
            "in homes built before 1978 falls under the renovation rule (40 CFR 745). Elsewhere local law decides.",
            "a certified renovator, or a licensed surveyor for asbestos",
        ),
        _old,
    ),
    _Rule(
        Advice(
            "ladder",
            "Ladders are for short light work only.",
            "One in four, three points of contact (HSE and Ladder Association guide LA455). Two hands on a sheet of "
            "film is not ladder work: use a platform.",
            "whoever is responsible for safety on site",
        ),
        _at_height,
    ),
    _Rule(
        Advice(
            "two_people",
            "Two people for the large panes.",
            "A wet sheet of this size creases when one person carries it.",
            "the fitter",
        ),
        _two_people,
    ),
    _Rule(
        Advice(
            "wet_floor",
            "Wet floors and sockets near the windows.",
            "Slip solution runs off the glass: cover the floor and cover or isolate sockets below.",
            "the fitter",
        ),
        _always,
    ),
    _Rule(
        Advice(
            "mirror",
            "Mirror-like film throws light at neighbours and birds, and turns at night.",
            "By day people outside see a mirror; with lights on inside at night the view reverses. Reflected sun can "
            "soften vinyl siding (from about 71 °C).",
            "the neighbours, and the local authority where it limits reflectance",
        ),
        _any_film("metallised_reflective", "dual_reflective"),
    ),
    _Rule(
        Advice(
            "metal",
            "Film with metal weakens radio, phone and alarm signals behind the glass.",
            "A thin metal layer reflects radio waves as well as heat.",
            "the client, after a trial piece",
        ),
        _any_film("metallised_reflective", "dual_reflective", "sputtered", "low_emissivity"),
    ),
    _Rule(
        Advice(
            "condensation",
            "More condensation on the inner face in winter.",
            "A low-emissivity film keeps the room's warmth off the glass, so its face is colder.",
            "the client",
        ),
        _any_film("low_emissivity"),
    ),
)


def cautions_for(study: Study) -> tuple[Advice, ...]:
    """Return the cautions that a job and the films chosen for it call for."""
    return tuple(rule.advice for rule in RULES if rule.applies(study))
