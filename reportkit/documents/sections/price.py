"""The price line by line."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING

from reportkit.base.translatable import english
from reportkit.base.units import decimals_of
from reportkit.documents.blocks import (
    Block,
    Column,
    Heading,
    Paragraph,
    Row,
    Section,
    Table,
)
from reportkit.documents.page import Page
from reportkit.documents.sections.tariff import as_of
from reportkit.documents.sections.verdicts import conditions
from reportkit.job.reading.rates import CHARGED

if TYPE_CHECKING:
    from collections.abc import Sequence

    from reportkit.findings.offer import PriceLine

LINES = {
    "labour": english("Fitting"),
    "overtime": english("Fitting, overtime"),
    "travel": english("Travel"),
    "call_out": english("Call-out"),
    "all": english("Film supplied and fitted"),
    "minimum": english("Made up to the minimum charge"),
}

UNITS = {"h": english("h"), "job": "", "m2": english("m²"), "ft2": english("ft²")}


def price(page: Page) -> Section:
    """Return the price line by line with tax."""
    words, fmt = page.words, page.fmt
    made = page.findings.price
    if page.leaves_glass:
        return Section(
            "price",
            [
                Heading(words("Cost") if page.own_home else words("Price"), level=1, id="price"),
                Paragraph(words("Nothing is to be fitted, so there is nothing to pay.")),
            ],
        )
    rows: list[Row | list[str]] = [
        [
            _line(page, entry),
            _quantity(page, entry),
            fmt.money(entry.rate, every=True),
            fmt.money(entry.amount),
        ]
        for entry in made.lines
        if entry.group != "materials"
    ]
    small = [entry.amount for entry in made.lines if entry.group == "materials"]
    if small:
        rows.insert(_after_film(made.lines), [words("Materials"), "", "", fmt.money(sum(small))])
    percent = fmt.percent(made.tax_fraction, max(0, decimals_of(made.tax_fraction) - 2))
    if made.tax:
        if made.tax_included:
            rows.append(Row([words("Total"), "", "", fmt.money(made.total)], "total"))
            rows.append(
                Row(
                    [
                        words("of which {tax}, {percent}", tax=made.tax_name, percent=percent),
                        "",
                        "",
                        fmt.money(made.tax),
                    ],
                    "muted",
                )
            )
        else:
            rows.append(Row([words("Net"), "", "", fmt.money(made.net)], "strong"))
            rows.append(
                [
                    words("{tax}, {percent}", tax=made.tax_name, percent=percent),
                    "",
                    "",
                    fmt.money(made.tax),
                ]
            )
            rows.append(Row([words("Total"), "", "", fmt.money(made.total)], "total"))
    else:
        rows.append(Row([words("Total"), "", "", fmt.money(made.total)], "total"))
    blocks: list[Block] = [
        Heading(words("Cost") if page.own_home else words("Price"), level=1, id="price"),
        Table(
            [
                Column("what", words("What")),
                Column("n", words("Quantity"), align="right"),
                Column("rate", words("Rate"), align="decimal"),
                Column("amount", words("Amount"), align="decimal"),
            ],
            rows,
            caption=words("What our recommendation costs, in {currency}", currency=made.currency)
            if len(page.findings.ways) > 1 and not page.own_home
            else words("What it costs, in {currency}", currency=made.currency),
            note=" ".join(
                part
                for part in (
                    as_of(page, page.chosen.films),
                    charged(page),
                    _old(page),
                    _shapes(page),
                    _hours(page),
                )
                if part
            ),
            id="price-list",
        ),
        *conditions(page),
    ]
    return Section("price", blocks)


def made_up_of(page: Page) -> str:
    """Return in a sentence what the price is made up of, as the fitter shows it; empty where it is one sum."""
    words, fmt, made = page.words, page.fmt, page.findings.price
    small = [line.amount for line in made.lines if line.group == "materials"]
    shown = [(_line(page, line), line.amount) for line in made.lines if line.group != "materials"]
    if small:
        shown.insert(_after_film(made.lines), (words("Materials"), sum(small, Decimal(0))))
    if len(shown) < 2:
        return ""
    if made.tax and not made.tax_included:
        shown.append((made.tax_name, made.tax))
    parts = "; ".join(f"{what}\u00a0{fmt.money(amount)}" for what, amount in shown if amount)
    if page.own_home:
        return words("The cost is made up of: {parts}.", parts=parts)
    return words("The price is made up of: {parts}.", parts=parts)


def charged(page: Page) -> str:
    """Return what the film in the price is charged by, and how much of what is bought is used; else empty."""
    words, fmt, plan = page.words, page.fmt, page.findings.cutting
    if plan is None or all(line.group != "film" for line in page.findings.price.lines):
        return ""
    bought = sum(roll.length_mm for roll in plan.rolls) / 1000
    used = words(
        "Of {bought} of film {used} are pulled off the rolls.",
        bought=fmt.distance_m(bought),
        used=fmt.distance_m(plan.used_length_mm / 1000),
    )
    return used if page.own_home else f"{words(CHARGED[page.job.prices.film_charged])} {used}"


def _after_film(lines: Sequence[PriceLine]) -> int:
    return sum(1 for entry in lines if entry.group == "film")


def _old(page: Page) -> str:
    """Return which prices are over a year old on the day of the offer; nothing where none is."""
    words = page.words
    dated = [
        words("{film} ({date})", film=page.film(old.film), date=page.fmt.date(old.dated))
        if old.film
        else words("rates of the work ({date})", date=page.fmt.date(old.dated))
        for old in page.findings.price.old
    ]
    if not dated:
        return ""
    return words(
        "Prices over a year old on the day of this offer, to be confirmed: {what}.", what=", ".join(dated)
    )


def _hours(page: Page) -> str:
    """Return how hours are rounded where a line charges them: others are planned; empty elsewhere."""
    if not any(line.group == "labour" and line.unit == "h" for line in page.findings.price.lines):
        return ""
    return page.words("Hours of work are charged by the quarter hour, one begun counts whole.")


def _shapes(page: Page) -> str:
    """Return what counts of shaped panes where a line is priced by the area of the glass; empty elsewhere."""
    by_area = {"area", "all"} & {
        line.group for line in page.findings.price.lines if line.unit in ("m2", "ft2")
    }
    filmed = {pane.id for pane in page.findings.panes if pane.film}
    if not by_area or not any(pane.shape and pane.id in filmed for pane in page.job.panes):
        return ""
    if page.job.prices.shapes_counted == "glass":
        return page.words("A shaped pane counts by its own glass.")
    return page.words("A shaped pane counts by the rectangle around it.")


def _line(page: Page, entry: PriceLine) -> str:
    words, fmt = page.words, page.fmt
    if entry.group == "extra":
        return entry.note
    if entry.group == "discount":
        off = page.job.discount
        share = fmt.percent(off.percent / 100, decimals_of(str(off.percent))) if off and off.percent else ""
        if share:
            return words("Discount of {percent}: {reason}", percent=share, reason=entry.note)
        return words("Discount: {reason}", reason=entry.note)
    if lot := entry.lot:
        name, width = page.film(lot.film), fmt.length_mm(lot.width_mm)
        if lot.length_mm is None:
            if entry.quantity < 0:
                return words("{film}, {width} wide, rest taken back", film=name, width=width)
            if entry.unit in ("m2", "ft2"):
                return words("{film}, {width} wide, by area", film=name, width=width)
            return words("{film}, {width} wide, by length", film=name, width=width)
        length = fmt.distance_m(lot.length_mm / 1000)
        if lot.pack > 1:
            return words(
                "{film}, packs of {count} rolls {width} wide, {length} long",
                film=name,
                count=fmt.number(lot.pack),
                width=width,
                length=length,
            )
        return words("{film}, roll {width} wide, {length} long", film=name, width=width, length=length)
    return words(LINES[entry.id]) if entry.id in LINES else words.said(entry.text)


def _quantity(page: Page, entry: PriceLine) -> str:
    fmt = page.fmt
    value = entry.quantity
    if entry.unit in ("m", "ft"):  # as sold, whatever the reader's units: the rate is that of this unit
        return f"{fmt.number(value, 2)}\u00a0{entry.unit}"
    if entry.unit == "roll":
        return page.words.many("{n} roll", "{n} rolls", int(value))
    if entry.unit == "pack":
        return page.words.many("{n} pack", "{n} packs", int(value))
    if entry.unit in ("m2", "ft2"):
        return f"{fmt.number(value, 2)}\u00a0{page.words(UNITS[entry.unit])}"
    text = fmt.number(value, decimals_of(value))
    if entry.group == "extra":
        return f"{text}\u00a0{entry.unit}".rstrip()
    unit = UNITS.get(entry.unit, entry.unit)
    return f"{text}\u00a0{page.words(unit)}" if unit else text
