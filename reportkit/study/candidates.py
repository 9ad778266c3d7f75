"""The options a recommendation looks at: each film on every pane it can go on, or on part of them.

Where the whole of a film is over the budget it is ruled out for that, and stands again with the best panes
that the budget allows.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from reportkit.room import percentiles
from reportkit.study import panes as which
from reportkit.study.advice import Candidate, missing
from reportkit.study.options import Excluded
from reportkit.study.relief import BILLS, relief
from reportkit.told import told

if TYPE_CHECKING:
    from reportkit.study import Study
    from reportkit.study.options import Option

Films = tuple[str | None, ...]
Make = Callable[[str, tuple[str | None, ...]], "Option"]
BUDGET = "budget"
#: The film cannot be cut from the rolls given for it.
NO_PLAN = "no_plan"

#: Why a pane stays bare that no roll can cover.
UNCUT = told("no roll given for the film can hold its piece")


def part_id(film_id: str) -> str:
    """Return the id of the option with a film on part of the panes."""
    return f"{film_id}, part"


def cut_from_rolls(study: Study, wanted: Films, make: Callable[[Films], Option]) -> Option:
    """Return an option of which every pane can be cut from the rolls given for its film.

    A pane whose piece no roll can hold stays bare, with the reason; where that leaves no film at all, the
    option stays whole and has no price.
    """
    option, refused = make(wanted), dict[str, str]()
    whole = option
    while option.films:
        named = {fault.found for fault in study.quick_offer(option.film_by_pane).faults}
        stuck = {pane.id for pane in study.job.panes} & named
        if not stuck:
            bare = (*option.bare_because, *refused.items())
            return replace(option, bare_because=bare) if refused else option
        refused |= dict.fromkeys(sorted(stuck), UNCUT)
        wanted = tuple(
            None if pane.id in refused else film for pane, film in zip(study.job.panes, wanted, strict=True)
        )
        option = make(wanted)
    return whole


def film_options(study: Study, make: Make) -> tuple[Option, ...]:
    """Return each film on every pane it can go on, with what rules it out."""
    job, found = study.job, []
    for name in study.films:
        option = make(name, (name,) * len(job.panes))
        out = [*option.excluded, *missing(job, study.films, study.fittings, option)]
        if option.films:
            total = study.quick_offer(option.film_by_pane).total
            if total is None:
                out.append(Excluded("", NO_PLAN, 0.0, 0.0))
            elif job.limits.budget is not None and total > job.limits.budget:
                out.append(Excluded("", BUDGET, float(total), float(job.limits.budget)))
        found.append(replace(option, excluded=tuple(out)))
    return tuple(found)


def uncut(study: Study) -> tuple[Option, ...]:
    """Return the film options that cannot be cut from the rolls given: they have no price."""
    return tuple(
        option for option in study.film_options if any(item.what == NO_PLAN for item in option.excluded)
    )


def within_budget(study: Study) -> dict[str, which.WithinBudget]:
    """Return the best panes under the budget for each film that only the budget rules out."""
    budget = study.job.limits.budget
    if budget is None:
        return {}
    return {
        option.id: which.within_budget(study, option, study.quick_offer(option.film_by_pane), budget)
        for option in study.film_options
        if {item.what for item in option.excluded} == {BUDGET}
    }


def candidates(study: Study) -> tuple[Candidate, ...]:
    """Return every film option that has a price as the rules see it."""
    money = study.estimates if BILLS in study.job.complaint.kinds else {}
    areas = np.array([float(pane.width * pane.height) * pane.quantity for pane in study.job.panes])
    found = []
    for option in (*study.film_options, *study.part_options):
        total = study.quick_offers[option.id].total
        if total is None:
            continue
        ratings = [
            study.fittings[pane.glazing, film].rating
            for pane, film in zip(study.job.panes, option.film_by_pane, strict=True)
        ]
        light = np.array([rating.t_visible for rating in ratings if rating is not None])
        worth = money.get(option.id)
        found.append(
            Candidate(
                option,
                relief(study, option),
                total,
                float(np.average(light, weights=areas)),
                float(study.peak_gains(option).total(study.complained)[study.bad_hour]),
                None if worth is None or worth.npv is None else bool(percentiles(worth.npv)[0] > 0),
            )
        )
    return tuple(found)
