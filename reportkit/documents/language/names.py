"""Plain names for what the results name by a key: shades, uncertain inputs, reasons for withholding.

Each is an English template, translated where it is used.
"""

from __future__ import annotations

from reportkit.base.translatable import english
from reportkit.job.reading.rates import RATES

#: Shades to compare film with.
SHADES: dict[str, str] = {
    "outside_screen": english("Outside screen, grey"),
    "outside_shutter": english("Outside shutter, closed in the sun"),
    "inside_white_blind": english("White roller blind inside, closed in the sun"),
    "inside_grey_blind": english("Grey roller blind inside, closed in the sun"),
    "awning": english("Awning"),
}

#: Uncertain inputs, as drivers of a range.
INPUTS: dict[str, str] = {
    "film_optics": english("how the real film differs from its sheet"),
    "film_side": english("a reflectance that the film's sheet leaves out"),
    "shades_in_use": english("how much curtains and blinds keep out already"),
    "set_point": english("how people set the thermostat"),
    "plant": english("how well heating and cooling plant works"),
    "year_sun": english("how sunny a year is"),
    "year_temperature": english("how warm a year is"),
    "wall_u": english("how well walls insulate"),
    "roof_u": english("how well the roof insulates"),
    "air_change": english("how leaky the room is"),
    "opening_share": english("how far windows open"),
    "opening_habit": english("how often people open windows"),
    "internal": english("heat of people, lamps and appliances"),
    "price_growth": english("how energy prices grow"),
    "model_gains": english("how far the method itself may be off in what rooms gain"),
    "model_losses": english("how far the method itself may be off in what rooms lose"),
}

#: Why something is withheld.
REASONS: dict[str, str] = {
    "clear_days": english("no typical year of weather was used"),
    "room_not_described": english("the job does not say what the room is made of"),
    "no_cooling": english("the room has no cooling"),
    "no_heating": english("the room has no heating"),
    "windows_shut": english("no window of the room is opened"),
    "cooled": english("the limit is for rooms without cooling"),
    "no_cooling_no_heating": english(
        "the rooms have neither cooling nor heating, so there is no bill to save on"
    ),
    "no_energy_price": english("the job gives no energy price"),
    "no_shade_price": english("the job gives no price for this shade"),
    "cannot_go": english("this film cannot go on any of the panes"),
    "no_plan": english("the rolls given for this film cannot hold all its pieces"),
    "no_co2_factor": english("the job gives no carbon dioxide factor"),
    "not_within_years": english("not within the years looked at"),
    "shade": english("it depends on when the shade is drawn"),
}

#: Words for glare by the daylight glare probability.
GLARE: dict[str, str] = {
    "imperceptible": english("hardly noticed"),
    "perceptible": english("noticed"),
    "disturbing": english("disturbing"),
    "intolerable": english("hard to bear"),
    "cannot tell": english("cannot tell: the sun itself is in view"),
}

#: What the readings by one meter behind one film say, by verdict.
FOUND: dict[str, str] = {
    "as_computed": english("Behind {film} on {glass} came {share} of {what}, as computed ({expected})"),
    "more": english("Behind {film} on {glass} came {share} of {what}, more than the {expected} computed"),
    "less": english("Behind {film} on {glass} came {share} of {what}, less than the {expected} computed"),
    "cannot_tell": english(
        "Readings cannot tell whether {film} on {glass} passes {expected} of {what}, as computed"
    ),
}

#: What a reading behind film is set against, by meter and by where the other reading was taken.
AGAINST: dict[str, str] = {
    "light_glass": english("the light behind bare glass"),
    "sun_glass": english("the sun's radiation behind bare glass"),
    "uv_glass": english("the ultraviolet behind bare glass"),
    "light_open": english("the light in the open"),
    "sun_open": english("the sun's radiation in the open"),
    "uv_open": english("the ultraviolet in the open"),
}

#: What a meter reads.
METERS: dict[str, str] = {
    "light": english("visible light"),
    "sun": english("sun's radiation"),
    "uv": english("ultraviolet"),
}

#: Why a pair of readings says nothing.
LEFT_OUT: dict[str, str] = {
    "no_film": english("this pane has no film"),
    "beside_has_film": english("the pane beside it has film too"),
    "sun_down": english("the sun was down"),
    "nothing_through": english("by its values nothing comes through this glass"),
}

#: What the job may leave open and what the study takes, by its field without the ids of what it is about.
LEFT_OPEN: dict[str, str] = {
    "paper": english("size of paper"),
    "rating": english("rating conditions"),
    "locale": english("language and country"),
    "compare": english("films compared"),
    "site.latitude": english("degrees of latitude"),
    "site.longitude": english("degrees of longitude"),
    "site.elevation_m": english("height above the sea"),
    "site.clock": english("clock of the site"),
    "site.ground_albedo": english("share of sunlight the ground throws back"),
    "weather.use": english("weather"),
    "building.paid_work": english("whether the work is paid"),
    "faces.bearing": english("way the face looks"),
    "faces.tilt": english("slope of the face"),
    "horizons.trees": english("trees before the windows"),
    "horizons.leafless_transmittance": english("share of sun that bare branches let through"),
    "glazings.lites.strength": english("strength of the glass"),
    "glazings.lites.glass": english("color of the glass"),
    "glazings.gaps.gas": english("gas between the sheets"),
    "glazings.known": english("what is known of the glass"),
    "films.thickness_um": english("thickness of the film"),
    "films.film_class": english("class of the film"),
    "films.life_years": english("years the film is expected to last"),
    "films.rated": english("the film's sheet"),
    "films.rated.on_thickness_mm": english("glass the film was rated on"),
    "films.rated.emissivity": english("emissivity of the film's own face"),
    "films.rated.solar_reflectance_film_side_percent": english("the film's own face mirrors of the sun"),
    "films.rated.visible_reflectance_film_side_percent": english("the film's own face mirrors of the light"),
    "panes.edge": english("edge of the glass"),
    "panes.frame": english("frame"),
    "frames.width": english("width of the frames"),
    "frames.u": english("heat through the frames"),
    "frames.spacer": english("heat along the edge of sealed units"),
    "panes.opens": english("windows that open"),
    "panes.plastic": english("a pane of plastic"),
    "rooms.heat.ceiling": english("height of the room"),
    "rooms.heat.mass": english("how heavily the room is built"),
    "rooms.heat.walls": english("outside walls"),
    "rooms.heat.roof": english("roof"),
    "rooms.heat.leakage": english("leaks"),
    "rooms.heat.use": english("use of the room"),
    "rooms.heat.occupied_hours": english("hours somebody is there"),
    "rooms.heat.too_hot": english("too hot above"),
    "rooms.heat.opened_above": english("windows are opened above"),
    "rooms.heat.open_by_night": english("windows open by night"),
    "rooms.heat.cooling.set_point": english("cooled to"),
    "rooms.heat.cooling.efficiency": english("efficiency of the cooling"),
    "rooms.heat.heating.set_point": english("heated to"),
    "rooms.heat.heating.fuel": english("what heats"),
    "rooms.heat.heating.efficiency": english("efficiency of the heating"),
    "fitting.method": english("how film is cut"),
    "fitting.edge_gap": english("gap at the edge"),
    "fitting.edge_gap_safety": english("gap at the edge, safety film"),
    "fitting.trim_allowance": english("extra film to trim"),
    "fitting.table": english("cutting table"),
    "fitting.keep_offcut": english("off-cuts kept from"),
    "fitting.start": english("hours of work"),
    "fitting.fitter": english("who fits"),
    **{f"prices.{name}": told for name, told in RATES.items()},
    "energy.growth_percent": english("rise of energy prices"),
    "energy.discount_percent": english("by how much later money is worth less"),
    "energy.removal": english("cost of taking the film off"),
    "energy.years": english("years every option is looked at"),
    "panes.sill": english("height of the sill"),
    "sight.day": english("light outdoors, seen from there by day"),
    "sight.dark": english("light in the room, seen from outside after dark"),
    "sight.hidden": english("what counts as hidden from outside"),
    "rooms.wind": english("wind"),
    "seat.distance": english("distance of the eye from the glass"),
    "seat.eye": english("height of the eye"),
    "seat.beam": english("light of the sun's beam"),
    "screen.rebate": english("heat from the edge of the glass to its frame"),
    "screen.near": english("share of its limit a pane is asked about from"),
    "screen.rolled": english("limit of wired and patterned glass"),
    "shades.method": english("SHGC for which shades are computed"),
    "screen.winter": english("air on a clear winter day"),
    "screen.equinox": english("air on a clear day near the equinox"),
    "screen.summer": english("air on a clear summer day"),
}

#: Shapes of panes that are no rectangles.
SHAPES: dict[str, str] = {
    "arch": english("arch"),
    "half_round": english("half round"),
    "circle": english("circle"),
    "oval": english("oval"),
    "triangle": english("triangle"),
    "trapezoid": english("trapezoid"),
    "polygon": english("polygon"),
}
