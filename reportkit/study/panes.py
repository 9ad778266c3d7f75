"""Which panes: ranked by the relief they bring for their part of the price, where that flattens, and the best
set of them under a budget.

A pane's part of the price is apportioned (film and the rest by area, labour by minutes); only a budget asks
for the real price of a set, rolls and all. Panes seen together get film together or not at all.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import TYPE_CHECKING

import numpy as np

from reportkit.study import offer as offers
from reportkit.study.budget import BestSet, Chosen, Item, best_set
from reportkit.study.least import Least
from reportkit.study.relief import AMOUNTS, by_pane

if TYPE_CHECKING:
    from reportkit.study.offer import Offer, QuickOffer
    from reportkit.study.options import Option
    from reportkit.study.relief import Baseline

#: How often the real price of a set is worked out while a budget is filled, beyond once for each pane.
MOST_ASKED = 12

#: A bend less than this above an even spread of relief over money is no knee [1].
LEAST_BEND = 0.10


@dataclass(frozen=True)
class Ranked:
    """A pane in the ranking: its relief [1], its part of the price, and both summed up to here [1]."""

    pane: str
    relief: float
    price: float
    relief_so_far: float
    price_so_far: float


@dataclass(frozen=True)
class Ranking:
    """Panes by relief for money, best first; the first ``knee`` of them bring most of it (0: no knee)."""

    panes: tuple[Ranked, ...]
    knee: int


@dataclass(frozen=True, eq=False)
class WithinBudget:
    """The best set of panes for one film under the budget."""

    film_by_pane: tuple[str | None, ...]
    panes: tuple[str, ...]
    best: BestSet


@dataclass(frozen=True)
class Beside:
    """Panes whose film relieves nothing of what is complained of, and the price without it [currency].

    ``total`` is None where nothing is left to price, or where leaving them bare saves nothing.
    """

    panes: tuple[str, ...]
    total: Decimal | None = None


def beside_the_point(baseline: Baseline, chosen: Option, made: Offer, quick_offer: QuickOffer) -> Beside:
    """Return the panes of what is chosen whose film takes away nothing of what is complained of.

    None where bills are: every pane counts for those.

    Parameters
    ----------
    baseline
        What relief is counted from.
    chosen, made
        What is chosen, and its offer.
    quick_offer
        The offer for films on panes by the quick cut plan.
    """
    kinds = baseline.job.complaint.kinds
    if not kinds or not all(kind in AMOUNTS for kind in kinds):
        return Beside(())
    useful = by_pane(baseline, chosen) > 0
    kept = tuple(film if use else None for film, use in zip(chosen.film_by_pane, useful, strict=True))
    idle = tuple(
        pane.id
        for pane, film, left in zip(baseline.job.panes, chosen.film_by_pane, kept, strict=True)
        if film and not left
    )
    total = quick_offer(kept).total if idle and any(kept) else None
    saves = total is not None and total < made.price.total
    return Beside(idle, total if saves else None)


def apportioned(made: Offer, placed: Sequence[int], areas: np.ndarray) -> np.ndarray:
    """Return each placed pane's part of the total price, (len(placed),) [currency].

    Parameters
    ----------
    made
        The offer for them.
    placed
        Their numbers, in the order of the offer's labour.
    areas
        Of all panes [m2].
    """
    by_area = areas[list(placed)] / areas[list(placed)].sum()
    minutes = {line.id: line.each.likely * line.quantity * line.people for line in made.labour.panes}
    ids = list(dict.fromkeys(cut.opening.id for cut in made.cuts))
    spent = np.array([minutes[name] for name in ids])
    work = float(sum(line.amount for line in made.price.details if line.group == "labour"))
    lines = float(sum(line.amount for line in made.price.details))
    share = work / lines if lines else 0.0
    total = float(made.price.total)
    parts: np.ndarray = total * (share * spent / spent.sum() + (1 - share) * by_area)
    return parts


def ranking(baseline: Baseline, option: Option, made: Offer) -> Ranking:
    """Return the panes of a film option by relief for money."""
    places = {pane.id: index for index, pane in enumerate(baseline.job.panes)}
    ids = list(dict.fromkeys(cut.opening.id for cut in made.cuts))
    placed = [places[name] for name in ids]
    if not placed:
        return Ranking((), 0)
    areas = np.array([pane.area_mm2 / 1e6 * pane.quantity for pane in baseline.job.panes])
    gains, parts = by_pane(baseline, option)[placed], apportioned(made, placed, areas)
    return ranked(ids, gains, parts)


def ranked(ids: Sequence[str], gains: np.ndarray, parts: np.ndarray) -> Ranking:
    """Return panes by gain for money with the knee of the curve of both sums.

    The knee is where the sum of relief lies furthest above an even spread of it over the money.
    """
    order = sorted(range(len(ids)), key=lambda n: (-gains[n] / max(parts[n], 1e-9), ids[n]))
    whole, money = float(gains.sum()), float(parts.sum())
    entries = []
    bend, knee = LEAST_BEND, 0
    relief = price = 0.0
    for place, number in enumerate(order, 1):
        relief += float(gains[number])
        price += float(parts[number])
        so_far = (relief / whole if whole > 0 else 0.0, price / money if money > 0 else 0.0)
        entries.append(Ranked(ids[number], float(gains[number]), float(parts[number]), *so_far))
        if place < len(order) and so_far[0] - so_far[1] >= bend:
            bend, knee = so_far[0] - so_far[1], place
    return Ranking(tuple(entries), knee)


def within_budget(
    baseline: Baseline, option: Option, quick_offer: QuickOffer, budget: Decimal
) -> WithinBudget:
    """Return the best panes for a film under a budget.

    Parameters
    ----------
    baseline
        What relief is counted from.
    option
        The film on every pane it can go on.
    quick_offer
        What prices films on panes.
    budget
        The most the job may cost, tax included [currency].
    """
    job, full = baseline.job, quick_offer(option.film_by_pane)
    groups: dict[str, list[int]] = {}
    for index, (pane, film) in enumerate(zip(job.panes, option.film_by_pane, strict=True)):
        if film:
            groups.setdefault(f"group {pane.view_group}" if pane.view_group else pane.id, []).append(index)
    gains = by_pane(baseline, option)
    blanks: dict[str, float] = {}
    for cut in full.cuts:
        blanks[cut.opening.id] = float(cut.width_mm * cut.height_mm) / 1e6 * cut.opening.quantity
    minutes = {line.id: line.each.likely * line.quantity * line.people for line in full.labour.panes}
    members = list(groups.values())
    least = Least(
        job,
        offers.rolls([baseline.situation.films[name] for name in option.films]),
        blanks,
        {pane.id: pane.area_mm2 / 1e6 * pane.quantity for pane in job.panes},
        minutes,
    )

    items = [
        Item(
            name,
            float(gains[numbers].sum()),
            sum(blanks[job.panes[index].id] for index in numbers),
            sum(least.each(job.panes[index].id) for index in numbers),
        )
        for name, numbers in groups.items()
    ]

    def chosen_panes(chosen: Chosen) -> list[int]:
        return [index for number in sorted(chosen) for index in members[number]]

    def placed(chosen: Chosen) -> tuple[str | None, ...]:
        mine = set(chosen_panes(chosen))
        return tuple(film if index in mine else None for index, film in enumerate(option.film_by_pane))

    rebate = least.rebate

    def cost(chosen: Chosen) -> Decimal:
        total = quick_offer(placed(chosen)).total
        return Decimal("Infinity") if total is None else total + rebate

    def at_least(chosen: Chosen) -> float:
        return least.together([job.panes[index].id for index in chosen_panes(chosen)])

    best = best_set(items, budget + rebate, cost, at_least, most_asked=MOST_ASKED)
    if best.cost is not None:
        best = replace(best, cost=best.cost - rebate)
    ids = tuple(job.panes[index].id for index in chosen_panes(best.chosen))
    return WithinBudget(placed(best.chosen), ids, best)
