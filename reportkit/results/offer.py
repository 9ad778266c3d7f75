"""Results of the offer: cutting, materials, labour and price of what is chosen."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from reportkit.fitting.labour import DEFAULTS
from reportkit.results.plain import plain

if TYPE_CHECKING:
    from reportkit.study import Study

#: Keys of the minutes' defaults that multiply a pane's time.
SLOWER = ("timber", "arch", "outside", "step_ladder", "tower", "safety_film")


def pieces(study: Study) -> list[dict[str, Any]]:
    """Return the size to cut and the finished size for every pane that gets film."""
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
        }
        for cut in study.offer.cuts
    ]


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
