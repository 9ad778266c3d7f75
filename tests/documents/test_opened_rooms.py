"""What the rooms' section says of opened windows: in US and metric units, and in Spanish."""

import re
from dataclasses import replace

import pytest

from reportkit.documents.page import Page
from reportkit.documents.sections import SECTIONS
from reportkit.findings.findings import Findings
from reportkit.study import Study


@pytest.fixture(scope="module")
def said(study_of):
    """Return a function to the text of a section of the harbour house, some fields of its job replaced."""
    base = study_of("harbour-house")

    def text(section, heat=None, **changes):
        first, *others = base.job.rooms
        if heat:
            first = first.model_copy(update={"heat": first.heat.model_copy(update=heat)})
        changes["rooms"] = (first, *others)
        job = base.job.model_copy(update=changes)
        made = SECTIONS[section](Page(Findings(Study(replace(base.loaded, job=job)))))
        return re.sub(r"\\xa0|\\u202f|\s", " ", repr(made.blocks))

    return text


def test_the_rule_and_the_limits_are_said_in_the_readers_units(said):
    """22 C is 72 F, 15.5 C 59.9 F; .33 x 20 + 18.8 + 2, 3, 4 K are 27.4, 28.4, 29.4 C: 81.3, 83.1, 84.9 F."""
    metric, us = (said("rooms", units=units, locale="en_US") for units in ("metric", "us"))
    assert "the room is over 22 °C and it is cooler outside" in metric
    assert "After days under 15.5 °C only over 25 °C" in metric
    assert "after days of 20 °C they are 27.4 °C, 28.4 °C and 29.4 °C" in metric
    assert "the room is over 72 °F and it is cooler outside" in us
    assert "After days under 59.9 °F only over 77 °F" in us
    assert "after days of 68 °F they are 81.3 °F, 83.1 °F and 84.9 °F" in us


def test_the_rule_is_said_in_spanish(said):
    """Whole sentences, with Spanish decimals."""
    text = said("rooms", language="es", locale="es_ES")
    assert "la habitación pasa de 22 °C y fuera hace más fresco" in text
    assert "tras días de 20 °C son 27,4 °C, 28,4 °C y 29,4 °C" in text


def test_night_and_fan_are_said_where_they_are(said):
    """And the caution that goes with windows open by night; nothing of either where they are not."""
    plain = said("rooms")
    assert "by night" not in plain and "fan" not in plain
    night = said("rooms", heat={"open_by_night": True, "night_fan": 200.0})
    assert "Open by night, too" in night and "A fan brings in outside air by night" in night
    assert "only where it is safe" in said("cautions", heat={"open_by_night": True})
    assert "only where it is safe" not in said("cautions")


def test_a_room_whose_windows_stay_shut_says_so(said, study_of):
    """No table of opened windows, and a sentence."""
    panes = tuple(pane.model_copy(update={"opens": False}) for pane in study_of("harbour-house").job.panes)
    text = said("rooms", panes=panes)
    assert "None of its windows is opened." in text and "windows opened, a year" not in text


def test_what_was_taken_of_windows_is_listed(said):
    """The panes nothing is said of, by name; the air over which windows open, with its source."""
    text = said("assumptions")
    assert "windows that open" in text and "not said for L3, K1" in text
    assert "CIBSE TM59, 2017, from memory" in text
    assert "how often people open windows" in text
