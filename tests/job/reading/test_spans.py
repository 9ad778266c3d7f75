"""A range typed for a number is refused with the end to write, or read where a field holds two.

Which end is the worse follows from the field's own meaning: what passes is worse high, what is kept out low.
"""

import pytest

from reportkit.base.errors import JobError
from reportkit.job import load_job
from reportkit.job.reading.specline import read_spec
from tests.small_job import SURVEY, written

FILM = "films.grey."


def fault(folder):
    """Return the only fault of a job."""
    with pytest.raises(JobError) as caught:
        load_job(folder)
    (one,) = caught.value.faults
    return one


def film(**changed):
    """Return the small job's film with fields of its sheet and its own changed."""
    rated = {"visible_transmittance_percent": "42", "solar_transmittance_percent": "38"} | changed.pop(
        "rated", {}
    )
    return {
        "films": [
            {
                "id": "grey",
                "film_class": "ceramic",
                "thickness_um": "50",
                "rated": rated,
                "rolls": [{"width": "1524 mm", "length": "30 m", "price": "600"}],
            }
            | changed
        ]
    }


@pytest.mark.parametrize(
    ("changed", "field", "hint"),
    [
        (
            {"rated": {"solar_transmittance_percent": "12 to 22"}},
            "rated.solar_transmittance_percent",
            "write 22: ",
        ),
        (
            {"rated": {"solar_transmittance_percent": "12-22 %"}},
            "rated.solar_transmittance_percent",
            "write 22: ",
        ),
        ({"rated": {"shgc": "0,45 – 0,55"}}, "rated.shgc", "write 0,55: "),
        ({"rated": {"tser_percent": "de 40 a 60 %"}}, "rated.tser_percent", "write 40: "),
        ({"rated": {"uv_transmittance_percent": "0.1...1"}}, "rated.uv_transmittance_percent", "write 1: "),
        (
            {"rated": {"visible_transmittance_percent": "35 bis 42"}},
            "rated.visible_transmittance_percent",
            "write 42 where glare is the trouble, 35 where daylight is to be kept",
        ),
        ({"thickness_um": "38-50 um"}, "thickness_um", "write 50: "),
        ({"life_years": "15 to 10"}, "life_years", "write 10: "),
        ({"chart": {"max_thickness_mm": "6 to 8 mm"}}, "chart.max_thickness_mm", "write 6: "),
        ({"chart": {"max_area": "2 to 2.5 m2"}}, "chart.max_area", "write 2: "),
    ],
)
def test_a_range_is_refused_with_the_end_to_write(tmp_path, changed, field, hint):
    """In a field of a film, in several languages' ways of writing one."""
    found = fault(written(tmp_path, film(**changed)))
    assert found.field == FILM + field
    assert found.rule == "must be one number, not a range"
    assert found.hint.startswith(hint)


def test_a_range_elsewhere_is_told_by_both_ends(tmp_path):
    """A rate, a length of the survey, and a field about which nothing is known."""
    energy = fault(written(tmp_path, {"energy": {"electricity": {"rate": "0.20-0.30"}}}))
    assert (energy.field, energy.hint[:11]) == ("energy.electricity.rate", "write 0.20:")
    width = fault(written(tmp_path, survey=SURVEY.replace("1000 mm", "990 to 1000 mm")))
    assert (width.field, width.rule) == ("width", "must be one number, not a range")
    assert "up to three readings" in width.hint
    other = fault(written(tmp_path, {"fitting": {"minutes": {"plain": "20-30"}}}))
    assert other.hint.startswith("write 20 or 30: ")


@pytest.mark.parametrize("typed", ["9 to 17", "9-17", "9 a 17 h", ["9 - 17"], ["9", "17"]])
def test_a_field_of_two_numbers_takes_a_range(tmp_path, typed):
    """Hours from one to another are what a range says; a night goes past midnight as typed."""
    room = {"id": "office", "heat": {"floor_area": "20 m2", "occupied_hours": typed}}
    assert load_job(written(tmp_path, {"rooms": [room]})).job.rooms[0].heat.occupied_hours == (9, 17)
    claims = {"claims": {"infrared_rejected_percent": "80", "infrared_band_nm": "900-1000 nm"}}
    assert load_job(written(tmp_path, film(**claims))).job.films[0].claims.infrared_band_nm == (900, 1000)


@pytest.mark.parametrize(
    ("line", "hint"),
    [
        ("VLT 42 % | TSET 12-22 %", "write 22: "),
        ("VLT 42 % | TSER 40 to 60 % | g 0.5", "write 40: "),
        ("VLT 42 %; UV T 0.1 – 1 %", "write 1: "),
        ("VLT 42 %; 38 a 50 micras", "write 50: "),
    ],
)
def test_a_range_in_a_pasted_line_is_told_with_the_end_to_write(line, hint):
    """Once, by the entry it stands in; the others are read."""
    read = read_spec(line)
    assert [wrong.rule for wrong in read.wrong] == ["must be one number, not a range"]
    assert read.wrong[0].hint.startswith(hint)
    assert read.of("rated.visible_transmittance_percent") == 42


def test_other_fields_keep_their_own_faults(tmp_path):
    """A day, a choice and a list of months are no numbers."""
    assert "year-month-day" in fault(written(tmp_path, {"quote": {"date": "3-4"}})).rule
    assert "must be one of" in fault(written(tmp_path, {"rating": "3-4"})).rule
    horizon = {"id": "hill", "points": [["0", "10"], ["180", "10"]], "leafless_months": ["11-3"]}
    assert "range" not in fault(written(tmp_path, {"horizons": [horizon]})).rule


def test_what_only_looks_like_a_range_is_read(tmp_path):
    """A band of wavelengths, an angle behind a number, a negative number and two sides of a film."""
    read = read_spec("VLT 42 % | VLR ext/int 9/12 % | IR rejected (780-2500 nm) 45 % | TSER 51 % at 60°")
    assert not read.wrong
    assert read.of("claims.tser_sun_angle_deg") == 60
    assert load_job(written(tmp_path, {"site": {"latitude": "-41"}})).job.site.latitude == -41
