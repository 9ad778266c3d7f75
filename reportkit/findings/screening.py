"""Findings of the breakage screen: the verdict on every pane, and the letters that it asks for."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable
from typing import TYPE_CHECKING

from reportkit.findings.result import Result, Text
from reportkit.physics.glass.edge import edge_stress
from reportkit.physics.glass.reason import Decision
from reportkit.study.screening import ASK, NOTHING_FOUND

if TYPE_CHECKING:
    from reportkit.physics.glass import Reason, Spread
    from reportkit.study import Study
    from reportkit.study.screening import Screening


class Between(Result):
    """What is known between two ends only: over every rebate, and every film that fits the sheet."""

    low: float
    """The least it may be."""
    likely: float
    """With a usual rebate and the film computed with."""
    high: float
    """The most it may be."""


class Approved(Result):
    """The film maker's written approval of a film on a pane's glass."""

    by: str
    """Who approved it."""
    date: dt.date
    """When."""
    file: str
    """The file it stands in, among the inputs."""


class ScreenReason(Result):
    """One reason behind a verdict."""

    verdict: Decision
    """What this reason alone asks for."""
    text: Text
    """The reason in words."""
    who: Text
    """Who decides it."""
    about: str
    """The quantity, where the reason is one of too much; else empty."""
    value: float | None
    """What was found, or the most it may be, in the quantity's unit: K, 1, m2, mm, m, years, degrees."""
    least: float | None
    """The least it may be, in that unit; null where it is not a range."""
    limit: float | None
    """What is allowed, in that unit; null where no limit is known."""
    approved: bool
    """Whether a written approval settles it."""


class Verdict(Result):
    """What the screen says of a film on a pane."""

    verdict: Decision
    """The gravest of the reasons."""
    reasons: tuple[Text, ...]
    """Why, in words."""
    who: Text
    """Who decides."""
    findings: tuple[ScreenReason, ...]
    """The reasons one by one."""
    approval: Approved | None
    """The written approval; null where there is none."""


class PaneVerdict(Verdict):
    """What the screen says of one film on one pane."""

    pane: str
    """The pane."""
    film: str
    """The film."""


class WorstHour(Result):
    """The hour a pane was screened at."""

    name: Text
    """The kind of day."""
    time: dt.datetime
    """The middle of that hour."""
    outdoor_c: float
    """Outdoor air [degrees C]."""
    indoor_c: float
    """Room air [degrees C]."""
    frame_c: float
    """The frame [degrees C]."""
    sun_w_m2: float
    """Sun on the glass [W/m2]."""
    in_shadow_w_m2: float
    """Sun on its part in shadow [W/m2]."""


class Computed(Result):
    """The lite nearest its limit."""

    absorptance: Between
    """Solar absorptance of the filmed lite with film [1]."""
    case: WorstHour
    """The hour in which its difference is likely largest."""
    middle_c: float
    """The middle of the lite, likely [degrees C]."""
    edge_c: float
    """Its edge, likely [degrees C]."""
    difference_k: Between
    """How much warmer the middle is [K]."""
    limit_k: float
    """How much is allowed [K]."""
    stress_mpa: Between
    """Stress at the edge [MPa]."""
    bare_difference_k: Between
    """How much warmer the middle is without film [K]."""


class Screened(Verdict, Computed):
    """The verdict on a pane with the film it was to get, and what was computed."""


class Asked(Computed):
    """A pane of a letter: what was computed, and what is asked."""

    pane: str
    """The pane."""
    asked: tuple[ScreenReason, ...]
    """What is asked of the decider."""


class Letter(Result):
    """What to ask one decider about one film."""

    film: str
    """The film."""
    who: Text
    """Who decides."""
    panes: tuple[Asked, ...]
    """The panes that get it on condition."""


def screen(study: Study, index: int) -> Screened | Verdict | None:
    """Return the verdict on a pane with the film it was to get; None where it was to get none.

    Nothing was computed where the film cannot go on that glass at all.
    """
    screening = study.screen_of(index)
    if screening is None:
        return None
    made, computed = _verdict(screening), _computed(screening)
    return made if computed is None else Screened(**dict(made), **dict(computed))


def _verdict(screening: Screening) -> Verdict:
    deciders = [reason.who for reason in screening.reasons if reason.decision == screening.verdict]
    return Verdict(
        verdict=screening.verdict,
        reasons=tuple(reason.text for reason in screening.reasons),
        who=", then ".join(dict.fromkeys(deciders or screening.who[:1])),
        findings=tuple(_reason(screening, reason) for reason in screening.reasons),
        approval=_approved(screening),
    )


def _approved(screening: Screening) -> Approved | None:
    """Return who approved the film there in writing, when, and the file; None where nobody did."""
    one = screening.approval
    return None if one is None else Approved(by=one.by, date=one.date, file=one.file)


def _reason(screening: Screening, reason: Reason) -> ScreenReason:
    return ScreenReason(
        verdict=reason.decision,
        text=reason.text,
        who=reason.who,
        about=reason.about,
        value=reason.value,
        least=reason.least,
        limit=reason.limit,
        approved=screening.settled(reason),
    )


def _computed(screening: Screening) -> Computed | None:
    """Return what was computed, of the lite nearest its limit."""
    made = screening.screen
    if made is None:
        return None
    case = next(case for case in screening.cases if case.day.name == made.worst.scenario)
    return Computed(
        absorptance=_between(made.absorptance),
        case=WorstHour(
            name=case.day.name,
            time=case.time,
            outdoor_c=case.day.t_out,
            indoor_c=case.day.t_in,
            frame_c=case.day.t_frame,
            sun_w_m2=case.day.sun,
            in_shadow_w_m2=case.day.diffuse,
        ),
        middle_c=made.worst.t_centre,
        edge_c=made.worst.t_edge,
        difference_k=_between(made.worst.difference),
        limit_k=made.worst.limit,
        stress_mpa=_between(made.worst.difference, edge_stress),
        bare_difference_k=_between(made.worst_bare.difference),
    )


def _between(ends: Spread, of: Callable[[float], float] = float) -> Between:
    return Between(low=of(ends.low), likely=of(ends.likely), high=of(ends.high))


def fill_screens(study: Study) -> tuple[PaneVerdict, ...]:
    """Return the verdict on every pane with every film."""
    return tuple(
        PaneVerdict(pane=pane, film=film, **dict(_verdict(screening)))
        for (pane, film), screening in study.screens.items()
    )


def fill_letters(study: Study) -> tuple[Letter, ...]:
    """Return one letter for each film and decider: the panes that get it on condition, and what to ask."""
    letters: dict[tuple[str, str], list[Asked]] = {}
    for index, (pane, film_id) in enumerate(zip(study.job.panes, study.chosen.film_by_pane, strict=True)):
        made = study.screen_of(index)
        if film_id is None or made is None or made.verdict == NOTHING_FOUND:
            continue
        by_decider: dict[str, list[ScreenReason]] = {}
        for reason in made.reasons:
            if reason.decision == ASK and not made.settled(reason):
                by_decider.setdefault(reason.who, []).append(_reason(made, reason))
        computed = _computed(made)
        assert computed is not None  # a film that cannot go on the glass is not chosen for it
        for who, asked in by_decider.items():
            entry = Asked(pane=pane.id, asked=tuple(asked), **dict(computed))
            letters.setdefault((film_id, who), []).append(entry)
    return tuple(Letter(film=film, who=who, panes=tuple(panes)) for (film, who), panes in letters.items())
