"""Broken files of jobs and weather: ``check`` names what is wrong, or a whole offer can be made of them.

``MUTATIONS=20000`` tries so many jobs, half of them workbooks, and a tenth as many weather files;
``MUTATIONS_FROM`` is the first seed. Without it a few.
"""

import importlib.util
import os
import sys
from collections import Counter
from itertools import count
from pathlib import Path

import numpy as np
import pytest
from generated import edges, mutations

from reportkit.climate import typical_year
from reportkit.climate.plausible import HIGHEST, RANGES
from reportkit.job.writing.convert import convert

MANY = int(os.environ.get("MUTATIONS", "60"))
FIRST = int(os.environ.get("MUTATIONS_FROM", "1"))


@pytest.fixture(scope="module")
def bases(tmp_path_factory):
    """Return the same small job in its two forms, and one with a weather file of its own."""
    where = tmp_path_factory.mktemp("bases")
    text = edges.write(where / "text", edges.Case("metric"))
    book = edges.write(where / "book", edges.Case("metric"))
    if not (book / "readings.csv").is_file() and not (book / "decisions.yaml").is_file():
        convert(book)
    return {"text": text, "book": book}


@pytest.fixture(scope="module")
def weather_of_a_job(tmp_path_factory):
    """Return a maker of (folder of a job with a weather file of its own, the file's name)."""
    here = Path(__file__).parents[1] / "climate" / "conftest.py"
    spec = importlib.util.spec_from_file_location("made_weather", here)
    files = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(files)

    def made(kind):
        writer, _, ending = kind.partition(" ")
        folder = tmp_path_factory.mktemp("weather") / "job"
        ending = ending or {"epw": "epw", "nsrdb": "csv"}[writer]
        file = {"use": "file", "file": f"year.{ending}", "normals": "null"}
        edges.write(folder, edges.Case("metric", (edges.Edge(("weather",), file),)))
        getattr(files, writer)(folder / file["file"])
        job = folder / "job.yaml"
        text = job.read_text("utf-8").replace("latitude: '41'", "latitude: '45'")
        text = text.replace("longitude: '12'", "longitude: '8'").replace("  normals: 'null'\n", "")
        job.write_text(text.replace("  normals: null\n", ""), "utf-8")
        return folder, file["file"]

    return made


def tried(base, names, where, many, harmless=None):
    """Return the counts of outcomes of so many mutations, and the seeds of those that raised, with what."""
    found, wrong = Counter(), []
    for seed, folder in mutations.copies(base, where, names, FIRST, many):
        try:
            said = mutations.outcome(folder)
            found[said] += 1
            if said == "none" and harmless is not None:
                harmless(folder)
        except Exception as error:
            wrong.append(f"{seed}: {type(error).__name__}: {error}"[:300])
            if keep := os.environ.get("MUTATIONS_KEPT"):
                folder.rename(f"{keep}/{base.name}-{seed}")
    sys.stdout.write(f"{base.name}: {dict(found)}, {len(wrong)} raised\n")
    return found, wrong


def _broken(base):
    """Return the names of a job's files that are broken."""
    return tuple(path.name for path in sorted(base.iterdir()) if path.suffix in (".yaml", ".csv", ".xlsx"))


@pytest.mark.parametrize("form", ["text", "book"])
def test_a_broken_job_has_faults_or_none(form, bases, tmp_path):
    """No mutation of a job's files is an exception of ``check``."""
    found, wrong = tried(bases[form], _broken(bases[form]), tmp_path, MANY // 2)
    assert not wrong, "\n".join(wrong)
    assert set(found) == {"faults", "none"}  # some are harmless, or nothing was tried


@pytest.mark.parametrize("form", ["text", "book"])
def test_what_check_passes_can_be_made(form, bases, tmp_path, book):
    """Of mutations that ``check`` passes, some are made whole: no number is nan or leaves its bound."""
    wanted = max(2, MANY // 200)
    left, outcomes = count(), Counter()

    def made(folder):
        if next(left) < wanted:
            outcomes[edges.verdict(folder, book, ("html", "pdf"))] += 1

    tries = {"text": 10, "book": 2}[form] * wanted  # so many pass
    _, wrong = tried(bases[form], _broken(bases[form]), tmp_path, tries, made)
    assert not wrong, "\n".join(wrong)
    assert outcomes["made"] >= wanted // 2
    sys.stdout.write(f"of {form}: {dict(outcomes)}\n")


@pytest.mark.parametrize("kind", ["epw", "pvgis_tmy csv", "pvgis_tmy json", "nsrdb"])
def test_broken_weather_has_faults_or_none(kind, weather_of_a_job, tmp_path):
    """No mutation of a weather file is an exception: faults, or a year without nan and within bounds."""
    base, name = weather_of_a_job(kind)

    def plain(folder):
        year = typical_year(folder / name, year=2026, timezone="Europe/Rome")
        for column, (_, low, high, _) in RANGES.items():
            values = getattr(year, column)
            assert np.isnan(values).all() or ((values >= low) & (values <= high)).all(), column
        for column in ("ghi", "dni", "dhi"):
            values = getattr(year, column)
            assert ((values >= 0.0) & (values <= HIGHEST)).all(), column

    _, wrong = tried(base, (name,), tmp_path, max(3, MANY // 40), plain)
    assert not wrong, "\n".join(wrong)
