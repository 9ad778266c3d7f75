"""From a notebook to a document: order, frame, finishing touches, and errors."""

from typing import Any

import nbformat
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from reportkit.base.errors import RunError
from reportkit.documents import Column, Heading, Paragraph, Section, Table
from reportkit.documents.layouts.assemble import assemble
from reportkit.documents.layouts.finish import decimal_mark, split_at_mark
from reportkit.documents.runs import characters_of


def _texts(blocks: list[dict[str, Any]]) -> list[str]:
    return [block["text"] for block in blocks if block["type"] == "heading"]


def test_the_document_has_its_own_order(notebook: Any, samples: Any) -> None:
    """Cells sort by their place in the document, not by their place in the notebook."""
    proposal = assemble(notebook, "proposal")
    fitting = assemble(notebook, "fitting")
    assert _texts(proposal.page["blocks"])[0] == "What we recommend"
    assert _texts(fitting.page["blocks"])[0] == "Details"
    assert "Reasoning only." not in str(proposal.page)
    assert proposal.results == samples.RESULTS
    assert proposal.inputs == {k: v.encode() if isinstance(v, str) else v for k, v in samples.INPUTS.items()}
    assert proposal.page["title"] == "Cooler by the east windows"


def test_equal_places_keep_the_order_of_cells(samples: Any) -> None:
    """Two cells at the same place stand in the order of the notebook."""
    sections = [Section(name, [Heading(name)]) for name in ("b", "a", "c")]
    run = samples.executed(*((section, {"proposal": 1}) for section in sections))
    assert _texts(assemble(run, "proposal").page["blocks"]) == ["b", "a", "c"]


def test_no_heading_level_is_skipped_and_identifiers_differ(samples: Any) -> None:
    """Levels go down one at a time (ISO 14289-1, 7.4.2) and equal headings get different identifiers."""
    section = Section("s", [Heading("A", 3), Heading("A", 3), Heading("B", 1), Heading("C", 4)])
    blocks = assemble(samples.executed((section, {"fitting": 1})), "fitting").page["blocks"]
    assert [block["level"] for block in blocks] == [1, 2, 1, 2]
    assert len({block["id"] for block in blocks}) == 4


@pytest.mark.parametrize(
    ("rows", "cell", "whole"), [(12, "x", True), (13, "x", False), (2, "x" * 700, False)]
)
def test_short_tables_stay_on_one_page(samples: Any, rows: int, cell: str, whole: bool) -> None:
    """A table of few rows and letters is kept whole; one that might exceed a page may break between rows."""
    table = Table([Column("a", "A")], [[cell]] * rows, caption="T")
    run = samples.executed((Section("s", [table]), {"proposal": 1}))
    assert assemble(run, "proposal").page["blocks"][0]["whole"] is whole


def test_half_figures_pair_up(notebook: Any) -> None:
    """Two half-width figures in a row become two columns; a figure inside columns stays."""
    blocks = assemble(notebook, "proposal").page["blocks"]
    pairs = [b for b in blocks if b["type"] == "columns"]
    assert [column[0]["id"] for column in pairs[1]["columns"]] == ["half-1", "half-2"]


@pytest.mark.parametrize(
    ("text", "mark", "parts"),
    [
        ("412.5 W", ".", ("412", ".5 W")),
        ("1,240 W", ".", ("1,240", " W")),
        ("1.240,5 W", ",", ("1.240", ",5 W")),
        ("1\u202f240 W", ",", ("1\u202f240", " W")),
        ("$1,480.00", ".", ("$1,480", ".00")),
        ("−3 %", ".", ("−3", " %")),
        ("—", ".", ("—", "")),
        ("", ".", ("", "")),
    ],
)
def test_numbers_split_at_the_decimal_mark(text: str, mark: str, parts: tuple[str, str]) -> None:
    """The split leaves the whole part on the left and the rest, with the unit, on the right."""
    assert split_at_mark(text, mark) == parts


@settings(max_examples=80, deadline=None)
@given(st.text(), st.sampled_from([".", ",", "٫"]))
def test_splitting_loses_nothing(text: str, mark: str) -> None:
    """The two parts always make the text again."""
    assert "".join(split_at_mark(text, mark)) == text


def test_decimal_marks_come_from_the_language() -> None:
    """German has a comma (CLDR); an unknown tag falls back to the point."""
    assert decimal_mark("de-DE") == ","
    assert decimal_mark("en-US") == "."
    assert decimal_mark("zz-not") == "."


def test_a_notebook_that_was_not_run_is_refused(notebook: Any, samples: Any) -> None:
    """Without the samples.record, or without any block, the error says what to do."""
    with pytest.raises(RunError, match="run it first"):
        assemble(samples.notebook_of(nbformat.v4.new_code_cell("1")), "proposal")
    with pytest.raises(RunError, match="no cell of the notebook belongs to the fitting"):
        assemble(samples.executed((samples.first_section(), {"proposal": 1})), "fitting")


def test_a_failed_notebook_is_refused(notebook: Any, samples: Any) -> None:
    """An error output anywhere stops the export and names the samples.cell."""
    failed = nbformat.v4.new_output("error", ename="ValueError", evalue="no sun", traceback=[])
    notebook["cells"].insert(1, nbformat.v4.new_code_cell("x", outputs=[failed]))
    with pytest.raises(RunError, match=r"cell 2 of the notebook failed \(ValueError: no sun\)"):
        assemble(notebook, "proposal")


def test_control_characters_are_dropped(samples: Any) -> None:
    """Characters no paper can show are gone before any template sees them."""
    section = Section("s", [Paragraph("a\x00b\x07c\ud800d\te")])
    page = assemble(samples.executed((section, {"proposal": 1})), "proposal").page
    assert page["blocks"][0]["text"][0]["text"] == "abc\ufffdd\te"


def test_characters_are_collected_everywhere_but_the_screen_data() -> None:
    """The font subset needs each printed character, and none of Plotly's."""
    assert characters_of({"a": ["b", {"plotly": "z", "c": "d"}]}) == set("bd")
