"""A tree of texts written as YAML that `reportkit.job.reading.yamltree` reads back to the same texts."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

from reportkit.job.reading.yamltree import read_tree

#: A longer list stands below its name, an entry on a line [characters].
_LONGEST = 70


def yaml_text(value: Mapping[str, Any], indent: int = 0) -> str:
    """Return a mapping as YAML, a field on a line, what is not given left out.

    Parameters
    ----------
    value
        Fields with texts, lists and further fields.
    indent
        Spaces before each line.
    """
    return "".join(
        f"{' ' * indent}{_scalar(name)}:{_below(part, indent)}"
        for name, part in value.items()
        if part is not None
    )


def _nested(value: Any) -> bool:
    return isinstance(value, (Mapping, list))


def _below(value: Any, indent: int) -> str:
    if isinstance(value, Mapping) and value:
        return "\n" + yaml_text(value, indent + 2)
    if isinstance(value, list) and (len(_flow(value)) > _LONGEST or any(map(_nested, value))):
        return "\n" + "".join(_entry(entry, indent + 2) for entry in value)
    return f" {_flow(value)}\n"


def _entry(value: Any, indent: int) -> str:
    lead = " " * indent
    if isinstance(value, Mapping) and any(part is not None for part in value.values()):
        return f"{lead}- {yaml_text(value, indent + 2)[indent + 2 :]}"
    return f"{lead}- {_flow(value)}\n"


def _flow(value: Any) -> str:
    if isinstance(value, Mapping):
        return "{" + ", ".join(f"{_scalar(name)}: {_flow(part)}" for name, part in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(map(_flow, value)) + "]"
    return "null" if value is None else _scalar(value)


def _scalar(text: str) -> str:
    """Return a text plain where whatever reads YAML has it back as itself, else between quotation marks."""
    plain = text.isprintable() and not text.startswith("?")
    tree, faults = read_tree("", f"{{{text}: [{text}]}}") if plain else (None, [])
    if tree is not None and not faults and tree.value == {text: [text]}:
        return text
    quoted = json.dumps(text, ensure_ascii=False)
    return "".join(sign if sign.isprintable() else f"\\U{ord(sign):08X}" for sign in quoted)
