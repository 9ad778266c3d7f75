"""Page one says what the worst hour is the worst of, on which face, and why no yearly saving is told."""

import re

import pytest
from small_job import written

from reportkit.documents.blocks import plain
from reportkit.documents.page import Page
from reportkit.documents.sections import SECTIONS
from reportkit.findings.findings import Findings
from reportkit.study import Study

TWO = """id,room,face,glazing,width,height
A,office,west,one,1000 mm,1250 mm
B,office,north,one,1000 mm,1250 mm
"""
FACES = {"faces": [{"id": "west", "bearing": "265"}, {"id": "north", "name": "Yard", "bearing": "355"}]}
KINDS = {"corner-shop": "kinds: [heat, glare, fading]", "harbour-house": "kinds: [glare, fading]"}
HEAT = {
    "rooms": [
        {
            "id": "office",
            "heat": {"floor_area": "20 m2", "ceiling": "2.6 m", "heating": {"fuel": "gas"}},
        }
    ]
}
HEAT_ONLY = {
    "rooms": [{"id": "office", "heat": HEAT["rooms"][0]["heat"] | {"heating": {"fuel": "electricity"}}}]
}
ENERGY = {"energy": {"electricity": {"rate": "0.3"}, "fuels": [{"id": "gas", "rate": "0.1", "unit": "kWh"}]}}


def told(page, name="answer"):
    """Return the words of a section."""
    return repr([plain(block) for block in SECTIONS[name](page).blocks]).replace("\\xa0", " ")


def opened(folder, *changes, survey=TWO):
    """Return the page of the small job with panes on two faces."""
    return Page(Findings(Study.open(written(folder, FACES, *changes, survey=survey))))


def test_the_worst_hour_of_clear_days_is_told_with_its_face(tmp_path):
    """No air temperature is known there: the warmer half of the year counts, the 21st of each month."""
    page = opened(tmp_path)
    hour = page.findings.bad_day.time
    assert hour.day == 21 and 4 <= hour.month <= 9
    text = told(page)
    assert "The worst hour is, of all hours from April to September, the one at which most of the sun" in text
    assert "Looked at are clear days, the 21st of each month." in text
    west, north = (pane.peak_solar_w for pane in page.findings.panes)
    assert west > north
    assert f"{100 * west / (west + north):.0f}% of it comes in through west." in text


def test_panes_on_one_face_name_none(tmp_path):
    """There is no other to take it for."""
    text = told(opened(tmp_path, survey=TWO.replace("north", "west")))
    assert "The worst hour is, of all hours from April" in text and "comes in through west" not in text


@pytest.mark.parametrize(("name", "base"), [("corner-shop", "60 °F"), ("harbour-house", "16 °C")])
def test_a_year_with_temperatures_is_told_by_them(edited, page_of, name, base):
    """Colder hours do not count, in the reader's unit; no clear day is spoken of."""
    page = page_of(edited(name, (KINDS[name], "kinds: [heat]")))
    text = told(page)
    assert re.search(rf"of all hours with {base} or more outside, the one at which most", text), text
    assert "clear days" not in text


def test_who_did_not_ask_about_heat_is_not_told_of_its_hour(tmp_path):
    """No worst hour stands on that page."""
    assert "worst hour" not in told(opened(tmp_path, {"complaint": {"kinds": ["privacy"]}}))


@pytest.mark.parametrize(
    ("changes", "said"), [((HEAT, ENERGY), True), ((HEAT_ONLY,), True), ((ENERGY,), True), ((), False)]
)
def test_a_saving_that_cannot_be_told_is_said_not_to_be(tmp_path, changes, said):
    """Where rooms or rates of energy were given and there is no year, with the reason."""
    page = opened(tmp_path, *changes)
    assert page.chosen.saving_per_year is None
    line = "What it saves on energy bills is not given: no typical year of weather was used."
    assert told(page).count(line) == int(said)


def test_where_bills_were_asked_about_it_is_said_once(tmp_path):
    """In the answer to what was asked."""
    page = opened(tmp_path, HEAT, ENERGY, {"complaint": {"kinds": ["heat", "bills"]}})
    assert told(page).count("What it saves on energy bills is not given") == 1


def test_hardly_noticed_stands_beside_the_hours_of_direct_sun(tmp_path):
    """With the sun's disc counted where glare was asked about, else the hours the pane is in the sun."""
    glare = opened(tmp_path, {"complaint": {"kinds": ["glare"]}})
    seen = glare.findings.sun_in_view
    assert seen.hours > 1
    line = f"the sun itself stands in pane {seen.pane} for {glare.fmt.significant(seen.hours)} hours"
    assert line in told(glare, "rooms")
    heat = opened(tmp_path)
    pane = next(one for one in heat.findings.panes if one.id == heat.findings.by_window.pane)
    most = heat.fmt.number(max(pane.direct_sun_hours), 1)
    assert f"sun shines on pane A for up to {most} hours a day" in told(heat, "rooms")
