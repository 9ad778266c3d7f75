"""What a notebook cell shows for blocks: their data for the documents, HTML for the screen, and plain text.

Blocks cross the notebook as JSON under `BLOCKS_MIME`; the other two forms are for people who open it.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from reportkit.documents.layouts.html import fragment
from reportkit.documents.runs import words_of

BLOCKS_MIME = "application/vnd.reportkit.blocks+json"


def shown(
    blocks: Sequence[Mapping[str, Any]], section_id: str = "", words: Mapping[str, str] | None = None
) -> dict[str, Any]:
    """Return the forms of blocks that a cell's output holds, by media type.

    Parameters
    ----------
    blocks
        Blocks as JSON data (`reportkit.documents.blocks.plain`).
    section_id
        The section they are, where they are one.
    words
        Words of the frame, English where not given.
    """
    return {
        BLOCKS_MIME: {"id": section_id, "blocks": _lightened(list(blocks))},
        "text/html": fragment(blocks, words, images=True),
        "text/plain": "\n\n".join(_plain_text(block) for block in blocks if block["type"] != "pagebreak"),
    }


def _lightened(value: Any) -> Any:
    """Return JSON data without the bytes of pictures that the record's inputs hold anyway."""
    if isinstance(value, Mapping):
        known = value.get("type") == "picture" and value["source"]
        return {key: "" if known and key == "data" else _lightened(item) for key, item in value.items()}
    if isinstance(value, list):
        return [_lightened(item) for item in value]
    return value


def _plain_text(block: Mapping[str, Any]) -> str:
    kind = block["type"]
    if kind in ("bullets", "steps"):
        signs = [f"{n}." if kind == "steps" else "-" for n, _ in enumerate(block["points"], start=1)]
        return "\n".join(
            f"{sign} {words_of(point)}" for sign, point in zip(signs, block["points"], strict=True)
        )
    if kind == "facts":
        return "\n".join(f"{fact['label']}: {fact['value']}" for fact in block["facts"])
    if kind == "table":
        lines = [" | ".join(column["title"] for column in block["columns"])]
        lines += [" | ".join(words_of(cell) for cell in row["cells"]) for row in block["rows"]]
        return "\n".join([block["caption"], *lines])
    if kind == "figure":
        return f"[{block['title']}] {block['alt']}"
    if kind == "picture":
        return f"[{block['alt']}] {block['caption']}".rstrip()
    if kind == "caution":
        return f"{block['title']}: {words_of(block['text'])}"
    if kind == "signature":
        return "\n".join(f"____ {line}" for line in block["lines"])
    if kind == "labels":
        lines = [
            f"{label['code']}{label['which']}: {label['size']}, {label['place']}, {label['mark']}"
            for label in block["labels"]
        ]
        return "\n".join(line.removesuffix(", ") for line in lines)
    if kind == "group":
        return "\n\n".join(_plain_text(inner) for inner in block["blocks"])
    if kind == "columns":
        return "\n\n".join(_plain_text(inner) for column in block["columns"] for inner in column)
    text = block.get("text", "")
    return text if isinstance(text, str) else words_of(text)
