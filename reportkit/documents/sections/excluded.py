"""Why the client's limits rule an option out, as sentences."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from reportkit.base.translatable import english
from reportkit.documents.language.limits import beside
from reportkit.documents.page import Page
from reportkit.documents.together import together

if TYPE_CHECKING:
    from reportkit.findings.advice import Excluded

#: What an option lacks or exceeds; one reason for each of `Excluded.what`.
REASONS = {
    "visible_transmittance": english(
        "pane {pane} would let in {value} of the light; you asked for {limit} or more."
    ),
    "visible_reflectance": (
        english("pane {pane} would mirror {value} of the light outside; you asked for {limit} or less.")
    ),
    "no_plan": english(
        "the rolls given for it cannot hold the pieces for all panes, so it has no price here."
    ),
    "budget": english("on all panes it costs {value}; your budget is {limit}."),
    "uv": english(
        "pane {pane} would still let in more than 2 % of the ultraviolet; you asked for a UV block."
    ),
    "uv_not_printed": english(
        "its sheet does not say how much ultraviolet it lets in; you asked for a UV block. Ask the seller."
    ),
    "no_metal_not_printed": english(
        "nobody says of which class it is, and metal may be in it; you asked for none."
    ),
    "no_metal": english("made with metal, which weakens radio and phone signals; you asked for none."),
    "low_glare": english(
        "pane {pane} would keep more than half of its light; you asked for glare to be halved."
    ),
    "neutral": english("it is tinted; you asked for neutral or grey."),
    "inside": english("it goes on the outside; you asked for film inside."),
}


def stops(page: Page) -> list[str]:
    """Return where the film chosen is stopped and why, or any film where none is; one cause together."""
    words = page.words
    causes: dict[tuple[str, str], list[str]] = {}
    whole: list[str] = []
    films = [option for option in page.findings.options if option.kind == "film"]
    for option in films if page.leaves_glass else [page.chosen]:
        name = page.film(option.id) if option.id in page.films else page.option(option)
        panes: dict[str, list[str]] = {}
        for bare in option.bare_because:
            panes.setdefault(words.said(bare.why), []).append(bare.pane)
        for why, ids in panes.items():
            causes.setdefault((why, together(page, ids, first=True)), []).append(name)
        whole += sentences(page, name, [limit for limit in option.excluded if limit.what == "no_plan"])
    return [
        words("{panes} cannot have {films}: {why}.", panes=panes, films=", ".join(names), why=why)
        for (why, panes), names in causes.items()
    ] + whole


def left_out(page: Page) -> list[str]:
    """Return which films compared are not proposed because of what was asked for, each with the first reason."""
    told = []
    for option in page.findings.options:
        limits = [limit for limit in option.excluded if limit.what != "no_plan"]
        if option.id in page.films and option.id not in page.chosen.films and limits:
            why = reasons(page, limits)[0]
            told.append(page.words("{film} is left out: {why}", film=page.film(option.id), why=why))
    return told


def _shown(page: Page, limit: Excluded) -> tuple[str, str]:
    """Return a value and its limit, with decimals where they would look alike."""
    fmt = page.fmt
    if limit.what == "budget":
        return fmt.money(limit.value), fmt.money(limit.limit)
    return beside(fmt.percent, limit.value, limit.limit)


def reasons(page: Page, excluded: Iterable[Excluded]) -> list[str]:
    """Return what rules a film out, each thing once."""
    said: dict[str, str] = {}
    for limit in excluded:
        value, allowed = _shown(page, limit)
        why = page.words(REASONS[limit.what], pane=limit.pane, value=value, limit=allowed)
        said.setdefault(limit.what, why)
    return list(said.values())


def sentences(page: Page, film: str, excluded: Iterable[Excluded]) -> list[str]:
    """Return one sentence for each thing that rules a film out."""
    return [page.words("{film}: {why}", film=film, why=why) for why in reasons(page, excluded)]
