"""What the report rests on: the job, the weather, the assumptions."""

from __future__ import annotations

import datetime as dt

from reportkit.report.blocks import Block, Bullets, Column, Fact, Facts, Heading, Paragraph, Section, Table
from reportkit.report.page import Page


def job(page: Page) -> Section:
    """Return the job as read, for the reasoning."""
    words, fmt = page.words, page.fmt
    panes = page.job["panes"]
    area = sum(pane["area_m2"] * pane["quantity"] for pane in page.results["panes"])
    return Section(
        "job",
        [
            Heading(page.job["title"] or page.job["id"], level=1, id="job"),
            Facts(
                [
                    Fact(words("Complaint"), page.job["complaint"]["text"]),
                    Fact(words("Panes"), fmt.number(sum(pane["quantity"] for pane in panes))),
                    Fact(words("Glass"), fmt.area(area)),
                    Fact(words("Films compared"), fmt.number(len(page.job["films"]))),
                    *measured(page),
                ],
                style="list",
            ),
        ],
    )


def measured(page: Page) -> list[Fact]:
    """Return who measured the panes and when, as far as the job says it."""
    survey = page.job["survey"]
    day = survey["measured_on"]
    said = [survey["measured_by"], page.fmt.date(dt.date.fromisoformat(day)) if day else ""]
    text = ", ".join(part for part in said if part)
    return [Fact(page.words("Measured"), text)] if text else []


def weather(page: Page) -> Section:
    """Return the weather used and what it can and cannot say."""
    words, fmt = page.words, page.fmt
    used = page.results["weather"]
    facts = [
        Fact(words("Source"), words.said(used["source"])),
        Fact(words("Place"), used["place"]),
        Fact(words("Span"), words.said(used["span"])),
        Fact(words("Clock"), used["clock"]),
    ]
    if used["annual_global_kwh_m2"] is not None:
        facts.append(Fact(words("Sun on level ground"), fmt.yearly_sun(used["annual_global_kwh_m2"])))
    blocks: list[Block] = [
        Heading(words("The weather used"), level=2, id="weather"),
        Facts(facts, style="list"),
    ]
    if used["notes"]:
        blocks.append(Bullets([words.said(note) for note in used["notes"]]))
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
    """Return every default used, with its value, mark and reason."""
    words, fmt = page.words, page.fmt
    together: dict[tuple[str, str, str, str], list[str]] = {}
    for entry in page.results["assumptions"]:
        value = entry["value"]
        if isinstance(value, (int, float)) and not isinstance(value, bool):
            text = fmt.number(value, 0 if float(value).is_integer() else 2)
            text += f"\u00a0{words.said(entry['unit'])}" if entry["unit"] not in ("", "1") else ""
        else:
            text = "" if value is None else words.said(value) if isinstance(value, str) else str(value)
        *about, field = str(entry["field"]).split(".")
        key = (field.replace("_", " "), text, entry["mark"], entry["why"])
        # the second part is an id where there is one: that a person typed
        said = [part if at == 1 else words.said(part) for at, part in enumerate(about)]
        together.setdefault(key, []).append(" ".join(said))
    rows = [
        [
            words.said(field) + (f" ({', '.join(name for name in about if name)})" if any(about) else ""),
            text,
            words.said(mark),
            words.said(why),
        ]
        for (field, text, mark, why), about in together.items()
    ]
    return Section(
        "assumptions",
        [
            Heading(words("What was assumed"), level=1, id="assumptions"),
            Table(
                [
                    Column("what", words("What")),
                    Column("value", words("Value"), align="right"),
                    Column("mark", words("Where it comes from")),
                    Column("why", words("Why")),
                ],
                rows,
                caption=words("Values used where the job gave none; each can be set in the job"),
                id="assumed",
            ),
        ],
    )
