"""Every column of the survey, the readings and the decisions counts, and so does what jobs share.

As with the fields of job.yaml: a change of each moves what the table names, never only what was typed.
"""

from __future__ import annotations

from reportkit.job.model import Decision, Reading
from reportkit.job.reading.survey import COLUMNS

#: Column | the change | where it shows, one or more parts | what the job must hold for it to count.
TABLE = """
Pane.id | panes.2.id: Z | pieces.pane doc:work
Pane.room | panes.2.room: office | options.peak_solar_w
Pane.face | panes.2.face: west | panes.annual_solar_kwh
Pane.glazing | panes.2.glazing: two | panes.annual_solar_kwh screens
Pane.quantity | panes.2.quantity: 3 | price.total labour
Pane.width | panes.0.width: 1100 mm | pieces.width_mm panes.area_m2
Pane.width_2 | panes.0.width_2: 1203 mm | pieces.width_mm
Pane.width_3 | panes.0.width_3: 1203 mm | pieces.width_mm | panes.0.width_2: 1201 mm
Pane.height | panes.0.height: 1300 mm | pieces.height_mm panes.area_m2
Pane.height_2 | panes.0.height_2: 1403 mm | pieces.height_mm
Pane.height_3 | panes.0.height_3: 1403 mm | pieces.height_mm | panes.0.height_2: 1401 mm
Pane.shape | panes.0.shape: arch 400 mm | panes.area_m2 panes.annual_solar_kwh labour screens.reasons \
doc:panes doc:cutting doc:work
Pane.diagonal_1 | panes.0.diagonal_1: 1836 mm | pieces | panes.0: SQUARE, fitting.method: cut_to_size
Pane.diagonal_2 | panes.0.diagonal_2: 1836 mm | pieces | panes.0: SQUARE, fitting.method: cut_to_size
Pane.sill | panes.0.sill: 100 mm, panes.1.sill: 100 mm | by_window.options
Pane.overhang | panes.0.overhang: 900 mm | panes.annual_solar_kwh
Pane.overhang_above | panes.0.overhang_above: 900 mm | panes.annual_solar_kwh | panes.0.overhang: 900 mm
Pane.left_fin | panes.1.left_fin: 900 mm | panes.annual_solar_kwh
Pane.left_fin_away | panes.1.left_fin_away: 900 mm | panes.annual_solar_kwh | panes.1.left_fin: 900 mm
Pane.right_fin | panes.1.right_fin: 900 mm | panes.annual_solar_kwh
Pane.right_fin_away | panes.1.right_fin_away: 900 mm | panes.annual_solar_kwh | panes.1.right_fin: 900 mm
Pane.reveal | panes.0.reveal: 200 mm | panes.annual_solar_kwh
Pane.horizon | panes.0.horizon: hill | panes.annual_solar_kwh
Pane.view_group | panes.1.view_group: front | cutting | panes.0.view_group: front, ROLLS
Pane.seam | panes.0.seam: 700 mm | pieces.seams_mm | WIDE
Pane.mullion | panes.0.mullion: 700 mm | pieces.seams_mm | WIDE
Pane.frame | panes.0.frame: timber | labour
Pane.access | panes.0.access: tower | labour cautions
Pane.old_film | panes.0.old_film: yes | labour cautions doc:work
Pane.escape | panes.0.escape: yes | cautions
Pane.collector | panes.0.collector: yes | options.bare_because
Pane.opens | panes.0.opens: yes | options.cooling_kwh doc:rooms
Pane.opens_percent | panes.0.opens_percent: 90 | options.cooling_kwh doc:rooms | panes.0.opens: null
Pane.edge | panes.0.edge: damaged | screens
Pane.shadow | panes.0.shadow: moving | screens.reasons
Pane.blind | panes.0.blind: yes | panes.screen
Pane.heater | panes.0.heater: yes | screens.reasons
Pane.dark_frame | panes.0.dark_frame: yes | screens.reasons
Pane.fogged | panes.1.fogged: yes | screens.reasons
Pane.plastic | panes.0.plastic: yes | screens.reasons
Pane.part_covered | panes.0.part_covered: yes | screens.reasons
Pane.film | panes.0.film: silver | price.lines
Pane.photo | panes.0.photo: A.jpg | doc:panes doc:cutting
Pane.photo_corners | panes.0.photo_corners: 10 x 10 & 60 x 10 & 60 x 60 & 10 x 60 | doc:building | \
panes.0.photo: A.jpg
Pane.photo_from | panes.0.photo_from: outside | doc:building | panes.0.photo: A.jpg, \
panes.0.photo_corners: 10 x 10 & 60 x 10 & 60 x 60 & 10 x 60
Pane.note | panes.0.note: scratch at the left | doc:work
Reading.time | readings.0.time: "2026-04-24 16:10" | readings.compared.expected
Reading.meter | readings.0.meter: sun | readings.compared.share
Reading.pane | readings.0.pane: B | readings.compared.share
Reading.filmed | readings.0.filmed: 9000 | readings.compared.share
Reading.beside | readings.0.beside: C | readings.left_out
Reading.bare | readings.0.bare: 90000 | readings.compared.share
Reading.note | readings.0.note: thin cloud | doc:readings
Decision.date | decisions.0.date: 2026-03-09 | doc:decided | DECIDED
Decision.who | decisions.0.who: Ana Example | doc:decided | DECIDED
Decision.films | decisions.0.films: {job: grey} | price.lines doc:decided | DECIDED
Decision.panes_out | decisions.0.panes_out: {C: a poster} | price.lines doc:decided | DECIDED
Decision.overrides | decisions.0.overrides: more light | doc:decided | DECIDED
Decision.set_points | decisions.0.set_points: {office: 22 C} | rooms doc:decided | DECIDED
Decision.electricity_rate | decisions.0.electricity_rate: 0.9 | options.saving_per_year doc:decided | DECIDED
Decision.budget | decisions.0.budget: 300 | which_panes.within_budget doc:decided | DECIDED
Decision.note | decisions.0.note: two samples shown | doc:decided | DECIDED
shared.films | shared.films.films.0.tint: bronze | doc:views | films.0.tint: null, \
shared.films: {currency: EUR, films: [{id: grey, tint: grey}]}
shared.films.rolls | shared.films.films.0.rolls.0.price_per_m: 50 | price.lines | films.0.rolls: null, \
shared.films: {currency: EUR, films: [{id: grey, rolls: SOLD}]}
shared.glazings | shared.glazings.glazings.0.lites: [{thickness_mm: 10}] | glazings | \
glazings.0: {id: one}, shared.glazings: {glazings: [{id: one, lites: [{thickness_mm: 6}]}]}
shared.prices | shared.prices.travel: 90 | price.lines | \
prices.travel: null, shared.prices: {currency: EUR, travel: 20}
"""

#: What several lines give, by its word.
WORDS = {
    "SQUARE": "{id: A, room: office, face: south, glazing: one, width: 1200 mm, height: 1400 mm, "
    "diagonal_1: 1844 mm, diagonal_2: 1844 mm}",
    "ROLLS": "films.0.rolls: [{width: 1524 mm, length: 30 m, price_per_m: 25, step: 0.1 m}, "
    "{width: 1220 mm, length: 30 m, price_per_m: 14, step: 0.1 m}]",
    "WIDE": "panes.0.width: 2000 mm, panes.0.height: 1700 mm",
    "DECIDED": "decisions: [{date: 2026-03-05, films: {job: silver}}]",
    "SOLD": "[{width: 1524 mm, length: 30 m, price_per_m: 99}]",
}

#: Columns that do nothing yet, and why.
PENDING: dict[str, str] = {}


def test_every_column_has_a_line() -> None:
    """Each column that a person may fill in stands in the table, and nothing else does."""
    walked = {line.split(" | ")[0] for line in TABLE.strip().splitlines()}
    wanted = {f"Pane.{column}" for column in COLUMNS}
    wanted |= {f"{kind.__name__}.{name}" for kind in (Reading, Decision) for name in kind.model_fields}
    assert walked == wanted | {name for name in walked if name.startswith("shared.")}


def test_a_column_counts(line, walk) -> None:
    """A change of one column moves each part of the results or documents that the table names."""
    assert not walk.unmoved(line)
