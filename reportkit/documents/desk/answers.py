"""What the desk answers to a change: the numbers as facts, the views and the cut plan as pictures, as HTML.

Reads findings only, the same sections the documents are written from.
"""

from __future__ import annotations

from base64 import b64encode
from decimal import Decimal
from typing import TYPE_CHECKING, Any

from reportkit.documents.blocks import Block, Bullets, Fact, Facts, Heading, Paragraph, plain
from reportkit.documents.figures import roll_layout, views
from reportkit.documents.language.names import REASONS
from reportkit.documents.layouts.fonts import FACES, face_file
from reportkit.documents.layouts.html import fragment
from reportkit.documents.layouts.templates import template
from reportkit.documents.page import Page

if TYPE_CHECKING:
    from reportkit.findings.rooms import Spread

#: The ranges told that are the room's; the others are sums over all rooms described.
OF_ROOM = ("hot_hours",)


def style() -> str:
    """Return the desk's style sheet with the typeface in it, whole, as HTML that shows nothing."""
    faces = "".join(
        f"@font-face{{font-family:'Source Sans Pro';font-weight:{weight};font-style:{slant};"
        f"src:url(data:font/ttf;base64,{b64encode(face_file(weight, slant).read_bytes()).decode('ascii')})}}"
        for weight, slant in FACES
    )
    return f"<style>{faces}{template('html/desk.css').read_text(encoding='utf-8')}</style>"


def as_html(blocks: list[Block]) -> str:
    """Return blocks as HTML in the project's own look; every text in them is escaped."""
    return fragment([plain(block) for block in blocks])


def numbers(page: Page, room: str, budget: Decimal | None) -> list[Block]:
    """Return the key numbers of the choice beside those of leaving the glass as it is.

    Those of the room looked at stand apart from those of the whole job.

    Parameters
    ----------
    page
        Results of the job under the decision tried; its complaint names the room looked at.
    room
        The room looked at.
    budget
        The most the client will spend [currency], if said.
    """
    words, fmt = page.words, page.fmt
    now, then = page.bare, page.chosen
    same = page.leaves_glass

    def beside(value: str) -> str:
        return "" if same else words("now {value}", value=value)

    mine = [
        Fact(
            words("Sun's heat at the worst hour"),
            fmt.power(then.peak_solar_w, 3),
            beside(fmt.power(now.peak_solar_w, 3)),
        )
    ]
    facts = [
        Fact(
            words("Daylight let in"),
            fmt.percent(then.t_visible),
            beside(fmt.percent(now.t_visible)),
        )
    ]
    for key, label, unit in _ranges(page):
        before, after = getattr(now, key), getattr(then, key)
        if before is not None and after is not None:
            fact = Fact(label, _range(page, after, unit), beside(_range(page, before, unit)))
            (mine if key in OF_ROOM else facts).append(fact)
    saving = then.saving_per_year
    if saving is not None and not same:
        if saving.p90 < 0:
            facts.append(Fact(words("Costs more, a year"), fmt.money_range(-saving.p90, -saving.p10)))
        else:
            facts.append(Fact(words("Saved, a year"), fmt.money_range(saving.p10, saving.p90)))
    facts.append(Fact(words("Price, fitted"), fmt.money(then.cost), _against(page, budget)))
    plan = page.findings.cutting
    if plan is not None:
        facts.append(
            Fact(
                words("Film to buy"),
                fmt.area(plan.bought_m2),
                words("{share} of it cut off", share=fmt.percent(plan.lost_fraction)),
            )
        )
    return [
        Heading(words("Only this room: {room}", room=page.room(room)), level=1),
        Facts(mine),
        Heading(words("The whole job"), level=1),
        Facts(facts),
    ]


def remarks(page: Page) -> list[Block]:
    """Return what is to be said of the numbers: the hour, panes that stay bare, what is withheld."""
    words, now, then = page.words, page.bare, page.chosen
    note = words(
        "Worst hour {when}. Pairs are ranges: eight of ten computed cases lie in them. Price and film by the "
        "quick cut plan; the one for the order may cost a little less.",
        when=page.when(page.findings.bad_day.time),
    )
    told = [
        words("{pane} stays bare: {why}.", pane=entry.pane, why=words.said(entry.why))
        for entry in then.bare_because
    ]
    told += [
        _withheld(page, label, then.withheld[key])
        for key, label, _ in _ranges(page)
        if getattr(now, key) is None or getattr(then, key) is None
    ]
    if then.saving_per_year is None:
        told.append(_withheld(page, words("Saved, a year"), then.withheld["saving_per_year"]))
    return [Paragraph(note, role="note"), *([Bullets(told)] if told else [])]


def _ranges(page: Page) -> tuple[tuple[str, str, str], ...]:
    """Return the ranges told of an option: field, label, unit."""
    words = page.words
    return (
        ("hot_hours", words("Hours too hot, a year"), "h"),
        ("cooling_kwh", words("Cooling, a year"), "kWh"),
        ("heating_kwh", words("Heating, a year"), "kWh"),
    )


def _range(page: Page, spread: Spread, unit: str) -> str:
    if unit == "h" and max(abs(spread.p10), abs(spread.p90)) < 1:
        return page.words("none")
    digits = 1 if unit == "h" and max(abs(spread.p10), abs(spread.p90)) < 10 else 2
    return page.fmt.range(spread.p10, spread.p50, spread.p90, unit, digits)


def _withheld(page: Page, label: str, reason: str) -> str:
    return page.words("{what}: not told, {why}.", what=label, why=page.words(REASONS.get(reason, reason)))


def _against(page: Page, budget: Decimal | None) -> str:
    """Return how the price stands against the budget."""
    if budget is None:
        return ""
    left = budget - page.findings.price.total
    if left < 0:
        return page.words("{amount} over the budget", amount=page.fmt.money(-left))
    return page.words("{amount} of the budget left", amount=page.fmt.money(left))


def looks(page: Page) -> list[Block]:
    """Return the views from both sides, by day and at night: bare, and with each film of the choice."""
    return list(views(page.findings, page.fmt, page.words, films=page.chosen.films, narrow=True))


def cut_plan(page: Page) -> list[Block]:
    """Return the roll layout to scale, or a line where nothing is cut."""
    pictures: list[Any] = roll_layout(page.findings, page.fmt, page.words)
    if not pictures:
        return [Paragraph(page.words("Nothing is cut."), role="note")]
    return list(pictures)
