"""A notebook without what varies from run to run, so that the same inputs give the same bytes.

Removed: papermill's times, paths and parameters, execution times, the kernel's and Python's version, what was
printed on the side, the digits that differ from machine to machine, and the folder that was typed. It becomes
``inputs``, so that the notebook runs again beside the inputs of its run. The computation stays as it is.
"""

from __future__ import annotations

import copy
import json
import re
from collections.abc import Mapping
from functools import cached_property, lru_cache
from pathlib import PurePath
from typing import Any

from reportkit.findings.result import all_rounded

#: Tag that papermill gives to the cell it writes the parameters into.
PARAMETERS_TAG = "injected-parameters"

#: What the typed folder becomes: where a run keeps a job that runs by itself.
NEUTRAL = "inputs"


class Cleaned(dict[str, Any]):
    """A notebook that was cleaned: it is not cleaned again for every document made of it."""

    @cached_property
    def file(self) -> bytes:
        """The bytes of its file, for a run and its PDFs; it does not change any more."""
        return serialised(self)


def clean(notebook: Mapping[str, Any], *, folders: tuple[str | PurePath, ...] = ()) -> Cleaned:
    """Return a copy of a notebook without what varies.

    Parameters
    ----------
    notebook
        An executed notebook, nbformat 4.
    folders
        Further folders of this machine to be written as ``inputs`` wherever they stand.

    Returns
    -------
    Cleaned
        The cleaned notebook as plain data.
    """
    made = Cleaned(json.loads(json.dumps(notebook)))
    meta = made.get("metadata", {})
    parameters = meta.get("papermill", {}).get("parameters", {})
    values = sorted({value for value in parameters.values() if isinstance(value, str) and value})
    # a name such as "demo" is only replaced where it is the parameter; a path, wherever it stands
    typed = [value for value in values if "/" in value or "\\" in value]
    typed += [str(folder) for folder in folders]
    made["metadata"] = {
        "kernelspec": {"display_name": "Python 3", "language": "python", "name": "python3"},
        "language_info": {"name": "python"},
    }
    for number, cell in enumerate(made["cells"]):
        cell["id"] = f"cell-{number + 1:02d}"
        meta = cell.get("metadata", {})
        cell["metadata"] = {
            name: copy.deepcopy(meta[name]) for name in ("reportkit", "tags", "jupyter") if meta.get(name)
        }
        if PARAMETERS_TAG in cell["metadata"].get("tags", ()) and values:
            # written anew, for a folder's name is spelled with all kinds of escapes in there
            lines = [f"{name} = {_neutral(value)}" for name, value in parameters.items()]
            cell["source"] = "\n".join(["# Parameters", *lines, ""])
        if cell["cell_type"] == "code":
            cell["execution_count"] = number + 1
            # what was printed on the side, such as a library's warning, names files of the machine
            cell["outputs"] = [one for one in cell.get("outputs", ()) if one["output_type"] != "stream"]
            for output in cell["outputs"]:
                output["metadata"] = {}
                if "data" in output:
                    output["data"] = all_rounded(output["data"])
                if output["output_type"] == "execute_result":
                    output["execution_count"] = number + 1
    if typed:
        made["cells"] = _without(made["cells"], sorted(set(typed), key=len, reverse=True))
    return made


def serialised(notebook: Mapping[str, Any]) -> bytes:
    """Return a notebook as the bytes of a file, in one fixed form."""
    text = json.dumps(notebook, ensure_ascii=False, sort_keys=True, indent=1)
    return (text + "\n").encode("utf-8", "replace")


def indented(data: Mapping[str, Any], indent: int) -> bytes:
    """Return JSON as the bytes of a file, its keys sorted, a level moved by ``indent`` signs."""
    return _indented(json.dumps(data, ensure_ascii=False, sort_keys=True), indent)


@lru_cache(maxsize=2)
def _indented(compact: str, indent: int) -> bytes:
    """Indent JSON; kept for what goes into a run and into several of its PDFs."""
    text = json.dumps(json.loads(compact), ensure_ascii=False, indent=indent)
    return (text + "\n").encode("utf-8", "replace")


def _neutral(value: Any) -> str:
    """Return a parameter as Python writes it, a text as the neutral folder."""
    return f'"{NEUTRAL}"' if isinstance(value, str) and value else repr(value)


def _without(value: Any, folders: list[str]) -> Any:
    """Replace each folder, also as Python or JSON writes it with doubled backslashes."""
    if isinstance(value, str):
        for folder in folders:
            for form in (folder, folder.replace("\\", "\\\\")):
                if form in value:
                    value = re.sub(rf"{re.escape(form)}(?![\w-])", NEUTRAL, value)
        return value
    if isinstance(value, list):
        return [_without(item, folders) for item in value]
    if isinstance(value, dict):
        return {key: _without(item, folders) for key, item in value.items()}
    return value
