"""Cautions that follow from a job: what to mind, why, and who decides.

The tool flags, it never certifies. The order of authority is the film maker's glass-compatibility
statement, then the glass or window maker, then a licensed glazier or engineer, then the building
official. Facts of the trade here are common practice, no source, unless a source is named.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import TYPE_CHECKING

from reportkit.base.translatable import Quantity, english, translatable
from reportkit.study import circumstances as on
from reportkit.study.advice import METAL
from reportkit.study.caution import AT_HOME, Advice, Rule
from reportkit.study.circumstances import Found
from reportkit.study.old_paint import OLD_PAINT

if TYPE_CHECKING:
    from reportkit.study.study import Study


_REFLECTIVE = ("metallised_reflective", "dual_reflective", "exterior")


def _about(advice: Advice, panes: Callable[[Study], Found]) -> Rule:
    return Rule(advice, on.any_of(panes), panes)


def _permission(what: str, why: str, who: str, tenure: str | None) -> Rule:
    return Rule(Advice("permission", what, why, who), on.building_is(tenure=tenure))


RULES: tuple[Rule, ...] = (
    Rule(
        Advice(
            "breakage",
            english("Glass can crack from heat once film is on it."),
            english(
                "Film absorbs sun; the glass gets hotter in the middle than at its edge. Edge damage, shadows, blinds "
                "and heaters near the glass make it worse. This report does not certify any pane."
            ),
            english(
                "the film maker's glass-compatibility chart, then the glass or window maker, then a licensed glazier"
            ),
        ),
        on.always,
    ),
    _about(
        Advice(
            "collector",
            english("No film where the glass gathers the sun."),
            english(
                "A solar collector, or a room built to be heated by the winter sun, needs the heat that film keeps out."
            ),
            english("whoever designed it"),
        ),
        on.collectors,
    ),
    Rule(
        Advice(
            "warranty",
            english("Ask in writing, before fitting, whether the window and seal warranties allow film."),
            english("Makers may end a warranty when film is put on."),
            english("the window maker, and the film maker for its own cover"),
        ),
        on.always,
    ),
    _permission(
        english("Check that you may change the look of the windows."),
        english(
            "A landlord, an owners' association, heritage or planning rules may limit film, and some places "
            "limit outside reflectance. Who owns the windows was not told."
        ),
        english("the owner, and the local authority"),
        None,
    ),
    _permission(
        english("Have the landlord's consent in writing before anything is fitted."),
        english(
            "The windows are the landlord's: film changes them, may end a warranty and may have to come off "
            "when the tenancy ends."
        ),
        english("the landlord"),
        "tenant",
    ),
    _permission(
        english("Have the owners' association's consent in writing before anything is fitted."),
        english(
            "Windows and the look of a shared building are commonly decided together, and film shows from outside."
        ),
        english("the owners' association"),
        "owners_association",
    ),
    _permission(
        english("Check that planning rules leave the look of the windows to you."),
        english("Some places limit outside reflectance or changes to a street's look."),
        english("the local authority"),
        "owner",
    ),
    Rule(
        Advice(
            "heritage",
            english("A protected building: written consent before film touches the glass."),
            english(
                "Heritage law may cover the glass itself, its frames and its look from outside. Old glass is also thin, "
                "uneven and easily broken, and film may not come off it again."
            ),
            english("the heritage authority"),
        ),
        on.building_is(listed=True),
    ),
    Rule(
        Advice(
            "insurer",
            english("Tell whoever insures the glass."),
            english("Cover for the glass may depend on what is on it and on who put it there."),
            english("the insurer"),
        ),
        on.always,
    ),
    Rule(
        Advice(
            "licence",
            english("Ask whether paid work on buildings needs a licence or registration here."),
            english("In some states and countries it does, from some price upwards, and then insurance too."),
            english("the state's or country's licensing office"),
        ),
        on.building_is(paid_work=True),
    ),
    _about(
        Advice(
            "sealed_unit",
            english("Sealed units run hotter with film and their seals age."),
            english("Inside film keeps absorbed heat within the unit."),
            english("the unit's maker"),
        ),
        on.SEALED,
    ),
    _about(
        Advice(
            "tempered_blade",
            english("No metal blade on tempered glass."),
            english(
                "Debris on its surface drags and scratches, and a missing corner mark does not mean that the glass "
                "is not tempered. Use plastic or a pad, with written consent."
            ),
            english("the glass maker"),
        ),
        on.scraped,
    ),
    _about(
        Advice(
            "wired",
            english("Wired glass with an absorbing film inside cracks easily."),
            english("The wire heats and grows at another rate than the glass."),
            english("do not fit; the film maker decides"),
        ),
        on.of_strength("wired"),
    ),
    _about(
        Advice(
            "safety_glazing",
            english("Film does not make this glass safety glass, and must not cover its mark."),
            english(
                "Only a tested and listed combination of film and glass counts (16 CFR 1201 in the United States, "
                "EN 12600 in Europe); local law decides."
            ),
            english("the building official"),
            english("16 CFR 1201; EN 12600"),
        ),
        on.SAFETY,
    ),
    _about(
        Advice(
            "escape",
            english("A window to escape through must still open, and break where it is meant to be broken."),
            english("Film holds broken glass together and may seal a sash to its frame."),
            english("the fire officer"),
        ),
        on.ESCAPE,
    ),
    Rule(
        Advice(
            "open_by_night",
            english("Leave windows open by night only where it is safe."),
            english(
                "The rooms' hours count on it. Think of intruders, of children and pets who may fall, of rain, smoke, "
                "noise and insects. A restrictor or a grille makes the opening smaller, and may block a way out."
            ),
            english("whoever lives there; the insurer, and the fire officer for a way out"),
        ),
        on.aired_unwatched,
    ),
    *OLD_PAINT,
    _about(
        Advice(
            "asbestos",
            english("Old putty may hold asbestos. Leave it alone until it is tested."),
            english(
                "Putty and sealants of old timber and steel windows sometimes hold it; scraping sets it free."
            ),
            english("a licensed asbestos surveyor"),
        ),
        on.older_than(on.ASBESTOS_YEAR),
    ),
    _about(
        Advice(
            "ladder",
            english("Ladders are for short light work only."),
            english(
                "One in four, three points of contact. Two hands on a sheet of film is not ladder work: use a platform."
            ),
            english("whoever is responsible for safety on site"),
            english("HSE and Ladder Association guide LA455"),
        ),
        on.LADDER,
    ),
    _about(
        Advice(
            "tower",
            english("A tower is put up and checked by someone trained for it."),
            english("Panes at this height are no ladder work. Keep people from walking below."),
            english("whoever is responsible for safety on site"),
        ),
        on.TOWER,
    ),
    _about(
        Advice(
            "two_people",
            english("Two people for the large panes."),
            english("A wet sheet of this size creases when one person carries it."),
            english("the fitter"),
        ),
        on.two_people,
    ),
    _about(
        Advice(
            "old_film",
            english("Old film comes off first, and what is under it is not known."),
            english(
                "Scratches, cracks and chipped edges show only then. Agree beforehand who pays for glass that was "
                "already damaged."
            ),
            english("the client and the fitter, in writing"),
        ),
        on.OLD_FILM,
    ),
    _about(
        Advice(
            "cold_glass",
            english("The glass may be too cold on the day."),
            translatable(
                "By this place's usual weather it comes near or under {limit:.0f} then. Cold film does not wet "
                "out, and its water may freeze. Measure the glass; agree on another day if it is colder.",
                limit=Quantity(5, "°C"),
            ),
            english("the fitter, by the film maker's instructions"),
        ),
        on.cold,
    ),
    _about(
        Advice(
            "seam",
            english("These panes are wider than the film: a fine upright line will show."),
            english(
                "Two widths of film meet edge to edge on the glass. The line is seen against the light, and dirt "
                "gathers along it; the pieces come from one roll, so that their shade is the same."
            ),
            english("the client, who may choose the place of the line"),
        ),
        on.seamed,
    ),
    Rule(
        Advice(
            "wet_floor",
            english("Wet floors and sockets near the windows."),
            english("Slip solution runs off the glass: cover the floor and cover or isolate sockets below."),
            english("the fitter"),
        ),
        on.always,
    ),
    Rule(
        Advice(
            "mirror",
            english("Mirror-like film throws light at neighbours and birds, and turns at night."),
            english(
                "By day people outside see a mirror, and birds fly into it; with lights on inside at night the view "
                "reverses."
            ),
            english("the neighbours, and the local authority where it limits reflectance"),
        ),
        on.any_film(*_REFLECTIVE),
    ),
    _about(
        Advice(
            "outside_reflectance",
            english("These panes will mirror more than 15 % of the light outwards."),
            english(
                "Some places allow no more than that, or another limit; the table of the glass gives each film's value."
            ),
            english("the local authority"),
        ),
        on.mirrored,
    ),
    Rule(
        Advice(
            "vinyl_siding",
            english("Mirrored sun can soften vinyl siding across the way."),
            translatable(
                "It softens from about {limit:.0f}, and sun thrown back by glass, more so by a mirror-like film or "
                "a sealed unit bent by the weather, can heat it that far.",
                limit=Quantity(71, "°C"),
            ),
            english("the neighbour, and the siding's maker"),
        ),
        on.building_is(vinyl_siding=True),
    ),
    Rule(
        Advice(
            "plants",
            english("Plants behind the glass get less light."),
            english(
                "They live on what passes: the visible transmittance of the film on this glass, by day and season."
            ),
            english("the client"),
        ),
        on.building_is(plants=True),
    ),
    Rule(
        Advice(
            "alarm",
            english("Alarm sensors on the glass: ask before anything touches them."),
            english(
                "Break sensors, contacts and foil may be set off, covered or put out of order, and film changes how "
                "the glass sounds when it breaks."
            ),
            english("the alarm's installer, and the insurer"),
        ),
        on.building_is(alarm_sensors=True),
    ),
    Rule(
        Advice(
            "metal",
            english("Film with metal weakens radio, phone and alarm signals behind the glass."),
            english(
                "A thin metal layer reflects radio waves as well as heat; rain and light sensors behind it fail too."
            ),
            english("the client, after a trial piece"),
        ),
        on.any_film(*METAL, None),
    ),
    Rule(
        Advice(
            "radio",
            english("Radio or telephone must get through this glass: try a piece first."),
            english(
                "A film without a metal layer hardly weakens it; one with metal can cut it off, all the more on glass "
                "with a factory coating."
            ),
            english("the client, after a trial piece"),
        ),
        on.building_is(radio=True),
    ),
    Rule(
        Advice(
            "condensation",
            english("More condensation on the inner face in winter."),
            english("A low-emissivity film keeps the room's warmth off the glass, so its face is colder."),
            english("the client"),
        ),
        on.any_film("low_emissivity"),
    ),
)


def cautions_for(study: Study) -> tuple[Advice, ...]:
    """Return the cautions that a job and the films chosen for it call for, with the panes they are about."""
    called_for = []
    for rule in RULES:
        if rule.applies(study):
            panes = tuple(pane.id for pane, _ in rule.panes(study)) if rule.panes else ()
            who = AT_HOME.get(rule.advice.who, rule.advice.who) if study.job.own_home else rule.advice.who
            called_for.append(replace(rule.advice, who=who, panes=panes))
    return tuple(called_for)
