"""The job folder: what a person writes, read, checked and frozen.

``load_job`` reads one, ``write_starter`` makes a new one, ``convert`` writes its other form, ``schema``
describes the job file as JSON Schema. Only this package reads what a person wrote; weather files are
``reportkit.climate``'s.

``model`` says what a job is and imports nothing else of the package, ``reading`` makes one from files,
``writing`` makes files for a person.
"""

from reportkit.job.model import FilmSpec, GlazingSpec, Job, Pane
from reportkit.job.model.decided import follow
from reportkit.job.model.decisions import Choice, Decision
from reportkit.job.reading.decisions import DECISIONS_FILE
from reportkit.job.reading.defaults import Assumption
from reportkit.job.reading.jobfile import JOB_FILE
from reportkit.job.reading.reader import LoadedJob, load_job
from reportkit.job.reading.surveyfile import SURVEY_FILE
from reportkit.job.writing.convert import convert
from reportkit.job.writing.decisions import drop_way, keep, keep_way
from reportkit.job.writing.schema import schema
from reportkit.job.writing.starter import write_starter

__all__ = [
    "DECISIONS_FILE",
    "JOB_FILE",
    "SURVEY_FILE",
    "Assumption",
    "Choice",
    "Decision",
    "FilmSpec",
    "GlazingSpec",
    "Job",
    "LoadedJob",
    "Pane",
    "convert",
    "drop_way",
    "follow",
    "keep",
    "keep_way",
    "load_job",
    "schema",
    "write_starter",
]
