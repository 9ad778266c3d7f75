"""Numbers, quantities, money and dates as a reader of one locale expects them.

SI comes in and text goes out; US customary units are made here, at display, and nowhere else. Digits,
separators, currency and dates follow the Unicode Common Locale Data Repository (through Babel); unit
symbols follow ISO 80000 and, for US customary units, NIST SP 811 (from memory of both). A no-break space
stands between a number and its unit, and a minus is the minus sign. Missing numbers (None, nan) become a
dash. Not covered: words, which belong to the sections.
"""

from __future__ import annotations

import datetime as dt
import math
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction
from functools import cached_property
from typing import Any, Literal

from reportkit.base import units as si
from reportkit.documents.language.rates import OUNCES_PER_LITRE, RATES
from reportkit.documents.layouts.fonts import printed

NBSP = "\u00a0"
MINUS = "\u2212"
MISSING, EN_DASH = "—", "–"


def _missing(value: Any) -> bool:
    return value is None or not math.isfinite(float(value))


class Formats:
    """Formatter for one locale, one system of units and one currency.

    Parameters
    ----------
    locale
        BCP 47 tag or CLDR identifier, such as ``en-US`` or ``de_DE``.
    units
        ``us`` or ``metric``.
    currency
        ISO 4217 code.
    language
        Language of the words in dates, where it is not the locale's own: names of months and days never mix
        with another language's sentences.

    Raises
    ------
    ValueError
        If the locale is unknown or ``units`` is neither.

    Examples
    --------
    >>> Formats("de-DE", units="metric", currency="EUR").number(1234.5, digits=1)
    '1.234,5'
    """

    def __init__(
        self, locale: str, *, units: Literal["us", "metric"], currency: str, language: str = ""
    ) -> None:
        """Find the locale, and the one of its words."""
        from babel.core import Locale, UnknownLocaleError  # about 50 ms, not needed by readers of blocks

        if units not in ("us", "metric"):
            raise ValueError(f"units must be us or metric (got {units!r})")
        try:
            self._locale = Locale.parse(locale.replace("-", "_"))
        except UnknownLocaleError as error:
            raise ValueError(f"locale {locale!r} is not known") from error
        self._worded = self._locale
        if language and language.replace("-", "_").split("_")[0] != self._locale.language:
            try:  # English as written in Germany is known, Spanish as written there is not
                self._worded = Locale(language, self._locale.territory)
            except UnknownLocaleError:
                self._worded = Locale(language)
        self.units = units
        self.currency = currency

    # -- the locale itself

    @property
    def language(self) -> str:
        """BCP 47 tag of what its words are in."""
        return str(self._worded).replace("_", "-")

    @cached_property
    def decimal_mark(self) -> str:
        """The decimal mark of the locale."""
        return str(self._locale.number_symbols["latn"]["decimal"])

    @cached_property
    def _group(self) -> str:
        return str(self._locale.number_symbols["latn"]["group"])

    @property
    def paper(self) -> Literal["a4", "us-letter"]:
        """Paper size in use where the locale is (Letter: US, Canada and their neighbours, per CLDR)."""
        letter = {"BZ", "CA", "CL", "CO", "CR", "GT", "MX", "NI", "PA", "PH", "PR", "SV", "US", "VE"}
        return "us-letter" if (self._locale.territory or "") in letter else "a4"

    def in_units(self, units: Literal["us", "metric"]) -> Formats:
        """Return the same locale and currency with a system of units of its own."""
        return Formats(str(self._locale), units=units, currency=self.currency, language=self._worded.language)

    # -- plain numbers

    def number(self, value: Any, digits: int = 0) -> str:
        """Return a number with ``digits`` decimals, halves rounded away from zero."""
        if _missing(value):
            return MISSING
        from babel.numbers import format_decimal

        exact = value if isinstance(value, Decimal) else Decimal(repr(float(value)))
        exact = exact.quantize(Decimal(1).scaleb(-digits), ROUND_HALF_UP)
        pattern = "#,##0" + ("." + "0" * digits if digits > 0 else "")
        return self._signed(exact, format_decimal(abs(exact), pattern, locale=self._locale))

    def digits(self, value: Any, most: int) -> str:
        """Return a number with the decimals it has, at most so many."""
        known = (n for n in range(most) if not _missing(value) and round(value, n) == round(value, most))
        return self.number(value, next(known, most))

    def significant(self, value: Any, digits: int = 2) -> str:
        """Return a number rounded to ``digits`` significant digits, without an exponent."""
        if _missing(value) or float(value) == 0:
            return self.number(value)
        number = float(value)
        return self.number(round(number, self._places(number, digits)), max(0, self._places(number, digits)))

    def percent(self, share: Any, digits: int = 0) -> str:
        """Return a share (0 to 1) as percent."""
        if _missing(share):
            return MISSING
        from babel.numbers import format_percent

        exact = Decimal(repr(float(share))).quantize(Decimal(1).scaleb(-digits - 2), ROUND_HALF_UP)
        pattern = self._locale.percent_formats[None].pattern
        decimals = "." + "0" * digits if digits > 0 else ""
        text = format_percent(abs(exact), pattern.replace("#,##0", "#,##0" + decimals), locale=self._locale)
        return self._signed(exact, text)

    def range(self, low: Any, middle: Any, high: Any, unit: str = "", digits: int = 2) -> str:
        """Return ``low–high``, both to the decimals of the end that is larger in size, with the unit once.

        Parameters
        ----------
        low, middle, high
            The 10th, 50th and 90th percentile, in the unit shown [unit].
        unit
            Its text, or empty.
        digits
            Significant digits of that end.

        Returns
        -------
        str
            One number where the ends round to the same; a dash if any is missing.
        """
        if any(map(_missing, (low, middle, high))):
            return MISSING
        return self._with_unit(self._between(*self.ends(low, high, digits)), unit)

    def ends(self, low: float, high: float, digits: int = 2) -> tuple[str, str]:
        """Return two numbers, both to the decimals of the end that is larger in size."""
        decimals = self._places(max(abs(low), abs(high)), digits) if low or high else 0
        least, most = (self.number(round(end, decimals), max(0, decimals)) for end in (low, high))
        return least, most

    # -- money

    def money(self, amount: Any, *, cents: bool = True, every: bool = False) -> str:
        """Return an amount in the job's currency: to cents, whole, or with every digit it has."""
        if _missing(amount):
            return MISSING
        from babel.numbers import format_currency, get_currency_precision, get_currency_symbol

        decimals = max(get_currency_precision(self.currency) * cents, si.decimals_of(amount) * every)
        exact = Decimal(str(amount)).quantize(Decimal(1).scaleb(-decimals), ROUND_HALF_UP)
        zeros = "." + "0" * decimals if decimals else ""
        pattern = self._locale.currency_formats["standard"].pattern.split(";")[0]
        text = format_currency(
            abs(exact),
            self.currency,
            pattern.replace("#,##0.00", "#,##0" + zeros),
            locale=self._locale,
            currency_digits=False,
        )
        symbol = get_currency_symbol(self.currency, self._locale)
        return self._signed(exact, text.replace(symbol, printed(symbol, self.currency)))

    def money_range(self, low: Any, high: Any, digits: int = 2) -> str:
        """Return ``low to high`` in currency, to ``digits`` significant digits of the larger end."""
        if _missing(low) or _missing(high):
            return MISSING
        decimals = min(0, self._places(max(abs(float(low)), abs(float(high))) or 1.0, digits))
        ends = [self.money(Decimal(str(round(float(end), decimals))), cents=False) for end in (low, high)]
        return ends[0] if ends[0] == ends[1] else f"{ends[0]}{NBSP}{EN_DASH} {ends[1]}"

    # -- lengths and areas

    def length_mm(self, mm: Any, *, unit: bool = True) -> str:
        """Return a length [mm]: whole millimetres, or inches to the nearest 1/16."""
        if _missing(mm):
            return MISSING
        if self.units == "metric":
            # no grouping: a fitter in one country must not read 2.000 as two
            whole_mm = self.number(mm).replace(self._group, "")
            return self._with_unit(whole_mm, "mm" if unit else "")
        whole, rest = si.inches(abs(Fraction(mm)))
        parts = ([str(whole)] if whole or not rest else []) + ([str(rest)] if rest else [])
        sign = MINUS if mm < 0 and (whole or rest) else ""
        return self._with_unit(sign + NBSP.join(parts), "in" if unit else "")

    def small_length(self, mm: Any) -> str:
        """Return a length of a few millimetres with the digits it has, or inches to the nearest 1/16."""
        if _missing(mm) or self.units == "us":
            return self.length_mm(mm)
        return self._with_unit(self.digits(mm, 2 if mm < 1 else 1), "mm")

    def film_thickness(self, um: Any) -> str:
        """Return the thickness of film [um], in mil (thousandths of an inch) for US readers."""
        return self._quantity(um, 1 if self.units == "us" else 0, "µm", "mil", 1 / 25.4)

    @property
    def inspection(self) -> dict[str, str]:
        """From where film is looked at, and the border that does not count, both in round numbers."""
        us = self.units == "us"
        return {"distance": self.distance_m(2, 0), "border": self.length_mm(50.8 if us else 50)}

    def size_mm(self, width: Any, height: Any) -> str:
        """Return width by height [mm], the unit once."""
        ends = f"{self.length_mm(width, unit=False)}{NBSP}×{NBSP}{self.length_mm(height, unit=False)}"
        return self._with_unit(ends, "in" if self.units == "us" else "mm")

    def distance_m(self, metres: Any, digits: int = 1) -> str:
        """Return a length of roll or a distance [m], in feet for US readers."""
        return self._quantity(metres, digits, "m", "ft", 1 / 0.3048)

    def distance_km(self, kilometres: Any) -> str:
        """Return a way over land [km], in miles for US readers."""
        return self._quantity(kilometres, 0, "km", "mi", 1 / si.KM_PER_MILE)

    def area(self, square_metres: Any, digits: int = 1) -> str:
        """Return an area [m2], in square feet for US readers."""
        return self._quantity(square_metres, digits, "m²", "ft²", si.SQUARE_FEET_PER_M2)

    def volume(self, litres: Any, digits: int = 1) -> str:
        """Return a volume [L], in US gallons for US readers."""
        return self._quantity(litres, digits, "L", "gal", si.GALLONS_PER_LITRE)

    def small_volume(self, millilitres: Any) -> str:
        """Return a volume [ml], in US fluid ounces for US readers."""
        return self._quantity(
            millilitres, 1 if self.units == "us" else 0, "ml", "fl oz", OUNCES_PER_LITRE / 1000
        )

    @property
    def mass_unit(self) -> tuple[str, float]:
        """Return the unit of mass and how many there are in a kilogram (1 lb is exactly 0.45359237 kg)."""
        return ("lb", 1 / 0.45359237) if self.units == "us" else ("kg", 1.0)

    # -- heat and light

    @property
    def light_unit(self) -> tuple[str, float]:
        """Return the unit of illuminance and how many there are in a lux (a footcandle is 1 lm/ft2)."""
        return ("fc", 1 / si.SQUARE_FEET_PER_M2) if self.units == "us" else ("lx", 1.0)

    def power(self, watts: Any, digits: int = 2) -> str:
        """Return a power [W] to ``digits`` significant digits (watts in either system)."""
        return self._with_unit(self.significant(watts, digits), "W")

    def heat_rate(self, watts: Any, digits: int = 2) -> str:
        """Return a power [W] in Btu/h to ``digits`` significant digits, the unit of US cooling plant."""
        if _missing(watts):
            return MISSING
        return self._with_unit(self.significant(float(watts) * si.BTU_PER_HOUR_PER_W, digits), "Btu/h")

    def energy(self, kwh: Any, digits: int = 2) -> str:
        """Return an energy [kWh] to ``digits`` significant digits."""
        return self._with_unit(self.significant(kwh, digits), "kWh")

    def irradiance(self, w_m2: Any) -> str:
        """Return an irradiance [W/m2], in Btu/h ft2 for US readers."""
        return self._quantity(w_m2, 0, "W/m²", "Btu/h·ft²", RATES["W/m2"][2])

    def yearly_sun(self, kwh_m2: Any) -> str:
        """Return a year's irradiation [kWh/m2], in kWh/ft2 for US readers."""
        return self._quantity(kwh_m2, 0, "kWh/m²", "kWh/ft²", 1 / si.SQUARE_FEET_PER_M2)

    def u_value(self, w_m2k: Any, *, unit: bool = True) -> str:
        """Return a thermal transmittance [W/(m2 K)], in Btu/(h ft2 F) for US readers."""
        metric, us = RATES["W/m2K"][:2] if unit else ("", "")
        return self._quantity(w_m2k, 2, metric, us, RATES["W/m2K"][2])

    def temperature(self, celsius: Any, digits: int = 0, *, unit: bool = True) -> str:
        """Return a temperature [C], in degrees Fahrenheit for US readers."""
        if not _missing(celsius) and self.units == "us":
            celsius = si.fahrenheit(float(celsius))
        shown = self.number(celsius, digits)
        return self._with_unit(shown, self._degree) if unit else shown

    def temperature_range(self, low: float, high: float) -> str:
        """Return two temperatures [C] as a range of whole degrees, the unit once."""
        ends = [self.temperature(end, unit=False) for end in (low, high)]
        return self._with_unit(self._between(*ends), self._degree)

    @property
    def _degree(self) -> str:
        return "°F" if self.units == "us" else "°C"

    def temperature_difference(self, kelvin: Any, digits: int = 0) -> str:
        """Return a difference of temperatures [K]; no offset, unlike a temperature."""
        return self._quantity(kelvin, digits, "°C", "°F", 1.8)

    def angle(self, degrees: Any, digits: int = 0) -> str:
        """Return an angle [deg]; the degree sign follows without a space."""
        return MISSING if _missing(degrees) else f"{self.number(degrees, digits)}°"

    def rate(self, value: Any, unit: str) -> tuple[str, str]:
        """Return a rate of use or of building physics and its unit, the reader's own where they differ.

        Parameters
        ----------
        value
            The value [unit].
        unit
            A unit of the tables of defaults, such as ``L/m2``; ``1`` for a factor.
        """
        if unit == "1":
            return self.number(value, 2), ""
        metric, us, factor = RATES.get(unit, (unit, unit, 1.0))
        shown = value if _missing(value) or self.units == "metric" else float(value) * factor
        digits = 0 if _missing(shown) or float(shown).is_integer() else 1 if abs(shown) >= 10 else 2
        return self.number(shown, digits), us if self.units == "us" else metric

    # -- dates and times

    def date(self, day: dt.date, style: Literal["short", "medium", "long", "full"] = "long") -> str:
        """Return a date in the locale's order and words."""
        from babel.dates import format_date

        return str(format_date(day, style, locale=self._worded))

    def day(self, day: dt.date) -> str:
        """Return month and day without the year."""
        from babel.dates import format_skeleton

        return str(format_skeleton("MMMMd", dt.datetime.combine(day, dt.time()), locale=self._worded))

    def month(self, number: int, *, short: bool = True) -> str:
        """Return the name of a month, 1 to 12."""
        width: Literal["abbreviated", "wide"] = "abbreviated" if short else "wide"
        return str(self._worded.months["stand-alone"][width][number])

    def clock(self, when: dt.datetime | dt.time) -> str:
        """Return a clock time as the locale writes it, to the minute."""
        from babel.dates import format_time

        return str(format_time(when, "short", locale=self._worded)).replace("\u202f", NBSP)

    def duration_minutes(self, minutes: Any) -> str:
        """Return a duration [min]: minutes below two hours, else hours and minutes."""
        if _missing(minutes):
            return MISSING
        whole = round(float(minutes))
        if abs(whole) < 120:
            return self._with_unit(self.number(whole), "min")
        hours, rest = divmod(abs(whole), 60)
        text = self._with_unit(self.number(hours), "h")
        text += f" {rest}{NBSP}min" if rest else ""
        return (MINUS if whole < 0 else "") + text

    # -- helpers

    def _quantity(self, value: Any, digits: int, metric: str, us: str, factor: float) -> str:
        if _missing(value):
            return MISSING
        if self.units == "us":
            return self._with_unit(self.number(float(value) * factor, digits), us)
        return self._with_unit(self.number(value, digits), metric)

    @staticmethod
    def _between(low: str, high: str) -> str:
        """Return two numbers as a range, set wide where a minus could be read as its dash; one if alike."""
        if low == high:
            return low
        return f"{low}{NBSP}{EN_DASH} {high}" if MINUS in low + high else f"{low}{EN_DASH}{high}"

    @staticmethod
    def _with_unit(text: str, unit: str) -> str:
        return text if text == MISSING or not unit else f"{text}{NBSP}{unit}"

    @staticmethod
    def _signed(exact: Decimal, text: str) -> str:
        return f"{MINUS}{text}" if exact < 0 else text

    @staticmethod
    def _places(number: float, digits: int) -> int:
        return digits - 1 - math.floor(math.log10(abs(number)))
