"""The options side by side, and what each film does on this glass."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reportkit.base.translatable import english
from reportkit.documents.blocks import Block, Bullets, Column, Heading, Paragraph, Row, Section, Table
from reportkit.documents.figures import light_and_heat, months
from reportkit.documents.page import Page
from reportkit.documents.sections.excluded import REASONS, sentences
from reportkit.findings.glass import Rated, Refused
from reportkit.job.model.decisions import BARE

if TYPE_CHECKING:
    from collections.abc import Sequence

CONDITIONS = {
    "nfrc": english(
        "U after NFRC winter conditions, {winter} outside; SHGC after NFRC summer conditions, {sun} straight on "
        "(balance after ISO 15099)."
    ),
    "en": english(
        "U after EN 673; g with the heat transfer of EN 410, but weighted by the sun of ASTM G173. Not to be compared "
        "with values under other conditions."
    ),
}


def glass(page: Page) -> Section:
    """Return the film alone against the film on the client's glass."""
    words, fmt, findings = page.words, page.fmt, page.findings
    rated = [entry for entry in findings.glazings if isinstance(entry, Rated)]
    main = findings.views.glazing
    here = [entry for entry in rated if entry.id == main]
    chosen = page.chosen.films
    there = [entry for entry in rated if entry.id != main and (entry.film is None or entry.film in chosen)]
    test = {"winter": fmt.temperature(-18), "sun": fmt.irradiance(783)}
    note = words(CONDITIONS[findings.choice.conditions], **test) + f" {_computed(page)} "
    note += words(
        "Fading light: 300 to 600 nm weighted by damage (ISO 9050, CIE 89/3). No film stops fading."
    )
    blocks: list[Block] = [
        Heading(words("The film on your glass"), level=2, id="glass"),
        light_and_heat(findings, fmt, words),
        _ratings(
            page,
            here,
            words("On {glass}, centre of the pane, sun straight on", glass=page.glazing(main)),
            note,
            "on-glass",
        ),
    ]
    if there:
        blocks.append(
            _ratings(page, there, words("On the other glass of this job"), _computed(page), "on-other-glass")
        )
    known = [
        words("{glass}: {note}.", glass=page.glazing(entry.id), note=words.said(note))
        for entry in rated
        if entry.film is None
        for note in entry.notes
    ]
    if known:
        blocks.append(Bullets(known))
    refused = _refused(page)
    if refused:
        blocks += [Paragraph(words("Where film must not go:")), Bullets(refused)]
    return Section("glass", blocks)


def _computed(page: Page) -> str:
    """Return what every table of U, g and SHGC says of itself."""
    return page.words("Computed after the standard, not a certified rating.")


def _ratings(page: Page, entries: Sequence[Rated], caption: str, note: str, name: str) -> Table:
    words, fmt = page.words, page.fmt
    heat = "g" if page.findings.choice.conditions == "en" else "SHGC"
    several = len({entry.id for entry in entries}) > 1
    rows = []
    for entry in entries:
        name_ = page.film(entry.film)
        if several and entry.film is None:
            name_ = words("{glass}, bare", glass=page.glazing(entry.id))
        cells = [
            name_,
            fmt.percent(entry.t_visible),
            fmt.percent(entry.r_visible_out),
            fmt.percent(entry.r_visible_in),
            fmt.number(entry.shgc, 2),
            fmt.percent(entry.t_uv, 1),
            fmt.percent(entry.t_fading),
            fmt.u_value(entry.u_w_m2k, unit=False),
        ]
        stands_out = entry.film is None if several else entry.film in page.chosen.films
        rows.append(Row(cells, "strong" if stands_out else "none"))
    return Table(
        [
            Column("film", words("Glass and film") if several else words("Film"), width=2.2),
            Column("vt", words("Light in (VT)"), align="decimal", width=1.0),
            Column("out", words("Mirror outside"), align="decimal", width=1.0),
            Column("in", words("Mirror inside"), align="decimal", width=1.0),
            Column("g", words("Sun's heat in ({name})", name=heat), align="decimal", width=1.0),
            Column("uv", words("UV in"), align="decimal", width=1.0),
            Column("fading", words("Fading light in"), align="decimal", width=1.0),
            Column("u", words("U [{unit}]", unit=fmt.rate(1, "W/m2K")[1]), align="decimal", width=1.0),
        ],
        rows,
        caption=caption,
        note=note,
        id=name,
    )


def _refused(page: Page) -> list[str]:
    """Return where film must not go and why, films with one reason together; not of glass left bare by name."""
    words = page.words
    together: dict[tuple[str, str], list[str]] = {}
    meant = {pane.glazing for pane in page.job.panes if page.job.film_named(pane) != BARE}
    for entry in page.findings.glazings:
        if isinstance(entry, Refused) and entry.id in meant:
            together.setdefault((entry.id, entry.refused), []).append(page.film(entry.film))
    return [
        words(
            "{glass}: {why} ({films}).",
            glass=page.glazing(glazing),
            why=words.said(why),
            films=", ".join(films),
        )
        for (glazing, why), films in together.items()
    ]


def options(page: Page) -> Section:
    """Return every option with its heat, light and cost, doing nothing among them."""
    words, fmt, findings = page.words, page.fmt, page.findings
    whole = page.whole_year
    columns = [
        Column("option", words("Option"), width=2.2),
        Column("peak", words("Worst hour [W]"), align="decimal", width=1.0),
        Column("cut", words("Less than now"), align="decimal", width=1.0),
    ]
    if whole:
        columns += [
            Column("warm", words("Kept out when warm [kWh/yr]"), align="decimal", width=1.0),
            Column("cold", words("Kept out when cold [kWh/yr]"), align="decimal", width=1.0),
        ]
    columns += [
        Column("light", words("Light in"), align="decimal", width=1.0),
        Column("mirror", words("Mirror outside"), align="decimal", width=1.0),
        Column("panes", words("Panes"), align="decimal", width=1.0),
        Column("cost", words("Price"), align="decimal", width=1.3),
    ]
    rows = []
    for entry in findings.options:
        cells = {
            "option": page.option(entry),
            "peak": fmt.significant(entry.peak_solar_w, 3),
            "cut": page.less(page.bare.peak_solar_w, entry.peak_solar_w),
            "light": fmt.percent(entry.t_visible),
            "mirror": fmt.percent(entry.r_visible_out),
            "panes": "—" if entry.kind == "shade" else fmt.number(entry.panes_filmed),
            "cost": fmt.money(entry.cost) if entry.cost else "—",
        }
        if whole:
            cells["warm"] = fmt.significant(entry.kept_out_warm_kwh, 2)
            cells["cold"] = fmt.significant(entry.kept_out_cold_kwh, 2)
        order = [cells[column.key] for column in columns]
        if entry.chosen:
            rows.append(Row(order, "strong"))
        else:
            rows.append(Row(order, "muted" if entry.excluded else "none"))
    note = words(
        english("The option in bold is the one planned.")
        if page.own_home
        else english("The option in bold is the one offered.")
    )
    if whole:
        note += " " + words(
            "Warm and cold: hours of {base} and more outside, and colder ones, in which the sun helps to heat.",
            base=fmt.temperature(page.bare.cold_below_c),
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
    uncut = [entry for entry in findings.options if entry.withheld.get("cost") == "no_plan"]
    if uncut:
        blocks.append(
            Bullets(
                [
                    words("{film}: {why}", film=page.option(entry), why=words(REASONS["no_plan"]))
                    for entry in uncut
                ]
            )
        )
    out = _ruled_out(page)
    if out:
        blocks += [Paragraph(words("Ruled out by the limits you set, and why:")), Bullets(out)]
    figure = months(findings, fmt, words)
    if figure is not None:
        blocks.append(figure)
    return Section("options", blocks)


def _ruled_out(page: Page) -> list[str]:
    return [
        sentence
        for entry in page.findings.options
        for sentence in sentences(
            page, page.option(entry), [limit for limit in entry.excluded if limit.what != "no_plan"]
        )
    ]
