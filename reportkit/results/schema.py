"""The JSON Schema of results.json (JSON Schema 2020-12)."""

from __future__ import annotations

from typing import Any

SCHEMA_VERSION = 2

_NUMBER: dict[str, Any] = {"type": "number"}
_MAYBE: dict[str, Any] = {"type": ["number", "null"]}
_TEXT: dict[str, Any] = {"type": "string"}
_SHARE: dict[str, Any] = {"type": "number", "minimum": 0, "maximum": 1}
_AMOUNT: dict[str, Any] = {"type": "string", "pattern": r"^-?\d+(\.\d+)?$"}
_TWELVE: dict[str, Any] = {"type": ["array", "null"], "items": _NUMBER, "minItems": 12, "maxItems": 12}
_WITHHELD: dict[str, Any] = {"type": "object", "additionalProperties": _TEXT}


def _record(required: dict[str, Any], **optional: Any) -> dict[str, Any]:
    return {"type": "object", "properties": required | optional, "required": list(required)}


def _list(item: dict[str, Any]) -> dict[str, Any]:
    return {"type": "array", "items": item}


def results_schema() -> dict[str, Any]:
    """Return the schema; keys beyond those named are allowed."""
    placed = _record(
        {
            "pane": _TEXT,
            "x_mm": _NUMBER,
            "width_mm": _NUMBER,
            "length_mm": _NUMBER,
            "turned": {"type": "boolean"},
            "seam": {"type": ["string", "null"]},
        }
    )
    strip = _record({"y_mm": _NUMBER, "length_mm": _NUMBER, "pieces": _list(placed)})
    roll = _record(
        {"film": _TEXT, "width_mm": _NUMBER, "length_mm": _NUMBER, "price": _AMOUNT, "strips": _list(strip)}
    )
    rating = {
        "conditions": {"enum": ["nfrc", "en"]},
        "t_solar": _SHARE,
        "r_solar_out": _SHARE,
        "a_solar": _SHARE,
        "shgc": _SHARE,
        "shgc_by_angle": {"type": "object", "additionalProperties": _SHARE},
        "tser": _SHARE,
        "t_visible": _SHARE,
        "r_visible_out": _SHARE,
        "r_visible_in": _SHARE,
        "t_uv": _SHARE,
        "t_fading": _SHARE,
        "u_w_m2k": _NUMBER,
        "lsg": _MAYBE,
        "inward_fraction": _MAYBE,
    }
    finding = _record(
        {
            "severity": {"enum": ["note", "ask", "doubt", "impossible"]},
            "about": _TEXT,
            "arithmetic": _TEXT,
            "question": _TEXT,
        }
    )
    verdict = _record(
        {"verdict": {"enum": ["nothing_found", "ask", "refuse"]}, "reasons": _list(_TEXT), "who": _TEXT},
        absorptance=_SHARE,
        approval={
            "anyOf": [{"type": "null"}, _record({"by": _TEXT, "date": _TEXT, "file": _TEXT})],
        },
        difference_k=_NUMBER,
        limit_k=_NUMBER,
        stress_mpa=_NUMBER,
    )
    asked = _record(
        {},
        glare=_record({"light_at_eye_lx": {"type": "number", "minimum": 0}}),
        fading=_record({"left": {"type": "number", "minimum": 0}}),
        privacy=_record({"shows_by_day": _SHARE, "shows_after_dark": _SHARE}),
    )
    shares = {"type": "array", "items": _SHARE}
    range_ = _record({"low": _MAYBE, "high": _MAYBE}, middle=_NUMBER)
    pair = _record({"time": _TEXT, "pane": _TEXT, "beside": _TEXT, "share": _NUMBER, "expected": range_})
    compared = _record(
        {
            "meter": {"enum": ["light", "sun", "uv"]},
            "film": _TEXT,
            "glazing": _TEXT,
            "in_open": {"type": "boolean"},
            "share": range_,
            "expected": range_,
            "verdict": {"enum": ["as_computed", "more", "less", "cannot_tell"]},
            "pairs": _list(pair),
        }
    )
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "Results of one job",
        **_record(
            {
                "schema": {"const": SCHEMA_VERSION},
                "job": {"type": "object"},
                "choice": _record({"option": _TEXT, "by": {"enum": ["job", "rule"]}, "rule": _TEXT}),
                "assumptions": _list(
                    _record(
                        {
                            "about": {"enum": ["job", "study", "work", "range"]},
                            "field": _TEXT,
                            "value": {},
                            "mark": _TEXT,
                            "why": _TEXT,
                        }
                    )
                ),
                "weather": _record(
                    {
                        "source": _TEXT,
                        "kind": {"enum": ["typical_year", "normals", "clear_sky"]},
                        "place": _TEXT,
                        "span": _TEXT,
                    }
                ),
                "faces": _list(
                    _record(
                        {
                            "id": _TEXT,
                            "azimuth_deg": _NUMBER,
                            "tilt_deg": _NUMBER,
                            "annual_kwh_m2": _MAYBE,
                            "monthly_kwh_m2": _TWELVE,
                            "peak_w_m2": _NUMBER,
                            "peak_time": _TEXT,
                            "direct_sun_hours": _TWELVE,
                        },
                        withheld=_WITHHELD,
                    )
                ),
                "glazings": _list(
                    {
                        "anyOf": [
                            _record(
                                {
                                    "id": _TEXT,
                                    "film": {"type": ["string", "null"]},
                                    **rating,
                                    "claims": _list(finding),
                                }
                            ),
                            _record({"id": _TEXT, "film": _TEXT, "refused": _TEXT}),
                        ]
                    }
                ),
                "claims": _list(
                    _record({"film": _TEXT, "findings": _list(finding), "shgc_on_glass": {"type": "array"}})
                ),
                "claim_limits": _record(
                    {"visible_transmittance": shares, "flat": shares, "neutral": shares, "any": shares}
                ),
                "which_panes": _record(
                    {
                        "panes": _list(_record({"pane": _TEXT, "relief": _NUMBER})),
                        "knee": {"type": "integer"},
                        "beside_the_point": _record(
                            {"panes": _list(_TEXT), "price_without": {"type": ["string", "null"]}}
                        ),
                    }
                ),
                "screens": _list(
                    _record(
                        {
                            "pane": _TEXT,
                            "film": _TEXT,
                            "verdict": {"enum": ["nothing_found", "ask", "refuse"]},
                        }
                    )
                ),
                "letters": _list(_record({"film": _TEXT, "who": _TEXT, "panes": {"type": "array"}})),
                "panes": _list(
                    _record(
                        {
                            "id": _TEXT,
                            "room": _TEXT,
                            "face": _TEXT,
                            "width_mm": _NUMBER,
                            "height_mm": _NUMBER,
                            "area_m2": _NUMBER,
                            "glazing": _TEXT,
                            "quantity": {"type": "integer", "minimum": 1},
                            "screen": {"anyOf": [{"type": "null"}, verdict]},
                            "peak_solar_w": _NUMBER,
                            "annual_solar_kwh": _MAYBE,
                            "rank": {"type": "integer", "minimum": 1},
                        },
                        withheld=_WITHHELD,
                    )
                ),
                "options": _list(
                    _record(
                        {
                            "id": _TEXT,
                            "kind": {"enum": ["none", "film", "shade"]},
                            "film": {"type": ["string", "null"]},
                            "peak_solar_w": _NUMBER,
                            "annual_solar_kwh": _MAYBE,
                            "asked": {"anyOf": [{"type": "null"}, asked]},
                        },
                        withheld=_WITHHELD,
                    )
                ),
                "bad_day": _record({"time": _TEXT, "hours": _list(_TEXT), "watts": {"type": "object"}}),
                "views": _record(
                    {
                        "glazing": _TEXT,
                        "luminance_cd_m2": {"type": "object"},
                        "panes": _list(
                            _record(
                                {
                                    "film": {"type": ["string", "null"]},
                                    "t_visible": _SHARE,
                                    "r_visible_out": _SHARE,
                                    "r_visible_in": _SHARE,
                                    "scatters": {"type": "boolean"},
                                    "privacy_ratio": _MAYBE,
                                    "hides_by_day": {"type": "boolean"},
                                    "hides_at_night": {"type": "boolean"},
                                    "contrast_left": {"type": ["object", "null"]},
                                    "brightness_beside_bare": {"type": "object"},
                                }
                            )
                        ),
                    }
                ),
                "pieces": _list(
                    _record(
                        {
                            "pane": _TEXT,
                            "width_mm": _NUMBER,
                            "height_mm": _NUMBER,
                            "parts_mm": _list(_NUMBER),
                            "seams_mm": _list(_NUMBER),
                        }
                    )
                ),
                "cutting": {
                    "anyOf": [
                        {"type": "null"},
                        _record(
                            {
                                "rolls": _list(roll),
                                "bought_m2": _NUMBER,
                                "glass_m2": _NUMBER,
                                "waste_fraction": _SHARE,
                                "lower_bound": _AMOUNT,
                                "proven": {"type": "boolean"},
                            }
                        ),
                    ]
                },
                "materials": _list(_record({"id": _TEXT, "quantity": _AMOUNT, "unit": _TEXT})),
                "labour": _record({"crew": {"type": "integer"}, "panes": {"type": "array"}}),
                "schedule": {
                    "anyOf": [
                        {"type": "null"},
                        _record(
                            {
                                "date": {"type": ["string", "null"]},
                                "rule": _TEXT,
                                "cure_days": {"type": "integer"},
                                "slots": _list(
                                    _record(
                                        {
                                            "pane": _TEXT,
                                            "count": {"type": "integer", "minimum": 1},
                                            "start": _TEXT,
                                            "end": _TEXT,
                                            "in_sun": {"type": "boolean"},
                                            "glass_c": _MAYBE,
                                        }
                                    )
                                ),
                                "panes": _list(_record({"pane": _TEXT, "sun": {"type": "array"}})),
                                "dates": {"type": ["object", "null"]},
                            },
                            withheld=_WITHHELD,
                        ),
                    ]
                },
                "price": _record(
                    {
                        "currency": _TEXT,
                        "lines": _list(
                            _record({"id": _TEXT, "quantity": _AMOUNT, "rate": _AMOUNT, "amount": _AMOUNT})
                        ),
                        "net": _AMOUNT,
                        "tax": _AMOUNT,
                        "total": _AMOUNT,
                    }
                ),
                "cautions": _list(_record({"id": _TEXT, "what": _TEXT, "why": _TEXT, "who": _TEXT})),
                "readings": {
                    "anyOf": [
                        {"type": "null"},
                        _record(
                            {
                                "reading_share": _SHARE,
                                "compared": _list(compared),
                                "left_out": {"type": "array"},
                            }
                        ),
                    ]
                },
            }
        ),
    }
