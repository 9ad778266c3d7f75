"""Frames of a room's windows, from the job's field to the heating, the list of assumptions and its units."""

import re
from dataclasses import replace

import numpy as np
import pytest

from reportkit.base.errors import InputError
from reportkit.documents.page import Page
from reportkit.documents.sections import SECTIONS
from reportkit.findings.findings import Findings
from reportkit.physics.room import envelope
from reportkit.study import Study

#: A heated room in still use: no sun by its pane worth telling, no opening, nothing that shuts heating off.
JOB = """
id: cold
invented: yes
units: UNITS
currency: EUR
rating: en
site: {place: Invented Dale, latitude: 60, longitude: 10, elevation_m: 0, clock: Europe/Oslo}
weather: {use: normals, normals: {source: invented,
  mean_c: [-20, -20, -20, -20, -20, -20, -20, -20, -20, -20, -20, -20],
  daily_range_k: [4, 4, 4, 4, 4, 4, 4, 4, 4, 4, 4, 4],
  sun_kwh_m2_day: [0.2, 0.9, 1.9, 3.1, 4, 4.4, 4.1, 3.2, 2, 1, 0.3, 0.1]}}
complaint: {text: Cold, kinds: [heat], room: hall}
client: {name: Ana Example}
rooms:
  - id: hall
    heat: {floor_area: 30 m2, wall_area: 0 m2, internal_gains_w_m2: 0, heating: {set_point: 20 C}}
fitting: {date: 2026-03-23}
prices: {labour_per_hour: 40}
faces: [{id: north, bearing: 0}]
glazings:
  - {id: unit, lites: [{thickness_mm: 4}, {thickness_mm: 4}], gaps: [{width_mm: 16}], frame: FRAME}
"""
PANES = """id,room,face,glazing,quantity,width,height,opens,frame
N,hall,north,unit,2,1000 mm,1250 mm,no,MATERIAL
"""


def cold(folder, frame="{}", *, material="timber", units="metric", panes=PANES):
    """Return the study of the cold room with a frame."""
    folder.mkdir()
    (folder / "job.yaml").write_text(JOB.replace("FRAME", frame).replace("UNITS", units))
    (folder / "windows.csv").write_text(panes.replace("MATERIAL", material))
    return Study.open(folder)


def test_heating_rises_by_the_hand_worked_loss(tmp_path):
    """Frame 115 mm of U 2.2, spacer .08, two panes of 1 x 1.25 m (area and sum of ISO 10077-1 as in
    tests/physics/room/test_frames.py): 2 x (.5704 x Uf + 4.5 x .08) W/K, against no frame and no spacer.

    Uf over the year is 1/(1/2.2 - 1/25 + 1/h). The room never warms over its set point, so each W/K costs
    8760 h x (air inside - air outside), and the frame's sky loss comes on top (11 K, half the sky, 4.5/h).
    Surfaces are a little colder than the air that is kept at 20 C, so up to 7 % less is lost.
    """
    with_frame = cold(tmp_path / "a", "{width: 115 mm, u_w_m2k: 2.2, spacer_w_mk: 0.08}")
    without = cold(tmp_path / "b", "{width: 0 mm, spacer_w_mk: 0}")
    year, bare = with_frame.room_years[0], without.room_years[0]
    outside = envelope.outside_coefficient(with_frame.weather.wind_speed)
    u = 1 / (1 / 2.2 - 1 / 25 + 1 / outside)
    loss = 2 * (0.5704 * u + 4.5 * 0.08)
    assert year.frames_w_k == pytest.approx(loss, rel=1e-6)
    assert bare.frames_w_k == 0
    sky = 2 * 0.5704 * u * 0.5 * 4.5 / outside * 11
    inputs = year.inputs
    assert np.array_equal(inputs["year_temperature"], bare.inputs["year_temperature"])
    inside = 20 + inputs["set_point"]
    apart = inside + 20 - inputs["year_temperature"]
    expected = 8.76 * inputs["model_losses"] * (loss * apart + sky)
    found = (year.heating - bare.heating).sum(axis=0)[0]
    assert np.all((0.93 * expected < found) & (found < expected))


@pytest.mark.parametrize(
    ("material", "uf", "psi"),
    [("timber", 2.0, 0.06), ("plastic", 2.0, 0.06), ("putty", 2.2, 0.06), ("metal", 5.9, 0.02)],
)
def test_a_frame_not_told_is_that_of_its_material(tmp_path, material, uf, psi):
    """70 mm round 1 x 1.25 m is .3346 m2; U and spacer of ISO 10077-1, annexes, from memory."""
    study = cold(tmp_path / "a", material=material)
    outside = envelope.outside_coefficient(study.weather.wind_speed)
    u = 1 / (1 / uf - 1 / 25 + 1 / outside)
    assert study.room_years[0].frames_w_k == pytest.approx(2 * (0.3346 * u + 4.5 * psi), rel=1e-6)


def test_a_round_pane_has_a_round_frame(tmp_path):
    """A circle of 1 m: frame pi (.57^2 - .5^2) of U 2, spacer .06 along pi (ISO 10077-1; geometry)."""
    round_one = PANES.replace("height,", "height,shape,").replace("1250 mm,no", "1000 mm,circle,no")
    study = cold(tmp_path / "a", panes=round_one)
    outside = envelope.outside_coefficient(study.weather.wind_speed)
    u = 1 / (1 / 2.0 - 1 / 25 + 1 / outside)
    loss = 2 * (np.pi * (0.57**2 - 0.5**2) * u + np.pi * 0.06)
    assert study.room_years[0].frames_w_k == pytest.approx(loss, rel=1e-3)


@pytest.mark.parametrize(
    ("units", "shown"),
    [
        ("metric", ["70 mm", "5.90 W/m²·K", "0.02 W/m·K", "with one some 3.50 W/m²·K"]),
        ("us", ["2 3/4 in", "1.04 Btu/h·ft²·°F", "0.01 Btu/h·ft·°F", "with one some 0.62 Btu/h·ft²·°F"]),
    ],
)
def test_what_was_taken_of_frames_is_printed(tmp_path, units, shown):
    """1 W/m2K is .17611 Btu/h ft2 F, 1 W/mK .57779 Btu/h ft F (NIST SP 811); 70 mm are 2.76 in."""
    study = cold(tmp_path / "a", material="metal", units=units)
    text = re.sub(r"\\xa0|\\u202f|\s", " ", repr(SECTIONS["assumptions"](Page(Findings(study))).blocks))
    for part in shown:
        assert part in text
    assert "ISO 10077-1, annexes, from memory" in text
    told = cold(tmp_path / "b", "{width: 60 mm, u_w_m2k: 3, spacer_w_mk: 0.1}", units=units)
    assert "ISO 10077-1" not in repr(SECTIONS["assumptions"](Page(Findings(told))).blocks)


def test_wall_reckoned_from_the_floor_leaves_out_frames(study_of):
    """A square room's sides less glass and 70 mm of frame all round it (geometry)."""
    base = study_of("harbour-house")
    wide = tuple(
        glazing.model_copy(update={"frame": glazing.frame.model_copy(update={"width": 0})})
        for glazing in base.job.glazings
    )
    job = base.job.model_copy(update={"glazings": wide})
    none = Study(replace(base.loaded, job=job))
    for now, then in zip(base.room_years, none.room_years, strict=True):
        room = next(room for room in base.job.rooms if room.id == now.room)
        if room.heat.wall_area is None:
            panes = [pane for pane in base.job.panes if pane.room == room.id]
            sides = [(float(p.width) / 1e3, float(p.height) / 1e3, p.quantity) for p in panes]
            area = sum(((w + 0.14) * (h + 0.14) - w * h) * n for w, h, n in sides)
            assert then.wall_area_m2 - now.wall_area_m2 == pytest.approx(area)


def test_single_glass_has_no_spacer_to_tell(tmp_path):
    """A field that would do nothing is refused."""
    (tmp_path / "a").mkdir()
    text = JOB.replace("UNITS", "metric").replace("FRAME", "{spacer_w_mk: 0.08}")
    text = text.replace(
        "[{thickness_mm: 4}, {thickness_mm: 4}], gaps: [{width_mm: 16}]", "[{thickness_mm: 4}]"
    )
    (tmp_path / "a" / "job.yaml").write_text(text)
    (tmp_path / "a" / "windows.csv").write_text(PANES.replace("MATERIAL", "timber"))
    with pytest.raises(InputError, match="only sealed units"):
        Study.open(tmp_path / "a")


def test_frames_are_told_in_spanish(tmp_path):
    """Label, value with a decimal comma, source and reason are all translated."""
    study = cold(tmp_path / "a", material="metal")
    job = study.job.model_copy(update={"language": "es", "locale": "es_ES"})
    found = Findings(Study(replace(study.loaded, job=job)))
    text = re.sub(r"\\xa0|\\u202f|\s", " ", repr(SECTIONS["assumptions"](Page(found)).blocks))
    for part in ("calor por los marcos", "5,90 W/m²·K", "ISO 10077-1, anexos, de memoria", "ella, unos 3,50"):
        assert part in text
