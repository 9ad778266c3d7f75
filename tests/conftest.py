"""What many tests share."""

import ast
import functools
import shutil
from pathlib import Path

import nbformat
import pytest

from reportkit.pipeline import make
from reportkit.report.templates import template
from reportkit.report.view import Report
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


def _book(study):
    """Return the notebook of the reasoning as a kernel would leave it, made in this process."""
    book = nbformat.read(template("reasoning.ipynb"), as_version=4)
    report = Report(study)
    shown = {"section": report.section, "record": report.record}
    for cell in book.cells:
        if cell.cell_type != "code":
            continue
        last = ast.parse(cell.source).body[-1]
        if isinstance(last, ast.Expr) and isinstance(last.value, ast.Call):
            asked = [argument.value for argument in last.value.args]
            data = shown[last.value.func.attr](*asked)._repr_mimebundle_()
            cell.outputs = [nbformat.v4.new_output("execute_result", data=data, execution_count=1)]
    return book


@functools.cache
def _book_of(name):
    return _book(_study(name))


@pytest.fixture(scope="session")
def book():
    """Return a function from a study to its notebook, as if run, without a kernel."""
    return _book


@pytest.fixture(scope="session")
def book_of():
    """Return a function from a demo job's name to its notebook, made once without a kernel."""
    return _book_of


@pytest.fixture(scope="session")
def run_of(tmp_path_factory):
    """Return a function from a demo job's name to a run of it, made once by the whole chain."""
    home = tmp_path_factory.mktemp("demos")
    shutil.copytree(JOBS / "_shared", home / "_shared")

    @functools.cache
    def run(name):
        skip = shutil.ignore_patterns("runs", "*.ipynb")
        return make(shutil.copytree(JOBS / name, home / name, ignore=skip))

    return run
