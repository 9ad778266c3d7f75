"""Page one names the panes that stay without film and their one true reason, in words a client has."""

import copy

import pytest
from small_job import JOB, written

from reportkit.documents.blocks import plain
from reportkit.documents.page import Page
from reportkit.documents.sections import SECTIONS
from reportkit.findings.findings import Findings
from reportkit.study import Study

GLAZINGS = [
    {"id": "clear", "lites": [{"thickness_mm": "4"}]},
    {"id": "rough", "lites": [{"thickness_mm": "4", "strength": "patterned", "textured": "back"}]},
    {"id": "unsure", "lites": [{"thickness_mm": "4", "strength": "patterned"}]},
]
ROOMS = [{"id": "office", "name": "Office"}, {"id": "bath", "name": "Bathroom"}]


def one(folder, survey, *changes):
    """Return the facts, the words of page one, and the page of a job whose film is named."""
    base = {
        "rooms": copy.deepcopy(ROOMS),
        "glazings": copy.deepcopy(GLAZINGS),
        "complaint": {"room": None, "kinds": ["privacy"]},
    }
    page = Page(Findings(Study.open(written(folder, base, *changes, survey=survey))))
    blocks = [plain(block) for block in SECTIONS["answer"](page).blocks]
    facts = {
        fact["label"]: fact["note"] for block in blocks if block["type"] == "facts" for fact in block["facts"]
    }
    return facts, repr(blocks).replace("\u00a0", " "), page


def survey(*rows):
    """Return a survey of panes of one size: id, room, glazing, film."""
    head = "id,room,face,glazing,width,height,film"
    lines = [f"{name},{room},west,{glazing},600 mm,900 mm,{film}" for name, room, glazing, film in rows]
    return "\n".join([head, *lines, ""])


@pytest.mark.parametrize(("glazing", "film"), [("unsure", ""), ("clear", "none")])
def test_privacy_says_which_panes_stay_without_film(tmp_path, glazing, film):
    """Refused or left bare by name: beside the sentence and the headline, by room and code."""
    rows = [("K", "office", "clear", ""), ("T", "bath", glazing, film)]
    facts, text, page = one(tmp_path, survey(*rows))
    assert page.chosen.asked.privacy.without_film == ("T",)
    assert "No film comes on Bathroom (T): what shows there stays as it is now." in text
    assert facts["Seen from outside by day"].endswith(", no film on Bathroom (T)")
    assert page.bare.asked.privacy.without_film == ()


def test_privacy_of_panes_that_all_get_film_says_nothing_of_others(tmp_path):
    """Nor does a bare pane of a room that nobody complained of."""
    rows = [("K", "office", "clear", ""), ("T", "bath", "clear", "none")]
    facts, text, _ = one(tmp_path, survey(*rows), {"complaint": {"room": "office"}})
    assert "no film on" not in facts["Seen from outside by day"] and "No film comes" not in text


def test_a_pane_that_cannot_have_film_is_named_with_its_one_reason(tmp_path):
    """A rough face that nobody told of, and one that is told; the room's side is called that."""
    rows = [("K", "office", "clear", ""), ("T", "bath", "unsure", ""), ("R", "bath", "rough", "")]
    _, text, _ = one(tmp_path, survey(*rows))
    assert (
        "No film on Bathroom (T): nobody told which face of this glass is the textured one, and film does "
        "not stick to it: feel face 2 (the room side) of the glass first." in text
    )
    assert (
        "No film on Bathroom (R): face 2 (the room side) of the glass is textured: film does not stick to it."
        in text
    )
    assert "could break" not in text


def test_film_for_outside_names_the_outer_side(tmp_path):
    """Face 1 is the one that rain falls on (numbering from outside: common practice)."""
    glazings = copy.deepcopy(GLAZINGS)
    glazings[1]["lites"][0]["textured"] = "front"
    outside = {"glazings": glazings, "films": []}
    rows = [("K", "office", "clear", ""), ("R", "bath", "rough", "")]
    outside["films"] = [JOB["films"][0] | {"side": "outside"}]
    _, text, _ = one(tmp_path, survey(*rows), outside)
    assert "No film on Bathroom (R): face 1 (the weather side) of the glass is textured" in text


def test_many_refused_panes_are_told_by_number(tmp_path):
    """More than six, before the map of the panes."""
    bare = [(f"R{n * 2}", "bath" if n % 2 else "office", "rough", "") for n in range(9)]
    _, text, _ = one(tmp_path, survey(("K", "office", "clear", ""), ("L", "bath", "clear", ""), *bare))
    assert "No film on 9 of 11 panes: face 2" in text


def test_glass_that_could_crack_is_said_to(tmp_path):
    """Dark glass under film absorbs more than the film's chart allows: what could happen is said first."""
    glazings = copy.deepcopy(GLAZINGS)
    glazings[1]["lites"][0] = {"thickness_mm": "10", "glass": "grey"}
    films = copy.deepcopy(JOB["films"])
    films[0]["chart"] = {"max_absorptance_percent": "65"}
    rows = [("K", "office", "clear", ""), ("R", "bath", "rough", "")]
    _, text, page = one(tmp_path, survey(*rows), {"glazings": glazings, "films": films})
    refused = next(pane.screen for pane in page.findings.panes if pane.id == "R")
    assert [one.about for one in refused.findings if one.verdict == "refuse"] == ["absorptance"]
    assert "No film on Bathroom (R): the glass could crack: glass and film absorb " in text
