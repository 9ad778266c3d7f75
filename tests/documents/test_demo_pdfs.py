"""The PDFs of every demo job, read back by general PDF libraries (pikepdf, pypdf, PDFium).

No PDF/A or PDF/UA validator comes as a Python package; what these libraries can see of ISO 19005-3 (PDF/A-3)
and ISO 14289-1 (PDF/UA-1) is checked here: claims, tags, language, title, alternative texts, attachments,
embedded fonts, reading order, and how the pages are broken.
"""

from __future__ import annotations

import io
import json
import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from typing import Any

import lxml.html
import pikepdf
import pypdf
import pypdfium2
import pytest

from reportkit.documents.layouts import html
from reportkit.documents.layouts.assemble import assemble
from reportkit.documents.layouts.exporters import BY_FILE
from reportkit.documents.layouts.shared import shared

DEMOS = ("corner-shop", "harbour-house", "hill-studio")
#: Job and kind of document; one job has readings to review.
DOCUMENTS = [(name, kind) for name in DEMOS for kind in ("proposal", "basis", "fitting")] + [
    ("corner-shop", "review")
]


@dataclass(frozen=True)
class Document:
    """One PDF of a demo job beside the page data it was made from."""

    kind: str
    page: Mapping[str, Any]
    results: Mapping[str, Any]
    inputs: Mapping[str, bytes]
    data: bytes

    @cached_property
    def texts(self) -> list[str]:
        """The text of each page, in reading order."""
        with pypdfium2.PdfDocument(self.data) as file:
            found = [page.get_textpage().get_text_bounded() for page in file]
        return [" ".join(text.replace("\ufffe", "-").split()) for text in found]

    @cached_property
    def tags(self) -> list[tuple[str, Any]]:
        """Every element of the structure tree in reading order: its kind, and its alternative text."""
        with pikepdf.open(io.BytesIO(self.data)) as file:
            return [
                (str(e.S).lstrip("/"), str(e.Alt) if "/Alt" in e else None)
                for e in _elements(file.Root.StructTreeRoot)
            ]


def _elements(node: Any) -> Iterator[Any]:
    children = node.get("/K", [])
    for child in children if isinstance(children, pikepdf.Array) else [children]:
        if isinstance(child, pikepdf.Dictionary) and "/S" in child:
            yield child
            yield from _elements(child)


def _blocks(blocks: list[dict[str, Any]]) -> Iterator[dict[str, Any]]:
    for block in blocks:
        yield block
        if block["type"] == "group":
            yield from _blocks(block["blocks"])
        elif block["type"] == "columns":
            for column in block["columns"]:
                yield from _blocks(column)


@pytest.fixture(scope="module", params=DOCUMENTS, ids="-".join)
def document(request: pytest.FixtureRequest, book_of: Callable[[str], Any]) -> Document:
    """Each PDF of each demo job, with its attachments."""
    name, kind = request.param
    notebook = book_of(name)
    made = assemble(notebook, kind, run="0001")
    data, _ = BY_FILE[f"{kind}.pdf"](run="0001").from_notebook_node(notebook)
    return Document(kind, made.page, made.results, made.inputs, data)


def test_it_is_archival_and_accessible(document: Document) -> None:
    """Claims of both standards; marked as tagged; title shown; language set; an output intent."""
    with pikepdf.open(io.BytesIO(document.data)) as file:
        with file.open_metadata() as meta:
            assert (meta["pdfaid:part"], meta["pdfaid:conformance"]) == ("3", "A")
            assert meta["pdfuaid:part"] == "1"
            assert meta["dc:title"] == document.page["title"]
        assert bool(file.Root.MarkInfo.Marked)
        assert bool(file.Root.ViewerPreferences.DisplayDocTitle)
        assert str(file.Root.Lang).lower() == document.page["lang"].lower()
        assert file.Root.OutputIntents[0].S == "/GTS_PDFA1"
        assert not file.is_encrypted
        for page in file.pages:
            assert page.get("/Tabs") == "/S" or "/Annots" not in page  # ISO 14289-1, 7.18.3
            assert "/StructParents" in page


def test_every_font_is_embedded_and_can_be_read_back(document: Document) -> None:
    """Each font carries its program, and each composite font a table from glyphs to Unicode."""
    with pikepdf.open(io.BytesIO(document.data)) as file:
        found = [obj for obj in file.objects if isinstance(obj, pikepdf.Dictionary)]
        programs = [obj for obj in found if obj.get("/Type") == "/FontDescriptor"]
        assert programs
        assert all({"/FontFile2", "/FontFile3"} & set(font.keys()) for font in programs)
        composite = [obj for obj in found if obj.get("/Subtype") == "/Type0"]
        assert composite
        assert all("/ToUnicode" in font for font in composite)


def test_nothing_active_and_nothing_outside(document: Document) -> None:
    """No script, no launch, no form, no link out of the file."""
    with pikepdf.open(io.BytesIO(document.data)) as file:
        assert "/AcroForm" not in file.Root
        for obj in file.objects:
            if isinstance(obj, pikepdf.Dictionary):
                assert obj.get("/S") not in ("/JavaScript", "/Launch", "/URI", "/SubmitForm")


def test_attachments_are_the_reader_s(document: Document) -> None:
    """With the sheet results, notebook and inputs, whole; with the client's papers their own."""
    with pikepdf.open(io.BytesIO(document.data)) as file:
        names = set(file.attachments)
        results = json.loads(file.attachments["results.json"].get_file().read_bytes())
        if document.kind != "fitting":  # the client's own results, and nothing else
            assert names == {"results.json"}
            assert results == shared(document.results)
            assert results["panes"] and "panes" not in results["job"] and "cutting" not in results
            return
        assert names == {"results.json", "reasoning.ipynb", *(f"inputs/{name}" for name in document.inputs)}
        assert len(file.Root.AF) == len(names)
        assert results["job"]["panes"]
        for name, content in document.inputs.items():
            assert file.attachments[f"inputs/{name}"].get_file().read_bytes() == content
        for name in names:
            assert file.attachments[name].get_file().mime_type
            assert file.attachments[name].description


def test_each_picture_has_its_words(document: Document) -> None:
    """As many figures as in the document, in its order, each with the same alternative text."""
    wanted = [b["alt"] for b in _blocks(document.page["blocks"]) if b["type"] in ("figure", "picture")]
    assert wanted
    assert [alt for kind, alt in document.tags if kind == "Figure"] == wanted


def test_headings_run_as_in_the_web_page(document: Document) -> None:
    """Reading order: the same headings, at the same levels, in the order of the HTML; none skipped."""
    page = lxml.html.document_fromstring(html.document(document.page, static=True))
    wanted = [
        (int(node.tag[1]), " ".join(node.text_content().split()))
        for node in page.iter("h1", "h2", "h3", "h4", "h5")
    ]
    levels = [int(kind[1:]) for kind, _ in document.tags if re.fullmatch(r"H\d", kind)]
    titled = [kind for kind, _ in document.tags if kind == "Title"]
    # the document's own title is a title in the PDF, and the first heading in the page
    offset = 1 if titled or len(levels) == len(wanted) - 1 else 0
    assert levels == [level - offset for level, _ in wanted[offset:]]
    assert all(after <= before + 1 for before, after in pairwise([0, *levels]))
    text = " ".join(document.texts)
    place = 0
    for _, words in wanted[offset:]:
        found = text.find(words, place)
        assert found >= 0, words
        place = found


def test_bookmarks_lead_to_the_headings(document: Document) -> None:
    """The outline names every heading in order, and each points to the page that shows it."""
    reader = pypdf.PdfReader(io.BytesIO(document.data))

    def flat(items: Any) -> Iterator[Any]:
        for item in items:
            if isinstance(item, list):
                yield from flat(item)
            else:
                yield item

    marks = list(flat(reader.outline))
    wanted = [" ".join(b["text"].split()) for b in _blocks(document.page["blocks"]) if b["type"] == "heading"]
    assert [" ".join(mark.title.split()) for mark in marks] == wanted
    for mark in marks:
        shown = document.texts[reader.get_destination_page_number(mark)]
        assert " ".join(mark.title.split()) in shown


def test_every_page_says_which_it_is(document: Document) -> None:
    """Job, run and page x of y stand on every page, and no page is empty."""
    count = len(document.texts)
    assert count
    for number, text in enumerate(document.texts, start=1):
        foot = document.page["footer"]
        assert f"page {number} of {count}" in text
        assert foot in text
        assert len(text) > len(foot) + 60


def _rows_of(table: Mapping[str, Any]) -> list[str]:
    return [" ".join(_words(row["cells"][0]).split()) for row in table["rows"]]


def _words(cell: Any) -> str:
    return "".join(run["text"] for run in cell)


def test_tables_are_not_torn(document: Document) -> None:
    """A short table stands on one page; a long one repeats its header on each page it reaches."""
    tables = [b for b in _blocks(document.page["blocks"]) if b["type"] == "table"]
    assert bool(tables) is (document.kind != "proposal")  # the proposal is read without one
    long = 0
    for table in tables:
        head = " ".join(" ".join(column["title"] for column in table["columns"]).split())
        caption = " ".join(table["caption"].split())
        pages = [number for number, text in enumerate(document.texts) if caption in text]
        assert pages, caption
        columns = [" ".join(column["title"].split()) for column in table["columns"]]
        with_head = [
            number
            for number, text in enumerate(document.texts)
            if all(_loosely(title, text) for title in columns)
        ]
        assert set(pages) & set(with_head), head
        if not table["whole"] and len(table["rows"]) > 40:
            long += 1
            reached = [
                n for n, text in enumerate(document.texts) if any(_row_in(row, text) for row in table["rows"])
            ]
            assert set(range(min(reached), max(reached) + 1)) <= set(with_head), head
    names = [kind for kind, _ in document.tags]
    assert names.count("Table") == len(tables)
    assert names.count("TH") == sum(len(table["columns"]) for table in tables)


def _row_in(row: Mapping[str, Any], text: str) -> bool:
    """Whether a row of sentences stands in a text, by its longest cell."""
    longest = max((" ".join(_words(cell).split()) for cell in row["cells"]), key=len)
    return len(longest) > 30 and longest in text


def _loosely(title: str, text: str) -> bool:
    """Whether a column's title stands in a text, its words perhaps on several lines among others."""
    return all(word in text.replace(" ", "") for word in title.split())  # a unit may break at its stroke


def test_no_heading_is_left_behind(document: Document) -> None:
    """Below every heading on its page something follows: the heading is never the last thing there."""
    foot = document.page["footer"]
    headings = [block for block in _blocks(document.page["blocks"]) if block["type"] == "heading"]
    assert headings
    for block in headings:
        words = " ".join(block["text"].split())
        page = next(text for text in document.texts if words in text)
        after = page[page.rindex(words) + len(words) :].replace(foot, "")
        assert len(re.sub(r"page \d+ of \d+", "", after).strip()) > 5, words


def test_the_sheet_has_one_page_of_work(document: Document) -> None:
    """Up to 24 panes, what to do on site fits on the first page: the second begins with the cutting plan."""
    if document.kind != "fitting":
        return
    heads = [b["text"] for b in _blocks(document.page["blocks"]) if b["type"] == "heading"]
    first_break = next(n for n, b in enumerate(document.page["blocks"]) if b["type"] == "pagebreak")
    before = [b["text"] for b in _blocks(document.page["blocks"][:first_break]) if b["type"] == "heading"]
    assert before
    for words in before:
        assert words in document.texts[0]
    assert heads[len(before)] in document.texts[1]


#: The most pages of the reasons by job; they were 18, 17 and 12.
MOST = {"Shopfront and the flat above": 16, "Living room and kitchen facing the harbour": 14}


def test_no_page_is_half_empty(document: Document) -> None:
    """Text or pictures reach .45 of every page or more, but for the last and, of the reasons, the one before.

    In the reasons the client's care has the last page to itself, so the text ends on the page before.
    """
    if document.kind == "review":
        return
    spared = 2 if document.kind == "basis" else 1
    with pypdfium2.PdfDocument(document.data) as file:
        reach = [_reach(page) for page in file]
    assert all(share > 0.45 for share in reach[:-spared]), reach
    if document.kind == "basis":
        assert len(reach) <= next(
            (most for title, most in MOST.items() if title in document.page["title"]), 10
        )


def _reach(page: Any) -> float:
    """Return how far down a page something is drawn, its head and foot left out, as a share of its height."""
    image = page.render(scale=0.5, grayscale=True).to_numpy()
    high = image.shape[0]
    inked = (image < 200).reshape(high, -1).any(axis=1)
    return max((row for row in range(int(0.93 * high)) if inked[row]), default=0) / high


def test_yen_are_printed_as_a_sign(edited: Callable[..., Any], book: Callable[[Any], Any]) -> None:
    """CLDR writes yen in Japan with a fullwidth sign, which few typefaces have: the plain one is printed."""
    study = edited("hill-studio", ("currency: NZD", "currency: JPY"), ("locale: en_NZ", "locale: ja_JP"))
    data, _ = BY_FILE["proposal.pdf"](run="0001").from_notebook_node(book(study, "proposal"))
    with pypdfium2.PdfDocument(data) as file:
        text = " ".join(page.get_textpage().get_text_bounded() for page in file)
    assert re.search(r"¥\d", text)
    assert "[U+" not in text and "\uffe5" not in text
