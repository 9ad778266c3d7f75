"""``check`` clean means made: jobs at the edges of every allowed range are faults or whole, never errors.

``EDGES=all`` in the environment tries every edge once and two thousand jobs of several edges; without it a
few of both, the same ones every time.
"""

import importlib.util
import os
import sys
from collections.abc import Callable
from pathlib import Path
from random import Random
from typing import Any

import pytest

from reportkit.job.models import Job
from reportkit.job.survey import COLUMNS
from reportkit.study import Study

_spec = importlib.util.spec_from_file_location("edges", Path(__file__).with_name("edges.py"))
assert _spec and _spec.loader
edges = sys.modules["edges"] = importlib.util.module_from_spec(_spec)
_spec.loader.exec_module(edges)

ALL = os.environ.get("EDGES") == "all"
EACH = [[edge] for edge in edges.edges()]
SAMPLE = EACH if ALL else Random(7).sample(EACH, 8)
MIXED = edges.tries(11, 2000 if ALL else 16)


@pytest.mark.parametrize("chosen", [*SAMPLE, *MIXED], ids=lambda chosen: "; ".join(map(str, chosen))[:60])
@pytest.mark.filterwarnings("error::RuntimeWarning")
def test_a_job_at_its_edges_is_faulty_or_whole(
    chosen: list[Any], tmp_path: Path, book: Callable[[Study], Any]
) -> None:
    """Either ``check`` names the fault, or results and documents are made, with no number that is none."""
    assert edges.run(chosen, tmp_path, book) in ("faults", "made")


def test_the_base_job_is_made(tmp_path: Path, book: Callable[[Study], Any]) -> None:
    """The job that the edges start from is right, down to the PDF."""
    folder = edges.write(tmp_path / "job", [])
    assert edges.verdict(folder, book, ("html", "pdf")) == "made"


def test_every_group_has_edges() -> None:
    """The edges come from the models: each group of a job has some, and each field has one or more."""
    tops = {edge.way[0] for edge in edges.edges()}
    elsewhere = {"choice", "decisions", "readings"}  # names of this job's own entries, and files of their own
    assert set(Job.model_fields) - edges.NAMES - elsewhere <= tops
    columns = {edge.way[1] for edge in edges.edges() if edge.way[0] == "panes"}
    assert set(COLUMNS) - edges.NAMES <= columns
