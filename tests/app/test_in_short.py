"""What `make` says in short on the terminal: in the reader's language and units."""

import re

import pytest
from small_job import SURVEY, written

from reportkit.app.command_line import main
from reportkit.documents.blocks import plain
from reportkit.documents.view import Report
from reportkit.study import Study

#: The second glass has a texture inside: film does not stick to it.
PATTERNED = {
    "glazings": [
        {"id": "one", "lites": [{"thickness_mm": "4"}]},
        {
            "id": "two",
            "name": "Bathroom glass",
            "lites": [{"thickness_mm": "4", "strength": "patterned", "textured": "back"}],
        },
    ],
    "choice": {"job": None},
}
TEXTURED = SURVEY.replace("B,office,west,one", "B,office,west,two")


def with_film(survey, name):
    """Return a survey whose last pane has a word for its film."""
    head, first, last = survey.splitlines()
    return f"{head},film\n{first},\n{last},{name}\n"


@pytest.fixture
def said(run_of, monkeypatch, capsys):
    """Return a function from a job's name to what `make` says of it; its run is made once for all."""

    def told(name):
        monkeypatch.setattr("reportkit.app.run.make", lambda *args, **more: run_of(name))
        assert main(["make", name]) == 0
        return capsys.readouterr().err.replace("\u00a0", " ")

    return told


def test_differences_of_temperature_are_in_the_reader_s_unit(said):
    """30 K of limit are 54 F: a difference of 1 K is one of 1.8 F (NIST SP 811, from memory)."""
    told = said("corner-shop")
    assert "warmer than its edge, of 54 °F allowed" in told
    assert not re.search(r"\d K\b", told)


def test_what_stops_film_is_told_in_the_reader_s_language(said):
    """A sentence of the glass, made of a template and its number, and no id of a glazing."""
    told = said("surgery")
    assert "la cara 2 del vidrio (la que da a la habitación) tiene textura: la lámina no se adhiere" in told
    assert "textured" not in told and "patterned-4" not in told


@pytest.mark.parametrize(
    ("changes", "film", "stopped"),
    [
        ({}, "", True),
        ({}, "none", False),
        ({"choice": {"job": "none"}}, "", False),
        ({"choice": {"job": "grey"}}, "", True),
        ({"choice": {"job": "grey"}}, "none", False),
    ],
)
def test_a_pane_left_bare_by_name_is_not_told_to_be_unfit(tmp_path, changes, film, stopped):
    """Neither on the terminal nor in the reasons: nobody asked for film there."""
    folder = written(tmp_path, PATTERNED, changes, survey=with_film(TEXTURED, film))
    report = Report(Study.open(folder))
    short = " ".join(report.record().in_short)
    assert ("textured" in short) is stopped
    reasons = [repr(plain(block)) for name in ("glass", "panes", "choice") for block in report.section(name)]
    assert any("textured" in text or "must not go on" in text for text in reasons) is stopped


def test_a_film_left_out_for_a_must_have_is_named_with_the_reason(tmp_path):
    """Its sheet says nothing of ultraviolet, which was to be blocked; without the wish nothing is said."""
    for wish, told in (("", False), ("uv", True)):
        limits = {"limits": {"must_have": [wish]}} if wish else {}
        report = Report(Study.open(written(tmp_path, {"choice": {"job": None}}, limits)))
        line = (
            "grey is left out: its sheet does not say how much ultraviolet it lets in; "
            "you asked for a UV block. Ask the seller."
        )
        assert (line in report.record().in_short) is told
