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
from reportkit.documents.desk import Desk
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
