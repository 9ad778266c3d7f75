"""How the glass looks with each film: the drawn strip, and the numbers behind it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reportkit.documents.blocks import Block, Bullets, Column, Heading, Paragraph, Row, Section, Table
from reportkit.documents.figures import views as strips
from reportkit.documents.page import Page

if TYPE_CHECKING:
    from reportkit.findings.views import ViewThrough


def views(page: Page) -> Section:
    """Return how light, how mirrored and how private the main glazing is, bare and with each film."""
    words, fmt = page.words, page.fmt
    looks = page.findings.views
    rows = []
    for pane in looks.panes:
        chosen = pane.film is not None and pane.film == page.chosen.film
        left = pane.contrast_left
        rows.append(
            Row(
                [
                    page.film(pane.film),
                    fmt.percent(pane.t_visible),
                    fmt.percent(pane.r_visible_out),
                    fmt.percent(pane.r_visible_in),
                    _ratio(page, pane),
                    "—" if left is None else fmt.percent(left.inside_night),
                    fmt.number(pane.brightness_beside_bare.outside_day, 2),
                ],
                "strong" if chosen else "none",
            )
        )
    day, night = looks.luminance_cd_m2.day, looks.luminance_cd_m2.night
    blocks: list[Block] = [
        Heading(words("How it looks"), level=1, id="looks"),
        *strips(page.findings, fmt, words),
        Table(
            [
                Column("film", words("On {glazing}", glazing=page.glazing(looks.glazing))),
                Column("light", words("Light let in"), align="right"),
                Column("out", words("Mirrored, outside"), align="right"),
                Column("in", words("Mirrored, inside"), align="right"),
                Column("day", words("Hides the room when outdoors is brighter by"), align="right"),
                Column("night", words("View out left at night"), align="right"),
                Column("beside", words("Beside a bare pane, from outside by day"), align="right"),
            ],
            rows,
            caption=words("Light, mirror and privacy of the main glazing"),
            note=words(
                "A room counts as hidden where the mirror leaves {left} of its contrast. Drawn for a day "
                "{day} times as bright outdoors as in the room and a night {night} times as bright in the room "
                "as outdoors. The last column is the filmed pane's brightness over a bare one's: far from 1, "
                "panes left bare on the same wall stand out. {mark}.",
                left=fmt.percent(looks.hidden_below),
                day=fmt.number(day.outdoors / day.indoors),
                night=fmt.number(night.indoors / night.outdoors),
                mark=words("Common practice, no source"),
            ),
            id="looks-list",
        ),
        Bullets(
            [
                words(
                    "By day film hides a room only while it is brighter outside; fitters say about three to four times."
                ),
                words(
                    "At night with lights on inside it reverses: people outside see in, and inside the glass "
                    "mirrors the room. Only a curtain or a blind hides the room then."
                ),
            ]
        ),
    ]
    if any(pane.scatters for pane in looks.panes):
        blocks.append(
            Paragraph(words("Glass or film that scatters blurs the view; shadows close to it still show."))
        )
    return Section("views", blocks)


def _ratio(page: Page, pane: ViewThrough) -> str:
    words, fmt = page.words, page.fmt
    if pane.scatters:
        return words("always blurred")
    if pane.privacy_ratio is None:
        return words("never")
    return words("{times} times", times=fmt.significant(pane.privacy_ratio, 2))
