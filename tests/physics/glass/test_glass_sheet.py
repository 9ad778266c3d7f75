"""Sheets of invented films: six honest kinds and eleven wrong ones, and what sheets with gaps leave open.

No number here belongs to a real product. Honest sheets carry the SHGC of T + N (1 - T - R) with the inward
part N of about .30 for an ordinary face and .16 for a low-emissivity one under NFRC summer conditions
(independent solve: a cross-check, not an authority), rounded as sheets print it.
"""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pvlib.spectrum import get_reference_spectra

from reportkit.physics import glass
from reportkit.physics.glass import Sheet, check, gain_range

_TABLE = get_reference_spectra(standard="ASTM G173-03")
SPECTRUM = {
    "wavelength": _TABLE.index.to_numpy(dtype=float),
    "irradiance": _TABLE["global"].to_numpy(dtype=float),
}

# Positions: VT, T, R glass side, R film side, A.
DYED = Sheet(
    "invented dyed", 0.35, 0.43, 0.06, 0.06, 0.51, 0.05, 0.05, 0.01, shgc=0.58, tser=0.42, sc=0.67, lsg=0.60,
    film_class="dyed",
)  # fmt: skip
CERAMIC = Sheet(
    "invented ceramic", 0.40, 0.34, 0.09, 0.09, 0.57, 0.08, 0.08, 0.01, shgc=0.51, tser=0.49, sc=0.59,
    lsg=0.78, film_class="ceramic",
)  # fmt: skip
MIRROR = Sheet(
    "invented mirror", 0.20, 0.17, 0.32, 0.20, 0.51, 0.34, 0.14, 0.01, shgc=0.33, tser=0.67, sc=0.38,
    lsg=0.61, film_class="dual_reflective",
)  # fmt: skip
LOW_E = Sheet(
    "invented low-e", 0.60, 0.45, 0.22, 0.26, 0.33, 0.14, 0.12, 0.01, shgc=0.51, tser=0.49, emissivity=0.15,
    film_class="low_emissivity",
)  # fmt: skip
CLEAR_UV = Sheet(
    "invented clear", 0.86, 0.78, 0.08, None, 0.14, 0.09, None, 0.01, shgc=0.82, tser=0.18, fading_cut=0.30,
    film_class="clear_uv",
)  # fmt: skip
SELECTIVE = Sheet(
    "invented selective", 0.65, 0.42, 0.17, 0.16, 0.41, 0.10, 0.10, 0.01, shgc=0.54, tser=0.46, lsg=1.20,
    infrared_cut=0.70, film_class="spectrally_selective",
)  # fmt: skip
HONEST = (DYED, CERAMIC, MIRROR, LOW_E, CLEAR_UV, SELECTIVE)

#: A wrong sheet, and what about it must be doubted.
WRONG = {
    "T + R + A over 1": (replace(CERAMIC, a_solar=0.66), "T + R + A"),
    "TSER against SHGC": (replace(CERAMIC, tser=0.61), "TSER and SHGC"),
    "SC of another pane": (replace(MIRROR, sc=0.29), "SC"),
    "LSG too good": (replace(CERAMIC, lsg=1.05), "LSG"),
    "heat beyond light": (
        replace(SELECTIVE, t_solar=None, r_solar_glass=None, a_solar=None, lsg=None, shgc=0.08, tser=0.92),
        "TSER",
    ),
    "a narrow infrared band": (
        replace(CERAMIC, infrared_cut=0.97, infrared_range=(900.0, 1000.0)),
        "infrared rejected",
    ),
    "infrared beyond the solar values": (replace(DYED, infrared_cut=0.92), "infrared and solar values"),
    "UV quoted as fading": (replace(CLEAR_UV, fading_cut=0.99), "fading"),
    "SHGC of another glass": (replace(DYED, shgc=0.42, tser=0.58, sc=0.48, lsg=0.83), "SHGC"),
    "TSER at a slanted sun": (replace(CERAMIC, tser=0.62, tser_aoi=60.0), "TSER at an angle"),
    "rated values that cannot be": (replace(CERAMIC, t_solar=0.12, a_solar=None), "rated values"),
}


@pytest.mark.parametrize("sheet", HONEST, ids=lambda sheet: sheet.name)
def test_no_honest_sheet_is_accused(sheet):
    """Values that follow from each other raise no doubt; at most a question about what is missing."""
    grave = [found for found in check(sheet, **SPECTRUM) if found.severity in ("doubt", "impossible")]
    assert grave == []


@pytest.mark.parametrize("name", WRONG)
def test_every_wrong_sheet_is_caught_for_its_reason(name):
    """The finding names the quantity that is wrong, shows its numbers and asks a question."""
    sheet, about = WRONG[name]
    grave = [found for found in check(sheet, **SPECTRUM) if found.severity in ("doubt", "impossible")]
    assert about in [found.about for found in grave]
    for found in grave:
        assert any(sign.isdigit() for sign in found.arithmetic)
        assert found.question.endswith(("?", "spectra."))


def test_each_definition_by_hand():
    """One printed number changed at a time raises exactly the finding that its definition gives."""
    for change, about in (
        ({"a_solar": 0.60}, "T + R + A"),
        ({"sc": 0.70}, "SC"),
        ({"lsg": 0.90}, "LSG"),
        ({"tser": 0.53}, "TSER and SHGC"),
    ):
        own = [found.about for found in glass.sheet.follows(replace(CERAMIC, **change))]
        assert own == [about]
    assert glass.sheet.follows(CERAMIC) == ()


def test_rounding_is_no_contradiction():
    """Three rounded percents may sum to 99 or 101, SHGC and TSER to .99 or 1.01."""
    assert glass.sheet.follows(replace(CERAMIC, a_solar=0.58, tser=0.48)) == ()
    assert glass.sheet.follows(replace(CERAMIC, a_solar=0.56, tser=0.50)) == ()


def test_a_sheet_with_gaps_gives_a_range_that_holds_the_truth():
    """Take values away from a whole sheet: the range on other glass holds what the whole sheet gives."""
    unit = glass.double(glass.clear(4.0), glass.clear(4.0), gap=glass.Gap(12.0, "air"))
    film = glass.Film("whole", 0.34, 0.09, 0.40, 0.08, 0.09, 0.08, t_uv=0.01)  # what CERAMIC prints
    truth = glass.rate(glass.with_film(unit, film)).shgc
    for gone in (
        {"r_solar_glass": None, "a_solar": None},
        {"t_solar": None, "a_solar": None},
        {"t_solar": None, "r_solar_glass": None, "a_solar": None},
        {
            "t_solar": None,
            "r_solar_glass": None,
            "a_solar": None,
            "shgc": None,
            "tser": None,
            "sc": None,
            "lsg": None,
        },
    ):
        found = gain_range(unit, replace(CERAMIC, **gone))
        assert found.low - 0.012 <= truth <= found.high + 0.012
        assert found.low < found.high


def test_less_printed_never_narrows_the_range():
    """Every value taken away leaves a range at least as wide."""
    pane = glass.single(glass.clear(6.0))
    widths = []
    for gone in (
        {},
        {"t_solar": None, "r_solar_glass": None, "a_solar": None},
        {
            "t_solar": None,
            "r_solar_glass": None,
            "a_solar": None,
            "shgc": None,
            "tser": None,
            "sc": None,
            "lsg": None,
        },
    ):
        found = gain_range(pane, replace(CERAMIC, **gone))
        widths.append(found.high - found.low)
    assert widths == sorted(widths)
    assert widths[2] > 0.2


def test_two_of_three_give_the_third():
    """T and A printed, R follows: there is no gap (conservation of energy)."""
    closed = replace(CERAMIC, r_solar_glass=None).closed
    assert closed.r_solar_glass == pytest.approx(0.09)
    assert replace(CERAMIC, r_solar_glass=None).gaps == ()
    assert replace(CERAMIC, a_solar=None, r_solar_glass=None).gaps == ("r_solar_glass",)


def test_no_film_has_these_values():
    """VT 70 % with SHGC .05 is no film, and the sheet is told so."""
    sheet = Sheet("too good", 0.70, shgc=0.05)
    assert gain_range(glass.single(glass.clear(3.0)), sheet) is None
    found = check(sheet, **SPECTRUM)
    assert {"TSER", "rated values"} <= {one.about for one in found if one.severity == "impossible"}


def test_a_mirror_outside_leaves_its_film_side_open():
    """Outside, the film's own face decides the gain: without it the sheet leaves a range."""
    sheet = replace(MIRROR, side="outside", r_solar_film=None)
    assert "r_solar_film" in sheet.gaps
    found = gain_range(glass.single(glass.clear(6.0)), sheet)
    assert found.high - found.low > 0.05


@settings(max_examples=12, deadline=None)
@given(st.floats(0.15, 0.6), st.floats(0.05, 0.3), st.floats(0.25, 0.6))
def test_any_possible_film_prints_an_honest_sheet(t_solar, r_solar, t_visible):
    """A sheet printed from a computed film, rounded as sheets are, is never accused."""
    film = glass.Film("any", t_solar, r_solar, t_visible, 0.09, 0.1, 0.09, t_uv=0.01)
    try:
        got = glass.rate(glass.with_film(glass.single(glass.clear(3.0)), film))
    except ValueError:
        return  # no possible film
    sheet = Sheet(
        "any",
        round(t_visible, 2),
        round(t_solar, 2),
        round(r_solar, 2),
        0.10,
        round(1 - t_solar - r_solar, 2),
        0.09,
        0.09,
        0.01,
        shgc=round(got.shgc, 2),
        tser=round(1 - got.shgc, 2),
        sc=round(got.shgc / 0.87, 2),
        lsg=round(t_visible / got.shgc, 2),
    )
    grave = [one for one in check(sheet, **SPECTRUM) if one.severity in ("doubt", "impossible")]
    # a film drawn at random may be strongly colored, and rounding may push it just past what a film can be
    assert [one for one in grave if one.about not in ("TSER", "rated values")] == []
