# ruff: noqa: E501 -- what is printed stands in one string
"""Faults in the reader's language: Spanish as a reader of it would say it, translated by hand here."""

import pytest
from small_job import written

from reportkit.app.command_line import main
from reportkit.base.errors import Fault
from reportkit.documents.language.faults import in_language

HEAD = "id,room,face,glazing,quantity,width,height,opens"


def test_faults_of_a_spanish_job_are_spanish(tmp_path, capsys):
    """Place, field and what was found stay as they are; rule, mend and the word for found are Spanish."""
    survey = f"{HEAD}\nA,offfice,west,one,1,5-Aug,1250,quizás\n"
    assert main(["check", str(written(tmp_path, {"language": "es", "locale": "es_ES"}, survey=survey))]) == 2
    assert capsys.readouterr().out.splitlines() == [
        'windows.csv:2 opens: debe ser yes (sí) o no (se encontró «quizás»); escriba sí o no',
        'windows.csv:2 room: debe ser una habitación de este trabajo (se encontró «offfice»); ¿quería decir office?',
        'windows.csv:2 width: debe ser una longitud, no la fecha en que la convirtió una hoja de cálculo '
        '(se encontró «5-Aug»); escríbalo otra vez en una columna con formato de texto, como 35 5/8 in o 2-3',
    ]  # fmt: skip


def test_faults_of_an_english_job_stay_as_they_are(tmp_path, capsys):
    """No language, or one without a catalogue, leaves what is printed to the letter."""
    survey = f"{HEAD}\nA,offfice,west,one,1,900,1250,yes\n"
    assert main(["check", str(written(tmp_path, survey=survey))]) == 2
    assert capsys.readouterr().out.strip() == (
        'windows.csv:2 room: must be a room of this job (found "offfice"); did you mean office?'
    )
    fault = Fault("job.yaml", 3, "units", "must be one of us, metric", "x", "write one of these words")
    assert in_language(fault, "de") == str(fault) == in_language(fault, "en")


@pytest.mark.parametrize(
    ("rule", "spanish"),
    [
        ("must be at most 236.2 in (6000 mm)", "debe ser como máximo 236.2 in (6000 mm)"),
        ("must be one of us, metric", "debe ser una de estas palabras: us, metric"),
        ("must be something that nobody translated", "must be something that nobody translated"),
    ],
)
def test_a_finished_sentence_is_known_by_its_template(rule, spanish):
    """What fills it is kept; a sentence half of which would stay English stays English whole."""
    assert in_language(Fault("job.yaml", 3, "x", rule), "es") == f"job.yaml:3 x: {spanish}"
