"""A new job in another language: its questions, its samples and its documents, as the catalogue has them."""

import itertools
import re
from pathlib import Path

import pytest

from reportkit.app.command_line import main
from reportkit.app.run import make
from reportkit.base.errors import InputError
from reportkit.job import load_job, write_starter
from reportkit.job.writing.samples import KINDS
from reportkit.job.writing.starter import questions


@pytest.mark.parametrize(("kind", "units"), list(itertools.product(KINDS, ("us", "metric"))))
def test_a_spanish_start_asks_in_spanish_and_is_a_right_job(tmp_path: Path, kind: str, units: str) -> None:
    """No question is left in English, fields keep their names, documents are in Spanish."""
    write_starter(tmp_path, units=units, kind=kind, full=False, language="es")
    text = (tmp_path / "job.yaml").read_text("utf-8")
    english = set(questions())
    said = re.findall(r"(?:^| )# (.*)$", text, re.MULTILINE)
    assert len(said) > 25
    assert not english & set(said)
    job = load_job(tmp_path).job
    assert job.language == "es"
    assert job.locale == ("es_US" if units == "us" else "es_ES")
    assert job.title not in english
    assert job.complaint.text not in english


def test_the_command_and_the_workbook_take_the_language(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Check then speaks Spanish; so does a job taken from a former one, which may not be told otherwise."""
    first, book, full = (str(tmp_path / name) for name in ("first", "book", "full"))
    assert main(["start", first, "--language", "es"]) == 0
    assert main(["start", book, "--language", "es", "--workbook"]) == 0
    assert main(["start", full, "--language", "es", "--full"]) == 0
    for folder in (first, book, full):
        capsys.readouterr()
        assert main(["check", folder]) == 0
        assert "Leído: " in capsys.readouterr().err
    write_starter(tmp_path / "next", former=tmp_path / "first")
    assert "¿para quién es?" in (tmp_path / "next" / "job.yaml").read_text("utf-8")
    with pytest.raises(InputError, match="is in es: nothing was written"):
        write_starter(tmp_path / "other", former=tmp_path / "first", language="en")
    with pytest.raises(ValueError, match="language must be one of en, es"):
        write_starter(tmp_path / "none", units="us", language="xx")


def test_a_spanish_start_becomes_a_spanish_proposal(tmp_path: Path) -> None:
    """From start to the printed page."""
    write_starter(tmp_path / "job", units="metric", kind="home", full=False, language="es")
    page = (make(tmp_path / "job", only="html") / "proposal.html").read_text("utf-8")
    assert 'lang="es-ES"' in page
    assert "Ventanas de la sala" in page
    assert "De dos a seis hace demasiado calor en la sala" in page
