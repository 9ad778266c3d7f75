"""A job with what a decision says in place of its own: films, panes left out, set points, tariff, budget."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal
from typing import Any

from reportkit.job.model.alternatives import Alternative
from reportkit.job.model.decisions import BARE, Decision
from reportkit.job.model.energy import Electricity, Energy
from reportkit.job.model.job import Job
from reportkit.job.model.rooms import Room


def follow(job: Job, decision: Decision) -> Job:
    """Return a job with what a decision says in place of its own.

    Parameters
    ----------
    job
        The job as its files give it.
    decision
        The decision in force. Where it names no film at all, the job's own choice stays. What it says of
        panes that the job no longer has does not apply.
    """
    changes: dict[str, Any] = {}
    gone = _gone(job, decision)
    films, out = decision.films, dict.fromkeys(decision.panes_out, BARE)
    films = films.model_copy(update={"panes": _without(films.panes, gone)})
    if films.job or films.faces or films.panes:
        panes = _without(films.panes | out, gone)
        changes["choice"] = films.model_copy(update={"panes": panes})
        changes["panes"] = tuple(pane.model_copy(update={"film": None}) for pane in job.panes)
    if decision.set_points:
        changes["rooms"] = tuple(
            _at_set_point(room, decision.set_points[room.id]) if room.id in decision.set_points else room
            for room in job.rooms
        )
    if decision.electricity_rate is not None:
        changes["energy"] = _at_rate(job, decision.electricity_rate)
    if decision.budget is not None:
        changes["limits"] = job.limits.model_copy(update={"budget": decision.budget})
    return job.model_copy(update=changes)


def lapsed(job: Job) -> tuple[str, ...]:
    """Return the panes that the decision in force names and the job no longer has, as they are named."""
    return _gone(job, job.decisions[-1]) if job.decisions else ()


def lapsed_in(job: Job, way: Alternative) -> tuple[str, ...]:
    """Return the panes that a way to choose from names and the job no longer has, as they are named."""
    return _unknown(job, way.films.panes)


def _gone(job: Job, decision: Decision) -> tuple[str, ...]:
    return _unknown(job, (*decision.films.panes, *decision.panes_out))


def _unknown(job: Job, names: Iterable[str]) -> tuple[str, ...]:
    known = {name for pane in job.panes for name in (pane.id, pane.row)}
    return tuple(name for name in dict.fromkeys(names) if name not in known)


def _without(films: dict[str, str], gone: tuple[str, ...]) -> dict[str, str]:
    return {name: film for name, film in films.items() if name not in gone}


def _at_set_point(room: Room, celsius: float) -> Room:
    if room.heat is None or room.heat.cooling is None:
        return room
    cooling = room.heat.cooling.model_copy(update={"set_point": celsius})
    return room.model_copy(update={"heat": room.heat.model_copy(update={"cooling": cooling})})


def _at_rate(job: Job, rate: Decimal) -> Energy:
    """Return the job's energy prices with one electricity rate for every hour."""
    energy = job.energy or Energy()
    old = energy.electricity
    flat = Electricity(
        rate=rate,
        fixed_per_month=old.fixed_per_month if old else Decimal(0),
        kg_co2_per_kwh=old.kg_co2_per_kwh if old else None,
    )
    return energy.model_copy(update={"electricity": flat})
