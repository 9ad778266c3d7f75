"""The letters to send before fitting: one page each to whoever decides, ready but for the signature."""

from __future__ import annotations

from typing import TYPE_CHECKING

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
from reportkit.documents.language.limits import span
from reportkit.documents.page import Page
from reportkit.documents.runs import strong
from reportkit.documents.sections.shaped import glass_size
from reportkit.documents.sections.verdicts import sun, whys
from reportkit.documents.together import together

if TYPE_CHECKING:
    from reportkit.findings.screening import Letter
    from reportkit.job.model import FilmSpec

#: Whom a letter goes to, by who decides.
ADDRESSEES = {
    "the film maker's glass-compatibility chart": english("To the maker of {film}"),
    "the glass or window maker": english("To the maker of the glass or windows"),
    "a licensed glazier or engineer": english("To a licensed glazier or engineer"),
    "the building official": english("To the building official"),
}


def letters(page: Page) -> Section:
    """Return the letters, each on a page of its own; nothing where nothing is to be asked."""
    blocks: list[Block] = []
    for letter in page.findings.letters:
        blocks += [*([PageBreak()] if blocks else []), *_letter(page, letter)]
    return Section("letters", blocks)


def _rows(page: Page, letter: Letter) -> list[list[str]]:
    """Return the panes asked about, those that differ in nothing but their code together."""
    fmt = page.fmt
    panes = {pane.id: pane for pane in page.findings.panes}
    alike: dict[tuple[str, ...], list[str]] = {}
    for entry in letter.panes:
        pane = panes[entry.pane]
        facts = (
            glass_size(page, pane),
            make_up(page, pane.glazing),
            sun(page, entry.absorptance),
            span(fmt.temperature_difference, entry.difference_k.low, entry.difference_k.high),
        )
        alike.setdefault(facts, []).append(entry.pane)
    return [
        [together(page, ids, first=True), fmt.number(sum(panes[one].quantity for one in ids)), *facts, ""]
        for facts, ids in alike.items()
    ]


def _letter(page: Page, letter: Letter) -> list[Block]:
    words, fmt, job = page.words, page.fmt, page.job
    film = page.film(letter.film)
    sender = job.business or job.client
    spec = next(spec for spec in job.films if spec.id == letter.film)
    lines = [line for line in (sender.name, *sender.address, sender.contact) if line]
    asks = (
        words("For {business}, date", business=sender.name)
        if sender.name
        else words("Date, and name of who asks")
    )
    return [
        *([Paragraph([strong(lines[0]), *(f"\u2002{line}" for line in lines[1:])])] if lines else []),
        Paragraph(fmt.date(job.day)),
        Heading(words(ADDRESSEES[letter.who], film=film), level=1),
        Paragraph(_request(page, film, spec)),
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
            _rows(page, letter),
            caption=words("Panes asked about"),
        ),
        Paragraph(words("What we ask about:")),
        Bullets(whys(page, [(entry.pane, entry.asked, "") for entry in letter.panes], who=False)),
        Signature([words("Date, and name of who answers"), asks]),
    ]


def _request(page: Page, film: str, spec: FilmSpec) -> str:
    """Return what is asked, by a business for its client or by people for their own home."""
    words, quote = page.words, page.job.quote
    values = {
        "film": film,
        "thickness": words("thickness not known to us")
        if spec.thickness_um is None
        else words("{thickness} thick", thickness=page.fmt.film_thickness(spec.thickness_um)),
        "where": words("inside") if spec.side == "inside" else words("outside"),
    }
    if quote is None:
        return words(
            "We want to fit {film} ({thickness}, on the {where}) to the panes below, in our own home. Our "
            "own screen does not clear them, and the decision is yours. May it be fitted to each of them, and "
            "does your warranty stand? Please answer in writing, pane by pane.",
            **values,
        )
    return words(
        "Offer {number}. We have been asked to fit {film} ({thickness}, on the {where}) to the panes "
        "below. Our own screen does not clear them, and the decision is yours. May it be fitted to each of "
        "them, and does your warranty stand? Please answer in writing, pane by pane.",
        number=quote.number,
        **values,
    )


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
    for coating in spec.coatings:
        text += ", " + words("coating on surface {n}", n=fmt.number(coating.surface))
    text += ", " + str(spec.year) if spec.year else ""
    return text.replace(" mm", "\u00a0mm")
