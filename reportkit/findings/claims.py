"""Findings of the claim check: what each film's sheet says of itself, and the limits of what film can do."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reportkit.findings.result import Result, Share, Text
from reportkit.physics.glass.claims import Severity, worst
from reportkit.study.claims import limits, on_glass

if TYPE_CHECKING:
    from reportkit.physics.glass import Finding
    from reportkit.study import Study
    from reportkit.study.filmed import FilmedGlass


class Doubt(Result):
    """One thing the values of a film's sheet say about each other."""

    severity: Severity
    """How grave it is, rising."""
    about: Text
    """The quantity."""
    arithmetic: Text
    """The numbers that lead to it."""
    question: Text
    """What to ask the seller; empty for a note."""


class GainRange(Result):
    """What a film's sheet leaves open on one glazing."""

    glazing: str
    """The glazing."""
    low: Share
    """Least SHGC that agrees with the sheet [1]."""
    high: Share
    """Largest SHGC that agrees with the sheet [1]."""


class SheetCheck(Result):
    """What can be said of one film's sheet."""

    film: str
    """The film."""
    worst: Severity
    """The gravest severity found; ``note`` where nothing was."""
    findings: tuple[Doubt, ...]
    """Gravest first."""
    shgc_on_glass: tuple[GainRange, ...]
    """What it leaves open on each glazing."""


class ClaimLimits(Result):
    """The least SHGC a film can have, each by the visible transmittances of the first."""

    visible_transmittance: tuple[Share, ...]
    """Where the limits are given [1]."""
    flat: tuple[Share, ...]
    """For a film that treats all wavelengths alike [1]."""
    neutral: tuple[Share, ...]
    """For one that keeps colors and takes the rest of the sun [1]."""
    any: tuple[Share, ...]
    """For one of any color [1]."""


def _doubt(finding: Finding) -> Doubt:
    return Doubt(
        severity=finding.severity,
        about=finding.about,
        arithmetic=finding.arithmetic,
        question=finding.question,
    )


def fill_claims(study: Study) -> tuple[SheetCheck, ...]:
    """Return the findings on every film's sheet, gravest first, and what it leaves open on this glass."""
    return tuple(
        SheetCheck(
            film=one.film,
            worst=worst(one.findings),
            findings=tuple(_doubt(finding) for finding in one.findings),
            shgc_on_glass=tuple(
                GainRange(glazing=entry.glazing, low=entry.low, high=entry.high) for entry in one.ranges
            ),
        )
        for one in study.sheets
    )


def of_glazing(study: Study, glazed: FilmedGlass) -> tuple[Doubt, ...]:
    """Return what a film's sheet says against what the film does on one glazing; empty for bare glass."""
    if glazed.film_id is None or glazed.rating is None:
        return ()
    own = next(one for one in study.sheets if one.film == glazed.film_id)
    doubts = [entry for entry in own.findings if entry.severity != "note"]
    here = on_glass(study.films[glazed.film_id], glazed.rating)
    return tuple(_doubt(entry) for entry in ([here] if here else []) + doubts)


def fill_claim_limits(study: Study) -> ClaimLimits:
    """Return the least SHGC a film can have by visible transmittance: flat, neutral, any color."""
    return ClaimLimits(**{name: tuple(values) for name, values in limits().items()})
