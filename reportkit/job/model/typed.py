"""Plain values as people type them: numbers, money, days and lengths, each read from its text.

Every scalar of a job arrives as text, so that ``1e3``, ``no`` or ``12:30`` mean what the person sees
and not what a file format makes of it. A value is refused where two readings are possible
(``1,500``: one and a half, or fifteen hundred?). Units other than lengths are not converted: the unit
of a number stands in the field's name.
"""

from __future__ import annotations

import datetime as dt
import re
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from typing import Annotated, Any

from pydantic import (
    AfterValidator,
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    StringConstraints,
    ValidationInfo,
    WithJsonSchema,
)
from pydantic_core import PydanticCustomError

from reportkit.base.translatable import english, translatable
from reportkit.base.units import TwoReadings, alternatives, length_told, parse_length, two_readings
from reportkit.base.visible import visible

_PLAIN = re.compile(r"[+-]?(\d+([.,]\d*)?|[.,]\d+)([eE][+-]?\d{1,3})?")
_GROUPED = re.compile(r"[+-]?\d{1,3}([,. '_\u00a0\u202f]\d{3})+([.,]\d+)?")
_LONGEST = 40
_AMOUNT = translatable("an amount")


def broken(
    rule: str, *at: str | int, found: str | None = None, hint: str | None = None
) -> PydanticCustomError:
    """Return an error that names the field it is about, for rules that join several fields.

    Parameters
    ----------
    rule
        What must hold, starting with "must".
    at
        Path of the field below the record that raises it.
    found
        What was found, if it is more telling than the text in the field.
    mend
        How to put it right.
    """
    return PydanticCustomError("rule", "{rule}", {"rule": rule, "at": at, "found": found, "hint": hint})


def _refuse(rule: str, hint: str) -> PydanticCustomError:
    return broken(rule, hint=hint)


#: Months as spreadsheets shorten them in English, Spanish, German and French.
_MONTHS = (
    "jan|ene|janv|feb|fév|févr|mar|mär|mrz|mars|apr|abr|avr|may|mai|jun|juin|jul|juil|aug|ago|août|sep|sept|"
    "oct|okt|nov|dec|dic|dez|déc"
)
_MADE_A_DATE = re.compile(
    rf"(\d{{1,2}})[-. /]({_MONTHS})\.?|({_MONTHS})\.?[-. /](\d{{1,2}})|\d{{1,2}}/\d{{1,2}}/\d{{4}}",
    re.IGNORECASE,
)


def looks_like_a_date(text: str) -> bool:
    """Return whether a text is what a spreadsheet makes of ``5/8`` or ``5-8``: ``5-Aug``, ``Aug-05``."""
    return _MADE_A_DATE.fullmatch(text.strip()) is not None


def not_a_date(value: Any, what: str) -> None:
    """Refuse what a spreadsheet made of ``5/8`` or ``5-8``, by that name."""
    if isinstance(value, str) and looks_like_a_date(value):
        hint = translatable("type it again in a column that is set to text, as 35 5/8 in or 2-3")
        raise _refuse(
            translatable("must be {what}, not the date that a spreadsheet made of it", what=what), hint
        )


def _digits(value: Any, what: str) -> Any:
    if not isinstance(value, str):
        return value
    text = value.strip()
    not_a_date(text, what)
    if len(text) > _LONGEST:
        raise _refuse(
            translatable("must be {what} of a sensible size", what=what),
            translatable("give it in a few digits"),
        )
    if _PLAIN.fullmatch(text):
        return text
    if _GROUPED.fullmatch(text):
        whole, point, decimals = re.sub(r"[ '_\u00a0\u202f]", "", text).partition(_last_sign(text))
        plain = re.sub(r"[,.]", "", whole) + (f".{decimals}" if point else "")
        raise _refuse(
            translatable("must be {what} without thousands separators", what=what),
            translatable("write {what}", what=plain),
        )
    if re.search(r"\d", text) and re.search(r"[A-Za-z%°$€£¥]", text):
        if what == _AMOUNT:
            raise _refuse(
                translatable("must be an amount without a unit or sign but its field's and the job's"),
                translatable("its currency stands under currency, at the top of the job"),
            )
        raise _refuse(
            translatable("must be {what} alone, without a unit or sign", what=what),
            translatable("its unit stands in the field's name"),
        )
    raise _refuse(
        translatable("must be {what}", what=what),
        translatable("digits with at most one decimal point or comma"),
    )


def _last_sign(text: str) -> str:
    """Return the sign before the decimals of a grouped number: it stands once, and last; else a space."""
    signs = re.findall(r"[,.]", text)
    once = signs and signs.count(signs[-1]) == 1 and not re.search(r"[,.]\d{3}$", text)
    return signs[-1] if once else " "


def one_reading(text: Any, what: str) -> None:
    """Refuse ``1,200`` and ``1.200``, and show both readings."""
    ways = two_readings(text) if isinstance(text, str) else None
    if ways:
        raise _refuse(
            translatable("must be {what} that can be read one way only", what=what),
            translatable("write {what}", what=alternatives(*ways)),
        )


def plain_number(value: Any) -> Any:
    """Return the text of a number with a decimal point, or refuse it.

    Its point is a decimal point: a share, a rate of change or an angle is never in the thousands.
    """
    text = _digits(value, translatable("a number"))
    if isinstance(text, str) and "," in text:
        one_reading(text, translatable("a number"))
    return text.replace(",", ".") if isinstance(text, str) else text


def plain_amount(value: Any) -> Any:
    """Return the text of a number that may be in the thousands, or refuse it."""
    one_reading(_digits(value, translatable("a number")), translatable("a number"))
    return plain_number(value)


def plain_whole(value: Any) -> Any:
    """Return the text of a whole number, or refuse it."""
    text = _digits(value, translatable("a whole number"))
    one_reading(text, translatable("a whole number"))
    if isinstance(text, str) and not re.fullmatch(r"[+-]?\d{1,15}", text):
        raise _refuse(translatable("must be a whole number"), translatable("digits only"))
    return text


def plain_money(value: Any) -> Any:
    """Return the text of an amount of money, or refuse it."""
    text = _digits(value, _AMOUNT)
    one_reading(text, _AMOUNT)
    return text.replace(",", ".") if isinstance(text, str) else text


def plain_date(value: Any) -> Any:
    """Return a calendar day written ``2026-03-31``, or refuse it."""
    if not isinstance(value, str):
        return value
    if not re.fullmatch(r"[0-9]{4}-[0-9]{2}-[0-9]{2}", value.strip()):
        other = re.fullmatch(r"(\d{1,2})([./-])(\d{1,2})\2(\d{4})", value.strip())
        if other:
            one, two, year = int(other[1]), int(other[3]), other[4]
            ways = dict.fromkeys(
                f"{year}-{month:02d}-{day:02d}" for day, month in ((one, two), (two, one)) if 1 <= month <= 12
            )
            if ways:
                raise _refuse(
                    translatable("must be a date as year-month-day"),
                    translatable("write {what}", what=alternatives(*ways)),
                )
        if looks_like_a_date(value):
            rule = translatable(
                "must be a date as year-month-day, with its year, which a spreadsheet left out"
            )
            raise _refuse(rule, translatable("such as 2026-03-31, in a column that is set to text"))
        raise _refuse(translatable("must be a date as year-month-day"), translatable("such as 2026-03-31"))
    try:
        day = dt.date.fromisoformat(value.strip())
    except ValueError:
        raise _refuse(translatable("must be a day that exists"), translatable("such as 2026-03-31")) from None
    if not 1990 <= day.year <= 2100:
        raise _refuse(translatable("must lie between 1990 and 2100"), translatable("such as 2026-03-31"))
    return day


def earlier(day: object, than: object) -> bool:
    """Return whether one day, as typed, lies before another; False where one is no day."""
    try:
        return dt.date.fromisoformat(str(day)) < dt.date.fromisoformat(str(than))
    except ValueError:
        return False  # the fields' own checks say so


_CLOCK = re.compile(
    r"(?P<hour>\d{1,2})(?:[:.h](?P<minute>[0-5]\d)(?::00)?)?\s*(?P<half>[ap]\.?\s?m\.?)?h?", re.IGNORECASE
)


def plain_clock(value: Any) -> Any:
    """Return a clock time of a day written ``8:30``, ``17.00``, ``17h30`` or ``5:35 PM`` as ``08:30``, or refuse it.

    Twelve AM is midnight, twelve PM noon (common practice, no source).
    """
    if not isinstance(value, str):
        return value
    match = _CLOCK.fullmatch(value.strip())
    hour = int(match["hour"]) if match else 24
    half = match["half"] if match else None
    if not match or (half and not 1 <= hour <= 12) or hour > 23 or not (half or match["minute"]):
        raise _refuse(
            translatable("must be a time on the 24-hour clock, or one with AM or PM"),
            translatable("such as 08:30 or 8:30 AM"),
        )
    if half:
        hour = hour % 12 + (12 if half.lower().startswith("p") else 0)
    return f"{hour:02d}:{match['minute'] or '00'}"


def is_bare(text: str) -> bool:
    """Return whether a length carries no unit."""
    return not re.search(r"[A-Za-z\"'″”“′’‘]", text)


def plain_length(value: Any, info: ValidationInfo) -> Any:
    """Return a length in exact millimetres [mm]; a bare number takes the job's unit."""
    if isinstance(value, Fraction):
        return value
    if not isinstance(value, (str, int, float)):
        raise _refuse(translatable("must be one length"), translatable("such as 905 mm or 35 5/8 in"))
    text = str(value).strip()
    not_a_date(text, translatable("a length"))
    default = (info.context or {}).get("default_length", "mm")
    if len(text) > _LONGEST:
        raise _refuse(translatable("must be one length"), translatable("such as 905 mm or 35 5/8 in"))
    if default == "mm" and is_bare(text) and re.search(r"[/⁄½¼¾⅛⅜⅝⅞⅓⅔⅕⅙]", text):
        raise _refuse(
            translatable("must carry its unit: a bare number is millimetres in a metric job"),
            translatable("write {text} in for inches", text=text),
        )
    if re.fullmatch(r"\d{1,3}(,\d{3})*[.,]\d{3},\d+|\d{1,3}(,\d{3})+\.\d+.*", text):
        raise _refuse(
            translatable("must be a length without thousands separators"), translatable("such as 1905 mm")
        )
    try:
        return parse_length(text, default)
    except TwoReadings as error:
        raise _refuse(
            translatable("must be a length that can be read one way only"),
            translatable("write {what}", what=error.ways),
        ) from None


def between_signs(value: Any) -> Any:
    """Return the parts of a text with ``&`` between them: no sign of a length or of a table is an ``&``."""
    if not isinstance(value, str):
        return value
    parts = [part.strip() for part in value.split("&")]
    if not all(parts):
        raise _refuse(
            translatable("must be one length, or several with & between them"),
            translatable("such as 600 & 1200"),
        )
    return parts


def _identifier(value: str) -> str:
    if not value or any(sign in value for sign in '/\\:*?"<>|\n\t') or value.strip() != value:
        raise ValueError(translatable('must be a short name without any of / \\ : * ? " < > |'))
    if value.startswith("."):
        raise ValueError(translatable("must not start with a point"))
    if visible(value) != value:
        raise ValueError(translatable("must be a short name of signs that can be seen"))
    return value


def _span(hours: tuple[int, int]) -> tuple[int, int]:
    """Refuse hours that are none, or begin when the day is over."""
    if hours[0] == 24 or hours[0] == hours[1]:
        rule = translatable("must be a span of the clock, from a first hour of 0 to 23 to another")
        raise broken(
            rule,
            found=f"{hours[0]}, {hours[1]}",
            hint=translatable("the whole day is 0, 24; a night is 22, 6"),
        )
    return hours


@dataclass(frozen=True)
class between:
    """A check that a length lies in a plausible range [mm]."""

    low: float
    high: float

    def __call__(self, value: Fraction) -> Fraction:
        """Return the length, or refuse it."""
        if value <= 0 < self.low:
            raise ValueError(translatable("must be over 0"))
        for bound, rule, wrong in (
            (self.low, english("must be at least {length}"), value < self.low),
            (self.high, english("must be at most {length}"), value > self.high),
        ):
            if wrong:
                raise ValueError(translatable(rule, length=length_told(bound)))
        return value


Number = Annotated[float, BeforeValidator(plain_number), Field(allow_inf_nan=False)]
#: A number that may be in the thousands, so that its point is not always a decimal point.
Amount = Annotated[float, BeforeValidator(plain_amount), Field(allow_inf_nan=False)]
Whole = Annotated[int, BeforeValidator(plain_whole)]
Money = Annotated[Decimal, BeforeValidator(plain_money), Field(ge=0, le=10_000_000, allow_inf_nan=False)]
Percent = Annotated[Number, Field(ge=0, le=100)]
Day = Annotated[dt.date, BeforeValidator(plain_date)]
#: A time on the 24-hour clock, as ``08:30``.
Clock = Annotated[str, BeforeValidator(plain_clock)]
#: A length in exact millimetres; typed with a unit or, bare, in the job's units.
Length = Annotated[
    Fraction,
    BeforeValidator(plain_length),
    WithJsonSchema(
        {
            "type": ["number", "string"],
            "description": "a length: 905 mm, 90.5 cm, 35 5/8 in; bare: the job's units",
        }
    ),
]
PaneSide = Annotated[Length, AfterValidator(between(20, 6_000))]
Diagonal = Annotated[Length, AfterValidator(between(20, 9_000))]
NearGlass = Annotated[Length, AfterValidator(between(0, 20_000))]
#: Places across a pane, from its left edge: ``600`` or, for several, ``600 & 1200``.
Across = Annotated[tuple[PaneSide, ...], BeforeValidator(between_signs), Field(max_length=8)]
Id = Annotated[str, StringConstraints(max_length=60), AfterValidator(_identifier)]
#: What is typed freely: signs in it that cannot be seen are shown as their code wherever it is printed.
Text = Annotated[str, Field(max_length=4000), AfterValidator(visible)]
Bearing = Annotated[Number, Field(ge=0, lt=360)]
Hour = Annotated[Whole, Field(ge=0, le=24)]
Month = Annotated[Whole, Field(ge=1, le=12)]
#: From one full hour to another, past midnight where the second is the smaller one.
Hours = Annotated[tuple[Hour, Hour], AfterValidator(_span)]


class Record(BaseModel):
    """Base of every record: frozen, unknown keys refused."""

    model_config = ConfigDict(frozen=True, extra="forbid", arbitrary_types_allowed=True)
