"""The PDF read back by other programs (pikepdf and pypdf, general PDF libraries)."""

import io
from collections.abc import Iterator
from itertools import pairwise
from typing import Any

import pikepdf
import pypdf
import pypdfium2
import pytest

from reportkit.documents import Paragraph, Section
from reportkit.documents.layouts import pdf as pdf_module
from reportkit.documents.layouts.assemble import assemble
from reportkit.documents.layouts.pdf import Attachment, document

FILES = (
    Attachment("results.json", b'{"a": 1}\n', "application/json", "data", "All results"),
    Attachment("inputs/photo.bin", bytes(range(256)), "application/octet-stream", "source", "An input"),
)


@pytest.fixture(scope="module")
def proposal(samples: Any) -> bytes:
    """The proposal as PDF, made once."""
    return document(assemble(samples.sample_notebook(), "proposal", run="0001").page, FILES)


def _elements(node: Any) -> Iterator[Any]:
    """Walk the structure tree."""
    children = node.get("/K", [])
    for child in children if isinstance(children, pikepdf.Array) else [children]:
        if isinstance(child, pikepdf.Dictionary) and "/S" in child:
            yield child
            yield from _elements(child)


def _tags(data: bytes) -> list[tuple[str, Any]]:
    with pikepdf.open(io.BytesIO(data)) as file:
        return [(str(e.S), str(e.Alt) if "/Alt" in e else None) for e in _elements(file.Root.StructTreeRoot)]


def _text(data: bytes) -> str:
    return "\n".join(page.extract_text() for page in pypdf.PdfReader(io.BytesIO(data)).pages)


def test_it_claims_both_standards_and_is_tagged(proposal: bytes) -> None:
    """XMP names part 3, conformance A (ISO 19005-3) and UA part 1 (ISO 14289-1); the file is tagged."""
    with pikepdf.open(io.BytesIO(proposal)) as file:
        with file.open_metadata() as meta:
            assert (meta["pdfaid:part"], meta["pdfaid:conformance"]) == ("3", "A")
            assert meta["pdfuaid:part"] == "1"
            assert meta["dc:title"] == "Cooler by the east windows"
        assert bool(file.Root.MarkInfo.Marked)
        assert str(file.Root.Lang).lower() == "en-us"
        assert bool(file.Root.ViewerPreferences.DisplayDocTitle)
        assert "/StructTreeRoot" in file.Root
        assert str(file.docinfo["/Author"]) == "Invented Films & Sons"
        assert str(file.docinfo["/CreationDate"]).startswith("D:20260528")  # Unix time 1 780 000 000
        assert file.Root.OutputIntents[0].S == "/GTS_PDFA1"


def test_structure_has_what_a_reader_needs(proposal: bytes) -> None:
    """Headings do not skip, tables have header cells, lists are lists, each figure has its words."""
    tags = _tags(proposal)
    names = [name for name, _ in tags]
    levels = [int(name[2:]) for name in names if name[:2] == "/H" and name[2:].isdigit()]
    assert levels
    assert all(after <= before + 1 for before, after in pairwise(levels))
    assert names.count("/TH") == 5
    assert names.count("/TR") == 5
    assert {"/L", "/LI", "/Table", "/P", "/Caption"} <= set(names)
    assert [alt for name, alt in tags if name == "/Figure"] == [
        "Two bars.",
        "Left words.",
        "First half.",
        "Second half.",
    ]


def test_attachments_come_back_byte_for_byte(proposal: bytes) -> None:
    """Each attachment has its content, media type, relationship and description (ISO 19005-3, 6.8)."""
    with pikepdf.open(io.BytesIO(proposal)) as file:
        assert len(file.Root.AF) == 2
        for item in FILES:
            spec = file.attachments[item.name]
            stored = spec.get_file()
            assert stored.read_bytes() == item.content
            assert stored.mime_type == item.mime
            assert spec.description == item.description
            assert str(spec.obj.AFRelationship) == f"/{item.relationship.capitalize()}"


def test_fonts_are_embedded(proposal: bytes) -> None:
    """Every font used carries its program, and the text is in the package's typeface."""
    with pikepdf.open(io.BytesIO(proposal)) as file:
        fonts = [
            obj
            for obj in file.objects
            if isinstance(obj, pikepdf.Dictionary) and obj.get("/Type") == "/FontDescriptor"
        ]
        assert fonts
        assert all({"/FontFile2", "/FontFile3"} & set(font.keys()) for font in fonts)
        assert any("SourceSansPro-Regular" in str(font.FontName) for font in fonts)


def test_what_was_typed_is_printed_as_typed(proposal: bytes, samples: Any) -> None:
    """No typed string became markup: each stands in the text as it was written."""
    text = "".join(_text(proposal).split())
    for typed in samples.NASTY:
        if typed.isascii():
            assert "".join(typed.split()) in text
    assert "1,750.75W" in text


def test_pages_carry_number_job_and_run(proposal: bytes) -> None:
    """The foot of each page says job, run and page x of y; the outline holds the headings."""
    reader = pypdf.PdfReader(io.BytesIO(proposal))
    count = len(reader.pages)
    assert count >= 3
    for number, page in enumerate(reader.pages, start=1):
        assert f"page {number} of {count}" in page.extract_text()
        assert "Job DEMO-1, run 0001" in page.extract_text()
    titles = [item.title for item in reader.outline if not isinstance(item, list)]
    assert titles[0] == "What we recommend"


@pytest.mark.parametrize(("paper", "size"), [("a4", (595, 842)), ("us-letter", (612, 792))])
def test_paper_size(samples: Any, paper: str, size: tuple[int, int]) -> None:
    """A4 is 210 x 297 mm (ISO 216); US Letter is 8.5 x 11 in; both in points of 1/72 in."""
    run = samples.executed((samples.first_section(), {"fitting": 1}), last=samples.record("de-DE", paper))
    data = document(assemble(run, "fitting").page)
    with pikepdf.open(io.BytesIO(data)) as file:
        box = [float(edge) for edge in file.pages[0].MediaBox]
        assert (round(box[2]), round(box[3])) == size
        assert str(file.Root.Lang).lower() == "de-de"


def test_same_input_same_bytes(proposal: bytes, samples: Any) -> None:
    """Nothing of the clock or the machine enters the file."""
    assert document(assemble(samples.sample_notebook(), "proposal", run="0001").page, FILES) == proposal


def test_header_row_repeats_and_rows_stay_whole(samples: Any) -> None:
    """A long table shows its header on every page it reaches, and each row's two lines on one page."""
    long = "first part of a reason that is long enough to need a second line on paper, " * 2
    rows = [[f"R{number:03d}", f"{number}.5", f"{long} end{number:03d}"] for number in range(60)]
    columns = [
        samples.Column("a", "Pane"),
        samples.Column("b", "Peak", align="decimal"),
        samples.Column("c", "Reason"),
    ]
    run = samples.executed((Section("t", [samples.Table(columns, rows, caption="Long")]), {"proposal": 1}))
    pages = pypdf.PdfReader(io.BytesIO(document(assemble(run, "proposal").page))).pages
    texts = [" ".join(page.extract_text().split()) for page in pages]
    assert len(texts) > 2
    for text in texts:
        assert "Pane Peak Reason" in text
    for number in range(60):
        assert sum(f"R{number:03d}" in text and f"end{number:03d}" in text for text in texts) == 1


HEBREW, ARABIC = "\u05e2\u05d1\u05e8\u05d9\u05ea", "\u0639\u0631\u0628"


@pytest.mark.parametrize("name", ["Ελένη", "Мария", HEBREW, ARABIC, "हिन्दी", "Zoë Ångström"])
def test_names_in_many_scripts_stay_archival(samples: Any, name: str) -> None:
    """Scripts that the shipped fonts reach keep the archival claim and the name."""
    data = _with_name(samples, name)
    with pikepdf.open(io.BytesIO(data)) as file, file.open_metadata() as meta:
        assert meta["pdfaid:part"] == "3"
    if name not in (HEBREW, ARABIC, "हिन्दी"):  # shaped scripts are read back in another order
        assert name in _text(data)


def _with_name(samples: Any, name: str) -> bytes:
    run = samples.executed((Section("s", [Paragraph(["For ", name, "."])]), {"proposal": 1}))
    return document(assemble(run, "proposal").page, FILES)


@pytest.mark.parametrize("character", ["\ue123", "\U000f0001"])
def test_an_unprintable_character_never_stops_the_document(samples: Any, character: str) -> None:
    """A private-use character, which no archive may hold, becomes its code; a note says so; still tagged."""
    data = _with_name(samples, f"Client {character}{character}!")
    code = f"[U+{ord(character):04X}]"
    text = " ".join(_text(data).split())
    assert f"For Client {code}{code}!." in text
    assert "could not be printed" in text
    with pikepdf.open(io.BytesIO(data)) as file, file.open_metadata() as meta:
        assert "pdfaid:part" not in meta
        assert meta["pdfuaid:part"] == "1"
        assert file.attachments["results.json"].get_file().read_bytes() == FILES[0].content


def test_system_fonts_are_tried_before_giving_up(samples: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    """A name in Chinese uses a system font where there is one; where there is none, its codes are printed."""
    asked: list[tuple[str, bool]] = []

    def only_with_system_fonts(character: str, system_fonts: bool) -> bool:
        asked.append((character, system_fonts))
        return False

    monkeypatch.setattr(pdf_module, "_prints", only_with_system_fonts)
    text = " ".join(_text(_with_name(samples, "中文")).split())
    assert "For [U+4E2D][U+6587]." in text
    assert set(asked) == {("中", False), ("文", False), ("中", True), ("文", True)}


def test_chinese_without_system_fonts_is_known_to_be_unprintable() -> None:
    """The probe agrees with the fonts' own tables: Chinese no, Greek and Devanagari yes."""
    assert not pdf_module._prints("中", False)
    assert pdf_module._prints("Ω", False)
    assert pdf_module._prints("ह", False)


def test_letters_that_join_in_a_picture_cost_only_the_claim(samples: Any) -> None:
    """Devanagari in a picture cannot all be read back: the file claims the look alone, and stays tagged."""
    figure = samples.Figure("day", "A finding", "Its words.", samples.picture("धूसर ३५ बैठक"))
    run = samples.executed((Section("s", [figure]), {"proposal": 1}))
    data = document(assemble(run, "proposal").page, FILES)
    with pikepdf.open(io.BytesIO(data)) as file, file.open_metadata() as meta:
        assert (meta["pdfaid:part"], meta["pdfaid:conformance"]) == ("3", "B")
        assert "pdfuaid:part" not in meta
    assert [alt for name, alt in _tags(data) if name == "/Figure"] == ["Its words."]


def test_a_long_name_in_no_font_is_shortened(samples: Any) -> None:
    """More than three letters in a row become their first and last code; a picture shows a sign for each."""
    name = "".join(chr(0xE100 + number) for number in range(40))
    figure = samples.Figure("day", "A finding", "Its words.", samples.picture(f"pane {name[:2]}"))
    run = samples.executed((Section("s", [Paragraph(["For ", name, "."]), figure]), {"proposal": 1}))
    text = " ".join(_text(document(assemble(run, "proposal").page)).split())
    assert "For [U+E100]…[U+E127]." in text
    assert "pane ??" in text


def test_a_page_nearly_empty_is_taken_in(samples: Any, monkeypatch: Any) -> None:
    """Of documents some sentences longer each those that end on a few lines are set smaller, no others."""

    def pages(count: int) -> list[float]:
        text = (
            "A sentence of an invented document, long enough to fill more than a line of its page, or so. "
            * 2
        )
        section = Section("long", [Paragraph(text) for _ in range(count)])
        page = assemble(samples.executed((section, {"proposal": 1})), "proposal").page
        with pypdfium2.PdfDocument(document(page)) as file:
            return [_reach(sheet) for sheet in file]

    taken = {count: pages(count) for count in range(14, 30, 3)}
    monkeypatch.setattr(pdf_module, "SMALLER", ())
    plain = {count: pages(count) for count in taken}
    few = {count for count, made in plain.items() if len(made) > 1 and made[-1] < 0.16}
    kept = {count for count, made in plain.items() if len(made) == 1 or made[-1] > 0.45}
    assert few and kept
    assert all(len(taken[count]) < len(plain[count]) for count in few)
    assert all(taken[count] == plain[count] for count in kept)


def _reach(page: Any) -> float:
    image = page.render(scale=0.5, grayscale=True).to_numpy()
    high = image.shape[0]
    return max((row for row in range(int(0.93 * high)) if (image[row] < 200).any()), default=0) / high
