"""What each command of the command line does: a function of its arguments that returns the exit code.

What a command needs is imported when it runs: help, and what is wrong with a command, come at once.
"""

from __future__ import annotations

import argparse
import contextlib
import datetime as dt
import json
import os
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from reportkit.base.errors import InputError, JobError
from reportkit.base.translatable import translatable

if TYPE_CHECKING:
    from reportkit.documents.cutlist import CutSheet
    from reportkit.documents.layouts.assemble import Kind
    from reportkit.findings.revision import RevisionFound

#: Exit code where an audit comes to other numbers than the run's.
MOVED = 3


def start(arguments: argparse.Namespace) -> int:
    """Write a new job."""
    from reportkit.job import write_starter

    for path in write_starter(
        arguments.job_dir,
        units=arguments.units,
        kind=arguments.kind or (None if arguments.former else "home"),
        full=arguments.full,
        as_workbook=arguments.workbook,
        former=arguments.former,
        language=arguments.language,
    ):
        print(path)
    return 0


def convert(arguments: argparse.Namespace) -> int:
    """Write a job in its other form."""
    from reportkit.app.telling import line_told
    from reportkit.base.translatable import english
    from reportkit.job import convert

    written = convert(arguments.job_dir, arguments.to)
    if any(path.suffix == ".xlsx" for path in written):
        remarks = english("remarks (#) have no place in a workbook: they stay in the file's former copy")
        print(line_told(remarks, arguments.job_dir), file=sys.stderr)
    for path in written:
        print(path)
    return 0


def check(arguments: argparse.Namespace) -> int:
    """Print what is wrong with a job."""
    from reportkit.app.checks import checked
    from reportkit.app.telling import error_told, lines_told

    try:
        clean = checked(arguments.job_dir)
    except JobError as error:
        print(error_told(error, arguments.job_dir))
        return 2
    from reportkit.job.reading.told import told

    for line in lines_told([*told(clean.loaded), *clean.lines()], clean.loaded.job):
        print(line, file=sys.stderr)
    return 0


def make(arguments: argparse.Namespace) -> int:
    """Make an offer."""
    from reportkit.app.run import OFFER

    return _run(arguments, OFFER)


def review(arguments: argparse.Namespace) -> int:
    """Make a review."""
    return _run(arguments, ("review",))


def _run(arguments: argparse.Namespace, documents: Sequence[Kind]) -> int:
    """Make a run with some kinds of documents and print its folder."""
    from reportkit.app.run import make
    from reportkit.base.cores import cores

    made = make(
        arguments.job_dir,
        documents=documents,
        only=arguments.only,
        static=arguments.static,
        kernel=arguments.kernel,
        anonymous=arguments.anonymous,
        at_once=cores(),
        progress=_progress,
    )
    if "proposal" in documents:
        for line in _in_short(made):
            print(line, file=sys.stderr)
    print(made)
    return 0


def _in_short(run: Path) -> list[str]:
    """Return what a run recommends and what stopped film, in the job's language."""
    from reportkit.app.checks import lapsed_told
    from reportkit.documents.layouts.assemble import in_short
    from reportkit.documents.page import Page
    from reportkit.documents.sections.basis import below_cost
    from reportkit.findings.findings import StoredFindings
    from reportkit.job import load_job
    from reportkit.job.reading.rates import rates_told
    from reportkit.study.pricing import old_prices

    loaded = load_job(run / "inputs")
    job = loaded.job
    # sentences of a study are plain English in results.json, and can be said in no other language or unit
    told = in_short(json.loads((run / "reasoning.ipynb").read_text(encoding="utf-8")))
    stored = json.loads((run / "results.json").read_text(encoding="utf-8"))
    page = Page(StoredFindings(job, stored))
    rates = page.words("rates")
    old = [f"{film or rates} ({day})" for _, film, day in old_prices(job, page.chosen.films, dt.date.today())]
    short = filter(None, [below_cost(page)])
    more = [*rates_told(loaded.defaults), *_revised(page.findings.revision), *lapsed_told(job)]
    if old:
        more.append(translatable("Prices over a year old today: {names}.", names=", ".join(old)))
    return [*told, *short, *map(page.words.said, more)]


def _revised(revision: RevisionFound) -> list[str]:
    """Return whether a run is another offer than the one that the client has."""
    since = revision.since
    if since is None:
        return []
    has = translatable("revision {letter} of {date}", letter=since.letter, date=since.date)
    if since.letter == revision.letter:
        return [translatable("The same as the client has, {revision}.", revision=has)]
    return [
        translatable("Revision {letter}; the client has {revision}.", letter=revision.letter, revision=has)
    ]


def batch(arguments: argparse.Namespace) -> int:
    """Make every job below a folder."""
    from reportkit.app.batch import batch
    from reportkit.app.nursery import Nurseries
    from reportkit.app.portfolio import write
    from reportkit.base.cores import cores

    if arguments.workers is not None and arguments.workers < 1:
        raise InputError(f"--workers must be 1 or more (found {arguments.workers})")
    if arguments.scheduler:
        from reportkit.app.cluster import Cluster

        makers: Cluster | Nurseries = Cluster(arguments.scheduler)
    else:
        makers = Nurseries(arguments.workers or cores())
    with contextlib.closing(makers):
        outcomes = batch(arguments.jobs_dir, makers, _pace)
    for outcome in outcomes:
        if not outcome.run:
            print(f"{outcome.job}: {outcome.reason}", file=sys.stderr)
    fresh = sum(outcome.fresh for outcome in outcomes)
    there = sum(outcome.run is not None for outcome in outcomes) - fresh
    print(f"{fresh} made, {there} as they were, {len(outcomes) - fresh - there} failed", file=sys.stderr)
    for path in write(arguments.jobs_dir / "batch", outcomes):
        print(path)
    failed = {outcome.exit_code for outcome in outcomes if not outcome.run}
    return 0 if not failed else 2 if failed == {2} else 1


def _pace(done: int, of: int, seconds: float) -> None:
    """Say on a terminal how many jobs are done, how many an hour, and how long the rest will take."""
    an_hour = done / seconds * 3600 if seconds else 0.0
    left = seconds / done * (of - done) / 60
    _progress(f"{done} of {of} jobs, {an_hour:.0f} an hour, {left:.0f} min left")


def audit(arguments: argparse.Namespace) -> int:
    """Say whether a run is as it was."""
    from reportkit.app.audit import audit

    audited = audit(arguments.run_dir)
    for line in audited.lines():
        print(line)
    return 0 if audited.same else MOVED


def consult(arguments: argparse.Namespace) -> int:
    """Open the page to talk over with the client."""
    from reportkit.app import table
    from reportkit.app.run import consultation

    notebook = consultation(arguments.job_dir)
    if arguments.lab or not table.installed():
        if not arguments.lab:
            print('for a page without code: pip install "reportkit[table]"', file=sys.stderr)
        print(f"jupyter lab {notebook}")
        return 0
    table.serve(notebook, tell=_at_the_table, browser=not arguments.no_browser)
    return 0


def schema(arguments: argparse.Namespace) -> int:
    """Print a JSON Schema."""
    from reportkit.findings.findings import results_schema
    from reportkit.job import schema

    made = schema() if arguments.file == "job" else results_schema()
    print(json.dumps(made, indent=2, ensure_ascii=False))
    return 0


def jobs(arguments: argparse.Namespace) -> int:
    """Print a table of jobs."""
    from reportkit.app.jobs import printed, table

    lines = table(arguments.jobs_dir, today=dt.date.today())
    print("\n".join(printed(lines)) if lines else f"{arguments.jobs_dir} holds no jobs")
    return 0


def _at_the_table(address: str) -> None:
    """Say where the page is and how to end it."""
    print(address, flush=True)
    print("open this address in a browser on this machine; Ctrl-C ends it", file=sys.stderr, flush=True)


def _progress(text: str) -> None:
    """Show a stage on a terminal, and only there."""
    if sys.stderr.isatty():
        dim, plain = ("", "") if os.environ.get("NO_COLOR") else ("\x1b[2m", "\x1b[0m")
        print(f"{dim}{text} …{plain}", file=sys.stderr, flush=True)


def cut(arguments: argparse.Namespace) -> int:
    """Plan the cutting of a list."""
    from reportkit.documents.cutlist import CutSheet
    from reportkit.study.cutting import cut_alone

    made = cut_alone(arguments.pieces, arguments.roll, table=arguments.table, stages=arguments.stages)
    cut_sheet = CutSheet(made, units=arguments.units, language=arguments.language or "en")
    if arguments.json:
        from reportkit.app.archive import write_json
        from reportkit.findings.cutting import planned
        from reportkit.findings.result import as_json

        write_json(arguments.json, as_json(planned(made.plan)))
    if arguments.drawing:
        _draw(cut_sheet, arguments.drawing)
    print("\n".join(cut_sheet.lines()))
    return 0


def _draw(cut_sheet: CutSheet, path: Path) -> None:
    """Write the drawing: an HTML page, or one SVG for some forty pieces (numbered where there are more)."""
    if path.suffix.lower() in (".html", ".htm"):
        path.write_text(cut_sheet.page(), encoding="utf-8", newline="\n")
        return
    drawings = cut_sheet.drawings()
    for number, drawing in enumerate(drawings, start=1):
        place = path if len(drawings) == 1 else path.with_stem(f"{path.stem}-{number}")
        place.write_text(drawing, encoding="utf-8", newline="\n")
