"""Every field goes through a workbook's cells and through YAML, and comes back as the text it was.

The jobs are those of the tables of fields and columns: each field with another value than usual, in a job
that it counts in. A field without a line in those tables fails there, so that none is left out here.
"""

from __future__ import annotations

from typing import Any

import pytest
from generated.fields import test_every_column, test_every_field
from generated.fields.conftest import BASE, edited, flow, lines
from ruamel.yaml import YAML

from reportkit.job.reading.book import PANES, on_sheet, read_book, sheet_of
from reportkit.job.reading.survey import read_rows, row_of
from reportkit.job.reading.yamltree import read_tree
from reportkit.job.writing.book import workbook
from reportkit.job.writing.convert import survey_text
from reportkit.job.writing.yamltext import yaml_text


def plain(value: Any) -> Any:
    """Return a tree as texts in plain lists and mappings, what is not given left out."""
    if isinstance(value, dict):
        return {str(name): plain(part) for name, part in value.items() if part != "null"}
    return [plain(part) for part in value] if isinstance(value, list) else str(value)


def different(values: list[Any]) -> list[Any]:
    """Return each different value once."""
    return [value for number, value in enumerate(values) if value not in values[:number]]


@pytest.fixture(scope="module")
def jobs() -> list[dict[str, Any]]:
    """Return the job of every line of both tables, before its change and after."""
    base = YAML(typ="base").load(BASE)
    made = []
    for module in (test_every_field, test_every_column):
        for line in lines(module.TABLE, module.WORDS):
            before = edited(base, flow(line.given))
            made += [before, edited(before, flow(line.change))]
    return [plain(job) for job in made]


def together(parts: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Return fewer parts with each value that a field has in any of them: the n-th has the n-th of each."""
    values: dict[str, list[Any]] = {}
    for part in parts:
        for name, value in part.items():
            values.setdefault(name, []).append(value)
    each = {name: different(found) for name, found in values.items()}
    count = max(map(len, each.values()))
    return [
        {name: found[min(number, len(found) - 1)] for name, found in each.items()} for number in range(count)
    ]


@pytest.fixture(scope="module")
def parts(jobs: list[dict[str, Any]]) -> dict[str, list[dict[str, Any]]]:
    """Return parts of jobs by their sheet, with every different value of every field."""
    sheets: dict[str, list[dict[str, Any]]] = {}
    for job in jobs:
        for name, value in job["job"].items():
            sheets.setdefault(sheet_of(name), []).append({name: value})
    made = {}
    for title, alone in sheets.items():
        (name, *others) = on_sheet(title)
        if isinstance(alone[0][name], list):  # its entries stand beside each other
            made[title] = [{name: different([entry for raw in alone for entry in raw[name]])}]
        elif others:
            made[title] = together(alone)
        else:
            made[title] = [{name: raw} for raw in together([raw[name] for raw in alone])]
    return made


@pytest.fixture(scope="module")
def surveys(jobs: list[dict[str, Any]]) -> list[list[dict[str, str]]]:
    """Return each different survey."""
    return different([job["panes"] for job in jobs])


def test_every_field_goes_through_cells(parts: dict[str, list[dict[str, Any]]]) -> None:
    """Written into the cells of its sheet and read back, a part of a job is the same."""
    assert len(parts) > 7
    for title, raws in parts.items():
        for raw in raws:
            book = read_book("job.xlsx", workbook(raw, [], sheets=(title,)), panes=False)
            assert not isinstance(book, list)
            assert (book.tree.value, book.faults) == (raw, [])


def test_every_field_goes_through_yaml(parts: dict[str, list[dict[str, Any]]]) -> None:
    """Written as YAML and read back it is the same, too."""
    for raw in (raw for raws in parts.values() for raw in raws):
        tree, faults = read_tree("job.yaml", yaml_text(raw))
        assert tree is not None
        assert (tree.value, faults) == (raw, [])


def test_every_value_is_in_the_parts(jobs: list[dict[str, Any]], parts: dict[str, Any]) -> None:
    """Putting values together leaves none out: each text of every job stands in a part."""

    def texts(value: Any, path: str = "") -> set[tuple[str, str]]:
        if isinstance(value, dict):
            return {text for name, part in value.items() for text in texts(part, f"{path}.{name}")}
        if isinstance(value, list):
            return {text for part in value for text in texts(part, path)}
        return {(path, value)}

    wanted = set().union(*(texts(job["job"]) for job in jobs))
    assert len(wanted) > 500
    assert wanted == set().union(*(texts(raw) for raws in parts.values() for raw in raws))


def test_every_column_goes_through_both(surveys: list[list[dict[str, str]]]) -> None:
    """A survey is the same behind its table; the rows of all are, in one, behind its sheet."""
    assert len(surveys) > 40
    for texts in surveys:
        rows = [row_of(number, row, ()) for number, row in enumerate(texts, 3)]
        again, faults = read_rows("windows.csv", survey_text(rows))
        assert ([row.cells for row in again], faults) == (texts, [])
    texts = different([row for survey in surveys for row in survey])
    rows = [row_of(number, row, ()) for number, row in enumerate(texts, 3)]
    book = read_book("job.xlsx", workbook({"units": "metric"}, rows, sheets=("Job", PANES)))
    assert not isinstance(book, list)
    assert ([row.cells for row in book.rows], book.faults) == (texts, [])
