"""Rates that came from ``_shared`` are told to whoever types the job, and to no client."""

import shutil
from pathlib import Path

import pytest
from lxml import html
from small_job import written

from reportkit.app.command_line import main
from reportkit.base.errors import JobError
from reportkit.job import convert, load_job

SHARED = """currency: EUR
labour_per_hour: 62
margin_percent: 25
margin_on: price
minimum_charge: 180.00
travel: 35.00
tax: {name: VAT, percent: 20, prices_include_it: yes}
"""
#: What the job has of its own: the price of an hour alone.
OWN = dict.fromkeys(("margin_percent", "travel", "tax", "dated"))


@pytest.fixture
def job(tmp_path):
    """A job beside a file of shared prices, with an hour's price of its own."""
    (tmp_path / "_shared").mkdir()
    (tmp_path / "_shared" / "prices.yaml").write_text(SHARED, encoding="utf-8")
    (tmp_path / "styles").mkdir()
    return written(tmp_path / "styles", {"prices": OWN})


def test_a_clean_check_names_the_rates_that_came_from_shared(job, capsys):
    """Each with its value; what the job has of its own is not among them."""
    assert main(["check", str(job)]) == 0
    told = [line for line in capsys.readouterr().err.splitlines() if "_shared" in line]
    assert told == [
        "From _shared/prices.yaml: margin 25 %, margin counted on the price, least charge 180.00 EUR, "
        "price of travel 35.00 EUR, tax 20 % included."
    ]


def test_they_are_told_in_the_language_of_the_job(job, capsys):
    """Amounts with the reader's own decimal mark."""
    written(job, {"prices": OWN, "language": "es", "locale": "es_ES"})
    assert main(["check", str(job)]) == 0
    assert "De _shared/prices.yaml: margen 25 %, " in (told := capsys.readouterr().err.replace("\u00a0", " "))
    assert "precio del viaje 35,00 EUR" in told


def test_a_job_with_rates_of_its_own_is_told_nothing(job, capsys):
    """A rate typed in the job is the person's own, also one of nothing."""
    own = {"margin_percent": "0", "margin_on": "cost", "minimum_charge": "0", "travel": "0"}
    own["tax"] = {"prices_include_it": "no"}
    written(job, {"prices": own})
    assert main(["check", str(job)]) == 0
    assert "_shared" not in capsys.readouterr().err


def test_make_and_the_fitting_sheet_tell_them_and_no_client_s_page(job, capsys):
    """In the short summary and in the table of prices left open."""
    assert main(["make", str(job), "--only", "html", "--static"]) == 0
    _, err = capsys.readouterr()
    assert "From _shared/prices.yaml: margin 25 %," in err and "price of travel 35.00 EUR" in err
    run = job / "runs" / "0001"
    fitting = (run / "fitting.html").read_text(encoding="utf-8")
    assert fitting.count("_shared/prices.yaml") == 5
    assert "35.00 EUR" in fitting and "the job gives none of its own" in fitting
    for name in ("proposal", "basis"):
        client = html.fromstring((run / f"{name}.html").read_text(encoding="utf-8")).text_content()
        assert len(client) > 1000 and "_shared" not in client and "35.00 EUR" not in client, name


@pytest.mark.parametrize("book", [False, True])
def test_another_currency_names_what_the_job_lacks_of_its_own(job, book):
    """One typing of the fields it names mends it; they are folded away in a workbook."""
    if book:
        convert(job)
    shared = job.parent / "_shared" / "prices.yaml"
    shared.write_text(SHARED.replace("EUR", "USD"), encoding="utf-8")
    with pytest.raises(JobError) as caught:
        load_job(job)
    (fault,) = caught.value.faults
    assert fault.field == "currency"
    assert fault.hint == "give the job its own prices.minimum_charge, prices.travel"


def test_what_another_currency_asks_for_mends_it(job):
    """The same job with those two fields typed is read."""
    shared = job.parent / "_shared" / "prices.yaml"
    shared.write_text(SHARED.replace("EUR", "USD"), encoding="utf-8")
    written(job, {"prices": {**OWN, "minimum_charge": "150", "travel": "0"}})
    assert load_job(job).job.prices.margin_percent == 25


def test_ones_own_windows_need_no_shared_prices_in_another_currency(tmp_path, capsys):
    """A plan in pounds beside somebody's rates in dollars takes none of them; it has no price to lack one."""
    tests = Path(__file__).parents[1]
    shutil.copytree(tests.parent / "jobs" / "_shared", tmp_path / "_shared")
    assert "currency: USD" in (tmp_path / "_shared" / "prices.yaml").read_text(encoding="utf-8")
    job = shutil.copytree(tests / "offers" / "own-home", tmp_path / "own-home")
    assert main(["check", str(job)]) == 0
    assert "prices.yaml" not in capsys.readouterr().err
