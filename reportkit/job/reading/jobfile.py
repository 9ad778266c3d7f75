"""A job's own file, ``job.yaml`` with a survey beside it or ``job.xlsx`` with both: one tree, one survey."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from reportkit.base.errors import Fault
from reportkit.base.translatable import translatable
from reportkit.job.reading.book import BOOK_FILE, read_book
from reportkit.job.reading.files import Folders, there
from reportkit.job.reading.positions import Positions
from reportkit.job.reading.surveyfile import SurveyRead, read_survey, surveys
from reportkit.job.reading.yamltree import Tree, read_tree

JOB_FILE = "job.yaml"
#: Other kinds a spreadsheet may have saved, and why they are not read.
_OTHERS = {
    "job.xlsm": translatable("must be a workbook without macros (.xlsx)"),
    "job.xls": translatable("must be a workbook of today's kind (.xlsx)"),
    "job.ods": translatable("must be a workbook saved as .xlsx"),
}

_KEEP_ONE = translatable("keep the one that is right and take the other out of the folder")


@dataclass
class JobFile:
    """What a job's own file and its survey hold: texts, and where each stood.

    ``raw`` is None where the file cannot be read at all.
    """

    name: str
    raw: dict[str, Any] | None
    survey: SurveyRead
    positions: Positions = field(default_factory=Positions)
    faults: list[Fault] = field(default_factory=list)


def read_job_file(folders: Folders) -> JobFile:
    """Read a job's own file and its survey, whichever form they have.

    Parameters
    ----------
    folders
        The folders that may be read.
    """
    names = there(folders.own, JOB_FILE, BOOK_FILE, *_OTHERS)
    name = names[-1] if names else JOB_FILE
    if len(names) > 1:
        rule = translatable("must be the only job here, not beside {others}", others=", ".join(names[:-1]))
        return _unread(name, [Fault(name, 0, "", rule, None, _KEEP_ONE)])
    if name in _OTHERS:
        return _unread(
            name,
            [
                Fault(
                    name,
                    0,
                    "",
                    _OTHERS[name],
                    None,
                    translatable("save it again as {file}", file=BOOK_FILE),
                )
            ],
        )
    if name == BOOK_FILE:
        return _book(folders)
    text, faults = folders.text(folders.own / JOB_FILE)
    tree: Tree | None = None
    if text is not None:
        tree, more = read_tree(JOB_FILE, text)
        faults += more
    survey = read_survey(folders)
    made = JobFile(JOB_FILE, tree.value if tree else None, survey, faults=faults + survey.faults)
    if tree is not None:
        made.positions.graft((), tree)
    return made


def _unread(name: str, faults: list[Fault]) -> JobFile:
    return JobFile(name, None, SurveyRead(name), faults=faults)


def _book(folders: Folders) -> JobFile:
    """Read a workbook that is the job; it has its survey inside."""
    data, faults = folders.data(folders.own / BOOK_FILE)
    beside = translatable("must not be beside {file}, whose sheet Panes is the survey", file=BOOK_FILE)
    faults += [Fault(other, 0, "", beside, None, _KEEP_ONE) for other in surveys(folders)]
    book = read_book(BOOK_FILE, data) if data is not None else []
    if isinstance(book, list):
        return _unread(BOOK_FILE, faults + book)
    survey = SurveyRead(BOOK_FILE, book.rows, sheet=book.sheet)
    made = JobFile(
        BOOK_FILE, book.tree.value, survey, faults=faults + [survey.placed(f) for f in book.faults]
    )
    made.positions.graft((), book.tree)
    return made
