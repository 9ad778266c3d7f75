"""Weather files by their path: what is kept of them from one command to the next is what they say."""

import dataclasses
import json
import os
import subprocess
import sys
from pathlib import Path

import numpy as np
import pandas as pd
import pytest
from small_job import JOB, laid, written
from test_layers import imports, modules, own

from reportkit import climate
from reportkit.base.errors import JobError
from reportkit.base.translatable import Quantity, joined, translatable
from reportkit.climate import files
from reportkit.climate.packed import pack, unpack
from reportkit.climate.raw import NAMES
from reportkit.climate.readers import detect_kind, read_raw
from reportkit.climate.typical import from_raw

HERE = Path(__file__).parents[2]
ZONE = "Europe/Rome"


@pytest.fixture(autouse=True)
def folder(tmp_path, monkeypatch):
    """Return the folder where things are kept, which is not there yet."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    return tmp_path / "cache" / "reportkit"


@pytest.fixture
def read(monkeypatch):
    """Return a list that tells each file whose body is read, from now on."""
    bodies = []

    def told(path, kind):
        bodies.append(path.name)
        return read_raw(path, kind)

    monkeypatch.setattr(files, "read_raw", told)
    return bodies


def shifted_clock(lines):
    """Return an .epw whose clock is 40 minutes off: each row has what part of the next hour should have."""
    rows = [line.split(",") for line in lines[8:]]
    for column in (13, 14, 15):
        values = np.array([float(row[column]) for row in rows])
        for row, value in zip(rows, values / 3 + np.roll(values, -1) * 2 / 3, strict=True):
            row[column] = f"{value:.3f}"
    return [*lines[:8], *(",".join(row) for row in rows)]


def swapped(lines):
    """Return an .epw with direct and diffuse radiation in each other's column."""
    rows = [line.split(",") for line in lines[8:]]
    return [*lines[:8], *(",".join([*row[:14], row[15], row[14], *row[16:]]) for row in rows)]


def gaps(lines):
    """Return an .epw without direct radiation in some hours, and without some wind."""
    rows = [line.split(",") for line in lines[8:]]
    for row in rows[3000:3100]:
        row[14], row[21] = "9999", "999"
    return [*lines[:8], *(",".join(row) for row in rows)]


MADE = {
    "epw": lambda made, home: made.epw(home / "a.epw"),
    "a clock off": lambda made, home: made.epw(home / "a.epw", edit=shifted_clock),
    "columns swapped": lambda made, home: made.epw(home / "a.epw", edit=swapped),
    "gaps": lambda made, home: made.epw(home / "a.epw", edit=gaps),
    "pvgis": lambda made, home: made.pvgis_tmy(home / "a.csv"),
    "pvgis without offset": lambda made, home: made.pvgis_tmy(home / "a.json", offset=None),
    "hours of years": lambda made, home: made.pvgis_hourly(home / "a.csv"),
    "nsrdb": lambda made, home: made.nsrdb(home / "a.csv"),
    **{name: lambda made, home, name=name: climate.shipped_path(name) for name in climate.SHIPPED},
}


def said(value):
    """Return a value of a record with all that a sentence in it carries."""
    if isinstance(value, tuple):
        return tuple(map(said, value))
    if isinstance(value, Quantity):
        return float(value), said(value.unit), value.beside
    if hasattr(value, "template"):
        return str(value), value.template, {name: said(part) for name, part in value.values.items()}
    return type(value), value


def assert_alike(one, two):
    """Compare two weathers to the last bit and word."""
    for field in dataclasses.fields(one):
        here, there = getattr(one, field.name), getattr(two, field.name)
        if field.name == "as_read" and here is not None:
            assert_alike(here, there)
        elif isinstance(here, np.ndarray):
            assert here.dtype == there.dtype and here.tobytes() == there.tobytes(), field.name
            assert not there.flags.writeable
        elif field.name == "times":
            pd.testing.assert_index_equal(here, there, exact=True)
            assert here.freq == there.freq and here.unit == there.unit
        else:
            assert said(here) == said(there), field.name


@pytest.mark.parametrize("name", MADE)
@pytest.mark.parametrize("year", [2025, 2028])
def test_what_is_kept_is_what_was_read(name, year, tmp_path, weather_files, read):
    """A file read, read for the first time and asked for again are alike, sentences with all they carry."""
    path = MADE[name](weather_files, tmp_path)
    kind = detect_kind(path)
    fresh, faults = from_raw(read_raw(path, kind), name=NAMES[kind], year=year, timezone=ZONE)
    assert not faults
    first = climate.typical_year(path, year=year, timezone=ZONE)
    assert len(read) == 1
    again = climate.typical_year(path, year=year, timezone=ZONE)
    assert len(read) == 1
    assert_alike(fresh, first)
    assert_alike(fresh, again)
    assert (fresh.as_read is None) == (name not in ("a clock off", "columns swapped"))


def test_every_kind_of_sentence_comes_back():
    """Templates within templates, quantities with their units and what stands beside them, plain words."""
    made, _ = from_raw(
        read_raw(climate.shipped_path("miami"), "tmy2"), name="TMY2", year=2025, timezone="America/New_York"
    )
    lengths = Quantity(1.5, translatable("mm"), 1.25)
    sentences = (
        "plain",
        translatable("{a} of {b:.1f} in {c}", a=3, b=lengths, c=translatable("the {x}", x="end")),
        joined("; ", ["one", translatable("two")]),
    )
    made = dataclasses.replace(made, notes=sentences, longwave=None)
    assert_alike(made, unpack(pack(made)))


def test_a_site_is_kept_as_it_was(tmp_path, weather_files, read):
    """Of a format whose whole file must be read for its place, it is read once."""
    path = weather_files.nsrdb(tmp_path / "a.csv")
    first = climate.header(path)
    assert (first, len(read)) == (read_raw(path, "nsrdb").site, 1)
    assert climate.header(path) == first
    assert len(read) == 1


def test_a_changed_byte_is_read_anew(tmp_path, weather_files, read):
    """One digit of one temperature; the old content is known again when it comes back, under any name."""
    path = weather_files.epw(tmp_path / "a.epw")
    before = path.read_bytes()
    first = climate.typical_year(path, year=2025, timezone=ZONE)
    place = before.index(b",11.0,")  # January is at 11 C
    path.write_bytes(before[:place] + b",11.5," + before[place + 6 :])
    second = climate.typical_year(path, year=2025, timezone=ZONE)
    assert len(read) == 2
    assert np.count_nonzero(first.temp_air != second.temp_air) == 1
    path.with_name("b.epw").write_bytes(before)
    assert_alike(first, climate.typical_year(path.with_name("b.epw"), year=2025, timezone=ZONE))
    assert len(read) == 2


def test_year_zone_code_and_libraries_are_part_of_the_question(tmp_path, weather_files, read, monkeypatch):
    """With another of any of them the file is read again."""
    path = weather_files.epw(tmp_path / "a.epw")

    def ask(year=2025, timezone=ZONE):
        return climate.typical_year(path, year=year, timezone=timezone)

    ask(), ask(year=2026), ask(timezone="Europe/London"), ask(timezone="Europe/Paris")
    assert len(read) == 4
    with monkeypatch.context() as patch:
        patch.setattr(files, "_CODE", "another")
        ask()
    with monkeypatch.context() as patch:
        patch.setattr(files, "_version", lambda name: "0.1" if name == "pvlib" else "1")
        ask()
    assert len(read) == 6
    # rules of zones change: the offset at the new year, by which the rows are put in their order
    with monkeypatch.context() as patch:
        patch.setattr(files, "new_year_offset", lambda *_: pd.Timedelta(hours=2))
        ask()
    assert len(read) == 7
    ask()
    assert len(read) == 7


def test_a_damaged_file_of_ours_is_made_anew(folder, tmp_path, weather_files, read):
    """A turned bit in what is kept is found by its sum, never seen in the weather."""
    path = weather_files.epw(tmp_path / "a.epw")
    first = climate.typical_year(path, year=2025, timezone=ZONE)
    (held,) = folder.iterdir()
    spoiled = bytearray(held.read_bytes())
    spoiled[len(spoiled) // 2] ^= 1
    held.write_bytes(spoiled)
    assert_alike(first, climate.typical_year(path, year=2025, timezone=ZONE))
    assert len(read) == 2


def test_a_faulty_file_is_never_kept(folder, tmp_path, weather_files, read):
    """Its faults are found, and told, each time."""
    path = weather_files.epw(tmp_path / "a.epw", edit=lambda lines: lines[:-5])
    told = []
    for _ in range(2):
        with pytest.raises(JobError) as caught:
            climate.check_year(path, year=2025, timezone=ZONE)
        told.append(str(caught.value))
    assert told[0] == told[1] and "8760" in told[0]
    assert len(read) == 2
    assert not folder.exists()


def test_climate_stands_on_nothing_but_the_base():
    """The digest of the code is over both folders: what else they used could change unseen."""
    used = {
        name for parts, path in modules() if parts[:1] == ("climate",) for name in own(imports(path, parts))
    }
    assert used == {"climate", "base"}


@pytest.mark.parametrize("name", ["epw", "pvgis", "nsrdb"])
def test_a_second_check_starts_neither_pandas_nor_pvlib(name, tmp_path, weather_files):
    """Height and clock are not given either; both checks tell the same."""
    job = tmp_path / "job"
    job.mkdir()
    path = MADE[name](weather_files, job)
    site = {"latitude": "45.1", "longitude": "8", "elevation_m": None, "clock": None}
    changed = laid(JOB, {"weather": {"use": "file", "file": path.name}, "site": site})
    changed["site"] = {key: value for key, value in changed["site"].items() if value is not None}
    (written(job) / "job.yaml").write_text(json.dumps(changed), "utf-8")
    code = (
        "import sys\nfrom reportkit.app.command_line import main\nended = main(['check', sys.argv[1]])\n"
        "print(*sorted({'pandas', 'pvlib', 'timezonefinder'} & sys.modules.keys()))\nsys.exit(ended)"
    )
    ended = [
        subprocess.run(
            [sys.executable, "-c", code, str(job)],
            env={**os.environ, "PYTHONPATH": str(HERE)},
            capture_output=True,
            text=True,
            check=False,
        )
        for _ in range(2)
    ]
    assert [one.returncode for one in ended] == [0, 0], ended[0].stderr
    assert [one.stdout.splitlines()[-1:] for one in ended] == [["pandas pvlib timezonefinder"], [""]]
    assert ended[0].stderr == ended[1].stderr != ""
