"""JSON Schema of ``job.yaml``, made from the same models that check a job."""

from __future__ import annotations

from typing import Any

from reportkit.job.model import Job

#: Fields that ``_shared`` can give instead of ``job.yaml``.
_SHARED_CAN_GIVE = ("films", "glazings", "prices")
#: Limits as the models name them, and as JSON Schema does.
_LIMITS = {"ge": "minimum", "le": "maximum", "gt": "exclusiveMinimum", "lt": "exclusiveMaximum"}


def schema() -> dict[str, Any]:
    """Return the JSON Schema (draft 2020-12) of a job file.

    Panes, decisions and readings are not part of it: they stand in files of their own.
    Numbers may be typed as text with a decimal comma, lengths with their unit; what the
    reader checks across fields is not in the schema.

    Returns
    -------
    dict
        The schema, plain JSON.
    """
    full = Job.model_json_schema(mode="validation")
    full["$schema"] = "https://json-schema.org/draft/2020-12/schema"
    full["title"] = "Job file of reportkit"
    for name in ("panes", "decisions", "readings"):
        full["properties"].pop(name)
    absent = ("panes", *_SHARED_CAN_GIVE)
    full["required"] = [name for name in full["required"] if name not in absent]
    for name in ("Pane", "Decision", "Reading"):
        del full["$defs"][name]
    for record in (full, *full["$defs"].values()):
        for field in record["properties"].values():
            (example,) = field.pop("examples")  # as typed, which need not be what a validator takes
            field["description"] += f" (such as {example})"
    _as_typed(full)
    for name in ("FilmSpec", "GlazingSpec"):  # an entry may add to a shared one of the same id
        full["$defs"][name]["required"] = ["id"]
    full["$defs"]["Prices"].pop("required", None)
    return full


def _as_typed(part: Any) -> None:
    """Let numbers be texts too (a decimal comma), yes and no be true and false, and limits be limits."""
    if isinstance(part, list):
        for item in part:
            _as_typed(item)
    if not isinstance(part, dict):
        return
    for short, word in _LIMITS.items():
        if short in part:
            part[word] = part.pop(short)
    if part.get("type") in ("number", "integer"):
        part["type"] = [part["type"], "string"]
    elif part.get("type") == "boolean":
        del part["type"]
        part["enum"] = [True, False, "yes", "no"]
    for item in part.values():
        _as_typed(item)
