"""From an executed notebook to one document: which blocks, in which order, in which frame.

The notebook keeps the order of the argument; a cell's metadata says where its blocks belong,
``{"reportkit": {"proposal": 2, "fitting": 7}}``. The result is plain JSON data that both the HTML and the
Typst template read. No markup is made here.
"""

from __future__ import annotations

import base64
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any, Literal

from reportkit.base.errors import RunError
from reportkit.documents.layouts.finish import Finisher, decimal_mark
from reportkit.documents.layouts.shown import BLOCKS_MIME
from reportkit.documents.record import RECORD_MIME, unpacked

Kind = Literal["proposal", "basis", "letters", "fitting", "labels", "review"]

#: Documents that a job may have nothing for: no letters, no pieces to label.
MAYBE_NONE: tuple[Kind, ...] = ("letters", "labels")

#: Documents that go to the client: nothing in them or with them may tell a cost, a margin or a private rate.
FOR_CLIENT: tuple[Kind, ...] = ("proposal", "basis", "letters", "review")


@dataclass(frozen=True)
class Assembled:
    """One document, ready for a template, and what it carries along.

    ``page`` is JSON data: ``kind, title, subtitle, lang, paper, footer, date, timestamp, author, addressee,
    words, blocks``.
    """

    page: dict[str, Any]
    results: dict[str, Any]
    inputs: dict[str, bytes]


def assemble(notebook: Mapping[str, Any], kind: Kind, *, run: str = "") -> Assembled:
    """Collect one document from an executed notebook.

    Parameters
    ----------
    notebook
        The notebook, nbformat 4.
    kind
        One of `Kind`.
    run
        Number of the run, added to the footer.

    Returns
    -------
    Assembled
        The document.

    Raises
    ------
    RunError
        If a cell failed, or the notebook was not run, or is not one of ours.
    """
    record = _record(notebook)
    blocks = _placed(notebook, kind)
    if not blocks:
        raise RunError(f"no cell of the notebook belongs to the {kind}, or none was run")
    info = record["document"]
    timestamp, date = info.get("later", {}).get(kind) or (info["timestamp"], info["date"])
    page = {
        "kind": kind,
        "title": info["titles"].get(kind, ""),
        "subtitle": info["subtitles"].get(kind, ""),
        "lang": info["language"],
        **{name: info[name] for name in ("paper", "footer", "author", "addressee", "words")},
        "date": date,
        "timestamp": timestamp,
    }
    if not page["title"].strip():
        raise RunError(f"the record names no title for the {kind}")
    if run:
        page["footer"] += f", {page['words']['run']} {run}"
    page = _printable(page)
    blocks = _with_pictures(_printable(blocks), record["inputs"])
    page["blocks"] = Finisher(info.get("decimal_mark") or decimal_mark(page["lang"])).finish(blocks)
    return Assembled(
        page=page,
        results=dict(record["results"]),
        inputs={name: unpacked(stored) for name, stored in record["inputs"].items()},
    )


def in_short(notebook: Mapping[str, Any]) -> list[str]:
    """Return what a run recommends in a few lines, as the notebook's study told it; raises `RunError`."""
    return list(_record(notebook).get("in_short", ()))


def _record(notebook: Mapping[str, Any]) -> Mapping[str, Any]:
    """Return what the last cell shows; raises `RunError` where a cell failed or none shows it."""
    record: Mapping[str, Any] | None = None
    for number, cell in enumerate(notebook["cells"]):
        for output in cell.get("outputs", ()):
            if output["output_type"] == "error":
                what = f"{output.get('ename', 'error')}: {output.get('evalue', '')}"
                raise RunError(f"cell {number + 1} of the notebook failed ({what}); mend it and run it again")
            record = output.get("data", {}).get(RECORD_MIME, record)
    if record is None:
        raise RunError("the notebook shows no record of results: run it first, with the job's folder")
    return record


def present(notebook: Mapping[str, Any], kind: Kind) -> bool:
    """Return whether a document is to be written: those that a job may have nothing for need a block."""
    return kind not in MAYBE_NONE or bool(_placed(notebook, kind))


def _placed(notebook: Mapping[str, Any], kind: Kind) -> list[dict[str, Any]]:
    """Return the blocks of a document in its own order."""
    placed: list[tuple[float, int, list[dict[str, Any]]]] = []
    for number, cell in enumerate(notebook["cells"]):
        place = cell.get("metadata", {}).get("reportkit", {}).get(kind)
        if place is not None:
            placed.append((float(place), number, list(_blocks_in(cell.get("outputs", ())))))
    placed.sort(key=lambda item: item[:2])
    return [block for *_, blocks in placed for block in blocks]


def _blocks_in(outputs: Any) -> Iterator[dict[str, Any]]:
    for output in outputs:
        section = output.get("data", {}).get(BLOCKS_MIME)
        if section is not None:
            yield from section["blocks"]


def _with_pictures(value: Any, inputs: Mapping[str, Any]) -> Any:
    """Return blocks with the bytes of those pictures that the record's inputs hold."""
    if isinstance(value, Mapping):
        made = {key: _with_pictures(item, inputs) for key, item in value.items()}
        if made.get("type") == "picture" and not made["data"]:
            if made["source"] not in inputs:
                raise RunError(f"the record holds no input {made['source']}, which a picture needs")
            made["data"] = base64.b64encode(unpacked(inputs[made["source"]])).decode("ascii")
        return made
    if isinstance(value, list):
        return [_with_pictures(item, inputs) for item in value]
    return value


_CONTROL = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\ufffe\uffff]")
_SURROGATE = re.compile("[\ud800-\udfff]")


def _printable(value: Any) -> Any:
    """Return the data without control characters; half a surrogate pair becomes the replacement sign."""
    if isinstance(value, str):
        return _SURROGATE.sub("\ufffd", _CONTROL.sub("", value))
    if isinstance(value, Mapping):
        return {key: _printable(item) for key, item in value.items()}
    if isinstance(value, list | tuple):
        return [_printable(item) for item in value]
    return value
