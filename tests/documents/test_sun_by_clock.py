"""When direct sun stands on each face in June and December, by the clock: where a wrong bearing shows."""

import math

import pytest
from small_job import written

from reportkit.documents.page import Page
from reportkit.documents.sections import SECTIONS
from reportkit.documents.sections.summary import told_in_short
from reportkit.findings.findings import Findings
from reportkit.study import Study

FACES = {
    "faces": [{"id": "west", "name": "Garden", "bearing": "270"}, {"id": "north", "bearing": "0"}],
    "rooms": [{"id": "office"}],
}


@pytest.fixture(scope="module")
def opened(tmp_path_factory):
    """Return a function from changes to the page of the small job with a west and a north face."""

    def made(*changes):
        folder = written(tmp_path_factory.mktemp("clock"), FACES, *changes)
        return Page(Findings(Study.open(folder)))

    return made


def test_the_hours_are_those_of_the_sun_s_course(opened):
    """A west face has sun from solar noon to sunset: cos(hour angle) = -tan(latitude) tan(declination).

    Declination 23.44 degrees; the equation of time is -2 minutes on both days (almanac, from memory); four
    minutes a degree west of the zone's 15; the sun sets some 4 minutes late by refraction.
    """
    west, north = opened().findings.faces
    slope = math.tan(math.radians(41)) * math.tan(math.radians(23.44))
    for month, summer, lean in ((6, 1.0, -slope), (12, 0.0, slope)):
        noon = 12 + 3 * 4 / 60 + summer + (2 / 60 if month == 6 else -2 / 60)
        half_day = math.degrees(math.acos(lean)) / 15 + 4 / 60
        ((start, end),) = west.direct_sun_clock_h[month - 1]
        assert start == pytest.approx(noon, abs=0.17)
        assert end == pytest.approx(noon + half_day, abs=0.17)
    assert len(north.direct_sun_clock_h[5]) == 2 and north.direct_sun_clock_h[11] == ()


def test_they_add_up_to_the_hours_of_direct_sun(opened):
    """Of every month and face: the same count of ten minutes."""
    for face in opened().findings.faces:
        for spans, hours in zip(face.direct_sun_clock_h, face.direct_sun_hours, strict=True):
            assert sum(end - start for start, end in spans) == pytest.approx(hours)


def test_make_tells_them_in_short(opened):
    """One line for all faces, by name; a face without sun says so."""
    (line,) = [line for line in told_in_short(opened()) if line.startswith("Direct sun")]
    line = line.replace("\u00a0", " ")
    assert line.startswith(
        "Direct sun on the 21st, without clouds: Garden, June 13:10 to 20:50, December 12:10 to"
    )
    assert line.endswith("; north, June 05:40 to 09:10, 17:10 to 20:50, December no sun.")


def test_the_basis_has_them_beside_where_a_face_looks(opened):
    """In the reader's own clock."""
    page = opened({"locale": "en_US", "units": "us"})
    table = next(
        block for block in SECTIONS["sun"](page).blocks if getattr(block, "id", "") == "direct-clock"
    )
    told = repr(table.rows).replace("\\xa0", " ").replace("\u202f", " ")
    assert "Garden" in told and "270°" in told and "1:10 PM to 8:50 PM" in told


def test_in_spanish_too(opened):
    """By the reader's words."""
    page = opened({"language": "es", "locale": "es_ES"})
    assert any(
        line.startswith("Sol directo el día 21, sin nubes: Garden, junio: 13:10 a")
        for line in told_in_short(page)
    )
