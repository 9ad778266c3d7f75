"""Why the client's limits rule an option out, as sentences."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from reportkit.report.limits import beside
from reportkit.report.page import Page
from reportkit.report.together import together

#: What an option lacks or exceeds; one sentence for each word of ``excluded`` in the results.
SENTENCES = {
    "visible_transmittance": "{film}: pane {pane} would let in {value} of the light; you asked for {limit} or more.",
    "visible_reflectance": (
        "{film}: pane {pane} would mirror {value} of the light outside; you asked for {limit} or less."
    ),
    "no_plan": "{film}: the rolls given for it cannot hold the pieces for all panes, so it has no price here.",
    "budget": "{film}: on all panes it costs {value}; your budget is {limit}.",
    "uv": "{film}: pane {pane} would still let in more than 2 % of the ultraviolet; you asked for a UV block.",
    "no_metal": "{film}: made with metal, which weakens radio and phone signals; you asked for none.",
    "low_glare": "{film}: pane {pane} would keep more than half of its light; you asked for glare to be halved.",
    "neutral": "{film}: it is tinted; you asked for neutral or grey.",
    "inside": "{film}: it goes on the outside; you asked for film inside.",
}


def stops(page: Page) -> list[str]:
    """Return where the film chosen is stopped and why, or any film where none is; one cause together."""
    words = page.words
    causes: dict[tuple[str, str], list[str]] = {}
    whole: list[str] = []
    films = [entry for entry in page.results["options"] if entry["kind"] == "film"]
    for entry in films if page.leaves_glass else [page.chosen]:
        name = page.film(entry["id"]) if entry["id"] in page.films else page.option(entry)
        panes: dict[str, list[str]] = {}
        for item in entry["bare_because"]:
            panes.setdefault(words.said(item["why"]), []).append(item["pane"])
        for why, ids in panes.items():
            causes.setdefault((why, together(page, ids, first=True)), []).append(name)
        whole += sentences(page, name, [item for item in entry["excluded"] if item["what"] == "no_plan"])
    return [
        words("{panes} cannot have {films}: {why}.", panes=panes, films=", ".join(names), why=why)
        for (why, panes), names in causes.items()
    ] + whole


def _shown(page: Page, item: Mapping[str, Any]) -> tuple[str, str]:
    fmt = page.fmt
    if item["what"] == "budget":
        return fmt.money(item["value"]), fmt.money(item["limit"])
    return beside(fmt.percent, item["value"], item["limit"])


def sentences(page: Page, film: str, excluded: Iterable[Mapping[str, Any]]) -> list[str]:
    """Return one sentence for each thing that rules a film out."""
    found: dict[str, str] = {}
    for item in excluded:
        value, limit = _shown(page, item)
        found.setdefault(
            item["what"],
            page.words(
                SENTENCES[item["what"]],
                film=film,
                pane=item["pane"],
                value=value,
                limit=limit,
            ),
        )
    return list(found.values())
