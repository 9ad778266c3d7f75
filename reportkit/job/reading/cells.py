"""The text of one cell as what it tells of a field: a value, a list, values by name, a group.

A list is written ``heat; glare`` or a line for each entry, values by name ``south: grey; west: none``, a
group that has none of its fields ``yes``. Anything may also be written as YAML writes it on one line,
``[7, 18]`` or ``{south: grey}``, and a text as ``"..."`` where it would be taken for something else.
"""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from typing import Any

from pydantic.fields import FieldInfo

from reportkit.job.model.forms import Form, form_of
from reportkit.job.reading.yamltree import read_tree

#: The most signs a cell holds (ISO/IEC 29500 leaves it to the programs; common practice, no source).
LONGEST = 32_767


def plain(text: str) -> str:
    """Return a text as a cell keeps it: ordinary spaces and line ends, none at either end."""
    return re.sub("[\u2028\u2029]", " ", re.sub(r"\r\n?", "\n", text)).replace("\u00a0", " ").strip()


def as_value(field: FieldInfo | None, text: str) -> Any:
    """Return what a cell tells of a field, texts only; what it cannot be read as stays the text.

    Parameters
    ----------
    field
        The field, or None where no field has that name.
    text
        The cell, not empty.
    """
    form = form_of(field) if field is not None else Form.VALUE
    if form is not Form.VALUE and text[0] in "[{":
        tree, faults = read_tree("", f"cell: {text}")
        return text if tree is None or faults or set(tree.value) != {"cell"} else tree.value["cell"]
    if form is Form.GROUP:
        return {} if text.lower() == "yes" else text
    if form is Form.LIST:
        sign = r"[;\n]" if re.search(r"[;\n]", text) else r",\s+"
        return [_unquoted(part.strip()) for part in re.split(sign, text) if part.strip()]
    if form is Form.MAPPING:
        pairs = [part.partition(":") for part in re.split(r"[;\n]", text) if part.strip()]
        names = [name.strip() for name, _, _ in pairs]
        if not all(colon for _, colon, _ in pairs) or len(set(names)) < len(names):
            return text
        return {name: value.strip() or None for name, (_, _, value) in zip(names, pairs, strict=True)}
    return _unquoted(text)


def written(field: FieldInfo, value: Any) -> str | None:
    """Return a cell that tells a value of a field, or None where no cell can.

    Parameters
    ----------
    field
        The field.
    value
        What was told of it, texts only.
    """
    for text in _ways(value):
        if len(text) <= LONGEST and plain(text) == text and text and as_value(field, text) == value:
            return text
    return None


def _ways(value: Any) -> list[str]:
    """Return ways to write a value, the most readable first."""
    ways = []
    if isinstance(value, str):
        ways.append(value)
    elif isinstance(value, list) and value and all(isinstance(entry, str) for entry in value):
        ways += ["; ".join(value), "\n".join(value), "; ".join(value) + ";"]
    elif isinstance(value, Mapping) and not value:
        ways.append("yes")
    elif isinstance(value, Mapping) and all(isinstance(entry, str) for entry in value.values()):
        ways.append("; ".join(f"{name}: {entry}" for name, entry in value.items()))
    quoted = json.dumps(value, ensure_ascii=False)
    return [*ways, re.sub("[\u00a0\u2028\u2029]", lambda sign: f"\\u{ord(sign[0]):04x}", quoted)]


def _unquoted(text: str) -> str:
    if len(text) > 1 and text[0] == text[-1] == '"':
        try:
            parsed = json.loads(text)
        except ValueError:
            return text
        if isinstance(parsed, str):
            return parsed
    return text
