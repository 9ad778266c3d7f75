"""The job folder: what a person writes, read, checked and frozen.

``load_job`` reads one, ``write_starter`` makes a commented new one, ``schema`` describes the job file
as JSON Schema. Only this package reads what a person wrote; weather files are ``reportkit.climate``'s.
"""

from reportkit.job.defaults import Assumption
from reportkit.job.models import FilmSpec, GlazingSpec, Job, Pane
from reportkit.job.reader import JOB_FILE, SURVEY_FILE, LoadedJob, load_job
from reportkit.job.schema import schema
from reportkit.job.shared import SharedUse
from reportkit.job.starter import write_starter

__all__ = [
    "JOB_FILE",
    "SURVEY_FILE",
    "Assumption",
    "FilmSpec",
    "GlazingSpec",
    "Job",
    "LoadedJob",
    "Pane",
    "SharedUse",
    "load_job",
    "schema",
    "write_starter",
]
