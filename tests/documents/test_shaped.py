"""Shaped panes from the survey to the printed page: areas, minutes, blanks, verdicts, outlines."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from reportkit.base.outline import polygon
from reportkit.documents.blocks import Figure, Table, plain
from reportkit.documents.desk import Desk
from reportkit.documents.figures.building import building
from reportkit.documents.figures.canvas import Canvas
from reportkit.documents.figures.elevation import elevation
from reportkit.documents.runs import words_of
from reportkit.documents.sections import SECTIONS
from reportkit.documents.view import Report
from reportkit.job.writing.starter import write_starter
from reportkit.study import Study
from reportkit.study.openings import openable

HEAD = "id,room,face,glazing,quantity,width,height,shape,overhang"
ROWS = {
    "metric": """
AR,study,east,double,1,900,1500,arch 300,600
CI,study,east,double,2,700,700,circle,
TR,study,east,double,1,1000,800,triangle 250,
TZ,study,east,double,1,1100,1400,trapezoid 1400 & 900,
PO,study,east,double,1,1200,1400,polygon 0 x 0 & 1200 x 0 & 1200 x 900 & 700 x 1400 & 0 x 900,
""",
    "us": """
AR,study,east,double,1,36,60,arch 12 1/2,24
CI,study,east,double,2,28,28,circle,
TR,study,east,double,1,40,32,triangle 10,
TZ,study,east,double,1,44,56,trapezoid 56 & 36,
PO,study,east,double,1,48,56,polygon 0 x 0 & 48 x 0 & 48 x 36 & 28 x 56 & 0 x 36,
""",
}


@pytest.fixture(scope="module")
def reports(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Report]:
    """The starter's invented job with a pane of each shape, in both units, its film chosen."""
    made = {}
    for units, rows in ROWS.items():
        folder = Path(tmp_path_factory.mktemp(units)) / "sample"
        write_starter(folder, units=units)
        (folder / "windows.csv").write_text(HEAD + rows, "utf-8")
        path = folder / "job.yaml"
        text = path.read_text("utf-8").replace("compare:", "choice: {job: sample-silver}\ncompare:", 1)
        text = text.replace("  # elevation_m: 20 ", "  elevation_m: 100 ").replace("  # clock:", "  clock:")
        path.write_text(text, "utf-8")
        made[units] = Report(Study.open(folder))
    return made


def said(section, kind, key):
    """Return the texts of a column by the first of its row, in a table of a section."""
    table = next(block for block in section if isinstance(block, Table) and block.id == kind)
    keys = [column.key for column in table.columns]
    return {
        words_of(row.cells[0 if "when" not in keys else keys.index("pane")]).split(" ×")[0]: words_of(
            row.cells[keys.index(key)]
        ).replace("\u00a0", " ")
        for row in table.rows
    }


def test_areas_are_those_of_the_shapes(reports):
    """Pi r^2, half a box, the mean of two sides, a gable (formulae of geometry, from memory)."""
    area = {pane.id: pane.area_m2 for pane in reports["metric"].page.findings.panes}
    assert area["CI"] == pytest.approx(math.pi * 0.35**2)
    assert area["TR"] == pytest.approx(0.4)
    assert area["TZ"] == pytest.approx(1.1 * 1.15)
    assert area["PO"] == pytest.approx(1.2 * 0.9 + 1.2 * 0.5 / 2)
    radius = (0.45**2 + 0.3**2) / 0.6
    turn = 2 * math.asin(0.45 / radius)
    assert area["AR"] == pytest.approx(0.9 * 1.2 + radius**2 / 2 * (turn - math.sin(turn)))
    findings = reports["metric"].page.findings
    assert findings.cutting is not None
    glass = sum(area[piece.pane] * piece.quantity for piece in findings.pieces)
    assert findings.cutting.glass_m2 == pytest.approx(glass)


def test_every_shape_is_slower_trimmed_and_asked_about(reports):
    """1.75 is the middle of 1.5 to 2 (common practice, no source); the blank is the box with its trim."""
    findings = reports["metric"].page.findings
    assert all(line.slowed_by["arch"] == 1.75 for line in findings.labour.panes)
    sizes = {pane.id: (pane.width_mm, pane.height_mm) for pane in findings.panes}
    for piece in findings.pieces:
        assert piece.trimmed_on_glass
        width, height = sizes[piece.pane]
        assert piece.width_mm - width == pytest.approx(piece.height_mm - height)
        assert piece.width_mm > width
    verdicts = {pane.id: pane.screen for pane in findings.panes}
    assert all(verdict is not None and verdict.verdict != "nothing_found" for verdict in verdicts.values())


def test_measures_are_told_from_the_films_side_in_both_units(reports):
    """From inside left is right: a tip at 250 of 1000 is 750 from the left; 10 of 40 inches is 30."""
    told = said(SECTIONS["cutting"](reports["metric"].page), "shape-list", "shape")
    assert told["AR"] == "arch: rises 300 mm over upright sides 1200 mm high"
    assert told["CI"] == "circle"
    assert told["TR"] == "triangle: tip 750 mm from the left"
    assert told["TZ"] == "trapezoid: left 900 mm, right 1400 mm high"
    assert told["PO"].endswith("1: 0 × 0; 2: 1200 × 0; 3: 1200 × 900; 4: 500 × 1400; 5: 0 × 900")
    told = said(SECTIONS["cutting"](reports["us"].page), "shape-list", "shape")
    assert told["AR"] == "arch: rises 12 1/2 in over upright sides 47 1/2 in high"
    assert told["TR"] == "triangle: tip 30 in from the left"
    assert told["TZ"] == "trapezoid: left 36 in, right 56 in high"
    assert told["PO"].endswith("[in]: 1: 0 × 0; 2: 48 × 0; 3: 48 × 36; 4: 20 × 56; 5: 0 × 36")


def test_shapes_are_named_and_drawn(reports):
    """The list of panes and the sheet say the shape; the elevation and the sheet draw one outline a pane."""
    for units, unit in (("metric", "700 × 700 mm, circle"), ("us", "28 × 28 in, circle")):
        page = reports[units].page
        assert said(SECTIONS["panes"](page), "pane-list", "size")["CI"] == unit
        assert "shaped ×1.75" in said(SECTIONS["work"](page), "work-list", "mind")["TR"]
        figures = [block for block in SECTIONS["cutting"](page) if isinstance(block, Figure)]
        assert [figure.id for figure in figures].count("shapes") == 1


@pytest.mark.parametrize("picture", [building, elevation])
def test_pictures_of_the_building_draw_the_shapes(reports, picture, monkeypatch):
    """Each shape takes up its share of its box: pi/4, a half, the mean of two sides, a gable (geometry)."""
    drawn = []
    noted = Canvas.polygons
    monkeypatch.setattr(
        Canvas, "polygons", lambda self, shapes, **look: (drawn.extend(shapes), noted(self, shapes, **look))
    )
    page = reports["metric"].page
    picture(page.findings, page.fmt, page.words)
    fills = []
    for points in drawn:
        across, up = zip(*points, strict=True)
        box = (max(across) - min(across)) * (max(up) - min(up))
        fills.append(polygon(points).area / box)
    expected = [pane.area_m2 * 1e6 / (pane.width_mm * pane.height_mm) for pane in page.findings.panes]
    expected += [math.pi / 4]  # the circle stands twice
    assert sorted(fills) == pytest.approx(sorted(expected), rel=2e-3)


def test_what_opens_is_the_glass_of_the_shapes(reports):
    """The free opening is a share of the glass, not of its box: sum of the areas of geometry above."""
    findings = reports["metric"].page.findings
    glass = sum(pane.area_m2 * pane.quantity for pane in findings.panes)
    assert openable(findings.study.job, "study").glass == pytest.approx(glass)


def test_letters_and_the_desk_name_the_shape(reports):
    """Whoever is asked, or asks, about a pane reads that it is no rectangle."""
    page = reports["metric"].page
    told = [plain(block) for block in SECTIONS["letters"](page)]
    assert "700 × 700 mm, circle" in str(told).replace("\\xa0", " ").replace("\xa0", " ")
    desk = Desk(page.findings.study)
    assert desk.panes["CI"].description.replace("\xa0", " ").endswith("700 × 700 mm, circle")
