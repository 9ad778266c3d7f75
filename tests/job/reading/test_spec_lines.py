# ruff: noqa: E501 -- one pasted line a row reads as a table
"""Lines pasted from film sheets, all invented, as they are printed in four languages: read, or named."""

import pytest
from small_job import written

from reportkit.base.errors import JobError
from reportkit.job import load_job
from reportkit.job.reading.specline import read_spec
from reportkit.study.study import Study

TV, TS = "visible_transmittance_percent", "solar_transmittance_percent"
RVG, RVF = "visible_reflectance_glass_side_percent", "visible_reflectance_film_side_percent"
RSG, RSF = "solar_reflectance_glass_side_percent", "solar_reflectance_film_side_percent"
UV, TSER = "uv_transmittance_percent", "tser_percent"

#: What stands on the sheet | what a fitter would type of it, field by field, by hand.
RIGHT = [
    ("VLT 42 % | VLR ext 9 | TSET 35 | SHGC 0.49", {TV: 42, RVG: 9, TS: 35, "shgc": 0.49, "conditions": "nfrc"}),
    ("Visible Light Transmitted 42%, Visible Light Reflected (Exterior) 9%, UV Rejected 99%", {TV: 42, RVG: 9, UV: 1}),
    ("VLT: 20; VLR int: 15; VLR ext: 30; TSER: 72; SC: 0.32", {TV: 20, RVF: 15, RVG: 30, TSER: 72, "claims.shading_coefficient": 0.32}),
    ("Visible light transmittance 70 % Visible light reflectance interior 8 % Solar energy transmittance 52 %", {TV: 70, RVF: 8, TS: 52}),
    ("VLT\t35 %\tTSER @ 60°\t61 %\tEmissivity\t0.75", {TV: 35, TSER: 61, "claims.tser_sun_angle_deg": 60, "emissivity": 0.75}),
    ("Light transmission 42 % (EN 410) | g-value 49 % | Light reflection external 9 %", {TV: 42, "shgc": 0.49, RVG: 9, "conditions": "en"}),
    ("VLT 0.42 | VLR ext 0.09 | Solar transmittance 0.35", {TV: 42, RVG: 9, TS: 35}),
    ("VLT 42 | UV blocked >99 % | 2 mil | LSG 0.86", {TV: 42, UV: 1, "thickness_um": 50.8, "claims.light_to_solar_gain": 0.86}),
    ("Solar energy transmitted 35 %\nSolar energy reflected ext 9 %\nSolar energy absorbed 56 %\nVLT 42 %", {TS: 35, RSG: 9, "claims.solar_absorptance_percent": 56, TV: 42}),
    ("τv 0,42; ρv 0,09; ρ'v 0,08; τe 0,35; g 0,49", {TV: 42, RVG: 9, RVF: 8, TS: 35, "shgc": 0.49, "conditions": "en"}),
    ("Lichttransmission 42 % | Lichtreflexion außen 9 % | g-Wert 0,49 | UV-Schutz 99 % | 50 µm", {TV: 42, RVG: 9, "shgc": 0.49, "conditions": "en", UV: 1, "thickness_um": 50}),
    ("Lichtdurchlässigkeit 61,5 %; Strahlungstransmission 44 %; Emissionsgrad 0,84", {TV: 61.5, TS: 44, "emissivity": 0.84}),
    ("LT 18 % • LR innen 20 % • b-Faktor 0,31 • Blendreduktion 80 %", {TV: 18, RVF: 20, "claims.shading_coefficient": 0.31}),
    ("Transmisión de luz visible 42 % | Reflexión de luz visible exterior 9 % | Energía solar total rechazada 51 %", {TV: 42, RVG: 9, TSER: 51}),
    ("TL 35 %; Factor solar 0,44; Rechazo UV 99 %; Absorción energética 55 %", {TV: 35, "shgc": 0.44, "conditions": "en", UV: 1, "claims.solar_absorptance_percent": 55}),
    ("Transmission lumineuse : 42 % · Réflexion lumineuse extérieure : 9 % · Facteur solaire : 49 %", {TV: 42, RVG: 9, "shgc": 0.49, "conditions": "en"}),
    ("TL 42% ; RLe 9% ; RLi 8% ; TE 35% ; FS 0,49", {TV: 42, RVG: 9, RVF: 8, TS: 35, "shgc": 0.49, "conditions": "en"}),
    ("Énergie solaire rejetée 51 % | Lumière visible transmise 42 % | Épaisseur 50 microns", {TSER: 51, TV: 42, "thickness_um": 50}),
    ("SHGC (NFRC 200) 0.38 | VT 30 % | U 5.8 W/m²K", {"shgc": 0.38, "conditions": "nfrc", TV: 30}),
    ("VLT 42 % | UV 300-380 nm transmittance 0.5 % | VLR (film side) 8 % | VLR (glass side) 9 %", {TV: 42, UV: 0.5, RVF: 8, RVG: 9}),
    ("VLT 42 / TSR ext 14 / TSRint 12 / Solar T 43 / emiss .84 / 1.5 mil", {TV: 42, RSG: 14, RSF: 12, TS: 43, "emissivity": 0.84, "thickness_um": 38.1}),
    ("VLT 42 | VLR 9/9 | Solar R ext 9 %", {TV: 42, RVG: 9, RVF: 9, RSG: 9}),
    ("VLT 42 | VLR ext/int 9/12 % / 2 mil", {TV: 42, RVG: 9, RVF: 12, "thickness_um": 50.8}),
    ("TL 42 % / TES 35 % / RES ext 9 %", {TV: 42, TS: 35, RSG: 9}),
]  # fmt: skip

#: What stands on the sheet | a part of the rule that it breaks | what is found of it.
WRONG = [
    ("VLT 42 % | TSET 35 | Solar energy reflected ext 9 | Solar energy absorbed 65", "make 100 %", "35 + 9 + 65 = 109"),
    ("VLT 42 % | VLTT 41 | HRX 30", "must be a term", "HRX 30"),
    ("VLT 4200 % | VLR ext 9", "at most 100 %", "VLT 4200 %"),
    ("VLT 42 | VLR ext 0.09", "a share of 1, or a percentage", "VLR ext 0.09"),
    ("VLT 42 % | VLR 9 %", "from which side", "VLR 9 %"),
    ("VLT 42 % | TSET 49 | SHGC 0.35", "at least the solar transmittance", "0.35 and 49 %"),
    ("VLT 42 % | SHGC 0.58 | TSER 51 %", "make 100 %", "58 + 51 = 109"),
    ("VLT 42 % | UV 99 %", "must be a term", "UV 99 %"),
    ("VLT 42 % | Total solar energy transmittance 49 %", "one way only", "Total solar energy transmittance 49 %"),
    ("VLT 42 % | VLT 24 %", "told once", "VLT 24 %"),
    ("VLT 42 % | VLR 9/12 %", "from which side", "VLR 9/12 %"),
    ("VLT 42 % | VLR ext 9/12 %", "from which side", "VLR ext 9/12 %"),
    ("VLT 42 % | VLT/VLR 42/9", "must be a term", "VLT/VLR 42/9"),
    ("VLT 42 % | TSR 14", "one way only", "TSR 14"),
    ("VLT | VLR ext 9", "a number behind each term", "VLT"),
    ("VLT 42 % | SHGC 1.49", "a share of at most 1", "SHGC 1.49"),
    ("VLT < 42 % | thickness 50", "not a bound", "VLT < 42 %"),
    ("VLT 42 % | thickness 50", "must have a unit", "thickness 50"),
    ("VLT 42 % | VLT -42", "at least 0", "VLT -42"),
]  # fmt: skip


@pytest.mark.parametrize(("line", "fields"), RIGHT, ids=[line[:30] for line, _ in RIGHT])
def test_a_line_is_read_as_a_fitter_reads_it(line, fields):
    """Every number lands in its field, and nothing else does (terms: EN 410, NFRC 200, from memory)."""
    read = read_spec(line)
    assert read.wrong == []
    got = {entry.field.removeprefix("rated."): entry.value for entry in read.entries}
    assert got.keys() == fields.keys()
    for name, value in fields.items():
        assert got[name] == value if isinstance(value, str) else float(got[name]) == pytest.approx(value)


@pytest.mark.parametrize(("line", "rule", "found"), WRONG, ids=[line[:40] for line, _, _ in WRONG])
def test_a_mistake_in_a_line_is_named(line, rule, found):
    """What cannot be right, or can be read in two ways, is named with the words it stands in."""
    wrong = read_spec(line).wrong
    assert any(rule in each.rule and each.found == found for each in wrong), wrong


@pytest.mark.parametrize("line", [line for line, _, _ in WRONG if "/" in line])
def test_two_numbers_behind_one_term_are_one_fault(line):
    """Who typed ``VLR 9/12`` is told once."""
    assert len(read_spec(line).wrong) == 1


def test_no_term_of_another_quantity_is_proposed():
    """``VLTT`` is near ``VLT`` alone; ``TSEX`` as near to what passes as to what is sent back or kept."""
    assert "did you mean vlt?" in read_spec("VLTT 41").wrong[0].hint
    assert "did you mean solar transmittance?" in read_spec("Solar transmitance 41").wrong[0].hint
    assert "did you mean" not in read_spec("TSEX 43").wrong[0].hint


@pytest.mark.parametrize("gap", [" " * 3900, "\t" * 3900])
def test_a_long_gap_is_one_space(gap):
    """A line padded to the longest text a field takes is read like any other, and as soon."""
    assert [entry.value for entry in read_spec(f"VLT 42 %{gap}TSER 51 %").entries] == ["42", "51"]


def test_sides_are_those_of_where_the_film_goes():
    """Outside, an onlooker sees the film's own face; on either side only the face itself can be named."""
    line = "VLT 42 % | VLR ext 9"
    assert read_spec(line, "inside").entries[1].field == f"rated.{RVG}"
    assert read_spec(line, "outside").entries[1].field == f"rated.{RVF}"
    assert "film's side" in read_spec(line, "either").wrong[0].rule
    assert read_spec("VLT 42 % | VLR (film side) 9", "either").wrong == []


def _job(tmp_path, line, **more):
    film = {"id": "pasted", "film_class": "ceramic", "spec": line,
            "rolls": [{"width": "1524 mm", "length": "30 m", "price": "600"}], **more}  # fmt: skip
    return written(tmp_path, {"films": [film], "choice": {"job": "pasted"}})


LINE = "VLT 42 % | VLR ext 9 | TSET 38 | Solar energy reflected ext 9 | UV rejected 99 % | 2 mil"


def test_a_film_of_a_pasted_line_is_the_film_typed(tmp_path):
    """The same numbers pasted and typed give the same glass with film, to the last digit."""
    (tmp_path / "a").mkdir()
    (tmp_path / "b").mkdir()
    pasted = load_job(_job(tmp_path / "a", LINE))
    rated = {TS: "38", RSG: "9", TV: "42", RVG: "9", UV: "1"}
    film = {"id": "pasted", "film_class": "ceramic", "thickness_um": "50.8", "rated": rated,
            "rolls": [{"width": "1524 mm", "length": "30 m", "price": "600"}]}  # fmt: skip
    typed = load_job(written(tmp_path / "b", {"films": [film], "choice": {"job": "pasted"}}))
    assert pasted.job.films[0].rated == typed.job.films[0].rated
    assert pasted.job.films[0].thickness_um == typed.job.films[0].thickness_um
    one, two = (Study(loaded).filmed["one", "pasted"].glazing for loaded in (pasted, typed))
    assert one is not None and one == two


def test_a_number_typed_must_agree_with_the_line(tmp_path):
    """The same number twice is one number; another one is a fault of the line that names both."""
    load_job(_job(tmp_path, LINE, rated={TV: "42"}))
    with pytest.raises(JobError) as caught:
        load_job(_job(tmp_path, LINE, rated={TV: "40"}))
    (fault,) = caught.value.faults
    assert (fault.field, fault.found) == ("films.pasted.spec", "VLT 42 %")
    assert "rated.visible_transmittance_percent (40)" in fault.rule


def test_faults_of_a_line_stand_with_those_of_the_job(tmp_path):
    """A term nobody knows, and a number that lacks for it, are told at the film's line."""
    with pytest.raises(JobError) as caught:
        load_job(_job(tmp_path, "VTL 42 % | thickness 2 mil"))
    told = {(fault.field, fault.rule) for fault in caught.value.faults}
    assert ("films.pasted.spec", "must be a term of a film's sheet") in told
