"""From a job's words for glass to the panes of the physics: nothing typed is lost on the way."""

from itertools import product
from typing import get_args

import pytest
from pydantic import ValidationError

from reportkit.job.model import CoatingSpec, GapSpec, GlassKind, GlazingSpec, LiteSpec, Strength
from reportkit.physics import glass
from reportkit.physics.glass.optics import normal
from reportkit.study import translate

TINTS = ("grey", "bronze", "green", "blue")
THICKNESSES = (3.0, 4.0, 6.4, 10.0, 28.0, 30.0)
FACTS = glass.PaneFacts(600, 800)
DAY = (glass.Scenario("mild", 20.0, 20.0, 20.0, 50.0, 50.0, 2.0),)


def film(side="inside"):
    """Return an invented film that adds hardly any absorption."""
    return glass.Film("clear uv", 0.80, 0.08, 0.87, 0.09, 0.08, 0.09, t_uv=0.005, side=side)


@pytest.mark.parametrize("strength", get_args(Strength))
def test_every_sheet_keeps_its_tint_its_thickness_and_its_marks(strength):
    """Tint x strength x texture x thickness: what was typed is in the pane, and the screen asks about it."""
    for colour, face, mm in product(get_args(GlassKind), (None, "front", "back"), THICKNESSES):
        spec = LiteSpec(thickness_mm=mm, glass=colour, strength=strength, textured=face)
        pane = translate.lite(spec)
        assert pane.thickness_mm == mm
        assert pane.body == colour
        untold = strength == "patterned" and face is None
        textured = "either" if untold else face
        expected = {
            "tinted": colour in TINTS,
            "laminated": strength == "laminated",
            "wired": strength == "wired",
            "patterned": textured is not None,
        }
        assert set(pane.marks) == {mark for mark, there in expected.items() if there}
        assert (pane.front.kind == "textured", pane.back.kind == "textured") == (
            textured == "front",
            textured == "back",
        )
        kept = strength if strength in ("tempered", "heat_strengthened") else "annealed"
        assert pane.temper == kept
        plain = glass.clear(mm) if strength != "laminated" else glass.laminated(mm)
        absorbs = normal(glass.single(pane)).a_solar[0, 0]
        if colour in TINTS:
            assert absorbs > normal(glass.single(plain)).a_solar[0, 0] + 0.02
            if strength in ("annealed", "tempered", "heat_strengthened", "patterned"):
                own = normal(glass.single(glass.tinted(mm, colour))).a_solar[0, 0]
                assert absorbs == pytest.approx(own)
        for side in {"back": ("inside",), "front": ("outside",), "either": ("inside", "outside")}.get(
            textured, ()
        ):
            with pytest.raises(ValueError, match="textured"):
                glass.with_film(glass.single(pane), film(side))
        if untold:
            continue
        side = "outside" if textured == "back" else "inside"
        made = glass.screen(glass.with_film(glass.single(pane), film(side)), FACTS, scenarios=DAY)
        for mark in pane.marks:
            assert any(reason.text.startswith(f"{mark} glass") for reason in made.reasons), (spec, mark)


def test_what_no_sheet_can_be_is_refused_with_how_to_mend_it():
    """A laminated pane thinner than two sheets, and a coating on a textured face."""
    with pytest.raises(ValidationError, match="at least 3 mm for laminated"):
        LiteSpec(thickness_mm=2, strength="laminated")
    rough = LiteSpec(thickness_mm=4, strength="patterned", textured="back")
    flat = LiteSpec(thickness_mm=4)
    for sheets, surface in (((rough, flat), 2), ((flat, rough), 4), ((rough,), 2)):
        with pytest.raises(ValidationError, match="textured face"):
            GlazingSpec(
                id="x",
                lites=sheets,
                gaps=(GapSpec(width_mm=12),) * (len(sheets) - 1),
                coating=CoatingSpec(kind="hard_low_e", surface=surface),
            )


def test_laminated_glass_is_as_thick_as_typed():
    """6.4 mm is the whole pane, as it is sold: two sheets of 3 mm and the interlayer (EN ISO 12543-5)."""
    pane = translate.lite(LiteSpec(thickness_mm=6.4, strength="laminated"))
    assert (pane.thickness_mm, pane.name) == (6.4, "6.4 mm laminated clear")
