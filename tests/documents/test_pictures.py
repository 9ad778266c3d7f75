"""Photos in the documents: with words for those who do not see them, and without hidden data."""

import base64
import io
from pathlib import Path
from typing import Any

import openpyxl
import pikepdf
import pypdf
import pytest
from lxml import html as lxml_html
from PIL import Image, ImageDraw
from PIL.ExifTags import IFD
from survey_book import starter_with_survey_book

from reportkit.app.archive import copy_inputs
from reportkit.base.errors import RunError
from reportkit.documents import Columns, Group, Heading, Paragraph, Picture, Record, Section
from reportkit.documents.layouts import html as html_module
from reportkit.documents.layouts.assemble import assemble
from reportkit.documents.layouts.exporters import BY_FILE, FittingPDF, ProposalHTML, ProposalPDF
from reportkit.documents.layouts.pdf import document
from reportkit.documents.layouts.shown import BLOCKS_MIME
from reportkit.documents.sections.photos import beside_panes, for_the_fitter
from reportkit.documents.view import Report
from reportkit.job.reading.photos import Photo, stripped
from reportkit.study import Study

DEVICE, GPS_DAY = b"Invented Camera 9", b"2026:02:20"


def photo(kind: str = "JPEG", size: tuple[int, int] = (640, 480)) -> bytes:
    """Return a photo that tells its device."""
    image = Image.new("RGB", size, (200, 190, 180))
    ImageDraw.Draw(image).rectangle((40, 40, size[0] // 2, size[1] // 2), fill=(90, 120, 160))
    exif = Image.Exif()
    exif[0x0110] = DEVICE.decode()
    out = io.BytesIO()
    image.save(out, kind, exif=exif)
    return out.getvalue()


JPEG, PNG = stripped(photo(), "JPEG"), stripped(photo("PNG"), "PNG")


def block(content: bytes = JPEG, **changed: Any) -> Picture:
    """Return a picture block."""
    data = base64.b64encode(content).decode("ascii")
    return Picture(**{"alt": 'Pane "W1" <left>', "data": data, "caption": "W1 & W2", **changed})


@pytest.fixture(scope="module")
def pictured(samples: Any) -> Any:
    """A notebook with pictures alone, side by side, in a group, and one that is an input of the record."""
    section = Section(
        "photos",
        [
            Heading("Photos"),
            block(width=0.5),
            Columns([[block(PNG, media_type="image/png", alt="A PNG")], [Paragraph("Beside it.")]]),
            Group([block(source="photos/W1.jpg", alt="An input")]),
        ],
    )
    record = samples.record()
    last = Record(record.document, record.results, {**record.inputs, "photos/W1.jpg": JPEG})
    return samples.executed((section, {"proposal": 1, "fitting": 1}), last=last)


def test_a_picture_needs_words_and_must_be_one() -> None:
    """No words, another kind of file, no base64 or an odd width are refused."""
    for wrong in ({"alt": " "}, {"media_type": "image/png"}, {"data": "?"}, {"width": 0}, {"width": 1.2},
                  {"media_type": "image/svg+xml"}):  # fmt: skip
        with pytest.raises(ValueError, match="must"):
            block(**wrong)
    assert "[Pane" in Section("x", [block()])._repr_mimebundle_()["text/plain"]


def test_html_holds_the_picture_itself(pictured: Any) -> None:
    """Each picture is an img with its words and its bytes; the page's policy lets it show."""
    text, _ = ProposalHTML().from_notebook_node(pictured)
    page = lxml_html.fromstring(text)
    images = page.xpath("//figure[contains(@class, 'photo')]/img")
    assert [image.get("alt") for image in images] == ['Pane "W1" <left>', "A PNG", "An input"]
    sources = [image.get("src").split(",", 1) for image in images]
    assert [start for start, _ in sources] == ["data:image/jpeg;base64", "data:image/png;base64",
                                               "data:image/jpeg;base64"]  # fmt: skip
    assert [base64.b64decode(data) for _, data in sources] == [JPEG, PNG, JPEG]
    (policy,) = page.xpath("//meta[@http-equiv='Content-Security-Policy']/@content")
    assert "img-src data:" in policy
    assert page.xpath("//figure/figcaption/text()")[0] == "W1 & W2"
    assert DEVICE not in text.encode()


def test_pdf_shows_it_tagged_and_archival(pictured: Any) -> None:
    """Both standards are claimed, each picture is a figure with its words, JPEG stays JPEG."""
    data = document(assemble(pictured, "proposal").page)
    with pikepdf.open(io.BytesIO(data)) as file:
        with file.open_metadata() as meta:
            assert (meta["pdfaid:part"], meta["pdfaid:conformance"], meta["pdfuaid:part"]) == ("3", "A", "1")
        figures = [
            obj for obj in file.objects if isinstance(obj, pikepdf.Dictionary) and obj.get("/S") == "/Figure"
        ]
        assert [str(figure.Alt) for figure in figures] == ['Pane "W1" <left>', "A PNG", "An input"]
    shown = [image.image for page in pypdf.PdfReader(io.BytesIO(data)).pages for image in page.images]
    assert {image.size for image in shown} == {(640, 480)}
    assert DEVICE not in data


def test_pdf_keeps_the_shape(samples: Any) -> None:
    """A picture fills its share of the width, and a tall one stops at 75 mm, in its own proportions."""
    for size, share in (((800, 400), 0.5), ((300, 800), 1.0)):
        content = stripped(photo(size=size), "JPEG")
        section = Section("p", [Heading("Photos"), block(content, width=share)])
        data = document(assemble(samples.executed((section, {"proposal": 1})), "proposal").page)
        with pikepdf.open(io.BytesIO(data)) as file:
            drawn = pikepdf.parse_content_stream(file.pages[0])
            moves = [[float(x) for x in operands] for operands, operator in drawn if str(operator) == "cm"]
            scale = [move for move in moves if abs(move[0]) > 20]
        width, height = abs(scale[-1][0]), abs(scale[-1][3])
        assert width / height == pytest.approx(size[0] / size[1], rel=0.01)
        # letter paper less two margins of 21 mm, in points of 1/72 in
        assert width == pytest.approx((612 - 2 * 21 / 25.4 * 72) * 0.5, rel=0.01) if share == 0.5 else (
            height == pytest.approx(75 / 25.4 * 72, rel=0.01)
        )  # fmt: skip


def test_the_notebook_keeps_an_input_once(pictured: Any) -> None:
    """A picture that is one of the inputs is stored there; the section names it only."""
    stored = pictured.cells[0].outputs[0].data[BLOCKS_MIME]["blocks"]
    assert stored[3]["blocks"][0]["data"] == ""
    assert stored[1]["data"] != ""
    page = assemble(pictured, "proposal").page
    assert base64.b64decode(page["blocks"][3]["blocks"][0]["data"]) == JPEG


def test_a_missing_input_is_told(samples: Any) -> None:
    """A picture whose input the record lacks is no blank space but an error."""
    lost = samples.executed((Section("p", [block(source="photos/W9.jpg")]), {"proposal": 1}))
    with pytest.raises(RunError, match=r"photos/W9\.jpg"):
        assemble(lost, "proposal")


def test_attached_inputs_are_the_stripped_ones(pictured: Any) -> None:
    """What the fitter's PDF carries of a photo is what the record holds; the client's carries no input."""
    for exporter in (ProposalPDF, FittingPDF):
        data, _ = exporter().from_notebook_node(pictured)
        with pikepdf.open(io.BytesIO(data)) as file:
            every = {name: file.attachments[name].get_file() for name in file.attachments}
            assert ("inputs/photos/W1.jpg" in every) is (exporter is FittingPDF)
            if exporter is FittingPDF:
                stored = every["inputs/photos/W1.jpg"]
                assert (stored.read_bytes(), stored.mime_type) == (JPEG, "image/jpeg")
            assert not any(DEVICE in one.read_bytes() for one in every.values())


def test_jupyterlab_shows_it() -> None:
    """The section's HTML for the notebook holds the picture, also where the blocks only name it."""
    shown = Section("p", [block(source="photos/W1.jpg")])._repr_mimebundle_()["text/html"]
    (image,) = lxml_html.fromstring(shown).xpath("//img")
    assert base64.b64decode(image.get("src").split(",")[1]) == JPEG
    assert html_module.fragment([]) is not None


def test_sections_place_photos_beside_their_panes(page_of: Any, study_of: Any, tmp_path: Any) -> None:
    """In the proposal each photo stands beside its pane's numbers; the fitter sees filmed panes only."""
    study = study_of("hill-studio")
    shot = Photo(tmp_path / "x.jpg", JPEG, "image/jpeg", 640, 480)
    panes = [pane.id for pane in study.job.panes]
    page = page_of(study, {pane: (f"photos/{pane}.jpg", shot) for pane in panes})
    beside = beside_panes(page, page.findings.panes)
    assert [item.columns[0][0].source for item in beside[1:]] == [f"photos/{pane}.jpg" for pane in panes]
    assert all(pane in item.columns[0][0].alt for pane, item in zip(panes, beside[1:], strict=True))
    fitted = for_the_fitter(page)
    shown = [column[0].source for row in fitted[1:] for column in row.columns]
    pieces = {piece.pane for piece in page.findings.pieces}
    assert shown == [f"photos/{pane}.jpg" for pane in panes if pane in pieces]
    assert "W2" not in pieces  # left bare by the job
    bare = page_of(study)
    assert not bare.photos
    assert beside_panes(bare, bare.findings.panes) == [] == for_the_fitter(bare)


def test_place_and_device_leave_with_no_document(tmp_path: Path, samples: Any) -> None:
    """A telling photo in a job folder: run inputs, pages, PDFs and their attachments hold none of it."""
    folder = tmp_path / "job"
    starter_with_survey_book(folder, "metric")
    (folder / "photos").mkdir()
    exif = Image.Exif()
    exif[0x0110] = DEVICE.decode()
    exif.get_ifd(IFD.GPSInfo).update({1: "S", 2: (36.0, 49.0, 48.0), 29: GPS_DAY.decode()})
    out = io.BytesIO()
    Image.new("RGB", (1600, 1200), (120, 140, 160)).save(out, "JPEG", exif=exif)
    assert DEVICE in out.getvalue() and GPS_DAY in out.getvalue()
    (folder / "photos" / "W1.jpg").write_bytes(out.getvalue())
    book = openpyxl.load_workbook(folder / "windows.xlsx")
    sheet = book["Windows"]
    sheet.cell(3, next(cell.column for cell in sheet[2] if cell.value == "photo")).value = "photos/W1.jpg"
    book.save(folder / "windows.xlsx")

    study = Study.open(folder)
    copy_inputs(study.loaded, tmp_path / "inputs")
    report = Report(study)
    run = samples.executed(
        (report.section("panes"), {"proposal": 1}),
        (Section("photos", [Heading("Photos"), *for_the_fitter(report.page)]), {"fitting": 1, "review": 1}),
        last=report.record(),
    )
    kept = (tmp_path / "inputs" / "photos" / "W1.jpg").read_bytes()
    handed = [path.read_bytes() for path in (tmp_path / "inputs").rglob("*") if path.is_file()]
    assert len(handed) == 3 and Image.open(io.BytesIO(kept)).size == (800, 600)
    shown = 0
    for name, exporter in BY_FILE.items():
        if exporter.kind in ("basis", "letters", "labels"):
            continue  # this notebook has no part of them
        made, _ = exporter().from_notebook_node(run)
        if name.endswith("html"):
            for source in lxml_html.fromstring(made).xpath("//figure[contains(@class, 'photo')]/img/@src"):
                handed.append(base64.b64decode(source.split(",", 1)[1]))
                shown += 1
            handed.append(made.encode())
            continue
        with pikepdf.open(io.BytesIO(made)) as file:
            handed += [file.attachments[key].get_file().read_bytes() for key in file.attachments]
            if exporter.kind == "fitting":
                assert file.attachments["inputs/photos/W1.jpg"].get_file().read_bytes() == kept
            streams = [obj for obj in file.objects if isinstance(obj, pikepdf.Stream)]
            pictures = [obj for obj in streams if obj.get("/Subtype") == "/Image"]
            handed += [obj.read_raw_bytes() for obj in pictures] + [made]
            shown += len(pictures)
    assert shown >= 3  # the proposal twice, and the fitting sheet where the pane gets film
    assert not any(secret in content for content in handed for secret in (DEVICE, GPS_DAY, b"Exif\0\0"))
