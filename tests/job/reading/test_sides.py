"""A film for either side is compared on both, and can be chosen on the outside by name."""

import shutil
from pathlib import Path

import pytest

from reportkit.base.errors import JobError
from reportkit.job import load_job
from reportkit.study import Study

JOBS = Path(__file__).parents[3] / "jobs"


def job_with(tmp_path, **replacements):
    """Return a copy of the hill studio whose exterior film is one for either side."""
    shutil.copytree(JOBS / "_shared", tmp_path / "_shared")
    job = shutil.copytree(JOBS / "hill-studio", tmp_path / "job", ignore=shutil.ignore_patterns("runs"))
    films = tmp_path / "_shared" / "films.yaml"
    text = films.read_text(encoding="utf-8")
    head, _, tail = text.partition("- id: ceramic-grey-40")
    films.write_text(f"{head}- id: ceramic-grey-40\n    side: either{tail}", encoding="utf-8")
    path = job / "job.yaml"
    changed = path.read_text(encoding="utf-8")
    for old, new in replacements.items():
        assert old in changed
        changed = changed.replace(old, new)
    path.write_text(changed, encoding="utf-8")
    return job


def test_a_film_for_either_side_is_two_options(tmp_path):
    """Inside keeps its id; the outside joins it, absorbs before the glass, and lets in less heat."""
    study = Study(load_job(job_with(tmp_path)))
    assert {"ceramic-grey-40", "ceramic-grey-40-outside"} <= {entry.id for entry in study.film_options}
    assert (
        study.job.compare.index("ceramic-grey-40-outside") == study.job.compare.index("ceramic-grey-40") + 1
    )
    inside = study.filmed["single-4", "ceramic-grey-40"].rating
    outside = study.filmed["single-4", "ceramic-grey-40-outside"].rating
    assert outside.shgc < inside.shgc
    assert outside.t_visible == pytest.approx(inside.t_visible, abs=0.01)


def test_an_unknown_side_is_refused(tmp_path):
    """A side that is neither is a fault with its line."""
    job = job_with(tmp_path)
    films = tmp_path / "_shared" / "films.yaml"
    text = films.read_text(encoding="utf-8").replace("side: either", "side: upside")
    films.write_text(text, encoding="utf-8")
    with pytest.raises(JobError) as error:
        load_job(job)
    assert any("upside" in str(fault) for fault in error.value.faults)
