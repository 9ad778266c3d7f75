"""Every error the package raises on purpose, as one tree.

::

    ReportkitError
    ├── InputError            the person's mistake; the command ends with exit code 2
    │   ├── JobError          faults in a job folder or in a file it uses (all of them at once)
    │   ├── CutListError      faults in a list of pieces or rolls given to the cut planner
    │   └── UnavailableError  something asked for cannot be had here (a download while offline)
    ├── MachineError          the machine refused: a full disk, a folder that may not be written; exit code 1
    ├── DamagedError          a run's files are not as they were written; exit code 4
    └── ProgramError          our mistake; exit code 1
        ├── PlanError         a cut plan failed the independent checker and is not printed
        └── RunError          a notebook cell failed; the kept notebook shows where
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass

from reportkit.base.visible import visible

#: A place in a workbook, its row still to be told: ``job.xlsx:Rooms!D``.
_IN_WORKBOOK = re.compile(r"(?P<file>.+\.xlsx):(?P<sheet>.+)!(?P<column>[A-Z]{0,3})")


class ReportkitError(Exception):
    """Base of every error raised on purpose."""

    exit_code = 1


@dataclass(frozen=True, order=True)
class Fault:
    """One mistake in what a person wrote: where, what must hold, what was found, how to mend it.

    ``line`` counts from 1; 0 means the file as a whole. In a workbook ``line`` is the row and ``cell`` the
    sheet and cell, such as ``Windows!C7``; a file given as ``job.xlsx:Rooms!D`` tells sheet and column.
    """

    file: str
    line: int
    field: str
    rule: str
    found: str | None = None
    hint: str | None = None
    cell: str = ""

    def __post_init__(self) -> None:
        """Tell the cell apart from the file where the place is in a workbook."""
        match = _IN_WORKBOOK.fullmatch(self.file)
        if match:
            place = f"!{match['column'] or 'row '}{self.line}" if self.line else ""
            object.__setattr__(self, "file", match["file"])
            object.__setattr__(self, "cell", match["sheet"] + place)

    @property
    def place(self) -> str:
        """Where it is: ``file:line field``, in a workbook with the cell for the line."""
        where = f"{self.file}:{self.cell or self.line}" if self.cell or self.line else self.file
        return f"{where} {self.field}" if self.field else where

    def __str__(self) -> str:
        """Return ``file:line field: rule (found "…"); mend``, in a workbook with the cell for the line."""
        text = f"{self.place}: {self.rule}"
        if self.found is not None:
            text += f' (found "{self.found}")'
        if self.hint:
            text += f"; {self.hint}"
        return visible(" ".join(text.split()))


class InputError(ReportkitError):
    """What the person gave cannot be used."""

    exit_code = 2

    def __init__(self, message: str = "", faults: Iterable[Fault] = ()) -> None:
        #: In the order of their places, those of a workbook sheet by sheet.
        self.faults: tuple[Fault, ...] = tuple(
            sorted(set(faults), key=lambda fault: (fault.file, fault.cell.partition("!")[0], fault))
        )
        #: What is said above the faults, or alone.
        self.message = message
        super().__init__(
            "\n".join([*filter(None, [message]), *map(str, self.faults)]) if self.faults else message
        )


class JobError(InputError):
    """A job folder, or a file it uses, holds faults."""


class CutListError(InputError):
    """A list of pieces or rolls given to the cut planner holds faults."""


class UnavailableError(InputError):
    """Something the job asks for cannot be had on this machine now."""


class MachineError(ReportkitError):
    """The machine refused something; neither the job nor the program is at fault."""


class DamagedError(ReportkitError):
    """Files of a run changed or went since it was made."""

    exit_code = 4


class ProgramError(ReportkitError):
    """The program failed; the person did nothing wrong."""


class PlanError(ProgramError):
    """A cut plan failed the independent checker."""


class RunError(ProgramError):
    """A notebook could not be run or exported."""
