"""``decisions.yaml``: what was decided about a job after its survey, read and checked.

It holds decisions, and the ways to choose from that were put together at the table: these stand in place of
those of the job file, an empty list in place of any.

The newest decision is the one in force, whole; earlier decisions are history. A person may write the file by
hand. What was decided is checked like the rest of the job: every name must be known, every pane left out must
have its reason.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from reportkit.base.errors import Fault
from reportkit.base.translatable import translatable
from reportkit.job.model.decisions import BARE
from reportkit.job.reading.files import Folders, clipped
from reportkit.job.reading.messages import Loc
from reportkit.job.reading.positions import Positions
from reportkit.job.reading.rules import Rules
from reportkit.job.reading.yamltree import read_tree

DECISIONS_FILE = "decisions.yaml"

#: The job's fields that may stand there.
FIELDS = ("decisions", "alternatives")


def read(folders: Folders, raw: dict[str, Any], positions: Positions) -> list[Fault]:
    """Put the decisions of ``decisions.yaml``, where there is one, into a job's raw tree.

    Parameters
    ----------
    folders
        The folders that may be read.
    raw
        The job as read, texts only.
    positions
        Where each entry stands; the decisions' are added.
    """
    text, faults = folders.optional(DECISIONS_FILE)
    if text is None:
        return faults
    tree, more = read_tree(DECISIONS_FILE, text)
    faults += more
    if tree is None:
        return faults
    for name in tree.value:
        if name not in FIELDS:
            line, rule = tree.at((name,))[1], translatable("is not a field here")
            hint = translatable(
                "the fields here are {one} and {other}, lists", one=FIELDS[0], other=FIELDS[1]
            )
            faults.append(Fault(DECISIONS_FILE, line, name, rule, clipped(name), hint))
    for name in FIELDS:
        if tree.value.get(name) is not None:
            raw[name] = tree.value[name]
            positions.graft((name,), tree, (name,))
    return faults


def names_of(raw: Mapping[str, Any]) -> set[str]:
    """Return the films that the decision in force and the ways to choose from name."""
    named: set[str] = set()
    decided, ways = (raw.get(name) for name in FIELDS)
    entries = decided[-1:] if isinstance(decided, list) else []
    for entry in [*entries, *(ways if isinstance(ways, list) else [])]:
        films = entry.get("films") if isinstance(entry, dict) else None
        if isinstance(films, dict):
            groups = [films[kind] for kind in ("faces", "panes") if isinstance(films.get(kind), dict)]
            words = [films.get("job"), *(word for group in groups for word in group.values())]
            named |= {word for word in words if isinstance(word, str)}
    return named


def check(rules: Rules) -> None:
    """Report days out of order; of the decision in force, names the job does not have and reasons not given.

    Panes that the survey no longer has are no fault: what was decided of them lapses, and is told (`lapsed`),
    and so does what a way put together at the table says of them (`lapsed_in`).
    Earlier decisions are history: the panes, films and rooms they name may be gone.
    """
    entries = list(rules.records("decisions"))
    last = ""
    for index, entry in entries:
        day = str(entry.get("date") or "")
        if day and day < last:
            rule = translatable("must not be before the decision above it ({last})", last=last)
            rules.fault(("decisions", index, "date"), rule, day, translatable("newest last"))
        last = day or last
    for index, way in rules.records("alternatives"):
        films_at: Loc = ("alternatives", index, "films")
        if isinstance(way.get("films"), dict):
            kept = rules.positions.find(films_at)[0] == DECISIONS_FILE
            rules.choice(films_at, way["films"], lapsing=kept)
    rooms = rules.by_id("rooms")
    for index, entry in entries[-1:]:
        at: tuple[str | int, ...] = ("decisions", index)
        films = _group(entry, "films")
        out = _group(entry, "panes_out")
        rules.choice((*at, "films"), films, lapsing=True)
        for name, reason in out.items():
            here = (*at, "panes_out", name)
            if not isinstance(reason, str) or not reason.strip():
                rules.fault(
                    here,
                    translatable("must give the reason"),
                    hint=translatable("such as {name}: the client keeps a poster there", name=name),
                )
            if _group(films, "panes").get(name) not in (None, BARE):
                rules.fault(
                    here,
                    translatable("must not be out where films.panes names a film for it"),
                    name,
                    translatable("remove one"),
                )
        if out and not any(films.get(part) for part in ("job", "faces", "panes")):
            hint = translatable("say which film the other panes get, such as films: {{job: grey-40}}")
            rules.fault((*at, "films"), translatable("must be given where panes are left out"), hint=hint)
        for name in _group(entry, "set_points"):
            here = (*at, "set_points", name)
            rules.known(here, name, translatable("a room of this job"), "rooms", list(rooms))
            if name in rooms and not _group(_group(rooms[name], "heat"), "cooling"):
                rules.fault(
                    here,
                    translatable("must be a room whose cooling the job describes"),
                    name,
                    translatable("see rooms in job.yaml"),
                )


def _group(entry: Mapping[str, Any], name: str) -> dict[str, Any]:
    value = entry.get(name)
    return value if isinstance(value, dict) else {}
