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
    "cannot_go": "this film cannot go on any of the panes",
    "no_plan": "the rolls given for this film cannot hold all its pieces",
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

#: What the readings by one meter behind one film say, by verdict.
FOUND: dict[str, str] = {
    "as_computed": "Behind {film} on {glass} came {share} of {what}, as computed ({expected})",
    "more": "Behind {film} on {glass} came {share} of {what}, more than the {expected} computed",
    "less": "Behind {film} on {glass} came {share} of {what}, less than the {expected} computed",
    "cannot_tell": "Readings cannot tell whether {film} on {glass} passes {expected} of {what}, as computed",
}

#: What a reading behind film is set against, by meter and by where the other reading was taken.
AGAINST: dict[str, str] = {
    "light_glass": "the light behind bare glass",
    "sun_glass": "the sun's radiation behind bare glass",
    "uv_glass": "the ultraviolet behind bare glass",
    "light_open": "the light in the open",
    "sun_open": "the sun's radiation in the open",
    "uv_open": "the ultraviolet in the open",
}

#: What a meter reads.
METERS: dict[str, str] = {"light": "visible light", "sun": "sun's radiation", "uv": "ultraviolet"}

#: Why a pair of readings says nothing.
LEFT_OUT: dict[str, str] = {
    "no_film": "this pane has no film",
    "beside_has_film": "the pane beside it has film too",
    "sun_down": "the sun was down",
    "nothing_through": "by its values nothing comes through this glass",
}

#: What the job may leave open and what the study takes, by its field without the ids of what it is about.
LEFT_OPEN: dict[str, str] = {
    "paper": "size of paper",
    "rating": "rating conditions",
    "locale": "language and country",
    "compare": "films compared",
    "site.latitude": "degrees of latitude",
    "site.longitude": "degrees of longitude",
    "site.elevation_m": "height above the sea",
    "site.clock": "clock of the site",
    "site.ground_albedo": "share of sunlight the ground throws back",
    "weather.use": "weather",
    "faces.tilt": "slope of the face",
    "horizons.leafless_transmittance": "share of sun that bare branches let through",
    "glazings.lites.strength": "strength of the glass",
    "glazings.lites.glass": "color of the glass",
    "glazings.gaps.gas": "gas between the sheets",
    "films.life_years": "years the film is expected to last",
    "films.rated": "the film's sheet",
    "films.rated.on_thickness_mm": "glass the film was rated on",
    "films.rated.emissivity": "emissivity of the film's own face",
    "films.rated.solar_reflectance_film_side_percent": "the film's own face mirrors of the sun",
    "films.rated.visible_reflectance_film_side_percent": "the film's own face mirrors of the light",
    "panes.edge": "edge of the glass",
    "panes.frame": "frame",
    "panes.plastic": "a pane of plastic",
    "rooms.heat.ceiling": "height of the room",
    "rooms.heat.mass": "how heavily the room is built",
    "rooms.heat.walls": "outside walls",
    "rooms.heat.roof": "roof",
    "rooms.heat.leakage": "leaks",
    "rooms.heat.use": "use of the room",
    "rooms.heat.occupied_hours": "hours somebody is there",
    "rooms.heat.too_hot": "too hot above",
    "rooms.heat.cooling.set_point": "cooled to",
    "rooms.heat.cooling.efficiency": "efficiency of the cooling",
    "rooms.heat.heating.set_point": "heated to",
    "rooms.heat.heating.fuel": "what heats",
    "rooms.heat.heating.efficiency": "efficiency of the heating",
    "fitting.method": "how film is cut",
    "fitting.edge_gap": "gap at the edge",
    "fitting.edge_gap_safety": "gap at the edge, safety film",
    "fitting.trim_allowance": "extra film to trim",
    "fitting.table": "cutting table",
    "fitting.keep_offcut": "off-cuts kept from",
    "fitting.start": "hours of work",
    "fitting.fitter": "who fits",
    "prices.travel": "price of travel",
    "prices.minimum_charge": "least charge",
    "prices.soap_per_litre": "price of soap",
    "prices.blade_each": "price of a blade",
    "prices.sheet_each": "price of a dust sheet",
    "prices.margin_percent": "margin",
    "prices.tax": "tax",
    "energy.growth_percent": "rise of energy prices",
    "energy.discount_percent": "by how much later money is worth less",
    "energy.removal": "cost of taking the film off",
    "energy.years": "years every option is looked at",
    "panes.sill": "height of the sill",
    "sight.day": "light outdoors, seen from there by day",
    "sight.dark": "light in the room, seen from outside after dark",
    "sight.hidden": "what counts as hidden from outside",
    "seat.distance": "distance of the eye from the glass",
    "seat.eye": "height of the eye",
    "seat.beam": "light of the sun's beam",
    "screen.winter": "air on a clear winter day",
    "screen.equinox": "air on a clear day near the equinox",
    "screen.summer": "air on a clear summer day",
}
