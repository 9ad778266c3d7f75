"""The options a recommendation looks at: each film on every pane it can go on, or on part of them.

Where the whole of a film is over the budget it is ruled out for that, and stands again with the best panes
that the budget allows.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from reportkit.base.translatable import translatable
from reportkit.job.model.decisions import BARE
from reportkit.physics.room import percentiles
from reportkit.study import panes as which
from reportkit.study.advice import Advised, Candidate, missing
from reportkit.study.options import Excluded, left_bare
from reportkit.study.relief import relief

if TYPE_CHECKING:
    from reportkit.job.model import Pane
    from reportkit.study.offer import Offer, QuickOffer
    from reportkit.study.options import Option
    from reportkit.study.relief import Baseline
    from reportkit.study.situation import Situation
    from reportkit.study.worth import Worth

Films = tuple[str | None, ...]
Make = Callable[[str, tuple[str | None, ...]], "Option"]
BUDGET = "budget"
#: The film cannot be cut from the rolls given for it.
NO_PLAN = "no_plan"

#: Why a pane stays bare that no roll can cover.
UNCUT = translatable("no roll given for the film can hold its piece")


def part_id(film_id: str) -> str:
    """Return the id of the option with a film on part of the panes."""
    return f"{film_id}, part"


def cut_from_rolls(
    panes: Sequence[Pane], wanted: Films, make: Callable[[Films], Option], quick_offer: QuickOffer
) -> Option:
    """Return an option of which every pane can be cut from the rolls given for its film.

    A pane whose piece no roll can hold stays bare, with the reason; where that leaves no film at all, the
    option stays whole and has no price.

    Parameters
    ----------
    panes, wanted
        The job's panes, and the film wanted on each.
    make
        What makes an option of films on panes.
    quick_offer
        What finds the panes that cannot be cut.
    """
    option, refused = make(wanted), dict[str, str]()
    whole = option
    while option.films:
        named = {fault.found for fault in quick_offer(option.film_by_pane).faults}
        stuck = {pane.id for pane in panes} & named
        if not stuck:
            bare = (*option.bare_because, *refused.items())
            return replace(option, bare_because=bare) if refused else option
        refused |= dict.fromkeys(sorted(stuck), UNCUT)
        wanted = tuple(None if pane.id in refused else film for pane, film in zip(panes, wanted, strict=True))
        option = make(wanted)
    return whole


def film_options(situation: Situation, make: Make, quick_offer: QuickOffer) -> tuple[Option, ...]:
    """Return each film on every pane it can go on and is not left bare on by name, with what rules it out.

    Why a film cannot go on a pane that the job leaves bare by name is not told: nobody asked for it there.
    """
    job, options = situation.job, []
    bare = left_bare(situation.loaded)
    unasked = {pane.id for pane in job.panes if job.film_named(pane) == BARE}
    for name in situation.films:
        option = make(name, tuple(None if stays else name for stays in bare))
        out = [*option.excluded, *missing(job, situation.films, situation.filmed, option)]
        if option.films:
            total = quick_offer(option.film_by_pane).total
            if total is None:
                out.append(Excluded("", NO_PLAN, 0.0, 0.0))
            elif job.limits.budget is not None and total > job.limits.budget:
                out.append(Excluded("", BUDGET, float(total), float(job.limits.budget)))
        because = tuple(entry for entry in option.bare_because if entry[0] not in unasked)
        options.append(replace(option, bare_because=because, excluded=tuple(out)))
    return tuple(options)


def uncut(options: Sequence[Option]) -> tuple[Option, ...]:
    """Return the film options that cannot be cut from the rolls given: they have no price."""
    return tuple(option for option in options if any(item.what == NO_PLAN for item in option.excluded))


def explained(made: Advised, options: Sequence[Option]) -> Advised:
    """Return the advice with what stopped film told more closely, where film of use was not found."""
    if made.why_nothing in ("no_film", "cannot_go") and uncut(options):
        return replace(made, why_nothing=NO_PLAN)
    if made.why_nothing == "no_useful" and any(entry.bare_because for entry in options):
        return replace(made, why_nothing="stopped")
    return made


def within_budget(
    baseline: Baseline, options: Sequence[Option], quick_offer: QuickOffer
) -> dict[str, which.WithinBudget]:
    """Return the best panes under the budget for each film option that only the budget rules out."""
    budget = baseline.job.limits.budget
    if budget is None:
        return {}
    return {
        option.id: which.within_budget(baseline, option, quick_offer, budget)
        for option in options
        if {item.what for item in option.excluded} == {BUDGET}
    }


def candidates(
    baseline: Baseline,
    options: Sequence[Option],
    offers: Mapping[str, Offer],
    worths: Mapping[str, Worth],
    bill_shares: Mapping[str, float],
) -> tuple[Candidate, ...]:
    """Return every film option that has a price as the rules see it.

    Parameters
    ----------
    baseline
        What relief is counted from.
    options
        Films on all panes or on some.
    offers, worths, bill_shares
        By option id: its offer, its money over the years and its saving as a share of the bills [1]. The last
        two have nothing for options of which it is not known or not asked.
    """
    job, situation = baseline.job, baseline.situation
    areas = np.array([pane.area_mm2 * pane.quantity for pane in job.panes])
    entries = []
    for option in options:
        total = offers[option.id].total
        if total is None:
            continue
        ratings = [
            situation.filmed[pane.glazing, film].rating
            for pane, film in zip(job.panes, option.film_by_pane, strict=True)
        ]
        light = np.array([rating.t_visible for rating in ratings if rating is not None])
        worth = worths.get(option.id)
        entries.append(
            Candidate(
                option,
                relief(baseline, option, bill_shares.get(option.id)),
                total,
                float(np.average(light, weights=areas)),
                float(baseline.peak_gains(option).total(situation.complained)[baseline.bad_hour]),
                None if worth is None or worth.npv is None else bool(percentiles(worth.npv)[0] > 0),
            )
        )
    return tuple(entries)
