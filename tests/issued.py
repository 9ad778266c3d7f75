"""Runs put into a job's archive without documents: results, inputs and manifest, as a run has them."""

import json

from reportkit.app.archive import MANIFEST, Run, close, copy_inputs, write_json
from reportkit.findings.findings import Results
from reportkit.study import Study


def issue(folder, number, *, day="2026-03-03", **changed):
    """Make a run of a job as it is now; ``changed`` replaces sections of its results."""
    study = Study.open(folder)
    run = folder / "runs" / f"{number:04d}"
    copy_inputs(study.loaded, run / "inputs")
    write_json(run / "results.json", {**Results(study), **changed})
    close(Run(folder, number, run))
    made = json.loads((run / MANIFEST).read_text("utf-8"))
    write_json(run / MANIFEST, {**made, "time": f"{day}T12:00:00+00:00"})
    return run
