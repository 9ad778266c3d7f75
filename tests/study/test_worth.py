"""Money over one period, from the job file to the results and the printed table."""

from decimal import Decimal

import pytest

from reportkit.documents.page import Page
from reportkit.documents.sections import SECTIONS
from reportkit.findings.findings import Results


def films(results):
    """Return the options of one film wherever it goes, by the film."""
    return {
        one["id"]: one for one in results["options"] if one["kind"] == "film" and one["id"] == one["film"]
    }


def table(results):
    """Return the table of what pays."""
    return next(
        block
        for block in SECTIONS["worth"](Page(results.findings))
        if getattr(block, "id", "") == "worth-list"
    )


def test_every_option_is_looked_at_over_one_period(study_of, results_of):
    """Unsaid, it is the longest life of a film compared (12 years beside 10 and 8), and it is printed."""
    results = results_of("harbour-house")
    lives = {spec.id: spec.life_years for spec in study_of("harbour-house").job.films}
    assert len({lives[name] for name in films(results)}) > 1
    assert {entry["years"] for entry in results["options"]} == {max(lives[name] for name in films(results))}
    assert {len(entry["cash"]) for entry in films(results).values()} == {results["options"][0]["years"] + 1}
    assert (
        f"over {results['options'][0]['years']} years for every option"
        in table(Results(study_of("harbour-house"))).caption
    )


def test_a_removal_is_paid_at_the_end_of_every_life(edited, results_of):
    """300 for taking film off lowers each value by what is due, discounted (NIST Handbook 135, from memory).

    Over 12 years at 3 %: of a film that lasts 12 at their end; of one that lasts 10 after them, and a fifth
    of the next one's at the end.
    """
    without, with_it = (
        results_of("harbour-house"),
        Results(edited("harbour-house", ("energy:\n", "energy:\n  removal: 300\n"))),
    )
    lives = {spec["id"]: spec["life_years"] for spec in without["job"]["films"]}
    years = without["options"][0]["years"]
    rate = 1 + without["job"]["energy"]["discount_percent"] / 100
    assert films(with_it)
    for name, entry in films(with_it).items():
        life, due = lives[name], 0.0
        whole = int((years - 1e-9) // life)
        due += sum(300 / rate ** (life * turn) for turn in range(1, whole + 1))
        due += 300 * (years - whole * life) / life / rate**years
        fall = Decimal(films(without)[name]["npv"]["p50"]) - Decimal(entry["npv"]["p50"])
        assert float(fall) == pytest.approx(due, abs=0.02)


def test_the_years_typed_are_those_of_every_option(edited):
    """`energy.years` beats the lives of the films."""
    results = Results(edited("harbour-house", ("energy:\n", "energy:\n  years: 7\n")))
    assert {entry["years"] for entry in results["options"]} == {7}
    assert "over 7 years for every option" in table(results).caption
