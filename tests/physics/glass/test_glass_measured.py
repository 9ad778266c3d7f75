"""Spectra: cells, weights, and glass and film solved by wavelength, against a solve written apart and limits.

The second solve multiplies 2 x 2 matrices of light flux going either way (the transfer-matrix form of the net
radiation method, as in any optics textbook; from memory), where the package sums reflections. The spectra are
invented.
"""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pvlib.spectrum import get_reference_spectra

from reportkit.physics.glass import (
    Film,
    Gap,
    Lite,
    Spectrum,
    banded_pane,
    clear,
    coated,
    double,
    integrals,
    measured_coating,
    measured_pane,
    optics,
    rate,
    single,
    tinted,
    with_film,
)
from reportkit.physics.glass.bands import FADING_WEIGHTS, fading
from reportkit.physics.glass.measured import bare_reflectance, cell_means
from reportkit.physics.glass.optics import normal
from reportkit.physics.glass.sunlight import CELL_EDGES, CELLS, FADES, MIDDLES, SUN, in_cells, weights

POINTS = np.arange(300.0, 2501.0, 5.0)
BARE = ((1.526 - 1) / (1.526 + 1)) ** 2


def face(t, r_from_left, r_from_right):
    """Matrix that gives the flux on the left of an interface from that on its right."""
    return np.array([[1.0, -r_from_right], [r_from_left, t * t - r_from_left * r_from_right]]) / t


def body(u):
    """The same of a layer that only absorbs."""
    return np.array([[1.0 / u, 0.0], [0.0, u]])


BARE_FACE = face(1 - BARE, BARE, BARE)


def of_matrix(m):
    """T, R from the left and R from the right."""
    return 1.0 / m[0, 0], m[1, 0] / m[0, 0], -m[0, 1] / m[0, 0]


def step(nm, at, width, low, high):
    """A smooth step from one value to another."""
    return low + (high - low) / (1.0 + np.exp(-(nm - at) / width))


def iron(nm):
    """Internal transmittance of an invented 3 mm glass: opaque below 320 nm, a dip at 1050 nm."""
    return step(nm, 325.0, 12.0, 0.05, 0.985) - 0.16 * np.exp(-(((nm - 1050.0) / 260.0) ** 2))


def film_alone(nm):
    """T, R from the glass and R from the air of an invented selective film."""
    t = step(nm, 395.0, 8.0, 0.03, 0.86) * step(nm, 780.0, 60.0, 1.0, 0.17)
    r = step(nm, 820.0, 70.0, 0.06, 0.62) * 0.95
    return t, np.minimum(r, 0.97 - t), np.minimum(0.8 * r, 0.97 - t)


def glass_pane(nm):
    """Its T and R by matrices."""
    return np.array([of_matrix(BARE_FACE @ body(iron(x)) @ BARE_FACE) for x in nm])


def filmed_pane(nm):
    """T, R on the glass and R on the film of the film on that glass, by matrices."""
    return np.array(
        [
            of_matrix(BARE_FACE @ body(iron(x)) @ face(t, rg, ra))
            for x, t, rg, ra in zip(nm, *film_alone(nm), strict=True)
        ]
    )


def spectrum(values, nm=POINTS, name="invented.csv"):
    """A spectrum of columns T, R front, R back."""
    return Spectrum(name, tuple(nm.tolist()), *(tuple(column.tolist()) for column in values.T))


def a_film(known, rated_on, **more):
    """A film that has been measured, its printed values without meaning."""
    return Film("invented", 0.4, 0.1, 0.5, 0.1, 0.1, 0.1, spectrum=known, rated_on=rated_on, **more)


@pytest.fixture(scope="module")
def g173():
    """ASTM G173-03 global tilt, from pvlib's data file."""
    table = get_reference_spectra(standard="ASTM G173-03")
    return table.index.to_numpy(dtype=float), table["global"].to_numpy(dtype=float)


@pytest.fixture(scope="module")
def reference():
    """The invented 3 mm glass as measured."""
    return measured_pane(clear(3), spectrum(glass_pane(POINTS)))


@pytest.fixture(scope="module")
def film(reference):
    """The invented film as measured on it."""
    return a_film(spectrum(filmed_pane(POINTS)), reference)


def test_the_sun_by_cell_is_that_of_the_standard(g173):
    """ASTM G173-03 as shipped with pvlib, each cell by trapezoid; and the shares of the three bands."""
    nm, power = g173
    for low, high, cell in zip(CELL_EDGES[:-1], CELL_EDGES[1:], SUN, strict=True):
        grid = np.concatenate(([low], nm[(nm > low) & (nm < high)], [high]))
        assert cell == pytest.approx(np.trapezoid(np.interp(grid, nm, power), grid), rel=2e-3, abs=1e-4)
    solar, fades = (
        np.array([part @ np.array(in_cells(one)) for one in np.eye(3)])
        for part in (weights(CELLS).solar, FADES)
    )
    assert solar == pytest.approx(weights(3).solar, abs=2e-4)
    # 380-400 nm, .0869 of the damage, lie in the ultraviolet band of the cells
    ultraviolet, near, light = FADING_WEIGHTS
    assert near == pytest.approx(0.0869, abs=2e-4)
    assert fades == pytest.approx([ultraviolet + near, light, 0.0], abs=2e-4)


def test_weights_of_the_eye_and_ultraviolet():
    """D65 x V at 550 nm is .097956 of 10 nm (CIE tables), and 3.25 % of the sun is below 380 nm (G173)."""
    by = weights(CELLS)
    assert by.visible[49:51].sum() == pytest.approx(0.097956, rel=0.015)  # lines between its points
    assert by.visible[:16].sum() == by.visible[96:].sum() == 0.0  # outside 380 to 780 nm
    assert SUN[MIDDLES < 380.0].sum() / SUN.sum() == pytest.approx(0.0325, abs=1e-4)
    assert by.uv[16:].sum() == 0.0
    assert FADES[60:].sum() == 0.0


def test_cells_of_other_than_3_and_440_are_refused():
    """There is no third division of the sun."""
    with pytest.raises(ValueError, match="3 bands or 440 cells"):
        weights(12)


@given(st.lists(st.floats(250, 2600), min_size=2, max_size=30, unique=True), st.data())
def test_cell_means_keep_the_area_under_the_line(points, data):
    """The mean over all cells is the trapezoid integral of the broken line, its ends held (arithmetic)."""
    nm = np.sort(np.array(points))
    values = np.array(data.draw(st.lists(st.floats(0, 1), min_size=nm.size, max_size=nm.size)))
    grid = np.unique(np.concatenate((nm[(nm > 300) & (nm < 2500)], [300.0, 2500.0])))
    whole = np.trapezoid(np.interp(grid, nm, values), grid) / 2200.0
    means = cell_means(nm, values)
    assert means.mean() == pytest.approx(whole, abs=1e-9)
    assert values.min() - 1e-9 <= means.min() <= means.max() <= values.max() + 1e-9


def test_the_integrals_are_the_trapezoids_of_the_standards(g173):
    """Solar by G173 on its own grid, visible by the CIE tables' 10 nm sums (EN 410, from memory)."""
    from reportkit.physics.glass import cie

    known = spectrum(filmed_pane(POINTS))
    nm, power = g173
    inside = (nm >= 300) & (nm <= 2500)
    t = np.interp(nm, POINTS, known.t)
    got = integrals(known)
    solar = np.trapezoid((t * power)[inside], nm[inside]) / np.trapezoid(power[inside], nm[inside])
    assert got.t_solar == pytest.approx(solar, abs=3e-4)
    uv = nm <= 380
    assert got.t_uv == pytest.approx(
        np.trapezoid((t * power)[inside & uv], nm[inside & uv])
        / np.trapezoid(power[inside & uv], nm[inside & uv]),
        abs=2e-3,
    )
    r = np.interp(cie.WAVELENGTH, POINTS, known.r_front)
    assert got.r_visible_front == pytest.approx(float(r @ cie.visible_weight()), abs=1e-3)
    damage = power * np.exp(-0.012 * nm) * (nm >= 300) * (nm <= 600)
    assert got.t_fading == pytest.approx(np.trapezoid(t * damage, nm) / np.trapezoid(damage, nm), abs=2e-3)


@pytest.mark.parametrize("side", ["inside", "outside"])
def test_a_measured_film_on_a_unit_is_the_solve_by_matrices(film, side):
    """A sealed unit of grey and the measured glass, cell by cell, against matrices at the cells' middles."""
    grey = tinted(6, "grey")
    bare = double(grey, replace(film.rated_on, thickness_mm=3.0), gap=Gap(12))
    got = normal(with_film(bare, film, side=side))
    outer_u = in_cells(grey.internal)
    # cell means of straight lines between points are the values half-way between them
    glass = np.array([cell_means(POINTS, column) for column in glass_pane(POINTS).T]).T
    filmed = np.array([cell_means(POINTS, column) for column in filmed_pane(POINTS).T]).T
    for at in range(0, CELLS, 7):
        t, r, _ = glass[at]
        # the glass alone: its face from T and R by bisection, then its body
        low, high = 0.0, 0.2
        for _ in range(80):
            x = (low + high) / 2
            # matrices of x, u, x must give T and R: u from T, then R is compared
            u_low, u_high = 1e-9, 1.0
            for _ in range(60):
                u = (u_low + u_high) / 2
                made = of_matrix(face(1 - x, x, x) @ body(u) @ face(1 - x, x, x))
                u_low, u_high = (u, u_high) if made[0] < t else (u_low, u)
            low, high = (x, high) if made[1] < r else (low, x)
        own = face(1 - x, x, x)
        film_only = np.linalg.inv(own @ body(u)) @ _matrix(*filmed[at])
        flipped = _flipped(film_only)
        outer = [BARE_FACE, body(outer_u[at]), BARE_FACE]
        inner = [own, body(u), own]
        stack = [flipped, *outer[1:], *inner] if side == "outside" else [*outer, *inner[:2], film_only]
        wanted = of_matrix(np.linalg.multi_dot(stack))
        assert got.t[0, at] == pytest.approx(wanted[0], abs=1e-7)
        assert got.r_out[0, at] == pytest.approx(wanted[1], abs=1e-7)
        assert got.r_in[0, at] == pytest.approx(wanted[2], abs=1e-7)


def _matrix(t, left, right):
    return face(t, left, right)


def _flipped(m):
    t, left, right = of_matrix(m)
    return face(t, right, left)


def test_a_film_put_back_on_its_own_glass_is_what_was_measured(film):
    """De-embedded and embedded again on the same glass, T and R return cell by cell, and the rated values."""
    got = normal(with_film(single(film.rated_on), film))
    t, r_glass, r_film = (cell_means(POINTS, column) for column in filmed_pane(POINTS).T)
    assert got.t[0] == pytest.approx(t, abs=1e-9)
    assert got.r_out[0] == pytest.approx(r_glass, abs=1e-9)
    assert got.r_in[0] == pytest.approx(r_film, abs=1e-9)
    by, rating = integrals(film.spectrum), rate(with_film(single(film.rated_on), film))
    assert (rating.t_solar, rating.t_visible) == pytest.approx((by.t_solar, by.t_visible), abs=1e-9)
    assert (rating.t_uv, rating.t_fading) == pytest.approx((by.t_uv, by.t_fading), abs=1e-9)
    assert rating.r_visible_in == pytest.approx(by.r_visible_back, abs=1e-9)


@given(st.floats(0.05, 0.6), st.floats(0.05, 0.19), st.floats(0.06, 0.19))
def test_flat_spectra_give_the_flat_numbers(t, r_glass, r_film):
    """A film and a glass alike at every wavelength: three bands lose nothing (a limit)."""
    rated_on = Lite("flat", 3.0, (0.95,) * 3)
    flat = spectrum(np.tile([t, r_glass, r_film], (POINTS.size, 1)))
    fine = rate(with_film(single(rated_on), a_film(flat, rated_on)))
    for name, value in (
        ("t_solar", t), ("t_visible", t), ("t_uv", t), ("t_fading", t), ("r_solar_out", r_glass),
        ("r_visible_out", r_glass), ("r_visible_in", r_film),
    ):  # fmt: skip
        assert getattr(fine, name) == pytest.approx(value, abs=1e-9)
    film = Film("flat", t, r_glass, t, r_glass, r_film, r_film, t_uv=t, rated_on=rated_on)
    coarse = rate(with_film(single(rated_on), film))
    assert fine.shgc == pytest.approx(coarse.shgc, abs=1e-4)
    assert dict(fine.shgc_by_angle)[60] == pytest.approx(dict(coarse.shgc_by_angle)[60], abs=1e-4)


def test_what_is_steps_at_the_bands_edges_is_exact_in_three_bands():
    """A glazing in cells that are all the same in a band has its bands' solar numbers, at every angle."""
    glazing = double(tinted(6, "bronze"), clear(4), gap=Gap(12))
    cells = replace(glazing, lites=(replace(glazing.lites[0], internal=in_cells(glazing.lites[0].internal)),
                                    glazing.lites[1]))  # fmt: skip
    coarse, fine = rate(glazing), rate(cells)
    assert fine.t_solar == pytest.approx(coarse.t_solar, abs=1e-5)
    assert fine.shgc == pytest.approx(coarse.shgc, abs=1e-5)
    assert dict(fine.shgc_by_angle)[70] == pytest.approx(dict(coarse.shgc_by_angle)[70], abs=1e-5)
    # 380-400 nm of the measured sheet is known, of the other it may be as light is: the worst that fits
    worst = clear(4)
    worst = replace(worst, internal=(worst.internal[1], *worst.internal[1:]))
    near = rate(replace(glazing, lites=(glazing.lites[0], worst))).t_uv
    by_hand = np.dot(FADING_WEIGHTS, (coarse.t_uv, near, coarse.t_visible))
    assert fine.t_fading == pytest.approx(float(by_hand), abs=2e-4)
    assert coarse.t_fading > fine.t_fading > float(fading((coarse.t_uv, coarse.t_visible, 0.0), least=True))


def test_a_film_known_by_its_sheet_alone_lets_the_edge_of_light_pass():
    """A film that stops ultraviolet by its sheet, on measured glass: fading as on glass in bands, not less.

    Sheets tell 300-380 nm; of the damage weight 8.7 % lie in 380-400 nm (`fading`, ASTM G173 and CIE 89-3).
    """
    glazing, sheet = single(clear(6)), Film("uv", 0.78, 0.08, 0.84, 0.09, t_uv=0.01)
    lite = glazing.lites[0]
    cells = replace(glazing, lites=(replace(lite, internal=in_cells(lite.internal)),))
    bands, fine = (rate(with_film(one, sheet)) for one in (glazing, cells))
    assert fine.t_solar == pytest.approx(bands.t_solar, abs=1e-5)
    assert fine.t_uv == pytest.approx(bands.t_uv, abs=1e-5)
    # the glass's own 380-400 nm is told in its cells; there it passes 84 % by its band, of light 95 %
    near = 0.0869 * (bands.t_visible * lite.internal[0] / lite.internal[1] - bands.t_uv)
    least = float(fading((bands.t_uv, bands.t_visible, 0.0), least=True))
    assert fine.t_fading == pytest.approx(least + near, abs=3e-3)
    assert fine.t_fading > least + 0.04


def test_every_cell_adds_up_to_one(film):
    """T + R + A is 1 in every cell and angle, and none of them is negative (energy)."""
    got = optics(with_film(double(coated(6, "soft"), clear(6), gap=Gap(12)), film), np.arange(0.0, 91.0, 5.0))
    for part in (got, got.diffuse):
        assert part.t + part.r_out + part.absorbed.sum(-1) == pytest.approx(np.ones_like(part.t), abs=1e-12)
        assert min(part.t.min(), part.r_out.min(), part.absorbed.min()) >= -1e-12
    assert got.t_solar + got.r_solar_out + got.a_solar.sum(-1) == pytest.approx(np.ones(19), abs=1e-9)


def test_three_bands_are_off_for_a_selective_film_on_green_glass(film):
    """One number for the near infrared lets more through than film and iron that stop other parts of it do.

    By the solve by matrices above the finer is right. What passes the film just beyond 700 nm meets glass
    that still passes it too, and both stop what comes next: a mean of each says nothing of that.
    """
    by = integrals(film.spectrum)
    bands = replace(
        film, t_solar=by.t_solar, r_solar_glass=by.r_solar_front, r_solar_film=by.r_solar_back,
        t_visible=by.t_visible, r_visible_glass=by.r_visible_front, r_visible_film=by.r_visible_back,
        t_uv=by.t_uv, spectrum=None, rated_on=clear(3),
    )  # fmt: skip
    nm = POINTS
    dark = spectrum(
        np.array([of_matrix(BARE_FACE @ body(iron(x) ** 4) @ BARE_FACE) for x in nm]), name="green.csv"
    )
    fine = rate(with_film(single(measured_pane(clear(6), dark)), film))
    coarse = rate(with_film(single(banded_pane(clear(6), dark)), bands))
    assert coarse.t_solar - fine.t_solar > 0.003


def test_an_uncoated_pane_is_taken_apart_and_put_together(reference):
    """T and R of the glass return, and its body is that of the invented glass, cell by cell (closure)."""
    got = normal(single(reference))
    t, r, _ = (cell_means(POINTS, column) for column in glass_pane(POINTS).T)
    assert got.t[0] == pytest.approx(t, abs=1e-9)
    assert got.r_out[0] == pytest.approx(r, abs=1e-9)
    assert np.array(reference.internal[40:]) == pytest.approx(iron(MIDDLES[40:]), abs=2e-3)
    assert np.array(reference.front.r_air) == pytest.approx(np.full(CELLS, BARE), abs=2e-3)


@pytest.mark.parametrize("coated_face", ["front", "back"])
def test_a_coated_pane_does_what_was_measured(coated_face):
    """Coating and the typical body together give back the file, whichever way the pane lies."""
    t, rg, ra = film_alone(POINTS)
    own = in_cells(clear(6).internal)
    u = np.interp(POINTS, MIDDLES, own)
    rows = [of_matrix(BARE_FACE @ body(a) @ face(b, c, d)) for a, b, c, d in zip(u, t, rg, ra, strict=True)]
    values = np.array(rows)
    if coated_face == "front":
        values = values[:, [0, 2, 1]]
    typical = coated(6, "soft", face=coated_face)
    lite = measured_coating(clear(6), spectrum(values), typical, face=coated_face)
    got = normal(single(lite))
    assert got.t[0] == pytest.approx(cell_means(POINTS, values[:, 0]), abs=2e-3)
    assert got.r_out[0] == pytest.approx(cell_means(POINTS, values[:, 1]), abs=2e-3)
    assert getattr(lite, coated_face).emissivity == getattr(typical, coated_face).emissivity


def test_a_film_that_its_glass_cannot_carry_is_refused():
    """A pane that passes 90 % on glass that passes 45 %: the message names the file and a wavelength."""
    bright = spectrum(np.tile([0.9, 0.05, 0.05], (POINTS.size, 1)), name="wrong.csv")
    with pytest.raises(ValueError, match=r"wrong\.csv: the values do not belong to 6 mm grey: at \d+ nm"):
        with_film(single(clear(6)), a_film(bright, tinted(6, "grey")))


def test_outside_a_file_its_ends_are_held_and_said():
    """350 to 2100 nm leaves out the shares of G173 there; the note names both."""
    nm = np.arange(350.0, 2101.0, 10.0)
    short = spectrum(np.tile([0.5, 0.1, 0.1], (nm.size, 1)), nm)
    outside = (MIDDLES < 350) | (MIDDLES > 2100)
    assert short.held == pytest.approx(SUN[outside].sum() / SUN.sum())
    assert 0.01 < short.held < 0.04
    notes = with_film(single(clear(6)), a_film(short, clear(3))).notes
    assert len(notes) == 1 and "350 to 2100 nm" in notes[0]


def test_the_reflectance_of_glass_of_which_only_t_is_known():
    """3 mm clear glass passes .834 and reflects .0763 (closure of the interface formulas)."""
    assert float(bare_reflectance(0.834)) == pytest.approx(0.0763, abs=1e-4)
    assert float(bare_reflectance(0.99)) == pytest.approx(0.01)
