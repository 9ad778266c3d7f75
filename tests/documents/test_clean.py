"""What varies from run to run leaves the notebook, and nothing else does."""

import copy
import json
from typing import Any

import nbformat

from reportkit.documents.layouts.clean import clean, serialised


def _run(notebook: Any, folder: str, when: str, version: str) -> Any:
    """Return the notebook as papermill would leave it after a run of that folder at that time."""
    run = copy.deepcopy(notebook)
    run.metadata["papermill"] = {
        "parameters": {"job_folder": folder, "deep": 3},
        "start_time": when,
        "duration": 1.5,
        "input_path": f"{folder}/t.ipynb",
    }
    run.metadata["language_info"] = {"name": "python", "version": version}
    injected = nbformat.v4.new_code_cell(
        f"job_folder = {folder!r}", metadata={"tags": ["injected-parameters"]}
    )
    run.cells.insert(0, injected)
    for number, made in enumerate(run.cells):
        made.id = f"{when[-3:]}-{number}"
        made.metadata["papermill"] = {"start_time": when, "status": "completed"}
        made.metadata["execution"] = {"iopub.execute_input": when}
    run.cells[1].outputs.append(nbformat.v4.new_output("stream", text=f"reading {folder}/job.yaml\n"))
    return run


def test_two_runs_give_the_same_bytes(notebook: Any) -> None:
    """Time, typed folder and versions differ; the cleaned notebooks do not."""
    one = _run(notebook, "/home/one/jobs/demo", "2026-01-01T00:00:00.001", "3.11.7")
    two = _run(notebook, r"C:\work\two", "2026-05-05T05:05:05.555", "3.13.0")
    two.cells[1].outputs[-1].text = "reading C:\\work\\two/job.yaml\n"
    assert serialised(one) != serialised(two)
    assert serialised(clean(one)) == serialised(clean(two))
    text = serialised(clean(one)).decode("utf-8")
    assert "/home/one" not in text
    assert 'job_folder = \\"inputs\\"' in text
    assert "2026-01-01" not in text


def test_a_folder_typed_as_a_bare_name_is_replaced_only_as_the_parameter(notebook: Any) -> None:
    """Typed ``demo`` or ``./demo``, the bytes agree, and the word elsewhere stays a word."""
    runs = [_run(notebook, folder, "2026-01-01", "3") for folder in ("demo", "./demo")]
    for run in runs:
        shown = nbformat.v4.new_output("display_data", {"text/plain": "a demo job\n"})
        run.cells[1].outputs.append(shown)
    one, two = (serialised(clean(run)) for run in runs)
    assert one == two
    assert b"a demo job" in one


def test_the_argument_and_its_results_stay(notebook: Any) -> None:
    """Sources, outputs and the cells' places in the documents are kept, and the given notebook too."""
    before = json.dumps(notebook)
    cleaned = clean(notebook)
    assert json.dumps(notebook) == before
    for old, new in zip(notebook.cells, cleaned["cells"], strict=True):
        assert new["source"] == old.source
        assert new["outputs"][0]["data"] == old.outputs[0]["data"]
        assert new["metadata"].get("reportkit") == old.metadata.get("reportkit")
    nbformat.validate(nbformat.from_dict(cleaned))


def test_a_folder_s_name_inside_another_word_stays(notebook: Any) -> None:
    """Only the folder itself is replaced, not a longer name that begins the same."""
    run = _run(notebook, "/a/job", "2026-01-01", "3")
    shown = nbformat.v4.new_output("display_data", {"text/plain": "/a/job/x /a/job-2/x /a/jobs"})
    run.cells[1].outputs.append(shown)
    cleaned = clean(run)["cells"][1]["outputs"][-1]["data"]
    assert cleaned == {"text/plain": "inputs/x /a/job-2/x /a/jobs"}
