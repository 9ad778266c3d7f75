"""Lengths as people write them, read exactly; and back to inches."""

from fractions import Fraction

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from reportkit.base import units
from reportkit.base.units import MM_PER_INCH, TwoReadings, inches, parse_length

#: 35 5/8 in is 904.875 mm: 35.625 times 25.4 (inch of 1959)
FORMS = [
    "35 5/8 in",
    '35 5/8"',
    "35-5/8 in",
    "35 - 5/8 in",
    "35⅝ in",
    "35⅝″",
    "35 5⁄8 in",
    "35.6250 in",
    "35,6250 in",
    "35.6250in",
    "35 5/8 inches",
    "35 5/8 inch",
    "35 5/8''",
    "35 5/8 IN",
    "  35   5/8  in ",
    "2 ft 11 5/8 in",
    "2' 11 5/8\"",
    "2′ 11 5/8″",
    "2' 11⅝”",
    "2'11 5/8",
    "2'-11 5/8\"",
    "2 feet 11 5/8 inches",
    "904.8750 mm",
    "904,8750 mm",
    "90.4875 cm",
    "0.904875 m",
    ".904875 m",
    "285/8 in",
]


@pytest.mark.parametrize("text", FORMS)
def test_every_form_of_one_length(text: str) -> None:
    """All ways to write 35 5/8 inches are the same exact length."""
    assert parse_length(text) == Fraction(904875, 1000)


@pytest.mark.parametrize(
    ("text", "default", "mm"),
    [
        ("905", "mm", 905),
        ("90,5", "cm", 905),
        ("35 5/8", "in", Fraction("904.875")),
        ("3/4", "in", Fraction("19.05")),
        ("7'", "in", Fraction("2133.6")),
        ("1/2 in", "mm", Fraction("12.7")),
        ("0", "mm", 0),
        ("1 m", "in", 1000),
    ],
)
def test_bare_numbers_take_the_default_and_units_win(text: str, default: str, mm: Fraction) -> None:
    """A bare number is in the default unit; a unit behind the number always wins."""
    assert parse_length(text, default) == mm


@pytest.mark.parametrize(
    "text",
    [
        "",
        " ",
        "wide",
        "-35 5/8",
        "−12 mm",
        "35 5/8/2",
        "35 9/8 in",
        "35.5 1/2 in",
        "1/0 in",
        "12 mm 3 cm",
        "3 in 2 ft",
        "35 x 20",
        "1.2.3 mm",
        "12 parsec",
        "twelve in",
        "5 5",
        "nan",
        "1e3",
        '"',
        "35 in 3",
        "mm",
        "/2",
        "++4",
    ],
)
def test_what_is_no_length_is_refused(text: str) -> None:
    """Anything that is not one length raises ValueError with a rule in plain words."""
    with pytest.raises(ValueError, match=r"^must "):
        parse_length(text)


@pytest.mark.parametrize(
    ("text", "ways"),
    [
        ("1,200", "1200 or 1.2"),
        ("1.200 mm", "1200 mm or 1.2 mm"),
        ("12,345 mm", "12345 mm or 12.3450 mm"),
        ("35.625 in", "35625 in or 35.6250 in"),
        ("1.000 m", "1000 m or 1.0 m"),
    ],
)
def test_a_length_of_two_readings_is_refused_with_both(text: str, ways: str) -> None:
    """Three digits behind one sign are thousands or a fraction: both are shown, each with one reading."""
    with pytest.raises(TwoReadings) as caught:
        parse_length(text)
    assert caught.value.ways == ways
    first, second = (parse_length(way, "mm") for way in ways.split(" or "))
    assert first > second


@pytest.mark.parametrize("text", ["1,5", "1.25", "0.125", "1,2005", "1200", ".625", "1234.567"])
def test_a_length_of_one_reading_is_read(text: str) -> None:
    """Fewer or more digits, or a 0 or four digits before the sign, leave one reading."""
    assert parse_length(text) == Fraction(text.replace(",", "."))


@pytest.mark.parametrize("text", ["1'200", "1’905 mm", "5' 12\""])
def test_inches_behind_feet_are_under_a_foot(text: str) -> None:
    """1'200 is twelve hundred to some: it isn't one foot and 200 inches."""
    with pytest.raises(ValueError, match="must"):
        parse_length(text)


sixteenths = st.integers(1, 16 * 400)


@settings(max_examples=200, deadline=None)
@given(sixteenths)
def test_all_forms_of_a_length_agree(steps: int) -> None:
    """Whole and fraction, decimals, feet and inches, and millimetres of one length are exactly equal."""
    exact = Fraction(steps, 16) * MM_PER_INCH
    whole, rest = divmod(Fraction(steps, 16), 1)
    fraction = f"{rest.numerator}/{rest.denominator}" if rest else ""
    feet, left = divmod(int(whole), 12)
    texts = [
        f"{whole} {fraction} in" if fraction else f"{whole} in",
        f'{float(Fraction(steps, 16)):.4f}"',
        f"{float(Fraction(steps, 16)):.4f}".replace(".", ",") + " in",
        f"{feet}' {left} {fraction}\"",
        f"{feet} ft {left} {fraction} in",
        f"{steps}/16 in",
        f"{steps * 254}/160 mm",
    ]
    if fraction and whole:
        texts.append(f"{whole}-{fraction} in")
    assert {parse_length(text) for text in texts} == {exact}


@settings(max_examples=100, deadline=None)
@given(sixteenths)
def test_inches_come_back(steps: int) -> None:
    """A length on a sixteenth is shown as that sixteenth, and reading what is shown gives it again."""
    exact = Fraction(steps, 16) * MM_PER_INCH
    whole, rest = inches(exact)
    assert (whole + rest) * MM_PER_INCH == exact
    text = " ".join(part for part in (str(whole), str(rest) if rest else "") if part)
    assert parse_length(text, "in") == exact


@settings(max_examples=100, deadline=None)
@given(st.fractions(min_value=0, max_value=20_000), st.sampled_from([1, 2, 4, 8, 16, 32]))
def test_inches_round_to_the_nearest_step(mm: Fraction, denominator: int) -> None:
    """What is shown is within half a step of the tape, and its fraction is proper."""
    whole, rest = inches(mm, denominator=denominator)
    assert 0 <= rest < 1
    assert abs((whole + rest) - mm / MM_PER_INCH) <= Fraction(1, 2 * denominator)


@settings(max_examples=200, deadline=None)
@given(st.text(max_size=30))
def test_any_text_is_a_length_or_refused(text: str) -> None:
    """No text makes the reader fail in another way, and no length is negative."""
    try:
        length = parse_length(text)
    except ValueError:
        return
    assert length >= 0


@settings(max_examples=60, deadline=None)
@given(st.decimals(min_value="0.001", max_value="9999", places=4))
def test_decimal_comma_and_point_are_the_same(value: object) -> None:
    """90,5 and 90.5 are one number in every unit."""
    text = str(value)
    assume("E" not in text)
    for unit in ("mm", "cm", "m", "in", "ft"):
        assert parse_length(f"{text} {unit}") == parse_length(f"{text.replace('.', ',')} {unit}")


def test_conversions() -> None:
    """Constants against their definitions.

    1 ft = 0.3048 m (1959); 1 Btu(IT) = 1055.05585262 J and 1 US gallon = 3.785411784 L (NIST SP 811,
    appendix B.8); 1 Btu/(h ft2 F) = 5.678263 W/(m2 K) (NIST SP 811, appendix B.9).
    """
    assert units.fahrenheit(100) == 212
    assert units.fahrenheit(-40) == -40
    assert pytest.approx(10.76391, abs=1e-5) == units.SQUARE_FEET_PER_M2
    assert pytest.approx(3600 / 1055.05585262) == units.BTU_PER_HOUR_PER_W
    assert pytest.approx(5.678263, abs=1e-6) == 1 / units.BTU_PER_HOUR_FT2_F_PER_W_M2K
    assert pytest.approx(0.2641720, abs=1e-7) == units.GALLONS_PER_LITRE
