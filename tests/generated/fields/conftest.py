"""A full invented job to change one field of, and a way to see what the change moves."""

from __future__ import annotations

import copy
import csv
import datetime as dt
import io
import json
import re
import shutil
import tempfile
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pvlib
import pytest
from ruamel.yaml import YAML

from reportkit.app.jobs import table
from reportkit.documents.calendar import calendar
from reportkit.documents.view import Report, frame
from reportkit.findings.findings import Results
from reportkit.job.reading.readings import FORM as READINGS
from reportkit.job.reading.survey import FORM as SURVEY
from reportkit.job.reading.table import Form
from reportkit.study import Study, rooms

#: How many samples stand behind a room's ranges here: enough that each uncertain input is drawn.
FEW = 16

PHOTO = Path(__file__).parents[3] / "jobs" / "harbour-house" / "photos" / "L1.jpg"

#: Typical years that ship with pvlib, by their files' names.
YEARS = Path(pvlib.__file__).parent / "data"

#: Parts that repeat what was typed: a change seen there is no change.
ECHOES = {"job", "assumptions", "doc:assumptions", "schema"}

#: The invented job that fields are changed in: everything in it counts, or can be made to. Its windows stay
#: shut but where opening is what counts: a year with them takes three times as long.
BASE = """
job:
  id: base
  title: Invented office
  invented: yes
  units: metric
  currency: EUR
  paper: a4
  rating: nfrc
  site: {place: Invented Bay, clock: America/New_York}
  weather: {use: shipped, name: miami}
  complaint: {text: Too hot by four, kinds: [heat], room: office}
  client: {name: Ana Example, address: [1 Invented Street], contact: ana@example.com}
  business: {name: Example Films, address: [2 Invented Street], contact: hello@example.com}
  quote: {number: Q-1, date: 2026-03-02}
  rooms:
    - id: office
      name: Office
      heat:
        floor_area: 40 m2
        mass: light
        use: office
        occupied_hours: [8, 18]
        cooling: {set_point: 25 C, capacity: 6000 W, efficiency: 3}
        heating: {set_point: 21 C, fuel: gas, efficiency: 0.9}
    - {id: store, name: Store}
  horizons:
    - {id: hill, points: [[150, 5], [180, 30], [210, 5]]}
    - {id: trees, points: [[250, 20], [275, 40], [300, 20]], leafless_months: [11, 12, 1, 2]}
  faces:
    - {id: south, name: Street, bearing: 180}
    - {id: west, name: Yard, bearing: 260}
  glazings:
    - {id: one, name: Single, lites: [{thickness_mm: 6}]}
    - id: two
      name: Sealed unit
      lites: [{thickness_mm: 4}, {thickness_mm: 4}]
      gaps: [{width_mm: 16, gas: argon, fill_percent: 90}]
      coating: {kind: hard_low_e, surface: 3}
  films:
    - id: grey
      name: Invented grey
      film_class: ceramic
      invented: yes
      thickness_um: 50
      tint: grey
      rated:
        solar_transmittance_percent: 40
        solar_reflectance_glass_side_percent: 9
        solar_reflectance_film_side_percent: 9
        visible_transmittance_percent: 40
        visible_reflectance_glass_side_percent: 8
        visible_reflectance_film_side_percent: 8
        uv_transmittance_percent: 1
        shgc: 0.55
        tser_percent: 45
      rolls:
        - {width: 1524 mm, length: 30.5 m, price_per_m: 25, step: 1 m}
        - {width: 1524 mm, length: 12 m, price: 260}
    - id: silver
      name: Invented silver
      film_class: dual_reflective
      invented: yes
      thickness_um: 50
      tint: silver
      rated:
        solar_transmittance_percent: 17
        solar_reflectance_glass_side_percent: 32
        solar_reflectance_film_side_percent: 20
        visible_transmittance_percent: 20
        visible_reflectance_glass_side_percent: 34
        visible_reflectance_film_side_percent: 14
        uv_transmittance_percent: 1
      rolls: [{width: 1524 mm, length: 30.5 m, price_per_m: 40, step: 1 m}]
  choice: {job: grey}
  fitting: {date: 2026-03-23}
  prices:
    labour_per_hour: 50
    margin_percent: 10
    travel: 30
    tax: {name: VAT, percent: 20}
  energy:
    electricity: {rate: 0.30, kg_co2_per_kwh: 0.3}
    fuels: [{id: gas, rate: 0.11, unit: kWh, kg_co2_per_kwh: 0.2}]
panes:
  - {id: A, room: office, face: south, glazing: one, width: 1200 mm, height: 1400 mm, sill: 600 mm, opens: no}
  - {id: B, room: office, face: west, glazing: two, width: 900 mm, height: 1400 mm, quantity: 2, sill: 600 mm,
     opens: no}
  - {id: C, room: store, face: south, glazing: one, width: 700 mm, height: 900 mm, sill: 600 mm}
readings:
  - {time: "2026-04-24 12:10", meter: light, pane: A, filmed: 16900, beside: open, bare: 45300}
  - {time: "2026-04-24 12:20", meter: light, pane: A, filmed: 17100, beside: open, bare: 45700}
  - {time: "2026-04-24 12:30", meter: light, pane: A, filmed: 17000, beside: open, bare: 45500}
decisions: []
shared: {}
"""

#: Files of invented spectra by their names: heading, T, R of either side up to 780 nm, and beyond it [%].
SPECTRA = {
    "film.csv": ("nm;T %;R front %;R back %", (42, 8, 12), (12, 24, 30)),
    "other.csv": ("nm;T %;R_glass %;R_film %", (30, 9, 8), (20, 12, 11)),
    "glass.csv": ("nm;T %;R %", (86, 8), (66, 7)),
    "coated.csv": ("nm;T %;R front %;R back %", (78, 11, 9), (45, 24, 15)),
}

Edits = Mapping[str, Any]


def flow(text: str) -> dict[str, Any]:
    """Return the mapping that a line such as ``a.b: 1, c: [2]`` writes, its plain words as texts."""
    return dict(YAML(typ="base").load("{" + text + "}") or {})


def edited(base: Any, edits: Edits) -> Any:
    """Return a copy with what stands at each path, ``job.films.0.rated.shgc``, put in place of its own.

    A path that begins with none of the job's files lies in ``job.yaml``; ``null`` takes a field out, and a
    number just past the end of a list adds to it.
    """
    made = copy.deepcopy(base)
    for path, value in edits.items():
        parts = path.split(".")
        at = made if parts[0] in made else made["job"]
        for part in parts[:-1]:
            at = at[int(part)] if isinstance(at, list) else at.setdefault(part, {})
        last = parts[-1]
        if isinstance(at, list):
            at[int(last) :] = [value, *at[int(last) + 1 :]]
        elif value == "null":
            at.pop(last, None)
        else:
            at[last] = value
    return made


def _table(form: Form, rows: list[dict[str, str]]) -> str:
    out = io.StringIO()
    writer = csv.DictWriter(out, form.columns, lineterminator="\n")
    writer.writeheader()
    writer.writerows(rows)
    return out.getvalue()


def write(files: Mapping[str, Any], home: Path) -> Path:
    """Write a job into a folder of its own and return it."""
    folder = home / "job"
    folder.mkdir(parents=True)
    shutil.copy(PHOTO, folder / "A.jpg")
    for name, (head, light, heat) in SPECTRA.items():
        points = [(nm, light if nm <= 780 else heat) for nm in (*range(300, 800, 20), *range(800, 2501, 100))]
        rows = [";".join(map(str, (nm, *values))) for nm, values in points]
        (folder / name).write_text("\n".join([head, *rows]))
    for sent in files["job"].get("status", {}).get("offered", ()):
        if "run" in sent:  # that of a version too old to be compared
            run = folder / "runs" / f"{int(sent['run']):04d}"
            run.mkdir(parents=True, exist_ok=True)
            (run / "results.json").write_text('{"schema": 1}')
    if weather := files["job"]["weather"].get("file"):
        shutil.copy(YEARS / weather, folder)
    (folder / "job.yaml").write_text(json.dumps(files["job"]))
    (folder / "windows.csv").write_text(_table(SURVEY, files["panes"]))
    if files["readings"]:
        (folder / "readings.csv").write_text(_table(READINGS, files["readings"]))
    if files["decisions"]:
        (folder / "decisions.yaml").write_text(json.dumps({"decisions": files["decisions"]}))
    for name, content in files["shared"].items():
        (home / "_shared").mkdir(exist_ok=True)
        (home / "_shared" / f"{name}.yaml").write_text(json.dumps(content))
    return folder


class Made:
    """A job with what comes of it, each part when first asked for."""

    def __init__(self, folder: Path) -> None:
        self.study = Study.open(folder)
        self.results = Results(self.study)
        self._report = Report(self.study)

    def __getitem__(self, part: str) -> Any:
        """Return a part of the results (``price``, or a path in it: ``choice.candidates``) or of a document.

        ``doc:NAME`` is a part of the documents, ``frame`` their titles, addressees and foot, ``ics`` the
        calendar file, ``jobs`` the job's row in the table of many.
        """
        if part.startswith("doc:"):
            return repr(self._report.section(part[4:]))
        if part == "frame":
            return repr(frame(self._report.page))
        if part == "jobs":
            return repr(table(self.study.loaded.folder, today=dt.date(2026, 5, 1)))
        if part == "ics":
            return calendar(self._report.page)
        name, *inner = part.split(".")
        found = self.results[name]
        for key in inner:
            found = [entry.get(key) for entry in found] if isinstance(found, list) else found[key]
        return json.dumps(found, default=str)


@dataclass(frozen=True)
class Line:
    """One line of a table: ``field | change | where it shows | what is given``."""

    field: str
    change: str
    parts: tuple[str, ...]
    given: str = ""


def lines(table: str, words: Mapping[str, str]) -> list[Line]:
    """Return the lines of a table, each word that stands for a longer text put in full.

    Raises
    ------
    ValueError
        If a line looks nowhere, or only at what was typed.
    """
    found = []
    for row in table.strip().splitlines():
        field, change, where, *given = (part.strip() for part in row.split(" | "))
        parts = tuple(where.split())
        if not parts or set(parts) & ECHOES:
            raise ValueError(f"{field}: must look at results or documents, not at {where or 'nothing'}")
        full = [_full(text, words) for text in (change, *given)]
        found.append(Line(field, full[0], parts, *full[1:]))
    return found


def _full(text: str, words: Mapping[str, str]) -> str:
    for word, meaning in words.items():
        text = re.sub(rf"\b{word}\b", lambda found, meaning=meaning: meaning, text)
    return text


class Walk:
    """Makes jobs from the invented one; those that several changes start from are made once."""

    def __init__(self, home: Path) -> None:
        self._home = home
        self._base = YAML(typ="base").load(BASE)
        self._made: dict[str, Made] = {}

    def made(self, *edits: str) -> Made:
        """Return the job with lines of edits, one after another."""
        files = self._base
        for text in edits:
            files = edited(files, flow(text))
        return Made(write(files, Path(tempfile.mkdtemp(dir=self._home))))

    def given(self, edits: str) -> Made:
        """Return the job that changes start from, made once."""
        if edits not in self._made:
            self._made[edits] = self.made(edits)
        return self._made[edits]

    def unmoved(self, line: Line) -> list[str]:
        """Return the parts of a line that its change leaves as they were."""
        before, after = self.given(line.given), self.made(line.given, line.change)
        return [part for part in line.parts if before[part] == after[part]]


@pytest.fixture(scope="module")
def walk(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Walk]:
    """The maker of jobs, whose rooms are balanced with few samples."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(rooms, "SAMPLES", FEW)
        yield Walk(tmp_path_factory.mktemp("fields"))


def pytest_generate_tests(metafunc: pytest.Metafunc) -> None:
    """Run a test that takes a ``line`` once for each line of its module's ``TABLE``.

    ``WORDS`` of the module are longer texts by a word in the table; ``PENDING`` says of a field that does
    nothing yet why.
    """
    if "line" not in metafunc.fixturenames:
        return
    module = metafunc.module
    params = []
    for line in lines(module.TABLE, module.WORDS):
        why = module.PENDING.get(line.field)
        marks = [pytest.mark.xfail(strict=True, reason=why)] if why else []
        params.append(pytest.param(line, id=line.field, marks=marks))
    metafunc.parametrize("line", params)
