"""Names that a job refers to, taken as their entries write them: ``Grey-40`` for the film ``grey-40``.

Two ways to write a name are alike where they differ in capitals, in spaces, or in how an accented letter is
put together (Unicode Standard Annex 15: NFC). A reference that is alike to one name only is that name, and
it is told; one that is alike to several is left for the rules to refuse.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from reportkit.base.errors import Fault
from reportkit.base.translatable import translatable
from reportkit.job.model.decisions import BARE
from reportkit.job.model.readings import OPEN
from reportkit.job.reading.positions import Positions, field_name
from reportkit.job.reading.sides import OUTSIDE
from reportkit.job.reading.survey import Row
from reportkit.job.reading.yamltree import Path

#: Where the names of each kind are referred to: ``*`` is each entry or value, ``@`` each name of a group.
_CHOICE = {
    "films": ("{}.job", "{}.faces.*", "{}.panes.*"),
    "faces": ("{}.faces.@",),
    "panes": ("{}.panes.@",),
}
_CHOICES = ("choice", "alternatives.*.films", "decisions.*.films")
_REFERENCES = {
    "rooms": ("complaint.room", "decisions.*.set_points.@"),
    "horizons": ("faces.*.horizon",),
    "glazings": ("approvals.*.glazing",),
    "films": ("compare.*", "approvals.*.film"),
    "panes": ("approvals.*.panes.*", "decisions.*.panes_out.@", "readings.*.pane", "readings.*.beside"),
    "fuels": ("rooms.*.heat.heating.fuel",),
    "faces": (),
}
_COLUMNS = {"room": "rooms", "face": "faces", "glazing": "glazings", "horizon": "horizons", "film": "films"}
#: Words that stand beside the names of a kind.
_BESIDE = {"films": (BARE,), "panes": (OPEN,), "fuels": ("electricity",)}

Change = Callable[[Path, str], str]


def alike(name: str) -> str:
    """Return a name as it is compared: small letters, composed, with one space between words."""
    return " ".join(unicodedata.normalize("NFC", unicodedata.normalize("NFC", name).casefold()).split())


@dataclass
class Names:
    """The names of one job by what they are compared as, and what was taken for them.

    Attributes
    ----------
    known
        The names of each kind, by `alike`; empty where several names are alike.
    taken
        One for each other way in which a name was written: where first, and what it was read as.
    """

    known: dict[str, dict[str, str]]
    taken: dict[tuple[str, str], Fault] = field(default_factory=dict)

    @classmethod
    def of(cls, raw: Mapping[str, Any], rows: Iterable[Row]) -> Names:
        """Return the names of a job as read, texts only, and of its survey."""
        ids = {kind: [*_ids(raw.get(kind)), *_BESIDE.get(kind, ())] for kind in _REFERENCES}
        ids["films"] += [f"{entry['id']}{OUTSIDE}" for entry in _entries(raw.get("films"))
                         if entry.get("side") == "either" and isinstance(entry.get("id"), str)]  # fmt: skip
        energy = raw.get("energy")
        ids["fuels"] += _ids(energy.get("fuels")) if isinstance(energy, dict) else []
        ids["panes"] += [row.cells["id"] for row in rows if "id" in row.cells]
        return cls({kind: _told_apart(names) for kind, names in ids.items()})

    def take(self, raw: dict[str, Any], positions: Positions, rows: list[Row], survey: str) -> None:
        """Put the names as their entries write them in place of every reference, and note what was taken."""
        for row in rows:
            for column, kind in _COLUMNS.items():
                typed = row.cells.get(column)
                if typed is None:
                    continue
                name = self._meant(kind, typed)
                if name != typed:
                    row.raw[column] = row.cells[column] = name
                    self._note(kind, typed, name, Fault(survey, row.line, column, ""))
        for kind, patterns in _REFERENCES.items():
            whole = [part.format(choice) for choice in _CHOICES for part in _CHOICE.get(kind, ())]
            for pattern in (*patterns, *whole):

                def change(path: Path, typed: str, kind: str = kind) -> str:
                    name = self._meant(kind, typed)
                    if name != typed:
                        self._note(kind, typed, name, Fault(*positions.find(path), field_name(path, raw), ""))
                    return name

                _turn(raw, pattern.split("."), (), change, positions)

    def _meant(self, kind: str, typed: str) -> str:
        """Return the name that a reference means, or what was typed where none or several are alike to it."""
        known = self.known[kind]
        row, dot, number = typed.rpartition(".")
        if kind == "panes" and dot and number.isdecimal() and alike(typed) not in known:
            return f"{known.get(alike(row), row)}.{number}"  # one of a row of several
        return known.get(alike(typed), typed)

    def _note(self, kind: str, typed: str, name: str, place: Fault) -> None:
        rule = translatable(
            "{typed} is read as {name}: they differ in capitals, spaces or accents alone",
            typed=typed,
            name=name,
        )
        self.taken.setdefault((kind, typed), replace(place, rule=rule))


def _entries(value: Any) -> list[dict[str, Any]]:
    return [entry for entry in value if isinstance(entry, dict)] if isinstance(value, list) else []


def _ids(value: Any) -> list[str]:
    return [entry["id"] for entry in _entries(value) if isinstance(entry.get("id"), str)]


def _told_apart(names: Iterable[str]) -> dict[str, str]:
    """Return names by what they are compared as, without those that are alike."""
    together: dict[str, set[str]] = {}
    for name in names:
        together.setdefault(alike(name), set()).add(name)
    return {key: next(iter(same)) for key, same in together.items() if len(same) == 1}


def _turn(node: Any, parts: list[str], path: Path, change: Change, positions: Positions) -> None:
    """Change the names that a pattern leads to, in place."""
    head, *rest = parts
    if head == "@":
        if isinstance(node, dict):
            _turn_names(node, path, change, positions)
        return
    if isinstance(node, list):
        keys: Iterable[Any] = range(len(node)) if head == "*" else ()
    else:
        keys = [*node] if isinstance(node, dict) and head == "*" else [head]
    for key in keys:
        below = node.get(key) if isinstance(node, dict) else node[key] if isinstance(node, list) else None
        if rest:
            _turn(below, rest, (*path, key), change, positions)
        elif isinstance(below, str):
            node[key] = change((*path, key), below)


def _turn_names(node: dict[str, Any], path: Path, change: Change, positions: Positions) -> None:
    """Change the names of a group, each in its place; one that another has already stays."""
    for typed, value in [*node.items()]:
        del node[typed]  # and put back behind the others, so that their order stays
        name = change((*path, typed), typed)
        name = typed if name in node else name
        node[name] = value
        if name != typed:
            positions.known[(*path, name)] = positions.find((*path, typed))
