"""What the commands say of a job, in the job's language.

English needs no catalogue, and its locale data is not read.
"""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from typing import TYPE_CHECKING

from reportkit.base.errors import ReportkitError
from reportkit.base.languages import SOURCE

if TYPE_CHECKING:
    from reportkit.job.model import Job


def error_told(error: ReportkitError, job_dir: Path | None, language: str | None = None) -> str:
    """Return an error as it is printed, in the language of the job it came up with.

    Parameters
    ----------
    error
        The error, in English.
    job_dir
        The job's folder, or None where a command has none.
    language
        The language that a command without a job was asked for, if any.
    """
    if job_dir is None and language in (None, SOURCE):
        return str(error)
    from reportkit.job.reading.spoken import Spoken, spoken

    reader = Spoken(language or SOURCE) if job_dir is None else spoken(job_dir)
    if reader.language == SOURCE:
        return str(error)
    from reportkit.documents.language.faults import error_in_words, words_of

    return error_in_words(error, words_of(reader))


def line_told(line: str, job_dir: Path) -> str:
    """Return what is said of a job folder, in the job's language; nothing else of it need be right."""
    from reportkit.job.reading.spoken import spoken

    reader = spoken(job_dir)
    if reader.language == SOURCE:
        return line
    from reportkit.documents.language.faults import words_of

    return words_of(reader).said(line)


def lines_told(lines: Iterable[str], job: Job) -> list[str]:
    """Return what is said of a job that was read, in its language."""
    if job.language == SOURCE:
        return list(lines)
    from reportkit.documents.language.faults import words_of
    from reportkit.job.reading.spoken import Spoken

    words = words_of(Spoken(job.language, job.locale or "", job.units))
    return [words.said(line) for line in lines]
