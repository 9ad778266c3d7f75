"""The notebook template: short cells, places for the documents, and the plain tools run it too."""

import ast
import json
import subprocess
import sys
from pathlib import Path

import nbformat
import pytest

from reportkit.documents.layouts.templates import template
from reportkit.documents.sections import SECTIONS

JOBS = Path(__file__).parent.parent.parent / "jobs"


@pytest.fixture(scope="module")
def book():
    """Return the template of the reasoning."""
    return nbformat.read(template("reasoning.ipynb"), as_version=4)


def test_cells_are_three_lines_without_arithmetic_or_functions(book):
    """The chain is in the library; a cell asks for one stage and shows it."""
    code = [cell for cell in book.cells if cell.cell_type == "code"]
    assert len(code) > 20
    for cell in code:
        assert len(cell.source.splitlines()) <= 3
        tree = ast.parse(cell.source)
        banned = (ast.FunctionDef, ast.Lambda, ast.BinOp, ast.AugAssign, ast.For, ast.While, ast.ClassDef)
        assert not any(isinstance(node, banned) for node in ast.walk(tree)), cell.source


def test_there_is_one_parameter(book):
    """papermill gets the job's folder and nothing else."""
    tagged = [cell for cell in book.cells if "parameters" in cell.metadata.get("tags", [])]
    assert len(tagged) == 1
    assert [node.targets[0].id for node in ast.parse(tagged[0].source).body] == ["job_dir"]


def test_every_part_is_shown_once_and_placed_apart(book):
    """Each section stands in one cell; no two cells share a place in a document."""
    shown = [
        node.args[0].value
        for cell in book.cells
        if cell.cell_type == "code"
        for node in ast.walk(ast.parse(cell.source))
        if isinstance(node, ast.Call) and getattr(node.func, "attr", "") == "section"
    ]
    assert sorted(shown) == sorted(SECTIONS)
    for kind, least in (
        ("proposal", 3),
        ("basis", 12),
        ("letters", 1),
        ("fitting", 3),
        ("labels", 1),
        ("review", 2),
    ):
        places = [cell.metadata.get("reportkit", {}).get(kind) for cell in book.cells]
        places = [place for place in places if place is not None]
        assert len(places) == len(set(places)) >= least


def test_the_template_is_clean(book):
    """No outputs, no counts, no names of a machine."""
    text = json.dumps(book)
    assert all(not cell.get("outputs") for cell in book.cells)
    assert "/home/" not in text


def test_plain_papermill_and_nbconvert_make_the_documents(tmp_path):
    """The stock commands run the template and find the exporters by their entry points."""
    out = tmp_path / "out.ipynb"
    run = [sys.executable, "-m", "papermill", str(template("reasoning.ipynb")), str(out)]
    job = str((JOBS / "hill-studio").resolve())
    subprocess.run([*run, "-p", "job_dir", job], check=True, capture_output=True)
    for name, start in (("reportkit-proposal-pdf", b"%PDF"), ("reportkit-fitting-html", b"<!")):
        convert = [sys.executable, "-m", "nbconvert", "--to", name, str(out)]
        subprocess.run(convert, check=True, capture_output=True)
        ending = name.removeprefix("reportkit-").replace("-", ".")
        assert (tmp_path / f"out.{ending}").read_bytes().startswith(start)
