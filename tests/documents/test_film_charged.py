"""What film is charged by is told: by check, to the client, and to the fitter where the job left it open.

By hand: eight panes of 1 x 1.25 m and two of 1.2 x 1.25 m on film 1.524 m wide, one behind the other, each
take 1 or 1.2 m of a roll of 30 m.
"""

import pytest

from reportkit.app.command_line import main
from reportkit.documents.language.words import Words
from reportkit.documents.sections.price import charged
from reportkit.documents.view import Report
from reportkit.study import Study
from tests.small_job import written

SAID = {
    "bought": "Film is charged as it is bought: a roll sold whole counts whole.",
    "rest_credited": "Film is charged as it is bought, less the rests worth keeping.",
    "length_used": "Film is charged by the length pulled off the rolls, not by the rolls bought.",
    "area": "Film is charged by the area of its pieces, not by the rolls bought.",
}


@pytest.mark.parametrize("way", SAID)
def test_what_film_is_charged_by_is_told_on_the_page_and_by_check(tmp_path, way, capsys):
    """With the length of the roll and what is pulled off it, as the plan has it."""
    folder = written(tmp_path, {"prices": {"film_charged": way}})
    assert main(["check", str(folder)]) == 0
    assert SAID[way] in capsys.readouterr().err
    report = Report(Study.open(folder))
    said = charged(report.page)
    used = report.page.findings.cutting.used_length_mm / 1000
    assert 10.0 <= used <= 13.0
    assert said == f"{SAID[way]} Of 30.0\u00a0m of film {used:.1f}\u00a0m are pulled off the rolls."
    for name in ("price", "ways"):
        assert repr(said)[1:-1] in repr(report.section(name)), name


def test_it_is_told_in_the_job_s_language_and_units(tmp_path):
    """In Spanish, and in feet."""
    spanish = charged(Report(Study.open(written(tmp_path, {"language": "es", "locale": "es_ES"}))).page)
    assert spanish.startswith(Words("es")(SAID["bought"]))
    assert "30,0" in spanish
    feet = charged(Report(Study.open(written(tmp_path, {"units": "us", "locale": "en_US"}))).page)
    assert "Of 98.4\u00a0ft of film" in feet


def test_a_job_that_left_it_open_is_told_to_its_fitter(tmp_path):
    """Among the prices left open; not where the job gives it."""
    open_one = Report(Study.open(written(tmp_path))).section("reckoned")
    assert "a roll sold whole counts whole" in repr(open_one)
    given = Report(Study.open(written(tmp_path, {"prices": {"film_charged": "bought"}}))).section("reckoned")
    assert "a roll sold whole counts whole" not in repr(given)
