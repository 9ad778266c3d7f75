"""Demo jobs with lines of their file changed, read and computed anew."""

import shutil
from pathlib import Path

import pytest

from reportkit.study import Study

JOBS = Path(__file__).resolve().parents[2] / "jobs"


@pytest.fixture
def edited(tmp_path):
    """Return a function from a demo job and pairs of text, old and new, to the study of the changed job."""
    shutil.copytree(JOBS / "_shared", tmp_path / "_shared")

    def study(name, *changes):
        folder = tmp_path / name
        shutil.rmtree(folder, ignore_errors=True)
        shutil.copytree(JOBS / name, folder, ignore=shutil.ignore_patterns("runs", "*.ipynb"))
        file = folder / "job.yaml"
        text = file.read_text("utf-8")
        for old, new in changes:
            assert text.count(old) >= 1, old
            text = text.replace(old, new, 1)
        file.write_text(text, "utf-8")
        return Study.open(folder)

    return study
