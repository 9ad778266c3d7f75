"""What the report rests on: the job, the weather, the assumptions."""

from __future__ import annotations

import re
from collections.abc import Sequence

from reportkit.documents.blocks import (
    Block,
    Bullets,
    Column,
    Columns,
    Fact,
    Facts,
    Heading,
    Paragraph,
    Section,
    Table,
)
from reportkit.documents.language.names import INPUTS, LEFT_OPEN
from reportkit.documents.page import Page
from reportkit.documents.runs import strong
from reportkit.findings.basis import AssumedInRooms, AssumedRange, Assumption
from reportkit.job.reading.defaults import PROGRAM
from reportkit.work import materials


def job(page: Page) -> Section:
    """Return the job as read, for the reasoning."""
    words, fmt = page.words, page.fmt
    panes = page.job.panes
    area = sum(pane.area_m2 * pane.quantity for pane in page.findings.panes)
    return Section(
        "job",
        [
            Heading(page.job.title or page.job.id, level=1, id="job"),
            Facts(
                [
                    Fact(words("Complaint"), page.job.complaint.text),
                    Fact(words("Panes"), fmt.number(sum(pane.quantity for pane in panes))),
                    Fact(words("Glass"), fmt.area(area)),
                    Fact(words("Films compared"), fmt.number(len(page.job.films))),
                    *measured(page),
                ],
                style="list",
            ),
        ],
    )


def measured(page: Page) -> list[Fact]:
    """Return who measured the panes and when, as far as the job says it."""
    survey = page.job.survey
    day = survey.measured_on
    said = [survey.measured_by, page.fmt.date(day) if day else ""]
    text = ", ".join(part for part in said if part)
    return [Fact(page.words("Measured"), text)] if text else []


def weather(page: Page) -> Section:
    """Return the weather used and what it can and cannot say."""
    words, fmt = page.words, page.fmt
    used = page.findings.weather
    facts = [
        *([Fact(words("Site"), page.job.site.place)] if page.job.site.place else []),
        Fact(words("Source"), words.said(used.source)),
        *([Fact(words("Place"), used.place)] if used.place != page.job.site.place else []),
        Fact(words("Span"), words.said(used.span)),
        Fact(words("Clock"), used.clock),
    ]
    if used.annual_global_kwh_m2 is not None:
        facts.append(Fact(words("Sun on level ground"), fmt.yearly_sun(used.annual_global_kwh_m2)))
    blocks: list[Block] = [
        Heading(words("The weather used"), level=2, id="weather"),
        Facts(facts, style="list"),
    ]
    if used.doubts or used.notes:
        blocks.append(Bullets([words.said(note) for note in (*used.doubts, *used.notes)]))
    if not page.whole_year:
        blocks.append(
            Paragraph(
                words(
                    "Clear days give the sun's path and peaks. Every yearly figure is withheld for that reason."
                ),
            )
        )
    return Section("weather", blocks)


def assumptions(page: Page) -> Section:
    """Return every default used, with its value, mark and reason: of the job, the study, the ranges.

    Prices left open are the fitter's own business (`reckoned`).
    """
    words = page.words
    listed = [entry for entry in page.findings.assumptions if not _of_price(entry)]
    by_job, by_study = ([entry for entry in listed if entry.about == name] for name in ("job", "study"))
    ranges = [entry for entry in listed if isinstance(entry, AssumedInRooms)]
    blocks: list[Block] = [Heading(words("What was assumed"), level=1, id="assumptions")]
    if by_job:
        caption = words("Values used where the job gave none; each can be set in the job")
        blocks.append(_left_open(page, by_job, caption, "assumed"))
    if by_study:
        caption = words("Values the calculation takes in every job of this kind")
        blocks.append(_left_open(page, by_study, caption, "taken"))
    if ranges:
        blocks.append(_spreads(page, ranges))
    return Section("assumptions", blocks)


def reckoned(page: Page) -> Section:
    """Return for the fitter whether the price covers its cost, and how cutting, kit and minutes were reckoned."""
    rates = [
        entry
        for entry in page.findings.assumptions
        if isinstance(entry, AssumedRange) and not isinstance(entry, AssumedInRooms)
    ]
    warned: list[Block] = [Paragraph([strong(text)]) for text in (below_cost(page),) if text]
    words = page.words
    tables = [
        _rates(page, mine, caption, identifier)
        for identifier, caption, of_kit in (
            ("reckoned-kit", words("How the kit was reckoned"), True),
            ("reckoned-minutes", words("How cutting and minutes were reckoned"), False),
        )
        if (mine := [entry for entry in rates if (entry.field in materials.DEFAULTS) is of_kit])
    ]
    left = [entry for entry in page.findings.assumptions if _of_price(entry)]
    if page.own_home:  # nothing is charged there but what was kept for other jobs
        left = [entry for entry in left if entry.mark != PROGRAM]
    if left:
        warned.append(_left_open(page, left, words("Prices that the job left open"), "open-prices"))
    if not tables:
        return Section("reckoned", warned)
    alike = _alike(page, rates)
    beside: list[Block] = [Columns([[table] for table in tables])] if alike and len(tables) > 1 else [*tables]
    note = " ".join((words("A value without a unit is a factor."), alike))
    return Section("reckoned", [*warned, *beside, Paragraph(note, role="note")])


def _of_price(entry: Assumption) -> bool:
    return entry.field.startswith("prices.")


def below_cost(page: Page) -> str:
    """Return that the price is below what the job costs, for the fitter's eyes; empty where it is not."""
    price, fmt = page.findings.price, page.fmt
    if page.own_home or not price.short_of_cost:
        return ""
    return page.words(
        "The price is below what the job costs by its own rates: {cost} before profit, {short} more than is charged.",
        cost=fmt.money(price.cost),
        short=fmt.money(price.short_of_cost),
    )


def _left_open(page: Page, entries: Sequence[Assumption], caption: str, identifier: str) -> Table:
    words = page.words
    together: dict[tuple[str, str, str, str], list[str]] = {}
    for entry in entries:
        value = entry.value
        value = "" if value is None else words.said(value) if isinstance(value, str) else str(value)
        if re.fullmatch("[a-z]+(_[a-z]+)+", value):  # a word of the job file
            value = value.replace("_", " ")
        field, about = _field(page, entry.field)
        together.setdefault((field, value, entry.mark, entry.why), []).append(about)
    rows = [
        [
            words(LEFT_OPEN[field]) + _of(page, field, about),
            text,
            words.said(mark),
            words.said(why),
        ]
        for (field, text, mark, why), about in together.items()
    ]
    return Table(
        [
            Column("what", words("What"), width=5),
            Column("value", words("Value"), align="right", width=3),
            Column("mark", words("Where it comes from"), width=4.5),
            Column("why", words("Why"), width=6),
        ],
        rows,
        caption=caption,
        id=identifier,
        fine=True,
    )


def _of(page: Page, field: str, about: Sequence[str]) -> str:
    """Return in brackets what a row is about; nothing where it is about the job or all there are."""
    names = list(dict.fromkeys(name for name in about if name))
    records = getattr(page.job, field.split(".")[0], None)
    every = len(records) if isinstance(records, tuple) else 0
    return f" ({', '.join(names)})" if names and len(names) < every else ""


def _field(page: Page, path: str) -> tuple[str, str]:
    """Return a field's path without the id of what it is about, and that one's name."""
    names = {"films": page.film, "rooms": page.room, "faces": page.face, "glazings": page.glazing}
    first, *rest = (part for part in path.split(".") if not part.isdecimal())
    if first in (*names, "panes", "horizons") and len(rest) > 1:
        identifier, *rest = rest
        return ".".join((first, *rest)), names.get(first, str)(identifier)
    return ".".join((first, *rest)), ""


def _rates(page: Page, entries: Sequence[AssumedRange], caption: str, identifier: str) -> Table:
    words, fmt = page.words, page.fmt
    rows = []
    for entry in entries:
        low, high = (fmt.rate(end, entry.unit)[0] for end in (entry.low, entry.high))
        value, unit = fmt.rate(entry.value, entry.unit)
        usual = "" if entry.low is None else f"{low}–{high}"
        told = f"{value}\u00a0{words.said(unit)}" if unit else value
        rows.append([words.said(entry.why), told, usual])
    return Table(
        [
            Column("what", words("What"), width=1),
            Column("value", words("Value"), align="right"),
            Column("usual", words("Usual"), align="right"),
            *_marked(page, entries, rows),
        ],
        rows,
        caption=caption,
        id=identifier,
        fine=True,
    )


def _marked(page: Page, entries: Sequence[Assumption], rows: list[list[str]]) -> list[Column]:
    """Add to each row where its value comes from, and return the column; none where all come from one."""
    if _alike(page, entries):
        return []
    for entry, row in zip(entries, rows, strict=True):
        row.append(page.words.said(entry.mark))
    return [Column("mark", page.words("Where it comes from"), width=4)]


def _alike(page: Page, entries: Sequence[Assumption]) -> str:
    """Return where all values come from in a sentence; empty where they differ.

    What the job gives says so in its reason.
    """
    marks = {entry.mark for entry in entries} - {"given by the job"}
    if len(marks) != 1:
        return ""
    return page.words("Where it comes from: {mark}.", mark=page.words.said(marks.pop()))


def _spreads(page: Page, entries: Sequence[AssumedInRooms]) -> Table:
    words, fmt = page.words, page.fmt
    everywhere = {name for entry in entries for name in entry.rooms}
    rows = []
    for entry in entries:
        what = words(INPUTS[entry.field])
        if set(entry.rooms) != everywhere:
            what += f" ({', '.join(page.room(name) for name in entry.rooms)})"
        shown = [fmt.rate(value, entry.unit) for value in (entry.low, entry.value, entry.high)]
        cells = [*(text for text, _ in shown), words.said(shown[0][1])]
        rows.append([what, *cells, words.said(entry.why)])
    return Table(
        [
            Column("what", words("What"), width=5),
            Column("low", words("Low"), align="decimal"),
            Column("likely", words("Likely"), align="decimal"),
            Column("high", words("High"), align="decimal"),
            Column("unit", words("Unit")),
            Column("why", words("Why"), width=6),
            *_marked(page, entries, rows),
        ],
        rows,
        caption=words("What the ranges run over"),
        note=" ".join(
            (
                words("A value without a unit is a factor. Temperatures here are differences."),
                _alike(page, entries),
            )
        ),
        id="ranges",
        fine=True,
    )
