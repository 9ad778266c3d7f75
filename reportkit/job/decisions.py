"""``decisions.yaml``: what was decided about a job after its survey, dated, with the reasons.

The newest decision is the one in force, whole: its films, panes left out, set points, tariff and budget
take the place of the job's own, and earlier decisions are history. A person may write the file by hand;
``keep`` adds to it. What was decided is checked like the rest of the job: every name must be known, every
pane left out must have its reason.
"""

from __future__ import annotations

import io
import os
from collections.abc import Mapping
from decimal import Decimal
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

from pydantic import Field

from reportkit.errors import Fault, InputError
from reportkit.job.files import UNPRINTABLE, Folders, clipped
from reportkit.job.places import Places
from reportkit.job.quantities import TEMPERATURE, Temperature
from reportkit.job.typed import Day, Money, Record, Text
from reportkit.job.yamltree import read_tree
from reportkit.units import two_readings

if TYPE_CHECKING:
    from reportkit.job.models import Job
    from reportkit.job.rules import Rules

DECISIONS_FILE = "decisions.yaml"
BARE = "none"

_HEAD = "Decisions about this job, oldest first. The newest is the one in force, whole; edit it freely.\n"


class Choice(Record):
    """The film already chosen: for the job, else by face, else by pane; the nearest word wins.

    ``none`` as a film's name leaves that face or pane bare.
    """

    job: str | None = None
    faces: dict[str, str] = Field(default_factory=dict)
    panes: dict[str, str] = Field(default_factory=dict)


class Decision(Record):
    """What was decided on a day, by whom, and why.

    ``panes_out`` gives the reason for each pane left bare, ``overrides`` the reason for not taking what
    the tool recommends. ``set_points`` are the cooling's, by room.
    """

    date: Day
    who: Text = ""
    films: Choice = Choice()
    panes_out: dict[str, Text] = Field(default_factory=dict)
    overrides: Text = ""
    set_points: dict[str, Annotated[Temperature, Field(ge=10, le=35)]] = Field(default_factory=dict)
    electricity_rate: Money | None = None
    budget: Money | None = None
    note: Text = ""


# ---- reading ------------------------------------------------------------------------------------------


def read(folders: Folders, raw: dict[str, Any], places: Places) -> list[Fault]:
    """Put the decisions of ``decisions.yaml``, where there is one, into a job's raw tree.

    Parameters
    ----------
    folders
        The folders that may be read.
    raw
        The job as read, texts only.
    places
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
        if name != "decisions":
            line, rule = tree.lines.get((name,), 0), "is not a field here"
            mend = "the only field here is decisions, a list"
            faults.append(Fault(DECISIONS_FILE, line, name, rule, clipped(name), mend))
    if tree.value.get("decisions") is not None:
        raw["decisions"] = tree.value["decisions"]
        places.graft(("decisions",), tree, ("decisions",))
    return faults


def names_of(raw: Mapping[str, Any]) -> set[str]:
    """Return the films that the decision in force names."""
    found: set[str] = set()
    entries = raw.get("decisions")
    for entry in entries[-1:] if isinstance(entries, list) else []:
        films = entry.get("films") if isinstance(entry, dict) else None
        if isinstance(films, dict):
            groups = [films[kind] for kind in ("faces", "panes") if isinstance(films.get(kind), dict)]
            words = [films.get("job"), *(word for group in groups for word in group.values())]
            found |= {word for word in words if isinstance(word, str)}
    return found


def check(rules: Rules) -> None:
    """Report days out of order; of the decision in force, names the job does not have and reasons not given.

    Earlier decisions are history: the panes, films and rooms they name may be gone.
    """
    entries = list(rules.records("decisions"))
    last = ""
    for index, entry in entries:
        day = str(entry.get("date") or "")
        if day and day < last:
            rule = f"must not be before the decision above it ({last})"
            rules.fault(("decisions", index, "date"), rule, day, "newest last")
        last = day or last
    rooms = rules.by_id("rooms")
    panes = [row.cells["id"] for row in rules.rows if "id" in row.cells]
    for index, entry in entries[-1:]:
        at: tuple[str | int, ...] = ("decisions", index)
        films = _group(entry, "films")
        out = _group(entry, "panes_out")
        rules.choice((*at, "films"), films)
        for name, reason in out.items():
            here = (*at, "panes_out", name)
            rules.known(here, name, "a pane of this job", "panes", panes)
            if not isinstance(reason, str) or not reason.strip():
                rules.fault(
                    here, "must give the reason", mend=f"such as {name}: the client keeps a poster there"
                )
            if _group(films, "panes").get(name) not in (None, BARE):
                rules.fault(here, "must not be out where films.panes names a film for it", name, "remove one")
        if out and not any(films.get(part) for part in ("job", "faces", "panes")):
            mend = "say which film the other panes get, such as films: {job: grey-40}"
            rules.fault((*at, "films"), "must be given where panes are left out", mend=mend)
        for name in _group(entry, "set_points"):
            here = (*at, "set_points", name)
            rules.known(here, name, "a room of this job", "rooms", list(rooms))
            if name in rooms and not _group(_group(rooms[name], "heat"), "cooling"):
                rules.fault(
                    here, "must be a room whose cooling the job describes", name, "see rooms in job.yaml"
                )


def _group(entry: Mapping[str, Any], name: str) -> dict[str, Any]:
    value = entry.get(name)
    return value if isinstance(value, dict) else {}


# ---- following ----------------------------------------------------------------------------------------


def follow(job: Job, decision: Decision) -> Job:
    """Return a job with what a decision says in place of its own.

    Parameters
    ----------
    job
        The job as its files give it.
    decision
        The decision in force. Where it names no film at all, the job's own choice stays.
    """
    changes: dict[str, Any] = {}
    films = decision.films
    if films.job or films.faces or films.panes:
        panes = films.panes | dict.fromkeys(decision.panes_out, BARE)
        changes["choice"] = films.model_copy(update={"panes": panes})
        changes["panes"] = tuple(pane.model_copy(update={"film": None}) for pane in job.panes)
    if decision.set_points:
        changes["rooms"] = tuple(
            _at_set_point(room, decision.set_points[room.id]) if room.id in decision.set_points else room
            for room in job.rooms
        )
    if decision.electricity_rate is not None:
        changes["energy"] = _at_rate(job, decision.electricity_rate)
    if decision.budget is not None:
        changes["limits"] = job.limits.model_copy(update={"budget": decision.budget})
    return job.model_copy(update=changes)


def _at_set_point(room: Any, celsius: float) -> Any:
    if room.heat is None or room.heat.cooling is None:
        return room
    cooling = room.heat.cooling.model_copy(update={"set_point": celsius})
    return room.model_copy(update={"heat": room.heat.model_copy(update={"cooling": cooling})})


def _at_rate(job: Job, rate: Decimal) -> Any:
    """Return the job's energy prices with one electricity rate for every hour."""
    from reportkit.job.energy import Electricity, Energy

    energy = job.energy or Energy()
    old = energy.electricity
    flat = Electricity(
        rate=rate,
        fixed_per_month=old.fixed_per_month if old else Decimal(0),
        kg_co2_per_kwh=old.kg_co2_per_kwh if old else None,
    )
    return energy.model_copy(update={"electricity": flat})


# ---- writing ------------------------------------------------------------------------------------------


def keep(folder: Path, decision: Decision, *, units: str) -> Path:
    """Add a decision to a job's log; what a person wrote in the file stays as it is.

    Parameters
    ----------
    folder
        The job's folder.
    decision
        The decision. It must not be older than the newest one in the log.
    units
        The job's units, ``us`` or ``metric``, for temperatures.

    Returns
    -------
    Path
        The log.

    Raises
    ------
    JobError
        If the job would hold a fault with the decision in it; the log is then left as it was.
    InputError
        If the folder is the archive of a run, which never changes, or cannot be written.
    """
    from ruamel.yaml import YAML
    from ruamel.yaml.comments import CommentedMap

    from reportkit.job.reader import load_job

    folder = Path(folder).resolve()
    if (folder.parent / "manifest.json").exists():
        raise InputError(f"{folder} is the archive of a run and never changes: open the job's own folder")
    load_job(folder)  # a log with a fault in it is for a person to mend, not to write over
    path = folder / DECISIONS_FILE
    yaml = YAML()
    yaml.width = 100
    yaml.preserve_quotes = True
    yaml.indent(mapping=2, sequence=4, offset=2)
    before = path.read_bytes() if path.exists() else None
    data = yaml.load(before.decode("utf-8-sig")) if before is not None else CommentedMap()
    if before is None:
        data.yaml_set_start_comment(_HEAD)
    if data.get("decisions") is None:
        data["decisions"] = []
    data["decisions"].append(_written(decision, units))
    text = io.StringIO()
    yaml.dump(data, text)
    try:
        _replace(path, text.getvalue().encode("utf-8"))
        try:
            load_job(folder)
        except InputError:
            if before is None:
                path.unlink()
            else:
                _replace(path, before)
            raise
    except OSError as error:
        raise InputError(f"{path} cannot be written ({error.strerror or error})") from error
    return path


def _replace(path: Path, data: bytes) -> None:
    """Write a file at once: a reader sees the old one or the new one."""
    hidden = path.with_name(f".{path.name}.{os.getpid()}")
    hidden.write_bytes(data)
    hidden.replace(path)


def _written(decision: Decision, units: str) -> dict[str, Any]:
    """Return a decision as a person would type it: what is not said is left out."""
    films = decision.films
    parts: dict[str, Any] = {
        "date": decision.date,
        "who": decision.who,
        "films": {
            name: value
            for name, value in (
                ("job", films.job),
                ("faces", dict(films.faces)),
                ("panes", dict(films.panes)),
            )
            if value
        },
        "panes_out": dict(decision.panes_out),
        "overrides": decision.overrides,
        "set_points": {name: degrees(value, units) for name, value in decision.set_points.items()},
        "electricity_rate": decision.electricity_rate,
        "budget": decision.budget,
        "note": decision.note,
    }
    return {name: _plain(value) for name, value in parts.items() if value not in (None, "", {})}


def degrees(celsius: float, units: str) -> str:
    """Return a temperature as a person types it in a job of these units: ``76 F`` or ``24.5 C``."""
    word = "f" if units == "us" else "c"
    factor, offset = TEMPERATURE[word]
    return f"{round(celsius / factor - offset, 2):g} {word.upper()}"


def _plain(value: Any) -> Any:
    if isinstance(value, dict):
        return {_plain(name): _plain(part) for name, part in value.items()}
    if isinstance(value, str):
        return UNPRINTABLE.sub(" ", value).strip()
    if isinstance(value, Decimal):
        text = f"{value:f}"  # 1.250 could be read two ways, so it is written as text with one more digit
        if two_readings(text):
            return f"{text}0"
        return int(value) if value == int(value) else float(value)
    return value
