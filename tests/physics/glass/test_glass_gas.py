"""Gas properties and gap correlations."""

import numpy as np
import pytest

from reportkit.physics.glass import Gap
from reportkit.physics.glass.gas import conductance, en673_conductance, nusselt, properties

KELVIN = np.array(283.0)


# EN 673 table 1 at 10 C (from memory): conductivity, viscosity, specific heat, density. The two standards'
# tables agree within about 1 %.
@pytest.mark.parametrize(
    ("gas", "expected"),
    [
        ("air", (2.496e-2, 1.761e-5, 1008.0, 1.232)),
        ("argon", (1.684e-2, 2.164e-5, 519.0, 1.699)),
        ("krypton", (0.900e-2, 2.400e-5, 245.0, 3.560)),
    ],
)
def test_gas_properties_against_the_other_standard(gas, expected) -> None:
    """ISO 15099's formulas at 283 K agree with EN 673's table within 2.5 %."""
    got = properties(Gap(12.0, gas), KELVIN)
    assert [float(x) for x in got] == pytest.approx(expected, rel=0.025)


def test_mixture_lies_between_its_gases() -> None:
    """Argon at .9 conducts between argon and air, and nearly pure argon is argon."""
    pure, air = properties(Gap(12.0, "argon"), KELVIN), properties(Gap(12.0), KELVIN)
    mixed, nearly = (
        properties(Gap(12.0, "argon", 0.9), KELVIN),
        properties(Gap(12.0, "argon", 0.999999), KELVIN),
    )
    assert pure[0] < mixed[0] < air[0]
    assert [float(x) for x in nearly] == pytest.approx([float(x) for x in pure], rel=1e-5)


def test_nusselt_branches() -> None:
    """1 for still gas; the branches of ISO 15099's vertical-cavity correlation, worked by hand."""
    ra = np.array([0.0, 1e3, 2e4, 1e5])
    expected = [1.0, 1.0 + 1.7596678e-10 * 1e3**2.2984755, 0.028154 * 2e4**0.4134, 0.0673838 * 1e5 ** (1 / 3)]
    assert nusselt(ra, aspect=500.0) == pytest.approx(expected)
    assert nusselt(np.array(1e4), aspect=5.0) == pytest.approx(0.242 * (1e4 / 5.0) ** 0.272)
    assert np.isnan(nusselt(np.array(np.nan), aspect=80.0))


def test_corners_of_the_correlation_are_bridged() -> None:
    """The curve is continuous, and within .8 % of the published branches on either side of a corner."""
    ra = np.geomspace(5e3, 1e5, 200_001)
    got = nusselt(ra, aspect=500.0)
    assert np.abs(np.diff(np.log(got))).max() < 2e-4
    published = np.where(
        ra <= 1e4,
        1.0 + 1.7596678e-10 * ra**2.2984755,
        np.where(ra <= 5e4, 0.028154 * ra**0.4134, 0.0673838 * ra ** (1 / 3)),
    )
    assert got == pytest.approx(published, rel=0.008)


def test_thin_gap_conducts_like_still_gas() -> None:
    """In 3 mm of air nothing moves: the conductance is k/w."""
    one, two = np.array(290.0), np.array(280.0)
    k = float(properties(Gap(3.0), np.array(285.0))[0])
    assert conductance(Gap(3.0), one, two, height=1.0) == pytest.approx(k / 0.003, rel=1e-3)


def test_en673_gap_by_hand() -> None:
    """16 mm air, 15 K: Gr Pr worked by hand gives Nu 1.193 and 1.86 W/m2K."""
    gr = 9.81 * 0.016**3 * 15.0 * 1.232**2 / (283.0 * 1.761e-5**2)
    pr = 1.761e-5 * 1008.0 / 2.496e-2
    nu = 0.035 * (gr * pr) ** 0.38
    assert en673_conductance(Gap(16.0), difference=15.0) == pytest.approx(nu * 2.496e-2 / 0.016)
    assert en673_conductance(Gap(6.0), difference=15.0) == pytest.approx(2.496e-2 / 0.006)
