"""Film drawn over the client's own photo: from the survey's corners to the picture in the proposal."""

import base64
import io
import shutil
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from reportkit.base.errors import JobError
from reportkit.documents.blocks import Columns
from reportkit.documents.figures.filmed_photo import FilmedPane, filmed_photo, placed
from reportkit.documents.sections.photos import of_rooms
from reportkit.documents.view import Report
from reportkit.job import load_job
from reportkit.physics.glass import look
from reportkit.study import Study

JOBS = Path(__file__).parents[2] / "jobs"
HALF = [(0.0, 0.0), (0.5, 0.0), (0.5, 1.0), (0.0, 1.0)]


def even(grey, size=(200, 100)):
    """Return a photo of one grey as PNG."""
    out = io.BytesIO()
    Image.new("RGB", size, (grey, grey, grey)).save(out, "PNG")
    return out.getvalue()


def pixels(content):
    """Return the pixels of a picture."""
    return np.asarray(Image.open(io.BytesIO(content)).convert("RGB"), dtype=float)


def pane(bare, filmed, *, beyond=1500.0, near=0.0, **more):
    """Return the left half of a photo with a look now and then."""
    return FilmedPane(HALF, look.Pane(*bare), look.Pane(*filmed), beyond, near, **more)


def test_half_the_light_is_drawn_as_half_the_light():
    """Grey 188 is linear .503 (sRGB, IEC 61966-2-1); half of it, .2515, is grey 137: worked out by hand."""
    made = pixels(filmed_photo(even(188), [pane((0.8, 0.0), (0.4, 0.0))]))
    assert made[50, 30] == pytest.approx([137] * 3, abs=2)
    assert made[50, 170] == pytest.approx([188] * 3, abs=2)  # what is no glass stays as photographed


def test_a_mirror_seen_from_outside_is_drawn_brighter():
    """t .8, r .1 between 150 and 1500 cd/m2: 120 through, 150 mirrored; with t .2, r .4: 30 and 600.

    So the light becomes 630 / 270 of what it was; grey 99 is linear .1248, times 2.333 .2911, grey 147.
    """
    made = pixels(filmed_photo(even(99), [pane((0.8, 0.1), (0.2, 0.4), beyond=150.0, near=1500.0)]))
    assert made[50, 30] == pytest.approx([147] * 3, abs=2)


def test_the_same_glass_looks_the_same():
    """Bare glass in the place of bare glass changes nothing, bright or dark, tinted or not."""
    light = np.random.default_rng(7).random((50, 3))
    glass = look.Pane(0.6, 0.2, ("bronze",))
    assert look.other_pane(light, glass, glass, beyond=150.0, near=1500.0) == pytest.approx(light)


def test_tint_and_blur_are_drawn():
    """Bronze leaves more red than blue; film that scatters leaves one even light."""
    made = pixels(filmed_photo(even(150), [pane((0.8, 0.0), (0.4, 0.0, ("bronze",)))]))
    assert made[50, 30][0] > made[50, 30][2] + 20
    out = io.BytesIO()
    Image.fromarray(np.tile(np.arange(200, dtype=np.uint8), (100, 1))).convert("RGB").save(out, "PNG")
    made = pixels(filmed_photo(out.getvalue(), [pane((0.8, 0.0), (0.6, 0.0), scatters=True)]))
    assert np.ptp(made[20:80, 5:95]) < 12 < np.ptp(made[20:80, 105:195])


def test_a_square_in_perspective_keeps_its_lines():
    """Corners go to corners, and diagonals still meet where the photo's do (projective maps keep lines)."""
    corners = [(0.1, 0.2), (0.9, 0.0), (0.8, 1.0), (0.2, 0.7)]
    square = [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)]
    assert np.ravel(placed(corners, square)) == pytest.approx(np.ravel(corners))
    ((x, y),) = placed(corners, [(0.5, 0.5)])
    for (ax, ay), (bx, by) in ((corners[0], corners[2]), (corners[1], corners[3])):
        assert (bx - ax) * (y - ay) == pytest.approx((by - ay) * (x - ax))


def job_with(home, *changes, survey=()):
    """Return the folder of the house by the harbour with text of its job and survey changed."""
    for name in ("_shared", "harbour-house"):
        shutil.copytree(JOBS / name, home / name, ignore=shutil.ignore_patterns("runs", "*.ipynb"))
    for file, pairs in (("job.yaml", changes), ("windows.csv", survey)):
        path = home / "harbour-house" / file
        text = path.read_text("utf-8")
        for old, new in pairs:
            assert text.count(old) >= 1, old
            text = text.replace(old, new)
        path.write_text(text, "utf-8")
    return home / "harbour-house"


@pytest.mark.parametrize(("film", "language"), [("selective-65", "en"), ("uv-clear-85", "es")])
def test_the_proposal_shows_the_film_on_the_own_photo(tmp_path, film, language):
    """Corners of two panes in the survey: beside the photo itself drawn, as dark as the film's values say."""
    study = Study.open(
        job_with(
            tmp_path,
            ("compare:", f"choice: {{job: {film}}}\ncompare:"),
            ("language: en", f"language: {language}"),
        )
    )
    page = Report(study).page
    (columns,) = of_rooms(page)
    assert isinstance(columns, Columns)
    before, drawn = (column[0] for column in columns.columns)
    wanted = "drawn, not photographed" if language == "en" else "dibujado, no fotografiado"
    assert wanted in drawn.caption and page.film(film) in drawn.caption and wanted not in before.caption
    one, two = (look.decoded(pixels(base64.b64decode(shot.data)) / 255, 1) for shot in (before, drawn))
    seen = {
        entry.film: entry.t_visible
        for entry in page.findings.glazings
        if entry.id == "unit-clear" and entry.film in (None, film)
    }
    for x in (200, 400):  # sky through the left and the right glass, 640 pixels wide
        ratio = look.luminance(two[100:110, x : x + 10].mean(axis=(0, 1))) / look.luminance(
            one[100:110, x : x + 10].mean(axis=(0, 1))
        )
        assert ratio == pytest.approx(seen[film] / seen[None], rel=0.08)
    assert two[440:, :60] == pytest.approx(one[440:, :60], abs=0.03)  # the wall


def test_without_corners_the_photo_stands_alone(tmp_path):
    """No corners, nothing drawn."""
    text = (JOBS / "harbour-house" / "windows.csv").read_text("utf-8")
    corners = next(cell for line in text.splitlines() for cell in line.split(";") if "&" in cell)
    (columns,) = of_rooms(Report(Study.open(job_with(tmp_path, survey=((corners, ""),)))).page)
    assert len(columns.columns) == 1


@pytest.mark.parametrize(
    ("wrong", "rule"),
    [
        ("13,9 x 12,9 & 47,5 x 12,9 & 47,5 x 81,1", "four corners"),
        ("13,9 x 12,9 & 47,5 x 12,9 & 13,9 x 81,1 & 47,5 x 81,1", "go round each pane once"),
        ("13,9 x 12,9 & 147,5 x 12,9 & 47,5 x 81,1 & 13,9 x 81,1", "lie in the photo"),
    ],
)
def test_corners_that_cannot_be_are_named(tmp_path, wrong, rule):
    """Three corners, sides that cross, a corner outside: told with the column."""
    text = (JOBS / "harbour-house" / "windows.csv").read_text("utf-8")
    corners = next(cell for line in text.splitlines() for cell in line.split(";") if "&" in cell)
    with pytest.raises(JobError, match=rule) as caught:
        load_job(job_with(tmp_path, survey=((corners, wrong),)))
    assert caught.value.faults[0].field == "photo_corners"


def test_corners_need_a_photo(tmp_path):
    """Corners of no photo are a fault."""
    with pytest.raises(JobError, match="must be given with photo_corners"):
        load_job(job_with(tmp_path, survey=(("photos/L1.jpg", ""),)))
