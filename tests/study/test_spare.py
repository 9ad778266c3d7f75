"""A spare piece asked for in the job: in the offer, the results and on the fitting sheet."""

import json
from collections import Counter

import pytest

from reportkit.cutting import prepare, violations
from reportkit.documents.blocks import plain
from reportkit.documents.page import Page
from reportkit.documents.sections import SECTIONS
from reportkit.findings.findings import Results


def cut(results):
    """Return how many pieces of each pane's name the plan cuts."""
    return Counter(
        piece["pane"]
        for roll in results["cutting"]["rolls"]
        for strip in roll["strips"]
        for piece in strip["pieces"]
    )


@pytest.fixture(scope="module")
def study(edited):
    """The corner shop with a spare."""
    return edited("corner-shop", ("  spare: no\n", "  spare: yes\n"))


def test_the_offer_has_a_checked_plan_with_one_piece_more(study, study_of):
    """Rules: those of the separate checker; the spare is of the largest piece's size, and is paid for."""
    offer, plain_offer = study.offer, study_of("corner-shop").offer
    how = study.job.fitting
    asked = prepare(offer.pieces, offer.rolls, table_mm=how.table)
    assert violations(offer.plan, asked, offer.rolls, table_mm=how.table, stages=how.stages) == []
    spares = [placed for placed in offer.plan.pieces if placed.piece.spare_of]
    films = {piece.film for piece in offer.pieces}
    assert films == {placed.piece.film for placed in spares}
    assert len({placed.piece.id for placed in spares}) == len(films)  # a seamed one has several parts
    assert len(offer.plan.pieces) == len(plain_offer.plan.pieces) + len(spares)
    for film in films:
        area = sum(placed.piece.area_mm2 for placed in spares if placed.piece.film == film)
        assert area == max(piece.area_mm2 for piece in offer.pieces if piece.film == film)
    assert offer.plan.lower_bound <= offer.plan.price
    assert offer.plan.price >= plain_offer.plan.price
    assert offer.plan.glass_m2 == pytest.approx(plain_offer.plan.glass_m2)


def test_the_spare_is_in_the_results_and_on_the_fitting_sheet(study, results_of):
    """One piece more is cut, and the fitter reads its name."""
    results = Results(study)
    more = cut(results) - cut(results_of("corner-shop"))
    assert more and all("spare" in name for name in more)
    page = Page(results.findings)
    sheet = json.dumps(
        [plain(block) for name in ("work", "cutting") for block in SECTIONS[name](page)], ensure_ascii=False
    )
    for name in more:
        assert name in sheet
