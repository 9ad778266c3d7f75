"""The job folder: what a person writes, read, checked and frozen.

``load_job`` reads one, ``write_starter`` makes a commented new one, ``schema`` describes the job file
as JSON Schema. Only this package reads what a person wrote; weather files are ``reportkit.climate``'s.
"""

from reportkit.job.decisions import DECISIONS_FILE, Choice, Decision, follow, keep
from reportkit.job.defaults import Assumption
from reportkit.job.models import FilmSpec, GlazingSpec, Job, Pane
from reportkit.job.reader import JOB_FILE, SURVEY_FILE, LoadedJob, load_job
from reportkit.job.schema import schema
from reportkit.job.starter import write_starter

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
    "follow",
    "keep",
    "load_job",
    "schema",
    "write_starter",
]
