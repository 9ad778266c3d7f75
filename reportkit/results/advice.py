"""Results of the advice: which film and why, what would change it, and which panes come first."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from babel.numbers import get_currency_precision

from reportkit.money import to_money
from reportkit.results.plain import plain
from reportkit.study.advice import LEAST_RELIEF, RULES
from reportkit.study.panes import beside_the_point

if TYPE_CHECKING:
    from reportkit.study import Study
    from reportkit.study.advice import Candidate


def choice(study: Study) -> dict[str, Any]:
    """Return what was chosen, by whom, the rule, the trade-off and what would change it."""
    made = study.advised
    return {
        "option": study.chosen.id,
        "by": study.chosen_by,
        "recommended": made.option.id,
        "rule": RULES[made.rule].text,
        "rule_name": made.rule,
        "rules": {name: rule.text for name, rule in RULES.items()},
        "why_nothing": made.why_nothing,
        "least_relief": LEAST_RELIEF,
        "limits": plain(study.job.limits),
        "conditions": study.conditions,
        "candidates": [_candidate(study, one) for one in made.candidates],
        "changes": [
            {"what": one.what, "name": one.name, "value": plain(one.value), "then": one.then}
            for one in made.changes
        ],
    }


def _candidate(study: Study, one: Candidate) -> dict[str, Any]:
    made = study.advised
    option = one.option
    return {
        "option": option.id,
        "film": option.films[0] if option.films else None,
        "panes": sum(
            pane.quantity for pane, film in zip(study.job.panes, option.film_by_pane, strict=True) if film
        ),
        "all_panes": option in study.film_options,
        "relief": one.relief,
        "overall_relief": one.overall,
        "cost": plain(one.price) if option.films else None,
        "t_visible": one.light,
        "peak_solar_w": one.heat,
        "pays": one.pays,
        "excluded": [
            {"pane": item.pane, "what": item.what, "value": item.value, "limit": item.limit}
            for item in option.excluded
        ],
        "beaten_by": made.beaten_by.get(option.id),
    }


def which_panes(study: Study) -> dict[str, Any]:
    """Return the panes of what is chosen by relief for money, the knee, and the best set for the budget."""
    made, idle = study.ranking, beside_the_point(study)
    digits = get_currency_precision(study.job.currency)
    budget = study.job.limits.budget
    return {
        "kinds": list(study.job.complaint.kinds),
        "knee": made.knee,
        "panes": [
            {
                "pane": one.pane,
                "relief": one.relief,
                "part_of_price": plain(to_money(one.price, digits=digits)),
                "relief_so_far": one.relief_so_far,
                "price_so_far": one.price_so_far,
            }
            for one in made.panes
        ],
        "beside_the_point": {"panes": list(idle.panes), "price_without": plain(idle.total)},
        "budget": None if budget is None else plain(budget),
        "within_budget": [
            {
                "film": film,
                "panes": list(best.panes),
                "relief": best.found.value,
                "cost": plain(best.found.cost),
                "gap": best.found.gap,
                "proven": best.found.gap == 0,
            }
            for film, best in study.within_budget.items()
        ],
    }
