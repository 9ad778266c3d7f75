"""A job without what tells who the client is: name, address, contact, and everything written freely.

What is free text is told by the job's own records: every field of text is left out, or made a sign where
one must stand, unless it is named here as the fitter's own or a product's. A new field of text is left out
until it is named. Comments and photos go too; numbers, bearings and coordinates stay, for everything is
computed from them.
"""

from __future__ import annotations

import csv
import io
import json
import re
from collections.abc import Iterator, Mapping, Sequence
from typing import Any, get_args

from pydantic import BaseModel

from reportkit.base.errors import Fault, JobError
from reportkit.base.formulas import guarded
from reportkit.base.translatable import translatable
from reportkit.job.model import Job
from reportkit.job.model.prices import Prices
from reportkit.job.model.typed import Text
from reportkit.job.reading.files import SHARED, Folders
from reportkit.job.reading.jobfile import JOB_FILE, read_job_file
from reportkit.job.reading.reader import LoadedJob
from reportkit.job.reading.readings import FORM, READINGS_FILE
from reportkit.job.reading.shared import KINDS, read_shared
from reportkit.job.reading.surveyfile import SURVEY_FILE
from reportkit.job.reading.table import read_table
from reportkit.job.writing.copies import contents

#: Stands where a text must be and none is to be told.
UNSAID = "…"

#: The job's short name in such a copy: the client's own may be in it.
JOB_ID = "anonymous"

#: Fields of text that stay: the fitter's own, names of products and of what energy is sold by, files of data.
KEPT = {
    "Business": ("name", "address", "contact", "tax_number"),
    "Quote": ("number",),
    "Extra": ("unit",),
    "FilmSpec": ("name", "spec"),
    "FilmSpectrum": ("file", "glass_file"),
    "LiteSpectrum": ("file",),
    "GlazingSpec": ("name",),
    "Tax": ("name",),
    "PeriodSpec": ("name",),
    "DemandSpec": ("name",),
    "FuelSpec": ("unit",),
    "Normals": ("source",),
}

#: Columns of the survey and of the readings that are not taken along.
_COLUMNS_OUT = ("note", "photo", "photo_corners", "photo_from")

#: The one shared file that holds a single record.
_PRICES_FILE = f"{SHARED}/prices.yaml"

#: A part of a name shorter than this tells nobody.
_TELLING = 3


def anonymous(loaded: LoadedJob, *, client: str) -> dict[str, bytes]:
    """Return the files of a job that runs by itself and does not tell who the client is.

    Parameters
    ----------
    loaded
        The job.
    client
        A word for the client, in the language of the documents.

    Returns
    -------
    dict
        The content of each file by its place in the copy.

    Raises
    ------
    JobError
        If the client's name, address or contact stands in a field that has to stay.
    """
    was = contents(loaded)
    folders = Folders.of(loaded.folder)[0]
    own = read_job_file(folders)
    trees = {JOB_FILE: own.raw} | {
        f"{SHARED}/{kind}.yaml": _shared(folders, kind)
        for kind in KINDS
        if not {f"{SHARED}/{kind}.yaml", f"{SHARED}/{kind}.xlsx"}.isdisjoint(was)
    }
    made: dict[str, Any] = {
        name: _without(Prices if name == _PRICES_FILE else Job, tree) for name, tree in trees.items()
    }
    job = made[JOB_FILE]
    job["id"] = JOB_ID
    job["client"] = {"name": client}
    for number, way in enumerate(job.get("alternatives") or (), start=1):
        way["name"] = str(number)
    letters = _letters(job)
    tables = {SURVEY_FILE: [row.cells for row in own.survey.rows]}
    if READINGS_FILE in was:
        text = (loaded.folder / READINGS_FILE).read_text("utf-8-sig")
        tables[READINGS_FILE] = [line.cells for line in read_table(READINGS_FILE, text, FORM)[0]]
    renamed = _renamed([job, *tables.values()], loaded.job.client.name)
    files = {name: _yaml(_with_names(tree, renamed)) for name, tree in made.items()}
    files |= {name: _csv(_with_names(rows, renamed)) for name, rows in tables.items()}
    _refuse_what_tells(files, loaded.job)
    dropped = {*letters.values(), *_photos(loaded), *(name for name in was if name.endswith(".xlsx"))}
    others = {name: data for name, data in was.items() if name not in {*files, *dropped}}
    return others | files | dict.fromkeys(letters, b"The letter stays with the job.\n")


def _shared(folders: Folders, kind: str) -> dict[str, Any]:
    tree, faults = read_shared(folders, kind)
    if tree is None:
        raise JobError(faults=faults)
    return tree.value


def _without(model: type[BaseModel], tree: Any) -> Any:
    """Return a raw tree of a record without its free text."""
    if isinstance(tree, list):
        return [_without(model, item) for item in tree]
    if not isinstance(tree, dict):
        return tree
    made = {}
    for key, value in tree.items():
        field = model.model_fields.get(key)
        if field is None or key in KEPT.get(model.__name__, ()):
            made[key] = value
            continue
        within = list(_models(field.annotation))
        if within and isinstance(value, dict | list):
            made[key] = _of_the_best(within, value, keyed=_keyed(field.annotation))
        elif not _is_text((field.annotation, *field.metadata)):
            made[key] = value
        elif isinstance(value, dict):
            made[key] = dict.fromkeys(value, UNSAID)
        elif field.is_required():
            made[key] = UNSAID
    return made


def _of_the_best(models: list[type[BaseModel]], value: Any, *, keyed: bool) -> Any:
    """Return a raw tree without its free text, by that of several records that has most of its keys."""
    if isinstance(value, list):
        return [_of_the_best(models, item, keyed=keyed) for item in value]
    if keyed and isinstance(value, dict):
        return {key: _of_the_best(models, item, keyed=False) for key, item in value.items()}
    if not isinstance(value, dict):
        return value
    return _without(max(models, key=lambda model: len(set(model.model_fields) & set(value))), value)


def _keyed(annotation: Any) -> bool:
    """Return whether a field holds records by name."""
    return getattr(annotation, "__origin__", None) is dict or any(map(_keyed, get_args(annotation)))


def _models(annotation: Any) -> Iterator[type[BaseModel]]:
    """Go through the records that a field may hold."""
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        yield annotation
    for part in get_args(annotation):
        yield from _models(part)


#: What marks a field as text: the same length is allowed in all of them.
_LIMITS = tuple(limit for part in Text.__metadata__ for limit in getattr(part, "metadata", ()))  # type: ignore[attr-defined]


def _is_text(parts: Sequence[Any]) -> bool:
    """Return whether a field's type, or a part of it, is free text."""
    return any(
        part in _LIMITS or _is_text(getattr(part, "metadata", ())) or _is_text(get_args(part))
        for part in parts
        if not isinstance(part, str)
    )


def _letters(job: dict[str, Any]) -> dict[str, str]:
    """Give the letters of approval neutral names, in place, and return the old one of each."""
    given = {}
    for number, entry in enumerate(job.get("approvals") or (), start=1):
        name = f"approval-{number}.txt"
        given[name] = str(entry.get("file"))
        entry["file"] = name
    return given


def _photos(loaded: LoadedJob) -> list[str]:
    return [photo.path.relative_to(loaded.folder).as_posix() for photo in loaded.photos.values()]


def _renamed(parts: Sequence[Any], name: str) -> dict[str, str]:
    """Return another short name for each room, face or pane whose own holds a part of the client's."""
    telling = {word for word in re.split(r"\W+", name.casefold()) if len(word) >= _TELLING}
    ids = dict.fromkeys(text for part in parts for text in _ids(part))
    revealing = [text for text in ids if telling & set(re.split(r"[\W_]+", text.casefold()))]
    return {text: f"name-{number}" for number, text in enumerate(revealing, start=1)}


def _ids(value: Any) -> Iterator[str]:
    if isinstance(value, dict):
        yield from (value[key] for key in ("id", "view_group") if isinstance(value.get(key), str))
        for item in value.values():
            yield from _ids(item)
    elif isinstance(value, list):
        for item in value:
            yield from _ids(item)


def _with_names(value: Any, names: Mapping[str, str]) -> Any:
    """Return data with some texts replaced wherever they stand, as keys too."""
    if isinstance(value, str):
        return names.get(value, value)
    if isinstance(value, list):
        return [_with_names(item, names) for item in value]
    if isinstance(value, dict):
        return {names.get(key, key): _with_names(item, names) for key, item in value.items()}
    return value


def _yaml(tree: Any) -> bytes:
    """Return a raw tree as YAML; JSON is YAML too (YAML 1.2, 1.2)."""
    return (json.dumps(tree, ensure_ascii=False, indent=2) + "\n").encode("utf-8")


def _csv(rows: list[dict[str, str]]) -> bytes:
    """Return rows as a table, without the columns that hold free text or photos."""
    columns = [name for name in dict.fromkeys(key for row in rows for key in row) if name not in _COLUMNS_OUT]
    out = io.StringIO()
    table = csv.DictWriter(out, columns, restval="", extrasaction="ignore", lineterminator="\n")
    table.writeheader()
    table.writerows({name: guarded(cell) for name, cell in row.items()} for row in rows)
    return out.getvalue().encode("utf-8")


def _refuse_what_tells(files: Mapping[str, bytes], job: Job) -> None:
    """Raise an error if who the client is still stands in a file; what the business says of itself may."""
    business = job.business
    own = {business.name, *business.address, business.contact} if business else set()
    telling = {job.client.name, *job.client.address, job.client.contact} - own
    faults = [
        Fault(
            name,
            0,
            "",
            translatable("must not name the client in a field that stays"),
            text,
            translatable("write it in a note instead"),
        )
        for name, data in files.items()
        for text in telling
        if len(text) >= _TELLING and json.dumps(text, ensure_ascii=False)[1:-1] in data.decode("utf-8")
    ]
    if faults:
        raise JobError(faults=faults)
