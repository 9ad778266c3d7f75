"""The HTML document in a real browser: nothing fetched, nothing broken, nothing wider than the page."""

import base64
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from reportkit.documents.layouts.assemble import assemble
from reportkit.documents.layouts.html import document

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def page_file(samples: Any, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The sample proposal as a file."""
    path = tmp_path_factory.mktemp("html") / "sample.html"
    path.write_text(document(assemble(samples.sample_notebook(), "proposal").page), encoding="utf-8")
    return path


def _open(chromium: Any, path: Path, width: int, **more: Any) -> tuple[Any, list[str], list[str]]:
    page = chromium.new_page(viewport={"width": width, "height": 900}, **more)
    complaints: list[str] = []
    requests: list[str] = []
    page.on("console", lambda message: complaints.append(message.text))
    page.on("pageerror", lambda error: complaints.append(str(error)))
    page.on("request", lambda request: requests.append(request.url))
    page.goto(path.as_uri())
    return page, complaints, requests


@pytest.fixture(scope="module")
def sample(chromium: Any, page_file: Path) -> Iterator[tuple[Any, list[str], list[str]]]:
    """The sample open on a phone with its pictures shown, what it complained of and asked for."""
    page, complaints, requests = _open(chromium, page_file, 360)
    for button in page.query_selector_all("button.switch"):
        button.evaluate("node => node.closest('figure').scrollIntoView()")
    page.wait_for_selector("#half-1-live .main-svg", timeout=20_000)
    page.wait_for_selector("#day-live .main-svg", timeout=20_000)
    yield page, complaints, requests
    page.close()


def test_it_fits_and_fetches_nothing(sample: tuple[Any, list[str], list[str]], page_file: Path) -> None:
    """From phone to desk the page does not scroll sideways, asks for no address and reports no error."""
    page, complaints, requests = sample
    for width in (360, 768, 1280):
        page.set_viewport_size({"width": width, "height": 900})
        assert page.evaluate("document.documentElement.scrollWidth") <= width
    assert complaints == []
    assert [url for url in requests if not url.startswith("data:")] == [page_file.as_uri()]


def test_the_still_picture_comes_back(sample: tuple[Any, list[str], list[str]]) -> None:
    """The button switches from the interactive picture to the still one; paper always gets the still one."""
    page, _, _ = sample
    page.evaluate("document.getElementById('day').scrollIntoView()")
    assert not page.is_visible("#day-still")
    page.emulate_media(media="print")
    assert page.is_visible("#day-still")
    assert not page.is_visible("#day-live")
    page.emulate_media(media="screen")
    page.click("#day button.switch")
    assert page.is_visible("#day-still")
    assert page.inner_text("#day button.switch") == "Show the interactive picture"
    page.click("#day button.switch")
    assert not page.is_visible("#day-still")


def test_without_scripts_nothing_is_lost(chromium: Any, page_file: Path) -> None:
    """With scripts off, every still picture shows and no dead button does."""
    page, complaints, _ = _open(chromium, page_file, 1000, java_script_enabled=False)
    stills = page.query_selector_all(".still")
    assert stills and all(node.is_visible() for node in stills)
    assert not any(node.is_visible() for node in page.query_selector_all("button, .live"))
    assert complaints == []
    page.close()


def test_the_typeface_is_the_embedded_one(sample: tuple[Any, list[str], list[str]]) -> None:
    """The page's own letters are used, in text and in pictures."""
    page, _, _ = sample
    page.evaluate("document.fonts.ready")
    loaded = page.evaluate("[...document.fonts].filter(f => f.status === 'loaded').map(f => f.family)")
    assert {name.strip('"') for name in loaded} == {"Source Sans Pro"}


#: Texts of still pictures that leave their picture, sideways or (written upright) up and down [px].
CUT = """() => [...document.querySelectorAll("svg")].flatMap(svg => {
  const frame = svg.getBoundingClientRect();
  return [...svg.querySelectorAll("text")].filter(text => {
    const box = text.getBoundingClientRect();
    const upright = /rotate\\(-90/.test(text.getAttribute("transform") || "");
    return upright ? box.top < frame.top - 1 || box.bottom > frame.bottom + 1
                   : box.left < frame.left - 1 || box.right > frame.right + 1;
  }).map(text => text.textContent);
})"""


@pytest.mark.parametrize("family", ["DejaVu Sans", "monospace"])
def test_no_text_is_cut_without_the_typeface(
    chromium: Any, book_of: Any, tmp_path: Path, family: str
) -> None:
    """The notebook's pictures hold all their letters where the typeface is absent and the next is wider."""
    shown = [
        base64.b64decode(data).decode("utf-8")
        for cell in book_of("corner-shop").cells
        for output in cell.get("outputs", ())
        for data in re.findall(r"svg\+xml;base64,([^\"]+)", output["data"].get("text/html", ""))
    ]
    assert len(shown) > 5
    page = "\n".join(shown).replace("Source Sans Pro", "No Such Typeface").replace("DejaVu Sans", family)
    path = tmp_path / "notebook.html"
    path.write_text(f"<!doctype html><meta charset='utf-8'><body>{page}", encoding="utf-8")
    opened, _, _ = _open(chromium, path, 1000)
    assert opened.evaluate("document.querySelectorAll('svg text').length") > 100
    assert opened.evaluate(CUT) == []
    opened.close()
