"""Why a film is ruled out, as its own sentence and as where it stands in the table of the trade-off."""

from reportkit.documents.blocks import plain
from reportkit.documents.sections import SECTIONS
from reportkit.documents.sections.excluded import reasons, sentences
from reportkit.findings.advice import Excluded


def test_a_reason_is_said_once_and_with_or_without_its_film(page_of, study_of):
    """A colon in a film's name is a part of the name; two panes over one limit are one reason."""
    page = page_of(study_of("corner-shop"))
    limits = [Excluded(what="neutral", pane=pane, value=1.0, limit=0.0) for pane in ("A", "B")]
    (why,) = reasons(page, limits)
    assert sentences(page, "Dusk: grey", limits) == [f"Dusk: grey: {why}"]
    assert why == "it is tinted; you asked for neutral or grey."


def test_the_trade_off_says_the_first_reason_of_every_film_ruled_out(page_of, study_of):
    """Each row in grey ends with what rules the film out, its first letter in capitals."""
    page = page_of(study_of("corner-shop"))
    table = next(one for one in map(plain, SECTIONS["choice"](page).blocks) if one.get("id") == "trade-off")
    last = [row["cells"][-1] for row in table["rows"] if row["emphasis"] == "muted"]
    told = ["".join(run["text"] for run in cell) for cell in last]
    ruled = [reasons(page, one.excluded)[0] for one in page.findings.choice.candidates if one.excluded]
    assert sorted(told) == sorted(why[:1].upper() + why[1:] for why in ruled) != []
