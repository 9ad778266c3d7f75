"""Numbers as people type them: read where one reading is possible, refused with the way out where not."""

from typing import Any

import pytest
from pydantic import TypeAdapter, ValidationError

from reportkit.job.model.quantities import Area, Power, Temperature
from reportkit.job.model.typed import Amount, Money, Number


def mend_of(kind: Any, text: str) -> str:
    """Return the mend a value is refused with."""
    with pytest.raises(ValidationError) as caught:
        TypeAdapter(kind).validate_python(text)
    return str(caught.value.errors()[0]["ctx"]["hint"])


@pytest.mark.parametrize(
    ("text", "value"),
    [("12,5", 12.5), ("0,125", 0.125), (" 7 ", 7), ("-.5", -0.5), ("1e3", 1000), ("1.690", 1.69)],
)
def test_plain_numbers(text: str, value: float) -> None:
    """A decimal comma and a decimal point mean the same."""
    assert TypeAdapter(Number).validate_python(text) == value


@pytest.mark.parametrize(
    ("text", "hint"),
    [
        ("1,690.00", "write 1690.00"),
        ("1.690,50", "write 1690.50"),
        ("1 234", "write 1234"),
        ("12'500.5", "write 12500.5"),
        ("1,234,567", "write 1234567"),
        ("1_000", "write 1000"),
        ("1,500", "write 1500 or 1.5"),
    ],
)
def test_grouped_numbers_are_refused_with_the_plain_one(text: str, hint: str) -> None:
    """Thousands separators are refused, and the mend is the number meant."""
    assert mend_of(Number, text) == hint
    assert mend_of(Money, text) == hint


def test_a_sign_is_told_where_it_belongs() -> None:
    """A unit stands in a field's name, a currency at the top of the job."""
    assert mend_of(Number, "$5") == "its unit stands in the field's name"
    assert mend_of(Money, "$5") == "its currency stands under currency, at the top of the job"


def test_money_with_three_decimals_reads_two_ways() -> None:
    """1.690 as money may be 1690 where points group digits."""
    assert mend_of(Money, "1.690") == "write 1690 or 1.69"


def test_quantities_take_their_unit_or_the_jobs() -> None:
    """Areas, temperatures and powers become SI; bare ones take the job's units.

    1 ft2 = 0.09290304 m2 exactly; 12 000 Btu(IT)/h, a ton of refrigeration, is 3516.85 W (NIST SP 811, B.8).
    """
    us = {"default_length": "in"}
    assert TypeAdapter(Area).validate_python("100 ft2") == pytest.approx(9.290304)
    assert TypeAdapter(Area).validate_python("100", context=us) == pytest.approx(9.290304)
    assert TypeAdapter(Area).validate_python("24,5") == 24.5
    assert TypeAdapter(Temperature).validate_python("77", context=us) == pytest.approx(25)
    assert TypeAdapter(Temperature).validate_python("25 C", context=us) == 25
    assert TypeAdapter(Power).validate_python("12000", context=us) == pytest.approx(3516.85, abs=0.01)
    for typed in ("12,000 Btu/h", "12.000 Btu/h"):
        assert mend_of(Power, typed) == "write 12000 or 12.0"
    assert mend_of(Area, "1.125 ft2") == "write 1125 or 1.1250"


def test_amounts_in_the_thousands_read_two_ways() -> None:
    """A height, a month's kWh or a light meter's lux may be in the thousands: 1.200 is two numbers there."""
    for typed in ("1.200", "1,200"):
        assert mend_of(Amount, typed) == "write 1200 or 1.2"
    assert TypeAdapter(Amount).validate_python("1,25") == 1.25
    assert TypeAdapter(Amount).validate_python("0.233") == 0.233
