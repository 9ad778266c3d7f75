"""Turning records into JSON: lengths get ``_mm``, money stays exact, nothing is NaN."""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Mapping
from decimal import Decimal
from fractions import Fraction
from typing import Any

import numpy as np
from pydantic import BaseModel


def plain(value: Any) -> Any:
    """Return a value as JSON data: NaN becomes null, arrays become lists, money a decimal string."""
    if value is None or isinstance(value, (bool, int, str)):
        return value
    if isinstance(value, (float, np.floating)):
        return None if math.isnan(value) else float(value)
    if isinstance(value, np.integer):
        return int(value)
    if isinstance(value, Decimal):
        return f"{value:f}"
    if isinstance(value, Fraction):
        return float(value)
    if isinstance(value, (dt.date, dt.datetime)):
        return value.isoformat()
    if isinstance(value, np.ndarray):
        return [plain(entry) for entry in value.tolist()]
    if isinstance(value, BaseModel):
        return {_key(name, entry): plain(entry) for name, entry in value}
    if isinstance(value, Mapping):
        return {str(name): plain(entry) for name, entry in value.items()}
    if isinstance(value, (list, tuple)):
        return [plain(entry) for entry in value]
    raise TypeError(f"no JSON for {type(value).__name__}")


def _key(name: str, value: Any) -> str:
    """Give a length's key its unit."""
    first = value[0] if isinstance(value, tuple) and value else value
    return f"{name}_mm" if isinstance(first, Fraction) else name
