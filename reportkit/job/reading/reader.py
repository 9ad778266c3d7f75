"""Reads a job folder: its own file, the survey, its weather file, photos, and what it uses of ``_shared``.

Either a `LoadedJob`, frozen and checked, or one `JobError` that holds every fault found.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, TypeVar

from pydantic import BaseModel, ValidationError

from reportkit.base.errors import Fault, JobError
from reportkit.base.translatable import translatable
from reportkit.job.model import FilmSpec, Job, Pane
from reportkit.job.model.decided import follow
from reportkit.job.model.decisions import BARE
from reportkit.job.model.issued import Issued
from reportkit.job.model.singled import singled
from reportkit.job.model.spectra import Spectra
from reportkit.job.reading import (
    approvals,
    bearings,
    decisions,
    filmrules,
    issued,
    papers,
    readings,
    shapes,
    specs,
    spectra,
    world,
)
from reportkit.job.reading.defaults import Assumption, fill
from reportkit.job.reading.files import Folders
from reportkit.job.reading.jobfile import JOB_FILE, read_job_file
from reportkit.job.reading.messages import faults_of, in_own_units, unit_hint
from reportkit.job.reading.names import Names, alike
from reportkit.job.reading.photos import Photo, read_photos
from reportkit.job.reading.rates import shared_rates
from reportkit.job.reading.rules import Rules
from reportkit.job.reading.shared import merge_shared
from reportkit.job.reading.sides import base_of, both_sides
from reportkit.job.reading.signs import Writer, plain_numbers
from reportkit.job.reading.spans import spread_out
from reportkit.job.reading.specline import SpecLine
from reportkit.job.reading.survey import Row
from reportkit.job.reading.surveyfile import SURVEY_FILE, WORKBOOK_FILE
from reportkit.job.reading.words import plain_codes, plain_words

#: Fields of a job that stand in a file of their own.
_ELSEWHERE = {
    "panes": translatable(
        "write the panes into {survey_file} or {workbook_file}, one row each",
        survey_file=SURVEY_FILE,
        workbook_file=WORKBOOK_FILE,
    ),
    "decisions": translatable(
        "write the decisions into {decisions_file}", decisions_file=decisions.DECISIONS_FILE
    ),
    "readings": translatable(
        "write the readings into {readings_file}, one row for each pair", readings_file=readings.READINGS_FILE
    ),
}

#: What is said of a field that is not given.
_MISSING = translatable("must be given")

Model = TypeVar("Model", bound=BaseModel)


@dataclass(frozen=True)
class LoadedJob:
    """A job that passed every rule, with the place it is in and what was assumed.

    Attributes
    ----------
    job
        The job; paper, rating, locale, compare and the fitting's lengths are filled in where not given.
    folder
        The job's folder, absolute.
    sources
        Every file read, absolute, in reading order: in ``folder`` or in ``shared_folder``.
    shared_folder
        The ``_shared`` folder in use, or None. One inside the job's own folder wins over one beside it,
        so a copy of a job with ``_shared`` put inside runs by itself.
    latitude, longitude
        Degrees north and east [deg].
    elevation_m
        Height above the sea [m].
    clock
        IANA zone of the site's civil time.
    weather_file
        The job's own weather file, absolute, or None.
    defaults
        One assumption for each value nobody gave, and for each rate that ``_shared`` gave.
    written
        The job as its files give it, before the decision in force took its place.
    rolls_at
        The file and line where the rolls of each film stand, by its id.
    known_at
        The file and line where a glazing's maker's numbers stand, by its id.
    photos
        The photo of each pane that has one, by the pane's id, freed of its hidden data.
    spectra
        What was measured by wavelength, by the file as typed and the side called front.
    issued
        What each offer of ``status.offered`` said, None where that cannot be known.
    lines
        What was read of each film's pasted line, by the film's id.
    taken
        References that were written in another way than the name they refer to, and where.
    """

    job: Job
    folder: Path
    sources: tuple[Path, ...]
    shared_folder: Path | None
    latitude: float
    longitude: float
    elevation_m: float
    clock: str
    weather_file: Path | None
    defaults: tuple[Assumption, ...]
    written: Job
    rolls_at: Mapping[str, tuple[str, int]]
    known_at: Mapping[str, tuple[str, int]]
    photos: Mapping[str, Photo] = field(default_factory=dict)
    spectra: Spectra = field(default_factory=dict)
    issued: tuple[Issued | None, ...] = ()
    lines: Mapping[str, SpecLine] = field(default_factory=dict)
    taken: tuple[Fault, ...] = ()


def load_job(folder: Path) -> LoadedJob:
    """Read and check a job folder.

    Parameters
    ----------
    folder
        The folder that holds ``job.yaml`` and ``windows.csv`` (or ``windows.xlsx``), or ``job.xlsx``.

    Returns
    -------
    LoadedJob
        The job, checked.

    Raises
    ------
    JobError
        With every fault of the job at once.
    """
    from reportkit.job.reading.site import locate

    folder = Path(folder)
    try:
        is_folder = folder.is_dir()
    except (OSError, ValueError):
        is_folder = False
    if not is_folder:
        there = folder.exists() if "\0" not in str(folder) else False
        rule = translatable("must be a folder") if there else translatable("must be a folder that exists")
        hint = translatable(
            "give the folder that holds {job_file}, or make one with: reportkit start", job_file=JOB_FILE
        )
        raise JobError(faults=[Fault(folder.name or str(folder), 0, "", rule, None, hint)])
    folders, faults = Folders.of(folder)

    source = read_job_file(folders)
    faults += source.faults
    raw, positions, survey = source.raw, source.positions, source.survey
    rows = survey.rows
    photos, more = read_photos(rows, folders, survey.name)
    faults += more
    if raw is None:
        # without a job there is nothing to hold the survey against: its form is all that can be told
        raise JobError(faults=map(survey.placed, faults))

    for name, hint in _ELSEWHERE.items():
        if name in raw:
            file, line = positions.find((name,))
            faults.append(Fault(file, line, name, translatable("is not a field here"), None, hint))
            del raw[name]
    faults += decisions.read(folders, raw, positions)
    faults += readings.read(folders, raw, positions)
    plain_words(Job, raw)
    merged = merge_shared(raw, positions, folders, _wanted(raw, rows))
    faults += merged.faults
    for row in rows:
        plain_words(Pane, row.raw)
        row.raw = _without_none(row.raw)
    plain_codes(raw)
    spread_out(Job, raw)
    plain_numbers(Job, raw, Writer.of(raw))
    reading = Rules(raw, positions, rows, survey.name)
    names = Names.of(raw, rows)
    names.take(raw, positions, rows, survey.name)
    lines = specs.lay_out(reading)
    faults += reading.faults
    both_sides(raw)
    rules = Rules(_without_none(raw) | {"panes": [row.raw for row in rows]}, positions, rows, survey.name)
    rules.offered = merged.ids
    where = locate(rules, folders)
    bearings_of = bearings.lay_out(rules, where)
    units = raw.get("units")
    context = {"default_length": "in" if units == "us" else "mm"}
    job: Job | None = None
    try:
        job = Job.model_validate(rules.raw, context=context)
    except ValidationError as error:
        faults += [
            _with_unit_hint(fault, rows, units, survey.name)
            for fault in faults_of(error, rules.raw, positions, rows, survey.name)
        ]
    faults = [fault for fault in faults if not _may_stand_in_line(fault, lines)]
    approvals.check(rules, folders)
    measured = spectra.check(rules, folders)
    sent = issued.read(rules, folders)
    _apply(rules, raw, context)
    faults += rules.faults
    if not faults and (job is None or where is None):
        faults.append(
            Fault(
                source.name,
                0,
                "",
                translatable("must hold together"),
                None,
                translatable("compare it with a new starter job"),
            )
        )
    if faults or job is None or where is None:
        raise JobError(faults=_once(in_own_units(survey.placed(fault), units) for fault in faults))
    written, assumed = fill(singled(job))
    job = follow(written, written.decisions[-1]) if written.decisions else written
    filmrules.carried(rules, job)
    papers.labels(rules, job)
    if rules.faults:
        raise JobError(faults=[in_own_units(fault, units) for fault in rules.faults])
    numbers = job.numbers
    places_of = {film.id: index for index, film in enumerate(job.films)}
    return LoadedJob(
        job=job,
        folder=folders.own,
        sources=tuple(folders.read),
        shared_folder=folders.shared,
        latitude=where.latitude,
        longitude=where.longitude,
        elevation_m=where.elevation_m,
        clock=where.clock,
        weather_file=where.weather_file,
        defaults=where.assumed
        + bearings_of
        + assumed
        + shared_rates(written, merged.rates, merged.rates_from),
        written=written,
        rolls_at={
            film: positions.find(("films", places_of.get(base_of(film), index), "rolls"))
            for film, index in places_of.items()
        },
        known_at={
            glazing.id: positions.find(("glazings", index, "known"))
            for index, glazing in enumerate(job.glazings)
            if glazing.known
        },
        photos={job.panes[numbers[row]].id: photo for row, photo in photos.items()},
        spectra=measured,
        issued=sent,
        lines=lines,
        taken=tuple(map(survey.placed, names.taken.values())),
    )


def _once(faults: Iterable[Fault]) -> list[Fault]:
    """Leave out that a cell must be given where it is told already that what it holds cannot be read."""
    listed = list(faults)

    def missing(fault: Fault) -> bool:
        return fault.rule.startswith(_MISSING)

    unreadable = {(fault.file, fault.cell) for fault in listed if fault.cell and not missing(fault)}
    return [fault for fault in listed if not missing(fault) or (fault.file, fault.cell) not in unreadable]


def _may_stand_in_line(fault: Fault, lines: Mapping[str, SpecLine]) -> bool:
    """Return whether a number that must be given may be the one that a film's line holds and cannot tell."""
    in_line = ("rated", "rated.visible_transmittance_percent")
    fields = {f"films.{name}.{field}" for name, line in lines.items() if line.wrong for field in in_line}
    return fault.rule == _MISSING and fault.field in fields


def _apply(rules: Rules, raw: dict[str, Any], context: dict[str, str]) -> None:
    """Run every rule on what could be read."""
    unfilled = rules.raw
    rules.raw = rules.raw | {name: raw.get(name) for name in ("choice", "decisions", "readings")}
    rules.names_used_once()
    rules.names_known()
    decisions.check(rules)
    readings.check(rules)
    rules.raw = unfilled
    world.check(rules)
    rules.dates()
    papers.check(rules)
    panes = []
    for row in rules.rows:
        pane = _valid(Pane, row.raw, context)
        if pane is not None:
            panes.append(pane)
            rules.pane(pane, row)
            rules.seams(pane, row)
            shapes.check(rules, pane, row)
    if len(panes) == len(rules.rows):
        rules.panes_together(panes, str(rules.raw.get("units")))
    for index, entry in rules.records("films"):
        film = _valid(FilmSpec, entry, context)
        if film is not None:
            filmrules.check(rules, film, index)


def _valid(model: type[Model], raw: Any, context: dict[str, str]) -> Model | None:
    try:
        return model.model_validate(raw, context=context)
    except ValidationError:
        return None


def _wanted(raw: dict[str, Any], rows: list[Row]) -> dict[str, set[str]]:
    """Return the films and glazings that the job names, as `alike`; no film compared means all films."""
    films: set[str] = set()
    compare = raw.get("compare")
    if isinstance(compare, list) and compare:
        films = {name for name in compare if isinstance(name, str)}
        choice = raw.get("choice")
        if isinstance(choice, dict):
            chosen = [choice.get("job")]
            for kind in ("faces", "panes"):
                if isinstance(choice.get(kind), dict):
                    chosen += choice[kind].values()
            films |= {name for name in chosen if isinstance(name, str)}
        films |= {row.cells["film"] for row in rows if "film" in row.cells}
        films |= decisions.names_of(raw)
        films |= _approved(raw)
        films = {alike(name) for name in films} - {BARE}
        films |= {base_of(name) for name in films}
    glazings = {alike(row.cells.get("glazing", "")) for row in rows}
    return {"films": films, "glazings": glazings, "prices": set()}


def _approved(raw: dict[str, Any]) -> set[str]:
    """Return the films that the approvals of a raw tree name."""
    entries = raw.get("approvals")
    named = (
        [entry.get("film") for entry in entries if isinstance(entry, dict)]
        if isinstance(entries, list)
        else []
    )
    return {name for name in named if isinstance(name, str)}


def _without_none(value: Any) -> Any:
    """Return a tree without the fields that are not given, so that their defaults hold."""
    if isinstance(value, dict):
        return {name: _without_none(part) for name, part in value.items() if part is not None}
    if isinstance(value, list):
        return [_without_none(part) for part in value]
    return value


def _with_unit_hint(fault: Fault, rows: list[Row], units: Any, survey: str) -> Fault:
    """Say which unit a bare length out of range was read in."""
    row = next((row for row in rows if row.line == fault.line), None)
    if fault.file != survey or row is None or fault.field not in row.cells:
        return fault
    length = " mm (" in fault.rule
    low, high = (length and fault.rule.startswith(f"must be at {way}") for way in ("least", "most"))
    hint = unit_hint(row.cells[fault.field], str(units), low) if low or high else None
    return Fault(fault.file, fault.line, fault.field, fault.rule, fault.found, hint) if hint else fault
