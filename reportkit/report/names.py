"""Plain names for what the results name by a key: shades, uncertain inputs, reasons for withholding.

Each is an English template, translated where it is used.
"""

from __future__ import annotations

#: Shades to compare film with.
SHADES: dict[str, str] = {
    "outside_screen": "Outside screen, grey",
    "outside_shutter": "Outside shutter, closed in the sun",
    "inside_white_blind": "White roller blind inside, closed in the sun",
    "inside_grey_blind": "Grey roller blind inside, closed in the sun",
    "awning": "Awning",
}

#: Uncertain inputs, as drivers of a range.
INPUTS: dict[str, str] = {
    "film_optics": "how the real film differs from its sheet",
    "film_side": "a reflectance that the film's sheet leaves out",
    "shades_in_use": "how much curtains and blinds keep out already",
    "set_point": "how people set the thermostat",
    "plant": "how well heating and cooling plant works",
    "year_sun": "how sunny a year is",
    "year_temperature": "how warm a year is",
    "wall_u": "how well walls insulate",
    "roof_u": "how well the roof insulates",
    "air_change": "how leaky the room is",
    "internal": "heat of people, lamps and appliances",
    "price_growth": "how energy prices grow",
}

#: Why something is withheld.
REASONS: dict[str, str] = {
    "clear_days": "no typical year of weather was used",
    "normals": "a year made from monthly means has no extremes",
    "room_not_described": "the job does not say what the room is made of",
    "no_cooling": "the room has no cooling",
    "no_heating": "the room has no heating",
    "no_cooling_no_heating": "the rooms have neither cooling nor heating, so there is no bill to save on",
    "no_energy_price": "the job gives no energy price",
    "no_shade_price": "the job gives no price for this shade",
    "no_co2_factor": "the job gives no carbon dioxide factor",
    "not_within_years": "not within the years looked at",
    "shade": "it depends on when the shade is drawn",
}

#: Words for glare by the daylight glare probability.
GLARE: dict[str, str] = {
    "imperceptible": "hardly noticed",
    "perceptible": "noticed",
    "disturbing": "disturbing",
    "intolerable": "hard to bear",
    "cannot tell": "cannot tell: the sun itself is in view",
}
