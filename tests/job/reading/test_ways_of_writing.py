# ruff: noqa: E501 -- what is printed stands in one string
"""What people write in place of the words and numbers a job asks for: taken, or named as what it is."""

from fractions import Fraction

import pytest
from pydantic import TypeAdapter, ValidationError
from small_job import written

from reportkit.app.command_line import main
from reportkit.base.errors import JobError
from reportkit.job import load_job
from reportkit.job.model.quantities import Temperature
from reportkit.job.model.typed import Clock, Day, Length
from reportkit.job.reading.told import told
from reportkit.job.writing.convert import convert

HEAD = "id,room,face,glazing,quantity,width,height"


def _faults(folder):
    with pytest.raises(JobError) as caught:
        load_job(folder)
    return {fault.field: fault for fault in caught.value.faults}


def test_words_with_capitals_in_other_languages_and_of_the_trade_are_the_same_job(tmp_path):
    """``Sí``, ``Ja``, ``Toughened``, ``STEP LADDER``, ``eur`` and ``Office`` say what the plain words say."""
    plain, other = tmp_path / "plain", tmp_path / "other"
    plain.mkdir()
    other.mkdir()
    survey = f"{HEAD},access,frame,opens,old_film\nA,office,west,one,2,1000,1250,step_ladder,timber,yes,no\n"
    said = f"{HEAD},access,frame,opens,old_film\nA,Office,WEST,One,2,1000,1250,Step Ladder,Wood,Sí,Nein\n"
    glass = {"glazings": [{"id": "one", "lites": [{"thickness_mm": "4", "strength": "tempered"}]}]}
    typed = {
        "units": "Metric",
        "currency": "eur",
        "invented": "Oui",
        "glazings": [{"id": "one", "lites": [{"thickness_mm": "4", "strength": "Toughened"}]}],
        "complaint": {"kinds": ["Heat"], "room": "OFFICE"},
        "compare": ["Grey"],
        "choice": {"job": "GREY"},
    }
    one = load_job(written(plain, glass, {"compare": ["grey"]}, survey=survey))
    two = load_job(written(other, typed, survey=said))
    assert one.job == two.job


def test_a_word_that_nothing_knows_is_still_a_fault(tmp_path):
    """``perhaps`` is neither yes nor no, and glass is not ``stout``."""
    glass = {"glazings": [{"id": "one", "lites": [{"thickness_mm": "4", "strength": "stout"}]}]}
    faults = _faults(written(tmp_path, glass, {"invented": "perhaps"}))
    assert faults["invented"].found == "perhaps"
    assert faults["glazings.one.lites.1.strength"].found == "stout"


@pytest.mark.parametrize(
    ("typed", "meant"),
    [("5:35 PM", "17:35"), ("12:05 am", "00:05"), ("12 p.m.", "12:00"), ("17h30", "17:30"),
     ("8.30", "08:30"), ("8:30:00", "08:30"), ("7 AM", "07:00")],
)  # fmt: skip
def test_a_clock_of_twelve_hours(typed, meant):
    """Twelve AM is midnight and twelve PM noon (common practice, no source)."""
    assert TypeAdapter(Clock).validate_python(typed) == meant


@pytest.mark.parametrize("typed", ["13:00 PM", "0:10 AM", "25:00", "8", "8:61", "noon"])
def test_a_clock_that_is_none(typed):
    """An hour of the afternoon is not over twelve, and a bare number is no time."""
    with pytest.raises(ValidationError):
        TypeAdapter(Clock).validate_python(typed)


@pytest.mark.parametrize(
    ("typed", "inches"),
    [("5'6", 66), ("5'6\"", 66), ("5' 6 1/2", Fraction(133, 2)), ("5′6″", 66), ("5 ft 6 in", 66)],
)
def test_feet_and_inches(typed, inches):
    """Behind feet a bare number is inches; a foot is twelve of them, 25.4 mm each (1959 agreement)."""
    assert TypeAdapter(Length).validate_python(typed) == Fraction(inches) * Fraction(254, 10)


@pytest.mark.parametrize(
    "typed", ["77 F", "77F", "77 °F", "77 ºF", "77 deg F", "77 Fahrenheit", "77 degrees F"]
)
def test_degrees(typed):
    """77 F is 25 C (NIST SP 811), however the degree is written."""
    assert TypeAdapter(Temperature).validate_python(typed) == pytest.approx(25)


@pytest.mark.parametrize("typed", ["5-Aug", "Aug-05", "05-ago", "8-mai", "5/8/2026"])
def test_a_date_that_a_spreadsheet_made_of_a_length_is_named_as_such(tmp_path, typed):
    """``35 5/8`` apart, ``5-8`` typed into a spreadsheet becomes the fifth of August."""
    faults = _faults(written(tmp_path, survey=f"{HEAD}\nA,office,west,one,1,{typed},1250\n"))
    assert "the date that a spreadsheet made of it" in faults["width"].rule
    assert "set to text" in faults["width"].hint


def test_a_day_the_other_way_is_told_both_ways(tmp_path):
    """``02.03.2026`` is one day to some and another to others; ``5-Aug`` has lost its year."""
    assert _faults(written(tmp_path, {"quote": {"date": "02.03.2026"}}))["quote.date"].hint == (
        "write 2026-03-02 or 2026-02-03"
    )
    assert _faults(written(tmp_path, {"quote": {"date": "23/03/2026"}}))["quote.date"].hint == (
        "write 2026-03-23"
    )
    assert (
        "which a spreadsheet left out"
        in _faults(written(tmp_path, {"quote": {"date": "5-Aug"}}))["quote.date"].rule
    )
    with pytest.raises(ValidationError):
        TypeAdapter(Day).validate_python("45/45/2026")


def test_faults_have_the_persons_units_first(tmp_path):
    """In a job in feet and inches a bound is told in inches, feet squared and °F, the other unit behind."""
    rooms = {"rooms": [{"id": "office", "heat": {"floor_area": "5 ft2", "too_hot": "150 F"}}]}
    survey = f"{HEAD}\nA,office,west,one,1,400,50\n"
    faults = _faults(written(tmp_path, {"units": "us"}, rooms, survey=survey))
    assert faults["width"].rule == "must be at most 236.2 in (6000 mm)"
    assert faults["rooms.office.heat.floor_area"].rule == "must be at least 21.53 ft2 (2 m2)"
    assert "F (" in faults["rooms.office.heat.too_hot"].rule
    metric = _faults(written(tmp_path, survey=f"{HEAD}\nA,office,west,one,1,9000,1250\n"))
    assert metric["width"].rule == "must be at most 6000 mm (236.2 in)"


def test_a_clean_check_says_what_it_read(tmp_path, capsys):
    """Counts by hand: 8 panes of 1.25 m2 and 2 of 1.5 m2 are 13 m2, 140 ft2; faults' stream stays empty."""
    assert main(["check", str(written(tmp_path))]) == 0
    out, err = capsys.readouterr()
    assert out == ""
    assert err.splitlines()[0] == "Read: 10 panes in 2 rows, 1 room, 1 face, 13.0 m2 of glass, 1 film."
    assert "Withheld: a year's sun, heat, energy and money; weather is clear days." in err
    assert "Withheld: times of the fitting day; no fitting: {date: ...}." in err
    assert "grey lacks SHGC or g" in err
    assert main(["check", str(written(tmp_path, {"units": "us", "fitting": {"date": "2026-04-01"}}))]) == 0
    err = capsys.readouterr().err
    assert "140 ft2 of glass" in err and "fitting day" not in err


def test_a_clean_check_says_what_it_read_of_a_pasted_line(tmp_path, capsys):
    """What was read of the line stands there field by field, and what it holds that no field takes."""
    line = {"films": [{"id": "p", "film_class": "ceramic", "spec": "VLT 42 | TSET 35 | 2 mil | glare reduction 52 %",
                       "rolls": [{"width": "1524 mm", "length": "30 m", "price": "600"}]}], "choice": {"job": "p"}}  # fmt: skip
    assert main(["check", str(written(tmp_path, line))]) == 0
    err = capsys.readouterr().err
    assert (
        "p, read from its line: visible_transmittance_percent 42, solar_transmittance_percent 35, thickness_um 50.8"
        in err
    )
    assert "p, not used: glare reduction 52 %" in err
    assert "p lacks two of solar transmittance, reflectance and absorptance" in err


def test_swapped_sides_are_suspected_and_never_changed(tmp_path):
    """One pane that lies among three of its size that stand; one that would reach through the ceiling."""
    survey = (
        f"{HEAD},sill\nA,office,west,one,3,900,1400,\nB,office,west,one,1,1400,900,\n"
        "C,office,west,one,1,500,700,\nD,office,west,one,1,900,2200,800\n"
    )
    rooms = {"rooms": [{"id": "office", "heat": {"floor_area": "20 m2", "ceiling": "2500 mm"}}]}
    loaded = load_job(written(tmp_path, rooms, survey=survey))
    doubted = [line for line in told(loaded) if line.startswith("Look again")]
    assert [line.split()[2] for line in doubted] == ["B", "D"]
    assert "1400 mm wide, 900 mm high" in doubted[0]
    assert loaded.job.panes[1].width == 1400


def test_an_id_that_a_spreadsheet_made_a_date_of_is_doubted(tmp_path):
    """Pane ``1-2`` becomes the first of February; it stays an id, as it might be one."""
    loaded = load_job(written(tmp_path, survey=f"{HEAD}\n1-Feb,office,west,one,1,900,1400\n"))
    assert any("made a date of the id of 1-Feb" in line for line in told(loaded))


def _walls(folder, *bearings):
    """Return what a clean check says of faces a, b, c with these bearings."""
    faces = [{"id": name, "bearing": bearing} for name, bearing in zip("abcd", bearings, strict=False)]
    return told(load_job(written(folder, {"faces": faces}, survey=f"{HEAD}\nA,office,a,one,1,900,1250\n")))


@pytest.mark.parametrize(
    ("bearing", "point"),
    [("0", "north"), ("22.4", "north"), ("22.6", "north-east"), ("95", "east"), ("140.8", "south-east"),
     ("180", "south"), ("210", "south-west"), ("265", "west"), ("300", "north-west"), ("355", "north")],
)  # fmt: skip
def test_a_face_is_told_with_the_point_it_looks_to(tmp_path, bearing, point):
    """Each of eight points takes 45 degrees, half of them on either side (common practice, no source)."""
    assert f"a looks to {bearing}°, {point}." in _walls(tmp_path, bearing)


def test_a_flat_face_looks_nowhere(tmp_path):
    """A roof light that lies flat has no point of the compass."""
    faces = [{"id": "west", "bearing": "90", "tilt": "0"}]
    assert not any("looks to" in line for line in told(load_job(written(tmp_path, {"faces": faces}))))


@pytest.mark.parametrize(
    ("bearings", "pairs"),
    [(("10", "100"), []), (("355", "88", "175"), []), (("10", "18"), []), (("10", "86"), [("a", "b", 76)]),
     (("350", "66"), [("a", "b", 76)]), (("0", "90", "180", "235"), [("a", "d", 125)]),
     (("0", "79.9"), [("a", "b", 80)]), (("0", "80.1"), [])],
)  # fmt: skip
def test_faces_neither_square_nor_opposite_are_asked_about(tmp_path, bearings, pairs):
    """Within ten degrees walls are taken for square; the one that fits no other is named once."""
    lines = [line for line in _walls(tmp_path, *bearings) if "apart" in line]
    assert lines == [
        f"Look again: {one} and {other} stand {degrees}° apart, neither square nor opposite to each other: "
        "were both measured right?"
        for one, other, degrees in pairs
    ]


def _sizes(folder, units, *sizes):
    """Return what a clean check doubts of the sizes of panes A, B, C."""
    rows = [f"{name},office,west,one,1,{size}" for name, size in zip("ABC", sizes, strict=False)]
    bare = {"units": units, "choice": {"job": "none"}}  # no roll has to carry them
    lines = told(load_job(written(folder, bare, survey="\n".join([HEAD, *rows]) + "\n")))
    return [line.removeprefix("Look again: ") for line in lines if " both ways " in line]


@pytest.mark.parametrize(
    ("units", "sizes", "doubts"),
    [
        ("metric", ["45,60", "905,1385", "30,55"],
         ["under 200 mm both ways A, C would be very small (45 mm wide, 60 mm high): centimetres typed for millimetres?"]),
        ("metric", ["150 mm,180 mm"],
         ["under 200 mm both ways A would be very small (150 mm wide, 180 mm high): centimetres typed for millimetres?"]),
        ("metric", ["200,200", "45,1200", "45 cm,60 cm", "5900,5900"], []),
        ("us", ["3,4.5"], ["under 7.874 in both ways A would be very small (3 in wide, 4.5 in high): feet typed for inches?"]),
        ("us", ["150,200", "36,72"],
         ["over 120 in both ways A would be very large (150 in wide, 200 in high): millimetres or centimetres typed for inches?"]),
        ("us", ["8,10", "3 ft,4 ft", "60,130"], []),
    ],
)  # fmt: skip
def test_sides_of_another_unit_are_suspected(tmp_path, units, sizes, doubts):
    """45 x 60 is a window in centimetres and a stamp in millimetres: it is asked about, and stays as it is."""
    assert _sizes(tmp_path, units, *sizes) == doubts


def test_what_is_withheld_is_named_as_the_job_writes_it(tmp_path):
    """A job as text is told the field in braces, one in a workbook the row and the sheet."""
    job = {
        "weather": {"use": "shipped", "name": "greensboro"},
        "site": {"latitude": "37", "longitude": "-80"},
    }
    rooms = {"rooms": [{"id": "office"}, {"id": "den", "heat": {"floor_area": "20"}}]}
    one, some = tmp_path / "one", tmp_path / "some"
    for folder, more in ((one, {}), (some, rooms)):
        folder.mkdir()
        written(folder, job, more)
    as_text = [line for folder in (one, some) for line in told(load_job(folder)) if "Withheld" in line]
    for folder in (one, some):
        convert(folder)
    in_cells = [line for folder in (one, some) for line in told(load_job(folder)) if "Withheld" in line]
    assert [line for line in as_text if "floor_area" in line] == [
        "Withheld: rooms' temperatures, energy and money; no room has heat: {floor_area: ...}.",
        "Withheld: temperatures and energy of office; no heat: {floor_area: ...} there.",
    ]
    assert [line for line in in_cells if "floor_area" in line] == [
        "Withheld: rooms' temperatures, energy and money; no room has heat.floor_area on the sheet Rooms.",
        "Withheld: temperatures and energy of office; no heat.floor_area on the sheet Rooms there.",
    ]
    assert "Withheld: times of the fitting day; no fitting: {date: ...}." in as_text
    assert "Withheld: times of the fitting day; no fitting.date on the sheet Job." in in_cells
    assert not any("{" in line for line in in_cells)


@pytest.mark.parametrize(
    ("units", "latitude", "line"),
    [("metric", "40.4832", "The weather is that of Greensboro, North Carolina, 487 km away."),
     ("us", "40.4832", "The weather is that of Greensboro, North Carolina, 303 mi away."),
     ("metric", "36.95", None)],
)  # fmt: skip
def test_weather_of_a_far_place_is_told(tmp_path, units, latitude, line):
    """Straight north a degree is 111.195 km on a sphere of 6371 km; from the station at 36.1 north it is 4.3832 of them."""
    site = {"latitude": latitude, "longitude": "79.95 W", "clock": "America/New_York", "elevation_m": "270"}
    job = {"units": units, "weather": {"use": "shipped", "name": "greensboro"}, "site": site}
    lines = told(load_job(written(tmp_path, job)))
    assert [each for each in lines if "away" in each] == [line] * bool(line)
