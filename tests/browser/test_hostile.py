"""A hostile job in a real browser: nothing typed runs, asks for anything or widens a page."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import hostile
import nbformat
import pytest
from nbconvert import HTMLExporter

pytestmark = pytest.mark.browser

#: Sets `top.ran` as every text of the job would; it shows that the flag is seen where something runs.
CONTROL = f"<title>x</title><body onload='{hostile.RUN}'><p>x</p>"


@pytest.fixture(scope="module")
def made(once: Any) -> hostile.Made:
    """The hostile job and its runs."""
    return hostile.made_once(once, hostile.Texts)


@pytest.fixture(scope="module")
def pages(made: hostile.Made, tmp_path_factory: pytest.TempPathFactory) -> list[Path]:
    """Every page that is made of it, and the archived notebook by stock nbconvert."""
    book = nbformat.read(made.runs[0] / "reasoning.ipynb", as_version=4)
    archived = tmp_path_factory.mktemp("stock") / "notebook.html"
    archived.write_text(HTMLExporter().from_notebook_node(book)[0], "utf-8")
    return [*made.documents("html"), archived]


def test_the_flag_is_seen(open_file: Callable[..., Any], tmp_path: Path) -> None:
    """Where such a text does run, the test below would notice."""
    path = tmp_path / "x.html"
    path.write_text(CONTROL, "utf-8")
    assert open_file(path).page.evaluate("window.ran") == 1


def test_nothing_typed_runs_or_asks(
    pages: list[Path], made: hostile.Made, open_file: Callable[..., Any]
) -> None:
    """Opened, scrolled, every button pressed: no script of the job ran, none of its addresses was asked for.

    Each text stands in some page as it was typed. The stock page asks for its own two libraries, no more.
    """
    texts = []
    for path in pages:
        opened = open_file(path)
        page = opened.page
        own = [url for url in opened.requests if url != path.as_uri()]
        if path.name == "notebook.html":
            assert all(url.startswith("https://cdnjs.cloudflare.com/ajax/libs/") for url in own)
        else:
            opened.show_all()
            for button in page.query_selector_all("button:visible, summary"):
                button.click()
            assert own == [] and opened.complaints == [], path.name
        for element in page.query_selector_all(".reportkit p, .reportkit th")[:20]:
            element.dispatch_event("mouseover")
        assert page.evaluate("[window.ran, ...Array.from(frames, f => f.ran)]") == [None], path.name
        assert not any(".invalid" in url for url in opened.requests), path.name
        assert (
            page.locator("iframe, object, embed, base, video, link, math, [onload], [onerror]").count() == 0
        )
        texts.append(hostile.squeezed(page.evaluate("document.body.textContent")))
        assert not any(sign in texts[-1] for sign in hostile.HIDDEN if ord(sign) > 0x2000), path.name
    assert len(pages) == 5
    lost = [text for text in made.texts.values() if not any(hostile.squeezed(text) in page for page in texts)]
    assert len(lost) == 1  # the note on film that nobody fits


#: Elements whose content is wider than they are and that do not scroll.
CUT = """[...document.querySelectorAll('header *, main *, footer *')].filter(e => !e.closest('svg')
  && e.clientWidth > 0 && e.scrollWidth > e.clientWidth + 1
  && getComputedStyle(e).display !== 'inline' && getComputedStyle(e).overflowX !== 'auto')
  .map(e => [e.tagName, e.className, e.textContent.slice(0, 40)])"""


@pytest.mark.parametrize("kind", [hostile.Texts, hostile.Longs])
@pytest.mark.parametrize("width", [360, 1280])
def test_no_word_widens_a_page(kind: Any, width: int, once: Any, open_file: Callable[..., Any]) -> None:
    """Words of three hundred letters, eighty W's, long addresses: no sideways scroll, nothing cut."""
    for path in hostile.made_once(once, kind).documents("html"):
        opened = open_file(path, width)
        assert opened.width() <= width, path.name
        assert opened.page.evaluate(CUT) == [], path.name
