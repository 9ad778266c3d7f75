"""Samples, ranges and drivers."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats
from scipy.stats import qmc

from reportkit.physics.room.points import DIMENSIONS, SEED, points
from reportkit.physics.room.ranges import Range, Uncertain, drivers, likely, percentiles, samples, summary

A = Uncertain("a", 1.0, 2.0, 4.0, "W", "C", "test")
B = Uncertain("b", -1.0, 0.0, 1.0, "K", "C", "test")
FIXED = Uncertain("c", 3.0, 3.0, 3.0, "m", "J", "test")


def test_triangle_is_that_of_a_general_library() -> None:
    """Values at a share equal scipy.stats.triang's inverse distribution."""
    share = np.linspace(0.0, 1.0, 41)
    expected = stats.triang.ppf(share, c=1.0 / 3.0, loc=1.0, scale=3.0)
    np.testing.assert_allclose(A.at(share), expected, atol=1e-12)


@settings(deadline=None, max_examples=60)
@given(st.lists(st.floats(-100.0, 100.0), min_size=3, max_size=3), st.floats(0.0, 1.0))
def test_samples_stay_between_low_and_high(bounds: list[float], share: float) -> None:
    """No sample leaves its bounds, for peaks at either end too."""
    low, middle, high = sorted(bounds)
    value = float(Uncertain("x", low, middle, high, "1", "C", "test").at(share))
    assert low - 1e-9 <= value <= high + 1e-9


def test_same_seed_same_samples() -> None:
    """Samples repeat exactly, another seed gives others, and a fixed input stays fixed."""
    first, second = samples([A, B, FIXED], 64), samples([A, B, FIXED], 64)
    for key in ("a", "b", "c"):
        np.testing.assert_allclose(first[key], second[key], rtol=0, atol=1e-9)
    assert not np.array_equal(first["a"], samples([A, B, FIXED], 64, seed=1)["a"])
    assert (first["c"] == 3.0).all()
    assert likely([A])["a"].tolist() == [2.0]


def test_samples_have_the_triangles_moments() -> None:
    """Mean (a+b+c)/3 and variance of a triangular distribution come out within 1 % from 256 samples."""
    drawn = samples([A, B], 256)["a"]
    mean = (1.0 + 2.0 + 4.0) / 3.0
    variance = (1.0 + 4.0 + 16.0 - 2.0 - 4.0 - 8.0) / 18.0
    assert drawn.mean() == pytest.approx(mean, rel=0.01)
    assert drawn.var() == pytest.approx(variance, rel=0.02)


def test_percentiles_of_a_known_distribution() -> None:
    """The range of a triangular input is its own tenth, fiftieth and ninetieth percentile within 2 %."""
    result = summary(samples([A, B], 256)["a"])
    expected = stats.triang.ppf([0.1, 0.5, 0.9], c=1.0 / 3.0, loc=1.0, scale=3.0)
    assert (result.p10, result.p50, result.p90) == pytest.approx(tuple(expected), rel=0.02)
    assert summary(np.array([5.0])) == Range(5.0, 5.0, 5.0)
    assert percentiles(np.ones((2, 3, 8))).shape == (3, 2, 3)
    assert np.isnan(summary(np.array([1.0, np.nan])).p50)


def test_drivers_are_squared_rank_correlations() -> None:
    """Shares follow scipy.stats.spearmanr, squared; signs are kept; the order is by size."""
    drawn = samples([A, B, Uncertain("d", 0.0, 1.0, 2.0, "1", "C", "test")], 256)
    result = np.exp(drawn["a"]) - 3.0 * drawn["b"]
    ranked = drivers(drawn, result)
    rho = {key: float(stats.spearmanr(values, result).statistic) for key, values in drawn.items()}
    total = sum(value**2 for value in rho.values())
    assert [driver.key for driver in ranked[:2]] == ["a", "b"]
    for driver in ranked:
        assert driver.correlation == pytest.approx(rho[driver.key], abs=1e-9)
        assert driver.share == pytest.approx(rho[driver.key] ** 2 / total, abs=1e-9)
    assert ranked[1].correlation < 0
    assert sum(driver.share for driver in ranked) == pytest.approx(1.0)


def test_an_outlier_does_not_change_the_order() -> None:
    """One wild value moves no driver's share by more than a few percent."""
    drawn = samples([A, B], 256)
    result = 5.0 * drawn["a"] + drawn["b"]
    wild = result.copy()
    wild[7] = 1e9
    plain, shaken = drivers(drawn, result), drivers(drawn, wild)
    assert [d.key for d in plain] == [d.key for d in shaken]
    assert plain[0].share == pytest.approx(shaken[0].share, abs=0.05)


def test_nothing_to_rank() -> None:
    """A result that does not vary, or holds a nan, has no drivers; ties share their mean rank."""
    drawn = samples([A], 8)
    assert drivers(drawn, np.ones(8)) == ()
    assert drivers(drawn, np.full(8, np.nan)) == ()
    tied = {"x": np.array([1.0, 1.0, 2.0, 3.0])}
    result = np.array([1.0, 2.0, 2.0, 5.0])
    assert drivers(tied, result)[0].correlation == pytest.approx(
        float(stats.spearmanr(tied["x"], result).statistic)
    )


def test_impossible_arguments_are_refused() -> None:
    """Bounds out of order, odd counts, doubled keys and samples that do not match raise."""
    with pytest.raises(ValueError, match="low <= likely <= high"):
        Uncertain("a", 2.0, 1.0, 3.0, "W", "C", "test")
    with pytest.raises(ValueError, match="power of two"):
        samples([A], 100)
    with pytest.raises(ValueError, match="twice"):
        samples([A, A], 8)
    with pytest.raises(ValueError, match="has 3 samples"):
        drivers({"a": np.ones(3)}, np.arange(4.0))
    assert samples([], 8) == {}


@pytest.mark.parametrize(("count", "dimensions"), [(128, 24), (128, 16), (64, 11), (2, 1)])
def test_points_written_down_are_scipys(count: int, dimensions: int) -> None:
    """The set in the package is what SciPy's scrambled Sobol generator draws with the seeds."""
    engine = qmc.Sobol(d=16, scramble=True, rng=np.random.default_rng(SEED))
    drawn = points(count, dimensions)
    np.testing.assert_array_equal(drawn[:, :16], engine.random(count)[:, :dimensions])
    for place in range(16, dimensions):
        engine = qmc.Sobol(d=place + 1, scramble=True, rng=np.random.default_rng([SEED, place]))
        np.testing.assert_array_equal(drawn[:, place], engine.random(count)[:, place])


def test_one_input_more_moves_no_other() -> None:
    """Beyond what is written down an input more leaves the samples of the others as they are.

    Every column is balanced: as many points in each half, quarter and 128th (property of a Sobol sequence).
    """
    many = points(128, DIMENSIONS + 3)
    np.testing.assert_array_equal(points(128, DIMENSIONS), many[:, :DIMENSIONS])
    np.testing.assert_array_equal(points(128, DIMENSIONS + 1), many[:, : DIMENSIONS + 1])
    assert all(sorted(np.floor(column * 128)) == list(range(128)) for column in many.T)
    # no two of those written down go together; of some pairs further on .4 was found
    correlation = np.corrcoef(many.T[:DIMENSIONS]) - np.eye(DIMENSIONS)
    assert np.abs(correlation).max() < 0.2


def test_more_points_than_are_written_down_begin_with_them() -> None:
    """Asking for more continues the same set; another seed gives another."""
    np.testing.assert_array_equal(points(256, 5)[:128], points(128, 5))
    assert not np.array_equal(points(64, 5, seed=1), points(64, 5))
