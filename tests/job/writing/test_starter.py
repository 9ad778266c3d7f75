"""The starter passes the reader in both units and never overwrites."""

import re
from pathlib import Path
from typing import Literal

import pytest
from ruamel.yaml import YAML

from reportkit.base.errors import InputError
from reportkit.job import load_job, schema, write_starter
from reportkit.job.reading.survey import COLUMNS


@pytest.mark.parametrize("units", ["us", "metric"])
def test_starter_is_a_right_job(tmp_path: Path, units: Literal["us", "metric"]) -> None:
    """A new job has no fault, is in the units asked for, and needs nothing beside it."""
    written = write_starter(tmp_path / "new" / "job", units=units)
    assert [path.name for path in written] == ["job.yaml", "windows.csv"]
    loaded = load_job(tmp_path / "new" / "job")
    assert loaded.job.units == units
    assert loaded.sources == tuple(path.resolve() for path in written)
    assert loaded.job.invented


@pytest.mark.parametrize("units", ["us", "metric"])
def test_starter_uncommented_is_right_too(tmp_path: Path, units: Literal["us", "metric"]) -> None:
    """Every field that stands behind a # may be used as it is: the remarks do not lie."""
    write_starter(tmp_path, units=units)
    path = tmp_path / "job.yaml"
    full = schema()
    names = {name for record in (full, *full["$defs"].values()) for name in record["properties"]}
    lines = []
    opened = False
    for written in path.read_text(encoding="utf-8").split("\n"):
        bare = written.lstrip()
        behind = bare[2:] if bare.startswith("# ") else ""
        name = behind.lstrip(" -").split(":")[0].split("[")[0]
        known = name in names and behind.lstrip(" -").startswith(f"{name}:")
        weather = name == "file" and "approval.pdf" not in behind
        if known and name not in ("use", "films") and not weather and "with" not in behind[:14]:
            opened = True
            lines.append(written[: len(written) - len(bare)] + behind)
        else:
            lines.append(written)
    assert opened
    path.write_text("\n".join(lines), encoding="utf-8")
    (tmp_path / "approval.pdf").write_bytes(b"%PDF-1.4 an invented letter")
    job = load_job(tmp_path).job
    assert job.approvals[0].file == "approval.pdf"
    assert job.horizons[0].leafless_months == (12, 1, 2)
    assert job.faces[0].horizon == "trees"
    assert job.choice.panes == {"W2": "none"}
    assert job.glazings[0].coating is not None
    assert job.fitting.keep_offcut is not None


@pytest.mark.parametrize("units", ["us", "metric"])
def test_starter_tells_of_a_desk_in_the_morning(tmp_path: Path, units: Literal["us", "metric"]) -> None:
    """Its sample is glare at a desk by an east window, under the shipped year of Miami, at whole degrees."""
    write_starter(tmp_path, units=units)
    loaded = load_job(tmp_path)
    job = loaded.job
    assert job.complaint.kinds[0] == "glare"
    assert "desk" in job.complaint.text
    assert {pane.face for pane in job.panes} == {face.id for face in job.faces} == {"east"}
    assert 45 < job.faces[0].bearing < 135
    assert (job.weather.use, job.weather.name) == ("shipped", "miami")
    assert (loaded.latitude, loaded.longitude) == (26, -80)
    text = (tmp_path / "job.yaml").read_text("utf-8") + (tmp_path / "windows.csv").read_text("utf-8")
    assert not re.search("afternoon|living|garden", text)


def test_starter_shows_every_group(tmp_path: Path) -> None:
    """Every field of the job's top is in the starter, used or as a remark."""
    write_starter(tmp_path, units="us")
    text = (tmp_path / "job.yaml").read_text(encoding="utf-8")
    tops = schema()["properties"]
    missing = [name for name in tops if f"\n{name}:" not in text and f"\n# {name}:" not in text]
    assert missing == []


@pytest.mark.parametrize("there", ["job.yaml", "windows.csv"])
def test_starter_never_overwrites(tmp_path: Path, there: str) -> None:
    """With either file there already nothing is written."""
    (tmp_path / there).write_text("mine", encoding="utf-8")
    with pytest.raises(InputError, match="is there already"):
        write_starter(tmp_path, units="us")
    assert [path.name for path in tmp_path.iterdir()] == [there]
    assert (tmp_path / there).read_text(encoding="utf-8") == "mine"


def test_starter_in_a_file(tmp_path: Path) -> None:
    """A file where the folder should be is the person's mistake, not a crash."""
    (tmp_path / "file").write_text("", encoding="utf-8")
    with pytest.raises(InputError, match="cannot be written"):
        write_starter(tmp_path / "file", units="us")


def test_starter_units(tmp_path: Path) -> None:
    """Units other than the two are refused before anything is written."""
    with pytest.raises(ValueError, match="us or metric"):
        write_starter(tmp_path, units="imperial")  # type: ignore[arg-type] # the point of the test
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("name", ["Smith's - house", "42", "yes", "büro", "a b", "$units"])
def test_starter_id_from_any_folder_name(tmp_path: Path, name: str) -> None:
    """Any folder name becomes the job's id as it is."""
    write_starter(tmp_path / name, units="metric")
    text = (tmp_path / name / "job.yaml").read_text(encoding="utf-8")
    assert str(YAML(typ="base", pure=True).load(text)["id"]) == name
    assert load_job(tmp_path / name).job.id == name


@pytest.mark.parametrize("units", ["us", "metric"])
def test_the_starter_survey_shows_every_column(tmp_path: Path, units: str) -> None:
    """A column that is not in the starter is one that nobody finds."""
    write_starter(tmp_path, units=units)
    text = (tmp_path / "windows.csv").read_text(encoding="utf-8")
    head = next(line for line in text.splitlines() if line.startswith("id"))
    assert tuple(head.replace(";", ",").split(",")) == COLUMNS
