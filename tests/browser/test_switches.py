"""The switches of the interactive pictures of every demo job, pressed in a real browser."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

pytestmark = pytest.mark.browser

DEMOS = ("corner-shop", "harbour-house", "hill-studio")


@pytest.fixture(scope="module", params=DEMOS)
def page(request: pytest.FixtureRequest, run_of: Callable[[str], Path], open_for_all: Any) -> Any:
    """The reasons and numbers of a job, whose pictures are all interactive."""
    opened = open_for_all(run_of(request.param) / "basis.html")
    opened.show_all()
    return opened.page


@pytest.fixture
def live(page: Any) -> Iterator[Any]:
    """The same page, its switches put back behind each test."""
    before = _states(page)
    assert before
    yield page
    for wanted in (True, False):  # of faces and units one is on: pressing it puts the others off
        for number, (was, now) in enumerate(zip(before, _states(page), strict=True)):
            if was != now and was is wanted:
                page.locator(".choices button").nth(number).click()
    assert _states(page) == before


def _states(page: Any) -> list[bool]:
    pressed = "all => all.map(button => button.getAttribute('aria-pressed') === 'true')"
    return page.locator(".choices button").evaluate_all(pressed)


def _group(page: Any, figure: str, title: str) -> Any:
    """The buttons of a switch by the word before them."""
    return (
        page.locator(f"#{figure}-choices").get_by_role("group", name=title, exact=True).get_by_role("button")
    )


def _shown(page: Any, figure: str) -> list[Any]:
    """Which traces of a picture are shown."""
    return page.evaluate(
        "id => document.getElementById(id + '-live').data.map(t => t.visible !== false)", figure
    )


def _pressed(buttons: Any) -> list[bool]:
    return [button.get_attribute("aria-pressed") == "true" for button in buttons.all()]


def test_one_face_at_a_time(live: Any) -> None:
    """Pressing a face shows its map and no other, by mouse and by keyboard; the names are the job's."""
    buttons = _group(live, "sun-hours", "Face")
    count = buttons.count()
    assert count >= 2
    named = [button.inner_text() for button in buttons.all()]
    assert named == live.evaluate("document.getElementById('sun-hours-live').data.map(t => t.name)")
    for number in range(count):
        buttons.nth(number).click()
        wanted = [other == number for other in range(count)]
        assert _pressed(buttons) == wanted
        assert _shown(live, "sun-hours") == wanted
    buttons.nth(0).focus()
    live.keyboard.press("Space")
    assert _shown(live, "sun-hours")[0]
    live.keyboard.press("Tab")
    live.keyboard.press("Enter")
    assert _pressed(buttons) == [number == 1 for number in range(count)]


def test_films_are_shown_and_hidden_one_by_one(live: Any) -> None:
    """Each film's button takes its line away and puts it back, and touches no other."""
    for figure in ("bad-day", "months"):
        if not live.query_selector(f"#{figure}-live"):
            continue  # no year of weather, no months
        buttons = _group(live, figure, "Film")
        before = _shown(live, figure)
        assert _pressed(buttons) == before
        for number in range(buttons.count()):
            buttons.nth(number).click()
            wanted = [shown != (other == number) for other, shown in enumerate(before)]
            assert _shown(live, figure) == _pressed(buttons) == wanted
            buttons.nth(number).click()
        assert _shown(live, figure) == before


def test_units_change_numbers_axis_and_hover(live: Any) -> None:
    """The same heat in the other unit (1 W is 3.412 Btu/h; NIST SP 811, from memory), and back again."""
    read = (
        "() => { const p = document.getElementById('bad-day-live');"
        " return [Math.max(...p.data[0].y), p.layout.yaxis.title.text, p.data[0].text[12]]; }"
    )
    buttons = _group(live, "bad-day", "Unit")
    assert [button.inner_text() for button in buttons.all()] == ["W", "Btu/h"]
    watts, unit, hover = live.evaluate(read)
    assert unit == "W"
    assert hover.endswith("W")
    buttons.nth(1).click()
    heat, unit, hover = live.evaluate(read)
    assert unit == "Btu/h"
    assert hover.endswith("Btu/h")
    assert heat == pytest.approx(watts * 3.412142, rel=1e-4)
    assert "Btu/h" in live.locator("#bad-day-live .ytitle").text_content()
    buttons.nth(0).click()
    assert live.evaluate(read)[0] == watts


def test_a_hidden_film_stays_hidden_in_the_other_unit(live: Any) -> None:
    """Switches do not undo each other."""
    _group(live, "bad-day", "Film").nth(0).click()
    _group(live, "bad-day", "Unit").nth(1).click()
    assert not _shown(live, "bad-day")[0]
    faces, units = _group(live, "sun-hours", "Face"), _group(live, "sun-hours", "Unit")
    faces.nth(1).click()
    units.nth(1).click()
    assert _shown(live, "sun-hours")[:2] == [False, True]


def test_pointing_at_a_line_tells_its_value(live: Any) -> None:
    """Hovering a point names the option, the time and the heat."""
    live.locator("#bad-day").scroll_into_view_if_needed()
    point = live.locator("#bad-day-live .scatterlayer .trace").first.locator(".points path").nth(10)
    box = point.bounding_box()
    live.mouse.move(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
    told = live.locator("#bad-day-live .hovertext").first.text_content()
    assert re.search(r"\d.*W$", told)


def test_the_focus_is_seen(live: Any) -> None:
    """A button reached by keyboard has an outline of 2 px or more (WCAG 2.2, 2.4.7)."""
    buttons = _group(live, "sun-hours", "Face")
    buttons.nth(0).focus()
    live.keyboard.press("Tab")
    style = "e => [getComputedStyle(e).outlineStyle, parseFloat(getComputedStyle(e).outlineWidth)]"
    shape, width = buttons.nth(1).evaluate(style)
    assert shape == "solid"
    assert width >= 2
    tall = [button.bounding_box()["height"] for button in buttons.all()]
    assert min(tall) >= 24  # target size, WCAG 2.2, 2.5.8


def test_buttons_come_and_go_with_their_picture(live: Any) -> None:
    """Beside the still picture no switch is offered; back at the interactive one they all are."""
    live.click("#bad-day button.switch")
    assert live.is_visible("#bad-day-still")
    assert not live.is_visible("#bad-day-choices")
    live.click("#bad-day button.switch")
    assert live.is_visible("#bad-day-choices")
