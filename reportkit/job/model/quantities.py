"""Areas, temperatures, powers and flows of air as people type them, with their unit or in the job's units."""

from __future__ import annotations

import re
from typing import Annotated, Any

from pydantic import BeforeValidator, ValidationInfo, WithJsonSchema

from reportkit.base.translatable import translatable
from reportkit.job.model.typed import broken, not_a_date, one_reading

_QUANTITY = re.compile(r"([+-]?\d+(?:[.,]\d+)?)\s*([^\d\s].*)?")

#: Unit words of each quantity and how they become SI: factor, then offset (value + offset) x factor.
AREA = {"m2": (1.0, 0.0), "m²": (1.0, 0.0), "sqm": (1.0, 0.0), "ft2": (0.09290304, 0.0),
        "ft²": (0.09290304, 0.0), "sqft": (0.09290304, 0.0), "sq ft": (0.09290304, 0.0)}  # fmt: skip
TEMPERATURE = {"c": (1.0, 0.0), "°c": (1.0, 0.0), "f": (5 / 9, -32.0), "°f": (5 / 9, -32.0)}
POWER = {
    "w": (1.0, 0.0),
    "kw": (1000.0, 0.0),
    "btu/h": (1 / 3.412141633, 0.0),
    "btu/hr": (1 / 3.412141633, 0.0),
}
AIR_FLOW = {
    "m3/h": (1.0, 0.0),
    "m³/h": (1.0, 0.0),
    "l/s": (3.6, 0.0),
    "cfm": (0.3048**3 * 60, 0.0),
}

#: Of quantities whose field names their unit: that and what else may be written behind a number.
DIFFERENCE = {"k": (1.0, 0.0), "c": (1.0, 0.0), "°c": (1.0, 0.0), "f": (5 / 9, 0.0), "°f": (5 / 9, 0.0)}
DAY_SUN = {
    "kwh/m2": (1.0, 0.0),
    "mj/m2": (1 / 3.6, 0.0),
    "btu/ft2": (1 / 3412.141633 / 0.09290304, 0.0),
}


def _quantity(
    value: Any, info: ValidationInfo, units: dict[str, tuple[float, float]], metric: str, us: str, sample: str
) -> Any:
    if isinstance(value, float):
        return value
    not_a_date(value, translatable("a number with its unit, such as {sample}", sample=sample))
    match = _QUANTITY.fullmatch(str(value).strip())
    if match is None:
        raise broken(translatable("must be one number with its unit, such as {sample}", sample=sample))
    one_reading(match[1], translatable("a number, such as {sample},", sample=sample))
    typed = _unit(match[2] or "")
    default = us if (info.context or {}).get("default_length") == "in" else metric
    if typed and typed not in units:
        raise broken(
            translatable("must have one of the units {names}", names=", ".join(sorted(units))),
            hint=translatable("such as {example}", example=sample),
        )
    factor, offset = units[typed or default]
    return (float(match[1].replace(",", ".")) + offset) * factor


def _unit(typed: str) -> str:
    """Return a unit as the tables here have it: ``78 ºF``, ``78 deg F`` and ``78 Fahrenheit`` are ``78 F``."""
    unit = typed.strip().lower().replace("º", "°")
    return re.sub(
        r"^(?:°|deg\.?|degrees?|grados?|grad|degrés?)?\s*(c|f)(?:elsius|entigrades?|ahrenheit)?$", r"\1", unit
    )


def _difference(value: Any, info: ValidationInfo) -> Any:
    return _quantity(value, info, DIFFERENCE, "k", "k", "5 or 9 F")


def _celsius(value: Any, info: ValidationInfo) -> Any:
    return _quantity(value, info, TEMPERATURE, "c", "c", "4.1 or 39 F")


def _day_sun(value: Any, info: ValidationInfo) -> Any:
    return _quantity(value, info, DAY_SUN, "kwh/m2", "kwh/m2", "4.2, 15.1 MJ/m2 or 1330 Btu/ft2")


def _schema(sample: str) -> WithJsonSchema:
    return WithJsonSchema({"type": ["number", "string"], "description": f"a number with its unit: {sample}"})


def _area(value: Any, info: ValidationInfo) -> Any:
    return _quantity(value, info, AREA, "m2", "ft2", "24 m2 or 260 ft2")


def _temperature(value: Any, info: ValidationInfo) -> Any:
    return _quantity(value, info, TEMPERATURE, "c", "f", "26 C or 78 F")


def _air_flow(value: Any, info: ValidationInfo) -> Any:
    return _quantity(value, info, AIR_FLOW, "m3/h", "cfm", "300 m3/h or 180 cfm")


def _power(value: Any, info: ValidationInfo) -> Any:
    return _quantity(value, info, POWER, "w", "btu/h", "3500 W or 12000 Btu/h")


#: An area [m2]; bare numbers take the job's units.
Area = Annotated[float, BeforeValidator(_area), _schema("24 m2 or 260 ft2")]
#: A temperature [C]; bare numbers take the job's units.
Temperature = Annotated[float, BeforeValidator(_temperature), _schema("26 C or 78 F")]
#: A power [W]; bare numbers are watts in a metric job and Btu/h in a US one.
Power = Annotated[float, BeforeValidator(_power), _schema("3500 W or 12000 Btu/h")]
#: A flow of air [m3/h]; bare numbers are m3/h in a metric job and cubic feet a minute in a US one.
AirFlow = Annotated[float, BeforeValidator(_air_flow), _schema("300 m3/h or 180 cfm")]
#: A temperature whose field names the unit, C; another may be written behind the number.
Celsius = Annotated[float, BeforeValidator(_celsius), _schema("4.1 or 39 F")]
#: A difference of temperatures whose field names the unit, K.
Kelvin = Annotated[float, BeforeValidator(_difference), _schema("5 or 9 F")]
#: Sun on level ground a day whose field names the unit, kWh/m2.
DaySun = Annotated[float, BeforeValidator(_day_sun), _schema("4.2, 15.1 MJ/m2 or 1330 Btu/ft2")]
