"""More of one thing is more, or not more, of another: the directions that are plain without computing.

Each line changes one field of the invented job and says which way a figure of the results must go. What each
rests on is plain physics or arithmetic; none needs a source.
"""

from __future__ import annotations

import json
import operator
from typing import Any

import pytest

#: What a word in the table asks of the figure after the change and the one before it.
WAYS = {"more": operator.gt, "less": operator.lt, "not more": operator.le, "not less": operator.ge}

#: Field | the change | which way it goes | what goes that way, summed where it is a list | what is given.
LAWS = """
Pane.overhang | panes.0.overhang: 900 mm | less | panes.annual_solar_kwh
Pane.overhang, deeper | panes.0.overhang: 1200 mm | less | panes.annual_solar_kwh | panes.0.overhang: 400 mm
Pane.reveal | panes.0.reveal: 200 mm | less | panes.annual_solar_kwh
Pane.left_fin | panes.1.left_fin: 900 mm | less | panes.annual_solar_kwh
Pane.right_fin | panes.1.right_fin: 900 mm | less | panes.annual_solar_kwh
Horizon.points | horizons.0.points: [[150, 5], [180, 60], [210, 5]] | less | panes.annual_solar_kwh | \
faces.0.horizon: hill
Site.ground_albedo | site.ground_albedo: 0.6 | more | panes.annual_solar_kwh
Pane.width | panes.0.width: 1300 mm | more | panes.annual_solar_kwh
Pane.quantity | panes.2.quantity: 3 | more | price.total
Prices.margin_percent | prices.margin_percent: 30 | more | price.total
Prices.margin_on | prices.margin_on: price | more | price.total
Prices.labour_per_hour | prices.labour_per_hour: 90 | more | price.total
Prices.travel | prices.travel: 80 | more | price.total
Prices.minimum_charge | prices.minimum_charge: 2000 | more | price.total
Prices.soap_per_litre | prices.soap_per_litre: 60 | more | price.total
Tax.percent | prices.tax.percent: 7 | less | price.total
Tax.prices_include_it | prices.tax.prices_include_it: yes | less | price.total
Quote.deposit_percent | quote.deposit_percent: 50 | more | price.deposit | quote.deposit_percent: 20
RollOffer.price_per_m | films.0.rolls.0.price_per_m: 60 | not less | price.total
RollOffer.in_stock | films.0.rolls.1.in_stock: 1 | not more | price.total
Fitting.trim_allowance | fitting.trim_allowance: 40 mm | more | pieces.width_mm
Fitting.trim_allowance, film | fitting.trim_allowance: 40 mm | more | cutting.used_m2
Fitting.edge_gap | fitting.edge_gap: 4 mm | less | pieces.finished_width_mm
Fitting.spare | fitting.spare: yes | more | cutting.used_m2
Fitting.fitter | fitting.fitter: first_timer | more | labour.person_min.likely
Pane.old_film | panes.0.old_film: yes | more | labour.person_min.likely
Pane.access | panes.0.access: tower | more | labour.person_min.likely
Heating.set_point | rooms.0.heat.heating.set_point: 18 C | less | options.heating_kwh.p50
Cooling.set_point | rooms.0.heat.cooling.set_point: 27 C | less | options.cooling_kwh.p50
Cooling.efficiency | rooms.0.heat.cooling.efficiency: 5 | less | options.saving_per_year.p50
Body.air_changes_per_h | rooms.0.heat.air_changes_per_h: 3 | more | options.heating_kwh.p50
Body.wall_u_w_m2k | rooms.0.heat.wall_u_w_m2k: 2 | more | options.heating_kwh.p50 | \
rooms.0.heat.wall_u_w_m2k: 0.3
Electricity.rate | energy.electricity.rate: 0.6 | more | options.saving_per_year.p50
Electricity.kg_co2_per_kwh | energy.electricity.kg_co2_per_kwh: 0.9 | more | options.co2_kg.p50
RatedValues.solar_transmittance_percent | films.0.rated.solar_transmittance_percent: 30 | less | glazings.shgc
RatedValues.visible_transmittance_percent | films.0.rated.visible_transmittance_percent: 30 | less | \
glazings.t_visible
RatedValues.emissivity | films.0.rated.emissivity: 0.2 | less | glazings.u_w_m2k
GapSpec.fill_percent | glazings.1.gaps.0.fill_percent: 50 | more | glazings.u_w_m2k
"""


def total(value: Any) -> float:
    """Return the sum of numbers, decimal strings and lists of them; what is withheld counts as nothing."""
    if isinstance(value, list):
        return sum(total(entry) for entry in value)
    return float(value or 0)


def read(made: Any, path: str) -> float:
    """Return the sum of what stands at a path of the results: ``options.cooling_kwh.p50``."""
    name, *keys = path.split(".")
    found = json.loads(made[name])
    for key in keys:
        found = [row and row[key] for row in found] if isinstance(found, list) else found[key]
    return total(found)


@pytest.mark.parametrize(
    "law",
    [tuple(part.strip() for part in row.split(" | ")) for row in LAWS.strip().splitlines()],
    ids="|".join,
)
def test_a_change_goes_the_way_it_must(law, walk) -> None:
    """The figure after the change stands to the one before it as the table says."""
    _, change, way, path, *given = law
    before, after = walk.given("".join(given)), walk.made("".join(given), change)
    assert WAYS[way](read(after, path), read(before, path))


def test_sun_rises_in_proportion_to_the_number_of_windows(walk) -> None:
    """Each two more of one window add the same sun to that of all panes."""
    sun = [
        json.loads(walk.made(f"panes.1.quantity: {count}")["options"])[0]["annual_solar_kwh"]
        for count in (2, 4, 6)
    ]
    assert sun[2] - sun[1] == pytest.approx(sun[1] - sun[0])
    assert sun[1] > sun[0]


def test_a_dark_limit_raised_lets_no_more_films_pass(walk) -> None:
    """The lower the darkest glass allowed, the more films stand within the limits."""
    passed = []
    for limit in (10, 30, 60):
        options = json.loads(walk.made(f"limits.darkest_visible_transmittance_percent: {limit}")["options"])
        passed.append(sum(not option["excluded"] for option in options))
    assert passed == sorted(passed, reverse=True)
    assert passed[0] > passed[-1]


def test_a_heavier_room_is_not_hotter_at_its_hottest(walk) -> None:
    """Mass takes up the sun of an afternoon: without cooling, its peak is no higher (ISO 52016-1)."""
    hottest = []
    for mass in ("light", "medium", "very_heavy"):
        made = walk.made("rooms.0.heat.cooling: null", f"rooms.0.heat.mass: {mass}")
        hottest.append(read(made, "options.hottest_c.p50"))
    assert hottest == sorted(hottest, reverse=True)
