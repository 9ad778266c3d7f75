"""The sun itself in the window of a seat: when, how bright, and what the pages say of it."""

import re
from dataclasses import replace

import numpy as np
import pytest

from reportkit.documents.sections import asked
from reportkit.documents.sections.sun import sun
from reportkit.findings.findings import Findings
from reportkit.job.model import WeatherChoice
from reportkit.study import Study


def said(section):
    """Return the text of a section's blocks."""
    return re.sub(r"\s+", " ", str(section.blocks)).replace("\\xa0", " ")


def by_rays(study, index):
    """Return the hours at which the ray from the seat to the sun goes through a pane, by vectors.

    A cross-check: the eye is 1 m from the pane's plane, 1.2 m over the floor, before the pane's middle.
    """
    pane, face = study.job.panes[index], study.job.faces[study.sun.face_of[index]]
    place = study.sun.position
    up, turn = np.radians(place.elevation), np.radians(place.azimuth)
    to_sun = np.stack([np.cos(up) * np.sin(turn), np.cos(up) * np.cos(turn), np.sin(up)], axis=1)
    bearing = np.radians(face.bearing)
    out = np.array([np.sin(bearing), np.cos(bearing), 0.0])
    right = np.array([np.cos(bearing), -np.sin(bearing), 0.0])
    ahead = to_sun @ out
    at = to_sun / np.where(ahead > 1e-6, ahead, np.nan)[:, None]
    sill = 0.9 if pane.sill is None else float(pane.sill) / 1000
    height = 1.2 + at[:, 2]
    with np.errstate(invalid="ignore"):
        through = (np.abs(at @ right) <= float(pane.width) / 2000) & (height >= sill)
        return through & (height <= sill + float(pane.height) / 1000)


def test_hours_in_view_are_those_of_rays(study_of):
    """The hours by month and clock are those whose ray goes through the pane while it shines and is used."""
    study = study_of("corner-shop")
    found = Findings(study).sun_in_view
    index = next(number for number, pane in enumerate(study.job.panes) if pane.id == found.pane)
    assert study.complained[index]
    hour, month = np.asarray(study.weather.times.hour), np.asarray(study.weather.times.month)
    lit = by_rays(study, index) & (study.sun.panes.beam[:, index] > 0) & (study.weather.dni > 120)
    lit &= (hour >= 8) & (hour < 20)  # the shop's occupied hours
    assert found.hours == lit.sum() > 20
    counted = np.array(found.by_month_and_clock_h)
    for number in range(1, 13):
        assert counted[number - 1].sum() == lit[month == number].sum()
    assert counted[:, 13:].sum() == 0 or study.job.faces[study.sun.face_of[index]].bearing > 120


def test_film_dims_the_disc_by_what_it_lets_in_at_that_angle(study_of):
    """Luminance falls as visible transmittance does, and stays millions of times over what eyes bear."""
    found = Findings(study_of("corner-shop")).sun_in_view
    bare, *filmed = found.options
    assert bare.id == "nothing" or bare.t_visible == max(entry.t_visible for entry in found.options)
    assert 1e8 < bare.disc_cd_m2 < 1.6e9
    assert filmed
    for entry in filmed:
        if entry.disc_cd_m2 is not None:
            assert entry.disc_cd_m2 / bare.disc_cd_m2 == pytest.approx(entry.t_visible / bare.t_visible)
            assert entry.t_visible > 1000 * found.filter_t_visible


def test_the_pages_say_when_and_how_bright(study_of, page_of):
    """Page one says the hours and what stops it; the sun's section has table, disc and caution."""
    page = page_of(study_of("corner-shop"))
    hours = page.fmt.significant(page.findings.sun_in_view.hours)
    line = next(text for text in asked.sentences(page) if "Light at the eye" in text)
    assert f"For {hours} hours a year the sun itself stands in the window" in line.replace("\xa0", " ")
    told = said(sun(page))
    disc = page.findings.sun_in_view.options[0].disc_cd_m2 / 3.426259 / 1e6  # footlamberts: NIST SP 811, B.8
    assert f"its disc has {page.fmt.significant(disc)} million fL through the glass as it is and" in told
    assert "No window film makes the sun comfortable or safe to look at" in told
    assert "Seated 3 ft" in told or "seated 3 ft" in told


def test_nothing_of_it_where_glare_is_not_complained_of(study_of, page_of):
    """A job that complains of heat alone has neither the record nor the heading."""
    study = study_of("corner-shop")
    complaint = study.job.complaint.model_copy(update={"kinds": ("heat",)})
    other = Study(replace(study.loaded, job=study.job.model_copy(update={"complaint": complaint})))
    page = page_of(other)
    assert page.findings.sun_in_view is None
    assert "sun itself" not in said(sun(page))


def test_clear_days_count_the_twenty_first_of_each_month(study_of, page_of):
    """Without a year of weather the hours are those of twelve clear days, and said so."""
    study = study_of("corner-shop")
    job = study.job.model_copy(update={"weather": WeatherChoice(use="clear_days")})
    page = page_of(Study(replace(study.loaded, job=job)))
    seen = page.findings.sun_in_view
    assert not seen.whole_year and 0 < seen.hours < 12 * 12
    assert "On the 21st of each month without clouds, by the sun" in said(sun(page))
