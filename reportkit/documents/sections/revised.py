"""What has changed since the offer that the client has: in the client's words, pane by pane, and for the fitter."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from reportkit.base.translatable import codes, english
from reportkit.documents.blocks import Block, Bullets, Column, Heading, Paragraph, Section, Table
from reportkit.documents.page import Page
from reportkit.documents.runs import Text, strong
from reportkit.documents.sections import plain
from reportkit.documents.sections.shaped import box_and_shape
from reportkit.findings.findings import StoredFindings

if TYPE_CHECKING:
    from reportkit.findings.revision import PaneBefore, PaneChange, RevisionFound, SentFound

#: As many rooms are named in a sentence; of more there is their number.
ROOMS = 3

WHY_NOT = {
    "not_kept": english("What it said is not kept here, so what has changed is not listed."),
    "earlier_version": english(
        "It was made by an earlier version of the program and is not compared, so what has changed is not listed."
    ),
}


def revised(page: Page) -> Section:
    """Return in the client's words what has changed; nothing where nothing was sent, or nothing has changed."""
    words, revision = page.words, page.findings.revision
    since = revision.since
    if since is None or not (revision.changed or revision.not_compared):
        return Section("revised", [])
    blocks: list[Block] = [
        Heading(words("What has changed"), level=1, id="revised"),
        Paragraph(_in_place_of(page, since)),
    ]
    if revision.not_compared:
        return Section("revised", [*blocks, Paragraph(words(WHY_NOT[revision.not_compared]))])
    told = [*_price(page, revision), *_panes(page, revision), *_results(page, revision)]
    if revision.ways:
        told.append(words("The other ways beside it, or their prices, are not those of before."))
    if revision.terms:
        told.append(words("The terms, or the day until which they hold, are not those of before."))
    return Section("revised", [*blocks, Bullets(told)])


def _in_place_of(page: Page, since: SentFound) -> str:
    words, day = page.words, page.fmt.date(since.date)
    if page.own_home:
        return words(
            "This takes the place of the plan of {date}, revision {letter}.", date=day, letter=since.letter
        )
    return words(
        "This takes the place of our offer of {date}, revision {letter}.", date=day, letter=since.letter
    )


def _price(page: Page, revision: RevisionFound) -> list[Text]:
    words, fmt, before = page.words, page.fmt, revision.before
    assert before is not None  # it was compared
    now = fmt.money(page.findings.price.total)
    if not revision.price:
        return [words("{figure}: {now}, as before.", figure=page.price_label, now=now)]
    was = fmt.money(before.total)
    if before.currency != page.findings.price.currency:
        was = f"{before.currency}\u00a0{fmt.number(before.total, 2)}"
    return [words("{figure}: {now} instead of {was}.", figure=page.price_label, now=now, was=was)]


def _panes(page: Page, revision: RevisionFound) -> list[Text]:
    """Return a sentence for each thing that happened to panes, by rooms: the reader has seen no codes yet."""
    words = page.words
    told: list[Text] = []
    films: dict[tuple[str, str], list[PaneChange]] = {}
    for change in revision.panes:
        if "film" in change.kinds and change.before is not None:
            pair = (page.film(change.film), change.before.film or page.film(None))
            films.setdefault(pair, []).append(change)
    for (now, was), changes in films.items():
        told.append(
            words.many(
                "{n} pane, {rooms}: {now} instead of {was}.",
                "{n} panes, {rooms}: {now} instead of {was}.",
                _count(changes),
                rooms=_rooms(page, changes),
                now=now,
                was=was,
            )
        )
    for kind in SENTENCES:
        if changes := [change for change in revision.panes if kind in change.kinds]:
            count = _count(changes)
            n, rooms = page.fmt.number(count), _rooms(page, changes)
            told.append(words(SENTENCES[kind][count > 1], n=n, rooms=rooms))
    return told


#: What happened to panes otherwise, of one and of several.
SENTENCES = {
    "added": (english("{n} pane more, {rooms}."), english("{n} panes more, {rooms}.")),
    "dropped": (
        english("{n} pane is no longer part of it, {rooms}."),
        english("{n} panes are no longer part of it, {rooms}."),
    ),
    "size": (
        english("{n} pane has another size than before, {rooms}."),
        english("{n} panes have other sizes than before, {rooms}."),
    ),
    "glass": (
        english("{n} pane has other glass than was taken before, {rooms}."),
        english("{n} panes have other glass than was taken before, {rooms}."),
    ),
}


def _count(changes: Iterable[PaneChange]) -> int:
    return sum(change.count for change in changes)


def _rooms(page: Page, changes: Iterable[PaneChange]) -> str:
    """Return where panes are, room by room."""
    rooms = list(dict.fromkeys(_room(page, change) for change in changes))
    if len(rooms) > ROOMS:
        return page.words("in {n} rooms", n=page.fmt.number(len(rooms)))
    return ", ".join(rooms)


def _room(page: Page, change: PaneChange) -> str:
    gone = change.before if "dropped" in change.kinds else None
    return gone.room if gone else page.room(change.room)


def _results(page: Page, revision: RevisionFound) -> list[Text]:
    """Return the figures of what was asked about that are printed otherwise than they were."""
    before = revision.before
    if before is None or not before.options:
        return []
    stored = StoredFindings(page.job, {"options": [one.model_dump() for one in before.options]})
    was, now = (_figures(one, before.kinds) for one in (Page(stored), page))
    return [
        page.words("{figure}: {now} instead of {was}.", figure=label, now=value, was=was[label])
        for label, value in now.items()
        if was.get(label, value) != value
    ]


def _figures(page: Page, kinds: Iterable[str]) -> dict[str, str]:
    """Return the figures of what is offered, by their labels."""
    facts = (fact for kind in kinds for fact in plain.FIGURES[kind](page, page.chosen))
    return {fact.label: fact.value for fact in facts}


def changes(page: Page) -> Section:
    """Return what changed pane by pane, by code; nothing where no pane did."""
    words, revision = page.words, page.findings.revision
    since = revision.since
    if since is None or not revision.panes:
        return Section("changes", [])
    rows: list[list[Text]] = []
    for change in revision.panes:
        now = [] if "dropped" in change.kinds else _as_now(page, change)
        was = [] if change.before is None else _as_was(page, change, change.before)
        rows.append(
            [strong(codes(change.panes)), _room(page, change), "; ".join(was) or "—", "; ".join(now) or "—"]
        )
    return Section(
        "changes",
        [
            Heading(words("What has changed, pane by pane"), level=1, id="changes"),
            Table(
                [
                    Column("pane", words("Pane")),
                    Column("room", words("Room")),
                    Column("was", words("As it was"), width=2.0),
                    Column("now", words("As it is now"), width=2.0),
                ],
                rows,
                caption=words(
                    "Since revision {letter} of {date}", letter=since.letter, date=page.fmt.date(since.date)
                ),
                id="change-list",
            ),
        ],
    )


def _as_was(page: Page, change: PaneChange, before: PaneBefore) -> list[str]:
    texts = {
        "size": box_and_shape(page, before.width_mm, before.height_mm, before.shape),
        "glass": before.glazing,
        "film": before.film or page.film(None),
    }
    return [text for kind, text in texts.items() if kind in change.kinds or "dropped" in change.kinds]


def _as_now(page: Page, change: PaneChange) -> list[str]:
    own = [pane for pane in page.findings.panes if _stands_for(page, pane.id, change)]
    texts = {
        "size": "; ".join(
            dict.fromkeys(box_and_shape(page, pane.width_mm, pane.height_mm, pane.shape) for pane in own)
        ),
        "glass": ", ".join(dict.fromkeys(_glass(page, pane.glazing, change) for pane in own)),
        "film": page.film(change.film),
    }
    return [text for kind, text in texts.items() if kind in change.kinds or "added" in change.kinds]


def _glass(page: Page, glazing: str, change: PaneChange) -> str:
    """Return the name of a pane's glass; that it is described anew where it is called as it was."""
    name = page.glazing(glazing)
    same = change.before is not None and change.before.glazing == name
    return page.words("{glass}, described anew", glass=name) if same else name


def _stands_for(page: Page, pane: str, change: PaneChange) -> bool:
    """Return whether a change is of a pane of the results: by its name, its row's, or one of the row it is."""
    if pane in change.panes or _row(pane) in change.panes:
        return True
    own = {one.id for one in page.findings.panes}
    return any(_row(name) == pane and name not in own for name in change.panes)


def _row(name: str) -> str:
    """Return the row of a pane's name such as L1.2."""
    return name.rpartition(".")[0]


def marks(page: Page, pane: str) -> list[str]:
    """Return what the fitter is to know of a pane's change: that it is new, its old size, glass and film."""
    words = page.words
    told: list[str] = []
    for change in page.findings.revision.panes:
        if "dropped" in change.kinds or not _stands_for(page, pane, change):
            continue
        before = change.before
        said = [words("new")] if before is None else []
        if before is not None and "size" in change.kinds:
            size = box_and_shape(page, before.width_mm, before.height_mm, before.shape)
            said.append(words("glass was {size}", size=size))
        if before is not None and "glass" in change.kinds:
            now = next(one.glazing for one in page.findings.panes if one.id == pane)
            same = page.glazing(now) == before.glazing
            said.append(
                words("glass described anew") if same else words("glass was {glass}", glass=before.glazing)
            )
        if before is not None and "film" in change.kinds:
            said.append(words("film was {film}", film=before.film or page.film(None)))
        of_row = pane in change.panes or _row(pane) in change.panes
        told.append(", ".join(said) if of_row else f"{codes(change.panes)}: {', '.join(said)}")
    return told


def for_the_fitter(page: Page) -> list[Block]:
    """Return above the list of panes what no longer stands in it, and that changed panes are marked."""
    words, revision = page.words, page.findings.revision
    since = revision.since
    if since is None or not (revision.changed or revision.not_compared):
        return []
    head = words(
        "Changed since revision {letter} of {date}:", letter=since.letter, date=page.fmt.date(since.date)
    )
    if revision.not_compared:
        return [Paragraph([strong(head), " ", words(WHY_NOT[revision.not_compared])])]
    told = []
    if dropped := [name for one in revision.panes if "dropped" in one.kinds for name in one.panes]:
        told.append(words("No longer in the job: {panes}.", panes=codes(dropped)))
    bare = [name for one in revision.panes if "film" in one.kinds and one.film is None for name in one.panes]
    if bare:
        told.append(words("No film any more: {panes}.", panes=codes(bare)))
    if any(one.film and "dropped" not in one.kinds for one in revision.panes):
        told.append(words("Panes that changed are marked under Mind: cut nothing by an older sheet."))
    if not told:
        told.append(words("No pane and no film."))
    return [Paragraph([strong(head), " ", " ".join(told)])]
