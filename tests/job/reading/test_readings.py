"""``readings.csv``: read with the job, every mistake with its line and column."""

import datetime as dt
import shutil
from pathlib import Path

import pytest

from reportkit.base.errors import JobError
from reportkit.job import load_job
from reportkit.job.writing.copies import contents

JOBS = Path(__file__).parents[3] / "jobs"
HEAD = "time;meter;pane;filmed;beside;bare;note\n"


@pytest.fixture
def job(tmp_path: Path) -> Path:
    """A job that writes its numbers with a decimal comma; panes L1 and L2 are alike, K1 is not."""
    for name in ("_shared", "harbour-house"):
        shutil.copytree(JOBS / name, tmp_path / name, ignore=shutil.ignore_patterns("runs"))
    return tmp_path / "harbour-house"


def faults(job: Path, text: str) -> list[str]:
    """Return what is wrong with readings."""
    (job / "readings.csv").write_text(HEAD + text, encoding="utf-8")
    with pytest.raises(JobError) as caught:
        load_job(job)
    return str(caught.value).splitlines()


def test_a_job_without_readings_has_none(job: Path) -> None:
    """The file is written after the work."""
    assert load_job(job).job.readings == ()


def test_readings_are_read_as_spreadsheets_write_them(job: Path) -> None:
    """Semicolons, decimal commas, remarks and empty lines; the file goes into the archive."""
    (job / "readings.csv").write_text(
        "# made up\n" + HEAD + "\n2026-06-12 9:05;light;L1;41,5;L2;75,25;thin cloud\n"
        "2026-06-12T10:05;sun;L3;210;open;600;\n",
        encoding="utf-8",
    )
    loaded = load_job(job)
    first, second = loaded.job.readings
    assert first.time == dt.datetime(2026, 6, 12, 9, 5)
    assert (first.filmed, first.bare, first.beside, first.note) == (41.5, 75.25, "L2", "thin cloud")
    assert (second.time.hour, second.meter, second.beside) == (10, "sun", "open")
    assert "readings.csv" in contents(loaded)


@pytest.mark.parametrize(
    ("row", "said"),
    [
        ("2026-06-12 10:05;light;L9;1;open;2;", "readings.csv:2 pane: must be a pane of the survey"),
        ("2026-06-12 10:05;light;L1;1;opne;2;", "did you mean open?"),
        ("2026-06-12 10:05;lite;L1;1;open;2;", "readings.csv:2 meter: must be one of light, sun, uv"),
        ("2026-06-12;light;L1;1;open;2;", "readings.csv:2 time: must be a day and a time"),
        ("2026-06-31 10:05;light;L1;1;open;2;", "time: must be a day that exists"),
        ("2026-06-12 24:05;light;L1;1;open;2;", "time: must be a time on the 24-hour clock"),
        ("2026-06-12 10:05;light;L1;0;open;2;", "filmed: must be over 0"),
        ("2026-06-12 10:05;light;L1;1;open;-2;", "bare: must be over 0"),
        ("2026-06-12 10:05;light;L1;;open;2;", "filmed: must be given"),
        ("2026-06-12 10:05;light;L1;1;L1;2;", "beside: must be another pane"),
        ("2026-06-12 10:05;light;L1;1;K1;2;", "must be a pane of the same glazing as L1"),
        ("2026-06-12 10:05;light;L1;1;L3;2;", "must be a pane of the same face as L1"),
        ("2026-04-19 10:05;light;L1;1;open;2;", "must not be before the day of fitting (2026-04-20)"),
        ("2026-06-12 10:05;light;L1;1;open;2;;7", "must have at most 7 cells"),
    ],
)
def test_every_mistake_is_told_with_its_place(job: Path, row: str, said: str) -> None:
    """Names, numbers, times, and readings that cannot be set side by side."""
    assert any(said in line for line in faults(job, row + "\n"))


def test_columns_are_told_once(job: Path) -> None:
    """A missing column is one fault, not one for each row."""
    (job / "readings.csv").write_text("time;meter;pane;filmed\n" + "2026-06-12 10:05;light;L1;1\n" * 3)
    with pytest.raises(JobError) as caught:
        load_job(job)
    assert [line.split(":")[1] for line in str(caught.value).splitlines()] == ["1 bare", "1 beside"]


def test_an_empty_file_says_so(job: Path) -> None:
    """A header row alone is a fault: a file without readings should not be there."""
    assert faults(job, "") == ["readings.csv: must have at least one pair of readings below its header row"]


def test_readings_have_no_place_in_the_job_file(job: Path) -> None:
    """They stand in a file of their own."""
    text = (job / "job.yaml").read_text(encoding="utf-8")
    (job / "job.yaml").write_text(text + "\nreadings: []\n", encoding="utf-8")
    with pytest.raises(JobError, match=r"readings: is not a field here.*readings\.csv"):
        load_job(job)
