"""Panes of one row are told apart on their labels and where they are drawn, by the names of decisions."""

import re

import paper
import pytest
from small_job import SURVEY, written

from reportkit.documents.layouts.exporters import BY_FILE
from reportkit.documents.page import Page
from reportkit.documents.sections import SECTIONS
from reportkit.findings.findings import Findings
from reportkit.study import Study

#: Three panes in a row, and one alone.
THREE = SURVEY.replace("one,8,", "one,3,").replace("one,2,", "one,1,")


def names_on_labels(page):
    """Return the pane and its place in the row that each label has, in the order of the cutting."""
    (block,) = SECTIONS["labels"](page).blocks
    return [label.code + label.which for label in block.labels]


@pytest.mark.parametrize(
    ("choice", "labels"),
    [
        ({"job": "grey"}, ["A.1", "A.2", "A.3", "B"]),
        ({"job": "grey", "panes": {"A.2": "none"}}, ["A.1", "A.3", "B"]),
        ({"job": "grey", "panes": {"A.2": "grey"}}, ["A.1", "A.2", "A.3", "B"]),
    ],
)
def test_each_label_and_each_pane_drawn_has_its_own_name(tmp_path, choice, labels):
    """One left bare by name is drawn at its place and has no label; a pane alone in its row has no number."""
    page = Page(Findings(Study.open(written(tmp_path, {"choice": choice}, survey=THREE))))
    assert sorted(names_on_labels(page)) == labels
    for section in ("building", "panes"):
        drawn = [block.svg for block in SECTIONS[section](page).blocks if hasattr(block, "svg")]
        names = re.findall(r">\s*(A(?:\.\d)?|B)\s*<", "".join(drawn))
        assert names == ["A.1", "A.2", "A.3", "B"], section


def test_the_parts_of_a_seamed_pane_have_its_number(tmp_path):
    """Two panes wider than the roll, in two parts each: both parts of the second say so."""
    survey = (
        SURVEY.replace("1200 mm,1250 mm", "2400 mm,1800 mm")
        .replace("access\n", "access,seam\n")
        .replace(",floor\n", ",floor,\n")
        .replace(",tower\n", ",tower,1200 mm\n")
    )
    folder = written(tmp_path, survey=survey)
    page = Page(Findings(Study.open(folder)))
    assert sorted(name for name in names_on_labels(page) if name[0] == "B") == ["B.1", "B.1", "B.2", "B.2"]


def test_they_stand_on_the_printed_sheet(tmp_path, book):
    """In the sheet of labels, read out of its PDF."""
    made = book(Study.open(written(tmp_path, survey=THREE)), "labels")
    content, _ = BY_FILE["labels.pdf"](run="0001").from_notebook_node(made)
    printed = " ".join(paper.pages(content))
    assert [printed.count(f"A.{number}") for number in (1, 2, 3, 4)] == [1, 1, 1, 0]
