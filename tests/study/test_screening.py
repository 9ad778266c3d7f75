"""The breakage screen on a job's own weather: limits, what makes a verdict worse, the worst hours."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from reportkit.job.model import Chart
from reportkit.physics import glass
from reportkit.physics.glass.edge import E_ALPHA, LIMITS, edge_stress
from reportkit.study.screening import SEASONS, cases, chart, screenings

ORDER = {"nothing_found": 0, "ask": 1, "refuse": 2}


def verdicts(study, **job):
    """Return the verdict of every pane with every film, some fields of the job changed; the sun is kept."""
    loaded = replace(study.loaded, job=study.job.model_copy(update=job))
    charts = {name: spec.chart for name, spec in study.films.items()}
    found = screenings(loaded, study.filmed, study.weather, study.sun, charts)
    return {key: ORDER[one.verdict] for key, one in found.items()}


def surveyed(study, **said):
    """Return the verdicts where the survey says something else of every pane."""
    return verdicts(study, panes=tuple(pane.model_copy(update=said) for pane in study.job.panes))


def test_stress_and_limits_are_the_published_ones():
    """E alpha .63 MPa/K (70 GPa x 9e-6, Timoshenko & Goodier, from memory); NF DTU 39 A1 as quoted."""
    assert pytest.approx(70e3 * 9e-6) == E_ALPHA
    assert edge_stress(11.84) == pytest.approx(0.63 * 11.84)
    assert (LIMITS["annealed, worked edges"], LIMITS["heat_strengthened"], LIMITS["tempered"]) == (
        40,
        140,
        200,
    )
    assert LIMITS["annealed"] == 30  # ordinary cut edges: common practice, no source


def test_the_stress_of_every_pane_follows_from_its_difference(results_of):
    """What is printed for a pane is .63 MPa for each kelvin between its middle and its edge."""
    screens = [pane["screen"] for pane in results_of("corner-shop")["panes"] if pane["screen"]]
    stressed = [made for made in screens if "stress_mpa" in made]
    assert stressed
    for made in stressed:
        edge = made["difference_k"]
        for end in ("low", "likely", "high"):
            assert made["stress_mpa"][end] == pytest.approx(0.63 * edge[end])
        assert edge["likely"] == pytest.approx(made["middle_c"] - made["edge_c"])
        assert edge["low"] < edge["likely"] < edge["high"]
        assert (made["verdict"] == "refuse") >= (edge["low"] >= made["limit_k"])
        assert (made["verdict"] == "nothing_found") <= (edge["high"] < made["limit_k"])


@pytest.mark.parametrize("name", ["corner-shop", "harbour-house", "hill-studio"])
def test_cases_are_the_worst_of_three_seasons(study_of, name):
    """Each case lies in its season of the hemisphere; a shadow never lets in more than the sun."""
    study = study_of(name)
    south = study.loaded.latitude < 0
    assert any(found.cases for found in study.screens.values())
    for found in study.screens.values():
        for case, (title, months, room, _) in zip(found.cases, SEASONS, strict=False):
            month = case.time.month
            assert ((month + 5) % 12 + 1 if south else month) in months
            assert case.day.name == title
            assert case.day.t_in == room
            assert 0 <= case.day.diffuse <= case.day.sun
            assert case.day.wind <= 2.0


@pytest.mark.parametrize("name", ["corner-shop", "harbour-house"])
def test_no_month_escapes_the_screen(study_of, name):
    """Whichever month has the hardest hour, in either hemisphere, it is the case of one of the seasons."""
    assert sorted(month for _, months, _, _ in SEASONS for month in months) == list(range(1, 13))
    study = study_of(name)
    index = int(np.argmax(study.sun.panes.total.sum(axis=0)))
    months = np.asarray(study.weather.times.month)
    hard = set()
    for month in range(1, 13):  # the sun shines in this month alone
        shining = (months == month)[:, np.newaxis]
        parts = {
            "faces": ("beam", "circumsolar"),
            "panes": ("beam", "circumsolar", "sky", "ground"),
        }
        on = {}
        for part, names in parts.items():
            whole = getattr(study.sun, part)
            on[part] = replace(whole, **{name: getattr(whole, name) * shining for name in names})
        found = cases(index, study.loaded, study.weather, replace(study.sun, **on))
        sunniest = max(found, key=lambda case: case.day.sun)
        hard.add((month, sunniest.time.month))
    assert hard == {(month, month) for month in range(1, 13)}


def test_no_verdict_is_ever_safe(study_of):
    """The words are nothing found, ask and refuse, and somebody is named whatever the verdict."""
    screens = study_of("corner-shop").screens.values()
    assert len({found.verdict for found in screens}) > 1
    for found in screens:
        assert found.verdict in ORDER
        assert found.who
        assert not any("safe" in reason.text for reason in found.reasons)


@pytest.mark.parametrize(
    ("milder", "harsher"),
    [
        ({"shadow": "none"}, {"shadow": "still"}),
        ({"shadow": "still"}, {"shadow": "moving"}),
        ({"shadow": "none"}, {"shadow": "narrow"}),
        ({"blind": False}, {"blind": True}),
        ({"heater": False}, {"heater": True}),
        ({"dark_frame": False}, {"dark_frame": True}),
        ({"fogged": False}, {"fogged": True}),
        ({"plastic": False}, {"plastic": True}),
        ({"part_covered": False}, {"part_covered": True}),
        ({"edge": "worked"}, {"edge": "cut"}),
        ({"edge": "cut"}, {"edge": "damaged"}),
    ],
)
def test_a_worse_survey_never_improves_a_verdict(study_of, milder, harsher):
    """More shadow, a blind, a heater, a dark frame, a worse edge: never a milder verdict, on any film."""
    base = study_of("corner-shop")
    good, bad = surveyed(base, **milder), surveyed(base, **harsher)
    assert good and all(bad[key] >= good[key] for key in good)


def test_damage_refuses_and_a_heater_asks(study_of):
    """Chips at the edge refuse; a heater close to the glass is asked about until the chart allows it."""
    base = study_of("corner-shop")
    door = [("D1", film) for film in base.films]
    damaged, heated = surveyed(base, edge="damaged"), surveyed(base, heater=True)
    assert {damaged[key] for key in door} == {ORDER["refuse"]}
    assert {heated[key] for key in door} == {ORDER["ask"]}


def test_an_older_unit_never_improves_a_verdict(study_of):
    """Every year older: the same verdict or a harsher one."""
    base = study_of("harbour-house")
    before = None
    for year in (2025, 2010, 1990, 1930):
        glazings = tuple(spec.model_copy(update={"year": year}) for spec in base.job.glazings)
        found = verdicts(base, glazings=glazings)
        assert before is None or all(found[key] >= before[key] for key in found)
        before = found


@settings(max_examples=25, deadline=None)
@given(
    st.floats(0.05, 0.5),
    st.floats(0.02, 0.3),
    st.sampled_from([3.0, 4.0, 6.0, 10.0]),
    st.floats(100.0, 900.0),
)
def test_more_absorptance_never_improves_a_verdict(t_solar, step, thickness, sun):
    """The same film passing less, its reflectance kept: it absorbs more, and no verdict is milder."""
    day = glass.Scenario("day", 0.0, 20.0, 2.0, sun, 60.0, 1.0)
    found = []
    for passed in (t_solar + step, t_solar):
        film = glass.Film("drawn", passed, 0.08, passed * 0.9, 0.08, 0.08, 0.08, t_uv=0.01)
        try:
            filmed = glass.with_film(glass.single(glass.clear(thickness)), film)
        except ValueError:
            return
        found.append(glass.screen(filmed, glass.PaneFacts(900, 1200, shadow="still"), scenarios=(day,)))
    less, more = found
    assert more.absorptance.high > less.absorptance.high
    for end in ("low", "likely", "high"):
        assert getattr(more.worst.difference, end) >= getattr(less.worst.difference, end)
    assert ORDER[more.decision] >= ORDER[less.decision]


def test_the_chart_settles_what_is_typed(study_of):
    """Large glass asks until the chart's limit is typed; within it the question is gone, past it refused."""
    study = study_of("corner-shop")

    def areas(typed):
        charts = {"dyed-grey-35": Chart(**typed)}
        found = screenings(study.loaded, study.filmed, study.weather, study.sun, charts)["S1", "dyed-grey-35"]
        return [reason.decision for reason in found.reasons if reason.about == "area"]

    assert areas({}) == ["ask"]
    assert areas({"max_area": 8.0}) == []
    assert areas({"max_area": 3.0}) == ["refuse"]


def test_plastic_and_part_of_a_pane_are_refused_with_their_reason(study_of):
    """The survey's word reaches the verdict of every film; a film stated for plastic is asked about."""
    study = study_of("corner-shop")
    charts = {name: spec.chart for name, spec in study.films.items()}
    stated = dict.fromkeys(charts, Chart(plastic=True))
    for said, films, verdict, word in (
        ({"plastic": True}, charts, "refuse", "plastic"),
        ({"part_covered": True}, charts, "refuse", "part of a pane"),
        ({"plastic": True}, stated, "ask", "plastic"),
    ):
        panes = tuple(pane.model_copy(update=said) for pane in study.job.panes)
        loaded = replace(study.loaded, job=study.job.model_copy(update={"panes": panes}))
        found = screenings(loaded, study.filmed, study.weather, study.sun, films)
        screened = [one for one in found.values() if one.screen]
        assert screened
        for one in screened:
            assert ORDER[one.verdict] >= ORDER[verdict]
            assert any(word in reason.text and reason.decision == verdict for reason in one.reasons)


def test_every_field_of_the_chart_reaches_the_screen():
    """Each typed limit changes what the screen is given."""
    empty = chart(Chart())
    values = {
        "max_area": 2.0, "max_side": 2000, "max_thickness_mm": 5.0, "max_altitude_m": 900.0,
        "max_age_years": 9.0,
        "max_slope_deg": 5.0, "max_absorptance_percent": 55.0, "tinted": True, "laminated": True,
        "wired": True, "patterned": True,
        "three_panes": True,
        "fogged": False, "plastic": True, "shadows": True, "heaters": True, "dark_frames": True,
    }  # fmt: skip
    assert set(values) == set(Chart.model_fields)
    for name, value in values.items():
        assert chart(Chart(**{name: value})) != empty
    assert chart(Chart(max_absorptance_percent=55.0)).max_absorptance == pytest.approx(0.55)


def test_the_worst_hour_is_one_of_strong_sun(study_of):
    """On an open pane the case of a season is among the sunnier hours of that season."""
    study = study_of("corner-shop")
    index = next(number for number, pane in enumerate(study.job.panes) if pane.id == "E1")
    case = study.screens["E1", "dyed-grey-35"].cases[0]
    month = np.asarray(study.weather.times.month)
    winter = study.sun.panes.total[np.isin(month, (11, 12, 1, 2)), index]
    assert case.day.sun > np.quantile(winter[winter > 20], 0.8)
