"""Jobs at the edges of what a job may say: every field at each of its bounds, then many fields at once.

The bounds are read from the models, so that a new field is tried by itself. A job is a base job, right and
quick, with some fields put at an edge. Whatever it says, either ``load_job`` names the fault, or everything
is made of it: `verdict` never finds anything else.
"""

from __future__ import annotations

import csv
import datetime as dt
import shutil
import types
import typing
from collections.abc import Callable, Iterator
from copy import deepcopy
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from itertools import pairwise
from pathlib import Path
from random import Random
from typing import Any

from annotated_types import Ge, Gt, Le, Lt, MaxLen, MinLen
from bounds import beyond
from pydantic import BaseModel
from ruamel.yaml import YAML

from reportkit.app.checks import checked
from reportkit.app.run import OFFER
from reportkit.base.errors import InputError
from reportkit.documents.layouts import exporters
from reportkit.documents.layouts.assemble import assemble, present
from reportkit.job import load_job
from reportkit.job.model import Decision, Job, Pane, Reading
from reportkit.job.model.quantities import AirFlow, Area, Power, Temperature
from reportkit.job.model.shapes import Shape
from reportkit.job.model.typed import between, plain_clock
from reportkit.job.reading.survey import READINGS
from reportkit.study import Study

Way = tuple[str | int, ...]

#: Fields that are names of other entries, files or words of the world: no bounds to stand at.
NAMES = frozenset(
    {"id", "room", "face", "glazing", "horizon", "film", "photo", "job", "faces", "panes", "compare", "fuel",
     "alternatives", "currency", "locale", "clock", "country", "name", "file", "glass_file", "unit", "pane",
     "beside", "photo_corners"}
)  # fmt: skip

#: Files of a job beside ``job.yaml``, by the field that they fill.
BESIDE = ("panes", "readings", "decisions")

#: How what is typed is taken in any base, whatever its units.
UNITS = ((Area, " m2"), (Temperature, " C"), (Power, " W"), (AirFlow, " m3/h"))

#: Shapes of a pane 905 by 1385 mm at their ends: no rise to speak of, a tip over a corner, a side of nothing,
#: a thin sliver, and one that its box refuses.
SHAPES = (
    "arch 0.1 mm", "arch 452 mm", "oval", "circle", "triangle 0 mm", "triangle 905 mm",
    "trapezoid 0 mm & 1385 mm", "polygon 0 mm x 0 mm & 905 mm x 1384 mm & 0 mm x 1385 mm",
)  # fmt: skip

#: What may be typed at the ends of the calendar and the clock, by the field's type.
TIMES = {dt.date: ["1990-01-01", "2100-12-31"], dt.datetime: ["1990-01-01 00:00", "2100-12-31 23:59"]}


def _upon(base: Any, change: Any) -> Any:
    """Return a mapping with another laid upon it; ``null`` takes an entry out."""
    if not (isinstance(base, dict) and isinstance(change, dict)):
        return change
    laid = base | {name: _upon(base.get(name), part) for name, part in change.items()}
    return {name: part for name, part in laid.items() if part != "null"}


_read = YAML(typ="base").load(Path(__file__).with_suffix(".yaml"))
#: The jobs that edges are put into, by name, each of its files by the field that it fills.
BASES: dict[str, dict[str, Any]] = {name: _upon(_read["metric"], change) for name, change in _read.items()}


@dataclass(frozen=True)
class Edge:
    """A field put at one of its bounds: the way to it, the file's field first but for ``job.yaml``."""

    way: Way
    typed: Any

    def __str__(self) -> str:
        """Return it as a person would write it."""
        return f"{'.'.join(map(str, self.way))}: {self.typed}"


@dataclass(frozen=True)
class Case:
    """A base job by its name, and what is put at an edge in it."""

    base: str
    edges: tuple[Edge, ...] = ()

    def __str__(self) -> str:
        """Return it as the name of a test."""
        return "; ".join([self.base, *map(str, self.edges)])[:60]


def _bounds(marks: list[Any]) -> tuple[Any, Any]:
    """Return the least and most that a field's marks allow; just inside where the bound is out."""
    low = high = None
    for mark in (getattr(mark, "func", mark) for mark in marks):
        low = mark.ge if isinstance(mark, Ge) else mark.low if isinstance(mark, between) else low
        high = mark.le if isinstance(mark, Le) else mark.high if isinstance(mark, between) else high
        low = mark.gt + 0.001 if isinstance(mark, Gt) else low
        high = mark.lt - 0.001 if isinstance(mark, Lt) else high
    return low, high


def values(kind: Any, marks: list[Any]) -> list[Any]:
    """Return what may be typed at the edges of a type."""
    origin, parts = typing.get_origin(kind), typing.get_args(kind)
    if origin is typing.Annotated:
        inner = [part for mark in parts[1:] for part in getattr(mark, "metadata", [mark])]
        return values(parts[0], [*inner, *marks])
    if origin in (typing.Union, types.UnionType):
        return [value for part in parts for value in values(part, marks)]
    if origin is typing.Literal:
        return list(parts)
    if origin is tuple:
        if parts[-1] is not Ellipsis:
            return _rows([values(part, []) for part in parts])
        least = max((mark.min_length for mark in marks if isinstance(mark, MinLen)), default=1)
        return [[value] * max(1, least) for value in values(parts[0], [])]
    if kind is bool:
        return ["yes", "no"]
    if kind in (float, int, Decimal, Fraction):
        unit = " mm" if kind is Fraction else ""
        unit = next((word for of, word in UNITS if set(of.__metadata__) & set(marks)), unit)
        found = [bound for bound in _bounds(marks) if bound is not None]
        return [f"{float(bound):.12g}{unit}" if kind is not int else str(int(bound)) for bound in found]
    if kind is str and any(getattr(mark, "func", None) is plain_clock for mark in marks):
        return ["00:00", "23:59"]
    if kind is str:
        long = [mark.max_length for mark in marks if isinstance(mark, MaxLen)]
        return ["", "Ω" * 60, *(("a word " * most)[: most - 1] + "." for most in long)]
    return list(TIMES.get(kind, ()))


def _rows(columns: list[list[Any]]) -> list[list[Any]]:
    """Return rows of a value from each column: all first, all last, and either of both at the end."""
    if not all(columns):
        return []
    first, last = [part[0] for part in columns], [part[-1] for part in columns]
    rows = [first, last, [*first[:-1], last[-1]], [*last[:-1], first[-1]]]
    return [row for number, row in enumerate(rows) if row not in rows[:number]]


def _below(model: type[BaseModel], way: Way, raw: Any) -> Iterator[Edge]:
    """Yield the edges of a record's fields; in a mapping, those of what stands at its first name."""
    for name, field in model.model_fields.items():
        here, inner = (*way, name), raw.get(name) if isinstance(raw, dict) else None
        record = _record(field.annotation)
        if not way and name in BESIDE:
            continue
        if record is Shape:  # typed as one text
            yield from (Edge(here, text) for text in SHAPES)
            continue
        if record is not None:
            listed = typing.get_origin(field.annotation) is tuple
            stands = inner[0] if listed and inner else inner
            yield from _below(record, (*here, 0) if listed else here, stands or {})
        elif name in NAMES:
            continue
        elif typing.get_origin(field.annotation) is dict:
            for typed in values(typing.get_args(field.annotation)[1], []):
                yield from (Edge((*here, key), typed) for key in list(inner or {})[:1])
        else:
            for typed in values(field.annotation, list(field.metadata)):
                if typed != "pvgis":  # it asks the network
                    yield Edge(here, typed)


def _record(kind: Any) -> type[BaseModel] | None:
    if isinstance(kind, type) and not isinstance(kind, types.GenericAlias):
        return kind if issubclass(kind, BaseModel) else None
    return next((found for part in typing.get_args(kind) if (found := _record(part))), None)


def edges(base: str) -> list[Edge]:
    """Return every field of a base job, and every column of its tables, at each of its bounds."""
    found = list(_below(Job, (), BASES[base]["job"]))
    for model, file in ((Pane, "panes"), (Decision, "decisions"), (Reading, "readings")):
        for edge in _below(model, (file, 0), BASES[base][file][0]) if file in BASES[base] else ():
            _, _, name, *inner = edge.way
            columns = READINGS.get(str(name), (name,)) if file == "panes" else (name,)
            typed = edge.typed
            if file == "panes" and isinstance(typed, list):
                typed = " & ".join(typed) if name in ("seam", "mullion") else typed[0]
            found += [Edge((file, 0, column, *inner), typed) for column in columns]
    bare = [
        (("choice", "job"), "none"),
        (("choice", "faces"), {"west": "none"}),
        (("panes", 0, "film"), "none"),
    ]
    return found + [Edge(way, typed) for way, typed in bare]


def each() -> list[Case]:
    """Return every edge alone, in each base."""
    return [Case(base, (edge,)) for base in BASES for edge in edges(base)]


def packs(where: Path, most: int = 8) -> list[Case]:
    """Return jobs that together hold every edge once, up to ``most`` in one, as far as they load together.

    An edge that is a fault alone is a job of its own: ``load_job`` has named it.
    """
    found: list[Case] = []
    for base in BASES:
        left = []
        for edge in edges(base):
            if loads(where, alone := Case(base, (edge,))):
                left.append(edge)
            else:
                found.append(alone)
        Random(3).shuffle(left)
        while left:
            held: list[Edge] = []
            for edge in list(left):
                ways = (one.way[: len(edge.way)] for one in held)
                beside = all(way != edge.way[: len(way)] for way in ways)
                if not held or (beside and loads(where, Case(base, (*held, edge)))):
                    held.append(edge)
                    left.remove(edge)
                if len(held) == most:
                    break
            found.append(Case(base, tuple(held)))
    return found


def loads(where: Path, case: Case) -> bool:
    """Return whether a job is free of faults; whatever else happens to it is raised."""
    folder = write(where / "job", case)
    try:
        load_job(folder)
    except InputError:
        return False
    finally:
        shutil.rmtree(folder)
    return True


def tries(seed: int, count: int) -> list[Case]:
    """Return jobs of two to six edges at once, the same for a seed."""
    rng, every = Random(seed), {base: edges(base) for base in BASES}
    bases = [rng.choice(list(BASES)) for _ in range(count)]
    return [Case(base, tuple(rng.sample(every[base], rng.randint(2, 6)))) for base in bases]


def write(folder: Path, case: Case) -> Path:
    """Write a base job with some fields at their edges, and return its folder."""
    files = deepcopy(BASES[case.base])
    for edge in case.edges:
        way = edge.way if edge.way[0] in BESIDE else ("job", *edge.way)
        at: Any = files
        for part, after in pairwise(way):
            if isinstance(at, list):
                at += [{}] * (int(part) + 1 - len(at))
            elif at.get(part) is None:
                at[part] = [] if isinstance(after, int) else {}
            at = at[part]
        at[way[-1]] = edge.typed
    folder.mkdir(parents=True)
    trees = {"job.yaml": files["job"], "decisions.yaml": {"decisions": files.get("decisions")}}
    tables = {"windows.csv": files["panes"], "readings.csv": files.get("readings")}
    for name, tree in trees.items():
        if tree != {"decisions": None}:
            with (folder / name).open("w", encoding="utf-8") as file:
                YAML().dump(tree, file)
    for name, rows in tables.items():
        if rows:
            with (folder / name).open("w", encoding="utf-8", newline="") as file:
                table = csv.DictWriter(file, list(dict.fromkeys(column for row in rows for column in row)))
                table.writeheader()
                table.writerows(rows)
    return folder


def verdict(folder: Path, book: Callable[[Study], Any], endings: tuple[str, ...] = ("html",)) -> str:
    """Return ``faults`` where the command names some, or ``made``; whatever else happens to a job is raised.

    Parameters
    ----------
    folder
        The job's folder.
    book
        From a study to its notebook, as ``conftest.book``.
    endings
        Which kinds of documents to write.
    """
    try:
        checked(folder)
    except InputError:
        return "faults"
    notebook = book(Study.open(folder))
    wrong = beyond(assemble(notebook, "proposal").results)
    assert not wrong, "\n".join(wrong[:9])
    for name, exporter in exporters.BY_FILE.items():
        if exporter.kind in OFFER and present(notebook, exporter.kind) and name.endswith(endings):
            settings = {"static": True} if name.endswith("html") else {}
            exporter(run="0001", **settings).from_notebook_node(notebook)
    return "made"


def run(case: Case, where: Path, book: Callable[[Study], Any]) -> str:
    """Write a job, return its verdict, and take it away again."""
    folder = write(where / "job", case)
    try:
        return verdict(folder, book)
    finally:
        shutil.rmtree(folder)
