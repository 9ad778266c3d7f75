"""The fitting sheet: where, in which order, which piece on which pane, from which strip, with what."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from reportkit.base.translatable import english
from reportkit.documents.blocks import (
    Block,
    Bullets,
    Column,
    Columns,
    Fact,
    Facts,
    Heading,
    PageBreak,
    Paragraph,
    Section,
    Table,
)
from reportkit.documents.figures import roll_layout
from reportkit.documents.page import Page
from reportkit.documents.runs import Run, Text, strong
from reportkit.documents.sections import agreed, revised
from reportkit.documents.sections.basis import measured
from reportkit.documents.sections.photos import for_the_fitter
from reportkit.documents.sections.placed import Place, exceptions, joined, positions, shopping, size, to_buy
from reportkit.documents.sections.shaped import shaped
from reportkit.documents.sections.strips import kept, strips, used
from reportkit.documents.together import together

if TYPE_CHECKING:
    from reportkit.findings.cutting import CutPlanFound
    from reportkit.findings.glass import PaneFound
    from reportkit.findings.offer import PaneMinutesFound
    from reportkit.findings.schedule import ScheduleFound, Slot

#: What slows a pane down or needs a second look, as the sheet says it.
FLAGS = {
    "timber": english("timber"),
    "arch": english("shaped"),
    "outside": english("outside"),
    "step_ladder": english("step-ladder"),
    "tower": english("tower"),
    "safety_film": english("thick film"),
    "thickness_not_known": english("thickness not known: as thick film"),
}

#: Rows of the list of panes up to which notes stand under it.
ROOM_FOR_NOTES = 16


@dataclass(frozen=True)
class _Turn:
    """A row of the list of panes: a pane, how many of it, where their pieces lie, and its time if a day is set."""

    pane: str
    count: int
    places: list[Place]
    slot: Slot | None = None


def work(page: Page) -> Section:
    """Return the one page of work: where and when, what stops it, pane by pane, what to bring."""
    words = page.words
    if page.leaves_glass:
        return Section("work", [Heading(words("Nothing to fit"), level=1, id="work")])
    stops = _stops(page)
    half = (len(stops) + 1) // 2
    blocks: list[Block] = [
        _head(page),
        Heading(words("Stop and ask if"), level=1, id="stop"),
        Columns([[Bullets(stops[:half], marker="stop")], [Bullets(stops[half:], marker="stop")]]),
    ]
    plan = _schedule(page)
    title = words("Panes in the order of the shade") if plan.slots else words("Panes and pieces")
    blocks += [*revised.for_the_fitter(page), Heading(title, level=1, id="pieces")]
    turns = _turns(page)
    for day in plan.days or [None]:
        of_day = [turn for turn in turns if not turn.slot or turn.slot.start.date() == day]
        blocks.append(_pieces(page, of_day, day, last=not plan.days or day == plan.days[-1]))
    return Section("work", blocks if _crowded(page) else [*blocks, *_noted(page)])


def _turns(page: Page) -> list[_Turn]:
    """Return the rows of the list in their order, to each the pieces that are cut first of those left."""
    lying = positions(page)
    rows: list[tuple[str, int, Slot | None]] = [
        (slot.pane, slot.count, slot) for slot in _schedule(page).slots
    ] or [(piece.pane, piece.quantity, None) for piece in page.findings.pieces]
    turns = []
    for pane, count, slot in rows:
        parts = lying.get(pane, {})
        turns.append(_Turn(pane, count, [place for left in parts.values() for place in left[:count]], slot))
        for left in parts.values():
            del left[:count]
    return turns


def _schedule(page: Page) -> ScheduleFound:
    """Return the plan of the fitting, empty where no day is set."""
    plan = page.findings.schedule
    assert plan is not None  # asked only of a job in which film is fitted
    return plan


def _crowded(page: Page) -> bool:
    """Return whether the list of panes leaves no room for notes on its page: they follow the rolls then."""
    return len(_schedule(page).slots or page.findings.pieces) > ROOM_FOR_NOTES


def _noted(page: Page) -> list[Block]:
    """Return what was noted at panes, also those that stay bare, at their glass and at the film that goes on."""
    words, job = page.words, page.job
    noted: dict[tuple[str, str], list[str]] = {}

    def add(kind: str, note: str, about: str) -> None:
        if text := " ".join(note.split()):
            noted.setdefault((kind, text), []).append(about)

    for pane in job.panes:
        add("pane", pane.note, pane.id)
    for glazing in job.glazings:
        if own := [pane.id for pane in job.panes if pane.glazing == glazing.id]:
            place = words("{glass} ({panes})", glass=page.glazing(glazing.id), panes=together(page, own))
            add("glass", glazing.note, place)
    for film in job.films:
        if film.id in page.chosen.films:
            add("film", film.note, page.film(film.id))
    line: list[str | Run] = []
    for (kind, note), about in noted.items():
        name = together(page, about) if kind == "pane" else ", ".join(about)
        line += ["; " if line else words("Noted: "), strong(name), f"\u00a0– {note}"]
    return [Paragraph(line)] if line else []


def _head(page: Page) -> Columns:
    """Return where, whom to call, when, how long and how many, in two columns."""
    words, fmt, client = page.words, page.fmt, page.job.client
    labour = page.findings.labour
    minutes = labour.elapsed_min
    days = _schedule(page).days
    when = "________"
    if days:
        first, last = days[0], days[-1]
        when = fmt.date(first, "full")
        if first != last:
            when = words("{first} to {last}", first=fmt.day(first), last=fmt.date(last))
    place = ", ".join(filter(None, [client.name, *client.address]))
    where = [
        *([Fact(words("Where"), place)] if place else []),
        Fact(words("Call"), client.contact or "—"),
        Fact(words("Parking"), "________"),
    ]
    time = [
        Fact(words("Day"), when),
        Fact(
            words("On site"),
            fmt.duration_minutes(minutes.likely),
            words(
                "{low} to {high}",
                low=fmt.duration_minutes(minutes.low),
                high=fmt.duration_minutes(minutes.high),
            ),
        ),
        Fact(words("People"), fmt.number(labour.crew)),
        *measured(page),
        *agreed.accepted(page),
    ]
    return Columns([[Facts(where, style="list")], [Facts(time, style="list")]])


def _stops(page: Page) -> list[str]:
    words, fmt = page.words, page.fmt
    ids = {caution.id for caution in page.findings.cautions}
    stops = [
        words("the glass is colder than {cold} or in direct sun", cold=fmt.temperature(5)),
        words(
            "a pane is cracked, chipped at an edge, fogged between its sheets, or not the glass on this list"
        ),
    ]
    if "tempered_blade" in ids:
        stops.append(words("a pane is tempered, or you cannot tell: no metal blade without written consent"))
    if "lead_paint" in ids:
        stops.append(words("paint or putty would be scraped: lead and asbestos are not tested yet"))
    if "alarm" in ids:
        stops.append(words("an alarm sensor or foil is on the glass and its installer has not been asked"))
    stops += agreed.unsettled(page)
    if "ladder" in ids:
        stops.append(words("a sheet needs two hands on a ladder: use a platform"))
    return stops


def _pieces(page: Page, turns: Sequence[_Turn], day: dt.date | None, *, last: bool) -> Table:
    """Return a day's panes in the order of work; every pane where no day is set."""
    words, fmt, findings = page.words, page.fmt, page.findings
    minutes = {line.pane: line for line in findings.labour.panes}
    panes = {pane.id: pane for pane in findings.panes}
    pieces = {piece.pane: piece for piece in findings.pieces}
    sun = {order.pane: order.sun for order in _schedule(page).panes}
    several = len(page.chosen.films) > 1
    unit = "in" if fmt.units == "us" else "mm"
    seamed = any(pieces[turn.pane].parts_mm for turn in turns)
    columns = [
        *([Column("when", words("From")), Column("sun", words("Sun at"))] if day else []),
        Column("pane", words("Pane")),
        Column("room", words("Room"), width=1.1),
        *([Column("film", words("Film"), width=1.0)] if several else []),
        Column("cut", words("Cut [{unit}]", unit=unit), align="right", width=1.3 if seamed else 0.0),
        Column("strip", words("Strip"), width=0.8),
        Column("mind", words("Mind"), width=1.7),
        Column("min", words("Min."), align="right"),
        Column("done", words("Done"), content="tick"),
    ]
    rows: list[dict[str, Text]] = []
    for turn in turns:
        pane, slot = panes[turn.pane], turn.slot
        row: dict[str, Text] = {
            "pane": [strong(pane.id), f" ×{fmt.number(turn.count)}" if turn.count > 1 else ""],
            "room": page.room(pane.room),
            "cut": size(page, pieces[pane.id]),
            "strip": ", ".join(joined(turn.places)) or "—",
            "mind": ", ".join([*revised.marks(page, pane.id), *_flags(page, slot, pane, minutes[pane.id])]),
            "min": fmt.number(minutes[pane.id].each_min),
        }
        if slot:
            row["when"] = _clock(page, slot.start)
            ended = slot.end.time().replace(second=0, microsecond=0)
            later = [span.start for span in sun[pane.id] if span.start >= ended]
            row["sun"] = fmt.clock(min(later)) if later else "—"
        if several:
            row["film"] = page.film(pane.film)
        rows.append(row)
    caption = words("Each pane and its piece")
    if day:
        caption = fmt.date(day, "full")
    return Table(columns, rows, caption=caption, note=_note(page) if last else "", id="work-list")


def _note(page: Page) -> str:
    """Return what the columns mean, and the gap."""
    words, findings = page.words, page.findings
    sides = {film.side for film in findings.job.films if film.id in page.chosen.films}
    notes = [
        words(
            "Width by height as seen from inside; leave a gap of {gap} on every side.",
            gap=_gaps(page),
        )
    ]
    if any(piece.trimmed_on_glass for piece in findings.pieces):
        notes.append(words("Cut sizes are blanks: trim on the glass."))
    if any(pane.shape for pane in findings.panes if pane.film):
        notes.append(
            words("Shaped panes: their blanks are rectangles, their outlines stand behind the rolls.")
        )
    if any(piece.parts_mm for piece in findings.pieces):
        notes.append(words("Widths with + between: parts, from the left as you stand on the film's side."))
    if len(sides) == 1:
        notes.append(
            words("All film goes inside.") if sides == {"inside"} else words("All film goes outside.")
        )
    turned = any(place[2] for turn in _turns(page) for place in turn.places)
    notes.append(words("Strip: roll and strip from its free end."))
    if turned:
        notes.append(words("t: turned, a black corner in the drawing."))
    notes.append(words("Min.: for one pane."))
    if _crowded(page) and _noted(page):
        notes.append(words("What was noted at the panes stands behind the rolls."))
    if _schedule(page).slots:
        notes.append(words("Times suppose a clear sky; sun at: when it next reaches the pane."))
    if findings.job.fitting.spare:
        notes.append(words("One spare piece of the largest pane is cut."))
    return " ".join(notes)


def _gaps(page: Page) -> str:
    """Return the gap at the edge, film by film where they differ."""
    films = {pane.id: pane.film for pane in page.findings.panes}
    gaps = {films[piece.pane]: page.fmt.small_length(piece.edge_gap_mm) for piece in page.findings.pieces}
    if len(set(gaps.values())) == 1:
        return next(iter(gaps.values()))
    return ", ".join(f"{gap} ({page.film(film)})" for film, gap in gaps.items())


def _flags(page: Page, slot: Slot | None, pane: PaneFound, minutes: PaneMinutesFound) -> list[str]:
    """Return what to mind at a pane, with the factor by which it slows the work."""
    words, fmt = page.words, page.fmt
    surveyed = next(row for row in page.job.panes if row.id == pane.id)
    cautions = page.findings.cautions
    scraped = next((caution.panes for caution in cautions if caution.id == "tempered_blade"), ())
    flags = []
    if slot and slot.in_sun:
        flags.append(words("sheet outside"))
    if slot and slot.cold:
        flags.append(words("cold glass: measure"))
    if minutes.people > 1:
        flags.append(words("two people"))
    if pane.id in scraped:
        flags.append(words("no metal blade"))
    if surveyed.old_film:
        flags.append(words("old film off"))
    untold = any(film.id == pane.film and film.thickness_um is None for film in page.job.films)
    for key, factor in minutes.slowed_by.items():
        flag = "thickness_not_known" if key == "safety_film" and untold else key
        digits = 0 if factor == round(factor) else 1 if round(factor, 1) == factor else 2
        flags.append(f"{words(FLAGS[flag])}\u00a0×{fmt.number(factor, digits)}")
    return flags


def _clock(page: Page, moment: dt.datetime) -> str:
    """Return a clock time to the next five minutes."""
    return page.fmt.clock(moment + dt.timedelta(minutes=-moment.minute % 5))


def cutting(page: Page) -> Section:
    """Return the roll layout to scale and what is left."""
    words, fmt, plan = page.words, page.fmt, page.findings.cutting
    if plan is None:
        return Section("cutting", [Paragraph(words("Nothing is cut."), role="note")])
    return Section(
        "cutting",
        [
            PageBreak(),
            Heading(words("How the rolls are cut"), level=1, id="cutting"),
            *to_buy(page, plan.rolls),
            *roll_layout(page.findings, fmt, words),
            Paragraph(f"{used(page, plan)} {words(plan.verdict)}"),
            *strips(page, plan),
            *exceptions(page),
            *_kept_and_others(page, plan),
            *shaped(page),
            *(_noted(page) if _crowded(page) else []),
            *for_the_fitter(page),
        ],
    )


OTHERS = {
    "next_mix": english("Next cheapest to buy: {rolls}; {money}."),
    "one_width": english("One roll width only: {rolls}; {money}."),
    "no_groups": english("Without keeping panes of one view together: {rolls}; {money}."),
}


def _kept_and_others(page: Page, plan: CutPlanFound) -> list[Block]:
    """Return what to know about the rolls, the off-cuts to label and keep, and what else one could buy."""
    words, fmt = page.words, page.fmt
    points = [words.said(note) for note in plan.notes]
    points += kept(page, plan)
    for way in plan.alternatives or ():
        money = (
            words("{amount} more for the film", amount=fmt.money(way.extra))
            if way.extra >= 0
            else words("{amount} less for the film", amount=fmt.money(-way.extra))
        )
        points.append(words(OTHERS[way.kind], rolls=shopping(page, way.rolls), money=money))
    return [Bullets(points)] if points else []
