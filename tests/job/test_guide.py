"""The guide's tables are the models' own, and every field of a job is in one."""

import re
from pathlib import Path

from reportkit.job.model import Job
from reportkit.job.writing.guide import rewritten

README = Path(__file__).parent.parent.parent / "README.md"


def test_the_readme_explains_every_field_as_the_models_have_it():
    """Tables made anew are the tables printed; rewrite them by the recipe in DEVELOPERS.md."""
    text = README.read_text(encoding="utf-8")
    assert rewritten(text) == text


def test_no_field_of_a_job_is_left_out():
    """Every field at the top of job.yaml is in one of the README's tables."""
    text = README.read_text(encoding="utf-8")
    named = {name for marks in re.findall(r"<!-- fields: ([\w ]+) -->", text) for name in marks.split()}
    own = set(Job.model_fields) - {"panes", "decisions"}
    assert own <= named, own - named


def test_the_readme_opens_with_the_job_in_one_paragraph():
    """First the title, then one paragraph on the job, before any heading."""
    blocks = README.read_text(encoding="utf-8").split("\n\n")
    assert blocks[0].startswith("# ")
    assert not blocks[1].startswith("#")
    assert "film" in blocks[1] and "cut" in blocks[1] and "price" in blocks[1]
