"""Units belong to display: the same job in the other system has the same results."""

import json
from dataclasses import replace

import pytest

from reportkit.documents.page import Page
from reportkit.documents.sections import SECTIONS
from reportkit.findings.findings import Findings, Results
from reportkit.study import Study


@pytest.mark.parametrize("name", ["harbour-house", "hill-studio"])
def test_swapping_units_changes_no_result(study_of, results_of, name):
    """Everything but the word for the units is equal, to the last bit; the words for lengths differ."""
    base = study_of(name)
    job = base.job.model_copy(update={"units": "us", "rating": base.conditions})
    swapped = Results(Study(replace(base.loaded, job=job)))
    plain, other = (json.loads(json.dumps(dict(data))) for data in (results_of(name), swapped))
    assert plain["job"].pop("units") == "metric"
    assert other["job"].pop("units") == "us"
    plain["job"].pop("rating"), other["job"].pop("rating")
    assert plain == other
    texts = [str(SECTIONS["panes"](Page(found)).blocks) for found in (Findings(base), swapped.findings)]
    assert " mm" in texts[0].replace("\\xa0", " ")
    assert " in'" in texts[1].replace("\\xa0", " ")
