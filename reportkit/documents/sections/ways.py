"""The client's building as a map, and up to three whole ways side by side, each with a box to tick."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reportkit.documents.blocks import (
    Block,
    Bullets,
    Columns,
    Fact,
    Facts,
    Group,
    Heading,
    Paragraph,
    Section,
)
from reportkit.documents.figures import building as picture
from reportkit.documents.page import Page
from reportkit.documents.runs import strong
from reportkit.documents.sections import plain
from reportkit.documents.sections.photos import of_rooms
from reportkit.documents.sections.price import charged, made_up_of
from reportkit.documents.sections.verdicts import refusals, terms
from reportkit.documents.together import together

if TYPE_CHECKING:
    from reportkit.findings.ways import WayFound


def building(page: Page) -> Section:
    """Return the client's building: every pane by room and code, colored by what was asked, and photos."""
    return Section(
        "building",
        [
            Heading(page.words("Your windows"), level=1, id="windows"),
            picture(page.findings, page.fmt, page.words),
            *of_rooms(page),
        ],
    )


def ways(page: Page) -> Section:
    """Return the whole ways side by side; nothing where nothing is offered."""
    words, offered = page.words, page.findings.ways
    if not offered:
        return Section("ways", [])
    several = len(offered) > 1
    one = words("What it takes") if page.own_home else words("What we offer")
    title = words("Ways to choose from") if several else one
    each = (
        words("Each is whole, with its own cost.")
        if page.own_home
        else words("Each is whole, with its own price. Tick one.")
    )
    told = [Paragraph(each)] if several else []
    cards = Columns([[Group(_card(page, way), frame=True)] for way in offered])
    blocks: list[Block] = [Group([Heading(title, level=1, id="ways"), *told, cards])]
    said = [text for text in (made_up_of(page), charged(page), *terms(page), *refusals(page)) if text]
    if said:
        ours = words("About what is recommended:") if page.own_home else words("About our recommendation:")
        about = [strong(ours)] if several else []
        blocks.append(Group([*([Paragraph(about)] if about else []), Bullets(said)]))
    return Section("ways", blocks)


def name_of(page: Page, way: WayFound) -> str:
    """Return what a way is called."""
    if way.name:
        return way.name
    if way.better:
        return page.words(plain.BETTER[way.better])
    return page.words("Recommended") if page.own_home else page.words("Our recommendation")


def _card(page: Page, way: WayFound) -> list[Block]:
    """Return one way: box and name, price, film by face, what it does, what it gives up."""
    words, fmt = page.words, page.fmt
    entry = page.option_named(way.option)
    price = (
        words("no price: the rolls given cannot hold its pieces")
        if way.total is None
        else fmt.money(way.total)
    )
    results = [*plain.figures(page, entry)]
    asked = [Fact(words("To be asked first"), together(page, way.ask))] if way.ask else []
    return [
        Bullets([[strong(name_of(page, way))]], marker="tick"),
        Paragraph([strong(price), f" {_tax(page)}"], role="lead"),
        Facts([*_films(page, way), *results, *asked], style="stack"),
        Paragraph([strong(words("What it gives up")), *(f" {told}" for told in plain.gives_up(page, entry))]),
    ]


def _tax(page: Page) -> str:
    words, price = page.words, page.findings.price
    if price.tax == 0:
        return ""
    if price.tax_included:
        return words("{tax} included", tax=price.tax_name)
    return words("with {tax}", tax=price.tax_name)


def _films(page: Page, way: WayFound) -> list[Fact]:
    """Return each film of a way with the faces it goes on, and the panes that stay bare."""
    words = page.words
    where: dict[str | None, list[str]] = {}
    for part in way.films:
        place = (
            page.face(part.face) if part.whole else f"{page.face(part.face)}: {together(page, part.panes)}"
        )
        where.setdefault(part.film, []).append(place)
    facts = [Fact(page.film(film), "; ".join(places)) for film, places in where.items() if film]
    if None in where:
        facts.append(Fact(words("Stays bare"), "; ".join(where[None])))
    return facts
