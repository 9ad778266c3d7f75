"""windows.csv as spreadsheets write it: every variant gives the same rows."""

import csv
import io

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from reportkit.job.reading.survey import COLUMNS, read_rows

PLAIN = """id,room,face,glazing,quantity,width,width_2,height,note
A,shop,east,plate,2,35 5/8 in,35.5 in,905.5,"Old, putty"
B,shop,east,plate,1,7 ft 2 in,,84 in,
"""
EXPECTED = [
    {"id": "A", "room": "shop", "face": "east", "glazing": "plate", "quantity": "2", "note": "Old, putty",
     "widths": ["35 5/8 in", "35.5 in"], "heights": ["905.5"]},
    {"id": "B", "room": "shop", "face": "east", "glazing": "plate", "quantity": "1", "widths": ["7 ft 2 in"],
     "heights": ["84 in"]},
]  # fmt: skip


def raw_rows(text: str) -> list[dict[str, object]]:
    """Return the rows of a survey that must have no fault."""
    rows, faults = read_rows("windows.csv", text)
    assert not faults, [str(fault) for fault in faults]
    return [row.raw for row in rows]


def semicolons(text: str) -> str:
    """Write the same table with semicolons and decimal commas, as many countries do."""
    out = io.StringIO()
    for row in csv.reader(io.StringIO(text)):
        csv.writer(out, delimiter=";", lineterminator="\n").writerow(
            [cell.replace("905.5", "905,5") for cell in row]
        )
    return out.getvalue()


@pytest.mark.parametrize(
    "text",
    [
        PLAIN,
        PLAIN.replace("\nB", "\n\n,,,,,,,,\n   \nB"),
        PLAIN.replace("note\n", "note,,,\n").replace('putty"', 'putty",,'),
        PLAIN.replace(",", " , ").replace(' "Old ,  putty"', '"Old, putty"'),
        PLAIN.replace("id,room", " ID ,Room").replace("width_2", "Width 2").replace("quantity", "Qty"),
        PLAIN.replace("id,", "pane,").replace("glazing", "glass").replace("width,", "width-1,"),
        "# a remark\n\n" + PLAIN.replace("\nB", '\n# another, with a comma\n"# a quoted one, too"\nB'),
        "sep=,\n" + PLAIN,
        "\n".join("\t".join(row) for row in csv.reader(io.StringIO(PLAIN))),
    ],
    ids=["plain", "empty rows", "empty columns", "spaces", "capitals", "synonyms", "remarks", "sep", "tabs"],
)
def test_variants_are_equal(text: str) -> None:
    """Separators, empty rows and columns, capitals, remarks and spaces change nothing."""
    assert raw_rows(text) == EXPECTED


def test_semicolons_and_decimal_commas() -> None:
    """Semicolons leave the comma to the decimals; an unquoted note may hold one, too."""
    expected = [dict(row) for row in EXPECTED]
    expected[0]["heights"] = ["905,5"]
    assert raw_rows(semicolons(PLAIN)) == expected
    assert raw_rows("sep=;\n" + semicolons(PLAIN)) == expected
    assert raw_rows(semicolons(PLAIN).replace('"', "")) == expected


@pytest.mark.parametrize("cell", ['"35 5/8"""', '35 5/8"', "35 5/8''", '" 35 5/8"" "'])
def test_inch_signs(cell: str) -> None:
    """Inches with their sign are read quoted as spreadsheets do it, or as people type it."""
    rows = raw_rows(f"id,room,face,glazing,width,height\nA,a,b,c,{cell},2' 6 1/2\"\n")
    assert str(rows[0]["widths"]).count("35 5/8") == 1
    assert rows[0]["heights"] == ["2' 6 1/2\""]


def test_a_note_may_run_over_lines() -> None:
    """A quoted note with a line break is one cell, and the lines below keep their numbers."""
    text = 'id,room,face,glazing,width,height,note\nA,a,b,c,1,2,"one\ntwo"\nB,a,b,c,1,2,x,y\n'
    rows, faults = read_rows("windows.csv", text)
    assert [row.line for row in rows] == [2, 4]
    assert rows[0].raw["note"] == "one\ntwo"
    assert [(fault.line, fault.found) for fault in faults] == [(4, "y")]


def test_an_open_quotation_mark_does_not_swallow_the_rest() -> None:
    """The row with the open mark is at fault; the rows below are read."""
    text = 'id,room,face,glazing,width,height\nA,a,b,c,"35 5/8"",2\nB,a,b,c,1,2\n'
    rows, faults = read_rows("windows.csv", text)
    assert [row.raw["id"] for row in rows] == ["B"]
    assert [(fault.line, fault.field) for fault in faults] == [(2, "width")]


def test_decimal_commas_between_commas_are_told() -> None:
    """Decimal commas in a table with commas make too many cells; the mend names semicolons."""
    text = "id,room,face,glazing,width,height\nA,a,b,c,90,5,120,5\n"
    _, faults = read_rows("windows.csv", text)
    assert "semicolons" in (faults[0].hint or "")


def test_too_many_rows() -> None:
    """A table of many thousand rows is stopped at the limit."""
    text = "id,room,face,glazing,width,height\n" + "A,a,b,c,1,2\n" * 2_001
    rows, faults = read_rows("windows.csv", text)
    assert len(rows) == 2_000
    assert "at most 2000 rows" in faults[0].rule


def test_too_many_faults() -> None:
    """A table that is broken throughout is not read to its end."""
    text = "id,room,face,glazing,width,height\n" + 'A,"a,b\n' * 5_000
    _, faults = read_rows("windows.csv", text)
    assert len(faults) == 301


@settings(max_examples=60, deadline=None)
@given(st.text(max_size=200), st.sampled_from([",", ";", "\t"]))
def test_any_text_is_read_or_refused(text: str, separator: str) -> None:
    """No text below a right header raises anything."""
    head = separator.join(COLUMNS)
    rows, faults = read_rows("windows.csv", f"{head}\n{text}".replace("\r", "\n"))
    assert all(row.line > 1 for row in rows)
    assert all(str(fault).startswith("windows.csv") for fault in faults)


signs = st.characters(codec="utf-8", exclude_characters="\r\n\0#\u00a0", exclude_categories=("C", "Z"))
cells = st.text(signs, min_size=1, max_size=12)


@settings(max_examples=60, deadline=None)
@given(st.lists(cells, min_size=7, max_size=7), st.sampled_from([",", ";", "\t"]))
def test_what_a_csv_writer_writes_is_read_back(values: list[str], separator: str) -> None:
    """Whatever the standard library's writer quotes comes back as it was."""
    names = ["id", "room", "face", "glazing", "width", "height", "note"]
    out = io.StringIO()
    csv.writer(out, delimiter=separator, lineterminator="\n").writerows([names, values])
    rows, faults = read_rows("windows.csv", out.getvalue())
    assert not faults
    assert [rows[0].cells[name] for name in names] == values
