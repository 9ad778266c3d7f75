"""Written approvals by the film maker: which film on which glass, by whom, when, and the file that says so.

An approval settles what the breakage screen asks of the film maker or refuses by its chart. It settles
nothing that is not the film maker's to approve: glass that gathers the sun, chipped edges, plastics the film
is not stated for, faces no film sticks to, and what the glass maker or a licensed glazier is to answer.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from pydantic import model_validator

from reportkit.errors import Fault
from reportkit.job.files import Folders, clipped
from reportkit.job.typed import Day, Id, Record, Text, broken, earlier

if TYPE_CHECKING:
    from reportkit.job.rules import Rules


class Approval(Record):
    """The film maker's written word for one film, on every pane of a glazing or on panes by name."""

    film: Id
    glazing: Id | None = None
    panes: tuple[Id, ...] = ()
    by: Text
    date: Day
    file: Text

    @model_validator(mode="after")
    def _complete(self) -> Approval:
        if (self.glazing is None) == (not self.panes):
            rule = "must be given, or panes, and only one of them"
            raise broken(rule, "glazing", mend="say what the letter names: the glazing, or the panes")
        for name in ("by", "file"):
            if not getattr(self, name).strip():
                raise broken("must not be empty", name, mend="an approval is a letter by somebody")
        return self


def check(rules: Rules, folders: Folders) -> None:
    """Report names the job does not have, days after the quote's, and files that are not there."""
    panes = [row.cells["id"] for row in rules.rows if "id" in row.cells]
    quoted = rules.group("quote").get("date")
    for index, entry in rules.records("approvals"):
        at = ("approvals", index)
        rules.known((*at, "film"), entry.get("film"), "a film of this job", "films", rules.ids("films"))
        glazings = rules.ids("glazings")
        rules.known((*at, "glazing"), entry.get("glazing"), "a glazing of this job", "glazings", glazings)
        named = entry.get("panes")
        for number, name in enumerate(named if isinstance(named, list) else []):
            rules.known((*at, "panes", number), name, "a pane of this job", "panes", panes)
        if earlier(quoted, entry.get("date")):
            rule = f"must not be after the date of the quote ({quoted})"
            rules.fault((*at, "date"), rule, entry["date"], "check both dates")
        typed = entry.get("file")
        if isinstance(typed, str) and typed.strip():
            fault = _file_fault(typed, folders)
            if fault is not None:
                mend = fault.mend or "put the letter into the job's folder and name it from there"
                rules.fault((*at, "file"), fault.rule, fault.found or clipped(typed), mend)


def _file_fault(typed: str, folders: Folders) -> Fault | None:
    """Read the letter, so that it is kept with the job's other files; return what is wrong with it."""
    path = folders.inside(typed)
    if isinstance(path, str):
        return Fault("", 0, "file", path)
    _, wrong = folders.data(path)
    return wrong[0] if wrong else None
