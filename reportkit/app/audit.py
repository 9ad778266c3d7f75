"""Whether an archived run is whole, and whether today's code still comes to its numbers.

First the sums of all files. Then everything is computed again from the run's own inputs, and the results,
brought to today's schema, are compared leaf by leaf: what moved, by how much, in which documents it stands,
and what of the program or its packages is another version since.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from reportkit.app.archive import MANIFEST
from reportkit.app.bag import TAGS, Harm, harms, listed
from reportkit.app.leaves import leaves, noted, number, record_paths, stems
from reportkit.app.migrations import migrated
from reportkit.app.versions import COUNTED, made_with, plain
from reportkit.base.errors import DamagedError, InputError
from reportkit.documents.page import Page
from reportkit.documents.sections import SECTIONS
from reportkit.findings.findings import Findings, Results, sections
from reportkit.findings.result import all_rounded
from reportkit.job.writing.copies import photos_of
from reportkit.study import Study

#: A text longer than this is shown by its beginning.
_SHOWN = 60

#: Where a run's results and its reasoning are kept: what moved stood in both.
RESULTS, NOTEBOOK = "results.json", "reasoning.ipynb"


@dataclass(frozen=True)
class Moved:
    """A leaf of the results that is another today; ``old`` or ``new`` is `Nothing` where there is none."""

    path: str
    old: Any
    new: Any
    documents: tuple[str, ...] = ()

    def __str__(self) -> str:
        """Return a line: the path, both values, by how much, where it stood."""
        was, now = number(self.old), number(self.new)
        by = ""
        if was is not None and now is not None:
            share = f", {float(100 * (now - was) / abs(was)):+.3g} %" if was else ""
            by = f" ({float(now - was):+.6g}{share})"
        where = f"; in {', '.join(self.documents)}" if self.documents else ""
        return f"{self.path}: {_told(self.old)} -> {_told(self.new)}{by}{where}"


class Nothing:
    """Stands for a leaf that is not there."""


@dataclass(frozen=True)
class Audit:
    """What an audit found: leaves compared, those that moved, those only today's hold, what changed since."""

    compared: int
    moved: tuple[Moved, ...]
    added: int
    changes: tuple[str, ...]
    faults: str = ""

    @property
    def same(self) -> bool:
        """Whether today's code comes to the same results."""
        return not self.moved and not self.faults

    def lines(self) -> list[str]:
        """Return what was found, a line each."""
        if self.same:
            made = [f"The same: every file as it was written, all {self.compared} values come out again."]
        elif self.faults:
            made = ["Today's code does not take the run's inputs any more:", *self.faults.splitlines()]
        else:
            made = [str(one) for one in self.moved]
            made.append(f"{len(self.moved)} of {self.compared} values moved.")
        if self.added:
            made.append(f"{self.added} values stand in today's results alone.")
        if not self.same or self.changes:
            since = "; ".join(self.changes) or "nothing that it was made with"
            made.append(f"Changed since it was made: {since}.")
        return made


def audit(run: Path) -> Audit:
    """Audit a run.

    Parameters
    ----------
    run
        The run's folder.

    Raises
    ------
    InputError
        If the folder is no run, or that of a newer program.
    DamagedError
        If files changed or are missing; nothing is computed then.
    """
    manifest = verified(run)
    stored = migrated(_read(run / RESULTS))
    changes = tuple(_changes(manifest, made_with()))
    try:
        study = Study.open(run / "inputs")
        results = Results(study)
        today = dict(results)
    except InputError as error:
        return Audit(0, (), 0, changes, str(error))
    old, new = dict(leaves(all_rounded(stored))), dict(leaves(today))
    keys = set() if manifest.get("tool") == made_with()["tool"] else _added(old, new)
    moved = [
        Moved(path, old.get(path, Nothing), new.get(path, Nothing))
        for path in [*old, *(path for path in new if path not in old)]
        if path not in keys and old.get(path, Nothing) != new.get(path, Nothing)
    ]
    if moved:
        moved = _placed(moved, run, study, results.findings)
    return Audit(len(old), tuple(moved), len(keys), changes)


def verified(run: Path) -> dict[str, Any]:
    """Return a run's manifest once every file has been found as it was written.

    Parameters
    ----------
    run
        The run's folder; one made before runs were bags is held against its manifest.

    Raises
    ------
    InputError
        If there is no run here.
    DamagedError
        With every file that changed or is missing.
    """
    if not (run / MANIFEST).is_file() and not (run / TAGS).is_file():
        raise InputError(f"{run} is no run: give a folder such as JOB_DIR/runs/0001")
    try:
        bag = listed(run) if (run / TAGS).is_file() else {}
        _refuse(harms(run, bag) if bag else [])
        manifest: dict[str, Any] = _read(run / MANIFEST)
        sums = {**manifest["inputs"], **manifest["outputs"]}
    except (OSError, ValueError, KeyError, TypeError, AttributeError) as error:
        raise DamagedError(f"damaged: {run}: what lists its files cannot be read ({error})") from error
    if not bag and manifest["schema"] > 1:
        _refuse([Harm(TAGS, "missing")])
    _refuse(harms(run, bag | sums))
    return manifest


def _refuse(damage: Iterable[Harm]) -> None:
    """Raise an error that names every damaged file, if there is one."""
    lines = [f"damaged: {harm}" for harm in damage]
    if lines:
        raise DamagedError("\n".join(lines))


def _read(path: Path) -> Any:
    return json.loads(path.read_text(encoding="utf-8"))


def _added(old: Mapping[str, Any], new: Mapping[str, Any]) -> set[str]:
    """Return the paths of values that another state of the code tells beside: new keys, not new entries."""
    there = {stem for whole in old for stem in stems(whole)} | set(old)
    return {path for path in new if path not in old and _first_new(path, there) == "."}


def _first_new(path: str, there: set[str]) -> str:
    """Return the sign before the first part of a path that was not there: ``.`` a key, ``[`` an entry."""
    known = [stem for stem in stems(path) if stem in there]
    return path[len(known[-1])] if known else "."


def _placed(moved: list[Moved], run: Path, study: Study, findings: Findings) -> list[Moved]:
    """Say for each leaf in which of the run's files it stood: those whose sections read it."""
    read = _read_by(run, study, findings)
    made = []
    for one in moved:
        parts = {one.path, *stems(one.path)}
        where = [name for name, paths in read.items() if parts & paths]
        made.append(Moved(one.path, one.old, one.new, (*where, RESULTS)))
    return made


def _read_by(run: Path, study: Study, findings: Findings) -> dict[str, set[str]]:
    """Return the paths that each document of a run was made from, by the document's name."""
    photos = photos_of(study.loaded)
    standing = _sections_of(run)
    where = {key: path for name in sections() for key, path in record_paths(getattr(findings, name), name)}
    by_document: dict[str, set[str]] = {kind: set() for kinds in standing.values() for kind in kinds}
    for name, kinds in standing.items():
        if name not in SECTIONS:
            continue
        with noted() as read:
            SECTIONS[name](Page(findings, photos))
        paths = {f"{where[record]}.{field}" for record, field in read if record in where}
        for kind in kinds:
            by_document[kind] |= paths
    return by_document


def _sections_of(run: Path) -> dict[str, list[str]]:
    """Return in which of its documents a run shows each section, by its own notebook."""
    there = {path.stem for path in run.iterdir() if path.suffix in (".html", ".pdf")}
    shown_in: dict[str, list[str]] = {}
    for cell in _read(run / NOTEBOOK)["cells"] if (run / NOTEBOOK).is_file() else ():
        asked = re.search(r"section\(\"(\w+)\"\)", "".join(cell["source"]))
        kinds = [kind for kind in cell["metadata"].get("reportkit", {}) if kind in there]
        if asked and kinds:
            shown_in.setdefault(asked[1], []).extend(kinds)
    return shown_in


def _changes(then: Mapping[str, Any], now: Mapping[str, Any]) -> Iterator[str]:
    """Say what of the program, of Python and of the packages is another version than it was."""
    was, is_ = then.get("tool", {}), now["tool"]
    if was.get("version") != is_["version"]:
        yield f"reportkit {was.get('version')} -> {is_['version']}"
    if was.get("code") != is_["code"]:
        yield f"reportkit's own code {was.get('code', '(not noted then)')} -> {is_['code']}"
    if then.get("python") != now["python"]:
        yield f"Python {then.get('python')} -> {now['python']}"
    before = {plain(name): version for name, version in then["packages"].items()}
    differ = [name for name, version in before.items() if now["packages"].get(name) != version]
    for name in sorted(set(differ) & set(COUNTED)):
        yield f"{name} {before[name]} -> {now['packages'].get(name, 'gone')}"
    others = len(set(differ) - set(COUNTED))
    if others:
        yield f"and {others} packages that compute nothing"


def _told(value: Any) -> str:
    """Return a value as a line shows it."""
    if value is Nothing:
        return "not there"
    text = json.dumps(value, ensure_ascii=False)
    return text if len(text) <= _SHOWN else f"{text[: _SHOWN - 2]}…{text[-1]}"
