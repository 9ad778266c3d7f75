"""Where the sun comes in, and when."""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from reportkit.documents.blocks import Block, Bullets, Column, Heading, Paragraph, Section, Table
from reportkit.documents.figures import bad_day as bad_day_figure
from reportkit.documents.figures import sun_hours
from reportkit.documents.page import Page

if TYPE_CHECKING:
    from reportkit.findings.glare import DiscSeen, SunInView
    from reportkit.findings.sun import FaceSun

#: The unit of luminance of each kind of reader, for 1 cd/m2: a footlambert is 1/pi cd/ft2 (NIST SP 811, B.8).
LUMINANCE = {"metric": ("cd/m²", 1.0), "us": ("fL", math.pi * 0.3048**2)}

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
        _clock(page),
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
    if page.findings.sun_in_view is not None:
        blocks += _in_view(page, page.findings.sun_in_view)
    return Section("sun", blocks)


def seen_for(page: Page, seen: SunInView) -> str:
    """Return how long the sun is seen, in words."""
    words, hours = page.words, page.fmt.significant(seen.hours)
    return (
        words("{hours} hours a year", hours=hours) if seen.whole_year else words("{hours} hours", hours=hours)
    )


def _in_view(page: Page, seen: SunInView) -> list[Block]:
    """Say when the sun itself stands in the window, how bright it is then, and what helps."""
    words, fmt = page.words, page.fmt
    seat = {"distance": fmt.distance_m(seen.distance_m, 0), "pane": seen.pane}
    blocks: list[Block] = [Heading(words("When the sun itself is in view"), level=2, id="sun-in-view")]
    if seen.time is None:
        text = words(
            "Seated {distance} from pane {pane} and facing it, nobody has the sun's disc in the window while the "
            "room is used.",
            **seat,
        )
        return [*blocks, Paragraph(text)]
    blocks.append(_view_table(page, seen))
    discs = {entry.id: entry for entry in seen.options}
    now, then = discs[page.bare.id], discs.get(page.chosen.id)
    told = []
    if now.disc_cd_m2 is None:
        told.append(words("The glass scatters: the sun is no disc behind it, and the whole pane shines."))
    elif then is None or page.leaves_glass:
        told.append(
            words(
                "On {when} its disc has {now} through the glass.",
                when=page.when(seen.time),
                now=_bright(page, now),
            )
        )
    elif then.disc_cd_m2 is None:
        told.append(
            words(
                "On {when} its disc has {now} through the glass as it is; the film scatters it over the whole pane.",
                when=page.when(seen.time),
                now=_bright(page, now),
            )
        )
    else:
        told.append(
            words(
                "On {when} its disc has {now} through the glass as it is and {then} with the film.",
                when=page.when(seen.time),
                now=_bright(page, now),
                then=_bright(page, then),
            )
        )
    told.append(
        words(
            "No window film makes the sun comfortable or safe to look at: a filter made for that lets through "
            "{most} at most (ISO 12312-2), this window {share}. In these hours a blind or another seat helps; film "
            "dims them, and the hours around them. No glare index is given with the sun in view: none is sound.",
            most=fmt.percent(seen.filter_t_visible, 4),
            share=fmt.percent((then or now).t_visible),
        )
    )
    return [*blocks, *[Paragraph(text) for text in told]]


def _bright(page: Page, disc: DiscSeen) -> str:
    unit, factor = LUMINANCE[page.fmt.units]
    millions = page.fmt.significant((disc.disc_cd_m2 or 0.0) * factor / 1e6)
    return page.words("{millions} million {unit}", millions=millions, unit=unit)


def _view_table(page: Page, seen: SunInView) -> Table:
    words, fmt = page.words, page.fmt
    used = [hour for hour in range(24) if any(row[hour] for row in seen.by_month_and_clock_h)]
    clock = range(used[0], used[-1] + 1)
    columns = [Column("month", words("Month"))]
    columns += [Column(str(hour), fmt.number(hour), align="right") for hour in clock]
    rows = [
        [fmt.month(month), *(fmt.number(row[hour]) if row[hour] else "–" for hour in clock)]
        for month, row in enumerate(seen.by_month_and_clock_h, 1)
        if any(row)
    ]
    return Table(
        columns,
        rows,
        caption=words(
            "{hours} with the sun's disc in pane {pane}, seated {distance} from it: by month and hour of the clock",
            hours=seen_for(page, seen),
            pane=seen.pane,
            distance=fmt.distance_m(seen.distance_m, 0),
        ),
        note=words("While somebody is there and the sun shines, by its place in the middle of each hour.")
        if seen.whole_year
        else words(
            "On the 21st of each month without clouds, by the sun's place in the middle of each hour."
        ),
        id="in-view",
    )


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


def clock_told(page: Page, face: FaceSun, month: int) -> str:
    """Return from and to which clock times direct sun stands on a face on the 21st of a month."""
    spans = face.direct_sun_clock_h[month - 1]
    told = [
        page.words("{first} to {last}", first=_time(page, first), last=_time(page, last))
        for first, last in spans
    ]
    return ", ".join(told) or page.words("no sun")


def _time(page: Page, hour: float) -> str:
    minutes = round(hour * 60)
    return page.fmt.clock(dt.time(minutes // 60 % 24, minutes % 60))


def in_short(page: Page) -> str:
    """Return in a line when the sun stands on each face in June and December: a wrong bearing shows there."""
    faces = [
        page.words(
            "{face}, June {june}, December {december}",
            face=page.face(face.id),
            june=clock_told(page, face, 6),
            december=clock_told(page, face, 12),
        )
        for face in page.findings.faces
    ]
    return page.words("Direct sun on the 21st, without clouds: {faces}.", faces="; ".join(faces))


def _clock(page: Page) -> Table:
    words, fmt = page.words, page.fmt
    return Table(
        [
            Column("face", words("Face")),
            Column("bearing", words("Looks toward"), align="right"),
            Column("june", fmt.month(6, short=False)),
            Column("december", fmt.month(12, short=False)),
        ],
        [
            [
                page.face(face.id),
                fmt.angle(face.azimuth_deg),
                clock_told(page, face, 6),
                clock_told(page, face, 12),
            ]
            for face in page.findings.faces
        ],
        caption=words("When direct sun stands on each face, on the 21st by the clock"),
        note=words("Does the sun come and go like this? If not, the bearing of the face is wrong."),
        id="direct-clock",
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
    drawn = bad_day_figure(page.findings, page.fmt, words)
    return Section(
        "bad_day",
        [
            Heading(words("The worst day, hour by hour"), level=2, id="worst-day"),
            replace(drawn, caption=f"{drawn.caption} {where}"),
        ],
    )
