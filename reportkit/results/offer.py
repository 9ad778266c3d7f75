"""Results of the offer: cutting, materials, labour and price of what is chosen."""

from __future__ import annotations

from itertools import accumulate
from typing import TYPE_CHECKING, Any

from reportkit.fitting.labour import DEFAULTS
from reportkit.fitting.seams import part_widths
from reportkit.results.plain import plain

if TYPE_CHECKING:
    from reportkit.fitting.pieces import Cut
    from reportkit.study import Study

#: Keys of the minutes' defaults that multiply a pane's time.
SLOWER = ("timber", "arch", "outside", "step_ladder", "tower", "safety_film")


def pieces(study: Study) -> list[dict[str, Any]]:
    """Return the size to cut and the finished size for every pane that gets film.

    Where it takes a seam, ``parts_mm`` are the widths of its parts and ``seams_mm`` the places of the seams
    on the glass, both from the left as seen from the side that the film goes on.
    """
    return [
        {
            "pane": cut.opening.id,
            "room": cut.opening.room,
            "quantity": cut.opening.quantity,
            "width_mm": float(cut.width_mm),
            "height_mm": float(cut.height_mm),
            "finished_width_mm": float(cut.finished_width_mm),
            "finished_height_mm": float(cut.finished_height_mm),
            "edge_gap_mm": float(cut.edge_gap_mm),
            "trimmed_on_glass": cut.trimmed_on_glass,
            "reduced": cut.reduced,
            "widest_mm": float(cut.opening.widest_mm),
            "tallest_mm": float(cut.opening.tallest_mm),
            **_seams(study, cut),
        }
        for cut in study.offer.cuts
    ]


def _seams(study: Study, cut: Cut) -> dict[str, list[float]]:
    """Return the widths of a pane's parts and the places of its seams; none where its film is whole."""
    plan = study.offer.plan
    assert plan is not None  # what is cut is planned
    parts = part_widths(plan.pieces).get(cut.opening.id, [])
    edges = accumulate(parts[:-1])
    return {
        "parts_mm": [float(width) for width in parts],
        "seams_mm": [float(edge - cut.margin_mm) for edge in edges],
    }


def cutting(study: Study) -> dict[str, Any] | None:
    """Return the cut plan, and what else one could buy; null where nothing is cut."""
    plan = study.offer.plan
    if plan is None:
        return None
    others = [
        {
            "kind": entry.kind,
            "price": plain(entry.price),
            "extra": plain(entry.extra),
            "rolls": [
                {
                    "film": cut.roll.film,
                    "width_mm": float(cut.roll.width_mm),
                    "length_mm": float(cut.length_mm),
                    "label": cut.roll.label,
                    "pack": cut.roll.pack,
                }
                for cut in entry.plan.rolls
            ],
        }
        for entry in study.alternatives
    ]
    return plan.to_json_dict() | {"alternatives": others}


def materials(study: Study) -> list[dict[str, Any]]:
    """Return the kit list."""
    return [
        {
            "id": line.id,
            "quantity": plain(line.quantity),
            "unit": line.unit,
            "priced": line.id not in study.offer.unpriced,
        }
        for line in study.offer.materials
    ]


def labour(study: Study) -> dict[str, Any]:
    """Return the minutes, pane by pane and in all."""
    hours = study.offer.labour
    return {
        "crew": hours.crew,
        "set_up_min": hours.set_up.likely,
        "elapsed_min": {"low": hours.elapsed.low, "likely": hours.elapsed.likely, "high": hours.elapsed.high},
        "person_min": {"low": hours.person.low, "likely": hours.person.likely, "high": hours.person.high},
        "panes": [
            {
                "pane": line.id,
                "each_min": line.each.likely,
                "quantity": line.quantity,
                "people": line.people,
                "slowed_by": {key: DEFAULTS[key].value for key in SLOWER if key in line.from_defaults},
            }
            for line in hours.panes
        ],
    }


def price(study: Study) -> dict[str, Any]:
    """Return the price, every amount a decimal string in the job's currency."""
    made = study.offer.price
    return {
        "currency": made.currency,
        "lines": [
            {
                "id": line.id,
                "group": line.group,
                "text": line.text,
                "quantity": plain(line.quantity),
                "unit": line.unit,
                "rate": plain(line.rate),
                "amount": plain(line.amount),
            }
            for line in made.lines
        ],
        "net": plain(made.net),
        "tax": plain(made.tax),
        "tax_name": study.job.prices.tax.name,
        "tax_fraction": plain(made.tax_rate),
        "tax_included": made.tax_included,
        "total": plain(made.total),
        "deposit": plain(made.deposit),
        "balance": plain(made.balance),
        "unpriced": list(study.offer.unpriced),
    }
