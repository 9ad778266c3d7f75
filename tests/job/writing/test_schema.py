"""The JSON Schema of the job file, and the notes at the fields it is worded from."""

import json
from pathlib import Path
from typing import Any, get_args

import jsonschema
import pytest
from pydantic import BaseModel
from ruamel.yaml import YAML

from reportkit.job import Job, schema, write_starter
from reportkit.job.model.about import meaning

JOBS = Path(__file__).parents[3] / "jobs"


def load(path: Path) -> Any:
    """Return a YAML file as an editor's validator sees it."""
    data = YAML(typ="safe", pure=True).load(path.read_text(encoding="utf-8"))
    return json.loads(json.dumps(data, default=str))


def records() -> dict[str, type[BaseModel]]:
    """Return every record a job is made of."""
    found: dict[str, type[BaseModel]] = {}
    waiting: list[Any] = [Job]
    while waiting:
        part = waiting.pop()
        if isinstance(part, type) and issubclass(part, BaseModel) and part.__name__ not in found:
            found[part.__name__] = part
            waiting += [field.annotation for field in part.model_fields.values()]
        waiting += [item for item in get_args(part) if item is not Ellipsis]
    return found


def test_every_field_is_explained_where_it_stands() -> None:
    """Every field of every record says what it means, in one line, and shows a value as typed."""
    fields = {
        f"{name}.{field}": info
        for name, record in records().items()
        for field, info in record.model_fields.items()
    }
    assert {"Job.id", "Pane.seam", "Decision.who", "Reading.beside", "Tax.percent"} <= set(fields)
    for name, info in fields.items():
        what, example = meaning(info)  # refuses a field without either
        assert "\n" not in what + example and "|" not in what + example, name
        assert not what.endswith("."), name


def test_a_field_without_its_meaning_is_refused() -> None:
    """A field that says nothing of itself cannot reach the guide."""

    class Silent(BaseModel):
        x: int = 1

    with pytest.raises(LookupError, match="about"):
        meaning(Silent.model_fields["x"])


def test_schema_is_a_schema_and_stable() -> None:
    """It is a right draft 2020-12 schema, plain JSON, and the same twice; every field has its words."""
    first = schema()
    jsonschema.Draft202012Validator.check_schema(first)
    assert json.dumps(first) == json.dumps(schema())
    assert all(part.get("description") for part in first["properties"].values())
    assert "panes" not in first["properties"]
    assert "Pane" not in first["$defs"]


@pytest.mark.parametrize("job", ["corner-shop", "harbour-house", "hill-studio"])
def test_demo_jobs_satisfy_the_schema(job: str) -> None:
    """The demo jobs pass a general validator, also where ``_shared`` gives the rest."""
    validator = jsonschema.Draft202012Validator(schema())
    assert list(validator.iter_errors(yes_and_no(load(JOBS / job / "job.yaml")))) == []


def yes_and_no(value: Any) -> Any:
    """Read yes and no as the job reader does: YAML 1.2 leaves them texts."""
    if isinstance(value, dict):
        return {name: yes_and_no(part) for name, part in value.items()}
    if isinstance(value, list):
        return [yes_and_no(part) for part in value]
    return {"yes": True, "no": False}.get(value, value) if isinstance(value, str) else value


def test_starter_satisfies_the_schema_and_slips_do_not(tmp_path: Path) -> None:
    """The starter passes; an unknown field, a wrong word and a missing group do not."""
    write_starter(tmp_path, units="us")
    job = yes_and_no(load(tmp_path / "job.yaml"))
    validator = jsonschema.Draft202012Validator(schema())
    assert validator.is_valid(job)
    assert not validator.is_valid({**job, "titel": "x"})
    assert not validator.is_valid({**job, "units": "feet"})
    assert not validator.is_valid({name: part for name, part in job.items() if name != "complaint"})
