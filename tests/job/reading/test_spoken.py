"""The language that a job is told of in is found whatever is wrong with the job."""

from pathlib import Path

import pytest

from reportkit.job import write_starter
from reportkit.job.reading.spoken import Spoken, spoken


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("language: es\nlocale: es_ES\nunits: us\n", Spoken("es", "es_ES", "us")),
        ('{"units": "metric", "language": "es-MX"}', Spoken("es-mx", "", "metric")),
        ("\ufefflanguage: 'es'\r\nunits: us\r\n", Spoken("es", "", "us")),
        ("language: es\ntitle: a: b\nlocale: es_MX\n", Spoken("es", "es_MX", "metric")),  # no YAML
        ("title: a: b\nclient:\n  language: es\n", Spoken()),  # nor a field of the job
        ("# language: es\ntitle: x\n", Spoken()),
        ("title: 'a note, language: es'\nlanguage: en\n", Spoken()),
        ("language: [es, en]\n", Spoken()),
        ("language:\nunits: us\n", Spoken()),
        ("", Spoken()),
    ],
)
def test_a_job_file(tmp_path: Path, text: str, found: Spoken) -> None:
    """Fields count where the file can be read, lines at its left edge where it cannot."""
    (tmp_path / "job.yaml").write_bytes(text.encode("utf-8"))
    assert spoken(tmp_path) == found


def test_a_workbook(tmp_path: Path) -> None:
    """A workbook tells it on its sheet Job; one that does not open is told of in English."""
    (path,) = (path for path in write_starter(tmp_path / "job", as_workbook=True) if path.name == "job.xlsx")
    import openpyxl

    book = openpyxl.load_workbook(path)
    cells = {row[0].value: row for row in book["Job"].iter_rows()}
    column = [cell.value for cell in cells["Field"]].index("Unit") + 1
    cells["language"][column].value, cells["locale"][column].value = "es", "es_ES"
    book.save(path)
    assert spoken(path.parent) == Spoken("es", "es_ES", "metric")
    path.write_bytes(path.read_bytes()[:500])
    assert spoken(path.parent) == Spoken()


def test_no_job(tmp_path: Path) -> None:
    """A folder without a job, one that is not there and a name that cannot be are told of in English."""
    assert {spoken(tmp_path), spoken(tmp_path / "none"), spoken(Path("a\0b")), spoken(Path("x" * 9000))} == {
        Spoken()
    }
