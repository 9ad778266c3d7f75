"""Findings of what has changed since the offer that the client has, and the letter that tells offers apart.

The first offer is A. A run that says what the client already has keeps its letter; one that says anything
else takes the letter after the last one sent. Only what `status.offered` of the job names was sent. Numbers
are compared as stored, sizes to what a tape is read to. Not compared: reasons, cut plan, kit.
"""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Iterator, Mapping, Sequence
from decimal import Decimal
from itertools import count, islice
from typing import TYPE_CHECKING, Any, Literal

from pydantic import ValidationError

from reportkit.findings.glass import PaneFound, fill_panes
from reportkit.findings.labelled import SAME_MM
from reportkit.findings.offer import fill_price
from reportkit.findings.options import OptionFound, fill_options
from reportkit.findings.result import Result, as_json
from reportkit.findings.ways import fill_ways
from reportkit.job.model.issued import Issued, PaneWas

if TYPE_CHECKING:
    from reportkit.job.model import Job
    from reportkit.study import Study

#: Of a quote what it binds the client by; its number and day may change without another offer.
TERMS = ("valid_until", "deposit_percent", "terms", "warranty")

#: What a glazing is called says nothing of its glass.
NAMES = ("id", "name", "note")

Kind = Literal["added", "dropped", "size", "glass", "film"]
Key = tuple[str, int]


class PaneBefore(Result):
    """A pane as it was."""

    room: str
    """The name of its room."""
    width_mm: float
    """Width of its glass in sight [mm]."""
    height_mm: float
    """Height of its glass in sight [mm]."""
    shape: str | None
    """What it was if no rectangle."""
    glazing: str
    """The name of its glazing."""
    film: str | None
    """The name of its film; null for none."""


class PaneChange(Result):
    """Panes of one row of the survey that changed in the same way."""

    panes: tuple[str, ...]
    """The row, or those of it that changed: ``L1.2`` is the second of row ``L1``."""
    room: str
    """Their room."""
    count: int
    """How many they are."""
    kinds: tuple[Kind, ...]
    """What changed."""
    film: str | None
    """The film they get now; null for none."""
    before: PaneBefore | None
    """What they were; null for those added."""


class SentFound(Result):
    """The offer that the client has."""

    letter: str
    """Its letter."""
    date: dt.date
    """The day it was sent."""
    run: int | None
    """Its run; null where it is not kept."""


class Before(Result):
    """What it said."""

    currency: str
    """ISO 4217."""
    total: Decimal
    """What was to pay [currency]."""
    kinds: tuple[str, ...]
    """Of what is asked about now, what was asked about then, of the same room."""
    options: tuple[OptionFound, ...]
    """Doing nothing, and what was offered; empty where they cannot be read."""


class RevisionFound(Result):
    """The letter of this offer, and what has changed since the one that the client has."""

    letter: str
    """Its letter."""
    since: SentFound | None
    """The offer that the client has; null where none was sent."""
    not_compared: Literal["", "not_kept", "earlier_version"]
    """Why it is not known what has changed; empty where it is, or where nothing was sent."""
    panes: tuple[PaneChange, ...]
    """The panes that changed."""
    price: bool
    """Whether the price changed."""
    result: bool
    """Whether what it does to the sun's heat or the hot hours changed."""
    ways: bool
    """Whether the other ways beside it changed, or their prices."""
    terms: bool
    """Whether the terms changed."""
    before: Before | None
    """What the client has; null where it is not compared."""

    @property
    def changed(self) -> bool:
        """Whether anything is known to have changed."""
        return bool(self.panes or self.price or self.result or self.ways or self.terms)


def letter_of(place: int) -> str:
    """Return the letter of the offer at a place, the first at 0: A to Z, then AA."""
    letters = ""
    while place >= 0:
        place, rest = divmod(place, 26)
        letters, place = chr(ord("A") + rest) + letters, place - 1
    return letters


def place_of(letter: str) -> int:
    """Return the place of a letter, the reverse of `letter_of`."""
    place = 0
    for sign in letter:
        place = place * 26 + ord(sign) - ord("A") + 1
    return place - 1


def fill_revision(study: Study) -> RevisionFound:
    """Return this offer's letter and what has changed since the offer that the client has."""
    status, issued = study.job.status, study.loaded.issued
    plain: dict[str, Any] = {"not_compared": "", "panes": (), "before": None}
    plain |= dict.fromkeys(("price", "result", "ways", "terms"), False)
    if status.agreed is None:
        return RevisionFound(letter=letter_of(0), since=None, **plain)
    letters = [
        was.revision.letter if was and was.revision else letter_of(place) for place, was in enumerate(issued)
    ]
    following = letter_of(max(map(place_of, letters)) + 1)
    sent, was = status.offered[status.agreed], issued[status.agreed]
    since = SentFound(letter=letters[status.agreed], date=sent.date, run=sent.run)
    if was is None:
        why = "not_kept" if sent.run is None else "earlier_version"
        return RevisionFound(letter=following, since=since, **plain | {"not_compared": why})
    now, options, price = fill_panes(study), fill_options(study), fill_price(study)
    asked, then = study.job.complaint, was.job.complaint
    before = Before(
        currency=was.price.currency,
        total=was.price.total,
        kinds=tuple(kind for kind in asked.kinds if kind in then.kinds and asked.room == then.room),
        options=_options(was),
    )
    made = RevisionFound(
        letter=since.letter,
        since=since,
        not_compared="",
        panes=tuple(_changes(study.job, now, was)),
        price=(price.total, price.currency) != (was.price.total, was.price.currency),
        result=_moved(before.options, options),
        ways=_beside(fill_ways(study)) != _beside(was.ways),
        terms=not _alike(*(_terms(quote) for quote in (as_json(study.job.quote), was.job.quote))),
        before=before,
    )
    return made.model_copy(update={"letter": following}) if made.changed else made


def _options(was: Issued) -> tuple[OptionFound, ...]:
    """Return the options of an earlier run, none where another version stored them otherwise."""
    try:
        options = tuple(OptionFound.model_validate(one) for one in was.options)
    except ValidationError:
        return ()
    whole = any(one.kind == "none" for one in options) and any(one.chosen for one in options)
    return options if whole else ()


def _moved(before: Sequence[OptionFound], now: Sequence[OptionFound]) -> bool:
    """Return whether what is offered lets in other heat, or leaves other hot hours, than it did."""
    if not before:
        return False
    then, here = (next(one for one in options if one.chosen) for options in (before, now))
    hours = [one.hot_hours and one.hot_hours.p50 for one in (then, here)]
    return not (_alike(then.peak_solar_w, here.peak_solar_w) and _alike(*hours))


def _beside(ways: Sequence[Any]) -> list[tuple[Any, ...]]:
    """Return the ways beside the one offered."""
    return [(way.name, way.better, way.total) for way in ways if not way.offered]


def _terms(quote: Mapping[str, Any] | None) -> dict[str, Any]:
    return {name: (quote or {}).get(name) for name in TERMS}


def _alike(one: Any, other: Any) -> bool:
    """Return whether two stored values are the same; of two records what both hold counts."""
    if isinstance(one, Mapping) and isinstance(other, Mapping):
        return all(_alike(one[name], other[name]) for name in one.keys() & other.keys() - set(NAMES))
    if isinstance(one, (list, tuple)) and isinstance(other, (list, tuple)):
        return len(one) == len(other) and all(map(_alike, one, other))
    if isinstance(one, (int, float)) and isinstance(other, (int, float)):
        return math.isclose(one, other, rel_tol=1e-6, abs_tol=1e-9)
    return bool(one == other)


def _singles(panes: Sequence[PaneFound] | Sequence[PaneWas]) -> dict[Key, Any]:
    """Return each pane by its row and its number there, from 1; those singled out keep theirs."""
    out = {(pane.id.removesuffix(f".{pane.number}"), pane.number): pane for pane in panes if pane.number}
    singles: dict[Key, Any] = {}
    for pane in panes:
        if pane.number:
            singles[pane.id.removesuffix(f".{pane.number}"), pane.number] = pane
            continue
        free = (number for number in count(1) if (pane.id, number) not in out)
        singles |= {(pane.id, number): pane for number in islice(free, pane.quantity)}
    return singles


def _changes(job: Job, now: Sequence[PaneFound], was: Issued) -> Iterator[PaneChange]:
    """Yield what changed, row by row: those of now in their order, then those that are gone."""
    here, there = _singles(now), _singles(was.panes)
    films, rooms = ({one.id: one.name for one in of} for of in (was.job.films, was.job.rooms))
    glass = {entry.get("id"): entry for entry in was.job.glazings}
    glazings = {glazing.id: as_json(glazing) for glazing in job.glazings}
    rows = {row: place for place, (row, _) in enumerate(dict.fromkeys((*here, *there)))}
    groups: dict[tuple[Any, ...], list[Key]] = {}
    for key in sorted(here.keys() | there.keys(), key=lambda key: (rows[key[0]], key[1])):
        one, other = here.get(key), there.get(key)
        kinds = _kinds(one, other, glazings, glass)
        if not kinds:
            continue
        before = other and PaneBefore(
            room=rooms.get(other.room) or other.room,
            width_mm=other.width_mm,
            height_mm=other.height_mm,
            shape=other.shape,
            glazing=str(glass.get(other.glazing, {}).get("name") or other.glazing),
            film=other.film and (films.get(other.film) or other.film),
        )
        film, either = one and one.film, one or other
        groups.setdefault((key[0], kinds, before, film, either and either.room), []).append(key)
    for (row, kinds, before, film, room), keys in groups.items():
        whole = len(keys) == sum(key[0] == row for key in here.keys() | there.keys())
        panes = (row,) if whole else tuple(f"{row}.{number}" for _, number in keys)
        yield PaneChange(panes=panes, room=room, count=len(keys), kinds=kinds, film=film, before=before)


def _kinds(
    now: PaneFound | None, was: PaneWas | None, glazings: Mapping[str, Any], glass: Mapping[Any, Any]
) -> tuple[Kind, ...]:
    """Return what changed at one pane."""
    if was is None:
        return ("added",)
    if now is None:
        return ("dropped",)
    kinds: list[Kind] = []
    apart = max(abs(now.width_mm - was.width_mm), abs(now.height_mm - was.height_mm))
    if apart > SAME_MM or now.shape != was.shape:
        kinds.append("size")
    old = glass.get(was.glazing)
    if old is not None and not _alike(glazings[now.glazing], old):
        kinds.append("glass")
    if now.film != was.film:
        kinds.append("film")
    return tuple(kinds)
