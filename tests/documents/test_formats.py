"""Numbers, quantities, money and dates in several locales."""

import datetime as dt
import math
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from reportkit.documents.language.formats import MINUS, MISSING, NBSP, Formats

US = Formats("en-US", units="us", currency="USD")
DE = Formats("de-DE", units="metric", currency="EUR")
FR = Formats("fr-FR", units="metric", currency="EUR")
JP = Formats("ja-JP", units="metric", currency="JPY")


def test_separators_follow_the_locale() -> None:
    """Decimal mark and grouping are those of CLDR for en-US, de-DE and fr-FR (U+202F in French)."""
    assert US.number(1234.5, 1) == "1,234.5"
    assert DE.number(1234.5, 1) == "1.234,5"
    assert FR.number(1234.5, 1) == "1\u202f234,5"
    assert (US.decimal_mark, DE.decimal_mark) == (".", ",")


def test_minus_is_the_minus_sign_and_zero_has_none() -> None:
    """A negative number carries U+2212; one that rounds to zero carries nothing."""
    assert US.number(-3.25, 1) == f"{MINUS}3.3"
    assert US.number(-0.04, 1) == "0.0"
    assert US.money(Decimal("-12.5")) == f"{MINUS}$12.50"


@pytest.mark.parametrize(
    ("locale", "currency", "shown"),
    [
        ("ja-JP", "JPY", "¥5"),
        ("en-US", "JPY", "¥5"),
        ("en-IN", "INR", "₹5.00"),
        ("ka-GE", "GEL", "5,00\xa0GEL"),
    ],
)
def test_money_has_no_sign_that_the_typefaces_lack(locale: str, currency: str, shown: str) -> None:
    """CLDR's fullwidth yen sign is printed plain (Unicode NFKC); a sign no typeface has, as ISO 4217 code."""
    assert Formats(locale, units="metric", currency=currency).money(5) == shown


def test_money_has_the_currency_s_own_places() -> None:
    """Yen has no minor unit and the euro two (ISO 4217); place and space of the sign follow CLDR."""
    assert JP.money(1234) == "¥1,234"
    assert DE.money(Decimal("1234.5")) == f"1.234,50{NBSP}€"
    assert US.money(1234.5, cents=False) == "$1,235"
    assert US.money_range(-120, 344) == f"{MINUS}$120{NBSP}– $340"


@pytest.mark.parametrize(
    ("mm", "shown"),
    [
        (Decimal("904.875"), "35 5/8"),  # 35.625 in exactly, at 25.4 mm to the inch (1959 agreement)
        (25.4, "1"),
        (6.35, "1/4"),
        (1.5875, "1/16"),
        (0, "0"),
        (2641.6, "104"),
    ],
)
def test_inches_are_shown_to_the_sixteenth(mm: float, shown: str) -> None:
    """Lengths for US readers are whole inches and a reduced fraction."""
    assert US.length_mm(mm) == f"{shown.replace(' ', NBSP)}{NBSP}in"


def test_metric_lengths_are_whole_millimetres_without_grouping() -> None:
    """A length in mm has no thousands separator, which could be read as a decimal mark."""
    assert DE.length_mm(2000.4) == f"2000{NBSP}mm"
    assert DE.size_mm(905, 2000) == f"905{NBSP}×{NBSP}2000{NBSP}mm"
    assert US.length_mm(-25.4) == f"{MINUS}1{NBSP}in"


def test_quantities_convert_at_display() -> None:
    """Conversions agree with NIST SP 811 appendix B factors (from memory): Btu/h, ft2, degree Fahrenheit."""
    assert US.temperature(-40) == f"{MINUS}40{NBSP}°F"  # the two scales meet at -40
    assert US.temperature(5) == f"41{NBSP}°F"
    assert US.temperature_difference(10) == f"18{NBSP}°F"
    assert DE.temperature_difference(10) == f"10{NBSP}°C"
    assert US.area(10) == f"107.6{NBSP}ft²"  # 1 ft2 = 0.09290304 m2
    assert US.irradiance(1000) == f"317{NBSP}Btu/h·ft²"  # 1 Btu/(h ft2) = 3.154591 W/m2
    assert US.u_value(5.678263, unit=False) == "1.00"
    assert US.u_value(5.678263) == f"1.00{NBSP}Btu/h·ft²·°F"  # 1 Btu/(h ft2 F) = 5.678263 W/(m2 K)
    assert US.volume(3.785411784) == f"1.0{NBSP}gal"
    assert DE.irradiance(812.4) == f"812{NBSP}W/m²"


def test_significant_digits_and_ranges() -> None:
    """Numbers keep sensible digits, and a range shows its unit once or collapses when its ends agree."""
    assert US.significant(1286) == "1,300"
    assert US.significant(0.01234) == "0.012"
    assert US.power(3180, 3) == f"3,180{NBSP}W"
    assert US.range(1.23, 2, 3.49, "kWh") == f"1.2–3.5{NBSP}kWh"
    assert US.range(10.01, 10.02, 10.03, "h") == f"10{NBSP}h"
    assert US.temperature_range(-20, 10) == f"{MINUS}4{NBSP}– 50{NBSP}°F"  # 9/5 C + 32
    assert US.temperature_range(20.1, 20.2) == f"68{NBSP}°F"
    assert US.range(-5, 0, 12, "h") == f"{MINUS}5{NBSP}– 12{NBSP}h"


def test_percent_follows_the_locale() -> None:
    """German sets a space before the percent sign and English none (CLDR)."""
    assert US.percent(0.614) == "61%"
    assert DE.percent(0.614, 1) == f"61,4{NBSP}%"
    assert DE.percent(-0.1) == f"{MINUS}10{NBSP}%"


def test_dates_and_times() -> None:
    """Dates and clock times are in the locale's order; no narrow space that fonts may lack."""
    day = dt.date(2026, 6, 3)
    assert (US.date(day), DE.date(day)) == ("June 3, 2026", "3. Juni 2026")
    assert (US.day(day), DE.day(day)) == ("June 3", "3. Juni")
    assert US.clock(dt.time(9, 5)) == f"9:05{NBSP}AM"
    assert DE.clock(dt.datetime(2026, 6, 3, 21, 5)) == "21:05"
    assert (US.month(3), DE.month(3, short=False)) == ("Mar", "März")
    assert US.duration_minutes(35) == f"35{NBSP}min"
    assert US.duration_minutes(190) == f"3{NBSP}h 10{NBSP}min"


@pytest.mark.parametrize("missing", [None, float("nan"), float("inf"), Decimal("NaN")])
def test_missing_is_a_dash(missing: object) -> None:
    """No formatter prints nan or None."""
    alone = (
        *(US.number, US.significant, US.percent, US.money, US.length_mm, US.area, US.power, US.energy),
        *(US.temperature, US.temperature_difference, US.duration_minutes, US.angle, US.volume, US.u_value),
    )
    for shown in (*(one(missing) for one in alone), US.range(missing, 1, 2), US.money_range(1, missing)):
        assert shown == MISSING


def test_paper_follows_the_territory() -> None:
    """Letter in the US, A4 in Germany."""
    assert (US.paper, DE.paper) == ("us-letter", "a4")


def test_bad_settings_are_refused() -> None:
    """An unknown locale or unit system is an error that says which."""
    with pytest.raises(ValueError, match="xx-YY"):
        Formats("xx-YY", units="us", currency="USD")
    with pytest.raises(ValueError, match="us or metric"):
        Formats("en-US", units="imperial", currency="USD")  # type: ignore[arg-type]  # the mistake under test


@settings(max_examples=60, deadline=None)
@given(st.floats(-1e7, 1e7), st.integers(1, 4))
def test_significant_rounds_to_its_digits(value: float, digits: int) -> None:
    """What is shown differs from the value by half a unit of the last kept digit at most."""
    shown = US.significant(value, digits).replace(",", "").replace(MINUS, "-")
    step = 10.0 ** (math.floor(math.log10(abs(value))) - digits + 1) if value else 1.0
    assert abs(float(shown) - value) <= step * 0.500001


@settings(max_examples=60, deadline=None)
@given(st.integers(0, 40_000))
def test_inches_are_within_half_a_sixteenth(mm: int) -> None:
    """A shown length is within 1/32 in of the true one."""
    text = US.length_mm(mm, unit=False).split(NBSP)
    total = sum(int(a) / int(b or 1) for a, _, b in (part.partition("/") for part in text))
    assert abs(total * 25.4 - mm) <= 25.4 / 32 + 1e-9
