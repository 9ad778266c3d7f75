"""The guide's tables are the models' own, and every field of a job is in one."""

import re
from pathlib import Path

from reportkit.job.model import Job
from reportkit.job.writing.guide import rewritten

ROOT = Path(__file__).parents[3]
GUIDE = ROOT / "jobs" / "README.md"


def test_the_guide_explains_every_field_as_the_records_have_it():
    """Tables made anew are the tables printed; rewrite them by the recipe in DEVELOPERS.md."""
    text = GUIDE.read_text(encoding="utf-8")
    assert rewritten(text) == text


def test_no_field_of_a_job_is_left_out():
    """Every field at the top of job.yaml is in one of the guide's tables, and in one alone."""
    text = GUIDE.read_text(encoding="utf-8")
    named = [name for marks in re.findall(r"<!-- fields: ([\w ]+) -->", text) for name in marks.split()]
    assert sorted(named) == sorted(set(Job.model_fields) - {"decisions"})


def test_the_readme_leads_to_the_guide():
    """The README links to the guide, and where it names a part, to one that is there."""
    steps = (ROOT / "README.md").read_text(encoding="utf-8")
    heads = re.findall(r"^## (.+)$", GUIDE.read_text(encoding="utf-8"), re.MULTILINE)
    linked = set(re.findall(r"\(jobs/README\.md#([\w-]+)\)", steps))
    assert "](jobs/README.md)" in steps
    assert linked <= {re.sub(r"[^\w -]", "", head.lower()).replace(" ", "-") for head in heads}


def test_the_readme_opens_with_the_job_in_one_paragraph():
    """First the title, then one paragraph on the job, before any heading."""
    blocks = (ROOT / "README.md").read_text(encoding="utf-8").split("\n\n")
    assert blocks[0].startswith("# ")
    assert not blocks[1].startswith("#")
    assert "film" in blocks[1] and "cut" in blocks[1] and "price" in blocks[1]
