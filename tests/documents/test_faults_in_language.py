# ruff: noqa: E501 -- what is printed stands in one string
"""Faults in the reader's language: Spanish as a reader of it would say it, translated by hand here."""

import pytest
from small_job import written

from reportkit.app.command_line import main
from reportkit.base.errors import Fault, InputError, JobError
from reportkit.base.translatable import translatable
from reportkit.base.units import length_told
from reportkit.documents.language.faults import error_in_words, fault_in_words, words_of
from reportkit.job.reading.spoken import Spoken

HEAD = "id,room,face,glazing,quantity,width,height,opens"
SPANISH = {"language": "es", "locale": "es_ES"}


def said(fault, language="es", locale=""):
    """Return a fault in a language."""
    return fault_in_words(fault, words_of(Spoken(language, locale)))


def test_faults_of_a_spanish_job_are_spanish(tmp_path, capsys):
    """Place, field and what was found stay as they are; rule, mend and the word for found are Spanish."""
    survey = f"{HEAD}\nA,offfice,west,one,1,5-Aug,1250,quizás\n"
    assert main(["check", str(written(tmp_path, SPANISH, survey=survey))]) == 2
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
    assert said(fault, "de", "de_DE") == str(fault) == said(fault, "en", "de_DE")


@pytest.mark.parametrize(
    ("rule", "spanish"),
    [
        (
            translatable("must be at most {length}", length=length_told(6000)),
            "debe ser como máximo 6000 mm (236.2 in)",
        ),
        (
            translatable("must be one of {expected}", expected="us, metric"),
            "debe ser una de estas palabras: us, metric",
        ),
        ("must be something that nobody translated", "must be something that nobody translated"),
    ],
)
def test_a_sentence_is_known_by_its_template(rule, spanish):
    """What fills it is kept; a sentence that no catalogue has stays English."""
    assert said(Fault("job.yaml", 3, "x", rule), locale="es_MX") == f"job.yaml:3 x: {spanish}"


def test_numbers_are_the_readers_and_what_was_typed_stays():
    """A number of ours has the decimal sign of the locale, also inside a sentence; one that was typed keeps its own."""
    rule = translatable("must be at most {length}", length=length_told(6000))
    fault = Fault("job.yaml", 3, "x", rule, "9.5 m", translatable("such as {example}", example="0.5 m"))
    assert said(fault, locale="es_ES") == (
        "job.yaml:3 x: debe ser como máximo 6000 mm (236,2 in) (se encontró «9.5 m»); por ejemplo 0.5 m"
    )


def test_what_a_person_typed_is_never_looked_up():
    """Found and field are said in another language only where they are words of ours."""
    ours, typed = translatable("a list of {count}", count=2), "must be given"
    assert "«una lista de 2»" in said(Fault("job.yaml", 3, "x", "must be given", ours))
    assert "«must be given»" in said(Fault("job.yaml", 3, "x", "must be given", typed))


def test_rows_and_columns_of_a_workbook_are_named_in_the_language():
    """A cell keeps its letters and number; a whole row or column is named as the reader calls it."""
    assert said(Fault("job.xlsx", 7, "x", "must be given", cell="Panes!D7")) == "job.xlsx:Panes!D7 x: falta"
    assert (
        said(Fault("job.xlsx", 7, "", "must be given", cell="Panes!row 7")) == "job.xlsx:Panes!fila 7: falta"
    )
    assert (
        said(Fault("job.xlsx", 1, "", "must be given", cell="Mi hoja!column D"))
        == "job.xlsx:Mi hoja!columna D: falta"
    )


def test_what_is_said_above_faults_is_said_first():
    """An error may have a sentence, faults, or both; each is said once."""
    above = translatable("this job cannot be made anonymous: without its free text it has these faults")
    words = words_of(Spoken("es"))
    told = error_in_words(JobError(above, [Fault("a", 1, "x", "must be given")]), words)
    assert told.splitlines() == [
        "este trabajo no se puede hacer anónimo: sin su texto libre tiene estos fallos",
        "a:1 x: falta",
    ]
    assert error_in_words(InputError(translatable("must be given")), words) == "falta"
    assert str(JobError(above, [Fault("a", 1, "x", "must be given")])) == f"{above}\na:1 x: must be given"


def test_a_job_that_is_no_yaml_is_told_of_in_its_language(tmp_path, capsys):
    """The line at the left edge tells the language; where there is none, or another, it is English."""
    folder = written(tmp_path)
    for first, told in (
        ("language: es", "job.yaml:2: debe ser YAML (otros dos puntos en la misma línea"),
        ("# language: es", "job.yaml:2: must be YAML (a second colon on a line"),
        ("language: xx", "job.yaml:2: must be YAML (a second colon on a line"),
    ):
        (folder / "job.yaml").write_text(f"{first}\ntitle: Tienda: sur\n", "utf-8")
        assert main(["check", str(folder)]) == 2
        assert capsys.readouterr().out.startswith(told)


def test_what_a_clean_check_says_is_spanish(tmp_path, capsys):
    """Counts with their forms, areas with the reader's decimal sign, what is withheld, what may be a slip."""
    survey = f"{HEAD}\nA,office,west,one,3,900,1500,no\nB,office,west,one,1,1500,900,no\n"
    assert main(["check", str(written(tmp_path, SPANISH, survey=survey))]) == 0
    printed = capsys.readouterr()
    assert printed.out == ""
    assert printed.err.splitlines() == [
        "Leído: 4 paños en 2 filas, 1 habitación, 1 fachada, 5,4 m2 de vidrio, 1 lámina.",
        "west mira a 265°, oeste.",
        "A grey le faltan SHGC o g, y TSER: su ficha no se puede contrastar con lo calculado.",
        "A grey le falta la reflectancia visible: su aspecto de espejo se toma del sol completo.",
        "A grey le falta la transmitancia ultravioleta: no se da ningún número de ultravioleta.",
        "La lámina se cobra según se compra: un rollo que se vende entero cuenta entero.",
        "No se da: sol, calor, energía y dinero de un año; el clima es de días despejados.",
        "No se da: horas del día de instalación; falta fitting: {date: ...}.",
        "Mire otra vez: B puede tener intercambiados el ancho y el alto (1500 mm de ancho, 900 mm de alto).",
    ]


def test_what_shows_only_in_the_cutting_is_spanish(tmp_path, capsys):
    """A film whose rolls cannot carry a pane, and a maker's number that the glass cannot have."""
    survey = f"{HEAD}\nA,office,west,one,1,2000,1700,no\n"
    folder = written(tmp_path, SPANISH, {"fitting": {"table": "1600 mm"}}, survey=survey)
    assert main(["check", str(folder)]) == 2
    out = capsys.readouterr().out
    assert (
        "films.grey.rolls: debe tener un rollo en el que quepa el paño A, 2000 mm de ancho y 1700 mm de alto"
        in out
    )
    known = {"glazings": [{"id": "one", "lites": [{"thickness_mm": "4"}], "known": {"shgc": "0.2"}}]}
    assert main(["check", str(written(tmp_path, SPANISH, known))]) == 2
    out = capsys.readouterr().out
    assert "glazings.one.known.shgc: debe ser lo que este vidrio puede tener en condiciones EN: " in out
    assert "(se encontró «0.2»); compare las hojas" in out


def test_a_list_to_cut_is_told_of_in_the_language_asked_for(tmp_path, capsys):
    """A command without a job has the language that it is given."""
    (tmp_path / "pieces.csv").write_text("id,width,length,quantity\nA,900,1200,0\n", "utf-8")
    asked = ["cut", str(tmp_path / "pieces.csv"), "--roll", "1524x30000@400"]
    assert main([*asked, "--language", "es"]) == 2
    assert "quantity: debe ser un número entero de 1 a" in capsys.readouterr().err
    assert main(asked) == 2
    assert "quantity: must be a whole number from 1 to" in capsys.readouterr().err


def test_a_refusal_of_the_machine_is_spanish(tmp_path, monkeypatch, capsys):
    """A full disk while a Spanish job is made."""
    import errno

    def full(*args, **options):
        raise OSError(errno.ENOSPC, "No space left on device", "runs")

    monkeypatch.setattr("reportkit.app.run.make", full)
    assert main(["make", str(written(tmp_path, SPANISH))]) == 1
    assert capsys.readouterr().err.strip() == (
        "runs: el disco está lleno; al trabajo no le pasa nada: haga sitio y ejecute la orden otra vez"
    )
