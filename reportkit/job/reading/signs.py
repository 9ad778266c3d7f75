"""Numbers with the signs people write beside them, turned into what fields take: ``41.65 N``, ``0,21 €/kWh``.

A degree's letter becomes its sign. A sign of money is left out where it is that of the job's currency, a unit
where it is the field's own. A raw tree is turned once, before any rule looks at it; what nothing here knows
stays as it was typed, and its field's own check names it.
"""

from __future__ import annotations

import contextlib
import re
import unicodedata
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from pydantic import BaseModel

from reportkit.job.model.about import fields_in
from reportkit.job.model.forms import is_money
from reportkit.job.model.site import Site, Street

#: A longer text is no number.
LONGEST = 60
#: What a letter or word beside a degree makes of it, by axis.
_NORTH = dict.fromkeys(("n", "north", "norte", "nord"), "") | dict.fromkeys(("s", "south", "sur", "sud"), "-")
_EAST = dict.fromkeys(("e", "east", "este"), "") | dict.fromkeys(("w", "west", "oeste", "ouest"), "-")
#: Languages in which an O is the east; it is the west in the others that write one.
_O_IS_EAST = ("de", "nl")
_NUMBER = r"[+-]?\d+(?:[.,]\d+)?"
_DEGREES = re.compile(rf"(?P<before>[^\W\d_]+)?\s*(?P<number>{_NUMBER})\s*[°º]?\s*(?P<behind>[^\W\d_]+)?")
_AMOUNT = re.compile(
    r"(?P<before>[^\d,+-]*?)\s*(?P<number>[+-]?(?:\d|[.,]\d)[\d.,' \u00a0\u202f]*?)"
    r"(?:[.,][-–—]+)?\s*(?P<behind>[^\d\s.,'+-][^\d]*)?"
)
#: Units in which people write a rate, by the field that names them (common practice, no source).
_PER = {
    "labour_per_hour": "h hr hour hora",
    "per_m2": "m2 m² sqm",
    "per_ft2": "ft2 ft² sqft sf",
    "price_per_m": "m metre meter metro",
    "price_per_ft": "ft foot pie",
    "rate": "kwh",
    "rate_per_kw": "kw",
    "fixed_per_month": "month mo mes",
    "soap_per_litre": "l litre liter litro",
    "blade_each": "each blade cuchilla unidad",
    "sheet_each": "each sheet unidad",
    "price": "each roll rollo unidad",
}


@dataclass(frozen=True)
class Writer:
    """Who wrote a job, as far as it tells signs: its currency, and the locale or language of its numbers."""

    currency: Any
    locale: str

    @classmethod
    def of(cls, raw: dict[str, Any]) -> Writer:
        """Return that of a job as read, texts only."""
        locale = raw.get("locale") or raw.get("language")
        return cls(raw.get("currency"), locale.replace("-", "_") if isinstance(locale, str) else "en")

    @cached_property
    def signs(self) -> frozenset[str]:
        """How people write the currency: its code, and its sign there, in English and alone."""
        from babel.core import UnknownLocaleError, get_global
        from babel.numbers import get_currency_symbol

        currency = self.currency
        if not isinstance(currency, str) or currency not in get_global("all_currencies"):
            return frozenset()
        signs = {currency, get_currency_symbol(currency, "en")}
        with contextlib.suppress(UnknownLocaleError, ValueError):  # a locale that is none has its own fault
            signs.add(get_currency_symbol(currency, self.locale))
        alone = {mark for sign in signs for mark in sign if unicodedata.category(mark) == "Sc"}
        long = {f"{currency[:2]}{mark}" for mark in alone}  # US$
        return frozenset(sign.casefold() for sign in signs | alone | long)

    @property
    def o_is_east(self) -> bool:
        """Whether an O is the east."""
        return self.locale.casefold().startswith(_O_IS_EAST)


def plain_numbers(record: type[BaseModel], raw: Any, writer: Writer) -> None:
    """Turn degrees and money of a raw tree into plain numbers, in place.

    Parameters
    ----------
    record
        The record that the tree is to become.
    raw
        Its fields, texts only; anything else is left alone.
    writer
        Who wrote the job.
    """
    for owner, part, name, field in fields_in(record, raw):
        value = part[name]
        if owner is Street and name == "points":
            part[name] = _points(value, writer.o_is_east)
        elif not isinstance(value, str):
            continue
        elif owner is Site and name in ("latitude", "longitude"):
            part[name] = _degrees(value, name == "latitude", writer.o_is_east)
        elif is_money(name, field):
            own = part.get("unit") if name == "rate" else None  # a fuel's
            per = own.casefold() if isinstance(own, str) else _PER.get(name, "")
            part[name] = _amount(value, writer, per.split())


def _degrees(text: str, north: bool, o_is_east: bool) -> str:
    """Return a degree with the sign that its letter tells, or the text as it is."""
    match = _DEGREES.fullmatch(text.strip()) if len(text) <= LONGEST else None
    letters = [match[name] for name in ("before", "behind") if match[name]] if match else []
    if match is None or len(letters) != 1 or match["number"].startswith("-"):
        return text
    letter = letters[0].casefold()
    known = _NORTH if north else _EAST | ({} if o_is_east else {"o": "-"})
    return f"{known[letter]}{match['number'].lstrip('+')}" if letter in known else text


def _points(points: Any, o_is_east: bool) -> Any:
    """Return points of a map as lists of two texts, also those typed on one line with ``;`` between them."""
    if isinstance(points, str):
        pairs = [_pair(piece) for piece in points.strip(" ;").split(";")]
        if not all(pairs):
            return points
        points = pairs
    if not isinstance(points, list):
        return points
    points = [_pair(point) or point if isinstance(point, str) else point for point in points]
    for point in points:
        if isinstance(point, list) and len(point) == 2 and all(isinstance(part, str) for part in point):
            point[:] = _degrees(point[0], True, o_is_east), _degrees(point[1], False, o_is_east)
    return points


def _pair(text: str) -> list[str]:
    """Return the two numbers of a point with their letters, none where it isn't two."""
    text = text.strip(" ()[]")
    if len(text) > 2 * LONGEST:
        return []
    # beside a point a comma stands between numbers; else it may be a decimal comma
    number, comma = (r"[+-]?\d+(?:\.\d+)?", r"\s*,\s*") if "." in text else (_NUMBER, r"\s*,\s+")
    one = rf"(?:[NSEWO]\s*)?{number}(?:\s*[°º])?(?:\s*[NSEWO]\b)?"
    match = re.fullmatch(rf"({one})(?:{comma}|\s+)({one})", text, re.IGNORECASE)
    return list(match.groups()) if match else []


def _amount(text: str, writer: Writer, per: list[str]) -> str:
    """Return an amount without the currency's signs and the field's unit, or the text as it is."""
    if len(text) > LONGEST:
        return text
    money, *unit = re.split(r"\s*/\s*|\s+(?:per|por)\s+", text.strip(), maxsplit=1)
    match = _AMOUNT.fullmatch(money)
    if match is None or any(word.casefold() not in per for word in unit):
        return text
    beside = [match[name].strip().casefold() for name in ("before", "behind") if match[name]]
    return match["number"].strip() if all(sign in writer.signs for sign in beside) else text
