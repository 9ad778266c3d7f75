"""The building's record, hours of work, and the two marks of panes that permissions follow from."""

from pathlib import Path

import pytest

from reportkit.base.errors import JobError
from reportkit.job import load_job, write_starter

GIVEN = """building:
  country: US
  year_built: 1962
  paid_work: yes
  tenure: owners_association
  listed: no
  plants: yes
  alarm_sensors: yes
  radio: yes
  vinyl_siding: yes

rooms:
  - id: study
"""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Return a right metric job whose place needs no map."""
    folder = tmp_path / "sample"
    write_starter(folder, units="metric")
    change(folder, "  # elevation_m: 20 ", "  elevation_m: 100 ")
    change(folder, "  # clock:", "  clock:")
    return folder


def change(folder: Path, old: str, new: str, file: str = "job.yaml") -> None:
    """Replace a text in a job's file."""
    path = folder / file
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), encoding="utf-8")


def faults(folder: Path) -> list[tuple[str, str]]:
    """Return field and rule of every fault of a job."""
    with pytest.raises(JobError) as caught:
        load_job(folder)
    return [(fault.field, fault.rule) for fault in caught.value.faults]


def test_what_is_left_out_is_not_known(folder: Path) -> None:
    """Without a record, facts that permissions rest on are unknown, and nothing stands near the glass."""
    building = load_job(folder).job.building
    assert (building.country, building.year_built, building.tenure) == (None, None, None)
    assert (building.paid_work, building.listed) == (None, None)
    assert not (building.plants or building.alarm_sensors or building.radio or building.vinyl_siding)


def test_everything_can_be_told(folder: Path) -> None:
    """Every field of the record is read as typed."""
    change(folder, "rooms:\n  - id: study\n", GIVEN)
    building = load_job(folder).job.building
    assert (building.country, building.year_built, building.tenure) == ("US", 1962, "owners_association")
    assert (building.paid_work, building.listed) == (True, False)
    assert building.plants and building.alarm_sensors and building.radio and building.vinyl_siding


@pytest.mark.parametrize(
    ("old", "new", "field", "rule"),
    [
        ("country: US", "country: USA", "building.country", "two-letter code"),
        ("country: US", "country: QX", "building.country", "ISO 3166-1"),
        ("year_built: 1962", "year_built: 62", "building.year_built", "1000"),
        ("tenure: owners_association", "tenure: landlord", "building.tenure", "must be one of"),
        ("paid_work: yes", "paid_work: perhaps", "building.paid_work", "yes or no"),
        ("  radio: yes", "  wifi: yes", "building.wifi", "is not a field"),
    ],
)
def test_what_cannot_be_is_a_fault(folder: Path, old: str, new: str, field: str, rule: str) -> None:
    """A country, year or word that does not exist is named with its field."""
    change(folder, "rooms:\n  - id: study\n", GIVEN.replace(old, new))
    found = faults(folder)
    assert [name for name, _ in found] == [field]
    assert rule in found[0][1]


def test_panes_can_be_ways_of_escape_or_collectors(folder: Path) -> None:
    """Two columns of the survey, yes or no; left out they are no."""
    assert not any(pane.escape or pane.collector for pane in load_job(folder).job.panes)
    path = folder / "windows.csv"
    lines = path.read_text(encoding="utf-8").split("\n")
    start = next(number for number, line in enumerate(lines) if line.startswith("id,"))
    heads = lines[start].split(",")
    for number, typed in (
        (1, {"escape": "yes", "collector": "no"}),
        (2, {"escape": "no", "collector": "yes"}),
    ):
        cells = lines[start + number].split(",")
        for column, word in typed.items():
            cells[heads.index(column)] = word
        lines[start + number] = ",".join(cells)
    path.write_text("\n".join(lines), encoding="utf-8")
    panes = load_job(folder).job.panes
    assert [(pane.escape, pane.collector) for pane in panes[:2]] == [(True, False), (False, True)]


def test_hours_of_work(folder: Path) -> None:
    """Eight to five unless told, listed as assumed; one digit for the hour is read too."""
    loaded = load_job(folder)
    assert (loaded.job.fitting.start, loaded.job.fitting.finish) == ("08:00", "17:00")
    assert "fitting.start" in {entry.field for entry in loaded.defaults}
    change(folder, "  # start: 08:00 ", "  start: 7:30 ")
    change(folder, "  # finish: 17:00", "  finish: 15:45")
    loaded = load_job(folder)
    assert (loaded.job.fitting.start, loaded.job.fitting.finish) == ("07:30", "15:45")
    assert "fitting.start" not in {entry.field for entry in loaded.defaults}


@pytest.mark.parametrize("wrong", ["24:00", "8", "eight", "7:5", "13 PM"])
def test_what_is_no_clock_time_is_a_fault(folder: Path, wrong: str) -> None:
    """A time is hours and minutes of the day, or hours of one of its halves."""
    change(folder, "  # start: 08:00 ", f"  start: {wrong} ")
    assert ("fitting.start", "must be a time on the 24-hour clock, or one with AM or PM") in faults(folder)


def test_a_day_ends_after_it_starts(folder: Path) -> None:
    """An end at or before the start is a fault of the end."""
    change(folder, "  # start: 08:00 ", "  start: 08:00 ")
    change(folder, "  # finish: 17:00", "  finish: 08:00")
    assert ("fitting.finish", "must be later than start (08:00)") in faults(folder)
