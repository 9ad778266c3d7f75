"""A sentence that remembers how it was made, so that it can be said again in another language.

The lower rows reason in English and know neither a reader's language nor how that reader writes numbers.
Where a sentence of theirs holds values, plain text would lose the pattern that a catalogue knows it by, and a
code with a table of sentences elsewhere would tear each sentence from the reasoning it belongs to. So a
sentence is text like any other, in results, logs and JSON, and carries its template and values along for
`reportkit.documents.language.words`. Only the text is stored: results read back from a file are English.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from typing import Any


class Translatable(str):
    """An English sentence with its template and the values that fill it.

    Parameters
    ----------
    template
        Text with ``{names}``, formatted as by `str.format`; this is what catalogues hold.
    values
        Numbers, names, or other translatable sentences.
    """

    __slots__ = ("template", "values")
    template: str
    values: Mapping[str, Any]

    def __new__(cls, template: str, values: Mapping[str, Any]) -> Translatable:
        """Fill the template."""
        made = super().__new__(cls, template.format(**values))
        made.template = template
        made.values = dict(values)
        return made

    def __getnewargs__(self) -> tuple[str, Mapping[str, Any]]:  # type: ignore[override]  # not str's own
        """Return what a copy is made from."""
        return self.template, self.values


class Quantity(float):
    """A value of a sentence that carries its unit, so that it can be said in the reader's own.

    Parameters
    ----------
    value
        The value in SI.
    unit
        Its unit as written behind it: ``K`` (a difference of temperatures), ``°C``, ``mm``, ``µm`` (of film),
        ``m``, ``m²`` or ``W/m²K``, which become the reader's own, or another, which stays. One that is
        translatable is only translated: glass is ``translatable("mm")`` thick in every country.
    beside
        Another value of the same sentence that this one must not look like, such as its limit; both get as
        many digits as tell them apart.

    Examples
    --------
    >>> translatable("{depth:.0f} deep", depth=Quantity(12.4, "mm"))
    '12 mm deep'
    """

    __slots__ = ("beside", "unit")
    unit: str
    beside: float | None

    def __new__(cls, value: float, unit: str, beside: float | None = None) -> Quantity:
        """Keep the value, its unit and what stands beside it."""
        made = super().__new__(cls, value)
        made.unit = unit
        made.beside = beside
        return made

    def __getnewargs__(self) -> tuple[float, str, float | None]:  # type: ignore[override]  # not float's own
        """Return what a copy is made from."""
        return float(self), self.unit, self.beside

    def __format__(self, spec: str) -> str:
        """Return the value as text, its unit behind it."""
        return f"{float(self):{self.precise(spec)}}{'' if self.unit == '°' else ' '}{self.unit}"

    def precise(self, spec: str) -> str:
        """Return a format such as ``.0f`` with as many digits as tell the value from the one beside it."""
        asked = re.fullmatch(r"\.(\d)([fg])", spec)
        if self.beside is None or not asked:
            return spec
        kind = asked[2]
        return f".{apart(lambda value, n: f'{value:.{n}{kind}}', self, self.beside, int(asked[1]))}{kind}"


def apart(write: Callable[[float, int], str], value: float, other: float, digits: int = 0) -> int:
    """Return with how many digits two values look different; as many as asked for where three more do not do.

    Parameters
    ----------
    write
        Writes a value with so many digits.
    value, other
        A value and what it is set against, such as its limit.
    digits
        The fewest digits.

    Examples
    --------
    >>> apart(lambda value, n: f"{value:.{n}f}", 30.04, 30.0)
    2
    """
    tried = range(digits, digits + 4)
    one, two = float(value), float(other)
    return next((n for n in tried if write(one, n) != write(two, n)), digits)


def translatable(template: str, /, **values: Any) -> str:
    """Return an English sentence that can be said in another language.

    Parameters
    ----------
    template
        A sentence with ``{names}``.
    values
        What fills them: numbers (with a format in the template), quantities, names, or sentences made so.

    Examples
    --------
    >>> translatable("{hours} hours filled from their neighbours", hours=3)
    '3 hours filled from their neighbours'
    """
    return Translatable(template, values)


def english(text: str) -> str:
    """Return a sentence as it is: a mark for one in a table or a record that is translated elsewhere.

    Catalogues hold what is marked so, and the text of calls that translate at once.
    """
    return text


def joined(separator: str, parts: Iterable[str]) -> str:
    """Return sentences put together by a separator, each still able to change its language."""
    values = {f"part{number}": part for number, part in enumerate(parts)}
    return Translatable(separator.join(f"{{{name}}}" for name in values), values)


def codes(ids: Iterable[str]) -> str:
    """Return codes as a list in which three or more that follow each other are a range.

    Examples
    --------
    >>> codes(["N1", "N2", "N3", "S1", "S2", "B"])
    'N1–N3, S1, S2, B'
    """
    rows: list[list[str]] = []
    for code in ids:
        if rows and _next(rows[-1][-1]) == code:
            rows[-1].append(code)
        else:
            rows.append([code])
    return ", ".join(f"{row[0]}–{row[-1]}" if len(row) > 2 else ", ".join(row) for row in rows)


def _next(code: str) -> str | None:
    """Return the code that follows a code with a number at its end, as wide as it where it begins with 0."""
    match = re.fullmatch(r"(.*?)([0-9]+)", code, re.DOTALL)
    if not match:
        return None
    name, number = match.groups()
    return f"{name}{int(number) + 1:0{len(number)}d}" if number[0] == "0" else f"{name}{int(number) + 1}"


def reason_of(error: Exception) -> str:
    """Return an error's message, translatable if it was made so."""
    first = error.args[0] if error.args else ""
    return first if isinstance(first, str) else str(error)
