from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import pytest

from reportkit.base.errors import CutListError, Fault
from reportkit.base.units import parse_length
from reportkit.documents.cutlist import CutSheet
from reportkit.job.reading.cutlist import read_cutlist
from reportkit.study.cutting import cut_alone

HEADER = "id,width,length,quantity,turn,group\n"


def listed(folder: Path, text: str) -> Path:
    """Write a list of pieces and return its path."""
    path = folder / "pieces.csv"
    path.write_text(text, encoding="utf-8")
    return path


def faults(folder: Path, text: str, rolls=("1524@10/m",), table=None) -> list[str]:
    """Return the faults of a list as lines."""
    with pytest.raises(CutListError) as error:
        read_cutlist(listed(folder, text), rolls, table)
    return [str(fault) for fault in error.value.faults]


def test_lengths_turns_and_groups_are_read(tmp_path):
    """Inches, mm and bare numbers, yes, no and nothing all mean what they say."""
    rows = 'W1,35 5/8 in,905 mm,2,no,front\nW2,600,"1,2 m",,,\n\n'
    found = read_cutlist(listed(tmp_path, HEADER + rows), ["60 in x 100 ft@355", "1524@11.60/m"], "8 ft")
    first, second = found.pieces
    assert (first.id, first.width_mm, first.length_mm) == (
        "W1",
        Fraction(35625, 1000) * Fraction(254, 10),
        905,
    )
    assert (first.quantity, first.turn, first.group, first.line) == (2, False, "front", 2)
    assert (second.width_mm, second.length_mm, second.quantity, second.turn, second.group) == (
        600,
        1200,
        1,
        True,
        "",
    )
    assert found.table_mm == Fraction(24384, 10)
    assert [(r.width_mm, r.length_mm, r.price) for r in found.rolls] == [
        (1524, 30480, Decimal(355)),
        (1524, None, Decimal("11.60")),
    ]


def test_every_fault_is_reported_at_once(tmp_path):
    """Each wrong cell is named by file, line and field, with wrong rolls and table beside them."""
    rows = "W1,-5,905,2,yes,\nW2,600,abc,0,maybe,\n,600,700,1,,\nW1,600,700,1.5,,\n"
    found = faults(tmp_path, HEADER + rows, ["1524", "1524x30500@-3", "1524x5@7/m"], "0")
    for start in (
        "pieces.csv:2 width: must be over 0",
        "pieces.csv:3 length: must be one length",
        "pieces.csv:3 quantity: must be a whole number",
        "pieces.csv:3 turn: must be yes or no",
        "pieces.csv:4 id: must not be empty",
        "pieces.csv:5 id: already used in line 2",
        "pieces.csv:5 quantity: must be a whole number",
        "--roll: has no price",
        "--roll price: must be a number from 0",
        "--roll size: film by length has a width only",
        "--table: must be over 0",
    ):
        assert any(line.startswith(start) for line in found), (start, found)


def test_columns_are_checked(tmp_path):
    """A misspelt column is met with the right one, a missing one is named."""
    found = faults(tmp_path, "id,widht,length\nA,1,2\n")
    assert any('did you mean "width"?' in line for line in found)
    assert any("width: column is missing" in line for line in found)


def test_a_missing_or_empty_list_is_a_fault(tmp_path):
    """No file, or no rows, is said plainly."""
    assert "holds no pieces" in faults(tmp_path, HEADER)[0]
    with pytest.raises(CutListError, match="no such file"):
        read_cutlist(tmp_path / "none.csv", ["1524@10/m"])


def test_no_roll_is_a_fault(tmp_path):
    """Without a roll there is nothing to cut."""
    assert "at least one roll" in faults(tmp_path, HEADER + "A,1,2,1,,\n", ())[0]


def test_a_cell_too_many_is_a_fault(tmp_path):
    """An unquoted comma shifts cells, which is noticed."""
    assert "more cells than columns" in faults(tmp_path, HEADER + "A,1,2,1,yes,g,extra\n")[0]


@pytest.mark.parametrize("text", ["1524×30500@355", "1524 X 30.5 m@355", "152.4 cmx30500@ 355"])
def test_a_roll_may_be_written_in_several_ways(tmp_path, text):
    """Any sign for times, any unit, spaces or none."""
    (roll,) = read_cutlist(listed(tmp_path, HEADER + "A,1,2,1,,\n"), [text]).rolls
    assert (roll.width_mm, roll.length_mm, roll.price) == (1524, 30500, 355)


@pytest.mark.parametrize("text", ["1524@", "@5", "1524x@5", "1524@nan/m", "axb@5"])
def test_a_roll_that_makes_no_sense_is_refused(tmp_path, text):
    """Half a roll, or a price that is no number, is a fault."""
    found = faults(tmp_path, HEADER + "A,1,2,1,,\n", [text])
    assert found and all(line.startswith("--roll") for line in found)


def test_a_planner_s_fault_is_put_at_the_piece_s_line(tmp_path):
    """Faults that name a piece get the line where it stands."""
    found = read_cutlist(listed(tmp_path, HEADER + "A,1,2,1,,\nB,3,4,1,,g\n"), ["1524@10/m"])
    placed = found.located([Fault("pieces", 0, "B", "x"), Fault("pieces", 0, "else", "y")])
    assert [(fault.file, fault.line) for fault in placed] == [("pieces.csv", 3), ("pieces.csv", 0)]


def test_seams_are_read_where_the_column_is_there(tmp_path):
    """One place, several with & between, or none; a list without the column has none."""
    head = HEADER.strip() + ",seam\n"
    rows = 'A,2000,1800,1,,,600\nB,3300,1800,1,,,"35 5/8 in & 2,1 m"\nC,900,900,1,,,\n'
    found = read_cutlist(listed(tmp_path, head + rows), ["1524@10/m"])
    assert [row.seams_mm for row in found.pieces] == [(600,), (Fraction(7239, 8), 2100), ()]
    assert (
        read_cutlist(listed(tmp_path, HEADER + "A,2000,1800,1,,\n"), ["1524@10/m"]).pieces[0].seams_mm == ()
    )


@pytest.mark.parametrize("text", ["600 & 500", "2000", "0", "600 &", "x"])
def test_a_seam_beside_the_piece_or_in_no_order_is_a_fault(tmp_path, text):
    """It must lie within the width, and rise from the left."""
    head = HEADER.strip() + ",seam\n"
    assert any(
        line.startswith("pieces.csv:2 seam: must")
        for line in faults(tmp_path, head + f"A,2000,1,1,,,{text}\n")
    )


def test_a_plan_alone_joins_a_piece_where_the_list_says(tmp_path):
    """The piece is cut in two at the place asked for; no sign stands where a film would be named."""
    made = cut_alone(listed(tmp_path, HEADER.strip() + ",seam\nA,2000,1800,1,,,600\n"), ["1524x6000@100"])
    widths = {placed.piece.part: placed.piece.width_mm for placed in made.plan.pieces}
    assert widths == {1: 600, 2: 1400}
    (drawing,) = CutSheet(made, units="metric").drawings()
    assert "stays on it" in drawing and "·" not in drawing


@pytest.mark.parametrize("size", ["46 1/2", "35-5/8", "5/8", "46½", " 35⅝ "])
def test_a_bare_fraction_is_refused_with_both_its_readings(tmp_path, size):
    """No one writes mm in fractions, yet a bare number is mm: both readings are shown."""
    typed = size.strip()
    (found,) = faults(tmp_path, HEADER + f"A,{size},905,1,,\n")
    mm = float(parse_length(size))
    assert found.startswith("pieces.csv:2 width: can be read as ")
    assert f"{mm:g} mm or as {mm * 25.4:g} mm ({typed} in)" in found
    assert f"write {typed} in, or {mm:g} mm" in found
    rolls = faults(tmp_path, HEADER + "A,500,905,1,,\n", [f"{typed}x30500@100", f"{typed}@5/m"], typed)
    assert [line.split(":")[0] for line in rolls] == ["--roll width", "--table"]


@pytest.mark.parametrize("size", ["46 1/2 in", '46-1/2"', "3' 10 1/2", "46½ in", "1181.1", "118,11 cm"])
def test_a_fraction_with_its_unit_and_a_bare_number_have_one_reading(tmp_path, size):
    """A unit anywhere settles it, feet too; decimals without a unit stay mm, as the contract says."""
    row = size.replace('"', '""')
    (found,) = read_cutlist(listed(tmp_path, HEADER + f'A,"{row}",905,1,,\n'), ["1524@10/m"]).pieces
    assert found.width_mm == Fraction(11811, 10)


def test_a_row_without_a_size_and_a_huge_cell_are_faults_by_line(tmp_path):
    """What is not there, or is no cell at all, is named at its line and the other rows are still read."""
    found = faults(tmp_path, "id,width,length\nA,900,1400\nKitchen,,\n" + "x" * 5000 + ",1,1\nB,0,9\n")
    assert "pieces.csv:3 width: must not be empty" in found
    assert "pieces.csv:3 length: must not be empty" in found
    assert any(line.startswith("pieces.csv:4: a cell must be at most 200 characters") for line in found)
    assert any(line.startswith("pieces.csv:5 width: must be over 0") for line in found)
    assert max(map(len, found)) < 400
    (found,) = faults(tmp_path, 'id,width,length\n"' + "x" * 140_000 + '",1,1\n')
    assert found.startswith("pieces.csv:2: cannot be read as CSV")


@pytest.mark.parametrize(
    ("row", "roll"),
    [
        ("A,900,1400,100001", "1524@10/m"),
        ("A,900,1400,60000\nB,900,1400,60000", "1524@10/m"),
        ("A,900,1e9", "1524@10/m"),
        ("A,99999999,900", "1524@10/m"),
        ("A,900,1400," + "9" * 199, "1524@10/m"),
        ("A,900,1400", "1524x30500@1e999999"),
        ("A,900,1400", "1524x99999999@1"),
    ],
)
def test_numbers_beyond_all_sense_are_faults(tmp_path, row, roll):
    """A slip of some noughts is named at once, before anything is planned with it."""
    assert faults(tmp_path, HEADER + row + "\n", [roll])
