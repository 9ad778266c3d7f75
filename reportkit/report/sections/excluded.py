"""Why the client's limits rule an option out, as sentences."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from reportkit.report.page import Page

#: What an option lacks or exceeds; one sentence for each word of ``excluded`` in the results.
SENTENCES = {
    "visible_transmittance": "{film}: pane {pane} would let in {value} of the light; you asked for {limit} or more.",
    "visible_reflectance": (
        "{film}: pane {pane} would mirror {value} of the light outside; you asked for {limit} or less."
    ),
    "budget": "{film}: on all panes it costs {value}; your budget is {limit}.",
    "uv": "{film}: pane {pane} would still let in more than 2 % of the ultraviolet; you asked for a UV block.",
    "no_metal": "{film}: made with metal, which weakens radio and phone signals; you asked for none.",
    "low_glare": "{film}: pane {pane} would keep more than half of its light; you asked for glare to be halved.",
    "neutral": "{film}: it is tinted; you asked for neutral or grey.",
    "inside": "{film}: it goes on the outside; you asked for film inside.",
}


def sentences(page: Page, film: str, excluded: Iterable[Mapping[str, Any]]) -> list[str]:
    """Return one sentence for each thing that rules a film out."""
    found: dict[str, str] = {}
    for item in excluded:
        shown = page.fmt.money if item["what"] == "budget" else page.fmt.percent
        found.setdefault(
            item["what"],
            page.words(
                SENTENCES[item["what"]],
                film=film,
                pane=item["pane"],
                value=shown(item["value"]),
                limit=shown(item["limit"]),
            ),
        )
    return list(found.values())
