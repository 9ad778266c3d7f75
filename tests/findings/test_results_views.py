"""The look of the glass in results.json: from the ratings, and by the rules it states."""

from dataclasses import replace

import pytest

from reportkit.findings.views import fill_views, main_glazing
from reportkit.study import Study
from reportkit.study.sight import SCENES

DEMOS = ["corner-shop", "harbour-house", "hill-studio"]


@pytest.mark.parametrize("name", DEMOS)
def test_looks_are_those_of_the_ratings(results_of, name):
    """Light and mirror of every film are what the glazing's own rating says; bare glass comes first."""
    results = results_of(name)
    data = results["views"]
    rated = {entry["film"]: entry for entry in results["glazings"] if entry["id"] == data["glazing"]}
    assert data["panes"][0]["film"] is None
    for pane in data["panes"]:
        for key in ("t_visible", "r_visible_out", "r_visible_in"):
            assert pane[key] == rated[pane["film"]][key]
    refused = {film for film, entry in rated.items() if entry.get("refused")}
    assert {pane["film"] for pane in data["panes"]} == set(rated) - refused


@pytest.mark.parametrize("name", DEMOS)
def test_contrasts_follow_from_the_shares(results_of, name):
    """Computed again by hand: what comes through over all that reaches the eye, and over a bare pane's."""
    data = results_of(name)["views"]
    bare = data["panes"][0]
    day, night = SCENES["day"], SCENES["night"]
    clear = [pane for pane in data["panes"] if not pane["scatters"]]
    assert len(clear) > 1
    for pane in clear:
        t, out, back = pane["t_visible"], pane["r_visible_out"], pane["r_visible_in"]
        through, veil = t * day["indoors"], out * day["outdoors"]
        assert pane["contrast_left"]["outside_day"] == pytest.approx(through / (through + veil))
        through, veil = t * night["outdoors"], back * night["indoors"]
        assert pane["contrast_left"]["inside_night"] == pytest.approx(through / (through + veil))
        before = bare["t_visible"] * night["outdoors"] + bare["r_visible_in"] * night["indoors"]
        beside = pane["brightness_beside_bare"]["inside_night"]
        assert beside == pytest.approx((through + veil) / before)
        assert pane["privacy_ratio"] == pytest.approx(4 * t / out)
        assert pane["hides_by_day"] == (pane["privacy_ratio"] <= 3.5)


def test_night_shows_the_room_through_every_demo_film(results_of):
    """No film hides a lit room at night: the reversal that clients ask about."""
    for name in DEMOS:
        clear = [pane for pane in results_of(name)["views"]["panes"] if not pane["scatters"]]
        assert any(pane["film"] for pane in clear)
        for pane in clear:
            assert not pane["hides_at_night"]
            assert pane["contrast_left"]["outside_night"] > 0.8


def test_frosted_film_blurs_and_gives_no_contrast(study_of):
    """A film that scatters is said to, day and night, with no ratio."""
    study = study_of("hill-studio")
    films = tuple(spec.model_copy(update={"film_class": "frosted"}) for spec in study.job.films)
    frosted = Study(replace(study.loaded, job=study.job.model_copy(update={"films": films})))
    data = fill_views(frosted)
    assert len(data.panes) > 1
    for pane in data.panes[1:]:
        assert pane.scatters and pane.contrast_left is None and pane.privacy_ratio is None
        assert pane.hides_by_day and pane.hides_at_night


def test_the_main_glazing_is_the_largest_to_be_filmed(study_of):
    """Largest by area of the panes that get film."""
    study = study_of("corner-shop")
    area = {}
    for pane, film in zip(study.job.panes, study.chosen.film_by_pane, strict=True):
        if film:
            area[pane.glazing] = area.get(pane.glazing, 0) + float(pane.width * pane.height) * pane.quantity
    assert main_glazing(study) == max(area, key=area.get)
