"""After the work: what was read behind the film, what that says of the offer, and what it does not say."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from reportkit.base.translatable import english
from reportkit.documents.blocks import (
    Block,
    Bullets,
    Column,
    Fact,
    Facts,
    Heading,
    Paragraph,
    Section,
    Table,
)
from reportkit.documents.figures import readings as readings_figures
from reportkit.documents.figures.facts import sentence
from reportkit.documents.figures.readings import as_read, decimals, finding, measured, shares, span
from reportkit.documents.language.names import LEFT_OUT, METERS
from reportkit.documents.page import Page
from reportkit.documents.runs import Text

if TYPE_CHECKING:
    from reportkit.findings.readings import ComparedFound


def found(page: Page) -> Section:
    """Return what the readings say, beside what the offer said."""
    words, fmt = page.words, page.fmt
    readings = page.findings.readings
    if readings is None:
        return Section("found", [Paragraph(words("Nothing was read after the work."), role="note")])
    compared = readings.compared
    blocks: list[Block] = [
        Heading(words("Did the film do what was computed?"), level=1, id="found"),
    ]
    if not compared:
        blocks.append(
            Paragraph(words("No pair of readings could be used, so it cannot be told."), role="lead")
        )
    else:
        said = [finding(page.findings, one, fmt, words) + "." for one in compared]
        blocks.append(Paragraph(" ".join(said), role="lead"))
        fitted = page.job.status.fitted
        done = [Fact(words("Fitted on"), fmt.date(fitted))] if fitted else []
        blocks.append(Facts([*_facts(page, compared), *done]))
    blocks += [Paragraph(text) for text in (_offered(page), *_next(page, compared)) if text]
    if page.job.invented:
        blocks.append(
            Paragraph(
                words(
                    "This is an invented example: the people, places, films, prices and readings are made up."
                ),
                role="note",
            )
        )
    return Section("found", blocks)


def _facts(page: Page, compared: Sequence[ComparedFound]) -> list[Fact]:
    words, fmt = page.words, page.fmt
    facts = [
        Fact(
            words(
                "{meter} behind {film} on {glass}",
                meter=sentence(words(METERS[one.meter])),
                film=page.film(one.film),
                glass=page.glazing(one.glazing),
            ),
            measured(one, fmt),
            words("computed: {share}", share=shares(one, fmt, words)),
        )
        for one in compared
    ]
    days = sorted({pair.time.date() for one in compared for pair in one.pairs})
    count = sum(len(one.pairs) for one in compared)
    span = (
        fmt.day(days[0])
        if len(days) == 1
        else words("{first} to {last}", first=fmt.day(days[0]), last=fmt.day(days[-1]))
    )
    return [*facts, Fact(words("Pairs of readings"), fmt.number(count), span)]


def _offered(page: Page) -> str:
    """Say what the offer computed, which readings of a day cannot repeat."""
    words, fmt = page.words, page.fmt
    if page.leaves_glass:
        return ""
    return words(
        "The offer computed that at the worst hour ({when}) the sun's heat through the glass falls from {before} to "
        "{after}. A meter cannot repeat that hour; it shows whether the film passes the light and sun that the "
        "computation rests on.",
        when=page.when(page.findings.bad_day.time),
        before=fmt.power(page.bare.peak_solar_w, 3),
        after=fmt.power(page.chosen.peak_solar_w, 3),
    )


#: What to do after each verdict that calls for something.
NEXT = {
    "more": english(
        "More came through than computed: compare the film on the pane with the label on its box, read again with "
        "the sun straight on the pane, and ask the film's maker before anything is taken off."
    ),
    "less": english(
        "Less came through than computed: read again once the film has dried, clean the glass, and compare the film "
        "with the label on its box. The room is darker and cooler than the offer said."
    ),
    "cannot_tell": english(
        "To tell, read more pairs: at least three, the meter flat against the glass at the same height, both "
        "within one minute, under a steady sky."
    ),
}


def _next(page: Page, compared: Sequence[ComparedFound]) -> list[str]:
    met = {one.verdict for one in compared} or {"cannot_tell"}
    return [page.words(NEXT[verdict]) for verdict in NEXT if verdict in met]


def readings(page: Page) -> Section:
    """Return every pair, drawn and listed, those left out, and how it was done."""
    words, fmt = page.words, page.fmt
    record = page.findings.readings
    if record is None:
        return Section("readings", [])
    blocks: list[Block] = []
    if record.compared:
        blocks.append(Heading(words("The readings"), level=1, id="readings"))
        blocks += readings_figures(page.findings, fmt, words)
        blocks.append(_table(page, record.compared, record.reading_share))
        blocks += _noted(page, record.compared)
    if record.left_out:
        blocks += [
            Heading(words("Readings left out"), level=2, id="left-out"),
            Bullets(
                [
                    words(
                        "{pane}, {day}, {time}: {why}",
                        pane=entry.pane,
                        day=fmt.day(entry.time.date()),
                        time=fmt.clock(entry.time),
                        why=words(LEFT_OUT[entry.why]),
                    )
                    for entry in record.left_out
                ]
            ),
        ]
    blocks += [
        Heading(words("What these readings do not show"), level=1, id="not-shown"),
        Bullets(_limits(page, record.compared)),
    ]
    return Section("readings", blocks)


def _noted(page: Page, compared: Sequence[ComparedFound]) -> list[Block]:
    """Return what was written beside readings."""
    words, fmt = page.words, page.fmt
    notes = [
        words(
            "{pane}, {day}, {time}: {why}",
            pane=pair.pane,
            day=fmt.day(pair.time.date()),
            time=fmt.clock(pair.time),
            why=pair.note,
        )
        for one in compared
        for pair in one.pairs
        if pair.note
    ]
    return [Paragraph(words("Noted at the readings:")), Bullets(notes)] if notes else []


def _table(page: Page, compared: Sequence[ComparedFound], reading_share: float) -> Table:
    words, fmt = page.words, page.fmt
    rows = [
        [
            fmt.day(pair.time.date()),
            fmt.clock(pair.time),
            words(METERS[one.meter]),
            pair.pane,
            words("in the open") if one.in_open else pair.beside,
            as_read(pair.filmed, fmt),
            as_read(pair.bare, fmt),
            fmt.percent(pair.share, 1),
            span(pair.expected, decimals(one), fmt, words),
            "–" if pair.aoi_deg is None else fmt.angle(pair.aoi_deg),
        ]
        for one in compared
        for pair in one.pairs
    ]
    return Table(
        [
            Column("day", words("Day")),
            Column("time", words("Time"), align="right"),
            Column("meter", words("Meter")),
            Column("pane", words("Pane")),
            Column("beside", words("Beside")),
            Column("filmed", words("Behind film"), align="decimal"),
            Column("bare", words("Without"), align="decimal"),
            Column("share", words("Share"), align="decimal"),
            Column("expected", words("Computed"), align="right"),
            Column("angle", words("Sun's angle"), align="right"),
        ],
        rows,
        caption=words("Every pair of readings, its ratio, and the ratio computed for that hour"),
        note=words(
            "Computed: from the glass and the film's sheet, for light straight from the sun at its angle to the pane and "
            "for light from the whole sky; a dash where the sun did not meet the pane. Two readings of one meter may "
            "differ by {share} for reasons of their own (common practice, no source).",
            share=fmt.percent(reading_share),
        ),
    )


def _limits(page: Page, compared: Sequence[ComparedFound]) -> list[Text]:
    words = page.words
    points: list[Text] = [
        words(
            "The heat that the warm pane gives off, the temperature of the room, and how it feels: a light or sun "
            "meter behind glass sees none of them."
        ),
        words(
            "The bills: a film's part in them is mostly smaller than what weather and habits change from one year to "
            "the next, so monthly bills often cannot tell."
        ),
        words("Other panes than those read, and other years: film ages."),
    ]
    if any(one.meter == "sun" for one in compared):
        points.append(
            words(
                "Small sun meters see only part of the sun's spectrum. Behind a film that works on the infrared they read "
                "otherwise than the whole sun would: ask what band the meter sees before blaming film or offer."
            )
        )
    return points
