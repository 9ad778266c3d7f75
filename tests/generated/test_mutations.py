"""Broken files of jobs and weather: ``check`` names what is wrong, or a whole offer can be made of them.

``MUTATIONS=20000`` tries so many jobs, half of them workbooks, and a tenth as many weather files;
``MUTATIONS_FROM`` is the first seed.
"""

import importlib.util
import os
import sys
from collections import Counter
from functools import cache
from itertools import count, cycle
from pathlib import Path

import numpy as np
import pytest
from generated import edges, mutations
from trials import many

from reportkit.climate import typical_year
from reportkit.climate.plausible import HIGHEST, RANGES
from reportkit.job.writing.convert import convert

pytestmark = pytest.mark.trial

MANY = many("MUTATIONS", 40, 200)
FIRST = int(os.environ.get("MUTATIONS_FROM", "1"))

#: A job is files of text, or one workbook.
FORMS = ("book", "text")


@pytest.fixture(scope="module")
def base_of(tmp_path_factory):
    """Return a function from a form, and a base job's name, to its folder."""

    @cache
    def written(form, name):
        folder = edges.write(tmp_path_factory.mktemp(form) / name, edges.Case(name))
        if form == "book":
            convert(folder)
        return folder

    return written


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
            wrong.append(_raised(seed, folder, base, error))
    sys.stdout.write(f"{base.name}: {dict(found)}, {len(wrong)} raised\n")
    return found, wrong


def _raised(seed, folder, base, error):
    """Return a line about a mutation that raised; its folder is kept where that is asked for."""
    if keep := os.environ.get("MUTATIONS_KEPT"):
        folder.rename(f"{keep}/{base.parent.name}-{base.name}-{seed}")
    return f"{base.name} {seed}: {type(error).__name__}: {error}"[:300]


def _broken(base):
    """Return the names of a job's files that are broken."""
    return tuple(path.name for path in sorted(base.iterdir()) if path.suffix in (".yaml", ".csv", ".xlsx"))


@pytest.mark.parametrize("form", FORMS)
def test_a_broken_job_has_faults_or_none(form, base_of, tmp_path):
    """No mutation of a job's files is an exception of ``check``."""
    base = base_of(form, "metric")
    found, wrong = tried(base, _broken(base), tmp_path, MANY // 2)
    assert not wrong, "\n".join(wrong)
    assert set(found) == {"faults", "none"}  # some are harmless, or nothing was tried


def test_what_check_passes_can_be_made(base_of, tmp_path, forking):
    """Of mutations that ``check`` passes, some are made by the command: each base job and form by turns."""
    wanted = max(1, MANY // 100)
    found, wrong = Counter(), []
    for seed, name in zip(count(FIRST), cycle(edges.BASES), strict=False):
        form = FORMS[found.total() % len(FORMS)]  # as many of each
        base = base_of(form, name)
        ((_, folder),) = mutations.copies(base, tmp_path, _broken(base), seed, 1)
        if mutations.outcome(folder) != "none":
            continue
        try:
            found[form, mutations.made(folder, forking)] += 1
        except Exception as error:
            found[form, "raised"] += 1
            wrong.append(_raised(seed, folder, base, error))
        if found.total() == wanted:
            break
    sys.stdout.write(f"made: {dict(found)}\n")
    assert not wrong, "\n".join(wrong)
    assert sum(many for (_, came_to), many in found.items() if came_to == "run") > wanted // 2


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
