"""Films, glazings and prices kept for many jobs in ``_shared``, put together with the job's own.

A job's own film or glazing of the same ``id`` overrides the shared one field by field; prices likewise.
Shared money has a currency, given at the top of its file; shared lengths carry their unit, for jobs
in inches and in millimetres read the same file.
"""

from __future__ import annotations

import difflib
from dataclasses import dataclass, field
from typing import Any

from reportkit.base.errors import Fault
from reportkit.base.translatable import translatable
from reportkit.job.model import Job
from reportkit.job.model.prices import Prices
from reportkit.job.model.typed import is_bare
from reportkit.job.reading.book import read_book
from reportkit.job.reading.files import Folders, clipped
from reportkit.job.reading.names import alike
from reportkit.job.reading.positions import Positions, in_words
from reportkit.job.reading.words import plain_words
from reportkit.job.reading.yamltree import Tree, read_tree

KINDS = ("films", "glazings", "prices")
#: Prices that are no amounts of money, so that their file's currency does not matter.
_NO_MONEY = (
    "currency",
    "dated",
    "margin_percent",
    "margin_on",
    "film_charged",
    "overtime_after_hours",
    "overtime_percent",
    "tax",
)


@dataclass
class Merged:
    """What came of a job's raw tree and the shared entries.

    How many it uses, faults, the ids on offer; which rates are shared ones, and the file they stand in.
    """

    used: int = 0
    faults: list[Fault] = field(default_factory=list)
    ids: dict[str, list[str]] = field(default_factory=dict)
    rates: list[str] = field(default_factory=list)
    rates_from: str = ""


def merge_shared(
    raw: dict[str, Any], positions: Positions, folders: Folders, wanted: dict[str, set[str]]
) -> Merged:
    """Put shared films, glazings and prices into a job's raw tree, in place.

    Parameters
    ----------
    raw
        The job as read, texts only.
    positions
        Where each entry stands; shared ones are added.
    folders
        The folders that may be read.
    wanted
        Films and glazings that the job names, as `alike`; no films named means all of them.
    """
    merged = Merged()
    if folders.shared is None:
        return merged
    for kind in KINDS:
        already = len(folders.read)
        tree, faults = read_shared(folders, kind)
        merged.faults += faults
        before = merged.used
        if tree is not None:
            plain_words(Prices if kind == "prices" else Job, tree.value)
            if kind == "prices":
                _prices(raw, positions, tree, merged)
            else:
                _entries(kind, raw, positions, tree, merged, wanted[kind])
        if merged.used == before and not faults:
            del folders.read[already:]
    return merged


def offered(folders: Folders) -> Merged:
    """Return the ids that ``_shared`` offers, without using anything of it, and its faults."""
    used = {"films": {""}, "glazings": {""}, "prices": {""}}
    return merge_shared({}, Positions(), folders, used)


def read_shared(folders: Folders, kind: str) -> tuple[Tree | None, list[Fault]]:
    """Return what a file of ``_shared`` holds, None where there is none, and the faults of its form.

    Parameters
    ----------
    folders
        The folders that may be read.
    kind
        One of `KINDS`: the file is its YAML or its workbook.
    """
    assert folders.shared is not None, "asked for only where there is such a folder"
    paths = [folders.shared / f"{kind}{ending}" for ending in (".yaml", ".xlsx")]
    paths = [path for path in paths if path.exists() or path.is_symlink()]
    if len(paths) > 1:
        shown, other = (folders.shown(path) for path in reversed(paths))
        hint = translatable("keep the one that is right and take the other out of the folder")
        return None, [
            Fault(shown, 0, "", translatable("must not be beside {other}", other=other), None, hint)
        ]
    if not paths:
        return None, []
    shown = folders.shown(paths[0])
    if paths[0].suffix == ".yaml":
        text, faults = folders.text(paths[0])
        tree, more = read_tree(shown, text) if text is not None else (None, [])
        return tree, faults + more
    data, faults = folders.data(paths[0])
    book = read_book(shown, data, panes=False) if data is not None else []
    if isinstance(book, list):
        return None, faults + book
    return (_flat(book.tree) if kind == "prices" else book.tree), faults + book.faults


def _flat(tree: Tree) -> Tree:
    """Return the tree of a workbook's prices as their YAML has it, each rate at the top."""
    prices = tree.value.pop("prices", {})
    positions = {path[path[:1] == ("prices",) :]: place for path, place in tree.positions.items()}
    return Tree(tree.shown, tree.value | prices, positions)


def _unknown(tree: Tree, known: tuple[str, ...], merged: Merged) -> None:
    for name in tree.value:
        if name not in known:
            close = difflib.get_close_matches(name, known, 1, 0.5)
            hint = (
                translatable("did you mean {word}?", word=close[0])
                if close
                else translatable("fields here are {names}", names=", ".join(known))
            )
            place = tree.at((name,))
            merged.faults.append(
                Fault(*place, name, translatable("is not a field here"), clipped(name), hint)
            )


def _currency(raw: dict[str, Any], tree: Tree, merged: Merged, taken: list[str]) -> None:
    """Report a shared file whose money is not the job's, with the fields of the job that took some of it."""
    currency, wanted = tree.value.get("currency"), raw.get("currency")
    place = tree.at(("currency",))
    if not isinstance(currency, str):
        hint = translatable("write currency: at the top, such as currency: USD")
        merged.faults.append(Fault(*place, "currency", translatable("must be given"), None, hint))
    elif isinstance(wanted, str) and currency != wanted:
        rule = translatable(
            "must be the job's currency, {wanted}, where the job uses these prices", wanted=clipped(wanted)
        )
        hint = translatable("give the job its own {fields}", fields=", ".join(taken))
        merged.faults.append(Fault(*place, "currency", rule, clipped(currency), hint))


def _prices(raw: dict[str, Any], positions: Positions, tree: Tree, merged: Merged) -> None:
    own = raw.setdefault("prices", {})
    if not isinstance(own, dict):
        return
    currency = tree.value.get("currency")
    if "business" not in raw and isinstance(currency, str) and currency != raw.get("currency"):
        return  # one's own windows need no prices, and these are somebody else's
    taken = []
    merged.rates_from = tree.shown
    for name, value in tree.value.items():
        if name == "currency" or value is None:
            continue
        if isinstance(value, dict) and isinstance(own.get(name), dict):
            missing = [n for n, part in value.items() if part is not None and own[name].get(n) is None]
            for inner in missing:
                own[name][inner] = value[inner]
                positions.graft(("prices", name, inner), tree, (name, inner))
            if missing:
                merged.rates.append(name)
        elif own.get(name) is None:
            own[name] = value
            positions.graft(("prices", name), tree, (name,))
            merged.rates.append(name)
        else:
            continue
        if name not in _NO_MONEY:
            taken.append(f"prices.{name}")
        merged.used += 1
    if taken:
        _currency(raw, tree, merged, taken)


def _entries(
    kind: str, raw: dict[str, Any], positions: Positions, tree: Tree, merged: Merged, wanted: set[str]
) -> None:
    known = ("currency", kind) if kind == "films" else (kind,)
    _unknown(tree, known, merged)
    entries = tree.value.get(kind)
    if not isinstance(entries, list):
        hint = translatable("write {kind}: and the entries below it, each starting with a dash", kind=kind)
        merged.faults.append(Fault(*tree.at((kind,)), kind, translatable("must be a list"), None, hint))
        return
    own = raw.setdefault(kind, [])
    if not isinstance(own, list):
        return
    seen: dict[str, str] = {}
    priced = []
    for index, entry in enumerate(entries):
        place = tree.at((kind, index))
        name = entry.get("id") if isinstance(entry, dict) else None
        if not isinstance(entry, dict) or not isinstance(name, str):
            rule = translatable("must be a group of fields that starts with id")
            merged.faults.append(Fault(*place, f"{kind}.{index + 1}", rule, clipped(entry)))
            continue
        if alike(name) in seen:
            hint = translatable("the first is in {place}", place=seen[alike(name)])
            rule = translatable("must be an id used once")
            merged.faults.append(Fault(*place, f"{kind}.{name}.id", rule, name, hint))
            continue
        seen[alike(name)] = in_words(place)
        merged.ids.setdefault(kind, []).append(name)
        mine = [
            n
            for n, other in enumerate(own)
            if isinstance(other, dict) and alike(str(other.get("id"))) == alike(name)
        ]
        if not mine and alike(name) not in wanted and (wanted or kind == "glazings"):
            continue
        merged.used += 1
        at = mine[0] if mine else len(own)
        if not mine:
            own.append({})
        used_rolls = False
        for part, value in entry.items():
            if own[at].get(part) is None and value is not None:
                own[at][part] = value
                positions.graft((kind, at, part), tree, (kind, index, part))
                used_rolls = used_rolls or part == "rolls"
        if not mine:
            positions.graft((kind, at), tree, (kind, index), deep=False)
        if used_rolls:
            priced.append(f"films.{name}.rolls")
            _bare_lengths(entry.get("rolls"), tree, (kind, index, "rolls"), name, merged)
    if priced:
        _currency(raw, tree, merged, priced)


def _bare_lengths(rolls: Any, tree: Tree, path: tuple[str | int, ...], name: str, merged: Merged) -> None:
    for index, roll in enumerate(rolls if isinstance(rolls, list) else []):
        for part in ("width", "length", "step"):
            value = roll.get(part) if isinstance(roll, dict) else None
            if isinstance(value, str) and is_bare(value):
                place = tree.at((*path, index, part))
                rule = translatable(
                    "must carry its unit in a shared file, which jobs in inches and in millimetres read"
                )
                shown = f"films.{name}.rolls.{index + 1}.{part}"
                hint = translatable("such as {value} in or {value} mm", value=value)
                merged.faults.append(Fault(*place, shown, rule, clipped(value), hint))
