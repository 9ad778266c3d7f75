"""Which file holds a job's survey, ``windows.csv`` or ``windows.xlsx``, and its rows."""

from __future__ import annotations

from dataclasses import dataclass, field

from reportkit.base.errors import Fault
from reportkit.base.translatable import translatable
from reportkit.job.reading.files import Folders, there
from reportkit.job.reading.survey import Row, read_rows
from reportkit.job.reading.workbook import Sheet, read_workbook

SURVEY_FILE = "windows.csv"
WORKBOOK_FILE = "windows.xlsx"
#: Other kinds a spreadsheet may have saved, and why they are not read.
_OTHERS = {
    "windows.xlsm": translatable("must be a workbook without macros (.xlsx)"),
    "windows.xls": translatable("must be a workbook of today's kind (.xlsx)"),
    "windows.ods": translatable("must be a workbook saved as .xlsx"),
}
#: Every file that may be a survey.
SURVEYS = (SURVEY_FILE, WORKBOOK_FILE, *_OTHERS)


@dataclass(frozen=True)
class SurveyRead:
    """A survey's rows, the faults of its form, and what its file is called."""

    name: str
    rows: list[Row] = field(default_factory=list)
    faults: list[Fault] = field(default_factory=list)
    sheet: Sheet | None = None

    def placed(self, fault: Fault) -> Fault:
        """Return a fault with the cell it is about, where the survey is a workbook."""
        return self.sheet.placed(fault) if self.sheet and fault.file == self.name else fault


def surveys(folders: Folders) -> list[str]:
    """Return the files of a job's folder that may be its survey."""
    return there(folders.own, *SURVEYS)


def read_survey(folders: Folders) -> SurveyRead:
    """Read a job's survey, whichever of its two forms it has.

    Parameters
    ----------
    folders
        The folders that may be read.
    """
    names = surveys(folders)
    if len(names) > 1:
        rule = translatable("must be the only survey here, not beside {others}", others=", ".join(names[:-1]))
        hint = translatable("keep the one that is right and take the other out of the folder")
        return SurveyRead(names[-1], faults=[Fault(names[-1], 0, "", rule, None, hint)])
    name = names[0] if names else SURVEY_FILE
    if name in _OTHERS:
        hint = translatable("save it again as {file}", file=WORKBOOK_FILE)
        return SurveyRead(name, faults=[Fault(name, 0, "", _OTHERS[name], None, hint)])
    if name == WORKBOOK_FILE:
        data, faults = folders.data(folders.own / name)
        if data is None:
            return SurveyRead(name, faults=faults)
        rows, more, sheet = read_workbook(name, data)
        return SurveyRead(name, rows, faults + more, sheet)
    text, faults = folders.text(folders.own / name)
    if text is None:
        return SurveyRead(name, faults=faults)
    rows, more = read_rows(name, text)
    return SurveyRead(name, rows, faults + more)
