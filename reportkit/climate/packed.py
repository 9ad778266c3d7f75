"""Weather and sites as bytes that hold no code: numpy's own format for arrays (NPY, in a ZIP) and JSON.

A sentence keeps its template and values, so that it can still be said in another language. Times are
instants; their zone is a name, and what its clocks show is told by the rules of the machine that unpacks.
"""

from __future__ import annotations

import dataclasses
import io
import json
from typing import Any

import numpy as np

from reportkit.base.translatable import Quantity, Translatable
from reportkit.climate.weather import Site, Weather


def pack_site(site: Site) -> bytes:
    """Return a site as bytes."""
    return json.dumps(dataclasses.asdict(site)).encode()


def unpack_site(packed: bytes) -> Site:
    """Return the site that `pack_site` was given."""
    return Site(**json.loads(packed))


def pack(weather: Weather) -> bytes:
    """Return weather as bytes, with what it was as read."""
    arrays: dict[str, Any] = {}
    parts: list[dict[str, Any]] = []
    one: Weather | None = weather
    while one is not None:
        told: dict[str, Any] = {}
        for field in dataclasses.fields(one):
            value = getattr(one, field.name)
            if field.name == "times":
                arrays[f"{len(parts)}.times"] = value.asi8
                told["times"] = [value.unit, str(value.tz)]
            elif isinstance(value, np.ndarray):
                arrays[f"{len(parts)}.{field.name}"] = value
            elif field.name != "as_read":
                told[field.name] = _plain(value)
        parts.append(told)
        one = one.as_read
    file = io.BytesIO()
    np.savez(file, allow_pickle=False, told=np.array(json.dumps(parts)), **arrays)
    return file.getvalue()


def unpack(packed: bytes) -> Weather:
    """Return the weather that `pack` was given."""
    import pandas as pd

    with np.load(io.BytesIO(packed), allow_pickle=False) as held:
        arrays = dict(held)
    made: Weather | None = None
    parts = list(enumerate(json.loads(str(arrays.pop("told")))))
    for number, told in reversed(parts):
        values = {name: _said(value) for name, value in told.items()}
        unit, zone = told["times"]
        values |= {name[2:]: array for name, array in arrays.items() if name.startswith(f"{number}.")}
        instants = values["times"].view(f"M8[{unit}]")
        values["times"] = pd.DatetimeIndex(instants, tz="UTC").tz_convert(zone)
        made = Weather(**values, as_read=made)
    assert made is not None  # there is always the weather itself
    return made


def _plain(value: Any) -> Any:
    """Return a value of a record as JSON can hold it; `_said` turns it back."""
    if isinstance(value, Translatable):
        return {"template": value.template, "values": {k: _plain(v) for k, v in value.values.items()}}
    if isinstance(value, Quantity):
        return {"quantity": float(value), "unit": _plain(value.unit), "beside": value.beside}
    return [_plain(each) for each in value] if isinstance(value, tuple) else value


def _said(value: Any) -> Any:
    if isinstance(value, list):
        return tuple(map(_said, value))
    if not isinstance(value, dict):
        return value
    if "template" in value:
        return Translatable(value["template"], {k: _said(v) for k, v in value["values"].items()})
    return Quantity(value["quantity"], _said(value["unit"]), value["beside"])
