"""Limits of what a film can do, and what sheets say."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pvlib.spectrum import get_reference_spectra

from reportkit.physics.glass import Claim, Film, examine, gain_limits
from reportkit.physics.glass.claims import CLASS_RANGES, SEVERITIES, worst

# invented films, no products
FILM = Film("plain", 0.35, 0.25, 0.35, 0.25, 0.22, 0.22, t_uv=0.01)
SELECTIVE = Film("selective", 0.40, 0.15, 0.68, 0.10, 0.18, 0.12, t_uv=0.01)

_TABLE = get_reference_spectra(standard="ASTM G173-03")
SPECTRUM = {
    "wavelength": _TABLE.index.to_numpy(dtype=float),
    "irradiance": _TABLE["global"].to_numpy(dtype=float),
}


# First and third column reproduced with pvlib's ASTM G173-03 and the CIE tables; the second by an independent
# linear programme (cross-check, not an authority). Tolerance: the printed percent.
@pytest.mark.parametrize(
    ("t_visible", "flat", "neutral", "any_colour"),
    [(0.70, 0.70, 0.80, 0.87), (0.50, 0.78, 0.87, 0.92), (0.35, 0.85, 0.91, 0.94)],
)
def test_three_limits(t_visible, flat, neutral, any_colour) -> None:
    """The limits of TSER at a visible transmittance."""
    got = gain_limits(t_visible, **SPECTRUM)
    assert got.flat == pytest.approx(flat, abs=0.0055)
    assert got.neutral == pytest.approx(neutral, abs=0.0055)
    assert got.any_colour == pytest.approx(any_colour, abs=0.0055)


def test_limits_by_hand() -> None:
    """Flat is 1 - VT x .433 (share of 400-700 nm); a film that passes nothing may keep out everything."""
    assert gain_limits(0.6, **SPECTRUM).flat == pytest.approx(1.0 - 0.6 * 0.43305, abs=1e-4)
    dark = gain_limits(0.0, **SPECTRUM)
    assert (dark.flat, dark.neutral, dark.any_colour) == pytest.approx((1.0, 1.0, 1.0))


@settings(max_examples=20, deadline=None)
@given(st.floats(0.02, 0.95), st.floats(0.01, 0.04))
def test_limits_are_ordered_and_fall_with_light(t_visible: float, step: float) -> None:
    """Any colour beats neutral beats flat, and more light always means less energy kept out."""
    one, more = gain_limits(t_visible, **SPECTRUM), gain_limits(t_visible + step, **SPECTRUM)
    assert one.flat < one.neutral < one.any_colour
    assert more.flat < one.flat
    assert more.neutral < one.neutral
    assert more.any_colour < one.any_colour


def test_any_colour_limit_beats_random_spectra() -> None:
    """No spectrum drawn at random passes as much light for less energy than the limit allows."""
    from reportkit.physics.glass.bands import band_share
    from reportkit.physics.glass.cie import WAVELENGTH, visible_weight

    total = band_share(*SPECTRUM.values(), low=300.0, high=2500.0)
    energy = np.array([band_share(*SPECTRUM.values(), low=nm - 5, high=nm + 5) for nm in WAVELENGTH]) / total
    rng = np.random.default_rng(5)
    for _ in range(50):
        t = rng.uniform(0.0, 1.0, WAVELENGTH.size) ** rng.uniform(0.2, 5.0)
        limits = gain_limits(float(t @ visible_weight()), **SPECTRUM)
        assert 1.0 - t @ energy <= limits.any_colour + 1e-9


@pytest.mark.parametrize(
    ("tser", "severity"), [(0.60, "note"), (0.75, "ask"), (0.84, "doubt"), (0.95, "impossible")]
)
def test_tser_is_placed_among_the_limits(tser: float, severity: str) -> None:
    """At VT 68 % a TSER is plain, unusual, strongly coloured or impossible, with its arithmetic."""
    found = [f for f in examine(SELECTIVE, Claim(tser=tser), **SPECTRUM) if f.about == "TSER"]
    assert [f.severity for f in found] == [severity]
    assert "VT 68 %" in found[0].arithmetic
    assert bool(found[0].question) == (severity != "note")


def test_sheet_in_agreement_raises_nothing() -> None:
    """A sheet whose SHGC is the one its solar values give has notes only."""
    findings = examine(replace(FILM, shgc=0.48), **SPECTRUM)
    assert worst(findings) == "note"
    assert worst(()) == "note"


def test_claims_that_disagree_with_the_sheet() -> None:
    """SHGC, U, TSER, light-to-solar gain and class are each compared with what the other values give."""
    film = replace(SELECTIVE, shgc=0.30, u_w_m2k=3.0, film_class="dyed")
    about = {f.about: f for f in examine(film, Claim(tser=0.70), **SPECTRUM)}
    assert "0.54" in about["SHGC"].arithmetic
    assert "6.09" in about["U"].arithmetic
    assert about["TSER and solar values"].severity == "doubt"
    assert "seldom exceeds 1.2" in about["light-to-solar gain"].arithmetic
    assert "5 % to 50 %" in about["VT for its class"].arithmetic


def test_infrared_claim_is_put_in_proportion() -> None:
    """97 % of 900-1000 nm is 97 % of 5.67 % of the sun's energy (ASTM G173)."""
    claim = Claim(infrared_cut=0.97, infrared_range=(900.0, 1000.0))
    found = next(f for f in examine(FILM, claim, **SPECTRUM) if f.about == "infrared rejected")
    assert found.severity == "doubt"
    assert "5.7 %" in found.arithmetic
    assert ": 6 % of it at most" in found.arithmetic
    whole = examine(FILM, Claim(infrared_cut=0.8), **SPECTRUM)
    assert next(f for f in whole if f.about == "infrared rejected").severity == "note"


def test_fading_claim_is_weighted() -> None:
    """A clear film cannot prevent 99 % of fading; a third is credible."""
    clear_uv = Film("clear uv", 0.78, 0.08, 0.86, 0.09, 0.08, 0.09, t_uv=0.005)  # invented
    high = examine(clear_uv, Claim(fading_cut=0.99), **SPECTRUM)
    low = examine(clear_uv, Claim(fading_cut=0.33), **SPECTRUM)
    assert next(f for f in high if f.about == "fading").severity == "doubt"
    assert next(f for f in low if f.about == "fading").severity == "note"


def test_tser_at_a_slanted_sun_is_not_taken_for_tser() -> None:
    """A TSER quoted at 60 degrees is named as such, with the value along the normal."""
    found = examine(FILM, Claim(tser=0.62, tser_aoi=60.0), **SPECTRUM)
    assert [f.severity for f in found if f.about == "TSER at an angle"] == ["doubt"]
    assert not [f for f in found if f.about == "TSER"]


def test_contradictory_sheet_is_one_finding() -> None:
    """Rated values that contradict each other end the examination."""
    findings = examine(replace(FILM, t_solar=0.1, t_visible=0.6), **SPECTRUM)
    assert [f.severity for f in findings] == ["impossible"]
    assert "contradicts" in findings[0].arithmetic


def test_missing_film_side_is_asked_for_and_order_is_by_severity() -> None:
    """The gravest finding comes first; an omitted film-side value is a question."""
    film = replace(SELECTIVE, r_solar_film=None, shgc=0.02)
    findings = examine(film, **SPECTRUM)
    ranks = [SEVERITIES.index(f.severity) for f in findings]
    assert ranks == sorted(ranks, reverse=True)
    assert findings[0].severity == "impossible"
    assert any(f.about == "film-side reflectance" for f in findings)


def test_class_ranges_are_shares() -> None:
    """Every class has rising ranges within 0-1."""
    assert CLASS_RANGES and all(CLASS_RANGES.values())
    for ranges in CLASS_RANGES.values():
        for low, high in ranges:
            assert 0.0 <= low < high <= 1.0


@pytest.mark.parametrize("t_visible", [-0.1, 1.1])
def test_impossible_transmittance_is_refused(t_visible: float) -> None:
    """A visible transmittance out of 0-1 raises, and so does half a spectrum."""
    with pytest.raises(ValueError, match="visible transmittance"):
        gain_limits(t_visible, **SPECTRUM)
    with pytest.raises(ValueError, match="must cover 300-2500 nm"):
        gain_limits(0.5, wavelength=[400.0, 700.0], irradiance=[1.0, 1.0])
