"""What a new job takes over from a former one: business, prices, films and glass, never its client.

Settings that these need come along: units, currency, language, paper, rating, and the words of the offer that
are the fitter's own (terms, warranty, deposit).
"""

from __future__ import annotations

import copy
import re
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Literal

from reportkit.base.errors import InputError
from reportkit.job.model import Job
from reportkit.job.reading.files import Folders
from reportkit.job.reading.jobfile import read_job_file
from reportkit.job.reading.reader import load_job
from reportkit.job.reading.shared import merge_shared
from reportkit.job.writing.yamltext import yaml_text

#: Fields of the job's top that are taken over, as far as the former job has them.
TAKEN = (
    "units",
    "currency",
    "language",
    "locale",
    "paper",
    "rating",
    "business",
    "glazings",
    "films",
    "compare",
    "prices",
)
#: Fields of the quote that are the fitter's own words.
_QUOTE = ("deposit_percent", "shown", "terms", "warranty")


@dataclass(frozen=True)
class Former:
    """What is taken from a former job: fields by name, the glass of its panes, files they name."""

    units: Literal["us", "metric"]
    fields: dict[str, Any]
    quote: dict[str, Any]
    glass: str
    own_home: bool
    files: dict[str, bytes] = field(default_factory=dict)


def former_of(folder: Path, new: Path) -> Former:
    """Return what a new job takes over from a former one.

    Where both have the same ``_shared``, what stands there stays there; else it is written into the new job.

    Parameters
    ----------
    folder, new
        The folders of the former job and of the new one.

    Raises
    ------
    JobError
        If the former job holds faults.
    InputError
        If two files that are to come along have one name.
    """
    loaded = load_job(folder)
    folders, _ = Folders.of(folder)
    source = read_job_file(folders)
    raw = copy.deepcopy(source.raw or {})
    same = Folders.of(new)[0].shared == folders.shared
    if not same:
        glazings = {row.cells.get("glazing", "") for row in source.survey.rows}
        compared = {film.id for film in loaded.job.films}
        wanted = {"films": compared, "glazings": glazings, "prices": set[str]()}
        merge_shared(raw, source.positions, folders, wanted)
    fields = {name: raw[name] for name in TAKEN if raw.get(name)}
    quote = raw.get("quote") or {}
    return Former(
        units=loaded.job.units,
        fields=fields,
        quote={name: quote[name] for name in _QUOTE if quote.get(name) is not None},
        glass=loaded.job.panes[0].glazing,
        own_home=loaded.job.own_home,
        files=_files(fields, folders, same),
    )


def _files(fields: dict[str, Any], folders: Folders, same: bool) -> dict[str, bytes]:
    """Return the spectra that films and glass name; those of a ``_shared`` that is not there come along."""
    made: dict[str, bytes] = {}
    lites = [lite for glazing in fields.get("glazings", []) for lite in glazing.get("lites", [])]
    for spectrum in [entry.get("spectrum") for entry in [*fields.get("films", []), *lites]]:
        for part in ("file", "glass_file"):
            typed = (spectrum or {}).get(part)
            path = folders.inside(typed) if typed else ""
            if not isinstance(path, Path):
                continue
            if same and folders.shared is not None and path.is_relative_to(folders.shared):
                continue
            spectrum[part] = path.name
            content = path.read_bytes()
            if made.setdefault(path.name, content) != content:
                raise InputError(f"two files are called {path.name}: nothing was written; rename one of them")
    return made


def taken_over(text: str, former: Former, *, offered: bool) -> str:
    """Return a short starter's ``job.yaml`` with what a former job had in place of its samples.

    Parameters
    ----------
    text
        The starter.
    former
        What is taken over.
    offered
        Whether the new job is an offer, with ``business`` and ``quote``.
    """
    head, *parts = re.split(r"(?m)^(?=\w+:)", text)
    sections = {part.partition(":")[0]: part for part in parts}
    fields = {name: value for name, value in former.fields.items() if offered or name != "business"}
    if offered and former.own_home:  # one's own windows need no rates
        fields.pop("prices", None)
    own = ("business", "prices")  # the samples stand in where the former job has none
    kept = [name for name in sections if name not in TAKEN or (name in own and name not in fields)]
    made = [head]
    for name in Job.model_fields:
        if name in fields:
            made.append(yaml_text({name: fields[name]}))
        elif name in kept:
            made.append(sections[name])
        if name == "quote" and name in kept:
            made.append(yaml_text(former.quote, 2))
    return "".join(made)
