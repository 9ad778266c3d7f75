"""Weather that is off or far away: mended, told on the faces and in the ranking, and in wider ranges."""

import re

import numpy as np
import pytest

from reportkit import climate
from reportkit.documents.sections.choice import which_panes
from reportkit.documents.sections.sun import sun
from reportkit.study import Study
from reportkit.study.unknowns import unknowns


def file_of(path, weather, *, clock):
    """Write a year as an .epw whose header names another clock than its rows are on [h from UTC]."""
    site = ("LOCATION,Invented Field,XX,XXX,invented,000000", weather.latitude, weather.longitude, clock)
    lines = [
        ",".join(map(str, (*site, weather.elevation))),
        *("-",) * 6,
        "DATA PERIODS,1,1,Data,Sunday,1/1,12/31",
    ]
    for k, when in enumerate(weather.times.tz_convert("Etc/GMT+5")):
        air, dew = weather.temp_air[k], weather.dew_point[k]
        sky = (weather.ghi[k], weather.dni[k], weather.dhi[k])
        cells = [2001, when.month, when.day, when.hour + 1, 0, "x", air, dew, 70, weather.pressure[k]]
        cells += [0, 0, 300, *sky, 0, 0, 0, 0, 180, weather.wind_speed[k], 5, 5, 10.0, 9999, 9, 999999999]
        lines.append(",".join(map(str, [*cells, 10, 0.1, 0, 88, 0.2, 0.0, 1.0])))
    path.write_text("\n".join(lines) + "\n", "utf-8")


@pytest.fixture(scope="module")
def shop(edited, tmp_path_factory):
    """Return the corner shop under a file of Greensboro's public year whose clock is off by 40 minutes."""
    study = edited("corner-shop", ("use: shipped\n  name: miami", "use: shipped\n  name: greensboro"))
    folder = study.loaded.folder
    text = (folder / "job.yaml").read_text("utf-8")
    text = text.replace("use: shipped\n  name: greensboro", "use: file\n  file: field.epw")
    (folder / "job.yaml").write_text(text, "utf-8")
    file_of(folder / "field.epw", climate.shipped_year("greensboro", year=2026), clock=-5 - 40 / 60)
    return study, Study.open(folder)


def said(section):
    """Return the text of a section's paragraphs and lists."""
    return re.sub(r"\s+", " ", str(section.blocks)).replace("\\xa0", " ")


def test_a_clock_that_is_off_is_told_on_the_faces_and_in_the_ranking(shop, page_of):
    """From the job's file to the page: mended, the faces are those of the right year, and both say it."""
    right, off = shop
    page = page_of(off)
    found = page.findings
    assert "clock was 40 minutes" in found.weather.doubts[0]
    for face, true in zip(found.faces, page_of(right).findings.faces, strict=True):
        assert face.annual_kwh_m2 == pytest.approx(true.annual_kwh_m2, rel=0.01)
        assert face.doubts == found.weather.doubts
    moved = {face.id: face.mended_fraction for face in found.faces}
    assert abs(moved["east"]) > 0.04 and moved["east"] * moved["west"] < 0
    assert found.which_panes.doubts == found.weather.doubts
    assert "Mind the weather: the weather file" in said(sun(page))
    assert "more than by the weather file as it stands" in said(sun(page))
    assert "Mind the weather: the weather file" in said(which_panes(page))


def test_good_weather_is_not_doubted(study_of, page_of):
    """A public year at its own place has neither a doubt nor a share mended, and no sentence about it."""
    page = page_of(study_of("corner-shop"))
    assert not page.findings.weather.doubts
    assert all(face.mended_fraction is None and not face.doubts for face in page.findings.faces)
    assert "Mind the weather" not in said(sun(page)) + said(which_panes(page))


def test_weather_from_afar_and_from_below_is_told_with_wider_ranges(edited, page_of):
    """200 km away and 1000 m higher: 6.5 K colder (ISO 2533), wider ranges, and the page says it in miles."""
    place = "site:\n  latitude: 27.6\n  longitude: -80.3\n  elevation_m: 1000"
    study = edited("corner-shop", ("site:", place))
    near = climate.shipped_year("miami", year=study.weather.times[0].year, timezone=study.loaded.clock)
    assert near.temp_air - study.weather.temp_air == pytest.approx(np.full(8760, 6.5), abs=0.05)
    body = next(room.heat for room in study.job.rooms if room.heat)
    wide, usual = (
        {row.key: row for row in unknowns(body, weather, study.job.energy, None)}
        for weather in (study.weather, near)
    )
    assert wide["year_sun"].high - 1 == pytest.approx(0.06 + 0.036 + 0.03, abs=0.002)
    assert wide["year_temperature"].low < usual["year_temperature"].low - 2.5
    told = said(sun(page_of(study)))
    assert "124 mi away" in told and "ft above the weather" in told and "11.7 °F colder" in told
    assert page_of(study).findings.weather.distance_km == pytest.approx(200, abs=2)
