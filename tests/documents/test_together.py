"""Sets of panes in words: a job of 140 panes on two faces, as its documents tell it."""

import json
import re
from types import SimpleNamespace

import pypdf
import pytest

from reportkit.base.translatable import codes
from reportkit.documents.blocks import plain
from reportkit.documents.language.formats import Formats
from reportkit.documents.language.words import Words
from reportkit.documents.layouts.exporters import BY_FILE
from reportkit.documents.page import Page
from reportkit.documents.sections import SECTIONS
from reportkit.documents.together import together
from reportkit.findings.findings import Findings
from reportkit.findings.glass import PaneFound
from reportkit.job import write_starter
from reportkit.study import Study

HEAD = "id,room,face,glazing,quantity,width,height,frame,fogged,note"


def job(folder, language="en", fogged=()):
    """Write a job of 140 panes: N1 to N110 on the first face, S1 to S30 on a second; some fogged."""
    write_starter(folder, units="metric")
    path = folder / "job.yaml"
    text = path.read_text(encoding="utf-8")
    text = text.replace("language: en ", f"language: {language} ")
    text = text.replace("strength: annealed", "strength: tempered")  # nothing to ask but about fogged units
    face = re.search(r"^  - id: (\w+)\n    name: (.+)\n    bearing: (\d+)", text, re.MULTILINE)
    second = "  - {id: second, name: Second side, bearing: 180}\n"
    text = text.replace("\n# horizons:", f"\n{second}# horizons:", 1)
    text = re.sub(r"^weather:\n(  .*\n)+", "weather:\n  use: clear_days\n", text, flags=re.MULTILINE)
    path.write_text(text, encoding="utf-8")
    room = re.search(r"^rooms:\n  - id: (\w+)", text, re.MULTILINE)[1]
    glazing = re.search(r"^glazings:\n  - id: (\w+)", text, re.MULTILINE)[1]
    rows = [HEAD]
    for side, name, count in ((face[1], "N", 110), ("second", "S", 30)):
        for number in range(1, count + 1):
            code = f"{name}{number}"
            rows.append(
                f"{code},{room},{side},{glazing},1,600,800,metal,{'yes' if code in fogged else 'no'},"
            )
    (folder / "windows.csv").write_text("\n".join(rows) + "\n", encoding="utf-8")
    return face[2]


def text(page, *names):
    """Return the words of some parts."""
    return json.dumps([plain(block) for name in names for block in SECTIONS[name](page)], ensure_ascii=False)


ASKED = [*(f"N{number}" for number in range(1, 111)), *(f"S{number}" for number in range(2, 9)), "S30"]


@pytest.fixture(scope="module")
def large(tmp_path_factory):
    """The page of the large job, most of its sealed units fogged, and the name of its first face."""
    folder = tmp_path_factory.mktemp("large")
    name = job(folder, fogged=ASKED)
    page = Page(Findings(Study.open(folder)))
    word = {pane.screen.verdict for pane in page.findings.panes if pane.id in ASKED}
    assert word <= {"ask", "refuse"} and len(word) == 1
    return page, name


def test_no_sentence_holds_a_long_list_of_panes(large):
    """Of 140 panes no part of the documents lists more than a few one by one in a sentence."""
    page, _ = large
    for name in SECTIONS:
        if name not in ("found", "readings"):
            assert not re.search(r"(\b[NS]\d+, ){6}", text(page, name)), name


def test_page_one_names_no_codes_and_later_parts_name_ranges(large):
    """Before the map of the panes a face and a count; where the reader knows the codes, ranges."""
    page, name = large
    for part in ("summary", "verdicts", "holds"):
        assert f"all panes of {name}, S2–S8, S30" in text(page, part).replace("All panes", "all panes"), part
    scattered = [f"{side}{number}" for side in "NS" for number in range(1, 31, 2)]
    assert together(page, scattered, mapped=False) == "30 of 140 panes"
    assert together(page, scattered).startswith("N1, N3, N5")


def test_a_set_of_panes_in_words(large):
    """All, a face, a few, a range; in the order of the survey whatever was asked; codes stay."""
    page, name = large
    every = [pane.id for pane in page.findings.panes]
    assert together(page, reversed(every)) == "all 140 panes"
    assert together(page, every, first=True) == "All 140 panes"
    assert together(page, every[:110]) == f"all panes of {name}"
    assert together(page, every[:30]) == "N1–N30"
    assert together(page, ["S2", "N4", "N4"]) == "N4, S2"
    assert together(page, every[110:], mapped=False) == "all panes of Second side"


def test_a_whole_room_is_named_where_no_face_is():
    """Rooms count where a face is not there with all its panes; equal panes count each (3 + 8 x 2 = 19)."""
    rooms = {"hall": "Hall", "attic": "Attic"}
    panes = [
        PaneFound.model_construct(
            id=f"w{n}", face="east", room="hall" if n < 9 else "attic", quantity=1 if n < 4 else 2
        )
        for n in range(1, 12)
    ]
    page = SimpleNamespace(
        findings=SimpleNamespace(panes=panes),
        words=Words("es"),
        fmt=Formats("es_ES", units="metric", currency="EUR"),
        face=str,
        room=rooms.get,
    )
    assert together(page, [f"w{n}" for n in range(1, 9)]) == "todos los paños de Hall"
    assert together(page, [f"w{n}" for n in range(1, 12)], first=True) == "Los 19 paños"
    assert together(page, ["w9", "w1"], first=True) == "w1, w9"


def test_codes_in_a_row_are_a_range():
    """Three or more that follow each other; zeros in front and other names stay apart."""
    assert codes(["N1", "N2", "N3", "S1", "S2", "B"]) == "N1–N3, S1, S2, B"
    assert codes(["N08", "N09", "N10", "N11"]) == "N08–N11"
    assert codes(["a9", "a10", "a11", "a13"]) == "a9–a11, a13"
    assert codes(["1", "2", "3"]) == "1–3"
    assert codes([]) == ""


def test_a_large_job_s_proposal_has_six_pages_at_most(large, book, tmp_path):
    """140 panes, three ways: six pages at most, every letter one page, each pane's code on the map."""
    notebook = book(large[0].findings.study, "proposal", "letters")
    proposal, _ = BY_FILE["proposal.pdf"]().from_notebook_node(notebook)
    (tmp_path / "p.pdf").write_bytes(proposal)
    assert len(pypdf.PdfReader(tmp_path / "p.pdf").pages) <= 6
    if large[0].findings.letters:
        letters, _ = BY_FILE["letters.pdf"]().from_notebook_node(notebook)
        (tmp_path / "l.pdf").write_bytes(letters)
        assert len(pypdf.PdfReader(tmp_path / "l.pdf").pages) == len(large[0].findings.letters)
    figure = SECTIONS["building"](large[0]).blocks[1]
    assert all(pane.id in figure.alt for pane in large[0].findings.panes)
    drawn = re.findall(r">([NS]\d+)</text>", figure.svg)
    assert len(set(drawn)) == 140
