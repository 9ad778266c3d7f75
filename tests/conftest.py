"""What many tests share."""

import functools
from pathlib import Path

import pytest

from reportkit.results import Results
from reportkit.study import Study

JOBS = Path(__file__).parent.parent / "jobs"
DEMOS = ("corner-shop", "harbour-house", "hill-studio")


@functools.cache
def _study(name):
    return Study.open(JOBS / name)


@functools.cache
def _results(name):
    return dict(Results(_study(name)))


@pytest.fixture(scope="session")
def study_of():
    """Return a function from a demo job's name to its study, computed once."""
    return _study


@pytest.fixture(scope="session")
def results_of():
    """Return a function from a demo job's name to its results, computed once."""
    return _results
