"""Ways to choose from in ``decisions.yaml``: kept, written over, taken out; what a person wrote stays."""

import shutil
from pathlib import Path

import pytest

from reportkit.base.errors import InputError, JobError
from reportkit.job import Choice, Decision, drop_way, keep, keep_way, load_job
from reportkit.job.model import Alternative
from reportkit.job.reading.decisions import DECISIONS_FILE
from reportkit.job.writing.copies import contents

JOBS = Path(__file__).parents[2] / "jobs"
COOLER = Alternative(
    name="Cooler bedroom", films=Choice(faces={"east": "selective-65"}, panes={"S1": "none"})
)
SOUTH = Alternative(name="Only the street side", films=Choice(faces={"south": "ceramic-grey-40"}))
ALL = Alternative(name="Everything", films=Choice(job="dyed-grey-35"))

BY_HAND = """\
# what was said on site
alternatives:
  # she asked for this one
  - name: "Only the street side"   # her words
    films: {faces: {south: ceramic-grey-40}}
  # he would rather
  - name: Everything
    films: {job: dyed-grey-35}
# and what came of it
decisions:
  - date: 2026-03-03   # a Tuesday
    films: {job: dyed-grey-35}
"""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Return a copy of the corner shop without its runs."""
    shutil.copytree(JOBS / "_shared", tmp_path / "_shared")
    skip = shutil.ignore_patterns("runs", "decisions.yaml", "*.ipynb")
    return shutil.copytree(JOBS / "corner-shop", tmp_path / "shop", ignore=skip)


def names(folder: Path) -> list[str]:
    """Return the names of a job's ways, read again."""
    return [way.name for way in load_job(folder).job.alternatives]


def test_a_way_kept_is_read_back_and_archived(folder: Path) -> None:
    """What was kept is the job's, in its own file; a name kept again is written over; removed, it is gone."""
    job_file = (folder / "job.yaml").read_bytes()
    assert keep_way(folder, COOLER) == folder / DECISIONS_FILE
    assert load_job(folder).job.alternatives == (COOLER,)
    assert DECISIONS_FILE in contents(load_job(folder))
    changed = COOLER.model_copy(update={"films": Choice(job="selective-65")})
    keep_way(folder, SOUTH)
    keep_way(folder, changed)
    assert load_job(folder).job.alternatives == (changed, SOUTH)
    drop_way(folder, "Cooler bedroom")
    drop_way(folder, "Only the street side")
    assert names(folder) == []
    assert (folder / "job.yaml").read_bytes() == job_file


def test_ways_of_the_job_file_come_along(folder: Path) -> None:
    """Typed in the job file, they are copied with the first change, and stand in its place from then on."""
    text = (folder / "job.yaml").read_text(encoding="utf-8")
    typed = "\nalternatives:\n  - name: Only the street side\n    films: {faces: {south: ceramic-grey-40}}\n"
    (folder / "job.yaml").write_text(text + typed, encoding="utf-8")
    keep_way(folder, COOLER)
    assert names(folder) == ["Only the street side", "Cooler bedroom"]
    drop_way(folder, "Only the street side")
    drop_way(folder, "Cooler bedroom")
    assert names(folder) == []


def test_no_remark_of_a_person_is_lost(folder: Path) -> None:
    """Every comment is still there after ways were added, written over and removed; so are the decisions."""
    path = folder / DECISIONS_FILE
    path.write_text(BY_HAND, encoding="utf-8")
    remarks = [line.strip()[2:] for line in BY_HAND.splitlines() if line.strip().startswith("#")]
    for change in (
        lambda: keep_way(folder, ALL.model_copy(update={"films": Choice(job="selective-65")})),
        lambda: drop_way(folder, "Only the street side"),
        lambda: keep_way(folder, COOLER),
        lambda: drop_way(folder, "Everything"),
        lambda: drop_way(folder, "Cooler bedroom"),
    ):
        change()
        text = path.read_text(encoding="utf-8")
        assert [remark for remark in remarks if text.count(remark) != 1] == []
        assert "a Tuesday" in text
        assert load_job(folder).job.decisions[0].films.job == "dyed-grey-35"
    assert names(folder) == []


def test_a_decision_leaves_the_ways_and_a_way_the_decisions(folder: Path) -> None:
    """Both stand in one file, written one after the other."""
    keep_way(folder, COOLER)
    keep(folder, Decision(date="2026-03-05", films=Choice(job="dyed-grey-35")), units="us")
    keep_way(folder, SOUTH)
    job = load_job(folder).job
    assert (job.alternatives, len(job.decisions)) == ((COOLER, SOUTH), 1)


@pytest.mark.parametrize(
    ("way", "rule"),
    [
        (
            Alternative(name="No such film", films=Choice(job="gone")),
            "must be a film of this job",
        ),
        (Alternative(name="No such face", films=Choice(faces={"gone": "selective-65"})), "must be a face"),
        (ALL, "at most 2"),
    ],
)
def test_a_way_that_would_break_the_job_is_not_kept(folder: Path, way: Alternative, rule: str) -> None:
    """The fault is told with its file, and the file stays as it was."""
    keep_way(folder, COOLER)
    keep_way(folder, SOUTH)
    before = (folder / DECISIONS_FILE).read_bytes()
    if way is not ALL:
        drop_way(folder, "Only the street side")
        before = (folder / DECISIONS_FILE).read_bytes()
    with pytest.raises(JobError, match=rf"(?s){DECISIONS_FILE}.*{rule}"):
        keep_way(folder, way)
    assert (folder / DECISIONS_FILE).read_bytes() == before


def test_the_archive_of_a_run_is_never_written(folder: Path) -> None:
    """A run's own inputs refuse a way as they refuse a decision."""
    (folder.parent / "manifest.json").write_text("{}", encoding="utf-8")
    with pytest.raises(InputError, match="never changes"):
        keep_way(folder, COOLER)
    assert not (folder / DECISIONS_FILE).exists()


def test_a_field_that_does_not_belong_there_is_a_fault(folder: Path) -> None:
    """Only decisions and ways stand in that file."""
    (folder / DECISIONS_FILE).write_text("films: []\n", encoding="utf-8")
    with pytest.raises(JobError, match="the fields here are decisions and alternatives"):
        load_job(folder)


def test_a_way_may_name_a_film_that_is_not_compared(folder: Path) -> None:
    """A film of the shared catalogue that only a way names is read with the others."""
    text = (folder / "job.yaml").read_text(encoding="utf-8")
    job = load_job(folder).job
    compared = [name for name in job.compare or [film.id for film in job.films] if name != "low-e-60"]
    assert "\ncompare:" in text
    start, end = text.index("\ncompare:"), text.index("\n", text.index("\ncompare:") + 1)
    (folder / "job.yaml").write_text(
        f"{text[:start]}\ncompare: [{', '.join(compared)}]{text[end:]}", encoding="utf-8"
    )
    keep_way(folder, Alternative(name="Keeps warm", films=Choice(job="low-e-60")))
    assert "low-e-60" in [film.id for film in load_job(folder).job.films]
