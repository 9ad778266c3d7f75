"""The tables of assumptions: a plain label for every field left open, values in the reader's units."""

from pathlib import Path
from typing import Any

import pytest
from small_job import written

from reportkit.documents.blocks import Columns, Table
from reportkit.documents.language.names import LEFT_OPEN
from reportkit.documents.page import Page
from reportkit.documents.sections import SECTIONS
from reportkit.documents.sections.basis import assumptions, reckoned
from reportkit.findings.findings import Findings
from reportkit.job import load_job, write_starter
from reportkit.study import Study

JOBS = Path(__file__).parents[2] / "jobs"


def tables_of(folder: Path) -> dict[str, Any]:
    """Return the tables of a job's assumptions, the client's and the fitter's, by their id."""
    page = Page(Findings(Study.open(folder)))
    blocks = [*assumptions(page), *reckoned(page)]
    inside = [
        one for block in blocks if isinstance(block, Columns) for column in block.columns for one in column
    ]
    return {block.id: block for block in (*blocks, *inside) if hasattr(block, "rows")}


def text_of(cell: Any) -> str:
    """Return a cell's letters."""
    return "".join(run["text"] if isinstance(run, dict) else run.text for run in cell)


@pytest.mark.parametrize("units", ["us", "metric"])
def test_every_field_left_open_has_a_label(tmp_path: Path, units: Any) -> None:
    """The starter leaves most fields open; so do the demo jobs."""
    write_starter(tmp_path / "job", units=units)
    for folder in (
        tmp_path / "job",
        *(JOBS / name for name in ("corner-shop", "harbour-house", "hill-studio")),
    ):
        taken = load_job(folder).defaults
        assert taken
        for entry in taken:
            parts = [part for part in entry.field.split(".") if not part.isdecimal()]
            named = (
                parts[0] in ("films", "rooms", "faces", "glazings", "panes", "horizons") and len(parts) > 2
            )
            assert ".".join(parts[:1] + parts[2:] if named else parts) in LEFT_OPEN, entry.field


def test_a_us_reader_reads_us_units() -> None:
    """Areas in square feet, U in Btu/h ft2 F, a rate per litre in fluid ounces per gallon.

    1 m2 is 10.7639 ft2, 1 W/m2 K is .17611 Btu/h ft2 F, 1 ml/L is .128 fl oz/gal (NIST SP 811, from memory).
    """
    tables = tables_of(JOBS / "corner-shop")
    rows = [
        [text_of(cell) for cell in row.cells]
        for name in ("reckoned-kit", "reckoned-minutes")
        for row in tables[name].rows
    ]
    assert "0.38\u00a0fl oz/gal" in {row[1] for row in rows}  # 3 ml/L
    # 2.5 m2 of a blade or of two people, 10 m2 of a roll of paper
    assert {row[1] for row in rows if row[1].endswith("\u00a0ft²")} == {"26.9\u00a0ft²", "107.6\u00a0ft²"}
    assert any(row[0].startswith("plain pane of 11\u00a0ft² to 16.1\u00a0ft²") for row in rows)
    rows = [[text_of(cell) for cell in row.cells] for row in tables["ranges"].rows]
    walls = next(row for row in rows if row[4] == "Btu/h·ft²·°F")
    assert walls[2] == "0.25"  # 1.4 W/m2 K


def test_what_ranges_run_over_is_told_room_by_room() -> None:
    """Where rooms differ each has its row and its name; what is alike stands once."""
    rows = [text_of(row.cells[0]) for row in tables_of(JOBS / "corner-shop")["ranges"].rows]
    assert len(rows) == len(set(rows))
    heat = [row for row in rows if row.startswith("heat of people")]
    assert heat == [
        "heat of people, lamps and appliances (Shop)",
        "heat of people, lamps and appliances (Living room upstairs)",
    ]
    assert rows.count("how sunny a year is") == 1


@pytest.mark.parametrize("name", ["corner-shop", "harbour-house", "hill-studio"])
def test_ratings_are_said_as_computed(page_of, study_of, name):
    """Every table of U, g and SHGC says that it is computed after a standard; a superseded limit says so."""
    page = page_of(study_of(name))
    tables = [block for block in SECTIONS["glass"](page).blocks if isinstance(block, Table)]
    assert tables
    for table in tables:
        assert "not a certified rating" in repr(table.note)
    assert "g: EN 410" not in repr(tables) and "U: NFRC" not in repr(tables)
    assert " after " in repr(tables[0].note)
    assert "1998, since superseded" in repr(SECTIONS["verdicts"](page))


def test_prices_left_open_are_the_fitter_s(page_of, tmp_path):
    """What a business left open stands on the fitter's sheet, not in the client's reasons."""
    page = page_of(Study.open(written(tmp_path)))  # it has no price of blades
    client, fitter = ("".join(str(block) for block in part(page)) for part in (assumptions, reckoned))
    assert "nothing is charged for it" not in client and "price of a blade" not in client
    assert "nothing is charged for it" in fitter and "price of a blade" in fitter


def test_growth_of_energy_prices_says_who_gave_it(page_of, edited):
    """By the job where it was typed, else as common practice: the default is nobody's own."""
    typed = "  growth_percent: [0, 1, 3]\n"
    for changes, mark in (((), "given by the job"), (((typed, ""),), "common practice, no source")):
        page = page_of(edited("harbour-house", *changes))
        table = next(block for block in assumptions(page) if getattr(block, "id", "") == "ranges")
        row = next(row for row in table.rows if text_of(row.cells[0]) == "how energy prices grow")
        assert text_of(row.cells[-1]) == mark
        assert ("given by the job" in text_of(row.cells[5])) is bool(not changes)


@pytest.mark.parametrize("shown", ["lines", "sum"])
def test_hours_are_said_to_be_charged_by_the_quarter(page_of, tmp_path, shown):
    """More hours are charged than planned, to the next quarter; said where a line has them alone."""
    page = page_of(Study.open(written(tmp_path, {"quote": {"shown": shown}})))
    table = next(block for block in SECTIONS["price"](page).blocks if isinstance(block, Table))
    said = "charged by the quarter hour" in repr(table.note)
    assert said is (shown == "lines")
    hours = [float(line.quantity) for line in page.findings.price.lines if line.unit == "h"]
    planned = page.findings.labour.person_min.likely / 60
    assert all(value % 0.25 == 0 and 0 <= value - planned <= 0.27 for value in hours)
    assert bool(hours) is said
