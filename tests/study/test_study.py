"""The chain on the demo jobs and on small jobs made here."""

from dataclasses import replace

import numpy as np
import pytest

from reportkit.study import Study
from reportkit.study import options as opt


def variant(study, **changes):
    """Return a study of the same job with some of its fields changed."""
    return Study(replace(study.loaded, job=study.job.model_copy(update=changes)))


@pytest.mark.parametrize("name", ["corner-shop", "harbour-house", "hill-studio"])
def test_no_film_lets_in_more_heat_than_bare_glass(study_of, name):
    """No demo film raises SHGC on any demo glazing, nor the heat of any hour."""
    study = study_of(name)
    filmed = {key: glazed.rating for key, glazed in study.filmed.items() if key[1] and glazed.rating}
    assert filmed and study.film_options
    for (glazing, _), rating in filmed.items():
        assert rating.shgc < study.filmed[glazing, None].rating.shgc
    for entry in study.film_options:
        assert np.all(entry.gains.by_pane <= study.nothing.gains.by_pane + 1e-9)


@pytest.mark.parametrize("name", ["corner-shop", "harbour-house", "hill-studio"])
def test_gain_is_between_transmitted_and_incident(study_of, name):
    """Heat through bare glass is less than the sun on it, hour by hour (energy is conserved)."""
    study = study_of(name)
    area = np.array([float(p.width * p.height) / 1e6 * p.quantity for p in study.job.panes])
    assert np.all(study.nothing.gains.by_pane <= study.sun.panes.total * area + 1e-9)


def test_the_bad_hour_is_warm_where_any_sunny_hour_is(study_of):
    """Nobody is troubled by heat on a cold day: the cold coast's worst hour is in its mild season."""
    study = study_of("harbour-house")
    assert study.weather.temp_air[study.bad_hour] >= opt.HEATING_BASE_C
    watts = study.nothing.gains.total(study.complained)
    warm = study.weather.temp_air >= opt.HEATING_BASE_C
    assert watts[study.bad_hour] == watts[warm].max()


def test_without_temperatures_the_worst_hour_is_in_the_warmer_half(study_of):
    """On clear days in the south it lies from October to March, not under the low sun of June."""
    study = study_of("hill-studio")
    month = study.weather.times[study.bad_hour].month
    assert month in opt.summer_months(study.loaded.latitude) == (10, 11, 12, 1, 2, 3)


def test_the_recommendation_obeys_the_limits(study_of):
    """What is recommended is within the client's limits; what is not names the pane that breaks one."""
    study = study_of("corner-shop")
    assert not study.recommended.excluded
    darkest = study.job.limits.darkest_visible_transmittance_percent / 100
    for entry in study.film_options:
        light = [
            study.filmed[pane.glazing, film].rating.t_visible
            for pane, film in zip(study.job.panes, entry.film_by_pane, strict=True)
            if film
        ]
        too_dark = any(item.what == "visible_transmittance" for item in entry.excluded)
        assert too_dark == (min(light) < darkest)


def test_limits_that_no_film_meets_leave_the_glass_as_it_is(study_of):
    """With everything ruled out the answer is to do nothing, and nothing is priced."""
    study = study_of("corner-shop")
    strict = study.job.limits.model_copy(update={"darkest_visible_transmittance_percent": 95.0})
    none = variant(study, limits=strict)
    assert none.recommended is none.nothing
    assert none.offer.plan is None
    assert none.offer.price.total == 0


def test_the_nearest_word_chooses_the_film(study_of):
    """A pane's row beats the choice by pane, by face, and for the job; none leaves bare."""
    study = study_of("corner-shop")
    panes = list(study.job.panes)
    first, second, third = panes[0].id, panes[1].id, panes[2].id
    panes[2] = panes[2].model_copy(update={"film": "none"})
    named = variant(
        study,
        panes=tuple(panes),
        choice=study.job.choice.model_copy(
            update={"job": "selective-65", "panes": {first: "ceramic-grey-40", third: "dyed-grey-35"}}
        ),
    )
    films = dict(zip((p.id for p in panes), named.chosen.film_by_pane, strict=True))
    assert films[first] == "ceramic-grey-40"
    assert films[second] == "selective-65"
    assert films[third] is None
    assert named.chosen_by == "job"


def test_a_pane_that_film_cannot_go_on_stays_bare_with_its_reason(study_of):
    """Textured glass refuses film; the pane keeps its bare gain and the reason is kept."""
    study = study_of("corner-shop")
    textured = [p.id for p in study.job.panes if p.glazing == "patterned-4"]
    assert textured
    for entry in study.film_options:
        reasons = dict(entry.bare_because)
        for name in textured:
            assert "textured" in reasons[name]
    assert all(cut.opening.id not in textured for cut in study.offer.cuts)


def test_a_pane_counted_twice_is_twice_the_heat(study_of):
    """Equal panes add up: doubling every quantity doubles every hour's heat."""
    study = study_of("hill-studio")
    twice = tuple(p.model_copy(update={"quantity": 2 * p.quantity}) for p in study.job.panes)
    doubled = variant(study, panes=twice)
    np.testing.assert_allclose(doubled.nothing.gains.by_pane, 2 * study.nothing.gains.by_pane, rtol=1e-12)


def test_an_option_is_costed_by_its_own_plan(study_of):
    """Every option has an offer; what is chosen has the exact one."""
    study = study_of("corner-shop")
    assert study.offers[study.chosen.id] is study.offer
    assert set(study.offers) == {entry.id for entry in study.options if entry.kind != "shade"}
    assert all(study.offers[e.id].price.total > 0 for e in study.film_options)


def test_clear_days_have_no_yearly_energy(study_of):
    """Without a typical year no energy is given."""
    study = study_of("hill-studio")
    assert opt.energy(study.weather, study.nothing.gains.total()) is None


def test_the_southern_face_of_the_south_gets_little(study_of):
    """South of the equator the noon sun is in the north: a south wall's direct sun at midwinter is nil."""
    study = study_of("hill-studio")
    for bearing, least, most in ((180.0, 0.0, 0.0), (0.0, 4.0, 12.0)):
        faces = tuple(face.model_copy(update={"bearing": bearing, "tilt": 90.0}) for face in study.job.faces)
        turned = Study(replace(study.loaded, job=study.job.model_copy(update={"faces": faces})))
        assert turned.sun.direct_hours.shape[0] == len(faces) > 0
        assert np.all((least <= turned.sun.direct_hours[:, 5]) & (turned.sun.direct_hours[:, 5] <= most))
