"""The desk's plain controls: lines to type in, buttons, titles, messages; large enough for a finger."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import ipywidgets
from pydantic import ValidationError

from reportkit.base.translatable import reason_of, translatable
from reportkit.documents.blocks import Block, Heading, Paragraph
from reportkit.documents.desk.answers import as_html

WIDE = {"width": "100%"}


def text(label: str, value: Any = None) -> Any:
    """Return a line to type in, answered when it is left."""
    typed = "" if value is None else str(value)
    return ipywidgets.Text(value=typed, description=label, continuous_update=False, layout=WIDE)


def choose(label: str, options: Sequence[tuple[str, Any]], value: Any) -> Any:
    """Return a list to choose one from."""
    return ipywidgets.Dropdown(options=options, value=value, description=label, layout=WIDE)


def press(label: str) -> Any:
    """Return a button."""
    return ipywidgets.Button(description=label)


def title(words: str) -> Any:
    """Return the heading of a part of the desk."""
    made = ipywidgets.HTML(as_html([Heading(words, level=1)]), layout=WIDE)
    made.add_class("desk-title")
    return made


def note(words: str) -> Block:
    """Return a line of a message."""
    return Paragraph(words)


def said(blocks: list[Block]) -> str:
    """Return a message as HTML that is read out when it appears."""
    return f'<div role="status">{as_html(blocks)}</div>'


def show(control: Any, wanted: bool) -> None:
    """Show or hide a control."""
    control.layout.display = None if wanted else "none"


def slip(error: ValidationError) -> str:
    """Return the first slip as field, rule and mend."""
    first = error.errors(include_url=False)[0]
    context = first.get("ctx") or {}
    field = " ".join(str(part).replace("_", " ") for part in first["loc"])
    rule = reason_of(context["error"]) if "error" in context else context.get("rule") or first["msg"]
    told = translatable("{field}: {rule}", field=field, rule=rule)
    return translatable("{told}; {hint}", told=told, hint=context["hint"]) if context.get("hint") else told
