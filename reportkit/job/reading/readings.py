"""``readings.csv``: one row for each pair of readings, read and checked.

The file is written after the work; a job without it has no readings.
"""

from __future__ import annotations

from typing import Any

from reportkit.base.errors import Fault
from reportkit.base.translatable import translatable
from reportkit.job.model.readings import OPEN, Reading
from reportkit.job.model.typed import earlier
from reportkit.job.reading.files import Folders
from reportkit.job.reading.positions import Positions
from reportkit.job.reading.rules import Rules
from reportkit.job.reading.table import Form, read_table
from reportkit.job.reading.yamltree import Path, Tree

READINGS_FILE = "readings.csv"

FORM = Form(
    tuple(Reading.model_fields),
    tuple(name for name, field in Reading.model_fields.items() if field.is_required()),
    translatable("pair of readings"),
    {"date": "time", "when": "time", "instrument": "meter", "notes": "note"},
)


def read(folders: Folders, raw: dict[str, Any], positions: Positions) -> list[Fault]:
    """Put the readings of ``readings.csv``, where there is one, into a job's raw tree.

    Parameters
    ----------
    folders
        The folders that may be read.
    raw
        The job as read, texts only.
    positions
        Where each entry stands; the readings' are added.
    """
    text, faults = folders.optional(READINGS_FILE)
    if text is None:
        return faults
    lines, more = read_table(READINGS_FILE, text, FORM)
    if any(not set(FORM.required) <= entry.headed for entry in lines):
        return faults + more  # without its columns a row says nothing
    raw["readings"] = [dict(entry.cells) for entry in lines]
    stand: dict[Path, tuple[str, int]] = {
        (number,): (READINGS_FILE, entry.line) for number, entry in enumerate(lines)
    }
    positions.graft(("readings",), Tree(READINGS_FILE, {}, stand))
    return faults + more


def check(rules: Rules) -> None:
    """Report readings of panes that are not there, not alike, or before the day of fitting."""
    rows = {row.cells["id"]: row.cells for row in rules.rows if "id" in row.cells}
    panes = {name: rows[name if name in rows else name.rpartition(".")[0]] for name in rules.panes if name}
    known = list(rows)
    fitted = rules.group("fitting").get("date")
    for index, entry in rules.records("readings"):
        at = ("readings", index)
        pane, beside = entry.get("pane"), entry.get("beside")
        if pane not in panes:
            rules.known((*at, "pane"), pane, translatable("a pane of the survey"), "panes", known)
        if beside != OPEN and beside not in panes:
            rules.known(
                (*at, "beside"),
                beside,
                translatable("a pane of the survey or {open}", open=OPEN),
                "panes",
                [OPEN, *known],
            )
        if beside in panes and pane in panes:
            if beside == pane:
                hint = translatable(
                    "name the bare pane beside it, or write {open} for a reading in the open", open=OPEN
                )
                rules.fault((*at, "beside"), translatable("must be another pane"), beside, hint)
            for what in ("glazing", "face"):
                here, there = (panes[name].get(what) for name in (pane, beside))
                if here != there:
                    rule = translatable(
                        "must be a pane of the same {what} as {pane} ({here})",
                        what=what,
                        pane=pane,
                        here=here,
                    )
                    hint = translatable(
                        "only the film may differ between two readings; {open} always serves", open=OPEN
                    )
                    rules.fault((*at, "beside"), rule, f"{beside} ({there})", hint)
        if earlier(str(entry.get("time"))[:10], fitted):
            rule = translatable("must not be before the day of fitting ({fitted})", fitted=fitted)
            rules.fault((*at, "time"), rule, entry["time"], translatable("check both dates"))
