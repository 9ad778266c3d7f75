"""Labels to stick on the pieces as they are cut, in the order of the cutting."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reportkit.documents.blocks import Section
from reportkit.documents.figures.roll_labels import SPARE
from reportkit.documents.labels import SHEETS, Label, Labels
from reportkit.documents.page import Page

if TYPE_CHECKING:
    from reportkit.findings.cutting import PlacedPiece, RollFound


def labels(page: Page) -> Section:
    """Return a label for every piece of the cut plan; nothing where nothing is cut."""
    plan = page.findings.cutting
    if plan is None:
        return Section("labels", [])
    made = [
        _label(page, roll, piece, f"{number}.{index}")
        for number, roll in enumerate(plan.rolls, start=1)
        for index, strip in enumerate(roll.strips, start=1)
        for piece in strip.pieces
    ]
    sheet = SHEETS["us-letter" if page.paper == "us-letter" else "a4"]
    return Section("labels", [Labels(made, sheet, page.job.fitting.first_label)])


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
    )
