"""``check`` clean means made: jobs at the edges of every allowed range are faults or whole, never errors.

``EDGES=all`` in the environment tries every edge once in each base job, those that load together in one job,
and two thousand jobs of several edges; without it a few of both, the same ones every time.
"""

import os
import tempfile
import types
import typing
from collections.abc import Callable, Iterator
from decimal import Decimal
from fractions import Fraction
from pathlib import Path
from random import Random
from typing import Annotated, Any

import pytest
from generated import edges
from pydantic import BaseModel, TypeAdapter, ValidationError
from trials import TRIALS

from reportkit.job.model import Decision, Job, Reading
from reportkit.job.reading.survey import COLUMNS
from reportkit.study import Study

ALL = os.environ.get("EDGES") == "all"
SAMPLE = edges.packs(Path(tempfile.mkdtemp())) if ALL else Random(7).sample(edges.each(), 8 if TRIALS else 4)
MIXED = edges.tries(11, 2000 if ALL else 16 if TRIALS else 6)


@pytest.mark.trial
@pytest.mark.parametrize("case", [*SAMPLE, *MIXED], ids=str)
@pytest.mark.filterwarnings("error::RuntimeWarning")
def test_a_job_at_its_edges_is_faulty_or_whole(
    case: Any, tmp_path: Path, book: Callable[[Study], Any]
) -> None:
    """Either ``check`` names the fault, or results and documents are made, with no number that is none."""
    assert edges.run(case, tmp_path, book) in ("faults", "made")


@pytest.mark.parametrize("base", edges.BASES)
def test_a_base_job_is_made(base: str, tmp_path: Path, book: Callable[[Study], Any]) -> None:
    """The jobs that the edges start from are right, down to the PDF."""
    folder = edges.write(tmp_path / "job", edges.Case(base))
    assert edges.verdict(folder, book, ("html", "pdf")) == "made"


HEAT = ("rooms", 0, "heat")
NORTH = ("panes", 0)

#: Jobs that ``check`` passed once and ``make`` broke on, by what is put into the metric base job.
ONCE_BROKE = {
    "a longest length that is no multiple of its step": {
        ("films", 0, "rolls", 0, "length"): "30.5 m", ("films", 0, "rolls", 0, "step"): "1 m",
    },
    "an upright edge in a skyline": {("horizons", 0, "points"): [["90", "2"], ["90", "20"], ["300", "5"]]},
    "a small room behind much glass": {
        (*HEAT, "floor_area"): "2 m2", (*HEAT, "ceiling"): "1800 mm", (*HEAT, "air_changes_per_h"): "20",
        (*HEAT, "wall_u_w_m2k"): "6", (*HEAT, "wall_area"): "0 m2", (*HEAT, "roof_u_w_m2k"): "6",
        (*NORTH, "quantity"): "12",
    },
    "a tall room with solid walls": {
        (*HEAT, "floor_area"): "20 m2", (*HEAT, "ceiling"): "15 m", (*HEAT, "wall_area"): "400 m2",
        (*HEAT, "walls"): "solid_uninsulated",
    },
    "glass of 28 mm": {("glazings", 0, "lites", 0, "thickness_mm"): "28"},
    "yen": {("currency",): "JPY", ("locale",): "ja_JP"},
}  # fmt: skip


@pytest.mark.parametrize("name", ONCE_BROKE)
def test_a_job_that_once_broke_is_made(name: str, tmp_path: Path, book: Callable[[Study], Any]) -> None:
    """What is odd but possible is made, down to the PDF."""
    case = edges.Case("metric", tuple(edges.Edge(*edge) for edge in ONCE_BROKE[name].items()))
    assert edges.verdict(edges.write(tmp_path / "job", case), book, ("html", "pdf")) == "made"


@pytest.mark.parametrize("folder", ["Ännchens Küche {west} %s", "o'job & \N{EN DASH} 50 %", "名前"])
def test_a_job_is_made_whatever_its_folder_is_called(
    folder: str, tmp_path: Path, book: Callable[[Study], Any]
) -> None:
    """Accents, braces and signs of a path stand in no document's way, and in none of them."""
    study = Study.open(edges.write(tmp_path / folder, edges.Case("metric")))
    notebook = book(study)
    assert edges.verdict(study.loaded.folder, book) == "made"
    assert folder not in str(notebook)


def test_every_group_has_edges() -> None:
    """The edges come from the models: each group of a job has some, and each field has one or more."""
    found = edges.edges("decided")
    assert set(Job.model_fields) - edges.NAMES <= {edge.way[0] for edge in found} | {"panes"}
    files = {"panes": COLUMNS, "decisions": Decision.model_fields, "readings": Reading.model_fields}
    for file, columns in files.items():
        walked = {edge.way[2] for edge in found if edge.way[0] == file}
        assert set(columns) - edges.NAMES - {"films"} <= walked


def numbers(kind: Any, marks: tuple[Any, ...], name: str) -> Iterator[tuple[str, Any]]:
    """Yield the numbers below a type, each with the name of its field."""
    origin, parts = typing.get_origin(kind), typing.get_args(kind)
    if isinstance(kind, type) and origin is None and issubclass(kind, BaseModel):
        for inner, field in kind.model_fields.items():
            if inner in edges.NAMES:
                continue
            yield from numbers(field.annotation, tuple(field.metadata), f"{kind.__name__}.{inner}")
    elif origin is Annotated:
        yield from numbers(parts[0], (*parts[1:], *marks), name)
    elif kind in (int, float, Decimal, Fraction):
        yield name, Annotated[kind, *marks]
    elif origin is not typing.Literal:
        kept = marks if origin in (typing.Union, types.UnionType) else ()
        for part in parts:
            yield from numbers(part, kept, name)


NUMBERS = list(numbers(Job, (), ""))


@pytest.mark.parametrize(("name", "kind"), NUMBERS, ids=[name for name, _ in NUMBERS])
def test_an_edge_is_the_last_value_allowed(name: str, kind: Any) -> None:
    """Every number has two edges, which its field takes; a little beyond, it does not."""
    field, typed = TypeAdapter(kind), edges.values(kind, [])
    assert len(typed) == 2
    step = 1 if typing.get_args(kind)[0] is int else 0.0011  # an edge is a thousandth inside an open bound
    for text, way in zip(typed, (-step, step), strict=True):
        number, _, unit = text.partition(" ")
        beyond = f"{Decimal(number) + Decimal(str(way))} {unit}".strip()
        for length in ("mm", "in"):
            field.validate_python(text, context={"default_length": length})
            with pytest.raises(ValidationError):
                field.validate_python(beyond, context={"default_length": length})
