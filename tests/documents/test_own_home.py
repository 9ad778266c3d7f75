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
from reportkit.study import Study

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
    assert "What you wanted" in plan and "The answer" in plan
    for word in (
        "What you asked",
        "Our ",
        "our recommendation",
        "we recommend",
        "price would",
        "Accept",
        "accept",
        "Deposit",
        "Offer",
        "Price, fitted",
        "Signature",
        "For Fen",
    ):
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


def test_own_windows_need_no_rates(tmp_path, page_of):
    """Without any price of work the plan costs its film alone, and no hour of anybody's."""
    folder = job_of(tmp_path, "harbour-house", "business", "quote", "prices")
    (tmp_path / "_shared" / "prices.yaml").unlink()  # a business's, in its own currency
    page = page_of(Study.open(folder))
    price = page.findings.price
    assert {line.group for line in price.lines} == {"film"}
    assert price.total == sum(line.amount for line in price.lines) > 0
    told = " ".join(str(block) for block in SECTIONS["price"](page).blocks)
    assert "Fitting" not in told and "recommendation" not in told


def test_a_business_needs_its_rate(tmp_path):
    """What an hour costs is asked of a business, by the field's name."""
    folder = job_of(tmp_path, "hill-studio")
    (tmp_path / "_shared" / "prices.yaml").unlink()
    path = folder / "job.yaml"
    path.write_text(path.read_text("utf-8").replace("  labour_per_hour: 70\n", ""), "utf-8")
    with pytest.raises(JobError, match=r"prices\.labour_per_hour: must be given with business"):
        load_job(folder)


def test_the_order_of_the_work_goes_by_the_clock(page_of, tmp_path):
    """Two people on two panes: a step ends where the next begins, whoever works beside whom."""
    folder = job_of(tmp_path, "harbour-house", "business", "quote")
    path = folder / "job.yaml"
    path.write_text(
        path.read_text("utf-8").replace("  fitter: trained", "  fitter: trained\n  crew: 2"), "utf-8"
    )
    page = page_of(Study.open(folder))
    slots = page.findings.schedule.slots
    told = str(SECTIONS["day"](page).blocks)
    for slot in slots:
        minutes = page.fmt.duration_minutes((slot.end - slot.start).total_seconds() / 60)
        assert f"about {minutes}" in told.replace("\\xa0", "\u00a0"), slot


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
