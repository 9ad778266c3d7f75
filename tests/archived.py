"""The notebook that a run archives: what its cells show, and the amounts of money in that."""

import re
from pathlib import Path
from typing import Any

import lxml.html
import nbformat

_AMOUNT = re.compile(r"\$[\d,]+(?:\.\d+)?")


def notebook(run: Path) -> Any:
    """Return the notebook of a run."""
    return nbformat.read(run / "reasoning.ipynb", as_version=4)


def shown(book: Any) -> list[str]:
    """Return what a notebook's cells show as HTML."""
    outputs = [output for cell in book.cells for output in cell.get("outputs", ())]
    return [output["data"]["text/html"] for output in outputs if "text/html" in output.get("data", {})]


def text_of(shown: list[str]) -> str:
    """Return the text of pieces of HTML."""
    return " ".join(lxml.html.fromstring(f"<div>{html}</div>").text_content() for html in shown)


def amounts(text: str) -> list[str]:
    """Return the amounts in dollars in a text, in its order."""
    return _AMOUNT.findall(text)
