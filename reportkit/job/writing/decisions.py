"""The log of decisions, ``decisions.yaml``, written as a person would type it."""

from __future__ import annotations

import io
from decimal import Decimal
from pathlib import Path
from typing import Any

from reportkit.base.durable import replace_file
from reportkit.base.errors import InputError
from reportkit.base.units import two_readings
from reportkit.job.model.decisions import Decision
from reportkit.job.model.quantities import TEMPERATURE
from reportkit.job.reading.decisions import DECISIONS_FILE
from reportkit.job.reading.files import UNPRINTABLE
from reportkit.job.reading.reader import load_job

_HEAD = "Decisions about this job, oldest first. The newest is the one in force, whole; edit it freely.\n"


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
        replace_file(path, text.getvalue().encode("utf-8"))
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
