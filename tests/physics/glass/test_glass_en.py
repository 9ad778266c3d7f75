"""EN 673 and EN 410."""

import pytest

from reportkit.physics.glass import Gap, clear, coated, double, rate, single, triple
from reportkit.physics.glass.en import en410_shares, en673_faces, en673_u, gap_conductances

FOUR = clear(4)


# ISO 10077-1 annex, glazing U from EN 673 (from memory): uncoated 4-6-4, 4-12-4, 4-16-4 air; tolerance .1.
@pytest.mark.parametrize(("width", "u"), [(6, 3.3), (12, 2.8), (16, 2.7)])
def test_en673_air_gaps(width: float, u: float) -> None:
    """U of uncoated double units meets the annex's table."""
    assert en673_u(double(FOUR, FOUR, gap=Gap(width))) == pytest.approx(u, abs=0.1)


# The same annex (from memory): 4-12-4-12-4 uncoated with air 1.9; 4-16-4 with e .05 and air 1.4.
def test_en673_triple_and_coated() -> None:
    """Uncoated 4-12-4-12-4 is 1.9 with air; a soft coating of e .05 in 4-16-4 air is 1.4."""
    assert en673_u(triple(FOUR, FOUR, FOUR, gaps=(Gap(12), Gap(12)))) == pytest.approx(1.9, abs=0.1)
    unit = double(FOUR, coated(4, "soft", face="front", emissivity=0.05), gap=Gap(16))
    assert en673_u(unit) == pytest.approx(1.4, abs=0.1)


def test_en673_single_by_hand() -> None:
    """4 mm: 1/(1/25 + .004 + 1/7.7) = 5.75, printed 5.8 in EN 673's trade tables (from memory)."""
    assert en673_u(single(FOUR)) == pytest.approx(1.0 / (1 / 25 + 0.004 + 1 / 7.7), abs=1e-9)


def test_en410_secondary_share_by_hand() -> None:
    """Single clear glass sends hi/(he + hi) = 8/31 inward, but for the glass's own resistance."""
    assert en410_shares(single(clear(3)))[0] == pytest.approx(8.0 / 31.0, abs=0.006)
    got = rate(single(FOUR), "en")
    assert got.shgc == pytest.approx(got.t_solar + got.a_solar * en410_shares(single(FOUR))[0])


def test_en410_double_by_the_standards_formula() -> None:
    """EN 410, two panes: (A1/he + A2/he + A2/L)/(1/hi + 1/he + 1/L), bar the glass (from memory)."""
    unit = double(FOUR, FOUR, gap=Gap(16))
    gap = gap_conductances(unit)[0]
    total = 1 / 8.0 + 1 / 23.0 + 1 / gap + 0.004
    expected = ((1 / 23.0 + 0.002) / total, (1 / 23.0 + 1 / gap + 0.004) / total)
    assert en410_shares(unit) == pytest.approx(expected, abs=0.01)


def test_gap_temperatures_share_fifteen_kelvin() -> None:
    """Two equal gaps of a triple unit conduct alike; a wider one of the two conducts less."""
    equal = gap_conductances(triple(FOUR, FOUR, FOUR, gaps=(Gap(12), Gap(12))))
    assert equal[0] == pytest.approx(equal[1])
    unequal = gap_conductances(triple(FOUR, FOUR, FOUR, gaps=(Gap(6), Gap(12))))
    assert unequal[0] > unequal[1]
    assert gap_conductances(single(FOUR)) == ()


def test_faces_lie_between_the_airs() -> None:
    """Face temperatures rise from outdoors to the room, and the flow into the room is U times 20 K."""
    unit = double(FOUR, FOUR, gap=Gap(12))
    faces = en673_faces(unit, t_out=0.0, t_in=20.0)
    assert list(faces) == sorted(faces)
    assert 7.7 * (20.0 - faces[-1]) == pytest.approx(20.0 * en673_u(unit))
