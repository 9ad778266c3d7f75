"""Is the glass fit for film: the verdict on every pane, and who decides."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING, Any

from reportkit.base.translatable import english
from reportkit.documents.blocks import (
    Block,
    Bullets,
    Column,
    Heading,
    Paragraph,
    Section,
    Table,
)
from reportkit.documents.language.limits import beside, span, span_beside
from reportkit.documents.page import Page
from reportkit.documents.runs import Text, strong, verdict
from reportkit.documents.together import together
from reportkit.findings.screening import Screened

if TYPE_CHECKING:
    from reportkit.findings.glass import PaneFound
    from reportkit.findings.screening import Approved, Between, ScreenReason, Verdict
    from reportkit.physics.glass.reason import Decision

WORDS = {
    "nothing_found": english("Nothing found"),
    "ask": english("Ask first"),
    "refuse": english("Do not fit"),
}

#: Too much sun absorbed, by whether it is the chart's limit that is passed, and whether the sheet leaves it open.
_ABSORBS = {
    (True, False): english("glass and film absorb {value} of the sun; the chart's limit is {limit}"),
    (True, True): english(
        "glass and film absorb {value} of the sun, as far as the film's sheet tells; the chart's limit is {limit}"
    ),
    (False, False): english("glass and film absorb {value} of the sun; to be asked about from {limit}"),
    (False, True): english(
        "glass and film absorb {value} of the sun, as far as the film's sheet tells; to be asked about from {limit}"
    ),
}


def screened(page: Page) -> list[tuple[PaneFound, Screened | Verdict]]:
    """Return the panes that film was meant for, each with its verdict."""
    return [(pane, pane.screen) for pane in page.findings.panes if pane.screen is not None]


def reason(page: Page, one: ScreenReason) -> str:
    """Return a reason of the screen in the reader's units."""
    words, fmt = page.words, page.fmt
    value, limit = one.value, one.limit
    decides = one.least if one.verdict == "refuse" and one.least is not None else value
    ends = (value if one.least is None else one.least, value)
    if one.about == "difference":
        shown, allowed = span_beside(fmt.temperature_difference, ends, limit, decides=decides)
        return words(
            "the middle is {value} warmer than the edge, of {limit} allowed", value=shown, limit=allowed
        )
    if one.about == "absorptance":
        shown, allowed = span_beside(fmt.percent, ends, limit, decides=decides)
        return words(_ABSORBS[one.verdict == "refuse", one.least is not None], value=shown, limit=allowed)
    writes: dict[str, tuple[Callable[[Any, int], str], int]] = {
        "area": (fmt.area, 1),
        "longest side": (lambda mm, _: fmt.length_mm(mm), 0),
    }
    if one.about not in writes:
        return words.said(one.text)
    name = words(one.about)
    write, digits = writes[one.about]
    if limit is None:
        shown = write(value, digits)
        return words(
            "{name} {value}: the limit of the film maker's chart is not known", name=name, value=shown
        )
    shown, allowed = beside(write, value, limit, digits)
    return words("{name} {value}, chart's limit {limit}", name=name, value=shown, limit=allowed)


def sun(page: Page, ends: Between) -> str:
    """Return the share of the sun absorbed, as a range where the film's sheet leaves it open."""
    return span(page.fmt.percent, ends.low, ends.high)


def whys(page: Page, panes: Iterable[tuple[str, Iterable[ScreenReason], str]], who: bool) -> list[Text]:
    """Return every reason once, with the panes it holds for, who decides, and who approved in writing."""
    ids: dict[tuple[str, str], list[str]] = {}
    for pane, reasons, approved in panes:
        for one in reasons:
            decides = page.words("Who decides: {who}.", who=page.words.said(one.who)) if who else ""
            said = approved if one.approved else decides
            ids.setdefault((reason(page, one), said), []).append(pane)
    return [
        [strong(together(page, names, first=True)), ": ", text, ".", *([" ", said] if said else [])]
        for (text, said), names in ids.items()
    ]


def _approved(page: Page, one: Approved | None) -> str:
    """Return who approved a film on a pane in writing, when and in which file; empty where nobody did."""
    if one is None:
        return ""
    return page.words(
        "Approved in writing by {by} on {date} ({file}).",
        by=one.by,
        date=page.fmt.date(one.date),
        file=one.file,
    )


def _sorted_out(page: Page) -> tuple[list[str], list[str], dict[Approved, list[str]]]:
    """Return the panes refused, those filmed on a condition, and those approved, by the approval."""
    refused, asked = [], []
    approved: dict[Approved, list[str]] = {}
    for pane, made in screened(page):
        if not pane.film:
            refused += [pane.id] * (made.verdict == "refuse")
            continue
        if any(not one.approved for one in made.findings):
            asked.append(pane.id)
        if made.approval:
            approved.setdefault(made.approval, []).append(pane.id)
    return refused, asked, approved


def verdicts(page: Page) -> Section:
    """Return the verdict on every pane that film was meant for."""
    words, fmt = page.words, page.fmt
    blocks: list[Block] = [Heading(words("Is the glass fit for film"), level=1, id="verdicts")]
    panes = screened(page)
    if not panes:
        blocks.append(Paragraph(words("Nothing is to be fitted, so no pane was judged.")))
        return Section("verdicts", blocks)
    rows = []
    for pane, made in panes:
        cells: list[Text] = [
            pane.id,
            page.glazing(pane.glazing),
            verdict(made.verdict, words(WORDS[made.verdict])),
        ]
        if isinstance(made, Screened):
            edge = made.difference_k
            decides = edge.low if edge.low >= made.limit_k else edge.high
            ends, limit = span_beside(
                fmt.temperature_difference, (edge.low, edge.high), made.limit_k, decides=decides
            )
            likely = fmt.temperature_difference(edge.likely)
            cells += [sun(page, made.absorptance), likely, ends, limit, fmt.day(made.case.time.date())]
        else:
            cells += ["—"] * 5
        rows.append(cells)
    blocks += [
        Paragraph(
            words(
                "Sun warms the middle of a pane while its edge stays cool in the frame; film adds to that, and the edge "
                "can crack. This is a screen, not a promise: whoever is named decides."
            )
        ),
        Table(
            [
                Column("pane", words("Pane")),
                Column("glass", words("Glass")),
                Column("verdict", words("Verdict")),
                Column("sun", words("Sun absorbed"), align="decimal"),
                Column("edge", words("Middle over edge"), align="decimal"),
                Column("span", words("from – to"), align="right"),
                Column("limit", words("Limit"), align="decimal"),
                Column("day", words("Worst day")),
            ],
            rows,
            caption=words("Every pane with the film meant for it, on the worst day of its weather"),
            note=words(
                "Worst of a clear winter day, one near the equinox and one in summer, with the pane's own shadows and "
                "with a blind drawn where there is one. How closely the frame holds the edge is not known: the middle over "
                "the edge is likely the one number, and lies between the two others, from a loose rebate to a close one, "
                "with every film that fits what its sheet prints. Refused is what fails at the lower end; asked about is "
                "what comes near its limit at the upper end. Limits: NF DTU 39 (1998, since superseded) as "
                "quoted, {limit} for ordinary cut edges, and half for wired and patterned glass (common practice). The "
                "frame's temperature is an assumption. Where nothing was found, the film maker's glass-compatibility chart "
                "still decides.",
                limit=fmt.temperature_difference(30),
            ),
            id="verdict-list",
        ),
    ]
    titles: dict[Decision, str] = {
        "refuse": words("Refused, and why:"),
        "ask": words("To be asked about, and why:"),
    }
    for decision, title in titles.items():
        mine = [
            (pane.id, made.findings, _approved(page, made.approval))
            for pane, made in panes
            if made.verdict == decision
        ]
        if mine:
            blocks += [Paragraph(title), Bullets(whys(page, mine, who=True))]
    return Section("verdicts", blocks)


def conditions(page: Page) -> list[Block]:
    """Return what follows for the price: refused panes are left out, others are priced on a condition."""
    sentences = terms(page)
    return [Bullets(sentences)] if sentences else []


def terms(page: Page, *, mapped: bool = True) -> list[str]:
    """Return as sentences which panes are left out, priced on a condition, or beside what was asked.

    Parameters
    ----------
    page
        The results.
    mapped
        Whether the reader knows the panes by their codes already.
    """
    words, fmt = page.words, page.fmt
    sentences = []
    refused, asked, approved = _sorted_out(page)
    if refused:
        sentences.append(
            words(
                english(
                    "No film on {panes}: left out of the cost, of the film to be cut and of what is saved."
                )
                if page.own_home
                else english(
                    "No film on {panes}: left out of the price, of the film to be cut and of what is saved."
                ),
                panes=together(page, refused, mapped=mapped),
            )
        )
    sentences += uncut(page)
    if asked:
        sentences.append(
            words(
                english(
                    "{panes}: wait until you have a yes in writing. The letters to send come with this plan."
                )
                if page.own_home
                else english(
                    "{panes}: priced on condition that whoever decides agrees in writing before film is ordered. "
                    "The letters come with this proposal."
                ),
                panes=together(page, asked, mapped=mapped, first=True),
            )
        )
    for one, panes in approved.items():
        sentences.append(
            words(
                "{panes}: film approved in writing by {by} on {date} ({file}), and priced.",
                panes=together(page, panes, mapped=mapped, first=True),
                by=one.by,
                date=fmt.date(one.date),
                file=one.file,
            )
        )
    return sentences + beside_the_point(page, mapped=mapped)


def beside_the_point(page: Page, *, mapped: bool = True) -> list[str]:
    """Return as a sentence on which panes film relieves nothing of what was asked, and the price without."""
    words, idle = page.words, page.findings.which_panes.beside_the_point
    if not idle.panes:
        return []
    panes = together(page, idle.panes, mapped=mapped, first=True)
    if idle.price_without is None:
        return [
            words(
                english("{panes}: film there relieves nothing of what troubles you.")
                if page.own_home
                else english("{panes}: film there relieves nothing of what you asked about."),
                panes=panes,
            )
        ]
    return [
        words(
            english(
                "{panes}: film there relieves nothing of what troubles you; left bare, the cost would be {price}."
            )
            if page.own_home
            else english(
                "{panes}: film there relieves nothing of what you asked about; left bare, the price would be {price}."
            ),
            panes=panes,
            price=page.fmt.money(idle.price_without),
        )
    ]


#: Reasons of the screen that are about glass cracking from heat.
HEAT = ("difference", "absorptance")


def refusals(page: Page, named: Callable[[Page, list[str]], str] = together) -> list[str]:
    """Return as sentences which panes the screen refuses their film, and why; ``named`` tells the panes."""
    why: dict[str, list[str]] = {}
    for pane, made in screened(page):
        if not pane.film and made.verdict == "refuse":
            for one in made.findings:
                if one.verdict == "refuse" and not one.approved:
                    text = reason(page, one)
                    if one.about in HEAT:
                        text = page.words("the glass could crack: {why}", why=text)
                    why.setdefault(text, []).append(pane.id)
    return [
        page.words("No film on {panes}: {why}.", panes=named(page, ids), why=text)
        for text, ids in why.items()
    ]


def uncut(page: Page) -> list[str]:
    """Return as sentences which panes stay bare though the screen does not refuse their film, and why."""
    words = page.words
    bare: dict[str, list[str]] = {}
    for pane in page.findings.panes:
        refused = pane.screen is not None and pane.screen.verdict == "refuse"
        if pane.bare_because and not refused:
            bare.setdefault(pane.bare_because, []).append(pane.id)
    return [
        words("No film on {panes}: {why}.", panes=together(page, ids), why=words.said(why))
        for why, ids in bare.items()
    ]


def holds(page: Page) -> Section:
    """Return for the fitting sheet which panes get no film and which wait for a written answer."""
    words, fmt = page.words, page.fmt
    _, asked, approved = _sorted_out(page)
    points = [*refusals(page), *uncut(page)]
    if asked:
        points.append(
            words(
                english("{panes}: only with the yes in writing in your hand.")
                if page.own_home
                else english("{panes}: only with the decider's written answer in hand."),
                panes=together(page, asked, first=True),
            )
        )
    for one, panes in approved.items():
        points.append(
            words(
                "{panes}: approved in writing by {by} on {date}; have the letter at hand ({file}).",
                panes=together(page, panes, first=True),
                by=one.by,
                date=fmt.date(one.date),
                file=one.file,
            )
        )
    return Section("holds", [Bullets(points, marker="stop")] if points else [])
