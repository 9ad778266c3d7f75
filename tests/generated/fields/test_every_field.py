"""Every field of job.yaml counts: changed in a job where it should, it moves what the table names.

The table is held to the fields that the schema documents, so that a new field without a line fails. No line
may look at the job as read or at the list of assumptions: both repeat a value that nothing else uses.
"""

from __future__ import annotations

from reportkit.job import schema
from reportkit.job.model import Job
from reportkit.job.model.about import record_in

#: Field | the change | where it shows, one or more parts | what the job must hold for it to count.
TABLE = """
Job.id | id: other | frame ics
Job.title | title: Other rooms | frame ics
Job.invented | invented: no | doc:summary
Job.units | units: us | doc:work doc:price
Job.language | language: es | frame doc:price ics
Job.locale | locale: de_DE | doc:price
Job.currency | currency: USD | doc:price
Job.paper | paper: letter | frame
Job.rating | rating: en | glazings
Job.recommend | recommend: lowest_price | choice.recommended | \
films.0.rated.solar_transmittance_percent: 22, \
films.0.rated.shgc: null, films.0.rated.tser_percent: null
Job.compare | compare: [grey] | options
Approval.film | approvals.0.film: silver | price.total | APPROVED
Approval.glazing | approvals.0.glazing: two | price.total | APPROVED
Approval.panes | approvals.0.panes: [A] | price.total | APPROVED, approvals.0.glazing: null, \
approvals.0.panes: [A, C]
Approval.by | approvals.0.by: B. Example | panes.screen doc:verdicts | APPROVED
Approval.date | approvals.0.date: 2026-02-10 | panes.screen doc:verdicts | APPROVED
Approval.file | approvals.0.file: windows.csv | panes.screen doc:verdicts | APPROVED
Site.place | site.place: Elsewhere | doc:weather
Site.latitude | site.latitude: 45 | faces.peak_w_m2 | CLEAR
Site.longitude | site.longitude: -12 | panes.peak_solar_w | CLEAR
Site.elevation_m | site.elevation_m: 2500 | faces.peak_w_m2 | CLEAR
Site.clock | site.clock: Europe/Madrid | bad_day.time | CLEAR
Site.ground_albedo | site.ground_albedo: 0.6 | panes.annual_solar_kwh
WeatherChoice.use | weather.use: clear_days | weather.kind | site: {latitude: 25.8, longitude: -80.3}
WeatherChoice.name | weather.name: greensboro | faces.annual_kwh_m2
WeatherChoice.file | weather.file: 703165TY.csv | faces.annual_kwh_m2 | \
weather: {use: file, file: 723170TYA.CSV}
WeatherChoice.normals | weather.normals.sun_kwh_m2_day: SUN2 | faces.annual_kwh_m2 | NORMALS
Normals.mean_c | weather.normals.mean_c: MEAN2 | rooms | NORMALS
Normals.daily_range_k | weather.normals.daily_range_k: RANGE2 | rooms | NORMALS
Normals.sun_kwh_m2_day | weather.normals.sun_kwh_m2_day: SUN2 | faces.annual_kwh_m2 | NORMALS
Normals.source | weather.normals.source: Other almanac | weather.source | NORMALS
Complaint.text | complaint.text: Too bright by two | doc:summary
Complaint.kinds | complaint.kinds: [fading] | choice.candidates.relief
Complaint.room | complaint.room: store | options.peak_solar_w
Room.id | rooms.1.id: depot, panes.2.room: depot | panes.room
Room.name | rooms.1.name: Depot | doc:work
Room.heat | rooms.0.heat: null | rooms
Building.country | building.country: US | cautions | building.year_built: 1960
Building.year_built | building.year_built: 2015 | cautions | panes.0.frame: timber
Building.paid_work | building.paid_work: yes | cautions
Building.tenure | building.tenure: tenant | cautions
Building.listed | building.listed: yes | cautions
Building.plants | building.plants: yes | cautions
Building.alarm_sensors | building.alarm_sensors: yes | cautions doc:work
Building.radio | building.radio: yes | cautions
Building.vinyl_siding | building.vinyl_siding: yes | cautions
Body.floor_area | rooms.0.heat.floor_area: 60 m2 | rooms
Body.ceiling | rooms.0.heat.ceiling: 4 m | rooms
Body.mass | rooms.0.heat.mass: very_heavy | rooms
Body.heat_capacity_kj_m2k | rooms.0.heat.heat_capacity_kj_m2k: 400 | options.cooling_kwh
Body.walls | rooms.0.heat.walls: insulated | rooms
Body.wall_u_w_m2k | rooms.0.heat.wall_u_w_m2k: 0.3 | rooms
Body.wall_area | rooms.0.heat.wall_area: 60 m2 | rooms
Body.roof | rooms.0.heat.roof: uninsulated | rooms
Body.roof_u_w_m2k | rooms.0.heat.roof_u_w_m2k: 2 | rooms
Body.leakage | rooms.0.heat.leakage: leaky | rooms
Body.air_changes_per_h | rooms.0.heat.air_changes_per_h: 3 | rooms
Body.use | rooms.0.heat.use: shop | rooms
Body.internal_gains_w_m2 | rooms.0.heat.internal_gains_w_m2: 30 | options.cooling_kwh
Body.opened_above | rooms.0.heat.opened_above: 24 C | options.cooling_kwh doc:rooms | OPENED
Body.open_by_night | rooms.0.heat.open_by_night: yes | options.cooling_kwh cautions doc:rooms | OPENED
Body.night_fan | rooms.0.heat.night_fan: 500 m3/h | options.cooling_kwh doc:rooms
Body.night_hours | rooms.0.heat.night_hours: [1, 4] | options.cooling_kwh doc:rooms | \
rooms.0.heat.night_fan: 500 m3/h
Body.occupied_hours | rooms.0.heat.occupied_hours: [0, 24] | rooms
Body.too_hot | rooms.0.heat.too_hot: 24 C | doc:rooms options.hot_hours
Body.cooling | rooms.0.heat.cooling: null | rooms
Body.heating | rooms.0.heat.heating: null | rooms
Cooling.set_point | rooms.0.heat.cooling.set_point: 22 C | rooms
Cooling.capacity | rooms.0.heat.cooling.capacity: 400 W | rooms
Cooling.efficiency | rooms.0.heat.cooling.efficiency: 5 | options.saving_per_year
Heating.set_point | rooms.0.heat.heating.set_point: 18 C | rooms
Heating.setback | rooms.0.heat.heating.setback: 15 C | rooms
Heating.setback_hours | rooms.0.heat.heating.setback_hours: [10, 16] | rooms | \
rooms.0.heat.heating.setback: 15 C
Heating.capacity | rooms.0.heat.heating.capacity: 200 W | rooms | weather.name: greensboro
Heating.fuel | rooms.0.heat.heating.fuel: electricity | options.saving_per_year
Heating.efficiency | rooms.0.heat.heating.efficiency: 0.5 | options.saving_per_year
Energy.electricity | energy.electricity: null | options.saving_per_year
Energy.fuels | energy.fuels: [{id: gas, rate: 0.5}] | options.saving_per_year
Energy.growth_percent | energy.growth_percent: [2, 5, 9] | options.npv
Energy.discount_percent | energy.discount_percent: 8 | options.npv
Energy.years | energy.years: 25 | options.npv
Energy.removal | energy.removal: 400 | options.npv
Energy.priced_on | energy.priced_on: 2025-01-02 | doc:worth
Electricity.rate | energy.electricity.rate: 0.6 | options.saving_per_year
Electricity.tiers | energy.electricity: {tiers: [{rate: 0.1, up_to_kwh: 60}, {rate: 0.5}]} | \
options.saving_per_year
Electricity.periods | energy.electricity: {periods: [{name: all, rate: 0.6}]} | options.saving_per_year
Electricity.demand | energy.electricity.demand: [{name: peak, rate_per_kw: 9}] | options.saving_per_year
Electricity.fixed_per_month | energy.electricity.fixed_per_month: 30 | choice.candidates.relief | \
complaint.kinds: [bills]
Electricity.kg_co2_per_kwh | energy.electricity.kg_co2_per_kwh: 0.9 | options.co2_kg
TierSpec.rate | energy.electricity.tiers.1.rate: 0.9 | options.saving_per_year | TIERS
TierSpec.up_to_kwh | energy.electricity.tiers.0.up_to_kwh: 120 | options.saving_per_year | TIERS
PeriodSpec.name | energy.electricity.periods.0.name: evening | doc:worth | PERIODS
PeriodSpec.rate | energy.electricity.periods.0.rate: 0.9 | options.saving_per_year | PERIODS
PeriodSpec.tiers | energy.electricity.periods.1: {name: rest, tiers: [{rate: 0.2, up_to_kwh: 20}, \
{rate: 0.7}]} | \
options.saving_per_year | PERIODS
PeriodSpec.months | energy.electricity.periods.0.months: [1, 2] | options.saving_per_year | PERIODS
PeriodSpec.hours | energy.electricity.periods.0.hours: [6, 8] | options.saving_per_year | PERIODS
PeriodSpec.weekdays | energy.electricity.periods.0.weekdays: weekends | options.saving_per_year | PERIODS
DemandSpec.name | energy.electricity.demand.0.name: peak | doc:worth | DEMAND
DemandSpec.rate_per_kw | energy.electricity.demand.0.rate_per_kw: 20 | options.saving_per_year | DEMAND
DemandSpec.months | energy.electricity.demand.0.months: [1] | options.saving_per_year | DEMAND
DemandSpec.hours | energy.electricity.demand.0.hours: [6, 9] | options.saving_per_year | DEMAND
DemandSpec.weekdays | energy.electricity.demand.0.weekdays: weekends | options.saving_per_year | DEMAND
FuelSpec.id | energy.fuels.0.id: other, rooms.0.heat.heating.fuel: other | doc:worth
FuelSpec.rate | energy.fuels.0.rate: 0.5 | options.saving_per_year
FuelSpec.unit | energy.fuels.0.unit: MJ | options.saving_per_year
FuelSpec.kwh_per_unit | energy.fuels.0.kwh_per_unit: 20 | options.saving_per_year | energy.fuels.0.unit: L, \
energy.fuels.0.kwh_per_unit: 10
FuelSpec.kg_co2_per_kwh | energy.fuels.0.kg_co2_per_kwh: 0.9 | options.co2_kg
ShadeSpec.kind | shades.0.kind: inside_white_blind | options.peak_solar_w | \
shades: [{kind: outside_screen, price: 900}]
ShadeSpec.price | shades.0.price: 2000 | options.cost | shades: [{kind: outside_screen, price: 900}]
ShadeSpec.depth | shades.0.depth: 2 m | options.peak_solar_w | shades: [{kind: awning, depth: 600 mm}]
Horizon.id | horizons.0.id: ridge, faces.0.horizon: null | panes.annual_solar_kwh | faces.0.horizon: hill
Horizon.points | horizons.0.points: [[150, 5], [180, 60], [210, 5]] | panes.annual_solar_kwh | \
faces.0.horizon: hill
Horizon.trees | horizons.0.trees: [{bearing: 200, distance: 9 m, above: 9 m, width: 9 m}] | \
panes.annual_solar_kwh | faces.0.horizon: hill
Tree.bearing | horizons.0.trees.0.bearing: 140 | panes.annual_solar_kwh | TREE
Tree.distance | horizons.0.trees.0.distance: 20 m | panes.annual_solar_kwh | TREE
Tree.above | horizons.0.trees.0.above: 20 m | panes.annual_solar_kwh | TREE
Tree.width | horizons.0.trees.0.width: 20 m | panes.annual_solar_kwh | TREE
Tree.leafless_months | horizons.0.trees.0.leafless_months: [12, 1] | panes.annual_solar_kwh | TREE
Horizon.leafless_months | horizons.1.leafless_months: [6] | panes.annual_solar_kwh | faces.1.horizon: trees
Horizon.leafless_transmittance | horizons.1.leafless_transmittance: 0.1 | panes.annual_solar_kwh | \
faces.1.horizon: trees
Face.id | faces.1.id: back, panes.1.face: back | panes.face
Face.name | faces.1.name: Garden | doc:sun
Face.bearing | faces.1.bearing: 300 | panes.annual_solar_kwh
Street.points | faces.1.street.points: [[25.80000, -80.30000], [25.80100, -80.29900]] | \
panes.annual_solar_kwh | faces.1.bearing: null, STREET
Street.side | faces.1.street.side: right | panes.annual_solar_kwh | faces.1.bearing: null, STREET
Grazing.date | faces.1.grazing.date: 2026-06-21 | panes.annual_solar_kwh | faces.1.bearing: null, GRAZING
Grazing.time | faces.1.grazing.time: 17:30 | panes.annual_solar_kwh | faces.1.bearing: null, GRAZING
Grazing.sun | faces.1.grazing.sun: goes | panes.annual_solar_kwh | faces.1.bearing: null, GRAZING
Compass.reading | faces.1.compass.reading: 300 | panes.annual_solar_kwh | faces.1.bearing: null, COMPASS
Compass.date | faces.1.compass.date: 2012-02-20 | panes.annual_solar_kwh | faces.1.bearing: null, COMPASS
Face.tilt | faces.1.tilt: 45 | panes.annual_solar_kwh
Face.horizon | faces.0.horizon: hill | panes.annual_solar_kwh
LiteSpec.thickness_mm | glazings.0.lites.0.thickness_mm: 10 | glazings
LiteSpec.glass | glazings.0.lites.0.glass: grey | glazings
LiteSpec.strength | glazings.0.lites.0.strength: tempered | screens cautions
LiteSpec.textured | glazings.0.lites.0.textured: front | screens | glazings.0.lites.0.strength: patterned
LiteSpectrum.file | glazings.0.lites.0.spectrum.file: glass.csv | spectra doc:claims doc:glass
LiteSpectrum.front | glazings.1.lites.1.spectrum.front: inside | glazings.shgc spectra doc:claims | \
glazings.1.lites.1.spectrum: {file: coated.csv, front: outside}
GapSpec.width_mm | glazings.1.gaps.0.width_mm: 8 | glazings.u_w_m2k
GapSpec.gas | glazings.1.gaps.0.gas: krypton | glazings.u_w_m2k
GapSpec.fill_percent | glazings.1.gaps.0.fill_percent: 50 | glazings.u_w_m2k
CoatingSpec.kind | glazings.1.coating.kind: soft_low_e | glazings.u_w_m2k
CoatingSpec.surface | glazings.1.coating.surface: 2 | glazings.shgc
GlazingSpec.id | glazings.1.id: pair, panes.1.glazing: pair | glazings.id
GlazingSpec.name | glazings.1.name: Pair | doc:glass
GlazingSpec.lites | glazings.0.lites.0.thickness_mm: 10 | glazings
GlazingSpec.gaps | glazings.1.gaps.0.width_mm: 8 | glazings
GlazingSpec.coating | glazings.1.coating: null | glazings
GlazingSpec.second_coating | glazings.1.second_coating: {kind: soft_low_e, surface: 2} | glazings.u_w_m2k \
glazings.shgc
FrameSpec.width | glazings.0.frame.width: 150 mm | rooms.frames_w_k options.cooling_kwh
FrameSpec.u_w_m2k | glazings.0.frame.u_w_m2k: 1.2 | rooms.frames_w_k options.cooling_kwh
FrameSpec.spacer_w_mk | glazings.1.frame.spacer_w_mk: 0.2 | rooms.frames_w_k options.cooling_kwh
KnownSpec.conditions | glazings.1.known.conditions: en | glazings.u_w_m2k doc:glass | \
glazings.1.known.u_w_m2k: 1.8
KnownSpec.u_w_m2k | glazings.1.known.u_w_m2k: 1.8 | glazings.u_w_m2k doc:glass
KnownSpec.shgc | glazings.0.known.shgc: 0.8 | glazings.shgc options.peak_solar_w doc:glass
KnownSpec.visible_transmittance_percent | glazings.0.known.visible_transmittance_percent: 90 | \
glazings.t_visible doc:glass
KnownSpec.solar_transmittance_percent | glazings.0.known.solar_transmittance_percent: 79 | \
glazings.t_solar options.peak_solar_w doc:glass
KnownSpec.emissivity | glazings.1.known.emissivity: 0.1 | glazings.u_w_m2k doc:glass
GlazingSpec.year | glazings.1.year: 1960 | cautions
GlazingSpec.note | glazings.0.note: fogged at the foot | doc:work
RatedValues.on_thickness_mm | films.0.rated.on_thickness_mm: 6 | glazings.shgc
RatedValues.on_solar_transmittance_percent | films.0.rated.on_solar_transmittance_percent: 86 | glazings.shgc
RatedValues.on_glass | films.0.rated.on_glass: grey | glazings.shgc
RatedValues.conditions | films.0.rated.conditions: en | claims.findings | films.0.rated.shgc: 0.3
RatedValues.solar_transmittance_percent | films.0.rated.solar_transmittance_percent: 30 | glazings.shgc
RatedValues.solar_reflectance_glass_side_percent | \
films.0.rated.solar_reflectance_glass_side_percent: 15 | glazings.shgc
RatedValues.solar_reflectance_film_side_percent | films.0.rated.solar_reflectance_film_side_percent: 20 | \
glazings.shgc | \
films.0.side: outside, films.0.film_class: exterior
RatedValues.visible_transmittance_percent | films.0.rated.visible_transmittance_percent: 30 | \
glazings.t_visible
RatedValues.visible_reflectance_glass_side_percent | \
films.0.rated.visible_reflectance_glass_side_percent: 12 | \
glazings.r_visible_out
RatedValues.visible_reflectance_film_side_percent | \
films.0.rated.visible_reflectance_film_side_percent: 20 | \
glazings.r_visible_in
RatedValues.uv_transmittance_percent | films.0.rated.uv_transmittance_percent: 20 | glazings.t_uv
RatedValues.shgc | films.0.rated.shgc: 0.3 | claims.findings
RatedValues.tser_percent | films.0.rated.tser_percent: 70 | claims.findings
RatedValues.emissivity | films.0.rated.emissivity: 0.2 | glazings.u_w_m2k
FilmSpectrum.file | films.0.spectrum.file: other.csv | glazings.shgc spectra doc:claims doc:glass | FILM_FILE
FilmSpectrum.front | films.0.spectrum.front: film | glazings.r_visible_out spectra doc:claims | FILM_FILE
FilmSpectrum.glass_file | films.0.spectrum.glass_file: glass.csv | glazings.shgc spectra doc:claims | \
FILM_FILE
Claims.solar_absorptance_percent | films.0.claims.solar_absorptance_percent: 80 | claims.findings
Claims.shading_coefficient | films.0.claims.shading_coefficient: 0.3 | claims.findings
Claims.light_to_solar_gain | films.0.claims.light_to_solar_gain: 2 | claims.findings
Claims.tser_sun_angle_deg | films.0.claims.tser_sun_angle_deg: 60 | claims.findings
Claims.infrared_rejected_percent | films.0.claims.infrared_rejected_percent: 97 | claims.findings
Claims.infrared_band_nm | films.0.claims.infrared_band_nm: [900, 1000] | claims.findings | \
films.0.claims.infrared_rejected_percent: 97
Claims.fading_reduced_percent | films.0.claims.fading_reduced_percent: 99 | claims.findings
Chart.max_area | films.0.chart.max_area: 0.5 m2 | screens.reasons
Chart.max_side | films.0.chart.max_side: 500 mm | screens.reasons
Chart.max_thickness_mm | films.0.chart.max_thickness_mm: 4 | screens.reasons
Chart.max_altitude_m | films.0.chart.max_altitude_m: 200 | screens.reasons | site.elevation_m: 900
Chart.max_age_years | films.0.chart.max_age_years: 5 | screens.reasons | glazings.1.year: 1990
Chart.max_slope_deg | films.0.chart.max_slope_deg: 15 | screens.reasons | faces.0.tilt: 60
Chart.max_absorptance_percent | films.0.chart.max_absorptance_percent: 20 | screens.reasons
Chart.tinted | films.0.chart.tinted: no | screens.reasons | glazings.0.lites.0.glass: grey
Chart.laminated | films.0.chart.laminated: no | screens.reasons | \
glazings.0.lites.0: {thickness_mm: 6.4, strength: laminated}
Chart.wired | films.0.chart.wired: no | screens.reasons | glazings.0.lites.0.strength: wired
Chart.patterned | films.0.chart.patterned: no | screens.reasons | \
glazings.0.lites.0: {thickness_mm: 6, strength: patterned, textured: front}
Chart.three_panes | films.0.chart.three_panes: no | screens.reasons | THREE
Chart.fogged | films.0.chart.fogged: no | screens.reasons | panes.1.fogged: yes
Chart.plastic | films.0.chart.plastic: yes | screens.reasons | panes.0.plastic: yes
Chart.shadows | films.0.chart.shadows: no | screens.reasons | panes.0.shadow: moving
Chart.heaters | films.0.chart.heaters: no | screens.reasons | panes.0.heater: yes
Chart.dark_frames | films.0.chart.dark_frames: no | screens.reasons | panes.0.dark_frame: yes
RollOffer.width | films.0.rolls.0.width: 1829 mm | cutting | \
films.0.rolls.1: {width: 914 mm, length: 30 m, price: 900}
RollOffer.length | films.0.rolls.1.length: 30 m | cutting | films.0.rolls.1.price: 60
RollOffer.pack | films.0.rolls.1.pack: 3 | cutting | films.0.rolls.1.price: 60
RollOffer.price | films.0.rolls.1.price: 50 | price.lines
RollOffer.price_per_m | films.0.rolls.0.price_per_m: 30 | price.lines
RollOffer.price_per_ft | films.0.rolls.0.price_per_ft: 9 | price.lines | films.0.rolls.0.price_per_m: null, \
films.0.rolls.0.price_per_ft: 7
RollOffer.step | films.0.rolls.0.step: 700 mm | price.lines
RollOffer.stock_paid | films.0.rolls.1.stock_paid: 100 | price.lines | films.0.rolls.1.in_stock: 1
RollOffer.in_stock | films.0.rolls.1.in_stock: 1 | price.lines
FilmSpec.id | films.0.id: dark, choice.job: dark | options.id
FilmSpec.name | films.0.name: Dark | doc:price
FilmSpec.film_class | films.0.film_class: dual_reflective | cautions
FilmSpec.invented | films.0.invented: no | doc:summary | invented: no
FilmSpec.side | films.0.side: outside | glazings.shgc labour
FilmSpec.thickness_um | films.0.thickness_um: 200 | labour
FilmSpec.spec | films.0.spec: UV transmittance 20 % | glazings.t_uv | \
films.0.rated.uv_transmittance_percent: null
FilmSpec.tint | films.0.tint: bronze | doc:views
FilmSpec.turn | films.0.turn: no | cutting | \
panes.0.width: 1600 mm, films.0.rolls.1: {width: 1829 mm, length: 30 m, \
price_per_m: 90}
FilmSpec.life_years | films.0.life_years: 6 | options.npv
FilmSpec.priced_on | films.0.priced_on: 2025-01-02 | doc:price
FilmSpec.note | films.0.note: ask the maker | doc:work
Tax.name | prices.tax.name: GST | doc:price
Tax.percent | prices.tax.percent: 7 | price.total
Tax.prices_include_it | prices.tax.prices_include_it: yes | price.total
Prices.labour_per_hour | prices.labour_per_hour: 90 | price.total
Prices.margin_percent | prices.margin_percent: 30 | price.total
Prices.margin_on | prices.margin_on: price | price.total
Prices.film_charged | prices.film_charged: length_used | price.total
Prices.overtime_after_hours | prices.overtime_after_hours: 1 | price.total
Prices.overtime_percent | prices.overtime_percent: 90 | price.total | prices.overtime_after_hours: 1
Prices.call_out | prices.call_out: 40 | price.total
AreaRate.per_m2 | prices.area_rates.0.per_m2: 90 | price.total | prices.area_rates: [{per_m2: 60}]
AreaRate.per_ft2 | prices.area_rates.0.per_ft2: 9 | price.total | prices.area_rates: [{per_ft2: 6}]
AreaRate.up_to | prices.area_rates.0.up_to: 2 m2 | price.total | \
prices.area_rates: [{per_m2: 60, up_to: 1 m2}, {per_m2: 40}]
AreaRate.panes | prices.area_rates.0.panes: [tower] | price.total doc:price | panes.0.frame: timber, \
prices.area_rates: [{per_m2: 90, panes: [timber]}, {per_m2: 60}]
Prices.shapes_counted | prices.shapes_counted: box | price.total doc:price | \
prices.area_rates: [{per_m2: 60}], \
panes.0.shape: arch 400 mm
Prices.minimum_charge | prices.minimum_charge: 2000 | price.total
Prices.travel | prices.travel: 80 | price.total
Prices.soap_per_litre | prices.soap_per_litre: 60 | price.total
Prices.blade_each | prices.blade_each: 5 | price.total
Prices.sheet_each | prices.sheet_each: 5 | price.total
Prices.dated | prices.dated: 2025-01-02 | doc:price
Client.name | client.name: Bo Example | frame doc:acceptance
Client.address | client.address: [9 Invented Street] | frame doc:work ics
Client.contact | client.contact: bo@example.com | doc:work
Business.name | business.name: Other Films | frame doc:acceptance ics
Business.address | business.address: [8 Invented Street] | doc:acceptance
Business.contact | business.contact: hi@example.com | doc:acceptance
Business.tax_number | business.tax_number: XX 1 | doc:acceptance
Quote.number | quote.number: Q-9 | frame doc:acceptance ics
Quote.date | quote.date: 2026-03-09 | frame doc:acceptance ics
Quote.valid_until | quote.valid_until: 2026-04-30 | doc:acceptance
Quote.deposit_percent | quote.deposit_percent: 40 | price.deposit doc:acceptance
Quote.shown | quote.shown: sum | price.lines doc:price
Extra.text | quote.extras.0.text: Parking | doc:price | EXTRAS
Extra.quantity | quote.extras.0.quantity: 3 | price.total | EXTRAS
Extra.unit | quote.extras.0.unit: weeks | doc:price | EXTRAS
Extra.price | quote.extras.0.price: 90 | price.total | EXTRAS
Discount.percent | quote.discount.percent: 10 | price.total | quote.discount: {percent: 5, reason: a friend}
Discount.amount | quote.discount.amount: 60 | price.total | quote.discount: {amount: 50, reason: a friend}
Discount.reason | quote.discount.reason: winter | doc:price | quote.discount: {amount: 50, reason: a friend}
Quote.terms | quote.terms: [Pay at once.] | doc:acceptance
Quote.warranty | quote.warranty: [Our work for two years.] | doc:promises
Survey.measured_by | survey.measured_by: Bo Example | doc:work
Sent.date | status.offered.1.date: 2026-03-07 | revision.since doc:revised | OFFERED
Sent.run | status.offered.1.run: 1 | revision.not_compared doc:revised | OFFERED
Accepted.date | status.accepted.date: 2026-03-09 | doc:work | OFFERED
Accepted.run | status.accepted.run: 1 | revision.since doc:revised | OFFERED
Accepted.way | status.accepted.way: Another way | doc:work | OFFERED
Accepted.note | status.accepted.note: by telephone | doc:work | OFFERED
Status.fitted | status.fitted: 2026-04-01 | doc:found jobs
Status.reviewed | status.reviewed: 2026-04-20 | jobs
Survey.measured_on | survey.measured_on: 2026-02-20 | doc:work
Limits.darkest_visible_transmittance_percent | limits.darkest_visible_transmittance_percent: 50 | \
options.excluded
Limits.most_mirrored_visible_reflectance_percent | limits.most_mirrored_visible_reflectance_percent: 10 | \
options.excluded
Limits.must_have | limits.must_have: [no_metal] | choice.candidates
Limits.budget | limits.budget: 300 | which_panes.within_budget
Alternative.name | alternatives.0.name: Another way | doc:ways | WAYS
Alternative.films | alternatives.0.films: {panes: {A: silver}} | ways.films ways.total doc:ways | WAYS
Choice.job | choice.job: silver | price.lines
Choice.faces | choice.faces: {west: silver} | price.lines
Choice.panes | choice.panes: {C: none} | price.lines
Fitting.method | fitting.method: cut_to_size | pieces
Fitting.edge_gap | fitting.edge_gap: 4 mm | pieces.finished_width_mm
Fitting.edge_gap_safety | fitting.edge_gap_safety: 5 mm | pieces.finished_width_mm | films.0.thickness_um: 200
Fitting.trim_allowance | fitting.trim_allowance: 40 mm | pieces.width_mm
Fitting.table | fitting.table: 1000 mm | cutting
Fitting.stages | fitting.stages: 3 | cutting
Fitting.fitter | fitting.fitter: first_timer | labour
Fitting.crew | fitting.crew: 3 | labour doc:work
OwnMinutes.plain | fitting.minutes.plain: 60 | labour
OwnMinutes.large | fitting.minutes.large: 15 | labour | panes.0.width: 2000 mm
OwnMinutes.divided | fitting.minutes.divided: 5 | labour | panes.1.quantity: 6, panes.1.width: 300 mm, \
panes.1.height: 300 mm
OwnMinutes.old_film_per_m2 | fitting.minutes.old_film_per_m2: 50 | labour | panes.0.old_film: yes
OwnMinutes.set_up | fitting.minutes.set_up: 90 | labour
Fitting.spare | fitting.spare: yes | cutting
Fitting.date | fitting.date: 2026-04-13 | schedule ics
Fitting.start | fitting.start: 06:30 | schedule.slots ics
Fitting.finish | fitting.finish: 10:00 | schedule.slots
Fitting.first_label | fitting.first_label: 4 | doc:labels
Fitting.keep_offcut | fitting.keep_offcut: [200 mm, 200 mm] | cutting.offcuts
"""

#: What several lines give, by its word.
WORDS = {
    "APPROVED": "glazings.0.lites.0.strength: wired, approvals: [{film: grey, glazing: one, "
    "by: A. Example, date: 2026-02-20, file: A.jpg}]",
    "FILM_FILE": "films.0.spectrum: {file: film.csv, front: glass}",
    "OPENED": "panes.0.opens: yes, panes.1.opens: yes",
    "STREET": "faces.1.street: {points: [[25.80000, -80.30000], [25.80100, -80.30000]], side: left}",
    "TREE": "faces.0.horizon: hill, "
    "horizons.0.trees: [{bearing: 180, distance: 10 m, above: 12 m, width: 10 m}]",
    "GRAZING": "faces.1.grazing: {date: 2026-03-21, time: 16:30, sun: comes}",
    "COMPASS": "faces.1.compass: {reading: 260, date: 2026-02-20}",
    "CLEAR": "weather: {use: clear_days}, site: {latitude: 30, longitude: -15, elevation_m: 100, "
    "clock: Atlantic/Canary}",
    "NORMALS": "site: {latitude: 30, longitude: -15}, weather: {use: normals, normals: {mean_c: "
    "[10, 11, 13, 15, 18, 21, 24, 24, 22, 18, 14, 11], daily_range_k: [8, 8, 8, 8, 8, 8, 8, 8, 8, 8, 8, 8], "
    "sun_kwh_m2_day: SUN, source: Example almanac}}",
    "OFFERED": "status: {offered: [{date: 2026-03-04, run: 1}, {date: 2026-03-06}], "
    "accepted: {date: 2026-03-08}}",
    "EXTRAS": "quote.extras: [{text: Tower hire, quantity: 2, unit: days, price: 80}]",
    "SUN2": "[2.6, 3.5, 4.7, 5.9, 6.9, 7.3, 7.2, 6.6, 5.4, 4.1, 2.9, 2.3]",
    "SUN": "[2.5, 3.4, 4.6, 5.8, 6.8, 7.2, 7.1, 6.5, 5.3, 4.0, 2.8, 2.2]",
    "MEAN2": "[14, 15, 17, 19, 22, 25, 28, 28, 26, 22, 18, 15]",
    "RANGE2": "[12, 12, 12, 12, 12, 12, 12, 12, 12, 12, 12, 12]",
    "TIERS": "energy.electricity: {tiers: [{rate: 0.1, up_to_kwh: 60}, {rate: 0.5}]}",
    "PERIODS": "energy.electricity: {periods: [{name: day, rate: 0.5, months: [6, 7, 8], hours: [12, 18], "
    "weekdays: workdays}, {name: rest, rate: 0.2}]}",
    "DEMAND": "energy.electricity.demand: [{name: noon, rate_per_kw: 9, months: [6, 7, 8], hours: [12, 18], "
    "weekdays: workdays}]",
    "WAYS": "alternatives: [{name: A way, films: {job: silver}}]",
    "THREE": "glazings.1: {id: two, lites: [{thickness_mm: 4}, {thickness_mm: 4}, {thickness_mm: 4}], "
    "gaps: [{width_mm: 12}, {width_mm: 12}]}",
}

#: Fields that do nothing yet, and why.
PENDING: dict[str, str] = {}


def holders() -> set[str]:
    """Return the fields that hold records, which count by the fields of those."""
    found: set[str] = set()
    records = [Job]
    while records:
        record = records.pop()
        for name, field in record.model_fields.items():
            below, _ = record_in(field.annotation)
            if below is not None:
                found.add(f"{record.__name__}.{name}")
                records.append(below)
    return found


def test_every_documented_field_has_a_line() -> None:
    """A field of job.yaml that the schema documents stands in the table, and nothing else does."""
    full = schema()
    records = {"Job": full, **full["$defs"]}
    wanted = {f"{record}.{name}" for record, part in records.items() for name in part["properties"]}
    walked = {line.split(" | ")[0] for line in TABLE.strip().splitlines()}
    assert wanted - holders() - walked == set()
    assert walked - wanted == set()


def test_a_field_counts(line, walk) -> None:
    """A change of one field moves each part of the results or documents that the table names."""
    assert not walk.unmoved(line)


def test_the_same_job_twice_gives_the_same(walk) -> None:
    """Without a change nothing moves, so that a difference found above is the change's."""
    first, second = walk.given(""), walk.made("")
    every = {part for row in TABLE.strip().splitlines() for part in row.split(" | ")[2].split()}
    assert [part for part in sorted(every) if first[part] != second[part]] == []
