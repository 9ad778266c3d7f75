"""Parts of interactive pictures as Plotly's own JSON, built without importing Plotly.

Typed names pass through `safe`, because Plotly reads a few HTML tags in text. Numbers are data, in the
units shown; what a person reads on hovering is text that is already formatted for the locale.
"""

from __future__ import annotations

import html
from typing import Any

from reportkit.report import style
from reportkit.report.formats import Formats
from reportkit.report.style import Role

SYMBOLS = {
    "o": "circle",
    "^": "triangle-up",
    "D": "diamond",
    "v": "triangle-down",
    "P": "cross",
    "X": "x",
    "s": "square",
    "*": "star",
}


def safe(text: str) -> str:
    """Return typed text so that Plotly shows it letter by letter."""
    return html.escape(text, quote=False)


def layout(fmt: Formats, **parts: Any) -> dict[str, Any]:
    """Return a layout in the documents' look and the locale's signs, with further parts laid over it."""
    group = fmt.number(10_000_000).strip("0123456789")[:1]
    return style.screen_layout(
        **{
            "separators": fmt.decimal_mark + group,
            "hovermode": "closest",
            "showlegend": False,
            "hoverlabel": {"align": "left"},
            **parts,
        }
    )


def axis(title: str = "", **parts: Any) -> dict[str, Any]:
    """Return what sets an axis apart from the documents' look."""
    return {"title": {"text": title}, **parts} if title else parts


def bar_look(role: Role) -> dict[str, Any]:
    """Return the look of a bar: color and hatch."""
    made: dict[str, Any] = {"color": role.color}
    if role.hatch:
        made["pattern"] = {"shape": role.hatch[0], "fgcolor": style.PAPER, "size": 6}
    return made


def line_look(role: Role, width: float) -> dict[str, Any]:
    """Return the look of a line."""
    return {"color": role.color, "dash": role.plotly_dash, "width": width}


def figure(data: list[dict[str, Any]], shown: dict[str, Any]) -> dict[str, Any]:
    """Return a whole interactive picture."""
    return {"data": data, "layout": shown}
