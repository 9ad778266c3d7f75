"""The log of decisions: read, checked with lines, followed, written, and part of the job's own files."""

import datetime as dt
import shutil
from decimal import Decimal
from pathlib import Path

import pytest

from reportkit.base.errors import Fault, InputError, JobError
from reportkit.job import Choice, Decision, follow, keep, load_job
from reportkit.job.reading.decisions import DECISIONS_FILE
from reportkit.job.writing.copies import contents
from reportkit.job.writing.decisions import degrees

JOBS = Path(__file__).parents[2] / "jobs"

#: A log as a person writes it, with remarks and a history.
BY_HAND = """\
# what was said on site
decisions:
  - date: 2026-03-03
    films: {job: dyed-grey-35}
  - date: 2026-03-05   # second visit
    who: Invented Owner
    films:
      faces: {east: selective-65, south: ceramic-grey-40}
      panes: {W1: low-e-60}
    panes_out:
      S2: the client keeps a poster there
    overrides: more light than the film recommended leaves
    set_points: {shop: 76 F}
    electricity_rate: 0.21
    budget: 2500
    note: shown with two samples
"""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Return a copy of the corner shop without its runs."""
    shutil.copytree(JOBS / "_shared", tmp_path / "_shared")
    place = tmp_path / "shop"
    place.mkdir()
    for name in ("job.yaml", "windows.csv"):
        shutil.copy(JOBS / "corner-shop" / name, place / name)
    return place


def write(folder: Path, text: str) -> Path:
    """Write a log into a job."""
    path = folder / DECISIONS_FILE
    path.write_text(text, encoding="utf-8")
    return path


def faults_of(folder: Path) -> tuple[Fault, ...]:
    """Return the faults of a job that must have some."""
    with pytest.raises(JobError) as caught:
        load_job(folder)
    return caught.value.faults


def test_without_a_log_the_job_is_as_written(folder: Path) -> None:
    """No file, no decision, and nothing of the job is changed."""
    loaded = load_job(folder)
    assert loaded.job == loaded.written
    assert loaded.job.decisions == ()


def test_the_newest_decision_takes_the_place_of_the_choice(folder: Path) -> None:
    """Films, panes out, set point and rate are those of the newest entry; the older one is history."""
    write(folder, BY_HAND)
    loaded = load_job(folder)
    job = loaded.job
    assert len(job.decisions) == 2
    assert job.decisions[-1].date == dt.date(2026, 3, 5)
    assert job.choice.job is None
    assert job.choice.faces == {"east": "selective-65", "south": "ceramic-grey-40"}
    assert job.choice.panes == {"W1": "low-e-60", "S2": "none"}
    rooms = {room.id: room for room in job.rooms}
    assert rooms["shop"].heat is not None
    assert rooms["shop"].heat.cooling is not None
    # 76 F by the definition of the Fahrenheit scale
    assert rooms["shop"].heat.cooling.set_point == pytest.approx((76 - 32) / 1.8)
    assert job.energy is not None
    assert job.energy.electricity is not None
    assert job.energy.electricity.rate == Decimal("0.21")
    assert job.energy.electricity.tiers == ()
    assert job.energy.electricity.fixed_per_month == Decimal("9.50")
    assert loaded.written.choice == Choice()
    assert job.decisions[-1].budget == Decimal(2500)


def test_a_film_in_the_survey_gives_way_to_a_decision(folder: Path) -> None:
    """A film named in the survey's row is older than what was decided with the client."""
    survey = folder / "windows.csv"
    text = survey.read_text(encoding="utf-8")
    survey.write_text(
        text.replace("east side,,metal,floor,yes,no,,,", "east side,,metal,floor,yes,no,,none,"), "utf-8"
    )
    assert load_job(folder).job.panes[3].film == "none"
    write(folder, "decisions:\n  - date: 2026-03-05\n    films: {job: selective-65}\n")
    assert all(pane.film is None for pane in load_job(folder).job.panes)


def test_a_decision_without_films_leaves_the_choice(folder: Path) -> None:
    """A set point alone changes nothing about the films."""
    job = load_job(folder).job
    chosen = job.model_copy(update={"choice": Choice(job="selective-65")})
    tried = follow(chosen, Decision(date=dt.date(2026, 3, 5), set_points={"living": 23.0}))
    assert tried.choice == chosen.choice
    assert tried.panes == chosen.panes
    assert tried.rooms != chosen.rooms


@pytest.mark.parametrize(
    ("old", "new", "line", "field", "rule"),
    [
        (
            "selective-65",
            "selectiv-65",
            8,
            "decisions.2.films.faces.east",
            "must be a film of this job, or none",
        ),
        ("south:", "sout:", 8, "decisions.2.films.faces.sout", "must be a face of this job"),
        (
            "S2: the client keeps a poster there",
            "S2:",
            11,
            "decisions.2.panes_out.S2",
            "must give the reason",
        ),
        ("W1: low-e", "S2: low-e", 11, "decisions.2.panes_out.S2", "must not be out"),
        ("shop: 76 F", "shops: 76 F", 13, "decisions.2.set_points.shops", "must be a room of this job"),
        ("shop: 76 F", "store: 76 F", 13, "decisions.2.set_points.store", "whose cooling the job describes"),
        ("76 F", "7 F", 13, "decisions.2.set_points.shop", "must be at least 10"),
        ("0.21", "-1", 14, "decisions.2.electricity_rate", "must be at least 0"),
        ("2026-03-05", "2026-03-02", 5, "decisions.2.date", "must not be before the decision above it"),
        ("2026-03-05", "5 March", 5, "decisions.2.date", "must be a date as year-month-day"),
        ("note:", "notes:", 16, "decisions.2.notes", "is not a field here"),
        ("decisions:", "decision:", 2, "decision", "is not a field here"),
        ("  - date: 2026-03-03\n", "  - who: Someone\n", 3, "decisions.1.date", "must be given"),
    ],
)
def test_a_fault_says_where_and_what(
    folder: Path, old: str, new: str, line: int, field: str, rule: str
) -> None:
    """Every slip in the log is a fault of its line, like in the rest of the job."""
    assert old in BY_HAND
    write(folder, BY_HAND.replace(old, new, 1))
    found = faults_of(folder)
    assert [(f.file, f.line, f.field) for f in found] == [(DECISIONS_FILE, line, field)]
    assert rule in found[0].rule


def test_panes_left_out_need_a_film_for_the_others(folder: Path) -> None:
    """Leaving a pane out says nothing about the rest, so the film must be named."""
    write(folder, "decisions:\n  - date: 2026-03-05\n    panes_out: {S2: a poster}\n")
    assert "must be given where panes are left out" in faults_of(folder)[0].rule


def test_decisions_do_not_belong_into_the_job_file(folder: Path) -> None:
    """The log has a file of its own, and the fault says which."""
    path = folder / "job.yaml"
    path.write_text(path.read_text(encoding="utf-8") + "\ndecisions: []\n", encoding="utf-8")
    assert any(f.field == "decisions" and DECISIONS_FILE in str(f.hint) for f in faults_of(folder))


def test_the_log_is_part_of_the_job(folder: Path, tmp_path: Path) -> None:
    """What a run archives holds the log, and the copy runs by itself to the same job."""
    write(folder, BY_HAND)
    loaded = load_job(folder)
    copy = tmp_path / "copy"
    for name, content in contents(loaded).items():
        (copy / name).parent.mkdir(parents=True, exist_ok=True)
        (copy / name).write_bytes(content)
    assert (copy / DECISIONS_FILE).read_text(encoding="utf-8") == BY_HAND
    assert load_job(copy).job == loaded.job


DECISION = Decision(
    date=dt.date(2026, 3, 9),
    who='O\'Example & "Sons"',
    films=Choice(faces={"east": "selective-65", "south": "none", "west": "low-e-60"}),
    panes_out={"E1": "no: it is # cracked\nat the foot"},
    overrides="- keeps the light, {really}",
    set_points={"shop": (76.5 - 32) * (5 / 9), "living": (78 - 32) * (5 / 9)},
    electricity_rate=Decimal("1.234"),
    budget=Decimal("1250.50"),
    note="ends with a bell \x07",
)


@pytest.mark.parametrize("before", [None, BY_HAND])
def test_what_is_kept_is_read_back(folder: Path, before: str | None) -> None:
    """A decision written to the log comes back equal, whatever signs its reasons hold."""
    if before:
        write(folder, before)
    path = keep(folder, DECISION, units="us")
    text = path.read_text(encoding="utf-8")
    assert "shop: 76.5 F" in text
    found = load_job(folder).job.decisions[-1]
    assert found.set_points == pytest.approx(DECISION.set_points)
    expected = DECISION.model_copy(update={"set_points": found.set_points, "note": "ends with a bell"})
    assert found == expected
    assert not list(folder.glob(".*"))


OLD_NAMES = """\
decisions:
  - date: 2026-03-03
    films: {job: film-no-longer-sold, faces: {gable: none}}
    panes_out: {X9: "", W1: ""}
    set_points: {attic: 76 F}
"""


def test_an_earlier_decision_may_name_what_is_gone(folder: Path) -> None:
    """Only the decision in force must hold; the old one's names are faults while it is, panes apart."""
    write(folder, OLD_NAMES)
    fields = {fault.field.split(".", 2)[2] for fault in faults_of(folder)}
    assert {"films.job", "films.faces.gable", "panes_out.X9", "set_points.attic"} <= fields
    write(folder, OLD_NAMES + "  - {date: 2026-03-05, films: {job: dyed-grey-35}}\n")
    assert load_job(folder).job.choice.job == "dyed-grey-35"
    write(folder, OLD_NAMES + "  - {date: 2026-03-02, films: {job: dyed-grey-35}}\n")
    assert [fault.field for fault in faults_of(folder)] == ["decisions.2.date"]


def test_keeping_leaves_what_a_person_wrote(folder: Path) -> None:
    """Remarks and earlier entries stay word for word; the new entry stands last."""
    write(folder, BY_HAND)
    text = keep(folder, DECISION, units="us").read_text(encoding="utf-8")
    assert text.startswith(BY_HAND)
    assert "  - date: 2026-03-09" in text[len(BY_HAND) :]


def test_a_log_with_a_question_mark_in_it_is_kept_on(folder: Path) -> None:
    """What was not known of an earlier decision, ``budget: ?``, is read, and stands in the log afterwards."""
    write(folder, BY_HAND.replace("budget: 2500", "budget: ?   # ask"))
    text = keep(folder, DECISION, units="us").read_text(encoding="utf-8")
    assert "budget: '?'" in text and "# ask" in text
    assert len(load_job(folder).job.decisions) == 3


def test_a_decision_that_would_break_the_job_is_not_kept(folder: Path) -> None:
    """With a fault in it the log is left as it was, or not made at all."""
    wrong = DECISION.model_copy(update={"films": Choice(job="no-such-film")})
    with pytest.raises(JobError, match="must be a film of this job"):
        keep(folder, wrong, units="us")
    assert not (folder / DECISIONS_FILE).exists()
    path = write(folder, BY_HAND)
    with pytest.raises(JobError, match="must not be before the decision above it"):
        keep(folder, DECISION.model_copy(update={"date": dt.date(2026, 3, 1)}), units="us")
    assert path.read_text(encoding="utf-8") == BY_HAND


def test_the_archive_of_a_run_is_never_written(folder: Path, tmp_path: Path) -> None:
    """A run's inputs are what was issued: no decision is added to them."""
    archived = tmp_path / "runs" / "0001" / "inputs"
    archived.parent.mkdir(parents=True)
    shutil.copytree(folder, archived)
    (archived.parent / "manifest.json").write_text("{}", encoding="utf-8")
    with pytest.raises(InputError, match="archive of a run"):
        keep(archived, DECISION, units="us")


@pytest.mark.parametrize(
    ("celsius", "units", "text"), [(25.0, "metric", "25 C"), (22.5, "metric", "22.5 C"), (25.0, "us", "77 F")]
)
def test_temperatures_are_written_as_typed(celsius: float, units: str, text: str) -> None:
    """25 C is 77 F (definition of the scale)."""
    assert degrees(celsius, units) == text
