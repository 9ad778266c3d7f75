"""A set of panes in words: all of them, those of whole faces and rooms, the rest by their codes.

A few codes are listed. Of more, faces and rooms that are there with all their panes are named, and codes
that follow each other become a range. Before the reader has seen which pane is which, a long list would be
noise: then panes that make up no faces or rooms are counted. Not covered: sets told by what they leave out.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

from reportkit.base.translatable import codes

if TYPE_CHECKING:
    from reportkit.documents.page import Page
    from reportkit.findings.glass import PaneFound

#: As many codes are listed one by one; of more, wholes are named and rows become ranges.
FEW = 6

#: As many parts a sentence holds before the map of the panes; more are counted.
PARTS = 4


def together(page: Page, ids: Iterable[str], *, mapped: bool = True, first: bool = False) -> str:
    """Return panes as they stand in a sentence.

    Parameters
    ----------
    page
        What was found, seen by a reader.
    ids
        Ids of panes, each once or more.
    mapped
        Whether the reader knows the panes by their codes already.
    first
        Whether the sentence begins with them: a word gets a capital, a code stays as it was typed.

    Returns
    -------
    str
        ``all 140 panes``, ``all panes of Garden side``, ``N1–N30, S2``, or without a map ``57 of 140 panes``.
    """
    words, fmt = page.words, page.fmt
    panes = page.findings.panes
    wanted = set(ids)
    mine = [pane for pane in panes if pane.id in wanted]
    named = [pane.id for pane in mine]
    if len(mine) <= FEW:
        return ", ".join(named)
    rest: list[str]
    if len(mine) == len(panes):
        parts, rest = [words("all {n} panes", n=fmt.number(_count(panes)))], []
    else:
        parts, rest = _wholes(page, named)
    left = codes(rest)
    if not mapped and (len(parts) > PARTS or left.count(", ") >= FEW):
        parts = [words("{n} of {all} panes", n=fmt.number(_count(mine)), all=fmt.number(_count(panes)))]
        left = ""
    if first and parts:
        parts[0] = parts[0][:1].upper() + parts[0][1:]
    return ", ".join([*parts, left] if left else parts)


def in_rooms(page: Page, ids: Iterable[str]) -> str:
    """Return a few panes by room and code, for who has not seen the map yet; more as `together` does."""
    wanted = set(ids)
    mine = [pane for pane in page.findings.panes if pane.id in wanted]
    if len(mine) > FEW:
        return together(page, wanted, mapped=False)
    rooms: dict[str, list[str]] = {}
    for pane in mine:
        rooms.setdefault(pane.room, []).append(pane.id)
    return ", ".join(f"{page.room(room)} ({', '.join(own)})" for room, own in rooms.items())


def _count(panes: Sequence[PaneFound]) -> int:
    """Return how many panes there are, equal ones counted."""
    return sum(pane.quantity for pane in panes)


def _wholes(page: Page, ids: Sequence[str]) -> tuple[list[str], list[str]]:
    """Return faces, then rooms, of three panes or more that are there with all of them; and what is left."""
    said, rest = [], list(ids)
    faces: dict[str, list[str]] = {}
    rooms: dict[str, list[str]] = {}
    for pane in page.findings.panes:
        faces.setdefault(pane.face, []).append(pane.id)
        rooms.setdefault(pane.room, []).append(pane.id)
    for wholes, name in ((faces, page.face), (rooms, page.room)):
        for whole, own in wholes.items():
            if len(own) > 2 and set(own) <= set(rest):
                said.append(page.words("all panes of {place}", place=name(whole)))
                rest = [one for one in rest if one not in own]
    return said, rest
