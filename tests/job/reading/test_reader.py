"""The reader as a whole: files in odd forms, the two folders it may read, defaults and places."""

import re
import shutil
import sys
from dataclasses import replace
from pathlib import Path

import pytest

from reportkit.base.errors import Fault, JobError
from reportkit.job import load_job, write_starter
from reportkit.job.model import Job, Pane

FILM = """
  - id: shared-grey
    film_class: dyed
    thickness_um: 40
    rated:
      solar_transmittance_percent: 43
      solar_reflectance_glass_side_percent: 6
      visible_transmittance_percent: 35
      visible_reflectance_glass_side_percent: 5
      uv_transmittance_percent: 1
    rolls:
      - {width: 60 in, length: 100 ft, price: 270}
"""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Return a right metric job whose place needs no map."""
    folder = tmp_path / "jobs" / "sample"
    write_starter(folder, units="metric")
    change(folder, "  # elevation_m: 20 ", "  elevation_m: 100 ")
    change(folder, "  # clock:", "  clock:")
    return folder


def change(folder: Path, old: str, new: str, file: str = "job.yaml") -> None:
    """Replace a text in a job's file."""
    path = folder / file
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), encoding="utf-8")


def faults_of(folder: Path) -> tuple[Fault, ...]:
    """Return the faults of a job that must have some."""
    with pytest.raises(JobError) as caught:
        load_job(folder)
    return caught.value.faults


def shared(folder: Path, **files: str) -> Path:
    """Write files into ``_shared`` beside a job."""
    place = folder.parent / "_shared"
    place.mkdir(exist_ok=True)
    for name, text in files.items():
        (place / f"{name}.yaml").write_text(text, encoding="utf-8")
    return place


# ---- files ------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("file", "data", "rule", "line"),
    [
        ("job.yaml", b"", "must not be empty", 0),
        ("job.yaml", b"# only a remark\n", "must not be empty", 0),
        ("job.yaml", b"- a\n- b\n", "must hold fields at its top", 1),
        ("job.yaml", b"\nhello\n", "must hold fields at its top", 2),
        ("job.yaml", "title: Fenêtre\n".encode("cp1252"), "must be UTF-8 text", 1),
        ("job.yaml", "id: a\ntitle: b\n".encode("utf-16"), "must be UTF-8 text", 1),
        ("job.yaml", b"id: a\nti\0tle: b\n", "must be text", 2),
        ("job.yaml", b"id: a\nti: b\x01\n", "must hold only signs that print", 2),
        ("job.yaml", b'id: "a\\ude00\\ud83d"\n', "must hold only signs that print", 1),
        ("job.yaml", b'id: "a\\ud800"\n', "must hold only signs that print", 1),
        ("job.yaml", b'id: a\ntitle: "a\\a"\n', "must hold only signs that print", 2),
        ("windows.csv", b"id,room\nx\x1b[1m,y\n", "must hold only signs that print", 2),
        ("job.yaml", b"a: " * 40, "must be YAML", 1),
        ("job.yaml", b"[" * 20_000, "must be nested at most", 1),
        ("job.yaml", b"a: &a [*a]\n", "must not refer to itself", 1),
        ("job.yaml", b"a: *b\n", "must refer to an anchor above it", 1),
        ("job.yaml", b"[a, b]: c\n", "must have a single word as its name", 1),
        ("job.yaml", b"%YAML 9.9\n---\na: b\n", "must be YAML", 1),
        ("job.yaml", b"x" * 5_000_001, "must be at most 5 MB", 0),
        ("windows.csv", b"", "must not be empty", 0),
        ("windows.csv", b"# only a remark\n;;;\n", "must not be empty", 0),
        ("windows.csv", b"id,room,face,glazing,width,height\n", "must have at least one pane", 0),
        ("windows.csv", "id,room\nF1,büro\n".encode("cp1252"), "must be UTF-8 text", 2),
        ("windows.csv", "id,room\n".encode("utf-16"), "must be UTF-8 text", 1),
        ("windows.csv", b"id,room\nx\0,y\n", "must be text", 2),
        ("windows.csv", b"\x89PNG\r\n\x1a\n\xff\xff", "must be UTF-8 text", 1),
    ],
)
def test_odd_files_are_faults(folder: Path, file: str, data: bytes, rule: str, line: int) -> None:
    """A file that is no text, no YAML or no table is a fault of that file and never a crash."""
    (folder / file).write_bytes(data)
    faults = [fault for fault in faults_of(folder) if fault.file == file]
    assert rule in faults[0].rule
    assert faults[0].line == line


def test_aliases_count_in_full(folder: Path) -> None:
    """Nine levels of nine aliases, a thousand million entries, are refused without being made."""
    lines = ["a0: &a0 [x, x, x, x, x, x, x, x, x]"]
    lines += [f"a{n}: &a{n} [{', '.join([f'*a{n - 1}'] * 9)}]" for n in range(1, 9)]
    (folder / "job.yaml").write_text("\n".join(lines), encoding="utf-8")
    assert any("entries, each alias counted in full" in fault.rule for fault in faults_of(folder))


def test_anchors_and_merges_work(folder: Path) -> None:
    """An anchor, its alias and a merge are read as what they stand for."""
    first = "width: 1524 mm\n        length: 30.5 m\n        price: 690.00"
    change(folder, f"      - {first}", f"      - &roll\n        {first}")
    text = (folder / "job.yaml").read_text(encoding="utf-8")
    last = text.rindex("      - width: 1524 mm\n        length: 30.5 m\n        price: 410.00")
    end = last + len("      - width: 1524 mm\n        length: 30.5 m\n        price: 410.00")
    text = text[:last] + "      - <<: *roll\n        price: 410.00" + text[end:]
    (folder / "job.yaml").write_text(text, encoding="utf-8")
    roll = load_job(folder).job.films[1].rolls[0]
    assert (roll.width, roll.price) == (1524, 410)


def test_missing_files_and_folders(folder: Path, tmp_path: Path) -> None:
    """Both files missing are two faults; a folder in a file's place and a file in the job's are faults."""
    (folder / "job.yaml").unlink()
    (folder / "windows.csv").unlink()
    assert {fault.file for fault in faults_of(folder)} == {"job.yaml", "windows.csv"}
    (folder / "job.yaml").mkdir()
    assert any("there is a folder of that name" in fault.rule for fault in faults_of(folder))
    assert "must be a folder that exists" in faults_of(tmp_path / "nowhere")[0].rule
    file = tmp_path / "file"
    file.write_text("x", encoding="utf-8")
    assert "must be a folder" in faults_of(file)[0].rule


@pytest.mark.parametrize("ending", ["\r\n", "\r"])
@pytest.mark.parametrize("mark", [b"", b"\xef\xbb\xbf"])
def test_line_ends_and_byte_order_mark_change_nothing(folder: Path, ending: str, mark: bytes) -> None:
    """Windows or old Mac line ends and a byte-order mark give the same job."""
    expected = load_job(folder).job
    for name in ("job.yaml", "windows.csv"):
        text = (folder / name).read_text(encoding="utf-8").replace("\n", ending)
        (folder / name).write_bytes(mark + text.encode())
    assert load_job(folder).job == expected


# ---- the two folders --------------------------------------------------------------------------------


@pytest.mark.skipif(sys.platform == "win32", reason="links need a privilege on Windows")
def test_links_that_lead_outside_are_refused(folder: Path, tmp_path: Path) -> None:
    """A survey, or a shared folder, that is a link to another place is not read."""
    outside = tmp_path / "outside"
    outside.mkdir()
    shutil.move(folder / "windows.csv", outside / "windows.csv")
    (folder / "windows.csv").symlink_to(outside / "windows.csv")
    assert "a link leads outside" in faults_of(folder)[0].rule
    (folder.parent / "_shared").symlink_to(outside)
    assert any("not a link" in fault.rule for fault in faults_of(folder))


@pytest.mark.skipif(sys.platform == "win32", reason="links need a privilege on Windows")
def test_a_loop_of_links_is_a_fault(folder: Path) -> None:
    """A survey that links to itself is a fault, not a crash."""
    (folder / "windows.csv").unlink()
    (folder / "windows.csv").symlink_to(folder / "windows.csv")
    assert {fault.file for fault in faults_of(folder)} == {"windows.csv"}


@pytest.mark.skipif(sys.platform == "win32", reason="links need a privilege on Windows")
def test_a_link_to_the_job_itself_is_fine(folder: Path, tmp_path: Path) -> None:
    """A job folder may be reached by a link; its real place counts."""
    (tmp_path / "short").symlink_to(folder)
    assert load_job(tmp_path / "short").folder == folder.resolve()


def test_shared_entries_join(folder: Path) -> None:
    """A film and a glazing of ``_shared`` are used by id, an own entry overrides field by field."""
    place = shared(
        folder,
        films=f"currency: EUR\nfilms:{FILM}  - id: unused\n    film_class: nonsense\n",
        glazings="glazings:\n  - id: pane\n    lites: [{thickness_mm: 4}]\n",
        prices="currency: EUR\nsheet_each: 7\ntravel: 99\n",
    )
    change(folder, "films:\n", "films:\n  - id: shared-grey\n    life_years: 5\n    name: Mine\n")
    change(folder, "compare: [", "compare: [shared-grey, ")
    change(folder, "  sheet_each: 2.00\n", "")
    change(folder, "east,double", "east,pane", "windows.csv")
    loaded = load_job(folder)
    film = loaded.job.films[0]
    assert (film.id, film.name, film.life_years, film.thickness_um) == ("shared-grey", "Mine", 5, 40)
    assert loaded.job.panes[0].glazing == "pane"
    assert "pane" in {glazing.id for glazing in loaded.job.glazings}
    assert (loaded.job.prices.sheet_each, loaded.job.prices.travel) == (7, 30)
    lines = (place / "films.yaml").read_text("utf-8").splitlines()
    line = next(number for number, text in enumerate(lines, 1) if text.lstrip().startswith("rolls:"))
    assert loaded.rolls_at["shared-grey"] == ("_shared/films.yaml", line)
    names = {path.relative_to(folder.parent.resolve()).as_posix() for path in loaded.sources}
    assert names == {
        "sample/job.yaml",
        "sample/windows.csv",
        "_shared/films.yaml",
        "_shared/glazings.yaml",
        "_shared/prices.yaml",
    }
    assert loaded.shared_folder == place.resolve()


def test_misspelt_shared_ids_are_suggested(folder: Path) -> None:
    """A slip in the id of a shared film or glazing is met with the id that ``_shared`` has."""
    shared(
        folder,
        films=f"currency: EUR\nfilms:{FILM}",
        glazings="glazings:\n  - id: plate-six\n    lites: [{thickness_mm: 6}]\n",
    )
    change(folder, "compare: [", "compare: [shared-gray, ")
    change(folder, "east,double", "east,plate-sxi", "windows.csv")
    mends = {fault.field: fault.hint for fault in faults_of(folder)}
    assert mends == {"compare.1": "did you mean shared-grey?", "glazing": "did you mean plate-six?"}


def test_a_copy_with_shared_inside_runs_by_itself(folder: Path, tmp_path: Path) -> None:
    """``_shared`` inside the job's folder is read instead of the one beside it."""
    shared(folder, films=f"currency: EUR\nfilms:{FILM}")
    change(folder, "compare: [", "compare: [shared-grey, ")
    first = load_job(folder)
    copy = tmp_path / "elsewhere" / "inputs"
    for source in first.sources:
        inside = (
            source.relative_to(folder) if source.is_relative_to(folder) else Path("_shared") / source.name
        )
        (copy / inside).parent.mkdir(parents=True, exist_ok=True)
        (copy / inside).write_bytes(source.read_bytes())
    (copy.parent / "_shared").mkdir()
    (copy.parent / "_shared" / "films.yaml").write_text("films: [", encoding="utf-8")
    again = load_job(copy)
    assert again.job == first.job
    assert again.defaults == first.defaults


def test_faults_in_shared_files_name_them(folder: Path) -> None:
    """A fault in a shared film is reported with the shared file's line; bare lengths are refused there."""
    wrong = FILM.replace("thickness_um: 40", "thickness_um: 40 um").replace("width: 60 in", "width: 60")
    shared(folder, films=f"currency: EUR\nfilms:{wrong}")
    change(folder, "compare: [", "compare: [shared-grey, ")
    found = {(fault.file, fault.line, fault.field.split(".")[-1]) for fault in faults_of(folder)}
    assert ("_shared/films.yaml", 5, "thickness_um") in found
    assert ("_shared/films.yaml", 13, "width") in found


@pytest.mark.parametrize("currency", ["", "currency: USD\n"])
def test_shared_money_must_be_of_the_jobs_currency(folder: Path, currency: str) -> None:
    """Shared prices in no or another currency are a fault, unless the job uses none of them."""
    shared(folder, films=f"{currency}films:{FILM}", prices=f"{currency}travel: 3\nmargin_on: cost\n")
    assert load_job(folder).job.currency == "EUR"
    change(folder, "compare: [", "compare: [shared-grey, ")
    change(folder, "  travel: 30.00\n", "")
    files = {fault.file for fault in faults_of(folder) if fault.field == "currency"}
    assert files == {"_shared/films.yaml", "_shared/prices.yaml"}


def test_shared_weather_file_is_read_from_the_shared_folder(folder: Path) -> None:
    """A path below ``_shared`` is looked up there, one folder deep; one above it is refused."""
    place = shared(folder)
    (place / "year.epw").write_text("not weather", encoding="utf-8")
    change(folder, "use: shipped\n  name: miami", "use: file\n  file: _shared/year.epw")
    assert "must be a weather file that can be read" in faults_of(folder)[0].rule
    change(folder, "_shared/year.epw", "_shared/../year.epw")
    assert "without .." in faults_of(folder)[0].rule


# ---- places and defaults ----------------------------------------------------------------------------


def test_place_comes_from_the_weather_file(folder: Path) -> None:
    """Without coordinates those of the weather file count, and the job says so.

    Miami's TMY2 station 12839: 25 deg 48 min north, 80 deg 16 min west, 2 m (the file's own header).
    """
    for line in ("  latitude: 26", "  longitude: -80", "  elevation_m: 100", "  clock: America/New_York"):
        change(folder, line, "  #")
    change(folder, "use: shipped\n  name: miami", "use: shipped\n  name: Miami")
    loaded = load_job(folder)
    assert loaded.latitude == pytest.approx(25.8)
    assert loaded.longitude == pytest.approx(-80 - 16 / 60)
    assert loaded.elevation_m == 2
    assert loaded.clock == "America/New_York"
    assumed = {entry.field: entry for entry in loaded.defaults}
    assert assumed["site.latitude"].mark == "weather file"
    assert assumed["site.clock"].value == "America/New_York"


def test_place_must_come_from_somewhere(folder: Path) -> None:
    """Without coordinates and without a weather file the latitude is asked for."""
    change(folder, "  latitude: 26", "  #")
    change(folder, "  longitude: -80", "  #")
    change(folder, "use: shipped\n  name: miami", "use: clear_days")
    faults = faults_of(folder)
    assert [fault.field for fault in faults] == ["site.latitude"]


def test_defaults_are_filled_in_and_listed(folder: Path) -> None:
    """What nobody gave is filled in, and each is an assumption with value, mark and reason."""
    loaded = load_job(folder)
    job = loaded.job
    assert (job.paper, job.rating) == ("a4", "en")
    assert (job.fitting.edge_gap, job.fitting.trim_allowance, job.fitting.table) == (1.5, 12, 2440)
    assert job.fitting.edge_gap_safety == 3
    fields = {entry.field for entry in loaded.defaults}
    assert {"paper", "rating", "fitting.edge_gap", "fitting.table", "site.ground_albedo"} <= fields
    assert all(entry.value and entry.mark and entry.why for entry in loaded.defaults)
    change(folder, "# paper: a4", "paper: letter")
    change(folder, "# edge_gap: 1.5 mm", "edge_gap: 2 mm")
    again = load_job(folder)
    assert again.job.paper == "letter"
    assert again.job.fitting.edge_gap_safety == 2  # one gap typed is for all film
    assert not {"paper", "fitting.edge_gap"} & {entry.field for entry in again.defaults}


def test_no_film_named_means_all(folder: Path) -> None:
    """Without ``compare`` every film of the job is compared."""
    change(folder, "compare: [sample-grey, sample-silver]", "")
    assert load_job(folder).job.compare == ("sample-grey", "sample-silver")


def test_kept_download_is_found_by_its_coordinates(folder: Path) -> None:
    """A job that asks for the download service reads, without asking again, the file an earlier run kept."""
    change(folder, "use: shipped\n  name: miami", "use: pvgis")
    assert load_job(folder).weather_file is None
    (folder / "pvgis_26.000_-80.000.csv").write_text("broken", encoding="utf-8")
    assert "must find a readable download" in faults_of(folder)[0].rule


def test_same_folder_same_job(folder: Path) -> None:
    """Reading twice gives equal records; nothing hangs on the clock or on order in memory."""
    assert load_job(folder) == load_job(folder)


# ---- units ------------------------------------------------------------------------------------------


def in_inches(folder: Path) -> None:
    """Turn the sample job into the same one in inches, every bare length with its exact equivalent."""
    change(folder, "units: metric", "units: us")
    path = folder / "windows.csv"
    head, names, *rows = path.read_text(encoding="utf-8").rstrip("\n").rsplit("\n", 3)
    assert names.startswith("id,")
    columns = names.split(",")
    lengths = [n for n, name in enumerate(columns) if name.split("_")[0] in (
        "width", "height", "diagonal", "sill", "overhang", "left", "right", "reveal")]  # fmt: skip
    lines = [head, names]
    for row in rows:
        cells = row.split(",")
        for n in lengths:
            if cells[n]:
                cells[n] = f"{int(cells[n]) * 10}/254"  # exact: an inch is 25.4 mm
        lines.append(",".join(cells))
    path.write_text("\n".join(lines), encoding="utf-8")


def test_inches_and_millimetres_give_the_same_panes(folder: Path) -> None:
    """The same lengths typed in the other units are exactly equal in the model."""
    metric = load_job(folder).job
    in_inches(folder)
    us = load_job(folder).job
    assert us.panes == metric.panes
    assert us.films == metric.films
    assert (us.paper, metric.paper) == ("letter", "a4")
    same = replace_units(us)
    assert same.model_dump(exclude={"units", "paper", "rating", "fitting"}) == metric.model_dump(
        exclude={"units", "paper", "rating", "fitting"}
    )


def replace_units(job: Job) -> Job:
    """Return a job that says it is metric."""
    return job.model_copy(update={"units": "metric"})


def test_millimetres_in_an_inch_job_are_told(folder: Path) -> None:
    """905 bare in a job in inches is 75 feet: the fault says which unit was read, and how to mend it."""
    change(folder, "units: metric", "units: us")
    fault = next(fault for fault in faults_of(folder) if fault.field == "width")
    assert "must be at most 236.2 in (6000 mm)" in fault.rule
    assert "write 905 mm" in (fault.hint or "")


def test_inches_in_a_millimetre_job_are_told(folder: Path) -> None:
    """A survey whose panes are all as small as a hand is taken for inches."""
    path = folder / "windows.csv"
    path.write_text("id,room,face,glazing,width,height\nA,study,east,double,36,48\n", encoding="utf-8")
    fault = faults_of(folder)[0]
    assert "a bare number is millimetres" in fault.rule
    assert "units: us" in (fault.hint or "")


def test_records_are_frozen(folder: Path) -> None:
    """Nothing of a loaded job can be set."""
    loaded = load_job(folder)
    with pytest.raises(ValueError, match="frozen"):
        loaded.job.panes[0].room = "x"  # type: ignore[misc] # the point of the test
    assert replace(loaded) == loaded
    assert isinstance(loaded.job.panes[0], Pane)


def test_check_reads_the_weather_file_to_its_end(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A weather file that is cut short fails at ``check``, not first at ``make``."""
    from reportkit.app.command_line import main
    from reportkit.climate import shipped_path

    write_starter(tmp_path / "job", units="us")
    path = tmp_path / "job" / "job.yaml"
    text = path.read_text(encoding="utf-8")
    path.write_text(
        re.sub(r"use: shipped\n  name: \w+", "use: file\n  file: year.csv", text), encoding="utf-8"
    )
    rows = shipped_path("miami").read_text(encoding="utf-8").splitlines()
    (tmp_path / "job" / "year.csv").write_text("\n".join(rows[:5000]), encoding="utf-8")
    assert main(["check", str(tmp_path / "job")]) == 2
    assert "year.csv weather: must have 8760 hourly rows" in capsys.readouterr().out
