"""The words of the documents, in the client's language.

Every sentence is an English template in the code; catalogues in ``reportkit/locale`` hold the other
languages (gettext). A template is translated first and filled afterwards, so what a person typed is never
looked up and never read as a template.
"""

from __future__ import annotations

import gettext
import re
import string
from collections.abc import Callable
from functools import cache
from typing import Any

from reportkit.base.languages import DOMAIN, LOCALE_DIR, SOURCE
from reportkit.base.translatable import Quantity, Translatable, apart
from reportkit.base.visible import isolated
from reportkit.documents.language.formats import Formats

Write = Callable[[Formats, float, int | None], str]

#: How a quantity in a sentence is written for the reader, by its unit; digits behind the mark, if it says so.
IN_UNITS: dict[str, Write] = {
    "K": lambda fmt, value, digits: fmt.temperature_difference(value, digits or 0),
    "mm": lambda fmt, value, digits: fmt.length_mm(value),
    "µm": lambda fmt, value, digits: fmt.film_thickness(value),
    "m": lambda fmt, value, digits: fmt.distance_m(value, 0 if fmt.units == "us" else digits or 0),
    "km": lambda fmt, value, digits: fmt.distance_km(value),
    "°C": lambda fmt, value, digits: fmt.temperature(value, digits or 0),
    "m²": lambda fmt, value, digits: fmt.area(value, 1 if digits is None else digits),
    "°": lambda fmt, value, digits: fmt.angle(value, digits or 0),
    "m/s": lambda fmt, value, digits: "\u00a0".join(fmt.rate(value, "m/s")),
    "W/mK": lambda fmt, value, digits: "\u00a0".join(fmt.rate(value, "W/mK")),
    "W/m²K": lambda fmt, value, digits: fmt.u_value(value),
}


@cache
def _catalogue(language: str) -> gettext.NullTranslations:
    return gettext.translation(DOMAIN, LOCALE_DIR, languages=_tags(language), fallback=True)


def _tags(language: str) -> list[str]:
    tag = language.replace("-", "_")
    return [tag, tag.split("_")[0]]


class Words:
    """Sentences in one language.

    Parameters
    ----------
    language
        A language such as ``en`` or ``es-MX``; English where there is no catalogue.
    numbers
        How the reader writes numbers that are part of a sentence; as in English where not given.
    """

    def __init__(self, language: str, numbers: Formats | None = None) -> None:
        self._catalogue = _catalogue(language)
        #: Language of the sentences: the one asked for, or English where it has no catalogue.
        self.language = _tags(language)[1] if gettext.find(DOMAIN, LOCALE_DIR, _tags(language)) else SOURCE
        self._filler = _Filler(self, numbers)

    def __call__(self, template: str, **values: Any) -> str:
        """Translate a template and fill its ``{names}``; a translatable sentence brings its own values."""
        if isinstance(template, Translatable):
            return self.said(template)
        return self._translated(template).format(**_apart(values))

    def raw(self, template: str) -> str:
        """Translate a template and leave its ``{names}`` to be filled later."""
        return self._translated(template)

    def templates(self) -> tuple[str, ...]:
        """Return the templates with ``{names}`` that the catalogue has a translation of."""
        known = getattr(self._catalogue, "_catalog", {})
        plain = (each for each in known if isinstance(each, str))
        return tuple(text for text in plain if re.search(r"\{[a-z_]+[:}]", text))

    def many(self, one: str, more: str, number: int, **values: Any) -> str:
        """Translate the form that goes with a number and fill it; ``{n}`` is the number."""
        return self._catalogue.ngettext(one, more, number).format(n=number, **_apart(values))

    def said(self, text: str) -> str:
        """Return a finished sentence of a lower row in this language; one that no catalogue knows stays."""
        if isinstance(text, Translatable):
            return self._filler.vformat(self._translated(text.template), (), text.values)
        return self._translated(text)

    def _translated(self, template: str) -> str:
        # the catalogue's header stands under the empty text
        return self._catalogue.gettext(template) if template else template


def _apart(values: dict[str, Any]) -> dict[str, Any]:
    """Return what fills a sentence; names written from right to left turn nothing round beside them."""
    return {name: isolated(value) if isinstance(value, str) else value for name, value in values.items()}


def _written(write: Write, numbers: Formats, value: Quantity, digits: int | None) -> str:
    """Return a quantity for the reader, told from what stands beside it."""
    other = value.beside
    if other is not None and write(numbers, value, digits) == write(numbers, other, digits):
        least = 1 if digits is None else digits
        digits = apart(lambda one, n: write(numbers, one, n), value, other, least)
    return write(numbers, float(value), digits)


class _Filler(string.Formatter):
    """Fills a translatable sentence: those within it in its language, numbers as the reader writes them."""

    def __init__(self, words: Words, numbers: Formats | None) -> None:
        self._words = words
        self._numbers = numbers

    def format_field(self, value: Any, spec: str) -> str:
        """Return one value as text."""
        if isinstance(value, Translatable):
            return self._words.said(value)
        if isinstance(value, Quantity):
            write = (
                None
                if isinstance(value.unit, Translatable) or not self._numbers
                else IN_UNITS.get(value.unit)
            )
            if write and self._numbers:
                return _written(write, self._numbers, value, int(spec[1:-1]) if spec.endswith("f") else None)
            number = self.format_field(float(value), value.precise(spec))
            return f"{number}\u00a0{self._words.said(value.unit)}"
        text = format(value, spec)
        if isinstance(value, str):
            return isolated(text)
        if self._numbers is None or not spec:
            return text
        if spec.endswith("%"):
            return self._numbers.percent(value, int(spec[1:-1]))
        return re.sub(r"(?<=\d)\.(?=\d)", self._numbers.decimal_mark, text)
