"""The commands and their arguments."""

from __future__ import annotations

import argparse
from pathlib import Path

from reportkit import __version__
from reportkit.app import commands


def parser() -> argparse.ArgumentParser:
    """Return what reads a command and its arguments; ``run`` is the function that does it."""
    made = argparse.ArgumentParser(
        prog="reportkit",
        description="Finds the sun on each window, compares films, plans the cutting, writes the offer.",
    )
    made.add_argument("--version", action="version", version=__version__)
    added = made.add_subparsers(required=True, metavar="COMMAND")

    start = added.add_parser("start", help="write a new job: what a first one needs, each as a question")
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
    start.add_argument("--language", type=_language, help="of questions and documents; en unless told")
    start.add_argument(
        "--workbook",
        action="store_true",
        help="the whole job as job.xlsx, to fill in on a screen or on paper; beside a job.yaml without "
        "survey, that as windows.xlsx",
    )
    start.set_defaults(run=commands.start)

    check = added.add_parser("check", help="print every fault of a job")
    check.add_argument("job_dir", type=Path, metavar="JOB_DIR")
    check.set_defaults(run=commands.check)

    make = added.add_parser("make", help="run a job; the last line printed is the run's folder")
    make.add_argument("job_dir", type=Path, metavar="JOB_DIR")
    make.set_defaults(run=commands.make)

    review = added.add_parser(
        "review", help="after the work: what the meters read (readings.csv) beside what was computed"
    )
    review.add_argument("job_dir", type=Path, metavar="JOB_DIR")
    review.set_defaults(run=commands.review)

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

    many = added.add_parser("batch", help="make every job below a folder; one that fails stops none")
    many.add_argument("jobs_dir", type=Path, metavar="JOBS_DIR")
    many.add_argument("--workers", type=int, metavar="N", help="so many at once; as many as there are cores")
    many.add_argument("--scheduler", metavar="ADDRESS", help="a Dask scheduler to hand the jobs to instead")
    many.set_defaults(run=commands.batch)

    audit = added.add_parser(
        "audit", help="whether a run's files are as they were written, and its numbers come out again today"
    )
    audit.add_argument("run_dir", type=Path, metavar="RUN_DIR")
    audit.set_defaults(run=commands.audit)

    consult = added.add_parser("consult", help="open the page to talk over with the client; ends with Ctrl-C")
    consult.add_argument("job_dir", type=Path, metavar="JOB_DIR")
    consult.add_argument(
        "--lab", action="store_true", help="write consultation.ipynb and print how to open it in JupyterLab"
    )
    consult.add_argument("--no-browser", action="store_true", help="print the page's address, open nothing")
    consult.set_defaults(run=commands.consult)

    convert = added.add_parser("convert", help="write a job as a workbook, or as YAML, nothing lost")
    convert.add_argument("job_dir", type=Path, metavar="JOB_DIR", help="a job's folder, or _shared")
    convert.add_argument("--to", choices=("workbook", "yaml"), help="the form; the other one unless told")
    convert.set_defaults(run=commands.convert)

    cut = added.add_parser("cut", help="plan the cutting of a list of pieces")
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
    cut.set_defaults(run=commands.cut)

    schema = added.add_parser("schema", help="print the JSON Schema of job.yaml, or of results.json")
    schema.add_argument("file", choices=("job", "results"))
    schema.set_defaults(run=commands.schema)

    jobs = added.add_parser(
        "jobs", help="a table of the jobs below a folder: how far each is, what is missing"
    )
    jobs.add_argument("jobs_dir", type=Path, metavar="JOBS_DIR")
    jobs.set_defaults(run=commands.jobs)

    for command in (start, check, make, many, review, cut, audit, consult, convert, jobs, schema):
        command.add_argument("--debug", action="store_true", help="show the traceback of an error")
    return made


def _language(text: str) -> str:
    """Return the code of a language there is a catalogue of sentences for."""
    from reportkit.base.languages import languages

    if text not in languages():
        raise argparse.ArgumentTypeError(f"{text!r} is not one of {', '.join(languages())}")
    return text
