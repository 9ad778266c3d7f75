"""A plan for one's own windows speaks to whoever lives there: no business, no client, nobody's offer."""

import re

import pytest
from small_job import JOB, written

from reportkit.documents.page import Page
from reportkit.documents.sections import SECTIONS
from reportkit.findings.findings import Findings
from reportkit.study import Study

BUSINESS = re.compile(r"\b(clients?|deciders?|offer(ed)?|quote|customer)\b", re.IGNORECASE)


def told(page):
    """Return what people read of every section."""
    texts = {}
    for name, section in SECTIONS.items():
        blocks = repr(section(page).blocks)
        texts[name] = re.sub(r"\b(id|key|kind|name|style|role)='[^']*'", "", blocks)
    return texts


@pytest.mark.parametrize("units", ["metric", "us"])
def test_nobody_is_called_a_client_in_their_own_home(tmp_path, units):
    """With film that has metal and panes that wait for an answer."""
    own = {
        "business": None,
        "quote": None,
        "units": units,
        "building": {"paid_work": "no"},
        "survey": {"measured_on": "2026-03-01"},
        "films": [JOB["films"][0] | {"film_class": "metallised_reflective"}],
    }
    page = Page(Findings(Study.open(written(tmp_path, own))))
    assert page.own_home
    assert page.findings.letters
    assert {entry.id: entry.who for entry in page.findings.cautions}["metal"] == "you, after a trial piece"
    for name, text in told(page).items():
        found = BUSINESS.search(text)
        assert not found, (name, text[found.start() - 80 : found.end() + 40])
