"""A job with something changed: other films, panes left out, set points, tariff, or another room looked at.

A pane of a row of several that a change names becomes one of its own, and stays so in all later answers.

What the change leaves as it is (weather, sun, ratings, gains of a film, a room's year, a cut plan) is taken
from what was computed before, so an answer comes while the client waits. The numbers are those of a whole
`Study` of the changed job, with two differences: only doing nothing and the choice are compared, and the
cut plan is the quick one, whose price may be a little above that of the plan made for the order.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import fields, replace
from functools import cached_property
from typing import TYPE_CHECKING, Any

import numpy as np

from reportkit.base.translatable import english
from reportkit.job.model import BARE, Choice, Decision
from reportkit.job.model.decided import follow
from reportkit.job.model.singled import singled
from reportkit.study import options as opt
from reportkit.study.offer import Offer, offer, possible
from reportkit.study.options import Option
from reportkit.study.rooms import RoomYear, room_year
from reportkit.study.study import Study

if TYPE_CHECKING:
    import datetime as dt

    from reportkit import cutting
    from reportkit.job.model import Job, Room

#: Parts of a study that no change here touches: a changed study takes them over. The advice is the job's own.
KEPT = (
    "weathers", "sun", "skies", "films", "filmed", "peaks", "screens", "nothing", "film_options",
    "within_budget", "part_options", "advised",
)  # fmt: skip

#: What the panes have no part in: a study of the same job with other panes singled out takes it over.
OF_NO_PANE = ("weathers", "films", "filmed")

#: Why a pane is out where nobody said: the job leaves it bare, or the budget does not reach so far.
BY_JOB = english("left bare by the job")
FOR_BUDGET = english("not among the best panes for the budget")


class Store:
    """What was computed for one change and may serve the next.

    ``made`` counts how often each kind of part was computed: ``rooms``, ``cut_plans``, ``gains``.
    """

    def __init__(self) -> None:
        self.made: Counter[str] = Counter()
        self._parts: dict[tuple[Any, ...], Any] = {}

    def get(self, kind: str, key: tuple[Any, ...]) -> Any:
        """Return a part, or None where it has not been computed."""
        return self._parts.get((kind, *key))

    def put(self, kind: str, key: tuple[Any, ...], part: Any) -> Any:
        """Keep a part and return it."""
        self.made[kind] += 1
        self._parts[kind, *key] = part
        return part


class Changed(Study):
    """A study of a changed job that takes over what the change leaves as it is.

    Parameters
    ----------
    base
        The study of the job as it stands.
    job
        The job with the change in it.
    store
        What was computed for earlier changes.
    """

    def __init__(self, base: Study, job: Job, store: Store) -> None:
        super().__init__(replace(base.loaded, job=job))
        self._store = store
        self._panes = tuple((pane.id, pane.quantity) for pane in job.panes)
        vars(self).update({name: getattr(base, name) for name in KEPT})

    def _option(self, name: str, wanted: tuple[str | None, ...]) -> Option:
        key = (self._panes, wanted)
        known: Option | None = self._store.get("gains", key)
        if known is None:
            known = self._store.put("gains", key, super()._option(name, wanted))
        return replace(known, id=name)

    def placed(self, wanted: tuple[str | None, ...]) -> tuple[str | None, ...]:
        """Return the film on each pane, of what is wanted, where it can go."""
        return self._option("", wanted).film_by_pane

    @cached_property
    def options(self) -> tuple[Option, ...]:
        """Doing nothing, and the choice where it is something else."""
        return (self.nothing,) if self.chosen is self.nothing else (self.nothing, self.chosen)

    @cached_property
    def offer(self) -> Offer:
        """The offer for the choice, its cut plan the quick one; raises `JobError` where there is none."""
        return possible(self.quick_offer(self.chosen.film_by_pane))

    @cached_property
    def alternatives(self) -> tuple[cutting.Alternative, ...]:
        """None: what else one could buy is for the order, and takes several plans more."""
        return ()

    @cached_property
    def offers(self) -> dict[str, Offer]:
        """An offer for each option, by option id."""
        return {entry.id: self.quick_offer(entry.film_by_pane) for entry in self.options}

    def quick_offer(self, film_by_pane: tuple[str | None, ...]) -> Offer:
        """Return the offer for films on panes, made once for all changes."""
        key = (self._panes, film_by_pane)
        known: Offer | None = self._store.get("cut_plans", key)
        if known is None:
            made = offer(film_by_pane, self.loaded, self.films, mode="quick")
            known = self._store.put("cut_plans", key, made)
        return known

    @cached_property
    def room_years(self) -> tuple[RoomYear, ...]:
        """The year of every described room under each option."""
        if self.no_rooms:
            return ()
        return tuple(self._room_year(room) for room in self.job.rooms if room.heat)

    def _room_year(self, room: Room) -> RoomYear:
        mine = [index for index, pane in enumerate(self.job.panes) if pane.room == room.id]
        growth = self.job.energy.growth_percent if self.job.energy else None
        common = (room, growth, self.bins.index.tobytes())
        keys = [(*common, tuple(entry.film_by_pane[at] for at in mine)) for entry in self.options]
        known = {key: self._store.get("rooms", key) for key in keys}
        missing = {key: entry for key, entry in zip(keys, self.options, strict=True) if known[key] is None}
        if missing:
            year = room_year(
                room,
                tuple(missing.values()),
                self.loaded,
                self.filmed,
                self.skies,
                self.bins,
                self.job.energy,
            )
            for at, key in enumerate(missing):
                known[key] = self._store.put("rooms", key, _one(year, at))
        return _together([known[key] for key in keys])


def _one(year: RoomYear, at: int) -> RoomYear:
    """Return one option's part of a room's year."""
    parts: dict[str, Any] = {name: part.take([at], axis=axis) for name, part, axis in _by_option(year)}
    return replace(year, **parts)


def _together(years: Sequence[RoomYear]) -> RoomYear:
    """Return a room's year with the options of several."""
    columns = zip(*(_by_option(year) for year in years), strict=True)
    joined: dict[str, Any] = {
        column[0][0]: np.concatenate([part for _, part, _ in column], axis=column[0][2]) for column in columns
    }
    return replace(years[0], **joined)


def _by_option(year: RoomYear) -> list[tuple[str, np.ndarray, int]]:
    """Return the arrays of a room's year that have options, and on which axis: (B, O, S) or (O, S)."""
    parts = [(entry.name, getattr(year, entry.name)) for entry in fields(year)]
    return [(name, part, part.ndim - 2) for name, part in parts if isinstance(part, np.ndarray)]


class WhatIf:
    """Answers what a decision would change, quickly.

    Parameters
    ----------
    study
        The study of the job as it stands. Its recommendation is worked out here and then stays.

    Examples
    --------
    >>> desk = WhatIf(Study.open("jobs/corner-shop"))  # doctest: +SKIP
    >>> desk.study(desk.start(date)).chosen.id  # doctest: +SKIP
    """

    def __init__(self, study: Study) -> None:
        self.base = study
        self.store = Store()
        self.recommended = study.recommended

    def single(self, names: Iterable[str]) -> None:
        """Make some panes of rows of several panes of their own; what is recommended goes on as it was."""
        base = self.base
        names = tuple(names)
        job, written = (singled(one, names) for one in (base.job, self.written))
        if job is base.job:
            return
        study = Study(replace(base.loaded, job=job, written=written))
        vars(study).update({name: getattr(base, name) for name in OF_NO_PANE})
        at = base.job.numbers
        of = (at[pane.id] if pane.id in at else at[pane.row] for pane in job.panes)
        films = tuple(base.recommended.film_by_pane[number] for number in of)
        self.recommended = study.known_or_made(base.recommended.id, films)
        vars(study)["advised"] = replace(base.advised, option=self.recommended)
        self.base = study

    def in_parts(self, job: Job) -> Job:
        """Return a job, read again, with the same panes singled out as here."""
        return singled(job, (pane.id for pane in self.base.job.panes if pane.number))

    @property
    def written(self) -> Job:
        """The job as its files give it, before any decision."""
        return self.base.loaded.written

    def study(self, decision: Decision, *, room: str | None = None) -> Changed:
        """Return the study of the job under a decision.

        Parameters
        ----------
        decision
            What is tried.
        room
            The room looked at: its worst hour, its hot hours. None for the one complained of.
        """
        self.single((*decision.films.panes, *decision.panes_out))
        job = follow(self.written, decision)
        if room is not None:
            job = job.model_copy(update={"complaint": job.complaint.model_copy(update={"room": room})})
        return Changed(self.base, job, self.store)

    def start(self, date: dt.date) -> Decision:
        """Return the decision from which a talk starts: the one in force, else the films the job stands for.

        Every face has its film by name, and every pane left out its reason.
        """
        last = self.base.job.decisions[-1] if self.base.job.decisions else Decision(date=date)
        wanted = opt.wanted_films(self.base.loaded)
        why = BY_JOB if wanted else FOR_BUDGET
        if wanted is None:
            wanted = self._recommended_films()
        faces = self._faces(wanted, last)
        films: dict[str, str] = {}
        out: dict[str, str] = {}
        for pane, film in zip(self.base.job.panes, wanted, strict=True):
            if pane.id in last.panes_out:
                out[pane.id] = last.panes_out[pane.id]
            elif film is None and faces[pane.face] is not None:
                out[pane.id] = BY_JOB if self.base.job.film_named(pane) == BARE else why
            elif film != faces[pane.face]:
                films[pane.id] = film or BARE
        choice = Choice(faces={name: film or BARE for name, film in faces.items()}, panes=films)
        return last.model_copy(update={"date": date, "films": choice, "panes_out": out})

    def _recommended_films(self) -> tuple[str | None, ...]:
        """Return what the recommendation puts on each pane; a pane the film cannot go on counts as wanted."""
        best = self.recommended
        film = best.films[0] if best.films else None
        refused = dict(best.bare_because)
        return tuple(
            film if pane.id in refused else own
            for pane, own in zip(self.base.job.panes, best.film_by_pane, strict=True)
        )

    def _faces(self, wanted: Sequence[str | None], last: Decision) -> dict[str, str | None]:
        """Return the film of each face: the one decided on, else the one most of its panes want."""
        found: dict[str, str | None] = {}
        for face in self.base.job.faces:
            words = [
                film
                for pane, film in zip(self.base.job.panes, wanted, strict=True)
                if pane.face == face.id and pane.id not in last.panes_out
            ]
            most = max(words, key=words.count) if words else last.films.job
            named = last.films.faces.get(face.id, most)
            found[face.id] = named if named in self.base.films else None
        return found

    def overrides(self, decision: Decision) -> bool:
        """Return whether a decision puts another film than the recommended one on a pane that stays in."""
        chosen = self.study(decision).chosen
        return any(
            film != best and pane.id not in decision.panes_out
            for pane, film, best in zip(
                self.base.job.panes, chosen.film_by_pane, self.recommended.film_by_pane, strict=True
            )
        )

    def unexplained(self, decision: Decision) -> tuple[str, ...]:
        """Return what a decision still lacks a reason for: panes by their id, ``overrides`` for the films."""
        panes = [name for name, reason in decision.panes_out.items() if not reason.strip()]
        films = ["overrides"] if self.overrides(decision) and not decision.overrides.strip() else []
        return (*panes, *films)
