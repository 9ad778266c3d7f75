"""The centre-of-glass balance against published U-factors, and the balance itself."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from reportkit.physics.glass import (
    Film,
    Gap,
    Glazing,
    clear,
    double,
    heat,
    optics,
    single,
    triple,
    with_film,
    with_surface,
)
from reportkit.physics.glass.heat import room_convection, solve_network
from reportkit.physics.glass.surface import BARE

THREE, SIX = clear(3), clear(6)
FILM = Film("plain", 0.35, 0.25, 0.35, 0.25, 0.22, 0.22, t_uv=0.01, emissivity=0.84)  # invented
COATED = replace(BARE, kind="coating", emissivity=0.2)  # only the emissivity matters without sun


def u_winter(glazing: Glazing, **changes) -> float:
    """U under NFRC winter conditions, -18/21 C and 5.5 m/s (from memory)."""
    absorbed = [0.0] * len(glazing.lites)
    return float(-heat(glazing, absorbed=absorbed, t_out=-18.0, t_in=21.0, wind=5.5, **changes).q_in) / 39.0


# U [W/m2K] of ASHRAE Handbook of Fundamentals, fenestration chapter, table 4 (from copies), tolerance .03;
# 6 mm clear by an independent solve (cross-check, not an authority).
@pytest.mark.parametrize(
    ("glazing", "u"),
    [
        (single(THREE), 5.91),
        (single(SIX), 5.81),
        (double(THREE, THREE, gap=Gap(12.7)), 2.73),
        (double(THREE, THREE, gap=Gap(6.4)), 3.12),
        (double(THREE, THREE, gap=Gap(12.7, "argon")), 2.56),
        (double(replace(THREE, back=COATED), THREE, gap=Gap(12.7)), 1.99),
        (double(THREE, replace(THREE, front=COATED), gap=Gap(12.7)), 1.99),
    ],
)
def test_u_factors_of_the_handbook(glazing: Glazing, u: float) -> None:
    """U under NFRC winter conditions meets the handbook within .03."""
    assert u_winter(glazing) == pytest.approx(u, abs=0.03)


def test_u_depends_on_height() -> None:
    """U of 3 mm is 6.30 at .5 m and 5.58 at 2 m (independent solve, a cross-check)."""
    assert u_winter(single(THREE), height=0.5) == pytest.approx(6.30, abs=0.03)
    assert u_winter(single(THREE), height=2.0) == pytest.approx(5.58, abs=0.03)


def test_low_emissivity_film_insulates_and_ordinary_film_does_not() -> None:
    """A room face of e .10 brings 3 mm from 5.91 to 3.49 (independent solve); e .9 is slightly worse."""
    face = with_surface(single(THREE), replace(BARE, kind="film", emissivity=0.10), face=2)
    assert u_winter(face) == pytest.approx(3.49, abs=0.03)
    ordinary = with_surface(single(THREE), replace(BARE, kind="film", emissivity=0.90), face=2)
    assert 0.0 < u_winter(ordinary) - u_winter(single(THREE)) < 0.3


# Inward-flowing fraction of an interior film on single glass, NFRC summer (independent solve, a cross-check).
@pytest.mark.parametrize(
    ("emissivity", "wind", "low", "high"),
    [
        (0.8, 2.75, 0.295, 0.32),
        (0.9, 2.75, 0.30, 0.32),
        (0.9, 1.0, 0.40, 0.42),
        (0.9, 5.5, 0.22, 0.24),
        (0.05, 2.75, 0.15, 0.17),
    ],
)
def test_inward_flowing_fraction(emissivity, wind, low, high) -> None:
    """The part of absorbed sun that reaches the room depends on wind and on the room face's emissivity."""
    glazing = with_film(single(THREE), replace(FILM, emissivity=emissivity))
    sun = 783.0 * optics(glazing, 0.0).a_solar[0]
    balance = heat(glazing, absorbed=[sun, 0.0 * sun], t_out=32.0, t_in=24.0, wind=wind)
    assert low <= (balance.q_in[0] - balance.q_in[1]) / sun[0] <= high
    # coefficients held at the solution give nearly the same share
    assert balance.shares[0, 0] == pytest.approx((balance.q_in[0] - balance.q_in[1]) / sun[0], abs=0.05)


@st.composite
def cases(draw) -> tuple[Glazing, dict]:
    """A glazing of one to three panes in any weather."""
    n = draw(st.integers(1, 3))
    gaps = tuple(
        Gap(
            draw(st.floats(4.0, 25.0)),
            draw(st.sampled_from(["air", "argon", "krypton"])),
            draw(st.floats(0.5, 1.0)),
        )
        for _ in range(n - 1)
    )
    glazing = Glazing("any", (clear(draw(st.sampled_from([3, 6, 10]))),) * n, gaps)
    face = draw(st.integers(1, 2 * n))
    emissivity = draw(st.floats(0.03, 0.95))
    glazing = with_surface(glazing, replace(BARE, kind="coating", emissivity=emissivity), face=face)
    weather = {
        "absorbed": draw(st.lists(st.floats(0.0, 400.0), min_size=n, max_size=n)),
        "t_out": draw(st.floats(-30.0, 45.0)),
        "t_in": draw(st.floats(5.0, 35.0)),
        "wind": draw(st.floats(0.0, 15.0)),
        "t_sky": draw(st.one_of(st.none(), st.floats(-40.0, 20.0))),
    }
    return glazing, weather


@settings(max_examples=80, deadline=None)
@given(cases())
def test_energy_in_is_energy_out(case: tuple[Glazing, dict]) -> None:
    """All sun absorbed leaves by one face or the other, and every node balances."""
    glazing, weather = case
    got = heat(glazing, **weather)
    assert float(got.q_in + got.q_out) == pytest.approx(sum(weather["absorbed"]), abs=0.02)
    assert float(got.residual) < 0.02
    assert np.all((got.shares > 0.0) & (got.shares < 1.0))
    assert np.all(np.diff(got.shares) > 0.0)


def test_outer_flux_is_recomputed_from_the_temperatures() -> None:
    """Both surface fluxes are Stefan-Boltzmann plus convection at the temperatures returned (worked here)."""
    glazing = double(SIX, SIX, gap=Gap(12.0))
    got = heat(glazing, absorbed=[100.0, 50.0], t_out=32.0, t_in=24.0, wind=2.75)
    outer, inner = got.t_faces[0] + 273.15, got.t_faces[-1] + 273.15
    out = 15.0 * (outer - 305.15) + 0.84 * 5.6697e-8 * (outer**4 - 305.15**4)
    hc = float(room_convection(np.array(inner), np.array(297.15), height=1.0))
    into = hc * (inner - 297.15) + 0.84 * 5.6697e-8 * (inner**4 - 297.15**4)
    assert float(got.q_out) == pytest.approx(out, abs=1e-3)
    assert float(got.q_in) == pytest.approx(into, abs=1e-3)
    # heat through the inner pane: half its sun enters at the room face
    conducted = (got.t_faces[2] - got.t_faces[3]) * 1.0 / 0.006
    assert conducted + 25.0 == pytest.approx(float(got.q_in), abs=1e-3)


def test_room_convection_by_hand() -> None:
    """Nu = .56 Ra^.25 for air at 1 m and 10 K (air at 18.5 C from the gas formulas, by hand)."""
    mean = 294.15 - 2.5
    k, mu, cp = 2.873e-3 + 7.76e-5 * mean, 3.723e-6 + 4.94e-8 * mean, 1002.737 + 1.2324e-2 * mean
    density = 101325.0 * 28.97 / (8314.462618 * mean)
    ra = density**2 * 9.81 * cp * 10.0 / (mean * mu * k)
    got = room_convection(np.array(284.15), np.array(294.15), height=1.0)
    assert got == pytest.approx(0.56 * ra**0.25 * k)
    # turbulence above Ra 1.06e11: a tall, hot pane; continuous there
    tall = room_convection(np.array([294.15 + 30.0]), np.array([294.15]), height=8.0)
    assert 2.0 < tall[0] < 6.0


def test_network_against_a_dense_solve() -> None:
    """The chain solver agrees with a dense matrix solve."""
    rng = np.random.default_rng(3)
    links, sources = list(rng.uniform(1, 100, 7)), list(rng.uniform(0, 100, 6))
    matrix = np.diag([links[i] + links[i + 1] for i in range(6)])
    for i in range(5):
        matrix[i, i + 1] = matrix[i + 1, i] = -links[i + 1]
    got = solve_network([np.array(x) for x in links], [np.array(x) for x in sources])
    assert [float(x) for x in got] == pytest.approx(list(np.linalg.solve(matrix, sources)))


def test_many_cases_at_once_are_the_cases_one_by_one() -> None:
    """A grid of weather gives what each case gives alone; nan stays in its own row."""
    glazing = triple(THREE, SIX, THREE, gaps=(Gap(12), Gap(16, "argon", 0.9)))
    t_out = np.array([-20.0, np.nan, 35.0])
    together = heat(
        glazing,
        absorbed=np.array([[[50.0, 20.0, 10.0]], [[0.0, 0.0, 0.0]]]),
        t_out=t_out,
        t_in=22.0,
        wind=3.0,
    )
    assert together.t_faces.shape == (2, 3, 6)
    assert np.isnan(together.q_in[:, 1]).all()
    alone = heat(glazing, absorbed=[50.0, 20.0, 10.0], t_out=35.0, t_in=22.0, wind=3.0)
    assert together.q_in[0, 2] == pytest.approx(float(alone.q_in), abs=1e-4)


def test_given_coefficients_replace_the_models() -> None:
    """With both convective coefficients given the conductance is plain series arithmetic."""
    got = heat(
        single(THREE), absorbed=[0.0], t_out=0.0, t_in=20.0, h_out=20.0, h_in=3.0, t_radiant=20.0, t_sky=0.0
    )
    warm, cold = got.t_faces[1] + 273.15, got.t_faces[0] + 273.15
    out = 20.0 + 0.84 * 5.6697e-8 * (cold**2 + 273.15**2) * (cold + 273.15)
    into = 3.0 + 0.84 * 5.6697e-8 * (warm**2 + 293.15**2) * (warm + 293.15)
    assert float(-got.q_in) == pytest.approx(20.0 / (1 / out + 0.003 + 1 / into), abs=1e-4)


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"absorbed": [0.0, 0.0]}, "one column for each of 1"),
        ({"absorbed": 0.0}, "one column"),
        ({"height": 0.0}, "height"),
    ],
)
def test_impossible_arguments_are_refused(change: dict, message: str) -> None:
    """Wrong numbers of panes and heights raise."""
    with pytest.raises(ValueError, match=message):
        heat(single(THREE), **({"absorbed": [0.0], "t_out": 0.0, "t_in": 20.0} | change))


@pytest.mark.parametrize("gap", [Gap(25.0), Gap(20.0, "argon"), Gap(16.0, "krypton")])
def test_wide_gaps_balance_where_the_correlation_has_corners(gap: Gap) -> None:
    """Thousands of weathers, some of them on a corner of the gap correlation, all balance to .01 W/m2."""
    rng = np.random.default_rng(0)
    unit = triple(THREE, THREE, THREE, gaps=(gap, gap))
    got = heat(
        unit,
        absorbed=rng.uniform(0.0, 300.0, (3000, 3)),
        t_out=rng.uniform(-30.0, 45.0, 3000),
        t_in=rng.uniform(10.0, 32.0, 3000),
        wind=rng.uniform(0.0, 12.0, 3000),
    )
    assert got.residual.max() < 0.01
