"""What is promised and what is not, the cautions that concern this client, the check, the terms, one acceptance."""

from __future__ import annotations

from collections.abc import Sequence

from reportkit.documents.blocks import (
    Block,
    Bullets,
    Columns,
    Fact,
    Facts,
    Group,
    Heading,
    Paragraph,
    Section,
    Signature,
    Steps,
)
from reportkit.documents.page import Page
from reportkit.documents.sections.answer import ASKED
from reportkit.documents.together import together

#: Cautions for whoever does the work; the client reads them in the reasons and numbers.
FITTERS = (
    "ladder",
    "tower",
    "two_people",
    "wet_floor",
    "cold_glass",
    "licence",
    "tempered_blade",
    "collector",
    "wired",
)


def promises(page: Page) -> Section:
    """Return what is promised and what is not, what to mind, and how the work will be checked."""
    words = page.words
    if page.leaves_glass:
        return Section("promises", [])
    never = [
        words("An exact number of degrees: the room's temperature depends on more than its glass."),
        words("An end to fading: film slows it, nothing stops it."),
        words("Privacy at night: with lights on inside, the view reverses."),
        words("Security or safety glazing: only tested and listed combinations count."),
        words("That glass will not crack: see what to ask before fitting."),
    ]
    refused = [Heading(words("What is not promised"), level=1, id="not-promised"), Bullets(never)]
    quote = page.job.quote
    blocks: list[Block] = [*refused]
    if quote is not None:
        promised = [
            Heading(words("What is promised"), level=1, id="promised"),
            Bullets(_kept(page, quote.warranty)),
        ]
        blocks = [Columns([promised, refused])]
    checked: list[Block] = [
        Heading(words("How it will be checked"), level=1, id="check"),
        Bullets(_check(page)),
    ]
    mind = _mind(page)
    if mind:
        heeded: list[Block] = [Heading(words("What to mind"), level=1, id="mind"), Bullets(mind)]
        blocks.append(Columns([heeded, checked]))
    else:
        blocks += checked
    return Section("promises", blocks)


def _kept(page: Page, warranty: Sequence[str]) -> list[str]:
    """Return what the offer promises, the warranty as typed."""
    words = page.words
    kept = [
        words("The films named here, on the panes named here, at the price you tick."),
        words("Work that passes the check below."),
        *warranty,
    ]
    return kept if warranty else [*kept, words("No warranty is stated here: ask for one in writing.")]


def _mind(page: Page) -> list[str]:
    """Return the cautions that concern the client and are not asked of anybody on page one."""
    words = page.words
    filmed = {pane.id for pane in page.findings.panes if pane.film}
    sentences = []
    for entry in page.findings.cautions:
        if entry.id in ASKED or (entry.id in FITTERS and not page.own_home):
            continue
        about = ""
        if entry.panes and set(entry.panes) != filmed:
            about = " " + words("Panes: {panes}.", panes=together(page, entry.panes))
        sentences.append(words(entry.what) + about)
    return sentences


def _check(page: Page) -> list[str]:
    words = page.words
    return [
        words(
            "Once the film has cleared, look at each pane square on from {distance} in daylight without direct "
            "sun; a border of {border} and the haze of drying do not count.",
            **page.fmt.inspection,
        ),
        words(
            "To see whether it worked, read a light meter or solar meter through a filmed and a bare pane in "
            "the same minute: no weather has to be corrected for."
        ),
        words("Bills alone often cannot tell: the weather hides a saving of a few percent."),
    ]


def acceptance(page: Page) -> Section:
    """Return the terms and the one line to sign; nothing where nothing is offered."""
    words, fmt, job = page.words, page.fmt, page.job
    quote, business, made = job.quote, job.business, page.findings.price
    if page.leaves_glass or quote is None or business is None:
        return Section("acceptance", [])
    several = len(page.findings.ways) > 1
    letter = words("revision {letter}", letter=page.findings.revision.letter)
    facts = [Fact(words("Offer"), f"{quote.number}, {letter}, {fmt.date(quote.date)}")]
    if quote.valid_until:
        facts.append(Fact(words("Valid until"), fmt.date(quote.valid_until)))
    if made.deposit and several:
        share = fmt.percent(quote.deposit_percent / 100)
        facts.append(
            Fact(words("Deposit"), words("{share} of the price ticked", share=share), words("on acceptance"))
        )
    elif made.deposit:
        facts.append(Fact(words("Deposit"), fmt.money(made.deposit), words("on acceptance")))
        facts.append(Fact(words("Balance"), fmt.money(made.balance), words("on completion")))
    said = (
        words(
            "I accept the way ticked above, with its price and these terms, and have read what is not promised "
            "and whom to ask before fitting."
        )
        if several
        else words(
            "I accept this offer with its terms and have read what is not promised and what to ask before fitting."
        )
    )
    lines = [business.name, *business.address, business.contact]
    if business.tax_number:
        lines.append(words("Tax number {number}", number=business.tax_number))
    offered = Facts(facts, style="list")
    return Section(
        "acceptance",
        [
            Heading(words("Terms"), level=1, id="terms"),
            Columns([[offered], [Bullets(quote.terms)]]) if quote.terms else offered,
            Group(
                [
                    Heading(words("Acceptance"), level=1, id="acceptance"),
                    Paragraph(said),
                    Signature(
                        [
                            words("{client}, date", client=job.client.name),
                            words("For {business}, date", business=business.name),
                        ]
                    ),
                    Paragraph(" · ".join(line for line in lines if line), role="note"),
                ]
            ),
        ],
    )


#: Steps of a day up to which they stay on one page.
_ON_A_PAGE = 16


def day(page: Page) -> Section:
    """Return a day's order of work for people who fit their own windows; nothing where a business does it."""
    words, fmt, plan = page.words, page.fmt, page.findings.schedule
    if not page.own_home or plan is None:
        return Section("day", [])
    rooms = {pane.id: page.room(pane.room) for pane in page.findings.panes}
    labour = page.findings.labour
    each = {line.pane: line for line in labour.panes}
    steps = [
        words(
            "Cover the floor and sockets, mix, lay out paper and blades: about {minutes}.",
            minutes=fmt.duration_minutes(labour.set_up_min),
        )
    ]
    several = len(plan.days) > 1
    turns = [
        (
            slot.pane,
            slot.count,
            page.when(slot.start) if several else fmt.clock(slot.start),
            (slot.end - slot.start).total_seconds() / 60,
        )
        for slot in plan.slots
    ] or [
        (piece.pane, piece.quantity, "", each[piece.pane].each_min * piece.quantity)
        for piece in page.findings.pieces
    ]
    for pane, count, clock, minutes in turns:
        step = words(
            "{pane}, {room}: about {minutes}.",
            pane=f"{pane} ×{fmt.number(count)}" if count > 1 else pane,
            room=rooms[pane],
            minutes=fmt.duration_minutes(minutes),
        )
        steps.append(f"{clock}: {step}" if clock else step)
    steps.append(
        words("Then leave the film alone for {days} days.", days=fmt.number(plan.first_cleaning_days))
    )
    blocks: list[Block] = [
        Heading(words("The order of the work"), level=1, id="day"),
        Paragraph(
            words(
                "In all {low} to {high} for {n}. Cut sizes, drawing and kit are on the fitting sheet.",
                low=fmt.duration_minutes(labour.elapsed_min.low),
                high=fmt.duration_minutes(labour.elapsed_min.high),
                n=words.many("{n} person", "{n} people", labour.crew),
            )
        ),
        Steps(steps),
    ]
    return Section("day", [Group(blocks)] if len(steps) <= _ON_A_PAGE else blocks)
