"""Panes against published values of single and double glazings."""

import math

import pytest

from reportkit.physics.glass import (
    Gap,
    clear,
    coated,
    double,
    laminated,
    rate,
    single,
    tinted,
    wired,
    with_texture,
)
from reportkit.physics.glass.lite import COATINGS, Coating, Lite, with_coating
from reportkit.physics.glass.optics import normal


@pytest.mark.parametrize(
    ("thickness", "t_visible", "t_solar"),
    [
        (3, 0.90, 0.83),
        (6, 0.88, 0.77),
    ],
)
def test_clear_glass_passes_the_published_light_and_sun(thickness, t_visible, t_solar) -> None:
    """Clear glass, VT .90/.88 and solar T .83/.77: ASHRAE Fundamentals, single glazings (from memory)."""
    light = normal(single(clear(thickness)))
    assert light.t[0, 1] == pytest.approx(t_visible, abs=0.005)
    assert light.t_solar[0] == pytest.approx(t_solar, abs=0.005)


# VT and SHGC of the single-glazing table of ASHRAE Fundamentals' fenestration chapter, from memory.
@pytest.mark.parametrize(
    ("tint", "thickness", "t_visible", "shgc"),
    [
        ("bronze", 3, 0.68, 0.73),
        ("bronze", 6, 0.54, 0.62),
        ("green", 3, 0.82, 0.70),
        ("green", 6, 0.76, 0.60),
        ("grey", 3, 0.62, 0.70),
        ("grey", 6, 0.46, 0.59),
        ("blue", 6, 0.75, 0.62),
    ],
)
def test_tinted_glass_against_the_handbook(tint, thickness, t_visible, shgc) -> None:
    """Tinted panes give the handbook's visible transmittance and, through the heat balance, its SHGC."""
    got = rate(single(tinted(thickness, tint)))
    assert got.t_visible == pytest.approx(t_visible, abs=0.005)
    assert got.shgc == pytest.approx(shgc, abs=0.015)


# Double glazings with a coating, 3 mm panes, VT and SHGC: ASHRAE Fundamentals (from memory). The classes here
# are typical, not the handbook's products, hence the wider tolerance.
@pytest.mark.parametrize(
    ("coating", "emissivity", "face", "t_visible", "shgc"),
    [
        ("hard", 0.20, 2, 0.76, 0.65),
        ("hard", 0.20, 3, 0.76, 0.70),
        ("solar_control_soft", 0.05, 2, 0.72, 0.41),
    ],
)
def test_coated_units_are_typical_of_their_class(coating, emissivity, face, t_visible, shgc) -> None:
    """A sealed unit with each class of coating lies by the handbook's unit of that class."""
    pane = coated(3, coating, face="back" if face == 2 else "front", emissivity=emissivity)
    panes = (pane, clear(3)) if face == 2 else (clear(3), pane)
    got = rate(double(*panes, gap=Gap(12.7)))
    assert got.t_visible == pytest.approx(t_visible, abs=0.02)
    assert got.shgc == pytest.approx(shgc, abs=0.03)


@pytest.mark.parametrize("coating", sorted(COATINGS))
def test_coated_pane_gives_back_the_values_it_is_stated_with(coating: str) -> None:
    """De-embedding and embedding a coating returns its solar, visible and both reflectances."""
    light = normal(single(coated(3, coating)))
    record = COATINGS[coating]
    assert light.t_solar[0] == pytest.approx(record.t[0], abs=1e-6)
    assert light.t[0, 1] == pytest.approx(record.t[1], abs=1e-6)
    assert light.r_solar_out[0] == pytest.approx(record.r_glass[0], abs=1e-6)
    assert light.r_in[0, 1] == pytest.approx(record.r_coating[1], abs=1e-6)


def test_thicker_glass_passes_less() -> None:
    """Transmittance falls with thickness in every band, for every body."""
    for make in (clear, tinted, lambda mm: tinted(mm, "blue"), lambda mm: clear(mm, iron="low")):
        panes = [make(mm) for mm in (2, 3, 4, 6, 10, 12)]
        for band in range(3):
            values = [pane.internal[band] for pane in panes]
            assert values == sorted(values, reverse=True)
            assert len(set(values)) == len(values)


def test_low_iron_passes_more_than_ordinary() -> None:
    """Low-iron glass is clearer in every band."""
    assert all(
        low > plain for low, plain in zip(clear(6, iron="low").internal, clear(6).internal, strict=True)
    )


def test_laminated_glass_stops_ultraviolet_and_insulates_a_little() -> None:
    """The interlayer stops ultraviolet; 6.76 mm conducts as 6 mm of glass and .76 mm of butyral in series."""
    pane = laminated(6.76)
    assert pane.thickness_mm == pytest.approx(6.76)
    assert "laminated" in pane.marks
    assert normal(single(pane)).t[0, 0] < 0.02
    assert 0.00676 / pane.conductivity == pytest.approx(0.006 / 1.0 + 0.00076 / 0.20)
    assert "tinted" in laminated(6.4, body="grey").marks


def test_wired_and_patterned_glass_are_marked() -> None:
    """A fitter is told about wire and texture, and the textured face is known as such."""
    assert wired().marks == ("wired",)
    assert with_texture(clear(4), face="back").marks == ("patterned",)
    assert with_texture(clear(4), face="back").back.kind == "textured"
    assert with_texture(clear(4), face="front").front.kind == "textured"


def test_thick_clear_glass_passes_the_light_that_the_standard_asks_for() -> None:
    """Not under the least light transmittance of clear float: EN 572-1, table (from memory)."""
    for thickness, least in ((3, 0.88), (6, 0.85), (10, 0.81), (15, 0.76), (19, 0.72), (25, 0.67)):
        assert least <= rate(single(clear(thickness))).t_visible <= least + 0.12


def test_a_pane_can_be_the_users_own() -> None:
    """A maker's coating replaces the class, on either face, once."""
    own = Coating((0.5, 0.7, 0.2), (0.2, 0.1, 0.1), (0.25, 0.12, 0.1), 0.1)
    pane = with_coating(clear(6), own, face="front")
    assert pane.front.emissivity == 0.1
    assert pane.coated
    with pytest.raises(ValueError, match=r"front face of .* is not bare"):
        with_coating(pane, own, face="front")


@pytest.mark.parametrize(
    ("make", "message"),
    [
        (lambda: clear(0.5), "thickness must be between 1 and 30"),
        (lambda: clear(4, iron="none"), "iron must be ordinary or low"),
        (lambda: clear(4, temper="hardened"), "temper must be one of"),
        (lambda: tinted(4, "pink"), "tint must be one of"),
        (lambda: coated(4, "warm"), "coating must be one of"),
        (lambda: coated(4, "hard", face="left"), "coated face must be front or back"),
        (lambda: laminated(6, interlayer_mm=9), "interlayer must be between"),
        (lambda: laminated(6, body="pink"), "body must be one of"),
        (lambda: with_texture(clear(4), face="none"), "textured face must be"),
        (lambda: Lite("x", 4.0, (0.9, 1.2, 0.9)), "internal transmittance"),
        (lambda: Lite("x", -4.0, (0.9, 0.9, 0.9)), "thickness must be over 0"),
        (lambda: Lite("x", 4.0, (0.9, 0.9, 0.9), conductivity=0.0), "conductivity"),
    ],
)
def test_impossible_panes_are_refused(make, message: str) -> None:
    """Each impossible pane raises with the rule it breaks."""
    with pytest.raises(ValueError, match=message):
        make()


def test_body_law_passes_through_both_published_thicknesses() -> None:
    """The thickness law is a power law: 4.24 mm has the geometric mean of the depths at 3 and 6 mm."""
    depth = [-math.log(clear(mm).internal[2]) for mm in (3.0, math.sqrt(18.0), 6.0)]
    assert depth[1] == pytest.approx(math.sqrt(depth[0] * depth[2]), rel=1e-9)
