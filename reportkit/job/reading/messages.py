"""From a validator's finding to a fault a person can mend: where, what must hold, what was found, how."""

from __future__ import annotations

import dataclasses
import difflib
import re
import typing
from collections.abc import Callable
from typing import Any

from pydantic import BaseModel, ValidationError
from pydantic.fields import FieldInfo

from reportkit.base.errors import Fault
from reportkit.base.translatable import english, reason_of, translatable
from reportkit.base.units import BTU_PER_HOUR_PER_W, SQUARE_FEET_PER_M2, inches_first
from reportkit.job.model import Body, GapSpec, Job, LiteSpec, Pane, Quote, RatedValues, Reading
from reportkit.job.model.about import meaning, record_in
from reportkit.job.model.forms import Form, form_of, unit_of
from reportkit.job.model.quantities import AIR_FLOW
from reportkit.job.model.typed import is_bare
from reportkit.job.reading.files import clipped
from reportkit.job.reading.positions import Positions, field_name
from reportkit.job.reading.spans import RULE, end_to_write, span_of, takes_a_number
from reportkit.job.reading.survey import COLUMNS, Row, field_of

Loc = tuple[str | int, ...]

_RULES: dict[str, str] = {
    "missing": english("must be given"),
    "extra_forbidden": english("is not a field here"),
    "greater_than": english("must be over {gt}"),
    "greater_than_equal": english("must be at least {ge}"),
    "less_than": english("must be under {lt}"),
    "less_than_equal": english("must be at most {le}"),
    "finite_number": english("must be a finite number"),
    "float_parsing": english("must be a number"),
    "float_type": english("must be a number"),
    "int_parsing": english("must be a whole number"),
    "int_type": english("must be a whole number"),
    "int_from_float": english("must be a whole number"),
    "decimal_parsing": english("must be an amount"),
    "decimal_type": english("must be an amount"),
    "decimal_max_digits": english("must be an amount of a sensible size"),
    "bool_parsing": english("must be yes or no"),
    "bool_type": english("must be yes or no"),
    "string_type": english("must be one text"),
    "string_too_long": english("must be at most {max_length} characters long"),
    "string_too_short": english("must be at least {min_length} characters long"),
    "string_pattern_mismatch": english("must be a three-letter code in capitals"),
    "model_type": english("must be a group of fields"),
    "model_attributes_type": english("must be a group of fields"),
    "dict_type": english("must be a group of names and values"),
    "tuple_type": english("must be a list"),
    "list_type": english("must be a list"),
    "too_short": english("must have at least {min_length} entry"),
    "too_long": english("must have at most {max_length} entries"),
    "literal_error": english("must be one of {expected}"),
    "date_type": english("must be a date as year-month-day"),
}
#: Any other, in the words of the library that found it.
_OTHER = english("must hold: {what}")
_MENDS: dict[str, str] = {
    "bool_parsing": translatable("write yes or no"),
    "bool_type": translatable("write yes or no"),
    "model_type": translatable("indent its fields below it, each written name: value"),
    "model_attributes_type": translatable("indent its fields below it, each written name: value"),
    "dict_type": translatable("indent its entries below it, each written name: value"),
    "tuple_type": translatable("put each entry on a line of its own that starts with a dash"),
    "string_type": translatable("put it on one line, between quotation marks if it holds a colon"),
    "string_pattern_mismatch": translatable("such as USD"),
}
#: The same for what stands in the cells of a workbook.
_MENDS_IN_CELLS = _MENDS | {
    "model_type": translatable("fill in its rows below, or write yes"),
    "model_attributes_type": translatable("fill in its rows below, or write yes"),
    "dict_type": translatable("write name: value, with ; between several"),
    "tuple_type": translatable("write its entries with ; between them"),
    "string_type": translatable("write it as one text"),
}


#: What to do where a field that must be given is not known, by its record and name (common practice, no
#: source).
_IF_NOT_KNOWN = {
    (LiteSpec, "thickness_mm"): translatable(
        "measure at the edge of an opened sash, or with a glass gauge held against the pane; do not guess"
    ),
    (GapSpec, "width_mm"): translatable(
        "measure the sealed unit at the edge of an opened sash, and take its sheets of glass off"
    ),
    (Body, "floor_area"): translatable(
        "measure the room's length and width, or leave heat out: what a year brings is then withheld"
    ),
    (RatedValues, "visible_transmittance_percent"): translatable("ask the film's seller for its sheet"),
    (Quote, "date"): translatable("the day you write this"),
}


def nearest(word: str, known: typing.Iterable[str], *, cutoff: float = 0.55) -> str | None:
    """Return the known word nearest to one that is not known, whatever its case, or None."""
    plain = {name.casefold(): name for name in known}
    close = difflib.get_close_matches(word.casefold(), list(plain), 1, cutoff)
    if close:
        return plain[close[0]]
    letters = {"".join(sorted(name)): name for name in plain}  # letters in another order
    close = difflib.get_close_matches("".join(sorted(word.casefold())), list(letters), 1, 0.9)
    return plain[letters[close[0]]] if close else None


def did_you_mean(word: str, known: typing.Iterable[str], what: str) -> str:
    """Return the mend for a word that is not known: the nearest one, else the list."""
    names = list(known)
    close = nearest(word, names)
    if close:
        return translatable("did you mean {word}?", word=close)
    if not names:
        return translatable("{what}: none yet", what=what)
    return translatable("{what}: {names}", what=what, names=", ".join(names[:30]))


def faults_of(
    error: ValidationError, raw: dict[str, Any], positions: Positions, rows: list[Row], survey: str
) -> list[Fault]:
    """Return one fault for each finding of a validation.

    Parameters
    ----------
    error
        What pydantic found in the assembled job.
    raw
        The assembled job, texts only.
    positions
        Where each field stood.
    rows
        The survey's rows, in the order of ``raw["panes"]``.
    survey
        The survey's file name.
    """
    faults = []
    findings = error.errors(include_url=False)
    meant = {
        (*finding["loc"][:-1], nearest(str(finding["loc"][-1]), model.model_fields))
        for finding in findings
        if finding["type"] == "extra_forbidden" and (model := owner(finding["loc"]))
    }
    for finding in findings:
        if finding["type"] == "missing" and finding["loc"] in meant:
            continue  # it is there, misspelt
        loc = tuple(part for part in finding["loc"] if part != "[key]")
        file, line = positions.find(loc)
        in_cells = ".xlsx:" in file
        context: dict[str, Any] = finding.get("ctx") or {}
        kind = finding["type"]
        if kind == "too_short" and finding["input"]:
            continue  # only because its entries are at fault: they are named
        shown: str | None = None
        if kind == "rule":
            rule, hint = context["rule"], context.get("hint")
            loc += tuple(context.get("at") or ())
            shown = context.get("found")
        elif kind in ("value_error", "assertion_error"):
            rule, hint = reason_of(context["error"]), None
        else:
            values = {name: _bound(float(value), loc, raw.get("units")) if name in ("gt", "ge", "lt", "le")
                      else value for name, value in context.items()}  # fmt: skip
            if kind == "literal_error":
                values["expected"] = re.sub(r"', '|' or '", ", ", values["expected"]).strip("'")
            rule = translatable(_RULES.get(kind, _OTHER), **values | {"what": finding["msg"]})
            hint = None if _is_lists(loc) else (_MENDS_IN_CELLS if in_cells else _MENDS).get(kind)
        if shown is None and kind not in ("missing", "rule"):
            shown = _found(finding["input"])
        elif shown is None and kind == "rule":
            value = _value(raw, loc)
            shown = None if value is None else _found(value)
        name = next((part for part in reversed(loc) if isinstance(part, str)), "")
        record = owner(loc)
        field = record.model_fields.get(name) if record else None
        span = span_of(_value(raw, loc))
        if span and field is not None and takes_a_number(field.annotation):
            rule, hint = RULE, end_to_write(name, span)
        if loc and loc[0] == "panes" and len(loc) > 1 and isinstance(loc[1], int):
            row = rows[loc[1]]
            name = row.column(loc[2:])
            if kind == "missing" and name not in row.headed:
                continue  # the header row's fault says so
            if kind == "missing" or kind == "too_short":
                rule, shown = translatable("must be given"), None
            hint = hint or _mend(kind, Pane, field_of(name), finding["input"], COLUMNS)
            faults.append(Fault(survey, row.line, name, rule, shown, hint))
            continue
        if loc == ("panes",):
            continue  # the survey's own reader says so
        names = tuple(record.model_fields) if record else ()
        hint = hint or _mend(kind, record, name, finding["input"], names, in_cells=in_cells)
        file, line = positions.find(loc)
        faults.append(Fault(file, line, field_name(loc, raw), rule, shown, hint))
    return faults


#: A bound as a record has it, in SI, in the unit that a bare number has in a job in US units.
_FROM_SI: dict[str, tuple[str, Callable[[float], float]]] = {
    "F": ("C", lambda value: value * 9 / 5 + 32),
    "ft2": ("m2", lambda value: value * SQUARE_FEET_PER_M2),
    "Btu/h": ("W", lambda value: value * BTU_PER_HOUR_PER_W),
    "cfm": ("m3/h", lambda value: value / AIR_FLOW["cfm"][0]),
}


def _bound(bound: float, loc: Loc, units: Any) -> str:
    """Return the bound of a field as its rule tells it, in the units of the job first."""
    model = owner(loc)
    name = next((part for part in reversed(loc) if isinstance(part, str)), "")
    field = model.model_fields.get(name) if model else None
    unit = unit_of(name, field, "us") if field and units == "us" else ""
    if unit not in _FROM_SI:
        return translatable("{bound:g}", bound=bound)
    si, turned = _FROM_SI[unit]
    return translatable(
        "{turned:.4g} {unit} ({bound:g} {si})", turned=turned(bound), unit=unit, bound=bound, si=si
    )


def _mend(
    kind: str,
    record: type[BaseModel] | None,
    name: str,
    typed: Any,
    names: tuple[str, ...],
    *,
    in_cells: bool = False,
) -> str | None:
    if kind == "extra_forbidden":
        shown = [field for field in names if field != "panes"]
        return did_you_mean(name, shown, translatable("fields here are"))
    field = record.model_fields.get(name) if record else None
    if kind == "literal_error":
        return _literal_mend(field, typed) if isinstance(typed, str) else None
    if field is None:
        return None
    example = meaning(field)[1]
    if in_cells and record_in(field.annotation)[0] is not None:
        return translatable("fill in its rows below")
    sample = example if in_cells or record in (Pane, Reading) else f"{name}: {example}"
    honest = _IF_NOT_KNOWN.get((record, name)) if record and kind == "missing" else None
    if honest:
        return translatable("such as {example}; if it is not known: {what}", example=sample, what=honest)
    return translatable("such as {example}", example=sample)


def _literal_mend(field: FieldInfo | None, found: str) -> str:
    close = nearest(found, _literals(field.annotation)) if field else None
    return (
        translatable("did you mean {word}?", word=close)
        if close
        else translatable("write one of these words")
    )


def _literals(annotation: Any) -> list[str]:
    if typing.get_origin(annotation) is typing.Literal:
        return [str(value) for value in typing.get_args(annotation)]
    return [word for part in typing.get_args(annotation) for word in _literals(part)]


def _value(raw: Any, loc: Loc) -> Any:
    for part in loc:
        try:
            raw = raw[part]
        except (KeyError, IndexError, TypeError):
            return None
    return raw


def _is_lists(loc: Loc) -> bool:
    """Return whether a path leads into a list of lists, whose example says more than how to write a list."""
    model = owner(loc)
    name = next((part for part in reversed(loc) if isinstance(part, str)), "")
    field = model.model_fields.get(name) if model else None
    return field is not None and form_of(field) is Form.LISTS


def _found(value: Any) -> str | None:
    if isinstance(value, dict):
        return translatable("a group of {count} fields", count=len(value))
    if isinstance(value, (list, tuple)):
        return (
            translatable("an empty list")
            if not value
            else translatable("a list of {count}", count=len(value))
        )
    return "nothing" if value is None else clipped(value)


def owner(loc: Loc) -> type[BaseModel] | None:
    """Return the record that holds the last name of a path, or None."""
    model: type[BaseModel] | None = Job
    while loc and isinstance(loc[-1], int):
        loc = loc[:-1]
    for part in loc[:-1]:
        if isinstance(part, int):
            continue
        field = model.model_fields.get(part) if model is not None else None
        model = record_in(field.annotation)[0] if field is not None else None
    return model


def in_own_units(fault: Fault, units: Any) -> Fault:
    """Return a fault that tells its lengths in the units of the job first."""
    if units != "us":
        return fault
    texts = (fault.rule, fault.found, fault.hint)
    rule, found, hint = (text and inches_first(text) for text in texts)
    return dataclasses.replace(fault, rule=rule or "", found=found, hint=hint)


def unit_hint(text: str, units: str, low: bool) -> str | None:
    """Return the mend for a bare length out of range: most likely it was typed in the other units."""
    if not is_bare(text):
        return None
    if units == "us" and not low:
        return translatable(
            "a bare number is inches in this job: write {text} mm if it is millimetres", text=text
        )
    if units == "metric" and low:
        return translatable(
            "a bare number is millimetres in this job: write {text} in if it is inches", text=text
        )
    return None
