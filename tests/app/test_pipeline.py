"""A whole run: its folder, its documents, its archive, and what happens when something fails."""

import hashlib
import importlib
import json
import shutil
from pathlib import Path

import nbformat
import papermill
import pypdf
import pytest

from reportkit.app import run
from reportkit.app.archive import new_run, runs_of
from reportkit.app.run import consultation, make
from reportkit.base.errors import JobError, RunError
from reportkit.findings.findings import Results
from reportkit.study import Study

JOBS = Path(__file__).parent.parent.parent / "jobs"
FILES = {
    "proposal.html",
    "proposal.pdf",
    "basis.html",
    "basis.pdf",
    "letters.pdf",
    "fitting.html",
    "fitting.pdf",
    "labels.pdf",
    "reasoning.ipynb",
    "results.json",
    "manifest.json",
    "versions.txt",
}
#: What makes a run a bag.
BAG = {"bagit.txt", "bag-info.txt", "manifest-sha256.txt", "tagmanifest-sha256.txt", "data/about.txt"}


def copy_of(name, where):
    """Return a copy of a demo job with the shared folder beside it."""
    shutil.copytree(JOBS / "_shared", where / "_shared")
    return shutil.copytree(JOBS / name, where / name, ignore=shutil.ignore_patterns("runs"))


@pytest.fixture(scope="module")
def made(tmp_path_factory):
    """Return a demo job made once: its folder and its run."""
    job = copy_of("hill-studio", tmp_path_factory.mktemp("jobs"))
    return job, make(job)


def test_a_run_holds_every_file(made):
    """The run's folder has the documents, the notebook, the results, the manifest and the inputs."""
    job, run = made
    assert run == job / "runs" / "0001"
    assert {path.name for path in run.iterdir()} >= FILES
    assert (run / "inputs" / "job.yaml").is_file()
    assert (run / "inputs" / "_shared" / "films.yaml").is_file()


def test_the_manifest_names_the_sum_of_every_file(made):
    """Sums are sha256 of what is there; nothing is left out but the manifest itself and the bag around it."""
    _, run = made
    manifest = json.loads((run / "manifest.json").read_text(encoding="utf-8"))
    sums = manifest["inputs"] | manifest["outputs"]
    files = {path.relative_to(run).as_posix() for path in run.rglob("*") if path.is_file()}
    assert set(sums) == files - {"manifest.json"} - BAG
    for name, value in sums.items():
        assert hashlib.sha256((run / name).read_bytes()).hexdigest() == value
    assert manifest["packages"]["pvlib"]


def test_the_results_are_the_studys_own(made):
    """What the notebook computed is what the library computes from the archived inputs."""
    _, run = made
    written = json.loads((run / "results.json").read_text(encoding="utf-8"))
    again = json.loads(json.dumps(dict(Results(Study.open(run / "inputs")))))
    assert written == again


def test_the_archived_inputs_run_by_themselves_and_give_the_same_bytes(made, tmp_path):
    """A run of the copied inputs alone repeats every document byte for byte."""
    _, run = made
    copy = shutil.copytree(run / "inputs", tmp_path / "copy")
    again = make(copy)
    for name in FILES - {"manifest.json"}:
        assert (run / name).read_bytes() == (again / name).read_bytes(), name


def test_no_path_of_the_machine_is_left_in_a_run(made):
    """The typed folder and the temporary one are gone from the notebook and the results."""
    job, run = made
    for name in ("reasoning.ipynb", "results.json", "proposal.html", "basis.html"):
        text = (run / name).read_text(encoding="utf-8")
        assert str(job.parent) not in text
        assert ".making-" not in text


@pytest.fixture(scope="module")
def spanish(tmp_path_factory):
    """Return a demo job in Spanish, its run for paper, and one from that run's inputs for the screen."""
    job = copy_of("hill-studio", tmp_path_factory.mktemp("spanish"))
    text = (job / "job.yaml").read_text(encoding="utf-8")
    (job / "job.yaml").write_text(text.replace("language: en", "language: es", 1), encoding="utf-8")
    first = make(job, only="pdf")
    again = shutil.copytree(first / "inputs", job.parent / "again" / job.name)
    shutil.copytree(job / "runs", again / "runs")
    return job, first, make(again, only="html", static=True)


def test_only_writes_the_documents_asked_for_and_numbers_go_up(spanish):
    """``only`` leaves the other kind out, ``static`` the scripts; the next run has the next number."""
    _, first, second = spanish
    assert [run.name for run in runs_of(second.parents[1])] == ["0001", "0002"]
    assert (first.name, second.name) == ("0001", "0002")
    assert not list(first.glob("*.html"))
    assert len(list(first.glob("*.pdf"))) == 5
    assert not list(second.glob("*.pdf"))
    assert len(list(second.glob("*.html"))) == 3
    for page in second.glob("*.html"):
        assert "<script" not in page.read_text(encoding="utf-8")
        assert page.stat().st_size < 1_500_000  # small enough to e-mail


def test_a_job_in_spanish_gets_spanish_notebooks(made, spanish):
    """Headings and labels are Spanish in the run, in its PDFs, again from its inputs, and at the table."""
    job, run, again = spanish
    notebook = (run / "reasoning.ipynb").read_bytes()
    sources = ["".join(cell["source"]) for cell in json.loads(notebook)["cells"]]
    english = json.loads((made[1] / "reasoning.ipynb").read_text(encoding="utf-8"))["cells"]
    assert "## El sol" in "\n".join(sources) and "- **Entra:** " in "\n".join(sources)
    for source, cell in zip(sources, english, strict=True):
        assert (source == "".join(cell["source"])) is (cell["cell_type"] == "code"), source
    assert pypdf.PdfReader(run / "fitting.pdf").attachments["reasoning.ipynb"] == [notebook]
    assert (again / "reasoning.ipynb").read_bytes() == notebook
    beside = json.loads(consultation(job).read_text(encoding="utf-8"))["cells"]
    assert "".join(beside[0]["source"]).startswith("# En la mesa con el cliente")
    assert beside[1]["source"] == ['job_dir = "."']


def test_a_review_is_a_run_of_its_own(tmp_path):
    """After the work: two documents, results that hold the readings, their file among the inputs."""
    job = copy_of("corner-shop", tmp_path)
    run = make(job, documents=("review",))
    names = {path.name for path in run.iterdir()}
    assert names == {
        "review.html", "review.pdf", "reasoning.ipynb", "results.json", "manifest.json", "versions.txt",
        "inputs", "data", *(name for name in BAG if "/" not in name),
    }  # fmt: skip
    assert (run / "inputs" / "readings.csv").read_bytes() == (job / "readings.csv").read_bytes()
    compared = json.loads((run / "results.json").read_text(encoding="utf-8"))["readings"]["compared"]
    assert sum(len(one["pairs"]) for one in compared) == 9
    text = (run / "review.html").read_text(encoding="utf-8")
    assert "April 24, 2026" in text  # the day of the last reading, not that of the offer


def test_without_readings_there_is_no_review(tmp_path):
    """A review of nothing is the job's fault, and writes nothing."""
    job = copy_of("hill-studio", tmp_path)
    with pytest.raises(JobError, match=r"readings\.csv: must hold the readings.*time,meter,pane"):
        make(job, documents=("review",))
    assert not (job / "runs").exists()


def test_a_faulty_job_writes_nothing(tmp_path):
    """Faults are found before anything is written."""
    job = copy_of("hill-studio", tmp_path)
    text = (job / "job.yaml").read_text(encoding="utf-8")
    (job / "job.yaml").write_text(text.replace("bearing:", "bering:", 1), encoding="utf-8")
    before = sorted(path.name for path in job.iterdir())
    with pytest.raises(JobError):
        make(job)
    assert sorted(path.name for path in job.iterdir()) == before


def test_a_failing_cell_keeps_the_notebook_and_no_run(tmp_path, monkeypatch):
    """The error names the cell; the notebook is kept hidden; no run appears."""
    broken = nbformat.v4.new_notebook(
        cells=[
            nbformat.v4.new_code_cell('job_dir = ""', metadata={"tags": ["parameters"]}),
            nbformat.v4.new_code_cell('raise KeyError("made to fail")'),
        ],
        metadata={"kernelspec": {"name": "python3", "display_name": "Python 3", "language": "python"}},
    )
    path = tmp_path / "broken.ipynb"
    nbformat.write(broken, path)
    monkeypatch.setattr("reportkit.documents.layouts.templates.template", lambda name: path)
    job = copy_of("hill-studio", tmp_path)
    with pytest.raises(RunError, match="made to fail"):
        make(job)
    assert runs_of(job) == []
    kept = json.loads((job / "runs" / ".failed.ipynb").read_text(encoding="utf-8"))
    assert any("made to fail" in json.dumps(cell) for cell in kept["cells"])


def test_a_kernel_of_its_own_gives_the_same_bytes(tmp_path):
    """Whichever way the notebook runs, what is archived is the same."""
    job = copy_of("harbour-house", tmp_path)
    here, there = make(job, only="pdf"), make(job, only="pdf", kernel=True)
    for name in ("reasoning.ipynb", "results.json"):
        assert (here / name).read_bytes() == (there / name).read_bytes()


def test_a_cell_shows_what_a_kernel_shows(tmp_path):
    """papermill's own engine on a kernel is the reference; only what is printed is left out."""
    cells = [
        "1 + 1",
        "x = 3",
        "from IPython.display import HTML, display\ndisplay(HTML('<b>a</b>'))\nx",
        "from IPython.display import Image\nImage(b'\\x89PNG not a picture', format='png')",
        "display(x); x;",
    ]
    book = nbformat.v4.new_notebook(
        cells=[nbformat.v4.new_code_cell(cell) for cell in cells],
        metadata={"kernelspec": {"name": "python3", "display_name": "Python 3", "language": "python"}},
    )
    nbformat.write(book, tmp_path / "book.ipynb")

    def outputs(engine):
        done = papermill.execute_notebook(
            str(tmp_path / "book.ipynb"), str(tmp_path / "done.ipynb"), engine_name=engine, progress_bar=False
        )
        return [(cell.execution_count, cell.outputs) for cell in done.cells]

    assert outputs("reportkit") == outputs("nbclient")


def test_an_interrupted_cell_stops_the_run(tmp_path, monkeypatch):
    """An interruption is no mistake of a cell: it passes through, and no run is left."""
    job = copy_of("hill-studio", tmp_path)

    def interrupted(*args, **kwargs):
        raise KeyboardInterrupt

    monkeypatch.setattr("reportkit.study.Study.open", interrupted)
    with pytest.raises(KeyboardInterrupt):
        make(job)
    assert runs_of(job) == []


def test_an_interrupted_run_leaves_nothing(tmp_path):
    """What is not kept by the end of the block is removed."""
    with pytest.raises(KeyboardInterrupt), new_run(tmp_path) as run:
        (run.folder / "half").write_text("x", encoding="utf-8")
        raise KeyboardInterrupt
    assert list(tmp_path.iterdir()) == []


def test_the_number_in_every_footer_is_that_of_the_folder(tmp_path):
    """Another run is in the making: this one prints and gets the next number, whichever is whole first."""
    job = copy_of("hill-studio", tmp_path)
    with new_run(job) as other:
        made = make(job)
        assert (other.name, made.name) == ("0001", "0002")
    for name in ("proposal.html", "fitting.html"):
        text = (made / name).read_text(encoding="utf-8")
        assert "run 0002" in text and "run 0001" not in text
    for name in ("proposal.pdf", "basis.pdf", "letters.pdf", "fitting.pdf"):
        pages = [" ".join(page.extract_text().split()) for page in pypdf.PdfReader(made / name).pages]
        assert "run 0002" in pages[-1] and not any("run 0001" in page for page in pages), name


def test_grammars_are_kept_out_only_while_importing(monkeypatch):
    """The unwanted package cannot be imported meanwhile, and can afterwards if it is installed."""
    import sys

    monkeypatch.delitem(sys.modules, "rfc3987_syntax", raising=False)
    with run.without_grammars(), pytest.raises(ModuleNotFoundError):
        importlib.import_module("rfc3987_syntax")
    assert "rfc3987_syntax" not in sys.modules
