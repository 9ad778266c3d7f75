"""What every field of a job means, with an example: one table for the schema, the messages and the guide.

Keys are ``Record.field``; a test holds the table to the models, so a new field without an entry fails.
"""

from __future__ import annotations

_TABLE = """
Job.id | short name of the job; it stands in the footer of every page | corner-shop
Job.title | what the work is, for the first page | South and west windows of the shop
Job.invented | yes for a made-up job; the documents then say so | no
Job.units | us (feet, inches) or metric; a bare length in the survey takes inches or millimetres | metric
Job.language | language the documents are written in: en or es | en
Job.locale | language and country, where the language alone is not enough | en_GB
Job.currency | three-letter code (ISO 4217) of every amount in the job | EUR
Job.paper | letter or a4 | a4
Job.rating | which rating conditions: nfrc (North America) or en (Europe); never mixed | en
Job.site | where the windows are | place: Invented Bay
Job.weather | which weather the sun is taken from | use: clear_days
Job.complaint | what troubles the client | text: The office is too hot by four
Job.client | who the proposal is for | name: Ana Example
Job.business | who the proposal is from | name: Example Films
Job.quote | number, dates and terms of the offer | number: Q-7
Job.survey | who measured the panes, and when | measured_by: Ana Example
Job.recommend | rule by which a film is recommended: most_relief, least_heat, best_value, most_light or \
lowest_price | most_relief
Job.limits | how dark and how mirrored the glass may become | darkest_visible_transmittance_percent: 40
Job.building | age, owner and neighbours, for permissions; buildings only, no vehicles | country: IE
Job.rooms | the rooms that have panes | - id: kitchen
Job.horizons | skylines that stand before the sun: trees, hills, houses | - id: hill
Job.faces | the sides of the building that have panes | - id: south
Job.glazings | what the openings are filled with | - id: double
Job.films | the films that could be fitted | - id: grey
Job.compare | ids of the films to compare; left out: all of them | - grey
Job.choice | the film already chosen, for the job, by face, or by pane | job: grey
Job.approvals | written approvals by the film maker of a film on glass that the screen asks about or refuses | see below
Job.fitting | how the film is cut and fitted | method: trim_on_glass
Job.prices | the fitter's own rates, in the job's currency | labour_per_hour: 40
Job.energy | what energy costs; left out: no yearly money | electricity: {rate: 0.30}
Job.shades | shades to compare film with, at your own price | - kind: outside_screen
Job.panes | the rows of the survey, windows.csv or windows.xlsx | see windows.csv
Job.decisions | the entries of decisions.yaml, the newest in force | see decisions.yaml
Job.readings | the rows of readings.csv, written after the work | see readings.csv
Reading.time | day and clock time of the site | 2026-06-12 14:05
Reading.meter | light, sun or uv | light
Reading.pane | the pane with film | S1
Reading.filmed | what the meter showed behind it | 410
Reading.beside | a pane of the same glazing without film, or open: in the open, just outside the filmed pane | S3
Reading.bare | what the same meter showed there in the same minute, in the same unit | 980
Reading.note | anything worth knowing | thin cloud
Approval.film | the film that the film maker approves | grey-40
Approval.glazing | the glass it approves the film on; or name panes instead | wired-6
Approval.panes | the panes it approves the film on, where the letter names them | [W1, W2]
Approval.by | who approved it, as the letter is signed | Ana Example, Example Films' maker
Approval.date | the date of the letter, not after the quote's | 2026-02-20
Approval.file | the letter, in the job's folder; it is archived with every run | approval.pdf
Decision.date | day of the decision | 2026-03-05
Decision.who | who decided | Ana Example
Decision.films | the films decided on, as in choice | {faces: {south: grey-40}}
Decision.panes_out | panes left bare, each with the reason | {S1: the client keeps a poster there}
Decision.overrides | why what the program recommends was not taken | more light than it leaves
Decision.set_points | cooling set point by room | {kitchen: 25 C}
Decision.electricity_rate | one rate for every hour, in place of the job's tariff | 0.30
Decision.budget | the most the client will spend | 900
Decision.note | anything worth knowing | shown on site with two samples
Site.place | name of the place, for the reader | Invented Bay
Site.latitude | degrees north, negative in the south | 51.5
Site.longitude | degrees east, negative in the west | -0.12
Site.elevation_m | height above the sea; left out: from a coarse map | 20
Site.clock | IANA zone of the local time; left out: from the coordinates | Europe/Lisbon
Site.ground_albedo | share of sunlight the ground throws back | 0.2
WeatherChoice.use | shipped, file, pvgis (one download), normals (monthly means) or clear_days (no weather, no bills) | shipped
WeatherChoice.name | for shipped: miami, greensboro or sand point | miami
WeatherChoice.file | for file: the weather file's path in the job's folder | weather.epw
WeatherChoice.normals | for normals: twelve months from a public table | source: Example almanac
Normals.mean_c | mean temperature of each month, January first | [4.1, 4.8, 7.0, 9.9, 13.1, 16.2, 18.4, 18.1, 15.3, 11.4, 7.2, 4.7]
Normals.daily_range_k | mean daily highest less mean daily lowest, each month | [5, 6, 7, 8, 9, 9, 9, 9, 8, 7, 6, 5]
Normals.sun_kwh_m2_day | sun on level ground a day, each month | [0.7, 1.3, 2.4, 3.8, 4.9, 5.2, 5.0, 4.2, 3.0, 1.7, 0.9, 0.6]
Normals.source | where the table is from | Example almanac 2020
Complaint.text | the client's own words | By three the counter is in full sun
Complaint.kinds | heat, glare, fading, privacy, bills: one or more | [heat, glare]
Complaint.room | the room it is about | kitchen
Room.id | short name used in the survey | kitchen
Room.name | name for the reader | Kitchen
Room.heat | for the room's yearly balance; left out: those numbers are withheld | floor_area: 24 m2
Building.country | where it stands, as a two-letter code (ISO 3166-1) | IE
Building.year_built | year it was built; old paint may hold lead | 1968
Building.paid_work | yes where the work is paid, no where people fit their own home | yes
Building.tenure | owner, tenant or owners_association (shared walls and windows) | tenant
Building.listed | yes where heritage law protects the building | no
Building.plants | yes where plants live behind the glass | no
Building.alarm_sensors | yes where alarm sensors or foil are on the glass | no
Building.radio | yes where radio or telephone must get through the glass | no
Building.vinyl_siding | yes where vinyl siding stands within reach of mirrored sun | no
Body.floor_area | floor of the room | 24 m2
Body.ceiling | height of the room | 2500 mm
Body.mass | very_light (boards on studs) to very_heavy (bare concrete, stone) | medium
Body.walls | solid_uninsulated, cavity_uninsulated, some_insulation or insulated | some_insulation
Body.wall_u_w_m2k | U of the outside walls, if known | 0.35
Body.wall_area | outside wall of the room, without windows | 18 m2
Body.roof | none (a heated room above), uninsulated, some_insulation or insulated | none
Body.roof_u_w_m2k | U of the roof, if known | 0.2
Body.leakage | tight, ordinary or leaky | ordinary
Body.air_changes_per_h | air changed in an hour, if known | 0.5
Body.use | home, office, shop or classroom: people and devices | office
Body.occupied_hours | from and to, on the 24-hour clock | [8, 18]
Body.too_hot | hours above this temperature count as hot | 26 C
Body.cooling | the room's cooling unit; left out: none | set_point: 25 C
Body.heating | the room's heating; left out: none | set_point: 20 C
Cooling.set_point | the room is kept below it | 25 C
Cooling.capacity | the most the unit can take out | 3500 W
Cooling.efficiency | heat moved for each unit of electricity, over the season | 3
Heating.set_point | the room is kept above it | 20 C
Heating.setback | the room is kept above it at night | 16 C
Heating.setback_hours | from and to, on the 24-hour clock | [22, 6]
Heating.capacity | the most the heating gives | 5000 W
Heating.fuel | electricity, or the id of one of energy.fuels | electricity
Heating.efficiency | heat in the room for each unit of fuel | 0.9
Energy.electricity | its price: one rate, tiers, or periods | rate: 0.30
Energy.fuels | other fuels that heat | - id: gas
Energy.growth_percent | yearly rise of prices: low, likely, high | [0, 1, 3]
Energy.discount_percent | by how much money later is worth less, a year | 3
Energy.years | years every option is looked at; left out: the longest life of a film compared | 12
Energy.removal | cost of taking the film off at the end of its life | 150
Energy.priced_on | day the prices were read | 2026-03-01
Electricity.rate | price of a kWh | 0.30
Electricity.tiers | rates by the month's kWh | - rate: 0.25
Electricity.periods | rates by hour, day and month | - name: night
Electricity.demand | charges on the month's highest power | - name: demand
Electricity.fixed_per_month | standing charge | 12.00
Electricity.kg_co2_per_kwh | carbon dioxide for a kWh | 0.2
TierSpec.rate | price of a kWh in this tier | 0.25
TierSpec.up_to_kwh | the tier's upper end in a month; the last has none | 300
PeriodSpec.name | name for the reader | night
PeriodSpec.rate | price of a kWh in these hours | 0.18
PeriodSpec.tiers | or rates by the month's kWh in these hours | - rate: 0.25
PeriodSpec.months | months (1 to 12) it holds in; left out: all | [6, 7, 8, 9]
PeriodSpec.hours | from and to, on the 24-hour clock; left out: all day | [14, 20]
PeriodSpec.weekdays | all, workdays or weekends | workdays
DemandSpec.name | name for the reader | summer peak
DemandSpec.rate_per_kw | price of a kW of the month's highest power | 9.00
DemandSpec.months | months (1 to 12) it holds in; left out: all | [6, 7, 8, 9]
DemandSpec.hours | from and to, on the 24-hour clock; left out: all day | [14, 20]
DemandSpec.weekdays | all, workdays or weekends | workdays
FuelSpec.id | short name used in heating | gas
FuelSpec.rate | price of a unit | 0.11
FuelSpec.unit | the unit it is sold in | kWh
FuelSpec.kwh_per_unit | heat in a unit, where the unit is not kWh | 10.6
FuelSpec.kg_co2_per_kwh | carbon dioxide for a kWh of its heat | 0.2
ShadeSpec.kind | outside_screen, outside_shutter, inside_white_blind, inside_grey_blind, awning | awning
ShadeSpec.price | price for all panes, fitted | 1200
ShadeSpec.depth | how far an awning stands out | 1.2 m
Horizon.id | short name used in faces or the survey | hill
Horizon.points | corner points of the skyline: bearing and height, in degrees | [[90, 12], [130, 20]]
Horizon.leafless_months | months (1 to 12) in which the trees are bare | [12, 1, 2]
Horizon.leafless_transmittance | share of sun that bare branches let through | 0.6
Face.id | short name used in the survey | south
Face.name | name for the reader | Garden side
Face.bearing | the way it looks, degrees clockwise from true north (east 90, south 180) | 180
Face.tilt | 90 upright, 0 flat like a roof light | 90
Face.horizon | the skyline before this face | hill
LiteSpec.thickness_mm | thickness of this sheet of glass; of laminated glass with what joins it | 4
LiteSpec.glass | clear, low_iron, grey, bronze, green or blue | clear
LiteSpec.strength | annealed, heat_strengthened, tempered, laminated, wired or patterned | annealed
LiteSpec.textured | the face with a pattern rolled into it, front (outside) or back; patterned glass has one, other glass may | back
GapSpec.fill_percent | share of the gap that the gas fills, the rest is air | 90
GapSpec.width_mm | width of the space between two sheets | 16
GapSpec.gas | air, argon or krypton | argon
CoatingSpec.kind | hard_low_e, soft_low_e or solar_control_low_e | soft_low_e
CoatingSpec.surface | which surface is coated, 1 outermost | 3
GlazingSpec.id | short name used in the survey | double
GlazingSpec.name | name for the reader | Clear sealed unit
GlazingSpec.lites | the sheets of glass, outside first | - thickness_mm: 4
GlazingSpec.gaps | the spaces between the sheets, one fewer than sheets | - width_mm: 16
GlazingSpec.coating | the factory coating, if there is one | kind: soft_low_e
GlazingSpec.year | year it was made; old edges break sooner | 1998
GlazingSpec.note | anything worth knowing | fogged at the foot
RatedValues.on_thickness_mm | the clear glass the sheet's numbers were measured on | 3
RatedValues.on_glass | colour of that glass | clear
RatedValues.conditions | the conditions of its shgc: nfrc or en | nfrc
RatedValues.solar_transmittance_percent | share of the sun's energy that passes | 35
RatedValues.solar_reflectance_glass_side_percent | share sent back, light on the glass | 12
RatedValues.solar_reflectance_film_side_percent | share sent back, light on the film; often not printed | 11
RatedValues.visible_transmittance_percent | share of daylight that passes | 42
RatedValues.visible_reflectance_glass_side_percent | daylight sent back, light on the glass | 9
RatedValues.visible_reflectance_film_side_percent | daylight sent back, light on the film | 9
RatedValues.uv_transmittance_percent | share of ultraviolet that passes | 1
RatedValues.shgc | solar heat gain coefficient as the sheet prints it | 0.49
RatedValues.tser_percent | total solar energy rejected as the sheet prints it | 51
RatedValues.emissivity | of the film's own face; 0.9 unless it is a low-emissivity film | 0.9
Claims.solar_absorptance_percent | share absorbed, as the sheet prints it | 57
Claims.shading_coefficient | as the sheet prints it | 0.60
Claims.light_to_solar_gain | as the sheet prints it | 0.77
Claims.tser_sun_angle_deg | angle of the sun at which the sheet quotes tser_percent; 0 is straight on | 0
Claims.infrared_rejected_percent | "infrared rejected", as the sheet or the seller says | 90
Claims.infrared_band_nm | wavelengths that number is for | [900, 1000]
Claims.fading_reduced_percent | fading prevented, as the sheet or the seller says | 40
Chart.max_area | largest pane the film maker's chart allows | 2.5 m2
Chart.max_side | longest side it allows | 2400 mm
Chart.max_thickness_mm | thickest glass it allows | 6
Chart.max_altitude_m | highest place above the sea it allows | 1500
Chart.max_age_years | oldest unit it allows | 15
Chart.max_slope_deg | largest slope from the vertical it allows | 15
Chart.max_absorptance_percent | most sun that glass and film together may absorb | 60
Chart.tinted | yes if the chart allows tinted glass | no
Chart.laminated | yes if the chart allows laminated glass | yes
Chart.wired | yes if the chart allows wired glass; an absorbing film inside is refused there all the same | no
Chart.patterned | yes if the chart allows the flat face of patterned glass | no
Chart.three_panes | yes if the chart allows units of three sheets | no
Chart.fogged | yes if the chart allows fogged units | no
Chart.plastic | yes if the film is stated for panes of acrylic or polycarbonate; else it is refused there | no
Chart.shadows | yes if the chart allows narrow or moving shadows | no
Chart.heaters | yes if the chart allows a heater or blown air close to the glass | no
Chart.dark_frames | yes if the chart allows dark frames | yes
RollOffer.width | width of the roll | 1524 mm
RollOffer.length | length of a whole roll; with price_per_m, the longest that can be had, in whole steps | 30.5 m
RollOffer.pack | whole rolls in a pack, where they are sold in packs only; price is then that of the pack | 3
RollOffer.price | price of the whole roll, or of the pack; left out for rolls that are only on the shelf | 480.00
RollOffer.price_per_m | price of one metre from the roll | 19.50
RollOffer.price_per_ft | price of one foot from the roll | 6.20
RollOffer.step | the step in which lengths are sold | 1 m
RollOffer.in_stock | rolls, or off-cuts of that width and length, on the shelf and already paid for | 1
FilmSpec.id | short name used in compare and choice | grey-40
FilmSpec.name | name for the reader | Grey ceramic 40
FilmSpec.film_class | dyed, metallised_reflective, dual_reflective, sputtered, ceramic, \
spectrally_selective, low_emissivity, exterior, clear_uv, frosted or safety | ceramic
FilmSpec.invented | yes for a made-up film | no
FilmSpec.side | inside, outside, or either: then both are compared, the outside as ID-outside | inside
FilmSpec.thickness_um | thickness in micrometres (1 mil is 25.4) | 50
FilmSpec.tint | colour seen through it | grey
FilmSpec.rated | the numbers on its sheet | solar_transmittance_percent: 35
FilmSpec.claims | what the sheet or the seller says beyond the rated numbers; it is checked | \
infrared_rejected_percent: 90
FilmSpec.chart | limits typed from the film maker's chart; what is left out is asked about | max_area: 2.5 m2
FilmSpec.turn | no where it may only lie one way on the roll | yes
FilmSpec.rolls | how it can be bought | - width: 1524 mm
FilmSpec.life_years | how long it is expected to last | 12
FilmSpec.priced_on | day the prices were given | 2026-03-01
FilmSpec.note | anything worth knowing | ask the maker about laminated glass
Tax.name | what the tax is called | VAT
Tax.percent | its rate | 20
Tax.prices_include_it | yes if the rates above include it already | no
Prices.labour_per_hour | one person, one hour | 40
Prices.margin_percent | what is put on top | 25
Prices.margin_on | cost (so much on top of cost) or price (so much of the price) | cost
Prices.minimum_charge | the least a job costs | 150
Prices.travel | travel for the whole job | 35
Prices.soap_per_litre | mild clear soap | 6
Prices.blade_each | one blade | 0.40
Prices.sheet_each | one dust sheet | 2
Prices.tax | the tax on the quote | percent: 20
Prices.dated | day the rates were set | 2026-03-01
Client.name | name on the proposal | Ana Example
Client.address | lines of the address | - 1 Invented Street
Client.contact | telephone or e-mail | ana@example.com
Business.name | name on the proposal | Example Films
Business.address | lines of the address | - 2 Invented Street
Business.contact | telephone or e-mail | hello@example.com
Business.tax_number | tax number to print, if any | XX 000 000
Quote.number | number of the quote | Q-2026-07
Quote.date | its day | 2026-03-31
Quote.valid_until | the last day it holds | 2026-04-30
Quote.deposit_percent | share of the total asked for before buying film | 40
Quote.terms | sentences to print | - The balance is due on the day of fitting.
Survey.measured_by | who measured | Ana Example
Survey.measured_on | the day it was measured | 2026-02-20
Limits.darkest_visible_transmittance_percent | least daylight that must still pass | 40
Limits.most_mirrored_visible_reflectance_percent | most daylight the outside may send back | 20
Limits.must_have | what a film must have: uv (block it), no_metal, low_glare, neutral, inside | [uv]
Limits.budget | the most the job may cost, tax included | 1500
Choice.job | one film for all panes, or none | grey-40
Choice.faces | a film by face | {south: grey-40}
Choice.panes | a film by pane | {S1: none}
Fitting.method | trim_on_glass (cut a larger blank) or cut_to_size (on the table) | trim_on_glass
Fitting.edge_gap | bare glass left at each edge | 1.5 mm
Fitting.edge_gap_safety | the same for film of 200 µm and more; left out: edge_gap if given, else twice the usual | 3 mm
Fitting.trim_allowance | extra film on each side of a blank | 12 mm
Fitting.table | length of the cutting table | 2440 mm
Fitting.stages | 2 (across, then along) or 3 (one more trim) | 2
Fitting.fitter | trained or first_timer | trained
Fitting.spare | yes to cut a spare of the largest pane | no
Fitting.date | day of the work | 2026-05-04
Fitting.start | when work starts on the day, on the 24-hour clock | 08:00
Fitting.finish | when it ends | 17:00
Fitting.keep_offcut | width and length from which an off-cut is worth keeping | [400 mm, 600 mm]
Pane.id | short name of the pane, or of several alike | S1
Pane.room | the room it is in | kitchen
Pane.face | the face it is on | south
Pane.glazing | what it is glazed with | double
Pane.quantity | how many alike | 2
Pane.widths | width of the glass in sight, read at up to three places (width, width_2, width_3) | 35 5/8 in
Pane.heights | height, read at up to three places (height, height_2, height_3) | 1200 mm
Pane.diagonals | both diagonals (diagonal_1, diagonal_2); they show a crooked pane or a misread side | 1495 mm
Pane.sill | height of the glass's foot above the floor | 900 mm
Pane.overhang | how far an awning, roof or balcony stands out above the pane | 600 mm
Pane.overhang_above | from the head of the glass up to the overhang | 150 mm
Pane.left_fin | how far a wall or fin stands out, on the left seen from outside | 300 mm
Pane.left_fin_away | from the glass's edge to that fin | 50 mm
Pane.right_fin | the same on the right, seen from outside | 300 mm
Pane.right_fin_away | from the glass's edge to that fin | 50 mm
Pane.reveal | how deep the glass sits behind the face of the wall | 90 mm
Pane.horizon | the skyline before this pane, if not that of its face | hill
Pane.view_group | panes with the same word are seen together: one batch of film, one direction | shopfront
Pane.seam | where the film's butt seam goes if no roll is wide enough: from the left edge of the glass, seen \
from outside; several with & between | 600 & 1200
Pane.mullion | uprights in line with which a seam would show least, told in the same way | 900
Pane.frame | metal, plastic, timber or putty | metal
Pane.access | floor, step_ladder or tower | floor
Pane.escape | yes for a window that people are to escape through | no
Pane.collector | yes where it serves a solar collector or a room heated by the winter sun: no film | no
Pane.old_film | yes where old film must come off | no
Pane.edge | edge of the glass: cut (ordinary), worked (ground or polished) or damaged | cut
Pane.shadow | a shadow on part of the pane that no other column tells: none, still, moving or narrow | none
Pane.blind | yes if a blind or curtain hangs inside, close to the glass | no
Pane.heater | yes if a heater or blown air is close to the glass | no
Pane.dark_frame | yes if the frame is dark | no
Pane.fogged | yes if a sealed unit is fogged inside | no
Pane.plastic | yes if the pane is acrylic or polycarbonate, not glass | no
Pane.part_covered | yes if film is to cover, or can cover, part of the pane only: refused, it heats that part alone | no
Pane.film | a film for this pane alone, or none | none
Pane.photo | a photo of the pane, as its file in the job's folder (jpg, png or heic) | photos/S1.jpg
Pane.note | anything worth knowing | scratch at the left
"""

#: What a field is, and an example, by ``Record.field``.
FIELDS: dict[str, tuple[str, str]] = {}
for _line in _TABLE.strip().splitlines():
    _name, _what, _example = (part.strip() for part in _line.split(" | "))
    FIELDS[_name] = (_what, _example)

#: Columns of windows.csv that stand together for one field of a pane.
_COLUMN_FIELDS = {
    "width": "widths",
    "width_2": "widths",
    "width_3": "widths",
    "height": "heights",
    "height_2": "heights",
    "height_3": "heights",
    "diagonal_1": "diagonals",
    "diagonal_2": "diagonals",
}


def _entry(record: str, field: str) -> tuple[str, str] | None:
    return FIELDS.get(f"{record}.{_COLUMN_FIELDS.get(field, field) if record == 'Pane' else field}")


def what_of(record: str, field: str) -> str | None:
    """Return what a field or column means, or None where there is no note."""
    entry = _entry(record, field)
    return entry[0] if entry else None


def example_of(record: str, field: str) -> str | None:
    """Return an example of a field or column, or None where there is none."""
    entry = _entry(record, field)
    return entry[1] if entry else None
