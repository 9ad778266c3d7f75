"""Time one job's whole `make` beside papermill and nbconvert on an empty notebook of twelve cells.

Both are whole processes, run in turn, median of five (three with --short): seconds by the clock, and of the
processor, which other work on the machine moves less; those of `make` are its own process's, on which the
clock waits, and all its processes' together. Modules are compiled before, as pip leaves them. Peak memory is
that of the largest process. Run by hand: ``python tests/benchmarks/make.py``, ``--short``, ``--job NAME``;
``--panes N`` makes an invented job of so many panes, three films and six rooms.
"""

import argparse
import os
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from growth import job

JOBS = Path(__file__).parent.parent.parent / "jobs"

EMPTY = """
import sys, nbformat, papermill
from nbconvert import HTMLExporter
from nbformat.v4 import new_code_cell, new_notebook
source, output, page = sys.argv[1:]
book = new_notebook(cells=[new_code_cell("") for _ in range(12)])
book.metadata["kernelspec"] = {"name": "python3", "display_name": "Python 3", "language": "python"}
nbformat.write(book, source)
done = papermill.execute_notebook(source, output, progress_bar=False)
body, _ = HTMLExporter().from_notebook_node(done)
open(page, "w", encoding="utf-8").write(body)
"""

#: Runs a program in this process and tells the processor's seconds of it and of its children, and its memory.
TOLD = """
import atexit, runpy, sys
def told():
    try:
        import resource
    except ImportError:  # not on Windows
        return
    own, rest = (resource.getrusage(who) for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN))
    seconds = [used.ru_utime + used.ru_stime for used in (own, rest)]
    print("TOLD", *seconds, max(own.ru_maxrss, rest.ru_maxrss) / 1024, file=sys.stderr)
atexit.register(told)
del sys.argv[0]
if sys.argv[0].endswith(".py"):
    runpy.run_path(sys.argv[0], run_name="__main__")
else:
    runpy.run_module(sys.argv[0], run_name="__main__", alter_sys=True)
"""


def cost(command, environment):
    """Return what a program costs: seconds by the clock, its processor's, its children's, and memory [MB]."""
    start = time.perf_counter()
    done = subprocess.run(
        [sys.executable, "-c", TOLD, *command], check=True, capture_output=True, text=True, env=environment
    )
    clock = time.perf_counter() - start
    told = [line.split()[1:] for line in done.stderr.splitlines() if line.startswith("TOLD ")]
    return (clock, *map(float, told[0] if told else ("nan",) * 3))


def _medians(costs):
    """Return the median of each column."""
    return [statistics.median(column) for column in zip(*costs, strict=True)]


def main():
    """Print the table."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--short", action="store_true")
    what = parser.add_mutually_exclusive_group()
    what.add_argument("--job", default="harbour-house")
    what.add_argument("--panes", type=int)
    arguments = parser.parse_args()
    rounds = 3 if arguments.short else 5
    with tempfile.TemporaryDirectory() as folder:
        home = Path(folder)
        if arguments.panes:
            name = f"{arguments.panes} panes"
            place = home / "job"
            place.mkdir()
            job(place, arguments.panes, films=3, rooms=6)
        else:
            name, place = arguments.job, home / arguments.job
            shutil.copytree(JOBS / "_shared", home / "_shared")
            shutil.copytree(JOBS / name, place, ignore=shutil.ignore_patterns("runs"))
        environment = {**os.environ, "PYTHONPYCACHEPREFIX": str(home / "compiled")}
        environment.pop("PYTHONDONTWRITEBYTECODE", None)
        make = ["reportkit", "make", str(place)]
        (home / "empty.py").write_text(EMPTY, encoding="utf-8")
        empty = [str(home / name) for name in ("empty.py", "in.ipynb", "out.ipynb", "out.html")]
        cost(make, environment), cost(empty, environment)  # compile, and warm the file cache
        pairs = [(cost(make, environment), cost(empty, environment)) for _ in range(rounds)]
        ours, floor = map(_medians, zip(*pairs, strict=True))
        print(f"{'':24}{'clock':>8}{'own':>8}{'all':>8}  [s]{'MB':>8}")
        for title, (clock, own, rest, memory) in ((f"make {name}", ours), ("empty notebook", floor)):
            print(f"{title:24}{clock:>8.2f}{own:>8.2f}{own + rest:>8.2f}{memory:>13.0f}")
        ratios = [ours[0] / floor[0], ours[1] / (floor[1] + floor[2]), sum(ours[1:3]) / sum(floor[1:3])]
        print(f"{'ratio':24}" + "".join(f"{ratio:>8.2f}" for ratio in ratios))


if __name__ == "__main__":
    main()
