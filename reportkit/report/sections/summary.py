"""Page one: the complaint, the recommendation in a sentence, what it changes, costs, and whom to ask."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal

from reportkit.report.blocks import Block, Bullets, Fact, Facts, Heading, Paragraph, Section, Text
from reportkit.report.names import REASONS
from reportkit.report.page import Page
from reportkit.report.runs import strong
from reportkit.report.sections.choice import WHY_NOTHING
from reportkit.report.sections.excluded import stops
from reportkit.report.sections.verdicts import terms
from reportkit.report.sections.worth import verdict

#: A range wider than this part of its middle is shown as a range (common practice, no source).
WIDE = 0.5


def summary(page: Page) -> Section:
    """Return what a reader needs to decide."""
    words = page.words
    blocks: list[Block] = [
        Heading(words("What you asked"), level=1, id="asked"),
        Paragraph(page.job["complaint"]["text"]),
        Heading(words("What we recommend"), level=1, id="recommend"),
        Paragraph(_recommendation(page), role="lead"),
        *_stopped(page),
        Facts(_facts(page)),
        *[Paragraph(text) for text in (_pays(page), _winter(page), _rule(page)) if text],
    ]
    if not page.leaves_glass:
        asks: list[Text] = [
            [strong(words(entry["what"])), " ", words("Who decides: {who}.", who=words(entry["who"]))]
            for entry in page.results["cautions"]
            if entry["id"] in ("breakage", "warranty", "permission", "wired", "tempered_blade")
        ]
        blocks += [
            Heading(words("Before anything is fitted"), level=1, id="before"),
            Bullets([*terms(page, mapped=False), *asks]),
        ]
    if page.job["invented"]:
        blocks.append(
            Paragraph(
                words("This is an invented example: the people, places, films and prices are made up."),
                role="note",
            )
        )
    elif made_up := _made_up(page):
        text = words(
            "Invented films, which nobody sells: {films}. Their values and prices are made up.", films=made_up
        )
        blocks.append(Paragraph(text, role="note"))
    return Section("summary", blocks)


def _made_up(page: Page) -> str:
    """Return the names of the compared films that are marked as invented."""
    compared = {name for entry in page.results["options"] for name in entry["films"]}
    films = page.job["films"]
    return ", ".join(page.film(one["id"]) for one in films if one["invented"] and one["id"] in compared)


def _recommendation(page: Page) -> str:
    words, fmt = page.words, page.fmt
    chosen, nothing = page.chosen, page.nothing
    if page.leaves_glass:
        return words("Leave the glass as it is: {why}", why=_why_nothing(page))
    film = (
        page.film(chosen["film"])
        if chosen["film"]
        else " + ".join(page.film(name) for name in chosen["films"])
    )
    panes = words.many("{n} pane", "{n} panes", chosen["panes_filmed"])
    before, after = nothing["peak_solar_w"], chosen["peak_solar_w"]
    when = page.when(page.results["bad_day"]["time"])
    if before - after < 0.005 * max(before, 1):
        return words(
            "{film} on {panes} changes the sun's heat at the worst hour ({when}) by less than one part in 200.",
            film=film, panes=panes, when=when,
        )  # fmt: skip
    return words(
        "{film} on {panes}: at the worst hour ({when}) the sun's heat through the glass falls from {before} "
        "to {after}, {share} less.",
        film=film,
        panes=panes,
        when=when,
        before=fmt.power(before, 3),
        after=fmt.power(after, 3),
        share=page.less(before, after),
    )


def _stopped(page: Page) -> list[Block]:
    """Return what kept film off the glass, where leaving it as it is was not asked for."""
    found = stops(page) if page.leaves_glass and page.results["choice"]["by"] == "rule" else []
    return [Paragraph(page.words("What stood in the way:")), Bullets(found)] if found else []


def told_in_short(page: Page) -> list[str]:
    """Return what is recommended, at what price, and what stopped film, in a few lines."""
    words = page.words
    lines = [_recommendation(page)]
    if not page.leaves_glass:
        lines.append(words("Price, fitted") + ": " + page.fmt.money(page.results["price"]["total"]))
        lines += terms(page)
    return lines + stops(page)


def _why_nothing(page: Page) -> str:
    choice = page.results["choice"]
    if choice["by"] == "job":
        return page.words("that is what this offer was asked for.")
    return page.words(WHY_NOTHING[choice["why_nothing"]])


def _facts(page: Page) -> list[Fact]:
    words, fmt = page.words, page.fmt
    chosen, nothing = page.chosen, page.nothing

    def now(value: str) -> str:
        return "" if page.leaves_glass else words("now {value}", value=value)

    facts = [
        Fact(
            words("Sun's heat at the worst hour"),
            fmt.power(chosen["peak_solar_w"], 3),
            now(fmt.power(nothing["peak_solar_w"], 3)),
        )
    ]
    if chosen["hot_hours"] is not None:
        before, after = nothing["hot_hours"], chosen["hot_hours"]
        facts.append(
            Fact(
                words("Hours too hot in a year"),
                _about(page, after),
                now(_about(page, before)),
            )
        )
    facts += [
        Fact(
            words("Daylight let in"), fmt.percent(chosen["t_visible"]), now(fmt.percent(nothing["t_visible"]))
        ),
        Fact(
            words("Fading light let in"),
            fmt.percent(chosen["t_fading"]),
            now(fmt.percent(nothing["t_fading"])),
        ),
    ]
    if not page.leaves_glass:
        facts += [_bill(page), _price(page)]
    return facts


def _about(page: Page, spread: Mapping[str, float]) -> str:
    """Return a number of hours to two digits, or its range where that is wide."""
    hours, low, high = spread["p50"], spread["p10"], spread["p90"]
    if high >= 1 and high - low > WIDE * hours:
        fmt = page.fmt
        return page.words("{low} to {high}", low=fmt.significant(low), high=fmt.significant(high))
    return page.words("hardly any") if hours < 1 else page.words("about {n}", n=page.fmt.significant(hours))


def _bill(page: Page) -> Fact:
    """Return what the energy bills do in a year: saved, added, or cannot be told."""
    words, fmt = page.words, page.fmt
    saving = page.chosen["saving_per_year"]
    label = words("Energy bills, a year")
    if saving is None:
        return Fact(label, words("not given"), words(REASONS[page.chosen["withheld"]["saving_per_year"]]))
    low, high = float(saving["p10"]), float(saving["p90"])
    if low > 0:
        return Fact(label, fmt.money_range(low, high), words("saved"))
    if high < 0:
        return Fact(label, fmt.money_range(-high, -low), words("more to pay, heating added"))
    return Fact(label, words("cannot tell"), fmt.money_range(low, high))


def _price(page: Page) -> Fact:
    words, fmt = page.words, page.fmt
    price = page.results["price"]
    if Decimal(price["tax"]) == 0:
        note = ""
    elif price["tax_included"]:
        note = words("{tax} included", tax=price["tax_name"])
    else:
        note = words("with {tax}", tax=price["tax_name"])
    return Fact(words("Price, fitted"), fmt.money(price["total"]), note)


def _pays(page: Page) -> str:
    """Say whether it pays, or why that is not told."""
    if page.leaves_glass or page.chosen["saving_per_year"] is None:
        return ""
    return verdict(page, page.chosen)


def _winter(page: Page) -> str:
    """Say what the year brings: sun kept out when it is warm, and when it is cold."""
    words, fmt = page.words, page.fmt
    chosen = page.chosen
    if page.leaves_glass:
        return ""
    if not page.whole_year:
        return words(
            "No typical year of weather was used, so no yearly figure is given: clear days show the sun's "
            "peaks, not a year's energy."
        )
    warm, cold = chosen["kept_out_warm_kwh"], chosen["kept_out_cold_kwh"]
    values = {
        "warm": fmt.energy(warm),
        "cold": fmt.energy(cold),
        "base": fmt.temperature(chosen["cold_below_c"], 0),
    }
    if cold > warm:
        return words(
            "Mind the winter: of the sun kept out in a year, {cold} falls in hours colder than {base} outside, "
            "when it would have helped to heat, and only {warm} in warmer hours. Here film is a matter of "
            "comfort, glare or fading, not of saving energy.",
            **values,
        )
    return words(
        "Of the sun kept out in a year, {warm} falls in hours of {base} and more outside; {cold} falls in colder "
        "hours, when it would have helped to heat.",
        **values,
    )


def _rule(page: Page) -> str:
    if page.results["choice"]["by"] == "rule":
        return page.words("How the film was chosen: {rule}", rule=page.words(page.results["choice"]["rule"]))
    return page.words("The film was named in the job, not chosen by the program.")
