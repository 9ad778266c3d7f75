"""No business, no quote: a plan for one's own windows, with its cost, without deposit or acceptance."""

import json
import re
import shutil
from pathlib import Path

import pypdf
import pytest

from reportkit.app.run import make
from reportkit.base.errors import JobError
from reportkit.documents.sections import SECTIONS
from reportkit.job import load_job

JOBS = Path(__file__).parents[2] / "jobs"


def without(text, *groups):
    """Return a job's text without some of its groups of fields."""
    for name in groups:
        text, count = re.subn(rf"(?ms)^{name}:.*?(?=^\S)", "", text)
        assert count == 1, name
    return text


def job_of(home, name, *groups):
    """Return the folder of a demo job without some groups of fields."""
    for one in ("_shared", name):
        shutil.copytree(JOBS / one, home / one, ignore=shutil.ignore_patterns("runs", "*.ipynb"))
    path = home / name / "job.yaml"
    path.write_text(without(path.read_text("utf-8"), *groups).replace("  paid_work: yes\n", ""), "utf-8")
    return home / name


@pytest.fixture(scope="module")
def run(tmp_path_factory):
    """A run of the house by the harbour as its owners' own work."""
    return make(job_of(tmp_path_factory.mktemp("own"), "harbour-house", "business", "quote"))


def texts(path):
    """Return the text of each page of a PDF."""
    return [" ".join(page.extract_text().split()) for page in pypdf.PdfReader(path).pages]


def test_the_plan_has_a_cost_and_an_order_and_nothing_to_sign(run):
    """Titles, totals and steps are those of people in their own home; no offer is spoken of."""
    pages = texts(run / "proposal.pdf")
    plan = " ".join(pages)
    assert len(pages) <= 4
    assert plan.startswith("Invented Client") and "Plan: Living room and kitchen" in plan
    total = json.loads((run / "results.json").read_text(encoding="utf-8"))["price"]["total"]
    assert f"Cost {total.replace('.', ',')} €" in plan
    assert "The order of the work" in plan and re.search(r"about 8:\d\d|L3, Living room: about \d+", plan)
    for word in ("Accept", "accept", "Deposit", "Offer", "Price, fitted", "Signature", "For Fen"):
        assert word not in plan, word
    assert "offer" not in " ".join(texts(run / "fitting.pdf"))
    assert texts(run / "letters.pdf")[0].startswith("Invented Client")
    assert "in our own home" in texts(run / "letters.pdf")[0]
    assert "call us" not in " ".join(texts(run / "basis.pdf"))
    assert (run / "labels.pdf").exists() and (run / "fitting.ics").exists()


def test_the_documents_bear_the_day_of_the_work(run):
    """Without a quote the day of fitting dates the papers, the weather's year and the metadata."""
    assert "20 April 2026" in texts(run / "proposal.pdf")[0]
    assert load_job(run / "inputs").job.day.isoformat() == "2026-04-20"
    assert pypdf.PdfReader(run / "proposal.pdf").metadata.author == "Invented Client"


def test_a_business_still_has_its_offer(page_of, study_of):
    """The day's order is for people in their own home; a client gets terms and one line to sign."""
    page = page_of(study_of("harbour-house"))
    assert not SECTIONS["day"](page).blocks
    assert SECTIONS["acceptance"](page).blocks


@pytest.mark.parametrize(("gone", "wanted"), [("business", "business"), ("quote", "quote")])
def test_half_of_the_papers_is_a_fault(tmp_path, gone, wanted):
    """A business without a quote, or a quote without a business, is told with its mend."""
    with pytest.raises(JobError, match=rf"{wanted}: must be given with"):
        load_job(job_of(tmp_path, "harbour-house", gone))


def test_a_plan_needs_a_day(tmp_path):
    """Neither quote nor a day of work, survey or prices: nothing says which year's sun to take."""
    folder = job_of(tmp_path, "hill-studio", "business", "quote", "survey")
    path = folder / "job.yaml"
    path.write_text(path.read_text("utf-8").replace("  dated: 2026-01-08\n", ""), "utf-8")
    shared = tmp_path / "_shared" / "prices.yaml"
    shared.write_text(re.sub(r"(?m)^ *dated:.*\n", "", shared.read_text("utf-8")), "utf-8")
    with pytest.raises(JobError, match=r"fitting\.date: must be given in a job without a quote"):
        load_job(folder)
