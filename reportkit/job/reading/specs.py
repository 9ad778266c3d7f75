"""The films of a job that were told by a pasted line: what it says is put beside what was typed.

A number typed in a field of its own must agree with the line; the line then adds nothing.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from reportkit.base.translatable import translatable
from reportkit.job.reading.messages import Loc
from reportkit.job.reading.rules import Rules
from reportkit.job.reading.specline import Entry, SpecLine, read_spec

#: A typed number and a pasted one that differ by more are two numbers: a rounding is half a percent.
_AGREE = 0.01


def lay_out(rules: Rules) -> dict[str, SpecLine]:
    """Put what the pasted lines tell into the raw films, and report what cannot be read.

    Parameters
    ----------
    rules
        The rules of this job, which hold its raw tree and take the faults.

    Returns
    -------
    dict
        What each film's line told, by the film's id.
    """
    lines: dict[str, SpecLine] = {}
    for index, film in rules.records("films"):
        line = film.get("spec")
        if not isinstance(line, str):
            continue
        at = ("films", index, "spec")
        read = read_spec(line, str(film.get("side", "inside")))
        for wrong in read.wrong:
            rules.fault(at, wrong.rule, wrong.found, wrong.hint)
        for entry in read.entries:
            _put(rules, film, ("films", index), entry)
        lines[str(film.get("id", ""))] = read
    return lines


def _put(rules: Rules, film: dict[str, Any], at: Loc, entry: Entry) -> None:
    """Put one number where it belongs, or report that another was typed there."""
    *groups, name = entry.field.split(".")
    record = film
    for group in groups:
        record = record.setdefault(group, {})
        if not isinstance(record, dict):
            return  # the field's own check says so
    typed = record.get(name)
    place = (*at, *groups, name)
    if typed is None:
        record[name] = entry.value
        rules.positions.known[place] = rules.positions.find((*at, "spec"))
    elif name != "conditions" and not _agree(typed, entry.value):
        rule = translatable(
            "must agree with what is typed in {field} ({typed})", field=entry.field, typed=typed
        )
        rules.fault(
            (*at, "spec"), rule, entry.said, translatable("keep the one that is right, remove the other")
        )


def _agree(typed: Any, read: str) -> bool:
    try:
        one, two = float(str(typed).replace(",", ".")), float(read)
    except ValueError:
        return True  # the field's own check says so
    return abs(one - two) <= _AGREE * max(abs(one), abs(two)) or abs(one - two) < 1e-9


def shown(name: str, read: SpecLine) -> Iterator[str]:
    """Yield what was read of a film's line, field by field, for the person to confirm."""
    fields = ", ".join(f"{entry.field.removeprefix('rated.')} {entry.value}" for entry in read.entries)
    yield translatable(
        "{name}, read from its line: {fields}", name=name, fields=fields or translatable("nothing")
    )
    if read.unused:
        yield translatable("{name}, not used: {names}", name=name, names=", ".join(read.unused))
