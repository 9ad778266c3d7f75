"""The exporters as nbconvert finds and runs them."""

import io
import json
from pathlib import Path
from typing import Any

import nbformat
import pikepdf
import pytest
from nbconvert.exporters import get_exporter
from nbconvert.writers import FilesWriter

from reportkit.base.errors import RunError
from reportkit.documents.layouts import exporters
from reportkit.documents.layouts.clean import clean, serialised

ENDINGS = {
    "reportkit-proposal-html": (exporters.ProposalHTML, ".proposal.html"),
    "reportkit-proposal-pdf": (exporters.ProposalPDF, ".proposal.pdf"),
    "reportkit-basis-html": (exporters.BasisHTML, ".basis.html"),
    "reportkit-basis-pdf": (exporters.BasisPDF, ".basis.pdf"),
    "reportkit-letters-pdf": (exporters.LettersPDF, ".letters.pdf"),
    "reportkit-fitting-html": (exporters.FittingHTML, ".fitting.html"),
    "reportkit-fitting-pdf": (exporters.FittingPDF, ".fitting.pdf"),
    "reportkit-labels-pdf": (exporters.LabelsPDF, ".labels.pdf"),
    "reportkit-review-html": (exporters.ReviewHTML, ".review.html"),
    "reportkit-review-pdf": (exporters.ReviewPDF, ".review.pdf"),
}


@pytest.mark.parametrize("name", ENDINGS)
def test_nbconvert_finds_each_by_name(name: str) -> None:
    """The entry point leads to the class, and each class has an ending of its own."""
    kind, ending = ENDINGS[name]
    assert get_exporter(name) is kind
    assert kind().file_extension == ending


def test_all_files_stand_side_by_side(notebook: Any, tmp_path: Path) -> None:
    """From one notebook file nbconvert's own writer makes a file for each, none over another."""
    source = tmp_path / "demo.ipynb"
    nbformat.write(notebook, source)
    for kind, ending in ENDINGS.values():
        exporter = kind()
        body, resources = exporter.from_filename(str(source))
        assert resources["output_extension"] == ending
        FilesWriter(build_directory=str(tmp_path)).write(body, resources, notebook_name="demo")
    made = {path.name: path.read_bytes() for path in tmp_path.glob("demo.*.*")}
    assert set(made) == {f"demo{ending}" for _, ending in ENDINGS.values()}
    assert made["demo.fitting.pdf"].startswith(b"%PDF-")
    assert made["demo.fitting.html"].startswith(b"<!DOCTYPE html>")


def test_a_pdf_carries_everything(notebook: Any, samples: Any) -> None:
    """Results, every input and the cleaned notebook are attached, each readable again."""
    body, _ = exporters.FittingPDF().from_notebook_node(notebook)
    with pikepdf.open(io.BytesIO(body)) as file:
        found = {name: spec.get_file() for name, spec in file.attachments.items()}
        assert set(found) == {
            "results.json",
            "reasoning.ipynb",
            *(f"inputs/{name}" for name in samples.INPUTS),
        }
        assert json.loads(found["results.json"].read_bytes()) == samples.RESULTS
        for name, content in samples.INPUTS.items():
            wanted = content.encode() if isinstance(content, str) else content
            assert found[f"inputs/{name}"].read_bytes() == wanted
        assert found["inputs/windows.csv"].mime_type == "text/csv"
        carried = nbformat.reads(found["reasoning.ipynb"].read_bytes().decode(), as_version=4)
        nbformat.validate(carried)
        assert len(carried.cells) == len(notebook.cells)


def test_a_cleaned_notebook_gives_the_same_documents(notebook: Any) -> None:
    """Cleaned once for all documents or anew for each: the same bytes, and the notebook as it was."""
    once = clean(notebook)
    before = serialised(once)
    for kind, _ in ENDINGS.values():
        assert kind().from_notebook_node(once)[0] == kind().from_notebook_node(notebook)[0]
    assert serialised(once) == before


def test_times_of_a_run_do_not_reach_a_document(notebook: Any) -> None:
    """The same computation run at another time, elsewhere, gives the same bytes."""
    first = [kind().from_notebook_node(notebook)[0] for kind, _ in ENDINGS.values()]
    notebook.metadata["papermill"] = {"parameters": {"job_folder": "/x/y"}, "start_time": "2030-01-01"}
    for cell in notebook.cells:
        cell.metadata["papermill"] = {"duration": 9.0}
        cell.execution_count = 40
    assert [kind().from_notebook_node(notebook)[0] for kind, _ in ENDINGS.values()] == first


def test_static_is_an_option(notebook: Any) -> None:
    """``--ProposalHTML.static=True`` leaves scripts out."""
    from traitlets.config import Config

    body, _ = exporters.ProposalHTML(config=Config({"ProposalHTML": {"static": True}})).from_notebook_node(
        notebook
    )
    assert "<script" not in body


def test_a_stranger_s_notebook_is_refused() -> None:
    """A notebook without our outputs gives one clear error, in all exporters."""
    stranger = nbformat.v4.new_notebook(cells=[nbformat.v4.new_code_cell("1 + 1")])
    for kind, _ in ENDINGS.values():
        with pytest.raises(RunError, match="run it first"):
            kind().from_notebook_node(stranger)


def test_the_run_s_number_joins_the_footer(notebook: Any) -> None:
    """A run's number is told to the exporter, and stands in the footer beside the job."""
    numbered, _ = exporters.FittingHTML(run="0007").from_notebook_node(notebook)
    plain, _ = exporters.FittingHTML().from_notebook_node(notebook)
    assert "<footer><p>Job DEMO-1, run 0007</p>" in numbered
    assert "<footer><p>Job DEMO-1</p>" in plain
    assert {f".{name}" for name in exporters.BY_FILE} == {ending for _, ending in ENDINGS.values()}
