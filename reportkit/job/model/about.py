"""What a field of a job means, with an example as a person types it: both stand at the field.

``name: Annotated[Text, about("what the tax is called", "VAT")]``. The guide, the schema, the messages and the
survey's form take their words from here, so that a field is explained in one place.
"""

from __future__ import annotations

import types
from collections.abc import Iterator
from typing import Annotated, Any, Literal, Union, get_args, get_origin

from pydantic import BaseModel, Field
from pydantic.fields import FieldInfo


def about(what: str, example: str) -> Any:
    """Return the note on a field.

    Parameters
    ----------
    what
        What it means, a short phrase without a full stop.
    example
        A value as a person would type it.
    """
    return Field(description=what, examples=[example])


def meaning(field: FieldInfo) -> tuple[str, str]:
    """Return what a field means, and an example.

    Raises
    ------
    LookupError
        If the field carries no note.
    """
    if not field.description or not field.examples:
        raise LookupError("a field of a job says what it means, by about()")
    return field.description, str(field.examples[0])


def record_in(annotation: Any) -> tuple[type[BaseModel] | None, bool]:
    """Return the record that a field holds, if any, and whether it holds several."""
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation, False
    origin = get_origin(annotation)
    if origin is Annotated:
        return record_in(get_args(annotation)[0])
    if origin in (Union, types.UnionType, tuple):
        for part in get_args(annotation):
            below, many = record_in(part)
            if below is not None:
                return below, many or origin is tuple
    return None, False


def choices(annotation: Any) -> tuple[str, ...]:
    """Return the words of a field's choice, or of the entries of its list; none where it takes others."""
    origin = get_origin(annotation)
    if origin is Literal:
        return tuple(str(word) for word in get_args(annotation))
    if origin not in (Annotated, Union, types.UnionType, tuple):
        return ()
    parts = get_args(annotation)[: 1 if origin is Annotated else None]
    return tuple(dict.fromkeys(word for part in parts for word in choices(part)))


def fields_of_choice(
    *records: type[BaseModel],
) -> Iterator[tuple[type[BaseModel], str, tuple[str, ...]]]:
    """Yield each field that takes one of some words, of records and those below them: record, name, words."""
    walked: dict[type[BaseModel], None] = dict.fromkeys(records)
    waiting = list(walked)
    for record in waiting:
        for name, field in record.model_fields.items():
            below, _ = record_in(field.annotation)
            if below is not None and below not in walked:
                walked[below] = None
                waiting.append(below)
            if words := choices(field.annotation):
                yield record, name, words


def fields_in(
    record: type[BaseModel], raw: Any
) -> Iterator[tuple[type[BaseModel], dict[str, Any], str, FieldInfo]]:
    """Yield each field of a raw tree that holds no record: its own record, its part of the tree, name, field.

    Parameters
    ----------
    record
        The record that the tree is to become.
    raw
        Its fields; whoever reads may put another value in a field's place.
    """
    if not isinstance(raw, dict):
        return
    for name, value in raw.items():
        field = record.model_fields.get(name)
        if field is None:
            continue
        below, _ = record_in(field.annotation)
        if below is None:
            yield record, raw, name, field
            continue
        for entry in value if isinstance(value, list) else [value]:
            yield from fields_in(below, entry)
