"""The desk without a browser: what its controls say and show, what is asked before a decision is kept."""

import ast
import datetime as dt
import json
import re
import shutil
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from reportkit.app.run import consultation
from reportkit.base.errors import JobError
from reportkit.documents.desk import Desk, opened
from reportkit.documents.layouts.templates import template
from reportkit.documents.page import Page
from reportkit.documents.sections import SECTIONS
from reportkit.findings.findings import Findings
from reportkit.job import Choice, Decision, follow, load_job
from reportkit.study import Study

JOBS = Path(__file__).parents[2] / "jobs"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A copy of a demo job that is quick to compute: clear days, three films, three faces."""
    shutil.copytree(JOBS / "_shared", tmp_path / "_shared")
    skip = shutil.ignore_patterns("runs", "decisions.yaml", "*.ipynb")
    shutil.copytree(JOBS / "hill-studio", tmp_path / "studio", ignore=skip)
    return tmp_path / "studio"


@pytest.fixture
def desk(folder: Path) -> Desk:
    """The desk over that job."""
    return Desk(Study.open(folder))


def text(control: Any) -> str:
    """Return what an HTML control shows, without markup."""
    plain = re.sub(r"<style.*?</style>|<[^>]+>", " ", control.value, flags=re.S)
    return " ".join(plain.split())


def other_film(desk: Desk, face: str) -> str:
    """Return a film of the job that is not the one on a face."""
    return next(name for name in desk.study.films if name != desk.films[face].value)


def test_a_changed_film_changes_the_answers(desk: Desk) -> None:
    """Price, pictures and the study behind them follow a film, and come back with it."""
    face, first = next((name, control.value) for name, control in desk.films.items())
    before = [desk.numbers.value, desk.looks.value, desk.plan.value]
    desk.films[face].value = other_film(desk, face)
    after = [desk.numbers.value, desk.looks.value, desk.plan.value]
    assert all(old != new for old, new in zip(before, after, strict=True))
    on_face = [pane.face == face for pane in desk.study.job.panes]
    films = {film for film, here in zip(desk.study.chosen.film_by_pane, on_face, strict=True) if here}
    assert films <= {desk.films[face].value, None}
    assert desk.page.fmt.money(desk.study.offer.price.total) in desk.numbers.value
    desk.films[face].value = first
    assert [desk.numbers.value, desk.looks.value, desk.plan.value] == before


def test_the_budget_is_set_against_the_price(desk: Desk) -> None:
    """Over and under the budget are told, in money."""
    total = desk.study.offer.price.total
    desk.budget.value = str(total + 5)
    assert f"{desk.page.fmt.money(5)} of the budget left" in text(desk.numbers)
    desk.budget.value = str(total - 7)
    assert f"{desk.page.fmt.money(7)} over the budget" in text(desk.numbers)


@pytest.mark.parametrize(
    ("control", "typed", "rule"),
    [
        ("budget", "a lot", "budget: must be an amount"),
        ("budget", "1,500", "read one way only"),
        ("rate", "-1", "electricity rate"),
    ],
)
def test_a_slip_is_answered_in_the_words_of_the_job_file(
    desk: Desk, control: str, typed: str, rule: str
) -> None:
    """What cannot be read is said, the last answers stay, and nothing is kept."""
    shown = desk.numbers.value
    getattr(desk, control).value = typed
    assert rule in text(desk.message)
    assert desk.numbers.value == shown
    desk.button.click()
    assert not (desk.study.loaded.folder / "decisions.yaml").exists()
    getattr(desk, control).value = ""
    assert text(desk.message) == ""


def test_reasons_are_asked_for_only_where_needed(desk: Desk) -> None:
    """The line for a pane's reason shows while the pane is out; without one nothing is kept."""
    pane = next(iter(desk.panes))
    assert desk.reasons[pane].layout.display == "none"
    desk.panes[pane].value = False
    assert desk.reasons[pane].layout.display is None
    assert desk.study.chosen.film_by_pane[0] is None
    desk.button.click()
    assert f"why {pane} is left out" in text(desk.message)
    assert not (desk.study.loaded.folder / "decisions.yaml").exists()
    desk.panes[pane].value = True
    assert desk.reasons[pane].layout.display == "none"


def test_what_is_kept_is_what_make_will_follow(desk: Desk, folder: Path) -> None:
    """The job read again has the films and panes of the desk, and a desk opened then starts from them."""
    face = next(iter(desk.films))
    desk.films[face].value = other_film(desk, face)
    pane = list(desk.panes)[-1]
    desk.panes[pane].value = False
    desk.reasons[pane].value = "a <b>shelf</b> stands before it"
    desk.override.value = "the client likes it lighter"
    desk.rate.value = "0,31"
    desk.button.click()
    assert "Kept in decisions.yaml" in text(desk.message)
    study = Study.open(folder)
    assert study.chosen.film_by_pane == desk.study.chosen.film_by_pane
    decision = study.job.decisions[-1]
    assert decision.date == dt.date.today()
    assert decision.panes_out == {pane: "a <b>shelf</b> stands before it"}
    assert decision.electricity_rate == Decimal("0.31")
    again = Desk(study)
    assert again.films[face].value == desk.films[face].value
    assert again.reasons[pane].value == "a <b>shelf</b> stands before it"
    again.button.click()
    assert len(load_job(folder).job.decisions) == 2


def test_the_decision_is_printed_with_its_day_and_reasons(folder: Path) -> None:
    """The proposal's part names films by face, reasons, budget and day; without a decision it is empty."""
    study = Study.open(folder)
    assert SECTIONS["decided"](Page(Findings(study))).blocks == ()
    faces = {face.id: "none" for face in study.job.faces}
    decision = Decision(
        date=dt.date(2026, 3, 5),
        who="Invented Owner",
        films=Choice(faces=faces),
        panes_out={study.job.panes[0].id: "a poster"},
        overrides="no film is wanted",
        budget=Decimal(900),
    )
    written = study.job.model_copy(update={"decisions": (decision, decision)})
    job = follow(written, decision)
    page = Page(Findings(Study(_with(study, job))))
    shown = SECTIONS["decided"](page)._repr_mimebundle_()["text/plain"]
    for part in (
        page.fmt.date(decision.date),
        "Invented Owner",
        "Bare glass: " + ", ".join(page.face(face) for face in faces),
        "Why not what is recommended: no film is wanted",
        f"{study.job.panes[0].id}: a poster",
        page.fmt.money(900),
        "1 earlier decision",
    ):
        assert part in shown


def _with(study: Study, job: Any) -> Any:
    from dataclasses import replace

    return replace(study.loaded, job=job)


def test_the_consultation_is_put_beside_the_job_once(folder: Path) -> None:
    """The notebook finds the job beside itself; one that is there already is not written over."""
    path = consultation(folder)
    assert path == folder / "consultation.ipynb"
    assert path.read_bytes() == template("consultation.ipynb").read_bytes()
    path.write_text("mine", encoding="utf-8")
    assert consultation(folder).read_text(encoding="utf-8") == "mine"
    (folder / "job.yaml").write_text("id: a\n", encoding="utf-8")
    with pytest.raises(JobError):
        consultation(folder)


def test_the_notebook_only_asks_and_shows() -> None:
    """A cell has three lines at most, no arithmetic and no function; one cell holds the one parameter."""
    cells = json.loads(template("consultation.ipynb").read_text(encoding="utf-8"))["cells"]
    code = ["".join(cell["source"]) for cell in cells if cell["cell_type"] == "code"]
    tagged = [cell for cell in cells if "parameters" in cell["metadata"].get("tags", [])]
    assert ["".join(cell["source"]) for cell in tagged] == ['job_dir = "."']
    for source in code:
        assert len(source.splitlines()) <= 3
        for node in ast.walk(ast.parse(source)):
            assert not isinstance(node, ast.BinOp | ast.FunctionDef | ast.Lambda | ast.For | ast.While)


def test_each_total_says_whether_it_is_the_rooms_or_the_jobs(desk: Desk) -> None:
    """Heat and hot hours stand under the room's name, daylight, price and film under the whole job's."""
    room, job = text(desk.numbers).split("The whole job")
    assert f"Only this room: {desk.page.room(desk.room.value)}" in room
    assert "heat at the worst hour" in room
    assert " ".join(desk.page.fmt.power(desk.page.chosen.peak_solar_w, 3).split()) in room
    for label in ("Daylight let in", "Price, fitted", "Film to buy"):
        assert label in job and label not in room


def test_another_room_changes_its_own_numbers_alone(folder: Path) -> None:
    """With another room looked at, the whole job's numbers stay to the letter and the room's follow it."""
    desk = Desk(Study.open(folder))
    before = [part.strip() for part in text(desk.numbers).split("The whole job")]
    other = next(name for _, name in desk.room.options if name != desk.room.value)
    desk.room.value = other
    after = [part.strip() for part in text(desk.numbers).split("The whole job")]
    assert before[1] == after[1]
    assert before[0] != after[0]
    assert f"Only this room: {desk.page.room(other)}" in after[0]


def test_a_rooms_film_goes_on_its_panes_and_no_others(desk: Desk, folder: Path) -> None:
    """A film for all of a room is on each of its panes; as on each face again, what was is back."""
    before = desk.study.chosen.film_by_pane
    room = desk.room.value
    film = next(name for name in desk.study.films if name not in before)
    desk.in_room.value = film
    panes = desk.study.job.panes
    assert desk.decision().films.panes == {pane.id: film for pane in panes if pane.room == room}
    after = desk.study.chosen.film_by_pane
    assert {film, None} >= {now for pane, now in zip(panes, after, strict=True) if pane.room == room}
    assert film in after
    assert all(now == old for pane, old, now in zip(panes, before, after, strict=True) if pane.room != room)
    desk.override.value = "the client likes it so"
    desk.button.click()
    assert "Kept in" in text(desk.message)
    again = Desk(Study.open(folder))
    assert (again.room.value, again.in_room.value) == (room, film)
    again.in_room.value = ""
    assert again.study.chosen.film_by_pane == before


def test_a_way_named_at_the_table_is_one_to_tick(desk: Desk, folder: Path) -> None:
    """Kept under its name it stands in the job and in the proposal with its price; removed it is gone."""
    face = next(iter(desk.films))
    offered = desk.study.chosen.film_by_pane
    desk.ways.name.value = "Cooler <bedroom> & $5"
    desk.ways.keep.click()
    assert "this is what is offered already" in text(desk.ways.message)
    desk.films[face].value = other_film(desk, face)
    pane = next(pane.id for pane in desk.study.job.panes if pane.face != face)
    desk.panes[pane].value = False  # the reason is the decision's: a way needs none
    wanted = desk.study.chosen.film_by_pane
    desk.ways.keep.click()
    assert "is kept in decisions.yaml" in text(desk.ways.message)
    price = desk.page.fmt.money(desk.study.offer.price.total)
    assert price in desk.ways.rows[0].value
    assert desk.ways.rows[0].value.count("Cooler &lt;bedroom&gt; &amp; $5") == 1

    page = Page(Findings(Study.open(folder)))
    assert page.findings.ways[0].offered
    (way,) = (way for way in page.findings.ways if way.name)
    films = {name: part.film for part in way.films for name in part.panes}
    assert tuple(films[entry.id] for entry in page.job.panes) == wanted
    assert wanted != offered
    shown = SECTIONS["ways"](page)._repr_mimebundle_()["text/plain"]
    assert "Cooler <bedroom> & $5" in shown
    assert page.fmt.money(way.total) == price

    desk.reasons[pane].value, desk.override.value = "a shelf", "she likes it so"
    desk.button.click()  # now it is what is offered, and stands there once
    assert [way.name for way in Page(Findings(Study.open(folder))).findings.ways] == [""]

    again = Desk(Study.open(folder))
    assert "Cooler &lt;bedroom&gt; &amp; $5" in again.ways.rows[0].value
    again.ways.drops[0].click()
    assert load_job(folder).job.alternatives == ()
    assert "is taken out of decisions.yaml" in text(again.ways.message)


def test_what_cannot_be_a_way_is_said(desk: Desk, folder: Path) -> None:
    """No name, another way's films, a third way, all bare, a job with a fault: said, and not kept."""
    names = [name for name in desk.study.films if name not in desk.study.chosen.film_by_pane]

    def keep(name: str, film: str) -> str:
        for control in desk.films.values():
            control.value = film
        desk.ways.name.value = name
        desk.ways.keep.click()
        return text(desk.ways.message)

    assert "give this way a name" in keep(" ", names[0])
    assert "is kept" in keep("One", names[0])
    assert "One has the same films" in keep("Two", names[0])
    assert "must name a film" in keep("Bare", "none")
    face = next(iter(desk.films))
    desk.films[face].value = names[1]
    desk.ways.name.value = "Two"
    desk.ways.keep.click()
    assert "Two is kept" in text(desk.ways.message)
    assert "Remove one first" in keep("Three", names[1])
    assert "One is kept" in keep("One", names[1])  # written over
    text_before = (folder / "decisions.yaml").read_bytes()
    (folder / "windows.csv").write_text("id\n", encoding="utf-8")
    assert "the job would hold a mistake: " in keep("One", names[0])
    assert (folder / "decisions.yaml").read_bytes() == text_before


def test_a_faulty_job_is_said_in_place_of_the_desk(folder: Path) -> None:
    """What is wrong stands there in plain words, with file and line, and no traceback."""
    (folder / "decisions.yaml").write_text("decisions:\n  - date: never\n", encoding="utf-8")
    shown = opened(folder)
    assert "decisions.yaml:2" in text(shown)
    assert "Traceback" not in shown.value
    assert isinstance(opened(folder.parent / "studio"), type(shown))


def film_for(desk: Desk, pane: str) -> str:
    """Return a film that can go on a pane."""
    panes = desk.study.job.panes
    at = next(at for at, one in enumerate(panes) if one.id == pane)
    return next(name for name in desk.study.films if desk.study.placed((name,) * len(panes))[at])


def test_one_of_a_row_is_left_out_and_taken_back(desk: Desk, folder: Path) -> None:
    """N1 is three panes: without the second the cut plan holds two of them, and with it again all three."""
    assert list(desk.panes)[:2] == ["N1", "N2"]
    assert [name for _, name in desk.apart["N1"].options] == ["", "N1.1", "N1.2", "N1.3"]
    desk.films["north"].value = film_for(desk, "N1")
    before, price = desk.numbers.value, desk.study.offer.price.total
    desk.apart["N1"].value = "N1.2"
    assert list(desk.panes)[:3] == ["N1", "N1.2", "N2"]
    assert (desk.panes["N1.2"].value, desk.panes["N1"].value) == (False, True)
    assert "×2" in desk.panes["N1"].description
    assert (desk.apart["N1"].value, [name for _, name in desk.apart["N1"].options]) == (
        "",
        ["", "N1.1", "N1.3"],
    )
    assert desk.study.offer.price.total < price
    cut = {entry.opening.id: entry.opening.quantity for entry in desk.study.offer.cuts}
    assert (cut["N1"], "N1.2" in cut) == (2, False)
    assert desk.decision().panes_out == {"N1.2": ""}
    desk.override.value = "she likes it so"
    desk.button.click()
    assert "why N1.2 is left out" in text(desk.message)
    desk.reasons["N1.2"].value = "her drawings hang there"
    desk.button.click()
    assert "Kept in" in text(desk.message)
    study = Study.open(folder)
    assert study.chosen.film_by_pane == desk.study.chosen.film_by_pane
    assert [pane.id for pane in study.job.panes][:2] == ["N1", "N1.2"]
    assert study.offer.price.total <= desk.study.offer.price.total

    again = Desk(study)
    assert (again.panes["N1.2"].value, again.reasons["N1.2"].value) == (False, "her drawings hang there")
    again.panes["N1.2"].value = True
    assert "N1.2" not in again.decision().films.panes and again.decision().panes_out == {}
    assert (again.numbers.value, again.study.offer.price.total) == (before, price)
    again.button.click()
    assert [pane.id for pane in load_job(folder).job.panes][:2] == ["N1", "N2"]


def test_one_of_a_row_stays_in_where_the_row_is_out(desk: Desk, folder: Path) -> None:
    """Taken apart, back in, and the rest of its row out: it alone of the row has film, by name."""
    desk.films["west"].value = film_for(desk, "W1")
    desk.apart["W1"].value = "W1.2"
    desk.panes["W1.2"].value = True
    desk.panes["W1"].value = False
    assert desk.apart == {"N1": desk.apart["N1"]}  # nothing is left of W1 to take apart
    desk.reasons["W1"].value = "the other one is cracked"
    film = desk.films["west"].value
    assert desk.decision().films.panes == {"W1.2": film}
    desk.override.value = "she likes it so"
    desk.button.click()
    placed = {
        pane.id: film
        for pane, film in zip(load_job(folder).job.panes, Study.open(folder).chosen.film_by_pane, strict=True)
    }
    assert (placed["W1"], placed["W1.2"]) == (None, film)


def test_a_way_may_leave_out_one_of_a_row(desk: Desk, folder: Path) -> None:
    """Kept under a name the way holds it, while what is offered has the whole row."""
    desk.films["north"].value = film_for(desk, "N1")
    desk.override.value = "she likes it so"
    desk.button.click()
    desk.apart["N1"].value = "N1.3"
    desk.ways.name.value = "Without the corner"
    desk.ways.keep.click()
    assert "is kept" in text(desk.ways.message)
    assert load_job(folder).job.alternatives[0].films.panes == {"N1.3": "none"}
    desk.panes["N1.3"].value = True
    desk.ways.name.value = "All"
    desk.ways.keep.click()
    assert "this is what is offered already" in text(desk.ways.message)
    (way,) = (way for way in Page(Findings(Study.open(folder))).findings.ways if way.name)
    assert "N1.3" not in [name for part in way.films if part.film for name in part.panes]


def test_a_survey_that_changed_keeps_what_still_applies(desk: Desk, folder: Path) -> None:
    """N1 has two panes now, W1 none: the first of N1 stays out, and the desk says what no longer applies."""
    for row, name in (("N1", "N1.1"), ("N1", "N1.3"), ("W1", "W1.2")):
        desk.apart[row].value = name
        desk.reasons[name].value = "a shelf"
    desk.override.value = "she likes it so"
    survey = folder / "windows.csv"
    rows = survey.read_text(encoding="utf-8").splitlines()
    at = rows[1].split(",").index("quantity")
    changed = []
    for row in rows:
        cells = row.split(",")
        if cells[0] == "N1":
            cells[at] = "2"
        changed += [] if cells[0] == "W1" else [",".join(cells)]
    desk.button.click()
    assert "Kept in" in text(desk.message)
    survey.write_text("\n".join(changed) + "\n", encoding="utf-8")
    desk.button.click()
    assert "The files of this job have changed" in text(desk.message)
    again = Desk(Study.open(folder))
    assert [name for name, tick in again.panes.items() if not tick.value] == ["N1.1"]
    assert "what was decided of it does not apply: N1.3, W1.2" in text(again.pane_list.told)
    assert again.decision().panes_out == {"N1.1": "a shelf"}


def test_a_pane_that_stays_bare_says_so_where_it_is_ticked(desk: Desk) -> None:
    """A tick stands for film: where the face has none, or the film cannot go there, the line says bare."""
    films = {
        pane.id: film for pane, film in zip(desk.study.job.panes, desk.study.chosen.film_by_pane, strict=True)
    }
    told = {name: "stays bare" in tick.description for name, tick in desk.panes.items()}
    assert told == {name: film is None for name, film in films.items()}
    assert True in told.values() and False in told.values()
    desk.films["north"].value = film_for(desk, "N1")
    assert "stays bare" not in desk.panes["N1"].description


def test_a_way_is_taken_again_with_one_press(desk: Desk, folder: Path) -> None:
    """Named, left for another and taken again: films, a pane out of a row and the price are the way's."""
    desk.films["north"].value = film_for(desk, "N1")
    desk.apart["N1"].value = "N1.3"
    wanted, price = desk.study.chosen.film_by_pane, desk.study.offer.price.total
    desk.ways.name.value = "The middle one"
    desk.ways.keep.click()
    for face, film in (("north", "none"), ("roof", film_for(desk, "W1"))):
        desk.films[face].value = film
    desk.in_room.value = film_for(desk, "W1")
    desk.panes["N1.3"].value = True
    assert desk.study.chosen.film_by_pane != wanted
    desk.ways.takes[0].click()
    assert (desk.study.chosen.film_by_pane, desk.study.offer.price.total) == (wanted, price)
    assert (desk.films["north"].value, desk.in_room.value) == (film_for(desk, "N1"), "")
    assert desk.decision().panes_out == {"N1.3": "not part of The middle one"}
    desk.override.value = "she likes the middle one"
    desk.button.click()
    assert "Kept in" in text(desk.message)
    assert Study.open(folder).chosen.film_by_pane == wanted


def test_a_saving_that_is_none_is_told_as_a_cost(tmp_path: Path) -> None:
    """The house by the harbour is heated and not cooled: film costs it money every year."""
    shutil.copytree(JOBS / "_shared", tmp_path / "_shared")
    skip = shutil.ignore_patterns("runs", "decisions.yaml", "*.ipynb")
    desk = Desk(Study.open(shutil.copytree(JOBS / "harbour-house", tmp_path / "house", ignore=skip)))
    saving = desk.page.chosen.saving_per_year
    assert saving.p90 < 0
    shown = text(desk.numbers)
    assert "Costs more, a year" in shown and "Saved" not in shown
