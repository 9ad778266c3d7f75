"""Photos of panes beside what is known of them: for the client with the sun, for the fitter with the piece."""

from __future__ import annotations

import base64
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from reportkit.documents.blocks import Block, Columns, Fact, Facts, Heading, Paragraph, Picture
from reportkit.documents.figures.filmed_photo import FilmedPane, filmed_photo, placed
from reportkit.documents.page import Page
from reportkit.documents.runs import strong
from reportkit.documents.sections.shaped import glass_size
from reportkit.documents.together import together
from reportkit.findings.glass import Rated
from reportkit.job.model.corners import FOUR
from reportkit.physics.glass.look import Pane as Look
from reportkit.study.sight import scatters

if TYPE_CHECKING:
    from reportkit.base.outline import Point
    from reportkit.findings.glass import PaneFound
    from reportkit.job.model import Pane

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
    """Return the first photos of panes side by side, each beside itself with film drawn on it where that can be.

    Nothing where there is no photo.
    """
    shown: list[tuple[PaneFound, str, bytes | None]] = []
    seen: set[str] = set()
    for pane in page.findings.panes:
        if pane.id not in page.photos:
            continue
        caption = page.words("{pane}, {room}", pane=pane.id, room=page.room(pane.room))
        name, photo = page.photos[pane.id]
        drawn = with_film(page, name) if name not in seen else None
        seen.add(name)
        shown.append((pane, caption, None))
        if drawn:
            panes, film = drawn
            words = page.words(
                "{panes} with {film} by day: drawn, not photographed",
                panes=together(page, [one.id for one in panes]),
                film=" + ".join(dict.fromkeys(page.film(one.film) for one in panes)),
            )
            shown.append((pane, words, filmed_photo(photo.content, film)))
    row = shown[:_IN_A_ROW]
    pictures = [_picture(page, pane, words, len(row) / _IN_A_ROW, drawn) for pane, words, drawn in row]
    return [Columns([[picture] for picture in pictures])] if pictures else []


def with_film(page: Page, name: str) -> tuple[list[PaneFound], list[FilmedPane]] | None:
    """Return the panes of a photo that get film and whose corners are given, as found and as to be drawn."""
    surveyed = {pane.id: pane for pane in page.job.panes}
    panes: list[PaneFound] = []
    film: list[FilmedPane] = []
    for pane in page.findings.panes:
        corners = surveyed[pane.id].photo_corners
        if pane.film and corners and page.photos.get(pane.id, ("",))[0] == name:
            panes.append(pane)
            film += [
                _filmed(page, surveyed[pane.id], pane.film, corners[start : start + FOUR])
                for start in range(0, len(corners), FOUR)
            ]
    return (panes, film) if panes else None


def _filmed(page: Page, pane: Pane, film: str, corners: Sequence[Point]) -> FilmedPane:
    """Return a pane as it lies in a photo, with its look now and with film."""
    job = page.job
    glazing = next(spec for spec in job.glazings if spec.id == pane.glazing)
    coat = next(spec for spec in job.films if spec.id == film)
    glass = tuple(lite.glass for lite in glazing.lites)
    inside = pane.photo_from == "inside"
    day = page.findings.views.luminance_cd_m2.day

    def look_of(name: str | None, *tints: str) -> Look:
        every = [one for one in page.findings.glazings if isinstance(one, Rated)]
        rated = next(one for one in every if one.id == glazing.id and one.film == name)
        return Look(rated.t_visible, rated.r_visible_in if inside else rated.r_visible_out, (*glass, *tints))

    edge = list(corners)
    if outline := pane.outline:
        wide, high = float(pane.width), float(pane.height)
        seen = [(x / wide, 1 - y / high) for x, y in outline.points]
        edge = placed(corners, [(1 - x, y) for x, y in seen] if inside else seen)
    return FilmedPane(
        edge=edge,
        bare=look_of(None),
        filmed=look_of(film, coat.tint),
        beyond=day.outdoors if inside else day.indoors,
        near=day.indoors if inside else day.outdoors,
        scatters=scatters(glazing, coat),
    )


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


def _picture(
    page: Page, pane: PaneFound, caption: str = "", width: float = 1.0, drawn: bytes | None = None
) -> Picture:
    """Return the photo of a pane, or what is drawn on it."""
    name, photo = page.photos[pane.id]
    values = {"pane": pane.id, "room": page.room(pane.room), "face": page.face(pane.face)}
    if drawn is not None:
        alt = page.words("Photo of pane {pane} with film drawn on it: {room}, {face}", **values)
        data = base64.b64encode(drawn).decode("ascii")
        return Picture(alt, data, "image/jpeg", caption=caption, width=width)
    alt = page.words("Photo of pane {pane}: {room}, {face}", **values)
    data = base64.b64encode(photo.content).decode("ascii")
    kind: Any = photo.media_type
    return Picture(alt, data, kind, source=name, caption=caption, width=width)
