"""The options side by side, and what each film does on this glass."""

from __future__ import annotations

from typing import Any

from reportkit.report.blocks import Block, Bullets, Column, Heading, Paragraph, Row, Section, Table
from reportkit.report.figures import light_and_heat, months
from reportkit.report.page import Page

CONDITIONS = {
    "nfrc": "U: NFRC winter, -18 °C outside; SHGC: NFRC summer, 783 W/m² straight on (ISO 15099 balance).",
    "en": "U: EN 673; g: EN 410. Not to be compared with values under other conditions.",
}


def glass(page: Page) -> Section:
    """Return the film alone against the film on the client's glass."""
    words, fmt, results = page.words, page.fmt, page.results
    heat = "g" if results["choice"]["conditions"] == "en" else "SHGC"
    rows: list[Any] = []
    refused = []
    for entry in results["glazings"]:
        name = page.glazing(entry["id"])
        if "refused" in entry:
            refused.append(
                words(
                    "{film} on {glass}: {why}.",
                    film=page.film(entry["film"]),
                    glass=name,
                    why=entry["refused"],
                )
            )
            continue
        cells = [
            name if entry["film"] is None else "",
            page.film(entry["film"]),
            fmt.percent(entry["t_visible"]),
            fmt.percent(entry["r_visible_out"]),
            fmt.percent(entry["r_visible_in"]),
            fmt.number(entry["shgc"], 2),
            fmt.percent(entry["t_uv"], 1),
            fmt.percent(entry["t_fading"]),
            fmt.u_value(entry["u_w_m2k"]).split("\u00a0")[0],
        ]
        rows.append(Row(cells, "strong") if entry["film"] is None else cells)
    unit = fmt.u_value(1).split("\u00a0", 1)[1]
    blocks: list[Block] = [
        Heading(words("The film on your glass"), level=2, id="glass"),
        light_and_heat(results, fmt, words),
        Table(
            [
                Column("glass", words("Glass")),
                Column("film", words("With")),
                Column("vt", words("Light in (VT)"), align="decimal"),
                Column("out", words("Mirror outside"), align="decimal"),
                Column("in", words("Mirror at night inside"), align="decimal"),
                Column("g", words("Sun's heat in ({name})", name=heat), align="decimal"),
                Column("uv", words("UV in"), align="decimal"),
                Column("fading", words("Fading light in"), align="decimal"),
                Column("u", words("U [{unit}]", unit=unit), align="decimal"),
            ],
            rows,
            caption=words("What each film does on this glass, centre of the pane, sun straight on"),
            note=words(CONDITIONS[results["choice"]["conditions"]])
            + " "
            + words(
                "Fading light: 300 to 600 nm weighted by damage (ISO 9050, CIE 89/3). No film stops fading."
            ),
            id="on-glass",
        ),
    ]
    if refused:
        blocks += [Paragraph(words("Films that must not go on some of this glass:")), Bullets(refused)]
    return Section("glass", blocks)


def options(page: Page) -> Section:
    """Return every option with its heat, light and cost, doing nothing among them."""
    words, fmt, results = page.words, page.fmt, page.results
    whole = page.whole_year
    columns = [
        Column("option", words("Option")),
        Column("peak", words("Worst hour [W]"), align="decimal"),
        Column("cut", words("Less than now"), align="decimal"),
    ]
    if whole:
        columns += [
            Column("warm", words("Kept out when warm [kWh/yr]"), align="decimal"),
            Column("cold", words("Kept out when cold [kWh/yr]"), align="decimal"),
        ]
    columns += [
        Column("light", words("Light in"), align="decimal"),
        Column("mirror", words("Mirror outside"), align="decimal"),
        Column("panes", words("Panes"), align="decimal"),
        Column("cost", words("Price"), align="decimal"),
    ]
    rows = []
    for entry in results["options"]:
        cells = {
            "option": page.option(entry),
            "peak": fmt.significant(entry["peak_solar_w"], 3),
            "cut": fmt.percent(entry["peak_cut_fraction"]),
            "light": fmt.percent(entry["t_visible"]),
            "mirror": fmt.percent(entry["r_visible_out"]),
            "panes": fmt.number(entry["panes_filmed"]),
            "cost": fmt.money(entry["cost"]) if entry["panes_filmed"] else "—",
        }
        if whole:
            cells["warm"] = fmt.significant(entry["kept_out_warm_kwh"], 2)
            cells["cold"] = fmt.significant(entry["kept_out_cold_kwh"], 2)
        order = [cells[column.key] for column in columns]
        if entry["chosen"]:
            rows.append(Row(order, "strong"))
        else:
            rows.append(Row(order, "muted" if entry["excluded"] else "none"))
    note = words("The option in bold is the one offered.")
    if whole:
        note += " " + words(
            "Warm and cold: hours of {base} and more outside, and colder ones, in which the sun helps to heat.",
            base=fmt.temperature(results["options"][0]["cold_below_c"]),
        )
    blocks: list[Block] = [
        Heading(words("Your options, side by side"), level=1, id="options"),
        Table(
            columns,
            rows,
            caption=words("Every option against leaving the glass as it is"),
            note=note,
            id="all",
        ),
    ]
    out = _ruled_out(page)
    if out:
        blocks += [Paragraph(words("Ruled out by the limits you set, and why:")), Bullets(out)]
    figure = months(results, fmt, words)
    if figure is not None:
        blocks.append(figure)
    return Section("options", blocks)


def _ruled_out(page: Page) -> list[str]:
    words, fmt = page.words, page.fmt
    found = []
    for entry in page.results["options"]:
        seen = set()
        for item in entry["excluded"]:
            if item["what"] in seen:
                continue
            seen.add(item["what"])
            sentence = (
                "{film}: pane {pane} would let in {value} of the light; you asked for {limit} or more."
                if item["what"] == "visible_transmittance"
                else "{film}: pane {pane} would mirror {value} of the light outside; you asked for {limit} or less."
            )
            found.append(
                words(
                    sentence,
                    film=page.option(entry),
                    pane=item["pane"],
                    value=fmt.percent(item["value"]),
                    limit=fmt.percent(item["limit"]),
                )
            )
    return found
