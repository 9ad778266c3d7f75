"""Sheets of a job's films: what a seller says is checked, and gaps reach the report as ranges."""

from dataclasses import replace

import pytest

from reportkit.documents.page import Page
from reportkit.documents.runs import words_of
from reportkit.documents.sections import SECTIONS
from reportkit.findings.findings import Findings
from reportkit.study import Study, translate
from reportkit.study.claims import LIGHTS, limits


def with_film(study, name, *, rated=None, claims=None):
    """Return a study in which one film's sheet says something else; the sun is kept."""
    films = tuple(
        spec.model_copy(
            update={
                "rated": spec.rated.model_copy(update=rated or {}),
                "claims": spec.claims.model_copy(update=claims or {}),
            }
        )
        if spec.id == name
        else spec
        for spec in study.job.films
    )
    made = Study(replace(study.loaded, job=study.job.model_copy(update={"films": films})))
    made.weathers, made.sun = study.weathers, study.sun
    return made


GAPS = {"solar_transmittance_percent": None, "solar_reflectance_glass_side_percent": None}


@pytest.fixture(scope="module")
def gappy(study_of):
    """Return a job whose ceramic film has a sheet that prints VT, SHGC and TSER only."""
    return with_film(study_of("hill-studio"), "ceramic-grey-40", rated=GAPS)


ALL = {
    "solar_transmittance_percent": None,
    "solar_reflectance_glass_side_percent": None,
    "solar_reflectance_film_side_percent": None,
    "visible_reflectance_glass_side_percent": None,
    "visible_reflectance_film_side_percent": None,
    "uv_transmittance_percent": None,
    "shgc": None,
    "tser_percent": None,
}


@pytest.mark.parametrize("name", ["corner-shop", "hill-studio"])
@pytest.mark.parametrize(
    "gone",
    [
        {*GAPS},
        {*ALL} - {"tser_percent"},
        {*ALL},
        {"solar_reflectance_glass_side_percent", "shgc", "tser_percent"},
    ],
)
def test_a_job_whose_sheet_says_less_is_never_screened_milder(study_of, name, gone):
    """Numbers left out of the job's own fields: no pane is cleared that the whole sheet did not clear."""
    base = study_of(name)
    thin = with_film(base, "ceramic-grey-40", rated={key: ALL[key] for key in gone})
    asked = 0
    for key, whole in base.screens.items():
        if key[1] == "ceramic-grey-40" and whole.screen:
            found = thin.screens[key]
            assert not (found.verdict == "nothing_found" and whole.verdict != "nothing_found")
            assert found.screen.worst.difference.high >= whole.screen.worst.difference.high - 1e-6
            assert found.screen.absorptance.high >= whole.screen.absorptance.high - 1e-6
            asked += found.verdict == "ask"
    assert asked


def test_ultraviolet_that_is_not_printed_is_asked(study_of):
    """A sheet whole but for its ultraviolet is asked for it, and fading counts the most that fits."""
    base = study_of("hill-studio")
    study = with_film(base, "ceramic-grey-40", rated={"uv_transmittance_percent": None})
    own = next(one for one in study.sheets if one.film == "ceramic-grey-40")
    assert ("ultraviolet", "ask") in {(one.about, one.severity) for one in own.findings}
    for key, glazed in base.filmed.items():
        if key[1] == "ceramic-grey-40" and glazed.rating:
            assert study.filmed[key].rating.t_fading > glazed.rating.t_fading


def test_the_glass_a_sheet_was_measured_on_reaches_the_film(study_of):
    """Typed glass of Ts 88 % leaves less of the sheet's absorption to the glass, more to the film."""
    base = study_of("hill-studio")
    study = with_film(base, "ceramic-grey-40", rated={"on_solar_transmittance_percent": 88.0})
    filmed = {key: one for key, one in base.filmed.items() if key[1] == "ceramic-grey-40" and one.rating}
    assert filmed
    for key, glazed in filmed.items():
        assert study.filmed[key].rating.t_solar < glazed.rating.t_solar


def test_a_sheet_with_gaps_bounds_the_gain_on_every_glass(gappy, study_of):
    """The range on each glazing holds the SHGC computed with, and the one of the whole sheet."""
    own = next(one for one in gappy.sheets if one.film == "ceramic-grey-40")
    assert any(found.about == "what is not printed" for found in own.findings)
    whole = study_of("hill-studio").filmed
    assert own.ranges
    for entry in own.ranges:
        assert entry.low < entry.high
        key = (entry.glazing, "ceramic-grey-40")
        assert entry.low - 1e-9 <= gappy.filmed[key].rating.shgc <= entry.high + 1e-9
        assert entry.low - 0.02 <= whole[key].rating.shgc <= entry.high + 0.02


def test_whole_sheets_leave_no_range(study_of):
    """A sheet that prints all its solar values bounds nothing."""
    sheets = study_of("corner-shop").sheets
    assert sheets and all(not one.ranges for one in sheets)


def test_the_client_reads_the_range(gappy):
    """The proposal's section says between what and what, and for which glass."""
    section = SECTIONS["doubts"](Page(Findings(gappy)))
    text = " ".join(words_of(point) for point in section.blocks[-1].points)
    assert "which is all its sheet allows to say" in text


def test_a_film_that_cannot_be_goes_nowhere(study_of):
    """VT 85 % with an SHGC of .05 is no film: it is refused on every glass, and the sheet says impossible."""
    study = with_film(
        study_of("hill-studio"),
        "ceramic-grey-40",
        rated={**GAPS, "visible_transmittance_percent": 85.0, "shgc": 0.05, "tser_percent": 95.0},
    )
    own = next(one for one in study.sheets if one.film == "ceramic-grey-40")
    assert own.findings[0].severity == "impossible"
    for (_, film), glazed in study.filmed.items():
        assert film != "ceramic-grey-40" or glazed.glazing is None
    assert study.recommended.films != ("ceramic-grey-40",)


def test_percent_become_shares(study_of):
    """Every printed field reaches the check as a share of 1."""
    said = {
        "solar_absorptance_percent": 57.0,
        "shading_coefficient": 0.6,
        "light_to_solar_gain": 0.77,
        "tser_sun_angle_deg": 30.0,
        "infrared_rejected_percent": 90.0,
        "infrared_band_nm": (900.0, 1000.0),
        "fading_reduced_percent": 40.0,
    }
    study = with_film(study_of("hill-studio"), "ceramic-grey-40", claims=said)
    spec = study.films["ceramic-grey-40"]
    assert set(said) == set(type(spec.claims).model_fields)
    sheet = translate.sheet(spec)
    assert (sheet.a_solar, sheet.sc, sheet.lsg, sheet.tser_aoi) == (0.57, 0.6, 0.77, 30.0)
    assert (sheet.infrared_cut, sheet.infrared_range, sheet.fading_cut) == (0.9, (900.0, 1000.0), 0.4)


def test_the_limits_cover_the_lights_of_films():
    """The curves run from nearly black to nearly clear and only rise with light."""
    found = limits()
    assert found["visible_transmittance"].tolist() == list(LIGHTS)
    for name in ("flat", "neutral", "any"):
        assert (found[name][1:] > found[name][:-1]).all()


@pytest.mark.parametrize(
    ("rated", "claims", "severity"),
    [
        ({"shgc": 0.30}, {}, "impossible"),
        ({"shgc": 0.33}, {}, "doubt"),  # 0.335 and 33.5 % print like this
        ({"shgc": None, "tser_percent": 70.0}, {}, "impossible"),
        ({"shgc": None, "tser_percent": None}, {"shading_coefficient": 0.30}, "impossible"),
        (
            {"shgc": 0.30, "solar_transmittance_percent": None},
            {"solar_absorptance_percent": 57.0},
            "impossible",
        ),
    ],
)
def test_a_gain_below_what_passes_straight_through_cannot_be(study_of, rated, claims, severity):
    """SHGC = Ts + N A is at least Ts 34 % (ASHRAE Fundamentals, definition), on the page."""
    study = with_film(study_of("hill-studio"), "ceramic-grey-40", rated=rated, claims=claims)
    found = next(one for one in study.sheets if one.film == "ceramic-grey-40").findings
    assert found[0].severity == severity
    said = {finding.about for finding in found if finding.severity == "impossible"}
    assert ("SHGC and solar transmittance" in said) == (severity == "impossible")
    page = Page(Findings(study))
    words = str(SECTIONS["claims"](page))
    assert ("Cannot be" in words) == (severity == "impossible")
