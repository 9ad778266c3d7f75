"""What each option does to the rooms over a year, and to a person by the window."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reportkit.documents.blocks import Block, Bullets, Column, Heading, Paragraph, Row, Section, Table
from reportkit.documents.language.names import GLARE, REASONS
from reportkit.documents.page import Page
from reportkit.documents.sections.sun import seen_for
from reportkit.findings.rooms import AFTER_C, RoomFound, RoomNotDescribed

if TYPE_CHECKING:
    from reportkit.findings.rooms import Spread


def rooms(page: Page) -> Section:
    """Return every described room's year, with and without, and the seat by the window."""
    words = page.words
    blocks: list[Block] = [Heading(words("What it does to the rooms"), level=1, id="rooms")]
    described = [entry for entry in page.findings.rooms if isinstance(entry, RoomFound)]
    for room in described:
        blocks += [_room(page, room), *([] if room.opened_above_c is None else [_opened(page, room)])]
    if described:
        blocks.append(Bullets([_says(page, entry) for entry in described]))
    missing: dict[str, list[str]] = {}
    for entry in page.findings.rooms:
        if isinstance(entry, RoomNotDescribed):
            missing.setdefault(entry.withheld["options"], []).append(page.room(entry.id))
    for reason, names in sorted(missing.items()):
        blocks.append(
            Paragraph(
                words("Withheld for {rooms}: {why}.", rooms=", ".join(names), why=words(REASONS[reason])),
                role="note",
            )
        )
    blocks.append(_seat(page))
    if direct := _direct(page):
        blocks.append(Paragraph(direct))
    return Section("rooms", blocks)


def _direct(page: Page) -> str:
    """Return how long there is direct sun, which the seat's hour of glare leaves out; empty where never."""
    words, seen = page.words, page.findings.sun_in_view
    if seen is not None and seen.time is not None:
        return words(
            "With direct sun glare is another matter: the sun itself stands in pane {pane} for {hours}.",
            pane=seen.pane,
            hours=seen_for(page, seen),
        )
    seat = next(pane for pane in page.findings.panes if pane.id == page.findings.by_window.pane)
    most = max(seat.direct_sun_hours)
    if most == 0:
        return ""
    return words(
        "With direct sun glare is another matter: the sun shines on pane {pane} for up to {hours} hours a day.",
        pane=seat.id,
        hours=page.fmt.number(most, 1),
    )


def _room(page: Page, room: RoomFound) -> Table:
    words, fmt = page.words, page.fmt
    columns = [
        Column("option", words("Option")),
        Column("hot", words("Hours over {limit}", limit=fmt.temperature(room.too_hot_c)), align="right"),
        Column("hottest", words("Hottest hour"), align="right"),
    ]
    if room.has_cooling:
        columns += [
            Column("cooling", words("Cooling [kWh/yr]"), align="right"),
            Column("peak", words("Most cooling [W]"), align="right"),
        ]
    if room.has_heating:
        columns.append(Column("heating", words("Heating [kWh/yr]"), align="right"))
    rows = []
    for entry in room.options:
        option = page.option_named(entry.id)
        cells = {
            "option": page.option(option),
            "hot": _range(page, entry.hot_hours),
            "hottest": _temperatures(page, entry.hottest_c),
            "cooling": _range(page, entry.cooling_kwh),
            "peak": _range(page, entry.peak_cooling_w),
            "heating": _range(page, entry.heating_kwh),
        }
        rows.append(Row([cells[column.key] for column in columns], "strong" if option.chosen else "none"))
    return Table(
        columns,
        rows,
        caption=words("{room}: a year under every option", room=page.room(room.id)),
        note=words(
            "Each pair is a range: eight of ten computed cases lie in it. Hours when someone is there; felt "
            "temperature, that is half air and half surfaces, more or less. Hourly balance after ISO 52016-1, "
            "with its own error among what is drawn: computed, not a certified rating."
        ),
        id=f"room-{room.id}",
    )


def _opened(page: Page, room: RoomFound) -> Table:
    """Return how long a room's windows stand open, and its hours over the limit for rooms without cooling."""
    words, fmt = page.words, page.fmt
    columns = [
        Column("option", words("Option")),
        Column("open", words("Hours open"), align="right"),
        Column("aired", words("Heat let out [kWh/yr]"), align="right"),
    ]
    told = any(entry.adaptive_1_hours is not None for entry in room.options)
    limits = room.adaptive_limits_c if told else None
    if limits is not None:
        columns += [
            Column(name, words("Hours over limit {category}", category=name), align="right")
            for name in ("I", "II", "III")
        ]
    rows = []
    for entry in room.options:
        option = page.option_named(entry.id)
        cells = {
            "option": page.option(option),
            "open": _range(page, entry.open_hours),
            "aired": _range(page, entry.carried_off_kwh),
            "I": _range(page, entry.adaptive_1_hours),
            "II": _range(page, entry.adaptive_2_hours),
            "III": _range(page, entry.adaptive_3_hours),
        }
        rows.append(Row([cells[column.key] for column in columns], "strong" if option.chosen else "none"))
    notes = [
        words(
            "Opened while somebody is there, the room is over {limit} and it is cooler outside.",
            limit=fmt.temperature(room.opened_above_c),
        )
    ]
    if room.cold_days_c is not None:
        notes.append(
            words(
                "After days under {mean} only over {limit}: who heats keeps the sun's warmth.",
                mean=fmt.temperature(room.cold_days_c, 1),
                limit=fmt.temperature(room.opened_above_after_cold_days_c),
            )
        )
    if room.has_cooling:
        notes.append(words("Shut while the cooling runs."))
    if room.open_by_night:
        notes.append(words("Open by night, too, by the same rule."))
    if room.has_night_fan:
        notes.append(words("A fan brings in outside air by night, by the same rule."))
    if limits is not None:
        low, middle, high = (fmt.temperature(limit, 1) for limit in limits)
        notes.append(
            words(
                "Limits I, II and III: what people stand who cool a room by its windows, by EN 16798-1. They follow "
                "the outside air of the days before: after days of {mean} they are {low}, {middle} and {high}.",
                mean=fmt.temperature(AFTER_C),
                low=low,
                middle=middle,
                high=high,
            )
        )
    return Table(
        columns,
        rows,
        caption=words("{room}: windows opened, a year under every option", room=page.room(room.id)),
        note=" ".join(notes),
        id=f"opened-{room.id}",
    )


def _range(page: Page, spread: Spread | None) -> str:
    if spread is None:
        return "—"
    return page.fmt.range(spread.p10, spread.p50, spread.p90)


def _temperatures(page: Page, spread: Spread | None) -> str:
    if spread is None:
        return "—"
    return page.fmt.temperature_range(spread.p10, spread.p90)


def _hot(page: Page, room: str, before: Spread, after: Spread) -> str:
    """Say how many hours of a year are over the limit, bare and with what is chosen."""
    words, few = page.words, page.words("hardly any")
    bare, filmed = page.hours(before), page.hours(after)
    if bare == filmed == few:
        return words("{room}: hardly an hour over the limit, with or without.", room=room)
    if filmed == few:
        return words("{room}: hardly an hour over the limit, where {bare} a year were.", room=room, bare=bare)
    if bare == filmed:
        return words("{room}: {bare} hours a year over the limit, with or without.", room=room, bare=bare)
    return words(
        "{room}: {after} hours a year over the limit instead of {before}.",
        room=room,
        before=bare,
        after=filmed,
    )


def _says(page: Page, room: RoomFound) -> str:
    """Say in a sentence what the choice does to a room, and whether its cooling copes."""
    words, fmt = page.words, page.fmt
    name = page.room(room.id)
    years = {entry.id: entry for entry in room.options}
    before, after = years[page.bare.id], years[page.chosen.id]
    parts = []
    if page.leaves_glass:
        parts.append(words("{room}: nothing changes.", room=name))
    else:
        assert before.hot_hours is not None and after.hot_hours is not None  # a described room's are known
        parts.append(_hot(page, name, before.hot_hours, after.hot_hours))
    if room.opened_above_c is None:
        parts.append(words("None of its windows is opened."))
    if not room.has_cooling:
        parts.append(words("No cooling, so no bill saving from cooling."))
    elif room.cooling_capacity_w and before.unmet_cooling_h and after.unmet_cooling_h:
        unmet = (before.unmet_cooling_h.p50, after.unmet_cooling_h.p50)
        if max(unmet) < 1:
            parts.append(words("The cooling unit copes either way."))
        elif unmet[1] < 1:
            parts.append(
                words(
                    "The cooling unit is too small for {hours} hours a year now, and copes then.",
                    hours=fmt.significant(unmet[0]),
                )
            )
        else:
            parts.append(
                words(
                    "The cooling unit is too small for {before} hours a year now and {after} then.",
                    before=fmt.significant(unmet[0]),
                    after=fmt.significant(unmet[1]),
                )
            )
    return " ".join(parts)


def _seat(page: Page) -> Table:
    words, fmt = page.words, page.fmt
    seats = page.findings.by_window
    hot = any(entry.pane_c is not None for entry in seats.options)
    columns = [
        Column("option", words("Option"), width=1.8),
        Column("sun", words("Sun on a seated person"), align="right", width=1.0),
    ]
    if hot:
        columns += [
            Column("pane", words("Pane, inner face"), align="right", width=1.0),
            Column("adds", words("Hot pane adds"), align="right", width=1.0),
        ]
    columns.append(Column("glare", words("Brightest hour without direct sun"), width=1.2))
    if hot:
        columns.append(Column("humidity", words("Condenses from humidity"), align="right", width=1.0))
    rows = []
    for entry in seats.options:
        option = page.option_named(entry.id)
        cells = {
            "option": page.option(option),
            "sun": fmt.temperature_difference(entry.sun_on_person_k, 1),
            "pane": fmt.temperature(entry.pane_c),
            "adds": fmt.temperature_difference(entry.pane_adds_k, 1),
            "glare": words(GLARE[entry.glare]),
            "humidity": fmt.percent(entry.condenses_from_humidity),
        }
        rows.append(Row([cells[column.key] for column in columns], "strong" if option.chosen else "none"))
    notes = [
        words(
            "Sun on a seated person: added to the mean radiant temperature (ASHRAE 55, Appendix C). Glare: "
            "simplified daylight glare probability, which says nothing with the sun or its glint in view."
        )
    ]
    if hot:
        notes.append(
            words(
                "Condensation: the room's humidity at which the middle of the pane begins to sweat on the "
                "coldest hour."
            )
        )
    return Table(
        columns,
        rows,
        caption=words(
            "Seated {distance} from pane {pane}, which lets in most at the worst hour",
            distance=fmt.distance_m(seats.distance_m),
            pane=seats.pane,
        ),
        note=" ".join(notes),
        id="seat",
    )
