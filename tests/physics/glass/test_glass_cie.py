"""CIE tables against a general colour-science library."""

import numpy as np
import pytest

from reportkit.physics.glass import cie


@pytest.fixture(scope="module")
def tables() -> tuple[np.ndarray, np.ndarray]:
    """Observer and illuminant of the colour-science library at 10 nm."""
    colour = pytest.importorskip("colour")
    shape = colour.SpectralShape(380, 780, 10)
    observer = colour.MSDS_CMFS["CIE 1931 2 Degree Standard Observer"].copy().align(shape)
    return observer.values, colour.SDS_ILLUMINANTS["D65"].copy().align(shape).values


@pytest.mark.filterwarnings("ignore::Warning")  # the library warns of optional packages it lacks
def test_tables_are_the_published_ones(tables) -> None:
    """Observer and D65 agree with colour-science's copy of the CIE tables."""
    observer, d65 = tables
    assert np.stack([cie.X_BAR, cie.Y_BAR, cie.Z_BAR], axis=1) == pytest.approx(observer, abs=1e-6)
    assert pytest.approx(d65, abs=1e-3) == cie.D65


# D65 x V(lambda), x100 on a 10 nm grid, as EN 410 and ISO 9050 tabulate it; reproduced with colour-science.
@pytest.mark.parametrize(
    ("nm", "weight"), [(450, 0.4207), (500, 3.3423), (550, 9.7956), (600, 5.3741), (650, 0.8103)]
)
def test_visible_weight(nm: int, weight: float) -> None:
    """The visible weight has the tabulated values and sums to 1."""
    at = cie.WAVELENGTH.tolist().index(nm)
    assert 100.0 * cie.visible_weight()[at] == pytest.approx(weight, abs=5e-4)
    assert cie.visible_weight().sum() == pytest.approx(1.0)


def test_white_point_of_daylight() -> None:
    """D65 through nothing has chromaticity x .3127, y .3290 (CIE 015)."""
    x, y, z = cie.tristimulus_weights().sum(axis=1)
    assert x / (x + y + z) == pytest.approx(0.3127, abs=2e-4)
    assert y / (x + y + z) == pytest.approx(0.3290, abs=2e-4)


def test_tables_cannot_be_written() -> None:
    """The shared arrays are read-only."""
    with pytest.raises(ValueError, match="read-only"):
        cie.D65[0] = 0.0
