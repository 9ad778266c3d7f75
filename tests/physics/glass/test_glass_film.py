"""Films: what a sheet implies, contradictions by name, missing values bounded."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from reportkit.physics.glass import (
    Film,
    bands,
    clear,
    coated,
    film_side_stated,
    interface,
    rate,
    single,
    tinted,
    with_film,
)
from reportkit.physics.glass.optics import normal

# invented film, no product
FILM = Film(
    "plain",
    t_solar=0.35,
    r_solar_glass=0.25,
    t_visible=0.35,
    r_visible_glass=0.25,
    r_solar_film=0.22,
    r_visible_film=0.22,
    t_uv=0.01,
)
SELECTIVE = Film("selective", 0.40, 0.15, 0.68, 0.10, 0.18, 0.12, t_uv=0.01)  # invented


@pytest.mark.parametrize("film", [FILM, SELECTIVE])
def test_film_on_the_pane_it_was_rated_on_gives_its_rated_values(film: Film) -> None:
    """De-embedding and embedding on the same pane returns every printed value."""
    light = normal(with_film(single(clear(3)), film))
    assert light.t_solar[0] == pytest.approx(film.t_solar, abs=1e-4)
    assert light.t[0, 1] == pytest.approx(film.t_visible, abs=1e-9)
    assert light.r_solar_out[0] == pytest.approx(film.r_solar_glass, abs=1e-4)
    assert light.r_out[0, 1] == pytest.approx(film.r_visible_glass, abs=1e-9)
    assert light.r_in[0, 1] == pytest.approx(film.r_visible_film, abs=1e-9)
    assert light.t[0, 0] == pytest.approx(0.01, abs=1e-9)


def test_three_bands_pass_more_on_green_glass_than_one_band() -> None:
    """Selective film on green glass: one grey band understates what passes; both cut the same infrared."""
    green = tinted(6, "green")
    grey_film = replace(SELECTIVE, t_visible=SELECTIVE.t_solar, t_uv=SELECTIVE.t_solar)
    flat = rate(single(green)).t_solar
    grey_pane = replace(green, internal=(_internal(flat),) * 3)
    one_band = normal(with_film(single(grey_pane), replace(grey_film, r_visible_glass=0.15))).t_solar[0]
    three_bands = normal(with_film(single(green), SELECTIVE)).t_solar[0]
    assert three_bands > one_band + 0.02


def _internal(t_pane: float) -> float:
    from reportkit.physics.glass.surface import internal_transmittance

    return internal_transmittance(t_pane)


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"t_solar": 0.80}, "solar transmittance 0.8 and glass-side solar reflectance 0.25 add up to 1.050"),
        ({"r_visible_film": 0.70}, "visible transmittance 0.35 and film-side visible reflectance 0.7"),
        ({"t_solar": 0.10, "t_visible": 0.35}, "contradicts visible transmittance 0.35"),
        ({"r_solar_glass": 0.03}, "glass-side solar reflectance 0.03 is below"),
        ({"r_visible_glass": 0.02}, "glass-side visible reflectance 0.02 is below"),
        ({"t_visible": 1.4}, "visible values must be between 0 and 1"),
        ({"t_visible": 0.62, "r_visible_glass": 0.42}, "add up to"),
        ({"t_uv": 0.80}, "ultraviolet transmittance of the film alone"),
    ],
)
def test_contradictions_are_named(change: dict, message: str) -> None:
    """Values that no film can have raise, naming the film and the values."""
    with pytest.raises(ValueError, match=message) as caught:
        interface(replace(FILM, **change))
    assert "plain" in str(caught.value)


def test_contradiction_hidden_by_the_glass_is_found() -> None:
    """T .55 and R .42 add up to .97 on the pane, but the glass absorbs 9 %: the film alone would exceed 1."""
    film = replace(FILM, t_solar=0.55, r_solar_glass=0.42, t_visible=0.55, r_visible_glass=0.42)
    with pytest.raises(ValueError, match="more than 1, so the rated values contradict each other"):
        interface(film)


def test_missing_film_side_reflectance_is_assumed_said_and_bounded() -> None:
    """Without a film-side value the assumption is in the notes, and low and high enclose what it gives."""
    film = replace(FILM, r_solar_film=None, r_visible_film=None)
    assert not film_side_stated(film)
    assert film_side_stated(FILM)
    bare = single(clear(3))
    shgc = {}
    for film_side in ("low", "rated", "high"):
        filmed = with_film(bare, film, side="outside", film_side=film_side)
        shgc[film_side] = rate(filmed).shgc
        assert any("film-side solar reflectance not stated" in note for note in filmed.notes)
    assert shgc["high"] < shgc["rated"] < shgc["low"]
    assert rate(with_film(bare, film, side="inside")).t_solar == pytest.approx(film.t_solar, abs=1e-4)
    stated = rate(with_film(bare, FILM, side="outside")).shgc
    assert shgc["high"] < stated < shgc["low"]


def test_solar_film_side_alone_serves_all_bands() -> None:
    """Where only the solar film-side value is printed it is used for every band and said so."""
    film = replace(FILM, r_visible_film=None)
    implied = interface(film)
    assert any("film-side visible reflectance not stated" in note for note in implied.notes)
    light = normal(with_film(single(clear(3)), film))
    assert light.r_in[0, 1] == pytest.approx(0.22, abs=1e-9)
    assert bands.solar(light.r_in[0]) == pytest.approx(0.22, abs=1e-9)


def test_missing_ultraviolet_is_said() -> None:
    """An unstated ultraviolet transmittance is taken as .01 and noted."""
    implied = interface(replace(FILM, t_uv=None))
    assert any("ultraviolet transmittance not stated" in note for note in implied.notes)


def test_rounding_of_a_sheet_is_not_a_contradiction() -> None:
    """A film-side value a little too low to be possible, within print rounding, is mended and noted."""
    film = replace(FILM, r_visible_film=0.0, r_solar_film=0.0)
    implied = interface(film)
    assert min(implied.surface.r_air) == 0.0
    assert any("only within their rounding" in note for note in implied.notes)


def test_film_rated_on_other_glass() -> None:
    """A film rated on 6 mm clear is taken off that pane, not off 3 mm."""
    film = replace(FILM, rated_on=clear(6))
    assert normal(with_film(single(clear(6)), film)).t_solar[0] == pytest.approx(0.35, abs=1e-4)
    assert normal(with_film(single(clear(3)), film)).t_solar[0] > 0.36


def test_arguments_are_checked() -> None:
    """Unknown sides and a coated reference pane are refused."""
    with pytest.raises(ValueError, match="side of plain must be"):
        replace(FILM, side="under")
    with pytest.raises(ValueError, match="film_side must be one of"):
        interface(FILM, film_side="middle")
    with pytest.raises(ValueError, match="must be uncoated"):
        interface(replace(FILM, rated_on=coated(3, "hard")))


@settings(max_examples=60, deadline=None)
@given(t=st.floats(0.02, 0.8), r_glass=st.floats(0.05, 0.9), r_film=st.floats(0.02, 0.9))
def test_any_film_is_either_possible_or_refused(t: float, r_glass: float, r_film: float) -> None:
    """Every grey sheet is refused or conserves energy; one with room for the glass's losses passes."""
    film = replace(
        FILM, t_solar=t, t_visible=t, t_uv=0.01, r_solar_glass=r_glass, r_visible_glass=r_glass,
        r_solar_film=r_film, r_visible_film=r_film,
    )  # fmt: skip
    try:
        surface = interface(film).surface
    except ValueError:
        assert t + max(r_glass, r_film) > 0.70 or r_film < 0.06
        return
    parts = zip(surface.t, surface.r_glass, surface.r_air, strict=True)
    assert all(a + max(b, c) <= 1.0 + 1e-9 for a, b, c in parts)
    assert t + max(r_glass, r_film) <= 1.0
