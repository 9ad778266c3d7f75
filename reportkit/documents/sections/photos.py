"""Photos of panes beside what is known of them: for the client with the sun, for the fitter with the piece."""

from __future__ import annotations

import base64
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from reportkit.documents.blocks import Block, Columns, Fact, Facts, Heading, Paragraph, Picture
from reportkit.documents.page import Page
from reportkit.documents.runs import strong
from reportkit.documents.sections.shaped import glass_size

if TYPE_CHECKING:
    from reportkit.findings.glass import PaneFound

#: Photos side by side on the fitting sheet.
_IN_A_ROW = 3


def beside_panes(page: Page, panes: Sequence[PaneFound]) -> list[Block]:
    """Return each pane that has a photo with the photo beside it, and nothing where none has.

    Parameters
    ----------
    page
        The results.
    panes
        Panes of the findings, in the order to show them.
    """
    words, fmt = page.words, page.fmt
    blocks: list[Block] = []
    for pane in panes:
        if pane.id not in page.photos:
            continue
        facts = [
            Fact(words("Room"), page.room(pane.room)),
            Fact(words("Face"), page.face(pane.face)),
            Fact(words("Glass"), glass_size(page, pane)),
            Fact(words("At the worst hour"), fmt.power(pane.peak_solar_w)),
        ]
        if pane.film:
            then = fmt.power(pane.peak_solar_filmed_w)
            facts.append(Fact(words("Then, with {film}", film=page.film(pane.film)), then))
        about: list[Block] = [Paragraph([strong(words("Pane {pane}", pane=pane.id))])]
        blocks.append(Columns([[_picture(page, pane)], [*about, Facts(facts, style="list")]], shares=(1, 1)))
    if blocks:
        blocks.insert(0, Heading(words("Photos of the panes"), level=2, id="pane-photos"))
    return blocks


def of_rooms(page: Page) -> list[Block]:
    """Return the first photos of panes side by side, each with its room and code; nothing where none is."""
    panes = [pane for pane in page.findings.panes if pane.id in page.photos][:_IN_A_ROW]
    if not panes:
        return []
    shown: list[list[Block]] = []
    for pane in panes:
        caption = page.words("{pane}, {room}", pane=pane.id, room=page.room(pane.room))
        shown.append([_picture(page, pane, caption, width=len(panes) / _IN_A_ROW)])
    return [Columns(shown)]


def for_the_fitter(page: Page) -> list[Block]:
    """Return the photos of the panes that get film, several side by side, each with its pane and note."""
    words = page.words
    filmed = {piece.pane for piece in page.findings.pieces}
    panes = [pane for pane in page.findings.panes if pane.id in filmed and pane.id in page.photos]
    notes = {pane.id: pane.note for pane in page.job.panes}
    blocks: list[Block] = []
    for start in range(0, len(panes), _IN_A_ROW):
        row = panes[start : start + _IN_A_ROW]
        shown: list[list[Block]] = []
        for pane in row:
            caption = words("{pane}, {room}", pane=pane.id, room=page.room(pane.room))
            note = " ".join(notes[pane.id].split())
            caption += f": {note}" if note else ""
            shown.append([_picture(page, pane, caption, width=len(row) / _IN_A_ROW)])
        blocks.append(Columns(shown))
    if blocks:
        blocks.insert(0, Heading(words("How the panes look"), level=2, id="pane-photos"))
    return blocks


def _picture(page: Page, pane: PaneFound, caption: str = "", width: float = 1.0) -> Picture:
    name, photo = page.photos[pane.id]
    alt = page.words(
        "Photo of pane {pane}: {room}, {face}",
        pane=pane.id,
        room=page.room(pane.room),
        face=page.face(pane.face),
    )
    data = base64.b64encode(photo.content).decode("ascii")
    kind: Any = photo.media_type
    return Picture(alt, data, kind, source=name, caption=caption, width=width)
