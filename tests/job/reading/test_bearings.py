# ruff: noqa: E501 -- sentences in one string
"""The way a face looks, from a map, from the sun and from a compass, against examples worked elsewhere."""

import pytest
from small_job import written

from reportkit.base.errors import JobError
from reportkit.job import load_job
from reportkit.job.reading.bearings import course, field_at
from reportkit.job.reading.told import told


def _face(tmp_path, **face):
    return written(tmp_path, {"faces": [{"id": "west", **face}]})


def _bearing(tmp_path, **face):
    return load_job(_face(tmp_path, **face)).job.faces[0].bearing


def _fault(tmp_path, **face):
    with pytest.raises(JobError) as caught:
        load_job(_face(tmp_path, **face))
    (fault,) = caught.value.faults
    return fault


def test_a_course_is_that_of_the_worked_line():
    """Between two survey stations 54972.271 m apart: forward 306°52'05.37", back 127°10'25.07".

    Geodetic datum's technical manual (Australia, worked example of Vincenty's formulae), from memory. In the
    middle of the way the bearing is half-way between the forward one and the turned back one.
    """
    first = (-(37 + 57 / 60 + 3.72030 / 3600), 144 + 25 / 60 + 29.52440 / 3600)
    second = (-(37 + 39 / 60 + 10.15610 / 3600), 143 + 55 / 60 + 35.38390 / 3600)
    forward, back = 306 + 52 / 60 + 5.37 / 3600, 127 + 10 / 60 + 25.07 / 3600 + 180
    bearing, apart = course((first, second))
    assert bearing == pytest.approx((forward + back) / 2, abs=0.01)
    assert apart == pytest.approx(54972.271, rel=1e-4)


def test_a_course_over_the_date_line():
    """From 179.9 E to 179.9 W the way is east, and short."""
    bearing, apart = course(((0.0, 179.9), (0.0, -179.9)))
    assert (bearing, apart) == (
        90.0,
        pytest.approx(0.2 * 111_319.49, rel=1e-6),
    )  # a degree of the equator, WGS 84


@pytest.mark.parametrize(
    ("side", "bearing", "point"), [("right", 90.0, "east"), ("left", 270.0, "west"), ("Left", 270.0, "west")]
)
def test_a_face_beside_a_street(tmp_path, side, bearing, point):
    """Walking north, east is to the right."""
    street = {"points": [["41.00000", "12.00000"], ["41.00108", "12.00000"]], "side": side}
    loaded = load_job(_face(tmp_path, street=street))
    assert loaded.job.faces[0].bearing == bearing
    assert f"west looks to {bearing:.1f}°, {point}, by two points of a map along the wall." in told(loaded)


def test_points_too_coarse_or_of_another_place_are_named(tmp_path):
    """Three decimals are 111 m: over 120 m they tell no bearing. North and east exchanged lie far away."""
    coarse = {"points": [["41.000", "12.000"], ["41.001", "12.000"]], "side": "left"}
    fault = _fault(tmp_path, street=coarse)
    assert (fault.field, fault.rule) == ("faces.west.street.points", "must tell the street within 15 degrees")
    turned = {"points": [["12.00000", "41.00000"], ["12.00000", "41.00108"]], "side": "left"}
    assert "within 20 km of the site" in _fault(tmp_path, street=turned).rule


def test_points_that_leave_a_doubt_are_taken_and_the_doubt_is_told(tmp_path):
    """Four decimals are 11 m: half of it at both ends is 7.4 degrees over 120 m. The sun's azimuth turns at its
    rising by 15 degrees times the sine of the latitude in an hour (any textbook of the sun, from memory), and
    hardly slower by day: 9.8 at 41 N, so that 7.4 degrees are 45 minutes, told as up to 50.
    """
    rough = {"points": [["41.0000", "12.0000"], ["41.0011", "12.0000"]], "side": "right"}
    loaded = load_job(_face(tmp_path, street=rough))
    line = next(line for line in told(loaded) if line.startswith("west looks to"))
    assert line.startswith(
        "west looks to 90° ± 7°, east, by two points of a map along the wall; the sun may come"
    )
    assert "up to 50 minutes before or after" in line or "up to 45 minutes before or after" in line
    (note,) = (note for note in loaded.defaults if note.field == "faces.west.bearing")
    assert note.value == "90° ± 7°"


def test_near_the_equator_the_sun_hardly_turns(tmp_path):
    """At an equinox it stays in the east all the morning there: no number of minutes is told."""
    rough = {"points": [["0.0000", "12.0000"], ["0.0011", "12.0000"]], "side": "right"}
    site = {"latitude": "0", "longitude": "12", "elevation_m": "0", "clock": "Etc/GMT-1"}
    face = {"id": "west", "street": rough}
    lines = told(load_job(written(tmp_path, {"site": site, "faces": [face]})))
    assert any("two hours or more before or after" in line for line in lines)


#: NREL/TP-560-34302, appendix A.5: the sun's azimuth is 194.34024 at 12:30:30, seven hours behind Greenwich.
NREL = {"latitude": "39.742476", "longitude": "-105.1786", "elevation_m": "1830", "clock": "Etc/GMT+7"}


@pytest.mark.parametrize(("sun", "bearing"), [("comes", 284.34), ("goes", 104.34)])
def test_a_face_along_which_the_sun_lies(tmp_path, sun, bearing):
    """A right angle from the published azimuth; the half minute that a clock leaves out turns it by .15."""
    face = {"id": "west", "grazing": {"date": "2003-10-17", "time": "12:30", "sun": sun}}
    loaded = load_job(written(tmp_path, {"site": NREL, "faces": [face]}))
    assert loaded.job.faces[0].bearing == pytest.approx(bearing, abs=0.3)


def test_the_sun_of_the_south_turns_the_other_way(tmp_path):
    """South of the tropics the noon sun goes from east over north to west: it comes on a western face then."""
    site = {"latitude": "-41", "longitude": "15", "elevation_m": "0", "clock": "Etc/GMT-1"}
    face = {"id": "west", "grazing": {"date": "2026-06-21", "time": "12:00 PM", "sun": "comes"}}
    loaded = load_job(written(tmp_path, {"site": site, "faces": [face]}))
    assert loaded.job.faces[0].bearing == pytest.approx(270, abs=2)


def test_a_sun_that_is_down_or_turns_fast_is_named(tmp_path):
    """At midnight no sun grazes a wall; near the zenith its bearing turns faster than a watch can tell."""
    night = {"date": "2026-06-21", "time": "00:30", "sun": "comes"}
    assert _fault(tmp_path, grazing=night).rule == "must be a time at which the sun is up"
    site = {"latitude": "23.4", "longitude": "15", "elevation_m": "0", "clock": "Etc/GMT-1"}
    face = {"id": "west", "grazing": {"date": "2026-06-21", "time": "12:00", "sun": "comes"}}
    with pytest.raises(JobError, match="turns less than 5 degrees"):
        load_job(written(tmp_path, {"site": site, "faces": [face]}))
    sloped = {"date": "2026-06-21", "time": "16:30", "sun": "goes"}
    assert "not upright" in _fault(tmp_path, tilt="45", grazing=sloped).rule


@pytest.mark.parametrize(
    ("year", "height", "latitude", "longitude", "declination"),
    [(2025.0, 0, 80, 0, 1.28), (2025.0, 0, 0, 120, -0.16), (2025.0, 0, -80, 240, 68.78),
     (2025.0, 100, 80, 0, 0.85), (2027.5, 0, 80, 0, 2.59), (2027.5, 0, 0, 120, -0.24),
     (2027.5, 0, -80, 240, 68.49)],
)  # fmt: skip
def test_declination_is_the_models(year, height, latitude, longitude, declination):
    """Test values of the World Magnetic Model 2025 technical report, from memory."""
    assert field_at(latitude, longitude, height, year)[0] == pytest.approx(declination, abs=0.005)


def test_a_compass_is_turned_to_true_north(tmp_path):
    """At 0 N 120 E the model's declination of mid 2027 is -0.24: west, so the true bearing is less."""
    site = {"latitude": "0", "longitude": "120", "elevation_m": "0", "clock": "Etc/GMT-8"}
    face = {"id": "west", "compass": {"reading": "265", "date": "2027-07-02"}}
    loaded = load_job(written(tmp_path, {"site": site, "faces": [face]}))
    assert loaded.job.faces[0].bearing == 264.8
    assert "west looks to 264.8°, west, by compass; its declination there and then is -0.2°." in told(loaded)


def test_a_compass_where_and_when_no_model_helps(tmp_path):
    """Next to a magnetic pole a needle points down; for 2035 there is no model yet."""
    assert "between 2010 and 2030" in _fault(tmp_path, compass={"reading": "10", "date": "2035-01-01"}).rule
    site = {"latitude": "85", "longitude": "140", "elevation_m": "0", "clock": "Etc/GMT-9"}
    face = {"id": "west", "compass": {"reading": "10"}}
    with pytest.raises(JobError, match="further from the magnetic poles"):
        load_job(written(tmp_path, {"site": site, "faces": [face]}))


def test_one_way_and_only_one(tmp_path):
    """A bearing told twice is a fault, and so is none; the hint names the ways there are."""
    compass = {"reading": "265"}
    assert "not also by compass" in _fault(tmp_path, bearing="260", compass=compass).rule
    fault = _fault(tmp_path, name="Yard")
    assert (fault.field, fault.rule) == ("faces.west.bearing", "must be given")
    assert "street" in fault.hint
