"""Which film: what the client's limits rule out, what is left as a trade-off, and one by a stated rule.

Limits and must-haves cut options out, each with its reason. Of the rest, an option stays in the trade-off
unless another relieves as much of everything complained of, costs no more and leaves no less daylight. One is
recommended by a rule that the job can change. Leaving the glass as it is wins where no film has a useful
effect, or where bills are all that is asked for and no film pays.

To add a rule or a must-have: a line in ``RULES`` or ``MUST_HAVES``, and its word in the job's model.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from typing import TYPE_CHECKING

from reportkit.base.translatable import english
from reportkit.study.options import Excluded
from reportkit.study.relief import BILLS, overall

if TYPE_CHECKING:
    from reportkit.job.model import FilmSpec, Job
    from reportkit.physics.glass import Rating
    from reportkit.study.filmed import Filmed
    from reportkit.study.options import Option

#: Least relief, as a mean over what is complained of, that counts as useful (common practice, no source).
LEAST_RELIEF = 0.10

#: A ``most_light`` or ``lowest_price`` film must relieve at least this part of what the best one does.
ENOUGH = 0.5

#: Least ultraviolet a film may pass on the client's glass to count as an ultraviolet block [1].
UV_PASSED = 0.02

#: Classes made with a layer of metal.
METAL = ("metallised_reflective", "dual_reflective", "sputtered", "low_emissivity")


@dataclass(frozen=True)
class MustHave:
    """Something a film must have: why it falls out where it does not, the test on a pane, and whether the
    sheet prints what is tested: what it leaves out is asked, and satisfies nobody until it is told.
    """

    text: str
    holds: Callable[[FilmSpec, Rating, Rating], bool]
    printed: Callable[[FilmSpec], bool] = lambda film: True


#: Ends the name of a must-have that a film falls out by because its sheet leaves it open.
NOT_PRINTED = "_not_printed"


MUST_HAVES: dict[str, MustHave] = {
    "uv": MustHave(
        "lets more than 2 % of the ultraviolet through your glass",
        lambda film, with_it, bare: with_it.t_uv <= UV_PASSED,
        lambda film: film.rated.uv_transmittance_percent is not None,
    ),
    "no_metal": MustHave(
        "is of a class made with metal, which weakens radio and phone signals",
        lambda film, with_it, bare: film.film_class not in METAL,
        lambda film: film.film_class is not None,
    ),
    "low_glare": MustHave(
        "leaves more than half of the light, so glare is not halved",
        lambda film, with_it, bare: with_it.t_visible <= 0.5 * bare.t_visible,
    ),
    "neutral": MustHave(
        "is tinted: neither neutral nor grey",
        lambda film, with_it, bare: film.tint in ("neutral", "grey"),
    ),
    "inside": MustHave("goes on the outside", lambda film, with_it, bare: film.side == "inside"),
}


@dataclass(frozen=True, eq=False)
class Candidate:
    """An option as the rules see it: relief [1], price, daylight let in [1], heat at the bad hour [W]."""

    option: Option
    relief: dict[str, float]
    price: Decimal
    light: float
    heat: float
    pays: bool | None = None

    @property
    def overall(self) -> float:
        """Mean relief of what is complained of [1]."""
        return overall(self.relief)


@dataclass(frozen=True)
class Rule:
    """A way to choose among candidates: in words, and what is sought, lowest first."""

    text: str
    key: Callable[[Candidate], tuple[float, float]]
    enough: float = 0.0


def _per_money(one: Candidate) -> float:
    return one.overall / float(one.price) if one.price else 0.0


RULES: dict[str, Rule] = {
    "most_relief": Rule(
        english("Of the films within your limits, the one that relieves most of what you complain of."),
        lambda one: (-one.overall, float(one.price)),
    ),
    "least_heat": Rule(
        english(
            "Of the films within your limits, the one that lets in the least heat at the worst hour "
            "of the year through the panes you complain of."
        ),
        lambda one: (one.heat, float(one.price)),
    ),
    "best_value": Rule(
        english("Of the films within your limits, the one that relieves most for its price."),
        lambda one: (-_per_money(one), -one.overall),
    ),
    "most_light": Rule(
        english(
            "Of the films within your limits that relieve at least half as much as the best, "
            "the one that leaves most daylight."
        ),
        lambda one: (-one.light, -one.overall),
        ENOUGH,
    ),
    "lowest_price": Rule(
        english(
            "Of the films within your limits that relieve at least half as much as the best, the cheapest."
        ),
        lambda one: (float(one.price), -one.overall),
        ENOUGH,
    ),
}


@dataclass(frozen=True)
class Change:
    """What would change the recommendation: a rule or a limit, its name, and the option it would then be."""

    what: str
    name: str
    then: str
    value: float | None = None


@dataclass(frozen=True, eq=False)
class Advised:
    """The recommendation and how it came about.

    ``why_nothing`` says why the glass is best left as it is, empty where a film is recommended; ``beaten_by``
    names for each option outside the trade-off one that is at least as good in everything.
    """

    option: Option
    rule: str
    candidates: tuple[Candidate, ...]
    excluded: dict[str, tuple[Excluded, ...]]
    beaten_by: dict[str, str] = field(default_factory=dict)
    changes: tuple[Change, ...] = ()
    why_nothing: str = ""


def missing(job: Job, films: Mapping[str, FilmSpec], filmed: Filmed, option: Option) -> tuple[Excluded, ...]:
    """Return the must-haves that an option lacks, once each with the first pane that shows it."""
    lacks: dict[str, Excluded] = {}
    for pane, film_id in zip(job.panes, option.film_by_pane, strict=True):
        with_it, bare = filmed[pane.glazing, film_id].rating, filmed[pane.glazing, None].rating
        if film_id is None or with_it is None or bare is None:
            continue
        for name in job.limits.must_have:
            must, film = MUST_HAVES[name], films[film_id]
            if name in lacks or (must.printed(film) and must.holds(film, with_it, bare)):
                continue
            what = name if must.printed(film) else name + NOT_PRINTED
            lacks[name] = Excluded(pane.id, what, 0.0, 0.0)
    return tuple(lacks.values())


def advise(nothing: Option, candidates: Sequence[Candidate], job: Job) -> Advised:
    """Return the recommendation.

    Parameters
    ----------
    nothing
        Leaving the glass as it is.
    candidates
        Every film option; ``excluded`` of its option says what rules it out.
    job
        For the rule, the limits and the complaint.
    """
    rule = job.recommend
    excluded = {one.option.id: one.option.excluded for one in candidates if one.option.excluded}
    placed = [one for one in candidates if one.option.films]
    free = [one for one in placed if not one.option.excluded]
    winner, why = _winner(free, rule, job)
    if winner is None and not placed:
        why = "cannot_go" if candidates else "no_film"
    elif winner is None and not free:
        why = "limits"
    option = nothing if winner is None else winner.option
    return Advised(
        option,
        rule,
        tuple(candidates),
        excluded,
        _beaten(free),
        _changes(option, placed, rule, job),
        "" if winner else why,
    )


def _winner(free: Sequence[Candidate], rule: str, job: Job) -> tuple[Candidate | None, str]:
    """Return the candidate that a rule takes, or None and why."""
    if free and not any(one.relief for one in free):
        return None, "bills_unknown"  # only bills have no amount of their own
    if set(job.complaint.kinds) == {BILLS}:  # there what pays is of use, however little
        useful, why = [one for one in free if one.pays], "none_pays"
    else:
        useful, why = [one for one in free if one.overall >= LEAST_RELIEF], "no_useful"
    if not useful:
        return None, why
    chosen = RULES[rule]
    best = max(one.overall for one in useful)
    enough = [one for one in useful if one.overall >= chosen.enough * best]
    return min(enough, key=lambda one: (*chosen.key(one), one.option.id)), ""


def _beaten(free: Sequence[Candidate]) -> dict[str, str]:
    """Return the options that another is at least as good as in everything and better in something."""
    beaten_by = {}
    for one in free:
        for other in free:
            if other is not one and _dominates(other, one):
                beaten_by[one.option.id] = other.option.id
                break
    return beaten_by


def _dominates(one: Candidate, other: Candidate) -> bool:
    mine = (*one.relief.values(), -float(one.price), one.light)
    yours = (*other.relief.values(), -float(other.price), other.light)
    pairs = list(zip(mine, yours, strict=True))
    return all(a >= b for a, b in pairs) and any(a > b for a, b in pairs)


def _changes(option: Option, placed: Sequence[Candidate], rule: str, job: Job) -> tuple[Change, ...]:
    """Return what would change the recommendation: each other rule, and each limit that is in the way."""
    free = [one for one in placed if not one.option.excluded]
    changes: list[Change] = []
    lone: dict[str, list[Candidate]] = {}  # ruled out by one limit alone
    for one in placed:
        limits = {item.what for item in one.option.excluded}
        if len(limits) == 1:
            lone.setdefault(limits.pop(), []).append(one)
    for what, ruled_out in lone.items():
        winner, _ = _winner([*free, *ruled_out], rule, job)
        if winner in ruled_out and winner is not None:
            ends = min if what == "visible_transmittance" else max
            worst = ends(item.value for item in winner.option.excluded)
            changes.append(Change("limit", what, winner.option.id, worst))
    for name in RULES:
        winner, _ = _winner(free, name, job)
        if name != rule and winner is not None and winner.option is not option:
            changes.append(Change("rule", name, winner.option.id))
    return tuple(changes)
