"""Findings of the rooms: ranges of a year, what drives them, and why something is withheld."""

from __future__ import annotations

import datetime as dt
from decimal import Decimal
from typing import TYPE_CHECKING

import numpy as np

from reportkit.findings.result import Result, WithReasons
from reportkit.money import to_money
from reportkit.physics.room import percentiles
from reportkit.physics.room.adaptive import ABOVE, upper_limit
from reportkit.study import openings
from reportkit.study.bywindow import DISTANCE_M

if TYPE_CHECKING:
    from reportkit.study import Study

#: Hours over the limits of EN 16798-1, by category.
ADAPTIVE = ("adaptive_1_hours", "adaptive_2_hours", "adaptive_3_hours")

#: Running mean of the outdoor air after which those limits are quoted [C].
AFTER_C = 20.0


class Spread(Result):
    """A range: eight of ten computed cases lie in it."""

    p10: float
    """One of ten lies below."""
    p50: float
    """Half lie below."""
    p90: float
    """One of ten lies above."""


class Amounts(Result):
    """A range of money [currency]: eight of ten computed cases lie in it."""

    p10: Decimal
    """One of ten lies below."""
    p50: Decimal
    """Half lie below."""
    p90: Decimal
    """One of ten lies above."""


class RoomOption(WithReasons):
    """A room's year under one option."""

    id: str
    """The option."""
    cooling_kwh: Spread | None
    """Heat that the cooling takes away in a year [kWh]."""
    heating_kwh: Spread | None
    """Heat that the heating brings in a year [kWh]."""
    hot_hours: Spread | None
    """Hours too hot in a year [h]."""
    hottest_c: Spread | None
    """The hottest hour [degrees C]."""
    peak_cooling_w: Spread | None
    """Most cooling in an hour [W]."""
    unmet_cooling_h: Spread | None
    """Hours in which the cooling does not hold its set point [h]."""
    open_hours: Spread | None
    """Hours in a year in which windows stand open or a fan brings in outside air [h]."""
    carried_off_kwh: Spread | None
    """Heat that goes out by them in a year [kWh]."""
    adaptive_1_hours: Spread | None
    """Hours over the limit of EN 16798-1 for rooms without cooling, category I [h]."""
    adaptive_2_hours: Spread | None
    """The same for category II [h]."""
    adaptive_3_hours: Spread | None
    """The same for category III [h]."""


class RoomNotDescribed(WithReasons):
    """A room whose year is not computed."""

    id: str
    """The room."""
    options: tuple[RoomOption, ...]
    """None; the reason is under ``withheld``."""


class RoomFound(Result):
    """A described room and its year."""

    id: str
    """The room."""
    floor_area_m2: float
    """Its floor [m2]."""
    wall_area_m2: float
    """Its outside walls without windows [m2]."""
    frames_w_k: float
    """What the frames of its windows and the edges of sealed units lose over the year [W/K]."""
    too_hot_c: float
    """From where on it is too hot [degrees C]."""
    has_cooling: bool
    """Whether it is cooled."""
    has_heating: bool
    """Whether it is heated."""
    cooling_capacity_w: float | None
    """What its cooling can do [W]; null where not given or not cooled."""
    opened_above_c: float | None
    """Windows are opened, or a fan runs, above this [degrees C]; null where nothing opens."""
    cold_days_c: float | None
    """After days under this outside there is another limit to open [degrees C]; null where not heated."""
    opened_above_after_cold_days_c: float | None
    """That limit [degrees C]."""
    open_by_night: bool
    """Whether windows stand open by night, too."""
    has_night_fan: bool
    """Whether a fan brings in outside air by night."""
    adaptive_limits_c: tuple[float, float, float] | None
    """Limits of EN 16798-1 after days of 20 degrees C, by category [degrees C]; null if they don't hold."""
    options: tuple[RoomOption, ...]
    """Its year under every option."""


class SeatOption(Result):
    """What a person feels by the pane under one option."""

    id: str
    """The option."""
    sun_on_person_k: float
    """What the sun adds to the felt temperature [K]."""
    pane_c: float | None
    """The pane's room face [degrees C]; null where not known."""
    pane_adds_k: float | None
    """What the warm pane adds to the felt temperature [K]."""
    dgp: float | None
    """Daylight glare probability [1]; null where the weather does not tell it."""
    glare: str
    """Its class."""
    cold_face_c: float | None
    """The room face on a cold night [degrees C]."""
    condenses_from_humidity: float | None
    """Relative humidity of the room from which it mists then [1]."""


class ByWindow(Result):
    """What a person feels by the pane that lets in most."""

    pane: str
    """The pane."""
    time: dt.datetime
    """The worst hour."""
    distance_m: float
    """How far from the pane the person sits [m]."""
    options: tuple[SeatOption, ...]
    """By option."""


def spread(values: np.ndarray) -> Spread:
    """Return the range of values, all of them finite."""
    low, middle, high = map(float, percentiles(values))
    return Spread(p10=low, p50=middle, p90=high)


def amounts(values: np.ndarray, digits: int) -> Amounts:
    """Return a range of money, rounded to the currency's digits."""
    low, middle, high = (to_money(value, digits=digits) for value in map(float, percentiles(values)))
    return Amounts(p10=low, p50=middle, p90=high)


def _limits() -> tuple[float, float, float]:
    first, second, third = (float(upper_limit(AFTER_C, category)) for category in ABOVE)
    return first, second, third


def fill_rooms(study: Study) -> tuple[RoomFound | RoomNotDescribed, ...]:
    """Return every room's year by option; rooms that are not described carry the reason."""
    years = {year.room: year for year in study.room_years}
    rooms: list[RoomFound | RoomNotDescribed] = []
    for room in study.job.rooms:
        year = years.get(room.id)
        if year is None or room.heat is None:
            reason = study.no_rooms if study.no_rooms == "clear_days" else "room_not_described"
            rooms.append(RoomNotDescribed(id=room.id, options=(), withheld={"options": reason}))
            continue
        withheld: dict[str, str] = {}
        if room.heat.cooling is None:
            withheld |= dict.fromkeys(("cooling_kwh", "peak_cooling_w", "unmet_cooling_h"), "no_cooling")
        if room.heat.heating is None:
            withheld["heating_kwh"] = "no_heating"
        if year.open_hours is None:
            withheld |= dict.fromkeys(("open_hours", "carried_off_kwh"), "windows_shut")
        if year.over_adaptive is None:
            cooled = room.heat.cooling is not None
            withheld |= dict.fromkeys(ADAPTIVE, "cooled" if cooled else "windows_shut")
        elif study.weather.kind == "normals":
            withheld |= dict.fromkeys(ADAPTIVE, "normals")
        entries = []
        for index, option in enumerate(study.options):
            values = {
                "cooling_kwh": year.cooling[:, index].sum(axis=0),
                "heating_kwh": year.heating[:, index].sum(axis=0),
                "hot_hours": year.hot_hours[index],
                "hottest_c": year.hottest[index],
                "peak_cooling_w": year.peak_cooling[:, index].max(axis=0),
                "unmet_cooling_h": year.unmet_cooling[index],
            }
            if year.open_hours is not None and year.carried_off is not None:
                values |= {"open_hours": year.open_hours[index], "carried_off_kwh": year.carried_off[index]}
            if year.over_adaptive is not None:
                values |= dict(zip(ADAPTIVE, year.over_adaptive[:, index], strict=True))
            spreads: dict[str, Spread | None] = dict.fromkeys(("open_hours", "carried_off_kwh", *ADAPTIVE))
            spreads |= {name: None if name in withheld else spread(value) for name, value in values.items()}
            entries.append(RoomOption(id=option.id, withheld=withheld, **spreads))
        closer = year.open_hours is not None and room.heat.heating is not None
        rooms.append(
            RoomFound(
                id=room.id,
                floor_area_m2=room.heat.floor_area,
                wall_area_m2=year.wall_area_m2,
                frames_w_k=year.frames_w_k,
                too_hot_c=room.heat.too_hot,
                has_cooling=room.heat.cooling is not None,
                has_heating=room.heat.heating is not None,
                cooling_capacity_w=room.heat.cooling.capacity if room.heat.cooling else None,
                opened_above_c=None if year.open_hours is None else room.heat.opened_above,
                cold_days_c=openings.COLD if closer else None,
                opened_above_after_cold_days_c=max(room.heat.opened_above, openings.ABOVE_IN_COLD)
                if closer
                else None,
                open_by_night=room.heat.open_by_night,
                adaptive_limits_c=None if year.over_adaptive is None else _limits(),
                has_night_fan=room.heat.night_fan is not None,
                options=tuple(entries),
            )
        )
    return tuple(rooms)


def fill_by_window(study: Study) -> ByWindow:
    """Return what a person feels one metre from the pane that lets in most, by option."""
    index, seats = study.by_window
    return ByWindow(
        pane=study.job.panes[index].id,
        time=study.peaks.weather.times[study.bad_hour],
        distance_m=DISTANCE_M,
        options=tuple(
            SeatOption(
                id=name,
                sun_on_person_k=seat.sun_k,
                pane_c=seat.pane_c,
                pane_adds_k=seat.pane_k,
                dgp=seat.dgp,
                glare=seat.glare,
                cold_face_c=seat.cold_face_c,
                condenses_from_humidity=seat.humidity_limit,
            )
            for name, seat in seats.items()
        ),
    )
