"""Runs put into a job's archive without documents: results, inputs and manifest, as a run has them."""

from reportkit.app.archive import copy_inputs, manifest, write_json
from reportkit.findings.findings import Results
from reportkit.study import Study


def issue(folder, number, *, day="2026-03-03", **changed):
    """Make a run of a job as it is now; ``changed`` replaces sections of its results."""
    study = Study.open(folder)
    run = folder / "runs" / f"{number:04d}"
    copy_inputs(study.loaded, run / "inputs")
    write_json(run / "results.json", {**Results(study), **changed})
    write_json(run / "manifest.json", manifest(run, made_at=f"{day}T12:00:00+00:00"))
    return run
