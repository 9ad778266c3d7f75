"""Files of measured spectra: read as people write them, refused with line and column, kept with the job.

No standard says how such a file looks; what is read and refused here is this program's own rule. The spectra
are invented.
"""

import shutil
from pathlib import Path

import pytest

from reportkit.base.errors import JobError
from reportkit.job import load_job
from reportkit.job.reading.headings import understood, ways_to_read
from reportkit.job.reading.spectrumfile import read_spectrum
from reportkit.job.writing.copies import contents

JOBS = Path(__file__).parents[3] / "jobs"
FILM, LITE = ("glass", "film"), ("outside", "inside")
#: Invented: wavelength [nm], T, R on the glass, R on the film [%].
ROWS = [(nm, 40.0, 10.0, 8.0) for nm in (*range(300, 800, 20), *range(800, 2501, 100))]


def table(head="wavelength_nm;T %;R_glass %;R_film %", rows=ROWS, sign=";"):
    """A file of rows."""
    return "\n".join([head, *(sign.join(f"{value:g}" for value in row) for row in rows)]) + "\n"


def read(text, sides=FILM, front=None):
    """What a file says; its faults as sentences."""
    measured, faults = read_spectrum("a.csv", text, sides, front)
    return measured, [str(fault) for fault in faults]


def good(text, sides=FILM, front=None):
    """What a file without faults says."""
    measured, faults = read(text, sides, front)
    assert faults == []
    return measured


def bad(text, sides=FILM, front=None):
    """The faults of a file that is refused."""
    measured, faults = read(text, sides, front)
    assert measured is None and faults
    return faults


def changed(at, column, value):
    """The rows with one value in place of another."""
    rows = [list(row) for row in ROWS]
    rows[at][column] = value
    return [tuple(row) for row in rows]


@pytest.mark.parametrize(
    ("head", "front"),
    [
        ("wavelength_nm;T %;R_glass %;R_film %", None),
        ("Wavelength (nm);%T;%R glass side;%R film side", None),
        ("nm;T %;Rg %;Rf %", None),
        ("lambda nm;Transmittance [%];Reflectance, front [%];Reflectance, back [%]", "glass"),
        ("WL nm;T%;Rf%;Rb%", "glass"),
        ("wavelength nm;T %;R front glass %;R back film %", None),
    ],
)
def test_headings_are_read_as_people_write_them(head, front):
    """Each of these heads the same four columns."""
    found = good(table(head), front=front)
    assert found.wavelength == tuple(float(row[0]) for row in ROWS)
    assert (found.t[3], found.r_front[3], found.r_back[3]) == (0.4, 0.1, 0.08)


def test_the_side_called_front_turns_the_columns():
    """The same file measured with the film in front."""
    found = good(table("nm;T %;Rf %;Rb %"), front="film")
    assert (found.r_front[0], found.r_back[0]) == (0.08, 0.1)


def test_a_side_that_can_be_read_two_ways_is_refused_and_both_are_shown():
    """Rf beside a film is the front or the film; the two differ here."""
    (said,) = bad(table("nm;T %;Rf %;Rb %"))
    assert said.startswith("a.csv:1 Rf %: must be readable in one way")
    assert "on the glass side or on the film side" in said and "front: glass or front: film" in said
    same = [(nm, t, r, r) for nm, t, r, _ in ROWS]
    assert good(table("nm;T %;Rf %;Rb %", same)).r_front[0] == 0.1  # where they are alike it does not matter


def test_glass_whose_sides_differ_needs_to_be_told_which_faces_out():
    """A coated sheet: front may be outside or inside."""
    (said,) = bad(table("nm;T %;R front %;R back %"), LITE)
    assert "on the outside side or on the inside side" in said
    assert good(table("nm;T %;R front %;R back %"), LITE, "inside").r_front[0] == 0.08
    assert good(table("nm;T %;R out %;Rin %"), LITE).r_front[0] == 0.1


def test_bare_glass_needs_no_reflectance_or_one():
    """A film needs both."""
    assert good(table("nm;T %", [row[:2] for row in ROWS]), LITE).r_front == ()
    assert good(table("nm;T %;R %", [row[:3] for row in ROWS]), LITE).r_back[0] == 0.1
    assert (
        "reflectances of light on the glass side and on the film side"
        in bad(table("nm;T %", [row[:2] for row in ROWS]))[0]
    )
    assert "must have columns" in bad(table("nm;T %;R %", [row[:3] for row in ROWS]))[0]


def test_unknown_and_missing_headings_are_told():
    """A column of another meaning, and a file without headings."""
    assert (
        "A (%): is not a column here"
        in bad(table("nm;T %;R_glass %;R_film %;A (%)", [(*r, 1) for r in ROWS]))[0]
    )
    assert "the first row names the columns" in bad(table("300;40;10;8"))[0]
    assert understood("absorptance") is None
    assert ways_to_read([understood("nm")], FILM, None) == [("wavelength",)]


def test_shares_percent_micrometres_commas_and_falling_wavelengths_are_the_same():
    """The same invented film in eight ways of writing."""
    wanted = good(table())
    shares = [(nm, t / 100, a / 100, b / 100) for nm, t, a, b in ROWS]
    um = [(nm / 1000, t, a, b) for nm, t, a, b in ROWS]
    for text in (
        table("wavelength;T;R_glass;R_film", shares),
        table("wavelength;T;R_glass;R_film"),
        table("wavelength;T %;R_glass;R_film", [(nm, t, a / 100, b / 100) for nm, t, a, b in ROWS]),
        table("wavelength (µm);T;R_glass;R_film", um),
        table("wavelength;T;R_glass;R_film", um).replace(".", ","),
        table(rows=ROWS[::-1]),
        table(sign="\t").replace(";", "\t"),
        table(sign=",").replace(";", ","),
        "# invented\n\n" + table(),
    ):
        found = good(text)
        assert found.wavelength == pytest.approx(wanted.wavelength)
        assert (found.t, found.r_front, found.r_back) == (
            pytest.approx(wanted.t), pytest.approx(wanted.r_front), pytest.approx(wanted.r_back)
        )  # fmt: skip


@pytest.mark.parametrize(
    ("rows", "said"),
    [
        (
            changed(3, 0, 310),
            "a.csv:5 wavelength_nm: must be longer than in the row before (340 nm in line 4)",
        ),
        (
            changed(3, 0, 340),
            "a.csv:5 wavelength_nm: must be longer than in the row before (340 nm in line 4)",
        ),
        (changed(4, 1, 140), 'a.csv:6 T %: must be from 0 to 100 % (found "140")'),
        (changed(4, 2, -3), 'a.csv:6 R_glass %: must be from 0 to 100 % (found "-3")'),
        (changed(5, 3, 70), "a.csv:7 R_film %: must be 1 at most together with T"),
        (
            ROWS[5:],
            'a.csv:2 wavelength_nm: must reach from 350 nm or below to 2100 nm or above (found "400 to',
        ),
        (ROWS[:30], "must reach from 350 nm or below to 2100 nm or above"),
        (ROWS[:6] + ROWS[8:], "a.csv:8 wavelength_nm: must be within 20 nm of the row before"),
        (ROWS[:28] + ROWS[29:], "a.csv:30 wavelength_nm: must be within 100 nm of the row before"),
    ],
)
def test_values_that_cannot_be_are_named_by_line_and_column(rows, said):
    """Order, range of values, sums, reach and spacing."""
    assert any(said in fault for fault in bad(table(rows=rows)))


def test_cells_that_are_no_numbers_are_named():
    """A word, an empty cell, and not more than twenty of them."""
    text = table().replace("320;40;10;8", "320;n/a;;8")
    assert [fault.split(":")[2].strip() for fault in bad(text)] == [
        'must be a number (found "n/a"); digits with at most one decimal sign',
        "must be given",
    ]
    assert len(bad(table().replace(";40;", ";x;"))) == 20


def test_percent_or_share_is_refused_where_both_are_possible():
    """Most values are shares and one is not; or the heading says percent of what never reaches 1."""
    shares = [(nm, 0.4, 0.1, 0.08) for nm, *_ in ROWS]
    shares[6] = (shares[6][0], 40.0, 0.1, 0.08)
    (said,) = bad(table("nm;T;R_glass;R_film", shares))
    assert said.startswith(
        "a.csv:8 T: must be a share from 0 to 1 like most values here, or all values percent"
    )
    assert (
        "must be in percent, as its heading says"
        in bad(table("nm;T %;R_glass %;R_film %", [(nm, 0.4, 0.1, 0.08) for nm, *_ in ROWS]))[0]
    )


def test_a_unit_of_length_that_the_values_deny_is_refused():
    """Nanometres headed as micrometres."""
    assert "must be in um, as its heading says" in bad(table("wavelength um;T %;R_glass %;R_film %"))[0]


def test_noise_of_a_meter_is_no_fault():
    """-0.3 % is nothing, and 100.2 % together is all."""
    found = good(table(rows=changed(2, 1, -0.3)))
    assert found.t[2] == 0.0
    found = good(table(rows=changed(2, 3, 60.2)))
    assert found.t[2] + found.r_back[2] == pytest.approx(1.0)


@pytest.fixture
def job(tmp_path: Path) -> Path:
    """A demo job with a spectrum of its own film beside it."""
    for name in ("_shared", "hill-studio"):
        shutil.copytree(JOBS / name, tmp_path / name, ignore=shutil.ignore_patterns("runs"))
    folder = tmp_path / "hill-studio"
    (folder / "film.csv").write_text(table(), encoding="utf-8")
    (tmp_path / "_shared" / "clear.csv").write_text(
        table("nm;T %", [row[:2] for row in ROWS]), encoding="utf-8"
    )
    return folder


def give(job: Path, spectrum: str) -> None:
    """Write a spectrum below a film of the job."""
    text = (job / "job.yaml").read_text("utf-8")
    film = "  - id: ceramic-grey-40\n"
    (job / "job.yaml").write_text(text.replace(film, f"{film}    spectrum: {{{spectrum}}}\n"), "utf-8")


def test_files_are_read_and_archived_with_the_job(job):
    """One in the job's folder and one in _shared; the copy runs by itself."""
    give(job, "file: film.csv, glass_file: _shared/clear.csv")
    loaded = load_job(job)
    assert loaded.spectra["film.csv", None].t[0] == 0.4
    assert loaded.spectra["_shared/clear.csv", None].r_front == ()
    files = contents(loaded)
    assert "film.csv" in files and "_shared/clear.csv" in files
    copy = job.parent / "copy"
    for name, content in files.items():
        (copy / name).parent.mkdir(parents=True, exist_ok=True)
        (copy / name).write_bytes(content)
    assert load_job(copy).spectra == loaded.spectra


@pytest.mark.parametrize(
    ("spectrum", "said"),
    [
        ("file: nowhere.csv", "films.ceramic-grey-40.spectrum.file: must be there"),
        ("file: ../film.csv", "must be a path inside the job's folder"),
        ("file: film.csv, front: back", "must be one of glass, film"),
        ("file: windows.csv", "windows.csv:2: must have columns for wavelength"),
        (
            "file: film.csv, glass_file: film.csv",
            "glass_file: must be alike on both sides where no coating is named",
        ),
    ],
)
def test_files_that_do_not_serve_are_faults(job, spectrum, said):
    """Named by the field of the job, or by the file's own line."""
    give(job, spectrum)
    with pytest.raises(JobError) as caught:
        load_job(job)
    assert said in str(caught.value)


def test_glass_with_unlike_sides_needs_its_coating(job):
    """Two sides that differ are a coating that the job does not name."""
    text = (job / "job.yaml").read_text("utf-8")
    coated = table("nm;T %;R_outside %;R_inside %")
    (job / "glass.csv").write_text(coated, encoding="utf-8")
    glazing = "glazings:\n  - {id: unit-clear, lites: [{thickness_mm: 6, spectrum: {file: glass.csv}}]}\n"
    assert "glazings:" not in text
    (job / "job.yaml").write_text(text + glazing, "utf-8")
    with pytest.raises(JobError, match="must be alike on both sides where no coating is named"):
        load_job(job)
    (job / "glass.csv").write_text(table("nm;T %", [row[:2] for row in ROWS]), encoding="utf-8")
    coating = ", coating: {kind: hard_low_e, surface: 2}}"
    (job / "job.yaml").write_text(text + glazing.replace("}}]}", "}}]" + coating), "utf-8")
    with pytest.raises(JobError, match="must hold the reflectances of both sides"):
        load_job(job)
