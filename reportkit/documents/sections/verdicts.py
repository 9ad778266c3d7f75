"""Is the glass fit for film: the verdict on every pane, who decides, and the letters to be sent."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING, Any

from reportkit.base.translatable import english
from reportkit.documents.blocks import (
    Block,
    Bullets,
    Column,
    Heading,
    PageBreak,
    Paragraph,
    Section,
    Signature,
    Table,
)
from reportkit.documents.language.limits import beside
from reportkit.documents.page import Page
from reportkit.documents.runs import Text, strong, verdict
from reportkit.documents.sections.shaped import glass_size
from reportkit.documents.together import together
from reportkit.findings.screening import Screened

if TYPE_CHECKING:
    from reportkit.findings.glass import PaneFound
    from reportkit.findings.screening import Approved, Decision, Letter, ScreenReason, Verdict

WORDS = {
    "nothing_found": english("Nothing found"),
    "ask": english("Ask first"),
    "refuse": english("Do not fit"),
}

#: Whom a letter goes to, by who decides.
ADDRESSEES = {
    "the film maker's glass-compatibility chart": english("To the maker of {film}"),
    "the glass or window maker": english("To the maker of the glass or windows"),
    "a licensed glazier or engineer": english("To a licensed glazier or engineer"),
    "the building official": english("To the building official"),
}


def screened(page: Page) -> list[tuple[PaneFound, Screened | Verdict]]:
    """Return the panes that film was meant for, each with its verdict."""
    return [(pane, pane.screen) for pane in page.findings.panes if pane.screen is not None]


def reason(page: Page, one: ScreenReason) -> str:
    """Return a reason of the screen in the reader's units."""
    words, fmt = page.words, page.fmt
    value, limit = one.value, one.limit
    if one.about == "difference":
        shown, allowed = beside(fmt.temperature_difference, value, limit)
        return words(
            "the middle is {value} warmer than the edge, of {limit} allowed", value=shown, limit=allowed
        )
    if one.about == "absorptance":
        shown, allowed = beside(fmt.percent, value, limit)
        return words(
            english("glass and film absorb {value} of the sun; the chart's limit is {limit}")
            if one.verdict == "refuse"
            else english("glass and film absorb {value} of the sun; to be asked about from {limit}"),
            value=shown,
            limit=allowed,
        )
    writes: dict[str, tuple[Callable[[Any, int], str], int]] = {
        "area": (fmt.area, 1),
        "longest side": (lambda mm, _: fmt.length_mm(mm), 0),
    }
    if one.about not in writes:
        return words.said(one.text)
    name = words(one.about)
    write, digits = writes[one.about]
    if limit is None:
        return words("{name} {value}: the chart's limit is not typed", name=name, value=write(value, digits))
    shown, allowed = beside(write, value, limit, digits)
    return words("{name} {value}, chart's limit {limit}", name=name, value=shown, limit=allowed)


def _whys(page: Page, panes: Iterable[tuple[str, Iterable[ScreenReason], str]], who: bool) -> list[Text]:
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
            edge, limit = beside(fmt.temperature_difference, made.difference_k, made.limit_k)
            cells += [fmt.percent(made.absorptance), edge, limit, fmt.day(made.case.time.date())]
        else:
            cells += ["—"] * 4
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
                Column("limit", words("Limit"), align="decimal"),
                Column("day", words("Worst day")),
            ],
            rows,
            caption=words("Every pane with the film meant for it, on the worst day of its weather"),
            note=words(
                "Worst of a clear winter day, one near the equinox and one in summer, with the pane's own shadows and "
                "with a blind drawn where there is one. Limits: NF DTU 39 (1998, since superseded) as quoted, and {limit} for ordinary cut "
                "edges (common practice). The frame's temperature is an assumption. Where nothing was found, the film "
                "maker's glass-compatibility chart still decides.",
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
        whys = [
            (pane.id, made.findings, _approved(page, made.approval))
            for pane, made in panes
            if made.verdict == decision
        ]
        if whys:
            blocks += [Paragraph(title), Bullets(_whys(page, whys, who=True))]
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
                "No film on {panes}: left out of the price, of the film to be cut and of what is saved.",
                panes=together(page, refused, mapped=mapped),
            )
        )
    sentences += uncut(page)
    if asked:
        sentences.append(
            words(
                "{panes}: priced on condition that whoever decides agrees in writing before film is ordered. The "
                "letters are at the end of this proposal.",
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
        return [words("{panes}: film there relieves nothing of what you asked about.", panes=panes)]
    return [
        words(
            "{panes}: film there relieves nothing of what you asked about; left bare, the price would be {price}.",
            panes=panes,
            price=page.fmt.money(idle.price_without),
        )
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
    refused, asked, approved = _sorted_out(page)
    points = []
    if refused:
        points.append(words("No film on {panes}: refused, see the proposal.", panes=together(page, refused)))
    points += uncut(page)
    if asked:
        points.append(
            words(
                "{panes}: only with the decider's written answer in hand.",
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


def letters(page: Page) -> Section:
    """Return the letters to send before fitting, ready but for the signature."""
    words = page.words
    if not page.findings.letters:
        return Section("letters", [])
    blocks: list[Block] = [
        PageBreak(),
        Heading(words("Letters to send before fitting"), level=1, id="letters"),
    ]
    for letter in page.findings.letters:
        blocks += _letter(page, letter)
    return Section("letters", blocks)


def _letter(page: Page, letter: Letter) -> list[Block]:
    words, fmt, job = page.words, page.fmt, page.job
    business, film = job.business, page.film(letter.film)
    panes = {pane.id: pane for pane in page.findings.panes}
    spec = next(spec for spec in job.films if spec.id == letter.film)
    rows = []
    for entry in letter.panes:
        pane = panes[entry.pane]
        rows.append(
            [
                entry.pane,
                fmt.number(pane.quantity),
                glass_size(page, pane),
                make_up(page, pane.glazing),
                fmt.percent(entry.absorptance),
                fmt.temperature_difference(entry.difference_k),
                "",
            ]
        )
    where = words("inside") if spec.side == "inside" else words("outside")
    return [
        Heading(words(ADDRESSEES[letter.who], film=film), level=2),
        Paragraph(
            words(
                "Offer {number}. We have been asked to fit {film} ({thickness} thick, on the {where}) to the panes "
                "below. Our own screen does not clear them, and the decision is yours. May it be fitted to each of "
                "them, and does your warranty stand? Please answer in writing, pane by pane.",
                number=job.quote.number,
                film=film,
                thickness=fmt.film_thickness(spec.thickness_um),
                where=where,
            )
        ),
        Table(
            [
                Column("pane", words("Pane")),
                Column("n", words("No."), align="right"),
                Column("size", words("Size"), align="right"),
                Column("glass", words("Glass, from outside")),
                Column("sun", words("Sun absorbed with film"), align="decimal"),
                Column("edge", words("Middle over edge"), align="decimal"),
                Column("answer", words("Your answer"), content="write"),
            ],
            rows,
            caption=words("Panes asked about"),
        ),
        Paragraph(words("What we ask about:")),
        Bullets(_whys(page, [(entry.pane, entry.asked, "") for entry in letter.panes], who=False)),
        Signature(
            [words("Date, and name of who answers"), words("For {business}, date", business=business.name)]
        ),
        Paragraph(
            " · ".join(line for line in (business.name, *business.address, business.contact) if line),
            role="note",
        ),
    ]


def make_up(page: Page, glazing: str) -> str:
    """Return what a glazing is made of, from outside."""
    words, fmt = page.words, page.fmt
    spec = next(spec for spec in page.job.glazings if spec.id == glazing)
    parts = []
    for index, lite in enumerate(spec.lites):
        if index:
            gap = spec.gaps[index - 1]
            parts.append(words("{width} mm {gas}", width=fmt.digits(gap.width_mm, 1), gas=words(gap.gas)))
        parts.append(
            words(
                "{mm} mm {glass} {strength}",
                mm=fmt.digits(lite.thickness_mm, 1),
                glass=words(lite.glass.replace("_", " ")),
                strength=words(lite.strength.replace("_", " ")),
            )
        )
    text = ", ".join(parts)
    if spec.coating:
        text += ", " + words("coating on surface {n}", n=fmt.number(spec.coating.surface))
    return text + (", " + str(spec.year) if spec.year else "")
