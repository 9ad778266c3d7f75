"""Rates of use and of building physics as readers write them: their units, metric and US customary."""

from __future__ import annotations

from reportkit.base import units as si
from reportkit.base.translatable import english

#: Fluid ounces in a litre (1 US gallon is 3.785411784 L and 128 fluid ounces, NIST SP 811, from memory).
OUNCES_PER_LITRE = 128 / 3.785411784

#: How rates are written: for metric readers, for US readers, and what they are multiplied with.
RATES: dict[str, tuple[str, str, float]] = {
    "mm": (english("mm"), english("in"), 1 / 25.4),
    "um": (english("µm"), english("mil"), 1 / 25.4),
    "m2": (english("m²"), english("ft²"), si.SQUARE_FEET_PER_M2),
    "L/m2": (english("L/m²"), english("fl oz/ft²"), OUNCES_PER_LITRE / si.SQUARE_FEET_PER_M2),
    "ml/L": (english("ml/L"), english("fl oz/gal"), 128 / 1000),
    "ml/m": (english("ml/m"), english("fl oz/ft"), OUNCES_PER_LITRE / 1000 * 0.3048),
    "m/m": ("", "", 1.0),
    "min/m2": (english("min/m²"), english("min/ft²"), 1 / si.SQUARE_FEET_PER_M2),
    "ml": (english("ml"), english("fl oz"), OUNCES_PER_LITRE / 1000),
    "m": (english("m"), english("ft"), 1 / 0.3048),
    "K": (english("°C"), english("°F"), 1.8),
    "W/mK": (english("W/m·K"), english("Btu/h·ft·°F"), si.BTU_PER_HOUR_PER_W * 0.3048 / 1.8),
    "W/m2": (english("W/m²"), english("Btu/h·ft²"), si.BTU_PER_HOUR_PER_W / si.SQUARE_FEET_PER_M2),
    "W/m2K": (english("W/m²·K"), english("Btu/h·ft²·°F"), si.BTU_PER_HOUR_FT2_F_PER_W_M2K),
    "m/s": (english("m/s"), english("mph"), 1 / 0.44704),
    "%/yr": (english("% a year"), english("% a year"), 1.0),
    "min": (english("min"), english("min"), 1.0),
    "1/h": (english("1/h"), english("1/h"), 1.0),
    "panes": (english("panes"), english("panes"), 1.0),
    "sheets": (english("sheets"), english("sheets"), 1.0),
    "cloths": (english("cloths"), english("cloths"), 1.0),
    "edges": (english("blade edges"), english("blade edges"), 1.0),
}
