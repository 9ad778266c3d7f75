"""Rooms: the hourly heat balance, comfort and glare by the window, shades, condensation, uncertainty.

``network`` and ``balance`` are the hourly method; ``envelope`` turns a survey into its numbers;
``comfort``, ``glare``, ``shades`` and ``condensation`` each hold one standard's model; ``ranges``
samples what is not known and says what a result's spread comes from.
"""

from reportkit.physics.room.balance import Gain, heat_balance
from reportkit.physics.room.comfort import SunOnBody, hot_pane, pane_view_factor, projected_area, sun_on_body
from reportkit.physics.room.condensation import dew_point, humidity_limit, saturation_pressure
from reportkit.physics.room.envelope import (
    AIR_CHANGE,
    INTERNAL,
    MASS,
    RATED_OUTSIDE,
    ROOF_U,
    WALL_U,
    MassClass,
    mean_u,
    outside_coefficient,
    room,
    sky_cold,
    sky_form,
    sky_loss,
    sun_on_opaque,
    ventilation,
)
from reportkit.physics.room.glare import (
    configuration_factor,
    diffuse_efficacy,
    disc_luminance,
    eye_illuminance,
    simplified_dgp,
    verdict,
)
from reportkit.physics.room.network import Coefficients, Room, Slab, coefficients
from reportkit.physics.room.opening import Opening
from reportkit.physics.room.ranges import (
    Driver,
    Range,
    Uncertain,
    drivers,
    likely,
    percentiles,
    samples,
    summary,
)
from reportkit.physics.room.shades import TYPICAL, ShadeLayer, drawn, with_shade
from reportkit.physics.room.totals import Balance, Record

__all__ = [
    "AIR_CHANGE",
    "INTERNAL",
    "MASS",
    "RATED_OUTSIDE",
    "ROOF_U",
    "TYPICAL",
    "WALL_U",
    "Balance",
    "Coefficients",
    "Driver",
    "Gain",
    "MassClass",
    "Opening",
    "Range",
    "Record",
    "Room",
    "ShadeLayer",
    "Slab",
    "SunOnBody",
    "Uncertain",
    "coefficients",
    "configuration_factor",
    "dew_point",
    "diffuse_efficacy",
    "disc_luminance",
    "drawn",
    "drivers",
    "eye_illuminance",
    "heat_balance",
    "hot_pane",
    "humidity_limit",
    "likely",
    "mean_u",
    "outside_coefficient",
    "pane_view_factor",
    "percentiles",
    "projected_area",
    "room",
    "samples",
    "saturation_pressure",
    "simplified_dgp",
    "sky_cold",
    "sky_form",
    "sky_loss",
    "summary",
    "sun_on_body",
    "sun_on_opaque",
    "ventilation",
    "verdict",
    "with_shade",
]
