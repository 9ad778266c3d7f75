"""Page one: the complaint, the recommendation in a sentence, what it changes, costs, and whom to ask."""

from __future__ import annotations

from reportkit.documents.blocks import Block, Bullets, Fact, Facts, Heading, Paragraph, Section
from reportkit.documents.page import Page
from reportkit.documents.runs import Text, strong
from reportkit.documents.sections import asked
from reportkit.documents.sections.choice import WHY_NOTHING
from reportkit.documents.sections.excluded import left_out, stops
from reportkit.documents.sections.sun import in_short
from reportkit.documents.sections.verdicts import terms
from reportkit.study.relief import BILLS

#: How many facts fill one, two or three rows evenly.
EVEN = (2, 3, 4, 6, 8, 9)


def summary(page: Page) -> Section:
    """Return what a reader needs to decide."""
    words = page.words
    blocks: list[Block] = [
        Heading(page.asked_label, level=1, id="asked"),
        Paragraph(page.job.complaint.text),
        Heading(recommended(page), level=1, id="recommend"),
        *_lead(page),
        *_stopped(page),
        Facts(_facts(page)),
        *[Paragraph(text) for text in (_winter(page), _rule(page)) if text],
    ]
    if not page.leaves_glass:
        asks: list[Text] = [
            [strong(words(entry.what)), " ", words("Who decides: {who}.", who=words(entry.who))]
            for entry in page.findings.cautions
            if entry.id in ("breakage", "warranty", "permission", "wired", "tempered_blade")
        ]
        blocks += [
            Heading(words("Before anything is fitted"), level=1, id="before"),
            Bullets([*terms(page, mapped=False), *asks]),
        ]
    if page.job.invented:
        blocks.append(
            Paragraph(
                words("This is an invented example: the people, places, films and prices are made up."),
                role="note",
            )
        )
    elif films := made_up(page):
        text = words(
            "Invented films, which nobody sells: {films}. Their values and prices are made up.", films=films
        )
        blocks.append(Paragraph(text, role="note"))
    return Section("summary", blocks)


def recommended(page: Page) -> str:
    """Return the heading over what is recommended; in one's own home nobody says we."""
    return page.words("What is recommended") if page.own_home else page.words("What we recommend")


def made_up(page: Page) -> str:
    """Return the names of the compared films that are marked as invented."""
    compared = {name for entry in page.findings.options for name in entry.films}
    films = page.job.films
    return ", ".join(page.film(one.id) for one in films if one.invented and one.id in compared)


def _recommendation(page: Page) -> tuple[str, list[str]]:
    """Return what goes on which panes, and for each kind asked about what that does, the first first."""
    words, chosen = page.words, page.chosen
    if page.leaves_glass:
        return words("Leave the glass as it is: {why}", why=why_nothing(page)), []
    films = [chosen.film] if chosen.film else chosen.films
    panes = words.many("{n} pane", "{n} panes", chosen.panes_filmed)
    film = " + ".join(page.film(name) for name in films)
    return words("{film} on {panes}.", film=film, panes=panes), asked.sentences(page)


def _lead(page: Page) -> list[Block]:
    """Return the recommendation with the first thing asked about, then the others."""
    what, told = _recommendation(page)
    blocks: list[Block] = [Paragraph([what, " ", told[0]] if told else what, role="lead")]
    return blocks + ([Paragraph(" ".join(told[1:]))] if told[1:] else [])


def _stopped(page: Page) -> list[Block]:
    """Return what kept film off the glass, where leaving it as it is was not asked for."""
    reasons = stops(page) if page.leaves_glass and page.findings.choice.by == "rule" else []
    return [Paragraph(page.words("What stood in the way:")), Bullets(reasons)] if reasons else []


def told_in_short(page: Page) -> list[str]:
    """Return what is recommended, at what price, what stopped film, which was left out, when the sun comes."""
    what, told = _recommendation(page)
    lines = [" ".join((what, *told))]
    if not page.leaves_glass:
        lines.append(page.price_label + ": " + page.fmt.money(page.findings.price.total))
        lines += terms(page)
    return [*lines, *stops(page), *left_out(page), in_short(page)]


def why_nothing(page: Page) -> str:
    """Return why the glass is best left as it is."""
    choice = page.findings.choice
    if choice.by == "job":
        return page.words("that is what this offer was asked for.")
    return page.words(WHY_NOTHING[choice.why_nothing])


def _facts(page: Page) -> list[Fact]:
    """Return what was asked about, the daylight and the price, and as many more as fill the rows evenly."""
    words, fmt = page.words, page.fmt
    now, then = page.bare, page.chosen

    def share(label: str, before: float | None, after: float | None) -> Fact:
        return asked.fact(page, label, fmt.percent(before), fmt.percent(after))

    facts = [*asked.facts(page), share(words("Daylight let in"), now.t_visible, then.t_visible)]
    price = [] if page.leaves_glass else [price_fact(page)]
    more = []
    if BILLS not in asked.kinds(page) and then.saving_per_year is not None:
        more += asked.bill(page)
    if "fading" not in asked.kinds(page):
        more.append(share(words("Fading light let in"), now.t_fading, then.t_fading))
    more.append(share(words("Ultraviolet let in"), now.t_uv, then.t_uv))
    short = next((n for n in range(len(more) + 1) if len(facts) + n + len(price) in EVEN), 0)
    return [*facts, *more[:short], *price]


def price_fact(page: Page) -> Fact:
    """Return the price with what its tax is called."""
    words, fmt = page.words, page.fmt
    price = page.findings.price
    if price.tax == 0:
        note = ""
    elif price.tax_included:
        note = words("{tax} included", tax=price.tax_name)
    else:
        note = words("with {tax}", tax=price.tax_name)
    return Fact(page.price_label, fmt.money(price.total), note)


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
    warm, cold = chosen.kept_out_warm_kwh, chosen.kept_out_cold_kwh
    assert warm is not None and cold is not None  # known of any whole year
    if not {asked.HEAT, BILLS} & set(asked.kinds(page)):
        return (
            words(
                "Mind the winter: most of the sun kept out in a year would have come in cold hours, when it "
                "would have helped to heat. Here film is not a matter of saving energy."
            )
            if cold > warm
            else ""
        )
    values = {
        "warm": fmt.energy(warm),
        "cold": fmt.energy(cold),
        "base": fmt.temperature(chosen.cold_below_c, 0),
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
    if page.findings.choice.by == "rule":
        return page.words("How the film was chosen: {rule}", rule=page.words(page.findings.choice.rule))
    return page.words("The film was named in the job, not chosen by the program.")
