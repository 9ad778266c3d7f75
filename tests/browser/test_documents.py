"""Every HTML document of every demo job in a real browser, opened from disk with the network off."""

from __future__ import annotations

import re
from collections.abc import Callable
from itertools import pairwise
from pathlib import Path
from typing import Any

import nbformat
import pypdfium2
import pytest

from reportkit.documents.frame import FRAME_WORDS
from reportkit.documents.language.words import Words
from reportkit.documents.layouts.exporters import BY_FILE

pytestmark = pytest.mark.browser

DEMOS = ("corner-shop", "harbour-house", "hill-studio")
#: Job and kind of document; one job has readings to review.
DOCUMENTS = [(name, kind) for name in DEMOS for kind in ("proposal", "basis", "fitting")] + [
    ("corner-shop", "review")
]
#: How wide a phone and a desk are [px].
PHONE, DESK = 360, 1280
LEGENDS = re.compile(r"^\d+ / \d+$")  # what the page's foot says


@pytest.fixture(scope="module", params=DEMOS)
def run(request: pytest.FixtureRequest, run_of: Callable[[str], Path]) -> Path:
    """The folder of a demo job's run."""
    return run_of(request.param)


@pytest.fixture(scope="module", params=DOCUMENTS, ids="-".join)
def file(request: pytest.FixtureRequest, run_of: Callable[[str], Path]) -> Path:
    """One HTML document of a run."""
    name, kind = request.param
    return run_of(name) / f"{kind}.html"


@pytest.fixture(scope="module")
def static(file: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The same document without scripts."""
    notebook = nbformat.read(file.parent / "reasoning.ipynb", as_version=4)
    text, _ = BY_FILE[file.name](run=file.parent.name, static=True).from_notebook_node(notebook)
    path = tmp_path_factory.mktemp("static") / file.name
    path.write_text(text, encoding="utf-8")
    return path


@pytest.fixture(scope="module")
def opened(open_for_all: Any, file: Path) -> Any:
    """The document opened on a phone, for all tests that look at it."""
    return open_for_all(file, PHONE)


@pytest.fixture
def sized(opened: Any) -> Callable[[int], Any]:
    """Return a function that makes the open document's window so wide, and shows every picture in it."""

    def size(width: int) -> Any:
        opened.page.set_viewport_size({"width": width, "height": 900})
        opened.show_all()
        return opened

    return size


def test_it_opens_and_fits(sized: Callable[[int], Any], file: Path) -> None:
    """From phone to desk and back: no error, nothing asked for, no sideways scroll (WCAG 2.2, 1.4.10)."""
    for width in (PHONE, 768, DESK, PHONE):
        opened = sized(width)
        assert opened.width() <= width
    assert opened.complaints == []
    assert opened.requests == [file.as_uri()]


@pytest.mark.parametrize("scripts", [True, False], ids=["scripts", "no scripts"])
def test_the_proposal_reads_on_a_phone(open_file: Any, run: Path, scripts: bool) -> None:
    """At 360 and 390 px: under ten screens of 640, no price cut, nothing that scrolls sideways unseen."""
    page = open_file(run / "proposal.html", PHONE, java_script_enabled=scripts).page
    for width in (PHONE, 390):
        page.set_viewport_size({"width": width, "height": 900})
        assert page.evaluate("document.documentElement.scrollHeight") < 10 * 640
        wide = page.evaluate(
            "[...document.querySelectorAll('main *')].filter(e => !e.closest('svg') && e.clientWidth > 0"
            " && e.scrollWidth > e.clientWidth + 1 && getComputedStyle(e).display !== 'inline')"
            ".map(e => [e, e.nextElementSibling])"
            ".map(([e, after]) => [e.className, after?.innerText, after?.offsetHeight > 0])"
        )
        # a picture that does is told of right below it, in the page's language
        told = Words(page.evaluate("document.documentElement.lang"))(FRAME_WORDS["sideways"])
        assert all(one == ["still", told, True] for one in wide)
        assert len(wide) <= 1
        prices = page.query_selector_all(".frame .lead")
        assert len(prices) >= 2
        for price in prices:
            box = price.bounding_box()
            assert box["x"] >= 0 and box["x"] + box["width"] <= width
            assert re.search(r"\d[.,]\d\d", price.inner_text())


def test_it_reads_on_a_phone_in_spanish_too(open_file: Any, book: Any, edited: Any, tmp_path: Path) -> None:
    """Longer words, still under ten screens of 640 at 360 px, and nothing wider than the phone."""
    study = edited("corner-shop", ("language: en", "language: es"), ("locale: en_US", "locale: es_US"))
    text, _ = BY_FILE["proposal.html"]().from_notebook_node(book(study, "proposal"))
    path = tmp_path / "proposal.html"
    path.write_text(text, encoding="utf-8")
    opened = open_file(path, 360)
    assert opened.page.evaluate("document.documentElement.scrollHeight") < 10 * 640
    assert opened.width() <= 360


def test_axe_finds_nothing_serious(sized: Callable[[int], Any]) -> None:
    """axe-core finds no serious or critical violation, be the pictures interactive or still.

    The still ones on a phone are those of the file without scripts, below. A switch changes its picture and
    nothing else.
    """
    axe = pytest.importorskip("axe_playwright_python.sync_playwright").Axe()
    for width in (PHONE, DESK):
        page = sized(width).page
        _assert_clean(axe.run(page).response)
    buttons = page.query_selector_all("button.switch")
    if buttons:
        for button in buttons:
            button.click()
        _assert_clean(axe.run(page, "figure").response)
        for button in buttons:
            button.click()


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


def test_the_static_one_fits_too(open_file: Any, file: Path, static: Path) -> None:
    """Without scripts in the file: under 1.5 MB, no error, 360 px wide, every wide part reachable."""
    assert static.stat().st_size < 1_500_000
    assert "<script" not in static.read_text(encoding="utf-8")
    opened = open_file(static, 360)
    assert opened.width() <= 360
    assert opened.complaints == []
    if static.read_bytes() != file.read_bytes():  # else it is the one that axe has looked at above
        axe = pytest.importorskip("axe_playwright_python.sync_playwright").Axe()
        _assert_clean(axe.run(opened.page).response)


def test_the_live_one_carries_one_copy_of_the_library(file: Path) -> None:
    """Under 7 MB, with the drawing library in it once at most."""
    text = file.read_text(encoding="utf-8")
    assert file.stat().st_size < 7_000_000
    assert text.count("* plotly.js v") == (1 if 'class="live"' in text else 0)


def test_it_prints_to_the_right_number_of_pages(sized: Callable[[int], Any], file: Path) -> None:
    """As many pages as the PDF, within two, or a third where there are many; none empty.

    The PDF is set by another program from the same blocks with the same breaks. A page that is empty, or
    holds nothing but its foot, would be a break too many.
    """
    page = sized(DESK).page
    data = page.pdf(prefer_css_page_size=True, print_background=True)
    with pypdfium2.PdfDocument(data) as printed, pypdfium2.PdfDocument(file.with_suffix(".pdf")) as wanted:
        count, right = len(printed), len(wanted)
        assert abs(count - right) <= max(2, right // 3), (count, right)
        for sheet in printed:
            text = sheet.get_textpage().get_text_range()
            lines = [line for line in text.splitlines() if not LEGENDS.match(line.strip())]
            assert len("".join(lines)) > 60
        sizes = {tuple(round(edge) for edge in sheet.get_mediabox()) for sheet in printed}
        assert len(sizes) == 1
        ours = tuple(round(edge) for edge in wanted[0].get_mediabox())
    assert all(abs(a - b) <= 1 for a, b in zip(sizes.pop(), ours, strict=True))


def test_on_paper_each_picture_is_the_still_one(sized: Callable[[int], Any]) -> None:
    """What is printed does not depend on what was pressed: the still pictures, no buttons."""
    page = sized(DESK).page
    page.emulate_media(media="print")
    try:
        stills = page.query_selector_all(".still")
        assert stills
        assert all(still.is_visible() for still in stills)
        assert not any(n.is_visible() for n in page.query_selector_all("button, .live, .choices, nav"))
    finally:
        page.emulate_media(media="screen")


def test_the_reading_order_is_the_outline(sized: Callable[[int], Any]) -> None:
    """One h1, no level skipped, and headings run down the page in the order of the source."""
    found = sized(DESK).page.evaluate(
        "[...document.querySelectorAll('h1,h2,h3,h4,h5')]"
        ".map(h => [+h.tagName[1], h.getBoundingClientRect().top])"
    )
    levels = [level for level, _ in found]
    assert levels.count(1) == 1
    assert levels[0] == 1
    assert all(after <= before + 1 for before, after in pairwise(levels))
    tops = [top for _, top in found]
    assert tops == sorted(tops)
