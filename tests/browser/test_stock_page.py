"""The archived notebook as stock nbconvert writes it: every label of a picture whole, every dollar a dollar.

MathJax itself is not at hand without the network: that it passes over our dollars is checked by the rule of
its manual (version 2.7, the tex2jax preprocessor: `ignoreClass`, `skipTags`; from memory). Tried once by hand
with MathJax 2.7.7 itself: with those classes no formula, each of 94 amounts whole; without them 23 formulas.
A real JupyterLab with its own MathJax is in `test_consultation`.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from archived import amounts, notebook, shown, text_of
from nbconvert import HTMLExporter

pytestmark = pytest.mark.browser

#: Texts of pictures that reach beyond the picture by more than a point, as [picture, text, by how much].
BEYOND = """pictures => pictures.flatMap(picture => {
  const bytes = Uint8Array.from(atob(picture.src.split(',')[1]), sign => sign.charCodeAt(0));
  const holder = document.body.appendChild(document.createElement('div'));
  holder.innerHTML = new TextDecoder().decode(bytes);
  const drawing = holder.firstElementChild, frame = drawing.getBoundingClientRect();
  const texts = [...drawing.querySelectorAll('text')].map(text => [text, text.getBoundingClientRect()]);
  const found = texts.filter(([_, box]) => box.width > 0).map(([text, box]) => [picture.alt, text.textContent,
    Math.max(frame.left - box.left, box.right - frame.right, frame.top - box.top,
      box.bottom - frame.bottom)]);
  holder.remove();
  return found;
})"""

#: Stretches of text that MathJax would look for formulas in: none of what it skips is around them.
LOOKED_AT = """() => {
  const passed = '.tex2jax_ignore, script, noscript, style, textarea, pre, code, annotation, annotation-xml';
  const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  const found = [];
  while (walk.nextNode()) {
    if (!walk.currentNode.parentElement.closest(passed)) found.push(walk.currentNode.data);
  }
  return found;
}"""

FORMULA = re.compile(r"\$|\\\(|\\\[|\\begin")


@pytest.fixture(scope="module")
def stock(
    run_of: Callable[[str], Path], open_for_all: Any, tmp_path_factory: pytest.TempPathFactory
) -> tuple[Any, list[str]]:
    """The page of a run in dollars, open, and what its notebook's cells show as HTML."""
    book = notebook(run_of("corner-shop"))
    path = tmp_path_factory.mktemp("stock") / "reasoning.html"
    path.write_text(HTMLExporter().from_notebook_node(book)[0], "utf-8")
    return open_for_all(path).page, shown(book)


def test_no_label_is_cut(stock: tuple[Any, list[str]]) -> None:
    """Each text of each picture lies in the picture's frame; the pictures are whole and fit the page."""
    page, outputs = stock
    pictures = page.locator("img[src^='data:image/svg+xml']")
    assert pictures.count() == sum(html.count("data:image/svg+xml") for html in outputs) > 10
    found = pictures.evaluate_all(BEYOND)
    assert len(found) > 200
    assert [one for one in found if one[2] > 1.5] == []
    fits = "i.complete && i.naturalWidth > 100 && i.getBoundingClientRect().right <= innerWidth"
    assert all(page.locator("img").evaluate_all(f"all => all.map(i => {fits})"))
    # and one that is cut would be seen
    moved = "all => all.map(i => { const c = i.cloneNode(); c.src = 'data:image/svg+xml;base64,' + btoa("
    moved += '\'<svg width="90" height="90" viewBox="0 0 90 90"><text x="80" y="50">beyond</text></svg>\');'
    moved += f" return c; }}).slice(0, 1).flatMap(c => ({BEYOND})([c]))"
    ((_, text, beyond),) = pictures.evaluate_all(moved)
    assert text == "beyond" and beyond > 10


def test_no_dollar_is_taken_for_a_formula(stock: tuple[Any, list[str]]) -> None:
    """Where MathJax looks no sign begins a formula; every amount reads back as its cell holds it."""
    page, outputs = stock
    looked = page.evaluate(LOOKED_AT)
    assert any(text.strip() for text in looked)
    assert [text for text in looked if FORMULA.search(text)] == []
    held = amounts(text_of(outputs))
    assert len(held) > 20
    assert amounts(" ".join(page.locator(".reportkit").all_text_contents())) == held
