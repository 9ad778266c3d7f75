"""Glazings: panes, gaps and where a film may go."""

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
    coated,
    double,
    gain_table,
    optics,
    rate,
    single,
    tinted,
    triple,
    with_film,
    with_surface,
    with_texture,
)
from reportkit.physics.glass.surface import BARE

FILM = Film("plain", 0.35, 0.25, 0.35, 0.25, 0.22, 0.22, t_uv=0.01)  # invented
ANGLES = np.arange(0.0, 91.0, 10.0)
UNITS = {
    "single": single(clear(6)),
    "double": double(clear(4), tinted(6, "green"), gap=Gap(12.0, "argon", 0.9)),
    "triple": triple(clear(4), clear(4), clear(4), gaps=(Gap(12.0), Gap(12.0))),
}


@pytest.mark.parametrize("unit", sorted(UNITS))
@pytest.mark.parametrize("side", ["inside", "outside"])
def test_film_of_bare_values_changes_nothing(unit: str, side: str) -> None:
    """A film interface with the values of a bare face leaves every number exactly as it was."""
    glazing = UNITS[unit]
    face = 1 if side == "outside" else 2 * len(glazing.lites)
    filmed = with_surface(glazing, replace(BARE, kind="film"), face=face)
    before, after = optics(glazing, ANGLES), optics(filmed, ANGLES)
    for name in ("t", "r_out", "r_in", "absorbed"):
        assert np.array_equal(getattr(before, name), getattr(after, name))
    assert rate(filmed) == rate(glazing)
    assert rate(filmed, "en").u_w_m2k == rate(glazing, "en").u_w_m2k


@pytest.mark.parametrize("unit", sorted(UNITS))
def test_film_rated_like_bare_glass_changes_nothing(unit: str) -> None:
    """A sheet that prints the values of the bare pane itself, e .84, leaves every number as it was."""
    bare = rate(single(clear(3)))
    sheet = Film(
        "nothing", bare.t_solar, bare.r_solar_out, bare.t_visible, bare.r_visible_out,
        bare.r_solar_out, bare.r_visible_in, t_uv=bare.t_uv, emissivity=0.84,
    )  # fmt: skip
    before, after = rate(UNITS[unit]), rate(with_film(UNITS[unit], sheet))
    assert after.shgc == pytest.approx(before.shgc, abs=2e-4)
    assert after.u_w_m2k == pytest.approx(before.u_w_m2k, abs=1e-9)
    assert after.t_visible == pytest.approx(before.t_visible, abs=1e-9)


def test_film_goes_on_the_reachable_faces_only() -> None:
    """Inside means the last face, outside the first, and the glazing says which."""
    unit = UNITS["triple"]
    inside, outside = with_film(unit, FILM), with_film(unit, FILM, side="outside")
    assert (inside.film_face, inside.film_side) == (6, "inside")
    assert (outside.film_face, outside.film_side) == (1, "outside")
    assert inside.faces[5].kind == "film"
    assert outside.faces[0].kind == "film"
    assert unit.film_side is None
    assert any("is made for the inside and is placed on the outside" in note for note in outside.notes)


def test_film_is_refused_where_its_rating_does_not_hold() -> None:
    """Coated, textured and filmed faces are refused with the reason."""
    with pytest.raises(ValueError, match=r"face 4 .*is coated"):
        with_film(double(clear(4), coated(4, "hard", face="back"), gap=Gap(12)), FILM)
    with pytest.raises(ValueError, match="is textured"):
        with_film(single(with_texture(clear(4), face="back")), FILM)
    with pytest.raises(ValueError, match="already carries film"):
        with_film(with_film(single(clear(4)), FILM), FILM)
    with pytest.raises(ValueError, match="side must be inside or outside"):
        with_film(single(clear(4)), FILM, side="both")
    assert with_film(double(coated(4, "soft"), clear(4), gap=Gap(12)), FILM).film_face == 4


def test_scattering_film_is_noted() -> None:
    """A frosted film's glazing says that totals hold and the view does not."""
    assert any("scatters" in note for note in with_film(single(clear(4)), replace(FILM, scatters=True)).notes)


@pytest.mark.parametrize(
    ("make", "message"),
    [
        (lambda: Glazing("x", ()), "one to three panes"),
        (lambda: Glazing("x", (clear(4),) * 4, (Gap(12),) * 3), "one to three panes"),
        (lambda: Glazing("x", (clear(4), clear(4))), "2 panes have 1 gaps"),
        (lambda: Gap(0.0), "gap width"),
        (lambda: Gap(12, "helium"), "gas must be one of"),
        (lambda: Gap(12, "argon", 1.2), "gas fill"),
        (lambda: with_surface(single(clear(4)), BARE, face=3), "face must be between 1 and 2"),
    ],
)
def test_impossible_glazings_are_refused(make, message: str) -> None:
    """Each impossible glazing raises with the rule it breaks."""
    with pytest.raises(ValueError, match=message):
        make()


@settings(max_examples=25, deadline=None)
@given(
    t=st.floats(0.03, 0.75),
    r=st.floats(0.06, 0.6),
    thickness=st.sampled_from([3, 4, 6, 10]),
    side=st.sampled_from(["inside", "outside"]),
)
def test_no_plausible_film_raises_the_gain_of_clear_glass(t, r, thickness, side) -> None:
    """An ordinary film on one clear pane never raises SHGC, at any angle or for diffuse light."""
    if t + r > 0.85:
        t = 0.85 - r
    film = Film("any", t, r, t, r, r, r, t_uv=min(t, 0.01), emissivity=0.84)
    try:
        filmed = with_film(single(clear(thickness)), film, side=side)
    except ValueError:
        return  # the drawn sheet contradicts itself
    before, after = gain_table(single(clear(thickness))), gain_table(filmed)
    assert np.all(after.shgc <= before.shgc + 1e-9)
    assert after.shgc_diffuse <= before.shgc_diffuse
