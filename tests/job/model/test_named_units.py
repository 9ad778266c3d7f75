"""Monthly means as a public table prints them: in the units of the fields' names, or with their own."""

import pytest
from pydantic import ValidationError

from reportkit.job.model import Normals


def means(**changed):
    """Return a year of months, some of them as typed."""
    fields = {"mean_c": ["10"] * 12, "daily_range_k": ["5"] * 12, "sun_kwh_m2_day": ["4"] * 12} | changed
    return Normals.model_validate({**fields, "source": "Example almanac"}, context={"default_length": "in"})


def test_degrees_fahrenheit_and_btu_of_a_us_table():
    """32 F is 0 C, 50 F is 10 C; a range of 18 F is 10 K; 1000 Btu/ft2 3.1546 kWh/m2 (NIST SP 811, B.8)."""
    typed = means(
        mean_c=["32 F", "50 °F", *["10"] * 10],
        daily_range_k=["18 F", *["5"] * 11],
        sun_kwh_m2_day=["1000 Btu/ft2", "14.4 MJ/m2", *["4"] * 10],
    )
    assert typed.mean_c[:3] == pytest.approx((0.0, 10.0, 10.0))
    assert typed.daily_range_k[:2] == pytest.approx((10.0, 5.0))
    assert typed.sun_kwh_m2_day[:3] == pytest.approx((3.1546, 4.0, 4.0), rel=1e-4)


@pytest.mark.parametrize(
    ("field", "text"), [("mean_c", "50 K"), ("sun_kwh_m2_day", "4 W"), ("mean_c", "warm")]
)
def test_another_unit_is_refused(field, text):
    """A unit that is none of the quantity's is told with those that are."""
    with pytest.raises(ValidationError, match="must"):
        means(**{field: [text, *["4"] * 11]})
