"""What a field of a record holds, told from its type: one value, a list, a mapping, a group; and its unit.

A workbook lays a job out by this: one cell for a value, a list or a mapping, rows of their own for a group.
"""

from __future__ import annotations

import types
import typing
from collections.abc import Iterator
from enum import Enum
from typing import Annotated, Any, Literal, Union, get_args, get_origin

from annotated_types import MaxLen
from pydantic import BeforeValidator
from pydantic.fields import FieldInfo

from reportkit.job.model.about import record_in
from reportkit.job.model.quantities import AirFlow, Area, Celsius, DaySun, Kelvin, Power, Temperature
from reportkit.job.model.typed import Clock, Day, Length, Money


class Form(Enum):
    """What a field holds."""

    VALUE = "one value"
    LIST = "a list of values"
    LISTS = "a list of lists"
    MAPPING = "values by name"
    GROUP = "a record"
    GROUPS = "a list of records"


def form_of(field: FieldInfo) -> Form:
    """Return what a field holds."""
    below, many = record_in(field.annotation)
    if below is not None:
        return Form.GROUPS if many else Form.GROUP
    for kind in _origins(field.annotation):
        if get_origin(kind) is dict:
            return Form.MAPPING
        if get_origin(kind) is tuple:
            inner = [get_origin(part) for item in get_args(kind) for part in _origins(item)]
            return Form.LISTS if tuple in inner else Form.LIST
    return Form.VALUE


def most(field: FieldInfo) -> int | None:
    """Return how many entries a list may have, None where nothing limits it."""
    return next((part.max_length for part in field.metadata if isinstance(part, MaxLen)), None)


def words(annotation: Any) -> tuple[str, ...]:
    """Return the words a field takes: those of its choice, or yes and no."""
    if annotation is bool:
        return ("yes", "no")
    if get_origin(annotation) is Literal:
        return tuple(str(word) for word in get_args(annotation))
    return tuple(word for part in get_args(annotation) for word in words(part))


def is_day(field: FieldInfo) -> bool:
    """Return whether a field is a calendar day."""
    return _MARKS[Day] in _validators(field)


def is_clock(field: FieldInfo) -> bool:
    """Return whether a field is a time on the clock."""
    return _MARKS[Clock] in _validators(field)


def is_money(name: str, field: FieldInfo) -> bool:
    """Return whether a field is an amount of money."""
    return unit_of(name, field, "us") == "money"


def unit_of(name: str, field: FieldInfo, units: str) -> str:
    """Return the unit that a bare number has in a field; empty where it has none.

    Parameters
    ----------
    name, field
        The field.
    units
        The job's units, ``us`` or ``metric``.
    """
    if name == "quantity":  # a number of things, read as amounts are
        return ""
    marks = _validators(field)
    for mark, (us, metric) in _UNITS.items():
        if mark in marks:
            return us if units == "us" else metric
    return next((unit for tail, unit in _TAILS.items() if name.endswith(tail)), "")


def turns_with_units(field: FieldInfo) -> bool:
    """Return whether the unit of a bare number depends on the job's units."""
    return unit_of("", field, "us") != unit_of("", field, "metric")


def _origins(annotation: Any) -> Iterator[Any]:
    """Yield the types a field may have, without their notes."""
    origin = get_origin(annotation)
    if origin is Annotated:
        yield from _origins(get_args(annotation)[0])
    elif origin in (Union, types.UnionType):
        for part in get_args(annotation):
            yield from _origins(part)
    else:
        yield annotation


def _validators(field: FieldInfo) -> set[Any]:
    """Return the functions that read what is typed in a field, or in the entries of its list."""

    def inside(annotation: Any) -> Iterator[Any]:
        if get_origin(annotation) is Annotated:
            yield from (part.func for part in annotation.__metadata__ if isinstance(part, BeforeValidator))
        for part in get_args(annotation):
            if get_origin(annotation) is not Literal:
                yield from inside(part)

    mine = {part.func for part in field.metadata if isinstance(part, BeforeValidator)}
    return mine | set(inside(field.annotation))


def _mark(annotation: Any) -> Any:
    parts = typing.get_args(annotation)[1:]
    return next(part.func for part in parts if isinstance(part, BeforeValidator))


_MARKS = {
    kind: _mark(kind)
    for kind in (Day, Clock, Length, Area, Temperature, Power, AirFlow, Celsius, Kelvin, DaySun, Money)
}
#: The unit of a bare number by what reads it: in a US job, in a metric one.
_UNITS: dict[Any, tuple[str, str]] = {
    _MARKS[Length]: ("in", "mm"),
    _MARKS[Area]: ("ft2", "m2"),
    _MARKS[Temperature]: ("F", "C"),
    _MARKS[Power]: ("Btu/h", "W"),
    _MARKS[AirFlow]: ("cfm", "m3/h"),
    _MARKS[Celsius]: ("C", "C"),
    _MARKS[Kelvin]: ("K", "K"),
    _MARKS[DaySun]: ("kWh/m2", "kWh/m2"),
    _MARKS[Money]: ("money", "money"),
    _MARKS[Day]: ("year-month-day",) * 2,
    _MARKS[Clock]: ("hour:minute",) * 2,
}
#: Units that the end of a field's name tells.
_TAILS = {
    "percent": "%",
    "_um": "µm",
    "_nm": "nm",
    "_mm": "mm",
    "_m": "m",
    "_deg": "°",
    "years": "years",
    "_hours": "h",
    "_kj_m2k": "kJ/m2K",
    "_w_m2k": "W/m2K",
    "_w_mk": "W/mK",
    "_w_m2": "W/m2",
    "kg_co2_per_kwh": "kg/kWh",
    "_kwh": "kWh",
    "kwh_per_unit": "kWh",
    "_per_h": "1/h",
}
