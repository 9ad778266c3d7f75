"""Lengths as people write them, and the few conversions the program needs.

Everything inside is SI (lengths of panes and rolls in exact millimetres, as fractions); a length is
read once, where a person typed it, and turned back into inches only to be shown.

The inch is exactly 25.4 mm (international yard and pound agreement, 1959).
"""

from __future__ import annotations

import re
from decimal import Decimal
from fractions import Fraction

from reportkit.base.translatable import Translatable, translatable

MM_PER_INCH = Fraction(254, 10)
MM_PER_FOOT = 12 * MM_PER_INCH
KM_PER_MILE = 1.609344

#: Unit words and signs people write behind a length, and their size in millimetres.
LENGTH_UNITS: dict[str, Fraction] = {
    "mm": Fraction(1),
    "cm": Fraction(10),
    "m": Fraction(1000),
    '"': MM_PER_INCH,
    "in": MM_PER_INCH,
    "inch": MM_PER_INCH,
    "inches": MM_PER_INCH,
    "'": MM_PER_FOOT,
    "ft": MM_PER_FOOT,
    "foot": MM_PER_FOOT,
    "feet": MM_PER_FOOT,
}

_SIGNS = str.maketrans(
    {
        "″": '"',
        "”": '"',
        "“": '"',
        "′": "'",
        "’": "'",
        "‘": "'",
        "−": "-",
        "⁄": "/",
        "\u00a0": " ",
        "\u202f": " ",
    }
)
_VULGAR = {
    "½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8",
    "⅓": "1/3", "⅔": "2/3", "⅕": "1/5", "⅙": "1/6",
}  # fmt: skip

_NUMBER = r"\d+(?:[.,]\d+)?|[.,]\d+"
_FRACTION = r"\d+\s*/\s*\d+"
_TERM = re.compile(
    rf"\s*(?:(?P<only>{_FRACTION})|(?P<whole>{_NUMBER})(?:\s*[ -]\s*(?P<extra>{_FRACTION}))?)"
    r"\s*(?P<unit>''|\"|'|mm|cm|m|inches|inch|in|feet|foot|ft)?\.?(?![A-Za-z])",
    re.IGNORECASE,
)


#: One sign with three digits behind it and one to three before: a fraction, or thousands?
_TWO_WAYS = re.compile(r"([1-9]\d{0,2})[.,](\d{3})")


class TwoReadings(ValueError):
    """A number that may be a fraction or thousands; ``ways`` are both, each as it is read one way only."""

    def __init__(self, *ways: str) -> None:
        self.ways = alternatives(*ways)
        super().__init__(
            translatable("must be a length that can be read one way only: write {ways}", ways=self.ways)
        )


#: A length as a sentence tells it: in millimetres, in both units, with inches first.
_IN_MM, _IN_BOTH, _IN_INCHES = "{mm:g} mm", "{mm:g} mm ({inches:.4g} in)", "{inches:.4g} in ({mm:g} mm)"


def mm_told(mm: float | Fraction) -> str:
    """Return a length [mm] for a sentence, ``905 mm``; `inches_first` knows it again."""
    return translatable(_IN_MM, mm=float(mm))


def length_told(mm: float | Fraction, inches: float | None = None) -> str:
    """Return a length for a sentence in both units, ``905 mm (35.63 in)``; `inches_first` knows it again.

    Parameters
    ----------
    mm
        The length [mm].
    inches
        The length in inches where a round number is meant.
    """
    return translatable(_IN_BOTH, mm=float(mm), inches=float(mm) / 25.4 if inches is None else inches)


def inches_first(text: str) -> str:
    """Return a sentence whose lengths are told in inches, with millimetres in brackets."""
    if not isinstance(text, Translatable):
        return text
    if text.template in (_IN_MM, _IN_BOTH):
        return translatable(_IN_INCHES, **{"inches": text.values["mm"] / 25.4} | dict(text.values))
    return Translatable(text.template, {name: inches_first(value) for name, value in text.values.items()})


def alternatives(one: str, other: str = "") -> str:
    """Return what to write in one way, or in one of two."""
    return translatable("{one} or {other}", one=one, other=other) if other else one


def two_readings(number: str) -> tuple[str, str] | None:
    """Return both readings of ``1,200`` or ``1.200``, written so that neither has another; None where one is.

    Three digits behind a single point or comma are thousands to one reader and a fraction to another. Where
    the third digit of the fraction counts, one more digit shows that it is one: ``35.625`` is ``35.6250``.
    """
    match = _TWO_WAYS.fullmatch(number.lstrip("+-"))
    if match is None:
        return None
    sign, (whole, part) = "-" if number.startswith("-") else "", match.groups()
    fraction = f"{part}0" if part[-1] != "0" else part.rstrip("0") or "0"
    return f"{sign}{whole}{part}", f"{sign}{whole}.{fraction}"


def parse_length(text: str, default: str = "mm") -> Fraction:
    """Read a length as fitters write it and return exact millimetres.

    Accepts ``35 5/8``, ``35-5/8"``, ``2' 11 5/8"``, ``905 mm``, ``90,5 cm``, ``1.2 m``, ``35⅝ in``.

    Parameters
    ----------
    text
        The length as typed. A decimal comma and a decimal point mean the same; a length has no
        thousands separators.
    default
        The unit of a number that carries none: a key of ``LENGTH_UNITS``.

    Returns
    -------
    Fraction
        Length [mm], exact.

    Raises
    ------
    ValueError
        If the text is not one length. The message says what is wrong in plain words.
    TwoReadings
        If it can be read in two ways, as ``1,200``.
    """
    cleaned = str(text).strip().translate(_SIGNS)
    for sign, plain in _VULGAR.items():
        cleaned = cleaned.replace(sign, f" {plain}")
    cleaned = re.sub(r"\s+", " ", cleaned).strip()
    if not cleaned:
        raise ValueError(translatable("must be a length"))
    if cleaned.startswith("-"):
        raise ValueError(translatable("must be over 0"))
    total = Fraction(0)
    position = 0
    last_unit: Fraction | None = None
    while position < len(cleaned):
        match = _TERM.match(cleaned, position)
        if match is None or match.end() == position:
            raise ValueError(translatable("must be one length, such as 905 mm, 90.5 cm or 35 5/8 in"))
        unit = (match["unit"] or "").lower().replace("''", '"')
        ways = two_readings(match["whole"] or "")
        if ways and last_unit is None:  # behind feet it can only be a fraction
            raise TwoReadings(*(cleaned.replace(match["whole"], way, 1) for way in ways))
        remainder = cleaned[match.end() :].strip(" ,")
        if not unit and last_unit is None and remainder:
            raise ValueError(translatable("must be one length, such as 905 mm, 90.5 cm or 35 5/8 in"))
        if not unit and last_unit == MM_PER_FOOT:
            unit = '"'
        size = LENGTH_UNITS[unit or default]
        if last_unit is not None and not (last_unit == MM_PER_FOOT and size == MM_PER_INCH):
            raise ValueError(translatable("must be one length in one unit, or feet and inches"))
        if last_unit is not None and _value(match) >= 12:
            raise ValueError(translatable("must have less than 12 inches behind the feet"))
        total += _value(match) * size
        last_unit = size
        position = match.end()
        while position < len(cleaned) and cleaned[position] in " ,-":
            position += 1
    return total


def _value(match: re.Match[str]) -> Fraction:
    value = Fraction(0)
    whole = (match["whole"] or "").replace(",", ".")
    if whole:
        value += Fraction(f"0{whole}")
    for part in (match["extra"], match["only"]):
        if part:
            top, bottom = (int(number) for number in part.split("/"))
            if bottom == 0:
                raise ValueError(translatable("must not have a fraction over 0"))
            if whole and (top >= bottom or "." in whole):
                raise ValueError(
                    translatable("must be a whole number with a proper fraction, such as 35 5/8")
                )
            value += Fraction(top, bottom)
    return value


def inches(mm: float | Fraction, *, denominator: int = 16) -> tuple[int, Fraction]:
    """Return whole inches and the rest rounded to the nearest 1/``denominator``.

    Parameters
    ----------
    mm
        Length [mm].
    denominator
        The finest step of the tape, 16 for sixteenths.

    Returns
    -------
    tuple of int and Fraction
        Whole inches and the proper fraction left.
    """
    steps = round(Fraction(mm) / MM_PER_INCH * denominator)
    whole, rest = divmod(steps, denominator)
    return whole, Fraction(rest, denominator)


def fahrenheit(celsius: float) -> float:
    """Return a temperature in degrees Fahrenheit [F] from degrees Celsius [C]."""
    return celsius * 9 / 5 + 32


#: Factors from SI to the units a US reader expects: multiply the SI number.
SQUARE_FEET_PER_M2 = 1 / 0.3048**2
BTU_PER_HOUR_PER_W = 3.412141633  # 1 Btu(IT) = 1055.05585262 J (ISO 80000-5)
BTU_PER_HOUR_FT2_F_PER_W_M2K = BTU_PER_HOUR_PER_W / SQUARE_FEET_PER_M2 / 1.8
GALLONS_PER_LITRE = 1 / 3.785411784  # US liquid gallon

#: Heat content of units that fuels are sold by [kWh]: a therm (US) is 100 000 Btu(59 F) of 1054.804 J;
#: a kWh and a MJ by definition (NIST SP 811, Appendix B.8, from memory). Litres and kilograms vary with
#: the fuel: the supplier says.
UNITS_KWH: dict[str, float] = {
    "kWh": 1.0,
    "MJ": 1 / 3.6,
    "GJ": 1000 / 3.6,
    "therm": 100000 * 1054.804 / 3.6e6,
}


def decimals_of(value: Decimal | str) -> int:
    """Return how many decimals an exact number has, zeros at its end left out."""
    exponent = Decimal(value).normalize().as_tuple().exponent
    return max(0, -exponent) if isinstance(exponent, int) else 0
