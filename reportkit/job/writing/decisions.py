"""``decisions.yaml``, the log of decisions and the ways to choose from, written as a person would type it."""

from __future__ import annotations

import io
from collections import Counter
from collections.abc import Callable
from decimal import Decimal
from pathlib import Path
from typing import Any

from reportkit.base.durable import replace_file
from reportkit.base.errors import InputError
from reportkit.base.units import two_readings
from reportkit.job.model.alternatives import Alternative
from reportkit.job.model.decisions import Choice, Decision
from reportkit.job.model.quantities import TEMPERATURE
from reportkit.job.reading.decisions import DECISIONS_FILE
from reportkit.job.reading.files import UNPRINTABLE
from reportkit.job.reading.reader import load_job
from reportkit.job.reading.yamltree import asking

_HEAD = "Decisions about this job, oldest first. The newest is the one in force, whole; edit it freely.\n"

WAYS = "alternatives"


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

    def append(data: Any) -> None:
        if data.get("decisions") is None:
            data["decisions"] = []
        data["decisions"].append(_written(decision, units))

    return _rewritten(folder, append)


def keep_way(folder: Path, way: Alternative) -> Path:
    """Add a way to choose from to a job, or write it over the one of the same name; as `keep` otherwise.

    The ways of ``decisions.yaml`` stand in place of those of the job file: the first time these come along.

    Parameters
    ----------
    folder
        The job's folder.
    way
        The way.

    Returns
    -------
    Path
        The file.

    Raises
    ------
    JobError
        If the job would hold a fault with the way in it, such as one too many; the file then stays as it was.
    InputError
        If the folder is the archive of a run, which never changes, or cannot be written.
    """
    typed = {"name": _plain(way.name), "films": _plain(_films(way.films))}

    def put(ways: Any) -> None:
        at = next((at for at, name in enumerate(_names(ways)) if name == typed["name"]), None)
        if at is None:
            ways.append(typed)
        else:
            ways[at] = typed

    return _with_ways(folder, put)


def drop_way(folder: Path, name: str) -> Path:
    """Take a way to choose from out of a job, by its name; as `keep_way` otherwise."""

    def drop(ways: Any) -> None:
        for at in reversed([at for at, other in enumerate(_names(ways)) if other == name.strip()]):
            del ways[at]

    return _with_ways(folder, drop)


def _names(ways: Any) -> list[str]:
    return [str(entry.get("name")).strip() for entry in ways]


def _with_ways(folder: Path, change: Callable[[Any], None]) -> Path:
    """Change the list of ways; one that stands in the job file yet is copied first."""

    def changed(data: Any) -> None:
        if data.get(WAYS) is None:
            there = load_job(folder).job.alternatives
            data[WAYS] = [{"name": way.name, "films": _plain(_films(way.films))} for way in there]
        change(data[WAYS])
        if not data[WAYS]:  # an empty list is written into one line, which no comment may cut
            data[WAYS] = []
            data.ca.items.pop(WAYS, None)

    return _rewritten(folder, changed)


def _rewritten(folder: Path, change: Callable[[Any], None]) -> Path:
    """Change ``decisions.yaml``, unless the job would hold a fault then; comments in it stay."""
    from ruamel.yaml import YAML
    from ruamel.yaml.comments import CommentedMap

    folder = Path(folder).resolve()
    if (folder.parent / "manifest.json").exists():
        raise InputError(f"{folder} is the archive of a run and never changes: open the job's own folder")
    load_job(folder)  # a file with a fault in it is for a person to mend, not to write over
    path = folder / DECISIONS_FILE
    yaml = asking(YAML())
    yaml.width = 100
    yaml.preserve_quotes = True
    yaml.indent(mapping=2, sequence=4, offset=2)
    before = path.read_bytes() if path.exists() else None
    old = "" if before is None else before.decode("utf-8-sig")
    data = yaml.load(old) if old.strip() else CommentedMap()
    if before is None:
        data.yaml_set_start_comment(_HEAD)
    change(data)

    def dumped() -> str:
        text = io.StringIO()
        yaml.dump(data, text)
        return text.getvalue()

    lost = _comments(old) - _comments(dumped())
    if lost:  # a comment goes with the entry above it; it is a person's own all the same
        data.yaml_set_comment_before_after_key(WAYS, before="\n".join(lost.elements()))
    try:
        replace_file(path, dumped().encode("utf-8"))
        try:
            load_job(folder)
        except InputError:
            if before is None:
                path.unlink()
            else:
                replace_file(path, before)
            raise
    except OSError as error:
        raise InputError(f"{path} cannot be written ({error.strerror or error})") from error
    return path


def _comments(text: str) -> Counter[str]:
    """Return the lines of a YAML text that are comments, without their sign."""
    lines = (line.strip() for line in text.splitlines())
    return Counter(line[1:].strip() for line in lines if line.startswith("#"))


def _written(decision: Decision, units: str) -> dict[str, Any]:
    """Return a decision as a person would type it: what is not said is left out."""
    parts: dict[str, Any] = {
        "date": decision.date,
        "who": decision.who,
        "films": _films(decision.films),
        "panes_out": dict(decision.panes_out),
        "overrides": decision.overrides,
        "set_points": {name: degrees(value, units) for name, value in decision.set_points.items()},
        "electricity_rate": decision.electricity_rate,
        "budget": decision.budget,
        "note": decision.note,
    }
    return {name: _plain(value) for name, value in parts.items() if value not in (None, "", {})}


def _films(choice: Choice) -> dict[str, Any]:
    parts = {"job": choice.job, "faces": dict(choice.faces), "panes": dict(choice.panes)}
    return {name: value for name, value in parts.items() if value}


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
