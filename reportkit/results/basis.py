"""Results about the reasoning itself: what was assumed, what to mind."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from reportkit.fitting import labour, materials
from reportkit.fitting import pieces as sizes
from reportkit.fitting.defaults import MARKS, Default
from reportkit.results.plain import plain
from reportkit.study import assumed
from reportkit.study.cautions import cautions_for

if TYPE_CHECKING:
    from reportkit.room.ranges import Uncertain
    from reportkit.study import Study


def assumptions(study: Study) -> list[dict[str, Any]]:
    """Return every default used: what it is about, value, unit, mark, why.

    ``about`` is ``job`` for what the job left open, ``study`` for what no job sets, ``work`` for rates of
    cutting and fitting, and ``range`` for what the ranges run over, with the rooms it holds for.
    """
    typed = (*study.loaded.defaults, *assumed.left_open(study))
    found = [
        {
            "about": about,
            "field": entry.field,
            "value": plain(entry.value),
            "unit": "",
            "mark": entry.mark,
            "why": entry.why,
        }
        for about, entries in (("job", typed), ("study", assumed.fixed(study)))
        for entry in entries
    ]
    for table, keys in _used(study):
        for key in keys:
            row = table[key]
            found.append(
                {
                    "about": "work",
                    "field": row.key,
                    "value": row.value,
                    "low": row.low,
                    "high": row.high,
                    "unit": row.unit,
                    "mark": MARKS[row.mark],
                    "why": row.why,
                }
            )
    rooms: dict[Uncertain, list[str]] = {}
    for year in study.room_years:
        for entry in year.unknown:
            rooms.setdefault(entry, []).append(year.room)
    found.extend(
        {
            "about": "range",
            "rooms": names,
            "field": entry.key,
            "value": entry.likely,
            "low": entry.low,
            "high": entry.high,
            "unit": entry.unit,
            "mark": "given by the job" if entry.mark == "J" else MARKS[entry.mark],
            "why": entry.why,
        }
        for entry, names in rooms.items()
    )
    for film_id in study.chosen.films:
        notes = {
            note
            for (_, name), fit in study.fittings.items()
            if name == film_id and fit.rating
            for note in fit.rating.notes
        }
        found.extend(
            {
                "about": "job",
                "field": f"films.{film_id}.rated",
                "value": None,
                "unit": "",
                "mark": "assumed",
                "why": note,
            }
            for note in sorted(notes)
        )
    return found


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


def cautions(study: Study) -> list[dict[str, Any]]:
    """Return what to mind, why, and who decides."""
    return [
        {
            "id": entry.id,
            "what": entry.what,
            "why": entry.why,
            "who": entry.who,
            "source": entry.source,
            "panes": list(entry.panes),
        }
        for entry in cautions_for(study)
    ]
