"""Checks of the film maker's written approvals: names the job has, days in order, letters that are there."""

from __future__ import annotations

from reportkit.base.errors import Fault
from reportkit.base.translatable import translatable
from reportkit.job.model.typed import earlier
from reportkit.job.reading.files import Folders, clipped
from reportkit.job.reading.rules import Rules


def check(rules: Rules, folders: Folders) -> None:
    """Report names the job does not have, days after the quote's, and files that are not there."""
    quoted = rules.group("quote").get("date")
    for index, entry in rules.records("approvals"):
        at = ("approvals", index)
        rules.known(
            (*at, "film"), entry.get("film"), translatable("a film of this job"), "films", rules.ids("films")
        )
        glazings = rules.ids("glazings")
        rules.known(
            (*at, "glazing"),
            entry.get("glazing"),
            translatable("a glazing of this job"),
            "glazings",
            glazings,
        )
        named = entry.get("panes")
        for number, name in enumerate(named if isinstance(named, list) else []):
            rules.known_pane((*at, "panes", number), name)
        if earlier(quoted, entry.get("date")):
            rule = translatable("must not be after the date of the quote ({quoted})", quoted=quoted)
            rules.fault((*at, "date"), rule, entry["date"], translatable("check both dates"))
        typed = entry.get("file")
        if isinstance(typed, str) and typed.strip():
            fault = _file_fault(typed, folders)
            if fault is not None:
                hint = fault.hint or translatable(
                    "put the letter into the job's folder and name it from there"
                )
                rules.fault((*at, "file"), fault.rule, fault.found or clipped(typed), hint)


def _file_fault(typed: str, folders: Folders) -> Fault | None:
    """Read the letter, so that it is kept with the job's other files; return what is wrong with it."""
    path = folders.inside(typed)
    if isinstance(path, str):
        return Fault("", 0, "file", path)
    _, wrong = folders.data(path)
    return wrong[0] if wrong else None
