"""Two coatings in one sealed unit, from the job's fields to the ratings, the screen and the pages."""

from __future__ import annotations

import re

import pytest
from small_job import written

from reportkit.base.errors import InputError
from reportkit.documents.page import Page
from reportkit.documents.sections import SECTIONS
from reportkit.findings.findings import Findings
from reportkit.study import Study

#: 4-16-4-16-4 with argon, coated on surfaces 2 and 5, as three sheets commonly are; and a sealed unit of two
#: with a soft coating within and a hard one toward the room (both invented).
THREE = {
    "id": "one",
    "lites": [{"thickness_mm": "4"}] * 3,
    "gaps": [{"width_mm": "16", "gas": "argon", "fill_percent": "90"}] * 2,
    "coating": {"kind": "soft_low_e", "surface": "2"},
    "second_coating": {"kind": "soft_low_e", "surface": "5"},
}
TWO = {
    "id": "one",
    "lites": [{"thickness_mm": "4"}] * 2,
    "gaps": [{"width_mm": "16", "gas": "argon", "fill_percent": "90"}],
    "coating": {"kind": "soft_low_e", "surface": "2"},
    "second_coating": {"kind": "hard_low_e", "surface": "4"},
}


def study(folder, unit, *changes):
    """Return the study of the small job with a glazing."""
    return Study.open(written(folder, {"glazings": [unit]}, *changes))


def without(unit, *names):
    """Return a glazing without some of its fields."""
    return {name: part for name, part in unit.items() if name not in names}


def by_hand(gaps: list[tuple[float, float]], sheets: int, room: float = 0.837) -> float:
    """Return U by EN 673:2011 (from memory): gaps of 16 mm by argon of 90 % and the two emissivities.

    At 283 K and 15 K over a gap, .035 (Gr Pr)^.38 is under 1 here but for wide ones, so argon conducts: .0168
    and air .0250 W/mK mixed by volume.
    """
    sigma, kelvin = 5.67e-8, 283.0
    conducts = (0.9 * 0.0168 + 0.1 * 0.0250) / 0.016
    resistance = 1 / 25 + sheets * 0.004 + 1 / (3.6 + 4.1 * room / 0.837)
    for one, other in gaps:
        resistance += 1 / (4 * sigma * kelvin**3 / (1 / one + 1 / other - 1) + conducts)
    return resistance**-1


@pytest.mark.parametrize(
    ("unit", "gaps", "room"),
    [
        (THREE, [(0.06, 0.837), (0.837, 0.06)], 0.837),
        (without(THREE, "second_coating"), [(0.06, 0.837), (0.837, 0.837)], 0.837),
        (TWO, [(0.06, 0.837)], 0.17),
    ],
)
def test_u_by_hand(tmp_path, unit, gaps, room) -> None:
    """Every coated face takes its part in U: EN 673 by hand (a cross-check), to a tenth for convection."""
    rated = study(tmp_path, unit).filmed["one", None].rating
    assert rated.u_w_m2k == pytest.approx(by_hand(gaps, len(unit["lites"]), room), rel=0.10)


def test_three_sheets_with_two_coats_have_the_u_that_such_units_are_sold_with(tmp_path) -> None:
    """4-16-4-16-4 with argon and two coats that emit .03: U .6 under EN 673 (common practice, no source)."""
    known = {"known": {"emissivity": "0.03"}}
    rated = study(tmp_path, THREE | known).filmed["one", None].rating
    assert rated.u_w_m2k == pytest.approx(0.6, abs=0.05)
    assert 0.40 < rated.shgc < 0.60


def test_an_emissivity_is_that_of_every_coating_of_the_first_ones_kind(tmp_path) -> None:
    """Of two soft coats both take it; a hard one beside a soft one keeps its own."""
    for number, (unit, wanted) in enumerate(((THREE, {2: 0.03, 5: 0.03}), (TWO, {2: 0.03, 4: 0.17}))):
        folder = tmp_path / str(number)
        folder.mkdir()
        made = study(folder, unit | {"known": {"emissivity": "0.03"}}).filmed["one", None].glazing
        found = {face: made.faces[face - 1].emissivity for face in wanted}
        assert found == pytest.approx(wanted)


@pytest.mark.parametrize("unit", [THREE, TWO])
def test_the_makers_values_bend_both(tmp_path, unit) -> None:
    """U, g and VT as a label has them are met, and both coatings moved alike (invented label)."""
    label = {"shgc": "0.48", "visible_transmittance_percent": "70"}
    label["u_w_m2k"] = "0.65" if unit is THREE else "1.0"
    plain, bent = tmp_path / "plain", tmp_path / "bent"
    plain.mkdir()
    bent.mkdir()
    before = study(plain, unit).filmed["one", None]
    after = study(bent, unit | {"known": label}).filmed["one", None]
    got = after.rating
    assert (got.u_w_m2k, got.shgc, got.t_visible) == pytest.approx(
        (float(label["u_w_m2k"]), 0.48, 0.70), abs=1e-3
    )
    for face, (old, new) in enumerate(zip(before.glazing.faces, after.glazing.faces, strict=True), start=1):
        moved = old.emissivity != new.emissivity and old.t != new.t
        assert moved == (old.kind == "coating"), face


def test_the_breakage_screen_knows_the_second_coating(tmp_path) -> None:
    """A coat on surface 5 keeps some sun from the filmed sheet and more heat in it: warmer with less sun.

    Absorbed .266, then .254; 22.4 K, then 22.7 K (law; the balance of the sheets by EN 673's gaps above).
    """
    found = {}
    for name, unit in (("one", without(THREE, "second_coating")), ("two", THREE)):
        folder = tmp_path / name
        folder.mkdir()
        screened = Findings(study(folder, unit)).panes[0].screen
        found[name] = screened.absorptance.likely, screened.difference_k.likely
    (sun, kelvin), (less_sun, other_kelvin) = found["one"], found["two"]
    assert less_sun < 0.98 * sun
    assert other_kelvin > 1.01 * kelvin


@pytest.mark.parametrize(("units", "u"), [("metric", "0.7"), ("us", "0.12")])
@pytest.mark.parametrize("language", ["en", "es"])
def test_the_pages_tell_both(tmp_path, units, u, language) -> None:
    """The letter to the maker names both surfaces; the table of the glass has the U of both coats."""
    made = study(tmp_path, THREE, {"units": units, "language": language, "locale": "en_IE"})
    page = Page(Findings(made))
    letter = re.sub(r"\\xa0|\\u202f|\s", " ", repr(SECTIONS["letters"](page).blocks))
    for number in (2, 5):
        said = "coating on surface {n}" if language == "en" else "capa en la cara {n}"
        assert page.words("coating on surface {n}", n=str(number)) in letter, said
    assert u in repr(SECTIONS["glass"](page).blocks)


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"second_coating": {"kind": "soft_low_e", "surface": "2"}}, "another than the first coating's"),
        ({"second_coating": {"kind": "soft_low_e", "surface": "6"}}, "inside a sealed unit"),
        (
            {
                "second_coating": {"kind": "hard_low_e", "surface": "6"},
                "lites": [{"thickness_mm": "4"}] * 2,
                "gaps": THREE["gaps"][:1],
            },
            "one of 1 to 4",
        ),
        ({"coating": None}, "beside a coating"),
        (
            {
                "lites": [{"thickness_mm": "4", "spectrum": {"file": "x.csv"}}, *THREE["lites"][1:]],
                "coating": {"kind": "hard_low_e", "surface": "1"},
                "second_coating": {"kind": "soft_low_e", "surface": "2"},
            },
            "must be on another sheet",
        ),
    ],
)
def test_a_second_coating_that_cannot_be_is_a_fault(tmp_path, change, message) -> None:
    """Twice the same face, a soft coat in the open, a face too many, one alone, two on one measured sheet."""
    with pytest.raises(InputError, match=message):
        study(tmp_path, THREE | change)


def test_film_on_a_coated_room_face_is_refused(tmp_path) -> None:
    """The hard coat toward the room is where the film would go: it must not, and the reason says so."""
    found = study(tmp_path, TWO).filmed["one", "grey"]
    assert found.glazing is None or found.rating is None
    assert "face 4" in str(found) and "is coated" in str(found)
