"""Findings of the advice: which film and why, what would change it, and which panes come first."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING, Literal

from babel.numbers import get_currency_precision

from reportkit.findings.result import Result, Text
from reportkit.job.model import Limits
from reportkit.money import to_money
from reportkit.study.advice import LEAST_RELIEF, RULES
from reportkit.study.panes import beside_the_point

if TYPE_CHECKING:
    from reportkit.study import Study
    from reportkit.study import options as opt
    from reportkit.study.advice import Candidate


class Excluded(Result):
    """Why a limit of the client rules an option out."""

    pane: str
    """The pane; empty where the limit is about the whole, such as a budget."""
    what: str
    """What is limited."""
    value: float
    """What the option has: shares [1], the budget [currency]; 0 for a must-have."""
    limit: float
    """What is allowed, in the same unit."""


class CandidateFound(Result):
    """An option as the rules of choice see it."""

    option: str
    """The option."""
    film: str | None
    """Its film; null for doing nothing."""
    panes: int
    """How many panes it puts film on."""
    all_panes: bool
    """Whether that is every pane the film can go on."""
    relief: dict[str, float]
    """How much of each kind of complaint it takes away, by kind [1]."""
    overall_relief: float
    """Mean of those [1]."""
    cost: Decimal | None
    """Its price [currency]; null for doing nothing."""
    t_visible: float
    """Daylight let in [1]."""
    peak_solar_w: float
    """Sun's heat at the worst hour [W]."""
    pays: bool | None
    """Whether it earns its price back; null where that is not known or not asked."""
    excluded: tuple[Excluded, ...]
    """The limits that rule it out."""
    beaten_by: str | None
    """An option at least as good in everything and better in something; null where there is none."""


class ChangeFound(Result):
    """What would change the recommendation."""

    what: str
    """``rule`` or the limit."""
    name: str
    """Its name."""
    value: float | None
    """The limit's value at which it changes; null for a rule."""
    then: str
    """The option it would be."""


class ChoiceMade(Result):
    """What was chosen, by whom, the rule, the trade-off and what would change it."""

    option: str
    """The option the offer is for."""
    by: Literal["job", "rule"]
    """Who chose it."""
    recommended: str
    """The option the rule picks."""
    rule: Text
    """The rule in words."""
    rule_name: str
    """The rule's name."""
    rules: dict[str, Text]
    """All rules by name, in words."""
    why_nothing: str
    """Why the glass is best left as it is: a key of the reasons; empty where film is recommended."""
    least_relief: float
    """Below this part an option is of no use [1]."""
    limits: Limits
    """What the client will live with."""
    conditions: Literal["nfrc", "en"]
    """The rating conditions of the limits."""
    candidates: tuple[CandidateFound, ...]
    """The options weighed."""
    changes: tuple[ChangeFound, ...]
    """What would change the recommendation."""


class RankedPane(Result):
    """A pane in the order of relief for money."""

    pane: str
    """The pane."""
    relief: float
    """Its part of the whole relief [1]."""
    part_of_price: Decimal
    """Its part of the price [currency]."""
    relief_so_far: float
    """Relief summed up to here [1]."""
    price_so_far: float
    """Price summed up to here, of the whole [1]."""


class BestForBudget(Result):
    """The panes of one film that bring most relief within the budget."""

    film: str
    """The film."""
    panes: tuple[str, ...]
    """The panes."""
    relief: float
    """Their relief [1]."""
    cost: Decimal | None
    """Their price [currency]; null where no pane fits within the budget."""
    gap: float
    """How far above this relief the bound lies [1]."""
    proven: bool
    """Whether no better set exists."""


class BesideThePoint(Result):
    """The panes whose film takes away nothing of what is complained of."""

    panes: tuple[str, ...]
    """The panes."""
    price_without: Decimal | None
    """The price without them, where it is lower [currency]."""


class WhichPanes(Result):
    """The panes of what is chosen by relief for money."""

    kinds: tuple[str, ...]
    """What is complained of."""
    knee: int
    """The first so many panes bring most of the relief; 0 where no such point exists."""
    panes: tuple[RankedPane, ...]
    """Best first."""
    beside_the_point: BesideThePoint
    """Those that bring nothing of what is asked."""
    budget: Decimal | None
    """The budget [currency]; null where none is given."""
    within_budget: tuple[BestForBudget, ...]
    """The best set for each film that is over the budget."""
    doubts: tuple[Text, ...] = ()
    """What was wrong with the weather that the order rests on."""


def fill_choice(study: Study) -> ChoiceMade:
    """Return what was chosen, by whom, the rule, the trade-off and what would change it."""
    made = study.advised
    return ChoiceMade(
        option=study.chosen.id,
        by=study.chosen_by,
        recommended=made.option.id,
        rule=RULES[made.rule].text,
        rule_name=made.rule,
        rules={name: rule.text for name, rule in RULES.items()},
        why_nothing=made.why_nothing,
        least_relief=LEAST_RELIEF,
        limits=study.job.limits,
        conditions=study.conditions,
        candidates=tuple(_candidate(study, one) for one in made.candidates),
        changes=tuple(
            ChangeFound(what=one.what, name=one.name, value=one.value, then=one.then) for one in made.changes
        ),
    )


def _candidate(study: Study, one: Candidate) -> CandidateFound:
    made = study.advised
    option = one.option
    return CandidateFound(
        option=option.id,
        film=option.films[0] if option.films else None,
        panes=sum(
            pane.quantity for pane, film in zip(study.job.panes, option.film_by_pane, strict=True) if film
        ),
        all_panes=option in study.film_options,
        relief=one.relief,
        overall_relief=one.overall,
        cost=one.price if option.films else None,
        t_visible=one.light,
        peak_solar_w=one.heat,
        pays=one.pays,
        excluded=excluded(option),
        beaten_by=made.beaten_by.get(option.id),
    )


def excluded(option: opt.Option) -> tuple[Excluded, ...]:
    """Return the limits that rule an option out."""
    return tuple(
        Excluded(pane=item.pane, what=item.what, value=item.value, limit=item.limit)
        for item in option.excluded
    )


def fill_which_panes(study: Study) -> WhichPanes:
    """Return the panes of what is chosen by relief for money, the knee, and the best set for the budget."""
    made = study.ranking
    idle = beside_the_point(study.baseline, study.chosen, study.offer, study.quick_offer)
    digits = get_currency_precision(study.job.currency)
    return WhichPanes(
        kinds=study.job.complaint.kinds,
        doubts=study.weather.doubts,
        knee=made.knee,
        panes=tuple(
            RankedPane(
                pane=one.pane,
                relief=one.relief,
                part_of_price=to_money(one.price, digits=digits),
                relief_so_far=one.relief_so_far,
                price_so_far=one.price_so_far,
            )
            for one in made.panes
        ),
        beside_the_point=BesideThePoint(panes=idle.panes, price_without=idle.total),
        budget=study.job.limits.budget,
        within_budget=tuple(
            BestForBudget(
                film=film,
                panes=within.panes,
                relief=within.best.value,
                cost=within.best.cost,
                gap=within.best.gap,
                proven=within.best.gap == 0,
            )
            for film, within in study.within_budget.items()
        ),
    )
