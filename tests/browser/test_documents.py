"""Every HTML document of every demo job in a real browser, opened from disk with the network off."""

from __future__ import annotations

import io
import re
from collections.abc import Callable
from itertools import pairwise
from pathlib import Path
from typing import Any

import nbformat
import pypdf
import pytest

from reportkit.app.run import make
from reportkit.documents.layouts.exporters import BY_FILE

pytestmark = pytest.mark.browser

DEMOS = ("corner-shop", "harbour-house", "hill-studio")
#: Job and kind of document; one job has readings to review.
DOCUMENTS = [(name, kind) for name in DEMOS for kind in ("proposal", "basis", "fitting")] + [
    ("corner-shop", "review")
]
LEGENDS = re.compile(r"^\d+ / \d+$")  # what the page's foot says


@pytest.fixture(scope="module", params=DEMOS)
def run(request: pytest.FixtureRequest, run_of: Callable[[str], Path]) -> Path:
    """The folder of a demo job's run."""
    return run_of(request.param)


@pytest.fixture(scope="module", params=DOCUMENTS, ids="-".join)
def file(request: pytest.FixtureRequest, run_of: Callable[[str], Path]) -> Path:
    """One HTML document of a run."""
    name, kind = request.param
    run = run_of(name)
    if kind == "review":
        run = make(run.parents[1], documents=("review",))
    return run / f"{kind}.html"


@pytest.fixture(scope="module")
def static(file: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The same document without scripts."""
    notebook = nbformat.read(file.parent / "reasoning.ipynb", as_version=4)
    text, _ = BY_FILE[file.name](static=True).from_notebook_node(notebook)
    path = tmp_path_factory.mktemp("static") / file.name
    path.write_text(text, encoding="utf-8")
    return path


@pytest.mark.parametrize("width", [360, 768, 1280])
def test_it_opens_and_fits(open_file: Any, file: Path, width: int) -> None:
    """From phone to desk: no error, nothing asked for, no sideways scroll (WCAG 2.2, 1.4.10)."""
    opened = open_file(file, width)
    opened.show_all()
    assert opened.width() <= width
    assert opened.complaints == []
    assert opened.requests == [file.as_uri()]


@pytest.mark.parametrize("scripts", [True, False], ids=["scripts", "no scripts"])
@pytest.mark.parametrize("width", [360, 390])
def test_the_proposal_reads_on_a_phone(open_file: Any, run: Path, width: int, scripts: bool) -> None:
    """At 360 and 390 px: under ten screens of 640, no price cut, nothing that scrolls sideways unseen."""
    opened = open_file(run / "proposal.html", width, java_script_enabled=scripts)
    page = opened.page
    assert page.evaluate("document.documentElement.scrollHeight") < 10 * 640
    wide = page.evaluate(
        "[...document.querySelectorAll('main *')].filter(e => !e.closest('svg') && e.clientWidth > 0"
        " && e.scrollWidth > e.clientWidth + 1 && getComputedStyle(e).display !== 'inline')"
        ".map(e => [e.className, e.nextElementSibling?.innerText, e.nextElementSibling?.offsetHeight > 0])"
    )
    # a picture that does is told of right below it
    assert all(one == ["still", "Slide the picture sideways to see all of it.", True] for one in wide)
    assert len(wide) <= 1
    prices = [card.inner_text() for card in page.query_selector_all(".frame .lead")]
    assert len(prices) >= 2
    for price in page.query_selector_all(".frame .lead"):
        box = price.bounding_box()
        assert box["x"] >= 0 and box["x"] + box["width"] <= width
    assert all(re.search(r"\d[.,]\d\d", price) for price in prices)


def test_it_reads_on_a_phone_in_spanish_too(open_file: Any, book: Any, edited: Any, tmp_path: Path) -> None:
    """Longer words, still under ten screens of 640 at 360 px, and nothing wider than the phone."""
    study = edited("corner-shop", ("language: en", "language: es"), ("locale: en_US", "locale: es_US"))
    text, _ = BY_FILE["proposal.html"]().from_notebook_node(book(study))
    path = tmp_path / "proposal.html"
    path.write_text(text, encoding="utf-8")
    opened = open_file(path, 360)
    assert opened.page.evaluate("document.documentElement.scrollHeight") < 10 * 640
    assert opened.width() <= 360


@pytest.mark.parametrize("width", [360, 1280])
def test_axe_finds_nothing_serious(open_file: Any, file: Path, width: int) -> None:
    """axe-core finds no serious or critical violation, be the pictures interactive or still."""
    axe = pytest.importorskip("axe_playwright_python.sync_playwright").Axe()
    opened = open_file(file, width)
    opened.show_all()
    _assert_clean(axe.run(opened.page).response)
    for button in opened.page.query_selector_all("button.switch"):
        button.click()
    _assert_clean(axe.run(opened.page).response)


def _assert_clean(response: dict[str, Any]) -> None:
    assert len(response["passes"]) > 10  # it looked at something
    found = [
        (violation["id"], node["target"], node["html"][:200])
        for violation in response["violations"]
        if violation["impact"] in ("serious", "critical")
        for node in violation["nodes"]
    ]
    assert found == []


def test_without_scripts_nothing_is_lost(open_file: Any, file: Path) -> None:
    """With scripts off every picture and number shows, and no button that does nothing."""
    opened = open_file(file, 360, java_script_enabled=False)
    page = opened.page
    pictures = page.query_selector_all("figure .still > svg, figure img")
    assert pictures
    assert all(picture.is_visible() for picture in pictures)
    assert not any(node.is_visible() for node in page.query_selector_all("button, .live, .choices"))
    assert opened.complaints == []
    assert opened.requests == [file.as_uri()]
    assert opened.width() <= 360


def test_the_static_one_fits_too(open_file: Any, static: Path) -> None:
    """Without scripts in the file: under 1.5 MB, no error, 360 px wide, every wide part reachable."""
    assert static.stat().st_size < 1_500_000
    assert "<script" not in static.read_text(encoding="utf-8")
    opened = open_file(static, 360)
    assert opened.width() <= 360
    assert opened.complaints == []
    axe = pytest.importorskip("axe_playwright_python.sync_playwright").Axe()
    _assert_clean(axe.run(opened.page).response)


def test_the_live_one_carries_one_copy_of_the_library(file: Path) -> None:
    """Under 7 MB, with the drawing library in it once at most."""
    text = file.read_text(encoding="utf-8")
    assert file.stat().st_size < 7_000_000
    assert text.count("* plotly.js v") == (1 if 'class="live"' in text else 0)


def test_it_prints_to_the_right_number_of_pages(open_file: Any, file: Path) -> None:
    """As many pages as the PDF, within two, or a third where there are many; none empty.

    The PDF is set by another program from the same blocks with the same breaks. A page that is empty, or
    holds nothing but its foot, would be a break too many.
    """
    opened = open_file(file)
    opened.show_all()
    printed = pypdf.PdfReader(io.BytesIO(opened.page.pdf(prefer_css_page_size=True, print_background=True)))
    wanted = pypdf.PdfReader(file.with_suffix(".pdf"))
    count, right = len(printed.pages), len(wanted.pages)
    assert abs(count - right) <= max(2, right // 3), (count, right)
    for page in printed.pages:
        lines = [line for line in page.extract_text().splitlines() if not LEGENDS.match(line.strip())]
        assert len("".join(lines)) > 60
    sizes = {tuple(round(float(edge)) for edge in page.mediabox) for page in printed.pages}
    assert len(sizes) == 1
    ours = tuple(round(float(edge)) for edge in wanted.pages[0].mediabox)
    assert all(abs(a - b) <= 1 for a, b in zip(sizes.pop(), ours, strict=True))


def test_on_paper_each_picture_is_the_still_one(open_file: Any, file: Path) -> None:
    """What is printed does not depend on what was pressed: the still pictures, no buttons."""
    opened = open_file(file)
    opened.show_all()
    opened.page.emulate_media(media="print")
    stills = opened.page.query_selector_all(".still")
    assert all(still.is_visible() for still in stills)
    assert not any(n.is_visible() for n in opened.page.query_selector_all("button, .live, .choices, nav"))


def test_the_reading_order_is_the_outline(open_file: Any, file: Path) -> None:
    """One h1, no level skipped, and headings run down the page in the order of the source."""
    page = open_file(file).page
    found = page.evaluate(
        "[...document.querySelectorAll('h1,h2,h3,h4,h5')]"
        ".map(h => [+h.tagName[1], h.getBoundingClientRect().top])"
    )
    levels = [level for level, _ in found]
    assert levels.count(1) == 1
    assert levels[0] == 1
    assert all(after <= before + 1 for before, after in pairwise(levels))
    tops = [top for _, top in found]
    assert tops == sorted(tops)


# -- switches ---------------------------------------------------------------------------------------


@pytest.fixture
def live(open_file: Any, run: Path) -> Any:
    """The reasons and numbers, whose pictures are all interactive."""
    opened = open_file(run / "basis.html")
    opened.show_all()
    return opened.page


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
