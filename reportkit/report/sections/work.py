"""The fitting sheet: where, in which order, which piece on which pane, from which strip, with what."""

from __future__ import annotations

import datetime as dt
from decimal import Decimal
from typing import Any

from reportkit.report.blocks import (
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
from reportkit.report.figures import roll_layout
from reportkit.report.figures.roll_layout import SHELF
from reportkit.report.page import Page
from reportkit.report.runs import Text, strong
from reportkit.report.sections.basis import measured
from reportkit.report.sections.photos import for_the_fitter
from reportkit.report.sections.placed import exceptions, joined, positions, shopping, size, to_buy
from reportkit.report.together import together

KIT = {
    "slip_solution": "Slip solution",
    "soap": "of it mild clear soap",
    "blades": "New blade edges",
    "towels": "Lint-free towels",
    "floor_sheets": "Absorbent floor sheets",
    "tape": "Low-tack tape",
    "edge_sealant": "Edge sealant",
}


#: What slows a pane down or needs a second look, as the sheet says it.
FLAGS = {
    "timber": "timber",
    "arch": "arch",
    "outside": "outside",
    "step_ladder": "step-ladder",
    "tower": "tower",
    "safety_film": "thick film",
}


#: Rows of the list of panes up to which notes stand under it.
ROOM_FOR_NOTES = 16


def work(page: Page) -> Section:
    """Return the one page of work: where and when, what stops it, pane by pane, what to bring."""
    words, results = page.words, page.results
    if page.leaves_glass:
        return Section("work", [Heading(words("Nothing to fit"), level=1, id="work")])
    stops = _stops(page)
    half = (len(stops) + 1) // 2
    blocks: list[Block] = [
        _head(page),
        Heading(words("Stop and ask if"), level=1, id="stop"),
        Columns([[Bullets(stops[:half], marker="stop")], [Bullets(stops[half:], marker="stop")]]),
    ]
    plan = results["schedule"]
    title = words("Panes in the order of the shade") if plan["slots"] else words("Panes and pieces")
    blocks.append(Heading(title, level=1, id="pieces"))
    if plan["slots"]:
        for day in plan["days"]:
            slots = [slot for slot in plan["slots"] if slot["start"].startswith(day)]
            blocks.append(_pieces(page, slots, day, last=day == plan["days"][-1]))
    else:
        every = [{"pane": piece["pane"], "count": piece["quantity"]} for piece in results["pieces"]]
        blocks.append(_pieces(page, every, None, last=True))
    return Section("work", blocks if _crowded(page) else [*blocks, *_noted(page)])


def _crowded(page: Page) -> bool:
    """Return whether the list of panes leaves no room for notes on its page: they follow the rolls then."""
    return len(page.results["schedule"]["slots"] or page.results["pieces"]) > ROOM_FOR_NOTES


def _noted(page: Page) -> list[Block]:
    """Return what was noted at panes, also those that stay bare, at their glass and at the film that goes on."""
    words, panes = page.words, page.results["panes"]
    found: dict[tuple[str, str], list[str]] = {}

    def add(kind: str, note: str, about: str) -> None:
        if text := " ".join(note.split()):
            found.setdefault((kind, text), []).append(about)

    for pane in page.job["panes"]:
        add("pane", pane["note"], pane["id"])
    for glazing in page.job["glazings"]:
        if own := [pane["id"] for pane in panes if pane["glazing"] == glazing["id"]]:
            told = {"glass": page.glazing(glazing["id"]), "panes": together(page, own)}
            add("glass", glazing["note"], words("{glass} ({panes})", **told))
    for film in page.job["films"]:
        if film["id"] in page.chosen["films"]:
            add("film", film["note"], page.film(film["id"]))
    line: list[Any] = []
    for (kind, note), about in found.items():
        name = together(page, about) if kind == "pane" else ", ".join(about)
        line += ["; " if line else words("Noted: "), strong(name), f"\u00a0– {note}"]
    return [Paragraph(line)] if line else []


def _head(page: Page) -> Columns:
    """Return where, whom to call, when, how long and how many, in two columns."""
    words, fmt, job = page.words, page.fmt, page.job
    labour = page.results["labour"]
    hours = labour["elapsed_min"]
    plan = page.results["schedule"]
    when = "________"
    if plan["days"]:
        first, last = (dt.date.fromisoformat(plan["days"][at]) for at in (0, -1))
        when = fmt.date(first, "full")
        if first != last:
            when = words("{first} to {last}", first=fmt.day(first), last=fmt.date(last))
    where = [
        Fact(words("Where"), ", ".join([job["client"]["name"], *job["client"]["address"]])),
        Fact(words("Call"), job["client"]["contact"] or "—"),
        Fact(words("Parking"), "________"),
    ]
    time = [
        Fact(words("Day"), when),
        Fact(
            words("On site"),
            fmt.duration_minutes(hours["likely"]),
            words(
                "{low} to {high}",
                low=fmt.duration_minutes(hours["low"]),
                high=fmt.duration_minutes(hours["high"]),
            ),
        ),
        Fact(words("People"), fmt.number(labour["crew"])),
        *measured(page),
    ]
    return Columns([[Facts(where, style="list")], [Facts(time, style="list")]])


def _stops(page: Page) -> list[str]:
    words, fmt = page.words, page.fmt
    ids = {entry["id"] for entry in page.results["cautions"]}
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
    if "ladder" in ids:
        stops.append(words("a sheet needs two hands on a ladder: use a platform"))
    return stops


def _pieces(page: Page, slots: list[dict[str, Any]], day: str | None, *, last: bool) -> Table:
    """Return a day's panes in the order of work; every pane where no day is set."""
    words, fmt, results = page.words, page.fmt, page.results
    strips = positions(page)
    labour = {entry["pane"]: entry for entry in results["labour"]["panes"]}
    panes = {pane["id"]: pane for pane in results["panes"]}
    pieces = {piece["pane"]: piece for piece in results["pieces"]}
    sun = {entry["pane"]: entry["sun"] for entry in results["schedule"]["panes"]}
    several = len(page.chosen["films"]) > 1
    unit = "in" if fmt.units == "us" else "mm"
    seamed = any(pieces[slot["pane"]]["parts_mm"] for slot in slots)
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
    rows: list[dict[str, Any]] = []
    for slot in slots:
        pane, piece = panes[slot["pane"]], pieces[slot["pane"]]
        row = {
            "pane": [strong(pane["id"]), f" ×{fmt.number(slot['count'])}" if slot["count"] > 1 else ""],
            "room": page.room(pane["room"]),
            "cut": size(page, piece),
            "strip": ", ".join(joined(strips.get(pane["id"], []))) or "—",
            "mind": ", ".join(_flags(page, slot, pane, labour[pane["id"]])),
            "min": fmt.number(labour[pane["id"]]["each_min"]),
        }
        if day:
            row["when"] = _clock(page, slot["start"])
            later = [span["from"] for span in sun[pane["id"]] if span["from"] >= slot["end"][11:16]]
            row["sun"] = fmt.clock(dt.time.fromisoformat(min(later))) if later else "—"
        if several:
            row["film"] = page.film(pane["film"])
        rows.append(row)
    caption = words("Each pane and its piece")
    if day:
        caption = fmt.date(dt.date.fromisoformat(day), "full")
    return Table(columns, rows, caption=caption, note=_note(page) if last else "", id="work-list")


def _note(page: Page) -> str:
    """Return what the columns mean, and the gap."""
    words, results = page.words, page.results
    films = {spec["id"]: spec for spec in page.job["films"]}
    sides = {films[name]["side"] for name in page.chosen["films"]}
    notes = [
        words(
            "Width by height as seen from inside; leave a gap of {gap} on every side.",
            gap=_gaps(page),
        )
    ]
    if any(piece["trimmed_on_glass"] for piece in results["pieces"]):
        notes.append(words("Cut sizes are blanks: trim on the glass."))
    if any(piece["parts_mm"] for piece in results["pieces"]):
        notes.append(words("Widths with + between: parts, from the left as you stand on the film's side."))
    if len(sides) == 1:
        notes.append(
            words("All film goes inside.") if sides == {"inside"} else words("All film goes outside.")
        )
    turned = any(place[2] for places in positions(page).values() for place in places)
    notes.append(words("Strip: roll and strip from its free end."))
    if turned:
        notes.append(words("t: turned, a black corner in the drawing."))
    notes.append(words("Min.: for one pane."))
    if _crowded(page) and _noted(page):
        notes.append(words("What was noted at the panes stands behind the rolls."))
    if results["schedule"]["slots"]:
        notes.append(words("Times suppose a clear sky; sun at: when it next reaches the pane."))
    if page.job["fitting"]["spare"]:
        notes.append(words("One spare piece of the largest pane is cut."))
    return " ".join(notes)


def _gaps(page: Page) -> str:
    """Return the gap at the edge, film by film where they differ."""
    films = {pane["id"]: pane["film"] for pane in page.results["panes"]}
    gaps = {
        films[piece["pane"]]: page.fmt.small_length(piece["edge_gap_mm"]) for piece in page.results["pieces"]
    }
    if len(set(gaps.values())) == 1:
        return next(iter(gaps.values()))
    return ", ".join(f"{gap} ({page.film(film)})" for film, gap in gaps.items())


def _flags(page: Page, slot: dict[str, Any], pane: dict[str, Any], labour: dict[str, Any]) -> list[str]:
    """Return what to mind at a pane, with the factor by which it slows the work."""
    words, fmt = page.words, page.fmt
    job_pane = next(entry for entry in page.job["panes"] if entry["id"] == pane["id"])
    scraped = next((one["panes"] for one in page.results["cautions"] if one["id"] == "tempered_blade"), ())
    found = []
    if slot.get("in_sun"):
        found.append(words("sheet outside"))
    if slot.get("cold"):
        found.append(words("cold glass: measure"))
    if labour["people"] > 1:
        found.append(words("two people"))
    if pane["id"] in scraped:
        found.append(words("no metal blade"))
    if job_pane["old_film"]:
        found.append(words("old film off"))
    for key, factor in labour["slowed_by"].items():
        digits = 0 if factor == round(factor) else 1 if round(factor, 1) == factor else 2
        found.append(f"{words(FLAGS[key])}\u00a0×{fmt.number(factor, digits)}")
    return found


def _clock(page: Page, stamp: str) -> str:
    """Return a clock time to the next five minutes."""
    moment = dt.datetime.fromisoformat(stamp)
    return page.fmt.clock(moment + dt.timedelta(minutes=-moment.minute % 5))


def cutting(page: Page) -> Section:
    """Return the roll layout to scale and what is left."""
    words, fmt, results = page.words, page.fmt, page.results
    plan = results["cutting"]
    if plan is None:
        return Section("cutting", [Paragraph(words("Nothing is cut."), role="note")])
    shelf = any(roll["label"] == SHELF for roll in plan["rolls"])
    return Section(
        "cutting",
        [
            PageBreak(),
            Heading(words("How the rolls are cut"), level=1, id="cutting"),
            *to_buy(page, plan["rolls"]),
            *roll_layout(results, fmt, words),
            Paragraph(
                words(
                    "Bought and from the shelf {bought}, on glass {glass}: {waste} of it is not on the glass."
                    if shelf
                    else "Bought {bought}, on glass {glass}: {waste} of what is bought is waste.",
                    bought=fmt.area(plan["bought_m2"]),
                    glass=fmt.area(plan["glass_m2"]),
                    waste=fmt.percent(plan["waste_fraction"]),
                )
                + " "
                + words(plan["verdict"])
            ),
            *exceptions(page),
            *_kept_and_others(page),
            *(_noted(page) if _crowded(page) else []),
            *for_the_fitter(page),
        ],
    )


OTHERS = {
    "next_mix": "Next cheapest to buy: {rolls}; {money}.",
    "one_width": "One roll width only: {rolls}; {money}.",
    "no_groups": "Without keeping panes of one view together: {rolls}; {money}.",
}


def _kept_and_others(page: Page) -> list[Block]:
    """Return what to know about the rolls, the off-cuts to label and keep, and what else one could buy."""
    words, fmt = page.words, page.fmt
    plan = page.results["cutting"]
    points = [words.said(note) for note in plan["notes"]]
    points += [
        words(
            "Keep and label the rest of roll {number}: {size}.",
            number=rest["roll"],
            size=fmt.size_mm(rest["width_mm"], rest["length_mm"]),
        )
        for rest in plan["offcuts"]
    ]
    for entry in plan["alternatives"]:
        extra = Decimal(entry["extra"])
        money = (
            words("{amount} more for the film", amount=fmt.money(extra))
            if extra >= 0
            else words("{amount} less for the film", amount=fmt.money(-extra))
        )
        points.append(words(OTHERS[entry["kind"]], rolls=shopping(page, entry["rolls"]), money=money))
    return [Bullets(points)] if points else []


def kit(page: Page) -> Section:
    """Return what to bring, how to inspect, and boxes for what was really used."""
    words, fmt, results = page.words, page.fmt, page.results
    if page.leaves_glass:
        return Section("kit", [Paragraph(words("No kit."), role="note")])
    bring: list[Text] = []
    for line in results["materials"]:
        value = float(line["quantity"])
        if line["unit"] == "L":
            text = fmt.volume(value)
        elif line["unit"] == "ml":
            text = fmt.small_volume(value)
        elif line["unit"] == "m":
            text = fmt.distance_m(value)
        else:
            unit = "" if line["unit"] in ("edges", "sheets") else f"\u00a0{line['unit']}"
            text = fmt.number(value) + unit
        bring.append([words(KIT[line["id"]]), " ", strong(text)])
    third = -(-len(bring) // 3)
    boxes = [Bullets(bring[at : at + third], marker="tick") for at in range(0, len(bring), third)]
    return Section(
        "kit",
        [
            Heading(words("Bring, beside tools and the film"), level=1, id="bring"),
            Columns([[box] for box in boxes]),
            Table(
                [
                    Column("film", words("Film off the roll"), content="write"),
                    Column("minutes", words("Minutes on site"), content="write"),
                    Column("again", words("Pieces made again"), content="write"),
                    Column("glass", words("Coldest glass"), content="write"),
                ],
                [{}],
                caption=words("Fill in on site"),
                note=words(
                    "Inspect square on from {distance} in daylight without direct sun; a border of {border} and the "
                    "haze of drying do not count.",
                    **fmt.inspection,
                ),
                id="actuals",
                row_headers=False,
            ),
        ],
    )
