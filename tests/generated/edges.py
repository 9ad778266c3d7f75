"""Jobs at the edges of what a job may say: every field at each of its bounds, then many fields at once.

The bounds are read from the models, so that a new field is tried by itself. A job is a base job, right and
quick, with some fields put at an edge. Whatever it says, either ``load_job`` names the fault, or everything
is made of it: `verdict` never finds anything else.
"""

from __future__ import annotations

import csv
import math
import shutil
import types
import typing
from collections.abc import Callable, Iterator
from copy import deepcopy
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from pathlib import Path
from random import Random
from typing import Any

from annotated_types import Ge, Gt, Le, Lt
from pydantic import BaseModel
from pydantic.fields import FieldInfo
from ruamel.yaml import YAML

from reportkit.errors import InputError
from reportkit.job import load_job
from reportkit.job.models import Job, Pane
from reportkit.job.survey import READINGS
from reportkit.job.typed import between
from reportkit.report import exporters
from reportkit.report.assemble import assemble
from reportkit.study import Study

Way = tuple[str | int, ...]

#: Fields that are names of other entries, files or words of the world: no bounds to stand at.
NAMES = frozenset(
    {"id", "room", "face", "glazing", "horizon", "film", "photo", "job", "faces", "panes", "compare", "fuel",
     "currency", "locale", "clock", "country", "name", "file", "unit", "decisions", "readings"}
)  # fmt: skip

#: A base job in which every group of fields stands, so that each bound has its place.
BASE: dict[str, Any] = {
    "id": "edge",
    "invented": "yes",
    "units": "metric",
    "currency": "EUR",
    "language": "en",
    "locale": "en_IE",
    "site": {"latitude": "41", "longitude": "12", "elevation_m": "50", "clock": "Europe/Rome"},
    "weather": {
        "use": "normals",
        "normals": {
            "source": "invented",
            "mean_c": ["8", "9", "11", "14", "18", "22", "25", "25", "21", "17", "12", "9"],
            "daily_range_k": ["8"] * 12,
            "sun_kwh_m2_day": [
                "1.9",
                "2.7",
                "3.9",
                "5",
                "6.1",
                "6.7",
                "6.8",
                "5.9",
                "4.5",
                "3.1",
                "2",
                "1.6",
            ],
        },
    },
    "complaint": {"text": "too hot", "kinds": ["heat", "glare"], "room": "living"},
    "client": {"name": "Ana Example"},
    "business": {"name": "Example Films"},
    "quote": {"number": "Q-1", "date": "2026-03-02"},
    "survey": {},
    "limits": {},
    "building": {},
    "rooms": [
        {
            "id": "living",
            "heat": {
                "floor_area": "24 m2",
                "cooling": {"set_point": "25 C"},
                "heating": {"set_point": "20 C", "fuel": "gas"},
            },
        }
    ],
    "horizons": [{"id": "hill", "points": [["90", "5"], ["200", "12"]]}],
    "faces": [{"id": "west", "bearing": "265", "horizon": "hill"}],
    "glazings": [
        {
            "id": "double",
            "lites": [{"thickness_mm": "4"}, {"thickness_mm": "4"}],
            "gaps": [{"width_mm": "12"}],
            "coating": {"kind": "hard_low_e", "surface": "3"},
        }
    ],
    "films": [
        {
            "id": "grey",
            "film_class": "ceramic",
            "thickness_um": "50",
            "rated": {
                "solar_transmittance_percent": "38",
                "solar_reflectance_glass_side_percent": "9",
                "visible_transmittance_percent": "42",
            },
            "claims": {},
            "chart": {},
            "rolls": [{"width": "1524 mm", "price_per_m": "28", "step": "500 mm", "length": "30 m"}],
        }
    ],
    "choice": {},
    "fitting": {"date": "2026-03-23"},
    "prices": {"labour_per_hour": "60", "tax": {"percent": "20"}},
    "energy": {
        "electricity": {"rate": "0.3"},
        "fuels": [{"id": "gas", "rate": "1", "unit": "kWh"}],
    },
    "shades": [{"kind": "awning", "price": "900", "depth": "1200 mm"}],
}
PANE = {"id": "W1", "room": "living", "face": "west", "glazing": "double", "width": "905", "height": "1385"}


@dataclass(frozen=True)
class Edge:
    """A field put at one of its bounds: the way to it (``panes`` is the survey), and what is typed there."""

    way: Way
    typed: Any

    def __str__(self) -> str:
        """Return it as a person would write it."""
        return f"{'.'.join(map(str, self.way))}: {self.typed}"


def _bounds(marks: list[Any]) -> tuple[Any, Any]:
    """Return the least and most that a field's marks allow; just inside where the bound is out."""
    low = high = None
    for mark in (getattr(mark, "func", mark) for mark in marks):
        low = mark.ge if isinstance(mark, Ge) else mark.low if isinstance(mark, between) else low
        high = mark.le if isinstance(mark, Le) else mark.high if isinstance(mark, between) else high
        low = mark.gt + 0.001 if isinstance(mark, Gt) else low
        high = mark.lt - 0.001 if isinstance(mark, Lt) else high
    return low, high


def _values(kind: Any, marks: list[Any]) -> list[Any]:
    """Return what may be typed at the edges of a type."""
    origin = typing.get_origin(kind)
    if origin is typing.Annotated:
        first, *more = typing.get_args(kind)
        inner = [part for mark in more for part in (mark.metadata if isinstance(mark, FieldInfo) else [mark])]
        return _values(first, [*inner, *marks])
    if origin in (typing.Union, types.UnionType):
        return [value for part in typing.get_args(kind) for value in _values(part, marks)]
    if origin is typing.Literal:
        return list(typing.get_args(kind))
    if origin is tuple:
        parts = typing.get_args(kind)
        single = _values(parts[0], [])
        if parts[-1] is not Ellipsis:
            return [[value] * len(parts) for value in single]
        counts = [mark.min_length for mark in marks if hasattr(mark, "min_length")]
        return [[value] * max(1, *counts, 1) for value in single]
    if kind is bool:
        return ["yes", "no"]
    if kind in (float, int, Decimal, Fraction):
        unit = " mm" if kind is Fraction else ""
        found = [bound for bound in _bounds(marks) if bound is not None]
        return [f"{float(bound):.12g}{unit}" if kind is not int else str(int(bound)) for bound in found]
    if kind is str:
        return ["", "Ω" * 60]
    return []


def _below(model: type[BaseModel], way: Way, raw: Any) -> Iterator[Edge]:
    for name, field in model.model_fields.items():
        here = (*way, name)
        record = _record(field.annotation)
        if record is not None:
            listed = typing.get_origin(field.annotation) is tuple
            inner = raw.get(name) if isinstance(raw, dict) else None
            stands = inner[0] if listed and inner else inner
            if name not in NAMES or name == "fuel":
                yield from _below(record, (*here, 0) if listed else here, stands or {})
        elif name not in NAMES:
            for typed in _values(field.annotation, list(field.metadata)):
                if typed != "pvgis":  # it asks the network
                    yield Edge(here, typed)


def _record(kind: Any) -> type[BaseModel] | None:
    if isinstance(kind, type) and not isinstance(kind, types.GenericAlias):
        return kind if issubclass(kind, BaseModel) else None
    return next((found for part in typing.get_args(kind) if (found := _record(part))), None)


def edges() -> list[Edge]:
    """Return every field of a job and every column of the survey at each of its bounds."""
    found = list(_below(Job, (), BASE))
    for edge in _below(Pane, ("panes",), PANE):
        columns = READINGS.get(str(edge.way[1]), (edge.way[1],))
        typed = " & ".join(edge.typed) if edge.way[1] in ("seam", "mullion") else edge.typed
        typed = typed[0] if isinstance(typed, list) else typed
        found += [Edge(("panes", column), typed) for column in columns]
    return found


def write(folder: Path, chosen: list[Edge], panes: int = 1) -> Path:
    """Write the base job with some fields at their edges, and return its folder."""
    job, row = deepcopy(BASE), dict(PANE)
    for edge in chosen:
        if edge.way[0] == "panes":
            row[str(edge.way[1])] = str(edge.typed)
            continue
        at: Any = job
        for part, after in zip(edge.way[:-1], edge.way[1:], strict=True):
            if isinstance(at, list):
                at += [{}] * (int(part) + 1 - len(at))
            elif at.get(part) is None:
                at[part] = [] if isinstance(after, int) else {}
            at = at[part]
        at[edge.way[-1]] = edge.typed
    folder.mkdir(parents=True)
    with (folder / "job.yaml").open("w", encoding="utf-8") as file:
        YAML().dump(job, file)
    with (folder / "windows.csv").open("w", encoding="utf-8", newline="") as file:
        table = csv.DictWriter(file, list(row))
        table.writeheader()
        table.writerows([row | {"id": f"W{number + 1}"} for number in range(panes)])
    return folder


def unfinished(data: Any, way: str = "") -> Iterator[str]:
    """Yield where results hold a number that is none."""
    if isinstance(data, float) and not math.isfinite(data):
        yield way
    parts = data.items() if isinstance(data, dict) else enumerate(data) if isinstance(data, list) else ()
    for name, part in parts:
        yield from unfinished(part, f"{way}.{name}")


def verdict(folder: Path, book: Callable[[Study], Any], endings: tuple[str, ...] = ("html",)) -> str:
    """Return ``faults`` or ``made``; whatever else happens to a job is raised.

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
        load_job(folder)
    except InputError:
        return "faults"
    notebook = book(Study.open(folder))
    wrong = list(unfinished(assemble(notebook, "proposal").results))
    assert not wrong, f"not a number: {wrong[:9]}"
    for name, exporter in exporters.BY_FILE.items():
        if exporter.kind in ("proposal", "fitting") and name.endswith(endings):
            settings = {"static": True} if name.endswith("html") else {}
            exporter(run="0001", **settings).from_notebook_node(notebook)
    return "made"


def tries(seed: int, count: int) -> list[list[Edge]]:
    """Return jobs of two to six edges at once, the same for a seed."""
    rng, all_ = Random(seed), edges()
    return [rng.sample(all_, rng.randint(2, 6)) for _ in range(count)]


def run(chosen: list[Edge], where: Path, book: Callable[[Study], Any], panes: int = 1) -> str:
    """Write a job, return its verdict, and take it away again."""
    folder = write(where / "job", chosen, panes)
    try:
        return verdict(folder, book)
    finally:
        shutil.rmtree(folder)
