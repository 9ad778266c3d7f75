"""Which film and which panes: limits, the trade-off, the rules, what changes the recommendation."""

import json
from dataclasses import replace
from decimal import Decimal
from typing import get_args

import lxml.html
import numpy as np
import pytest

from reportkit.documents.blocks import plain
from reportkit.documents.layouts import html
from reportkit.documents.sections import SECTIONS
from reportkit.documents.sections.excluded import reasons
from reportkit.documents.sections.summary import told_in_short
from reportkit.findings.findings import Results
from reportkit.job.model import Complaint, Job, Limits
from reportkit.study import Study
from reportkit.study.advice import LEAST_RELIEF, MUST_HAVES, RULES, Candidate, advise
from reportkit.study.options import Excluded, Gains, Option
from reportkit.study.panes import beside_the_point, ranked
from reportkit.study.relief import AMOUNTS, BILLS, by_pane, relief


def variant(study, **changes):
    """Return a study of the same job with some of its fields changed."""
    return Study(replace(study.loaded, job=study.job.model_copy(update=changes)))


def made(name, heat, fading, price, light, *, excluded=(), pays=None):
    """Return an invented candidate."""
    option = Option(name, ("f",), Gains(np.zeros((1, 1))), excluded=excluded)
    return Candidate(option, {"heat": heat, "fading": fading}, Decimal(price), light, 1 - heat, pays)


A = made("a", 0.60, 0.70, 900, 0.20)
B = made("b", 0.40, 0.60, 400, 0.45)
C = made("c", 0.35, 0.50, 450, 0.40)  # b is better in everything
D = made("d", 0.10, 0.30, 150, 0.80)
NOTHING = Option("nothing", (None,), Gains(np.zeros((1, 1))), kind="none")


@pytest.fixture(scope="module")
def job(study_of):
    """Return a demo job."""
    return study_of("corner-shop").job


def test_the_words_of_the_job_are_those_of_the_rules():
    """Every rule, must-have and complaint that a job may name is one the tool knows, and no other."""
    assert set(get_args(Job.model_fields["recommend"].annotation)) == set(RULES)
    assert set(get_args(get_args(Limits.model_fields["must_have"].annotation)[0])) == set(MUST_HAVES)
    assert set(get_args(get_args(Complaint.model_fields["kinds"].annotation)[0])) == {*AMOUNTS, BILLS}


@pytest.mark.parametrize(
    ("rule", "first"),
    [
        ("most_relief", "a"),
        ("least_heat", "a"),
        ("best_value", "d"),
        ("most_light", "b"),
        ("lowest_price", "b"),
    ],
)
def test_each_rule_takes_what_it_says(job, rule, first):
    """Worked by hand: relief .65, .50, .425, .20; half of the best is .325, which d does not reach."""
    got = advise(NOTHING, [A, B, C, D], job.model_copy(update={"recommend": rule}))
    assert got.option.id == first
    assert got.rule == rule


def test_the_trade_off_is_what_nothing_else_beats(job):
    """C is beaten by b; the others each lead in something."""
    assert advise(NOTHING, [A, B, C, D], job).beaten_by == {"c": "b"}


def test_a_limit_cuts_out_and_says_what_it_would_change(job):
    """With a past the limit b is recommended, and lifting that limit is named as what would bring a."""
    out = (
        Excluded("P", "visible_transmittance", 0.2, 0.25),
        Excluded("Q", "visible_transmittance", 0.18, 0.25),
    )
    got = advise(NOTHING, [replace(A, option=replace(A.option, excluded=out)), B, C, D], job)
    assert got.option.id == "b"
    limit = next(change for change in got.changes if change.what == "limit")
    assert (limit.name, limit.then, limit.value) == ("visible_transmittance", "a", 0.18)
    assert {change.name for change in got.changes if change.what == "rule"} == {"best_value"}


def test_leaving_the_glass_wins(job):
    """No film, none within the limits, none of use, none that pays where only bills count."""
    out = (Excluded("P", "no_metal", 0.0, 0.0),)
    assert advise(NOTHING, [], job).why_nothing == "no_film"
    bare = replace(A, option=replace(A.option, film_by_pane=(None,)))
    assert advise(NOTHING, [bare], job).why_nothing == "cannot_go"
    assert advise(NOTHING, [replace(A, option=replace(A.option, excluded=out))], job).why_nothing == "limits"
    weak = made("weak", 0.05, 0.08, 100, 0.85)
    assert weak.overall < LEAST_RELIEF
    assert advise(NOTHING, [weak], job).why_nothing == "no_useful"
    bills = job.model_copy(update={"complaint": job.complaint.model_copy(update={"kinds": ("bills",)})})
    saves = replace(B, relief={"bills": 0.2}, pays=False)
    assert advise(NOTHING, [saves], bills).why_nothing == "none_pays"
    assert advise(NOTHING, [replace(saves, pays=True)], bills).option.id == "b"
    assert advise(NOTHING, [replace(saves, relief={})], bills).why_nothing == "bills_unknown"
    for got in (advise(NOTHING, [], job), advise(NOTHING, [saves], bills)):
        assert got.option is NOTHING


def test_bills_alone_on_the_cold_coast_leave_the_glass(study_of):
    """Where the sun helps to heat, a job that asks for lower bills only is told to leave the glass."""
    base = study_of("harbour-house")
    only = variant(base, complaint=base.job.complaint.model_copy(update={"kinds": ("bills",)}))
    assert only.recommended is only.nothing
    assert only.advised.why_nothing in ("none_pays", "no_useful")
    assert only.chosen is only.nothing
    assert only.offer.price.total == 0
    said = json.loads(json.dumps(Results(only)["choice"], allow_nan=False))
    assert all(one["pays"] is False for one in said["candidates"])


def test_bills_and_a_budget_together(study_of):
    """Where the recommendation asks for the rooms' year, part of the panes has its bills too."""
    base = study_of("corner-shop")
    asked = variant(
        base,
        complaint=base.job.complaint.model_copy(update={"kinds": ("heat", "bills")}),
        limits=base.job.limits.model_copy(update={"budget": Decimal(1200)}),
    )
    assert asked.part_options
    assert all(entry in asked.options for entry in asked.part_options)
    for one in asked.advised.candidates:
        assert set(one.relief) == {"heat", "bills"}
    assert asked.offer.price.total <= 1200


@pytest.mark.parametrize("name", ["corner-shop", "harbour-house", "hill-studio"])
def test_relief_adds_up_over_panes_and_is_a_share(study_of, name):
    """A film's relief is the sum over its panes, between nothing and all; doing nothing relieves nothing."""
    study = study_of(name)
    for entry in study.film_options:
        found = relief(study.baseline, entry, study.bill_shares.get(entry.id))
        assert by_pane(study.baseline, entry).sum() == pytest.approx(np.mean(list(found.values())))
        assert all(-1e-9 <= value <= 1 for value in found.values())
    assert set(relief(study.baseline, study.nothing, study.bill_shares.get("nothing")).values()) == {0.0}


def test_heat_relief_is_the_cut_of_the_peak(study_of, results_of):
    """The relief of heat is the same share that the options' table prints."""
    cut = {entry["id"]: entry["peak_cut_fraction"] for entry in results_of("corner-shop")["options"]}
    candidates = study_of("corner-shop").advised.candidates
    assert candidates
    for one in candidates:
        assert one.relief["heat"] == pytest.approx(cut[one.option.id])


@pytest.mark.parametrize(
    ("name", "gone"),
    [
        ("no_metal", {"dual-reflective-20", "low-e-60"}),
        ("low_glare", {"selective-65", "low-e-60"}),
        ("uv", set()),
    ],
)
def test_must_haves_cut_films_out(study_of, name, gone):
    """Each must-have rules out the films that lack it, and prints which pane shows it."""
    base = study_of("corner-shop")
    asked = variant(base, limits=base.job.limits.model_copy(update={"must_have": (name,)}))
    out = {entry.id for entry in asked.film_options if any(item.what == name for item in entry.excluded)}
    assert out == gone
    assert asked.recommended.id not in gone


def test_ultraviolet_that_is_not_printed_satisfies_no_wish_for_a_block(study_of, page_of):
    """A sheet without ultraviolet, however dark the film: out until the seller tells, and so printed."""
    base = study_of("corner-shop")
    for light in (35.0, 1.0):
        films = tuple(
            spec.model_copy(
                update={
                    "rated": spec.rated.model_copy(
                        update={"uv_transmittance_percent": None, "visible_transmittance_percent": light}
                    )
                }
            )
            if spec.id == "dyed-grey-35"
            else spec
            for spec in base.job.films
        )
        limits = base.job.limits.model_copy(update={"must_have": ("uv",)})
        asked = variant(base, films=films, limits=limits)
        asked.weathers, asked.sun = base.weathers, base.sun
        own = next(entry for entry in asked.film_options if entry.id == "dyed-grey-35")
        about_uv = [item.what for item in own.excluded if item.what.startswith("uv")]
        assert about_uv == ["uv_not_printed"]
        assert "does not say how much ultraviolet" in " ".join(reasons(page_of(asked), own.excluded))


def test_the_knee_by_hand():
    """Two panes of four bring 90 % for 40 % of the money: there the curve bends most (worked by hand)."""
    found = ranked(
        ["p", "q", "r", "s"], np.array([0.06, 0.40, 0.50, 0.04]), np.array([300.0, 200.0, 200.0, 300.0])
    )
    assert [one.pane for one in found.panes] == ["r", "q", "p", "s"]
    assert found.knee == 2
    assert found.panes[1].relief_so_far == pytest.approx(0.90)
    assert found.panes[1].price_so_far == pytest.approx(0.40)
    even = ranked(["p", "q"], np.array([0.5, 0.5]), np.array([100.0, 100.0]))
    assert even.knee == 0


def test_parts_of_the_price_sum_to_the_price(study_of):
    """What is apportioned to the panes is the whole price."""
    study = study_of("corner-shop")
    assert sum(one.price for one in study.ranking.panes) == pytest.approx(float(study.offer.price.total))
    assert {one.pane for one in study.ranking.panes} == {cut.opening.id for cut in study.offer.cuts}


def test_a_budget_takes_the_best_panes(study_of):
    """Under a budget the price stays within it, panes seen together stay together, the whole is out."""
    base = study_of("harbour-house")
    budget = Decimal(800)
    poor = variant(base, limits=base.job.limits.model_copy(update={"budget": budget}))
    assert poor.quick_offers["selective-65"].price.total > budget
    assert any(item.what == "budget" for entry in poor.film_options for item in entry.excluded)
    best = poor.within_budget["selective-65"]
    assert best.best.gap == 0
    assert [pane.id for pane, film in zip(base.job.panes, best.film_by_pane, strict=True) if film] == list(
        best.panes
    )
    whole = next(entry for entry in poor.film_options if entry.id == "selective-65")
    groups = {}
    for pane, film in zip(base.job.panes, whole.film_by_pane, strict=True):
        if film and pane.view_group:
            groups.setdefault(pane.view_group, set()).add(pane.id in best.panes)
    assert groups
    assert all(len(said) == 1 for said in groups.values())
    assert poor.chosen.films == poor.recommended.films
    assert poor.offer.price.total <= budget
    assert any(entry is poor.chosen for entry in poor.options)


def test_lifting_the_budget_names_what_would_then_be_taken(job):
    """Of films that only the budget rules out, the one the rule would take is named with its price."""
    dear = [
        replace(one, option=replace(one.option, excluded=(Excluded("", "budget", float(one.price), 200.0),)))
        for one in (C, A, B)
    ]
    got = advise(NOTHING, [*dear, D], job)
    assert got.option.id == "d"
    limit = next(change for change in got.changes if change.what == "limit")
    assert (limit.name, limit.then, limit.value) == ("budget", "a", 900.0)


def test_film_that_helps_nothing_asked_is_told_with_the_price_without_it(study_of, results_of, page_of):
    """Only the shop is complained of: the price without film elsewhere is that of a job with none there."""
    study, results = study_of("corner-shop"), results_of("corner-shop")
    others = {pane.id for pane, film in zip(study.job.panes, study.chosen.film_by_pane, strict=True) if film}
    others -= {pane.id for pane in study.job.panes if pane.room == "shop"}
    told = results["which_panes"]["beside_the_point"]
    assert others == set(told["panes"]) == {"E2", "W1", "W2"}
    film = study.chosen.films[0]
    panes = [
        pane.model_copy(update={"film": "none"} if pane.id in others else {}) for pane in study.job.panes
    ]
    bare = variant(study, panes=tuple(panes), choice=study.job.choice.model_copy(update={"job": film}))
    assert Decimal(told["price_without"]) == bare.offer.total < study.offer.total
    page = page_of(study)
    price = page.fmt.money(told["price_without"])
    said = "E2, W1, W2: film there relieves nothing of what you asked about; left bare, the price would be "
    said += f"{price}."
    for place in ("summary", "which_panes", "price"):
        blocks = [plain(block) for block in SECTIONS[place](page)]
        assert said in lxml.html.fromstring(f"<div>{html.fragment(blocks)}</div>").text_content()
    assert any(said in line for line in told_in_short(page))


def idle(study):
    """Return the panes of what a study chose whose film brings nothing of what was asked."""
    return beside_the_point(study.baseline, study.chosen, study.offer, study.quick_offer)


@pytest.mark.parametrize("changes", [{"room": None}, {"kinds": ("heat", "bills")}])
def test_where_every_pane_counts_none_is_beside_the_point(study_of, changes):
    """Without a room, and for the bills, film helps wherever the sun comes in."""
    study = study_of("corner-shop")
    made = variant(study, complaint=study.job.complaint.model_copy(update=changes))
    assert idle(made).panes == ()


def test_where_no_filmed_pane_is_complained_of_no_price_is_left(study_of):
    """Film chosen for the yard alone helps nothing in the shop; without it there is no offer to price."""
    study = study_of("corner-shop")
    choice = study.job.choice.model_copy(update={"job": "none", "faces": {"west": "dyed-grey-35"}})
    found = idle(variant(study, choice=choice))
    assert (found.panes, found.total) == (("W1", "W2"), None)


def test_a_budget_that_no_pane_fits_is_told(study_of, page_of):
    """A unit of money buys no roll: the part says so for each film, and the results hold no price."""
    study = study_of("harbour-house")
    poor = variant(study, limits=study.job.limits.model_copy(update={"budget": Decimal(1)}))
    page = page_of(poor)
    best = page.findings.which_panes.within_budget
    assert best and all(one.cost is None and not one.panes for one in best)
    text = repr(SECTIONS["which_panes"](page).blocks)
    assert text.count("no pane fits within") == len(best)
