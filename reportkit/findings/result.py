"""What every record of the findings is, and the one place that writes it as JSON.

A field without a default is always written; a field that stands at its default is left out, so that a
reader sees only what there is to say.
"""

from __future__ import annotations

import ast
import datetime as dt
import inspect
import itertools
import math
import textwrap
from collections.abc import Mapping
from decimal import Decimal
from fractions import Fraction
from typing import Annotated, Any

import numpy as np
from pydantic import BaseModel, ConfigDict, Field, GetJsonSchemaHandler, SkipValidation, WithJsonSchema
from pydantic_core import CoreSchema

#: A sentence that may still change its language (see `reportkit.base.translatable`), kept as it is.
Text = Annotated[str, SkipValidation]

#: A time of day, stored as hours and minutes.
TimeOfDay = Annotated[dt.time, WithJsonSchema({"type": "string", "pattern": "^[0-2][0-9]:[0-5][0-9]$"})]

#: A part of a whole [1].
Share = Annotated[float, Field(ge=0, le=1)]

#: Twelve values by month, January first.
Months = Annotated[tuple[float, ...], Field(min_length=12, max_length=12)]


class Result(BaseModel):
    """A frozen record of findings; the text below a field gives its meaning and unit."""

    model_config = ConfigDict(frozen=True, extra="forbid", allow_inf_nan=False)

    @classmethod
    def __get_pydantic_json_schema__(
        cls, core_schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        """Describe each field by the text below it, read from the source only when a schema is asked for."""
        made = handler(core_schema)
        fields: dict[str, Any] = handler.resolve_ref_schema(made)["properties"]
        for record in reversed(cls.__mro__):
            for name, text in meanings(record).items():
                fields[cls.model_fields[name].alias or name]["description"] = text
        return made


def meanings(record: type) -> dict[str, str]:
    """Return the texts below a record's own fields, by the field; none for what is no record."""
    if not issubclass(record, Result):
        return {}
    (body,) = ast.parse(textwrap.dedent(inspect.getsource(record))).body
    assert isinstance(body, ast.ClassDef)
    return {
        field.target.id: inspect.cleandoc(below.value.value)
        for field, below in itertools.pairwise(body.body)
        if isinstance(field, ast.AnnAssign)
        and isinstance(field.target, ast.Name)
        and isinstance(below, ast.Expr)
        and isinstance(below.value, ast.Constant)
        and isinstance(below.value.value, str)
    }


class WithReasons(Result):
    """A record that may withhold some of its values."""

    withheld: dict[str, str] = {}
    """Why a field of this record is null, by the field's name: a key of the reasons."""


def finite(value: float | None) -> float | None:
    """Return a number, or None for one that is not finite."""
    return None if value is None or not math.isfinite(value) else float(value)


def rounded(value: float) -> float:
    """Return a number in ten significant digits; what is nearer to nothing than a billionth is nothing.

    The digits behind differ from machine to machine, with the order in which its libraries add (from the
    thirteenth on), and nothing here is measured to ten.
    """
    return 0.0 if abs(value) < 1e-9 else float(f"{value:.10g}")


def all_rounded(value: Any) -> Any:
    """Return JSON data with every number in it `rounded`."""
    if isinstance(value, float):
        return rounded(value)
    if isinstance(value, list):
        return [all_rounded(item) for item in value]
    if isinstance(value, dict):
        return {key: all_rounded(item) for key, item in value.items()}
    return value


def as_json(value: Any) -> Any:
    """Return a value as JSON data: NaN becomes null, arrays become lists, money a decimal string."""
    if value is None or isinstance(value, (bool, int, str)):
        return value
    if isinstance(value, (float, np.floating)):
        return None if math.isnan(value) else rounded(float(value))
    if isinstance(value, np.integer):
        return int(value)
    if isinstance(value, Decimal):
        return f"{value:f}"
    if isinstance(value, Fraction):
        return rounded(float(value))
    if isinstance(value, (dt.date, dt.datetime)):
        return value.isoformat()
    if isinstance(value, dt.time):
        return value.isoformat("minutes")
    if isinstance(value, np.ndarray):
        return [as_json(entry) for entry in value.tolist()]
    if isinstance(value, Result):
        fields = type(value).model_fields
        return {
            fields[name].alias or name: as_json(entry)
            for name, entry in value
            if fields[name].is_required() or entry != fields[name].default
        }
    if isinstance(value, BaseModel):
        return {_key(name, entry): as_json(entry) for name, entry in value}
    if isinstance(value, Mapping):
        return {str(name): as_json(entry) for name, entry in value.items()}
    if isinstance(value, (list, tuple)):
        return [as_json(entry) for entry in value]
    raise TypeError(f"no JSON for {type(value).__name__}")


def _key(name: str, value: Any) -> str:
    """Give a length's key its unit."""
    first = value[0] if isinstance(value, tuple) and value else value
    return f"{name}_mm" if isinstance(first, Fraction) else name
