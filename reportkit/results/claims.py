"""Results of the claim check: what each film's sheet says of itself, and the limits of what film can do."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from reportkit.glass.claims import worst
from reportkit.results.plain import plain
from reportkit.study.claims import limits, on_glass

if TYPE_CHECKING:
    from reportkit.glass import Finding
    from reportkit.study import Study
    from reportkit.study.options import Fitted


def _finding(found: Finding) -> dict[str, str]:
    return {
        "severity": found.severity,
        "about": found.about,
        "arithmetic": found.arithmetic,
        "question": found.question,
    }


def claims(study: Study) -> list[dict[str, Any]]:
    """Return the findings on every film's sheet, gravest first, and what it leaves open on this glass."""
    return [
        {
            "film": one.film,
            "worst": worst(one.findings),
            "findings": [_finding(found) for found in one.findings],
            "shgc_on_glass": [
                {"glazing": entry.glazing, "low": entry.low, "high": entry.high} for entry in one.ranges
            ],
        }
        for one in study.sheets
    ]


def of_glazing(study: Study, fit: Fitted) -> list[dict[str, str]]:
    """Return what a film's sheet says against what the film does on one glazing; empty for bare glass."""
    if fit.film_id is None or fit.rating is None:
        return []
    own = next(one for one in study.sheets if one.film == fit.film_id)
    found = [entry for entry in own.findings if entry.severity != "note"]
    here = on_glass(study.films[fit.film_id], fit.rating)
    return [_finding(entry) for entry in ([here] if here else []) + found]


def claim_limits(study: Study) -> dict[str, Any]:
    """Return the least SHGC a film can have by visible transmittance: flat, neutral, any color."""
    return {name: plain(values) for name, values in limits().items()}
