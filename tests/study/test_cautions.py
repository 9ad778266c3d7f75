"""Permissions and cautions: the job's circumstances call for them, and each says why and who decides."""

from dataclasses import replace

import pytest

from reportkit.documents.page import Page
from reportkit.documents.sections import SECTIONS
from reportkit.findings.findings import Findings, Results
from reportkit.job.model import GapSpec, LiteSpec
from reportkit.study import Study
from reportkit.study.cautions import RULES, cautions_for


def variant(study, *, building=None, panes=None, **changes):
    """Return a study of the same job with another building, panes or fields.

    No number of the study rests on the building, so all that is computed is kept where only it changes.
    """
    job = study.job
    same = panes is None and not changes
    if building is not None:
        changes["building"] = job.building.model_copy(update=building)
    if panes is not None:
        changes["panes"] = tuple(pane.model_copy(update=panes(pane)) for pane in job.panes)
    made = Study(replace(study.loaded, job=job.model_copy(update=changes)))
    if same:
        known = {name: value for name, value in vars(study).items() if name != "loaded"}
        vars(made).update(known)
    return made


def found(study):
    """Return the cautions of a study by id."""
    return {entry.id: entry for entry in cautions_for(study)}


def named(study, film):
    """Return the study with one film on every pane."""
    return variant(study, choice=study.job.choice.model_copy(update={"job": film}))


def test_every_caution_says_what_why_and_who():
    """No rule without all three; ids told apart by what they are about are words."""
    for rule in RULES:
        entry = rule.advice
        assert entry.what and entry.why and entry.who
        assert entry.what.endswith(".") and entry.why.endswith(".")
        assert entry.id.replace("_", "").isalpha()


@pytest.mark.parametrize("name", ["corner-shop", "harbour-house", "hill-studio"])
def test_an_id_stands_once(study_of, name):
    """Rules that share an id exclude each other."""
    ids = [entry.id for entry in cautions_for(study_of(name))]
    assert len(ids) == len(set(ids))


@pytest.mark.parametrize(
    ("country", "year", "paid", "who", "source"),
    [
        ("US", 1950, True, "certified renovator", "40 CFR 745"),
        ("US", 1950, False, "inspector", "40 CFR 745"),
        ("US", 1950, None, "certified renovator", "40 CFR 745"),
        ("IE", 1950, True, "local authority", ""),
        (None, 1950, True, "local authority", "40 CFR 745"),
    ],
)
def test_old_paint_by_country_and_pay(study_of, country, year, paid, who, source):
    """Before 1978 (40 CFR 745) the caution names who decides there; from 1978 on there is none."""
    study = study_of("corner-shop")
    old = found(variant(study, building={"country": country, "year_built": year, "paid_work": paid}))
    assert who in old["lead_paint"].who
    assert old["lead_paint"].source == source
    new = found(variant(study, building={"country": country, "year_built": 1978, "paid_work": paid}))
    assert "lead_paint" not in new
    assert "asbestos" in new
    assert "asbestos" not in found(variant(study, building={"year_built": 2005}))


def test_unknown_age_makes_timber_and_putty_suspect_only(study_of):
    """Without any year, metal and plastic frames are left out."""
    study = named(study_of("corner-shop"), "ceramic-grey-40")
    undated = tuple(spec.model_copy(update={"year": None}) for spec in study.job.glazings)
    entry = found(variant(study, glazings=undated, building={"year_built": None}))["lead_paint"]
    frames = {pane.id: pane.frame for pane in study.job.panes}
    assert entry.panes
    assert {frames[name] for name in entry.panes} <= {"timber", "putty"}


@pytest.mark.parametrize(
    ("tenure", "who"),
    [
        ("tenant", "the landlord"),
        ("owners_association", "the owners' association"),
        ("owner", "the local authority"),
        (None, "the owner, and the local authority"),
    ],
)
def test_whose_consent(study_of, tenure, who):
    """Exactly one permission, by who owns the windows."""
    assert found(variant(study_of("corner-shop"), building={"tenure": tenure}))["permission"].who == who


@pytest.mark.parametrize(
    ("field", "value", "caution"),
    [
        ("listed", True, "heritage"),
        ("paid_work", True, "licence"),
        ("plants", True, "plants"),
        ("alarm_sensors", True, "alarm"),
        ("radio", True, "radio"),
        ("vinyl_siding", True, "vinyl_siding"),
    ],
)
def test_each_fact_of_the_building_calls_for_its_caution(study_of, field, value, caution):
    """The caution is there with the fact and not without it."""
    study = study_of("harbour-house")
    off = variant(study, building={field: None if field in ("listed", "paid_work") else False})
    assert caution in found(variant(off, building={field: value}))
    assert caution not in found(off)


def test_panes_call_for_theirs_by_name(study_of):
    """Ways of escape, towers and ladders name the filmed panes that they are about, and no other."""
    study = named(study_of("corner-shop"), "ceramic-grey-40")
    filmed = {pane.id for pane, film in zip(study.job.panes, study.chosen.film_by_pane, strict=True) if film}
    first = sorted(filmed)[0]
    marked = variant(
        study,
        panes=lambda pane: {"escape": True, "access": "tower"} if pane.id == first else {"access": "floor"},
    )
    cautions = found(marked)
    assert cautions["escape"].panes == cautions["tower"].panes == (first,)
    assert "ladder" not in cautions
    assert "fire officer" in cautions["escape"].who


@pytest.mark.parametrize(
    ("outer", "inner", "side", "old", "asked"),
    [
        ("tempered", "annealed", "inside", False, False),
        ("annealed", "heat_strengthened", "inside", False, True),
        ("annealed", "tempered", "outside", False, False),
        ("tempered", "annealed", "inside", True, True),
    ],
)
def test_no_metal_blade_on_the_sheet_that_is_scraped(study_of, outer, inner, side, old, asked):
    """Of the sheet that takes the film, of either where old film comes off; the fitting sheet too.

    Three panes of the shop, without what its rooms take in a year: no caution asks for it.
    """
    shop = study_of("corner-shop")
    rooms = tuple(room.model_copy(update={"heat": None}) for room in shop.job.rooms)
    panes = tuple(pane for pane in shop.job.panes if pane.id in ("E1", "W1", "W2"))
    few = shop.job.model_copy(update={"panes": panes, "rooms": rooms})
    study = Study(replace(shop.loaded, job=few))
    sheets = tuple(LiteSpec(thickness_mm=4, strength=word) for word in (outer, inner))
    gaps = (GapSpec(width_mm=12),)
    units = tuple(
        spec.model_copy(update={"lites": sheets, "gaps": gaps, "coating": None})
        for spec in study.job.glazings
    )
    clear = next(spec for spec in study.job.films if spec.id == "ceramic-grey-40")
    film = clear.model_copy(update={"side": side})
    made = named(
        variant(
            study, glazings=units, films=(film,), compare=(film.id,), panes=lambda pane: {"old_film": old}
        ),
        film.id,
    )
    filmed = {pane.id for pane, name in zip(made.job.panes, made.chosen.film_by_pane, strict=True) if name}
    assert filmed == {"E1", "W1", "W2"}
    entry = found(made).get("tempered_blade")
    assert (set(entry.panes) if entry else set()) == (filmed if asked else set())
    printed = repr(SECTIONS["work"](Page(Findings(made))))
    assert ("no metal blade" in printed) == asked


def test_glass_that_gathers_the_sun_is_refused(study_of):
    """A pane of a collector stays bare with every film, with the reason, and the caution says so."""
    study = named(study_of("corner-shop"), "ceramic-grey-40")
    first = next(p.id for p, film in zip(study.job.panes, study.chosen.film_by_pane, strict=True) if film)
    marked = variant(study, panes=lambda pane: {"collector": pane.id == first})
    number = [pane.id for pane in marked.job.panes].index(first)
    for entry in marked.film_options:
        assert entry.film_by_pane[number] is None
        assert "winter sun" in dict(entry.bare_because)[first]
    assert found(marked)["collector"].panes == (first,)
    assert "collector" not in found(study)


def test_mirrors_metal_and_limits_follow_from_the_film(study_of):
    """A reflective film calls for neighbours, over 15 % outside for the authority; a clear one does not."""
    study = study_of("corner-shop")
    mirror, clear = found(named(study, "dual-reflective-20")), found(named(study, "ceramic-grey-40"))
    assert {"mirror", "metal", "outside_reflectance"} <= set(mirror)
    assert not {"mirror", "metal", "outside_reflectance"} & set(clear)
    for name in mirror["outside_reflectance"].panes:
        pane = next(pane for pane in study.job.panes if pane.id == name)
        assert study.filmed[pane.glazing, "dual-reflective-20"].rating.r_visible_out > 0.15


def test_cold_glass_follows_from_the_plan(study_of):
    """The cold coast in January is too cold for single glass; in April it is not."""
    import datetime as dt

    study = study_of("harbour-house")
    quote = study.job.quote.model_copy(update={"date": dt.date(2026, 1, 5), "valid_until": None})
    fitting = study.job.fitting.model_copy(update={"date": dt.date(2026, 1, 15)})
    winter = named(variant(study, quote=quote, fitting=fitting), "selective-65")
    slots = Results(winter)["schedule"]["slots"]
    cold = {slot["pane"] for slot in slots if slot["cold"]}
    assert cold
    assert set(found(winter)["cold_glass"].panes) == cold
    assert "cold_glass" not in found(study)


def test_nothing_fitted_calls_for_nothing(study_of):
    """Leaving the glass as it is needs no permission."""
    study = study_of("corner-shop")
    none = named(study, "none")
    assert found(none) == {}
