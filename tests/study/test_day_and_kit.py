"""Minutes and kit as a day can hold them, from the survey to the fitting sheet; rows of the trade as checks.

All ranges are common practice, no source.
"""

import pytest
from small_job import written

from reportkit.documents.blocks import plain
from reportkit.documents.layouts import html
from reportkit.documents.page import Page
from reportkit.documents.sections import SECTIONS
from reportkit.findings.findings import Findings
from reportkit.study import Study

USUAL = {"fitting": {"minutes": {"plain": None, "set_up": None}}}
US = {"units": "us", "currency": "USD", "locale": "en_US", "rating": "nfrc"}
#: Twelve panes of 48 x 55 1/2 in are 222 ft2, in three rows of the survey.
HOUSE = """id,room,face,glazing,quantity,width,height,frame
A,office,west,one,4,48,55 1/2,metal
B,office,west,one,4,48,55 1/2,metal
C,office,west,one,4,48,55 1/2,metal
"""
OFFICE = """id,room,face,glazing,quantity,width,height,frame
A,office,west,one,100,1000 mm,1250 mm,metal
B,office,west,one,40,1000 mm,1250 mm,metal
"""
OLD = """id,room,face,glazing,quantity,width,height,frame,access,old_film
A,office,west,one,1,1458 mm,2400 mm,metal,step_ladder,yes
"""


@pytest.fixture
def page_for(tmp_path):
    """Return a function from a survey and changes of the job to its page."""

    def page(survey, *changes):
        return Page(Findings(Study.open(written(tmp_path, *changes, USUAL, survey=survey))))

    return page


def text(page, section):
    """Return a section as one reads it."""
    from lxml.html import fromstring

    blocks = [plain(block) for block in SECTIONS[section](page)]
    body = fromstring(f"<div>{html.fragment(blocks)}</div>")
    for style in body.xpath(".//style"):
        style.drop_tree()
    return " ".join(body.text_content().split())


def test_222_square_feet_take_one_fitter_most_of_a_day(page_for):
    """222 ft2 take a fitter 6 to 7 hours; two with their helper's hands about half: it was once 12 h 55."""
    one = page_for(HOUSE, US)
    minutes = one.findings.labour.elapsed_min
    assert one.findings.labour.crew == 1
    assert 6 * 60 <= minutes.likely <= 7 * 60
    assert "On site6 h 4 min" in text(one, "work")
    two = page_for(HOUSE, US, {"fitting": {"crew": "2"}}).findings.labour
    assert (two.crew, 3 * 60 <= two.elapsed_min.likely <= 4 * 60) == (2, True)


def test_222_square_feet_are_kitted_out_of_one_bag(page_for):
    """By hand: 20.6 m2 x .8 x 1.1 -> 18.5 L, 4.9 gal; x 3 -> 55 ml, 1.9 fl oz; 3 rolls; 13.2 -> 14 edges."""
    said = text(page_for(HOUSE, US), "kit")
    for line in (
        "mixed as needed 4.9 gal",
        "clear soap 1.9 fl oz, 1 bottle of 16.9 fl oz",
        "New blade edges 14, 2 boxes of 10",
        "Lint-free paper 3 rolls",
        "to be washed 6",
        "floor sheets 4",
    ):
        assert line in said


def test_140_panes_take_two_people_three_to_four_days(page_for):
    """175 m2 at 40-60 m2 a day for two are 2.9 to 4.4 days of eight hours; the price sells those hours."""
    page = page_for(OFFICE, {"fitting": {"crew": "2"}})
    labour = page.findings.labour
    assert 175 / 60 <= labour.elapsed_min.likely / 480 <= 175 / 40
    (line,) = (line for line in page.findings.price.lines if line.group == "labour")
    assert float(line.quantity) * 60 == pytest.approx(2 * labour.elapsed_min.likely, abs=15)


@pytest.mark.parametrize("change", [{}, US])
def test_140_panes_need_a_third_of_the_mix(page_for, change):
    """By hand: (25 x .8 + 150 x .2) x 1.1 = 55 L, .36 of 175 x .8 x 1.1 = 154; paper 19.25 -> 20 rolls."""
    page = page_for(OFFICE, {"fitting": {"crew": "2"}}, change)
    (slip,) = (line for line in page.findings.materials if line.id == "slip_solution")
    assert float(slip.quantity) == pytest.approx(55, abs=0.5)
    assert float(slip.quantity) / 154 <= 0.37
    said = text(page, "kit")
    assert "Lint-free paper 20 rolls" in said and "16 boxes of 10" in said and "floor sheets 8" in said
    assert f"mixed as needed {page.fmt.volume(float(slip.quantity))}".replace("\u00a0", " ") in said


def test_old_film_on_a_large_pane_is_off_in_good_time(page_for):
    """3.5 m2 with old film for two: 35 minutes of it for the film (10-30 min/m2 of all); it was once 163."""
    page = page_for(OLD)
    (line,) = page.findings.labour.panes
    assert (line.people, line.each_min) == (2, pytest.approx(37.5 * 1.8 * 0.6 * 1.3 + 35, rel=1e-3))


def test_own_minutes_are_no_assumption(tmp_path):
    """What the fitter's own records give is not listed as assumed; what they leave open is."""
    listed = {}
    for name, minutes in (("usual", {}), ("own", {"plain": "20"})):
        (tmp_path / name).mkdir()
        change = {"fitting": {"minutes": {"plain": None, "set_up": None} | minutes}}
        folder = written(tmp_path / name, change, survey=OFFICE)
        listed[name] = {entry.field for entry in Findings(Study.open(folder)).assumptions}
    assert {"fitter", "fitter_many", "first_panes", "set_up"} <= listed["usual"]
    assert not {"fitter", "fitter_many", "first_panes"} & listed["own"] and "set_up" in listed["own"]
