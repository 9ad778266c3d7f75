"""The whole ways of doing a job that a client may choose from: what is offered, and up to two others.

The others are typed in the job, or found among the films compared: those that nothing else beats in relief,
price and daylight together, the first choices of the other rules first. Where a decision is in force nothing
is looked for: the client has chosen.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from reportkit.job.model import BARE
from reportkit.study.advice import LEAST_RELIEF, RULES
from reportkit.study.relief import BILLS

if TYPE_CHECKING:
    from collections.abc import Sequence

    from reportkit.job.model import Job
    from reportkit.study.advice import Advised, Candidate
    from reportkit.study.options import Option
    from reportkit.study.panes import Beside

#: From a name and the film on each pane to an option.
Make = Callable[[str, "tuple[str | None, ...]"], "Option"]

#: What a way does better than the one offered; ``focus``: without panes that bring nothing asked for.
Strength = Literal["relief", "light", "price", "focus"]

#: As many ways stand side by side, the offered one among them.
MOST = 3

#: Least daylight more that is told as more [1] (common practice, no source).
LIGHTER = 0.03

#: Least relief more that is told as more, mean over what is complained of [1] (common practice, no source).
STRONGER = 0.03


@dataclass(frozen=True, eq=False)
class Way:
    """A way: its option, the name typed for it, and what it does better than the one offered.

    ``better`` holds ``relief``, ``light`` and ``price``, or ``focus`` for what is offered without the panes
    that bring nothing of what is complained of; it is empty for the one offered and for typed ones.
    """

    option: Option
    name: str = ""
    better: tuple[Strength, ...] = ()


def better(one: Candidate, offered: Candidate) -> tuple[Strength, ...]:
    """Return what a candidate does better than the one offered."""
    strengths: list[Strength] = []
    if one.overall >= offered.overall + STRONGER:
        strengths.append("relief")
    if one.light >= offered.light + LIGHTER:
        strengths.append("light")
    if one.price < offered.price:
        strengths.append("price")
    return tuple(strengths)


def typed_id(number: int) -> str:
    """Return the id of the option of a typed way, counted from 1."""
    return f"alternative-{number}"


def typed(job: Job, offered: Option, make: Make) -> tuple[Way, ...]:
    """Return the ways that the job types, without what is offered itself and what has no pane for film."""
    made = tuple(
        Way(make(typed_id(number), tuple(one.film_on(pane) for pane in job.panes)), one.name)
        for number, one in enumerate(job.alternatives, start=1)
        if any(one.film_on(pane) for pane in job.panes)
    )
    return tuple(way for way in made if way.option.film_by_pane != offered.film_by_pane)


def found(job: Job, advised: Advised, offered: Option, idle: Beside, make: Make) -> tuple[Way, ...]:
    """Return the ways found, none where the glass is to be left as it is or a decision is in force.

    A pane that the job leaves bare by name stays bare in them, too.

    Parameters
    ----------
    job
        The job.
    advised
        The trade-off.
    offered
        What the offer is for.
    idle
        The panes of the offer on which film takes away nothing of what is complained of.
    make
        What makes an option of films on panes, or finds it among those known.
    """
    if job.decisions:
        return ()
    bills = BILLS in job.complaint.kinds  # a new option needs the rooms' year, on which the advice rests then
    bare = [job.film_named(pane) == BARE for pane in job.panes]
    mine = next((one for one in advised.candidates if one.option is offered), None)
    if not offered.films:
        return ()
    by_rule = [change.then for change in advised.changes if change.what == "rule"]
    ranked = sorted(advised.candidates, key=lambda one: (_place(one.option.id, by_rule), -one.overall))
    ways: list[Way] = []
    if idle.total is not None and not bills:
        pairs = zip(job.panes, offered.film_by_pane, strict=True)
        films = tuple(None if pane.id in idle.panes else film for pane, film in pairs)
        ways.append(Way(make(f"{offered.id}, as asked", films), better=("focus",)))
    for one in ranked:
        useful = one.option.films and not one.option.excluded and one.overall >= LEAST_RELIEF
        if not useful or one.option is offered or one.option.id in advised.beaten_by:
            continue
        strengths: tuple[Strength, ...] = better(one, mine) if mine is not None else ("relief",)
        if not strengths or strengths in [way.better for way in ways]:
            continue
        films = tuple(None if out else film for out, film in zip(bare, one.option.film_by_pane, strict=True))
        option = one.option
        if films == offered.film_by_pane:  # without the panes left bare by name it is what is offered
            continue
        if films != option.film_by_pane:
            if bills:
                continue
            option = make(f"{option.id}, not all", films)
        if option.films and option is not offered:
            ways.append(Way(option, better=strengths))
    return tuple(ways[: MOST - 1])


def _place(option: str, by_rule: Sequence[str]) -> int:
    return by_rule.index(option) if option in by_rule else len(RULES)
