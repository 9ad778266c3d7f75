"""Parts of interactive pictures as Plotly's own JSON, built without importing Plotly.

Typed names pass through `safe`, because Plotly reads a few HTML tags in text. Numbers are data, in the
units shown; what a person reads on hovering is text that is already formatted for the locale. Switches are
plain data too: the page makes ordinary buttons of them, whose labels it sets as text.
"""

from __future__ import annotations

import html
from collections.abc import Sequence
from typing import Any

from reportkit.documents.language.formats import Formats
from reportkit.documents.layouts import style
from reportkit.documents.layouts.style import Role

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


def switch(title: str, choices: list[dict[str, Any]], active: int = 0) -> dict[str, Any]:
    """Return buttons of which one is pressed at a time.

    Parameters
    ----------
    title
        What is chosen, as one word.
    choices
        Each with its ``label``, and what it sets in the traces (``data``, as Plotly's ``restyle`` takes it)
        or in the ``layout``.
    active
        The choice the picture starts with.
    """
    return {"title": title, "kind": "one", "active": active, "choices": choices}


def toggles(
    title: str, roles: list[tuple[str, Role]], shown: Sequence[bool], *, points: Sequence[bool] | None = None
) -> dict[str, Any]:
    """Return a button for each trace, pressed while the trace is shown; it also serves as the key.

    Parameters
    ----------
    title
        What is shown or hidden, as one word.
    roles
        Name and look of every trace, in the order of the traces.
    shown
        Which of them are shown at first.
    points
        Which of them are single points, which have no line; none unless given.
    """
    choices = [
        {
            "label": name,
            "color": role.color,
            "dash": "" if point else role.plotly_dash,
            "marker": SYMBOLS.get(role.marker, "circle" if point else ""),
            "shown": bool(at_first),
        }
        for (name, role), at_first, point in zip(roles, shown, points or [False] * len(roles), strict=True)
    ]
    return {"title": title, "kind": "each", "choices": choices}


def figure(
    data: list[dict[str, Any]], shown: dict[str, Any], switches: Sequence[dict[str, Any]] = ()
) -> dict[str, Any]:
    """Return a whole interactive picture; switches with a single choice are left out."""
    made: dict[str, Any] = {"data": data, "layout": shown}
    useful = [one for one in switches if len(one["choices"]) > 1]
    return {**made, "switches": useful} if useful else made
