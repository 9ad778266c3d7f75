"""What was decided with the client: the decision in force, its day and its reasons."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reportkit.documents.blocks import Block, Bullets, Fact, Facts, Heading, Paragraph, Section
from reportkit.documents.page import Page
from reportkit.documents.runs import strong
from reportkit.job.model import BARE
from reportkit.job.model.decided import lapsed

if TYPE_CHECKING:
    from reportkit.job.model import Choice, Decision


def decided(page: Page) -> Section:
    """Return the newest decision of the job's log; nothing where there is none."""
    log = page.job.decisions
    if not log:
        return Section("decided", [])
    words, fmt = page.words, page.fmt
    newest = log[-1]
    day = fmt.date(newest.date)
    said = (
        words("On {date} {who} decided:", date=day, who=newest.who)
        if newest.who
        else words("On {date} it was decided:", date=day)
    )
    blocks: list[Block] = [
        Heading(words("What was decided"), level=1, id="decided"),
        Paragraph(said),
        Facts([*_films(page, newest.films), *_others(page, newest)], style="list"),
    ]
    out = [
        words("{pane}: {why}", pane=pane, why=reason or words("no reason was given"))
        for pane, reason in newest.panes_out.items()
    ]
    if out:
        blocks += [Paragraph(words("Left without film, and why:")), Bullets(out)]
    gone = lapsed(page.job)
    if gone:
        told = words(
            "No longer in the survey, so what was decided of it does not apply: {panes}.",
            panes=", ".join(gone),
        )
        blocks.append(Paragraph([strong(told)]))
    if len(log) > 1:
        earlier = words.many(
            "This takes the place of {n} earlier decision, which stays in the job's log.",
            "This takes the place of {n} earlier decisions, which stay in the job's log.",
            len(log) - 1,
        )
        blocks.append(Paragraph(earlier, role="note"))
    return Section("decided", blocks)


def _films(page: Page, films: Choice) -> list[Fact]:
    """Return each film decided on and where it goes; the nearest word stands last."""

    def name(film: str) -> str:
        return page.film(None if film == BARE else film)

    where: dict[str, list[str]] = {}
    if films.job:
        where.setdefault(name(films.job), []).append(page.words("all panes"))
    for face, film in films.faces.items():
        where.setdefault(name(film), []).append(page.face(face))
    for pane, film in films.panes.items():
        where.setdefault(name(film), []).append(page.words("pane {pane}", pane=pane))
    return [Fact(film[:1].upper() + film[1:], ", ".join(places)) for film, places in where.items()]


def _others(page: Page, newest: Decision) -> list[Fact]:
    words, fmt = page.words, page.fmt
    facts = []
    if newest.overrides:
        facts.append(Fact(words("Why not what is recommended"), newest.overrides))
    for room, celsius in newest.set_points.items():
        facts.append(
            Fact(words("Cooling in {room}, set to", room=page.room(room)), fmt.temperature(celsius, 1))
        )
    if newest.electricity_rate is not None:
        rate = f"{fmt.currency}\u00a0{fmt.significant(newest.electricity_rate, 4)}"
        facts.append(Fact(words("Electricity, one rate"), words("{rate} for a kWh", rate=rate)))
    if newest.budget is not None:
        facts.append(Fact(words("Budget"), fmt.money(newest.budget)))
    if newest.note:
        facts.append(Fact(words("Note"), newest.note))
    return facts
