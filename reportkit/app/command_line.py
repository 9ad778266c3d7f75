"""The command line: ``reportkit start | check | make | review | consult | cut``.

Exit codes: 0 done, 2 the person's mistake, 1 ours. Faults found by ``check`` go to stdout; every other
error goes to stderr in plain words, with a traceback only under ``--debug``. Where whoever read the output
has gone (``reportkit cut … | head``), a command ends without a word, with 141: what a shell says of a program
that a closed pipe ended (128 and the number of the signal, POSIX).
"""

from __future__ import annotations

import argparse
import datetime as dt
import json
import os
import select
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, TextIO

from reportkit import __version__
from reportkit.base.errors import InputError, JobError, ReportkitError

if TYPE_CHECKING:
    from reportkit.documents.cutlist import CutSheet
    from reportkit.documents.layouts.assemble import Kind


#: Exit code where nobody reads what a command says any more.
UNREAD = 141


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command and return its exit code."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(encoding="utf-8", errors="replace")
    try:
        try:
            return _run_one(argv)
        finally:
            _pour()  # or a reader that has gone is noticed as Python ends, too late to keep quiet
    except BrokenPipeError:
        gone = _unread()
        if not gone:
            raise
        nowhere = os.open(os.devnull, os.O_WRONLY)
        for stream in gone:  # or Python says at its end that it could not pour it out (Python's manual)
            os.dup2(nowhere, stream.fileno())
        return UNREAD


def _run_one(argv: Sequence[str] | None) -> int:
    arguments = _parser().parse_args(argv)
    try:
        return int(arguments.run(arguments))
    except ReportkitError as error:
        if arguments.debug:
            raise
        print(error, file=sys.stderr)
        return 2 if isinstance(error, InputError) else 1
    except KeyboardInterrupt:
        print("stopped; nothing was kept", file=sys.stderr)
        return 130
    except Exception as error:
        if arguments.debug or (isinstance(error, BrokenPipeError) and _unread()):
            raise
        print(
            f"reportkit failed ({type(error).__name__}: {error}). This is our mistake, not the job's; "
            "run the command again with --debug for the details.",
            file=sys.stderr,
        )
        return 1


def _pour() -> None:
    """Hand over what was printed."""
    for stream in (sys.stdout, sys.stderr):
        if stream is not None:
            stream.flush()


def _unread() -> list[TextIO]:
    """Return the streams whose reader has gone."""
    return [stream for stream in (sys.stdout, sys.stderr) if stream is not None and _gone(stream)]


def _gone(stream: TextIO) -> bool:
    """Return whether a stream is a pipe without a reader."""
    try:
        stream.flush()
        watch = select.poll()
        watch.register(stream.fileno(), 0)  # an error is told unasked
        return any(event & select.POLLERR for _, event in watch.poll(0))
    except BrokenPipeError:
        return True
    except (AttributeError, OSError):  # no polling on this system, or no file behind the stream
        return False


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="reportkit",
        description="Finds the sun on each window, compares films, plans the cutting, writes the offer.",
    )
    parser.add_argument("--version", action="version", version=__version__)
    commands = parser.add_subparsers(required=True, metavar="COMMAND")

    start = commands.add_parser("start", help="write a commented starter job")
    start.add_argument("job_dir", type=Path, metavar="JOB_DIR")
    start.add_argument("--units", choices=("us", "metric"), default="metric")
    start.add_argument(
        "--workbook",
        action="store_true",
        help="the survey as windows.xlsx, to fill in on a screen or on paper; also for a job without survey",
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

    consult = commands.add_parser(
        "consult", help="write consultation.ipynb into the job, to open in JupyterLab beside the client"
    )
    consult.add_argument("job_dir", type=Path, metavar="JOB_DIR")
    consult.set_defaults(run=_consult)

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

    for command in (start, check, make, review, cut, consult):
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

    for path in write_starter(arguments.job_dir, units=arguments.units, as_workbook=arguments.workbook):
        print(path)
    return 0


def _check(arguments: argparse.Namespace) -> int:
    from reportkit.job import load_job

    try:
        loaded = load_job(arguments.job_dir)
        if loaded.weather_file:
            from reportkit.climate import typical_year

            typical_year(loaded.weather_file, year=loaded.job.day.year, timezone=loaded.clock)
        if any(loaded.job.film_named(pane) for pane in loaded.job.panes):
            from reportkit.study.cuttable import check_cuttable

            made = check_cuttable(loaded)
            if made and loaded.job.quote and made.price.subtotal < made.price.cost:
                short = made.price.cost - made.price.subtotal
                told = f"The price is below what the job costs by its own rates: {made.price.cost}"
                print(f"{told} before profit, {short} more than is charged.", file=sys.stderr)
    except JobError as error:
        print(error)
        return 2
    return 0


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
    from reportkit.documents.sections.basis import below_cost
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
    said = [*told_in_short(page), *filter(None, [below_cost(page)])]
    return [*said, f"Prices over a year old today: {', '.join(old)}."] if old else said


def _consult(arguments: argparse.Namespace) -> int:
    from reportkit.app.run import consultation

    print(f"jupyter lab {consultation(arguments.job_dir)}")
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
