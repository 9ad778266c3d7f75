"""What panes cost at least: a bound below every price, however the price is made."""

from itertools import chain, combinations

import pytest
from small_job import JOB, written

from reportkit.study import Study, panes
from reportkit.study.least import Least

SURVEY = """id,room,face,glazing,quantity,width,height,frame,access,old_film
A,office,west,one,2,1000 mm,1250 mm,metal,floor,no
B,office,west,one,1,1200 mm,1250 mm,metal,tower,no
C,office,west,one,1,1600 mm,1800 mm,timber,floor,yes
"""
(FILM,) = JOB["films"]
BY_LENGTH = [{"width": "1829 mm", "length": "30 m", "price_per_m": "24", "step": "1 m"}]
WAYS = {
    "bought": {},
    "length_used": {"prices": {"film_charged": "length_used"}},
    "rest_credited": {"prices": {"film_charged": "rest_credited"}},
    "area": {"prices": {"film_charged": "area"}},
    "by length, overtime": {"films": [FILM | {"rolls": BY_LENGTH}], "prices": {"overtime_after_hours": "1"}},
    "percent": {"quote": {"discount": {"percent": "30", "reason": "x"}}},
    "amount": {"quote": {"discount": {"amount": "300", "reason": "x"}}},
    "by area": {"prices": {"area_rates": [{"per_m2": "90", "up_to": "2 m2"}, {"per_m2": "60"}]}},
    "by area, US": {
        "prices": {"area_rates": [{"per_ft2": "9", "panes": ["tower"]}, {"per_ft2": "7"}], "call_out": "20"},
        "quote": {"shown": "area", "discount": {"amount": "100", "reason": "x"}},
    },
}


@pytest.mark.parametrize("way", WAYS)
def test_no_set_of_panes_costs_less_than_the_bound(tmp_path, monkeypatch, way):
    """Of every set of panes the price is at least the bound, and that is at least the sum of its parts."""
    bounds = []

    def kept(*given):
        bounds.append(Least(*given))
        return bounds[-1]

    monkeypatch.setattr(panes, "Least", kept)
    change = {"limits": {"budget": "300"}}
    study = Study.open(written(tmp_path, WAYS[way], change, survey=SURVEY))
    within = study.within_budget["grey"]
    (bound, *_) = bounds
    for chosen in chain.from_iterable(combinations("ABC", size) for size in (1, 2, 3)):
        films = tuple("grey" if pane in chosen else None for pane in "ABC")
        total = study.quick_offer(films).total + bound.rebate
        assert bound.together(chosen) <= float(total) + 1e-9
        assert sum(map(bound.each, chosen)) <= float(total) + 1e-9
    if within.panes:
        assert within.best.cost == study.quick_offer(within.film_by_pane).total <= 300
