"""Labels to stick on the pieces as they are cut, in the order of the cutting."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from typing import TYPE_CHECKING

from reportkit.documents.blocks import Section
from reportkit.documents.labels import SHEETS, Label, Labels
from reportkit.documents.page import Page
from reportkit.job.model.singled import left_in_row
from reportkit.work.pieces import SPARE

if TYPE_CHECKING:
    from reportkit.findings.cutting import PlacedPiece, RollFound


def labels(page: Page) -> Section:
    """Return a label for every piece of the cut plan; nothing where nothing is cut."""
    plan = page.findings.cutting
    if plan is None:
        return Section("labels", [])
    which = _Which(page)
    made = [
        replace(_label(page, roll, piece, f"{number}.{index}"), which=which.of(piece))
        for number, roll in enumerate(plan.rolls, start=1)
        for index, strip in enumerate(roll.strips, start=1)
        for piece in strip.pieces
    ]
    paper = SHEETS["us-letter" if page.paper == "us-letter" else "a4"]
    return Section("labels", [Labels(made, paper, page.job.fitting.first_label)])


class _Which:
    """Tells the panes of a row apart, as decisions name them: their pieces are alike, each takes the next."""

    def __init__(self, page: Page) -> None:
        panes = page.job.panes
        self._left = {pane.id: numbers for pane in panes if (numbers := left_in_row(pane, panes))}
        self._taken: Counter[tuple[str, int]] = Counter()

    def of(self, piece: PlacedPiece) -> str:
        """Return what stands behind the pane's code on the label of its next piece."""
        key = piece.pane, piece.seam.part if piece.seam else 0
        numbers = self._left.get(piece.pane)
        if not numbers:
            return ""
        self._taken[key] += 1
        return f".{numbers[self._taken[key] - 1]}"


def _label(page: Page, roll: RollFound, piece: PlacedPiece, place: str) -> Label:
    words, fmt = page.words, page.fmt
    spare = piece.pane.endswith(SPARE)
    pane = next(one for one in page.findings.panes if one.id == piece.pane.removesuffix(SPARE))
    side = next(film.side for film in page.job.films if film.id == roll.film)
    across, along = piece.width_mm, piece.length_mm
    if piece.turned:
        across, along = along, across
    more = []
    if spare:
        more.append(words("spare piece"))
    if piece.seam:
        more.append(words("part {n} of {all} from the left", n=piece.seam.part, all=piece.seam.parts))
    if piece.turned:
        more.append(words("lies turned on the roll"))
    lines = [
        ", ".join((page.room(pane.room), page.face(pane.face))),
        words("Film on the outside face of the glass")
        if side == "outside"
        else words("Film on the room face of the glass"),
        *([", ".join(more)] if more else []),
        page.film(roll.film),
    ]
    return Label(
        code=pane.id,
        place=words("roll and strip {place}", place=place),
        size=fmt.size_mm(across, along),
        lines=lines,
        up=words("top"),
        mark=_mark(page, piece),
    )


def _mark(page: Page, piece: PlacedPiece) -> str:
    """Return what tells a label from those printed for the offer that the client has; nothing where it is the same.

    Where it is not known what those said every label has its letter: a sheet of labels is told from the other.
    """
    words, revision = page.words, page.findings.revision
    if revision.since is None or piece.changed is False:
        return ""
    if piece.changed is None:
        return words("revision {letter}", letter=revision.letter)
    return words("changed, {letter}", letter=revision.letter)
