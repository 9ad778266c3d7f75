"""Does it pay: savings, costs and the years, as ranges; what drives them; what is withheld and why."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from reportkit.base.translatable import english
from reportkit.documents.blocks import Block, Bullets, Column, Heading, Paragraph, Row, Section, Table
from reportkit.documents.figures import worth as worth_figure
from reportkit.documents.language.names import INPUTS, REASONS
from reportkit.documents.page import Page
from reportkit.documents.sections.tariff import energy_prices
from reportkit.study.relief import BILLS

if TYPE_CHECKING:
    from reportkit.findings.options import OptionFound
    from reportkit.findings.rooms import Amounts, Spread
    from reportkit.findings.savings import YearsToPay

#: How much of the heating that film adds is counted.
Counted = Literal["all", "part", "none"]


def worth(page: Page) -> Section:
    """Return whether each option pays."""
    words = page.words
    options = page.findings.options
    blocks: list[Block] = [Heading(words("Does it pay?"), level=1, id="worth")]
    reason = page.bare.withheld.get("saving_per_year")
    if reason:
        blocks.append(
            Paragraph(words("No yearly money is given: {why}.", why=words(REASONS[reason])), role="lead")
        )
        return Section("worth", blocks)
    if page.leaves_glass or BILLS not in page.job.complaint.kinds:  # else page one says it
        blocks.append(Paragraph(verdict(page, page.chosen), role="lead"))
    figure = worth_figure(page.findings, page.fmt, words)
    if figure is not None:
        blocks.append(figure)
    blocks += [_table(page), *energy_prices(page)]
    drivers = page.chosen.drivers[:3]
    if drivers:
        blocks += [
            Paragraph(words("What the range of the saving depends on most:")),
            Bullets(
                [
                    words(
                        "{input} ({share})",
                        input=words(INPUTS[entry.key]),
                        share=page.fmt.percent(entry.share),
                    )
                    for entry in drivers
                ]
            ),
        ]
    undescribed = [entry.id for entry in page.findings.rooms if not entry.options]
    if undescribed and any(entry.kind == "film" for entry in options):
        blocks.append(
            Paragraph(
                words(
                    "Savings count the described rooms only, costs count every pane: {rooms} would add to the savings.",
                    rooms=", ".join(page.room(name) for name in undescribed),
                ),
                role="note",
            )
        )
    energy = page.job.energy
    if energy and energy.electricity and energy.electricity.demand:
        blocks.append(
            Paragraph(
                words("A demand charge is put on the cooling's own peak: its saving is the most it can be."),
                role="note",
            )
        )
    return Section("worth", blocks)


def verdict(page: Page, entry: OptionFound) -> str:
    """Say whether an option pays, in a sentence that follows its range."""
    told = _verdict(page, entry)
    return told if entry.kind == "none" else " ".join((told, *heating_left_out(page)))


def heating_counted(page: Page) -> Counted:
    """Return how much of the heating that film adds is counted: that of cooled rooms may not be described."""
    bodies = [room.heat for room in page.job.rooms if room.heat]
    if not any(body.cooling and not body.heating for body in bodies):
        return "all"
    return "part" if any(body.heating for body in bodies) else "none"


def heating_left_out(page: Page) -> list[str]:
    """Return as a sentence for which cooled rooms no heating is described; nothing where it is for all."""
    rooms = [room.id for room in page.job.rooms if room.heat and room.heat.cooling and not room.heat.heating]
    if not rooms:
        return []
    return [
        page.words(
            "Heating that film may add is not counted: none is described for {rooms}.",
            rooms=", ".join(map(page.room, rooms)),
        )
    ]


def _verdict(page: Page, entry: OptionFound) -> str:
    words, fmt = page.words, page.fmt
    saving, name = entry.saving_per_year, page.option(entry)
    if entry.kind == "none":
        return words("Leaving the glass as it is costs nothing and saves nothing.")
    assert saving is not None  # asked only where it is known
    low, high = float(saving.p10), float(saving.p90)
    if abs(low) < 0.5 and abs(high) < 0.5:
        said = words("{name} does not change the energy bills.", name=name)
    elif low > 0:
        said = words("{name} saves {range} a year on energy.", name=name, range=fmt.money_range(low, high))
    elif high < 0:
        said = words(
            "{name} costs {range} a year more in energy than it saves.",
            name=name,
            range=fmt.money_range(-high, -low),
        )
    else:
        said = words(
            "Whether {name} saves on energy cannot be told: between {low} and {high} a year.",
            name=name,
            low=fmt.money(saving.p10, cents=False),
            high=fmt.money(saving.p90, cents=False),
        )
    years = fmt.number(entry.years or 0)
    ends = {
        "pays": words("Over {years} years it earns its price back.", years=years),
        "does_not_pay": words("Over {years} years it does not earn its price back.", years=years),
        "cannot_tell": words(
            "Whether it earns its price back over {years} years cannot be told.", years=years
        ),
    }
    return f"{said} {ends[entry.verdict]}" if entry.verdict else said


#: What the table holds, by how much of the heating that film adds is counted.
SAVED: dict[Counted, str] = {
    "all": english("Energy saved less heating added, against the price, over {years} years for every option"),
    "part": english(
        "Energy saved less the heating added where it is described, against the price, over {years} years "
        "for every option"
    ),
    "none": english(
        "Energy saved, heating added not counted, against the price, over {years} years for every option"
    ),
}

VERDICTS = {
    "pays": english("pays"),
    "does_not_pay": english("does not pay"),
    "cannot_tell": english("cannot tell"),
}


def _table(page: Page) -> Table:
    words, fmt = page.words, page.fmt
    carbon = any(entry.co2_kg for entry in page.findings.options)
    columns = [
        Column("option", words("Option")),
        Column("cost", words("Price"), align="decimal"),
        Column("saving", words("Saved a year"), align="right"),
        Column("back", words("Years to earn back"), align="right"),
        Column("npv", words("Worth today"), align="right"),
        Column("verdict", words("In short")),
    ]
    if carbon:
        columns.insert(5, Column("co2", words("CO₂ saved [{unit}/yr]", unit=fmt.mass_unit[0]), align="right"))
    rows = []
    for entry in page.findings.options:
        if entry.kind == "none":
            continue
        back = entry.payback_years
        cells = {
            "option": page.option(entry),
            "cost": fmt.money(entry.cost, cents=False),
            "saving": _money(page, entry.saving_per_year),
            "back": _years(page, back, entry.withheld.get("payback_years")),
            "npv": _money(page, entry.npv),
            "co2": _carbon(page, entry.co2_kg) if entry.co2_kg else "—",
            "verdict": words(VERDICTS[entry.verdict]) if entry.verdict else "—",
        }
        rows.append(Row([cells[column.key] for column in columns], "strong" if entry.chosen else "none"))
    energy = page.job.energy
    assert energy is not None  # without it there is no table
    notes = [
        words(
            "Each pair is a range: eight of ten computed cases lie in it. Worth today: savings less price, "
            "discounted at {rate} a year. In short: the whole range decides.",
            rate=fmt.percent(energy.discount_percent / 100, 1),
        ),
        words(
            "Film whose life ends within the {years} years is taken off and fitted anew at the same price; what "
            "is left of the last one's life at the end counts in its favor, what is used of its removal against it.",
            years=fmt.number(energy.years),
        ),
    ]
    if any(entry.kind == "shade" for entry in page.findings.options):
        notes.append(words("A shade is taken to last them."))
    notes += heating_left_out(page)
    return Table(
        columns,
        rows,
        caption=words(
            SAVED[heating_counted(page)],
            years=fmt.number(energy.years),
        ),
        note=" ".join(notes),
        id="worth-list",
    )


def _carbon(page: Page, spread: Spread) -> str:
    factor = page.fmt.mass_unit[1]
    return page.fmt.range(spread.p10 * factor, spread.p50 * factor, spread.p90 * factor)


def _money(page: Page, spread: Amounts | None) -> str:
    return "—" if spread is None else page.fmt.money_range(spread.p10, spread.p90)


def _years(page: Page, spread: YearsToPay | None, reason: str | None) -> str:
    words, fmt = page.words, page.fmt
    if spread is None:
        return words("never") if reason == "not_within_years" else "—"
    low = fmt.number(spread.p10)
    if spread.p90 is None:
        return words("{low} or more", low=low)
    high = fmt.number(spread.p90)
    return low if low == high else f"{low}–{high}"
