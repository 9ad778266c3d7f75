"""The column ``shape``: every way to type one, and the faults of one that does not go with its box."""

import math
from fractions import Fraction
from pathlib import Path

import pytest
from pydantic import ValidationError

from reportkit.base.errors import JobError
from reportkit.job import load_job
from reportkit.job.model import Pane
from reportkit.job.writing.starter import write_starter


def pane(shape, units="mm", width="1200 mm", height="1400 mm"):
    """Return a pane of some shape."""
    row = {"id": "A", "room": "r", "face": "f", "glazing": "g", "widths": [width], "heights": [height]}
    return Pane.model_validate(row | {"shape": shape}, context={"default_length": units})


@pytest.mark.parametrize(
    ("typed", "area"),
    [
        ("", 1200 * 1400),
        ("rectangle", 1200 * 1400),
        ("oval", math.pi * 600 * 700),
        ("Half Round", math.pi / 2 * 600 * 1400),  # half an ellipse: its height is not held against it here
        ("arch 600 mm", 1200 * 800 + math.pi / 2 * 600**2),
        ("triangle 0", 1200 * 1400 / 2),
        ("trapezoid 1400 & 900", 1200 * (1400 + 900) / 2),
        ("trapezoid 900 & 1400 mm", 1200 * (1400 + 900) / 2),
        ("polygon 0 x 0 & 1200 x 0 & 1200 x 900 & 700 x 1400 & 0 x 900", 1200 * 900 + 1200 * 500 / 2),
    ],
)
def test_a_shape_has_its_area(typed, area):
    """Areas by the formulae of geometry (from memory)."""
    assert pane(typed or None).area_mm2 == pytest.approx(area)


def test_lengths_are_read_as_anywhere():
    """Fractional inches, millimetres, and the job's own unit for bare numbers: the inch is 25.4 mm."""
    assert pane("arch 11 3/4", "in").shape.lengths == (Fraction("11.75") * Fraction("25.4"),)
    assert pane("arch 300 mm", "in").shape.lengths == (300,)
    assert pane("arch 30 cm").shape.lengths == (300,)
    corners = pane("polygon 0 x 0 & 47 1/4 × 0 & 20 1/2 in x 55", "in").shape.corners
    assert corners[1] == pytest.approx((47.25 * 25.4, 0)) and corners[2] == pytest.approx((520.7, 1397))


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        ("star", "must be rectangle or one of arch"),
        ("arch", "one length, its rise"),
        ("circle 300", "must be circle alone"),
        ("triangle", "from the left edge to the tip"),
        ("trapezoid 900", "two lengths"),
        ("polygon 0 x 0 & 1200 x 0", "three to forty corners"),
        ("polygon 0 x 0 & 1200 & 0 x 900", "three to forty corners"),
        ("arch 0", "rise over 0"),
        ("arch 1,200", "one way only"),
    ],
)
def test_what_lacks_its_lengths_is_refused(typed, told):
    """A word that is none, lengths too few or too many, and lengths that can be read in two ways."""
    with pytest.raises(ValidationError, match=told):
        pane(typed)


@pytest.mark.parametrize(
    ("typed", "column", "told"),
    [
        ("arch 500 mm", "shape", "rise at most half the width"),
        ("arch 1400 mm", "shape", "rise at most the height"),
        ("circle", "shape", "as wide as high"),
        ("half round", "shape", "twice as wide as high"),
        ("triangle 950", "shape", "tip over the pane"),
        ("trapezoid 900 & 1200", "shape", "taller side as high as the pane"),
        ("polygon 0 x 0 & 905 x 1385 & 905 x 0 & 0 x 1385", "shape", "sides that do not cross"),
        ("polygon 0 x 0 & 1200 x 0 & 400 x 1385", "shape", "lie in its box"),
        ("polygon 0 x 0 & 905 x 0 & 400 x 1000", "shape", "reach all sides of its box"),
    ],
)
def test_a_shape_that_does_not_go_with_its_box_is_named(tmp_path: Path, typed, column, told):
    """The starter's first pane, 905 by 1385 mm, given a shape without its diagonals."""
    folder = tmp_path / "sample"
    write_starter(folder, units="metric")
    path = folder / "windows.csv"
    text = path.read_text("utf-8").replace(",,1655,1655,", f",{typed},,,")
    assert typed in text
    path.write_text(text, "utf-8")
    with pytest.raises(JobError) as caught:
        load_job(folder)
    mine = [fault for fault in caught.value.faults if fault.file == "windows.csv"]
    assert [(fault.line, fault.field) for fault in mine] == [(4, column)]
    assert told in mine[0].rule and mine[0].hint


def test_diagonals_are_for_rectangles(tmp_path: Path):
    """A pane with a shape has no diagonals to measure."""
    folder = tmp_path / "sample"
    write_starter(folder, units="metric")
    path = folder / "windows.csv"
    path.write_text(path.read_text("utf-8").replace(",,1655,1655,", ",arch 300 mm,1655,1655,"), "utf-8")
    with pytest.raises(JobError) as caught:
        load_job(folder)
    mine = [fault for fault in caught.value.faults if fault.file == "windows.csv"]
    assert [(fault.field, fault.rule) for fault in mine] == [
        ("diagonal_1", "must be empty for a pane with a shape")
    ]
