"""The document model: what blocks accept, refuse and say as data."""

import json
from typing import Any

import numpy as np
import pytest

from reportkit.documents import (
    BLOCKS_MIME,
    RECORD_MIME,
    Bullets,
    Column,
    Columns,
    DocumentInfo,
    Facts,
    Figure,
    Heading,
    Paragraph,
    Record,
    Row,
    Run,
    Section,
    Table,
    strong,
    verdict,
)
from reportkit.documents.blocks import plain
from reportkit.documents.record import unpacked
from reportkit.documents.runs import runs, slug, words_of


def test_text_becomes_runs() -> None:
    """A string, a run and a mixture all become a tuple of runs; an empty string becomes none."""
    assert runs("a") == (Run("a"),)
    assert runs("") == ()
    assert runs(strong("a")) == (Run("a", "strong"),)
    assert words_of(Paragraph(["a ", strong("b"), " c"]).text) == "a b c"
    assert verdict("ask", "Ask").kind == "ask"


def test_unknown_choices_are_refused_by_name(samples: Any) -> None:
    """A wrong role, level, alignment, marker or paper is an error that names the choices."""
    with pytest.raises(ValueError, match="kind must be one of plain, strong"):
        Run("a", "bold")  # type: ignore[arg-type]  # the mistake under test
    with pytest.raises(ValueError, match="level must be 1 to 4"):
        Heading("a", 5)
    with pytest.raises(ValueError, match="align must be one of"):
        Column("a", "A", align="middle")  # type: ignore[arg-type]  # the mistake under test
    with pytest.raises(ValueError, match="marker must be one of"):
        Bullets(["a"], marker="star")  # type: ignore[arg-type]  # the mistake under test
    with pytest.raises(ValueError, match="paper must be a4 or us-letter"):
        samples.record(paper="a5")
    with pytest.raises(ValueError, match="must not be empty"):
        Heading("  ")


def test_rows_come_to_the_order_of_the_columns() -> None:
    """Sequences, mappings with missing keys and rows with emphasis give the same shape."""
    columns = [Column("a", "A"), Column("b", "B")]
    table = Table(columns, [["1", "2"], {"b": "2"}, Row({"a": "x"}, "total")], caption="c")
    rows = [row for row in table.rows if isinstance(row, Row)]
    assert len(rows) == 3
    assert [[words_of(runs(text)) for text in row.cells] for row in rows] == [
        ["1", "2"],
        ["", "2"],
        ["x", ""],
    ]
    assert rows[2].emphasis == "total"
    with pytest.raises(ValueError, match="must have 2 cells"):
        Table(columns, [["1"]], caption="c")
    with pytest.raises(ValueError, match="no column"):
        Table(columns, [{"z": "1"}], caption="c")
    with pytest.raises(ValueError, match="keys must differ"):
        Table([Column("a", "A"), Column("a", "B")], [], caption="c")


def test_a_figure_needs_words_and_a_picture() -> None:
    """A figure without alternative text, title or SVG is refused; arrays become plain numbers."""
    with pytest.raises(ValueError, match="alt of a figure"):
        Figure("f", "Title", " ", "<svg/>")
    with pytest.raises(ValueError, match="svg must hold"):
        Figure("f", "Title", "alt", "nothing")
    figure = Figure(
        "f", "T", "a", "<svg></svg>", {"data": [{"x": np.array([1.0, np.nan]), "n": np.int64(3)}]}
    )
    assert json.loads(json.dumps(figure.plotly, allow_nan=False)) == {"data": [{"x": [1.0, None], "n": 3}]}


def test_a_section_offers_data_html_and_text(samples: Any) -> None:
    """The notebook gets blocks as JSON for the exporters, HTML for JupyterLab, and plain text."""
    section = samples.second_section()
    bundle = section._repr_mimebundle_()
    assert set(bundle) == {BLOCKS_MIME, "text/html", "text/plain"}
    data = json.loads(json.dumps(bundle[BLOCKS_MIME], allow_nan=False))
    assert data["id"] == "rest"
    assert data["blocks"] == json.loads(json.dumps([plain(block) for block in section]))
    for text in samples.NASTY:
        assert text in bundle["text/plain"]
        assert "<script>" not in bundle["text/html"]
    assert "412.5 W" in bundle["text/plain"]
    assert Heading("Alone")._repr_mimebundle_()[BLOCKS_MIME]["blocks"][0]["text"] == "Alone"


def test_only_blocks_stand_in_a_section() -> None:
    """A string among the blocks is an error at once, not in the exporter; columns need their shares."""
    with pytest.raises(TypeError, match="blocks only"):
        Section("s", ["text"])  # type: ignore[list-item]  # the mistake under test
    with pytest.raises(ValueError, match="as many as columns"):
        Columns([[Paragraph("a")], [Paragraph("b")]], shares=(1,))
    assert [
        fact.label for fact in Facts([("a", "1"), ("b", "2", "note")]).facts if not isinstance(fact, tuple)
    ]


def test_a_record_carries_results_and_inputs_whole(samples: Any) -> None:
    """Text and binary inputs come back byte for byte; results with nan are refused."""
    shown = samples.record()
    data = json.loads(json.dumps(shown._repr_mimebundle_()[RECORD_MIME]))
    assert unpacked(data["inputs"]["photo.bin"]) == bytes(range(256))
    assert unpacked(data["inputs"]["job.yaml"]) == b"name: Invented office\n"
    assert data["document"]["words"]["page"] == "page {page} of {pages}"
    with pytest.raises(ValueError, match="not JSON compliant"):
        Record(shown.document, {"x": float("nan")}, {})._repr_mimebundle_()
    with pytest.raises(ValueError, match="words must be among"):
        DocumentInfo({}, "en", "a4", "", 0, "", "", words={"pgae": "x"})


def test_plain_text_of_the_first_section(samples: Any) -> None:
    """The text form names facts, findings and who decides."""
    text = samples.first_section()._repr_mimebundle_()["text/plain"]
    assert "Peak sun heat: 1 240 W" in text
    assert "[Film B cuts the 9 am peak by 61 %] Two bars." in text


def test_slugs_are_plain() -> None:
    """An identifier holds only ASCII letters, digits and hyphens, and is never empty."""
    assert slug("Größe & <b>") == "groe-b"
    assert slug("中文") == "part"
