"""A wired pane that was to get an absorbing film inside, from the survey to both documents."""

import json
import re
import shutil
from decimal import Decimal
from pathlib import Path

import pypdf
import pytest

from reportkit.app.run import make
from reportkit.study import Study

JOBS = Path(__file__).parent.parent.parent / "jobs"
WIRED = """
glazings:
  - id: wired-6
    name: Wired glass, 6 mm
    lites:
      - {thickness_mm: 6, strength: wired}
"""
SURVEY = """# Invented: an invented survey. Bare numbers are millimetres.
id,room,face,glazing,quantity,width,height,film,heater
N2,studio,north,door-6,1,780,1985,ceramic-grey-40,no
W1,studio,west,wired-6,2,905,1210,ceramic-grey-40,no
W2,studio,west,single-4,1,560,1210,ceramic-grey-40,yes
"""


@pytest.fixture(scope="module")
def run(tmp_path_factory):
    """Return a run of the job: a tempered door, two wired panes, and one with a heater before it."""
    where = tmp_path_factory.mktemp("jobs")
    shutil.copytree(JOBS / "_shared", where / "_shared")
    job = shutil.copytree(
        JOBS / "hill-studio", where / "wired-studio", ignore=shutil.ignore_patterns("runs", "photos")
    )
    text = (job / "job.yaml").read_text(encoding="utf-8")
    text = re.sub(r"(?m)^choice:\n(  .*\n)+", "", text)
    assert "\nglazings:" not in text
    (job / "job.yaml").write_text(text + WIRED, encoding="utf-8")
    (job / "windows.csv").write_text(SURVEY, encoding="utf-8")
    return make(job)


@pytest.fixture(scope="module")
def results(run):
    """Return the run's results."""
    return json.loads((run / "results.json").read_text(encoding="utf-8"))


def shown(path):
    """Return the text of a document, without its markup, scripts and styles."""
    from lxml import html

    tree = html.fromstring(path.read_text(encoding="utf-8"))
    for part in tree.xpath("//script | //style"):
        part.getparent().remove(part)
    return " ".join(tree.text_content().split())


def test_the_wired_pane_is_refused(results):
    """Wired glass with an absorbing film inside: refuse (common practice), and somebody is named."""
    pane = next(pane for pane in results["panes"] if pane["id"] == "W1")
    assert pane["screen"]["verdict"] == "refuse"
    assert any("wire" in reason for reason in pane["screen"]["reasons"])
    assert "film maker" in pane["screen"]["who"]
    assert pane["film"] is None
    assert pane["peak_solar_filmed_w"] == pane["peak_solar_w"]


def test_it_is_in_no_price_and_no_cut_plan(results, run):
    """Neither pieces, strips nor minutes name it, and the price is that of the job without it."""
    strips = [
        piece["pane"] for roll in results["cutting"]["rolls"] for s in roll["strips"] for piece in s["pieces"]
    ]
    assert "W1" not in strips
    assert {"N2", "W2"} <= set(strips)
    assert "W1" not in {piece["pane"] for piece in results["pieces"]}
    assert "W1" not in {line["pane"] for line in results["labour"]["panes"]}
    without = run.parent.parent.parent / "without"
    shutil.copytree(run.parent.parent, without, ignore=shutil.ignore_patterns("runs"))
    survey = "".join(line for line in SURVEY.splitlines(keepends=True) if not line.startswith("W1"))
    (without / "windows.csv").write_text(survey, encoding="utf-8")
    assert Study.open(without).offer.price.total == Decimal(results["price"]["total"])


def test_it_saves_nothing(results):
    """What is kept out at the worst hour comes from the other panes alone."""
    chosen = next(entry for entry in results["options"] if entry["chosen"])
    assert chosen["panes_filmed"] == 2
    kept = {p["id"]: p["peak_solar_w"] - p["peak_solar_filmed_w"] for p in results["panes"]}
    assert kept["W1"] == 0
    assert results["options"][0]["peak_solar_w"] - chosen["peak_solar_w"] == pytest.approx(sum(kept.values()))
    assert "W1" not in {one["pane"] for one in results["which_panes"]["panes"]}


def test_both_documents_say_so(run):
    """The reasons give the verdict and why, the proposal what follows; the sheet says no film there."""
    proposal, sheet = shown(run / "proposal.html"), shown(run / "fitting.html")
    basis = shown(run / "basis.html")
    assert "Do not fit" in basis
    assert "W1: wired glass with an absorbing film inside" in basis
    assert "No film on W1: left out of the price" in proposal
    assert "No film on W1" in sheet
    for text in (proposal, basis):
        assert "safe " not in text.lower().replace("safety", "").replace("safe to look at", "")


def test_the_pane_with_a_heater_is_priced_on_a_condition_and_its_letter_is_ready(run, results):
    """Ask: in the price with a condition, held on the sheet, and a letter with its glass and question."""
    pane = next(pane for pane in results["panes"] if pane["id"] == "W2")
    assert (pane["screen"]["verdict"], pane["film"]) == ("ask", "ceramic-grey-40")
    assert [p["pane"] for letter in results["letters"] for p in letter["panes"]] == ["W2"]
    proposal, sheet = shown(run / "proposal.html"), shown(run / "fitting.html")
    assert "W2: priced on condition" in proposal
    (letter,) = [page.extract_text() for page in pypdf.PdfReader(run / "letters.pdf").pages]
    letter = " ".join(letter.split())
    assert "To the maker of Invented grey ceramic 40" in letter
    assert "4 mm clear annealed" in letter
    assert "heater" in letter
    assert "W2: only with the decider's written answer in hand" in sheet
