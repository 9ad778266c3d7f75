"""Where the sun comes in, and when."""

from __future__ import annotations

from collections.abc import Sequence

from reportkit.documents.blocks import Block, Bullets, Column, Heading, Paragraph, Section, Table
from reportkit.documents.figures import bad_day as bad_day_figure
from reportkit.documents.figures import sun_hours
from reportkit.documents.page import Page

#: A face's sun changed by less than this by mending the weather is not told (common practice, no source) [1].
LEAST_MOVED = 0.01


def sun(page: Page) -> Section:
    """Return the sun on each face by month and hour, and the hours of direct sun."""
    words, fmt = page.words, page.fmt
    blocks: list[Block] = [
        Heading(words("Where the sun comes in, and when"), level=1, id="sun"),
        sun_hours(page.findings, fmt, words),
        *doubted(page, page.findings.weather.doubts),
        _direct_hours(page),
    ]
    if page.whole_year:
        blocks.append(_year(page))
        blocks += _mended(page)
    else:
        blocks.append(
            Paragraph(
                words(
                    "Yearly sums are withheld: they need a typical year of weather, and this job has none."
                ),
                role="note",
            )
        )
    return Section("sun", blocks)


def doubted(page: Page, doubts: Sequence[str]) -> list[Block]:
    """Return what to know of the weather before its numbers are read; nothing where it has no fault."""
    words = page.words
    told = [words("Mind the weather: {doubt}.", doubt=words.said(doubt)) for doubt in doubts]
    return [Paragraph(text, role="note") for text in told]


def _mended(page: Page) -> list[Block]:
    """Say how far mending the weather moved sun from face to face."""
    words, fmt = page.words, page.fmt
    moved = [
        words(
            "{face}: {share} more than by the weather file as it stands.",
            face=page.face(face.id),
            share=fmt.percent(face.mended_fraction),
        )
        if face.mended_fraction > 0
        else words(
            "{face}: {share} less than by the weather file as it stands.",
            face=page.face(face.id),
            share=fmt.percent(-face.mended_fraction),
        )
        for face in page.findings.faces
        if face.mended_fraction is not None and abs(face.mended_fraction) >= LEAST_MOVED
    ]
    return [Bullets(moved)] if moved else []


def _direct_hours(page: Page) -> Table:
    words, fmt = page.words, page.fmt
    columns = [Column("face", words("Face"))] + [
        Column(str(month), fmt.month(month), align="decimal") for month in range(1, 13)
    ]
    rows = [
        [page.face(face.id), *(fmt.number(hours, 1) for hours in face.direct_sun_hours)]
        for face in page.findings.faces
    ]
    return Table(
        columns,
        rows,
        caption=words("Hours of direct sun on the 21st of each month"),
        note=words(
            "Geometry alone, clouds aside, counted every ten minutes; the skyline given for a face is in it, "
            "overhangs and neighbouring walls of single panes are not."
        ),
        id="direct-sun",
    )


def _year(page: Page) -> Table:
    words, fmt = page.words, page.fmt
    return Table(
        [
            Column("face", words("Face")),
            Column("bearing", words("Looks toward"), align="right"),
            Column("year", words("Sun in a year"), align="right"),
            Column("peak", words("Strongest hour"), align="right"),
            Column("when", words("When")),
        ],
        [
            {
                "face": page.face(face.id),
                "bearing": fmt.angle(face.azimuth_deg),
                "year": fmt.yearly_sun(face.annual_kwh_m2),
                "peak": fmt.irradiance(face.peak_w_m2),
                "when": page.when(face.peak_time),
            }
            for face in page.findings.faces
        ],
        caption=words("The year on each face"),
        note=words("Bearings clockwise from true north. On the outside of the wall, before any glass."),
        id="year",
    )


def bad_day(page: Page) -> Section:
    """Return the worst day hour by hour, bare and with each film."""
    words = page.words
    room = page.findings.bad_day.room
    where = (
        words("Only the panes of {room} count here: that is the room complained of.", room=page.room(room))
        if room
        else words("All panes together.")
    )
    return Section(
        "bad_day",
        [
            Heading(words("The worst day, hour by hour"), level=2, id="worst-day"),
            bad_day_figure(page.findings, page.fmt, words),
            Paragraph(where, role="note"),
        ],
    )
