"""The command line: ``reportkit COMMAND``, each command a function below.

Exit codes: 0 done, 2 the person's mistake, 1 ours or the machine's; of an audit 3 where numbers moved, 4
where files are damaged. Faults found by ``check`` go to stdout; every other error goes to stderr in plain
words, with a traceback only under ``--debug``. What is stopped from outside (INT, TERM, HUP) leaves 128 and
the signal's number, as in a shell (POSIX).
"""

from __future__ import annotations

import argparse
import contextlib
import datetime as dt
import json
import os
import select
import signal
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, TextIO

from reportkit import __version__
from reportkit.app.machine import refusal
from reportkit.app.stopping import Stopped, stoppable
from reportkit.base.errors import InputError, JobError, ReportkitError

if TYPE_CHECKING:
    from reportkit.documents.cutlist import CutSheet
    from reportkit.documents.layouts.assemble import Kind
    from reportkit.findings.revision import RevisionFound
    from reportkit.job import LoadedJob
    from reportkit.job.model import Job


#: Exit code where an audit comes to other numbers than the run's.
MOVED = 3


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command and return its exit code."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(encoding="utf-8", errors="replace")
    try:
        try:
            return _run_one(argv)
        finally:
            _pour()  # or what cannot be handed over is noticed as Python ends, too late to say so
    except OSError as error:
        lost = _lost()
        if not lost:
            raise
        nowhere = os.open(os.devnull, os.O_WRONLY)
        for stream in lost:  # or Python says at its end that it could not pour it out (Python's manual)
            os.dup2(nowhere, stream.fileno())
        why = refusal(error)
        print(f"not all that was to be printed could be: {why or error}", file=sys.stderr)
        return 1


def _run_one(argv: Sequence[str] | None) -> int:
    arguments = _parser().parse_args(argv)
    try:
        with stoppable():
            return int(arguments.run(arguments))
    except ReportkitError as error:
        if arguments.debug:
            raise
        print(error, file=sys.stderr)
        return error.exit_code
    except KeyboardInterrupt as stop:
        print("stopped; nothing was kept", file=sys.stderr)
        return 128 + (stop.number if isinstance(stop, Stopped) else signal.SIGINT)
    except Exception as error:
        if arguments.debug or (isinstance(error, OSError) and _lost()):
            raise
        refused = None if isinstance(error, BrokenPipeError) else refusal(error)
        print(
            refused
            or f"reportkit failed ({type(error).__name__}: {error}). This is our mistake, not the job's; "
            "run the command again with --debug for the details.",
            file=sys.stderr,
        )
        return 1


def _pour() -> None:
    """Hand over what was printed."""
    for stream in (sys.stdout, sys.stderr):
        if stream is not None:
            stream.flush()


def _lost() -> list[TextIO]:
    """Return the streams that take nothing any more: their reader has gone, or their disk is full."""
    return [stream for stream in (sys.stdout, sys.stderr) if stream is not None and _closed(stream)]


def _closed(stream: TextIO) -> bool:
    """Return whether a stream refuses what was printed, or is a pipe without a reader."""
    try:
        stream.flush()
    except OSError:
        return True
    try:
        watch = select.poll()
        watch.register(stream.fileno(), 0)  # an error is told unasked
        return any(event & select.POLLERR for _, event in watch.poll(0))
    except (AttributeError, OSError):  # no polling on this system, or no file behind the stream
        return False


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="reportkit",
        description="Finds the sun on each window, compares films, plans the cutting, writes the offer.",
    )
    parser.add_argument("--version", action="version", version=__version__)
    commands = parser.add_subparsers(required=True, metavar="COMMAND")

    start = commands.add_parser("start", help="write a new job: what a first one needs, each as a question")
    start.add_argument("job_dir", type=Path, metavar="JOB_DIR")
    start.add_argument("--units", choices=("us", "metric"), help="metric unless told")
    start.add_argument(
        "--kind",
        choices=("home", "shop", "office", "own-home"),
        help="what the samples tell of; home unless told, own-home for your own windows",
    )
    more = start.add_mutually_exclusive_group()
    more.add_argument("--full", action="store_true", help="with every field, most of them as remarks")
    more.add_argument(
        "--from",
        dest="former",
        type=Path,
        metavar="JOB_DIR",
        help="with the business, prices, films and glass of a former job, not its client",
    )
    start.add_argument(
        "--workbook",
        action="store_true",
        help="the whole job as job.xlsx, to fill in on a screen or on paper; beside a job.yaml without "
        "survey, that as windows.xlsx",
    )
    start.set_defaults(run=_start)

    check = commands.add_parser("check", help="print every fault of a job")
    check.add_argument("job_dir", type=Path, metavar="JOB_DIR")
    check.set_defaults(run=_check)

    make = commands.add_parser("make", help="run a job; the last line printed is the run's folder")
    make.add_argument("job_dir", type=Path, metavar="JOB_DIR")
    make.set_defaults(run=_make)

    review = commands.add_parser(
        "review", help="after the work: what the meters read (readings.csv) beside what was computed"
    )
    review.add_argument("job_dir", type=Path, metavar="JOB_DIR")
    review.set_defaults(run=_review)

    for command in (make, review):
        command.add_argument("--only", choices=("html", "pdf"), help="write only these documents")
        command.add_argument(
            "--static", action="store_true", help="HTML without scripts, small enough to e-mail"
        )
        command.add_argument(
            "--kernel",
            action="store_true",
            help="run the notebook on a kernel of its own, not in this process",
        )
        command.add_argument(
            "--anonymous",
            action="store_true",
            help="without the client's name, address and contact, photos, and everything written freely",
        )

    many = commands.add_parser("batch", help="make every job below a folder; one that fails stops none")
    many.add_argument("jobs_dir", type=Path, metavar="JOBS_DIR")
    many.add_argument("--workers", type=int, metavar="N", help="so many at once; as many as there are cores")
    many.add_argument("--scheduler", metavar="ADDRESS", help="a Dask scheduler to hand the jobs to instead")
    many.set_defaults(run=_batch)

    audit = commands.add_parser(
        "audit", help="whether a run's files are as they were written, and its numbers come out again today"
    )
    audit.add_argument("run_dir", type=Path, metavar="RUN_DIR")
    audit.set_defaults(run=_audit)

    consult = commands.add_parser(
        "consult", help="write consultation.ipynb into the job, to open in JupyterLab beside the client"
    )
    consult.add_argument("job_dir", type=Path, metavar="JOB_DIR")
    consult.set_defaults(run=_consult)

    convert = commands.add_parser("convert", help="write a job as a workbook, or as YAML, nothing lost")
    convert.add_argument("job_dir", type=Path, metavar="JOB_DIR", help="a job's folder, or _shared")
    convert.add_argument("--to", choices=("workbook", "yaml"), help="the form; the other one unless told")
    convert.set_defaults(run=_convert)

    cut = commands.add_parser("cut", help="plan the cutting of a list of pieces")
    cut.add_argument("pieces", type=Path, metavar="PIECES.csv")
    cut.add_argument(
        "--roll",
        action="append",
        required=True,
        metavar="WIDTHxLENGTH@PRICE",
        help="a whole roll, or WIDTH@PRICE/m by length; may be given several times",
    )
    cut.add_argument("--table", metavar="LENGTH", help="longest strip the table takes")
    cut.add_argument("--stages", type=int, choices=(2, 3), default=2, help="cuts in a row; 2 unless told")
    cut.add_argument("--json", type=Path, metavar="FILE", help="also write the plan as JSON")
    cut.add_argument("--drawing", type=Path, metavar="FILE", help="also draw the plan to scale (SVG or HTML)")
    cut.add_argument("--units", choices=("us", "metric"), default="metric", help="units to print")
    cut.add_argument(
        "--language", type=_language, metavar="CODE", help="language of the list and the drawing, such as es"
    )
    cut.set_defaults(run=_cut)

    schema = commands.add_parser("schema", help="print the JSON Schema of job.yaml, or of results.json")
    schema.add_argument("file", choices=("job", "results"))
    schema.set_defaults(run=_schema)

    jobs = commands.add_parser(
        "jobs", help="a table of the jobs below a folder: how far each is, what is missing"
    )
    jobs.add_argument("jobs_dir", type=Path, metavar="JOBS_DIR")
    jobs.set_defaults(run=_jobs)

    for command in (start, check, make, many, review, cut, audit, consult, convert, jobs, schema):
        command.add_argument("--debug", action="store_true", help="show the traceback of an error")
    return parser


def _language(text: str) -> str:
    """Return the code of a language there is a catalogue of sentences for."""
    from reportkit.job.model.languages import languages

    if text not in languages():
        raise argparse.ArgumentTypeError(f"{text!r} is not one of {', '.join(languages())}")
    return text


def _start(arguments: argparse.Namespace) -> int:
    from reportkit.job import write_starter

    for path in write_starter(
        arguments.job_dir,
        units=arguments.units,
        kind=arguments.kind or (None if arguments.former else "home"),
        full=arguments.full,
        as_workbook=arguments.workbook,
        former=arguments.former,
    ):
        print(path)
    return 0


def _convert(arguments: argparse.Namespace) -> int:
    from reportkit.job import convert

    written = convert(arguments.job_dir, arguments.to)
    if any(path.suffix == ".xlsx" for path in written):
        print("remarks (#) have no place in a workbook: they stay in the file's former copy", file=sys.stderr)
    for path in written:
        print(path)
    return 0


def check(job_dir: Path) -> LoadedJob:
    """Return a job; raise `JobError` with its faults: what ``make`` would stop at and a person can mend."""
    from reportkit.job import load_job

    loaded = load_job(job_dir)
    if loaded.weather_file:
        from reportkit.climate import typical_year

        typical_year(loaded.weather_file, year=loaded.job.day.year, timezone=loaded.clock)
    lites = [lite for glazing in loaded.job.glazings for lite in glazing.lites]
    told = any(glazing.known for glazing in loaded.job.glazings) or any(lite.spectrum for lite in lites)
    if told or any(loaded.job.film_named(pane) for pane in loaded.job.panes):
        from reportkit.study.cuttable import check_cuttable

        check_cuttable(loaded)
    return loaded


def _check(arguments: argparse.Namespace) -> int:
    try:
        loaded = check(arguments.job_dir)
    except JobError as error:
        print(_in_language(error))
        return 2
    from reportkit.job.reading.told import told

    for line in [*told(loaded), *_lapsed(loaded.job)]:
        print(line, file=sys.stderr)
    return 0


def _in_language(error: JobError) -> str:
    """Return the faults of a job in the job's language."""
    if error.language == "en":  # and the locale data need not be read
        return str(error)
    from reportkit.documents.language.faults import in_language

    return "\n".join(in_language(fault, error.language) for fault in error.faults)


def _make(arguments: argparse.Namespace) -> int:
    from reportkit.app.run import OFFER

    return _run(arguments, OFFER)


def _review(arguments: argparse.Namespace) -> int:
    return _run(arguments, ("review",))


def _run(arguments: argparse.Namespace, documents: Sequence[Kind]) -> int:
    """Make a run with some kinds of documents and print its folder."""
    from reportkit.app.run import make

    made = make(
        arguments.job_dir,
        documents=documents,
        only=arguments.only,
        static=arguments.static,
        kernel=arguments.kernel,
        anonymous=arguments.anonymous,
        progress=_progress,
    )
    if "proposal" in documents:
        for line in _in_short(made):
            print(line, file=sys.stderr)
    print(made)
    return 0


def _in_short(run: Path) -> list[str]:
    """Return what a run recommends and what stopped film, in the language of the commands."""
    from reportkit.documents.page import Page
    from reportkit.documents.sections.summary import told_in_short
    from reportkit.findings.findings import StoredFindings
    from reportkit.job import load_job
    from reportkit.study.pricing import old_prices

    job = load_job(run / "inputs").job.model_copy(update={"language": "en"})
    stored = json.loads((run / "results.json").read_text(encoding="utf-8"))
    page = Page(StoredFindings(job, stored))
    old = [
        f"{film or 'rates'} ({day})" for _, film, day in old_prices(job, page.chosen.films, dt.date.today())
    ]
    said = [*told_in_short(page), *_revised(page.findings.revision), *_lapsed(job)]
    return [*said, f"Prices over a year old today: {', '.join(old)}."] if old else said


def _revised(found: RevisionFound) -> list[str]:
    """Return whether a run is another offer than the one that the client has."""
    since = found.since
    if since is None:
        return []
    has = f"revision {since.letter} of {since.date}"
    if since.letter == found.letter:
        return [f"The same as the client has, {has}."]
    return [f"Revision {found.letter}; the client has {has}."]


def _lapsed(job: Job) -> list[str]:
    """Return what was decided of panes that the survey no longer has."""
    from reportkit.job.model.decided import lapsed

    gone = lapsed(job)
    if not gone:
        return []
    day = job.decisions[-1].date
    return [f"The decision of {day} names panes that the survey no longer has: {', '.join(gone)}."]


def _batch(arguments: argparse.Namespace) -> int:
    from reportkit.app.batch import batch, workers
    from reportkit.app.nursery import Nurseries
    from reportkit.app.portfolio import write

    if arguments.workers is not None and arguments.workers < 1:
        raise InputError(f"--workers must be 1 or more (found {arguments.workers})")
    if arguments.scheduler:
        from reportkit.app.cluster import Cluster

        makers: Cluster | Nurseries = Cluster(arguments.scheduler)
    else:
        makers = Nurseries(arguments.workers or workers())
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


def _audit(arguments: argparse.Namespace) -> int:
    from reportkit.app.audit import audit

    found = audit(arguments.run_dir)
    for line in found.lines():
        print(line)
    return 0 if found.same else MOVED


def _consult(arguments: argparse.Namespace) -> int:
    from reportkit.app.run import consultation

    print(f"jupyter lab {consultation(arguments.job_dir)}")
    return 0


def _schema(arguments: argparse.Namespace) -> int:
    from reportkit.findings.findings import results_schema
    from reportkit.job import schema

    made = schema() if arguments.file == "job" else results_schema()
    print(json.dumps(made, indent=2, ensure_ascii=False))
    return 0


def _jobs(arguments: argparse.Namespace) -> int:
    from reportkit.app.jobs import printed, table

    lines = table(arguments.jobs_dir, today=dt.date.today())
    print("\n".join(printed(lines)) if lines else f"{arguments.jobs_dir} holds no jobs")
    return 0


def _progress(text: str) -> None:
    """Show a stage on a terminal, and only there."""
    if sys.stderr.isatty():
        dim, plain = ("", "") if os.environ.get("NO_COLOR") else ("\x1b[2m", "\x1b[0m")
        print(f"{dim}{text} …{plain}", file=sys.stderr, flush=True)


def _cut(arguments: argparse.Namespace) -> int:
    from reportkit.documents.cutlist import CutSheet
    from reportkit.study.cutting import cut_alone

    made = cut_alone(arguments.pieces, arguments.roll, table=arguments.table, stages=arguments.stages)
    sheet = CutSheet(made, units=arguments.units, language=arguments.language or "en")
    if arguments.json:
        from reportkit.app.archive import write_json
        from reportkit.findings.cutting import planned
        from reportkit.findings.result import as_json

        write_json(arguments.json, as_json(planned(made.plan)))
    if arguments.drawing:
        _draw(sheet, arguments.drawing)
    print("\n".join(sheet.lines()))
    return 0


def _draw(sheet: CutSheet, path: Path) -> None:
    """Write the drawing: an HTML page, or one SVG for some forty pieces (numbered where there are more)."""
    if path.suffix.lower() in (".html", ".htm"):
        path.write_text(sheet.page(), encoding="utf-8", newline="\n")
        return
    drawings = sheet.drawings()
    for number, drawing in enumerate(drawings, start=1):
        place = path if len(drawings) == 1 else path.with_stem(f"{path.stem}-{number}")
        place.write_text(drawing, encoding="utf-8", newline="\n")
