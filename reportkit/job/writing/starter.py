"""A new job that passes every rule, for a person to put their own numbers into: short or whole."""

from __future__ import annotations

import re
from collections.abc import Iterator
from importlib import resources
from importlib.resources.abc import Traversable
from pathlib import Path
from string import Template
from typing import Literal

from reportkit.base.errors import InputError, JobError
from reportkit.base.languages import SOURCE, catalogue, languages
from reportkit.job.model.typed import Id, Record
from reportkit.job.reading.book import BOOK_FILE
from reportkit.job.reading.files import Folders, there
from reportkit.job.reading.jobfile import JOB_FILE
from reportkit.job.reading.shared import offered, read_shared
from reportkit.job.reading.survey import read_rows
from reportkit.job.reading.surveyfile import SURVEY_FILE, SURVEYS, WORKBOOK_FILE
from reportkit.job.reading.yamltree import read_tree
from reportkit.job.writing import form
from reportkit.job.writing.book import workbook
from reportkit.job.writing.former import former_of, taken_over
from reportkit.job.writing.samples import KINDS, LITES, OWN, SAMPLES, UNITS, Kind


class _Name(Record):
    id: Id


#: A line of the short starter: an answer and the question behind it, or a remark alone.
_QUESTION = re.compile(r"^(?:(?!#)(?P<answer>.*?\S) +)?# (?P<said>.*)$", re.MULTILINE)
#: Samples that are sentences.
_SAID = ("title", "complaint")
#: The column that questions stand in.
_QUESTIONS_AT = 34


def write_starter(
    folder: Path,
    *,
    units: Literal["us", "metric"] | None = None,
    kind: Kind | None = None,
    full: bool = True,
    as_workbook: bool = False,
    former: Path | None = None,
    language: str | None = None,
) -> tuple[Path, ...]:
    """Write a new job into a folder, which is made if need be.

    Where the folder has a ``job.yaml`` already but no survey, and a workbook is asked for, only a form for
    that is written, ``windows.xlsx``, with the job's own names, in the job's own units.

    Parameters
    ----------
    folder
        Where the job goes.
    units
        ``us`` for feet and inches, ``metric`` for millimetres; None are those of the former job, or metric.
    kind
        What sort of job its samples tell of, an office unless told; one's own home has neither ``business``
        nor ``quote``.
    full
        With every field, most as remarks; else with what a first job needs, each as a question.
    as_workbook
        Write the whole job as one workbook, ``job.xlsx``, with lists, notes and a print layout.
    former
        The folder of a job whose business, prices, films and glass are taken over; the new one is short.
    language
        That of the documents, and of the questions of a short one, such as ``es``; None is that of the former
        job, or English. Fields keep their names; the remarks of a whole job and of a workbook are English.

    Returns
    -------
    tuple of Path
        The files written.

    Raises
    ------
    InputError
        If one of the files is there already, the folder cannot be written, or a former job has other units
        or another language.
    JobError
        If a former job, or the job file that an empty form is for, cannot be read.
    ValueError
        If ``units``, ``kind`` or ``language`` is none of theirs.
    """
    if language not in (None, *languages()):
        raise ValueError(f"language must be one of {', '.join(languages())}, not {language!r}")
    if units is not None and units not in UNITS:
        raise ValueError(f"units must be us or metric, not {units!r}")
    if kind is not None and kind not in KINDS:
        raise ValueError(f"kind must be one of {', '.join(KINDS)}, not {kind!r}")
    folder = Path(folder)
    if as_workbook and there(folder, JOB_FILE) and not there(folder, BOOK_FILE, *SURVEYS):
        return _written(folder, {WORKBOOK_FILE: _empty_form(folder)})
    for name in there(folder, JOB_FILE, BOOK_FILE, *SURVEYS):
        raise InputError(f"{folder / name} is there already: nothing was written; name another folder")
    folders, _ = Folders.of(folder)
    files: dict[str, bytes] = {}
    if former is not None:
        taken = former_of(former, folder)
        if units not in (None, taken.units):
            raise InputError(f"{former} is in {taken.units} units: nothing was written; leave --units out")
        spoken = taken.fields.get("language", SOURCE)
        if language not in (None, spoken):
            raise InputError(f"{former} is in {spoken}: nothing was written; leave --language out")
        kind = kind or ("own-home" if taken.own_home else "home")
        job, survey = starter_texts(
            taken.units, kind, full=False, named=_id_from(folder), glass=taken.glass, language=spoken
        )
        job, files = taken_over(job, taken, offered=kind not in OWN), taken.files
    else:
        job, survey = starter_texts(
            units or "metric",
            kind or "office",
            full=full,
            named=_id_from(folder),
            currency=_currency(folders),
            language=language or SOURCE,
        )
    if not as_workbook:
        return _written(folder, {JOB_FILE: job.encode(), SURVEY_FILE: survey.encode()} | files)
    tree, _ = read_tree(JOB_FILE, job)
    rows, _ = read_rows(SURVEY_FILE, survey)
    assert tree is not None, "the starter is a right job"
    return _written(folder, {BOOK_FILE: workbook(tree.value, rows, offered(folders).ids)} | files)


def _currency(folders: Folders) -> str | None:
    """Return the currency of the prices that many jobs share, None where there are none."""
    tree, _ = read_shared(folders, "prices") if folders.shared else (None, [])
    currency = tree.value.get("currency") if tree else None
    return currency if isinstance(currency, str) else None


def starter_texts(
    units: Literal["us", "metric"],
    kind: Kind,
    *,
    full: bool,
    named: str,
    currency: str | None = None,
    glass: str | None = None,
    language: str = SOURCE,
) -> tuple[str, str]:
    """Return a new job as the texts of ``job.yaml`` and ``windows.csv``.

    Parameters
    ----------
    units, kind, full
        As of `write_starter`.
    named
        The job's id as YAML.
    currency
        That of its amounts; None is the usual one with the units.
    glass
        What its panes are glazed with; None is the sample's.
    language
        Of `write_starter`.
    """
    files, say = _files(), catalogue(language).gettext
    answers = UNITS[units] | SAMPLES[kind] | {"units": units, "id": named, "language": language}
    answers |= {name: say(answers[name]) for name in _SAID}
    if language != SOURCE:
        answers["locale"] = f"{language}_{_country(language, units)}"
    answers["lites"] = Template(LITES[answers["glass"]]).substitute(answers).rstrip("\n")
    answers |= {name: value for name, value in (("currency", currency), ("glass", glass)) if value}
    own, other = kind in OWN, language != SOURCE
    marks = {"$offer": not own, "$own": own, "$other": other}
    texts = []
    for name in ("job.yaml", f"windows_{units}.csv") if full else ("short.yaml", "short.csv"):
        lines = (files / name).read_text(encoding="utf-8").splitlines(keepends=True)
        for mark, kept in marks.items():
            lines = [line.removeprefix(mark) for line in lines if kept or not line.startswith(mark)]
        content = "".join(lines)
        texts.append(Template(content).substitute(answers))

    def asked(line: re.Match[str]) -> str:
        """Return an answer and its question, the question in the column of the others where there is room."""
        before = f"{line['answer']:{_QUESTIONS_AT}}  " if line["answer"] else ""
        return f"{before}# {say(line['said'])}"

    return texts[0] if full else _QUESTION.sub(asked, texts[0]), texts[1]


def questions() -> Iterator[str]:
    """Yield the sentences of the short starter, in English: questions, remarks and samples."""
    short = (_files() / "short.yaml").read_text(encoding="utf-8")
    for text in (short, *LITES.values()):
        yield from (line["said"] for line in _QUESTION.finditer(text))
    for sample in SAMPLES.values():
        yield from (sample[name] for name in _SAID)


def _files() -> Traversable:
    return resources.files("reportkit.job.writing") / "starter_files"


def _country(language: str, units: Literal["us", "metric"]) -> str:
    """Return the country whose numbers and dates a new job is told with: the language's first, or the US."""
    from babel.core import get_global

    return "US" if units == "us" else str(get_global("likely_subtags")[language].rpartition("_")[2])


def _written(folder: Path, files: dict[str, bytes]) -> tuple[Path, ...]:
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for name, content in files.items():
            with (folder / name).open("xb") as file:
                file.write(content)
    except OSError as error:
        raise InputError(f"{folder} cannot be written: {error.strerror or error}") from error
    return tuple(folder / name for name in files)


def _empty_form(folder: Path) -> bytes:
    """Return the form for a job that has its job file but no survey yet."""
    folders, faults = Folders.of(folder)
    text, more = folders.text(folders.own / JOB_FILE)
    tree, wrong = read_tree(JOB_FILE, text) if text is not None else (None, [])
    merged = offered(folders)
    faults += more + wrong + (merged.faults if tree is not None else [])
    if tree is None or faults:
        raise JobError(faults=faults)
    return form.workbook(form.Form.of(tree.value, merged.ids, []))


def _id_from(folder: Path) -> str:
    """Return a job's id from its folder's name, as a quoted YAML text."""
    name = folder.resolve().name[:60].strip()
    try:
        _Name(id=name)
    except ValueError:
        name = "my-job"
    plain = name.isascii() and name.replace("-", "").replace("_", "").isalnum() and not name.isdigit()
    return name if plain and name[0].isalpha() else "'" + name.replace("'", "''") + "'"
