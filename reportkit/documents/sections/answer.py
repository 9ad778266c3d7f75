"""Page one of the proposal: what was asked, the answer in the client's measure, what it costs, whom to ask."""

from __future__ import annotations

from reportkit.base.translatable import english
from reportkit.documents.blocks import Block, Bullets, Fact, Facts, Heading, Paragraph, Section
from reportkit.documents.page import Page
from reportkit.documents.runs import Text, strong
from reportkit.documents.sections import plain
from reportkit.documents.sections.excluded import stops
from reportkit.documents.sections.summary import made_up, price_fact, why_nothing
from reportkit.documents.sections.verdicts import refusals
from reportkit.documents.together import in_rooms
from reportkit.job.reading.defaults import trees_left_out

#: Whom a letter goes to, in plain words, by who decides.
DECIDERS = {
    "the film maker's glass-compatibility chart": english("The maker of the film"),
    "the glass or window maker": english("The maker of the glass or windows"),
    "a licensed glazier or engineer": english("A licensed glazier"),
    "the building official": english("The building official"),
}

#: Cautions that end in a question to somebody before anything is fitted, in the order they are asked.
ASKED = (
    "permission", "heritage", "warranty", "alarm", "escape", "safety_glazing", "lead_paint", "asbestos", "insurer",
)  # fmt: skip


def answer(page: Page) -> Section:
    """Return what a reader who stops here needs to decide."""
    words = page.words
    blocks: list[Block] = [
        Heading(page.asked_label, level=1, id="asked"),
        Paragraph(page.job.complaint.text),
        Heading(words("The answer") if page.own_home else words("Our answer"), level=1, id="answer"),
        *_lead(page),
    ]
    if not page.leaves_glass:
        blocks += [
            Facts([*plain.figures(page, page.chosen), _daylight(page), price_fact(page)]),
            *[
                Paragraph(text, role="note")
                for text in (plain.worst_hour(page), plain.no_saving(page))
                if text
            ],
            *(Paragraph(words.said(sentence)) for sentence in trees_left_out(page.job)),
            *([Paragraph(_others(page))] if len(page.findings.ways) > 1 else []),
            Heading(words("Whom to ask before anything is fitted"), level=1, id="before"),
            Bullets(_asks(page)),
        ]
    if note := _invented(page):
        blocks.append(Paragraph(note, role="note"))
    return Section("answer", blocks)


def _lead(page: Page) -> list[Block]:
    """Return what goes where and what that does to the first thing asked about, then to the others."""
    words, chosen = page.words, page.chosen
    if page.leaves_glass:
        why = words("Leave the glass as it is: {why}", why=why_nothing(page))
        more: list[Block] = []
        if page.findings.choice.by == "rule" and stops(page):
            more.append(
                Paragraph(
                    words("Which window cannot have which film, and why, is told in the reasons and numbers.")
                )
            )
        return [Paragraph(why, role="lead"), *more]
    film = " + ".join(page.film(name) for name in chosen.films)
    panes = words.many("{n} pane", "{n} panes", chosen.panes_filmed)
    first, *others = plain.sentences(page)
    what = words("{film} on {panes}.", film=film, panes=panes)
    blocks: list[Block] = [Paragraph([what, " ", first], role="lead")]
    return [*blocks, Paragraph(" ".join(others))] if others else blocks


def _daylight(page: Page) -> Fact:
    words, percent = page.words, page.fmt.percent
    now = words("now {value}", value=percent(page.bare.t_visible))
    return Fact(words("Daylight let in"), percent(page.chosen.t_visible), now)


def _others(page: Page) -> str:
    """Return that there are other ways, and between which prices they lie."""
    words, fmt = page.words, page.fmt
    prices = [way.total for way in page.findings.ways if not way.offered and way.total is not None]
    if not prices:
        return words("Other ways stand beside it further on, each to be ticked.")
    low, high = min(prices), max(prices)
    if low == high:
        return words(
            "There is another way, for {price}: it stands beside this one further on.", price=fmt.money(low)
        )
    return words(
        "There are other ways, from {low} to {high}: they stand beside this one further on.",
        low=fmt.money(low),
        high=fmt.money(high),
    )


def _asks(page: Page) -> list[Text]:
    """Return whom to ask what: those with a letter first."""
    words = page.words
    quantity = {pane.id: pane.quantity for pane in page.findings.panes}
    waiting: dict[str, set[str]] = {}
    for letter in page.findings.letters:
        waiting.setdefault(letter.who, set()).update(entry.pane for entry in letter.panes)
    asks: list[Text] = []
    for who, panes in waiting.items():
        count = sum(quantity[pane] for pane in panes)
        many = words.many(
            "{n} pane waits for a yes in writing. The letter is ready.",
            "{n} panes wait for a yes in writing. The letter is ready.",
            count,
        )
        asks.append([strong(words(DECIDERS[who])), ": ", many])
    cautions = {entry.id: entry for entry in page.findings.cautions}
    for name in ASKED:
        if name in cautions:
            entry = cautions[name]
            asks.append([strong(words(entry.what)), " ", words("Who decides: {who}.", who=words(entry.who))])
    asks += refusals(page, in_rooms)
    return asks or [words("Nobody that we know of; the maker's instructions come first all the same.")]


def _invented(page: Page) -> str:
    """Return that people or films are made up, where they are."""
    words = page.words
    if page.job.invented:
        return words("This is an invented example: the people, places, films and prices are made up.")
    films = made_up(page)
    if not films:
        return ""
    return words(
        "Invented films, which nobody sells: {films}. Their values and prices are made up.", films=films
    )
