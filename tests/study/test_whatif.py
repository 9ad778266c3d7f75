"""Answers at the table: the same numbers as a whole study, and only what changed is worked out again."""

import datetime as dt
from dataclasses import replace
from decimal import Decimal

import numpy as np
import pytest

from reportkit.findings.findings import Results
from reportkit.job import Choice, Decision, follow
from reportkit.study import Study
from reportkit.study.offer import offer
from reportkit.study.whatif import WhatIf

DAY = dt.date(2026, 3, 5)

#: What depends on the price, which the quick cut plan may put a little higher than the one for the order.
BY_PRICE = {"cost", "npv", "payback_years", "verdict", "cash", "withheld", "recommended"}


@pytest.fixture(scope="module")
def shop(study_of):
    """Answers about the corner shop, whose films go on three faces."""
    return WhatIf(study_of("corner-shop"))


def on_face(decision, face, film):
    """Return a decision with another film on one face."""
    films = decision.films
    return decision.model_copy(
        update={"films": films.model_copy(update={"faces": {**films.faces, face: film}})}
    )


def close(mine, theirs):
    """Return whether two findings are equal but for the order in which a year's hours were added up."""
    if isinstance(mine, dict):
        return mine.keys() == theirs.keys() and all(close(mine[key], theirs[key]) for key in mine)
    if isinstance(mine, list):
        return len(mine) == len(theirs) and all(close(*pair) for pair in zip(mine, theirs, strict=True))
    return mine == (pytest.approx(theirs, rel=1e-9, abs=1e-9) if isinstance(theirs, float) else theirs)


def whole(what_if, decision):
    """Return a whole study of the job under a decision, nothing taken over."""
    loaded = what_if.base.loaded
    return Study(replace(loaded, job=follow(loaded.written, decision)))


def made(what_if, decision, *, room=None):
    """Return how many rooms and cut plans one answer had to work out."""
    before = dict(what_if.store.made)
    study = what_if.study(decision, room=room)
    assert Results(study)["options"]
    return {key: what_if.store.made[key] - before.get(key, 0) for key in ("rooms", "cut_plans", "gains")}


@pytest.mark.parametrize("name", ["corner-shop", "harbour-house", "hill-studio"])
def test_a_talk_starts_from_the_job_as_it_stands(study_of, name):
    """Before anything is changed the films are those of the offer."""
    what_if = WhatIf(study_of(name))
    start = what_if.start(DAY)
    assert what_if.study(start).chosen.film_by_pane == what_if.base.chosen.film_by_pane
    by_rule = what_if.base.chosen.film_by_pane == what_if.recommended.film_by_pane
    assert what_if.unexplained(start) == (() if by_rule else ("overrides",))


def test_the_numbers_are_those_of_a_whole_study(shop):
    """Films, a pane out, a set point and a rate changed together: every number equals the full chain's."""
    films = list(shop.base.films)
    decision = Decision(
        date=DAY,
        films=Choice(faces={"east": films[0], "south": films[-1], "west": "none"}, panes={"W1": films[1]}),
        panes_out={"S2": "a poster"},
        set_points={"shop": 23.0},
        electricity_rate=Decimal("0.21"),
    )
    quick, full = shop.study(decision), whole(shop, decision)
    assert quick.chosen.film_by_pane == full.chosen.film_by_pane
    assert quick.chosen.film_by_pane[1] is None
    mine = Results(quick)["options"][-1]
    theirs = next(entry for entry in Results(full)["options"] if entry["chosen"])
    assert mine.keys() == theirs.keys()
    for key in mine.keys() - BY_PRICE:
        assert close(mine[key], theirs[key]), key
    assert mine["saving_per_year"] is not None
    assert mine["hot_hours"] is not None
    at = full.options.index(full.chosen)
    for quick_year, full_year in zip(quick.room_years, full.room_years, strict=True):
        np.testing.assert_allclose(quick_year.cooling[:, 1], full_year.cooling[:, at], rtol=1e-9, atol=1e-9)
        np.testing.assert_allclose(quick_year.cooling[:, 0], full_year.cooling[:, 0], rtol=1e-9, atol=1e-9)


def test_the_price_is_that_of_the_quick_plan(shop):
    """Cut plan and price equal the library's quick offer for the same panes."""
    decision = on_face(shop.start(DAY), "west", next(iter(shop.base.films)))
    quick, full = shop.study(decision), whole(shop, decision)
    expected = offer(full.chosen.film_by_pane, full.loaded, full.films, mode="quick")
    assert quick.offer.price == expected.price
    assert quick.offer.plan == expected.plan
    assert Results(quick)["price"]["total"] == f"{expected.price.total:f}"


def test_another_room_has_its_own_worst_hour(shop):
    """Looking at another room changes the panes complained of, as if the job named that room."""
    start = shop.start(DAY)
    seen = shop.study(start, room="living")
    job = follow(shop.written, start)
    named = job.model_copy(update={"complaint": job.complaint.model_copy(update={"room": "living"})})
    full = Study(replace(shop.base.loaded, job=named))
    assert seen.bad_hour == full.bad_hour
    assert seen.bad_hour != shop.study(start).bad_hour
    mask = full.complained
    assert seen.chosen.gains.total(mask)[seen.bad_hour] == full.chosen.gains.total(mask)[full.bad_hour]


def test_only_what_changed_is_worked_out(study_of):
    """A film on one face touches the rooms behind it; a budget touches none; what was seen comes back."""
    what_if = WhatIf(study_of("corner-shop"))
    at = next(index for index, pane in enumerate(what_if.base.job.panes) if pane.id == "W1")
    film = next(entry.id for entry in what_if.base.film_options if entry.film_by_pane[at])
    faces = [face.id for face in what_if.base.job.faces]
    west = Decision(date=DAY, films=Choice(faces=dict.fromkeys(faces, film)))
    start = on_face(west, "west", "none")
    assert made(what_if, start)["rooms"] >= 2  # of both rooms described: doing nothing, and with film
    assert made(what_if, start) == {"rooms": 0, "cut_plans": 0, "gains": 0}
    # of the rooms described only the living room looks to the west yard; the shop's year stays as it is
    assert made(what_if, west) == {"rooms": 1, "cut_plans": 1, "gains": 1}
    # another set point changes that room alone, with film and without
    cooler = west.model_copy(update={"set_points": {"living": 22.0}})
    assert made(what_if, cooler) == {"rooms": 2, "cut_plans": 0, "gains": 0}
    assert made(what_if, cooler.model_copy(update={"budget": Decimal(900)}))["rooms"] == 0
    dearer = cooler.model_copy(update={"electricity_rate": Decimal("0.40")})
    made(what_if, dearer)
    assert made(what_if, dearer.model_copy(update={"electricity_rate": Decimal("0.44")}))["rooms"] == 0
    assert made(what_if, start, room="living") == {"rooms": 0, "cut_plans": 0, "gains": 0}


def test_a_dearer_rate_saves_more(shop):
    """At twice a flat rate the yearly saving on electricity is twice as much: the bill is linear in it."""
    start = shop.start(DAY)

    def saving(rate):
        tried = start.model_copy(update={"electricity_rate": Decimal(rate)})
        study = shop.study(tried)
        return study.worths[study.chosen.id].saving

    np.testing.assert_allclose(saving("0.40"), 2 * saving("0.20"), rtol=1e-9)


def test_what_lacks_a_reason_is_named(shop):
    """A pane left out and a film other than the recommended one each ask for a reason."""
    start = shop.start(DAY)
    best = start.films.faces["east"]
    other = next(name for name in shop.base.films if name != best)
    assert shop.unexplained(on_face(start, "east", other)) == ("overrides",)
    told = on_face(start, "east", other).model_copy(update={"overrides": "lighter"})
    assert shop.unexplained(told) == ()
    out = start.model_copy(update={"panes_out": {"S1": " "}})
    assert shop.unexplained(out) == ("S1",)
    assert not shop.overrides(out.model_copy(update={"panes_out": {"S1": "a poster"}}))


def test_a_kept_decision_starts_the_next_talk(shop):
    """What was decided comes back: its films, its reasons, its budget, with the day of the new talk."""
    decision = on_face(shop.start(DAY), "south", "none").model_copy(
        update={"panes_out": {"E1": "cracked"}, "budget": Decimal(90_000), "overrides": "no south sun"}
    )
    written = shop.written.model_copy(update={"decisions": (decision,)})
    loaded = replace(shop.base.loaded, written=written, job=follow(written, decision))
    again = WhatIf(Study(loaded)).start(dt.date(2026, 4, 1))
    assert again == decision.model_copy(update={"date": dt.date(2026, 4, 1)})


def test_one_of_a_row_left_out_is_what_a_survey_without_it_has(study_of):
    """Heat, price and film to buy are those of a whole study in which that pane is bare."""
    what_if = WhatIf(study_of("corner-shop"))
    start = what_if.start(DAY)
    all_in = what_if.study(start)
    ids = [pane.id for pane in what_if.base.job.panes]
    decision = start.model_copy(update={"panes_out": {**start.panes_out, "E2.5": "a fan stands there"}})
    quick = what_if.study(decision)
    loaded = what_if.base.loaded
    apart = [(pane.id, pane.quantity) for pane in quick.job.panes if pane.row == "E2"]
    assert apart == [("E2", 23), ("E2.5", 1)]
    full = Study(replace(loaded, job=follow(loaded.written, decision)))
    assert quick.chosen.film_by_pane == full.chosen.film_by_pane
    assert quick.chosen.film_by_pane[[pane.id for pane in quick.job.panes].index("E2.5")] is None
    expected = offer(full.chosen.film_by_pane, full.loaded, full.films, mode="quick")
    assert quick.offer.price == expected.price
    assert sum(cut.opening.quantity for cut in quick.offer.cuts if cut.opening.id == "E2") == 23
    mine = Results(quick)["options"][-1]
    theirs = next(entry for entry in Results(full)["options"] if entry["chosen"])
    for key in mine.keys() - BY_PRICE:
        assert close(mine[key], theirs[key]), key
    # back in, it costs what it did, and the row is named as before in what is kept
    again = what_if.study(start)
    assert again.offer.price.total == all_in.offer.price.total > quick.offer.price.total
    assert [pane.row for pane in again.job.panes if pane.id not in ids] == ["E2"]
    assert Results(again)["options"][-1]["peak_solar_w"] == pytest.approx(all_in_peak(all_in))


def all_in_peak(study):
    """Return the sun's heat of what is chosen [W]."""
    return Results(study)["options"][-1]["peak_solar_w"]


def test_what_is_recommended_stays_while_panes_are_taken_apart(study_of):
    """The same film on the same glass, however rows are split."""
    what_if = WhatIf(study_of("corner-shop"))
    before = {
        pane.id: film
        for pane, film in zip(what_if.base.job.panes, what_if.recommended.film_by_pane, strict=True)
    }
    start = what_if.start(DAY)
    out = {**start.panes_out, "E1.1": "a shelf", "E1.2": "a shelf"}
    decision = start.model_copy(update={"panes_out": out})
    assert what_if.overrides(decision) == what_if.overrides(start)
    panes = what_if.base.job.panes
    assert [pane.id for pane in panes if pane.row == "E1"] == ["E1.1", "E1.2"]
    for pane, film in zip(panes, what_if.recommended.film_by_pane, strict=True):
        assert film == before[pane.row]
