"""A span where one number must stand, ``12 to 22 %``: refused, and which end to write is said by field.

The end to write is the worse one, so that nothing is promised that the other end would not keep. Where a
field takes two numbers, a first and a last, a span is read as these.
"""

from __future__ import annotations

import re
import types
from decimal import Decimal
from fractions import Fraction
from typing import Annotated, Any, Union, get_args, get_origin

from pydantic import BaseModel

from reportkit.base.translatable import english, translatable
from reportkit.job.model.about import fields_in

#: A longer text is no span.
LONGEST = 60
_NUMBER = r"\d+(?:[.,]\d+)?|[.,]\d+"
#: Two numbers with what stands between the ends of a span, each perhaps with its unit; an angle is no
#: end, nor an exponent.
SPAN = re.compile(
    rf"(?P<first>{_NUMBER})\s*(?:(?!e-)[^\W\d]{{1,4}}\d?|[%°'\"€$£])?\s*"
    rf"(?:\b(?:to|till|until|a|hasta|y|bis|à)\b|[-–—]|\.{{2,3}}|…)\s*"
    rf"(?P<last>{_NUMBER})(?![\d.,]*\d)(?!\s*(?:°|deg))",
    re.IGNORECASE,
)
_WHOLE = re.compile(
    rf"\s*(?:from|between|de|entre|von)?\s*{SPAN.pattern}\s*[^\d\s.,]{{0,12}}\d?\s*", re.IGNORECASE
)

#: What must hold of what is typed as a span.
RULE = translatable("must be one number, not a range")
_HEAT = english("write {high}: at that end more of the sun's heat comes in")
_LESS = english("write {low}: that much is true at either end")
_LIMIT = english("write {low}: that much is allowed at either end")
_MIRROR = english("write {high}: at that end it mirrors more")
#: Which end to write and why, by field; elsewhere the person knows.
_BY_FIELD = {
    "solar_transmittance_percent": _HEAT,
    "shgc": _HEAT,
    "shading_coefficient": _HEAT,
    "visible_transmittance_percent": english(
        "write {high} where glare is the trouble, {low} where daylight is to be kept"
    ),
    "uv_transmittance_percent": english("write {high}: at that end more ultraviolet comes in"),
    "visible_reflectance_glass_side_percent": _MIRROR,
    "visible_reflectance_film_side_percent": _MIRROR,
    "solar_reflectance_glass_side_percent": english(
        "write {low}: at that end more heat comes in and the glass grows warmer"
    ),
    "solar_reflectance_film_side_percent": english(
        "write {low}: at that end more heat comes in and the glass grows warmer"
    ),
    "solar_absorptance_percent": english("write {high}: at that end the glass grows warmer"),
    "tser_percent": _LESS,
    "light_to_solar_gain": _LESS,
    "infrared_rejected_percent": _LESS,
    "fading_reduced_percent": _LESS,
    "life_years": _LESS,
    "emissivity": english("write {high}: at that end less of the room's warmth is kept"),
    "u_w_m2k": english("write {high}: at that end more of the room's warmth is lost"),
    "thickness_um": english("write {high}: thicker film takes longer to cut, to fit and to dry"),
    "rate": english("write {low}: at that end less money is saved"),
    "widths": english("measure it again; where it differs, up to three readings have columns of their own"),
    "heights": english("measure it again; where it differs, up to three readings have columns of their own"),
}
_ELSEWHERE = english("write {low} or {high}: the one with which you promise less")


def span_of(text: Any) -> tuple[str, str] | None:
    """Return the lower and the higher end of a span, as typed, None where a text is none."""
    match = _whole(text)
    return ends(match) if match else None


def _whole(text: Any) -> re.Match[str] | None:
    return _WHOLE.fullmatch(text) if isinstance(text, str) and len(text) <= LONGEST else None


def ends(match: re.Match[str]) -> tuple[str, str]:
    """Return the ends of a span that `SPAN` found, the lower first."""
    low, high = sorted((match["first"], match["last"]), key=lambda one: float(one.replace(",", ".")))
    return low, high


def end_to_write(field: str, span: tuple[str, str]) -> str:
    """Return which end of a span to write in a field, and why."""
    said = _LIMIT if field.startswith("max_") else _BY_FIELD.get(field, _ELSEWHERE)
    return translatable(said, low=span[0], high=span[1])


def takes_a_number(annotation: Any) -> bool:
    """Return whether a field takes one number, or readings of one length."""
    origin, parts = get_origin(annotation), get_args(annotation)
    if origin is tuple:
        return takes_a_number(parts[0]) and Fraction in get_args(parts[0])
    if origin in (Annotated, Union, types.UnionType):
        return any(takes_a_number(part) for part in parts)
    return annotation in (float, int, Decimal, Fraction)


def spread_out(record: type[BaseModel], raw: Any) -> None:
    """Turn spans of a raw tree into two numbers, in place, where a field takes a first and a last.

    Parameters
    ----------
    record
        The record that the tree is to become.
    raw
        Its fields, texts only; anything else is left alone.
    """
    for _, part, name, field in fields_in(record, raw):
        value = part[name]
        match = _whole(value[0] if isinstance(value, list) and len(value) == 1 else value)
        if match and _takes_two(field.annotation):
            part[name] = [match["first"], match["last"]]


def _takes_two(annotation: Any) -> bool:
    origin, parts = get_origin(annotation), get_args(annotation)
    if origin in (Annotated, Union, types.UnionType):
        return any(_takes_two(part) for part in parts)
    return origin is tuple and len(parts) == 2 and Ellipsis not in parts
