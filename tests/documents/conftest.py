"""A small executed notebook with every kind of block, and names meant to break a document."""

from __future__ import annotations

import sys
from types import ModuleType
from typing import Any

import nbformat
import pytest

from reportkit.documents import (
    Bullets,
    Caution,
    Column,
    Columns,
    DocumentInfo,
    Fact,
    Facts,
    Figure,
    Group,
    Heading,
    PageBreak,
    Paragraph,
    Record,
    Row,
    Section,
    Signature,
    Steps,
    Table,
    emphasis,
    strong,
    verdict,
)

#: What people might type into a name or a note (one line is Hebrew, marks of direction and Arabic). None of
#: it may ever mean anything.
NASTY = (
    "<script>alert(1)</script>",
    '#set text(red) #panic("x")',
    "$x^2$ {{ 7*7 }} {% raw %}",
    "*star* _under_ `tick` \\section{x} \\",
    'O\'Brien & "Sons" <b>',
    "@ref <label> // comment /* x */",
    "\u05e2\u05d1\u05e8\u05d9\u05ea \u200fmixed\u200f \u0639\u0631\u0628",
    "= not a heading",
)

RESULTS = {"schema": "1", "price": {"net": "1480.00", "currency": "USD"}, "share": 0.61}
INPUTS: dict[str, bytes | str] = {
    "job.yaml": "name: Invented office\n",
    "windows.csv": "id,width\nE1,905 mm\n",
    "photo.bin": bytes(range(256)),
}


def picture(text: str = "peak") -> str:
    """Return a small drawing whose parts have identifiers, as plotting programs make them."""
    return (
        '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink"'
        ' width="400pt" height="160pt" viewBox="0 0 400 160"><defs><clipPath id="c1">'
        '<rect width="400" height="160"/></clipPath><path id="m1" d="M0 0h6v6z"/></defs>'
        '<g id="axes_1" clip-path="url(#c1)"><rect x="20" y="30" width="90" height="110" fill="#1c2430"/>'
        '<rect x="140" y="90" width="90" height="50" fill="#2a4a9c"/><use xlink:href="#m1" x="9" y="9"/>'
        f'<text x="20" y="20" style="font: 12px \'Source Sans Pro\', \'DejaVu Sans\'">{text}</text></g></svg>'
    )


PLOTLY = {
    "data": [{"type": "scatter", "x": [6, 9, 12], "y": [120.0, 412.5, 90.0], "name": "Bare </script>"}],
    "layout": {"title": {"text": "Peak"}},
}


def first_section() -> Section:
    """Return the section that stands first in the proposal."""
    return Section(
        "summary",
        [
            Heading("What we recommend"),
            Paragraph(["Fit ", strong("film B"), " on the ", emphasis("east"), " panes."], role="lead"),
            Facts([Fact("Peak sun heat", "1 240 W", "bare: 3 180 W"), ("Cost", "$1,480.00")]),
            Figure("day", "Film B cuts the 9 am peak by 61 %", "Two bars.", picture(), PLOTLY, "Clear day."),
            Caution("Laminated pane", ["Ask ", strong("first"), "."], who="the glass maker"),
            Paragraph("A small note.", role="note"),
        ],
    )


def second_section() -> Section:
    """Return a section with the other blocks and every nasty string."""
    return Section(
        "rest",
        [
            Heading("Details", level=3),
            *(Paragraph(text) for text in NASTY),
            Bullets([["a ", strong("b")], NASTY[0]]),
            Bullets(["tick me"], marker="tick"),
            Bullets(["stop here"], marker="stop"),
            Steps(["one", NASTY[1]]),
            Facts([("Site", NASTY[4])], style="list"),
            Table(
                [
                    Column("pane", "Pane"),
                    Column("peak", "Peak", align="decimal"),
                    Column("look", "Verdict"),
                    Column("done", "Done", content="tick"),
                    Column("metres", "Metres", content="write"),
                ],
                [
                    {"pane": NASTY[0], "peak": "412.5 W", "look": verdict("nothing_found", "Nothing found")},
                    {"pane": "E2", "peak": "98.25 W", "look": verdict("ask", "Ask")},
                    {"pane": "E3", "peak": "1,240 W", "look": verdict("refuse", "Refuse")},
                    Row(["Total", "1,750.75 W", "", "", ""], "total"),
                ],
                caption="Panes by gain",
                note="At 9 am.",
            ),
            Columns(
                [
                    [Figure("left", "Left finding", "Left words.", picture("left"), width="half")],
                    [Paragraph("Beside it.")],
                ],
                shares=(2, 1),
            ),
            Figure("half-1", "One", "First half.", picture(NASTY[6]), PLOTLY, width="half"),
            Figure("half-2", "Two", "Second half.", picture("x"), width="half"),
            Group([Heading("Framed", level=2), Paragraph("Kept together.")], frame=True),
            PageBreak(),
            Signature(["Client, date", "For the business, date"]),
        ],
    )


def record(
    language: str = "en-US", paper: Any = "us-letter", title: str = "Cooler by the east windows"
) -> Record:
    """Return the record of an invented job."""
    return Record(
        DocumentInfo(
            titles={
                "proposal": title,
                "basis": "Reasons and numbers",
                "letters": "Letters",
                "fitting": "Fitting sheet",
                "labels": "Labels",
                "review": "After the work",
            },
            subtitles={"proposal": "Invented office"},
            language=language,
            paper=paper,
            footer="Job DEMO-1",
            timestamp=1_780_000_000,
            date="May 28, 2026",
            author="Invented Films & Sons",
            addressee=("Invented client", NASTY[0]),
        ),
        RESULTS,
        INPUTS,
    )


def cell(shown: Any, places: dict[str, float], number: int = 1) -> Any:
    """Return a code cell that shows one object, as an executed notebook stores it."""
    output = nbformat.v4.new_output(
        "execute_result", data=shown._repr_mimebundle_(), metadata={}, execution_count=number
    )
    made = nbformat.v4.new_code_cell("show", outputs=[output], execution_count=number, id=f"cell-{number}")
    if places:
        made.metadata["reportkit"] = places
    return made


def notebook_of(*cells: Any) -> Any:
    """Return a notebook of these cells."""
    return nbformat.v4.new_notebook(
        cells=list(cells), metadata={"kernelspec": {"name": "python3", "display_name": "Python 3"}}
    )


def executed(*placed: tuple[Any, dict[str, float]], last: Any = None) -> Any:
    """Return a notebook whose cells show these objects at these places, and then the record."""
    shown = [*placed, (last or record(), {})]
    return notebook_of(
        *(cell(thing, places, number) for number, (thing, places) in enumerate(shown, start=1))
    )


def sample_notebook() -> Any:
    """Return an executed notebook whose argument runs the other way round than its documents."""
    return executed(
        (second_section(), {"proposal": 2, "basis": 2, "letters": 2, "fitting": 1, "labels": 1, "review": 1}),
        (first_section(), {"proposal": 1}),
        (Section("aside", [Paragraph("Reasoning only.")]), {}),
    )


@pytest.fixture
def notebook() -> Any:
    """A fresh `sample_notebook`."""
    return sample_notebook()


@pytest.fixture(scope="session")
def samples() -> ModuleType:
    """This module: the strings, sections and records above."""
    return sys.modules[__name__]
