"""Cautions that follow from a job: what to mind, why, and who decides.

The tool flags, it never certifies. The order of authority is the film maker's glass-compatibility
statement, then the glass or window maker, then a licensed glazier or engineer, then the building
official. Facts of the trade here are common practice, no source, unless a source is named.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from reportkit.base.translatable import Quantity, translatable
from reportkit.study import circumstances as on
from reportkit.study.circumstances import Found

if TYPE_CHECKING:
    from reportkit.study.study import Study


@dataclass(frozen=True)
class Advice:
    """One caution in plain words, its law or guide if one is named, its panes if not about the whole job."""

    id: str
    what: str
    why: str
    who: str
    source: str = ""
    panes: tuple[str, ...] = ()


@dataclass(frozen=True)
class _Rule:
    """A caution, the test that says whether the job calls for it, and the panes it is about."""

    advice: Advice
    applies: Callable[[Study], bool]
    panes: Callable[[Study], Found] | None = None


_REFLECTIVE = ("metallised_reflective", "dual_reflective", "exterior")
_METAL = ("metallised_reflective", "dual_reflective", "sputtered", "low_emissivity")
_RENOVATION = (
    "In the United States, paid work that disturbs more than 6 square feet a room inside, or 20 outside, "
    "in homes and places for children built before 1978 falls under the renovation rule. "
)

_TEST = "Old paint and putty may hold lead. Test before scraping."


def _about(advice: Advice, panes: Callable[[Study], Found]) -> _Rule:
    return _Rule(advice, on.any_of(panes), panes)


def _paint(what: str, why: str, who: str, *, us: bool | None, paid: bool | None) -> _Rule:
    source = "" if us is False else "40 CFR 745"
    return _Rule(Advice("lead_paint", what, why, who, source), on.old_paint(us=us, paid=paid), on.OLD_PAINT)


def _permission(what: str, why: str, who: str, tenure: str | None) -> _Rule:
    return _Rule(Advice("permission", what, why, who), on.building_is(tenure=tenure))


RULES: tuple[_Rule, ...] = (
    _Rule(
        Advice(
            "breakage",
            "Glass can crack from heat once film is on it.",
            "Film absorbs sun; the glass gets hotter in the middle than at its edge. Edge damage, shadows, blinds "
            "and heaters near the glass make it worse. This report does not certify any pane.",
            "the film maker's glass-compatibility chart, then the glass or window maker, then a licensed glazier",
        ),
        on.always,
    ),
    _about(
        Advice(
            "collector",
            "No film where the glass gathers the sun.",
            "A solar collector, or a room built to be heated by the winter sun, needs the heat that film keeps out.",
            "whoever designed it",
        ),
        on.collectors,
    ),
    _Rule(
        Advice(
            "warranty",
            "Ask in writing, before fitting, whether the window and seal warranties allow film.",
            "Makers may end a warranty when film is put on.",
            "the window maker, and the film maker for its own cover",
        ),
        on.always,
    ),
    _permission(
        "Check that you may change the look of the windows.",
        "A landlord, an owners' association, heritage or planning rules may limit film, and some places "
        "limit outside reflectance. Who owns the windows was not told.",
        "the owner, and the local authority",
        None,
    ),
    _permission(
        "Have the landlord's consent in writing before anything is fitted.",
        "The windows are the landlord's: film changes them, may end a warranty and may have to come off "
        "when the tenancy ends.",
        "the landlord",
        "tenant",
    ),
    _permission(
        "Have the owners' association's consent in writing before anything is fitted.",
        "Windows and the look of a shared building are commonly decided together, and film shows from outside.",
        "the owners' association",
        "owners_association",
    ),
    _permission(
        "Check that planning rules leave the look of the windows to you.",
        "Some places limit outside reflectance or changes to a street's look.",
        "the local authority",
        "owner",
    ),
    _Rule(
        Advice(
            "heritage",
            "A protected building: written consent before film touches the glass.",
            "Heritage law may cover the glass itself, its frames and its look from outside. Old glass is also thin, "
            "uneven and easily broken, and film may not come off it again.",
            "the heritage authority",
        ),
        on.building_is(listed=True),
    ),
    _Rule(
        Advice(
            "insurer",
            "Tell whoever insures the glass.",
            "Cover for the glass may depend on what is on it and on who put it there.",
            "the insurer",
        ),
        on.always,
    ),
    _Rule(
        Advice(
            "licence",
            "Ask whether paid work on buildings needs a licence or registration here.",
            "In some states and countries it does, from some price upwards, and then insurance too.",
            "the state's or country's licensing office",
        ),
        on.building_is(paid_work=True),
    ),
    _about(
        Advice(
            "sealed_unit",
            "Sealed units run hotter with film and their seals age.",
            "Inside film keeps absorbed heat within the unit.",
            "the unit's maker",
        ),
        on.SEALED,
    ),
    _about(
        Advice(
            "tempered_blade",
            "No metal blade on tempered glass.",
            "Debris on its surface drags and scratches, and a missing corner mark does not mean that the glass "
            "is not tempered. Use plastic or a pad, with written consent.",
            "the glass maker",
        ),
        on.scraped,
    ),
    _about(
        Advice(
            "wired",
            "Wired glass with an absorbing film inside cracks easily.",
            "The wire heats and grows at another rate than the glass.",
            "do not fit; the film maker decides",
        ),
        on.of_strength("wired"),
    ),
    _about(
        Advice(
            "safety_glazing",
            "Film does not make this glass safety glass, and must not cover its mark.",
            "Only a tested and listed combination of film and glass counts (16 CFR 1201 in the United States, "
            "EN 12600 in Europe); local law decides.",
            "the building official",
            "16 CFR 1201; EN 12600",
        ),
        on.SAFETY,
    ),
    _about(
        Advice(
            "escape",
            "A window to escape through must still open, and break where it is meant to be broken.",
            "Film holds broken glass together and may seal a sash to its frame.",
            "the fire officer",
        ),
        on.ESCAPE,
    ),
    _paint(
        "Old paint and putty may hold lead. Only a certified renovator may disturb it in paid work.",
        _RENOVATION + "This building may be one. Test before scraping, or have it tested.",
        "a certified renovator, and the state's lead programme where it has one",
        us=True,
        paid=True,
    ),
    _paint(
        _TEST,
        _RENOVATION + "Own work in one's own home does not, but its dust is as harmful.",
        "a certified inspector or a test laboratory",
        us=True,
        paid=False,
    ),
    _paint(
        _TEST,
        _RENOVATION + "Whether this work is paid was not told.",
        "a certified renovator",
        us=True,
        paid=None,
    ),
    _paint(
        _TEST,
        "Paint sold until the 1970s and later held lead in many countries; local law says who may disturb it.",
        "the local authority for health and safety",
        us=False,
        paid=None,
    ),
    _paint(
        _TEST,
        _RENOVATION + "Elsewhere local law decides. Where the building stands was not told.",
        "a certified renovator, or the local authority for health and safety",
        us=None,
        paid=None,
    ),
    _about(
        Advice(
            "asbestos",
            "Old putty may hold asbestos. Leave it alone until it is tested.",
            "Putty and sealants of old timber and steel windows sometimes hold it; scraping sets it free.",
            "a licensed asbestos surveyor",
        ),
        on.older_than(on.ASBESTOS_YEAR),
    ),
    _about(
        Advice(
            "ladder",
            "Ladders are for short light work only.",
            "One in four, three points of contact. Two hands on a sheet of film is not ladder work: use a platform.",
            "whoever is responsible for safety on site",
            "HSE and Ladder Association guide LA455",
        ),
        on.LADDER,
    ),
    _about(
        Advice(
            "tower",
            "A tower is put up and checked by someone trained for it.",
            "Panes at this height are no ladder work. Keep people from walking below.",
            "whoever is responsible for safety on site",
        ),
        on.TOWER,
    ),
    _about(
        Advice(
            "two_people",
            "Two people for the large panes.",
            "A wet sheet of this size creases when one person carries it.",
            "the fitter",
        ),
        on.two_people,
    ),
    _about(
        Advice(
            "old_film",
            "Old film comes off first, and what is under it is not known.",
            "Scratches, cracks and chipped edges show only then. Agree beforehand who pays for glass that was "
            "already damaged.",
            "the client and the fitter, in writing",
        ),
        on.OLD_FILM,
    ),
    _about(
        Advice(
            "cold_glass",
            "The glass may be too cold on the day.",
            translatable(
                "By this place's usual weather it comes near or under {limit:.0f} then. Cold film does not wet "
                "out, and its water may freeze. Measure the glass; agree on another day if it is colder.",
                limit=Quantity(5, "°C"),
            ),
            "the fitter, by the film maker's instructions",
        ),
        on.cold,
    ),
    _about(
        Advice(
            "seam",
            "These panes are wider than the film: a fine upright line will show.",
            "Two widths of film meet edge to edge on the glass. The line is seen against the light, and dirt "
            "gathers along it; the pieces come from one roll, so that their shade is the same.",
            "the client, who may choose the place of the line",
        ),
        on.seamed,
    ),
    _Rule(
        Advice(
            "wet_floor",
            "Wet floors and sockets near the windows.",
            "Slip solution runs off the glass: cover the floor and cover or isolate sockets below.",
            "the fitter",
        ),
        on.always,
    ),
    _Rule(
        Advice(
            "mirror",
            "Mirror-like film throws light at neighbours and birds, and turns at night.",
            "By day people outside see a mirror, and birds fly into it; with lights on inside at night the view "
            "reverses.",
            "the neighbours, and the local authority where it limits reflectance",
        ),
        on.any_film(*_REFLECTIVE),
    ),
    _about(
        Advice(
            "outside_reflectance",
            "These panes will mirror more than 15 % of the light outwards.",
            "Some places allow no more than that, or another limit; the table of the glass gives each film's value.",
            "the local authority",
        ),
        on.mirrored,
    ),
    _Rule(
        Advice(
            "vinyl_siding",
            "Mirrored sun can soften vinyl siding across the way.",
            translatable(
                "It softens from about {limit:.0f}, and sun thrown back by glass, more so by a mirror-like film or "
                "a sealed unit bent by the weather, can heat it that far.",
                limit=Quantity(71, "°C"),
            ),
            "the neighbour, and the siding's maker",
        ),
        on.building_is(vinyl_siding=True),
    ),
    _Rule(
        Advice(
            "plants",
            "Plants behind the glass get less light.",
            "They live on what passes: the visible transmittance of the film on this glass, by day and season.",
            "the client",
        ),
        on.building_is(plants=True),
    ),
    _Rule(
        Advice(
            "alarm",
            "Alarm sensors on the glass: ask before anything touches them.",
            "Break sensors, contacts and foil may be set off, covered or put out of order, and film changes how "
            "the glass sounds when it breaks.",
            "the alarm's installer, and the insurer",
        ),
        on.building_is(alarm_sensors=True),
    ),
    _Rule(
        Advice(
            "metal",
            "Film with metal weakens radio, phone and alarm signals behind the glass.",
            "A thin metal layer reflects radio waves as well as heat; rain and light sensors behind it fail too.",
            "the client, after a trial piece",
        ),
        on.any_film(*_METAL),
    ),
    _Rule(
        Advice(
            "radio",
            "Radio or telephone must get through this glass: try a piece first.",
            "A film without a metal layer hardly weakens it; one with metal can cut it off, all the more on glass "
            "with a factory coating.",
            "the client, after a trial piece",
        ),
        on.building_is(radio=True),
    ),
    _Rule(
        Advice(
            "condensation",
            "More condensation on the inner face in winter.",
            "A low-emissivity film keeps the room's warmth off the glass, so its face is colder.",
            "the client",
        ),
        on.any_film("low_emissivity"),
    ),
)


def cautions_for(study: Study) -> tuple[Advice, ...]:
    """Return the cautions that a job and the films chosen for it call for, with the panes they are about."""
    found = []
    for rule in RULES:
        if rule.applies(study):
            panes = tuple(pane.id for pane, _ in rule.panes(study)) if rule.panes else ()
            found.append(replace(rule.advice, panes=panes))
    return tuple(found)
