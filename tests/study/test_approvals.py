"""The film maker's written approval, from the job's field to the price, both documents and the archive."""

import re
import shutil
from pathlib import Path

import pytest

from reportkit.base.errors import JobError
from reportkit.documents.page import Page
from reportkit.documents.sections import SECTIONS
from reportkit.findings.findings import Results
from reportkit.job import load_job
from reportkit.job.writing.copies import contents
from reportkit.study import Study

JOBS = Path(__file__).parent.parent.parent / "jobs"
GLASS = """
glazings:
  - id: wired-6
    name: Wired glass, 6 mm
    lites:
      - {thickness_mm: 6, strength: wired}
"""
SURVEY = """# Invented: an invented survey. Bare numbers are millimetres.
id,room,face,glazing,quantity,width,height,film,edge,collector
N2,studio,north,door-6,1,780,1985,ceramic-grey-40,,
W1,studio,west,wired-6,2,905,1210,ceramic-grey-40,,
W2,studio,west,wired-6,1,560,1210,ceramic-grey-40,damaged,
W3,studio,west,wired-6,1,560,1210,ceramic-grey-40,,yes
"""
LETTER = b"%PDF-1.4 an invented letter"
APPROVAL = """
approvals:
  - film: {film}
    {on}
    by: A. Example, Invented Film Makers
    date: {date}
    file: {file}
"""


@pytest.fixture
def job(tmp_path):
    """Return a function that writes the job of an invented studio with wired glass and an approval."""
    shutil.copytree(JOBS / "_shared", tmp_path / "_shared")
    plain = (JOBS / "hill-studio" / "job.yaml").read_text(encoding="utf-8")
    plain = re.sub(r"(?m)^choice:\n(  .*\n)+", "", plain)

    def written(approval=None, **said):
        folder = tmp_path / "studio"
        shutil.rmtree(folder, ignore_errors=True)
        folder.mkdir()
        text = plain + GLASS
        if approval:
            known = {"film": "ceramic-grey-40", "date": "2026-01-05", "file": "letters/yes.pdf"}
            text += APPROVAL.format(on=approval, **(known | said))
        (folder / "job.yaml").write_text(text, encoding="utf-8")
        (folder / "windows.csv").write_text(SURVEY, encoding="utf-8")
        (folder / "letters").mkdir()
        (folder / "letters" / "yes.pdf").write_bytes(LETTER)
        return folder

    return written


def printed(results, name):
    """Return the words of a section."""
    return repr(SECTIONS[name](Page(results.findings)))


def test_an_approved_pane_is_filmed_priced_printed_and_the_letter_is_archived(job):
    """The verdict stays what it is, with its reasons; what is not the maker's to approve stays refused."""
    before, after = (Study.open(job(approval)) for approval in (None, "glazing: wired-6"))
    plain, results = Results(before), Results(after)
    films = {pane["id"]: pane["film"] for pane in results["panes"]}
    assert films == {"N2": "ceramic-grey-40", "W1": "ceramic-grey-40", "W2": None, "W3": None}
    assert {pane["id"] for pane in plain["panes"] if pane["film"]} == {"N2"}
    assert after.offer.price.total > before.offer.price.total
    assert "W1" in {piece["pane"] for piece in results["pieces"]}
    made = next(pane["screen"] for pane in results["panes"] if pane["id"] == "W1")
    assert made["verdict"] == "refuse"
    assert any("wired" in reason for reason in made["reasons"])
    assert made["approval"] == {
        "by": "A. Example, Invented Film Makers",
        "date": "2026-01-05",
        "file": "letters/yes.pdf",
    }
    said = "Approved in writing by A. Example, Invented Film Makers on 5 January 2026 (letters/yes.pdf)."
    assert said in printed(results, "verdicts")
    assert "Do not fit" in printed(results, "verdicts")
    assert "W1: film approved in writing by A. Example" in printed(results, "price")
    assert "W1: approved in writing by A. Example" in printed(results, "holds")
    assert all(f"No film on {pane}: " in printed(results, "holds") for pane in ("W2", "W3"))
    assert "W1" not in {entry["pane"] for letter in results["letters"] for entry in letter["panes"]}
    assert "Approved in writing" not in printed(plain, "verdicts")
    assert "No film on W1" in printed(plain, "holds")
    assert contents(after.loaded)["letters/yes.pdf"] == LETTER


def test_an_approval_by_pane_holds_for_that_pane_and_film_alone(job):
    """Other panes of the glazing and other films stay refused."""
    study = Study.open(job("panes: [W1]"))
    assert study.screens["W1", "ceramic-grey-40"].refusal == ""
    assert study.screens["W2", "ceramic-grey-40"].refusal
    others = [name for name in study.films if name != "ceramic-grey-40"]
    assert all(study.screens["W1", name].approval is None for name in others)


@pytest.mark.parametrize(
    ("on", "said", "field", "rule"),
    [
        ("glazing: wired-6", {"file": "letters/no.pdf"}, "approvals.1.file", "no such file"),
        ("glazing: wired-6", {"file": "../yes.pdf"}, "approvals.1.file", "inside the job's folder"),
        ("glazing: wired-6", {"date": "2099-01-01"}, "approvals.1.date", "after the date of the quote"),
        ("glazing: wired-9", {}, "approvals.1.glazing", "a glazing of this job"),
        ("panes: [W1, W9]", {}, "approvals.1.panes.2", "a pane of this job"),
        ("glazing: wired-6", {"film": "nofilm"}, "approvals.1.film", "a film of this job"),
        ("glazing: wired-6\n    panes: [W1]", {}, "approvals.1.glazing", "only one of them"),
        ("note: x", {}, "approvals.1.note", ""),
    ],
)
def test_an_approval_that_cannot_be_is_a_fault(job, on, said, field, rule):
    """No file, a day to come, a film, pane or glazing the job does not have, both kinds of place."""
    with pytest.raises(JobError) as caught:
        load_job(job(on, **said))
    faults = {(fault.field, fault.file): fault.rule for fault in caught.value.faults}
    assert rule in faults[field, "job.yaml"]
