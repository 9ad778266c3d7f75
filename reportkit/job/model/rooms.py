"""The rooms, and what a room is made of where its heat over the year is wanted; all of that optional.

A room without a floor area gets no balance: its temperatures, energies and money are withheld.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Annotated, Literal

from pydantic import AfterValidator, Field

from reportkit.job.model.about import about
from reportkit.job.model.quantities import AirFlow, Area, Power, Temperature
from reportkit.job.model.typed import Hours, Id, Length, Number, Record, Text, between


class Cooling(Record):
    """A room's cooling unit."""

    set_point: Annotated[Temperature, Field(ge=10, le=35), about("the room is kept below it", "25 C")] = 25.0
    capacity: Annotated[
        Annotated[Power, Field(gt=0, le=1e6)] | None, about("the most the unit can take out", "3500 W")
    ] = None
    efficiency: Annotated[
        Number, Field(gt=0.5, le=12), about("heat moved for each unit of electricity, over the season", "3")
    ] = 3.0


class Heating(Record):
    """A room's heating and the fuel it burns."""

    set_point: Annotated[Temperature, Field(ge=5, le=28), about("the room is kept above it", "20 C")] = 20.0
    setback: Annotated[
        Annotated[Temperature, Field(ge=0, le=28)] | None, about("the room is kept above it at night", "16 C")
    ] = None
    setback_hours: Annotated[Hours, about("from and to, on the 24-hour clock", "[22, 6]")] = (22, 6)
    capacity: Annotated[
        Annotated[Power, Field(gt=0, le=1e6)] | None, about("the most the heating gives", "5000 W")
    ] = None
    fuel: Annotated[Id, about("electricity, or the id of one of energy.fuels", "electricity")] = "electricity"
    efficiency: Annotated[
        Number, Field(gt=0.1, le=12), about("heat in the room for each unit of fuel", "0.9")
    ] = 1.0


class Body(Record):
    """What a room is made of, in plain classes; a person with better numbers types those."""

    floor_area: Annotated[Area, Field(ge=2, le=20_000), about("floor of the room", "24 m2")]
    ceiling: Annotated[
        Length, AfterValidator(between(1_800, 20_000)), about("height of the room", "2500 mm")
    ] = Fraction(2500)
    mass: Annotated[
        Literal["very_light", "light", "medium", "heavy", "very_heavy"],
        about("very_light (boards on studs) to very_heavy (bare concrete, stone)", "medium"),
    ] = "medium"
    walls: Annotated[
        Literal["solid_uninsulated", "cavity_uninsulated", "some_insulation", "insulated"],
        about("solid_uninsulated, cavity_uninsulated, some_insulation or insulated", "some_insulation"),
    ] = "cavity_uninsulated"
    heat_capacity_kj_m2k: Annotated[
        Annotated[Number, Field(ge=20, le=2_000)] | None,
        about("heat the room stores, over its floor, if known: it takes the place of mass", "165"),
    ] = None
    wall_u_w_m2k: Annotated[
        Annotated[Number, Field(gt=0, le=6)] | None, about("U of the outside walls, if known", "0.35")
    ] = None
    wall_area: Annotated[
        Annotated[Area, Field(ge=0, le=20_000)] | None,
        about("outside wall of the room, without windows", "18 m2"),
    ] = None
    roof: Annotated[
        Literal["none", "uninsulated", "some_insulation", "insulated"],
        about("none (a heated room above), uninsulated, some_insulation or insulated", "none"),
    ] = "none"
    roof_u_w_m2k: Annotated[
        Annotated[Number, Field(gt=0, le=6)] | None, about("U of the roof, if known", "0.2")
    ] = None
    leakage: Annotated[
        Literal["tight", "ordinary", "leaky"], about("tight, ordinary or leaky", "ordinary")
    ] = "ordinary"
    air_changes_per_h: Annotated[
        Annotated[Number, Field(gt=0, le=20)] | None, about("air changed in an hour, if known", "0.5")
    ] = None
    use: Annotated[
        Literal["home", "office", "shop", "classroom"],
        about("home, office, shop or classroom: people and devices", "office"),
    ] = "home"
    internal_gains_w_m2: Annotated[
        Annotated[Number, Field(ge=0, le=200)] | None,
        about("heat of people and devices in occupied hours, over the floor, if known", "5"),
    ] = None
    occupied_hours: Annotated[Hours, about("from and to, on the 24-hour clock", "[8, 18]")] = (7, 23)
    opened_above: Annotated[
        Temperature,
        Field(ge=15, le=40),
        about(
            "windows that open are opened while somebody is there, the room is warmer than this, not cooled, "
            "and it is cooler outside",
            "22 C",
        ),
    ] = 22.0
    open_by_night: Annotated[
        bool,
        about(
            "yes where windows may stand open in night_hours, too: safe from intruders, falls, rain and insects",
            "no",
        ),
    ] = False
    night_fan: Annotated[
        Annotated[AirFlow, Field(gt=0, le=100_000)] | None,
        about("outside air that a fan brings in night_hours while it cools; left out: no fan", "300 m3/h"),
    ] = None
    night_hours: Annotated[
        Hours, about("for open_by_night and night_fan: from and to, on the 24-hour clock", "[22, 7]")
    ] = (22, 7)
    too_hot: Annotated[
        Temperature, Field(ge=15, le=40), about("hours above this temperature count as hot", "26 C")
    ] = 26.0
    cooling: Annotated[
        Cooling | None, about("the room's cooling unit; left out: none", "set_point: 25 C")
    ] = None
    heating: Annotated[Heating | None, about("the room's heating; left out: none", "set_point: 20 C")] = None

    @property
    def has_roof(self) -> bool:
        """Whether the room loses heat through a roof: one is named, or its U given."""
        return self.roof != "none" or self.roof_u_w_m2k is not None


class Room(Record):
    """One room; ``heat`` is what its yearly balance needs, and without it those numbers are withheld."""

    id: Annotated[Id, about("short name used in the survey", "kitchen")]
    name: Annotated[Text, about("name for the reader", "Kitchen")] = ""
    heat: Annotated[
        Body | None,
        about("for the room's yearly balance; left out: those numbers are withheld", "floor_area: 24 m2"),
    ] = None
