"""Bands and weights against ASTM G173-03 as pvlib ships it."""

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pvlib.spectrum import get_reference_spectra

from reportkit.physics.glass import bands


@pytest.fixture(scope="module")
def g173() -> tuple[np.ndarray, np.ndarray]:
    """ASTM G173-03 global tilt, from pvlib's data file."""
    table = get_reference_spectra(standard="ASTM G173-03")
    return table.index.to_numpy(dtype=float), table["global"].to_numpy(dtype=float)


def test_solar_weights_are_those_of_the_reference_spectrum(g173) -> None:
    """The three shares are re-derived from pvlib's copy of ASTM G173-03 and add up to one."""
    total = bands.band_share(*g173, low=300.0, high=2500.0)
    edges = bands.BAND_EDGES
    shares = [bands.band_share(*g173, low=a, high=b) / total for a, b in pairwise(edges)]
    assert shares == pytest.approx(bands.SOLAR_WEIGHTS, abs=1e-4)
    assert sum(bands.SOLAR_WEIGHTS) == pytest.approx(1.0, abs=1e-12)


# Reproduced with pvlib's copy of ASTM G173-03; tolerance .1 percentage point.
@pytest.mark.parametrize(
    ("low", "high", "percent"),
    [(300, 380, 3.25), (380, 780, 53.84), (780, 2500, 42.91), (900, 1000, 5.67), (400, 700, 43.3)],
)
def test_published_shares_of_the_spectrum(g173, low: float, high: float, percent: float) -> None:
    """Shares of 300-2500 nm that trade literature quotes come out of the integral."""
    total = bands.band_share(*g173, low=300.0, high=2500.0)
    assert 100.0 * bands.band_share(*g173, low=low, high=high) / total == pytest.approx(percent, abs=0.1)


def test_total_irradiance_of_the_spectrum(g173) -> None:
    """ASTM G173-03 global tilt holds 1000.37 W/m2 between 280 and 4000 nm."""
    assert bands.band_share(*g173, low=280.0, high=4000.0) == pytest.approx(1000.37, abs=0.01)


def test_fading_weights_are_the_damage_weight_on_the_spectrum(g173) -> None:
    """ISO 9050 / CIE 89-3 damage weight (from memory) on G173: 32.8 % below 380 nm, 8.7 % up to 400."""
    nm, power = g173
    weighted = power * bands.damage_weight(nm)
    total = bands.band_share(nm, weighted, low=300.0, high=600.0)
    shares = [
        bands.band_share(nm, weighted, low=low, high=high) / total
        for low, high in ((300.0, 380.0), (380.0, 400.0), (400.0, 600.0))
    ]
    assert shares == pytest.approx([0.328, 0.087, 0.585], abs=1e-3)
    assert shares == pytest.approx(bands.FADING_WEIGHTS, abs=1e-5)
    assert sum(bands.FADING_WEIGHTS) == pytest.approx(1.0, abs=1e-12)


def test_a_perfect_ultraviolet_block_leaves_most_of_the_damage() -> None:
    """Blocking 300-380 nm removes a third of the weighted damage at most (the weights above)."""
    assert float(bands.fading((0.0, 1.0, 1.0))) == pytest.approx(0.672, abs=0.001)
    assert float(bands.fading((0.0, 1.0, 1.0), least=True)) == pytest.approx(0.585, abs=0.001)


def test_between_ultraviolet_and_light_the_most_that_fits_is_taken(g173) -> None:
    """A spectrum that stops at 380 nm, one that stops at 400 and one between them lie within the two ends."""
    nm, power = g173
    weighted = power * bands.damage_weight(nm)
    total = bands.band_share(nm, weighted, low=300.0, high=600.0)
    most, least = (float(bands.fading((0.01, 0.8, 0.8), least=end)) for end in (False, True))
    for edge in (380.0, 390.0, 400.0):
        passes = np.where(nm < edge, 0.01, 0.8)
        true = bands.band_share(nm, weighted * passes, low=300.0, high=600.0) / total
        assert least - 2e-3 <= true <= most + 2e-3
    dark = bands.fading((0.5, 0.2, 0.2)), bands.fading((0.5, 0.2, 0.2), least=True)
    assert dark[0] - dark[1] == pytest.approx(0.087 * 0.3, abs=1e-3)  # a dyed film without an absorber


def test_near_infrared_follows_from_the_sheet() -> None:
    """VT .70, solar .45, ultraviolet .01 leave .281 for the near infrared (arithmetic on G173's shares)."""
    got = bands.bands_from_sheet(solar_value=0.45, visible=0.70, uv=0.01)
    assert got[2] == pytest.approx(0.281, abs=5e-4)


def test_sheet_that_contradicts_itself_is_refused_by_name() -> None:
    """A visible value that the solar one cannot hold raises, naming both and the implied value."""
    with pytest.raises(ValueError, match=r"solar transmittance 0\.2 contradicts visible transmittance 0\.7"):
        bands.bands_from_sheet(solar_value=0.20, visible=0.70, uv=0.01)
    with pytest.raises(ValueError, match="near-infrared reflectance would have to be 1"):
        bands.bands_from_sheet(solar_value=0.70, visible=0.10, uv=0.1, quantity="reflectance")
    with pytest.raises(ValueError, match="visible transmittance must be between 0 and 1"):
        bands.bands_from_sheet(solar_value=0.5, visible=1.2, uv=0.0)


@settings(max_examples=60, deadline=None)
@given(st.tuples(*[st.floats(0.0, 1.0)] * 3))
def test_splitting_a_sheet_inverts_the_solar_weighting(values: tuple[float, float, float]) -> None:
    """Any three band values are found again from their solar, visible and ultraviolet values."""
    got = bands.bands_from_sheet(solar_value=float(bands.solar(values)), visible=values[1], uv=values[0])
    assert got == pytest.approx(values, abs=1e-9)


def test_nan_passes_through_the_weights() -> None:
    """Not-a-number in, not-a-number out."""
    assert np.isnan(bands.solar((np.nan, 0.5, 0.5)))
    assert np.isnan(bands.damage_weight([np.nan])[0])
    assert bands.damage_weight([299.0, 601.0]).tolist() == [0.0, 0.0]


def test_band_tuples_have_three_values() -> None:
    """Two band values are refused."""
    with pytest.raises(ValueError, match="band values must be three"):
        bands.as_band3((0.1, 0.2))
