"""The fitting sheet: where, in which order, which piece on which pane, from which strip, with what."""

from __future__ import annotations

import datetime as dt
from typing import Any

from reportkit.report.blocks import Block, Bullets, Column, Fact, Facts, Heading, Paragraph, Section, Table
from reportkit.report.figures import roll_layout
from reportkit.report.page import Page

KIT = {
    "slip_solution": "Slip solution",
    "soap": "of it mild clear soap",
    "blades": "New blade edges",
    "towels": "Lint-free towels",
    "floor_sheets": "Absorbent floor sheets",
    "tape": "Low-tack tape",
    "edge_sealant": "Edge sealant",
}


def work(page: Page) -> Section:
    """Return where to go, what stops the work, and the panes with their pieces."""
    words, fmt, results = page.words, page.fmt, page.results
    job = page.job
    if page.leaves_glass:
        return Section("work", [Heading(words("Nothing to fit"), level=1, id="work")])
    hours = results["labour"]["elapsed_min"]
    date = job["fitting"]["date"]
    facts = [
        Fact(words("Where"), ", ".join([job["client"]["name"], *job["client"]["address"]])),
        Fact(words("Call"), job["client"]["contact"] or "—"),
        Fact(words("Day"), fmt.date(dt.date.fromisoformat(date)) if date else "________"),
        Fact(
            words("Time on site"),
            fmt.duration_minutes(hours["likely"]),
            words(
                "{low} to {high}",
                low=fmt.duration_minutes(hours["low"]),
                high=fmt.duration_minutes(hours["high"]),
            ),
        ),
        Fact(words("People"), fmt.number(results["labour"]["crew"])),
    ]
    blocks: list[Block] = [
        Facts(facts, style="list"),
        Heading(words("Stop and ask if"), level=1, id="stop"),
        Bullets(_stops(page), marker="stop"),
        Heading(words("Panes and pieces"), level=1, id="pieces"),
        _pieces(page),
    ]
    return Section("work", blocks)


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
    if "ladder" in ids:
        stops.append(words("a sheet needs two hands on a ladder: use a platform"))
    return stops


def _pieces(page: Page) -> Table:
    words, fmt, results = page.words, page.fmt, page.results
    place = _positions(page)
    minutes = {entry["pane"]: entry for entry in results["labour"]["panes"]}
    films = {spec["id"]: spec for spec in page.job["films"]}
    panes = {pane["id"]: pane for pane in results["panes"]}
    several = len(page.chosen["films"]) > 1
    columns = [
        Column("pane", words("Pane")),
        Column("room", words("Room")),
        Column("n", words("No."), align="right"),
        Column("cut", words("Cut"), align="right"),
        Column("glass", words("Stays on glass"), align="right"),
        Column("strip", words("Roll and strip")),
        Column("side", words("Side")),
        Column("min", words("Min. each"), align="right"),
        Column("done", words("Done"), content="tick"),
    ]
    if several:
        columns.insert(2, Column("film", words("Film")))
    rows: list[dict[str, Any]] = []
    for piece in results["pieces"]:
        pane = panes[piece["pane"]]
        row = {
            "pane": piece["pane"],
            "room": page.room(piece["room"]),
            "n": fmt.number(piece["quantity"]),
            "cut": fmt.size_mm(piece["width_mm"], piece["height_mm"]),
            "glass": fmt.size_mm(piece["finished_width_mm"], piece["finished_height_mm"]),
            "strip": ", ".join(place.get(piece["pane"], ["—"])),
            "side": words(films[pane["film"]]["side"]),
            "min": fmt.number(minutes[piece["pane"]]["each_min"]),
        }
        if several:
            row["film"] = page.film(pane["film"])
        rows.append(row)
    gaps = sorted({piece["edge_gap_mm"] for piece in results["pieces"]})
    trimmed = any(piece["trimmed_on_glass"] for piece in results["pieces"])
    note = words(
        "Width by height as seen from inside. Leave a gap of {gap} on every side.",
        gap=", ".join(fmt.length_mm(gap) for gap in gaps),
    )
    if trimmed:
        note += " " + words("The cut size is a blank: trim it on the glass.")
    note += " " + words(
        "Strips count from the free end of each roll; t means the piece lies turned on the roll."
    )
    return Table(columns, rows, caption=words("Each pane and its piece"), note=note, id="work-list")


def _positions(page: Page) -> dict[str, list[str]]:
    """Return where each pane's pieces lie: roll and strip, and whether turned."""
    found: dict[str, list[str]] = {}
    for number, roll in enumerate(page.results["cutting"]["rolls"], start=1):
        for index, strip in enumerate(roll["strips"], start=1):
            for piece in strip["pieces"]:
                mark = "t" if piece["turned"] else ""
                label = f"{number}.{index}{mark}"
                known = found.setdefault(piece["pane"], [])
                if label not in known:
                    known.append(label)
    return found


def cutting(page: Page) -> Section:
    """Return the roll layout to scale and what is left."""
    words, fmt, results = page.words, page.fmt, page.results
    plan = results["cutting"]
    if plan is None:
        return Section("cutting", [Paragraph(words("Nothing is cut."), role="note")])
    rolls = [
        words(
            "Roll {number}: {film}, {width} wide, {length}",
            number=number,
            film=page.film(roll["film"]),
            width=fmt.length_mm(roll["width_mm"]),
            length=fmt.distance_m(roll["length_mm"] / 1000, 2),
        )
        for number, roll in enumerate(plan["rolls"], start=1)
    ]
    return Section(
        "cutting",
        [
            Heading(words("How the rolls are cut"), level=1, id="cutting"),
            Bullets(rolls),
            *roll_layout(results, fmt, words),
            Paragraph(
                words(
                    "Bought {bought}, on glass {glass}: {waste} of what is bought is waste.",
                    bought=fmt.area(plan["bought_m2"]),
                    glass=fmt.area(plan["glass_m2"]),
                    waste=fmt.percent(plan["waste_fraction"]),
                )
                + " "
                + words(plan["verdict"])
            ),
        ],
    )


def kit(page: Page) -> Section:
    """Return what to bring, and boxes for what was really used."""
    words, fmt, results = page.words, page.fmt, page.results
    if page.leaves_glass:
        return Section("kit", [Paragraph(words("No kit."), role="note")])
    bring = []
    for line in results["materials"]:
        value = float(line["quantity"])
        if line["unit"] == "L":
            text = fmt.volume(value)
        elif line["unit"] == "m":
            text = fmt.distance_m(value)
        else:
            unit = "" if line["unit"] in ("edges", "sheets") else f"\u00a0{line['unit']}"
            text = fmt.number(value) + unit
        bring.append([words(KIT[line["id"]]), text])
    actual = Table(
        [Column("what", words("Really used")), Column("value", "", content="write")],
        [{"what": words(text)} for text in ("Film off the roll", "Minutes on site", "Pieces made again")],
        caption=words("Fill in on site"),
        id="actuals",
    )
    return Section(
        "kit",
        [
            Heading(words("Bring"), level=1, id="bring"),
            Table(
                [Column("what", words("What")), Column("n", words("How much"), align="right")],
                bring,
                caption=words("Kit, beside tools and the film"),
                id="kit-list",
            ),
            actual,
            Paragraph(
                words(
                    "Inspect square on from 2 m in daylight without direct sun; a border of 50 mm and the haze of "
                    "drying do not count."
                ),
                role="note",
            ),
        ],
    )
